package lab

import "tremblant/internal/view"

// rowInputs holds which ingredient's input stands in a row, by the id of the
// input.
type rowInputs map[string]string

// name gives an input of a row the name of the ingredient that stands there, so
// that what is typed stays with the ingredient when rows move. An input that
// gets another name is filled anew.
func (m rowInputs) name(s *state, id, name string) (fresh bool) {
	s.page.Set(id, "name", name)
	fresh = m[id] != name
	if fresh {
		m[id] = name
		s.page.Unknown(name)
	}
	return fresh
}

// forget drops the names of rows that are gone, from row n on.
func (m rowInputs) forget(list string, n int, what ...string) {
	for _, w := range what {
		for i := n; m[view.Row(list, i, w)] != ""; i++ {
			delete(m, view.Row(list, i, w))
		}
	}
}
