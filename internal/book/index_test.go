package book_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/book/booktest"
)

func shelfOfHeads() []book.Head {
	return []book.Head{
		{ID: "1", Name: "Pear jelly", Saved: 1, Tags: []string{"Cold"}, Reading: book.Reading{Words: "agar pear", Facets: []string{"agent.agar", "diet.vegan"}}},
		{ID: "2", Name: "Crème of pear", Saved: 2, Tags: []string{"brunch"}, Reading: book.Reading{Words: "gelatin cream", Facets: []string{"agent.gelatin"}}},
		{ID: "3", Name: "Smoke foam", Saved: 3, Tags: []string{"pear tree"}, Reading: book.Reading{Words: "agar", Facets: []string{"agent.agar"}}},
		{ID: "4", Name: "Spear broth", Saved: 4, Reading: book.Reading{Words: "xanthan", Facets: []string{"agent.xanthan", "diet.vegan"}}},
		{ID: "5", Name: "Old pear", Saved: 5, Binned: 6, Reading: book.Reading{Facets: []string{"agent.agar"}}},
		{ID: "6", Name: "Pear jelly, firm", Saved: 6},
	}
}

func find(ix *book.Index, q book.Query) (ids []string) {
	heads, _ := ix.Find(q)
	for _, h := range heads {
		ids = append(ids, h.ID)
	}
	return ids
}

func TestFind(t *testing.T) {
	ix := book.NewIndex(shelfOfHeads())
	for _, c := range []struct {
		name string
		q    book.Query
		want []string
	}{
		{"nothing asked: newest first", book.Query{}, []string{"6", "4", "3", "2", "1"}},
		{"name first, then words of the name, tags, inside words", book.Query{Text: "pear"}, []string{"6", "1", "2", "3", "4"}},
		{"two words", book.Query{Text: "jelly pear"}, []string{"6", "1"}},
		{"accents and case do not count", book.Query{Text: "CREME"}, []string{"2"}},
		{"accents typed where there are none", book.Query{Text: "péar jêlly"}, []string{"6", "1"}},
		{"an agent", book.Query{Text: "agar"}, []string{"3", "1"}},
		{"the beginning of a word", book.Query{Text: "xan"}, []string{"4"}},
		{"no such word", book.Query{Text: "pear octopus"}, nil},
		{"only signs: as if nothing was asked", book.Query{Text: " ,;"}, []string{"6", "4", "3", "2", "1"}},
		{"filter", book.Query{Facets: []string{"agent.agar"}}, []string{"3", "1"}},
		{"two filters", book.Query{Facets: []string{"agent.agar", "diet.vegan"}}, []string{"1"}},
		{"filter and word", book.Query{Text: "smoke", Facets: []string{"agent.agar"}}, []string{"3"}},
		{"tag", book.Query{Tags: []string{"cold"}}, []string{"1"}},
		{"bin", book.Query{Binned: true}, []string{"5"}},
		{"limit", book.Query{Text: "pear", Limit: 3}, []string{"6", "1", "2"}},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.want, find(ix, c.q)) })
	}
	_, total := ix.Find(book.Query{Text: "pear", Limit: 1})
	assert.Equal(t, 5, total)
}

func TestIndexFollowsSaves(t *testing.T) {
	ix := book.NewIndex(shelfOfHeads())
	ix.Put(book.Head{ID: "1", Name: "Plum jelly", Saved: 9})
	assert.Equal(t, []string{"1", "6"}, find(ix, book.Query{Text: "jelly"}))
	assert.Equal(t, []string{"1"}, find(ix, book.Query{Text: "plum"}))
	ix.Put(book.Head{ID: "7", Name: "Jelly", Saved: 5})
	assert.Equal(t, []string{"1", "6", "7", "4", "3", "2"}, find(ix, book.Query{}))
	ix.Remove("1")
	ix.Remove("nobody")
	assert.Equal(t, 6, ix.Len())
}

func TestFacetsAreCountedOutsideTheBin(t *testing.T) {
	ix := book.NewIndex(shelfOfHeads())
	assert.Equal(t, []book.FacetCount{
		{Facet: "agent.agar", Count: 2}, {Facet: "diet.vegan", Count: 2},
		{Facet: "agent.gelatin", Count: 1}, {Facet: "agent.xanthan", Count: 1},
	}, ix.Facets())
}

func BenchmarkIndexBuild10000(b *testing.B) {
	heads := booktest.Heads(10_000)
	for b.Loop() {
		book.NewIndex(heads)
	}
}

func BenchmarkSearchKeystroke10000(b *testing.B) {
	ix := book.NewIndex(booktest.Heads(10_000))
	for _, text := range []string{"p", "pear", "creme plum 99", "nowhere"} {
		b.Run(text, func(b *testing.B) {
			for b.Loop() {
				ix.Find(book.Query{Text: text, Limit: 50})
			}
		})
	}
}

func TestManyHeadsAreFound(t *testing.T) {
	ix := book.NewIndex(booktest.Heads(10_000))
	heads, total := ix.Find(book.Query{Text: "quince no 4321"})
	require.Equal(t, 1, total)
	assert.Equal(t, "entry-04321", heads[0].ID)
}
