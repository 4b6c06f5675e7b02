package liquid

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// equivalents are the protons that an acid gives up to pH 8.2, per molecule.
var equivalents = map[Constituent]float64{
	Acetic: 1, Lactic: 1, Citric: 3, Malic: 2, Tartaric: 2, Succinic: 2, Ascorbic: 1, Oxalic: 2, Gluconic: 1, Galacturonic: 1,
}

// WithTitratable is an ingredient whose chief acid is set so that its titratable
// acidity (to pH 8.2) is the one stated: per100 grams per 100 g, reckoned as the
// acid "as", the way labels, wine reports and fruit tables state it. Titration
// does not see the part of the acid that stands as salt; that part follows from
// the ingredient's pH, or from its metals when no pH is given.
//
// It refuses an acid that cannot be titrated, a figure outside 0 to 60, and a
// figure that the rest of the composition already exceeds.
func WithTitratable(g Ingredient, acid Constituent, per100 float64, as Constituent) (Ingredient, error) {
	n, ok := equivalents[as]
	if _, known := equivalents[acid]; !ok || !known {
		return Ingredient{}, note.Refuse("acid", CodeBadStep)
	}
	if !unit.Finite(per100) || per100 < 0 || per100 > 60 {
		return Ingredient{}, note.Refuse("titratable", CodeBadTarget, note.Word("property", "property.titratable"), note.Num("value", finiteOr0(per100), unit.GramPer100), note.Num("low", 0, unit.GramPer100), note.Num("high", 60, unit.GramPer100))
	}
	a, _ := acidOf(as)
	wanted := per100 * 10 / acids[a].molar * n // mol/kg
	with := func(x float64) float64 {
		h := g
		h.Per100[acid] = float32(x)
		p := newPortion(&h, 0, 1000)
		return p.parts.titratable(p.sid)
	}
	if least := with(0); wanted < least-1e-4 {
		return Ingredient{}, note.Refuse("titratable", CodeUnreachable, note.Word("property", "property.titratable"), note.Num("value", wanted, unit.MolPerKg), note.Num("limit", least, unit.MolPerKg))
	}
	g.Per100[acid] = float32(bisect(0, 70, func(x float64) float64 { return with(x) - wanted }))
	return g, g.Check()
}
