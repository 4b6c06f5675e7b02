package screen

import (
	"context"
	"errors"
	"strconv"

	"tremblant/internal/book"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/view"
)

// listedVersions is how many versions the page lists; the selects offer all.
const listedVersions = 100

// showVersions lists the versions, newest first, with what changed in each.
func (k *keptView) showVersions() {
	page := k.app.page
	n := min(len(k.revs), listedVersions)
	page.Rows("version", n)
	for i := range n {
		what := k.app.text("version.first")
		if i+1 < len(k.revs) {
			what = k.whatChanged(&k.revs[i+1], &k.revs[i])
		} else if from := k.revs[i].From; from.ID != "" {
			what = k.app.text("version.branched")
		}
		page.Text(view.Row("version", i, "name"), k.versionName(&k.revs[i]))
		page.Text(view.Row("version", i, "what"), what)
		page.Show(view.Row("version", i, "back"), i > 0)
	}
	page.Text("versions-sum", k.app.text("version.count", counted("count", len(k.revs))))
}

func (k *keptView) versionName(e *book.Entry) string {
	return k.app.text("version.name", counted("rev", e.Rev), note.Typed("date", k.app.env.Date(e.Saved)))
}

func (k *keptView) version(row int) *book.Entry {
	if k.id == "" || row < 1 || row > len(k.revs) {
		return nil
	}
	return &k.revs[row-1]
}

// openVersion puts a version into the pan. Saved from there, it is a new one.
func (k *keptView) openVersion(row int) {
	e := k.version(row)
	if e == nil {
		return
	}
	k.unask()
	if err := k.app.book.putInPan(*e, k.revs[0]); err != nil {
		k.app.book.failed(err)
	}
}

// putInPan puts a version of an entry into the pan, as a change of the newest.
func (v *bookView) putInPan(e, newest book.Entry) error {
	fields, err := v.fieldsOf(e)
	if err != nil {
		return err
	}
	saved, err := v.fieldsOf(newest)
	if err != nil {
		return err
	}
	p := v.app.pan
	p.replace(fields, v.app.text("undo.opened", note.Typed("name", e.Name)))
	if e.Rev == newest.Rev {
		saved = p.fields
	}
	v.settled(entryRef{newest.ID, newest.Rev, newest.Saved}, saved)
	v.app.visit("pan")
	return nil
}

func (v *bookView) fieldsOf(e book.Entry) (formula.Fields, error) {
	f, err := formula.Decode(e.Body)
	f.Name, f.Tags = e.Name, e.Tags
	return formula.FieldsOf(f, v.app.words.Style), err
}

// goBack saves an old version again as the newest one.
func (k *keptView) goBack(row int) {
	if e := k.version(row); e != nil && row > 1 {
		k.revert(k.revs[0], *e, nil, true)
	}
}

// revert saves a version again after the newest one, and the pan follows with it, or
// with a change of it: a pan that stayed behind would be saved as a second formula,
// without the trials of the first. The way forth is offered, with what stood unsaved
// in the pan; on that way itself (back is false), only where something did.
func (k *keptView) revert(newest, e book.Entry, change formula.Fields, back bool) {
	b := k.app.book
	k.change(func(ctx context.Context) error {
		saved, err := b.fieldsOf(e)
		if err != nil {
			return err
		}
		// Nothing is kept of it where another save came first: the version stands in the book.
		_, failed := b.store.Revert(ctx, e.ID, newest.Rev, e.Rev, k.app.env.Now(), "")
		now, err := b.store.Open(ctx, e.ID)
		if failed != nil {
			return b.bringAgain(now, change, failed)
		}
		if err != nil {
			return err
		}
		left := b.follow(now, saved, change)
		if back || left != nil {
			k.offerForth(now, newest, k.versionName(&e), left)
		}
		return nil
	})
}

// offerForth offers what going back to a version took away: the one that was the
// newest, and a change of it.
func (k *keptView) offerForth(newest, before book.Entry, name string, change formula.Fields) {
	key := "undo.back"
	if change != nil {
		key = "undo.back-changed"
	}
	forth := offer{back: func() { k.revert(newest, before, change, false) }}
	if change == nil {
		forth.saved = newest.ID
	}
	k.app.offerStep(k.app.text(key, note.Typed("name", name)), forth)
}

// follow lets the pan hold what has become the newest version of an entry, or a
// change of it. left is what the pan held of that entry unsaved; nil for nothing.
func (v *bookView) follow(newest book.Entry, saved, change formula.Fields) (left formula.Fields) {
	if v.open.id != newest.ID {
		v.bring(newest, saved, change)
		return nil
	}
	p := v.app.pan
	if v.changed() {
		left = p.fields
	}
	v.app.leavePan()
	if change != nil {
		p.fill(change)
	} else {
		p.fill(saved)
	}
	v.settled(entryRef{newest.ID, newest.Rev, newest.Saved}, saved)
	return left
}

// bringAgain puts a change into the pan whose version could not be gone back to. After
// a save that came first, it is a change of what was saved then.
func (v *bookView) bringAgain(newest book.Entry, change formula.Fields, failed error) error {
	if change == nil {
		return failed
	}
	saved, err := v.fieldsOf(newest)
	if err != nil {
		saved = nil
	}
	v.bring(newest, saved, change)
	if errors.Is(failed, book.ErrConflict) {
		return nil
	}
	return failed
}

// bring puts a change of an entry into a pan that holds something else, which can be
// taken back; without a change it does nothing.
func (v *bookView) bring(e book.Entry, saved, change formula.Fields) {
	if change == nil {
		return
	}
	p := v.app.pan
	p.replace(change, v.app.text("undo.opened", note.Typed("name", p.nameIn(change))))
	v.settled(entryRef{e.ID, e.Rev, e.Saved}, saved)
}

// branch makes an entry of its own from a version, and shows it.
func (k *keptView) branch(row int) {
	e := k.version(row)
	if e == nil {
		return
	}
	name := k.app.text("version.branch-name", note.Typed("name", e.Name), note.Typed("rev", strconv.Itoa(e.Rev)))
	id, rev := k.id, e.Rev
	k.app.book.later(func(ctx context.Context) error {
		h, err := k.app.book.store.Duplicate(ctx, id, rev, k.app.env.NewID(), name, k.app.env.Now())
		if err != nil {
			return err
		}
		k.open(h.ID)
		return k.app.book.reload(ctx)
	})
}
