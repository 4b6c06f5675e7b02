//go:build js && wasm

package indexeddb

import (
	"context"
	"errors"
	"strconv"
	"strings"
	"syscall/js"

	"github.com/hack-pad/go-indexeddb/idb"

	"tremblant/internal/book"
)

// Snapshot implements [book.Port]. go-indexeddb has only cursors for values,
// which cost an event for each record: ten thousand take most of a second. So
// this one method speaks to the database itself: getAll, and then one string
// for the values of a space instead of ten thousand.
func (s *Store) Snapshot(ctx context.Context, spaces ...book.Space) ([][]book.Row, error) {
	out, _, err := s.counting(ctx, spaces)
	return out, err
}

// stamped gives all that the book holds, with its count.
func (s *Store) stamped(ctx context.Context) (out [][]book.Row, stamp int64, err error) {
	return s.counting(ctx, book.Spaces)
}

// stamp gives the count of writes.
func (s *Store) stamp(ctx context.Context) (int64, error) {
	_, stamp, err := s.counting(ctx, nil)
	return stamp, err
}

// counting gives the records of some spaces and the count, of one moment.
func (s *Store) counting(ctx context.Context, spaces []book.Space) (out [][]book.Row, stamp int64, err error) {
	err = s.again(ctx, "snapshot", func(h *handle) (err error) {
		defer func() {
			if r := recover(); r != nil {
				err = caught(r)
			}
		}()
		var whole bool
		if out, stamp, whole, err = s.snapshot(ctx, h, spaces); err != nil || whole {
			return err
		}
		// Of a damaged pack that cannot be mended, the rest is better than nothing.
		mend := idb.TransactionOptions{Mode: idb.TransactionReadWrite, Durability: idb.DurabilityStrict}
		if _, mending := s.transact(ctx, h, mend, []book.Space{book.Heads}, (*tx).readPacks); mending != nil {
			s.options.Report(mending)
			return nil
		}
		out, stamp, _, err = s.snapshot(ctx, h, spaces)
		return err
	})
	return out, stamp, err
}

// snapshot reads once. If a pack of heads is damaged, whole is false.
func (s *Store) snapshot(ctx context.Context, h *handle, spaces []book.Space) (out [][]book.Row, stamp int64, whole bool, err error) {
	names := make([]any, 0, len(spaces)+1)
	for _, name := range stores(spaces) {
		names = append(names, name)
	}
	txn := h.raw.Call("transaction", js.ValueOf(names), "readonly")
	count := txn.Call("objectStore", countStore).Call("get", countKey)
	keys, values := make([]js.Value, len(spaces)), make([]js.Value, len(spaces))
	var heads headRequests
	for i, space := range spaces {
		store := txn.Call("objectStore", string(space))
		if space == book.Heads {
			heads = askHeads(store)
			continue
		}
		keys[i], values[i] = store.Call("getAllKeys"), store.Call("getAll")
	}
	if err := s.finished(ctx, txn); err != nil {
		return nil, 0, false, err
	}
	out, whole = make([][]book.Row, len(spaces)), true
	for i, space := range spaces {
		if space == book.Heads {
			out[i], whole = heads.rows()
			continue
		}
		out[i] = rows(space, keys[i].Get("result"), values[i].Get("result"))
	}
	return out, counted(count.Get("result")), whole, nil
}

// finished waits for the end of a transaction of the browser's own.
func (s *Store) finished(ctx context.Context, txn js.Value) error {
	limited, cancel := context.WithTimeout(ctx, s.options.Wait)
	defer cancel()
	return ownError(ctx, heard(limited, txn, "oncomplete", "onabort"))
}

// answered waits for the answer to a request of the browser's own.
func answered(ctx context.Context, request js.Value) error {
	return heard(ctx, request, "onsuccess", "onerror")
}

// heard waits for one of two events of a transaction or request: that all is
// well, or that it failed.
func heard(ctx context.Context, target js.Value, well, failed string) error {
	done := make(chan error, 2)
	ignore := func(any) {}
	good := callback(ignore, func([]js.Value) { done <- nil })
	defer good.Release()
	bad := callback(ignore, func([]js.Value) {
		name, message := errorName(target.Get("error"))
		done <- failure("snapshot", kindOf(name), errors.New(name+": "+message))
	})
	defer bad.Release()
	target.Set(well, good)
	target.Set(failed, bad)
	defer func() {
		target.Set(well, js.Null())
		target.Set(failed, js.Null())
	}()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		return ctx.Err()
	}
}

const seam = "\n" // never inside a record or key of the book: JSON escapes it, ids exclude it

func rows(space book.Space, keys, values js.Value) []book.Row {
	out := make([]book.Row, values.Length())
	texts, err := joined(values, len(out))
	for i := range out {
		if err == nil {
			out[i].Text = texts[i]
		} else {
			out[i].Text = text(values.Index(i))
		}
	}
	for i, key := range keysOf(space, keys) {
		out[i].Key = key
	}
	return out
}

var errJoin = errors.New("cannot be fetched as one string")

// joined fetches an array of strings as one. Anything odd among them shows in
// the count, or in a text that is no record.
func joined(array js.Value, want int) (texts []string, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = caught(r) // longer than the browser's longest string
		}
	}()
	if want == 0 {
		return nil, nil
	}
	if texts = strings.Split(array.Call("join", seam).String(), seam); len(texts) != want {
		return nil, errJoin
	}
	return texts, nil
}

// keysOf reads an array of keys.
func keysOf(space book.Space, array js.Value) []book.Key {
	out := make([]book.Key, array.Length())
	if fastKeys(space, array, out) != nil {
		for i := range out {
			out[i] = keyOf(space, array.Index(i))
		}
	}
	return out
}

func fastKeys(space book.Space, array js.Value, out []book.Key) error {
	kind := keyKind(space)
	if kind == none {
		ids, err := joined(array, len(out))
		for i := range ids {
			out[i].ID = ids[i]
		}
		return err
	}
	parts, err := joined(array.Call("flat"), 2*len(out))
	for i := 0; i < len(parts) && err == nil; i += 2 {
		key := &out[i/2]
		key.ID = parts[i]
		if kind == word {
			key.Sub = parts[i+1]
			continue
		}
		key.Rev, err = strconv.Atoi(parts[i+1])
	}
	return err
}
