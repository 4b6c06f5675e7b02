package screen

import (
	"context"
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

// goBack saves an old version again as the newest one. The pan follows unless
// it holds a change of its own, which a save then keeps beside it.
func (k *keptView) goBack(row int) {
	e := k.version(row)
	if e == nil || row == 1 {
		return
	}
	newest := k.revs[0]
	k.revert(newest.Rev, e.Rev, func(h book.Head) {
		k.app.offer(k.app.text("undo.back", note.Typed("name", k.versionName(e))), func() {
			k.revert(h.Rev, newest.Rev, func(book.Head) {})
		})
	})
}

func (k *keptView) revert(base, rev int, then func(book.Head)) {
	id, b := k.id, k.app.book
	k.change(func(ctx context.Context) error {
		h, err := b.store.Revert(ctx, id, base, rev, k.app.env.Now(), k.app.env.NewID())
		if err != nil {
			return err
		}
		if b.open.id == id && !b.changed() {
			e, err := b.store.Open(ctx, id)
			if err != nil {
				return err
			}
			fields, err := b.fieldsOf(e)
			if err != nil {
				return err
			}
			k.app.pan.fill(fields)
			b.settled(entryRef{h.ID, h.Rev, h.Saved}, k.app.pan.fields)
		}
		then(h)
		return nil
	})
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
