package screen

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
)

// describing is a pan whose liquid the cook describes, as the lab changes it.
func describing(t *testing.T, k *kitchen, name, ph string) {
	t.Helper()
	fields := formula.Fields{}
	for name, text := range k.app.pan.fields {
		fields[name] = text
	}
	fields[formula.LiquidField(0, "name")], fields[formula.LiquidField(0, "ph")] = name, ph
	body, err := formula.Change{Fields: fields, What: "Described."}.Encode()
	require.NoError(t, err)
	k.app.LabChange(string(body))
	k.show()
}

func liquidsOf(k *kitchen) []string {
	var out []string
	for i := range k.paper.rows["liquid"] {
		out = append(out, k.paper.texts["liquid-"+strconv.Itoa(i+1)+"-name"])
	}
	return out
}

// What was said of a liquid in a formula that was saved stands on the shelf, for all
// other formulas, and in the next visit.
func TestDescribedLiquidIsRemembered(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	describing(t, k, "House verjus", "2.8")
	assert.Empty(t, liquidsOf(k), "it is not saved yet")
	assert.False(t, k.shown("liquids"))
	k.press("save")
	assert.Equal(t, []string{"House verjus"}, liquidsOf(k))
	assert.True(t, k.shown("liquids"))
	describing(t, k, "House verjus", "2.9")
	k.press("save")
	next := returning(t, k.store.Connect(), "")
	require.Equal(t, []string{"House verjus"}, liquidsOf(next), "once, however often it is saved")
	assert.Equal(t, "2.9", next.app.shelf.own.Liquids[0].Says["ph"], "as it was said last")

	next.goTo("#shelf")
	next.press("drop-liquid", 1)
	assert.Empty(t, liquidsOf(next))
	next.press("undo")
	assert.Equal(t, []string{"House verjus"}, liquidsOf(next))
	next.press("drop-liquid", 1)
	assert.Empty(t, liquidsOf(returning(t, k.store.Connect(), "")), "it is forgotten for good")
}

// A formula that came from somebody else, saved again, does not change what this kitchen
// says of its own liquid; nor does one that is older.
func TestSavedAgainDoesNotChangeTheShelf(t *testing.T) {
	mine := formula.OwnLiquid{Name: "verjus", Says: map[string]string{"ph": "2.8"}}
	theirs := formula.OwnLiquid{Name: "Verjus", Says: map[string]string{"ph": "3.1"}}
	k := someone(t)
	k.app.shelf.remember([]formula.OwnLiquid{mine}, nil)
	k.app.shelf.remember([]formula.OwnLiquid{theirs}, []formula.OwnLiquid{theirs})
	assert.Equal(t, []formula.OwnLiquid{mine}, k.app.shelf.own.Liquids)
	k.app.shelf.remember([]formula.OwnLiquid{theirs}, []formula.OwnLiquid{mine})
	assert.Equal(t, []formula.OwnLiquid{theirs}, k.app.shelf.own.Liquids)
}

// There is room for so many; the oldest makes way.
func TestTheOldestLiquidMakesWay(t *testing.T) {
	k := someone(t)
	for i := range formula.MaxLiquids + 2 {
		k.app.shelf.remember([]formula.OwnLiquid{{Name: "Liquid " + strconv.Itoa(i), Says: map[string]string{"ph": "3"}}}, nil)
	}
	require.Len(t, k.app.shelf.own.Liquids, formula.MaxLiquids)
	assert.Equal(t, "Liquid 2", k.app.shelf.own.Liquids[0].Name)

	// One is taken off the shelf, another takes its place, and the first is called back.
	k.app.shelf.dropLiquid(formula.MaxLiquids)
	k.app.shelf.remember([]formula.OwnLiquid{{Name: "One more", Says: map[string]string{"ph": "3"}}}, nil)
	k.press("undo")
	require.Len(t, k.app.shelf.own.Liquids, formula.MaxLiquids)
	body, err := k.app.shelf.own.Encode()
	require.NoError(t, err)
	_, err = readShelf(body)
	assert.NoError(t, err, "it can be read again")
}
