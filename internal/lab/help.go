package lab

import (
	"slices"
	"strings"

	"tremblant/internal/agent"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/plan/safety"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// glossary are the terms that the page explains, in the order of the alphabet of
// the English ones: the keys "word.<id>" and "word.<id>-is".
var glossary = [...]string{
	"abv", "acid-late", "batch", "bloom", "bloom-soak", "brix", "charge", "degas", "dose", "expansion", "fluid-gel", "headspace",
	"hydrate", "ions", "ladder", "modulus", "ph", "premix", "protease", "range", "sag", "sequestrant", "set-melt", "shear",
	"sphere", "spread", "strain", "swap", "synergy", "trial", "weep",
}

// help explains the words of the trade that the page uses, each agent of the
// catalogue, and lists every caution with its source.
type help struct{}

func newHelp() *help { return &help{} }

func (*help) part() string { return "help" }

func (*help) inputs() []string { return nil }

func (*help) do(string, int, *state) *formula.Change { return nil }

func (*help) show(s *state) {
	s.page.Rows("lab-help-word", len(glossary))
	for i, id := range s.inOrder(glossary[:]) {
		s.page.Text(view.Row("lab-help-word", i, "name"), s.say("word."+id))
		s.page.Text(view.Row("lab-help-word", i, "text"), s.say("word."+id+"-is"))
	}
	var w works
	s.helpAgents(&w)
	s.noteRows("lab-help-caution", &w, safety.Every())
	s.showWorks("lab-help-work", &w)
}

// inOrder sorts terms by their names in the reader's language, for looking up.
func (s *state) inOrder(ids []string) []string {
	by := func(id string) string { return strings.ToLower(strings.TrimLeft(s.say("word."+id), "°")) }
	out := slices.Clone(ids)
	slices.SortFunc(out, func(a, b string) int { return strings.Compare(by(a), by(b)) })
	return out
}

// helpAgents writes the catalogue out: what each agent is for, where it comes
// from, who may eat it, and the temperatures that a cook asks for.
func (s *state) helpAgents(w *works) {
	all := agent.All()
	s.page.Rows("lab-help-agent", len(all))
	for i, a := range all {
		at := func(what string) string { return view.Row("lab-help-agent", i, what) }
		s.page.Text(at("name"), capital(s.agentName(a.ID)))
		s.page.Line(at("number"), a.E)
		s.page.Text(at("what"), s.say("agent-is."+string(a.ID)))
		s.page.Text(at("from"), s.helpOrigin(a))
		s.page.Line(at("heat"), s.helpHeat(a))
		s.page.Line(at("source"), s.trust(w, a.Identity.Ref()))
	}
}

// helpOrigin is where an agent comes from and whom that concerns.
func (s *state) helpOrigin(a *agent.Agent) string {
	var from, facts []string
	for _, o := range a.Origin {
		from = append(from, s.say("origin."+string(o)))
	}
	switch {
	case a.Vegan == agent.Yes:
		facts = append(facts, s.say("lab-help.vegan"))
	case a.Vegetarian == agent.Yes:
		facts = append(facts, s.say("lab-help.vegetarian"))
	case a.Vegetarian == agent.No:
		facts = append(facts, s.say("lab-help.animal"))
	default:
		facts = append(facts, s.say("lab-help.ask"))
	}
	for _, allergen := range a.Allergens {
		facts = append(facts, s.say("lab-help.is", note.Word("allergen", "allergen."+string(allergen))))
	}
	for _, allergen := range a.MayHold {
		facts = append(facts, s.say("lab-help.may", note.Word("allergen", "allergen."+string(allergen))))
	}
	return s.say("lab-help.from", note.Typed("origin", s.list(from)), note.Typed("facts", s.list(facts)))
}

// helpHeat is what heat an agent needs, sets at and bears; "" when it needs none.
func (s *state) helpHeat(a *agent.Agent) string {
	var out []string
	add := func(key string, f agent.Fig) {
		if f.Known() {
			out = append(out, s.say(key, note.Typed("temp", s.about(f.Range(), unit.DegreeC))))
		}
	}
	if a.Hydrate.Cold {
		out = append(out, s.say("lab-help.cold"))
	} else {
		add("lab-help.hydrates", a.Hydrate.C)
	}
	add("lab-help.sets", a.Setting.SetC)
	add("lab-help.melts", a.Setting.MeltC)
	return capital(s.list(out))
}
