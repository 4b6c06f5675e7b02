package screen

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
)

// exported presses for a backup and gives the file.
func (k *kitchen) exported() string {
	k.t.Helper()
	d := withDesk(k)
	k.press("backup")
	require.Len(k.t, d.texts, 1)
	k.press("file-kept")
	return d.last()
}

// full is a book with versions, trials, a bin and settings.
func full(t testing.TB) *kitchen {
	k := quince(t)
	k.press("kept-pan")
	k.typing("trial-firmness", "-1", "trial-note", "soft")
	k.press("trial-save")
	k.typing("learned-1-use", "", "sheet-mass", "2.1")
	k.time += 1000
	k.press("new")
	k.typing("name", "gone", "dose-1-name", "agar", "dose-1-amount", "1", "part-1-name", "water", "part-1-amount", "100", "batch-liquid", "100")
	k.press("save")
	k.press("delete", 1)
	return k
}

func TestExportWipeImportExportIsTheSame(t *testing.T) {
	k := full(t)
	d := withDesk(k)
	k.press("backup")
	assert.Equal(t, []string{"tremblant-2026-05-06.json"}, d.names)
	assert.True(t, k.shown("file-ready"))
	assert.Contains(t, k.paper.texts["file-name"], "tremblant-2026-05-06.json is ready")
	first := d.last()
	assert.Contains(t, first, `"trials"`)
	assert.NotContains(t, first, book.DevicePrefix)

	fresh := someone(t)
	fresh.time = k.time + 40*day
	fresh.take("mine.json", first)
	assert.True(t, fresh.shown("import-box") && fresh.shown("import-apply"))
	assert.Equal(t, "mine.json", fresh.paper.texts["import-name"])
	assert.Empty(t, fresh.names(), "nothing before it is asked for")
	fresh.press("import-apply")
	assert.False(t, fresh.shown("import-box"))
	assert.Equal(t, []string{"Quince gel"}, fresh.names())
	assert.Equal(t, "2.1", fresh.paper.values["sheet-mass"], "the shelf is there at once")
	assert.Equal(t, first, fresh.exported(), "byte for byte")

	fresh.take("mine.json", first)
	assert.True(t, fresh.shown("import-nothing") && !fresh.shown("import-apply"))
}

func TestPreviewSaysWhatWillHappen(t *testing.T) {
	k := quince(t)
	file := k.exported()
	k.press("open", 1)
	k.typing("dose-1-amount", "4")
	k.press("save")
	k.typing("sheet-mass", "2")
	later := k.exported()

	// Another device took the first backup and went on by itself.
	other := someone(t)
	other.ids = 5000
	other.take("a.json", file)
	assert.Equal(t, "In this file: 1 new.", other.paper.texts["import-sum"])
	assert.Equal(t, []string{"new, up to version 3"}, other.column("incoming", "what"))
	other.press("import-apply")

	apart := someone(t)
	apart.ids = 9000
	apart.take("a.json", file)
	apart.press("import-apply")
	apart.press("open", 1)
	apart.typing("dose-1-amount", "9", "sheet-mass", "3")
	apart.press("save")

	other.take("b.json", later)
	assert.Equal(t, []string{"Quince gel", "Shelf: what this kitchen owns"}, other.column("incoming", "name"))
	assert.Equal(t, "goes on from version 3 to 4", other.paper.texts["incoming-1-what"])

	apart.take("b.json", later)
	assert.Equal(t, []string{"changed here and there: both are kept", "differs: yours stays"}, apart.column("incoming", "what"))
	assert.True(t, apart.shown("incoming-2-take") && !apart.shown("incoming-1-take"))
	apart.press("import-take", 2)
	assert.Equal(t, "differs: the file’s replaces yours", apart.paper.texts["incoming-2-what"])
	assert.Equal(t, "Keep mine", apart.paper.texts["incoming-2-take-text"])
	apart.press("import-apply")
	assert.Len(t, apart.names(), 2)
	assert.Equal(t, "2", apart.paper.values["sheet-mass"])
	assert.Equal(t, "9", apart.paper.values["dose-1-amount"], "the pan is left alone")
	apart.take("b.json", later)
	assert.True(t, apart.shown("import-nothing"), "importing it again adds nothing")
}

func TestImportMeetsAChangeMadeMeanwhile(t *testing.T) {
	k := quince(t)
	file := k.exported()
	other := someone(t)
	other.ids = 5000
	other.take("a.json", strings.Replace(file, "quince juice", "pear juice", 1))
	elsewhere := returning(t, other.store.Connect(), "")
	elsewhere.take("a.json", file)
	elsewhere.press("import-apply")
	other.press("import-apply")
	assert.Contains(t, other.paper.texts["storage-problem"], "Look at the list again")
	assert.Equal(t, []string{"changed here and there: both are kept"}, other.column("incoming", "what"))
	other.press("import-apply")
	assert.Len(t, other.names(), 2)
}

// A formula that was deleted is in the book, but nobody finds it in the list: the preview
// says where it is, and which formula the file would delete.
func TestPreviewSaysWhatIsDeleted(t *testing.T) {
	k := quince(t)
	before := k.exported()
	other := someone(t)
	other.ids = 5000
	other.take("before.json", before)
	other.press("import-apply")

	k.press("delete", 1)
	k.take("before.json", before)
	assert.Equal(t, "In this file: 1 under “Deleted”.", k.paper.texts["import-sum"])
	after := k.exported()
	other.take("after.json", after)
	assert.Equal(t, []string{"goes on from version 3 to 4 · Deleted"}, other.column("incoming", "what"))

	fresh := someone(t)
	fresh.ids = 9000
	fresh.take("after.json", after)
	assert.Equal(t, []string{"new, up to version 4 · Deleted"}, fresh.column("incoming", "what"))
	fresh.press("import-apply")
	assert.Empty(t, fresh.names())
	fresh.press("restore", 1)
	fresh.take("after.json", after)
	assert.Equal(t, "In this file: 1 here already.", fresh.paper.texts["import-sum"], "taken back since")
}

func TestBackupOfAnEmptyBookHasNothingToCount(t *testing.T) {
	file := someone(t).exported()
	k := someone(t)
	k.take("empty.json", file)
	assert.True(t, k.shown("import-box") && k.shown("import-nothing"))
	assert.False(t, k.shown("import-sum"), k.paper.texts["import-sum"])
}

// What an import takes can be opened: no more of a formula is taken than is read again.
func TestImportTakesNoFormulaThatCannotBeOpened(t *testing.T) {
	file := quince(t).exported()
	with := func(newer string) string {
		return strings.ReplaceAll(file, `"form": 1,`, `"form": 1, "newer": `+newer+",")
	}
	for name, c := range map[string]struct{ fits, over string }{
		"deep":  {strings.Repeat("[", 15) + strings.Repeat("]", 15), strings.Repeat("[", 16) + strings.Repeat("]", 16)},
		"wide":  {"[" + strings.Repeat("0,", 499) + "0]", "[" + strings.Repeat("0,", 500) + "0]"},
		"heavy": {"[[0]]", "[" + strings.Repeat("["+strings.Repeat("0,", 400)+"0],", 20) + "0]"},
	} {
		k := someone(t)
		k.take("over.json", with(c.over))
		assert.Contains(t, k.paper.says["import-file"], "/body", name)
		assert.False(t, k.shown("import-box"), name)
		k.take("fits.json", with(c.fits))
		k.press("import-apply")
		k.press("open", 1)
		assert.Equal(t, "Quince gel", k.paper.values["name"], name)
		assert.False(t, k.shown("notice-storage"), name)
	}
}

// The list for a spreadsheet is sound, but no backup; so it is also where a
// spreadsheet wrote it out again. Any other table is a file like any.
func TestListIsNoBackup(t *testing.T) {
	k := quince(t)
	empty, d := someone(t), withDesk(k)
	k.press("table")
	list := d.last()
	none := withDesk(empty)
	empty.press("table")
	for name, text := range map[string]string{
		"as it is": list, "empty": none.last(), "no mark": strings.TrimPrefix(list, "\uFEFF"), "semicolons": strings.TrimPrefix(strings.ReplaceAll(list, ",", ";"), "\uFEFF"),
		"line feeds": strings.ReplaceAll(list, "\r\n", "\n"),
	} {
		k.take("list.csv", text)
		assert.Contains(t, k.paper.says["import-file"], "list.csv: This is the list for a spreadsheet, not a backup", name)
	}
	for _, other := range []string{"a,b,c\n1,2,3", "a,b,c,d,e,f,g,h,i\n1,2,3,4,5,6,7,8,9", "\uFEFFa,b\r\n", "2026-11-25T14:03:53Z"} {
		k.take("other.csv", other)
		assert.Contains(t, k.paper.says["import-file"], "not a backup of this book", other)
	}
}

func TestBadFilesAreRefusedWholeWithTheirPlace(t *testing.T) {
	k := quince(t)
	file := k.exported()
	at := strings.Index(file, `"rev": 3`)
	for name, c := range map[string]struct{ text, says string }{
		"empty":         {"", "damaged at line 1, column 1"},
		"cut short":     {file[:len(file)/2], "damaged at line"},
		"no JSON":       {"agar, 2 g", "not a backup of this book"},
		"a picture":     {"\x89PNG\r\n\x1a\n", "not a backup of this book"},
		"marked":        {"\uFEFF\r\n{", "damaged at line"},
		"not UTF-8":     {strings.Replace(file, "quince", "quin\xff", 1), "damaged at line"},
		"another kind":  {`{"format":"recipes","version":1}`, "not a backup of this book"},
		"newer":         {strings.Replace(file, `"version": 1`, `"version": 2`, 1), "newer version of this page"},
		"newer formula": {strings.Replace(file, `"form": 1`, `"form": 2`, 1), "newer version of this page"},
		"wrong type":    {file[:at] + `"rev": "x"` + file[at+len(`"rev": 3`):], "/revisions/2/rev"},
		"twice":         {file[:at] + `"rev": 2` + file[at+len(`"rev": 3`):], "/revisions/2/rev"},
		"bad formula":   {strings.Replace(file, `"value": 3,`, `"value": -3,`, 1), "/revisions/1/body"},
		"stranger":      {strings.Replace(file, `"trials": []`, `"trials": [], "x": 1`, 1), "does not belong there"},
		"deep":          {strings.Repeat("[", 10_000), "line 1"},
		"device's own":  {strings.Replace(file, `"settings": []`, `"settings": [{"key":"device.backup","rev":1,"saved":1,"body":{}}]`, 1), "/settings/0/key"},
		"foreign trial": {strings.Replace(file, `"trials": []`, `"trials": [{"id":"a","entry":"none","rev":1,"edition":1,"made":1,"saved":1}]`, 1), "/trials/0"},
	} {
		t.Run(name, func(t *testing.T) {
			fresh := someone(t)
			fresh.paper.strict = false // a path may look like a key
			fresh.take("bad.json", c.text)
			assert.Contains(t, fresh.paper.says["import-file"], c.says)
			assert.Contains(t, fresh.paper.says["import-file"], "bad.json: ")
			assert.False(t, fresh.paper.hints["import-file"])
			assert.False(t, fresh.shown("import-box"))
			fresh.press("import-apply")
			assert.Empty(t, fresh.names())
		})
	}
	for _, text := range []string{"", "agar, 2 g", "[]"} {
		k.take("bad.json", text)
		assert.NotContains(t, k.paper.says["import-file"], "()", "nothing to quote")
	}
	k.app.File("huge.json", nil, true)
	k.show()
	assert.Contains(t, k.paper.says["import-file"], "too big")
}

func TestTableForASpreadsheet(t *testing.T) {
	k := full(t)
	k.press("open", 1)
	k.typing("notes", "=SUM(A1)", "name", "Quince, \"firm\"")
	k.press("save")
	d := withDesk(k)
	k.press("table")
	assert.Equal(t, []string{"tremblant-2026-05-06.csv"}, d.names)
	assert.Equal(t, []string{"text/csv"}, d.kinds)
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(d.last(), "\uFEFF"))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 2, "one line a formula, none for what is deleted")
	assert.Equal(t, []string{"name", "tags", "saved", "version", "id", "liquid", "agents", "make", "notes"}, rows[0])
	assert.Equal(t, "Quince, \"firm\"", rows[1][0])
	assert.Equal(t, "4", rows[1][3])
	assert.Equal(t, "quince juice 200\u00a0g", rows[1][5])
	assert.Contains(t, rows[1][6], "agar 3\u00a0g, xanthan 1\u00a0g")
	assert.Equal(t, "'=SUM(A1)", rows[1][8], "no formula of a spreadsheet")
	k.press("file-kept")
	assert.Contains(t, k.paper.texts["backup-state"], "No backup yet", "a table is no backup")
}

func TestBackupReminder(t *testing.T) {
	k := someone(t)
	withDesk(k)
	k.twoAgents()
	assert.False(t, k.shown("backup-due"))
	save := func(n int) {
		for range n {
			k.time++
			k.typing("notes", "x"+k.paper.values["notes"])
			k.press("save")
		}
	}
	save(9)
	assert.False(t, k.shown("backup-due"))
	k.press("kept-pan")
	k.typing("trial-firmness", "0")
	k.press("trial-save")
	assert.True(t, k.shown("backup-due"), "a trial is a change too")
	assert.Equal(t, "No backup yet. Changes so far: 10.", k.paper.texts["backup-due-text"])

	k.press("backup-later")
	assert.False(t, k.shown("backup-due"))
	save(9)
	assert.False(t, k.shown("backup-due"))
	again := returning(t, k.store.Connect(), "")
	assert.False(t, again.shown("backup-due"), "put off for this device, not for this visit")
	save(1)
	assert.True(t, k.shown("backup-due"))

	k.press("backup")
	assert.True(t, k.shown("backup-due"), "not before the file is taken")
	k.press("file-kept")
	assert.False(t, k.shown("backup-due"))
	assert.Equal(t, "Last backup: 2026-05-04. Changes since: 0.", k.paper.texts["backup-state"])
	save(10)
	assert.True(t, k.shown("backup-due"))
	again = returning(t, k.store.Connect(), "")
	assert.Equal(t, "Last backup: 2026-05-04. Changes since: 10.", again.paper.texts["backup-due-text"])
}

// After the service in one kitchen it is the next day already in Greenwich.
func TestFilesBearTheKitchensDay(t *testing.T) {
	k := quince(t)
	d := withDesk(k)
	k.time = firstDay + 13*60*60*1000 // 1:00 UTC
	k.east = -5 * 60 * 60
	k.press("backup")
	k.press("table")
	assert.Equal(t, []string{"tremblant-2026-05-04.json", "tremblant-2026-05-04.csv"}, d.names)
}

// The file lies ready while the cook works on. What is not in it has no backup, whenever
// the file is taken.
func TestBackupThatIsTakenLater(t *testing.T) {
	k := someone(t)
	withDesk(k)
	k.twoAgents()
	k.press("save")
	k.press("backup")
	k.time += day
	k.typing("notes", "less next time")
	k.press("save")
	k.press("kept-pan")
	k.typing("trial-firmness", "0")
	k.press("trial-save")
	k.press("file-kept")
	assert.Equal(t, "Last backup: 2026-05-04. Changes since: 2.", k.paper.texts["backup-state"])
	again := returning(t, k.store.Connect(), "")
	assert.Equal(t, "Last backup: 2026-05-04. Changes since: 2.", again.paper.texts["backup-state"])
	k.press("backup")
	k.press("file-kept")
	assert.Equal(t, "Last backup: 2026-05-05. Changes since: 0.", k.paper.texts["backup-state"])
}

func TestImportedBackupIsNoNews(t *testing.T) {
	k := quince(t)
	for range 10 {
		k.time++
		k.typing("notes", "x"+k.paper.values["notes"])
		k.press("save")
	}
	file := k.exported()
	fresh := someone(t)
	fresh.take("a.json", file)
	fresh.press("import-apply")
	assert.False(t, fresh.shown("backup-due"))
	assert.Contains(t, fresh.paper.texts["backup-state"], "Changes so far: 0")
}

func TestStoreFailsAtExportAndImport(t *testing.T) {
	k := quince(t)
	file := k.exported()
	k.store.Fail = func(string) error { return &book.Failure{Op: "test", Kind: book.ErrStale} }
	d := withDesk(k)
	k.press("backup")
	assert.Empty(t, d.texts)
	assert.Contains(t, k.paper.texts["storage-problem"], "let go of the book")

	fresh := someone(t)
	fresh.take("a.json", file)
	fresh.store.Fail = func(at string) error {
		if at == "commit" {
			return &book.Failure{Op: "test", Kind: book.ErrQuota}
		}
		return nil
	}
	fresh.press("import-apply")
	assert.Contains(t, fresh.paper.texts["storage-problem"], "no room left")
	assert.True(t, fresh.shown("import-box"), "to try again")
	fresh.store.Fail = nil
	fresh.press("import-apply")
	assert.Equal(t, []string{"Quince gel"}, fresh.names())
}

// Backups of every form that was ever released are read for ever. One of the
// form that is written today comes out byte for byte.
func TestBackupsOfEveryReleasedForm(t *testing.T) {
	samples, err := filepath.Glob("testdata/backup/form*.json")
	require.NoError(t, err)
	require.NotEmpty(t, samples)
	for _, name := range samples {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		k := someone(t)
		k.take(name, string(text))
		require.True(t, k.shown("import-apply"), k.paper.says["import-file"])
		k.press("import-apply")
		assert.Equal(t, []string{"Quince gel"}, k.names())
		k.press("kept", 1)
		assert.Equal(t, 3, k.paper.rows["version"])
		assert.Equal(t, []string{"too soft"}, k.column("trial", "what"))
		assert.Equal(t, dot, k.pictured())
		assert.Equal(t, "2.1", k.paper.values["sheet-mass"])
		k.press("version-open", 1)
		assert.InEpsilon(t, 700*3/200.0, k.figure("dose-1-mass"), 1e-9)
		if filepath.Base(name) == "form1.json" {
			assert.Equal(t, string(text), k.exported())
		}
	}
}
