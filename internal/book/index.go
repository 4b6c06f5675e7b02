package book

import (
	"slices"
	"strings"
)

// Index answers the search field: all heads with their folded words, in the
// order in which they are shown. It is built once when the book is loaded and
// kept up to date save by save.
type Index struct {
	docs []doc // newest save first
}

// doc is a head with what search compares beside its words. Both texts begin
// with a space, so that " x" finds a word that begins with x.
type doc struct {
	head Head
	name string // folded name
	tags string // folded tags
}

// NewIndex builds the index of a listing.
func NewIndex(heads []Head) *Index {
	heads = sorted(heads)
	ix := &Index{docs: make([]doc, len(heads))}
	// All folded texts are one piece of memory: ten thousand are made at once.
	buf := make([]byte, 0, usualFolded*len(heads))
	ends := make([][2]int, len(heads))
	for i := range heads {
		buf, ends[i] = heads[i].fold(buf)
	}
	text, begin := string(buf), 0
	for i := range heads {
		ix.docs[i] = doc{heads[i], text[begin:ends[i][0]], text[ends[i][0]:ends[i][1]]}
		begin = ends[i][1]
	}
	return ix
}

const usualFolded = 48 // bytes of name and tags

// fold adds the folded name and tags and tells where each ends.
func (h *Head) fold(buf []byte) (out []byte, ends [2]int) {
	buf = appendFold(append(buf, ' '), h.Name)
	ends[0] = len(buf)
	for _, t := range h.Tags {
		buf = appendFold(append(buf, ' '), t)
	}
	ends[1] = len(buf)
	return buf, ends
}

func newDoc(h Head) doc {
	buf, ends := h.fold(nil)
	text := string(buf)
	return doc{h, text[:ends[0]], text[ends[0]:]}
}

// Len is the number of heads.
func (ix *Index) Len() int { return len(ix.docs) }

// Put adds a head, or replaces the one of the same id.
func (ix *Index) Put(h Head) {
	ix.Remove(h.ID)
	d := newDoc(h)
	at, _ := slices.BinarySearchFunc(ix.docs, d, func(a, b doc) int { return newestFirst(&a.head, &b.head) })
	ix.docs = slices.Insert(ix.docs, at, d)
}

// Remove takes out the head of an id, if there.
func (ix *Index) Remove(id string) {
	ix.docs = slices.DeleteFunc(ix.docs, func(d doc) bool { return d.head.ID == id })
}

// Query is what a person asks of the book.
type Query struct {
	Text   string   // words or beginnings of words; an entry must have all of them
	Facets []string // an entry must have all of them, as "agent.agar"
	Tags   []string // an entry must have all of them, compared by [Fold]
	Binned bool     // search the bin instead of the book
	Limit  int      // how many heads at most; 0 is all
}

// Ranks of a match, best first.
const (
	rankName  = iota // the name begins with the text
	rankWord         // every word of the text begins a word of the name
	rankTag          // ... of name or tags
	rankStart        // ... of anything
	rankIn           // every word of the text stands somewhere, as inside a word
	ranks
)

// Find gives the heads that match, best match first and the newest save first
// among equals, and how many match in all. It does not count heads beyond what
// it must rank, and takes time linear in the size of the index.
func (ix *Index) Find(q Query) (heads []Head, total int) {
	words := strings.Fields(Fold(q.Text))
	for i := range words {
		words[i] = " " + words[i]
	}
	tags := make([]string, len(q.Tags))
	for i, t := range q.Tags {
		tags[i] = Fold(t)
	}
	var found [ranks][]int
	for i := range ix.docs {
		d := &ix.docs[i]
		if (d.head.Binned != 0) != q.Binned || !d.has(q.Facets, tags) {
			continue
		}
		if r := d.rank(words); r < ranks {
			found[r] = append(found[r], i)
			total++
		}
	}
	if q.Limit <= 0 || q.Limit > total {
		q.Limit = total
	}
	heads = make([]Head, 0, q.Limit)
	for _, list := range found {
		for _, i := range list[:min(len(list), q.Limit-len(heads))] {
			heads = append(heads, ix.docs[i].head)
		}
	}
	return heads, total
}

func (d *doc) has(facets, tags []string) bool {
	for _, f := range facets {
		if !slices.Contains(d.head.Facets, f) {
			return false
		}
	}
	for _, t := range tags {
		if !slices.ContainsFunc(d.head.Tags, func(own string) bool { return Fold(own) == t }) {
			return false
		}
	}
	return true
}

// rank compares the words, each with a space before it.
func (d *doc) rank(words []string) int {
	if len(words) == 0 {
		return rankName
	}
	rank := rankWord
	for _, w := range words {
		if rank = max(rank, d.rankOf(w)); rank == ranks {
			return ranks
		}
	}
	if rank == rankWord && d.begins(words) {
		return rankName
	}
	return rank
}

// rankOf is where one word, with a space before it, stands.
func (d *doc) rankOf(w string) int {
	bare, rank := w[1:], ranks
	if strings.Contains(d.name, bare) {
		if rank = rankIn; strings.Contains(d.name, w) {
			return rankWord
		}
	}
	if strings.Contains(d.tags, bare) {
		if rank = rankIn; strings.Contains(d.tags, w) {
			return rankTag
		}
	}
	if words := d.head.Words; strings.Contains(words, bare) {
		if rank = rankIn; strings.HasPrefix(words, bare) || strings.Contains(words, w) {
			return rankStart
		}
	}
	return rank
}

// begins reports whether the name begins with the words in a row.
func (d *doc) begins(words []string) bool {
	rest := d.name
	for _, w := range words {
		var ok bool
		if rest, ok = strings.CutPrefix(rest, w); !ok {
			return false
		}
	}
	return true
}

// Facets counts the facets of the entries that are not in the bin, most
// frequent first, then by name: what the filters can offer.
func (ix *Index) Facets() []FacetCount {
	counts := map[string]int{}
	for i := range ix.docs {
		if ix.docs[i].head.Binned != 0 {
			continue
		}
		for _, f := range ix.docs[i].head.Facets {
			counts[f]++
		}
	}
	out := make([]FacetCount, 0, len(counts))
	for f, n := range counts {
		out = append(out, FacetCount{f, n})
	}
	slices.SortFunc(out, func(a, b FacetCount) int {
		if a.Count != b.Count {
			return b.Count - a.Count
		}
		return strings.Compare(a.Facet, b.Facet)
	})
	return out
}

// FacetCount is a facet and how many entries have it.
type FacetCount struct {
	Facet string
	Count int
}
