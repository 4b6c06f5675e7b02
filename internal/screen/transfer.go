package screen

import (
	"context"
	"errors"
	"strconv"
	"strings"

	"tremblant/internal/book"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/view"
)

// Files hands a file to the person, who keeps it or passes it on. The page
// offers both once the file is there, as a browser shares only what a press
// asks for.
type Files interface {
	Offer(name, kind string, text []byte)
}

// transfer moves the book out of this device and into it.
type transfer struct {
	app     *App
	file    book.File // read and checked, to be imported
	name    string    // of its file
	preview *book.Preview
	shown   []int // items of the preview, by row
	whole   bool  // the file that is offered is a backup, and was not taken yet
	made    int64 // when it was made, Unix time in ms
	changes int   // in it, that no backup had before
}

func newTransfer(a *App) *transfer {
	t := &transfer{app: a}
	a.does["backup"] = func(int) { t.export() }
	a.does["table"] = func(int) { t.table() }
	a.does["file-kept"] = func(int) {
		if t.whole {
			t.whole = false
			a.backup.done(t.made, t.changes)
		}
	}
	a.does["import-apply"] = func(int) { t.apply() }
	a.does["import-drop"] = func(int) { t.drop() }
	a.does["import-take"] = t.takeSetting
	return t
}

// dated is the name of a file of today, by the clock in the kitchen.
func (t *transfer) dated(ending string) string {
	return "tremblant-" + t.app.env.Day(t.app.env.Now()) + ending
}

// offer hands a file out and says so.
func (t *transfer) offer(name, kind string, text []byte, whole bool, bad int) {
	if t.app.Files == nil {
		return
	}
	t.whole = whole
	t.app.Files.Offer(name, kind, text)
	said := t.app.text("file.ready", note.Typed("name", name), counted("size", (len(text)+999)/1000))
	if bad > 0 {
		said += " " + t.app.text("file.without", counted("count", bad))
	}
	t.app.page.Text("file-name", said)
	t.app.page.Show("file-ready", true)
	t.app.visit("book")
}

// export writes the whole book.
func (t *transfer) export() {
	t.app.book.later(func(ctx context.Context) error {
		// What was typed last may still be on its way into the store. When there
		// is no room for it, a backup of the rest is needed all the more.
		if err := errors.Join(t.app.shelf.keeper.flush(ctx), t.app.evening.keeper.flush(ctx), t.app.learned.keeper.flush(ctx)); err != nil {
			t.app.book.failed(err)
		}
		made, changes := t.app.env.Now(), t.app.backup.sum-t.app.backup.base // before it is read: rather too few
		f, bad, err := t.app.book.store.Export(ctx)
		if err != nil {
			return err
		}
		text, err := f.Encode()
		if err != nil {
			return err
		}
		t.made, t.changes = made, changes
		t.offer(t.dated(".json"), "application/json", text, true, len(bad))
		return nil
	})
}

// table writes the newest version of each formula as a line for a spreadsheet.
func (t *transfer) table() {
	t.app.book.later(func(ctx context.Context) error {
		f, bad, err := t.app.book.store.Export(ctx)
		if err != nil {
			return err
		}
		header := strings.Split(t.app.text("table.header"), ",")
		var rows [][]string
		for i := range f.Revisions {
			last := i+1 == len(f.Revisions) || f.Revisions[i+1].ID != f.Revisions[i].ID
			if last && f.Revisions[i].Binned == 0 {
				rows = append(rows, t.cells(&f.Revisions[i]))
			}
		}
		t.offer(t.dated(".csv"), "text/csv", book.CSV(header, rows), false, len(bad))
		return nil
	})
}

func (t *transfer) cells(e *book.Entry) []string {
	f, err := formula.Decode(e.Body)
	if err != nil {
		f = formula.Formula{}
	}
	var parts []string
	for _, p := range f.Parts {
		parts = append(parts, p.Name+" "+t.app.amount(p.Amount))
	}
	return append(book.HeadCells(e.Head), strings.Join(parts, "; "), t.app.doses(f), t.app.making(f), f.Notes)
}

// ---- in

// FileComing says that a file is being read.
func (a *App) FileComing(name string) {
	a.visit("book")
	a.kept.close()
	a.transfer.drop()
	a.page.Show("file-ready", false)
	a.page.Say("import-file", a.text("import.reading", note.Typed("name", name)), true)
}

// File takes a file that a person has chosen or dropped. tooBig says that it
// was not read at all.
func (a *App) File(name string, text []byte, tooBig bool) {
	t := a.transfer
	t.drop()
	a.page.Say("import-file", "", false)
	if tooBig {
		t.refuse(name, note.New(note.Refused, book.CodeFileBig))
		return
	}
	a.book.later(func(ctx context.Context) error {
		f, err := a.book.store.ReadFile(text)
		if err != nil {
			t.refuse(name, book.NoteOf(err))
			return nil
		}
		t.file, t.name = f, name
		return t.compare(ctx)
	})
}

func (t *transfer) refuse(name string, n note.Note) {
	t.app.page.Say("import-file", name+": "+t.app.words.Note(n), false)
}

func (t *transfer) drop() {
	t.file, t.preview = book.File{}, nil
	t.app.page.Show("import-box", false)
	t.app.page.Rows("incoming", 0)
}

// compare finds out what the file would do, and shows it.
func (t *transfer) compare(ctx context.Context) error {
	p, err := t.app.book.store.Compare(ctx, t.file)
	if err != nil {
		return err
	}
	t.preview = &p
	t.show()
	return nil
}

// listedItems is how many changes the preview lists.
const listedItems = 60

// show says what the import will do: in sum, and line by line what it touches.
func (t *transfer) show() {
	page := t.app.page
	t.shown = nil
	rest := 0
	for i := range t.preview.Items {
		switch {
		case t.preview.Items[i].Change == book.Kept:
		case len(t.shown) < listedItems:
			t.shown = append(t.shown, i)
		default:
			rest++
		}
	}
	page.Rows("incoming", len(t.shown))
	for row, i := range t.shown {
		it := &t.preview.Items[i]
		page.Text(view.Row("incoming", row, "name"), t.itemName(it))
		page.Text(view.Row("incoming", row, "what"), t.itemWhat(it))
		page.Show(view.Row("incoming", row, "take"), it.Space == book.Settings && it.Change == book.Conflicting)
		page.Text(view.Row("incoming", row, "take-text"), t.app.text(map[bool]string{true: "import.take", false: "import.leave"}[it.Skip]))
	}
	more := ""
	if rest > 0 {
		more = t.app.text("import.more", counted("count", rest))
	}
	page.Line("import-more", more)
	page.Text("import-name", t.name)
	page.Line("import-sum", t.sum("import.sum", t.preview))
	page.Show("import-apply", len(t.shown) > 0)
	page.Show("import-nothing", len(t.shown) == 0)
	page.Show("import-box", true)
}

// sum counts the items by what happens to them; "" for a file without any. What is in
// the bin is counted apart: nobody finds it in the list.
func (t *transfer) sum(key string, p *book.Preview) string {
	deleted := 0
	for i := range p.Items {
		if p.Items[i].Change == book.Kept && p.Items[i].Binned {
			deleted++
		}
	}
	var list []string
	for _, c := range [...]struct {
		key string
		n   int
	}{
		{"import.n-added", p.Count(book.Added)}, {"import.n-changed", p.Count(book.Changed)}, {"import.n-both", p.Count(book.Conflicting)},
		{"import.n-kept", p.Count(book.Kept) - deleted}, {"import.n-deleted", deleted},
	} {
		if c.n > 0 {
			list = append(list, t.app.text(c.key, counted("count", c.n)))
		}
	}
	if list == nil {
		return ""
	}
	return t.app.text(key, note.Typed("list", strings.Join(list, ", ")))
}

func (t *transfer) itemName(it *book.Item) string {
	if it.Space != book.Settings {
		return it.Name
	}
	if s, ok := t.app.words.Find("import.setting-" + it.ID); ok {
		return s
	}
	return it.ID
}

// itemWhat says what happens to one entry or setting.
func (t *transfer) itemWhat(it *book.Item) string {
	key := map[book.Change]string{book.Added: "import.added", book.Changed: "import.changed", book.Conflicting: "import.both"}[it.Change]
	if it.Space == book.Settings {
		key = "import.setting"
		if it.Change == book.Conflicting {
			key = map[bool]string{true: "import.own", false: "import.taken"}[it.Skip]
		}
	} else if it.Change == book.Changed && it.FileRev <= it.BookRev {
		key = "import.more-of"
	}
	what := t.app.text(key, note.Typed("mine", strconv.Itoa(it.BookRev)), note.Typed("theirs", strconv.Itoa(it.FileRev)))
	if it.Trials > 0 {
		what += " · " + t.app.text("import.trials", counted("count", it.Trials))
	}
	if it.Photo {
		what += " · " + t.app.text("import.photo")
	}
	if it.Binned {
		what += " · " + t.app.text("bin.title")
	}
	return what
}

// takeSetting decides whether the file's setting replaces the book's own.
func (t *transfer) takeSetting(row int) {
	if t.preview == nil || row < 1 || row > len(t.shown) {
		return
	}
	it := &t.preview.Items[t.shown[row-1]]
	if it.Space == book.Settings {
		it.Skip = !it.Skip
		t.show()
	}
}

// apply carries the import out. What came with it is no news to a backup.
func (t *transfer) apply() {
	if t.preview == nil {
		return
	}
	a, p := t.app, t.preview
	a.book.later(func(ctx context.Context) error {
		err := a.book.store.Apply(ctx, *p)
		if errors.Is(err, book.ErrConflict) {
			a.notice(a.text("import.again"))
			return t.compare(ctx)
		}
		if err != nil {
			return err
		}
		said, before := t.sum("import.done", p), a.backup.sum
		t.drop()
		a.page.Say("import-file", said, true)
		a.env.AskToKeep()
		a.book.begin(ctx)
		a.backup.shift(ctx, a.backup.sum-before)
		return nil
	})
}
