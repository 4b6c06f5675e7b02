package formula

import (
	"maps"
	"slices"

	"tremblant/internal/wire"
)

// Judging is what was said of a batch and not kept yet: the form of a trial, and the
// cups of a ladder.
type Judging struct {
	Of   string            // entry of the book that the form is of
	Form Fields            // its inputs as typed
	Cups map[string]string // how cups came out, by what is in them
}

// Bounds of a judging.
const (
	maxJudged    = 40 // inputs, or cups
	maxCupKey    = 8_000
	maxGradeText = 10
)

// empty reports whether nothing was said.
func (j Judging) empty() bool { return len(j.Form)+len(j.Cups) == 0 }

// encode writes what was said; empty inputs are left out.
func (j Judging) encode(w *wire.Writer, name string) {
	if j.empty() {
		return
	}
	w.Name(name).BeginObject()
	w.Name("of").Text(j.Of)
	pairs := func(name string, m map[string]string, most int) {
		w.Name(name).BeginArray()
		n := 0
		for _, key := range slices.Sorted(maps.Keys(m)) {
			if m[key] != "" && len(key) <= maxCupKey && n < maxJudged {
				w.Text(key)
				w.Text(wire.Cut(m[key], most))
				n++
			}
		}
		w.EndArray()
	}
	pairs("form", j.Form, maxDraftText)
	pairs("cups", j.Cups, maxGradeText)
	w.EndObject()
}

func decodeJudging(v wire.Value) (Judging, error) {
	m := v.Fields()
	j := Judging{Of: m.Text("of", idBytes), Form: Fields{}, Cups: map[string]string{}}
	pairs := func(name string, into map[string]string) {
		list := m.Texts(name, 2*maxJudged, maxDraftText)
		for i := 1; i < len(list); i += 2 {
			into[list[i-1]] = list[i]
		}
	}
	pairs("form", j.Form)
	pairs("cups", j.Cups)
	return j, m.Err()
}
