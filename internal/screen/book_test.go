package screen

import (
	"context"
	"maps"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/formula"
	"tremblant/internal/wire"
)

func TestSavedOnlyWhenStored(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	assert.Equal(t, "Not saved yet", k.saveState())
	k.hold = true
	k.press("save")
	assert.Equal(t, "Saving…", k.saveState())
	assert.Equal(t, "saving", k.paper.states["state"])
	assert.Empty(t, k.names())
	k.settle()
	assert.Equal(t, "Saved 2026-05-04", k.saveState())
	assert.Equal(t, "saved", k.paper.states["state"])
	assert.Equal(t, []string{"Quince gel"}, k.names())
	assert.Equal(t, 1, k.asked, "the browser is asked to keep it")
}

func TestSaveWithoutAChangeMakesNoVersion(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	k.time += 24 * 60 * 60 * 1000
	k.press("save")
	assert.Equal(t, "Unchanged since 2026-05-04", k.saveState())
	k.press("kept-pan")
	assert.Equal(t, "1 kept", k.paper.texts["versions-sum"])
	k.typing("batch-liquid", "400", "batch-liquid", "350")
	k.press("save")
	assert.Equal(t, "1 kept", k.paper.texts["versions-sum"], "changed and changed back")
	k.typing("batch-liquid", "400")
	k.press("save")
	assert.Equal(t, "2 kept", k.paper.texts["versions-sum"])
	assert.Equal(t, "Saved 2026-05-05", k.saveState())
}

// A formula that was saved and is in the book no more is saved anew.
func TestSaveWithoutAChangeOfWhatIsGone(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	other := returning(t, k.store.Connect(), "")
	other.press("delete", 1)
	k.press("save")
	assert.Equal(t, []string{"Quince gel"}, k.names())
	assert.NotContains(t, k.saveState(), "Unchanged")
}

func TestTypingWhileSaving(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.hold = true
	k.press("save")
	k.typing("batch-liquid", "400")
	k.settle()
	assert.Equal(t, "Changed since it was saved", k.saveState(), "what was typed meanwhile is not saved")
	assert.Equal(t, "400", k.app.pan.fields["batch-liquid"])
}

func TestStoreFails(t *testing.T) {
	for step, want := range map[string]struct {
		err  error
		says string
	}{
		"write":  {&book.Failure{Op: "test", Kind: book.ErrQuota}, "no room left"},
		"commit": {&book.Failure{Op: "test", Kind: book.ErrUncertain}, "Save again"},
		"read":   {nil, ""},
	} {
		if want.err == nil {
			continue
		}
		t.Run(step, func(t *testing.T) {
			k := someone(t)
			k.twoAgents()
			k.store.Fail = func(at string) error {
				if at == step {
					return want.err
				}
				return nil
			}
			k.press("save")
			assert.Equal(t, "Could not be saved", k.saveState())
			assert.True(t, k.shown("notice-storage"))
			assert.Contains(t, k.paper.texts["storage-problem"], want.says)
			assert.Empty(t, k.names())
			assert.InEpsilon(t, 3.5, k.figure("dose-1-mass"), 1e-12)

			k.store.Fail = nil
			k.press("save")
			assert.Equal(t, "Saved 2026-05-04", k.saveState())
			assert.Equal(t, []string{"Quince gel"}, k.names(), "once")
		})
	}
}

func TestConflictKeepsBoth(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	other := returning(t, k.store.Connect(), "")
	other.ids = 1000
	other.press("open", 1)
	other.typing("dose-1-amount", "3")
	other.press("save")
	assert.Equal(t, "Saved 2026-05-04", other.saveState())

	k.typing("dose-1-amount", "4")
	k.press("save")
	assert.Equal(t, "It had been changed elsewhere: both are in the book", k.saveState())
	assert.Len(t, k.names(), 2)
	var amounts []string
	for row := range 2 {
		k.press("open", row+1)
		amounts = append(amounts, k.paper.values["dose-1-amount"])
	}
	assert.ElementsMatch(t, []string{"3", "4"}, amounts)
	marked := k.paper.texts["entry-1-what"] + k.paper.texts["entry-2-what"]
	assert.Equal(t, 1, strings.Count(marked, "kept from a conflict"), marked)
}

// The browser may clear its data, while the page is open or between two visits.
func TestBookThatTheBrowserCleared(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	draft := k.app.Draft()

	later := returning(t, book.NewMemory(), draft)
	assert.Contains(t, later.paper.texts["storage-problem"], "has cleared")
	assert.Equal(t, "Not saved yet", later.saveState(), "whatever the draft remembers")
	assert.Equal(t, "Quince gel", later.paper.values["name"])
	later.press("save")
	assert.Equal(t, "Saved 2026-05-04", later.saveState())
	assert.Equal(t, []string{"Quince gel"}, later.names())

	brief := opening(t, book.NewMemory(), draft)
	brief.app.Store(t.Context(), book.New(brief.store, Checks()), "storage.newer")
	brief.show()
	assert.Contains(t, brief.paper.texts["storage-problem"], "newer version", "that the book cannot be read is no loss of it")

	k.app.book.store = book.New(book.NewMemory(), Checks())
	k.app.Changed(t.Context())
	k.show()
	assert.Contains(t, k.paper.texts["storage-problem"], "has cleared")
	assert.Equal(t, "Not saved yet", k.saveState())
	assert.Empty(t, k.names())
}

// To empty the bin is no loss to tell of.
func TestPurgeIsNoLoss(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	other := returning(t, k.store.Connect(), "")
	k.press("delete", 1)
	other.app.Changed(t.Context())
	k.press("purge")
	k.press("purge-yes")
	other.app.Changed(t.Context())
	other.show()
	for _, each := range []*kitchen{k, other} {
		assert.NotContains(t, each.paper.texts["storage-problem"], "has cleared")
	}
}

// A newer program may have added members to the entry and to the formula in it.
// An edit here hands them on, also after the page was loaded anew in between,
// and in the copy that a conflict keeps.
func TestMembersOfANewerProgramSurviveAnEdit(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	e, err := k.app.book.store.Open(t.Context(), k.app.book.open.id)
	require.NoError(t, err)
	d := book.DraftOf(e)
	d.Saved = k.time
	d.Body = []byte(strings.NewReplacer(`{"form":1,`, `{"form":1,"of-tomorrow":{"glow":[1,2]},`,
		`"agent":"agar",`, `"agent":"agar","sieved":true,`, `"make":{`, `"make":{"rack":[3],`).Replace(string(e.Body)))
	d.Rest = []wire.Member{{Name: "owner", Value: read(t, `"night shift"`)}}
	_, err = k.app.book.store.Save(t.Context(), d)
	require.NoError(t, err)
	k.app.Changed(t.Context())
	k.show()
	k.press("open", 1)

	other := returning(t, k.store.Connect(), k.app.Draft())
	other.ids = 1000
	other.typing("dose-1-amount", "3")
	other.press("save")
	assert.Equal(t, "Saved 2026-05-04", other.saveState())
	k.typing("dose-1-amount", "4")
	k.press("save")
	assert.Equal(t, "It had been changed elsewhere: both are in the book", k.saveState())

	file, bad, err := k.app.book.store.Export(t.Context())
	require.NoError(t, err)
	require.Empty(t, bad)
	kept := 0
	for _, e := range file.Revisions {
		f, err := formula.Decode(e.Body)
		require.NoError(t, err)
		if e.Rev == 1 && e.Conflict == "" {
			continue // it was saved before the newer program came
		}
		kept++
		for _, added := range []string{`"of-tomorrow":{"glow":[1,2]}`, `"sieved":true`, `"rack":[3]`} {
			assert.Contains(t, string(e.Body), added, "revision %d of %s: %v", e.Rev, e.ID, f.Doses)
		}
		require.Len(t, e.Rest, 1)
		assert.Equal(t, "owner", e.Rest[0].Name)
	}
	assert.Equal(t, 3, kept, "the newer program's, the edit of it, the edit that came second")
}

func read(t *testing.T, json string) wire.Value {
	t.Helper()
	v, err := wire.Read(json, wire.Limits{})
	require.NoError(t, err)
	return v
}

func TestAnotherWindowShowsInTheList(t *testing.T) {
	k := someone(t)
	other := returning(t, k.store.Connect(), "")
	other.twoAgents()
	other.press("save")
	k.app.Changed(t.Context())
	k.show()
	assert.Equal(t, []string{"Quince gel"}, k.names())
}

func TestOpenOffersWhatWasThere(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	k.press("new")
	assert.False(t, k.shown("notice-undo") && strings.Contains(k.paper.texts["undo-what"], "empty"), "what is saved needs no undo")
	k.typing("dose-1-name", "gellan", "dose-1-amount", "7")
	k.goTo("#book")
	assert.True(t, k.shown("book") && !k.shown("pan"))
	k.press("open", 1)
	assert.Equal(t, "pan", k.at)
	assert.True(t, k.shown("pan"))
	assert.Equal(t, "Quince gel", k.paper.values["name"])
	assert.InEpsilon(t, 3.5, k.figure("dose-1-mass"), 1e-12)
	assert.Equal(t, "Saved 2026-05-04", k.saveState())
	assert.True(t, k.shown("notice-undo"))
	k.press("undo")
	assert.Equal(t, "gellan", k.paper.values["dose-1-name"])
	assert.Equal(t, "7", k.paper.values["dose-1-amount"])
	assert.Equal(t, "Not saved yet", k.saveState())
}

func TestRename(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	k.press("rename", 1)
	assert.True(t, k.shown("entry-1-rename-ask"))
	assert.Equal(t, "Quince gel", k.paper.values["entry-1-rename"])
	assert.Equal(t, "entry-1-rename", k.paper.focus)
	k.enter("entry-1-rename", "  Quince, firmer ")
	assert.Equal(t, []string{"Quince, firmer"}, k.names())
	assert.False(t, k.shown("entry-1-rename-ask"))
	assert.Equal(t, "Quince, firmer", k.paper.values["name"], "the pan follows")
	assert.Equal(t, "Saved 2026-05-04", k.saveState())
	k.typing("batch-liquid", "100")
	k.press("save")
	assert.Len(t, k.names(), 1, "a save after it is no conflict")

	k.press("rename", 1)
	k.enter("entry-1-rename", " ")
	assert.Equal(t, []string{"Quince, firmer"}, k.names(), "an empty name changes nothing")
	assert.False(t, k.shown("entry-1-rename-ask"))
}

// Not every way to put a keyboard away is Enter.
func TestRenameWithoutEnter(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	k.goTo("#book")
	k.press("rename", 1)
	k.typing("entry-1-rename", "Quince, firmer")
	other := returning(t, k.store.Connect(), "")
	other.ids = 1000
	other.time += 1000
	other.twoAgents()
	other.press("save")
	k.app.Changed(t.Context())
	k.show()
	assert.True(t, k.shown("entry-2-rename-ask"), "it goes with its formula, which another one came before")
	assert.False(t, k.shown("entry-1-rename-ask"))
	assert.Equal(t, "Quince, firmer", k.paper.values["entry-2-rename"])
	k.press("rename-save", 2)
	assert.ElementsMatch(t, []string{"Quince gel", "Quince, firmer"}, k.names())

	k.time += 2000
	k.press("rename", 1)
	k.typing("entry-1-rename", "Quince, softer")
	k.goTo("#pan")
	assert.Contains(t, k.names(), "Quince, softer", "to leave the book is to be done with it")
	k.press("rename", 1)
	k.typing("entry-1-rename", "")
	k.goTo("#pan")
	k.press("rename", 1)
	k.goTo("#shelf")
	assert.Contains(t, k.names(), "Quince, softer")
	assert.False(t, k.shown("entry-1-rename-ask"))
}

func TestDuplicate(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	k.time += 1000
	k.press("duplicate", 1)
	assert.Equal(t, []string{"Quince gel (copy)", "Quince gel"}, k.names())
	k.press("open", 1)
	k.typing("dose-1-amount", "9")
	k.press("save")
	k.press("open", 2)
	assert.Equal(t, "2", k.paper.values["dose-1-amount"], "the first is as it was")
}

func TestDeleteWithUndo(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	k.press("delete", 1)
	assert.Empty(t, k.names())
	assert.False(t, k.shown("book-empty"), "something was saved, and can be taken back")
	assert.Equal(t, "Quince gel is deleted.", k.paper.texts["undo-what"])
	assert.Equal(t, "Not saved yet", k.saveState(), "what is in the pan is in no book")
	assert.Equal(t, "Quince gel", k.paper.values["name"], "but it stays in the pan")
	k.press("undo")
	assert.Equal(t, []string{"Quince gel"}, k.names())
	assert.Equal(t, "Saved 2026-05-04", k.saveState(), "the pan holds that entry again")
	k.typing("batch-liquid", "360")
	k.press("save")
	assert.Equal(t, []string{"Quince gel"}, k.names(), "and saves into it")
}

// What came back by another way, or is gone for good, cannot be taken back once more.
func TestDeletedFormulaIsOfferedOnce(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	k.press("delete", 1)
	assert.True(t, k.shown("notice-undo"))
	k.press("restore", 1)
	assert.False(t, k.shown("notice-undo"))
	assert.Equal(t, []string{"Quince gel"}, k.names())

	k.press("delete", 1)
	assert.True(t, k.shown("notice-undo"))
	k.press("purge-yes")
	assert.False(t, k.shown("notice-undo"))
	assert.False(t, k.shown("bin"))
}

func TestUnnamedFormulaGetsAName(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.typing("name", "")
	k.press("save")
	assert.Equal(t, []string{"quince juice"}, k.names())
	assert.Equal(t, "quince juice", k.paper.values["name"])
	k.press("new")
	k.press("save")
	assert.Contains(t, k.names(), "Without a name")
}

func TestSearch(t *testing.T) {
	k := someone(t)
	for _, one := range [][2]string{{"Quince gel", "winter, cheese"}, {"Beetroot air", "foam"}, {"Crème caramel", "dessert"}} {
		k.time += 1000
		k.twoAgents()
		k.typing("name", one[0], "tags", one[1])
		k.press("save")
	}
	assert.Equal(t, "Formulas: 3 of 3", k.paper.texts["book-count"])
	for query, want := range map[string][]string{
		"beet": {"Beetroot air"}, "CHEESE": {"Quince gel"}, "creme": {"Crème caramel"}, "gel winter": {"Quince gel"},
		"agar": {"Crème caramel", "Beetroot air", "Quince gel"}, "zzz": {}, "": {"Crème caramel", "Beetroot air", "Quince gel"},
	} {
		k.typing("find", query)
		assert.Equal(t, want, k.names(), query)
	}
	k.typing("find", "beet")
	assert.Equal(t, "Formulas: 1 of 3", k.paper.texts["book-count"])
	k.press("delete", 1)
	assert.Empty(t, k.names())
	k.typing("find", "")
	assert.Equal(t, []string{"Crème caramel", "Quince gel"}, k.names(), "the row that was found was deleted, and no other")
	assert.Equal(t, "dessert · agar · xanthan · 2026-05-04", strings.ReplaceAll(k.paper.texts["entry-1-what"], "xanthan gum", "xanthan"))
}

func TestExamples(t *testing.T) {
	k := someone(t)
	require.Equal(t, len(examples), k.paper.rows["example"])
	for i := range examples {
		k.press("open-example", i+1)
		assert.Equal(t, "pan", k.at)
		assert.NotEmpty(t, k.paper.texts[exampleID(i)])
		assert.Equal(t, k.paper.texts[exampleID(i)], k.paper.values["name"])
		assert.NotEqual(t, "stale", k.paper.states["pan"])
		for row := range k.paper.rows["dose"] {
			assert.Positive(t, k.figure("dose-"+string(rune('1'+row))+"-mass"))
		}
		assert.Zero(t, k.paper.rows["unread"], "every line of it is understood")
		assert.False(t, k.shown("notice-undo"), "an example that was not touched is no loss")
	}
	k.typing("dose-1-amount", "1.5")
	k.press("open-example", 1)
	assert.True(t, k.shown("notice-undo"), "a changed one is")
}

func exampleID(i int) string { return "example-" + string(rune('1'+i)) + "-name" }

func TestShelfIsKept(t *testing.T) {
	k := someone(t)
	k.goTo("#shelf")
	k.press("add-scale")
	assert.Equal(t, "scale-3-step", k.paper.focus)
	k.typing("scale-3-step", "0.1", "scale-3-max", "2000", "sheet-mass", "3.3", "sheet-grade", "bronze", "powder-bloom", "220")
	next := returning(t, k.store.Connect(), "")
	for name, want := range map[string]string{
		"scale-1-step": "1", "scale-2-step": "0.01", "scale-3-step": "0.1", "scale-3-max": "2000",
		"sheet-mass": "3.3", "sheet-grade": "bronze", "powder-bloom": "220",
	} {
		assert.Equal(t, want, next.paper.values[name], name)
	}
}

func TestShelfRefuses(t *testing.T) {
	k := someone(t)
	for _, c := range [][3]string{
		{"sheet-mass", "999", "at the most"}, {"sheet-mass", "0.1", "at the least"}, {"sheet-mass", "1,2,3", "Two decimal"},
		{"powder-bloom", "9999", "at the most"}, {"powder-bloom", "abc", "not a figure"},
	} {
		k.typing(c[0], c[1])
		assert.Contains(t, k.paper.says[c[0]], c[2], c)
		assert.True(t, k.paper.invalid[c[0]])
	}
	k.typing("sheet-mass", "", "powder-bloom", "")
	assert.Empty(t, k.paper.says["sheet-mass"]+k.paper.says["powder-bloom"], "empty means not known")

	for _, c := range [][2]string{{"0", "at the least"}, {"1e309", "not a figure"}, {"60", "at the most"}, {"", "Type a figure"}} {
		k.typing("scale-1-step", c[0])
		assert.Contains(t, k.paper.says["scale-1-say"], c[1], c[0])
	}
	assert.Equal(t, "1", returning(t, k.store.Connect(), "").paper.values["scale-1-step"], "what is wrong is not kept")
}

func TestShelfOfTwoWindows(t *testing.T) {
	k := someone(t)
	other := returning(t, k.store.Connect(), "")
	other.typing("powder-bloom", "150")
	k.typing("powder-bloom", "240")
	assert.False(t, k.shown("notice-storage") && k.paper.texts["storage-problem"] != "", "the later one wins")
	assert.Equal(t, "240", returning(t, k.store.Connect(), "").paper.values["powder-bloom"])
}

func TestStoreThatIsNotThere(t *testing.T) {
	k := opening(t, book.NewMemory(), "")
	k.twoAgents()
	k.press("save") // before the store is open
	assert.Equal(t, "Opening the book…", k.saveState())
	k.app.Store(t.Context(), book.New(k.store, Checks()), "storage.none")
	k.show()
	assert.True(t, k.shown("notice-storage"))
	assert.Contains(t, k.paper.texts["storage-problem"], "does not let the page save")
	assert.Contains(t, k.paper.texts["kept-state"], "lets nothing be saved")
	assert.InEpsilon(t, 3.5, k.figure("dose-1-mass"), 1e-12)
	k.press("save")
	assert.Equal(t, "Kept only until the page closes", k.saveState())
	assert.Equal(t, []string{"Quince gel"}, k.names())
	assert.Zero(t, k.asked, "nothing that the browser could keep")
}

func TestNewsOfTheStore(t *testing.T) {
	k := someone(t)
	for _, c := range []struct {
		tell func()
		id   string
		want string
	}{
		{k.app.Outdated, "storage-problem", "newer version"},
		{k.app.Blocked, "storage-problem", "Close it"},
		{func() { k.app.Kept(true) }, "kept-state", "has promised"},
		{func() { k.app.Kept(false) }, "kept-state", "has not promised"},
	} {
		c.tell()
		k.show()
		assert.Contains(t, k.paper.texts[c.id], c.want)
	}
	k.app.Closed("notice-storage")
	k.app.Blocked()
	k.show()
	assert.True(t, k.shown("notice-storage"), "a closed notice comes again")
}

func TestWhatTheStoreBroughtBackIsToldOnce(t *testing.T) {
	k := someone(t)
	told := func(records int) bool {
		k.app.Closed("notice-storage")
		k.app.page.Text("storage-problem", "")
		k.app.Restored(records)
		k.show()
		return k.paper.texts["storage-problem"] == k.app.text("storage.restored")
	}
	assert.False(t, told(0))
	assert.True(t, told(3))
	assert.False(t, told(3))
	assert.True(t, told(4), "more was lost since")
}

func TestDamagedRecordHindersNoOther(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("save")
	require.NoError(t, k.store.Write(t.Context(), book.Strict, []book.Space{book.Heads}, func(tx book.Tx) error {
		return tx.Put(book.Heads, book.Key{ID: "broken"}, "{")
	}))
	next := returning(t, k.store.Connect(), "")
	assert.Equal(t, []string{"Quince gel"}, next.names())
	assert.Contains(t, next.paper.texts["storage-problem"], "could not be read")
}

func TestCrashKeepsTheFormula(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	for range 2 {
		k.app.Crashed("index out of range")
		k.show()
		assert.True(t, k.shown("notice-crash"))
		assert.Equal(t, "index out of range", k.paper.texts["crash-detail"])
		k.paper.hidden["notice-crash"] = true // as the page itself does
		k.app.Closed("notice-crash")
	}
	k.typing("batch-liquid", "700")
	assert.InEpsilon(t, 7.0, k.figure("dose-1-mass"), 1e-12)
	k.press("save")
	assert.Equal(t, "Saved 2026-05-04", k.saveState())
}

func TestLinks(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("link")
	link := k.paper.values["link-text"]
	assert.True(t, k.shown("link-text"))
	assert.Equal(t, "link-text", k.paper.focus)
	hash, found := strings.CutPrefix(link, "https://kitchen.test/")
	require.True(t, found, link)

	other := someone(t)
	other.goTo(hash)
	assert.Equal(t, "pan", other.at)
	assert.InEpsilon(t, 3.5, other.figure("dose-1-mass"), 1e-12)
	assert.Equal(t, "Quince gel", other.paper.values["name"])
	assert.Equal(t, "Not saved yet", other.saveState())

	other.goTo("#formula?lines=200+g+pear+juice%3B2+g+agar%3Bpinch+of+salt&batch-liquid=350")
	assert.InEpsilon(t, 3.5, other.figure("dose-1-mass"), 1e-12)
	assert.Equal(t, "pinch of salt", other.paper.texts["unread-1-line"])
	other.press("undo")
	assert.Equal(t, "Quince gel", other.paper.values["name"], "what was in the pan comes back")
}

// A link that stands there while the formula is changed would be passed on for it.
func TestLinkFollowsThePan(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.press("link")
	k.typing("dose-1-amount", "4")
	hash, _ := strings.CutPrefix(k.paper.values["link-text"], "https://kitchen.test/")
	other := someone(t)
	other.goTo(hash)
	assert.Equal(t, "4", other.paper.values["dose-1-amount"])
	k.press("new")
	assert.False(t, k.shown("link-text"))
}

// A link that nothing opens is not made.
func TestLinkOfTooLongAFormula(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.typing("notes", strings.Repeat("Réserver. ", 900))
	k.press("link")
	assert.False(t, k.shown("link-text"))
	assert.Contains(t, k.paper.says["link-text"], "too long for a link")
	k.typing("notes", "Réserver.")
	assert.Empty(t, k.paper.says["link-text"])
	assert.True(t, k.shown("link-text"))
	hash, _ := strings.CutPrefix(k.paper.values["link-text"], "https://kitchen.test/")
	other := someone(t)
	other.goTo(hash)
	assert.Equal(t, "Réserver.", other.paper.values["notes"])
	k.typing("notes", strings.Repeat("Réserver. ", 900))
	assert.False(t, k.shown("link-text"))
	k.press("new")
	assert.Empty(t, k.paper.says["link-text"])
}

func TestBadLinksChangeNothing(t *testing.T) {
	for name, hash := range map[string]string{
		"unknown field": "#formula?batch-liquid=350&oops=1", "broken escape": "#formula?name=%zz", "not UTF-8": "#formula?name=%ff",
		"control character": "#formula?name=%00", "twice": "#formula?name=a&name=b", "too long": "#formula?name=" + strings.Repeat("x", 9000),
		"markup": "#formula?<script>=1",
	} {
		t.Run(name, func(t *testing.T) {
			k := someone(t)
			k.twoAgents()
			k.goTo(hash)
			assert.True(t, k.shown("notice-storage"))
			assert.Contains(t, k.paper.texts["storage-problem"], "This link is")
			assert.Equal(t, "Quince gel", k.paper.values["name"])
			assert.InEpsilon(t, 3.5, k.figure("dose-1-mass"), 1e-12)
		})
	}
	k := someone(t)
	for _, hash := range []string{"", "#", "#nowhere", "#pan", "#formula"} {
		k.goTo(hash)
		assert.True(t, k.shown("pan") && !k.shown("book") && !k.shown("shelf"), hash)
	}
	k.goTo("#shelf")
	assert.True(t, k.shown("shelf") && !k.shown("pan"))
	assert.Equal(t, "here", k.paper.states["to-shelf"])
	assert.Empty(t, k.paper.states["to-pan"])
}

func TestLabIsToldAndMayChange(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	assert.Empty(t, k.lab)
	k.app.LabOn()
	k.show()
	assert.Contains(t, k.lab, "quince juice")
	k.typing("part-1-name", "medlar juice")
	assert.Contains(t, k.lab, "medlar juice")
	k.app.LabChange(`{"fields":{"dose-1-name":"gellan","dose-1-amount":"1","dose-1-unit":"g","part-1-amount":"100","batch-liquid":"200"},"what":"Swapped."}`)
	k.show()
	assert.InEpsilon(t, 2.0, k.figure("dose-1-mass"), 1e-12)
	assert.Equal(t, "Swapped.", k.paper.texts["undo-what"])
	k.press("undo")
	assert.InEpsilon(t, 3.5, k.figure("dose-1-mass"), 1e-12)
	k.app.LabChange("rubbish")
	k.show()
	assert.InEpsilon(t, 3.5, k.figure("dose-1-mass"), 1e-12)
}

// What the lab asks for crosses what is typed into the pan meanwhile.
func TestLabChangesOnlyWhatItMeans(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.app.LabOn()
	told, err := formula.DecodeWorking(k.lab)
	require.NoError(t, err)
	swapped := maps.Clone(told.Fields)
	swapped["dose-1-name"], swapped["dose-1-amount"], swapped["notes"] = "gellan", "1", "softer"
	delete(swapped, "dose-2-grade")
	body, err := formula.Change{Fields: swapped, From: told.Fields, What: "Swapped."}.Encode()
	require.NoError(t, err)

	k.typing("batch-liquid", "700", "station", "cold")
	k.app.LabChange(string(body))
	k.show()
	assert.InEpsilon(t, 3.5, k.figure("dose-1-mass"), 1e-12, "half of 0.5 % times two")
	for name, want := range map[string]string{"batch-liquid": "700", "station": "cold", "dose-1-name": "gellan", "notes": "softer"} {
		assert.Equal(t, want, k.paper.values[name], name)
	}
	k.press("undo")
	assert.InEpsilon(t, 7.0, k.figure("dose-1-mass"), 1e-12)
	assert.Equal(t, "700", k.paper.values["batch-liquid"])

	k.press("drop-dose", 1) // what the lab means stands in another row now
	k.app.LabChange(string(body))
	k.show()
	assert.Equal(t, "gellan", k.paper.values["dose-1-name"])
	assert.Equal(t, "xanthan", k.paper.values["dose-2-name"], "all of it, as the lab knew it")
	k.press("undo")
	assert.Equal(t, "xanthan", k.paper.values["dose-1-name"])
}

// A store that never answers must not hold the page up.
func TestStoreTakesItsTime(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.hold = true
	k.press("save")
	k.typing("batch-liquid", "700")
	assert.InEpsilon(t, 7.0, k.figure("dose-1-mass"), 1e-12)
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	for _, work := range k.queue {
		work(gone)
	}
	k.queue = nil
	k.show()
	assert.Equal(t, "Could not be saved", k.saveState())
}

func TestSecondTapOnSave(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.hold = true
	k.press("save")
	k.time += 200
	k.press("save")
	k.settle()
	assert.Equal(t, "Saved 2026-05-04", k.saveState())
	assert.Equal(t, []string{"Quince gel"}, k.names())
	k.press("save")
	k.settle()
	assert.Equal(t, []string{"Quince gel"}, k.names(), "and a later one saves again")
}

// Figures of the shelf are typed faster than the store writes.
func TestShelfTypedQuickly(t *testing.T) {
	k := someone(t)
	k.hold = true
	k.typing("powder-bloom", "2", "powder-bloom", "20", "powder-bloom", "200", "sheet-mass", "2", "sheet-mass", "2.5")
	k.settle()
	assert.False(t, k.shown("notice-storage"), k.paper.texts["storage-problem"])
	next := returning(t, k.store.Connect(), "")
	assert.Equal(t, "200", next.paper.values["powder-bloom"])
	assert.Equal(t, "2.5", next.paper.values["sheet-mass"])
}

// Another formula comes into the pan before the store has answered.
func TestOtherFormulaWhileSaving(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.hold = true
	k.press("save")
	k.press("new")
	k.typing("name", "Beetroot air", "part-1-name", "beetroot juice")
	k.settle()
	assert.Equal(t, "Not saved yet", k.saveState(), "what is in the pan now was not saved")
	assert.Equal(t, []string{"Quince gel"}, k.names())
	k.press("save")
	k.settle()
	assert.ElementsMatch(t, []string{"Beetroot air", "Quince gel"}, k.names(), "each is an entry of its own")
}

// A panic in the store's work leaves a page that can save.
func TestSaveAfterAPanic(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.store.Fail = func(step string) error {
		if step == "write" {
			panic("no luck")
		}
		return nil
	}
	assert.Panics(t, func() { k.press("save") }) // the shell recovers
	k.app.Crashed("no luck")
	k.store.Fail = nil
	k.show()
	assert.Equal(t, "Could not be saved", k.saveState())
	k.press("save")
	assert.Equal(t, "Saved 2026-05-04", k.saveState())
}
