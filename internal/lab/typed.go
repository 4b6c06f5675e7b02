package lab

import (
	"strings"

	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// typed reads the figure of an input between two limits, which are in u, and
// says beside the input what is wrong with it. Empty is not known; so is a
// figure that cannot be used.
func (s *state) typed(name string, low, high float64, u unit.Symbol) gel.Given {
	v, refused := formula.FigureBetween(s.fields[name], low, high, u)
	return s.given(name, v, refused)
}

// typedCount is typed for what only counts whole.
func (s *state) typedCount(name string, low, high float64, u unit.Symbol) gel.Given {
	v, refused := formula.CountBetween(s.fields[name], low, high, u)
	return s.given(name, v, refused)
}

func (s *state) given(name string, v float64, refused *note.Refusal) gel.Given {
	text := ""
	empty := strings.TrimSpace(s.fields[name]) == ""
	if refused != nil && !empty {
		text = s.words.Note(refused.Note)
	}
	s.page.Invalid(name, text != "")
	s.page.Say(name, text, false)
	if refused != nil {
		return gel.Given{}
	}
	return gel.Known(v)
}

// figureIn reads a figure between two limits; the note says what is wrong, and
// has no code when nothing is. Empty is fine.
func figureIn(text string, low, high float64, u unit.Symbol) (float64, note.Note) {
	if strings.TrimSpace(text) == "" {
		return 0, note.Note{}
	}
	v, refused := formula.FigureBetween(text, low, high, u)
	if refused != nil {
		return 0, refused.Note
	}
	return v, note.Note{}
}

// ticked reports whether a checkbox is ticked.
func (s *state) ticked(name string) bool { return s.fields[name] != "" }

// say is a sentence of the page's own.
func (s *state) say(key string, args ...note.Arg) string { return s.words.Fill(key, args) }
