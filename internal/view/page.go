// Package view is what stands on the page, as ops for the page's binder (web/bind.js).
package view

import (
	"math"
	"strconv"
	"strings"

	"tremblant/internal/wire"
)

// Page is what the page shows. The program says what each place of the page
// should hold; Patch gives what has changed since it was last asked. Places are
// named: figures by data-figure, texts and parts to show by id, messages by
// data-for, inputs by name. Rows of a list carry their number in the name, from
// 1: "dose-2-mass" stands in the second row of the list "dose".
type Page struct {
	shown map[string]string // what each place holds, by op and name
	rows  map[string]int
	patch *wire.Writer
}

// New is a page that shows what its HTML holds.
func New() *Page { return &Page{shown: map[string]string{}, rows: map[string]int{}} }

// The ops of a patch; the page's binder carries them out.
const (
	opFigure  = "figure"  // name, value in base units, text
	opText    = "text"    // id, text
	opShow    = "show"    // id, "1" or ""
	opState   = "state"   // id, state: sets data-state
	opSay     = "say"     // field, text, class
	opInvalid = "invalid" // input name, "1" or ""
	opValue   = "value"   // input name, text
	opRows    = "rows"    // list, count
	opChoices = "choices" // select name, value, text, value, text ...
	opFocus   = "focus"   // input name, or id
	opSet     = "set"     // id, attribute, value
	opPlace   = "place"   // id, id of the element to stand in, at its end
)

// set sends an op unless the place holds that already.
func (p *Page) set(op, name string, rest ...string) {
	key, value := op+" "+name, strings.Join(rest, "\x00")
	if old, ok := p.shown[key]; ok && old == value {
		return
	}
	p.shown[key] = value
	p.send(op, name, rest...)
}

func (p *Page) send(op, name string, rest ...string) {
	if p.patch == nil {
		p.patch = wire.NewWriter()
		p.patch.BeginArray()
	}
	p.patch.BeginArray()
	p.patch.Text(op)
	p.patch.Text(name)
	for _, s := range rest {
		p.patch.Text(strings.ToValidUTF8(s, "\ufffd"))
	}
	p.patch.EndArray()
}

// Patch is a JSON array of ops since the last call, or "" when nothing changed.
func (p *Page) Patch() string {
	if p.patch == nil {
		return ""
	}
	p.patch.EndArray()
	out, err := p.patch.Bytes()
	p.patch = nil
	if err != nil {
		return ""
	}
	return string(out)
}

// Figure shows a computed figure: the value in base units and the text. What is
// no finite number is no answer.
func (p *Page) Figure(name string, value float64, text string) {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		p.NoFigure(name)
		return
	}
	p.set(opFigure, name, strconv.FormatFloat(value, 'g', -1, 64), text)
}

// NoFigure shows that there is no answer.
func (p *Page) NoFigure(name string) { p.set(opFigure, name, "", "–") }

// Text sets the text of an element; markup in it stays text.
func (p *Page) Text(id, text string) { p.set(opText, id, text) }

// Line sets a text and shows the element unless the text is empty.
func (p *Page) Line(id, text string) {
	p.Text(id, text)
	p.Show(id, text != "")
}

// Show shows or hides an element.
func (p *Page) Show(id string, on bool) { p.set(opShow, id, flag(on)) }

// State marks an element with a state that the style knows.
func (p *Page) State(id, state string) { p.set(opState, id, state) }

// Say puts a sentence beside a field, or takes it away. hint makes it gentle.
func (p *Page) Say(field, text string, hint bool) {
	class := ""
	if hint {
		class = "hint"
	}
	p.set(opSay, field, text, class)
}

// Invalid marks an input as wrong.
func (p *Page) Invalid(name string, bad bool) { p.set(opInvalid, name, flag(bad)) }

// Value sets an input's text.
func (p *Page) Value(name, text string) { p.set(opValue, name, text) }

// Typed notes what a person has typed, which the input holds already.
func (p *Page) Typed(name, text string) { p.shown[opValue+" "+name] = text }

// Unknown forgets what an input holds and what is said beside it, since it has become
// another's: all that is said of it next is sent.
func (p *Page) Unknown(name string) {
	for _, op := range []string{opValue, opChoices, opSay, opInvalid} {
		delete(p.shown, op+" "+name)
	}
}

// Rows gives a list so many rows. Rows that go are forgotten, so that a new row
// of the same number starts afresh.
func (p *Page) Rows(list string, n int) {
	for i := n + 1; i <= p.rows[list]; i++ {
		row := " " + list + "-" + strconv.Itoa(i) + "-"
		for key := range p.shown {
			if strings.Contains(key, row) {
				delete(p.shown, key)
			}
		}
	}
	p.rows[list] = n
	p.set(opRows, list, strconv.Itoa(n))
}

// Choices fills a select with pairs of value and text.
func (p *Page) Choices(name string, pairs ...string) {
	before := p.shown[opChoices+" "+name]
	p.set(opChoices, name, pairs...)
	if p.shown[opChoices+" "+name] != before {
		delete(p.shown, opValue+" "+name) // a new list has lost its choice
	}
}

// Focus moves the keyboard to an input by its name, or to what has that id.
func (p *Page) Focus(name string) { p.send(opFocus, name) }

// Row names a place in row i, from 0, of a list.
func Row(list string, i int, property string) string {
	return list + "-" + strconv.Itoa(i+1) + "-" + property
}

// RowOf is the row number, from 1, in a name like "dose-2-amount"; 0 if none.
func RowOf(name string) int {
	_, rest, _ := strings.Cut(name, "-")
	number, _, _ := strings.Cut(rest, "-")
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 {
		return 0
	}
	return n
}

// Closed notes that a part was hidden on the page itself.
func (p *Page) Closed(id string) { p.shown[opShow+" "+id] = "" }

// Set gives an attribute of an element a value: the points of a drawing, or
// what a state is called for assistive technology.
func (p *Page) Set(id, attribute, value string) {
	key := opSet + " " + id + " " + attribute
	if old, ok := p.shown[key]; ok && old == value {
		return
	}
	p.shown[key] = value
	p.send(opSet, id, attribute, value)
}

// Place moves an element to the end of another, with all that is in it.
func (p *Page) Place(id, into string) { p.set(opPlace, id, into) }

func flag(on bool) string {
	if on {
		return "1"
	}
	return ""
}

// FigureText is the text that a figure shows.
func (p *Page) FigureText(name string) string {
	_, text, _ := strings.Cut(p.shown[opFigure+" "+name], "\x00")
	return text
}
