package screen

import (
	"strings"

	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// ownedRow is one agent of the shelf as typed.
type ownedRow struct{ name, grade, stock string }

// empty tells a row of no agent: what else stands in it is of nothing.
func (r ownedRow) empty() bool { return strings.TrimSpace(r.name) == "" }

// AgentUnknown refuses a name on the shelf that is no agent's.
const AgentUnknown note.Code = "shelf.unknown-agent"

// graded are the agents that are asked for a strength here, and the limits of
// what can stand on a label; "strength.<id>" is its unit. They repeat what the
// model of gels takes, which is too heavy for the first load; a test compares
// them. Gelatin has questions of its own.
var graded = [...]struct {
	id        string
	low, high float64
}{
	{"agar", 200, 1800},
	{"pectin-hm", 50, 400},
}

// showOwned puts the agents of the shelf on the page.
func (s *shelf) showOwned() {
	page := s.app.page
	page.Rows("own", len(s.agents))
	for i, r := range s.agents {
		page.Value(view.Row("own", i, "name"), r.name)
		page.Value(view.Row("own", i, "grade"), r.grade)
		page.Value(view.Row("own", i, "stock"), r.stock)
		s.askGrade(i)
	}
}

// askGrade asks for a strength where the agent is sold by one.
func (s *shelf) askGrade(i int) {
	id, _ := findAgent(s.agents[i].name)
	at := gradeOf(id)
	s.app.page.Show(view.Row("own", i, "grade-ask"), at >= 0)
	if at >= 0 {
		s.app.page.Text(view.Row("own", i, "unit"), s.app.text("strength."+id))
	}
}

// gradeOf is the place of an agent in graded, −1 when it has no strength.
func gradeOf(id string) int {
	for i := range graded {
		if graded[i].id == id {
			return i
		}
	}
	return -1
}

func (s *shelf) addOwned() {
	if len(s.agents) == formula.MaxOwned {
		return
	}
	s.agents = append(s.agents, ownedRow{})
	s.showOwned()
	s.app.page.Focus(view.Row("own", len(s.agents)-1, "name"))
}

func (s *shelf) dropOwned(row int) {
	if row < 1 || row > len(s.agents) {
		return
	}
	dropRow(s, &s.agents, row-1, formula.MaxOwned, note.Typed("name", s.agents[row-1].name), func() {
		s.showOwned()
		s.readOwned()
	})
}

func (s *shelf) typedOwned(name, text string) {
	i := view.RowOf(name) - 1
	if i < 0 || i >= len(s.agents) {
		return
	}
	switch {
	case strings.HasSuffix(name, "-grade"):
		s.agents[i].grade = text
	case strings.HasSuffix(name, "-stock"):
		s.agents[i].stock = text
	default:
		s.agents[i].name = text
		s.askGrade(i)
	}
	s.readOwned()
}

// readOwned takes the agents when every row of them is right. Empty rows wait.
func (s *shelf) readOwned() {
	var list []formula.Owned
	fine := true
	for i, r := range s.agents {
		own, place, refused := readOwnedRow(r)
		s.app.page.Invalid(view.Row("own", i, "name"), false)
		s.app.page.Invalid(view.Row("own", i, "grade"), false)
		s.app.page.Invalid(view.Row("own", i, "stock"), false)
		s.refuse(view.Row("own", i, place), view.Row("own", i, "say"), refused)
		fine = fine && refused == nil
		if own.Agent != "" {
			list = append(list, own)
		}
	}
	if fine {
		s.own.Agents = list
		s.keep()
	}
}

// readOwnedRow reads one row; place is the input that a refusal is about.
func readOwnedRow(r ownedRow) (own formula.Owned, place string, refused *note.Refusal) {
	if strings.TrimSpace(r.name) == "" {
		return own, "name", nil
	}
	id, ok := findAgent(r.name)
	if !ok {
		return own, "name", note.Refuse("", AgentUnknown)
	}
	own.Agent = id
	if own.Stock, refused = readStock(r.stock, formula.MaxStock, unit.Gram); refused != nil {
		return own, "stock", refused
	}
	at := gradeOf(id)
	if at < 0 || strings.TrimSpace(r.grade) == "" {
		return own, "grade", nil
	}
	own.Grade, refused = formula.FigureBetween(r.grade, graded[at].low, graded[at].high, unit.One)
	return own, "grade", refused
}
