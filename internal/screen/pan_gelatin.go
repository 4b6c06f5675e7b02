package screen

import (
	"math"

	"tremblant/internal/agent"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// usualBloom stands in for a powder whose Bloom the recipe does not say.
const usualBloom = 200

// showGelatin says what a dose of gelatin is in this kitchen's own gelatin, as
// far as the shelf knows it: weighed powder by the square-root law, sheets by
// count, and between the two a range, since the sources disagree.
func (p *pan) showGelatin(place func(string) string, d formula.Dose, out gel.DoseOut) {
	own := p.app.shelf.own
	var inSheets, inPowder gel.Regraded
	sheets := gel.Sheets{Count: out.Sheets, Grade: agent.Word(own.SheetGrade), Grams: own.SheetMass}
	bloom := d.Grade
	if bloom == 0 {
		bloom = usualBloom
	}
	switch known := isGelatin(d) && p.batch.MassKnown; {
	case !known:
	case d.Amount.Kind() == unit.KindSheets:
		if own.PowderBloom > 0 && own.SheetGrade != "" {
			inPowder, _ = gel.SheetsToGrams(sheets, own.PowderBloom)
		}
	default:
		if own.PowderBloom > 0 && own.PowderBloom != bloom {
			if m, err := gel.SquareRootLaw(out.Mass, bloom, own.PowderBloom); err == nil {
				inPowder.Mass = unit.Exactly(float64(m))
			}
		}
		if own.SheetMass > 0 && own.SheetGrade != "" {
			inSheets, _ = gel.GramsToSheets(out.Mass, bloom, sheets)
		}
	}
	p.showAlso(place("sheets"), place("as-sheets"), "also.sheets", inSheets.Mass, unit.Sheet)
	p.showAlso(place("powder"), place("as-powder"), "also.powder", inPowder.Mass, unit.Gram)
}

// worthARange is the spread from which a range is shown and not one figure: 2 %.
const worthARange = 0.02

// showAlso shows another amount that does the same, as a figure or a range.
func (p *pan) showAlso(row, name, key string, r unit.Range, u unit.Symbol) {
	p.app.page.Show(row, r.Typical > 0)
	if r.Typical <= 0 {
		return
	}
	if math.Abs(r.High-r.Low) > worthARange*r.Typical {
		key += "-spread"
	}
	bloom := note.Num("bloom", p.app.shelf.own.PowderBloom, unit.One)
	p.app.page.Figure(name, r.Typical, p.app.text(key, note.Num("mass", r.Typical, u), note.Num("low", r.Low, u), note.Num("high", r.High, u), bloom))
}
