package booktest

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
)

// Fill puts something of everything into an empty book.
func Fill(t testing.TB, b *book.Book) {
	t.Helper()
	ctx := t.Context()
	save := func(d book.Draft) {
		_, err := b.Save(ctx, d)
		require.NoError(t, err)
	}
	save(Draft("pear", 0, "Pear jelly", 1000))
	save(Draft("pear", 1, "Pear jelly, firmer", 2000))
	save(Draft("plum", 0, "Crème of plum \"1\"", 3000))
	_, err := b.Duplicate(ctx, "pear", 1, "branch", "Pear, the old way", 4000)
	require.NoError(t, err)
	_, err = b.Bin(ctx, "branch", 1, 5000)
	require.NoError(t, err)
	late := Draft("pear", 1, "Pear jelly, softer", 6000)
	late.Spare = "pear-kept"
	_, err = b.Save(ctx, late)
	require.ErrorIs(t, err, book.ErrConflict)
	for _, id := range []string{"t2", "t1"} {
		_, err = b.PutTrial(ctx, book.Trial{
			ID: id, Entry: "plum", Rev: 1, Made: 7000, Saved: 7001,
			Outcome: book.Outcome{Firmness: at(1), Spread: at(61.5), Note: "holds"}, Batch: []byte(`{"liquid":350.0}`),
		})
		require.NoError(t, err)
	}
	require.NoError(t, b.PutPhoto(ctx, book.Photo{Entry: "pear", Saved: 8000, Data: onePixel}))
	for _, s := range []book.Setting{
		{Key: "shelf.scale", Saved: 1, Body: []byte(`0.1`)},
		{Key: "shelf.agents", Saved: 2, Body: []byte(`{"gelatin":{"bloom":200}}`)},
		{Key: "device.backup", Saved: 3, Body: []byte(`true`)},
	} {
		_, err = b.PutSetting(ctx, s)
		require.NoError(t, err)
	}
}

// importFile takes a whole book to another store and back, byte for byte.
func importFile(t *testing.T, open Opener) {
	ctx, one, two, port := books(t, open)
	Fill(t, one)
	encode := func() []byte {
		f, bad, err := two.Export(ctx)
		require.NoError(t, err)
		require.Empty(t, bad)
		text, err := f.Encode()
		require.NoError(t, err)
		return text
	}
	before, err := one.List(ctx)
	require.NoError(t, err)
	first := encode()

	wipe(t, port)
	file, err := one.ReadFile(first)
	require.NoError(t, err)
	p, err := one.Compare(ctx, file)
	require.NoError(t, err)
	assert.Equal(t, len(p.Items), p.Count(book.Added))
	require.NoError(t, one.Apply(ctx, p))
	assert.Equal(t, string(first), string(encode()))
	after, err := two.List(ctx)
	require.NoError(t, err)
	assert.Equal(t, before, after, "heads too are as they were")

	p, err = one.Compare(ctx, file)
	require.NoError(t, err)
	assert.Equal(t, len(p.Items), p.Count(book.Kept), "again: nothing to do")
	require.NoError(t, one.Apply(ctx, p))
	assert.Equal(t, string(first), string(encode()))

	// Changed between preview and import: nothing is written.
	wipe(t, port)
	p, err = one.Compare(ctx, file)
	require.NoError(t, err)
	mustSave(t, ctx, two, Draft("plum", 0, "Another plum", 1))
	require.ErrorIs(t, one.Apply(ctx, p), book.ErrConflict)
	l, err := one.List(ctx)
	require.NoError(t, err)
	assert.Len(t, l.Heads, 1)
}

func wipe(t *testing.T, port book.Port) {
	t.Helper()
	rows, err := port.Snapshot(t.Context(), book.Spaces...)
	require.NoError(t, err)
	require.NoError(t, port.Write(t.Context(), book.Strict, book.Spaces, func(tx book.Tx) error {
		for i, space := range book.Spaces {
			for _, r := range rows[i] {
				if err := tx.Delete(space, r.Key); err != nil {
					return err
				}
			}
		}
		return nil
	}))
}
