package screen

import (
	"context"
	"errors"
	"maps"
	"slices"
	"strings"

	"tremblant/internal/book"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/view"
)

// entryRef is the entry of the book that the pan holds.
type entryRef struct {
	id    string
	rev   int
	saved int64 // Unix time in ms
}

// bookView is the book on the page: what is open, and the list of what is saved.
type bookView struct {
	app     *App
	store   *book.Book  // nil until it is open
	index   *book.Index // nil until it is read
	size    int         // entries that are not in the bin
	shown   []book.Head // those in the list, by row
	find    string
	renames string // the entry that gets another name; "" for none
	renamed string // that name, as typed
	brief   bool   // the store forgets everything when the page closes
	open    entryRef
	behind  bool           // the book has a newer version of it than the pan
	held    int            // one more each time that the pan comes to hold another entry, or none
	saved   formula.Fields // the fields as they were saved or opened
	passing string         // a state that passes: saving, failed, conflict
}

// stateSaving passes when the store has answered.
const stateSaving = "state.saving"

func newBookView(a *App) *bookView {
	v := &bookView{app: a}
	a.does["save"] = func(int) { v.save() }
	a.does["open"] = v.openEntry
	a.does["open-example"] = func(row int) {
		a.openExample(row - 1)
		a.visit("pan")
	}
	a.does["delete"] = v.delete
	a.does["duplicate"] = v.duplicate
	a.does["rename"] = v.beginRename
	a.does["rename-save"] = func(int) { v.rename(v.renamed) }
	v.showExamples()
	return v
}

// holds notes which entry the pan holds from now on, and with which fields it
// was saved.
func (v *bookView) holds(ref entryRef, saved formula.Fields) {
	v.open, v.passing, v.saved, v.behind = ref, "", maps.Clone(saved), false
	v.held++
	if v.saved == nil {
		v.saved = formula.Fields{}
	}
}

// settled is holds for what has just been saved or opened.
func (v *bookView) settled(ref entryRef, fields formula.Fields) {
	v.holds(ref, fields)
	v.showState()
	v.app.keepDraft()
}

// changed reports whether the pan differs from what was saved or opened. That a day
// has passed since is no change.
func (v *bookView) changed() bool { return !sameFormula(v.app.pan.fields, v.app.onDay(v.saved)) }

// sameFormula compares two sets of fields by what a save of them would store.
func sameFormula(a, b formula.Fields) bool {
	x, errX := a.Read(findAgent).Formula.Encode()
	y, errY := b.Read(findAgent).Formula.Encode()
	return errX == nil && errY == nil && string(x) == string(y)
}

// showState says whether the pan is saved.
func (v *bookView) showState() {
	key := "state.new"
	switch {
	case v.passing != "":
		key = v.passing
	case v.behind:
		key = "state.behind"
	case v.open.id != "" && v.changed():
		key = "state.changed"
	case v.open.id != "" && v.brief:
		key = "state.brief"
	case v.open.id != "":
		key = "state.saved"
	}
	v.app.page.Show("pan-kept", v.open.id != "")
	v.app.page.State("state", strings.TrimPrefix(key, "state."))
	day := ""
	if v.open.id != "" {
		day = v.app.env.Date(v.open.saved)
	}
	v.app.page.Text("save-state", v.app.text(key, note.Typed("date", day)))
}

// later does work on the store, which waits, and shows what came of it.
func (v *bookView) later(work func(ctx context.Context) error) {
	if v.store == nil {
		return
	}
	done := v.app.wait()
	v.app.env.Go(func(ctx context.Context) {
		defer done()
		if err := work(ctx); err != nil {
			v.failed(err)
		}
	})
}

// wait lets the button that is being carried out wait for the store; done ends it.
func (a *App) wait() (done func()) {
	if a.doing == nil {
		return func() {}
	}
	now := *a.doing
	a.busy[now]++
	return func() {
		if a.busy[now]--; a.busy[now] == 0 {
			delete(a.busy, now)
		}
	}
}

// failed shows the sentence for an error of the store.
func (v *bookView) failed(err error) { v.app.notice(v.app.words.Note(book.NoteOf(err))) }

// save puts the pan into the book. It is reported as saved only after the
// store's transaction has completed.
func (v *bookView) save() {
	if v.passing == stateSaving {
		return // a second tap on the button
	}
	if v.store == nil {
		v.pass("state.opening")
		return
	}
	p := v.app.pan
	if p.wrong != "" {
		v.pass("state.mend")
		v.app.page.Focus(p.wrong)
		return
	}
	f := p.reading.Formula
	if f.Name == "" {
		f.Name = v.nameFor(f)
		p.fields["name"] = f.Name
		v.app.page.Value("name", f.Name)
	}
	body, err := f.Encode()
	if err != nil {
		v.failed(err)
		return
	}
	d := book.Draft{ID: v.open.id, Base: v.open.rev, Spare: v.app.env.NewID(), Name: f.Name, Tags: f.Tags, Saved: v.app.env.Now(), Body: body}
	if d.ID == "" {
		d.ID = v.app.env.NewID()
	}
	fields, held, offered := maps.Clone(p.fields), v.held, v.app.offered
	same := v.open.id != "" && !v.changed()
	v.passing = stateSaving
	v.showState()
	v.later(func(ctx context.Context) error {
		defer func() {
			if v.passing == stateSaving {
				v.pass("state.unsaved") // it panicked
			}
		}()
		if same && v.stands(ctx, d) && v.held == held {
			v.pass("state.same")
			return nil
		}
		var head book.Head
		err := v.carryOver(ctx, &d)
		if err == nil {
			head, err = v.store.Save(ctx, d)
		}
		if v.held != held { // the pan holds something else by now
			var conflict *book.Conflict
			if err != nil && !errors.As(err, &conflict) {
				return err
			}
			return v.afterSave(ctx)
		}
		if err == nil {
			v.app.savedOver(offered, head.ID)
		}
		return v.stored(ctx, head, err, fields)
	})
}

// stands reports whether the book still has the revision that a draft was made of, as
// its newest: a browser may have cleared it, and another window have changed it.
func (v *bookView) stands(ctx context.Context, d book.Draft) bool {
	head, err := v.store.Head(ctx, d.ID)
	return err == nil && head.Rev == d.Base && head.Binned == 0
}

// afterSave shows the list anew, and the versions of the entry that stands open: to go
// back from one that is the newest no more would be taken for another window's change.
func (v *bookView) afterSave(ctx context.Context) error {
	v.app.kept.refresh(ctx)
	return v.reload(ctx)
}

// carryOver adds what a newer program wrote into the revision that was changed
// and the pan does not know of. A revision that is gone, or cannot be read here,
// gives nothing to carry over: Save keeps it from being written over.
func (v *bookView) carryOver(ctx context.Context, d *book.Draft) error {
	if d.Base == 0 {
		return nil
	}
	before, err := v.store.Version(ctx, d.ID, d.Base)
	if errors.Is(err, book.ErrMissing) || errors.Is(err, book.ErrDamaged) || errors.Is(err, book.ErrNewer) {
		return nil
	}
	if err != nil {
		return err
	}
	d.Rest = before.Rest
	d.Body = formula.HandOn(d.Body, before.Body, formula.Again)
	return nil
}

// pass shows a state once; the next change of the pan shows the usual one.
func (v *bookView) pass(key string) {
	v.passing = key
	v.showState()
	v.passing = ""
}

// stored takes the answer to a save.
func (v *bookView) stored(ctx context.Context, head book.Head, err error, fields formula.Fields) error {
	var conflict *book.Conflict
	switch {
	case err == nil:
		v.app.shelf.remember(fields.Described(), v.saved.Described())
		v.settled(entryRef{head.ID, head.Rev, head.Saved}, fields)
	case errors.As(err, &conflict) && conflict.Copy.ID != "":
		v.settled(entryRef{conflict.Copy.ID, conflict.Copy.Rev, conflict.Copy.Saved}, fields)
		v.pass("state.conflict")
	default:
		v.pass("state.unsaved")
		return err
	}
	if !v.brief {
		v.app.env.AskToKeep()
	}
	return v.afterSave(ctx)
}

// nameFor names a formula that a person has not named: by its first liquid.
func (v *bookView) nameFor(f formula.Formula) string {
	for _, p := range f.Parts {
		if p.Name != "" {
			return p.Name
		}
	}
	return v.app.text("book.unnamed")
}

// entry is the entry in a row of the list.
func (v *bookView) entry(row int) (book.Head, bool) {
	if row < 1 || row > len(v.shown) {
		return book.Head{}, false
	}
	return v.shown[row-1], true
}

// openEntry puts an entry into the pan.
func (v *bookView) openEntry(row int) {
	h, ok := v.entry(row)
	if !ok {
		return
	}
	v.later(func(ctx context.Context) error {
		e, err := v.store.Open(ctx, h.ID)
		if err != nil {
			return err
		}
		return v.putInPan(e, e)
	})
}

func (v *bookView) delete(row int) {
	h, ok := v.entry(row)
	if !ok {
		return
	}
	v.later(func(ctx context.Context) error {
		gone, err := v.store.Bin(ctx, h.ID, h.Rev, v.app.env.Now())
		if err != nil {
			return err
		}
		again := func(book.Head) {}
		if v.open.id == h.ID {
			saved := v.saved
			v.settled(entryRef{}, nil)
			held := v.held
			again = func(h book.Head) {
				if v.held == held {
					v.settled(entryRef{h.ID, h.Rev, h.Saved}, saved)
				}
			}
		}
		v.app.offerStep(v.app.text("undo.deleted", note.Typed("name", h.Name)), offer{back: func() { v.restore(gone, again) }, binned: h.ID})
		return v.reload(ctx)
	})
}

// restore takes an entry out of the bin; again lets the pan hold it as before.
func (v *bookView) restore(h book.Head, again func(book.Head)) {
	v.later(func(ctx context.Context) error {
		head, err := v.store.Restore(ctx, h.ID, h.Rev, v.app.env.Now())
		if err != nil {
			return err
		}
		again(head)
		return v.reload(ctx)
	})
}

func (v *bookView) duplicate(row int) {
	h, ok := v.entry(row)
	if !ok {
		return
	}
	name := v.app.text("book.copy-name", note.Typed("name", h.Name))
	v.later(func(ctx context.Context) error {
		if _, err := v.store.Duplicate(ctx, h.ID, 0, v.app.env.NewID(), name, v.app.env.Now()); err != nil {
			return err
		}
		return v.reload(ctx)
	})
}

// beginRename shows the input for a new name. Enter renames, and so do its button and
// to leave the book: a phone's keyboard is put away in many ways.
func (v *bookView) beginRename(row int) {
	h, ok := v.entry(row)
	if !ok {
		return
	}
	v.renames, v.renamed = h.ID, h.Name
	v.showList()
	v.app.page.Focus(view.Row("entry", row-1, "rename"))
}

// rename gives the entry that was asked for its new name; an empty one changes nothing.
func (v *bookView) rename(name string) {
	row := slices.IndexFunc(v.shown, func(h book.Head) bool { return h.ID == v.renames }) + 1
	v.renames = ""
	h, ok := v.entry(row)
	if name = strings.TrimSpace(name); !ok || name == "" || name == h.Name {
		v.showList()
		return
	}
	v.later(func(ctx context.Context) error {
		head, err := v.store.Rename(ctx, h.ID, h.Rev, name, v.app.env.Now(), v.app.env.NewID())
		if err != nil {
			return err
		}
		if v.open.id == h.ID {
			v.renamedInPan(head)
		}
		return v.reload(ctx)
	})
}

// renamedInPan lets the pan follow when the formula it holds got a new name.
func (v *bookView) renamedInPan(head book.Head) {
	p := v.app.pan
	v.open = entryRef{head.ID, head.Rev, head.Saved}
	v.saved["name"], p.fields["name"] = head.Name, head.Name
	v.app.page.Value("name", head.Name)
	p.answer()
	p.touched()
}
