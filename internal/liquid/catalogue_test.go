package liquid_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/liquid"
	"tremblant/internal/source"
)

func TestCatalogueIsSound(t *testing.T) {
	all := liquid.Catalogue()
	assert.GreaterOrEqual(t, len(all), 80)
	names := map[string]string{}
	for _, g := range all {
		require.NoError(t, g.Check(), g.ID)
		assert.True(t, g.CompositionSource().Valid(), "%s: composition without source", g.ID)
		if g.PH != (liquid.PH{}) {
			assert.True(t, g.PHSource().Valid(), "%s: pH without source", g.ID)
		}
		if hasAcid(&g) {
			assert.True(t, g.AcidSource().Valid(), "%s: acids without source", g.ID)
		}
		for key := range strings.SplitSeq(g.Aliases, ";") {
			found, ok := liquid.Find(key)
			require.True(t, ok, "%q of %s is not folded", key, g.ID)
			assert.Equal(t, g.ID, found.ID, key)
			if other, taken := names[key]; taken && other != g.ID {
				t.Errorf("%q names both %s and %s", key, other, g.ID)
			}
			names[key] = g.ID
		}
		byID, ok := liquid.ByID(g.ID)
		require.True(t, ok)
		assert.Equal(t, g, byID)
	}
}

// hasAcid ignores vitamin C, which comes with the composition record.
func hasAcid(g *liquid.Ingredient) bool {
	for c := liquid.Acetic; c <= liquid.Sulfurous; c++ {
		if c != liquid.Ascorbic && g.Per100[c] > 0 {
			return true
		}
	}
	return false
}

// Every row with an NDB number says what the USDA record says (SR28), figure by
// figure. A few rows differ on purpose; they are named here.
func TestCatalogueAgainstSR28(t *testing.T) {
	records := map[string]map[string]string{}
	for _, row := range table(t, "liquid-composition.csv") {
		records[row["ndb_no"]] = row
	}
	sugarsDiffer := map[string]string{
		"passion-fruit-juice": "the record's sugars are carbohydrate by difference, acids included",
		"blackcurrant":        "the record has no sugars", "quince": "the record has no sugars", "sheep-milk": "the record has no sugars",
		"condensed-milk": "split into milk sugar and added sugar",
	}
	checked := 0
	for _, g := range liquid.Catalogue() {
		if g.Record == "" {
			continue
		}
		row, ok := records[g.Record]
		require.True(t, ok, "%s: record %s", g.ID, g.Record)
		checked++
		p := g.Per100
		same := func(what, column string, got float32, within float64) {
			if row[column] != "" {
				assert.InDelta(t, number(t, row[column]), float64(got), within, "%s %s", g.ID, what)
			}
		}
		if g.ID != "hibiscus-tea" {
			same("water", "water_g", p[liquid.Water], 1e-4)
		}
		same("fat", "fat_g", p[liquid.Fat], 1e-4)
		same("ethanol", "ethanol_g", p[liquid.Ethanol], 1e-4)
		same("fibre", "fibre_g", p[liquid.Fibre], 1e-4)
		same("ash", "ash_g", p[liquid.Ash], 1e-4)
		protein := p[liquid.DairyProtein] + p[liquid.EggProtein] + p[liquid.PlantProtein] + p[liquid.MeatProtein] + p[liquid.Collagen] + p[liquid.Glutamic]
		same("protein", "protein_g", protein, 1e-4)
		same("sodium", "Na_mg", p[liquid.Sodium]*1000, 1e-2)
		same("potassium", "K_mg", p[liquid.Potassium]*1000, 1e-2)
		same("calcium", "Ca_mg", p[liquid.Calcium]*1000, 1e-2)
		same("magnesium", "Mg_mg", p[liquid.Magnesium]*1000, 1e-2)
		same("phosphorus", "P_mg", p[liquid.Phosphorus]*1000, 1e-2)
		if _, differs := sugarsDiffer[g.ID]; !differs {
			same("sugars", "sugars_g", p[liquid.Sucrose]+p[liquid.Glucose]+p[liquid.Fructose]+p[liquid.Lactose]+p[liquid.OtherSugar], 0.0201)
		}
	}
	assert.GreaterOrEqual(t, checked, 100)
}

// Computed densities against the household measures of the records (cups and
// ounces weighed, ±2 %), for what is liquid enough to fill a cup.
func TestDensityAgainstHouseholdMeasures(t *testing.T) {
	misses := map[string]string{
		"agave-syrup": "the record's cup is light by a third", "fish-stock": "rounded cup", "butter-oil": "warm", "carrot-juice": "rounded cup",
		"spirit-45": "the record repeats the 40 % figure", "coconut-milk": "weighed with air", "sweet-wine": "the record's ounce is that of water",
		"ricotta": "a curd packed in a cup", "soy-sauce": "the record's spoon is that of water; brewed soy sauce is 1.15 to 1.18 (from memory)",
		"coffee-liqueur": "heavier than any mixture of its own parts", "corn-syrup": "heavier than sucrose of the same solids by 3 %",
	}
	records := map[string]map[string]string{}
	for _, row := range table(t, "liquid-composition.csv") {
		records[row["ndb_no"]] = row
	}
	compared := 0
	for _, g := range liquid.Catalogue() {
		row := records[g.Record]
		if g.Record == "" || row["density_g_ml_from_household_measure"] == "" {
			continue
		}
		want, got := number(t, row["density_g_ml_from_household_measure"]), float64(g.DensityAt(20))
		if _, known := misses[g.ID]; known {
			continue
		}
		compared++
		assert.InDelta(t, want, got, 0.025*want, g.ID)
	}
	assert.GreaterOrEqual(t, compared, 40)
}

// Every pH range that claims to be published is that of the list's row, or of
// all rows of that food together.
func TestCatalogueAgainstPHList(t *testing.T) {
	rows := map[string]map[string]string{}
	for _, row := range table(t, "liquid-food-ph.csv") {
		rows[row["item"]] = row
	}
	rowsOf := map[string]string{
		"whole-milk": "milk cow", "semi-skimmed-milk": "milk cow", "skimmed-milk": "milk cow", "cream-36": "cream 40 %", "cream-20": "cream 20 %",
		"buttermilk": "buttermilk", "yogurt": "yogurt", "evaporated-milk": "milk evaporated", "cream-cheese": "cheese cream", "parmesan": "cheese parmesan",
		"butter": "butter", "salted-butter": "butter", "lemon-juice": "lemon juice", "lime-juice": "lime juice", "orange-juice": "orange juice",
		"grapefruit-juice": "grapefruit juice canned", "tangerine-juice": "tangerine", "apple-juice": "apple juice", "apple-puree": "apple sauce",
		"grape-juice": "grapes seedless", "cranberry": "cranberry juice", "pomegranate-juice": "pomegranate", "pineapple-juice": "pineapple juice",
		"pineapple-raw": "pineapple", "papaya-raw": "papaya", "fig-raw": "figs", "raspberry": "raspberries", "strawberry": "strawberries",
		"blackberry": "blackberries;blackberry juice", "blueberry": "blueberries", "sweet-cherry": "cherries california;sweet cherry",
		"mango": "mango ripe;mango green", "peach": "peaches", "apricot": "apricots", "plum": "plums blue;plums red", "pear": "pears", "rhubarb": "rhubarb",
		"banana": "bananas", "watermelon": "watermelon", "melon": "cantaloupe", "avocado": "avocados", "tomato-juice": "tomato juice", "tomato": "tomatoes",
		"tomato-puree": "tomato puree", "tomato-paste": "tomatoes canned", "beetroot-juice": "beets", "carrot-juice": "carrots", "celery-juice": "celery",
		"cauliflower-puree": "cauliflower cooked", "broccoli-puree": "broccoli cooked", "sweetcorn-puree": "corn", "cucumber-juice": "cucumbers",
		"ginger-raw": "ginger", "leek-puree": "leeks", "mushroom-puree": "mushrooms", "onion-puree": "onions red;onions white;onions yellow",
		"parsley": "parsley", "parsnip-puree": "parsnip", "pea-puree": "peas cooked", "red-pepper": "peppers", "potato-puree": "potatoes;potatoes mashed",
		"pumpkin-puree": "pumpkin", "sweet-potato-puree": "sweet potatoes", "spinach-puree": "spinach cooked", "fennel-juice": "fennel",
		"asparagus-puree": "asparagus", "vegetable-juice": "vegetable juice", "sauerkraut-brine": "sauerkraut", "wine-vinegar-5": "vinegar",
		"soy-sauce": "soy sauce", "worcester-sauce": "worcester-type sauce", "mustard": "mustard", "honey": "honey", "molasses": "molasses",
	}
	for _, g := range liquid.Catalogue() {
		if tag := g.PHSource().Tag; tag != source.Published {
			continue
		}
		items, ok := rowsOf[g.ID]
		require.True(t, ok, "%s claims a published pH", g.ID)
		low, high := 14.0, 0.0
		for item := range strings.SplitSeq(items, ";") {
			require.NotNil(t, rows[item], item)
			low, high = min(low, number(t, rows[item]["pH_low"])), max(high, number(t, rows[item]["pH_high"]))
		}
		assert.InDelta(t, low, float64(g.PH.Low), 0.006, g.ID)
		assert.InDelta(t, high, float64(g.PH.High), 0.006, g.ID)
	}
	assert.GreaterOrEqual(t, len(rowsOf), 50)
}

// The strong-ion difference that follows from a row's pH and acids must lie
// between nothing and the charge of its metals: a check of acids, pH and
// minerals that come from different works.
func TestAcidsFitMinerals(t *testing.T) {
	checked := 0
	for _, g := range liquid.Catalogue() {
		if g.SIDKnown || g.PH == (liquid.PH{}) {
			continue
		}
		l, err := liquid.Run([]liquid.Step{liquid.Add(g, 1000)})
		require.NoError(t, err, g.ID)
		s := l.State(25)
		require.True(t, s.HasPH, g.ID)
		sid := s.SID * s.Parts[liquid.Water] / 1000
		metals := s.Parts[liquid.Sodium]/22.99 + s.Parts[liquid.Potassium]/39.098 + 2*s.Parts[liquid.Calcium]/40.078 + 2*s.Parts[liquid.Magnesium]/24.305
		assert.GreaterOrEqual(t, sid, -1e-3, g.ID)
		assert.LessOrEqual(t, sid, metals*1.02, "%s", g.ID)
		ph := s.Of(liquid.PropPH)
		assert.InDelta(t, float64(g.PH.Typical), ph.Typical, 0.001, g.ID)
		assert.InDelta(t, float64(g.PH.Low), ph.Low, 0.01, "%s alone keeps its own range", g.ID)
		assert.InDelta(t, float64(g.PH.High), ph.High, 0.01, "%s alone keeps its own range", g.ID)
		checked++
	}
	assert.GreaterOrEqual(t, checked, 100)
}

func TestFlagsOfTheCatalogue(t *testing.T) {
	for id, want := range map[string]liquid.Flags{
		"pineapple-raw": liquid.Protease, "papaya-raw": liquid.Protease, "kiwi-raw": liquid.Protease, "fig-raw": liquid.Protease,
		"ginger-raw": liquid.Protease, "red-wine": liquid.Tannin, "black-tea": liquid.Tannin, "garlic-oil": liquid.Spores,
		"herb-oil": liquid.Spores, "egg-yolk": liquid.RawEgg, "fish-sauce": liquid.FromFish, "chicken-stock": liquid.FromMeat, "honey": liquid.FromBees,
	} {
		g, ok := liquid.ByID(id)
		require.True(t, ok, id)
		assert.NotZero(t, g.Flags&want, id)
	}
	for _, g := range liquid.Catalogue() {
		if g.Class == liquid.Vegetables && g.PH.High > 4.6 {
			assert.NotZero(t, g.Flags&liquid.Spores, "%s is low in acid", g.ID)
		}
	}
	tinned, _ := liquid.ByID("pineapple-juice")
	assert.Zero(t, tinned.Flags&liquid.Protease, "pasteurised juice has none")
	assert.NotZero(t, tinned.Flags&liquid.Preheated, "and says that it counts as such")
	for id, want := range map[string]liquid.Allergens{
		"whole-milk": liquid.Milk, "egg-white": liquid.Egg, "soy-sauce": liquid.Soya | liquid.Gluten, "tamari": liquid.Soya, "fish-stock": liquid.Fish | liquid.Celery,
		"white-wine": liquid.Sulphites, "mustard": liquid.Mustard | liquid.Sulphites, "tahini": liquid.Sesame, "almond-milk": liquid.TreeNuts,
		"celery-juice": liquid.Celery, "beer": liquid.Gluten,
	} {
		g, _ := liquid.ByID(id)
		assert.Equal(t, want, g.Allergens, id)
	}
}

func TestFind(t *testing.T) {
	for typed, want := range map[string]string{
		"lemon juice": "lemon-juice", "LEMON": "lemon-juice", "fresh lemon juice": "lemon-juice", "freshly squeezed orange juice": "orange-juice",
		"Raspberries": "raspberry", "crème fraîche": "creme-fraiche", "egg whites": "egg-white", "white wine vinegar": "white-wine-vinegar",
		"tomatoes": "tomato", "double cream": "double-cream", "whipping cream": "cream-36", "milk": "whole-milk", "sugar": "sugar", "Soy sauce": "soy-sauce",
		"whole-milk": "whole-milk", "peas": "pea-puree", "cherries": "sweet-cherry", "kombu dashi": "kelp-broth", "stock": "chicken-stock",
	} {
		g, ok := liquid.Find(typed)
		require.True(t, ok, typed)
		assert.Equal(t, want, g.ID, typed)
	}
	for _, typed := range []string{"", " ", "xyzzy", "fresh", "\x00", "lemonx"} {
		_, ok := liquid.Find(typed)
		assert.False(t, ok, typed)
	}
}

// A label's share picks the record that is near it, or none.
func TestWithShare(t *testing.T) {
	for _, c := range []struct {
		id      string
		percent float64
		want    string
	}{
		{"cream-36", 35, "cream-36"}, {"cream-36", 40, "cream-36"}, {"cream-36", 41, ""}, {"cream-36", 42, ""}, {"cream-36", 30, "cream-30"}, {"cream-36", 48, "double-cream"}, {"cream-36", 25, ""}, {"cream-20", 36, "cream-36"}, {"cream-36", 0, ""},
		{"whole-milk", 1.5, "semi-skimmed-milk"}, {"whole-milk", 0.1, "skimmed-milk"}, {"spirit-40", 37.5, "spirit-40"}, {"spirit-40", 46, "spirit-45"}, {"spirit-40", 63, ""},
		{"dark-chocolate", 70, "dark-chocolate"}, {"dark-chocolate", 85, "dark-chocolate"}, {"dark-chocolate", 55, ""}, {"dark-chocolate", 100, ""},
		{"white-wine-vinegar", 6, "white-wine-vinegar"}, {"white-wine-vinegar", 10, ""}, {"orange-juice", 100, "orange-juice"}, {"orange-juice", 20, ""}, {"sugar", 100, ""},
		{"cream-36", math.NaN(), ""}, {"cream-36", math.Inf(1), ""}, {"cream-36", -5, ""},
	} {
		g, ok := get(t, c.id).WithShare(c.percent)
		assert.Equal(t, c.want, g.ID, "%s %v", c.id, c.percent)
		assert.Equal(t, c.want != "", ok, "%s %v", c.id, c.percent)
	}
}

func TestNearest(t *testing.T) {
	for typed, want := range map[string]string{
		"lemmon juice": "lemon-juice", "rasberry": "raspberry", "vinager": "distilled-vinegar", "yoghourt": "yogurt", "mayonaise": "mayonnaise", "coconut mlik": "coconut-milk",
		"juice of apricots": "apricot", "avocado juice": "avocado",
	} {
		found := liquid.Nearest(typed, 3, liquid.Naming{})
		require.NotEmpty(t, found, typed)
		ids := []string{}
		for _, g := range found {
			ids = append(ids, g.ID)
		}
		assert.Contains(t, ids, want, typed)
	}
	assert.Empty(t, liquid.Nearest("", 5, liquid.Naming{}))
	assert.Empty(t, liquid.Nearest("qqqqq", 5, liquid.Naming{}))
	assert.Empty(t, liquid.Nearest("milk", 0, liquid.Naming{}))
	assert.LessOrEqual(t, len(liquid.Nearest("juice", 5, liquid.Naming{})), 5)
}

func TestOwnIngredient(t *testing.T) {
	g, err := liquid.OwnIngredient(liquid.Ingredient{Name: "House cordial", Per100: liquid.Composition{liquid.Sucrose: 45, liquid.Citric: 1.5, liquid.Potassium: 0.1}})
	require.NoError(t, err)
	assert.InDelta(t, 53.3, float64(g.Per100[liquid.Water]), 0.01, "the rest is water")
	l, err := liquid.Run([]liquid.Step{liquid.Add(g, 500)})
	require.NoError(t, err)
	s := l.State(20)
	assert.True(t, s.HasPH)
	assert.True(t, source.Practice == g.PHSource().Tag || !g.PHSource().Valid())
	ph := s.Of(liquid.PropPH)
	assert.Greater(t, ph.High-ph.Low, 0.1, "an estimated pH has a wide range")
	assert.Contains(t, codes(s.Notes), liquid.CodePHEstimated)
}

func TestOwnIngredientRefuses(t *testing.T) {
	nan := float32(math.NaN())
	for name, c := range map[string]struct {
		g    liquid.Ingredient
		code string
	}{
		"negative":        {liquid.Ingredient{Per100: liquid.Composition{liquid.Sucrose: -1}}, "liquid.negative"},
		"over 100":        {liquid.Ingredient{Per100: liquid.Composition{liquid.Sucrose: 120}}, "liquid.over-100"},
		"closure":         {liquid.Ingredient{Per100: liquid.Composition{liquid.Sucrose: 60, liquid.Fat: 60}}, "liquid.adds-up-to-more"},
		"not a number":    {liquid.Ingredient{Per100: liquid.Composition{liquid.Fat: nan}}, "liquid.not-finite"},
		"pH 15":           {liquid.Ingredient{Per100: liquid.Composition{liquid.Fat: 5}, PH: liquid.PH{Low: 15, Typical: 15, High: 15}}, "liquid.impossible-ph"},
		"pH upside down":  {liquid.Ingredient{Per100: liquid.Composition{liquid.Fat: 5}, PH: liquid.PH{Low: 5, Typical: 4, High: 3}}, "liquid.impossible-ph"},
		"pH NaN":          {liquid.Ingredient{Per100: liquid.Composition{liquid.Fat: 5}, PH: liquid.PH{Low: 3, Typical: nan, High: 4}}, "liquid.not-finite"},
		"pH of oil":       {liquid.Ingredient{Per100: liquid.Composition{liquid.Fat: 100}, PH: liquid.PH{Low: 5, Typical: 6, High: 7}}, "liquid.ph-without-water"},
		"density":         {liquid.Ingredient{Per100: liquid.Composition{liquid.Fat: 5}, Density: 9}, "liquid.bad-density"},
		"spread":          {liquid.Ingredient{Per100: liquid.Composition{liquid.Fat: 5}, AcidSpread: 2}, "liquid.bad-spread"},
		"spread kind":     {liquid.Ingredient{Per100: liquid.Composition{liquid.Fat: 5}, Spread: 9}, "liquid.bad-spread"},
		"charge":          {liquid.Ingredient{Per100: liquid.Composition{liquid.Fat: 5}, SID: 1e6, SIDKnown: true}, "liquid.bad-sid"},
		"metals over all": {liquid.Ingredient{Per100: liquid.Composition{liquid.Fat: 60, liquid.Ash: 1, liquid.Sodium: 60}}, "liquid.adds-up-to-more"},
	} {
		_, err := liquid.OwnIngredient(c.g)
		require.Error(t, err, name)
		assert.Equal(t, c.code, string(refusal(t, err).Code), name)
	}
	empty := liquid.Ingredient{}
	assert.Equal(t, liquid.CodeNothing, refusal(t, empty.Check()).Code)
}

func FuzzFind(f *testing.F) {
	for _, s := range []string{"lemon", "crème", "ß’", "a b c", "\xff\xfe", strings.Repeat("é", 200)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if g, ok := liquid.Find(s); ok && g.Check() != nil {
			t.Fatal(s)
		}
		if len(liquid.Nearest(s, 4, liquid.Naming{})) > 4 {
			t.Fatal(s)
		}
	})
}

// A spirit holds hardly any acid: its trace of phosphate, taken for free acid,
// made a pH of 2.9 of it with no range, and a weaker gelatin of its jelly.
func TestASpiritIsNotSour(t *testing.T) {
	for _, id := range []string{"spirit-40", "spirit-45", "orange-liqueur"} {
		for name, l := range map[string]*liquid.Liquid{
			"alone": mix(t, liquid.Add(get(t, id), 250)), "thinned": mix(t, liquid.Add(get(t, id), 250), liquid.Add(get(t, "water"), 250)),
		} {
			state := l.State(20)
			ph := state.Of(liquid.PropPH)
			assert.Greater(t, ph.Typical, 4.5, "%s %s", id, name)
			assert.Less(t, ph.Typical, 7.0, "%s %s", id, name)
			assert.Greater(t, ph.High-ph.Low, 2.0, "%s %s: nobody knows it better", id, name)
		}
	}
	sour := mix(t, liquid.Add(get(t, "spirit-40"), 250), liquid.Add(get(t, "lime-juice"), 30))
	state := sour.State(20)
	ph := state.Of(liquid.PropPH)
	assert.Less(t, ph.High, 3.0, "what acid is put in rules")
}

// Strong acids burn; powders, vinegars and fruit do not.
func TestStrongAcidsBurn(t *testing.T) {
	for _, g := range liquid.Catalogue() {
		if g.Flags != 0 && g.Class != liquid.Pures {
			continue
		}
		l, err := liquid.Run([]liquid.Step{liquid.Add(get(t, "water"), 500), liquid.Add(g, 5)})
		require.NoError(t, err, g.ID)
		strong := g.ID == "lactic-acid-80" || g.ID == "acetic-acid-80" || g.ID == "phosphoric-acid-75"
		state := l.State(20)
		assert.Equal(t, strong, slices.Contains(codes(state.Notes), liquid.CodeCorrosive), g.ID)
	}
}
