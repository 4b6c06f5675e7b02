package screen

import (
	"tremblant/internal/formula"
	"tremblant/internal/wire"
)

// The working formula is kept as it is typed, also when it is wrong, so that a
// phone that closes the page loses nothing. The shell keeps it in the browser's
// simple storage and not in the book: that one can be read before the first
// paint, and written while the page goes away.

func (a *App) keepDraft() { a.env.KeepDraft() }

// Draft is the working formula as text for the shell to keep.
func (a *App) Draft() string {
	d := formula.Draft{Fields: a.pan.fields, ID: a.book.open.id, Rev: a.book.open.rev, Saved: a.book.saved, Judged: a.kept.judging(), Before: a.before()}
	if own := a.shelf.own; !sameShelf(own, formula.UsualShelf()) {
		d.Shelf = &own
	}
	body, err := d.Encode()
	if err != nil {
		return ""
	}
	return string(body)
}

// readDraft reads what was left; false when nothing was, or nothing that can be
// read.
func readDraft(text string) (formula.Draft, bool) {
	if text == "" {
		return formula.Draft{}, false
	}
	v, err := wire.Read(text, wire.Limits{})
	if err != nil {
		return formula.Draft{}, false
	}
	d, err := formula.DecodeDraft(v)
	return d, err == nil
}
