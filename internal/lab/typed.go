package lab

import (
	"errors"
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
	v, n := figureIn(s.fields[name], low, high, u)
	text := ""
	if n.Code != "" {
		text = s.words.Note(n)
	}
	s.page.Invalid(name, n.Code != "")
	s.page.Say(name, text, false)
	if n.Code != "" || strings.TrimSpace(s.fields[name]) == "" {
		return gel.Given{}
	}
	return gel.Known(v)
}

// figureIn reads a figure; the note says what is wrong, and has no code when
// nothing is. Empty is fine.
func figureIn(text string, low, high float64, u unit.Symbol) (float64, note.Note) {
	v, err := unit.ParseFigure(text)
	refuse := func(c note.Code, args ...note.Arg) note.Note { return note.Refuse("", c, args...).Note }
	switch {
	case strings.TrimSpace(text) == "":
		return 0, note.Note{}
	case errors.Is(err, unit.ErrTwoMarks):
		return 0, refuse(formula.FigureTwoMarks)
	case errors.Is(err, unit.ErrTooLarge):
		return 0, refuse(formula.FigureTooLarge)
	case err != nil:
		return 0, refuse(formula.FigureBad)
	case v < low:
		return 0, refuse(formula.FigureUnder, note.Num("limit", low, u))
	case v > high:
		return 0, refuse(formula.FigureOver, note.Num("limit", high, u))
	}
	return v, note.Note{}
}

// ticked reports whether a checkbox is ticked.
func (s *state) ticked(name string) bool { return s.fields[name] != "" }

// say is a sentence of the page's own.
func (s *state) say(key string, args ...note.Arg) string { return s.words.Fill(key, args) }
