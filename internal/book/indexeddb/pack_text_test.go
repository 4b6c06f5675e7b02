package indexeddb

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
)

// FuzzReadPack promises: whatever stands in the store, no pack panics, what was read
// before it stays, each head is one that stands in the text, in the order of ids, and
// what is read is written as a pack that says the same.
func FuzzReadPack(f *testing.F) {
	var p pack
	for _, id := range []string{"pear", "plum", "é", ""} {
		p.put(id, `{"form":1,"id":"`+id+`"}`)
	}
	text := p.text()
	f.Add(text, "plum")
	f.Add(text+"\n"+text, "quince")
	f.Add(text[:len(text)-3], "")
	f.Add("2\n1 1\nax\n1 1\nax\n", "a")
	f.Add("9999999\n9999999 9999999\n", "1")
	f.Add("1\n-1 2\nab\n", "a")
	f.Add("0\n", "\n")
	f.Fuzz(func(t *testing.T, text, id string) {
		before := []book.Row{{Key: book.Key{ID: "\xff"}, Text: "before"}}
		all, rest, whole := readPack(text, slices.Clone(before))
		require.Equal(t, before, all[:1])
		require.True(t, strings.HasSuffix(text, rest))
		read := pack(all[1:])
		for i, r := range read {
			require.Contains(t, text, r.Key.ID+r.Text+"\n")
			require.True(t, i == 0 || read[i-1].Key.ID < r.Key.ID)
		}
		alone, _, again := readPack(text, nil)
		require.Equal(t, whole, again)
		require.Equal(t, read, append(pack{}, alone...))
		if !whole && len(read) == 0 {
			return
		}
		back, left, ok := readPack(read.text()+"more", nil)
		require.True(t, ok)
		require.Equal(t, "more", left)
		require.Equal(t, read, pack(back))

		_, there := read.find(id)
		changed := slices.Clone(read)
		changed.put(id, "new")
		at, found := changed.find(id)
		require.True(t, found)
		require.Equal(t, "new", changed[at].Text)
		require.True(t, changed.remove(id))
		require.False(t, changed.remove(id))
		if !there {
			require.Equal(t, read, changed, "as it was before")
		}
	})
}
