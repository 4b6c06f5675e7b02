package liquid

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Class groups ingredients for lists and for what the protein in them is.
type Class uint8

// The classes of ingredients.
const (
	Waters Class = iota
	Dairy
	Eggs
	Fruits
	Vegetables
	Stocks
	Vinegars
	Drinks // wines, beers, spirits, coffee, tea
	Sauces
	PlantMilks // soya, nut and coconut
	Oils
	Sugars
	Pures // acids and salts by the gram
	Own   // entered by the user
)

// Allergens are the fourteen groups of EU Regulation 1169/2011, Annex II.
type Allergens uint16

// The allergens.
const (
	Gluten Allergens = 1 << iota
	Crustaceans
	Egg
	Fish
	Peanuts
	Soya
	Milk
	TreeNuts
	Celery
	Mustard
	Sesame
	Sulphites
	Lupin
	Molluscs
)

// Flags say what an ingredient brings besides its composition.
type Flags uint16

// The flags.
const (
	Protease  Flags = 1 << iota // fresh, unheated protein-splitting enzyme: cuts gelatin and milk protein
	Tannin                      // binds protein
	Spores                      // from the soil and low in acid: botulism when kept under oil
	RawEgg                      // not pasteurised, not cooked
	Salted                      // sodium came as salt, with its chloride
	FromMeat                    // of a killed land animal
	FromFish                    // of fish or shellfish
	FromBees                    // honey
	Pulpless                    // a juice that the catalogue only has as the puree: see Juice
	Insoluble                   // starch or pulp that a strainer holds back
	Fortified                   // calcium added by the maker: see the label
	Preheated                   // counts as heated by its maker; pressed fresh, it has Protease
)

// Spread is how far ingredients of a kind differ from their record.
type Spread uint8

// The kinds of spread. The shares are rules of thumb.
const (
	Natural  Spread = iota // fruit, vegetables, home stock: sugars ±15 %, minerals ±25 %
	Standard               // industrial or regulated: sugars ±5 %, minerals ±15 %, alcohol ±4 %
	Pure                   // a substance or a solution made by weight: nothing varies
)

// spreads are relative half-ranges of acids (where a row states none), sugars,
// minerals and ethanol.
var spreads = [...]struct{ acids, sugars, minerals, ethanol float64 }{
	Natural:  {0.20, 0.15, 0.25, 0.05},
	Standard: {0.08, 0.05, 0.15, 0.04},
	Pure:     {0, 0, 0, 0},
}

// PH is a pH range; all zero when none is stated.
type PH struct{ Low, Typical, High float32 }

// Ingredient is one thing that can go into the pan. A user's own ingredient is
// the same structure; [Ingredient.Check] tells what is wrong with it.
type Ingredient struct {
	ID      string // stable name; the text catalogue has "ingredient."+ID
	Name    string // as the user typed it; "" for catalogue rows
	Class   Class
	Aliases string // typed names, folded as Find folds them, separated by ";"
	Record  string // NDB number in USDA SR28; "" when the composition is not from there
	Per100  Composition
	PH      PH
	// SID is the strong-ion difference in mmol of charge per 100 g, where it is
	// known by stoichiometry; then SIDKnown is set and PH may stay empty.
	SID        float32
	SIDKnown   bool
	AcidSpread float32      // relative half-range of the acids; 0 takes the kind's
	Spread     Spread       //
	Density    unit.Density // measured, g/ml at 20 °C; 0 when it is to be computed
	Allergens  Allergens
	Flags      Flags

	composition, acidity, phFrom sourceID
}

// CompositionSource is where the composition comes from.
func (g *Ingredient) CompositionSource() source.Ref {
	ref := g.composition.ref()
	if g.Record != "" {
		ref.Text += ", NDB " + g.Record
	}
	return ref
}

// AcidSource is where the acids come from; invalid when the row has none.
func (g *Ingredient) AcidSource() source.Ref { return g.acidity.ref() }

// PHSource is where the pH range comes from; invalid when the row has none.
func (g *Ingredient) PHSource() source.Ref { return g.phFrom.ref() }

// amounts is the composition of m grams. A record whose parts add up to more
// than 100 g (rounding, or acids measured on another fruit) is scaled to 100;
// what is missing to 100 becomes Unknown.
func (g *Ingredient) amounts(m float64) Amounts {
	var a Amounts
	for i, x := range g.Per100 {
		a[i] = float64(x) * m / 100
	}
	total := a.Mass()
	if total > m {
		a.scale(m / total)
	} else {
		a[Unknown] += m - total
	}
	return a
}

// MostClosure is how much the parts of a composition may add up to, g per
// 100 g: a little above 100, because tables round and acids are counted whole
// where they stand as salts.
const MostClosure = 103

// Check tells the first thing that is wrong with an ingredient, as a
// *note.Refusal with the limit, or nil.
func (g *Ingredient) Check() error {
	for c, x := range g.Per100 {
		if err := checkPart(Constituent(c), float64(x)); err != nil {
			return err
		}
	}
	if total := g.closure(); total > MostClosure {
		return note.Refuse("per100", CodeTooMuch, note.Num("total", total, unit.GramPer100), note.Num("limit", MostClosure, unit.GramPer100))
	}
	if g.closure() < 0.5 {
		return note.Refuse("per100", CodeNothing)
	}
	if err := checkMinerals(g); err != nil {
		return err
	}
	return g.checkRest()
}

func checkPart(c Constituent, x float64) error {
	if x >= 0 && x <= 100.5 {
		return nil
	}
	field := "per100." + c.String()
	if !unit.Finite(x) {
		return note.Refuse(field, CodeNotFinite)
	}
	if x < 0 {
		return note.Refuse(field, CodeNegative, note.Num("value", x, unit.GramPer100))
	}
	return note.Refuse(field, CodeOver100, note.Num("value", x, unit.GramPer100), note.Num("limit", 100, unit.GramPer100))
}

func (g *Ingredient) closure() float64 {
	total := 0.0
	for _, x := range g.Per100[:inMass] {
		total += float64(x)
	}
	return total
}

// checkMinerals refuses more metals than mineral matter, unless none is given:
// a user who knows only the sodium need not know the ash.
func checkMinerals(g *Ingredient) error {
	metals := 0.0
	for _, c := range [...]Constituent{Sodium, Potassium, Calcium, Magnesium} {
		metals += float64(g.Per100[c])
	}
	limit := 100 - (g.closure() - float64(g.Per100[Ash]))
	if metals > limit+5 {
		return note.Refuse("per100.sodium", CodeTooMuch, note.Num("total", metals, unit.GramPer100), note.Num("limit", max(0, limit), unit.GramPer100))
	}
	return nil
}

func (g *Ingredient) checkRest() error {
	p := g.PH
	low, typical, high := float64(p.Low), float64(p.Typical), float64(p.High)
	for _, x := range [...]float64{low, typical, high, float64(g.SID), float64(g.AcidSpread), float64(g.Density)} {
		if !unit.Finite(x) {
			return note.Refuse("ph", CodeNotFinite)
		}
	}
	if p != (PH{}) && !(low > 0 && low <= typical && typical <= high && high <= 14) {
		return note.Refuse("ph", CodeBadPH, note.Num("value", typical, unit.PH), note.Num("low", 0, unit.PH), note.Num("high", 14, unit.PH))
	}
	if p != (PH{}) && g.Per100[Water] < 0.5 {
		return note.Refuse("ph", CodeDryPH, note.Num("water", float64(g.Per100[Water]), unit.GramPer100))
	}
	if g.AcidSpread < 0 || g.AcidSpread > 0.95 {
		return note.Refuse("acidSpread", CodeBadSpread, note.Num("limit", 95, unit.PercentOf))
	}
	if math.Abs(float64(g.SID)) > 5000 {
		return note.Refuse("sid", CodeBadSID, note.Num("limit", 5000, unit.One))
	}
	if g.Density != 0 && (g.Density < 0.5 || g.Density > 2.5) {
		return note.Refuse("density", CodeBadDensity, note.Num("value", float64(g.Density), unit.GramPerMl), note.Num("low", 0.5, unit.GramPerMl), note.Num("high", 2.5, unit.GramPerMl))
	}
	if g.Spread > Pure {
		return note.Refuse("spread", CodeBadSpread, note.Num("limit", 95, unit.PercentOf))
	}
	return nil
}

// OwnIngredient makes a user's ingredient from what a label tells: it sets the
// class and sources, fills mineral matter from the metals when none is given,
// and gives the rest to water when no water is given. It refuses what Check
// refuses.
func OwnIngredient(g Ingredient) (Ingredient, error) {
	g.Class = Own
	g.composition, g.acidity, g.phFrom = srcOwn, srcOwn, srcOwn
	if g.PH == (PH{}) {
		g.phFrom = srcNone
	}
	if g.Per100[Ash] == 0 {
		g.Per100[Ash] = min(100, g.Per100[Sodium]*SaltPerSodium+2*(g.Per100[Potassium]+g.Per100[Calcium]+g.Per100[Magnesium]))
	}
	if g.Per100[Water] == 0 {
		g.Per100[Water] = float32(min(100, max(0, 100-g.closure())))
	}
	if err := g.Check(); err != nil {
		return Ingredient{}, err
	}
	return g, nil
}
