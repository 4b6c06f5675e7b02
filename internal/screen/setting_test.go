package screen

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
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
