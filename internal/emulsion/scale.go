package emulsion

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Want is what the batch shall feed. Covers 0 asks for all that the limits allow.
type Want struct {
	Covers  float64
	Portion unit.Mass     // g a cover
	Loss    unit.Fraction // stays in bowl, blender and bag, below 1
}

// Have is how much there is of one part: InOil tells the list, Index its place.
type Have struct {
	InOil bool
	Index int
	Mass  unit.Mass
}

// Scaled is the recipe at another size, in the same proportions.
type Scaled struct {
	Factor float64
	Water  []Part
	Oil    []Part
	Total  unit.Mass // as made
	Yield  unit.Mass // after the loss
	Covers float64   // that Yield feeds; 0 when no portion is given
	Limit  *Have     // the part that set the size; nil when the covers did
	Short  unit.Mass // of that part, to reach the covers; 0 when they are reached
	Notes  []note.Note
}

// Scale brings the recipe to a yield, or to what a part on the shelf allows,
// whichever is less.
func (in Input) Scale(w Want, have ...Have) (Scaled, error) {
	s, err := in.sum()
	if err != nil {
		return Scaled{}, err
	}
	wanted, err := w.mass()
	if err != nil {
		return Scaled{}, err
	}
	if s.mass == 0 || wanted == 0 && len(have) == 0 {
		return Scaled{}, note.Refuse("covers", NoTarget)
	}
	factor := math.Inf(1)
	if wanted > 0 {
		factor = wanted / s.mass
	}
	asked := factor
	var limit *Have
	for n, h := range have {
		p, err := in.part(h)
		if err != nil {
			return Scaled{}, err
		}
		if f := float64(h.Mass / p.Mass); f < factor {
			factor, limit = f, &have[n]
		}
	}
	return in.scaled(s, w, factor, asked, limit)
}

// mass is what must be made for the covers, loss included; 0 for none asked.
func (w Want) mass() (float64, error) {
	if !(w.Covers >= 0 && w.Covers <= 1e6) {
		return 0, note.Refuse("covers", BadFigure, note.Num("most", 1e6, unit.One))
	}
	if !(w.Portion >= 0 && w.Portion <= maxMass) || w.Covers > 0 && w.Portion == 0 {
		return 0, note.Refuse("portion-size", BadFigure, note.Num("most", maxMass, unit.Gram))
	}
	if !(w.Loss >= 0 && w.Loss < 1) {
		return 0, note.Refuse("loss", BadFigure, note.Num("most", 100, unit.PercentOf))
	}
	return w.Covers * float64(w.Portion) / (1 - float64(w.Loss)), nil
}

func (in Input) part(h Have) (Part, error) {
	list := in.Water
	field := "water"
	if h.InOil {
		list, field = in.Oil, "oil"
	}
	if h.Index < 0 || h.Index >= len(list) {
		return Part{}, note.Refuse(field, NoSuchPart, note.Num("index", float64(h.Index), unit.One))
	}
	if !(h.Mass > 0 && h.Mass <= maxMass) {
		return Part{}, note.Refuse(partField(field, h.Index), BadFigure, note.Num("most", maxMass, unit.Gram))
	}
	return list[h.Index], nil
}

func (in Input) scaled(s sums, w Want, factor, asked float64, limit *Have) (Scaled, error) {
	out := Scaled{Factor: factor, Water: timesAll(in.Water, factor), Oil: timesAll(in.Oil, factor), Total: unit.Mass(s.mass * factor)}
	if !unit.Finite(s.mass*factor) || s.mass*factor > maxMass {
		return Scaled{}, note.Refuse("covers", BadFigure, note.Num("most", maxMass, unit.Gram))
	}
	out.Yield = unit.Mass(float64(out.Total) * (1 - float64(w.Loss)))
	if w.Portion > 0 {
		out.Covers = float64(out.Yield / w.Portion)
	}
	if limit == nil {
		return out, nil
	}
	out.Limit = limit
	args := []note.Arg{note.Num("covers", math.Floor(out.Covers+1e-9), unit.Portion), note.Num("yield", float64(out.Yield), unit.Gram)}
	if unit.Finite(asked) {
		out.Short = unit.Mass(float64(limit.Mass) * (asked/factor - 1))
	}
	args = append(args, note.Num("short", float64(out.Short), unit.Gram))
	p, err := in.part(*limit)
	if err != nil {
		return Scaled{}, err
	}
	out.Notes = append(out.Notes, note.New(note.Hint, LimitedBy, append(args, p.called())...))
	return out, nil
}

// called is how a part is named in a sentence.
func (p Part) called() note.Arg {
	if p.Name == "" && p.Kind != Plain {
		return note.Word("part", "emulsion.part."+string(p.Kind))
	}
	return note.Typed("part", p.Name)
}

func timesAll(parts []Part, factor float64) []Part {
	list := make([]Part, len(parts))
	for n, p := range parts {
		p.Mass = unit.Mass(float64(p.Mass) * factor)
		list[n] = p
	}
	return list
}

// Yolks is how many large hen's eggs must be cracked for a mass of yolk.
// It is zero for anything that is not a mass.
func Yolks(m unit.Mass) int {
	if !(m > 0 && m <= maxMass) {
		return 0
	}
	return int(math.Ceil(float64(m/YolkMass) - 1e-9))
}
