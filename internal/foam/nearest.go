package foam

import (
	"slices"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// nearest changes the request as little as its refusal asks for, and returns it
// if it then works; nil otherwise.
func (r Request) nearest(reason *note.Refusal) *Request {
	r.Shelf = slices.Clone(r.Shelf)
	kind, known := TypeByID(r.Formula.Type)
	figure := func(name string) float64 { a, _ := reason.Arg(name); return a.Value }
	switch reason.Code {
	case CodeNoCovers:
		r.Covers = 1
	case CodeTooHot, CodeEggSets:
		r.Formula.Base.Temperature = unit.Celsius(figure("nearest"))
	case CodeFarTooHot:
		if !known {
			return nil
		}
		r.Formula.Base.Temperature = unit.Celsius(min(kind.Temp.High, float64(holdHot)))
		if r.Formula.egg() {
			r.Formula.Base.Temperature = min(r.Formula.Base.Temperature, eggNearest)
		}
	case CodeOverCharged:
		r.Charges = int(figure("limit"))
	case CodeFibreTop:
		r.thin(float64(fibreMuch) / float64(r.Formula.Base.Fibre))
	case CodeAlcoholTop:
		r.thin(0.95 * float64(kind.AlcoholWeak) / r.Formula.Base.alcohol())
	case CodeTooMuch:
		r.lower(figure("limit"))
	default:
		return nil
	}
	if _, err := r.plan(); err != nil {
		return nil
	}
	return &r
}

// thin dilutes the base with water to a part of its strength.
func (r *Request) thin(part float64) {
	b := &r.Formula.Base
	water := b.waterRange()
	for _, x := range []*unit.Fraction{&b.MilkFat, &b.Oil, &b.Sugar, &b.Salt, &b.Ethanol, &b.Fibre, &r.Formula.Puree, &r.Formula.EggWhite, &r.Formula.Egg} {
		*x *= unit.Fraction(part)
	}
	b.Water = unit.Range{Low: 1 - (1-water.Low)*part, Typical: 1 - (1-water.Typical)*part, High: 1 - (1-water.High)*part}
	b.Density = 0
}

// lower brings covers or base under what the shelf holds.
func (r *Request) lower(holds float64) {
	if r.Covers == 0 {
		r.Base = unit.Mass(holds)
		return
	}
	kind, _ := TypeByID(r.Formula.Type)
	bodies, err := r.bodies(kind)
	if err != nil {
		return
	}
	over := r.overrun(kind, bodies)
	needs := float64(r.amounts(over).Base)
	r.Covers = max(1, int(float64(r.Covers)*holds/needs))
	for r.Covers > 1 && float64(r.amounts(over).Base) > holds {
		r.Covers--
	}
}
