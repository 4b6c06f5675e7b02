package foam

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Warm is what happens to the sealed, charged siphon of f when it warms or cools
// to t: closed at the base's temperature, nothing let out. Errors are refusals.
func Warm(f Fill, t unit.Celsius) (State, error) {
	if err := f.check(); err != nil {
		return State{}, err
	}
	if err := within("temperature", float64(t), float64(Coldest), float64(Hottest), unit.DegreeC); err != nil {
		return State{}, err
	}
	swollen := float64(f.Mass.Volume(f.Base.DensityOr())) * float64(waterDensity(f.Base.Temperature)/waterDensity(t))
	if swollen > leastHead*f.Siphon.Brim.Low {
		return State{}, note.Refuse("base", CodeNoHeadspace, note.Num("volume", swollen, unit.Millilitre),
			note.Num("brim", f.Siphon.Brim.Low, unit.Millilitre), note.Num("line", float64(f.Siphon.LineOr()), unit.Millilitre))
	}
	move := func(in inputs) system {
		s := f.system(in, f.Base.Temperature)
		water, fat := f.Base.solubility(t, in.water)
		return s.warmed(t, water*in.solution, fat*in.fat)
	}
	in := f.typical()
	s := move(in)
	p, excess := s.settle(in.moles(f.Charges))
	st := s.state(in.moles(f.Charges), p, excess)
	st.Gauge = f.spread(func(in inputs) float64 {
		s := move(in)
		p, _ := s.settle(in.moles(f.Charges))
		return s.gauge(p)
	})
	return st, nil
}

// emptySteps is the least number of steps in which a siphon is emptied: good to
// four figures.
const emptySteps = 10

// Drawn is a siphon with part of its base dispensed.
type Drawn struct {
	Out   unit.Fraction // share of the base dispensed
	Gauge unit.Pressure
	Left  unit.Fraction // share of the gas still in the siphon
	Moles float64
	Bound float64 // largest overrun of what comes out now, parts of one
}

// Empty follows the pressure and gas as the base goes out in the given number
// of equal parts (1 to 100), shaken all the while. Errors are refusals.
func Empty(f Fill, parts int) ([]Drawn, error) {
	if err := f.check(); err != nil {
		return nil, err
	}
	if err := within("parts", float64(parts), 1, 100, unit.One); err != nil {
		return nil, err
	}
	in := f.typical()
	s := f.system(in, f.Base.Temperature)
	n := in.moles(f.Charges)
	every := (emptySteps + parts - 1) / parts
	drawn := make([]Drawn, 0, parts+1)
	step := 0
	s.drain(n, parts*every, func(out, left float64, now *system) {
		if step++; (step-1)%every != 0 {
			return
		}
		p, _ := now.settle(left)
		d := Drawn{Out: unit.Fraction(out), Gauge: unit.Pressure(now.gauge(p)), Moles: left, Bound: now.bound(p, now.airPressure())}
		if n > 0 {
			d.Left = unit.Fraction(left / n)
		}
		drawn = append(drawn, d)
	})
	return drawn, nil
}
