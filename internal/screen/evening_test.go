package screen

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/formula"
	"tremblant/internal/wire"
)

// saveAs puts a formula of agar into the book under a name.
func saveAs(k *kitchen, name, covers string) {
	k.t.Helper()
	k.press("new", 0)
	k.typing("part-1-name", "bay stock", "part-1-amount", "500", "dose-1-name", "agar", "dose-1-amount", "4", "dose-1-unit", "g",
		"name", name, "make", "portions", "portions", covers, "portion-size", "35", "portion-size-unit", "g")
	k.press("save", 0)
}

func told(k *kitchen) formula.Tonight {
	k.t.Helper()
	t, err := formula.DecodeTonight(k.evening)
	require.NoError(k.t, err)
	return t
}

func picked(k *kitchen, name string) {
	k.t.Helper()
	pairs := k.paper.choices["evening-pick"]
	for i := 1; i < len(pairs); i += 2 {
		if pairs[i] == name {
			k.typing("evening-pick", pairs[i-1])
			return
		}
	}
	require.Fail(k.t, "not offered", "%s in %v", name, pairs)
}

func TestEveningIsKeptAndTold(t *testing.T) {
	k := someone(t)
	saveAs(k, "Bay set", "24")
	saveAs(k, "Sorrel gel", "9")
	k.app.LabOn()
	k.show()
	picked(k, "Bay set")
	picked(k, "Sorrel gel")
	picked(k, "Bay set")
	e := told(k)
	require.Len(t, e.Evening.Dishes, 3)
	assert.Equal(t, "24", e.Evening.Dishes[0].Covers, "as the formula says")
	assert.Equal(t, "35", e.Evening.Dishes[0].Portion)
	assert.Equal(t, "24", e.Evening.Dishes[1].Covers, "as many as the one before")
	assert.Len(t, e.Records, 2, "each formula is handed over once")
	k.typing("lab-evening-dish-2-covers", "abc", "lab-evening-service", "19:30", "lab-evening-dish-9-covers", "4")
	assert.NotContains(t, k.app.pan.fields, "lab-evening-service", "it is no part of the formula")

	again := returning(t, k.store, "")
	again.app.LabOn()
	again.show()
	e = told(again)
	assert.Equal(t, "abc", e.Evening.Dishes[1].Covers, "right or wrong, it is kept")
	assert.Equal(t, "19:30", e.Evening.Typed["lab-evening-service"])

	again.press("evening-drop", 2)
	require.Len(t, told(again).Evening.Dishes, 2)
	again.press("undo", 0)
	require.Len(t, told(again).Evening.Dishes, 3)
	assert.Equal(t, "abc", told(again).Evening.Dishes[1].Covers)
	again.press("evening-new", 0)
	assert.Empty(t, told(again).Evening.Dishes)
	again.press("undo", 0)
	assert.Len(t, told(again).Evening.Dishes, 3)
}

// An evening that was planned for tomorrow is today's when tomorrow has come.
func TestTheDayOfServiceComesNearer(t *testing.T) {
	k := someone(t)
	saveAs(k, "Bay set", "24")
	k.app.LabOn()
	k.show()
	picked(k, "Bay set")
	k.typing("lab-evening-day", "2", "lab-evening-service", "19:30")
	on := func(k *kitchen) string { return told(k).Evening.Typed["lab-evening-day"] }
	for days, want := range []string{"2", "1", "", "", ""} {
		again := opening(t, k.store, "")
		again.time = firstDay + int64(days)*day
		again.app.Store(t.Context(), book.New(again.store, Checks()), "")
		again.app.LabOn()
		again.show()
		assert.Equal(t, want, on(again), "%d days later", days)
		assert.Equal(t, "19:30", told(again).Evening.Typed["lab-evening-service"])
	}
	k.time += day
	k.goTo("#book")
	assert.Equal(t, "1", on(k), "in a page that stayed open, too")
	k.typing("lab-evening-day", "3")
	k.time += day
	k.goTo("#book")
	assert.Equal(t, "2", on(k))
	k.typing("lab-evening-day", "")
	k.time += day
	k.goTo("#book")
	assert.Empty(t, k.app.evening.now.Typed["lab-evening-day"])
}

// A formula in the bin is handed over as missing, under the name it had.
func TestEveningOutlivesItsFormulas(t *testing.T) {
	k := someone(t)
	saveAs(k, "Bay set", "24")
	k.app.LabOn()
	k.show()
	picked(k, "Bay set")
	k.press("delete", 1)
	e := told(k)
	require.Len(t, e.Evening.Dishes, 1)
	assert.Equal(t, "Bay set", e.Evening.Dishes[0].Name)
	assert.Nil(t, e.Body(e.Evening.Dishes[0].ID))
	k.press("undo", 0)
	e = told(k)
	assert.NotNil(t, e.Body(e.Evening.Dishes[0].ID))
}

// The evening goes with the book.
func TestEveningIsExportedAndImported(t *testing.T) {
	k := someone(t)
	saveAs(k, "Bay set", "24")
	k.app.LabOn()
	k.show()
	picked(k, "Bay set")
	f, bad, err := k.app.book.store.Export(t.Context())
	require.NoError(t, err)
	require.Empty(t, bad)
	text, err := f.Encode()
	require.NoError(t, err)

	other := someone(t)
	other.app.File("book.json", text, false)
	other.show()
	other.press("import-apply", 0)
	other.app.LabOn()
	other.show()
	e := told(other)
	require.Len(t, e.Evening.Dishes, 1)
	assert.NotNil(t, e.Body(e.Evening.Dishes[0].ID))
}

func TestAnEveningTakesNoMoreThanItsBound(t *testing.T) {
	k := someone(t)
	saveAs(k, "Bay set", "24")
	k.app.LabOn()
	k.show()
	for range formula.MaxDishes + 2 {
		picked(k, "Bay set")
	}
	assert.Len(t, k.app.evening.now.Dishes, formula.MaxDishes)
}

// The list offers the newest of a large book, and says that there are more.
func TestTheEveningOffersTheNewest(t *testing.T) {
	k := someone(t)
	saveAs(k, "Bay set", "24")
	e, err := k.app.book.store.Open(t.Context(), k.app.book.open.id)
	require.NoError(t, err)
	offered := func(more int) []string {
		var heads []book.Head
		for i := range mostOffered + more {
			h := e.Head
			h.ID = fmt.Sprintf("many-%d", i)
			heads = append(heads, h)
		}
		k.app.evening.offer(book.NewIndex(heads))
		k.show()
		return k.paper.choices["evening-pick"]
	}
	k.app.LabOn()
	all := offered(0)
	assert.Len(t, all, 2*(mostOffered+1))
	more := offered(3)
	require.Len(t, more, 2*(mostOffered+2))
	assert.Empty(t, more[len(more)-2], "it picks nothing")
	assert.Contains(t, more[len(more)-1], "200")
	assert.Contains(t, more[len(more)-1], "203")
}

func TestSiphonsAndStockOnTheShelf(t *testing.T) {
	k := someone(t)
	k.press("add-body", 0)
	k.typing("body-1-size", "750", "body-1-count", "2", "chargers", "12")
	k.press("add-own", 0)
	k.typing("own-1-name", "agar", "own-1-stock", "0")
	for _, bad := range [][2]string{{"body-1-size", "20"}, {"body-1-count", "many"}, {"body-1-count", "1.5"}, {"chargers", "-1"}, {"chargers", "24,5"}, {"own-1-stock", "1,2,3"}} {
		k.typing(bad[0], bad[1])
		assert.True(t, k.paper.invalid[bad[0]], bad[0])
	}
	want := formula.Shelf{Siphons: []formula.Siphons{{Size: 750, Count: 2}}, Chargers: formula.Stock{Known: true, Amount: 12},
		Agents: []formula.Owned{{Agent: "agar", Stock: formula.Stock{Known: true}}}}
	again := returning(t, k.store, "")
	own := again.app.shelf.own
	assert.Equal(t, want.Siphons, own.Siphons)
	assert.Equal(t, want.Chargers, own.Chargers)
	assert.Equal(t, want.Agents, own.Agents, "nothing left is a stock as well")
	again.press("drop-body", 1)
	assert.Empty(t, again.app.shelf.own.Siphons)
	again.press("undo", 0)
	assert.Equal(t, want.Siphons, again.app.shelf.own.Siphons)
	v, err := wire.Read([]byte(`{"form":1,"scales":[]}`), wire.Limits{})
	require.NoError(t, err)
	older, err := formula.DecodeShelf(v)
	require.NoError(t, err)
	assert.False(t, older.Chargers.Known, "a shelf of an older page says nothing of chargers")
}
