package foam

import (
	"tremblant/internal/unit"
)

// Rung is one charge of several: the gauge pressure in Pa right after it, all
// its gas still in the headspace, and after shaking.
type Rung struct {
	Charge int
	Before unit.Range // what the head sees
	After  unit.Range
}

// Ladder computes the pressures charge by charge at a temperature, each charge
// shaken in before the next. Before shaking, the new gas counts as all in the
// headspace at the base's temperature (equation of state of Lemmon & Span 2006;
// the real peak is lower by what dissolves while it hisses in, and higher for a
// moment where the gas is warm). Errors are refusals of inputs.
func Ladder(f Fill, t unit.Celsius) ([]Rung, error) {
	f.Base.Temperature = t
	if err := f.check(); err != nil {
		return nil, err
	}
	rungs := make([]Rung, 0, f.Charges)
	for n := 1; n <= f.Charges; n++ {
		rungs = append(rungs, f.rung(n, t))
	}
	return rungs, nil
}

func (f Fill) rung(n int, t unit.Celsius) Rung {
	return Rung{
		Charge: n,
		Before: f.spread(func(in inputs) float64 { return f.peak(in, n, t) }),
		After: f.spread(func(in inputs) float64 {
			s := f.system(in, t)
			p, _ := s.settle(in.moles(n))
			return s.gauge(p)
		}),
	}
}

// peak is the gauge pressure right after charge n, the ones before it shaken in.
func (f Fill) peak(in inputs, n int, t unit.Celsius) float64 {
	s := f.system(in, t)
	p, _ := s.settle(in.moles(n - 1))
	head, _ := headPressure(s.inHead(p)+in.moles(1), s.headspace(), t)
	return s.gauge(head)
}

// AllAtOnce is the gauge pressure in Pa if every charge of the fill went in
// unshaken: what shaking between charges avoids.
func AllAtOnce(f Fill) (unit.Range, error) {
	if err := f.check(); err != nil {
		return unit.Range{}, err
	}
	return f.atOnce(), nil
}

func (f Fill) atOnce() unit.Range {
	return f.spread(func(in inputs) float64 {
		s := f.system(in, f.Base.Temperature)
		p, _ := headPressure(in.moles(f.Charges), s.headspace(), f.Base.Temperature)
		return s.gauge(p)
	})
}
