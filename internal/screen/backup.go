package screen

import (
	"context"
	"errors"

	"tremblant/internal/book"
	"tremblant/internal/note"
	"tremblant/internal/wire"
)

// backupKey is the setting of this device that says when the book was last
// taken out of it.
const backupKey = book.DevicePrefix + "backup"

// changesUnsaved is after how many changes the page asks for a backup.
const changesUnsaved = 10

// backup reminds of a backup. It counts changes without writing anything at a
// save: each makes a revision, so the sum of the newest revisions tells how many
// came since that sum was noted.
type backup struct {
	app    *App
	at     int64 // of the last backup, Unix time in ms; 0 for none
	base   int   // the sum of revisions that holds no news
	quiet  int   // how many changes there were when the reminder was put off
	sum    int   // of revisions now
	loaded bool
	keeper *keeper
}

func newBackup(a *App) *backup {
	b := &backup{app: a}
	b.keeper = &keeper{app: a, key: backupKey, body: b.encode}
	a.does["backup-later"] = func(int) {
		b.quiet = b.changes()
		b.keeper.dirty = true
		b.app.book.later(func(ctx context.Context) error {
			defer b.show() // gone only when it stays gone after a reload
			return b.keeper.flush(ctx)
		})
	}
	return b
}

func (b *backup) changes() int { return max(0, b.sum-b.base) }

// begin reads what this device knows.
func (b *backup) begin(ctx context.Context) error {
	set, err := b.app.book.store.Setting(ctx, backupKey)
	if errors.Is(err, book.ErrMissing) {
		err = nil
	} else if err == nil {
		b.take(set)
	}
	b.loaded = err == nil
	return err
}

func (b *backup) take(set book.Setting) {
	v, err := wire.Read(set.Body, wire.Limits{})
	if err != nil {
		return
	}
	const most = 1 << 50
	f := v.Fields()
	at, base, quiet := f.Int("at", 0, book.MaxUnixMs), f.Int("base", -most, most), f.Int("quiet", 0, most)
	if f.Err() == nil {
		b.keeper.stored, b.at, b.base, b.quiet = set, at, int(base), int(quiet)
	}
}

func (b *backup) encode() ([]byte, error) {
	w := wire.NewWriter()
	w.BeginObject()
	w.Name("at").Int(b.at)
	w.Name("base").Int(int64(b.base))
	w.Name("quiet").Int(int64(b.quiet))
	w.EndObject()
	return w.Bytes()
}

// count takes the heads of the book as they stand.
func (b *backup) count(heads []book.Head) {
	b.sum = 0
	for i := range heads {
		b.sum += heads[i].Rev
	}
	b.show()
}

// shift moves what counts as no news: up for revisions that came with an
// import, down for changes that make no revision. The reminder is no reason to
// fail what it follows.
func (b *backup) shift(ctx context.Context, by int) {
	if by == 0 || !b.loaded {
		return
	}
	b.base += by
	b.keeper.dirty = true
	if err := b.keeper.flush(ctx); err != nil {
		b.base -= by
		b.keeper.dirty = false
	}
	b.show()
}

// done notes that a file has been handed out which was made at a time, with so many
// changes in it that no backup had yet. What has changed since is not in it.
func (b *backup) done(at int64, changes int) {
	b.at, b.base, b.quiet = at, b.base+changes, 0
	b.show()
	b.keeper.changed()
}

// show says when the last backup was and how much has changed since, and asks
// for one when that is much.
func (b *backup) show() {
	if !b.loaded {
		return
	}
	n := b.changes()
	key := "backup.since"
	if b.at == 0 {
		key = "backup.never"
	}
	text := b.app.text(key, note.Typed("date", b.app.env.Date(b.at)), counted("count", n))
	b.app.page.Text("backup-state", text)
	b.app.page.Text("backup-due-text", text)
	b.app.page.Show("backup-due", n-b.quiet >= changesUnsaved)
}
