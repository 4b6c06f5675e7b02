package lab

import (
	"strconv"

	"tremblant/internal/note"
	"tremblant/internal/plan/method"
	"tremblant/internal/unit"
)

// The groups of what the shelf must hold, in the order of the page.
const (
	needAgents = "agents"
	needAcids  = "acids"
	needRest   = "rest"
	needGas    = "gas"
)

var needGroups = [...]string{needAgents, needAcids, needRest, needGas}

// need is one thing that the shelf must hold.
type need struct {
	id, group, name string
	amount          float64  // g, or a count
	counted         bool     // it is a count
	each            []string // how much for which formula
	there           float64
	known           bool // how much is there
	usual           string
}

// short is how much is missing.
func (n need) short() float64 {
	if !n.known || n.there >= n.amount*(1-1e-12) {
		return 0
	}
	return n.amount - n.there
}

func (n need) text(s *state, v float64) string {
	if n.counted {
		return s.words.Style.Fixed(v, 0)
	}
	return s.sum(v)
}

// gather lists what all formulas need: what is weighed, by group, then siphons
// and chargers.
func (e *evening) gather(s *state) {
	e.needs = nil
	for _, group := range needGroups {
		if group == needGas {
			e.gatherBodies(s)
			e.gatherChargers(s)
			continue
		}
		for _, joined := range e.joined.Needs {
			for i, title := range joined.Sheets {
				c := e.named(title)
				if c == nil {
					continue
				}
				item := c.p.item(joined.ID)
				if in := c.group(item.ID, item.Agent); in != group {
					continue
				}
				takes := float64(c.takes(joined.ID, joined.Each[i]))
				e.add(need{id: joined.ID, group: group, name: s.itemName(c.p, joined.ID), amount: takes},
					s.esay("of", note.Typed("mass", s.sum(takes)), note.Typed("name", title)))
			}
		}
	}
	for i := range e.needs {
		e.needs[i].stock(s)
	}
}

// takes is what the shelf must hold of an ingredient: as much as a course has of it, or
// what goes into the premix that it is weighed by.
func (c *course) takes(id string, mass unit.Mass) unit.Mass {
	for _, line := range c.p.list.Lines {
		if line.ID == id && line.Premix != nil {
			return max(mass, line.Premix.AgentIn.Shown)
		}
	}
	return mass
}

// add adds to what is needed of one thing. The same name is the same thing, also
// where a formula lists it twice.
func (e *evening) add(n need, each string) {
	for i := range e.needs {
		old := &e.needs[i]
		if old.name == n.name && old.group == n.group {
			old.amount += n.amount
			old.each = append(old.each, each)
			return
		}
	}
	n.each = []string{each}
	e.needs = append(e.needs, n)
}

// named is the course of a title.
func (e *evening) named(title string) *course {
	for _, c := range e.courses {
		if c.title == title {
			return c
		}
	}
	return nil
}

// group is where an ingredient stands in the list.
func (c *course) group(id string, agent bool) string {
	if agent {
		return needAgents
	}
	for _, part := range c.p.parts {
		if part.id != id {
			continue
		}
		switch part.role {
		case method.Acid, method.Salt, method.Sequestrant:
			return needAcids
		}
	}
	return needRest
}

func (e *evening) gatherBodies(s *state) {
	for _, c := range e.courses {
		if !c.fine() {
			continue
		}
		for _, b := range c.bodies {
			e.add(need{id: siphonID(b.size), group: needGas, name: s.esay("siphon", note.Typed("size", s.size(b.size))), amount: float64(b.count), counted: true},
				s.esay("of", note.Typed("mass", strconv.Itoa(b.count)), note.Typed("name", c.title)))
		}
	}
}

func siphonID(size unit.Volume) string {
	return "siphon." + strconv.FormatFloat(float64(size), 'f', -1, 64)
}

const chargersID = "chargers.8"

func (e *evening) gatherChargers(s *state) {
	for _, c := range e.courses {
		if c.fine() && c.foam != nil && c.foam.Chargers > 0 {
			e.add(need{id: chargersID, group: needGas, name: s.esay("chargers"), amount: float64(c.foam.Chargers), counted: true},
				s.esay("of", note.Typed("mass", strconv.Itoa(c.foam.Chargers)), note.Typed("name", c.title)))
		}
	}
}

// stock finds out how much is there: as typed here, or as the shelf says.
func (n *need) stock(s *state) {
	n.there, n.known = n.onShelf(s)
	if n.known {
		n.usual = s.words.Style.Plain(n.there)
	}
	u := unit.Gram
	if n.counted {
		u = unit.One
	}
	if g := s.typed(ename("there-"+n.id), 0, 1e6, u); g.Known {
		n.there, n.known = g.Typical, true
	}
}

func (n *need) onShelf(s *state) (float64, bool) {
	switch n.group {
	case needAgents:
		for _, own := range s.shelf.Agents {
			if own.Agent == n.id && own.Stock.Known {
				return own.Stock.Amount, true
			}
		}
	case needGas:
		if n.id == chargersID {
			return s.shelf.Chargers.Amount, s.shelf.Chargers.Known
		}
		count, known := 0, len(s.shelf.Siphons) > 0
		for _, own := range s.shelf.Siphons {
			if siphonID(own.Size) == n.id {
				count += own.Count
			}
		}
		return float64(count), known
	}
	return 0, false
}

// showNeeds shows what the shelf must hold, with what is short.
func (e *evening) showNeeds(s *state) {
	list := ename("need")
	s.page.Rows(list, len(e.needs))
	e.forget(list, len(e.needs), "there")
	group, short := "", 0
	for i, n := range e.needs {
		at := func(what string) string { return erow("need", i, what) }
		head := ""
		if n.group != group {
			group = n.group
			head = s.esay("group-" + group)
		}
		s.page.Line(at("group"), head)
		s.page.Text(at("name"), n.name)
		s.page.Figure(at("amount"), n.amount, n.text(s, n.amount))
		s.page.Text(at("each"), s.join(n.each))
		name := ename("there-" + n.id)
		s.page.Set(at("say"), "data-for", name)
		if e.name(s, at("there"), name) {
			s.typed(name, 0, 1e6, unit.Gram)
		}
		s.page.Value(name, s.fields[name])
		s.page.Set(at("there"), "placeholder", n.usual)
		s.page.Text(at("unit"), map[bool]string{false: string(unit.Gram)}[n.counted])
		e.showShort(s, i, n)
		if n.short() > 0 {
			short++
		}
	}
	text := s.esay("short-none")
	if short > 0 {
		text = s.esay("short-count", note.Num("count", float64(short), unit.One))
	}
	s.page.Text(ename("short"), text)
	s.page.State(ename("short"), map[bool]string{true: "bad"}[short > 0])
}

func (e *evening) showShort(s *state, i int, n need) {
	state, text := "", ""
	switch {
	case n.short() > 0:
		state, text = "bad", s.esay("short", note.Typed("amount", n.text(s, n.short())))
	case n.known:
		state, text = "good", s.esay("enough")
	}
	s.page.State(erow("need", i, "item"), state)
	s.page.Show(erow("need", i, "short-box"), n.known)
	if n.known {
		s.page.Figure(erow("need", i, "short"), n.short(), text)
	} else {
		s.page.NoFigure(erow("need", i, "short"))
	}
}
