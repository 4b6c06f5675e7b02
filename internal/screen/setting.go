package screen

import (
	"context"
	"errors"
	"strings"
	"sync"

	"tremblant/internal/book"
	"tremblant/internal/formula"
)

// keeper writes one setting of the book. Typing asks for more writes than the
// store has answered: they go one after the other, and the last holds what
// stands on the page by then.
type keeper struct {
	app     *App
	key     string
	body    func() ([]byte, error)
	join    func(base, theirs []byte)    // takes in what another window has changed; nil writes over it
	again   func([]byte) ([]byte, error) // reads a stored body and writes it; nil when each of its members is always written
	stored  book.Setting                 // as it stands in the book
	load    func(context.Context) error  // reads the book for the first time, by way of [keeper.first]
	loaded  bool                         // that is done: [keeper.keep] keeps from now on
	base    []byte                       // what the page began with, before it was read
	early   bool                         // something was changed before it was read
	dirty   bool                         // the page has what the book has not
	writing bool                         // a write is under way, and will take along what changes meanwhile
	turn    sync.Mutex                   // held by the write that is under way
}

// changed lets the setting be written soon.
func (k *keeper) changed() {
	k.dirty = true
	if !k.writing {
		k.app.book.later(k.flush)
	}
}

// keep lets the setting be written soon, or once the book has been read: what stands
// in it must not be written over by what the page begins with.
func (k *keeper) keep() {
	if k.loaded {
		k.changed()
		return
	}
	k.early = true
	k.app.book.later(k.flush) // the first reading has failed, or there is no book yet
}

// first reads the setting for the first time. What was changed before is joined with
// it, as with what another window has changed, and is written soon; without such a
// change, news is whether there is a setting to show. none stands for a book without
// one; nil leaves what the page has.
func (k *keeper) first(ctx context.Context, none []byte) (set book.Setting, news bool, err error) {
	set, err = k.app.book.store.Setting(ctx, k.key)
	missing := errors.Is(err, book.ErrMissing)
	if err != nil && !missing {
		return set, false, err
	}
	if k.loaded {
		return set, false, nil // in the meantime
	}
	if missing {
		set = book.Setting{Body: none}
	}
	k.loaded = true
	if !k.early {
		return set, set.Body != nil, nil
	}
	k.early = false
	if !missing {
		k.stored = set
	}
	if set.Body != nil {
		k.join(k.base, set.Body)
	}
	k.changed()
	return set, false, nil
}

// flush writes what has changed and returns once it is stored. If the book has not
// been read yet, that is tried again.
func (k *keeper) flush(ctx context.Context) error {
	k.turn.Lock()
	defer k.turn.Unlock()
	if !k.loaded && k.load != nil {
		if err := k.load(ctx); err != nil {
			return err
		}
	}
	k.writing = true
	defer func() { k.writing = false }()
	for k.dirty {
		k.dirty = false
		if err := k.write(ctx); err != nil {
			k.dirty = true
			return err
		}
	}
	return nil
}

func (k *keeper) write(ctx context.Context) error {
	err := k.put(ctx, k.stored)
	if errors.Is(err, book.ErrConflict) {
		there, readErr := k.app.book.store.Setting(ctx, k.key)
		if readErr != nil && !errors.Is(readErr, book.ErrMissing) {
			return readErr
		}
		if k.join != nil {
			k.join(k.stored.Body, there.Body)
		}
		err = k.put(ctx, there)
	}
	if err == nil && !strings.HasPrefix(k.key, book.DevicePrefix) {
		k.app.env.AskToKeep()
	}
	return err
}

// put writes the setting as the revision after the one before.
func (k *keeper) put(ctx context.Context, before book.Setting) error {
	body, err := k.body()
	if err != nil {
		return err
	}
	before.Key, before.Saved, before.Body = k.key, k.app.env.Now(), formula.HandOn(body, before.Body, k.again)
	kept, err := k.app.book.store.PutSetting(ctx, before)
	if err == nil {
		k.stored = kept
	}
	return err
}

// refresh gives the setting anew if another window has changed it, and nothing
// waits to be written here.
func (k *keeper) refresh(ctx context.Context) (set book.Setting, news bool, err error) {
	set, err = k.app.book.store.Setting(ctx, k.key)
	if errors.Is(err, book.ErrMissing) {
		return set, false, nil
	}
	return set, err == nil && !k.dirty && !k.writing && set.Rev != k.stored.Rev, err
}
