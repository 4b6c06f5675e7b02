package foam

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Fill is one filling of one siphon.
type Fill struct {
	Siphon  Siphon
	Base    Base
	Mass    unit.Mass // of base, g
	Charges int
	Charger Charger // zero takes [DefaultCharger]
	// Warm is how warm the base is while it is charged, °C, where that is warmer than at the
	// table: a base with gelatin must pour, and sets in the siphon.
	Warm unit.Celsius
}

// chargedAt is how warm the base is while it is charged, °C: warm gas takes up more room,
// and less of it dissolves.
func (f Fill) chargedAt() unit.Celsius { return max(f.Base.Temperature, f.Warm) }

// MaxCharges is the largest number of charges that is looked at, before the
// siphon's own limit.
const MaxCharges = 20

func (f Fill) charger() Charger {
	if f.Charger == (Charger{}) {
		return DefaultCharger
	}
	return f.Charger
}

// check refuses what cannot be computed: figures that are none, no room for
// gas. It does not judge what is wise; [Advise] does.
func (f Fill) check() error {
	if err := f.Siphon.check(); err != nil {
		return err
	}
	if err := f.Base.check(); err != nil {
		return err
	}
	if err := within("base", float64(f.Mass), 0, 1e4, unit.Gram); err != nil {
		return err
	}
	if err := within("charges", float64(f.Charges), 0, MaxCharges, unit.Charger); err != nil {
		return err
	}
	c := f.charger()
	if !c.Gas.Valid() || c.Gas.Low <= 0 || c.Gas.High > 20 {
		return outside("charger.gas", c.Gas.Typical, 0, 20, unit.Gram)
	}
	if !c.Transfer.Valid() || c.Transfer.Low <= 0 || c.Transfer.High > 1 {
		return outside("charger.transfer", c.Transfer.Typical*100, 0, 100, unit.PercentOf)
	}
	volume := float64(f.Mass.Volume(f.Base.DensityOr()))
	if volume > leastHead*f.Siphon.Brim.Low {
		return note.Refuse("base", CodeNoHeadspace, note.Num("volume", volume, unit.Millilitre),
			note.Num("brim", f.Siphon.Brim.Low, unit.Millilitre), note.Num("line", float64(f.Siphon.LineOr()), unit.Millilitre))
	}
	return nil
}

// leastHead is the fullest share of the brim for which a pressure is given.
const leastHead = 0.99

// inputs are the uncertain figures of a fill at one choice of their values.
type inputs struct {
	brim     float64 // ml
	water    float64 // share
	gas      float64 // g per charge
	transfer float64
	solution float64 // factor on the gas in the water phase
	fat      float64 // factor on the gas in the fat
}

func (f Fill) typical() inputs {
	c := f.charger()
	return inputs{f.Siphon.Brim.Typical, f.Base.waterRange().Typical, c.Gas.Typical, c.Transfer.Typical, 1, 1}
}

// guesses lists what may be off and how far, each alone.
func (f Fill) guesses() [6]unit.Range {
	c := f.charger()
	return [6]unit.Range{f.Siphon.Brim, f.Base.waterRange(), c.Gas, c.Transfer, f.Base.solubilitySpread(), fatSpread}
}

// set changes one of the guesses.
func (in *inputs) set(i int, v float64) {
	switch i {
	case 0:
		in.brim = v
	case 1:
		in.water = v
	case 2:
		in.gas = v
	case 3:
		in.transfer = v
	case 4:
		in.solution = v
	case 5:
		in.fat = v
	}
}

// moles is the gas of n charges.
func (in inputs) moles(n int) float64 {
	return float64(n) * in.transfer * in.gas / 1000 / molarMass
}

// system is the closed siphon of the fill at these inputs and temperature.
func (f Fill) system(in inputs, t unit.Celsius) system {
	water, fat := f.Base.solubility(t, in.water)
	rho := float64(f.Base.DensityOr()) * 1000
	return newSystem(t, in.brim*1e-6, float64(f.Mass)/1000, rho, water*in.solution, fat*in.fat)
}

// spread propagates the guesses to a figure: each input alone goes to its low
// and high end, and the changes upward and downward are each added as
// independent ones, by squares. The same inputs always give the same range.
func (f Fill) spread(figure func(inputs) float64) unit.Range {
	mid := f.typical()
	at := figure(mid)
	up, down := 0.0, 0.0
	for i, g := range f.guesses() {
		if g.Low == g.High {
			continue
		}
		low, high := mid, mid
		low.set(i, g.Low)
		high.set(i, g.High)
		a, b := figure(low)-at, figure(high)-at
		rise, fall := max(0, a, b), max(0, -a, -b)
		up, down = up+rise*rise, down+fall*fall
	}
	return unit.Range{Low: at - math.Sqrt(down), Typical: at, High: at + math.Sqrt(up)}
}

// State is a charged siphon at rest after shaking.
type State struct {
	Partial        unit.Pressure // of N2O, absolute
	Gauge          unit.Range    // above the atmosphere, Pa, with the spread of the guesses
	Headspace      unit.Volume
	Dissolved      float64       // mol per kg of base
	DissolvedGrams float64       // g of N2O per kg of base
	DissolvedShare unit.Fraction // of all the gas in the siphon
	Moles          float64       // all gas in the siphon
	HeadMoles      float64       // in the headspace
	BaseMoles      float64       // in the base
	LiquidMoles    float64       // liquid N2O: only when far too much was charged
	// Bound is the largest overrun that this gas can blow in the first portion,
	// in parts of one: 5.1 is 510 %. Real foam is below it.
	Bound float64
	Notes []note.Note
}

// Settle computes a filled, charged and well shaken siphon. Errors are refusals
// of inputs. A siphon without base or without charges is computed as well.
func Settle(f Fill) (State, error) {
	if err := f.check(); err != nil {
		return State{}, err
	}
	return f.settled(f.Base.Temperature), nil
}

func (f Fill) settled(t unit.Celsius) State {
	in := f.typical()
	s := f.system(in, t)
	n := in.moles(f.Charges)
	p, excess := s.settle(n)
	st := s.state(n, p, excess)
	st.Gauge = f.spread(func(in inputs) float64 {
		s := f.system(in, t)
		p, _ := s.settle(in.moles(f.Charges))
		return s.gauge(p)
	})
	st.Notes = f.physicsNotes(excess)
	return st
}

// state reads the figures of a settled system.
func (s *system) state(n, p, excess float64) State {
	air := s.airPressure()
	st := State{
		Partial: unit.Pressure(p), Headspace: unit.Volume(s.headspace() * 1e6), Gauge: unit.Exactly(s.gauge(p)),
		Moles: n, HeadMoles: s.inHead(p), LiquidMoles: excess,
	}
	if s.mass > 0 {
		st.Dissolved = s.perKg(p, air)
		st.DissolvedGrams = st.Dissolved * molarMass * 1000
		st.BaseMoles = st.Dissolved * s.mass
		st.Bound = s.bound(p, air)
	}
	if n > 0 {
		st.DissolvedShare = unit.Fraction(st.BaseMoles / n)
	}
	return st
}

// physicsNotes says what was guessed and where the model is stretched.
func (f Fill) physicsNotes(excess float64) []note.Note {
	var notes []note.Note
	if excess > 0 {
		notes = append(notes, note.New(note.Danger, CodeGasLiquid).At("charges").From(srcVapour))
	}
	if !f.Siphon.Measured() {
		notes = append(notes, note.New(note.Hint, CodeBrimGuessed, note.Num("low", f.Siphon.Brim.Low, unit.Millilitre),
			note.Num("high", f.Siphon.Brim.High, unit.Millilitre)).At("siphon.brim").From(f.Siphon.Source))
	}
	if w := f.Base.waterRange(); w.Low != w.High {
		notes = append(notes, note.New(note.Hint, CodeWaterGuessed, note.Num("low", w.Low*100, unit.PercentOf),
			note.Num("high", w.High*100, unit.PercentOf)).At("water").From(srcPractice))
	}
	if f.Base.Density == 0 {
		notes = append(notes, note.New(note.Reason, CodeDensityGuessed,
			note.Num("density", float64(f.Base.DensityOr()), unit.GramPerMl)).At("density").From(srcCatalogue))
	}
	if f.Base.Temperature > HenryFittedTo {
		notes = append(notes, note.New(note.Reason, CodeHotExtrapolated,
			note.Num("limit", float64(HenryFittedTo), unit.DegreeC)).From(srcWeissPrice))
	}
	return notes
}
