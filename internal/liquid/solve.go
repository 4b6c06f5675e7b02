package liquid

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Answer is what must be done to reach a target.
type Answer struct {
	Step   Step      // the step that does it
	Amount unit.Mass // g to add, or g to boil off
	Liquid *Liquid   // what comes of it
	Value  float64   // the property after it, computed anew
}

// Most that is looked at: this many times the liquid's own mass.
const mostAdded = 100

// propertyUnit is how a property is shown, and the factor to it.
func propertyUnit(p Property) (unit.Symbol, float64) {
	switch p {
	case PropPH:
		return unit.PH, 1
	case PropBrix, PropReading:
		return unit.Brix, 1
	case PropABV:
		return unit.ABV, 100
	case PropSodium, PropPotassium, PropCalcium, PropMagnesium, PropFreeCalcium:
		return unit.MmolPerKg, 1
	case PropTitratable:
		return unit.MolPerKg, 1
	case PropDensity:
		return unit.GramPerMl, 1
	case PropBoiling:
		return unit.DegreeC, 1
	case PropHeat:
		return unit.One, 1
	}
	return unit.PercentOf, 100
}

// bounds are what a property can be at all.
func bounds(p Property) (low, high float64) {
	switch p {
	case PropPH:
		return 0, 14
	case PropBrix, PropReading:
		return 0, 130
	case PropDensity:
		return 0.7, 2.5
	case PropBoiling:
		return 70, 200
	case PropHeat:
		return 0.5, 5
	case PropSodium, PropPotassium, PropCalcium, PropMagnesium:
		return 0, 3e4
	case PropTitratable:
		return -30, 30
	}
	return 0, 1
}

// value is one property of some amounts; ok is false where it has none.
func (a *Amounts) value(p Property, sid float64, t unit.Celsius) (float64, bool) {
	switch p {
	case PropPH:
		e, ok := a.equilibrium(sid, at25, 5)
		return e.PH, ok
	case PropTitratable:
		return a.titratable(sid), a[Water] >= 1e-3
	}
	f := a.figures(t)
	return f[p], unit.Finite(f[p])
}

func checkTarget(p Property, value float64) error {
	if p >= NumProperties || p == PropFreeCalcium {
		return note.Refuse("property", CodeNotThere)
	}
	u, k := propertyUnit(p)
	low, high := bounds(p)
	if !unit.Finite(value) || value < low || value > high {
		return note.Refuse("target", CodeBadTarget, note.Word("property", "property."+p.String()), note.Num("value", finiteOr0(value)*k, u), note.Num("low", low*k, u), note.Num("high", high*k, u))
	}
	return nil
}

// AddToReach is how much of an ingredient brings a property (at 25 °C for pH, 20
// °C for the rest) to a value. Where several amounts do, it is the least. A
// target out of reach is refused with the nearest value that up to a hundred
// times the liquid's mass reaches.
func (l *Liquid) AddToReach(g Ingredient, p Property, value float64) (Answer, error) {
	if err := checkTarget(p, value); err != nil {
		return Answer{}, err
	}
	if err := g.Check(); err != nil {
		return Answer{}, err
	}
	base, sid, have := l.Parts(), l.sid(), float64(l.Mass())
	one := newPortion(&g, 0, 1)
	at := func(m float64) (float64, bool) {
		a := base
		a.add(&one.parts, m)
		return a.value(p, sid+m*one.sid, 20)
	}
	m, err := search(p, value, grid(have*1e-6, min(have*mostAdded, MostMass-have)), at)
	if err != nil {
		return Answer{}, err
	}
	return l.answer(Add(g, unit.Mass(m)), m, p)
}

// DiluteToReach is AddToReach with water.
func (l *Liquid) DiluteToReach(p Property, value float64) (Answer, error) {
	water, _ := ByID("water")
	return l.AddToReach(water, p, value)
}

// ReduceToReach is how much must be boiled off to bring a property to a value;
// out of reach is refused with the nearest value before the pan is dry.
func (l *Liquid) ReduceToReach(p Property, value float64) (Answer, error) {
	if err := checkTarget(p, value); err != nil {
		return Answer{}, err
	}
	have := float64(l.Mass())
	a := l.Parts()
	e := evaporation{ethanol: ethanolVolatility[1], kept: -1}
	room := have - e.left(&a, 0)
	at := func(off float64) (float64, bool) {
		c := l.clone()
		if off > 0 && c.evaporateTo("to", have-off, e) != nil {
			return 0, false
		}
		b := c.Parts()
		return b.value(p, c.sid(), 20)
	}
	steps := grid(room*1e-6, room*0.5)
	for _, left := range grid(1e-4, 0.5) { // and ever closer to the dry matter
		steps = append(steps, room*(1-left))
	}
	sortUp(steps)
	off, err := search(p, value, steps, at)
	if err != nil {
		return Answer{}, err
	}
	return l.answer(ReduceTo(unit.Mass(have-off)), off, p)
}

// answer carries the step out and reads the property anew.
func (l *Liquid) answer(s Step, m float64, p Property) (Answer, error) {
	after := l
	if m > 0 {
		next, err := l.Then(s)
		if err != nil {
			return Answer{}, err
		}
		after = next
	}
	a := after.Parts()
	v, _ := a.value(p, after.sid(), 20)
	return Answer{Step: s, Amount: unit.Mass(m), Liquid: after, Value: v}, nil
}

// grid is 0 and 160 amounts from low to high, each a constant factor above the last.
func grid(low, high float64) []float64 {
	const n = 160
	out := make([]float64, 0, n+1)
	out = append(out, 0)
	if !(low > 0) || !(high > low) {
		return out
	}
	ratio := math.Pow(high/low, 1.0/(n-1))
	for x := low; len(out) < n; x *= ratio {
		out = append(out, x)
	}
	return append(out, high)
}

// sortUp sorts amounts; they are few and nearly in order.
func sortUp(x []float64) {
	for i := 1; i < len(x); i++ {
		for k := i; k > 0 && x[k] < x[k-1]; k-- {
			x[k], x[k-1] = x[k-1], x[k]
		}
	}
}

// search finds the least amount at which the property crosses the value.
func search(p Property, value float64, amounts []float64, at func(float64) (float64, bool)) (float64, error) {
	nearest, known := 0.0, false
	var lastM, lastV float64
	for _, m := range amounts {
		v, ok := at(m)
		if !ok {
			continue
		}
		if math.Abs(v-value) <= 1e-12*max(1, math.Abs(value)) {
			return m, nil
		}
		if known && (v-value)*(lastV-value) < 0 {
			return crossing(lastM, m, value, v > lastV, at), nil
		}
		if !known || math.Abs(v-value) < math.Abs(nearest-value) {
			nearest = v
		}
		lastM, lastV, known = m, v, true
	}
	u, k := propertyUnit(p)
	if !known {
		return 0, note.Refuse("property", CodeNotThere)
	}
	return 0, note.Refuse("target", CodeUnreachable, note.Word("property", "property."+p.String()), note.Num("value", value*k, u), note.Num("limit", nearest*k, u))
}

func crossing(low, high, value float64, rising bool, at func(float64) (float64, bool)) float64 {
	return bisect(low, high, func(m float64) float64 {
		v, _ := at(m)
		if rising {
			return v - value
		}
		return value - v
	})
}
