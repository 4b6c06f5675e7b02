package gel

import (
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// BadFigure refuses a figure that is negative, not finite, or beyond any kitchen.
const BadFigure note.Code = "convert.bad-figure"

// typed is one number of a formula with the input it came from.
type typed struct {
	field string
	value float64
}

// check refuses figures that no calculation can use. The typed fields refuse
// them earlier and in more words; files and links come straight here.
func check(f formula.Formula) error {
	m := f.Make
	list := []typed{
		{"liquid-density", float64(f.Density)},
		{"batch-liquid", m.Liquid.Value}, {"portions", m.Portions}, {"portion-size", m.Portion.Value},
		{"spare", float64(m.Spare)}, {"left-amount", m.Left.Value},
		{"loss-boil", m.Losses.Boil.Amount.Value}, {"loss-boil", m.Losses.Boil.Minutes}, {"loss-boil-rate", m.Losses.Boil.Rate},
		{"loss-blender", m.Losses.Blender.Value}, {"loss-sieve", m.Losses.Sieve.Value}, {"loss-bottle", m.Losses.Bottle.Value},
	}
	for i, p := range f.Parts {
		list = append(list, typed{formula.PartField(i, "amount"), p.Amount.Value})
	}
	for i, d := range f.Doses {
		list = append(list, typed{formula.DoseField(i, "amount"), d.Amount.Value}, typed{formula.DoseField(i, "grade"), d.Grade})
	}
	for _, n := range list {
		if !(n.value >= 0 && n.value <= unit.MaxFigure) {
			return note.Refuse(n.field, BadFigure)
		}
	}
	return checkLosses(m.Losses)
}

// checkLosses allows weights and shares only.
func checkLosses(l formula.Losses) error {
	list := steps(l)
	for _, s := range append(list[:], step{"boil", "loss-boil", l.Boil.Amount}) {
		if k := s.loss.Kind(); s.loss.Value > 0 && k != unit.KindMass && k != unit.KindDose {
			return note.Refuse(s.field, WrongKind, note.Word("unit", "unit."+string(s.loss.Unit)))
		}
	}
	return nil
}
