package gel

import (
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// worthSaying is the change of a dose that is worth a word: 5 %.
const worthSaying = 0.05

// step is one loss with the name of its input.
type step struct {
	name, field string
	loss        unit.Amount
}

// steps are the losses after the boil, in kitchen order: the set gel is blended,
// the blended gel sieved, the sieved gel bottled.
func steps(l formula.Losses) [3]step {
	return [3]step{
		{"blender", "loss-blender", l.Blender},
		{"sieve", "loss-sieve", l.Sieve},
		{"bottle", "loss-bottle", l.Bottle},
	}
}

// portionMass is the weight of one portion with its spare; zero when no size is given.
func portionMass(m formula.Make, density float64) (float64, error) {
	if !(m.Portion.Value > 0) {
		return 0, nil
	}
	switch m.Portion.Kind() {
	case unit.KindMass:
		return m.Portion.Base(), nil
	case unit.KindVolume:
		if density == 0 {
			return 0, note.Refuse("liquid-density", NeedDensity)
		}
		return m.Portion.Base() * density, nil
	}
	return 0, note.Refuse("portion-size", WrongKind, note.Word("unit", "unit."+string(m.Portion.Unit)))
}

// backward solves the liquid for a wanted number of portions: from the plate
// back through bottle, sieve, blender and boil to the pan.
func (r *recipe) backward(f formula.Formula) (float64, error) {
	m := f.Make
	if !(m.Portions > 0) {
		return 0, note.Refuse("portions", NoTarget)
	}
	one, err := portionMass(m, r.density)
	switch {
	case err != nil:
		return 0, err
	case one == 0:
		return 0, note.Refuse("portion-size", NoTarget)
	}
	x := m.Portions * one * (1 + float64(m.Spare))
	list := steps(m.Losses)
	for i := len(list) - 1; i >= 0; i-- {
		if x, err = before(x, list[i]); err != nil {
			return 0, err
		}
	}
	if x, err = beforeBoil(x, m.Losses.Boil); err != nil {
		return 0, err
	}
	return x / r.perLiquid(), nil
}

// before is what must come to a step so that x leaves it.
func before(x float64, s step) (float64, error) {
	if s.loss.Kind() != unit.KindDose {
		return x + s.loss.Base(), nil
	}
	p := s.loss.Base()
	if p >= 1 {
		return 0, note.Refuse(s.field, LossOver, note.Num("loss", p*100, unit.PercentOf))
	}
	return x / (1 - p), nil
}

func beforeBoil(x float64, b formula.Boil) (float64, error) {
	if b.Minutes == 0 && b.Amount.Kind() == unit.KindDose {
		p := b.Amount.Base()
		if p >= 1 {
			return 0, note.Refuse("loss-boil", LossOver, note.Num("loss", p*100, unit.PercentOf))
		}
		return x / (1 - p), nil
	}
	return x + boiledOff(b), nil
}

// boiledOff is the water that leaves when it is given as a weight or a time.
func boiledOff(b formula.Boil) float64 {
	if b.Minutes > 0 {
		return b.Minutes * b.Rate
	}
	return b.Amount.Base()
}

// follow goes forward from the pan to the plate and fills AfterBoil, Losses,
// Yield and Portions.
func (b *Batch) follow(m formula.Make, density float64) error {
	x := float64(b.Total)
	after := x - boiledOff(m.Losses.Boil)
	if m.Losses.Boil.Minutes == 0 && m.Losses.Boil.Amount.Kind() == unit.KindDose {
		after = x * (1 - m.Losses.Boil.Amount.Base())
	}
	if limit := b.solids(); after <= limit {
		return note.Refuse("loss-boil", BoilsAway, note.Num("gone", x-after, unit.Gram), note.Num("water", x-limit, unit.Gram))
	}
	b.AfterBoil = unit.Mass(after)
	if after < x*(1-worthSaying) {
		b.Notes = append(b.Notes, note.New(note.Hint, Concentrates, note.Num("times", x/after, unit.One)).At("loss-boil"))
	}
	b.lose("boil", x-after)
	x = after
	for _, s := range steps(m.Losses) {
		gone := s.loss.Base()
		if s.loss.Kind() == unit.KindDose {
			gone *= x
		}
		if gone >= x {
			return note.Refuse(s.field, NothingLeft, note.Num("loss", gone, unit.Gram), note.Num("there", x, unit.Gram))
		}
		b.lose(s.name, gone)
		x -= gone
	}
	b.Yield = unit.Mass(x)
	one, err := portionMass(m, density)
	if err != nil {
		return err
	}
	if one > 0 {
		b.Portions = x / (one * (1 + float64(m.Spare)))
	}
	return nil
}

// solids is what cannot boil away for certain: the agents.
func (b *Batch) solids() float64 {
	sum := 0.0
	for _, d := range b.Doses {
		sum += float64(d.Mass)
	}
	return sum
}

func (b *Batch) lose(name string, gone float64) {
	if gone > 0 {
		b.Losses = append(b.Losses, Loss{name, unit.Mass(gone)})
	}
}
