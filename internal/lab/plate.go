package lab

import (
	"errors"
	"maps"
	"math"
	"slices"
	"strings"

	"tremblant/internal/agent"
	"tremblant/internal/formula"
	"tremblant/internal/liquid"
	"tremblant/internal/note"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// What the sections of emulsions, spheres and dried things have in common: they
// take the pan's ingredients and liquid as they are, weigh on the shelf's
// scales, and keep the last good answer in sight.

// plate is the frame of such a section: its name, what its answer says, and
// whether there ever was one.
type plate struct {
	name  string
	ever  bool
	fresh bool // the answer in sight is the one to what is asked
	works works
}

// input is the full name of an input, a figure or a place of the section.
func (p *plate) input(name string) string { return formula.LabPrefix + p.name + "-" + name }

func (p *plate) part() string { return p.name }

// say is a sentence of the section's own.
func (p *plate) say(s *state, key string, args ...note.Arg) string {
	return s.say(formula.LabPrefix+p.name+"."+key, args...)
}

// names are the full names of inputs.
func (p *plate) names(figures []figureAsked, others ...[]string) []string {
	var out []string
	for _, f := range figures {
		out = append(out, p.input(f.name))
	}
	for _, list := range others {
		for _, name := range list {
			out = append(out, p.input(name))
		}
	}
	return out
}

// good shows the answer in full.
func (p *plate) good(s *state) {
	p.ever, p.fresh = true, true
	p.works = works{}
	s.page.Show(p.input("answer"), true)
	s.page.Show(p.input("more"), true)
	s.page.State(p.input("answer"), "")
	s.page.Line(p.input("refused"), "")
}

// stale dims the last good answer and says why there is no new one: text stands
// above it, unless that is empty and stands beside an input.
func (p *plate) stale(s *state, text string) {
	p.fresh = false
	s.page.Show(p.input("answer"), p.ever)
	s.page.Show(p.input("more"), p.ever) // no heading without what it is of
	s.page.State(p.input("answer"), "stale")
	s.page.Line(p.input("refused"), text)
}

// refuse shows a refusal above the answer, and at its input when it has one.
func (p *plate) refuse(s *state, err error, inputs map[string]string) {
	var r *note.Refusal
	if !errors.As(err, &r) {
		return
	}
	text := s.words.Note(r.Note)
	if name := inputs[r.Field]; name != "" {
		s.page.Invalid(p.input(name), true)
		s.page.Say(p.input(name), text, false)
	}
	p.stale(s, text)
}

// hint says beside an empty input what is counted instead.
func (p *plate) hint(s *state, name, text string) {
	if strings.TrimSpace(s.fields[p.input(name)]) == "" {
		s.page.Say(p.input(name), text, text != "")
	}
}

// notes shows what an answer says in two lists: what warns always in sight,
// dangers first, and the reasons folded away.
func (p *plate) notes(s *state, all []note.Note) {
	var warn, why []note.Note
	for _, level := range [...]note.Level{note.Danger, note.Caution} {
		for _, n := range all {
			if n.Level == level {
				warn = append(warn, n)
			}
		}
	}
	for _, n := range all {
		if n.Level < note.Caution {
			why = append(why, n)
		}
	}
	s.noteRows(p.input("warn"), &p.works, once(s, roughArgs(s, warn)))
	s.noteRows(p.input("why"), &p.works, once(s, roughArgs(s, why)))
}

// roughArgs writes the estimates in notes as the figures beside them are written:
// plain fractions, such as water activities, and the ends of a range in mm with two
// digits, times in hours and minutes.
func roughArgs(s *state, notes []note.Note) []note.Note {
	for i := range notes {
		args := slices.Clone(notes[i].Args)
		for k, a := range args {
			switch {
			case a.Unit == unit.One && a.Value > 0 && a.Value < 1:
				args[k] = note.Typed(a.Name, s.words.Style.Significant(a.Value, 2))
			case a.Unit == unit.Millimetre && (a.Name == "low" || a.Name == "high"):
				args[k] = note.Typed(a.Name, s.rough(a.Value, a.Unit))
			case a.Unit == unit.Hour:
				args[k] = note.Typed(a.Name, s.roughTime(a.Value*3600))
			case a.Unit == unit.Second:
				args[k] = note.Typed(a.Name, s.roughTime(a.Value))
			}
		}
		notes[i].Args = args
	}
	return notes
}

// steps shows the order of the work.
func (p *plate) steps(s *state, lines []string) {
	s.page.Rows(p.input("step"), len(lines))
	for i, line := range lines {
		s.page.Text(view.Row(p.input("step"), i, "text"), line)
	}
}

// onScale writes a weight as the shelf's best scale for it shows it; what no
// scale bears or shows at all, to three digits.
func (s *state) onScale(m unit.Mass) string {
	r, err := weigh.Weigh(m, s.scales())
	if err != nil || r.Shown <= 0 {
		return s.words.Figure(float64(m), unit.Gram)
	}
	return s.display(r.Shown, r.Step)
}

// missed says that a weight is too small for the shelf's scales, "" when it is not.
func (s *state) missed(m unit.Mass) string {
	if r, err := weigh.Weigh(m, s.scales()); err == nil && r.Within(coarse) {
		return ""
	}
	return s.say("lab.too-fine")
}

// coarse is how far a small weight may be off before the page says so: what a
// dose may, five times (common practice).
const coarse = 5 * weigh.DefaultTolerance

// weight shows a weight as a figure.
func (s *state) weight(name string, m unit.Mass) {
	s.page.Figure(name, float64(m), s.onScale(m))
}

// massOf is the weight of an ingredient at the size that the pan makes, in g; a
// volume by the ingredient's own density.
func (s *state) massOf(p *mixPart) unit.Mass {
	base := p.amount.Base()
	if p.amount.Kind() == unit.KindVolume {
		base *= float64(p.g.DensityAt(reference))
	}
	return unit.Mass(base * s.times())
}

// flagged reports whether an ingredient of the pan has a flag or one of some allergens.
func (s *state) flagged(f liquid.Flags, a liquid.Allergens) bool {
	return slices.ContainsFunc(s.parts, func(p mixPart) bool { return p.known && (p.g.Flags&f != 0 || p.g.Allergens&a != 0) })
}

// allergenNotes name what the pan's ingredients and agents hold that has to be
// declared, and whose allergens are not known.
func (s *state) allergenNotes(code note.Code, also ...string) []note.Note {
	var all liquid.Allergens
	var strange []string
	for _, p := range s.parts {
		if p.known {
			all |= p.g.Allergens
		} else {
			strange = append(strange, p.title(s))
		}
	}
	var out []note.Note
	names := all.Names()
	for _, d := range s.reading.Formula.Doses {
		if a := agent.ByID(agent.ID(d.Agent)); a != nil {
			also = append(also, lawfulAllergens(a.Allergens)...)
		}
	}
	for _, name := range also {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	var words []string
	for _, name := range names {
		words = append(words, s.say("allergen."+name))
	}
	if len(words) > 0 {
		out = append(out, note.New(note.Caution, code, note.Typed("allergen", s.list(words))))
	}
	if len(strange) > 0 {
		out = append(out, note.New(note.Caution, CodeAllergensUnknown, note.Typed("name", s.list(strange))))
	}
	return out
}

// addToPan adds a row to the pan's recipe, of grams at the size that the pan
// makes; nil when there is no room.
func (s *state) addToPan(name string, m unit.Mass) formula.Fields {
	fields := maps.Clone(s.fields)
	row := emptyPart(fields)
	if row < 0 || !(m > 0) {
		return nil
	}
	fields[formula.PartField(row, "name")] = name
	fields[formula.PartField(row, "amount")] = s.words.Style.Plain(rounded(float64(m)/s.times(), 3))
	fields[formula.PartField(row, "unit")] = string(unit.Gram)
	return fields
}

// roughTime writes an estimated time of seconds: from an hour up to a quarter
// of an hour.
func (s *state) roughTime(seconds float64) string { return s.duration(quarter(seconds) / 60) }

// roughTimes writes a range of them.
func (s *state) roughTimes(r unit.Range) string {
	return s.between(unit.Range{Low: quarter(r.Low) / 60, Typical: quarter(r.Typical) / 60, High: quarter(r.High) / 60})
}

func quarter(seconds float64) float64 {
	const hour, step = 3600, 900
	if seconds < hour {
		return seconds
	}
	return step * math.Round(seconds/step)
}
