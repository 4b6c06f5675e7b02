package book

import (
	"cmp"
	"context"
	"slices"
	"strings"
)

// Damage is one record that could not be read. It was left where it is.
type Damage struct {
	Space Space
	Key   Key
	Err   error // [ErrDamaged], or [ErrNewer] if a newer program wrote it
}

// Listing is what the list of the book shows.
type Listing struct {
	Heads   []Head   // newest save first, with the bin
	Damaged []Damage // records that could not be read
}

// List reads the heads of all entries, also of those in the bin.
func (b *Book) List(ctx context.Context) (Listing, error) {
	rows, err := b.port.Snapshot(ctx, Heads)
	if err != nil {
		return Listing{}, err
	}
	var l Listing
	l.Heads, l.Damaged = scanHeads(rows[0])
	l.Heads = sorted(l.Heads)
	return l, nil
}

// sorted gives heads newest save first, by id among equals. It sorts pointers to
// the heads, which are big; pointers of all kinds share one sort in the program.
func sorted(heads []Head) []Head {
	if isSorted(heads) {
		return heads
	}
	order := make([]*Head, len(heads))
	for i := range heads {
		order[i] = &heads[i]
	}
	slices.SortFunc(order, newestFirst)
	out := make([]Head, len(heads))
	for i, h := range order {
		out[i] = *h
	}
	return out
}

func isSorted(heads []Head) bool {
	for i := 1; i < len(heads); i++ {
		if newestFirst(&heads[i-1], &heads[i]) > 0 {
			return false
		}
	}
	return true
}

func newestFirst(a, b *Head) int {
	if a.Saved != b.Saved {
		return cmp.Compare(b.Saved, a.Saved)
	}
	return strings.Compare(a.ID, b.ID)
}

// Head reads the head of one entry, for a list that hears of a change in
// another tab. ErrMissing if it is gone.
func (b *Book) Head(ctx context.Context, id string) (h Head, err error) {
	err = b.port.Read(ctx, []Space{Heads}, func(tx Tx) error {
		h, err = mustHead(tx, id)
		return err
	})
	return h, err
}

// Open reads the newest revision of an entry.
func (b *Book) Open(ctx context.Context, id string) (Entry, error) { return b.Version(ctx, id, 0) }

// Version reads one revision of an entry; 0 is the newest. The newest one also
// carries what search knows of it.
func (b *Book) Version(ctx context.Context, id string, rev int) (e Entry, err error) {
	err = b.port.Read(ctx, []Space{Heads, Versions}, func(tx Tx) error {
		h, err := mustHead(tx, id)
		if err != nil {
			return err
		}
		if rev == 0 {
			rev = h.Rev
		}
		if e, err = mustVersion(tx, id, rev); rev == h.Rev {
			e.Reading = h.Reading
		}
		return err
	})
	return e, err
}

// Versions reads all revisions of an entry, newest first, and which of them
// cannot be read.
func (b *Book) Versions(ctx context.Context, id string) (list []Entry, bad []Damage, err error) {
	err = b.port.Read(ctx, []Space{Versions}, func(tx Tx) error {
		rows, err := tx.Under(Versions, id)
		list, bad = decodeAll(Versions, rows, decodeVersion)
		return err
	})
	slices.Reverse(list)
	if err == nil && len(list)+len(bad) == 0 {
		err = missing(Versions, id)
	}
	return list, bad, err
}

func mustHead(tx Tx, id string) (Head, error) {
	return readOne(tx, Heads, Key{ID: id}, decodeHead)
}

func mustVersion(tx Tx, id string, rev int) (Entry, error) {
	return readOne(tx, Versions, Key{ID: id, Rev: rev}, decodeVersion)
}
