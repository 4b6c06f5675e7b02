package screen

import (
	"tremblant/internal/formula"
	"tremblant/internal/gel"
)

// showGelatin says what a dose of gelatin is in this kitchen's own gelatin.
func (p *pan) showGelatin(place func(string) string, d formula.Dose, out gel.DoseOut) {
	p.app.page.Line(place("sheets"), "")
	p.app.page.Line(place("powder"), "")
}
