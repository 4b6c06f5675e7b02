package lab

import (
	"strings"

	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/plan"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// evening is the section that makes several formulas of the book for one
// service: what each comes to, what the shelf must hold for all of them, one
// backward plan, one sheet of paper. It stands in the book, not in the pan, and
// what is typed in it belongs to the evening. Each formula is worked out by the
// sections of the pan's own parts, as if it stood there.
type evening struct {
	rowInputs
	told    formula.Tonight // as the pan last said
	now     formula.Evening // with what was typed since
	clock   float64         // minutes since midnight, as the page's clock says
	clocked bool

	courses []*course
	known   map[string]*course // by everything that they follow from
	joined  plan.Evening
	needs   []need
}

func newEvening() *evening {
	return &evening{rowInputs: rowInputs{}, known: map[string]*course{}}
}

func (e *evening) part() string { return "evening" }

// inputs implements section: none of its inputs is kept with the formula.
func (e *evening) inputs() []string { return nil }

// ename is the name of a place or an input of the section.
func ename(what string) string { return formula.EveningPrefix + what }

// erow is the name of a place in row i, from 0, of a list of the section.
func erow(list string, i int, what string) string { return view.Row(ename(list), i, what) }

// esay is a sentence of the section's own.
func (s *state) esay(key string, args ...note.Arg) string { return s.say("lab-evening."+key, args...) }

// eveningInputs are those outside rows.
var eveningInputs = [...]string{"name", "service", "day", "slack", "cooks", "rings", "blenders", "places"}

// evening is the section of that name.
func (l *Lab) evening() *evening {
	for _, s := range l.sections {
		if e, ok := s.(*evening); ok {
			return e
		}
	}
	return newEvening()
}

// Evening takes the evening and its formulas, a [formula.Tonight] as text. A text
// that is none is an error and changes nothing.
func (l *Lab) Evening(text string) error {
	t, err := formula.DecodeTonight(text)
	if err != nil {
		return err
	}
	e := l.evening()
	e.told, e.now = t, t.Evening
	for _, name := range eveningInputs {
		l.state.page.Value(ename(name), t.Evening.Typed[ename(name)])
	}
	l.stale = true
	return nil
}

func (e *evening) show(s *state) {
	own := &state{words: s.words, page: s.page, shelf: s.shelf, fields: e.now.Typed}
	e.cook(s)
	e.showDishes(own)
	e.join(own)
	any := len(e.sheets()) > 0
	s.page.Show(ename("empty"), len(e.now.Dishes) == 0)
	s.page.Show(ename("answer"), any)
	e.showLeftOut(own)
	e.showNeeds(own)
	e.showPlan(own)
	e.showCautions(own)
	e.showSheet(own)
}

// do takes the page's clock, as minutes since midnight, counted from 1. The
// section's buttons are the pan's.
func (e *evening) do(what string, row int, s *state) *formula.Change {
	if what == "clock" {
		e.clock, e.clocked = float64(row-1), row >= 1 && row <= dayMinutes
	}
	return nil
}

// cook works every formula out. What it follows from has changed for few of
// them, so that the others stand as they were.
func (e *evening) cook(s *state) {
	known := map[string]*course{}
	e.courses = nil
	kitchen := s.kitchenText()
	for i, d := range e.now.Dishes {
		body := e.told.Body(d.ID)
		title := e.title(s, i)
		key := strings.Join([]string{title, d.Covers, d.Portion, d.Unit, string(body), kitchen}, "\x00")
		c := e.known[key]
		if c == nil {
			c = s.course(d, title, body)
		}
		known[key] = c
		e.courses = append(e.courses, c)
	}
	e.known = known
}

// kitchenText is what else a formula's answer follows from.
func (s *state) kitchenText() string {
	shelf, err := s.shelf.Encode()
	if err != nil {
		return ""
	}
	if s.words.Style.Comma {
		shelf = append(shelf, ',')
	}
	return string(shelf)
}

// title names dish i: as its formula, with a number where the same name stands
// further up already.
func (e *evening) title(s *state, i int) string {
	name := e.now.Dishes[i].Name
	if strings.TrimSpace(name) == "" {
		name = s.msay("unnamed")
	}
	n := 1
	for _, other := range e.now.Dishes[:i] {
		if other.Name == e.now.Dishes[i].Name {
			n++
		}
	}
	if n == 1 {
		return name
	}
	return s.esay("again", note.Typed("name", name), note.Num("number", float64(n), unit.One))
}

// showDishes shows the formulas with what is asked about them and what they
// come to.
func (e *evening) showDishes(s *state) {
	list := ename("dish")
	s.page.Rows(list, len(e.courses))
	for i, c := range e.courses {
		at := func(what string) string { return view.Row(list, i, what) }
		s.page.Text(at("name"), c.title)
		s.page.Value(at("covers"), c.dish.Covers)
		s.page.Value(at("portion"), c.dish.Portion)
		s.page.Value(at("unit"), c.dish.Unit)
		s.page.Invalid(at("covers"), c.covers.wrong())
		s.page.Say(at("covers"), c.covers.text, c.covers.hint)
		s.page.Invalid(at("portion"), c.portion.wrong())
		s.page.Say(at("portion"), c.portion.text, c.portion.hint)
		s.page.Line(at("cannot"), c.cannot)
		s.page.Line(at("near"), c.near)
		s.page.Show(at("open"), !c.missing)
		s.page.State(at("item"), map[bool]string{true: "bad"}[!c.fine()])
		if c.fine() {
			s.page.Figure(at("make"), float64(c.made()), s.sum(float64(c.made())))
		} else {
			s.page.NoFigure(at("make"))
		}
		s.page.Line(at("what"), c.what())
	}
}

// showLeftOut says which formulas are not in the sums.
func (e *evening) showLeftOut(s *state) {
	var out []string
	for _, c := range e.courses {
		if !c.fine() {
			out = append(out, c.title)
		}
	}
	text := ""
	if len(out) > 0 {
		text = s.esay("left-out", note.Typed("list", s.join(out)))
	}
	s.page.Line(ename("left-out"), text)
}

// sum is a weight of several formulas, as fine as a kitchen weighs it.
func (s *state) sum(g float64) string {
	switch {
	case g < 10:
		return s.words.Style.Fixed(g, 2) + nbsp + string(unit.Gram)
	case g < 100:
		return s.words.Style.Fixed(g, 1) + nbsp + string(unit.Gram)
	case g < 1000:
		return s.words.Style.Fixed(g, 0) + nbsp + string(unit.Gram)
	}
	return s.words.Figure(g, unit.Gram)
}

// sheets are those of the formulas that could be worked out.
func (e *evening) sheets() []plan.Sheet {
	var out []plan.Sheet
	for _, c := range e.courses {
		if c.fine() {
			out = append(out, c.sheet)
		}
	}
	return out
}
