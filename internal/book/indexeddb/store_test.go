//go:build js && wasm

package indexeddb

import (
	"context"
	"fmt"
	"syscall/js"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/book/booktest"
)

var databases int

// name gives a database name of its own to a test and deletes the database
// behind it.
func name(t *testing.T) string { return databaseFor(t) }

func databaseFor(t testing.TB) string {
	databases++
	n := fmt.Sprintf("test-%d-%d", time.Now().UnixNano(), databases)
	t.Cleanup(func() {
		js.Global().Get("indexedDB").Call("deleteDatabase", n)
		if f, err := bucketFactory(context.Background()); err == nil {
			f.Call("deleteDatabase", n)
		}
	})
	return n
}

func open(t *testing.T, o Options) *Store {
	t.Helper()
	if o.Report == nil {
		o.Report = func(r any) { t.Errorf("reported: %v", r) }
	}
	s, err := Open(t.Context(), o)
	require.NoError(t, err)
	t.Cleanup(func() { s.Close() })
	return s
}

func draft(id string, base int) book.Draft {
	return booktest.Draft(id, base, "Name of "+id, int64(base+1))
}

func TestStoreKeepsTheContract(t *testing.T) {
	booktest.Run(t, func(t *testing.T) (a, b book.Port) {
		n := name(t)
		return open(t, Options{Name: n}), open(t, Options{Name: n})
	})
}

func TestWhatIsStoredOutlivesTheConnection(t *testing.T) {
	n := name(t)
	s := open(t, Options{Name: n})
	assert.True(t, s.Fresh())
	_, err := book.New(s, booktest.Checks).Save(t.Context(), draft("pear", 0))
	require.NoError(t, err)
	require.NoError(t, s.Close())
	s = open(t, Options{Name: n})
	assert.False(t, s.Fresh())
	l, err := book.New(s, booktest.Checks).List(t.Context())
	require.NoError(t, err)
	assert.Len(t, l.Heads, 1)
}

func TestValuesThatAreNoTextAreReportedAndOthersLoad(t *testing.T) {
	s := open(t, Options{Name: name(t)})
	b := book.New(s, booktest.Checks)
	_, err := b.Save(t.Context(), draft("pear", 0))
	require.NoError(t, err)
	for key, value := range map[string]any{"a-object": map[string]any{"x": 1}, "b-null": nil, "c-list": []any{"1\n2", 3}, "d-number": 7} {
		txn := s.handle.raw.Call("transaction", "heads", "readwrite")
		txn.Call("objectStore", "heads").Call("put", value, key)
		require.NoError(t, s.finished(t.Context(), txn))
	}
	l, err := b.List(t.Context())
	require.NoError(t, err)
	assert.Len(t, l.Heads, 1)
	assert.Len(t, l.Damaged, 4)
	for _, d := range l.Damaged {
		assert.ErrorIs(t, d.Err, book.ErrDamaged)
		assert.NotEmpty(t, d.Key.ID)
	}
	_, err = b.Open(t.Context(), "b-null")
	assert.ErrorIs(t, err, book.ErrDamaged)
}

func TestOtherTabsHearOfChanges(t *testing.T) {
	n := name(t)
	heard := make(chan book.Notice, 10)
	open(t, Options{Name: n, Changed: func(n book.Notice) { heard <- n }})
	own := make(chan book.Notice, 10)
	here := open(t, Options{Name: n, Changed: func(n book.Notice) { own <- n }})
	_, err := book.New(here, booktest.Checks).Save(t.Context(), draft("pear", 0))
	require.NoError(t, err)
	select {
	case got := <-heard:
		assert.False(t, got.All)
		assert.Equal(t, []book.Touch{{Space: book.Versions, ID: "pear"}, {Space: book.Heads, ID: "pear"}}, got.Touched)
	case <-time.After(5 * time.Second):
		t.Fatal("no notice")
	}
	require.NoError(t, here.Write(t.Context(), book.Relaxed, book.Spaces, func(tx book.Tx) error {
		for i := range maxNotice + 1 {
			if err := tx.Put(book.Settings, book.Key{ID: fmt.Sprint(i)}, "x"); err != nil {
				return err
			}
		}
		return nil
	}))
	assert.Equal(t, book.Notice{All: true}, <-heard)
	assert.Empty(t, own, "a tab does not hear itself")
}

func TestNoticesOfOtherVersions(t *testing.T) {
	for text, want := range map[string]book.Notice{
		"book 2\nwhatever":       {All: true},
		"":                       {All: true},
		"book 1\n*":              {All: true},
		"book 1\nheads a\nx y z": {Touched: []book.Touch{{Space: book.Heads, ID: "a"}, {Space: "x", ID: "y z"}}},
	} {
		got, ok := decodeNotice(js.ValueOf(text))
		assert.True(t, ok)
		assert.Equal(t, want, got, text)
	}
	_, ok := decodeNotice(js.ValueOf(7))
	assert.False(t, ok)
}

func TestWorksWithoutBroadcastChannel(t *testing.T) {
	hide(t, "BroadcastChannel", js.Undefined())
	s := open(t, Options{Name: name(t)})
	_, err := book.New(s, booktest.Checks).Save(t.Context(), draft("pear", 0))
	require.NoError(t, err)
	require.NoError(t, s.Close())
}

// hide puts another value in the place of a global one for the time of a test.
func hide(t *testing.T, global string, value js.Value) {
	define(global, map[string]any{"value": value, "configurable": true, "writable": true}, t)
}

func define(global string, property map[string]any, t *testing.T) {
	object, window := js.Global().Get("Object"), js.Global()
	old := object.Call("getOwnPropertyDescriptor", window, global)
	object.Call("defineProperty", window, global, property)
	t.Cleanup(func() {
		if old.IsUndefined() {
			window.Delete(global)
			return
		}
		object.Call("defineProperty", window, global, old)
	})
}

func TestKeeping(t *testing.T) {
	k, err := Kept(t.Context())
	require.NoError(t, err)
	assert.True(t, k.Known)
	assert.Positive(t, k.Quota)
}

func TestKeepingWhereTheBrowserDoesNotSay(t *testing.T) {
	hide(t, "navigator", js.ValueOf(map[string]any{}))
	k, err := Kept(t.Context())
	require.NoError(t, err)
	assert.Equal(t, Keeping{}, k)
}

func TestKeepingWhereTheBrowserRefusesOrIsSilent(t *testing.T) {
	promise := js.Global().Get("Promise")
	refuse := js.FuncOf(func(js.Value, []js.Value) any {
		return promise.Call("reject", js.Global().Get("Error").New("no"))
	})
	silent := js.FuncOf(func(js.Value, []js.Value) any {
		return promise.New(js.Global().Get("Function").New())
	})
	hide(t, "navigator", js.ValueOf(map[string]any{"storage": map[string]any{"persisted": refuse}}))
	_, err := Kept(t.Context())
	assert.ErrorIs(t, err, book.ErrUnavailable)
	js.Global().Get("navigator").Get("storage").Set("persisted", silent)
	ctx, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer cancel()
	_, err = Kept(ctx)
	assert.ErrorIs(t, err, context.DeadlineExceeded)
}
