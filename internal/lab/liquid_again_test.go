package lab

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
)

// What this kitchen said of a liquid in another formula is one press away in this one,
// which then holds it itself.
func TestLiquidAsDescribedBefore(t *testing.T) {
	fields := panOf("House verjus", "200", "water", "100")
	fields[formula.LiquidField(0, "name")], fields[formula.LiquidField(0, "sugar")] = "water", "0"
	p := openPart(t, "liquid", fields)
	assert.False(t, p.visible("lab-liquid-part-1-again"), "nothing was said of it")
	p.shelf.Liquids = []formula.OwnLiquid{{Name: "house VERJUS", Says: map[string]string{"as": "lemon-juice", "ph": "2,9", "sugar": "7"}}}
	p.tell()
	require.True(t, p.visible("lab-liquid-part-1-again"))
	assert.False(t, p.visible("lab-liquid-part-2-again"))
	assert.Contains(t, p.take("lab-liquid-again", 1), "House verjus")
	assert.Equal(t, "House verjus", p.fields[formula.LiquidField(1, "name")])
	assert.Equal(t, "7", p.fields[formula.LiquidField(1, "sugar")])
	assert.Equal(t, "lemon-juice", p.fields[formula.LiquidField(1, "as")])
	assert.Equal(t, "water", p.fields[formula.LiquidField(0, "name")], "what is described already stays")
	assert.False(t, p.visible("lab-liquid-part-1-again"), "it is described now")
}
