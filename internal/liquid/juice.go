package liquid

// juicePulp is the fibre that stays in a strained juice, g per 100 g: what the food
// tables give for apple juice (USDA SR28, 09016).
const juicePulp = 0.2

// PureeFibre is the fibre from which a fruit or a vegetable counts as a puree and not as
// a juice, g per 100 g (common practice).
const PureeFibre = 0.5

// Juice is a fruit or vegetable without its pulp: where the catalogue has it as a puree
// and somebody means the juice. All but the fibre comes in the same proportions as in
// the puree, which is near enough for what is dissolved in it. What is a juice already
// stays as it is.
func (g Ingredient) Juice() Ingredient {
	fibre := float64(g.Per100[Fibre])
	if g.Class != Fruits && g.Class != Vegetables || fibre < PureeFibre {
		return g
	}
	k := (100 - juicePulp) / (100 - g.Per100[Fibre])
	for c := range g.Per100 {
		g.Per100[c] *= k
	}
	g.Per100[Fibre] = juicePulp
	g.Flags |= Pulpless
	return g
}
