package book

import (
	"context"
	"errors"

	"tremblant/internal/wire"
)

// Draft is a change to be saved.
type Draft struct {
	ID    string
	Base  int    // the revision that the change was made from; 0 for a new entry
	Spare string // the id that the change takes if another one came first; "" keeps nothing then
	Name  string
	Tags  []string
	From  Origin // where a new entry comes from
	Saved int64  // now, Unix time in ms
	Body  []byte // the formula as JSON
	Rest  []wire.Member
}

// DraftOf begins a change of an entry that was opened.
func DraftOf(e Entry) Draft {
	return Draft{ID: e.ID, Base: e.Rev, Name: e.Name, Tags: e.Tags, Body: e.Body, Rest: e.Rest}
}

// Save stores a change as a new revision and returns its head once that is
// committed. If the stored revision is not the draft's base, the change becomes
// an entry of its own under the spare id, and the error is a [*Conflict] that
// names both. A refusal of name, tags, id, time or body is a [*note.Refusal];
// the other errors are those of the store. A save that turns out to be stored
// already, after an answer was lost, succeeds.
func (b *Book) Save(ctx context.Context, d Draft) (Head, error) {
	e, err := b.prepare(d)
	if err != nil {
		return Head{}, err
	}
	return b.commit(ctx, e, d.Base, d.Spare)
}

func (b *Book) prepare(d Draft) (e Entry, err error) {
	e = Entry{Head: Head{ID: d.ID, From: d.From, Made: d.Saved, Saved: d.Saved}, Rest: d.Rest}
	if e.Name, err = CheckName(d.Name); err != nil {
		return e, err
	}
	if e.Tags, err = CheckTags(d.Tags); err != nil {
		return e, err
	}
	if err = errors.Join(checkID(d.ID), checkTime(d.Saved)); err != nil {
		return e, err
	}
	if d.Spare != "" && checkID(d.Spare) != nil {
		return e, checkID(d.Spare)
	}
	var v wire.Value
	if v, e.Body, err = canonical(d.Body); err != nil {
		return e, err
	}
	if e.Reading, err = b.checks.readBody(v); err != nil {
		return e, refusedBody(err)
	}
	return e, nil
}

// commit stores e as the revision after base, or as a copy under spare.
func (b *Book) commit(ctx context.Context, e Entry, base int, spare string) (Head, error) {
	var saved Head
	var conflict *Conflict
	err := b.port.Write(ctx, Strict, []Space{Heads, Versions}, func(tx Tx) (err error) {
		saved, conflict = Head{}, nil // the transaction may run again
		now, err := current(tx, e.ID)
		if err != nil {
			return err
		}
		if now.free || now.readable && now.head.Rev == base {
			saved, err = put(tx, e.after(now.head, base))
			return err
		}
		if saved, err = already(tx, now, e, base); err != nil || saved.Rev != 0 {
			return err
		}
		conflict = &Conflict{Theirs: now.head}
		if conflict.Theirs.ID = e.ID; spare == "" {
			return nil
		}
		conflict.Copy, err = putCopy(tx, e, base, spare)
		return err
	})
	if err == nil && conflict != nil {
		return Head{}, conflict
	}
	return saved, err
}

// occupant is what stands under an id.
type occupant struct {
	head     Head
	free     bool // nothing does
	readable bool
}

func current(tx Tx, id string) (occupant, error) {
	h, err := mustHead(tx, id)
	switch {
	case err == nil:
		return occupant{head: h, readable: true}, nil
	case errors.Is(err, ErrMissing):
		return occupant{free: true}, nil
	case errors.Is(err, ErrDamaged), errors.Is(err, ErrNewer):
		return occupant{}, nil
	}
	return occupant{}, err
}

// after is e as the revision that follows base: what an entry keeps for life
// comes from the revision before.
func (e Entry) after(before Head, base int) Entry {
	e.Rev = base + 1
	if before.Rev != 0 {
		e.Made, e.From, e.Conflict = before.Made, before.From, before.Conflict
	}
	return e
}

// already finds a save of the very same that was committed without an answer.
func already(tx Tx, now occupant, e Entry, base int) (Head, error) {
	if !now.readable || now.head.Rev != base+1 {
		return Head{}, nil
	}
	stored, err := mustVersion(tx, e.ID, base+1)
	if err != nil {
		return Head{}, ignoreUnreadable(err)
	}
	wanted := e.after(now.head, base)
	if !stored.same(&wanted) {
		return Head{}, nil
	}
	return now.head, nil
}

// ignoreUnreadable lets pass what is wrong with one record, but not what is
// wrong with the store.
func ignoreUnreadable(err error) error {
	if errors.Is(err, ErrMissing) || errors.Is(err, ErrDamaged) || errors.Is(err, ErrNewer) {
		return nil
	}
	return err
}

// putCopy stores a change that came second as an entry of its own.
func putCopy(tx Tx, e Entry, base int, spare string) (Head, error) {
	e.Conflict, e.ID, e.Made = e.ID, spare, e.Saved
	if e.From = (Origin{}); base > 0 {
		e.From = Origin{e.Conflict, base}
	}
	now, err := current(tx, spare)
	if err != nil {
		return Head{}, err
	}
	if now.free {
		return put(tx, e.after(Head{}, 0))
	}
	h, err := already(tx, now, e, 0)
	if err == nil && h.Rev == 0 {
		err = &Failure{Op: "save copy", Kind: ErrConflict}
	}
	return h, err
}

// put writes a revision and its head.
func put(tx Tx, e Entry) (Head, error) {
	text, err := encodeVersion(&e)
	if err != nil {
		return Head{}, err
	}
	if err = tx.Put(Versions, Key{ID: e.ID, Rev: e.Rev}, text); err != nil {
		return Head{}, err
	}
	if text, err = encodeHead(&e.Head); err != nil {
		return Head{}, err
	}
	return e.Head.clone(), tx.Put(Heads, Key{ID: e.ID}, text)
}

// Rename saves the newest revision under another name.
func (b *Book) Rename(ctx context.Context, id string, base int, name string, now int64, spare string) (Head, error) {
	e, err := b.Version(ctx, id, base)
	if err != nil {
		return Head{}, err
	}
	d := DraftOf(e)
	d.Name, d.Saved, d.Spare = name, now, spare
	return b.Save(ctx, d)
}

// Duplicate makes a new entry from a revision of another (0 is the newest): a
// copy to change, or a branch from an old revision.
func (b *Book) Duplicate(ctx context.Context, id string, rev int, newID, name string, now int64) (Head, error) {
	e, err := b.Version(ctx, id, rev)
	if err != nil {
		return Head{}, err
	}
	d := DraftOf(e)
	d.ID, d.Base, d.Name, d.Saved, d.From = newID, 0, name, now, Origin{e.ID, e.Rev}
	return b.Save(ctx, d)
}

// Revert saves an old revision again as the newest one.
func (b *Book) Revert(ctx context.Context, id string, base, rev int, now int64, spare string) (Head, error) {
	e, err := b.Version(ctx, id, rev)
	if err != nil {
		return Head{}, err
	}
	d := DraftOf(e)
	d.Base, d.Saved, d.Spare = base, now, spare
	return b.Save(ctx, d)
}
