package foam

import (
	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// yield is which part of the bound a cold, stabilised base is seen to reach: gas
// is lost at the nozzle and bubbles keep some pressure. A guess of the trade,
// no source.
var yield = unit.Range{Low: 0.4, Typical: 0.55, High: 0.7}

// Expansion is how far a base is expected to blow up.
type Expansion struct {
	Overrun  unit.Range // parts of one: 2.5 is 250 %
	Measured bool       // from the cook's own test
	Source   source.Ref
	Bound    float64 // what the gas of the first portion can blow at most
	Mean     float64 // the same over the whole siphonful
	Notes    []note.Note
}

// Measured holds the overruns that the cook has measured with this formula, in
// parts of one, oldest first. One alone is taken as good to ±10 % of the
// volume's growth (common practice); of several, the spread is their own.
type Measured []float64

// Range is the range of the measured overruns.
func (m Measured) Range() unit.Range {
	switch len(m) {
	case 0:
		return unit.Range{}
	case 1:
		return unit.Range{Low: 0.9 * m[0], Typical: m[0], High: 1.1 * m[0]}
	}
	low, high, sum := m[0], m[0], 0.0
	for _, x := range m {
		low, high, sum = min(low, x), max(high, x), sum+x
	}
	return unit.Range{Low: low, Typical: sum / float64(len(m)), High: high}
}

// maxOverrun is the largest overrun taken for real: a skimmed air.
const maxOverrun = 60

func (m Measured) check() error {
	for _, x := range m {
		if err := within("overrun", x*100, 1, maxOverrun*100, unit.PercentOf); err != nil {
			return err
		}
	}
	return nil
}

// CupTest is the overrun, in parts of one, from weighing the same cup full of
// base and full of foam: 100·(base/foam - 1) per cent, the definition of ASTM
// D3075 for food aerosols. Errors are refusals.
func CupTest(base, foam unit.Mass) (float64, error) {
	if err := within("cup.base", float64(base), 1, 1e4, unit.Gram); err != nil {
		return 0, err
	}
	if err := within("cup.foam", float64(foam), float64(base)/(1+maxOverrun), float64(base)/1.01, unit.Gram); err != nil {
		return 0, err
	}
	return float64(base/foam) - 1, nil
}

// LitreTest is the overrun from a whole siphon: base that came out, g, at
// density g/ml, and the foam that it gave, ml ("my last siphon gave 1.4 l").
func LitreTest(base unit.Mass, density unit.Density, foam unit.Volume) (float64, error) {
	if err := within("base", float64(base), 1, 1e5, unit.Gram); err != nil {
		return 0, err
	}
	if err := within("density", float64(density), 0.5, 1.6, unit.GramPerMl); err != nil {
		return 0, err
	}
	volume := float64(base.Volume(density))
	if err := within("foam", float64(foam), 1.01*volume, (1+maxOverrun)*volume, unit.Millilitre); err != nil {
		return 0, err
	}
	return float64(foam)/volume - 1, nil
}

// Expect gives the expansion of a filled and charged siphon. The type's range
// is cut to what the gas can do: at most 0.4, 0.55 and 0.7 of the bound. The
// cook's own tests replace both. Errors are refusals.
func Expect(kind Type, f Fill, tests Measured) (Expansion, error) {
	if err := tests.check(); err != nil {
		return Expansion{}, err
	}
	if err := f.check(); err != nil {
		return Expansion{}, err
	}
	return f.expect(kind, tests), nil
}

func (f Fill) expect(kind Type, tests Measured) Expansion {
	in := f.typical()
	s := f.system(in, f.Base.Temperature)
	n := in.moles(f.Charges)
	p, _ := s.settle(n)
	e := Expansion{Bound: s.bound(p, s.airPressure()), Mean: s.meanBound(n, coarseSteps), Overrun: kind.Overrun, Source: kind.OverrunSource}
	if len(tests) > 0 {
		e.Overrun, e.Measured, e.Source = tests.Range(), true, srcAerosol
		e.Notes = append(e.Notes, note.New(note.Reason, CodeMeasured, note.Num("overrun", e.Overrun.Typical*100, unit.PercentOf), note.Num("tests", float64(len(tests)), unit.One)))
		if kind.Siphon && e.Overrun.Typical > e.Bound {
			e.Notes = append(e.Notes, note.New(note.Caution, CodeOverBound, note.Num("overrun", e.Overrun.Typical*100, unit.PercentOf),
				note.Num("bound", e.Bound*100, unit.PercentOf)).From(srcModel))
		}
		return e
	}
	if kind.Siphon {
		e.limitByGas()
	}
	if e.Source.Tag.RuleOfThumb() {
		e.Notes = append(e.Notes, note.New(note.Hint, CodeRuleOfThumb, note.Num("low", e.Overrun.Low*100, unit.PercentOf),
			note.Num("high", e.Overrun.High*100, unit.PercentOf)).From(e.Source))
	}
	return e
}

// limitByGas cuts the range to what the gas is seen to do.
func (e *Expansion) limitByGas() {
	want := e.Overrun
	e.Overrun = unit.Range{
		Low:     min(want.Low, yield.Low*e.Mean),
		Typical: min(want.Typical, yield.Typical*e.Mean),
		High:    min(want.High, yield.High*e.Bound),
	}
	if e.Overrun != want {
		e.Notes = append(e.Notes, note.New(note.Reason, CodeGasLimits, note.Num("typical", want.Typical*100, unit.PercentOf),
			note.Num("here", e.Overrun.Typical*100, unit.PercentOf), note.Num("bound", e.Bound*100, unit.PercentOf)).From(srcPractice))
	}
}

// PortionKind is how a cook states a portion.
type PortionKind uint8

// The kinds of portion.
const (
	ByVolume   PortionKind = iota // ml of foam
	ByMass                        // g of foam
	ByQuenelle                    // a quenelle of so many ml
)

// Portion is the foam of one cover.
type Portion struct {
	Kind PortionKind
	Size float64 // ml of foam, or g of foam; of one quenelle
	Each int     // quenelles a cover; 0 is one
}

func (p Portion) check() error {
	if p.Size == 0 {
		return note.Refuse("portion", CodeNoPortion)
	}
	if err := within("portion", p.Size, 0.5, 2000, p.symbol()); err != nil {
		return err
	}
	return within("portion.each", float64(p.Each), 0, 20, unit.One)
}

func (p Portion) symbol() unit.Symbol {
	if p.Kind == ByMass {
		return unit.Gram
	}
	return unit.Millilitre
}

// amount is the foam of a cover in the portion's unit.
func (p Portion) amount() float64 {
	if p.Kind == ByQuenelle {
		return p.Size * float64(max(1, p.Each))
	}
	return p.Size
}

// BaseFor is the grams of base in one portion at an overrun (parts of one). The
// gas weighs less than 1 % and is not counted.
func (p Portion) BaseFor(overrun float64, density unit.Density) unit.Mass {
	if p.Kind == ByMass {
		return unit.Mass(p.amount())
	}
	return unit.Volume(p.amount() / (1 + overrun)).Mass(density)
}

// From is how many portions come from dispensed base; 0 of a portion of no size.
func (p Portion) From(base unit.Mass, overrun float64, density unit.Density) float64 {
	if p.Size == 0 {
		return 0
	}
	return float64(base / p.BaseFor(overrun, density))
}

// FoamVolume is the foam in ml that a mass of base gives.
func FoamVolume(base unit.Mass, overrun float64, density unit.Density) unit.Volume {
	return base.Volume(density) * unit.Volume(1+overrun)
}
