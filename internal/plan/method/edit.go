package method

import (
	"slices"
	"strconv"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// EditKind is what a cook does to the method.
type EditKind uint8

// The edits.
const (
	Insert  EditKind = iota + 1 // a step of the cook's own, after Step ("" for the start)
	Replace                     // other words for Step
	Skip                        // leave Step out
	Move                        // put Step after After ("" for the start)
)

// Edit is one change that a cook made. It is kept with the formula and applied
// again whenever the method is computed anew.
type Edit struct {
	Kind    EditKind
	Step    string  // the id of the step that is meant
	After   string  // Move: the id of the step to follow
	ID      string  // Insert: the new step's own id, unique in the formula
	Text    string  // Insert and Replace: the cook's words, shown verbatim
	Minutes float64 // Insert: how long it takes; 0 is none
	// Basis is what the step looked like when the edit was made: [Step.Basis].
	Basis string
}

// Edited is a step with what the cook made of it.
type Edited struct {
	Step
	Text    string // the cook's words; "" for the computed sentence
	Own     bool   // the cook's own step
	Skipped bool   // left out; still listed, so that it can be brought back
	Moved   bool
	Changed bool // the figures changed since the cook reworded it: compare again
}

// Lost is an edit whose step is no longer there.
type Lost struct {
	Edit Edit
	// Kept says that the cook's own step stands at the end instead of being dropped.
	Kept bool
}

// Basis is a fingerprint of a step's figures, to notice later that they changed:
// 64 bits of FNV-1a over arguments and limits.
func (s Step) Basis() string {
	h := uint64(14695981039346656037)
	mix := func(text string) {
		for i := range len(text) {
			h = (h ^ uint64(text[i])) * 1099511628211
		}
	}
	figure := func(x float64) { mix(strconv.FormatFloat(x, 'g', 4, 64)); mix(";") }
	for _, a := range s.Args {
		mix(a.Name + "=" + a.Word + a.Typed)
		figure(a.Value)
	}
	for _, l := range s.Limits {
		mix(strconv.Itoa(int(l.Of)) + strconv.FormatBool(l.Most))
		figure(l.Value)
	}
	return strconv.FormatUint(h, 36)
}

// Apply lays a cook's edits over the computed steps, in the order in which
// they were made. An edit whose step vanished is reported, never silently
// dropped: the cook's own words are kept at the end of the list.
func Apply(steps []Step, edits []Edit) ([]Edited, []Lost) {
	out := make([]Edited, len(steps))
	for i, s := range steps {
		out[i] = Edited{Step: s}
	}
	var lost []Lost
	for _, e := range edits {
		var ok bool
		if out, ok = e.apply(out); !ok {
			kept := e.Kind == Insert && e.ID != "" && at(out, e.ID) < 0
			if kept {
				out = append(out, e.own())
			}
			lost = append(lost, Lost{e, kept})
		}
	}
	return out, lost
}

func at(steps []Edited, id string) int {
	return slices.IndexFunc(steps, func(s Edited) bool { return s.ID == id })
}

func (e Edit) own() Edited {
	minutes := e.Minutes
	if !unit.Finite(minutes) || minutes < 0 || minutes > 20160 {
		minutes = 0
	}
	return Edited{Step: Step{ID: e.ID, Minutes: unit.Exactly(minutes), Hands: true}, Text: e.Text, Own: true}
}

// apply makes one edit; not ok when its step, or the one to follow, is gone.
func (e Edit) apply(steps []Edited) ([]Edited, bool) {
	i := at(steps, e.Step)
	if i < 0 && !(e.Kind == Insert && e.Step == "") {
		return steps, false
	}
	switch e.Kind {
	case Insert:
		if e.ID == "" || at(steps, e.ID) >= 0 {
			return steps, false
		}
		return slices.Insert(steps, i+1, e.own()), true
	case Replace:
		steps[i].Text = e.Text
		steps[i].Changed = e.Basis != "" && e.Basis != steps[i].Basis()
	case Skip:
		steps[i].skip()
	case Move:
		return e.move(steps, i)
	default:
		return steps, false
	}
	return steps, true
}

// skip leaves a step out. What made it critical or dangerous stays in sight.
func (s *Edited) skip() {
	s.Skipped = true
	if len(s.Limits) > 0 {
		s.Notes = append(slices.Clone(s.Notes), note.New(note.Caution, CodeSkipped).At(s.ID))
	}
}

func (e Edit) move(steps []Edited, i int) ([]Edited, bool) {
	if e.After == e.Step || e.After != "" && at(steps, e.After) < 0 {
		return steps, false
	}
	moved := steps[i]
	moved.Moved = true
	steps = slices.Delete(slices.Clone(steps), i, i+1)
	return slices.Insert(steps, at(steps, e.After)+1, moved), true
}
