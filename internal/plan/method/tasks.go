package method

import (
	"slices"

	"tremblant/internal/plan/timeline"
	"tremblant/internal/unit"
)

// Tasks turns the method of a formula into tasks for the timeline, one after
// the other. Ids are the formula's name, a slash and the step's id. Skipped
// steps take no time; a cook's own steps take the minutes that the cook gave.
func Tasks(formula string, steps []Edited) []timeline.Task {
	var out []timeline.Task
	keeps := hotKeeps(steps)
	for i, e := range steps {
		if e.Skipped {
			continue
		}
		t := timeline.Task{ID: formula + "/" + e.ID, Formula: formula, Duration: e.Minutes, HandsOn: e.Hands,
			During: e.zone(), Resting: timeline.NoFood}
		if !t.Duration.Valid() {
			t.Duration = unit.Range{}
		}
		t.Limited, t.Keeps = keeps[i] > 0, keeps[i]
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

// How long a mix that must be poured hot may stand in its pan, minutes, by how hot it must
// still be when it is poured: an open pan of a kilogram loses some two degrees a minute
// (common practice).
const (
	pourAt, pourKeeps       = 40, 10
	pourHotAt, pourHotKeeps = 60, 5
)

// hotKeeps is, for each step, how long what it makes may wait; 0 for as long as you like.
// What sets on the way down is only kept from the pan's heat to where it is poured.
func hotKeeps(steps []Edited) []float64 {
	keeps := make([]float64, len(steps))
	at := slices.IndexFunc(steps, func(e Edited) bool { return e.Kind == Pour && !e.Skipped })
	from := slices.IndexFunc(steps, func(e Edited) bool { return e.Kind == Hydrate && !e.Skipped })
	if at < 0 || from < 0 {
		return keeps
	}
	for _, l := range steps[at].Limits {
		may := 0.0
		switch {
		case l.Of != Temperature || l.Most || l.Value < pourAt:
		case l.Value < pourHotAt:
			may = pourKeeps
		default:
			may = pourHotKeeps
		}
		for i := from; i < at; i++ {
			keeps[i] = max(keeps[i], may)
		}
	}
	return keeps
}
