package screen

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// twice presses a button twice before the store has answered, as a wet finger does.
func (k *kitchen) twice(what string, row int) {
	k.t.Helper()
	k.hold = true
	k.press(what, row)
	k.press(what, row)
	k.hold = false
	k.settle()
}

func TestWhatIsPressedTwiceIsDoneOnce(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	k.typing("trial-firmness", "-1")
	k.twice("trial-save", 0)
	assert.Len(t, k.stored(), 1, "a trial")
	k.typing("ladder-2-firmness", "-1")
	k.twice("ladder-save", 0)
	assert.Len(t, k.stored(), 2, "a cup")
	k.twice("trial-drop", 1)
	assert.Len(t, k.stored(), 1, "a trial that is taken out")
	assert.Empty(t, k.paper.texts["storage-problem"])
	k.twice("undo", 0)
	assert.Len(t, k.stored(), 2)
	assert.Empty(t, k.paper.texts["storage-problem"])
	k.twice("version-back", 2)
	assert.Empty(t, k.paper.texts["storage-problem"], "go back")
	k.twice("version-branch", 1)
	assert.Len(t, k.names(), 2, "a branch")
	k.press("kept-close")
	k.twice("duplicate", 1)
	assert.Len(t, k.names(), 3, "a copy")
	k.twice("delete", 1)
	assert.Len(t, k.names(), 2, "a deletion")
	assert.Empty(t, k.paper.texts["storage-problem"])
	k.twice("restore", 1)
	assert.Len(t, k.names(), 3)
	assert.Empty(t, k.paper.texts["storage-problem"], "restore")
	text := k.exported()
	other := someone(t)
	other.take("book.json", text)
	other.twice("import-apply", 0)
	assert.Len(t, other.names(), 3)
	assert.Empty(t, other.paper.texts["storage-problem"], "import")
	left := someone(t)
	left.take("book.json", text)
	left.hold = true
	left.press("import-apply")
	left.press("import-drop")
	left.hold = false
	left.settle()
	assert.Len(t, left.names(), 3, "what was begun is done")
	k.app.LabOn()
	k.show()
	k.twice("evening-add", 1)
	assert.Len(t, k.app.evening.now.Dishes, 1, "evening")
	k.press("delete", 1)
	k.twice("purge-yes", 0)
	assert.Contains(t, k.paper.texts["storage-problem"], "1")
}
