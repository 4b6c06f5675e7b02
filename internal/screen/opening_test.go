package screen

import (
	"testing"

	"github.com/stretchr/testify/assert"

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
	k.typing("batch-liquid", "731")
	k.press("add-dose")
	k.typing("dose-3-name", `<b>"xanthan"`, "dose-3-amount", "3")
	k.press("save")
	k.typing("dose-3-amount", "abc", "sheet-mass", "2.5")
	draft, drafts, at, asked := k.app.Draft(), k.drafts, k.at, k.asked
	assert.Equal(t, begun(draft), k.app.Opening(draft), "a saved formula, a wrong figure and a shelf")
	assert.NotEqual(t, k.app.Opening(""), k.app.Opening(draft))
	assert.Equal(t, begun("{"), k.app.Opening("{"), "a draft that cannot be read")
	assert.Equal(t, []any{drafts, at, asked}, []any{k.drafts, k.at, k.asked}, "nothing is done to the page")
	assert.Empty(t, k.app.Patch(), "and nothing changes on it")
	t.Log(len(begun("")), begun(""))
}

func BenchmarkOpening(b *testing.B) {
	k := someone(b)
	draft := k.app.Draft()
	for b.Loop() {
		k.app.Opening(draft)
	}
}
