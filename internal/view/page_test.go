package view_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/view"
)

// ops reads a patch.
func ops(t *testing.T, p *view.Page) [][]string {
	t.Helper()
	text := p.Patch()
	if text == "" {
		return nil
	}
	var out [][]string
	require.NoError(t, json.Unmarshal([]byte(text), &out), text)
	return out
}

func TestOnlyChangesAreSent(t *testing.T) {
	p := view.New()
	p.Figure("dose-1-mass", 3.5, "3.50 g")
	p.Text("title", "a <b> \"c\" \u2028")
	assert.Equal(t, [][]string{{"figure", "dose-1-mass", "3.5", "3.50 g"}, {"text", "title", "a <b> \"c\" \u2028"}}, ops(t, p))
	p.Figure("dose-1-mass", 3.5, "3.50 g")
	p.Text("title", "a <b> \"c\" \u2028")
	assert.Empty(t, p.Patch())
	p.Figure("dose-1-mass", 3.5, "3,50 g")
	assert.Equal(t, [][]string{{"figure", "dose-1-mass", "3.5", "3,50 g"}}, ops(t, p))
	assert.Equal(t, "3,50 g", p.FigureText("dose-1-mass"))
	p.NoFigure("dose-1-mass")
	assert.Equal(t, [][]string{{"figure", "dose-1-mass", "", "–"}}, ops(t, p))
}

func TestWhatAPersonTypedIsNotSentBack(t *testing.T) {
	p := view.New()
	p.Typed("name", "Pear")
	p.Value("name", "Pear")
	assert.Empty(t, p.Patch())
	p.Value("name", "Quince")
	assert.Equal(t, [][]string{{"value", "name", "Quince"}}, ops(t, p))
}

func TestWhatHasBecomeAnothersIsSentAgain(t *testing.T) {
	p := view.New()
	say := func() {
		p.Value("price", "")
		p.Choices("price")
		p.Say("price", "", false)
		p.Invalid("price", false)
	}
	say()
	sent := ops(t, p)
	assert.Len(t, sent, 4)
	say()
	assert.Empty(t, p.Patch())
	p.Unknown("price")
	say()
	assert.Equal(t, sent, ops(t, p))
}

func TestRowsThatGoAreForgotten(t *testing.T) {
	p := view.New()
	p.Rows("dose", 12)
	p.Text(view.Row("dose", 0, "say"), "stays")
	p.Text(view.Row("dose", 1, "say"), "goes")
	p.Text(view.Row("dose", 11, "say"), "goes too")
	p.Patch()
	p.Rows("dose", 1)
	p.Rows("dose", 2)
	p.Text(view.Row("dose", 0, "say"), "stays")
	p.Text(view.Row("dose", 1, "say"), "goes")
	assert.Equal(t, [][]string{{"rows", "dose", "1"}, {"rows", "dose", "2"}, {"text", "dose-2-say", "goes"}}, ops(t, p))
}

func TestANewListOfChoicesLosesTheChoice(t *testing.T) {
	p := view.New()
	p.Choices("left-of", "dose-1", "agar")
	p.Value("left-of", "dose-1")
	p.Patch()
	p.Choices("left-of", "dose-1", "agar", "part-1", "juice")
	p.Value("left-of", "dose-1")
	assert.Equal(t, [][]string{{"choices", "left-of", "dose-1", "agar", "part-1", "juice"}, {"value", "left-of", "dose-1"}}, ops(t, p))
}

func TestAPartClosedOnThePageIsShownAgain(t *testing.T) {
	p := view.New()
	p.Show("notice-undo", true)
	p.Patch()
	p.Closed("notice-undo")
	p.Show("notice-undo", true)
	assert.Equal(t, [][]string{{"show", "notice-undo", "1"}}, ops(t, p))
}

func TestBrokenTextNeverBreaksAPatch(t *testing.T) {
	p := view.New()
	p.Text("x", "\xff\xfe")
	p.Figure("y", math.Inf(1), "?")
	assert.Equal(t, [][]string{{"text", "x", "\ufffd"}, {"figure", "y", "", "–"}}, ops(t, p))
}

func TestRowOf(t *testing.T) {
	for name, want := range map[string]int{"dose-2-amount": 2, "scale-12-step": 12, "name": 0, "dose-0-x": 0, "loss-boil": 0, "entry-x-rename": 0} {
		assert.Equal(t, want, view.RowOf(name), name)
	}
}
