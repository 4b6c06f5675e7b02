package foam

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Advice sets the trade's rule for charges beside what the gas balance says.
type Advice struct {
	Rule      unit.Range // charges by rule of thumb for this size and kind of foam
	ByGas     int        // fewest charges that blow the foam; 0 when none allowed does
	Advised   int        // inside the rule, nearest to ByGas, never over a limit
	Limit     int        // never more: of the size, and of the stated pressure
	Ladder    []Rung     // pressures charge by charge up to Limit
	States    []State    // the settled siphon with 1..Limit charges
	Expansion Expansion  // with Advised charges
	Notes     []note.Note
}

// Advise says how many charges a filling takes. Errors are refusals: not
// food-grade N2O, a body not made for it, over the fill line, over the stated
// working pressure before or after shaking (with the base that would do), more
// charges than the body ever takes (f.Charges, when the cook names a number),
// and whatever [Check] refuses.
func Advise(formula Formula, f Fill, gas Gas, tests Measured) (Advice, error) {
	f.Base = formula.Base
	kind, err := formula.kind()
	if err != nil {
		return Advice{}, err
	}
	if err := gas.check(); err != nil {
		return Advice{}, err
	}
	if err := tests.check(); err != nil {
		return Advice{}, err
	}
	if err := f.fits(); err != nil {
		return Advice{}, err
	}
	if err := within("base", float64(f.Mass), 1, 1e4, unit.Gram); err != nil {
		return Advice{}, err
	}
	a := Advice{Rule: f.Siphon.ruleFor(kind)}
	if a.Limit, err = f.limit(); err != nil {
		return Advice{}, err
	}
	if err := f.named(a.Limit); err != nil {
		return Advice{}, err
	}
	a.ByGas = f.chargesByGas(kind, tests, a.Limit)
	a.Advised = a.choose(f.Charges)
	for n := 1; n <= a.Limit; n++ {
		f.Charges = n
		a.Ladder = append(a.Ladder, f.rung(n, f.Base.Temperature))
		a.States = append(a.States, f.settled(f.Base.Temperature))
	}
	f.Charges = a.Advised
	a.Expansion = f.expect(kind, tests)
	a.Notes = append(a.Notes, f.adviceNotes(a)...)
	a.Notes = append(a.Notes, Dangers(formula)...)
	return a, nil
}

// check refuses everything but food-grade N2O.
func (g Gas) check() error {
	if g != FoodN2O {
		return refusedFrom("gas", CodeGas, srcPractice)
	}
	return nil
}

// choose is the number of charges to advise: the cook's own, or inside the rule
// and the limit the one nearest to what the gas needs.
func (a Advice) choose(named int) int {
	if named > 0 {
		return named
	}
	n := a.ByGas
	if n == 0 {
		n = a.Limit
	}
	return max(1, min(max(n, int(a.Rule.Low)), int(a.Rule.High), a.Limit))
}

// ruleFor is the trade's rule for a kind of foam.
func (s Siphon) ruleFor(kind Type) unit.Range {
	switch kind.Class {
	case Rich:
		return s.Rule.Rich
	case ServedHot:
		return s.Rule.Hot
	}
	return s.Rule.Lean
}

// fits refuses a filling over the line.
func (f Fill) fits() error {
	if err := f.check(); err != nil {
		return err
	}
	most := float64(f.Siphon.LineOr().Mass(f.Base.DensityOr()))
	if float64(f.Mass) > most*edge(1) {
		return refusedFrom("base", CodeOverLine, f.Siphon.Source, note.Num("mass", float64(f.Mass), unit.Gram),
			note.Num("limit", most, unit.Gram), note.Num("line", float64(f.Siphon.LineOr()), unit.Millilitre))
	}
	return nil
}

// named refuses more charges than a limit when the cook names a number.
func (f Fill) named(limit int) error {
	if f.Charges <= limit {
		return nil
	}
	return refusedFrom("charges", CodeOverCharged, f.Siphon.Rule.Source, note.Num("charges", float64(f.Charges), unit.Charger),
		note.Num("limit", float64(limit), unit.Charger), note.Num("nearest", float64(limit), unit.Charger))
}

// limit is the most charges that size and stated pressure allow; a refusal when
// one is too many.
func (f Fill) limit() (int, error) {
	most := f.Siphon.Rule.NeverOver
	if f.Siphon.WorkingPressure == 0 {
		return most, nil
	}
	for n := 1; n <= most; n++ {
		if f.highest(n) > float64(f.Siphon.WorkingPressure) {
			if n > 1 {
				return n - 1, nil
			}
			return 0, f.overPressure()
		}
	}
	return most, nil
}

// highest is the highest gauge pressure in Pa that the head may see on charge n
// or at rest after it, at the high end of the guesses.
func (f Fill) highest(n int) float64 {
	r := f.rung(n, f.chargedAt())
	return max(r.Before.High, r.After.High)
}

func (f Fill) overPressure() error {
	r := f.rung(1, f.chargedAt())
	most := f.massUnder(1)
	code := CodeOverPressure
	if most == 0 {
		code = CodeNeverUnder
	}
	args := []note.Arg{
		note.Num("before", r.Before.High/1e5, unit.BarUnit), note.Num("after", r.After.High/1e5, unit.BarUnit),
		note.Num("limit", float64(f.Siphon.WorkingPressure)/1e5, unit.BarUnit), note.Num("nearest", float64(most), unit.Gram),
	}
	return refusedFrom("siphon.pressure", code, srcModel, args...)
}

// massUnder is the most base in g, up to the line, with which n charges stay
// under the stated pressure; 0 when not even the useful minimum does.
func (f Fill) massUnder(n int) unit.Mass {
	full := f.Siphon.LineOr().Mass(f.Base.DensityOr())
	within := func(m unit.Mass) bool {
		f.Mass = m
		return f.check() == nil && f.highest(n) <= float64(f.Siphon.WorkingPressure)
	}
	return mostMass(UsefulMinimum*full, full, within)
}

// mostMass is the largest mass between low and high, to a quarter of a gram, for
// which ok holds, which must hold below it as well; 0 when not even low is ok.
func mostMass(low, high unit.Mass, ok func(unit.Mass) bool) unit.Mass {
	if ok(high) {
		return high
	}
	if !ok(low) {
		return 0
	}
	for high-low > 0.25 {
		if mid := (low + high) / 2; ok(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// chargesByGas is the fewest charges up to limit with which a siphonful reaches
// the low end of what this foam is expected to give; 0 when none does.
func (f Fill) chargesByGas(kind Type, tests Measured, limit int) int {
	for n := 1; n <= limit; n++ {
		if f.Charges = n; f.blows(kind, tests) {
			return n
		}
	}
	return 0
}

// blows reports whether the gas does it: the typical yield reaches the low end of
// the type's range, or, where the cook has measured, the high yield reaches that.
func (f Fill) blows(kind Type, tests Measured) bool {
	in := f.typical()
	s := f.system(in, f.Base.Temperature)
	mean := s.meanBound(in.moles(f.Charges), coarseSteps)
	if len(tests) > 0 {
		return yield.High*mean >= tests.Range().Low
	}
	return yield.Typical*mean >= kind.Overrun.Low
}
