package screen

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestVersionsSayWhatChanged(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	assert.Equal(t, "kept", k.at)
	assert.True(t, k.shown("kept") && !k.shown("book-list"))
	assert.Equal(t, "Quince gel", k.paper.texts["kept-name"])
	assert.Equal(t, []string{"Version 3, 2026-05-06", "Version 2, 2026-05-05", "Version 1, 2026-05-04"}, k.column("version", "name"))
	what := k.column("version", "what")
	assert.Contains(t, what[0], "locust bean gum added: 0.4\u00a0g")
	assert.Contains(t, what[0], "Make it for: 350\u00a0g of liquid → 700\u00a0g of liquid")
	assert.Equal(t, "agar: 2\u00a0g → 3\u00a0g", what[1])
	assert.Equal(t, "The first one", what[2])
	assert.False(t, k.shown("version-1-back"), "the newest is where one is")
	assert.True(t, k.shown("version-2-back"))
	k.press("kept-close")
	assert.True(t, !k.shown("kept") && k.shown("book-list"))
}

func TestOldVersionOpensAndSavesAsANewOne(t *testing.T) {
	k := quince(t)
	k.press("kept", 1)
	k.press("version-open", 3)
	assert.Equal(t, "pan", k.at)
	assert.Equal(t, "2", k.paper.values["dose-1-amount"])
	assert.Equal(t, "Changed since it was saved", k.saveState())
	k.time += day
	k.press("save")
	assert.Equal(t, "Saved 2026-05-07", k.saveState())
	k.press("kept-pan")
	assert.Len(t, k.column("version", "name"), 4)
	assert.Contains(t, k.column("version", "what")[0], "locust bean gum taken out")
	assert.Len(t, k.names(), 1, "no copy")

	k.press("version-open", 1)
	assert.Equal(t, "Saved 2026-05-07", k.saveState(), "the newest is what is saved")
}

func TestGoBackAndTakeThatBack(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	k.press("version-back", 2)
	assert.Equal(t, 4, k.paper.rows["version"], "what was there stays")
	assert.Equal(t, "3", k.paper.values["dose-1-amount"])
	assert.Equal(t, "350", k.paper.values["batch-liquid"], "the pan follows")
	assert.Equal(t, "Saved 2026-05-06", k.saveState())
	assert.Contains(t, k.paper.texts["undo-what"], "Version 2")
	k.press("undo")
	assert.Equal(t, 5, k.paper.rows["version"])
	assert.Equal(t, "700", k.paper.values["batch-liquid"])

}

// A pan that stayed behind while its formula went back would be saved beside it, as a
// second formula of the same name.
func TestGoBackWithAChangeInThePan(t *testing.T) {
	k := quince(t)
	k.typing("batch-liquid", "123")
	k.press("kept-pan")
	k.press("version-back", 3)
	assert.Equal(t, 4, k.paper.rows["version"])
	assert.Equal(t, "2", k.paper.values["dose-1-amount"], "the pan follows")
	assert.Equal(t, "350", k.paper.values["batch-liquid"])
	assert.Equal(t, "Saved 2026-05-06", k.saveState())
	assert.Equal(t, "Version 1, 2026-05-04 is the newest again. The change in the pan was not saved.", k.paper.texts["undo-what"])
	k.typing("dose-1-amount", "2.2")
	k.press("save")
	assert.Equal(t, "Saved 2026-05-06", k.saveState())
	assert.Len(t, k.names(), 1, "of the same formula")
}

func TestGoBackAndHaveTheChangeAgain(t *testing.T) {
	k := quince(t)
	k.typing("batch-liquid", "123")
	k.press("kept-pan")
	k.press("version-back", 3)
	k.typing("batch-liquid", "456")
	k.press("undo")
	assert.Equal(t, "123", k.paper.values["batch-liquid"], "the change is there again")
	assert.Equal(t, "3", k.paper.values["dose-1-amount"], "and the version that it is of")
	assert.Equal(t, "Changed since it was saved", k.saveState())
	assert.Equal(t, 5, k.paper.rows["version"])
	k.press("undo")
	assert.Equal(t, "456", k.paper.values["batch-liquid"], "nor is lost what was typed since")
	assert.Equal(t, "2", k.paper.values["dose-1-amount"])
	k.press("undo")
	k.press("save")
	assert.Len(t, k.names(), 1, "no copy")
	k.press("open", 1)
	assert.Equal(t, "123", k.paper.values["batch-liquid"])
}

// The versions may stand open while the pan is saved.
func TestVersionsFollowASave(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	k.goTo("#pan")
	k.typing("batch-liquid", "123")
	k.press("save")
	k.goTo("#book")
	assert.Equal(t, 4, k.paper.rows["version"])
	k.press("version-back", 4)
	assert.Equal(t, 5, k.paper.rows["version"])
	assert.Len(t, k.names(), 1, "no copy")
}

// By the time that it is taken back, another formula may be in the pan, and no entry
// be shown.
func TestGoBackTakenBackFromElsewhere(t *testing.T) {
	k := quince(t)
	k.typing("batch-liquid", "123")
	k.press("kept-pan")
	k.press("version-back", 3)
	k.press("kept-close")
	k.press("open-example", 1)
	k.press("undo")
	assert.Equal(t, "123", k.paper.values["batch-liquid"])
	assert.Equal(t, "Changed since it was saved", k.saveState())
	k.press("save")
	assert.Len(t, k.names(), 1)
}

// A save, here or in another window, comes before the way back is taken back: neither
// is a version kept as a second formula then, nor the change lost.
func TestGoBackTakenBackTooLate(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	k.press("version-back", 3)
	k.typing("batch-liquid", "124")
	k.press("save")
	assert.False(t, k.shown("notice-undo"))

	k.typing("batch-liquid", "125")
	k.press("version-back", 2)
	k.typing("dose-1-amount", "7")
	k.press("save")
	require.True(t, k.shown("notice-undo"), "the change of before is nowhere else")
	k.press("undo")
	assert.Equal(t, "125", k.paper.values["batch-liquid"])
	k.press("save")
	assert.Equal(t, "Saved 2026-05-06", k.saveState())
	assert.Len(t, k.names(), 1)

	k.press("version-back", 2)
	other := returning(t, k.store.Connect(), "")
	other.ids = 1000
	other.press("open", 1)
	other.typing("dose-1-amount", "5")
	other.press("save")
	k.press("undo")
	assert.Contains(t, k.paper.texts["storage-problem"], "changed in another window")
	k.app.Changed(t.Context())
	k.show()
	assert.Len(t, k.names(), 1)
}

func TestBranch(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	k.press("version-branch", 2)
	assert.Equal(t, "Quince gel (from version 2)", k.paper.texts["kept-name"])
	assert.Equal(t, []string{"Begun from another formula"}, k.column("version", "what"))
	assert.Len(t, k.names(), 2)
	k.press("version-open", 1)
	assert.Equal(t, "3", k.paper.values["dose-1-amount"])
	assert.Equal(t, "350", k.paper.values["batch-liquid"])
}

// differing are the lines of the comparison that are not the same.
func (k *kitchen) differing() map[string][3]string {
	out := map[string][3]string{}
	what, mark, left, right := k.column("differ", "what"), k.column("differ", "mark"), k.column("differ", "left"), k.column("differ", "right")
	for i := range what {
		if mark[i] != "same" {
			out[what[i]] = [3]string{mark[i], left[i], right[i]}
		}
	}
	return out
}

func TestCompare(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	assert.True(t, k.shown("compare"))
	assert.Equal(t, "2", k.paper.values["compare-left"])
	assert.Equal(t, "3", k.paper.values["compare-right"])
	assert.Equal(t, map[string][3]string{
		"locust bean gum": {"only on the right", "–", "0.4\u00a0g"},
		"Make it for":     {"changed", "350\u00a0g of liquid", "700\u00a0g of liquid"},
	}, k.differing())
	k.typing("compare-left", "3", "compare-right", "1")
	assert.Equal(t, map[string][3]string{
		"locust bean gum": {"only on the left", "0.4\u00a0g", "–"},
		"agar":            {"changed", "3\u00a0g", "2\u00a0g"},
		"Make it for":     {"changed", "700\u00a0g of liquid", "350\u00a0g of liquid"},
	}, k.differing())
	k.typing("compare-left", "1")
	assert.Empty(t, k.differing())
}

// Everything that a formula holds must show in a comparison.
func TestCompareSeesEveryInput(t *testing.T) {
	base := []string{"make", "portions", "portions", "12", "portion-size", "70", "loss-boil-unit", "g"}
	for name, pair := range map[string][2]string{
		"part-1-name": {"quince juice", "pear juice"}, "part-1-amount": {"200", "201"}, "part-1-unit": {"g", "ml"},
		"dose-1-amount": {"2", "2.001"}, "dose-1-unit": {"%", "% batch"}, "portions": {"12", "13"}, "portion-size": {"70", "71"}, "spare": {"", "5"},
		"loss-boil": {"", "15"}, "loss-blender": {"3", "4"}, "loss-sieve": {"1", "2"}, "loss-bottle": {"1", "2"}, "liquid-density": {"1", "1.02"},
		"tags": {"cold", "cold, sweet"}, "notes": {"a", "b"}, "name": {"a", "b"}, "lab-swap-ph": {"", "3.4"},
	} {
		t.Run(name, func(t *testing.T) {
			k := someone(t)
			k.twoAgents()
			k.typing(base...)
			k.typing(name, pair[0])
			k.press("save")
			k.typing(name, pair[1])
			k.press("save")
			require.True(t, strings.HasPrefix(k.saveState(), "Saved"), k.saveState())
			k.press("kept-pan")
			require.Equal(t, 2, k.paper.rows["version"])
			assert.NotEmpty(t, k.differing())
		})
	}
}

// "Saved" would be true of the dose in the pan, and still not what the book says.
func TestPanThatTheBookHasLeftBehind(t *testing.T) {
	k := quince(t)
	other := returning(t, k.store.Connect(), k.app.Draft())
	other.ids = 1000
	other.time += 9 * day
	other.typing("dose-1-amount", "3.6")
	other.press("save")
	const says = "The book has a newer version of it"
	k.app.Changed(t.Context())
	k.show()
	assert.Equal(t, says, k.saveState())
	assert.Equal(t, "3", k.paper.values["dose-1-amount"], "nothing changes under the cook's hand")
	assert.True(t, k.shown("pan-kept"), "the way to it")
	again := returning(t, k.store.Connect(), k.app.Draft())
	assert.Equal(t, says, again.saveState(), "after a reload as well")
	k.typing("batch-liquid", "640")
	assert.Equal(t, says, k.saveState())
	k.press("kept-pan")
	k.press("version-open", 1)
	assert.Equal(t, "Saved 2026-05-13", k.saveState())
	assert.Equal(t, "3.6", k.paper.values["dose-1-amount"])

	again.press("save")
	assert.Equal(t, "It had been changed elsewhere: both are in the book", again.saveState())
	again.typing("batch-liquid", "650")
	again.press("save")
	assert.Equal(t, "Saved 2026-05-04", again.saveState())
}

// Of a backup that goes further than the book, the pan has not got the newest either.
func TestPanAfterAnImportThatGoesFurther(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	other := someone(t)
	other.take("book.json", k.exported())
	other.press("import-apply")
	other.press("open", 1)
	assert.Equal(t, "Saved 2026-05-04", other.saveState())
	k.time += day
	k.typing("dose-1-amount", "3")
	k.press("save")
	other.take("book.json", k.exported())
	other.press("import-apply")
	assert.Equal(t, "The book has a newer version of it", other.saveState())
	other.press("open", 1)
	assert.Equal(t, "Saved 2026-05-05", other.saveState())
	assert.Equal(t, "3", other.paper.values["dose-1-amount"])
}

// What another window has deleted is in the bin: the pan holds no saved formula then.
func TestPanWhoseFormulaAnotherWindowDeleted(t *testing.T) {
	k := quince(t)
	other := returning(t, k.store.Connect(), k.app.Draft())
	other.press("delete", 1)
	k.app.Changed(t.Context())
	k.show()
	assert.Equal(t, "Not saved yet", k.saveState())
	assert.False(t, k.shown("pan-kept"))
	k.press("save")
	assert.Equal(t, "Saved 2026-05-06", k.saveState())
	assert.Equal(t, []string{"Quince gel"}, k.names())
	other.app.Changed(t.Context())
	other.press("undo")
	assert.Len(t, other.names(), 2)
}

func TestVersionsOfAnotherWindow(t *testing.T) {
	k := quince(t)
	k.press("kept-pan")
	other := returning(t, k.store.Connect(), "")
	other.ids = 1000
	other.press("open", 1)
	other.typing("dose-1-amount", "5")
	other.press("save")
	k.app.Changed(t.Context())
	k.show()
	assert.Equal(t, 4, k.paper.rows["version"])
	other.press("delete", 1)
	other.press("purge-yes")
	k.app.Changed(t.Context())
	k.show()
	assert.False(t, k.shown("kept"), "it is gone")
	assert.Contains(t, k.paper.texts["storage-problem"], "no longer in the book")
}
