package screen

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
)

// What the next visit's program says first must be told to the letter: the page
// takes the two for the same.
func TestOpening(t *testing.T) {
	k := someone(t)
	begun := func(draft string) string { // by a program that knows nothing but the draft
		next := New(opening(t, book.NewMemory(), "").app.env, k.app.words)
		next.Begin(draft)
		next.GoTo("")
		return next.Patch()
	}
	assert.Equal(t, begun(""), k.app.Opening(""), "nothing was left")
	assert.Equal(t, begun(""), FirstOpening(k.app.words), "by the build, which has no page")
	k.typing("batch-liquid", "731")
	k.press("add-dose")
	k.typing("dose-3-name", `<b>"xanthan"`, "dose-3-amount", "3")
	k.press("save")
	k.typing("dose-3-amount", "abc", "powder-bloom", "200")
	draft, drafts, at, asked := k.app.Draft(), k.drafts, k.at, k.asked
	assert.Equal(t, begun(draft), k.app.Opening(draft), "a saved formula, a wrong figure and a shelf")
	assert.NotEqual(t, k.app.Opening(""), k.app.Opening(draft))
	assert.Equal(t, begun("{"), k.app.Opening("{"), "a draft that cannot be read")
	assert.Equal(t, []any{drafts, at, asked}, []any{k.drafts, k.at, k.asked}, "nothing is done to the page")
	assert.Empty(t, k.app.Patch(), "and nothing changes on it")

	k.app.words.Find = func(string) (string, bool) { panic("asked to") }
	assert.Empty(t, k.app.Opening(draft), "a draft that brings a panic about")
}

// The figures that a page opens with are those of the shelf, and stay when the book
// is there.
func TestDraftBringsItsShelf(t *testing.T) {
	k := someone(t)
	powder := func(k *kitchen) string { return k.paper.figures["dose-1-as-powder"].text }
	k.press("new")
	k.typing("part-1-name", "quince juice", "part-1-amount", "500", "dose-1-name", "gelatin", "dose-1-amount", "6", "dose-1-grade", "250", "batch-liquid", "500")
	assert.Empty(t, k.paper.values["powder-bloom"])
	drafts := k.drafts
	k.typing("powder-bloom", "200")
	assert.Greater(t, k.drafts, drafts, "the shelf goes into the draft")
	require.Contains(t, powder(k), "6.71", "6 g of 250 bloom in powder of 200")
	draft := k.app.Draft()

	next := opening(t, k.store.Connect(), draft)
	assert.Equal(t, powder(k), powder(next), "before the book is there")
	assert.Equal(t, "200", next.paper.values["powder-bloom"])
	drafts = next.drafts
	next.app.Store(t.Context(), book.New(next.store, Checks()), "")
	next.show()
	assert.Equal(t, powder(k), powder(next))
	assert.Equal(t, drafts, next.drafts, "it is the same in the book")
	next.typing("powder-bloom", "160")
	again := returning(t, k.store.Connect(), draft)
	assert.NotEqual(t, powder(k), powder(again), "the book has the last word")
	assert.Zero(t, again.drafts, "without a draft of its own: another window's may be newer")

	empty := returning(t, book.NewMemory(), draft)
	assert.Empty(t, empty.paper.values["powder-bloom"], "nor is there a shelf that the book has not")
	memory := opening(t, book.NewMemory(), draft)
	memory.app.Store(t.Context(), book.New(memory.store, Checks()), "storage.blocked")
	memory.show()
	assert.Equal(t, "200", memory.paper.values["powder-bloom"], "a book that could not be opened says nothing")
	typing := opening(t, book.NewMemory(), draft)
	typing.typing("powder-bloom", "180")
	typing.app.Store(t.Context(), book.New(typing.store, Checks()), "")
	typing.show()
	assert.Equal(t, "180", typing.paper.values["powder-bloom"], "what was typed before the book was there stays")
}

func BenchmarkOpening(b *testing.B) {
	k := someone(b)
	draft := k.app.Draft()
	for b.Loop() {
		k.app.Opening(draft)
	}
}
