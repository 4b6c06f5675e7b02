package lab

import (
	"strings"

	"tremblant/internal/liquid"
)

// findLiquid is the catalogue's ingredient of a name, also as the page's
// language writes it. What a text says behind a comma may be left out where the
// first such ingredient is the usual one.
func (s *state) findLiquid(name string) (liquid.Ingredient, bool) {
	if g, ok := liquid.Find(name); ok {
		return g, true
	}
	if s.liquidIDs == nil {
		s.nameLiquids()
	}
	return liquid.ByID(s.liquidIDs[liquid.Fold(name)])
}

// nameLiquids reads the names of the catalogue in the page's language: whole
// ones first, so that a short one never hides them.
func (s *state) nameLiquids() {
	s.liquidIDs = map[string]string{}
	all := liquid.Catalogue()
	add := func(name, id string) {
		if folded := liquid.Fold(name); folded != "" && s.liquidIDs[folded] == "" {
			s.liquidIDs[folded] = id
		}
	}
	for i := range all {
		add(s.say("ingredient."+all[i].ID), all[i].ID)
	}
	for i := range all {
		short, _, _ := strings.Cut(s.say("ingredient."+all[i].ID), ",")
		add(short, all[i].ID)
	}
}
