package screen

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/formula"
)

// Typing is faster than the store: "2" is still being written when "2.1" comes.
// What is typed last must be what is kept.
func TestSettingTypedWhileItIsWritten(t *testing.T) {
	k := someone(t)
	typed := false
	k.store.Fail = func(step string) error {
		if step == "write" && !typed {
			typed = true
			k.app.Input("sheet-mass", "2.1")
		}
		return nil
	}
	k.typing("sheet-mass", "2")
	k.store.Fail = nil
	require.True(t, typed)
	assert.Empty(t, k.queue, "the write that is under way takes it along")
	again := returning(t, k.store.Connect(), "")
	assert.Equal(t, "2.1", again.paper.values["sheet-mass"])
	assert.Equal(t, 2, again.app.shelf.keeper.stored.Rev)
}

// Both places that ask for a sheet's mass say why 25 g is not one's, until it is right.
func TestSheetTooHeavy(t *testing.T) {
	k := someone(t)
	k.press("new")
	k.typing("part-1-name", "milk", "part-1-amount", "500", "dose-1-name", "gelatin", "dose-1-amount", "3", "dose-1-unit", "sheet", "batch-liquid", "500", "ask-sheet-mass", "25")
	for _, place := range []string{"ask-sheet-mass", "sheet-mass"} {
		assert.Contains(t, k.paper.says[place], "10\u00a0g at the most: one sheet has 1.7\u00a0g to 5\u00a0g", place)
	}
	assert.Zero(t, k.app.shelf.own.SheetMass)
	k.typing("ask-sheet-mass", "2.5")
	assert.Empty(t, k.paper.says["sheet-mass"])
	assert.Empty(t, k.paper.says["ask-sheet-mass"])
	assert.Equal(t, 2.5, float64(k.app.shelf.own.SheetMass))
}

// A write that fails must not keep the next one from being tried.
func TestSettingAfterAFailure(t *testing.T) {
	k := someone(t)
	k.store.Fail = func(string) error { return &book.Failure{Op: "test", Kind: book.ErrQuota} }
	k.typing("sheet-mass", "2")
	assert.Contains(t, k.paper.texts["storage-problem"], "no room left")
	k.store.Fail = nil
	k.typing("sheet-mass", "2.1")
	again := returning(t, k.store.Connect(), "")
	assert.Equal(t, "2.1", again.paper.values["sheet-mass"])
}

// The store's work does not run in the order in which it was asked for.
func TestBackupHoldsWhatIsStillBeingWritten(t *testing.T) {
	k := full(t)
	d := withDesk(k)
	k.hold = true
	k.typing("sheet-mass", "2.7")
	k.typing("learned-1-use", "1")
	k.press("backup")
	require.Greater(t, len(k.queue), 1)
	slices.Reverse(k.queue)
	k.settle()
	assert.Contains(t, d.last(), `"sheet-mass": 2.7`)
	assert.Contains(t, d.last(), `"off": []`)
	k.press("backup")
	k.settle()
	assert.Equal(t, d.texts[0], d.texts[1], "and no write follows that would change it")
}

// When there is no room left a backup is needed all the more.
func TestBackupWithoutRoomForTheShelf(t *testing.T) {
	k := full(t)
	d := withDesk(k)
	k.store.Fail = func(step string) error {
		if step == "write" {
			return &book.Failure{Op: "test", Kind: book.ErrQuota}
		}
		return nil
	}
	k.typing("sheet-mass", "2.7")
	k.press("backup")
	assert.Contains(t, d.last(), "Quince gel")
	assert.Contains(t, k.paper.texts["storage-problem"], "no room left")
}

// Two windows change the shelf: each shows what the other has written, and a
// change that crosses with another loses neither.
func TestTwoWindowsChangeTheShelf(t *testing.T) {
	k := someone(t)
	other := returning(t, k.store.Connect(), "")
	k.typing("sheet-mass", "2.1")
	other.app.Changed(t.Context())
	other.show()
	assert.Equal(t, "2.1", other.paper.values["sheet-mass"])

	other.typing("powder-bloom", "220") // and k has not heard of it
	k.typing("scale-1-step", "2")
	for _, each := range []*kitchen{k, returning(t, k.store.Connect(), "")} {
		assert.Equal(t, "220", each.paper.values["powder-bloom"])
		assert.Equal(t, "2", each.paper.values["scale-1-step"])
		assert.Equal(t, "2.1", each.paper.values["sheet-mass"])
	}
}

// One window chooses the formulas while the other, which has not heard of it,
// says when they are served.
func TestTwoWindowsPlanTheEvening(t *testing.T) {
	k := someone(t)
	saveAs(k, "Sorrel gel", "9")
	other := returning(t, k.store.Connect(), "")
	other.press("evening-add", 1)
	k.typing("lab-evening-service", "19:30")
	again := returning(t, k.store.Connect(), "")
	for _, each := range []*kitchen{k, again} {
		require.Len(t, each.app.evening.now.Dishes, 1)
		assert.Equal(t, "Sorrel gel", each.app.evening.now.Dishes[0].Name)
		assert.Equal(t, "19:30", each.app.evening.now.Typed["lab-evening-service"])
	}
}

// What a newer program has noted of a scale or of a dish stays when another
// figure of the setting is changed here.
func TestMembersOfANewerProgramSurviveInASetting(t *testing.T) {
	k := someone(t)
	saveAs(k, "Sorrel gel", "9")
	k.typing("scale-1-step", "2")
	k.press("evening-add", 1)
	k.press("evening-add", 1)
	for key, add := range map[string][2]string{
		shelfKey:   {`{"step":2,`, `{"lamp":"red","step":2,`},
		eveningKey: {`{"id":`, `{"plate":{"warm":true},"id":`},
	} {
		set, err := k.app.book.store.Setting(t.Context(), key)
		require.NoError(t, err)
		require.Contains(t, string(set.Body), add[0])
		set.Body = []byte(strings.Replace(string(set.Body), add[0], add[1], 1))
		_, err = k.app.book.store.PutSetting(t.Context(), set)
		require.NoError(t, err)
	}
	again := returning(t, k.store.Connect(), "")
	again.typing("scale-1-max", "4000")
	again.typing("sheet-mass", "2.5")
	again.typing("lab-evening-dish-1-covers", "12")
	again.press("evening-drop", 2)
	for key, want := range map[string][]string{
		shelfKey:   {`"max":4000`, `"sheet-mass":2.5`, `"lamp":"red"`},
		eveningKey: {`"covers":"12"`, `"plate":{"warm":true}`},
	} {
		set, err := k.app.book.store.Setting(t.Context(), key)
		require.NoError(t, err)
		for _, w := range want {
			assert.Contains(t, string(set.Body), w)
		}
	}
}

// What is typed before the book has been read is joined with what stands in it, and
// kept there.
func TestTypedBeforeTheBookIsThere(t *testing.T) {
	k := someone(t)
	saveAs(k, "Sorrel gel", "9")
	k.typing("sheet-mass", "2.1", "scale-1-step", "2", "lab-evening-service", "19:30")
	k.press("evening-add", 1)
	draft := k.app.Draft()
	k.typing("powder-bloom", "220") // in another window, after that draft

	early := opening(t, k.store.Connect(), draft)
	early.typing("sheet-mass", "2.4", "lab-evening-covers", "30")
	early.press("add-body")
	early.typing("body-1-size", "500") // how many is not said yet
	early.app.Store(t.Context(), book.New(early.store, Checks()), "")
	early.show()
	for _, each := range []*kitchen{early, returning(t, k.store.Connect(), "")} {
		assert.Equal(t, "2.4", each.paper.values["sheet-mass"], "typed early")
		assert.Equal(t, "220", each.paper.values["powder-bloom"], "of the other window")
		assert.Equal(t, "2", each.paper.values["scale-1-step"])
		assert.Equal(t, formula.Fields{"lab-evening-service": "19:30", "lab-evening-covers": "30"}, each.app.evening.now.Typed)
		require.Len(t, each.app.evening.now.Dishes, 1)
	}
	early.typing("sheet-mass", "2.5")
	assert.Equal(t, "2.5", returning(t, k.store.Connect(), "").paper.values["sheet-mass"], "and what comes after it")
}

// The shelf that a draft was weighed with is mostly the book's: what is half typed
// when the book comes stays.
func TestHalfTypedWhenTheBookComes(t *testing.T) {
	k := someone(t)
	k.typing("sheet-mass", "2.1")
	again := opening(t, k.store.Connect(), k.app.Draft())
	again.press("add-scale")
	again.typing("scale-3-step", "0.5", "powder-bloom", "abc")
	require.NotEmpty(t, again.paper.says["powder-bloom"])
	again.app.Store(t.Context(), book.New(again.store, Checks()), "")
	again.show()
	assert.Equal(t, "0.5", again.paper.values["scale-3-step"])
	assert.NotEmpty(t, again.paper.says["powder-bloom"])

	k.typing("powder-bloom", "220")
	again.app.Changed(t.Context())
	again.show()
	assert.Equal(t, "220", again.paper.values["powder-bloom"])
	assert.Empty(t, again.paper.says["powder-bloom"], "what was wrong is not there any more")
}

// A book that cannot be read at first must not be written over by the shelf that the
// page begins with; what was typed is kept once it can be read.
func TestShelfWhenTheFirstReadingFails(t *testing.T) {
	k := someone(t)
	k.typing("sheet-mass", "2.1")
	draft := k.app.Draft()
	k.typing("powder-bloom", "220")

	again := opening(t, k.store.Connect(), draft)
	again.store.Fail = func(string) error { return &book.Failure{Op: "test", Kind: book.ErrQuota} }
	again.typing("sheet-grade", "gold")
	again.app.Store(t.Context(), book.New(again.store, Checks()), "")
	again.show()
	require.NotEmpty(t, again.paper.texts["storage-problem"])
	again.typing("scale-1-step", "2")
	again.store.Fail = nil
	again.typing("chargers", "8")
	after := returning(t, k.store.Connect(), "")
	for name, want := range map[string]string{"sheet-mass": "2.1", "powder-bloom": "220", "sheet-grade": "gold", "scale-1-step": "2", "chargers": "8"} {
		assert.Equal(t, want, after.paper.values[name], name)
	}
}
