//go:build js && wasm

package indexeddb

import (
	"context"
	"errors"
	"slices"
	"syscall/js"
	"time"

	"github.com/hack-pad/go-indexeddb/idb"

	"tremblant/internal/book"
)

// Read implements [book.Port].
func (s *Store) Read(ctx context.Context, spaces []book.Space, fn func(book.Tx) error) error {
	return s.again(ctx, "read", func(h *handle) error {
		_, err := s.transact(ctx, h, idb.TransactionOptions{}, spaces, func(t *tx) error { return fn(t) })
		return err
	})
}

// Write implements [book.Port].
func (s *Store) Write(ctx context.Context, how book.Durability, spaces []book.Space, fn func(book.Tx) error) error {
	select {
	case <-s.turn:
	case <-ctx.Done():
		return ctx.Err()
	}
	done, err := s.inTurn(ctx, how, spaces, fn)
	if done == nil {
		return err
	}
	limit := time.NewTimer(secondLimit)
	defer limit.Stop()
	select { // it is stored; what is awaited is that it is stored twice
	case <-done:
	case <-limit.C:
	case <-ctx.Done():
	}
	return nil
}

// inTurn writes, and hands over to the second copy what was written. Done is
// closed when it is there; nil if that is not waited for.
func (s *Store) inTurn(ctx context.Context, how book.Durability, spaces []book.Space, fn func(book.Tx) error) (done <-chan struct{}, err error) {
	defer func() { s.turn <- struct{}{} }()
	stamp, ops, err := s.write(ctx, how, spaces, fn, func(now int64) (int64, error) { return now + 1, nil })
	if err != nil || s.second == nil {
		return nil, err
	}
	if done = s.second.follow(job{stamp: stamp, ops: ops}); len(ops) > bulk {
		return nil, nil
	}
	return done, nil
}

// write runs fn in a transaction and counts it. What the count becomes is told
// by next, from what it was; an error of next ends the transaction before fn.
func (s *Store) write(ctx context.Context, how book.Durability, spaces []book.Space, fn func(book.Tx) error,
	next func(now int64) (int64, error)) (stamp int64, ops []op, err error) {
	options := idb.TransactionOptions{Mode: idb.TransactionReadWrite, Durability: idb.DurabilityStrict}
	if how == book.Relaxed {
		options.Durability = idb.DurabilityRelaxed
	}
	err = s.again(ctx, "write", func(h *handle) error {
		t, err := s.transact(ctx, h, options, spaces, func(t *tx) (err error) {
			if stamp, err = t.count(); err == nil {
				stamp, err = next(stamp)
			}
			if err != nil {
				return err
			}
			t.setCount(stamp)
			return fn(t)
		})
		if t != nil {
			ops = t.ops
		}
		return err
	})
	return stamp, ops, err
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

func (s *Store) transact(ctx context.Context, h *handle, o idb.TransactionOptions, spaces []book.Space, fn func(*tx) error) (*tx, error) {
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	txn, raw, err := h.begin(o, scope(spaces))
	if err != nil {
		return nil, err
	}
	limited, cancel := context.WithTimeout(ctx, s.options.Wait)
	defer cancel()
	t := &tx{ctx: limited, txn: txn, raw: raw, writes: o.Mode == idb.TransactionReadWrite}
	if err = t.guarded(fn); err != nil {
		_ = txn.Abort()
		return nil, ownError(ctx, err)
	}
	if err = s.complete(ctx, txn); err == nil {
		s.channel.post(t.ops)
	}
	return t, err
}

// stores are the object stores of some spaces, and that of the count.
func stores(spaces []book.Space) []string {
	names := make([]string, len(spaces), len(spaces)+1)
	for i, space := range spaces {
		names[i] = string(space)
	}
	return append(names, countStore)
}

// scope is what a transaction over some spaces must reach: for a pack that is
// damaged also the revisions, from which it is made again.
func scope(spaces []book.Space) []string {
	if slices.Contains(spaces, book.Heads) && !slices.Contains(spaces, book.Versions) {
		spaces = append(slices.Clone(spaces), book.Versions)
	}
	return stores(spaces)
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
func (t *tx) guarded(fn func(*tx) error) (err error) {
	defer func() {
		if r := recover(); r != nil {
			_ = t.txn.Abort()
			panic(r)
		}
	}()
	if err = fn(t); err == nil {
		t.flush()
		t.writePacks()
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
	ctx    context.Context
	txn    *idb.Transaction
	raw    js.Value // the same
	writes bool
	packs  map[int]*heldPack // of heads, that it has read
	ops    []op              // all that was changed
	puts   []pending         // not yet with the browser
	size   int               // of their texts, in bytes
	failed error             // the first thing that went wrong, should the book overlook it
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
	if space == book.Heads {
		text, ok, err := t.getHead(key.ID)
		return text, ok, t.keep(err)
	}
	v, err := t.value(space, keyValue(space, key))
	if t.keep(err) != nil || v.IsUndefined() {
		return "", false, err
	}
	return text(v), true, nil
}

// value reads what stands under a key; undefined if nothing does.
func (t *tx) value(space book.Space, key js.Value) (js.Value, error) {
	store, err := t.store(space)
	if err != nil {
		return js.Value{}, err
	}
	request, err := store.Get(key)
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
	if space == book.Heads {
		text, ok, err := t.getHead(id)
		if t.keep(err) != nil || !ok {
			return nil, err
		}
		return []book.Row{{Key: book.Key{ID: id}, Text: text}}, nil
	}
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
	if space == book.Heads {
		keys, err := t.headKeys()
		return keys, t.keep(err)
	}
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
	t.ops = append(t.ops, op{put, space, key, text})
	if space == book.Heads {
		return t.keep(t.putHead(key.ID, text))
	}
	t.puts = append(t.puts, pending{space, key, text})
	if t.size += len(text); t.size > batchBytes {
		t.flush()
	}
	return t.failed
}

func (t *tx) Delete(space book.Space, key book.Key) error {
	if space == book.Heads {
		t.ops = append(t.ops, op{remove, space, key, ""})
		return t.keep(t.deleteHead(key.ID))
	}
	return t.delete(op{remove, space, key, ""}, keyValue(space, key))
}

func (t *tx) DeleteUnder(space book.Space, id string) error {
	if space == book.Heads {
		return t.Delete(space, book.Key{ID: id})
	}
	low, high := bounds(space, id)
	return t.delete(op{removeUnder, space, book.Key{ID: id}, ""}, js.Global().Get("IDBKeyRange").Call("bound", low, high))
}

func (t *tx) delete(o op, which js.Value) error {
	store, err := t.store(o.at)
	if err == nil {
		_, err = store.Delete(which)
	}
	t.ops = append(t.ops, o)
	return t.keep(err)
}
