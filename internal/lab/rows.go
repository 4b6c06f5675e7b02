package lab

import (
	"slices"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// works numbers the works that a section has named, so that each is written out
// once, in a list at its end.
type works struct{ refs []source.Ref }

// trust says in words how far a figure can be trusted, with the number of the
// work it comes from. Only what was read in the named publication is called
// published.
func (s *state) trust(w *works, ref source.Ref) string {
	if !ref.Tag.Known() {
		return ""
	}
	word := note.Word("trust", "source."+string(ref.Tag))
	if ref.Text == "" {
		return s.say("source.bare", word)
	}
	i := slices.Index(w.refs, ref)
	if i < 0 {
		i = len(w.refs)
		w.refs = append(w.refs, ref)
	}
	return s.say("source.of", word, note.Num("number", float64(i+1), unit.One))
}

// showWorks lists the works of a section in a list of its own, whose rows have
// the place text.
func (s *state) showWorks(list string, w *works) {
	s.page.Show(list+"-box", len(w.refs) > 0)
	s.page.Rows(list, len(w.refs))
	for i, ref := range w.refs {
		s.page.Text(view.Row(list, i, "text"), s.say("source.work", note.Num("number", float64(i+1), unit.One),
			note.Word("trust", "source."+string(ref.Tag)), note.Typed("work", ref.Text)))
	}
}

// noteRows shows notes in a list whose rows have the places item, kind, text
// and source: the word for the level, since colour is never alone, the sentence,
// and how far it can be trusted. What is said of several agents is said once.
func (s *state) noteRows(list string, w *works, notes []note.Note) {
	notes = s.together(notes)
	s.page.Rows(list, len(notes))
	for i, n := range notes {
		mark, kind := "", ""
		switch n.Level {
		case note.Caution:
			mark, kind = "warn", s.say("kind.caution")
		case note.Danger, note.Refused:
			mark, kind = "bad", s.say("kind.danger")
		}
		s.page.State(view.Row(list, i, "item"), mark)
		s.page.Line(view.Row(list, i, "kind"), kind)
		s.page.Text(view.Row(list, i, "text"), capital(s.words.Note(n)))
		s.page.Line(view.Row(list, i, "source"), s.trust(w, n.Source))
	}
}

// together joins notes that say the same of several agents.
func (s *state) together(notes []note.Note) []note.Note {
	var out []note.Note
next:
	for _, n := range notes {
		for i := range out {
			if sameButAgent(out[i], n) {
				out[i].Args = s.joinAgents(out[i].Args, n.Args)
				continue next
			}
		}
		out = append(out, n)
	}
	return out
}

func sameButAgent(a, b note.Note) bool {
	return a.Code == b.Code && a.Level == b.Level && a.Source == b.Source &&
		slices.EqualFunc(a.Args, b.Args, func(x, y note.Arg) bool { return x == y || x.Name == "agent" && y.Name == "agent" })
}

// joinAgents adds the agent of some arguments to that of others.
func (s *state) joinAgents(args, more []note.Arg) []note.Arg {
	out := slices.Clone(args)
	for i, a := range args {
		if a.Name != "agent" {
			continue
		}
		old, new := s.words.Arg(a), s.words.Arg(more[i])
		if !slices.Contains(strings.Split(old, s.say("lab.comma")), new) {
			out[i] = note.Typed("agent", s.list([]string{old, new}))
		}
	}
	return out
}
