package liquid

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Instrument is what a reading was taken with.
type Instrument uint8

// The instruments, with what their reading is.
const (
	PHMeter       Instrument = iota // pH
	PHStrip                         // pH
	Refractometer                   // °Bx as shown, at 20 °C or corrected to it
	Hydrometer                      // density in g/ml at 20 °C; corrects the sugars
	Alcoholmeter                    // alcohol as a fraction by volume; corrects the ethanol
	numInstruments
)

// Reading is a measured value that overrides the estimate.
type Reading struct {
	Instrument Instrument
	Value      float64
	Within     float64 // half-range of the reading in its own unit; 0 takes the instrument's usual one
}

// within is the usual half-range of the instruments (common practice), with the
// unit that a cook reads and how many of it one of the reading is.
var within = [numInstruments]struct {
	half  float64
	unit  unit.Symbol
	shown float64
}{{0.05, unit.PH, 1}, {0.5, unit.PH, 1}, {0.2, unit.Brix, 1}, {0.002, unit.GramPerMl, 1}, {0.005, unit.ABV, 100}}

// measure makes the composition agree with a reading, so that all later steps do.
func (l *Liquid) measure(r Reading) error {
	if r.Instrument >= numInstruments {
		return note.Refuse("instrument", CodeBadStep)
	}
	if !unit.Finite(r.Value) || !unit.Finite(r.Within) || r.Within < 0 {
		return note.Refuse("value", CodeNotFinite)
	}
	if r.Within == 0 {
		r.Within = within[r.Instrument].half
	}
	switch r.Instrument {
	case PHMeter, PHStrip:
		return l.measurePH(r)
	case Refractometer:
		return l.measureBrix(r)
	case Hydrometer:
		return l.measureDensity(r)
	}
	return l.measureAlcohol(r)
}

func (r Reading) refuse(low, high float64) error {
	u, k := within[r.Instrument].unit, within[r.Instrument].shown
	return note.Refuse("value", CodeBadReading, note.Num("value", r.Value*k, u), note.Num("low", low*k, u), note.Num("high", high*k, u))
}

// sayMeasured tells that a reading replaced an estimate, and warns when it lay
// outside the estimate's range: then the meter or the recipe is wrong.
func (l *Liquid) sayMeasured(r Reading, estimate unit.Range) {
	u, k := within[r.Instrument].unit, within[r.Instrument].shown
	args := []note.Arg{note.Num("value", r.Value*k, u), note.Num("low", estimate.Low*k, u), note.Num("high", estimate.High*k, u)}
	if r.Value < estimate.Low-r.Within || r.Value > estimate.High+r.Within {
		l.say(note.New(note.Caution, CodeMeasureFar, args...))
		return
	}
	l.say(note.New(note.Reason, CodeMeasured, args...))
}

// estimate is a property before the reading.
func (l *Liquid) estimate(t unit.Celsius, p Property) unit.Range {
	s := l.State(t)
	return s.Of(p)
}

// measurePH finds the strong-ion difference that gives the reading, and lets the
// acids' ranges act only on what comes later.
func (l *Liquid) measurePH(r Reading) error {
	if r.Value < 0.5 || r.Value > 13 {
		return r.refuse(0.5, 13)
	}
	a := l.Parts()
	if a[Water] < 1e-3 {
		return note.Refuse("value", CodeDryPH, note.Num("water", 0, unit.GramPer100))
	}
	l.sayMeasured(r, l.estimate(25, PropPH))
	needed := a.sidAt(r.Value)
	for i := range l.portions {
		p := &l.portions[i]
		for k := range 2 {
			varied := a
			for c := Acetic; c <= Carbonic; c++ {
				varied[c] += float64(2*k-1) * p.acids * p.parts[c]
			}
			p.sidAcid[k] = p.sid + varied.sidAt(r.Value) - needed
		}
		p.sidPH = [2]float64{p.sid, p.sid}
	}
	l.shift += needed - l.sid()
	l.measuredPH = true
	for k, end := range [2]float64{max(0, r.Value-r.Within), min(14, r.Value+r.Within)} {
		l.shiftRange[k] = l.shift + a.sidAt(end) - needed
	}
	return nil
}

// measureBrix scales the sugars (or, where there are hardly any, all
// carbohydrate and protein) so that a refractometer would show the reading.
func (l *Liquid) measureBrix(r Reading) error {
	if r.Value < 0 || r.Value > 95 {
		return r.refuse(0, 95)
	}
	a := l.Parts()
	return l.calibrate(r, l.extract(&a), PropReading)
}

// measureDensity scales the same group so that the density is the reading's.
func (l *Liquid) measureDensity(r Reading) error {
	if r.Value < 0.7 || r.Value > 1.5 {
		return r.refuse(0.7, 1.5)
	}
	a := l.Parts()
	return l.calibrate(r, l.extract(&a), PropDensity)
}

// measureAlcohol scales the ethanol.
func (l *Liquid) measureAlcohol(r Reading) error {
	if r.Value < 0 || r.Value > 1 {
		return r.refuse(0, 1)
	}
	a := l.Parts()
	if a[Ethanol] <= 0 {
		return note.Refuse("value", CodeNoAlcohol, note.Num("value", r.Value*within[r.Instrument].shown, within[r.Instrument].unit))
	}
	return l.calibrate(r, []Constituent{Ethanol}, PropABV)
}

// calibrate turns water into a group of constituents, or back, until a property
// is the reading; the group then has the reading's range.
func (l *Liquid) calibrate(r Reading, group []Constituent, p Property) error {
	a := l.Parts()
	have, room := a.sum(group), 0.999*a[Water]
	if have <= 1e-3*a.Mass() && p != PropABV {
		return note.Refuse("value", CodeNoSugar, note.Num("value", r.Value, within[r.Instrument].unit))
	}
	with := func(x float64) float64 {
		b := a
		b.exchange(group, x)
		v, _ := b.value(p, 0, 20)
		return v
	}
	low, high := with(-have), with(room)
	if r.Value < low || r.Value > high {
		return r.refuse(low, high)
	}
	estimate := l.estimate(20, p)
	at := func(v float64) float64 { return bisect(-have, room, func(x float64) float64 { return with(x) - v }) }
	x := at(r.Value)
	l.exchange(group, x)
	l.sayMeasured(r, estimate)
	l.spreadOf(group, 0.5*(at(r.Value+r.Within)-at(r.Value-r.Within)))
	return nil
}

var (
	sugarGroup   = []Constituent{Sucrose, Glucose, Fructose, Lactose, OtherSugar}
	extractGroup = []Constituent{Sucrose, Glucose, Fructose, Lactose, OtherSugar, OtherCarb, DairyProtein, EggProtein, PlantProtein, MeatProtein, Collagen}
)

// extract is the group of constituents that a reading of solids corrects.
func (l *Liquid) extract(a *Amounts) []Constituent {
	if 100*a.Sugars() >= a.brix()*a.Mass()/3 {
		return sugarGroup
	}
	return extractGroup
}

func (a *Amounts) sum(group []Constituent) float64 {
	m := 0.0
	for _, c := range group {
		m += a[c]
	}
	return m
}

// exchange turns x grams of water into the group, each in its share; it needs some of the group.
func (a *Amounts) exchange(group []Constituent, x float64) {
	have := a.sum(group)
	if have <= 0 {
		return
	}
	for _, c := range group {
		a[c] *= 1 + x/have
	}
	a[Water] -= x
}

// exchange turns x grams of water into the group, over all portions.
func (l *Liquid) exchange(group []Constituent, x float64) {
	a := l.Parts()
	have := a.sum(group)
	for i := range l.portions {
		p := &l.portions[i].parts
		for _, c := range group {
			p[c] *= 1 + x/have
		}
		if a[Water] > 0 {
			p[Water] *= 1 - x/a[Water]
		}
	}
}

// spreadOf gives all portions the range of a reading, half grams in all.
func (l *Liquid) spreadOf(group []Constituent, half float64) {
	rel := l.common(group, half)
	for i := range l.portions {
		if group[0] == Ethanol {
			l.portions[i].ethanol = rel
			continue
		}
		l.portions[i].sugars = rel
		l.portions[i].solidsRead = true
	}
}

// common is the relative half-range that, added in quadrature over the
// portions, makes a half-range of the whole.
func (l *Liquid) common(group []Constituent, half float64) float64 {
	squares := 0.0
	for i := range l.portions {
		squares += math.Pow(l.portions[i].parts.sum(group), 2)
	}
	if squares <= 0 {
		return 0
	}
	return min(0.95, half/math.Sqrt(squares))
}
