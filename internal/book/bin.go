package book

import (
	"context"
	"errors"
)

// Bin deletes an entry: it goes into the bin and can be taken back with
// [Book.Restore] until [Book.Purge]. An entry that was changed since base is
// not deleted; the error is then a [*Conflict] without a copy.
func (b *Book) Bin(ctx context.Context, id string, base int, now int64) (Head, error) {
	return b.mark(ctx, id, base, now, max(now, 1))
}

// Restore takes an entry out of the bin.
func (b *Book) Restore(ctx context.Context, id string, base int, now int64) (Head, error) {
	return b.mark(ctx, id, base, now, 0)
}

// mark saves the newest revision again, in the bin or out of it.
func (b *Book) mark(ctx context.Context, id string, base int, now, binned int64) (Head, error) {
	if err := checkTime(now); err != nil {
		return Head{}, err
	}
	var saved Head
	err := b.port.Write(ctx, Strict, []Space{Heads, Versions}, func(tx Tx) error {
		h, err := mustHead(tx, id)
		if err != nil {
			return err
		}
		if (h.Binned != 0) == (binned != 0) && h.Rev == base+1 {
			saved = h // committed before without an answer
			return nil
		}
		if h.Rev != base {
			return &Conflict{Theirs: h}
		}
		e, err := mustVersion(tx, id, base)
		if err != nil {
			return err
		}
		e.Reading, e.Saved = h.Reading, now
		e.Binned = binned
		saved, err = put(tx, e.after(h, base))
		return err
	})
	return saved, err
}

// Purge removes for good the entries that were put into the bin before a time,
// with their revisions, trials and photo, and says how many there were. An
// entry whose head cannot be read stays.
func (b *Book) Purge(ctx context.Context, before int64) (n int, err error) {
	l, err := b.List(ctx)
	if err != nil {
		return 0, err
	}
	spaces := []Space{Heads, Versions, Trials, Photos}
	err = b.port.Write(ctx, Strict, spaces, func(tx Tx) error {
		n = 0
		for _, old := range l.Heads {
			if old.Binned == 0 || old.Binned >= before {
				continue
			}
			now, err := current(tx, old.ID)
			if err != nil {
				return err
			}
			if now.head.Rev != old.Rev {
				continue // taken back in another tab meanwhile
			}
			if err := purge(tx, old.ID); err != nil {
				return err
			}
			n++
		}
		return nil
	})
	return n, err
}

func purge(tx Tx, id string) error {
	return errors.Join(
		tx.Delete(Heads, Key{ID: id}),
		tx.DeleteUnder(Versions, id),
		tx.DeleteUnder(Trials, id),
		tx.Delete(Photos, Key{ID: id}))
}

// Repair makes the head of an entry anew from its newest readable revision,
// when the head itself cannot be read. A head that can be read is left as it
// is, and one that a newer program wrote is refused with ErrNewer.
func (b *Book) Repair(ctx context.Context, id string) (Head, error) {
	var fixed Head
	err := b.port.Write(ctx, Strict, []Space{Heads, Versions}, func(tx Tx) error {
		h, err := mustHead(tx, id)
		if err == nil {
			fixed = h
			return nil
		}
		if errors.Is(err, ErrNewer) || ignoreUnreadable(err) != nil {
			return err
		}
		rows, err := tx.Under(Versions, id)
		if err != nil {
			return err
		}
		list, bad := decodeAll(Versions, rows, decodeVersion)
		if len(list) == 0 {
			return errors.Join(missing(Versions, id), firstDamage(bad))
		}
		fixed, err = b.rebuild(tx, list[len(list)-1])
		return err
	})
	return fixed, err
}

func firstDamage(bad []Damage) error {
	if len(bad) == 0 {
		return nil
	}
	return bad[0].Err
}

// rebuild writes the head of a revision anew. A body that the caller no longer
// understands must not hide the entry; search then knows only name and tags.
func (b *Book) rebuild(tx Tx, e Entry) (Head, error) {
	v, _, err := canonical(e.Body)
	if err != nil {
		return Head{}, err
	}
	e.Reading, _ = b.checks.readBody(v)
	text, err := encodeHead(&e.Head)
	if err != nil {
		return Head{}, err
	}
	return e.Head, tx.Put(Heads, Key{ID: e.ID}, text)
}
