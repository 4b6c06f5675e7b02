package screen

import (
	"context"

	"tremblant/internal/book"
)

// keeper keeps one setting of the book as it changes: one write at a time, and
// once more when it was changed meanwhile. Two windows may change it: the later
// one wins for the whole setting, after reading the other's revision.
type keeper struct {
	app     *App
	key     string
	encode  func() ([]byte, error) // the setting as it is now
	setting book.Setting           // as it stands in the book
	loaded  bool                   // the book was read: from now on changes are kept
	writing bool                   // a write is on its way
	dirty   bool                   // something was changed since it began
}

func (k *keeper) keep() {
	if !k.loaded {
		return
	}
	k.dirty = true
	if k.writing {
		return
	}
	k.writing = true
	k.app.book.later(func(ctx context.Context) error {
		defer func() { k.writing = false }()
		for k.dirty {
			k.dirty = false
			body, err := k.encode()
			if err == nil {
				err = k.app.putSetting(ctx, &k.setting, k.key, body)
			}
			if err != nil {
				return err
			}
		}
		return nil
	})
}
