//go:build js && wasm

package indexeddb

import (
	"runtime/debug"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/book/booktest"
)

// shelf is a database of 10,000 formulas, made once.
func shelf(b *testing.B) *book.Book {
	debug.SetGCPercent(400) // as web/boot.js starts the program
	s, err := Open(b.Context(), Options{Name: "bench"})
	require.NoError(b, err)
	b.Cleanup(func() { s.Close() })
	lib := book.New(s, booktest.Checks)
	if s.Fresh() {
		p, err := lib.Compare(b.Context(), booktest.Library(10_000, 1))
		require.NoError(b, err)
		require.NoError(b, lib.Apply(b.Context(), p))
	}
	for begun := time.Now(); s.second != nil && s.second.working(); time.Sleep(50 * time.Millisecond) {
		require.Less(b, time.Since(begun), time.Minute, "the second copy does not follow")
	}
	return lib
}

func (c *second) working() bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.busy
}

// BenchmarkFirstList10000 is what a person waits for after the program began:
// open the database, read all heads, build the index, find the first fifty.
func BenchmarkFirstList10000(b *testing.B) {
	shelf(b)
	for b.Loop() {
		s, err := Open(b.Context(), Options{Name: "bench"})
		require.NoError(b, err)
		l, err := book.New(s, booktest.Checks).List(b.Context())
		require.NoError(b, err)
		require.Len(b, l.Heads, 10_000)
		_, total := book.NewIndex(l.Heads).Find(book.Query{Limit: 50})
		require.Equal(b, 10_000, total)
		require.NoError(b, s.Close())
	}
}

func BenchmarkSnapshotOnly10000(b *testing.B) {
	shelf(b)
	s, err := Open(b.Context(), Options{Name: "bench"})
	require.NoError(b, err)
	for b.Loop() {
		_, err := s.Snapshot(b.Context(), book.Heads)
		require.NoError(b, err)
	}
}

// The parts of the first list.

func BenchmarkOpenOnly(b *testing.B) {
	shelf(b)
	for b.Loop() {
		s, err := Open(b.Context(), Options{Name: "bench"})
		require.NoError(b, err)
		require.NoError(b, s.Close())
	}
}

func BenchmarkListOnly10000(b *testing.B) {
	lib := shelf(b)
	for b.Loop() {
		_, err := lib.List(b.Context())
		require.NoError(b, err)
	}
}

func BenchmarkIndexOnly10000(b *testing.B) {
	l, err := shelf(b).List(b.Context())
	require.NoError(b, err)
	for b.Loop() {
		book.NewIndex(l.Heads)
	}
}

func BenchmarkSearchKeystroke10000(b *testing.B) {
	l, err := shelf(b).List(b.Context())
	require.NoError(b, err)
	ix := book.NewIndex(l.Heads)
	for _, text := range []string{"p", "pear", "creme plum 99", "nowhere"} {
		b.Run(text, func(b *testing.B) {
			for b.Loop() {
				ix.Find(book.Query{Text: text, Limit: 50})
			}
		})
	}
}

func BenchmarkExport10000(b *testing.B) {
	lib := shelf(b)
	for b.Loop() {
		f, _, err := lib.Export(b.Context())
		require.NoError(b, err)
		_, err = f.Encode()
		require.NoError(b, err)
	}
}

func BenchmarkImport10000(b *testing.B) {
	f, _, err := shelf(b).Export(b.Context())
	require.NoError(b, err)
	text, err := f.Encode()
	require.NoError(b, err)
	for b.Loop() {
		b.StopTimer()
		n := databaseFor(b)
		s, err := Open(b.Context(), Options{Name: n})
		require.NoError(b, err)
		lib := book.New(s, booktest.Checks)
		b.StartTimer()
		f, err := lib.ReadFile(text)
		require.NoError(b, err)
		p, err := lib.Compare(b.Context(), f)
		require.NoError(b, err)
		require.NoError(b, lib.Apply(b.Context(), p))
		b.StopTimer()
		require.NoError(b, s.Close())
		b.StartTimer()
	}
}

func BenchmarkSave(b *testing.B) {
	s, err := Open(b.Context(), Options{Name: databaseFor(b)})
	require.NoError(b, err)
	defer s.Close()
	lib := book.New(s, booktest.Checks)
	rev := 0
	for b.Loop() {
		_, err := lib.Save(b.Context(), draft("pear", rev))
		require.NoError(b, err)
		rev++
	}
}

// BenchmarkSave10000 is a save into a full book, whose packs are full as well.
func BenchmarkSave10000(b *testing.B) {
	lib := shelf(b)
	h, err := lib.Head(b.Context(), "entry-00042")
	require.NoError(b, err)
	for b.Loop() {
		h, err = lib.Rename(b.Context(), h.ID, h.Rev, h.Name, h.Saved+1, "")
		require.NoError(b, err)
	}
}
