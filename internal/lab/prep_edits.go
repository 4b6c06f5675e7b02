package lab

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/plan/method"
	"tremblant/internal/unit"
)

// A cook's changes of the method are kept with the formula, as inputs of the lab:
//
//	lab-method-edit-N            a step left out, moved or put in, from 1 in the
//	                             order in which they were made; tabs between
//	                             the kind, the step and what else it needs
//	lab-method-words-STEP-BASIS  other words for a step: the digest of its id,
//	                             and what its figures were when they were typed
//	lab-method-minutes-STEP      how long a step of the cook's own takes
//
// So words are kept as they are typed, with no button to forget.

// The kinds of a kept edit.
const (
	editSkip   = "skip"   // step
	editMove   = "move"   // step, the step to follow
	editInsert = "insert" // the step to follow, id of the new one
)

// maxEdits bounds the structural edits of one formula.
const maxEdits = 60

// ownBasis stands for the figures of a step that the cook wrote.
const ownBasis = "own"

// edits reads the kept edits for the computed steps, in the order in which
// they are applied: what moves steps first, then words.
func (s *state) edits(steps []method.Step) []method.Edit {
	ids := map[string]string{} // read by key only
	for _, step := range steps {
		ids[digest(step.ID)] = step.ID
	}
	var out []method.Edit
	for _, name := range s.editNames() {
		if e, ok := s.readEdit(s.fields[name]); ok {
			out = append(out, e)
		}
	}
	for _, name := range s.wordsNames() {
		of, basis := wordsOf(name)
		if basis == ownBasis {
			continue // taken in with the step itself
		}
		step := ids[of] // none for words whose step is gone
		out = append(out, method.Edit{Kind: method.Replace, Step: step, Text: s.fields[name], Basis: basis, ID: name})
	}
	return out
}

// editNames are the names of the structural edits, in the order in which they
// were made.
func (s *state) editNames() []string {
	var out []string
	for n := 1; n <= maxEdits; n++ {
		if name := editName(n); s.fields[name] != "" {
			out = append(out, name)
		}
	}
	return out
}

func editName(n int) string { return mname("edit-" + strconv.Itoa(n)) }

func (s *state) readEdit(text string) (method.Edit, bool) {
	kind, rest, _ := strings.Cut(text, "\t")
	first, second, _ := strings.Cut(rest, "\t")
	switch {
	case kind == editSkip && first != "":
		return method.Edit{Kind: method.Skip, Step: first}, true
	case kind == editMove && first != "":
		return method.Edit{Kind: method.Move, Step: first, After: second}, true
	case kind == editInsert && second != "":
		minutes, n := figureIn(s.fields[minutesName(second)], 0, maxOwnMinutes, unit.Minute)
		if n.Code != "" {
			minutes = 0
		}
		return method.Edit{Kind: method.Insert, Step: first, ID: second, Text: s.fields[wordsName(second, ownBasis)], Minutes: minutes}, true
	}
	return method.Edit{}, false
}

// maxOwnMinutes bounds a cook's own step: a week.
const maxOwnMinutes = 7 * 24 * 60

func minutesName(step string) string { return mname("minutes-" + digest(step)) }

// wordsName is the input that holds the words for a step.
func wordsName(step, basis string) string { return mname("words-" + digest(step) + "-" + basis) }

func wordsOf(name string) (step, basis string) {
	step, basis, _ = strings.Cut(strings.TrimPrefix(name, mname("words-")), "-")
	return step, basis
}

// wordsNames are the inputs that hold words, in the order of their names.
func (s *state) wordsNames() []string {
	var out []string
	for name, text := range s.fields {
		if strings.HasPrefix(name, mname("words-")) && text != "" {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

// wordsInput is the input that holds, or would hold, the words for a step.
func (s *state) wordsInput(e method.Edited) string {
	if e.Own {
		return wordsName(e.ID, ownBasis)
	}
	for _, name := range s.wordsNames() {
		if of, _ := wordsOf(name); of == digest(e.ID) {
			return name
		}
	}
	return wordsName(e.ID, e.Basis())
}

// rewrite is a change of the kept edits, named by a key of the text catalogue.
type rewrite struct {
	fields formula.Fields
	edits  []string
}

// rewriting begins a change of the kept edits.
func (s *state) rewriting() *rewrite {
	r := &rewrite{fields: maps.Clone(s.fields)}
	for _, name := range s.editNames() {
		r.edits = append(r.edits, s.fields[name])
		delete(r.fields, name)
	}
	return r
}

// done is the change, or none when there are more edits than can be kept.
func (r *rewrite) done(s *state, what string) *formula.Change {
	if len(r.edits) > maxEdits {
		return nil
	}
	for i, text := range r.edits {
		r.fields[editName(i+1)] = text
	}
	return &formula.Change{Fields: r.fields, What: s.msay(what)}
}

func (r *rewrite) add(parts ...string) { r.edits = append(r.edits, strings.Join(parts, "\t")) }

// drop takes out the edits that a test finds.
func (r *rewrite) drop(found func(kind, first, second string) bool) {
	r.edits = slices.DeleteFunc(r.edits, func(text string) bool {
		kind, rest, _ := strings.Cut(text, "\t")
		first, second, _ := strings.Cut(rest, "\t")
		return found(kind, first, second)
	})
}

// move puts a step after another. Of moves of one step in a row only the last counts.
func (r *rewrite) move(step, after string) {
	if n := len(r.edits); n > 0 && strings.HasPrefix(r.edits[n-1], editMove+"\t"+step+"\t") {
		r.edits = r.edits[:n-1]
	}
	r.add(editMove, step, after)
}

// unword takes out the words for a step.
func (r *rewrite) unword(s *state, e method.Edited) {
	delete(r.fields, s.wordsInput(e))
	delete(r.fields, minutesName(e.ID))
}

// newOwn is an id for one more step of the cook's own.
func (s *state) newOwn() string {
	for n := 1; ; n++ {
		id := "own-" + strconv.Itoa(n)
		if !slices.ContainsFunc(s.editNames(), func(name string) bool {
			return strings.HasSuffix(s.fields[name], "\t"+id)
		}) {
			return id
		}
	}
}

// change carries out a button on step i of the method.
func (m *prep) change(what string, i int, s *state) *formula.Change {
	steps := m.now.sheet.Steps
	if i < 0 || i >= len(steps) {
		return nil
	}
	e, r := steps[i], s.rewriting()
	switch what {
	case "up":
		return m.moved(s, r, i, i-2)
	case "down":
		return m.moved(s, r, i, i+1)
	case "skip":
		r.add(editSkip, e.ID)
	case "back":
		r.drop(func(kind, step, _ string) bool { return kind == editSkip && step == e.ID })
	case "add":
		id := s.newOwn()
		r.add(editInsert, e.ID, id)
		m.open, m.afresh, m.focus = id, true, "words"
	case "right":
		return s.rightAgain(r, e)
	case "reset":
		r.unword(s, e)
		r.drop(func(kind, first, second string) bool {
			return kind != editInsert && first == e.ID || kind == editInsert && second == e.ID
		})
		m.open = ""
	default:
		return nil
	}
	return r.done(s, "did-"+what)
}

// moved puts step i behind the one at after, or at the start.
func (m *prep) moved(s *state, r *rewrite, i, after int) *formula.Change {
	steps := m.now.sheet.Steps
	if i == 0 && after < i || after >= len(steps) {
		return nil
	}
	id := ""
	if after >= 0 {
		id = steps[after].ID
	}
	r.move(steps[i].ID, id)
	return r.done(s, "did-move")
}

// rightAgain keeps a cook's words although the figures of the step have changed.
func (s *state) rightAgain(r *rewrite, e method.Edited) *formula.Change {
	old := s.wordsInput(e)
	words := r.fields[old]
	delete(r.fields, old)
	if words != "" {
		r.fields[wordsName(e.ID, e.Basis())] = words
	}
	return r.done(s, "did-right")
}

// resetAll takes out every change of the method.
func (s *state) resetAll() *formula.Change {
	r := s.rewriting()
	r.edits = nil
	for _, name := range slices.Sorted(maps.Keys(r.fields)) {
		if strings.HasPrefix(name, mname("words-")) || strings.HasPrefix(name, mname("minutes-")) {
			delete(r.fields, name)
		}
	}
	return r.done(s, "did-reset-all")
}

// dropLost takes out an edit whose step is gone.
func (m *prep) dropLost(i int, s *state) *formula.Change {
	if i < 0 || i >= len(m.now.sheet.LostEdits) {
		return nil
	}
	e, r := m.now.sheet.LostEdits[i].Edit, s.rewriting()
	if e.Kind == method.Replace {
		delete(r.fields, e.ID)
	}
	r.drop(func(kind, first, second string) bool {
		switch e.Kind {
		case method.Skip:
			return kind == editSkip && first == e.Step
		case method.Move:
			return kind == editMove && first == e.Step && second == e.After
		case method.Insert:
			return kind == editInsert && second == e.ID
		}
		return false
	})
	if e.Kind == method.Insert {
		delete(r.fields, wordsName(e.ID, ownBasis))
		delete(r.fields, minutesName(e.ID))
	}
	return r.done(s, "did-drop")
}

// lostText says which change no longer has its step.
func (s *state) lostText(l method.Lost) string {
	key := "lost-move"
	switch l.Edit.Kind {
	case method.Skip:
		key = "lost-skip"
	case method.Replace:
		key = "lost-words"
	case method.Insert:
		key = "lost-insert"
	}
	text := l.Edit.Text
	if text == "" {
		text = s.words.Step(l.Edit.Step)
	}
	return s.msay(key, note.Typed("step", text))
}
