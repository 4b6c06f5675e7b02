package lab

import (
	"slices"
	"strings"

	"tremblant/internal/foam"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// foamNotes are the notes of a plan by where they stand.
type foamNotes struct {
	danger  []note.Note // always in sight
	warn    []note.Note // cautions
	compare []note.Note // why rule of thumb and gas balance differ
	expand  []note.Note // what the growth rests on
	why     []note.Note // the rest, folded away
}

// compared are the notes that set rule of thumb and gas balance side by side.
var compared = map[note.Code]bool{
	foam.CodeRuleAgrees: true, foam.CodeRuleDiffers: true, foam.CodeGasShort: true, foam.CodeWhyWarm: true, foam.CodeWhyMilkFat: true,
	foam.CodeWhyOil: true, foam.CodeWhyFull: true, foam.CodeWhyHalfEmpty: true, foam.CodeWhyThick: true, foam.CodeWhySalt: true,
}

var expands = map[note.Code]bool{
	foam.CodeRuleOfThumb: true, foam.CodeMeasured: true, foam.CodeGasLimits: true, foam.CodeOverBound: true, foam.CodeLastDenser: true,
}

// always reports whether a danger belongs to every plan, whatever it is.
func always(c note.Code) bool { return strings.HasPrefix(string(c), "foam.danger-") }

// sortFoamNotes puts each note where it belongs. The dangers that belong to
// every plan are shown apart, with or without one.
func sortFoamNotes(notes []note.Note) foamNotes {
	var out foamNotes
	for _, n := range notes {
		switch {
		case always(n.Code):
		case compared[n.Code]:
			out.compare = append(out.compare, n)
		case expands[n.Code]:
			out.expand = append(out.expand, n)
		case n.Level == note.Danger:
			out.danger = append(out.danger, n)
		case n.Level == note.Caution:
			out.warn = append(out.warn, n)
		default:
			out.why = append(out.why, n)
		}
	}
	return out
}

// roughNote rewrites the figures of a note as this section writes them: pressures and
// growth to two digits, since more would claim too much, and counts as words.
func roughNote(s *state, n note.Note) note.Note {
	n.Code = oneRule(n)
	n.Args = slices.Clone(n.Args)
	for i, a := range n.Args {
		text := ""
		switch a.Unit {
		case unit.BarUnit:
			text = barText(s, a.Value*1e5)
		case unit.Charger:
			text = chargesText(s, int(a.Value))
		case unit.PercentOf:
			if a.Value > 100 || expands[n.Code] || compared[n.Code] {
				text = overText(s, a.Value/100)
			}
		}
		if text != "" {
			n.Args[i] = note.Typed(a.Name, text)
		}
	}
	return n
}

// oneRule is the code of a note; where rule of thumb and gas are compared and
// the rule is one number, that of the sentence which names it once.
func oneRule(n note.Note) note.Code {
	low, _ := n.Arg("rule-low")
	high, _ := n.Arg("rule-high")
	switch {
	case low.Value != high.Value:
	case n.Code == foam.CodeRuleAgrees:
		return CodeFoamRuleAgrees
	case n.Code == foam.CodeRuleDiffers:
		return CodeFoamRuleDiffers
	}
	return n.Code
}

// rows shows notes in a list, as this section writes them.
func (f *siphon) rows(s *state, list string, notes []note.Note) {
	out := make([]note.Note, len(notes))
	for i, n := range notes {
		out[i] = roughNote(s, n)
	}
	s.noteRows(foamInput(list), &f.works, out)
}

// once leaves out what is said already, of another size of body perhaps.
func once(s *state, notes []note.Note) []note.Note {
	var out []note.Note
	said := map[string]bool{}
	for _, n := range notes {
		if text := s.words.Note(n); !said[text] {
			said[text] = true
			out = append(out, n)
		}
	}
	return out
}

// fewChargers says that the shelf holds fewer chargers than are needed, where it has been
// counted.
func (s *state) fewChargers(need int) []note.Note {
	own := s.shelf.Chargers
	if !own.Known || own.Amount >= float64(need) {
		return nil
	}
	return []note.Note{note.New(note.Caution, CodeFewChargers, note.Num("need", float64(need), unit.One), note.Num("have", own.Amount, unit.One))}
}

// showNotes lists what the plan says.
func (f *siphon) showNotes(s *state) {
	f.works = works{}
	var notes []note.Note
	notes = append(append(notes, s.counted...), s.strange...)
	notes = append(notes, s.fewChargers(f.plan.Chargers)...)
	sorted := sortFoamNotes(append(notes, f.plan.Notes...))
	f.rows(s, "warn", once(s, append(sorted.danger, sorted.warn...)))
	f.bodyRows(s, "compare", sorted.compare)
	f.rows(s, "expand", sorted.expand)
	f.rows(s, "why", once(s, sorted.why))
	f.rows(s, "step", f.steps)
	f.showHold(s)
	s.showWorks(foamInput("work"), &f.works)
}

// bodyRows shows notes about one size of body, with its size where there are
// several in the plan.
func (f *siphon) bodyRows(s *state, list string, notes []note.Note) {
	f.rows(s, list, notes)
	sizes := map[int]bool{}
	for _, x := range f.plan.Fillings {
		sizes[x.Shelf] = true
	}
	for i, n := range notes {
		text := ""
		for at, x := range f.of.Shelf {
			if len(sizes) > 1 && n.Field == "siphon."+x.ID {
				text = f.sizeText(s, at)
			}
		}
		s.page.Line(view.Row(foamInput(list), i, "kind"), text)
	}
}

// showDangers shows what may hurt somebody: always, with or without a plan.
func (f *siphon) showDangers(s *state) {
	list := foamInput("danger")
	dangers := s.foamDangers(f.wants.Formula)
	s.page.Rows(list, len(dangers))
	for i, n := range dangers {
		s.page.Text(view.Row(list, i, "text"), s.words.Note(n))
	}
}

// foamDangers are those of the foam, with all allergens of the pan in one line.
func (s *state) foamDangers(f foam.Formula) []note.Note {
	var out []note.Note
	var also []string
	for _, n := range foam.Dangers(f) {
		if n.Code != foam.DangerAllergens {
			out = append(out, n)
			continue
		}
		if a, ok := n.Arg("allergen"); ok {
			also = append(also, lawful(strings.TrimPrefix(a.Word, "foam.allergen.")))
		}
	}
	return append(out, s.allergenNotes(foam.DangerAllergens, also...)...)
}

// showHold lists the published limits for a base that is not kept cold.
func (f *siphon) showHold(s *state) {
	rules := foam.HoldRules()
	t := f.of.Formula.Base.Temperature
	show := t > 8 // the warmest cold limit of them
	s.page.Show(foamInput("hold-box"), show)
	if !show {
		return
	}
	list := foamInput("hold")
	s.page.Rows(list, len(rules))
	for i, r := range rules {
		s.page.Text(view.Row(list, i, "text"), s.say("lab-foam.hold", note.Word("place", r.Place), note.Num("hot", float64(r.Hot), unit.DegreeC),
			note.Num("cold", float64(r.Cold), unit.DegreeC), note.Num("hours", float64(r.Out)/3600, unit.Hour)))
		s.page.Line(view.Row(list, i, "source"), s.trust(&f.works, r.Source))
	}
}
