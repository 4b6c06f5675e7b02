package lab

import (
	"math"

	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// foamInput is the full name of an input of the siphon's section.
func foamInput(name string) string { return formula.LabPrefix + "foam-" + name }

// mostFoamCount is the highest count that is read at all.
const mostFoamCount = 1000

// foamFigures are the inputs that hold a figure, with the limits within which
// one is read at all. What is wise is the core's to judge, so that it can answer
// 90 °C with a reason and not with a limit.
var foamFigures = [...]figureAsked{
	{"covers", 0, 5000, unit.Portion},
	{"portion", 0, 2000, unit.One},
	{"quenelle", 1, 200, unit.Millilitre},
	{"spare", 0, 100, unit.PercentOf},
	{"temp", 0, 120, unit.DegreeC},
	{"small", 0, 50, unit.One},
	{"half", 0, 50, unit.One},
	{"litre", 0, 50, unit.One},
	{"own", 0, 50, unit.One},
	{"own-size", 1, 5000, unit.Millilitre},
	{"own-brim", 100, 5000, unit.Millilitre},
	{"small-brim", 100, 5000, unit.Millilitre},
	{"half-brim", 100, 5000, unit.Millilitre},
	{"litre-brim", 100, 5000, unit.Millilitre},
	{"pressure", 1, 100, unit.BarUnit},
	{"box", 1, mostFoamCount, unit.One},
	{"charges", 0, 20, unit.One},
	{"water", 1, 100, unit.PercentOf},
	{"fat", 0, 100, unit.PercentOf},
	{"oil", 0, 100, unit.PercentOf},
	{"sugar", 0, 100, unit.PercentOf},
	{"salt", 0, 30, unit.PercentOf},
	{"abv", 0, 96, unit.ABV},
	{"fibre", 0, 50, unit.PercentOf},
	{"puree", 0, 100, unit.PercentOf},
	{"egg", 0, 100, unit.PercentOf},
	{"egg-white", 0, 100, unit.PercentOf},
	{"ph", 1, 12, unit.PH},
	{"cup-base", 1, 10_000, unit.Gram},
	{"cup-foam", 0.1, 10_000, unit.Gram},
	{"gave", 0.05, 100, unit.Litre},
	{"gave-base", 1, 10_000, unit.Gram},
}

// foamChoices are the inputs with a choice, foamTicks those that are so or not.
var (
	foamChoices = [...]string{"kind", "serve", "unit", "basis"}
	foamTicks   = [...]string{"gas", "strained", "seeds", "raw-egg", "raw-fruit", "chilled", "fish"}
)

// readFoam reads all figures and says beside each what is wrong with it. A part of
// a siphon is none: rounded up, it would plan with a body that nobody has. Nor is a part
// of a charger: rounded up, it would be pressure that nobody has asked for.
func readFoam(s *state) figuresTyped {
	t := s.readFigures(foamInput, foamFigures[:])
	names := []string{"own", "box", "charges"}
	for _, size := range foamSizes {
		names = append(names, size.input)
	}
	for _, name := range names {
		n := t.or(name, 0)
		if n == math.Trunc(n) {
			continue
		}
		why := note.Refuse("", CodeFoamWhole)
		if name == "box" || name == "charges" {
			_, why = formula.CountBetween(s.fields[foamInput(name)], 0, mostFoamCount, unit.One)
		}
		s.page.Invalid(foamInput(name), true)
		s.page.Say(foamInput(name), s.words.Note(why.Note), false)
		delete(t.figures, name)
		t.bad = true
	}
	return t
}

// inputs implements section. "serve" and "basis" are not among them: they always
// show what the plan is made with, chosen or not.
func (f *siphon) inputs() []string {
	var names []string
	for _, x := range foamFigures {
		names = append(names, foamInput(x.name))
	}
	for _, name := range append([]string{"kind", "unit"}, foamTicks[:]...) {
		names = append(names, foamInput(name))
	}
	return names
}
