//go:build js && wasm

package indexeddb

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"syscall/js"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/book/booktest"
)

// wipe deletes one of the two databases, as the browser does it.
func wipe(t *testing.T, factory js.Value, n string) {
	t.Helper()
	done := make(chan struct{})
	request := factory.Call("deleteDatabase", n)
	f := js.FuncOf(func(js.Value, []js.Value) any { close(done); return nil })
	defer f.Release()
	request.Set("onsuccess", f)
	select {
	case <-done:
	case <-time.After(5 * time.Second):
		t.Fatal("not deleted")
	}
}

func firstFactory() js.Value { return js.Global().Get("indexedDB") }

func secondFactory(t *testing.T) js.Value {
	t.Helper()
	f, err := bucketFactory(t.Context())
	require.NoError(t, err)
	return f
}

// alone opens one of the two databases without the other.
func alone(t *testing.T, n string, f js.Value) *Store {
	t.Helper()
	return open(t, Options{Name: n, single: true, factory: func() (js.Value, error) { return f, nil }})
}

// filled is a closed book of three formulas: apple at revision 2, pear with a
// trial, and plum, which was deleted for good.
func filled(t *testing.T) string {
	t.Helper()
	n := name(t)
	s := open(t, Options{Name: n})
	fill(t, book.New(s, booktest.Checks))
	require.NoError(t, s.Close())
	return n
}

func fill(t *testing.T, b *book.Book) {
	t.Helper()
	ctx := t.Context()
	for _, d := range []book.Draft{draft("apple", 0), draft("pear", 0), draft("apple", 1), draft("plum", 0)} {
		_, err := b.Save(ctx, d)
		require.NoError(t, err)
	}
	_, err := b.PutTrial(ctx, book.Trial{ID: "t1", Entry: "pear", Rev: 1, Batch: []byte(`{}`)})
	require.NoError(t, err)
	_, err = b.Bin(ctx, "plum", 1, 1)
	require.NoError(t, err)
	_, err = b.Purge(ctx, 2)
	require.NoError(t, err)
}

func contents(t *testing.T, s *Store) [][]book.Row {
	t.Helper()
	rows, _, err := s.stamped(t.Context())
	require.NoError(t, err)
	return rows
}

func TestEachSaveIsInBothPlacesWhenItIsReported(t *testing.T) {
	n := name(t)
	s := open(t, Options{Name: n})
	require.NotNil(t, s.second, "this browser has buckets")
	other := alone(t, n, secondFactory(t))
	b := book.New(s, booktest.Checks)
	for rev := range 5 {
		_, err := b.Save(t.Context(), draft("pear", rev))
		require.NoError(t, err)
		rows, stamp, err := other.stamped(t.Context())
		require.NoError(t, err)
		assert.EqualValues(t, rev+1, stamp)
		assert.Equal(t, contents(t, s), rows)
	}
}

func TestWhatOneLostTheOtherBringsBack(t *testing.T) {
	lose := func(f func(*testing.T) js.Value) func(*testing.T, string) {
		return func(t *testing.T, n string) { wipe(t, f(t), n) }
	}
	first := func(*testing.T) js.Value { return firstFactory() }
	// The end of what was written: the last revision of the apple and all after it.
	cut := func(f func(*testing.T) js.Value) func(*testing.T, string) {
		return func(t *testing.T, n string) {
			s := alone(t, n, f(t))
			_, _, err := s.write(t.Context(), book.Strict, book.Spaces, func(tx book.Tx) error {
				return errors.Join(tx.Delete(book.Versions, book.Key{ID: "apple", Rev: 2}),
					tx.Delete(book.Trials, book.Key{ID: "pear", Sub: "t1"}),
					tx.Put(book.Heads, book.Key{ID: "apple"}, `{"old":1}`),
					tx.Put(book.Heads, book.Key{ID: "plum"}, `{"not yet":"deleted"}`))
			}, func(int64) (int64, error) { return 2, nil })
			require.NoError(t, err)
			require.NoError(t, s.Close())
		}
	}
	for _, c := range []struct {
		name     string
		lose     func(*testing.T, string)
		restored int
	}{
		{"the book was wiped", lose(first), 6},
		{"the second copy was wiped", lose(secondFactory), 0},
		{"the book lost its end", cut(first), 4},
		{"the second copy lost its end", cut(secondFactory), 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			n := filled(t)
			before := contents(t, alone(t, n, firstFactory()))
			require.Len(t, slices.Concat(before...), 6, "two heads, three revisions, a trial")
			c.lose(t, n)
			s := open(t, Options{Name: n})
			assert.Equal(t, before, contents(t, s))
			assert.Equal(t, c.restored, s.Restored())
			assert.False(t, s.Fresh())
			assert.Eventually(t, func() bool {
				return assert.ObjectsAreEqual(before, contents(t, s.second.spare))
			}, 5*time.Second, 20*time.Millisecond)
			_, err := book.New(s, booktest.Checks).Save(t.Context(), draft("apple", 2))
			require.NoError(t, err, "and the book goes on")
			assert.Equal(t, contents(t, s), contents(t, s.second.spare))
		})
	}
}

func TestBothWipedIsAnEmptyBook(t *testing.T) {
	n := filled(t)
	wipe(t, firstFactory(), n)
	wipe(t, secondFactory(t), n)
	s := open(t, Options{Name: n})
	assert.True(t, s.Fresh())
	assert.Zero(t, s.Restored())
	assert.Empty(t, slices.Concat(contents(t, s)...))
}

func TestABookFromBeforeTheSecondCopyIsCopied(t *testing.T) {
	n := name(t)
	s := open(t, Options{Name: n, single: true})
	fill(t, book.New(s, booktest.Checks))
	before := contents(t, s)
	require.NoError(t, s.Close())
	s = open(t, Options{Name: n})
	assert.Eventually(t, func() bool {
		return assert.ObjectsAreEqual(before, contents(t, s.second.spare))
	}, 5*time.Second, 20*time.Millisecond)
}

// Version 1 of the database had no count.
func TestAVersionOneBookIsNotTakenForAnEmptyOne(t *testing.T) {
	n := name(t)
	holder := rude(t, n, 1)
	txn := holder.Call("transaction", "heads", "readwrite")
	txn.Call("objectStore", "heads").Call("put", "{}", "pear")
	require.NoError(t, (&Store{options: Options{}.orDefault()}).finished(t.Context(), txn))
	holder.Call("close")
	s := open(t, Options{Name: n})
	require.Len(t, contents(t, s)[0], 1)
	assert.Eventually(t, func() bool { return len(contents(t, s.second.spare)[0]) == 1 }, 5*time.Second, 20*time.Millisecond)
	require.NoError(t, s.Close())
	wipe(t, firstFactory(), n)
	s = open(t, Options{Name: n})
	assert.Len(t, contents(t, s)[0], 1)
}

func TestManyTabsKeepOneSecondCopy(t *testing.T) {
	n := name(t)
	var wg sync.WaitGroup
	tabs := make([]*Store, 3)
	for i := range tabs {
		tabs[i] = open(t, Options{Name: n})
	}
	for i, s := range tabs {
		b := book.New(s, booktest.Checks)
		wg.Go(func() {
			for rev := range 15 {
				_, err := b.Save(context.Background(), draft(fmt.Sprint("e", i), rev))
				assert.NoError(t, err)
			}
		})
	}
	wg.Wait()
	want, stamp, err := tabs[0].stamped(t.Context())
	require.NoError(t, err)
	assert.EqualValues(t, 45, stamp)
	have, copied, err := tabs[0].second.spare.stamped(t.Context())
	require.NoError(t, err)
	assert.EqualValues(t, stamp, copied)
	assert.Equal(t, want, have)
}

func TestATabThatDiedBeforeTheSecondCopyLeavesAGapThatIsFilled(t *testing.T) {
	n := name(t)
	s := open(t, Options{Name: n})
	dying := alone(t, n, firstFactory())
	_, err := book.New(dying, booktest.Checks).Save(t.Context(), draft("pear", 0))
	require.NoError(t, err)
	_, err = book.New(s, booktest.Checks).Save(t.Context(), draft("apple", 0))
	require.NoError(t, err)
	assert.Equal(t, contents(t, s), contents(t, s.second.spare))
}

func TestASecondCopyThatFailsDoesNotStopASave(t *testing.T) {
	s := open(t, Options{Name: name(t)})
	b := book.New(s, booktest.Checks)
	require.NoError(t, s.second.spare.Close())
	for rev := range maxFailures + 2 {
		_, err := b.Save(t.Context(), draft("pear", rev))
		require.NoError(t, err)
	}
	assert.Equal(t, maxFailures, s.second.failures, "then it is left alone")
}

func TestWithoutBucketsThereIsNoSecondCopy(t *testing.T) {
	navigator := js.Global().Get("navigator")
	for what, value := range map[string]any{
		"missing": js.Undefined(),
		"refuses": map[string]any{"open": js.Global().Get("Function").New("return Promise.reject(new DOMException('no', 'NotAllowedError'))")},
		"throws":  map[string]any{"open": js.Global().Get("Function").New("throw new TypeError('no')")},
		"empty":   map[string]any{"open": js.Global().Get("Function").New("return Promise.resolve({})")},
	} {
		t.Run(what, func(t *testing.T) {
			js.Global().Get("Object").Call("defineProperty", navigator, "storageBuckets", map[string]any{"value": value, "configurable": true})
			defer navigator.Delete("storageBuckets")
			s := open(t, Options{Name: name(t)})
			assert.Nil(t, s.second)
			_, err := book.New(s, booktest.Checks).Save(t.Context(), draft("pear", 0))
			assert.NoError(t, err)
		})
	}
	assert.True(t, navigator.Get("storageBuckets").Truthy())
}

func TestAnImportIsCarriedOverToo(t *testing.T) {
	n := name(t)
	s := open(t, Options{Name: n})
	b := book.New(s, booktest.Checks)
	p, err := b.Compare(t.Context(), booktest.Library(300, 1))
	require.NoError(t, err)
	require.NoError(t, b.Apply(t.Context(), p))
	_, err = b.Save(t.Context(), draft("after", 0)) // waits for what came before
	require.NoError(t, err)
	assert.Equal(t, contents(t, s), contents(t, s.second.spare))
}

// The browser deletes a damaged database also while the page is open.
func TestABookLostUnderAnOpenPageComesBack(t *testing.T) {
	gone := func(t *testing.T, s *Store, n string) {
		s.handle.dead = true // not told: the next use finds out
		s.handle.close()
		wipe(t, firstFactory(), n)
	}
	t.Run("with the next save", func(t *testing.T) {
		n := name(t)
		lost := make(chan bool, 1)
		s := open(t, Options{Name: n, Lost: func() { lost <- true }})
		b := book.New(s, booktest.Checks)
		fill(t, b)
		gone(t, s, n)
		_, err := b.Save(t.Context(), draft("quince", 0))
		require.NoError(t, err)
		assert.True(t, <-lost)
		l, err := b.List(t.Context())
		require.NoError(t, err)
		assert.Len(t, l.Heads, 3)
		assert.Equal(t, contents(t, s), contents(t, s.second.spare))
		assert.Positive(t, s.Restored())
	})
	t.Run("when the connection closes", func(t *testing.T) {
		n := name(t)
		lost := make(chan bool, 1)
		s := open(t, Options{Name: n, Lost: func() { lost <- true }})
		fill(t, book.New(s, booktest.Checks))
		before, h := contents(t, s), s.handle
		gone(t, s, n)
		h.raw.Call("dispatchEvent", js.Global().Get("Event").New("close"))
		assert.True(t, <-lost)
		assert.Equal(t, before, contents(t, s))
	})
}
