package liquid

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// AsIngredient is the liquid as an ingredient of its own, to be kept and used in
// other recipes: its composition per 100 g, its pH range, its flags and allergens.
func (l *Liquid) AsIngredient(name string) (Ingredient, error) {
	a := l.Parts()
	mass := a.Mass()
	if !(mass > 0) {
		return Ingredient{}, note.Refuse("", CodeEmpty)
	}
	g := Ingredient{Name: name, Class: Own, Spread: Standard, Flags: l.flags, Allergens: l.allergens}
	g.composition, g.acidity = srcDerived, srcDerived
	for c := range a {
		g.Per100[c] = float32(100 * a[c] / mass)
	}
	s := l.State(25)
	if s.HasPH {
		r := s.Of(PropPH)
		g.PH = PH{float32(max(0.01, r.Low)), float32(r.Typical), float32(min(14, r.High))}
		g.phFrom = srcDerived
		if l.measuredPH {
			g.phFrom = srcOwn
		}
	} else {
		g.SIDKnown, g.SID = true, float32(l.sid()*1000*100/mass)
	}
	return g, g.Check()
}

// Measured is the ingredient after a reading: the batch of lemons at hand rather
// than the record's. It keeps its name; what a pH meter read replaces the
// record's range.
func (g Ingredient) Measured(r Reading) (Ingredient, error) {
	l, err := Run([]Step{Add(g, 1000), Measure(r)})
	if err != nil {
		return Ingredient{}, err
	}
	m, err := l.AsIngredient(g.Name)
	m.ID, m.Class, m.Aliases, m.Spread, m.AcidSpread = g.ID, g.Class, g.Aliases, g.Spread, g.AcidSpread
	if r.Instrument > PHStrip {
		m.PH, m.phFrom = g.PH, g.phFrom
	}
	if g.Density > 0 {
		m.Density = g.Density * unit.Density(float64(m.DensityAt(20))/float64(withoutDensity(g).DensityAt(20)))
	}
	return m, err
}

// withoutDensity is the ingredient as computed from its composition alone.
func withoutDensity(g Ingredient) *Ingredient {
	g.Density = 0
	return &g
}
