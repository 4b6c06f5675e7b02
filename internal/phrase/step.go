package phrase

import (
	"strings"

	"tremblant/internal/note"
)

// Step names a step of a method by its id, which tells what is done and to what, as in
// "bloom/gelatin". An id that tells nothing is that of a cook's own step.
func (b Book) Step(id string) string {
	kind, with, _ := strings.Cut(id, "/")
	do, ok := b.Find("lab-method.do-" + kind)
	if !ok {
		return b.Text("lab-method.own-step")
	}
	var names []string
	for _, one := range strings.FieldsFunc(with, func(r rune) bool { return r == '+' }) {
		if name, ok := b.Find("agent." + one); ok {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return do
	}
	return b.Fill("lab-method.do-with", []note.Arg{note.Typed("do", do), note.Typed("names", strings.Join(names, b.Text("lab-method.comma")))})
}
