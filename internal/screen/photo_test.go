package screen

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
)

// Two pictures, as good as any to what only passes them on.
const (
	dot   = "data:image/jpeg;base64,AAAA"
	other = "data:image/png;base64,BBBB"
)

// picture chooses a picture for the entry that is shown.
func (k *kitchen) picture(data string) {
	k.t.Helper()
	k.app.PhotoComing()
	k.show()
	k.app.Photo(data)
	k.show()
}

func (k *kitchen) pictured() string { return k.paper.texts["photo-picture src"] }

func TestPhoto(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	assert.False(t, k.shown("photo") || k.shown("photo-drop"))
	k.app.PhotoComing()
	k.show()
	assert.Contains(t, k.paper.says["photo-file"], "small")
	k.app.Photo(dot)
	k.show()
	assert.Empty(t, k.paper.says["photo-file"])
	assert.Equal(t, dot, k.pictured())
	assert.Equal(t, "Picture of Quince gel", k.paper.texts["photo-picture alt"])
	assert.True(t, k.shown("photo") && k.shown("photo-drop"))

	k.picture(other)
	assert.Equal(t, other, k.pictured())
	k.press("undo")
	assert.Equal(t, dot, k.pictured(), "the one before")
	k.press("photo-drop")
	assert.False(t, k.shown("photo"))
	k.press("undo")
	assert.Equal(t, dot, k.pictured())

	again := returning(t, k.store.Connect(), k.app.Draft())
	again.press("kept-pan")
	assert.Equal(t, dot, again.pictured(), "at the next visit too")
	again.press("kept-close")
	again.ids, again.time = 1000, k.time+1000
	again.press("duplicate", 1)
	again.press("kept", 1)
	assert.False(t, again.shown("photo"), "each entry has its own")
}

func TestPhotoThatIsRefused(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	k.picture("")
	assert.Contains(t, k.paper.says["photo-file"], "JPEG, PNG or WebP")
	for _, data := range []string{"data:image/svg+xml;base64,AAAA", "https://example.org/a.jpg", "data:image/jpeg;base64," + strings.Repeat("A", book.MaxPhoto)} {
		k.picture(data)
		assert.Contains(t, k.paper.texts["storage-problem"], "JPEG, PNG or WebP")
		assert.Empty(t, k.pictured())
		k.paper.texts["storage-problem"] = ""
		k.app.page.Text("storage-problem", "")
	}
	k.press("kept-close")
	k.picture(dot)
	k.press("kept", 1)
	assert.Empty(t, k.pictured(), "no entry was shown that it could be of")
}

// It belongs to the entry that was shown when it was chosen.
func TestPhotoComesAfterTheEntryWasLeft(t *testing.T) {
	k := quince(t)
	k.time += 1000
	k.press("duplicate", 1)
	k.press("kept", 1)
	first := k.app.kept.id
	k.app.PhotoComing()
	k.press("kept-close")
	k.press("kept", 2)
	require.NotEqual(t, first, k.app.kept.id)
	k.app.Photo(dot)
	k.show()
	assert.Empty(t, k.pictured())
	p, err := k.app.book.store.Photo(t.Context(), first)
	require.NoError(t, err)
	assert.Equal(t, dot, p.Data)
}

func TestPhotoGoesWithTheBackup(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	k.picture(dot)
	file := k.exported()
	fresh := someone(t)
	fresh.take("mine.json", file)
	assert.Contains(t, fresh.column("incoming", "what")[0], "a picture")
	fresh.press("import-apply")
	fresh.press("kept", 1)
	assert.Equal(t, dot, fresh.pictured())
	assert.Equal(t, file, fresh.exported())
}
