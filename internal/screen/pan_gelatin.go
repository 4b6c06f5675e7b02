//go:build js && wasm

package screen

import (
	"tremblant/internal/formula"
	"tremblant/internal/gel"
)

// showGelatin says what a dose of gelatin is in this kitchen's own gelatin.
func (p *pan) showGelatin(r *row, d formula.Dose, out gel.DoseOut) {
	r.also["sheets"].say("")
	r.also["powder"].say("")
}
