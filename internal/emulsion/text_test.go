package emulsion_test

import (
	"encoding/json"
	"os"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/emulsion"
	"tremblant/internal/note"
)

var slot = regexp.MustCompile(`\{([a-z]+)\}`)

func sentences(t testing.TB) map[string]string {
	raw, err := os.ReadFile("../../web/text/en/lab/emulsion.json")
	require.NoError(t, err)
	var m map[string]string
	require.NoError(t, json.Unmarshal(raw, &m))
	return m
}

// says checks that the sentence of a note asks only for arguments that the note has.
func says(t testing.TB, text map[string]string, n note.Note) {
	sentence, ok := text["note."+string(n.Code)]
	require.True(t, ok, "no sentence for %s", n.Code)
	for _, m := range slot.FindAllStringSubmatch(sentence, -1) {
		_, ok := n.Arg(m[1])
		require.True(t, ok, "%s asks for {%s}", n.Code, m[1])
	}
	for _, a := range n.Args {
		if a.Word != "" && a.Name != "allergen" {
			require.Contains(t, text, a.Word)
		}
	}
}

func TestEveryCodeHasItsSentence(t *testing.T) {
	text := sentences(t)
	for _, c := range emulsion.Codes {
		assert.NotEmpty(t, text["note."+string(c)], c)
	}
	for _, i := range emulsion.Ingredients {
		assert.NotEmpty(t, text["emulsion.part."+string(i.Kind)], i.Kind)
	}
	for _, s := range emulsion.Standards {
		assert.NotEmpty(t, text["standard."+s.ID], s.ID)
	}
}

func TestCatalogueHasSources(t *testing.T) {
	seen := map[emulsion.Kind]bool{}
	for _, i := range emulsion.Ingredients {
		assert.True(t, i.Source.Valid(), i.Kind)
		assert.False(t, seen[i.Kind], i.Kind)
		seen[i.Kind] = true
		if i.Capacity.High > 0 {
			assert.True(t, i.CapacityOf.Valid(), i.Kind)
			assert.True(t, i.Capacity.Valid(), i.Kind)
		}
		c := i.Composition
		assert.LessOrEqual(t, float64(c.Water+c.Fat+c.Salt+c.Acetic+c.Citric), 1.0005, i.Kind)
	}
	for _, r := range emulsion.EggRules {
		assert.True(t, r.Source.Valid(), r.ID)
	}
	for _, w := range emulsion.Windows {
		assert.True(t, w.Source.Valid())
		assert.Less(t, w.SplitsBelow, w.Hold[0])
		assert.Greater(t, w.SplitsAbove, w.Hold[1])
	}
}
