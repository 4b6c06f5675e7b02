// Package booktest holds the contract that every store of the book must keep.
// Each implementation runs it in its own tests.
package booktest

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/wire"
)

// Opener gives two connections to one new and empty store, as two tabs have.
type Opener func(t *testing.T) (a, b book.Port)

// Run checks the whole contract.
func Run(t *testing.T, open Opener) {
	for _, c := range []struct {
		name string
		test func(t *testing.T, open Opener)
	}{
		{"port commits or leaves alone", portCommits},
		{"port keeps spaces, keys and order apart", portKeys},
		{"port sees its own writes", portOwnWrites},
		{"port honours the context", portContext},
		{"port refuses work after close", portClosed},
		{"port keeps every text", portTexts},
		{"save and open", saveOpen},
		{"save refuses bad input", saveRefuses},
		{"every revision stays", versionsStay},
		{"two tabs lose no save", twoTabs},
		{"conflict without a spare id writes nothing", noSpare},
		{"a repeated save is no conflict", repeatedSave},
		{"bin, restore and purge", binRestore},
		{"purged elsewhere, saved here", purgedElsewhere},
		{"duplicate, branch and revert", branch},
		{"a damaged record hinders no other", damagedRecords},
		{"a newer record is left alone", newerRecord},
		{"members of a newer program survive", unknownMembers},
		{"records of every released form", releasedForms},
		{"trials", trials},
		{"settings", settings},
		{"photos", photos},
		{"import in one step", importFile},
	} {
		t.Run(c.name, func(t *testing.T) { c.test(t, open) })
	}
}

// Checks are checks as a caller would give them: a formula is an object whose
// "agents" are what search and filters know.
var Checks = book.Checks{
	Body: func(body wire.Value) (book.Reading, error) {
		f := body.Fields()
		agents := f.Texts("agents", 20, 40)
		r := book.Reading{Words: f.TextOr("note", "", 2000)}
		for _, a := range agents {
			r.Words += " " + a
			r.Facets = append(r.Facets, "agent."+a)
		}
		return r, f.Err()
	},
	Batch: func(v wire.Value) error { return v.Fields().Err() },
	Setting: func(key string, v wire.Value) error {
		if key == "shelf.scale" {
			_, err := v.Float(0.001, 1000)
			return err
		}
		return nil
	},
}

func timeout(t *testing.T) context.Context {
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Second)
	t.Cleanup(cancel)
	return ctx
}

func books(t *testing.T, open Opener) (context.Context, *book.Book, *book.Book, book.Port) {
	a, b := open(t)
	return timeout(t), book.New(a, Checks), book.New(b, Checks), a
}

// Draft is a change of a formula of our test kitchen.
func Draft(id string, base int, name string, saved int64) book.Draft {
	return book.Draft{
		ID: id, Base: base, Name: name, Saved: saved, Tags: []string{"cold"},
		Body: fmt.Appendf(nil, `{"agents":["agar"],"note":"Pear %d"}`, saved),
	}
}

func mustSave(t *testing.T, ctx context.Context, b *book.Book, d book.Draft) book.Head {
	t.Helper()
	h, err := b.Save(ctx, d)
	require.NoError(t, err)
	return h
}

var all = book.Spaces

func portCommits(t *testing.T, open Opener) {
	a, b := open(t)
	ctx := timeout(t)
	key := book.Key{ID: "x"}
	broken := errors.New("broken off")
	err := a.Write(ctx, book.Strict, all, func(tx book.Tx) error {
		require.NoError(t, tx.Put(book.Heads, key, "never"))
		require.NoError(t, tx.Put(book.Versions, book.Key{ID: "x", Rev: 1}, "never"))
		return broken
	})
	require.ErrorIs(t, err, broken)
	rows, err := b.Snapshot(ctx, book.Heads, book.Versions)
	require.NoError(t, err)
	assert.Empty(t, rows[0])
	assert.Empty(t, rows[1])

	require.NoError(t, a.Write(ctx, book.Relaxed, all, func(tx book.Tx) error { return tx.Put(book.Heads, key, "once") }))
	require.NoError(t, b.Read(ctx, all, func(tx book.Tx) error {
		text, ok, err := tx.Get(book.Heads, key)
		assert.Equal(t, "once", text)
		assert.True(t, ok)
		return err
	}))
	require.NoError(t, a.Write(ctx, book.Strict, all, func(book.Tx) error { return nil }), "a write of nothing")
	require.NoError(t, a.Read(ctx, all, func(book.Tx) error { return nil }), "a read of nothing")
}

func portKeys(t *testing.T, open Opener) {
	a, b := open(t)
	ctx := timeout(t)
	require.NoError(t, a.Write(ctx, book.Strict, all, func(tx book.Tx) error {
		for _, id := range []string{"b", "a", "ab", "B"} {
			for _, rev := range []int{10, 2, 1} {
				require.NoError(t, tx.Put(book.Versions, book.Key{ID: id, Rev: rev}, fmt.Sprint(id, rev)))
			}
			require.NoError(t, tx.Put(book.Trials, book.Key{ID: id, Sub: "t2"}, "2"))
			require.NoError(t, tx.Put(book.Trials, book.Key{ID: id, Sub: "t1"}, "1"))
			require.NoError(t, tx.Put(book.Settings, book.Key{ID: id}, "s"))
		}
		return nil
	}))
	rows, err := b.Snapshot(ctx, book.Versions, book.Heads, book.Settings)
	require.NoError(t, err)
	var order []string
	for _, r := range rows[0] {
		order = append(order, r.Text)
	}
	assert.Equal(t, []string{"B1", "B2", "B10", "a1", "a2", "a10", "ab1", "ab2", "ab10", "b1", "b2", "b10"}, order)
	assert.Empty(t, rows[1])
	assert.Len(t, rows[2], 4)
	require.NoError(t, b.Write(ctx, book.Strict, all, func(tx book.Tx) error {
		under, err := tx.Under(book.Versions, "a")
		require.NoError(t, err)
		assert.Equal(t, []book.Row{
			{Key: book.Key{ID: "a", Rev: 1}, Text: "a1"},
			{Key: book.Key{ID: "a", Rev: 2}, Text: "a2"},
			{Key: book.Key{ID: "a", Rev: 10}, Text: "a10"},
		}, under)
		under, err = tx.Under(book.Trials, "B")
		require.NoError(t, err)
		assert.Equal(t, []book.Row{
			{Key: book.Key{ID: "B", Sub: "t1"}, Text: "1"},
			{Key: book.Key{ID: "B", Sub: "t2"}, Text: "2"},
		}, under)
		require.NoError(t, tx.DeleteUnder(book.Versions, "a"))
		return tx.Delete(book.Trials, book.Key{ID: "B", Sub: "t1"})
	}))
	rows, err = a.Snapshot(ctx, book.Versions, book.Trials)
	require.NoError(t, err)
	assert.Len(t, rows[0], 9)
	assert.Len(t, rows[1], 7)
}

func portOwnWrites(t *testing.T, open Opener) {
	a, _ := open(t)
	key := book.Key{ID: "x", Rev: 1}
	require.NoError(t, a.Write(timeout(t), book.Strict, all, func(tx book.Tx) error {
		for i := range 30 {
			want := fmt.Sprint("text ", i)
			require.NoError(t, tx.Put(book.Versions, key, want))
			got, ok, err := tx.Get(book.Versions, key)
			require.NoError(t, err)
			require.True(t, ok)
			require.Equal(t, want, got)
		}
		require.NoError(t, tx.Delete(book.Versions, key))
		_, ok, err := tx.Get(book.Versions, key)
		assert.False(t, ok)
		under, underErr := tx.Under(book.Versions, "x")
		assert.Empty(t, under)
		return errors.Join(err, underErr)
	}))
}

func portContext(t *testing.T, open Opener) {
	a, b := open(t)
	ctx, cancel := context.WithCancel(t.Context())
	err := a.Write(ctx, book.Strict, all, func(tx book.Tx) error {
		require.NoError(t, tx.Put(book.Heads, book.Key{ID: "x"}, "never"))
		cancel()
		_, _, err := tx.Get(book.Heads, book.Key{ID: "x"})
		return err
	})
	require.ErrorIs(t, err, context.Canceled)
	require.ErrorIs(t, a.Write(ctx, book.Strict, all, func(book.Tx) error { return nil }), context.Canceled)
	require.ErrorIs(t, a.Read(ctx, all, func(book.Tx) error { return nil }), context.Canceled)
	_, err = a.Snapshot(ctx, book.Heads)
	require.ErrorIs(t, err, context.Canceled)
	rows, err := b.Snapshot(timeout(t), book.Heads)
	require.NoError(t, err)
	assert.Empty(t, rows[0])
}

func portClosed(t *testing.T, open Opener) {
	a, b := open(t)
	ctx := timeout(t)
	require.NoError(t, a.Close())
	require.ErrorIs(t, a.Write(ctx, book.Strict, all, func(book.Tx) error { return nil }), book.ErrStale)
	require.ErrorIs(t, a.Read(ctx, all, func(book.Tx) error { return nil }), book.ErrStale)
	_, err := a.Snapshot(ctx, book.Heads)
	require.ErrorIs(t, err, book.ErrStale)
	_, err = b.Snapshot(ctx, book.Heads)
	require.NoError(t, err, "the other connection goes on")
}

func portTexts(t *testing.T, open Opener) {
	a, b := open(t)
	ctx := timeout(t)
	texts := []string{"", "a\nb\r\n\u2028c", "\x00", "crème 寒天 😀", "x\uFEFF", "[object Object]"}
	require.NoError(t, a.Write(ctx, book.Strict, all, func(tx book.Tx) error {
		for i, text := range texts {
			require.NoError(t, tx.Put(book.Settings, book.Key{ID: fmt.Sprint(i)}, text))
		}
		return nil
	}))
	rows, err := b.Snapshot(ctx, book.Settings)
	require.NoError(t, err)
	for i, text := range texts {
		assert.Equal(t, text, rows[0][i].Text)
	}
	require.NoError(t, b.Read(ctx, all, func(tx book.Tx) error {
		for i, want := range texts {
			got, ok, err := tx.Get(book.Settings, book.Key{ID: fmt.Sprint(i)})
			require.NoError(t, err)
			assert.True(t, ok)
			assert.Equal(t, want, got)
		}
		return nil
	}))
}
