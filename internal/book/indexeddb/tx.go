//go:build js && wasm

package indexeddb

import (
	"context"
	"errors"
	"syscall/js"

	"github.com/hack-pad/go-indexeddb/idb"

	"tremblant/internal/book"
)

// Read implements [book.Port].
func (s *Store) Read(ctx context.Context, spaces []book.Space, fn func(book.Tx) error) error {
	return s.again(ctx, "read", func(h *handle) error {
		return s.transact(ctx, h, idb.TransactionOptions{}, spaces, fn)
	})
}

// Write implements [book.Port].
func (s *Store) Write(ctx context.Context, how book.Durability, spaces []book.Space, fn func(book.Tx) error) error {
	options := idb.TransactionOptions{Mode: idb.TransactionReadWrite, Durability: idb.DurabilityStrict}
	if how == book.Relaxed {
		options.Durability = idb.DurabilityRelaxed
	}
	return s.again(ctx, "write", func(h *handle) error {
		return s.transact(ctx, h, options, spaces, fn)
	})
}

// again does some work, and once more on a new connection if the old one was
// lost. Work on a connection that was lost was not committed, except when the
// answer to the commit itself was lost; the book's writes bear repetition.
func (s *Store) again(ctx context.Context, op string, work func(*handle) error) error {
	for first := true; ; first = false {
		h, err := s.connect(ctx)
		if err != nil {
			return err
		}
		err = classify(op, work(h))
		if !errors.Is(err, book.ErrStale) || ctx.Err() != nil {
			return err
		}
		if s.drop(h); !first {
			return err
		}
	}
}

func (s *Store) transact(ctx context.Context, h *handle, o idb.TransactionOptions, spaces []book.Space, fn func(book.Tx) error) (err error) {
	names := make([]string, len(spaces))
	for i, space := range spaces {
		names[i] = string(space)
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	txn, raw, err := h.begin(o, names)
	if err != nil {
		return err
	}
	limited, cancel := context.WithTimeout(ctx, s.options.Wait)
	defer cancel()
	t := &tx{ctx: limited, txn: txn, raw: raw}
	if err = t.guarded(fn); err != nil {
		_ = txn.Abort()
		return ownError(ctx, err)
	}
	if err = s.complete(ctx, txn); err == nil && o.Mode == idb.TransactionReadWrite {
		s.channel.post(t.touched)
	}
	return err
}

// begin begins a transaction. go-indexeddb does not give out the browser's own
// transaction, which a batch of puts needs; so it is made here, and go-indexeddb
// is handed this one when it asks the database for one.
func (h *handle) begin(o idb.TransactionOptions, names []string) (txn *idb.Transaction, raw js.Value, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = caught(r)
		}
	}()
	list := make([]any, len(names))
	for i, name := range names {
		list[i] = name
	}
	raw = h.raw.Call("transaction", js.ValueOf(list), o.Mode.String(), map[string]any{"durability": o.Durability.String()})
	h.raw.Set("transaction", raw.Get("valueOf").Call("bind", raw)) // gives raw, whatever it is asked
	defer h.raw.Delete("transaction")
	txn, err = h.idb.TransactionWithOptions(o, names[0], names[1:]...)
	return txn, raw, err
}

// guarded runs fn. If it panics the transaction is aborted, not left to commit
// half of what was meant, and the panic goes on to the caller.
func (t *tx) guarded(fn func(book.Tx) error) (err error) {
	defer func() {
		if r := recover(); r != nil {
			_ = t.txn.Abort()
			panic(r)
		}
	}()
	if err = fn(t); err == nil {
		t.flush()
	}
	return errors.Join(err, t.failed)
}

// ownError tells the end of the caller's patience from the end of ours.
func ownError(ctx context.Context, err error) error {
	if errors.Is(err, context.DeadlineExceeded) && ctx.Err() == nil {
		return failure("wait", book.ErrStale, err)
	}
	return err
}

// complete commits and waits until that is done. From here on the caller's
// context is not asked any more: once the commit is under way, only the
// browser's answer says what is stored.
func (s *Store) complete(ctx context.Context, txn *idb.Transaction) error {
	waiting, cancel := context.WithTimeout(context.WithoutCancel(ctx), s.options.Wait)
	defer cancel()
	// Commit does not wait for the requests that are under way, and carries
	// them through when the page goes away. Where it is refused the transaction
	// commits by itself.
	if err := txn.Commit(); domName(err) == "InvalidStateError" {
		// It finished before its end was reached here, and whether by commit or
		// abort was not heard. Awaiting it would never end.
		return failure("commit", book.ErrUncertain, err)
	}
	err := txn.Await(waiting)
	if errors.Is(err, context.DeadlineExceeded) {
		return failure("commit", book.ErrUncertain, err)
	}
	return err
}

// tx implements [book.Tx] on one transaction.
type tx struct {
	ctx     context.Context
	txn     *idb.Transaction
	raw     js.Value // the same
	touched []book.Touch
	puts    []pending // not yet with the browser
	size    int       // of their texts, in bytes
	failed  error     // the first thing that went wrong, should the book overlook it
}

func (t *tx) keep(err error) error {
	if err != nil && t.failed == nil {
		t.failed = err
	}
	return err
}

// store finds the object store, if the context still holds.
func (t *tx) store(space book.Space) (*idb.ObjectStore, error) {
	if err := t.ctx.Err(); err != nil {
		return nil, err
	}
	t.flush() // what is asked next must see what was put
	return t.txn.ObjectStore(string(space))
}

func (t *tx) Get(space book.Space, key book.Key) (string, bool, error) {
	v, err := t.get(space, key)
	if t.keep(err) != nil || v.IsUndefined() {
		return "", false, err
	}
	return text(v), true, nil
}

func (t *tx) get(space book.Space, key book.Key) (js.Value, error) {
	store, err := t.store(space)
	if err != nil {
		return js.Value{}, err
	}
	request, err := store.Get(keyValue(space, key))
	if err != nil {
		return js.Value{}, err
	}
	v, err := request.Await(t.ctx)
	if t.ctx.Err() != nil {
		return js.Value{}, t.ctx.Err() // Await reports success when the context ended
	}
	return v, err
}

func (t *tx) Under(space book.Space, id string) ([]book.Row, error) {
	rows, err := t.under(space, id)
	return rows, t.keep(err)
}

func (t *tx) under(space book.Space, id string) ([]book.Row, error) {
	store, err := t.store(space)
	if err != nil {
		return nil, err
	}
	low, high := bounds(space, id)
	between, err := idb.NewKeyRangeBound(low, high, false, false)
	if err != nil {
		return nil, err
	}
	request, err := store.OpenCursorRange(between, idb.CursorNext)
	if err != nil {
		return nil, err
	}
	var rows []book.Row
	err = request.Iter(t.ctx, func(c *idb.CursorWithValue) error {
		key, err := c.PrimaryKey()
		if err != nil {
			return err
		}
		v, err := c.Value()
		rows = append(rows, book.Row{Key: keyOf(space, key), Text: text(v)})
		return err
	})
	if t.ctx.Err() != nil {
		return nil, t.ctx.Err()
	}
	return rows, err
}

func (t *tx) Keys(space book.Space) ([]book.Key, error) {
	keys, err := t.keys(space)
	return keys, t.keep(err)
}

func (t *tx) keys(space book.Space) ([]book.Key, error) {
	store, err := t.store(space)
	if err != nil {
		return nil, err
	}
	request, err := store.GetAllKeys()
	if err != nil {
		return nil, err
	}
	array, err := request.Request.Await(t.ctx)
	if t.ctx.Err() != nil {
		return nil, t.ctx.Err()
	}
	if err != nil {
		return nil, err
	}
	return keysOf(space, array), nil
}

func (t *tx) Put(space book.Space, key book.Key, text string) error {
	if err := t.ctx.Err(); err != nil {
		return t.keep(err)
	}
	t.touched = append(t.touched, book.Touch{Space: space, ID: key.ID})
	t.puts = append(t.puts, pending{space, key, text})
	if t.size += len(text); t.size > batchBytes {
		t.flush()
	}
	return t.failed
}

func (t *tx) Delete(space book.Space, key book.Key) error {
	return t.delete(space, key.ID, keyValue(space, key))
}

func (t *tx) DeleteUnder(space book.Space, id string) error {
	low, high := bounds(space, id)
	return t.delete(space, id, js.Global().Get("IDBKeyRange").Call("bound", low, high))
}

func (t *tx) delete(space book.Space, id string, which js.Value) error {
	store, err := t.store(space)
	if err == nil {
		_, err = store.Delete(which)
	}
	t.touched = append(t.touched, book.Touch{Space: space, ID: id})
	return t.keep(err)
}
