//go:build js && wasm

package indexeddb

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync/atomic"
	"syscall/js"
	"testing"
	"time"

	"github.com/hack-pad/go-indexeddb/idb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/book/booktest"
)

// The tests of this file hold the sharp edges that the package doc lists. Those
// named after go-indexeddb look at the library alone: when one fails after an
// update, the library or the browser has changed and the way around may go.

func TestSuccessOfARequestIsNotACommit(t *testing.T) {
	s := open(t, Options{Name: name(t)})
	err := s.Write(t.Context(), book.Strict, book.Spaces, func(tx book.Tx) error {
		require.NoError(t, tx.Put(book.Heads, book.Key{ID: "x"}, "never"))
		got, ok, err := tx.Get(book.Heads, book.Key{ID: "x"})
		require.NoError(t, err)
		assert.True(t, ok, "the request succeeded")
		assert.Equal(t, "never", got)
		return tx.(interface{ abort() error }).abort() // as the browser does over quota or on a full disk
	})
	require.Error(t, err, "the write was not reported as done")
	rows, err := s.Snapshot(t.Context(), book.Heads)
	require.NoError(t, err)
	assert.Empty(t, rows[0])
}

func (t *tx) abort() error { return t.txn.Abort() }

func TestSavedIsReportedAfterCompleteOnly(t *testing.T) {
	s := open(t, Options{Name: name(t)})
	var completed atomic.Bool
	real := s.handle.raw.Get("transaction")
	watch := js.FuncOf(func(this js.Value, args []js.Value) any {
		list := js.Global().Get("Array").New()
		for _, a := range args {
			list.Call("push", a)
		}
		txn := real.Call("apply", this, list)
		assert.Equal(t, "strict", txn.Get("durability").String())
		txn.Call("addEventListener", "complete", js.FuncOf(func(js.Value, []js.Value) any {
			completed.Store(true)
			return nil
		}))
		return txn
	})
	s.handle.raw.Set("transaction", watch)
	_, err := book.New(s, booktest.Checks).Save(t.Context(), draft("pear", 0))
	require.NoError(t, err)
	assert.True(t, completed.Load())
}

// pendingGet is a request of go-indexeddb's own that was just made.
func pendingGet(t *testing.T) *idb.Request {
	txn, err := open(t, Options{Name: name(t)}).handle.idb.Transaction(idb.TransactionReadOnly, "heads")
	require.NoError(t, err)
	store, err := txn.ObjectStore("heads")
	require.NoError(t, err)
	request, err := store.Get(js.ValueOf("x"))
	require.NoError(t, err)
	return request
}

func TestGoIndexedDBAwaitOnAnEndedContextGivesNoError(t *testing.T) {
	request := pendingGet(t)
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := request.Await(ended)
	assert.NoError(t, err)
}

func TestAnEndedContextIsNoSuccess(t *testing.T) {
	s := open(t, Options{Name: name(t)})
	for name, op := range map[string]func(tx book.Tx) error{
		"get":   func(tx book.Tx) error { _, _, err := tx.Get(book.Heads, book.Key{ID: "x"}); return err },
		"under": func(tx book.Tx) error { _, err := tx.Under(book.Versions, "x"); return err },
		"put":   func(tx book.Tx) error { return tx.Put(book.Heads, book.Key{ID: "x"}, "never") },
	} {
		ctx, cancel := context.WithCancel(t.Context())
		err := s.Write(ctx, book.Strict, book.Spaces, func(tx book.Tx) error {
			cancel()
			assert.ErrorIs(t, op(tx), context.Canceled, name)
			return nil // the book overlooks it
		})
		assert.ErrorIs(t, err, context.Canceled, name)
	}
}

// Many records go over to the browser in one piece, and come to the same.
func TestManyPutsAtOnce(t *testing.T) {
	odd := []string{"", `"\\`, "\u2028\u0000\t", "é\U0001f9c1", `]],["x","y"`, strings.Repeat("long ", 300_000)}
	s := open(t, Options{Name: name(t)})
	keys := map[book.Space]func(i int) book.Key{
		book.Heads:    func(i int) book.Key { return book.Key{ID: fmt.Sprint("h", i)} },
		book.Versions: func(i int) book.Key { return book.Key{ID: "v", Rev: i + 1} },
		book.Trials:   func(i int) book.Key { return book.Key{ID: "t", Sub: fmt.Sprint("s", i)} },
	}
	text := func(i int) string { return fmt.Sprint(i, odd[i%len(odd)]) }
	require.NoError(t, s.Write(t.Context(), book.Strict, book.Spaces, func(tx book.Tx) error {
		for i := range 40 {
			for space, key := range keys {
				require.NoError(t, tx.Put(space, key(i), "first"))
				require.NoError(t, tx.Put(space, key(i), text(i)))
			}
		}
		require.NoError(t, tx.Delete(book.Heads, book.Key{ID: "h3"}))
		require.NoError(t, tx.Put(book.Heads, book.Key{ID: "h3"}, text(3)))
		got, _, err := tx.Get(book.Heads, book.Key{ID: "h5"})
		assert.Equal(t, text(5), got, "seen before the end")
		return err
	}))
	for space, key := range keys {
		rows, err := s.Snapshot(t.Context(), space)
		require.NoError(t, err)
		require.Len(t, rows[0], 40)
		at := map[book.Key]string{}
		for _, row := range rows[0] {
			at[row.Key] = row.Text
		}
		for i := range 40 {
			assert.Equal(t, text(i), at[key(i)])
		}
	}

	stop := errors.New("no further")
	assert.ErrorIs(t, s.Write(t.Context(), book.Strict, book.Spaces, func(tx book.Tx) error {
		for i := range 40 {
			require.NoError(t, tx.Put(book.Heads, book.Key{ID: fmt.Sprint("never", i)}, odd[5]))
		}
		return stop
	}), stop)
	assert.Error(t, s.Write(t.Context(), book.Strict, []book.Space{book.Heads}, func(tx book.Tx) error {
		for i := range 40 {
			_ = tx.Put(book.Heads, book.Key{ID: fmt.Sprint("never", i)}, "x")
			_ = tx.Put(book.Photos, book.Key{ID: fmt.Sprint("never", i)}, "not part of the transaction")
		}
		return nil
	}))
	rows, err := s.Snapshot(t.Context(), book.Heads)
	require.NoError(t, err)
	assert.Len(t, rows[0], 40, "all or nothing")
}

func TestGoIndexedDBAwaitOnAFinishedRequestHangs(t *testing.T) {
	request := pendingGet(t)
	_, err := request.Await(t.Context())
	require.NoError(t, err)
	short, cancel := context.WithTimeout(t.Context(), 100*time.Millisecond)
	defer cancel()
	_, _ = request.Await(short)
	assert.Error(t, short.Err())
}

func TestATransactionThatEndedEarlyIsNotWaitedForForEver(t *testing.T) {
	s := open(t, Options{Name: name(t), Wait: 10 * time.Second})
	begun := time.Now()
	err := s.Write(t.Context(), book.Strict, book.Spaces, func(tx book.Tx) error {
		time.Sleep(20 * time.Millisecond) // against the rules: the browser commits meanwhile
		return nil
	})
	assert.ErrorIs(t, err, book.ErrUncertain)
	assert.Less(t, time.Since(begun), 5*time.Second)
}

// oneMore are the product's own steps, and that of a later version.
func oneMore(step upgrade) []upgrade { return append(slices.Clone(upgrades), step) }

func TestAFailedUpgradeRollsBackAndCanBeTriedAgain(t *testing.T) {
	n := name(t)
	first := open(t, Options{Name: n})
	_, err := book.New(first, booktest.Checks).Save(t.Context(), draft("pear", 0))
	require.NoError(t, err)
	require.NoError(t, first.Close())

	addIndex := func(_ *idb.Database, raw js.Value, _ bool) error {
		raw.Call("objectStore", "heads").Call("createIndex", "later", "later") // of a store that exists
		return nil
	}
	broken := errors.New("cannot migrate")
	for what, step := range map[string]upgrade{
		"error": func(db *idb.Database, raw js.Value, made bool) error {
			require.NoError(t, addIndex(db, raw, made))
			return broken
		},
		"panic":  func(*idb.Database, js.Value, bool) error { panic(broken) },
		"throws": func(_ *idb.Database, raw js.Value, _ bool) error { raw.Call("objectStore", "nowhere"); return nil },
	} {
		_, err := Open(t.Context(), Options{Name: n, upgrades: oneMore(step)})
		require.ErrorIs(t, err, book.ErrUnavailable, what)
		if what != "throws" {
			assert.ErrorIs(t, err, broken, what)
		}
	}
	again := open(t, Options{Name: n})
	assert.False(t, again.Fresh(), "the version number went back with the rest")
	require.NoError(t, again.Close())

	migrated := open(t, Options{Name: n, upgrades: oneMore(addIndex)})
	l, err := book.New(migrated, booktest.Checks).List(t.Context())
	require.NoError(t, err)
	assert.Len(t, l.Heads, 1)
	require.NoError(t, migrated.Close())

	_, err = Open(t.Context(), Options{Name: n})
	require.ErrorIs(t, err, book.ErrNewer, "the page is older than its data")
	assert.Equal(t, book.CodeNewer, book.NoteOf(err).Code)
}

func TestAFailedFirstUpgradeLeavesNothing(t *testing.T) {
	n := name(t)
	fail := func(db *idb.Database, raw js.Value, made bool) error { return errors.New("no") }
	_, err := Open(t.Context(), Options{Name: n, upgrades: []upgrade{fail}})
	require.ErrorIs(t, err, book.ErrUnavailable)
	s := open(t, Options{Name: n})
	assert.True(t, s.Fresh())
}

func TestADatabaseWithoutItsStoresIsNotTakenForAnEmptyBook(t *testing.T) {
	n := name(t)
	nothing := func(*idb.Database, js.Value, bool) error { return nil }
	_, err := Open(t.Context(), Options{Name: n, upgrades: []upgrade{nothing}})
	assert.ErrorIs(t, err, book.ErrDamaged)
}

// rude opens a raw connection that does not give way to an upgrade.
func rude(t *testing.T, n string, version int) js.Value {
	request := js.Global().Get("indexedDB").Call("open", n, version)
	done := make(chan struct{})
	request.Set("onupgradeneeded", js.FuncOf(func(js.Value, []js.Value) any {
		for _, s := range book.Spaces {
			request.Get("result").Call("createObjectStore", string(s))
		}
		return nil
	}))
	request.Set("onsuccess", js.FuncOf(func(js.Value, []js.Value) any { close(done); return nil }))
	<-done
	return request.Get("result")
}

func TestABlockedOpenIsToldAndGivenUp(t *testing.T) {
	n := name(t)
	holder := rude(t, n, 1)
	later := oneMore(func(*idb.Database, js.Value, bool) error { return nil })
	told := make(chan bool, 1)
	_, err := Open(t.Context(), Options{
		Name: n, upgrades: later, Patience: 100 * time.Millisecond, Blocked: func() { told <- true },
	})
	require.ErrorIs(t, err, book.ErrBlocked)
	assert.Equal(t, book.CodeBlocked, book.NoteOf(err).Code)
	assert.True(t, <-told)

	// The forgotten request is answered now. Its upgrade must not leave a
	// version without stores, nor its connection block the next one.
	holder.Call("close")
	time.Sleep(200 * time.Millisecond)
	ran := false
	s := open(t, Options{Name: n, upgrades: oneMore(func(*idb.Database, js.Value, bool) error {
		ran = true
		return nil
	})})
	assert.True(t, ran, "the step was not lost")
	_, err = s.Snapshot(t.Context(), book.Spaces...)
	assert.NoError(t, err)
}

func TestABlockedOpenGoesOnWhenTheOtherTabLetsGo(t *testing.T) {
	n := name(t)
	holder := rude(t, n, 1)
	later := oneMore(func(*idb.Database, js.Value, bool) error { return nil })
	s := open(t, Options{Name: n, upgrades: later, Blocked: func() { holder.Call("close") }})
	_, err := s.Snapshot(t.Context(), book.Spaces...)
	assert.NoError(t, err)
}

func TestAnOpenThatIsNotWaitedForLeavesNoConnection(t *testing.T) {
	n := name(t)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	o := (&Store{options: Options{Name: n}.orDefault()})
	_, _, err := o.dial(ctx)
	require.ErrorIs(t, err, context.Canceled)
	time.Sleep(100 * time.Millisecond)
	later := oneMore(func(*idb.Database, js.Value, bool) error { return nil })
	blocked := false
	s := open(t, Options{Name: n, upgrades: later, Blocked: func() { blocked = true }})
	assert.False(t, blocked)
	_, err = s.Snapshot(t.Context(), book.Spaces...)
	assert.NoError(t, err)
}

func TestAnotherTabUpgrades(t *testing.T) {
	n := name(t)
	outdated := make(chan bool, 1)
	old := open(t, Options{Name: n, Outdated: func() { outdated <- true }})
	b := book.New(old, booktest.Checks)
	_, err := b.Save(t.Context(), draft("pear", 0))
	require.NoError(t, err)

	later := oneMore(func(*idb.Database, js.Value, bool) error { return nil })
	open(t, Options{Name: n, upgrades: later, Blocked: func() { t.Error("the old tab did not give way") }})
	assert.True(t, <-outdated)
	_, err = b.Save(t.Context(), draft("pear", 1))
	require.ErrorIs(t, err, book.ErrNewer, "the old page can save no more, and says so")
}

func TestALostConnectionIsOpenedAgain(t *testing.T) {
	s := open(t, Options{Name: name(t)})
	b := book.New(s, booktest.Checks)
	for i, lose := range []func(){
		func() { s.handle.raw.Call("close") },
		func() { s.handle.dead = true },
		func() { s.handle.raw.Call("dispatchEvent", js.Global().Get("Event").New("close")) },
	} {
		_, err := b.Save(t.Context(), draft("pear", i))
		require.NoError(t, err)
		before := s.handle
		lose()
		l, err := b.List(t.Context())
		require.NoError(t, err)
		assert.Len(t, l.Heads, 1)
		assert.NotSame(t, before, s.handle)
		lose()
		_, err = b.Open(t.Context(), "pear")
		require.NoError(t, err)
	}
	s.handle.raw.Call("close")
	_, err := b.Save(t.Context(), draft("plum", 0))
	require.NoError(t, err, "and a save goes through")
}

func TestAConnectionThatIsLostTwiceIsReported(t *testing.T) {
	s := open(t, Options{Name: name(t)})
	tries := 0
	err := s.Write(t.Context(), book.Strict, book.Spaces, func(tx book.Tx) error {
		tries++
		return failure("put", book.ErrStale, nil)
	})
	assert.ErrorIs(t, err, book.ErrStale)
	assert.Equal(t, 2, tries)
}

func TestErrorsAreToldByName(t *testing.T) {
	s := open(t, Options{Name: name(t)})
	closed := open(t, Options{Name: s.options.Name})
	require.NoError(t, closed.handle.idb.Close())
	_, thrown := closed.handle.idb.Transaction(idb.TransactionReadOnly, "heads")
	require.Error(t, thrown)
	assert.False(t, errors.Is(thrown, idb.NewDOMException("InvalidStateError")), "go-indexeddb: thrown errors do not match")
	assert.Equal(t, "InvalidStateError", domName(thrown))

	txn, err := s.handle.idb.Transaction(idb.TransactionReadWrite, "heads")
	require.NoError(t, err)
	store, err := txn.ObjectStore("heads")
	require.NoError(t, err)
	for range 2 {
		_, err = store.AddKey(js.ValueOf("x"), js.ValueOf("y"))
		require.NoError(t, err)
	}
	delivered := txn.Await(t.Context())
	assert.Equal(t, "ConstraintError", domName(delivered))
	assert.Equal(t, "", domName(errors.New("another")))
	assert.Equal(t, "", domName(nil))

	for name, kind := range map[string]error{
		"QuotaExceededError": book.ErrQuota, "VersionError": book.ErrNewer, "SecurityError": book.ErrUnavailable,
		"InvalidStateError": book.ErrStale, "UnknownError": book.ErrStale, "AbortError": book.ErrStale,
	} {
		made := js.Global().Get("DOMException").New("m", name)
		assert.ErrorIs(t, classify("op", js.Error{Value: made}), kind, name)
	}
	own := &book.Conflict{}
	assert.Same(t, own, classify("op", own), "what the book says is not the database's doing")
	assert.ErrorIs(t, classify("op", context.Canceled), context.Canceled)
	assert.ErrorIs(t, classify("op", &js.ValueError{Method: "Value.Call"}), book.ErrStale)
}

func TestThrownThingsThatAreNoErrors(t *testing.T) {
	for _, v := range []js.Value{js.Null(), js.Undefined(), js.ValueOf("text"), js.ValueOf(map[string]any{"name": 5})} {
		assert.NotPanics(t, func() { errorName(v) })
	}
}

func TestACursorOverManyRevisions(t *testing.T) {
	s := open(t, Options{Name: name(t)})
	require.NoError(t, s.Write(t.Context(), book.Strict, book.Spaces, func(tx book.Tx) error {
		for rev := 1; rev <= 500; rev++ {
			if err := tx.Put(book.Versions, book.Key{ID: "x", Rev: rev}, strings.Repeat("v", 500)); err != nil {
				return err
			}
		}
		rows, err := tx.Under(book.Versions, "x")
		assert.Len(t, rows, 500)
		// The transaction is still alive after the cursor.
		return errors.Join(err, tx.Put(book.Heads, book.Key{ID: "x"}, "h"))
	}))
}

func TestNoIndexedDB(t *testing.T) {
	for what, property := range map[string]map[string]any{
		"missing":   {"value": js.Undefined(), "configurable": true},
		"forbidden": {"get": js.Global().Get("Function").New("throw new DOMException('no', 'SecurityError')"), "configurable": true},
		"throws on open": {"value": map[string]any{
			"open": js.Global().Get("Function").New("throw new DOMException('no', 'SecurityError')"),
		}, "configurable": true},
		"gives nonsense": {"value": map[string]any{"open": js.Global().Get("Function").New("return {}")}, "configurable": true},
	} {
		t.Run(what, func(t *testing.T) {
			define("indexedDB", property, t)
			if what == "missing" || what == "forbidden" {
				assert.ErrorIs(t, Available(), book.ErrUnavailable)
			}
			_, err := Open(t.Context(), Options{Name: "none"})
			assert.ErrorIs(t, err, book.ErrUnavailable)
			assert.Equal(t, book.CodeUnavailable, book.NoteOf(err).Code)
		})
	}
	assert.NoError(t, Available())
}

func TestAPanicInsideATransactionAbortsIt(t *testing.T) {
	s := open(t, Options{Name: name(t)})
	assert.PanicsWithValue(t, "oops", func() {
		_ = s.Write(t.Context(), book.Strict, book.Spaces, func(tx book.Tx) error {
			require.NoError(t, tx.Put(book.Heads, book.Key{ID: "x"}, "never"))
			panic("oops")
		})
	})
	rows, err := s.Snapshot(t.Context(), book.Heads)
	require.NoError(t, err)
	assert.Empty(t, rows[0])
}

func TestAPanicInACallbackIsReported(t *testing.T) {
	var reported any
	f := callback(func(r any) { reported = r }, func([]js.Value) { panic("oops") })
	defer f.Release()
	f.Invoke()
	assert.Equal(t, "oops", reported)

	told := make(chan any, 1)
	s := &Store{options: Options{Report: func(r any) { told <- r }}}
	s.tell(func() { panic("hook") })
	assert.Equal(t, "hook", <-told)
}

func TestNoListenersArePiledUp(t *testing.T) {
	s := open(t, Options{Name: name(t)})
	b := book.New(s, booktest.Checks)
	for rev := range 200 {
		_, err := b.Save(t.Context(), draft("pear", rev))
		require.NoError(t, err)
	}
	list, _, err := b.Versions(t.Context(), "pear")
	require.NoError(t, err)
	assert.Len(t, list, 200)
}
