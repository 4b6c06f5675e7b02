package lab

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/liquid"
	"tremblant/internal/phrase"
)

// Every ingredient that the page names in a language is found by that name, and
// by what stands before a comma; otherwise its acid, raw egg or enzymes would
// be passed over.
func TestLiquidsAreFoundInEveryLanguage(t *testing.T) {
	folders, err := filepath.Glob("../../web/text/*")
	require.NoError(t, err)
	require.NotEmpty(t, folders)
	for _, folder := range folders {
		s := inLanguage(t, filepath.Base(folder))
		for _, want := range liquid.Catalogue() {
			name := s.say("ingredient." + want.ID)
			g, ok := s.findLiquid(name)
			assert.True(t, ok, "%s: %s", folder, name)
			assert.Equal(t, name, s.say("ingredient."+g.ID), "%s: %s is found as %s", folder, name, g.ID)
		}
	}
}

// A juice that the catalogue has as a puree has no pulp, in any language; the puree has.
func TestJuiceHasNoPulp(t *testing.T) {
	for language, names := range map[string][2]string{
		"en": {"Pear juice", "pear"}, "fr": {"jus de poires", "purée de poire"}, "es": {"jugo de pera", "puré de pera"}, "de": {"Birnensaft", "Birnenmark"},
	} {
		s := inLanguage(t, language)
		juice, ok := s.findLiquid(names[0])
		assert.True(t, ok, names[0])
		puree, ok := s.findLiquid(names[1])
		assert.True(t, ok, names[1])
		assert.Less(t, float64(juice.Per100[liquid.Fibre]), float64(liquid.PureeFibre), names[0])
		assert.Greater(t, float64(puree.Per100[liquid.Fibre]), float64(liquid.PureeFibre), names[1])
		assert.Equal(t, puree.ID, juice.ID)
	}
	s := inLanguage(t, "en")
	apple, _ := s.findLiquid("apple")
	assert.Equal(t, "apple-puree", apple.ID, "fruit that is weighed is not its juice")
}

// What a cook types is found whichever of the usual words it says, with or
// without its marks, as one or as many.
func TestTypedLiquidsAreFound(t *testing.T) {
	for language, names := range map[string]map[string]string{
		"fr": {
			"jus de citron": "lemon-juice", "Jus d'orange": "orange-juice", "jus d’orange": "orange-juice",
			"crème": "cream-36", "creme": "cream-36", "Jaunes d'œuf": "egg-yolk", "jaune d'oeufs": "egg-yolk", "babeurre": "buttermilk",
			"ananas cru": "pineapple-raw", "sucre": "sugar", "lemon juice": "lemon-juice", "poudre de lune": "",
			"jus de poire": "pear", "Jus de poires": "pear", "poires": "pear", "purée de poire": "pear", "puree de poires": "pear",
			"coulis de fraise": "strawberry", "jus de fraises": "strawberry", "jus de poireau": "", "citron": "lemon-juice",
			"purée d'abricot": "apricot", "jus d'abricot": "apricot", "jus de pêches": "peach", "jus de griotte": "sour-cherry", "purée d’abricots": "apricot", "jus de carottes": "carrot-juice",
		},
		"es": {
			"zumo de pera": "pear", "jugo de pera": "pear", "Jugo de peras": "pear", "pera": "pear", "pure de peras": "pear",
			"jugo de limon": "lemon-juice", "zumo de limones": "lemon-juice", "jugo de naranja": "orange-juice",
			"puré de frutilla": "strawberry", "zumo de albaricoque": "apricot", "jugo de durazno": "peach", "zumo de arándanos": "blueberry", "puré de papas": "potato-puree", "zumo de puerro": "", "polvo de luna": "",
		},
		"de": {
			"Birnensaft": "pear", "birnenpuree": "pear", "Birnenpueree": "pear", "Birnen": "pear", "Birne": "pear", "Birnenmark": "pear",
			"Zitrone": "lemon-juice", "Erdbeersaft": "strawberry", "Möhrensaft": "carrot-juice", "Moehrensaft": "carrot-juice",
			"Rahm": "cream-36", "Lauchsaft": "", "Aprikosensaft": "apricot", "Marillensaft": "apricot", "Pfirsichsaft": "peach", "Mondpulver": "",
		},
	} {
		s := inLanguage(t, language)
		for typed, want := range names {
			g, _ := s.findLiquid(typed)
			assert.Equal(t, want, g.ID, "%s: %s", language, typed)
		}
		own := map[string]string{} // no two of the page's own names are one when they are loosened
		for _, g := range liquid.Catalogue() {
			name := s.say("ingredient." + g.ID)
			loose := loosen(liquid.Fold(name))
			assert.True(t, own[loose] == "" || own[loose] == name, "%s: %s and %s", language, own[loose], name)
			own[loose] = name
		}
	}
}

// What else a language calls an ingredient leads to one, and to no other than English.
func TestOtherNamesOfLiquids(t *testing.T) {
	for _, language := range []string{"en", "fr", "es", "de"} {
		s := inLanguage(t, language)
		for _, pair := range strings.Split(s.say("liquid.also"), ", ") {
			name, id, ok := strings.Cut(pair, "=")
			require.True(t, ok, pair)
			_, ok = liquid.ByID(id)
			require.True(t, ok, "%s: %s", language, pair)
			g, known := s.findLiquid(name)
			assert.True(t, known, "%s: %s", language, pair)
			assert.Equal(t, id, g.ID, "%s: %s", language, pair)
		}
	}
}

// The examples are the same dishes in every language: their liquids, too, are known and
// are the same, and with them what they do to an agent.
func TestLiquidsOfTheExamples(t *testing.T) {
	liquids := func(language string) (out []string) {
		raw, err := os.ReadFile(filepath.Join("../../web/text", language, "page.json"))
		require.NoError(t, err)
		texts := map[string]string{}
		require.NoError(t, json.Unmarshal(raw, &texts))
		s := inLanguage(t, language)
		for _, key := range []string{"example.1.lines", "example.2.lines", "example.3.lines"} {
			for line := range strings.SplitSeq(texts[key], "\n") {
				name := strings.TrimLeft(line, "0123456789,.% ")
				name = strings.TrimPrefix(strings.TrimPrefix(name, "g "), "l ")
				if g, known := s.findLiquid(name); known {
					out = append(out, g.ID)
				}
			}
		}
		return out
	}
	english := liquids("en")
	require.Equal(t, []string{"pear", "ginger-raw", "tomato-juice", "buttermilk", "cream-36", "sugar"}, english)
	for _, language := range []string{"fr", "es", "de"} {
		assert.Equal(t, english, liquids(language), language)
	}
}

// What recipes call everyday things.
func TestEverydayNamesAreFound(t *testing.T) {
	for language, names := range map[string]map[string]string{
		"en": {
			"cream 35 %": "cream-36", "cream (35% fat)": "cream-36", "35 % fat cream": "cream-36", "whipping cream 33 %": "cream-30", "single cream, 18 %": "cream-20",
			"cream 15 %": "", "cream 25 %": "", "cream 0 %": "", "cream 35 36 % 4": "", "% cream": "", "milk 3.5 %": "whole-milk", "2 % milk": "semi-skimmed-milk", "milk 1 %": "",
			"dark chocolate 70 %": "dark-chocolate", "dark chocolate (72% cocoa solids)": "dark-chocolate", "dark chocolate 55 %": "", "milk chocolate 38 %": "",
			"rum 40 % vol": "spirit-40", "gin 45 %": "spirit-45", "rum 54 %": "", "100 % apple juice": "apple-juice", "butter 82 %": "butter", "sugar 99 %": "",
			"crème fraîche": "creme-fraiche", "double cream": "double-cream", "mascarpone": "mascarpone", "demerara sugar": "brown-sugar", "passionfruit puree": "passion-fruit-juice",
			"dark rum": "spirit-40", "tonic": "tonic-water", "white chocolate": "white-chocolate", "raw pineapple juice": "pineapple-raw",
			"freshly pressed pineapple juice": "pineapple-raw", "pineapple juice": "pineapple-juice",
		},
		"fr": {
			"crème liquide 35 %": "cream-36", "crème liquide 30 % MG": "cream-30", "crème à 35 % de matière grasse": "cream-36", "Crème 35 % M.G.": "cream-36", "lait à 3,5 %": "whole-milk",
			"crème 5 %": "", "chocolat noir 70 %": "dark-chocolate", "chocolat noir à 70 % de cacao": "dark-chocolate", "sucre en poudre": "sugar", "crème liquide entière": "cream-36",
			"crème épaisse": "creme-fraiche", "crème fraîche": "creme-fraiche", "crème double": "double-cream", "fromage blanc": "fromage-blanc", "yaourt grec": "greek-yogurt",
			"rhum brun": "spirit-40", "café expresso": "espresso", "chocolat blanc": "white-chocolate", "jus d'ananas cru": "pineapple-raw", "tonic": "tonic-water",
		},
		"es": {
			"nata 35 %": "cream-36", "nata 35 % M.G.": "cream-36", "nata con 35 % de grasa": "cream-36", "nata 60 %": "", "cobertura 70 %": "dark-chocolate", "cobertura 55 %": "",
			"chocolate negro 70 %": "dark-chocolate", "aceite de oliva virgen extra": "olive-oil", "leche condensada": "condensed-milk", "zumo de piña cruda": "pineapple-raw",
			"jugo de piña cruda": "pineapple-raw", "chocolate blanco": "white-chocolate", "tónica": "tonic-water", "leche 3,6 %": "whole-milk",
		},
		"de": {
			"Sahne 35 %": "cream-36", "Sahne mit 30 % Fett": "cream-30", "30%ige Sahne": "cream-30", "Schlagsahne 30 %": "cream-30", "Quark 20 % i. Tr.": "", "Milch 3,5 %": "whole-milk",
			"Milch 1,5 %": "semi-skimmed-milk", "Quark": "quark", "Topfen": "quark", "Magerquark": "quark", "Riesling": "white-wine", "Himbeermark": "raspberry", "Erdbeermark": "strawberry",
			"Tomatenmark": "tomato-paste", "Birnenmark": "pear", "Rindermark": "", "Kürbiskernöl": "sunflower-oil", "Balsamico": "balsamic-vinegar", "weiße Schokolade": "white-chocolate",
			"Crème fraîche": "creme-fraiche", "roher Ananassaft": "pineapple-raw", "Kuvertüre 70 %": "dark-chocolate", "Mascarpone": "mascarpone",
		},
	} {
		s := inLanguage(t, language)
		for typed, want := range names {
			g, _ := s.findLiquid(typed)
			assert.Equal(t, want, g.ID, "%s: %s", language, typed)
		}
	}
}

// Juice of raw pineapple cuts gelatin, however its name says that it is raw.
func TestRawPineappleJuiceKeepsItsEnzyme(t *testing.T) {
	for language, name := range map[string]string{"en": "raw pineapple juice", "fr": "jus d'ananas cru", "es": "zumo de piña cruda", "de": "roher Ananassaft"} {
		g, _ := inLanguage(t, language).findLiquid(name)
		assert.NotZero(t, g.Flags&liquid.Protease, name)
	}
}

// A name that is not known has its nearest in the language it is typed in.
func TestNearestInEveryLanguage(t *testing.T) {
	for language, names := range map[string]map[string]string{
		"fr": {"jus d'avocat": "avocado", "puré de pèches blanches": "peach", "jus de citrron": "lemon-juice"},
		"es": {"zumo de aguacates": "avocado", "pure de albaricoqe": "apricot"},
		"de": {"Avocadosaft": "avocado", "Zitronensafft": "lemon-juice", "Pfirsichmus": "peach"},
	} {
		s := inLanguage(t, language)
		k := &know{}
		for typed, want := range names {
			_, known := s.findLiquid(typed)
			assert.False(t, known, "%s: %s", language, typed)
			near := k.nearest(s, typed)
			require.NotEmpty(t, near, "%s: %s", language, typed)
			assert.Equal(t, want, near[0].ID, "%s: %s", language, typed)
		}
	}
}

// inLanguage is a state that speaks the language as far as liquids go.
func inLanguage(t *testing.T, language string) *state {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("../../web/text", language, "lab/liquid.json"))
	require.NoError(t, err)
	texts := map[string]string{}
	require.NoError(t, json.Unmarshal(raw, &texts))
	return &state{words: phrase.Book{Find: func(key string) (string, bool) { text, ok := texts[key]; return text, ok }}}
}
