package book_test

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
)

func TestFold(t *testing.T) {
	for in, want := range map[string]string{
		"":                       "",
		"Crème Brûlée":           "creme brulee",
		"Cre\u0300me":            "creme", // decomposed, as some keyboards write it
		"  a -- b,c ":            "a b c",
		"Weißbier-Gelée":         "weissbier gelee",
		"SMØRREBRØD Łosoś Þ æ Œ": "smorrebrod losos th ae oe",
		"Phở":                    "pho",
		"İstanbul ılık":          "istanbul ilik",
		"寒天 Гель":                "寒天 гель",
		"0.45 % agar":            "0 45 agar",
		"\xff broken":            "broken",
		"!!!":                    "",
	} {
		assert.Equal(t, want, book.Fold(in), in)
	}
}

// Each accented Latin letter of the Unicode Character Database must come out as
// its base letter. The table names its source.
func TestFoldAgreesWithUnicode(t *testing.T) {
	f, err := os.Open("testdata/latin.csv")
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 400)
	for _, row := range rows[1:] {
		want := row[1]
		switch row[0] { // two letters where a cook types two
		case "Ǽ", "ǽ", "Ǣ", "ǣ":
			want = "ae"
		}
		assert.Equal(t, want, book.Fold(row[0]), "U+%04X", []rune(row[0])[0])
	}
}

func FuzzFold(f *testing.F) {
	f.Add("Crème")
	f.Add("\xff İ ẞ")
	f.Fuzz(func(t *testing.T, s string) {
		once := book.Fold(s)
		require.Equal(t, once, book.Fold(once), "folding is idempotent")
		require.Equal(t, once, strings.TrimSpace(once))
		require.NotContains(t, once, "  ")
	})
}
