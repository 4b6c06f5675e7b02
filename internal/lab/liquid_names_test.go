package lab

import (
	"encoding/json"
	"os"
	"path/filepath"
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
		raw, err := os.ReadFile(filepath.Join(folder, "lab/liquid.json"))
		require.NoError(t, err)
		texts := map[string]string{}
		require.NoError(t, json.Unmarshal(raw, &texts))
		s := &state{words: phrase.Book{Find: func(key string) (string, bool) { text, ok := texts[key]; return text, ok }}}
		for _, want := range liquid.Catalogue() {
			name := texts["ingredient."+want.ID]
			g, ok := s.findLiquid(name)
			assert.True(t, ok, "%s: %s", folder, name)
			assert.Equal(t, name, texts["ingredient."+g.ID], "%s: %s is found as %s", folder, name, g.ID)
		}
	}
}

func TestFrenchLiquids(t *testing.T) {
	raw, err := os.ReadFile("../../web/text/fr/lab/liquid.json")
	require.NoError(t, err)
	texts := map[string]string{}
	require.NoError(t, json.Unmarshal(raw, &texts))
	s := &state{words: phrase.Book{Find: func(key string) (string, bool) { text, ok := texts[key]; return text, ok }}}
	for typed, want := range map[string]string{
		"jus de citron": "lemon-juice", "Jus d'orange": "orange-juice", "jus d’orange": "orange-juice",
		"crème": "cream-36", "creme": "cream-36", "Jaunes d'œuf": "egg-yolk", "babeurre": "buttermilk",
		"ananas cru": "pineapple-raw", "sucre": "sugar", "lemon juice": "lemon-juice", "poudre de lune": "",
	} {
		g, _ := s.findLiquid(typed)
		assert.Equal(t, want, g.ID, typed)
	}
}
