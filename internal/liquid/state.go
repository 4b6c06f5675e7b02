package liquid

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Property is a figure of a liquid.
type Property uint8

// The properties, with their units.
const (
	PropPH          Property = iota
	PropBrix                 // dissolved solids as °Bx of sucrose, alcohol left out
	PropReading              // what a refractometer shows, °Bx: ethanol and salt count
	PropSugars               // all sugars, fraction of the mass
	PropABV                  // alcohol by volume at 20 °C, fraction
	PropABW                  // alcohol by mass, fraction
	PropSalt                 // sodium as salt, fraction of the mass
	PropSodium               // mmol/kg
	PropPotassium            // mmol/kg
	PropCalcium              // all calcium, mmol/kg
	PropMagnesium            // mmol/kg
	PropFreeCalcium          // calcium that a gel can use at this pH, mmol/kg: a rough estimate
	PropFat                  // fraction of the mass
	PropProtein              // fraction of the mass
	PropFibre                // fraction of the mass
	PropStarch               // fraction of the mass
	PropWater                // fraction of the mass
	PropDryMatter            // all but water, alcohol and acetic acid, fraction of the mass
	PropAcids                // organic acids as free acid, fraction of the mass
	PropTitratable           // titratable acidity to pH 8.2, mol/kg
	PropDensity              // g/ml at the temperature asked for
	PropBoiling              // boiling point at one atmosphere, °C
	PropHeat                 // specific heat, J/(g K)

	NumProperties
)

// propertyNames are stable names; "property."+name is the key of the text catalogue.
var propertyNames = [NumProperties]string{
	"ph", "brix", "reading", "sugars", "abv", "abw", "salt", "sodium", "potassium", "calcium", "magnesium",
	"free-calcium", "fat", "protein", "fibre", "starch", "water", "dry-matter", "acids", "titratable", "density", "boiling", "heat",
}

// String is the stable name of the property.
func (p Property) String() string {
	if p >= NumProperties {
		return ""
	}
	return propertyNames[p]
}

// State is a liquid's figures at one temperature.
type State struct {
	T        unit.Celsius
	Mass     unit.Mass
	Volume   unit.Volume // at T
	HasPH    bool        // false without water: PropPH, PropTitratable and PropFreeCalcium are then zero
	Measured bool        // the pH was measured
	Ionic    float64     // ionic strength, mol/kg water
	SID      float64     // strong-ion difference, mol of charge per kg of water
	Parts    Amounts     // grams of each constituent
	Notes    []note.Note
	figures  [NumProperties]unit.Range
}

// Of is a property with its range.
func (s *State) Of(p Property) unit.Range {
	if p >= NumProperties {
		return unit.Range{}
	}
	return s.figures[p]
}

// Share is one constituent, such as one kind of sugar, as a fraction of the mass.
func (s *State) Share(c Constituent) unit.Fraction {
	if c >= NumConstituents || s.Mass <= 0 {
		return 0
	}
	return unit.Fraction(s.Parts[c] / float64(s.Mass))
}

// figures are the typical values of the properties that need no charge balance.
type figures [NumProperties]float64

func (a *Amounts) figures(t unit.Celsius) figures {
	m := a.Mass()
	mmol := func(c Constituent, molar float64) float64 { return a[c] / molar / m * 1e6 }
	return figures{
		PropBrix: a.brix(), PropReading: a.reading(readEthanol.Typical), PropSugars: a.Sugars() / m,
		PropABV: a.abv(), PropABW: a[Ethanol] / m, PropSalt: a.Salt() / m,
		PropSodium: mmol(Sodium, molarSodium), PropPotassium: mmol(Potassium, molarPotassium),
		PropCalcium: mmol(Calcium, molarCalcium), PropMagnesium: mmol(Magnesium, molarMagnesium),
		PropFat: a[Fat] / m, PropProtein: a.Protein() / m, PropFibre: a[Fibre] / m, PropStarch: a[Starch] / m,
		PropWater: a[Water] / m, PropDryMatter: a.DryMatter() / m, PropAcids: a.Acids() / m,
		PropDensity: a.density(t), PropBoiling: a.boiling(), PropHeat: a.specificHeat(t),
	}
}

// abv is the alcohol by volume at 20 °C, as a fraction.
func (a *Amounts) abv() float64 {
	if a[Ethanol] <= 0 {
		return 0
	}
	return min(1, a[Ethanol]/a.volume(20)/pureEthanol)
}

// State tells the figures of the liquid at a temperature (0 to 100 °C; outside
// it the nearest end is used and T says so).
func (l *Liquid) State(t unit.Celsius) State {
	if !unit.Finite(float64(t)) {
		t = 20
	}
	t = min(100, max(0, t))
	a := l.Parts()
	s := State{T: t, Mass: unit.Mass(a.Mass()), Volume: unit.Volume(a.volume(t)), Parts: a, Measured: l.measuredPH}
	s.Notes = append(s.Notes, l.notes...)
	typical := a.figures(t)
	k := at25
	if t != 25 {
		k = constantsAt(t)
	}
	e, ok := a.equilibrium(l.sid(), k, 5)
	if ok {
		s.HasPH, s.Ionic, s.SID = true, e.Ionic, l.sid()/a[Water]*1000
		typical[PropPH] = e.PH
	}
	w := &ranger{l: l, t: t, k: k, typical: typical, hasPH: ok}
	w.vary(&a)
	s.figures = w.ranges()
	s.complete(l)
	return s
}

// complete adds what follows from the pH, and the notes.
func (s *State) complete(l *Liquid) {
	a := &s.Parts
	reading := &s.figures[PropReading]
	perAlcohol := 100 * a[Ethanol] / a.Mass()
	reading.Low -= (readEthanol.Typical - readEthanol.Low) * perAlcohol
	reading.High += (readEthanol.High - readEthanol.Typical) * perAlcohol
	for _, p := range [...]Property{PropPH, PropTitratable, PropFreeCalcium} {
		if !s.HasPH {
			s.figures[p] = unit.Range{}
		}
	}
	if s.HasPH {
		s.figures[PropFreeCalcium] = l.freeCalcium(s.figures[PropPH], s.figures[PropCalcium])
	}
	s.caution(l)
}

// ranger adds up, in quadrature, what each uncertain input does to each figure.
type ranger struct {
	l         *Liquid
	t         unit.Celsius
	k         *constants
	typical   figures
	hasPH     bool
	low, high figures // sums of squares
}

// effect records one uncertain input by the figures at its two ends.
func (r *ranger) effect(f *[2]figures) {
	for p := range NumProperties {
		d0, d1 := f[0][p]-r.typical[p], f[1][p]-r.typical[p]
		down, up := min(d0, d1, 0), max(d0, d1, 0)
		r.low[p] += down * down
		r.high[p] += up * up
	}
}

// effectOnPH records one uncertain input that acts on pH and titratable acid alone.
func (r *ranger) effectOnPH(a *[2]Amounts, sid [2]float64) {
	f := [2]figures{r.typical, r.typical}
	for k := range 2 {
		if e, ok := a[k].equilibrium(sid[k], r.k, r.typical[PropPH]); ok {
			f[k][PropPH] = e.PH
		}
		f[k][PropTitratable] = a[k].titratable(sid[k])
		f[k][PropAcids] = a[k].Acids() / a[k].Mass()
	}
	r.effect(&f)
}

// vary goes through all uncertain inputs.
func (r *ranger) vary(a *Amounts) {
	sid := r.l.sid()
	r.typical[PropTitratable] = a.titratable(sid)
	for i := range r.l.portions {
		p := &r.l.portions[i]
		if r.hasPH {
			r.varyAcid(a, p, sid)
		}
		r.varyBody(a, p)
	}
	if r.l.shiftRange[0] != r.l.shiftRange[1] && r.hasPH {
		r.effectOnPH(&[2]Amounts{*a, *a}, [2]float64{sid - r.l.shift + r.l.shiftRange[0], sid - r.l.shift + r.l.shiftRange[1]})
	}
	for _, pair := range r.l.variants {
		var f [2]figures
		for k, v := range pair {
			b := v.Parts()
			f[k] = b.figures(r.t)
			if e, ok := b.equilibrium(v.sid(), r.k, r.typical[PropPH]); ok {
				f[k][PropPH] = e.PH
				f[k][PropTitratable] = b.titratable(v.sid())
			} else {
				f[k][PropPH], f[k][PropTitratable] = r.typical[PropPH], r.typical[PropTitratable]
			}
		}
		r.effect(&f)
	}
}

func (r *ranger) varyAcid(a *Amounts, p *portion, sid float64) {
	if p.sidPH[0] != p.sidPH[1] {
		r.effectOnPH(&[2]Amounts{*a, *a}, [2]float64{sid - p.sid + p.sidPH[0], sid - p.sid + p.sidPH[1]})
	}
	if p.acids > 0 && p.parts.Acids()+p.parts[Carbonic] > 0 {
		var varied [2]Amounts
		for k := range 2 {
			varied[k] = *a
			for c := Acetic; c <= Carbonic; c++ {
				varied[k][c] += float64(2*k-1) * p.acids * p.parts[c]
			}
		}
		r.effectOnPH(&varied, [2]float64{sid - p.sid + p.sidAcid[0], sid - p.sid + p.sidAcid[1]})
	}
}

// varyBody varies sugars, alcohol, fat and protein, and minerals, each at the
// expense of water so that the weight stays.
func (r *ranger) varyBody(a *Amounts, p *portion) {
	r.exchange(a, p, p.sugars, Sucrose, OtherSugar)
	r.exchange(a, p, p.ethanol, Ethanol, Ethanol)
	if p.solidsRead {
		r.exchange(a, p, p.body, Fat, Fat)
		r.exchange(a, p, p.body, Fibre, Starch)
	} else {
		r.exchange(a, p, p.body, Fat, Starch)
	}
	if p.minerals > 0 && p.parts[Ash] > 0 {
		var f [2]figures
		for k := range 2 {
			b := *a
			for c := Sodium; c <= Magnesium; c++ {
				b[c] += float64(2*k-1) * p.minerals * p.parts[c]
			}
			f[k] = b.figures(r.t)
			f[k][PropPH], f[k][PropTitratable] = r.typical[PropPH], r.typical[PropTitratable]
		}
		r.effect(&f)
	}
}

// exchange varies the constituents from first to last of one portion.
func (r *ranger) exchange(a *Amounts, p *portion, half float64, first, last Constituent) {
	some := 0.0
	for c := first; c <= last; c++ {
		some += p.parts[c]
	}
	if half <= 0 || some <= 0 {
		return
	}
	half = min(half, a[Water]/some)
	var f [2]figures
	for k := range 2 {
		b := *a
		side := float64(2*k-1) * half
		for c := first; c <= last; c++ {
			b[c] += side * p.parts[c]
		}
		b[Water] = max(0, b[Water]-side*some)
		f[k] = b.figures(r.t)
		f[k][PropPH], f[k][PropTitratable] = r.typical[PropPH], r.typical[PropTitratable]
	}
	r.effect(&f)
}

// ranges are the figures with their ranges. The pH takes the model's own error too.
func (r *ranger) ranges() [NumProperties]unit.Range {
	if r.hasPH {
		e := r.l.modelError()
		r.low[PropPH] += e*e + square(r.l.milkError())
		r.high[PropPH] += e * e
	}
	if water, ok := r.l.plainWater(); ok && r.hasPH && !r.l.measuredPH {
		r.low[PropPH] = max(r.low[PropPH], square(r.typical[PropPH]-float64(water.Low)))
		r.high[PropPH] = max(r.high[PropPH], square(float64(water.High)-r.typical[PropPH]))
	}
	var out [NumProperties]unit.Range
	for p := range NumProperties {
		low, high := r.typical[p]-math.Sqrt(r.low[p]), r.typical[p]+math.Sqrt(r.high[p])
		if r.typical[p] >= 0 {
			low = max(0, low)
		}
		out[p] = unit.Range{Low: low, Typical: r.typical[p], High: high}
	}
	return out
}

func square(x float64) float64 { return x * x }
