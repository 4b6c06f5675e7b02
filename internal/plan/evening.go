package plan

import (
	"tremblant/internal/note"
	"tremblant/internal/plan/timeline"
	"tremblant/internal/unit"
)

// Need is one line of the evening's shopping list.
type Need struct {
	ID     string
	Mass   unit.Mass
	Sheets []string    // titles of the sheets that want it
	Each   []unit.Mass // how much each of them does
}

// Evening is several sheets for one service.
type Evening struct {
	Timeline timeline.Plan
	Needs    []Need  // in the order in which they first appear
	Cost     float64 // of the priced items of all sheets
}

// Join plans several sheets on one timeline and adds up what they need. Sheets
// must have different titles, since their steps are named by them. Errors are
// *note.Refusal.
func Join(sheets []Sheet, resources []timeline.Resource, o timeline.Options) (Evening, error) {
	var e Evening
	var tasks []timeline.Task
	for i, s := range sheets {
		for _, other := range sheets[:i] {
			if other.Title == s.Title {
				return Evening{}, note.Refuse("title", CodeTwoTitles, note.Typed("title", s.Title))
			}
		}
		tasks = append(tasks, s.Tasks...)
		e.Cost += s.Cost.Batch
		for _, line := range s.Weights.Lines {
			e.need(s.Title, line.ID, line.Wanted)
		}
	}
	var err error
	e.Timeline, err = timeline.Make(tasks, resources, o)
	return e, err
}

func (e *Evening) need(title, id string, m unit.Mass) {
	for i := range e.Needs {
		if e.Needs[i].ID == id {
			e.Needs[i].Mass += m
			e.Needs[i].Sheets = append(e.Needs[i].Sheets, title)
			e.Needs[i].Each = append(e.Needs[i].Each, m)
			return
		}
	}
	e.Needs = append(e.Needs, Need{id, m, []string{title}, []unit.Mass{m}})
}
