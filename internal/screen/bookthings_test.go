package screen

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// desk takes the files that the page hands out.
type desk struct {
	names []string
	kinds []string
	texts [][]byte
}

// Offer implements [Files].
func (d *desk) Offer(name, kind string, text []byte) {
	d.names, d.kinds, d.texts = append(d.names, name), append(d.kinds, kind), append(d.texts, text)
}

func (d *desk) last() string { return string(d.texts[len(d.texts)-1]) }

// withDesk gives a page a place for its files.
func withDesk(k *kitchen) *desk {
	d := &desk{}
	k.app.Files = d
	return d
}

// take chooses a file for the page.
func (k *kitchen) take(name, text string) {
	k.t.Helper()
	k.app.FileComing(name)
	k.show()
	k.app.File(name, []byte(text), false)
	k.show()
}

// column is what stands in one place of every row of a list.
func (k *kitchen) column(list, property string) []string {
	out := []string{}
	for i := range k.paper.rows[list] {
		out = append(out, k.paper.texts[list+"-"+strconv.Itoa(i+1)+"-"+property])
	}
	return out
}

// quince saves a formula in three versions: agar from 2 g to 3 g, then a third
// agent and another amount to make.
func quince(t testing.TB) *kitchen {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	require.Equal(t, "Saved 2026-05-04", k.saveState())
	k.time += day
	k.typing("dose-1-amount", "3")
	k.press("save")
	k.time += day
	k.press("add-dose")
	k.typing("dose-3-name", "locust bean gum", "dose-3-amount", "0.4", "batch-liquid", "700")
	k.press("save")
	return k
}

const day = 24 * 60 * 60 * 1000

// everythingKept goes through all that the book's pages can do once.
func everythingKept(k *kitchen) {
	d := withDesk(k)
	k.press("kept-pan")
	k.typing("trial-firmness", "1", "trial-plunger", "x", "trial-spread", "40", "compare-left", "1")
	k.press("trial-save")
	k.typing("trial-plunger", "30")
	k.press("trial-save")
	k.typing("ladder-cup", "5", "ladder-cup", "60", "ladder-1-firmness", "-1")
	k.press("ladder-save")
	k.press("ladder-save")
	k.press("ladder-use", 2)
	k.press("save")
	k.press("kept-pan")
	k.press("version-open", 2)
	k.press("version-back", 2)
	k.press("version-branch", 1)
	k.press("trial-edit", 1)
	k.press("trial-cancel")
	k.press("trial-drop", 1)
	k.app.PhotoComing()
	k.app.Photo("")
	k.picture(dot)
	k.press("photo-drop")
	k.press("kept-close")
	k.press("kept", 1)
	k.press("kept-close")
	k.press("backup")
	k.press("file-kept")
	k.press("table")
	k.press("backup-later")
	k.take("other.json", d.last())
	k.press("import-drop")
	k.take("book.json", string(d.texts[0]))
	k.press("import-take", 1)
	k.press("import-apply")
	k.typing("chip-1-on", "1")
	k.press("chips-off")
	k.press("delete", 1)
	k.press("restore", 1)
	k.press("delete", 1)
	k.press("purge")
	k.press("purge-no")
	k.press("purge-yes")
	k.press("open", 1)
}
