package plan

import (
	"slices"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Answer is yes, no, or a question for the label; what is not known is asked.
type Answer uint8

// The answers, in the order in which a doubtful ingredient wins.
const (
	Ask Answer = iota
	Yes
	No
)

// Diet is the diet and allergen line.
type Diet struct {
	Vegan, Vegetarian Answer
	Allergens         []string // contained, sorted
	MayHold           []string // to be read on labels, sorted, without those contained
}

// Label is the strip for the bottle or tray. It carries no date that was
// computed: UseBy is the key of a fixed text that defers to the food-safety plan.
type Label struct {
	Name, Made string
	Batch      unit.Mass
	Allergens  []string
	MayHold    []string
	UseBy      string
}

// UseByPlan is the text key of every label's last line.
const UseByPlan = "label.use-by-plan"

// diet joins the items' answers: one no is a no, one question is a question.
func (s *Sheet) diet(items []Item) {
	d := Diet{Vegan: Yes, Vegetarian: Yes}
	for _, item := range items {
		if item.Mass <= 0 {
			continue
		}
		d.Vegan, d.Vegetarian = join(d.Vegan, item.Vegan), join(d.Vegetarian, item.Vegetarian)
		d.Allergens = append(d.Allergens, item.Allergens...)
		d.MayHold = append(d.MayHold, item.MayHold...)
		if len(item.MayHold) > 0 {
			s.say([]note.Note{note.New(note.Caution, CodeReadLabel, item.Name("item"), note.Words("allergen", "allergen.", item.MayHold)).At(item.ID)})
		}
	}
	d.Allergens, d.MayHold = sorted(d.Allergens), sorted(d.MayHold)
	d.MayHold = slices.DeleteFunc(d.MayHold, func(a string) bool { return slices.Contains(d.Allergens, a) })
	s.Diet = d
}

func join(a, b Answer) Answer {
	switch {
	case a == No || b == No:
		return No
	case a == Ask || b == Ask:
		return Ask
	}
	return Yes
}

func sorted(words []string) []string {
	slices.Sort(words)
	return slices.Compact(words)
}
