package phrase_test

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/note"
	"tremblant/internal/phrase"
	"tremblant/internal/unit"
)

func TestNote(t *testing.T) {
	texts := map[string]string{
		"note.a":     "{who} needs {how-much} of {what}, not {missing}",
		"agent.agar": "agar",
	}
	b := phrase.Book{Find: func(k string) (string, bool) { s, ok := texts[k]; return s, ok }, Style: unit.Style{Comma: true}}
	n := note.New(note.Hint, "a", note.Typed("who", "<b>{what}"), note.Num("how-much", 1500, unit.Gram), note.Word("what", "agent.agar"))
	assert.Equal(t, "<b>{what} needs 1,5\u00a0kg of agar, not {missing}", b.Note(n), "what a person typed is never filled in again")
	texts["note.c"], texts["unit.sheet"] = "no {u} here", "sheets"
	assert.Equal(t, "no ml here", b.Note(note.New(note.Hint, "c", note.Word("u", "unit.ml"))), "most units are no word of a language")
	texts["apple"] = "apple"
	assert.Equal(t, "no agar, apple here", b.Note(note.New(note.Hint, "c", note.Words("u", "", []string{"agent.agar", "apple"}))), "a list")
	assert.Equal(t, "no sheets here", b.Note(note.New(note.Hint, "c", note.Word("u", "unit.sheet"))))
	assert.Equal(t, "note.b", b.Note(note.New(note.Hint, "b")), "a missing sentence shows its key")
}

func TestBookOf(t *testing.T) {
	for decimal, want := range map[string]string{",": "3,5\u00a0g", ".": "3.5\u00a0g"} {
		b := phrase.BookOf(func(key string) (string, bool) { return decimal, key == "number.decimal" })
		assert.Equal(t, want, b.Figure(3.5, unit.Gram))
	}
	assert.False(t, phrase.BookOf(func(string) (string, bool) { return "", false }).Style.Comma, "a catalogue that does not say")
}

func TestFigure(t *testing.T) {
	b := phrase.Book{Find: func(string) (string, bool) { return "", false }}
	for want, c := range map[string]struct {
		v float64
		u unit.Symbol
	}{
		"3.5\u00a0g":    {3.5, unit.Gram},
		"12\u00a0kPa":   {12345, unit.Pascal},
		"480\u00a0Pa":   {482, unit.Pascal},
		"4.0":           {4, unit.PH},
		"40":            {40, unit.One},
		"0.567\u00a0%":  {0.56749, unit.PercentOf},
		"1.235\u00a0kg": {1234.9, unit.Gram},
	} {
		assert.Equal(t, want, b.Figure(c.v, c.u))
	}
}

// What is counted has a word of its own for one, and each language says it of
// its own figures: English of 1 alone, French of all below 2.
func TestOneOfWhatIsCounted(t *testing.T) {
	for lang, want := range map[string][4]string{
		"en": {"0.5\u00a0sheets", "1\u00a0sheet", "1.5\u00a0sheets", "2\u00a0sheets"},
		"fr": {"0,5\u00a0feuille", "1\u00a0feuille", "1,5\u00a0feuille", "2\u00a0feuilles"},
		"es": {"0,5\u00a0hojas", "1\u00a0hoja", "1,5\u00a0hojas", "2\u00a0hojas"},
		"de": {"0,5\u00a0Blatt", "1\u00a0Blatt", "1,5\u00a0Blatt", "2\u00a0Blatt"},
	} {
		raw, err := os.ReadFile("../../web/text/" + lang + "/page.json")
		require.NoError(t, err)
		var texts map[string]string
		require.NoError(t, json.Unmarshal(raw, &texts))
		b := phrase.BookOf(func(key string) (string, bool) { s, ok := texts[key]; return s, ok })
		for i, v := range [...]float64{0.5, 1, 1.5, 2} {
			assert.Equal(t, want[i], b.Figure(v, unit.Sheet), lang)
			assert.Equal(t, want[i], b.Amount(v, unit.Sheet), lang)
		}
		assert.Equal(t, want[1], b.Figure(0.9999, unit.Sheet), "as the figure is shown")
		assert.NotEqual(t, b.Figure(2, unit.Charger)[2:], b.Figure(1, unit.Charger)[2:], lang)
		assert.NotEqual(t, b.Figure(2, unit.Portion)[2:], b.Figure(1, unit.Portion)[2:], lang)
		assert.Equal(t, "1\u00a0g", b.Figure(1, unit.Gram), "a unit is written alike for all")
	}
}
