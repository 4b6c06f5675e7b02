package gel

import (
	"encoding/json"
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/phrase"
	"tremblant/internal/unit"
)

// sentences is the English book of this package.
func sentences(t *testing.T) phrase.Book {
	t.Helper()
	text := map[string]string{}
	for _, f := range []string{"lab/gel", "agent", "lab/agent"} {
		raw, err := os.ReadFile("../../web/text/en/" + f + ".json")
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(raw, &text))
	}
	return phrase.Book{Find: func(key string) (string, bool) { s, ok := text[key]; return s, ok }}
}

func TestUnknownNamesAreAnsweredInWholeSentences(t *testing.T) {
	words := sentences(t)
	seen := map[note.Code]bool{}
	for _, name := range []string{"agra", "gellan", "xantan", "pectine", "carrageenan", "lecitin", "methylcelulose", "qqqqqqqqqq", "tara gun", "guar gun", "whei", "sucrose estr", "cacium lactat", strings.Repeat("x", 200)} {
		if agent.Find(name) != nil {
			continue
		}
		var r *note.Refusal
		require.ErrorAs(t, unknownAgent(name), &r)
		seen[r.Code] = true
		assert.NotRegexp(t, `[{}]`, words.Note(r.Note), name)
	}
	for _, code := range []note.Code{CodeUnknownAgent, CodeUnknownNear, CodeUnknownNear2, CodeUnknownNear3} {
		assert.True(t, seen[code], "%s was never said", code)
	}
}

func TestTwoDigits(t *testing.T) {
	for in, want := range map[float64]float64{0: 0, 1.449: 1.4, 0.0748: 0.075, 1310.2: 1300, -27.49: -27, 99.6: 100, 1e-9: 1e-9, 5: 5, 0.3: 0.3} {
		assert.Equal(t, want, twoDigits(in), in)
	}
}

// A sentence that says "below 0.5" of 0.499 must not round the limit away.
func TestLimitsStayOnTheirSide(t *testing.T) {
	assert.Equal(t, 0.23, against("low", 0.2345, 0.5, unit.PercentOf).Value)
	assert.Equal(t, 0.2345, against("low", 0.2345, 0.232, unit.PercentOf).Value, "0.23 would stand below 0.232")
	assert.Equal(t, 12.4, against("most", 12.4, 12.3, unit.Brix).Value)
	assert.Equal(t, 12.0, against("most", 12.4, 15, unit.Brix).Value)
}

// What a cook is told about ions can be weighed: calcium in mg for each kg.
// 0.748 mmol of calcium for each gram of gellan (half of the carboxyls; Tang,
// Tung & Zeng, Carbohydrate Polymers 29 (1996) 11–16) are 150 mg at 0.5 %.
func TestIonsAreSaidInGrams(t *testing.T) {
	words := sentences(t)
	v, err := Read(Recipe{Doses: one("gellan-la", 0.5), Cond: Conditions{Ca: Known(0.5)}})
	require.NoError(t, err)
	n, ok := find(v.Notes, CodeIonMissing)
	require.True(t, ok)
	assert.Contains(t, words.Note(n), "best 150\u00a0mg; this one has 20\u00a0mg")
	assert.Equal(t, note.Num("have", 1.2, unit.Gram), saidIon("have", agent.Calcium, 30), "30 x 40.078 mg")
	assert.Equal(t, note.Num("have", 39, unit.Milligram), saidIon("have", agent.Potassium, 1))
	assert.Equal(t, note.Num("have", 230, unit.Milligram), saidIon("have", agent.Sodium, 10))

	f, err := FirmnessOf(one("agar", 1), Conditions{Na: Known(4000)}, nil)
	require.NoError(t, err)
	n, ok = find(f.Notes, CodeOutsideCondition)
	require.True(t, ok)
	assert.Contains(t, words.Note(n), "23.4\u00a0%", "4 mol of kitchen salt (58.44 g/mol) in a kg")

	var r *note.Refusal
	require.True(t, errors.As((&Conditions{Ca: Known(9000)}).Check(), &r))
	assert.Contains(t, words.Note(r.Note), "280\u00a0g/kg")
}
