// Package phrase turns a note into the sentence that a person reads: it looks
// the code up in the text catalogue of the reader's language and puts the
// figures in, written in the reader's style.
package phrase

import (
	"slices"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Catalogue finds a text by its key. ok is false when the language lacks it.
type Catalogue func(key string) (text string, ok bool)

// Book is a text catalogue with the reader's way of writing figures.
type Book struct {
	Find  Catalogue
	Style unit.Style

	belowTwo bool // the language says one thing of every figure below two: 1,5 feuille
}

// BookOf is the book of a catalogue, which says itself how its language writes
// figures.
func BookOf(find Catalogue) Book {
	b := Book{Find: find}
	b.Style = unit.Style{Comma: b.Text("number.decimal") == ","}
	b.belowTwo = b.Text("number.one") == "<2"
	return b
}

// Text is the text of a key; a missing key gives the key itself, so that it is
// seen and mended, and never an empty space.
func (b Book) Text(key string) string {
	if s, ok := b.Find(key); ok {
		return s
	}
	return key
}

// Note is the sentence of a note.
func (b Book) Note(n note.Note) string { return b.Fill("note."+string(n.Code), n.Args) }

// Fill is the text of a key with its arguments in place of their names in
// braces. A brace without a known name stays as it is.
func (b Book) Fill(key string, args []note.Arg) string {
	s := b.Text(key)
	if !strings.Contains(s, "{") {
		return s
	}
	return b.fill(s, args)
}

// fill puts the arguments in, each name looked up where it stands: a sentence
// has two or three, and is filled once.
func (b Book) fill(s string, args []note.Arg) string {
	var out strings.Builder
	for {
		before, rest, open := strings.Cut(s, "{")
		name, after, closed := strings.Cut(rest, "}")
		i := slices.IndexFunc(args, func(a note.Arg) bool { return a.Name == name })
		out.WriteString(before)
		switch {
		case !open:
			return out.String()
		case closed && i >= 0:
			out.WriteString(b.Arg(args[i]))
			s = after
		default:
			out.WriteByte('{')
			s = rest
		}
	}
}

// Arg is one argument as text.
func (b Book) Arg(a note.Arg) string {
	switch {
	case a.Unit != "":
		return b.Figure(a.Value, a.Unit)
	case a.Word != "":
		if u, ok := strings.CutPrefix(a.Word, "unit."); ok {
			return b.unitText(unit.Symbol(u)) // most units are written alike everywhere
		}
		return b.List(strings.Fields(a.Word))
	}
	return a.Typed
}

// List is what some keys of the catalogue stand for, with commas.
func (b Book) List(keys []string) string {
	texts := make([]string, len(keys))
	for i, key := range keys {
		texts[i] = b.Text(key)
	}
	return strings.Join(texts, ", ")
}

// Figure writes a value with its unit to three significant digits; weights above
// a kilogram are written in kilograms.
func (b Book) Figure(v float64, u unit.Symbol) string {
	switch u {
	case unit.One:
		return b.Style.Significant(v, 4)
	case unit.Gram:
		if v >= 1000 {
			return b.Style.Significant(v/1000, 4) + "\u00a0kg"
		}
	case unit.Pascal:
		if v >= 1000 {
			return b.Style.Significant(v/1000, 2) + "\u00a0kPa"
		}
		return b.Style.Significant(v, 2) + "\u00a0Pa"
	case unit.PH:
		return b.Style.Fixed(v, 1)
	}
	shown := b.Style.Significant(v, 3)
	return shown + "\u00a0" + b.counted(v, shown, u)
}

// Amount writes a value to its last digit, with its unit.
func (b Book) Amount(v float64, u unit.Symbol) string {
	shown := b.Style.Plain(v)
	return shown + "\u00a0" + b.counted(v, shown, u)
}

// counted is the unit as it stands behind this figure: what is counted, such as
// sheets, has a word of its own for one.
func (b Book) counted(v float64, shown string, u unit.Symbol) string {
	if shown == "1" || b.belowTwo && v > -2 && v < 2 {
		if s, ok := b.Find("unit." + string(u) + ".one"); ok {
			return s
		}
	}
	return b.unitText(u)
}

// unitText is the unit in the reader's language where the catalogue has one.
func (b Book) unitText(u unit.Symbol) string {
	if s, ok := b.Find("unit." + string(u)); ok {
		return s
	}
	return string(u)
}
