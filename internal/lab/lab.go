package lab

import (
	"maps"
	"strings"

	"tremblant/internal/formula"
	"tremblant/internal/phrase"
	"tremblant/internal/view"
)

// section is one part of the page.
type section interface {
	// part is the name of the part: <details data-lab="part">.
	part() string
	// inputs are the names of all its inputs outside rows.
	inputs() []string
	// show puts the section on the page. It is called only while the part is
	// open, and may be called when nothing has changed.
	show(s *state)
	// do carries out a button by what stands behind "lab-<part>-" in its name;
	// row counts from 1, 0 outside rows. A change that is not nil goes to the pan.
	do(what string, row int, s *state) *formula.Change
}

// teller is a section that tells the others something: it writes into the state.
type teller interface{ tell(s *state) }

// sections are the parts of the lab; those that others build on come first.
func sections() []section {
	return []section{newKnow(), newSwap(), newSiphon(), newCream(), newPearls(), newDrier(), newPrep(), newLearned(), newShare(), newHelp(), newEvening()}
}

// Lab is the running lab.
type Lab struct {
	state    state
	sections []section
	open     map[string]bool
	told     bool // a working formula has come
	stale    bool // the page does not show what is known
	change   string
}

// New is a lab that has not been told a formula yet. words are the page's texts.
func New(words phrase.Book) *Lab {
	return &Lab{
		state:    state{words: words, page: view.New(), fields: formula.Fields{}},
		sections: sections(),
		open:     map[string]bool{},
	}
}

// Working takes the pan's working formula, a [formula.Working] as text. A text
// that is none is an error and changes nothing.
func (l *Lab) Working(text string) error {
	w, err := formula.DecodeWorking(text)
	if err != nil {
		return err
	}
	l.state.work(w)
	for _, s := range l.sections {
		for _, name := range s.inputs() {
			l.state.page.Value(name, w.Fields[name])
		}
	}
	l.told, l.stale = true, true
	return nil
}

// Input takes what was typed or chosen in an input of the lab. The pan sends it
// again with the working formula.
func (l *Lab) Input(name, value string) {
	l.state.page.Typed(name, value)
	if l.evening().now.Take(name, value) {
		l.stale = true
		return
	}
	l.state.fields[name] = value
	l.stale = true
}

// Do carries out a button of the lab by its name, "lab-<part>-<what>"; row is
// the number of its row, from 1, or 0.
func (l *Lab) Do(what string, row int) {
	for _, s := range l.sections {
		rest, ok := strings.CutPrefix(what, formula.LabPrefix+s.part()+"-")
		if !ok {
			continue
		}
		l.refresh()
		from := maps.Clone(l.state.fields)
		if c := s.do(rest, row, &l.state); c != nil {
			c.From = from
			if body, err := c.Encode(); err == nil {
				l.change = string(body)
			}
		}
		l.stale = true
	}
}

// Open notes that a part of the page was opened or closed. Only open parts are
// computed.
func (l *Lab) Open(part string, open bool) {
	l.open[part] = open
	l.stale = l.stale || open
}

// Patch is what the page has to change now, "" when nothing.
func (l *Lab) Patch() string {
	l.refresh()
	return l.state.page.Patch()
}

// refresh computes what is stale. It is fresh from here on even when a section
// panics, so that one bad formula does not spoil every event after it.
func (l *Lab) refresh() {
	if !l.told || !l.stale {
		return
	}
	l.stale = false
	l.state.read()
	for _, s := range l.sections {
		if t, ok := s.(teller); ok {
			t.tell(&l.state)
		}
	}
	for _, s := range l.sections {
		if l.open[s.part()] {
			s.show(&l.state)
		}
	}
}

// Change is what the pan should take, a [formula.Change] as text, and "" from
// then on until there is another.
func (l *Lab) Change() string {
	c := l.change
	l.change = ""
	return c
}
