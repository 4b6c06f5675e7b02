package method

import (
	"tremblant/internal/plan/timeline"
	"tremblant/internal/unit"
)

// Tasks turns the method of a formula into tasks for the timeline, one after
// the other. Ids are the formula's name, a slash and the step's id. Skipped
// steps take no time; a cook's own steps take the minutes that the cook gave.
func Tasks(formula string, steps []Edited) []timeline.Task {
	var out []timeline.Task
	for _, e := range steps {
		if e.Skipped {
			continue
		}
		t := timeline.Task{ID: formula + "/" + e.ID, Formula: formula, Duration: e.Minutes, HandsOn: e.Hands,
			During: e.zone(), Resting: timeline.NoFood}
		if !t.Duration.Valid() {
			t.Duration = unit.Range{}
		}
		for _, r := range e.Needs {
			t.Needs = append(t.Needs, timeline.Need{Resource: r, Amount: 1})
		}
		if n := len(out); n > 0 {
			t.After = []string{out[n-1].ID}
		}
		out = append(out, t)
	}
	return out
}

func (s Step) zone() timeline.Zone {
	switch {
	case s.Hot:
		return timeline.Hot
	case s.Warm:
		return timeline.Warm
	}
	return timeline.NoFood
}
