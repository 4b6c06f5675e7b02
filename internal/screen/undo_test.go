package screen

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
)

// The offer to take a step back stays until it is used: what the cook has typed on the
// shelf since is no part of the step.
func TestTakingBackOnTheShelfKeepsWhatWasTypedSince(t *testing.T) {
	for list, row := range map[string][]string{
		"scale": {"scale-2-step", "0.01", "scale-2-max", "200"},
		"own":   {"own-1-name", "agar", "own-1-grade", "900"},
		"body":  {"body-1-size", "500", "body-1-count", "2"},
	} {
		t.Run(list, func(t *testing.T) {
			k := someone(t)
			at := 1
			if list == "scale" {
				at = 2
			}
			for range at - k.paper.rows[list] {
				k.press("add-" + list)
			}
			k.typing(row...)
			before := k.app.shelf.own
			k.press("drop-"+list, at)
			require.True(t, k.shown("notice-undo"))
			k.typing("chargers", "20", "powder-bloom", "180", "scale-1-step", "0.5")
			k.press("undo")
			own := k.app.shelf.own
			assert.Equal(t, formula.Stock{Known: true, Amount: 20}, own.Chargers)
			assert.InDelta(t, 180, own.PowderBloom, 0)
			assert.Equal(t, "20", k.paper.values["chargers"])
			assert.Len(t, own.Scales, len(before.Scales))
			assert.InDelta(t, 0.5, float64(own.Scales[0].Step), 0)
			assert.Equal(t, before.Agents, own.Agents)
			assert.Equal(t, before.Siphons, own.Siphons)
			for i := 0; i < len(row); i += 2 {
				assert.Equal(t, row[i+1], k.paper.values[row[i]], row[i])
			}
			again := returning(t, k.store, "")
			assert.Equal(t, own, again.app.shelf.own, "and so it is kept")
		})
	}
}

// A row that nobody has filled leaves nothing to take back.
func TestEmptyRowOfTheShelfGoesWithoutAWord(t *testing.T) {
	k := someone(t)
	for _, list := range []string{"scale", "own", "body"} {
		n := k.paper.rows[list]
		k.press("add-" + list)
		k.press("drop-"+list, n+1)
		assert.False(t, k.shown("notice-undo"), list)
	}
}

// A row that comes back to a full list takes the place of an empty one, or waits.
func TestTakingBackOnAFullShelf(t *testing.T) {
	k := someone(t)
	for range formula.MaxSiphons {
		k.press("add-body")
	}
	k.typing("body-1-size", "500")
	k.press("drop-body", 1)
	k.press("add-body")
	k.press("undo")
	assert.Equal(t, formula.MaxSiphons, k.paper.rows["body"])
	assert.Equal(t, "500", k.paper.values["body-1-size"])
	assert.Equal(t, []formula.Siphons{{Size: 500, Count: 1}}, k.app.shelf.own.Siphons)
}

// Covers and the time of service that were typed after a formula came into the evening
// stay when it goes out again, and when one that went out comes back.
func TestTakingBackInTheEveningKeepsWhatWasTypedSince(t *testing.T) {
	k := someone(t)
	saveAs(k, "Bay set", "24")
	saveAs(k, "Sorrel gel", "9")
	k.app.LabOn()
	k.show()
	picked(k, "Bay set")
	picked(k, "Sorrel gel")
	k.typing("lab-evening-dish-1-covers", "40", "lab-evening-service", "19:30")
	k.press("undo")
	e := told(k).Evening
	require.Len(t, e.Dishes, 1)
	assert.Equal(t, "40", e.Dishes[0].Covers)
	assert.Equal(t, "19:30", e.Typed["lab-evening-service"])

	picked(k, "Sorrel gel")
	k.press("evening-drop", 1)
	k.typing("lab-evening-dish-1-covers", "12", "lab-evening-service", "20:00")
	k.press("undo")
	e = told(k).Evening
	require.Len(t, e.Dishes, 2)
	assert.Equal(t, []string{"40", "12"}, []string{e.Dishes[0].Covers, e.Dishes[1].Covers})
	assert.Equal(t, "Bay set", e.Dishes[0].Name)
	assert.Equal(t, "20:00", e.Typed["lab-evening-service"])
}
