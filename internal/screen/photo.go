package screen

import (
	"context"
	"errors"

	"tremblant/internal/book"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// The picture of the entry that is shown. The page makes it small before it
// comes here; the book refuses one that is still too big, or of another kind.

// PhotoComing says that a picture is being made small: it will be one of the
// entry that is shown now.
func (a *App) PhotoComing() {
	a.kept.photoFor = a.kept.id
	a.page.Say("photo-file", a.text("photo.coming"), true)
}

// Photo takes a picture as a data URL; "" when the page could not read it.
func (a *App) Photo(data string) {
	k := a.kept
	id := k.photoFor
	k.photoFor = ""
	a.page.Say("photo-file", "", false)
	if id == "" {
		return
	}
	if data == "" {
		a.page.Say("photo-file", a.words.Note(note.New(note.Refused, book.CodePhoto, note.Num("limit", book.MaxPhoto/1000, unit.One))), false)
		return
	}
	k.putPhoto(book.Photo{Entry: id, Data: data})
}

// putPhoto keeps a picture in the place of the one before, which can be taken back.
func (k *keptView) putPhoto(p book.Photo) {
	k.change(func(ctx context.Context) error {
		store := k.app.book.store
		before, err := store.Photo(ctx, p.Entry)
		had := err == nil
		if err != nil && !errors.Is(err, book.ErrMissing) && !errors.Is(err, book.ErrDamaged) {
			return err
		}
		p.Saved = k.app.env.Now()
		if err := store.PutPhoto(ctx, p); err != nil {
			return err
		}
		if had && before.Data != p.Data {
			k.app.offer(k.app.text("undo.photo-changed"), func() { k.putPhoto(before) })
		}
		k.app.backup.shift(ctx, -1)
		return nil
	})
}

func (k *keptView) dropPhoto() {
	p := k.photo
	if k.id == "" || p.Data == "" {
		return
	}
	k.change(func(ctx context.Context) error {
		if err := k.app.book.store.RemovePhoto(ctx, p.Entry); err != nil {
			return err
		}
		k.app.offer(k.app.text("undo.photo"), func() { k.putPhoto(p) })
		k.app.backup.shift(ctx, -1)
		return nil
	})
}

// readPhoto reads the entry's picture; none is no error. bad is 1 for one that
// cannot be read.
func (k *keptView) readPhoto(ctx context.Context) (bad int, err error) {
	p, err := k.app.book.store.Photo(ctx, k.id)
	switch {
	case errors.Is(err, book.ErrMissing):
		err = nil
	case errors.Is(err, book.ErrDamaged), errors.Is(err, book.ErrNewer):
		bad, err = 1, nil
	}
	k.photo = p
	return bad, err
}

func (k *keptView) showPhoto() {
	page := k.app.page
	page.Set("photo-picture", "src", k.photo.Data)
	page.Set("photo-picture", "alt", k.app.text("photo.of", note.Typed("name", k.revs[0].Name)))
	page.Show("photo", k.photo.Data != "")
	page.Show("photo-drop", k.photo.Data != "")
}
