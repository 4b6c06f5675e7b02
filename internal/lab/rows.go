package lab

import (
	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/view"
)

// noteRows shows notes in a list whose rows have the places item, kind, text
// and source: the word for the level, since colour is never alone, the sentence,
// and how far it can be trusted.
func (s *state) noteRows(list string, notes []note.Note) {
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
		s.page.Text(view.Row(list, i, "text"), s.words.Note(n))
		s.page.Line(view.Row(list, i, "source"), s.trust(n.Source))
	}
}

// trust says in words where a figure comes from: how far it can be trusted, and
// the work. Only what was read in the named publication is called published.
func (s *state) trust(ref source.Ref) string {
	if !ref.Tag.Known() {
		return ""
	}
	if ref.Text == "" {
		return s.say("source." + string(ref.Tag))
	}
	return s.say("source.of", note.Word("trust", "source."+string(ref.Tag)), note.Typed("work", ref.Text))
}
