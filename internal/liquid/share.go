package liquid

import "slices"

// families are ingredients that a label tells apart by the share alone.
var families = [...][]string{
	{"double-cream", "cream-36", "cream-30", "cream-20", "half-and-half"},
	{"creme-fraiche", "sour-cream"},
	{"whole-milk", "semi-skimmed-milk", "skimmed-milk"},
	{"spirit-40", "spirit-45"},
}

// How far a label's share may lie from a record's for the record to stand for it, in
// percentage points and as a part of the share (common practice): a cream of 40 % counts
// as one of 36 %.
const (
	nearPoints = 0.6
	nearShare  = 0.11
)

// WithShare is the ingredient of g's kind whose label says that share: the fat of
// dairy and of coconut, the alcohol of drinks, the acid of vinegars, the cocoa of
// chocolate. ok is false where the catalogue has none near it.
func (g Ingredient) WithShare(percent float64) (out Ingredient, ok bool) {
	if !(percent >= 0 && percent <= 100) {
		return Ingredient{}, false
	}
	best := max(nearPoints, nearShare*percent)
	for _, id := range g.family() {
		other, _ := ByID(id)
		low, high, told := other.labelShare()
		off := max(0, low-percent, percent-high)
		if told && off <= best {
			best, out, ok = off, other, true
		}
	}
	return out, ok
}

func (g *Ingredient) family() []string {
	for _, f := range families {
		if slices.Contains(f, g.ID) {
			return f
		}
	}
	return []string{g.ID}
}

// labelShare is the share that a label of the kind says, in per cent.
func (g *Ingredient) labelShare() (low, high float64, told bool) {
	a := g.amounts(100)
	abv := 100 * a.abv()
	share := a[Fat]
	switch {
	case g.ID == "dark-chocolate": // the record's own range
		return 70, 85, true
	case abv > 0.5:
		share = abv
	case g.Class == Vinegars:
		share = a[Acetic]
	case g.Class == Fruits || g.Class == Vegetables: // "100 % juice" says that nothing is in it besides
		share = 100
	case g.Class != Dairy && g.Class != PlantMilks:
		return 0, 0, false
	}
	return share, share, true
}
