package book_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/book/booktest"
)

// phone is a book of one phone; the two phones of a kitchen exchange files.
type phone struct {
	*testing.T
	*book.Book
}

func (p phone) save(id string, base int, name string, at int64) {
	p.Helper()
	_, err := p.Book.Save(p.Context(), booktest.Draft(id, base, name, at))
	require.NoError(p, err)
}

func (p phone) trial(entry, id string, edition int, text string) {
	p.Helper()
	_, err := p.PutTrial(p.Context(), book.Trial{ID: id, Entry: entry, Rev: 1, Edition: edition, Outcome: book.Outcome{Note: text}})
	require.NoError(p, err)
}

func (p phone) setting(key string, rev int, body string) {
	p.Helper()
	_, err := p.PutSetting(p.Context(), book.Setting{Key: key, Rev: rev, Body: []byte(body)})
	require.NoError(p, err)
}

// takes imports what another phone exports, and gives the changes by name.
func (p phone) takes(other phone) book.Preview {
	p.Helper()
	return imported(p, p.Book, export(p, other.Book))
}

func changes(p book.Preview) map[string]book.Change {
	m := map[string]book.Change{}
	for _, it := range p.Items {
		m[it.ID] = it.Change
	}
	return m
}

func phones(t *testing.T) (a, b phone) { return phone{t, empty()}, phone{t, empty()} }

func TestImportAddsChangesAndKeeps(t *testing.T) {
	a, b := phones(t)
	a.save("same", 0, "Same", 1)
	a.save("ahead", 0, "Ahead", 2)
	a.save("behind", 0, "Behind", 3)
	b.takes(a)
	a.save("new", 0, "New", 4)
	a.save("ahead", 1, "Ahead, twice", 5)
	a.save("ahead", 2, "Ahead, thrice", 6)
	b.save("behind", 1, "Further here", 7)

	p := b.takes(a)
	assert.Equal(t, map[string]book.Change{
		"same": book.Kept, "ahead": book.Changed, "behind": book.Kept, "new": book.Added,
	}, changes(p))
	assert.Equal(t, book.Item{Space: book.Heads, ID: "ahead", Name: "Ahead, thrice", Change: book.Changed, BookRev: 1, FileRev: 3},
		trimmed(p.Items[0]))
	e, err := b.Open(t.Context(), "ahead")
	require.NoError(t, err)
	assert.Equal(t, "Ahead, thrice", e.Name)
	list, _, err := b.Versions(t.Context(), "ahead")
	require.NoError(t, err)
	assert.Len(t, list, 3, "with every save in between")
	e, err = b.Open(t.Context(), "behind")
	require.NoError(t, err)
	assert.Equal(t, "Further here", e.Name)

	a.takes(b)
	assert.Equal(t, string(export(t, a.Book)), string(export(t, b.Book)), "both phones agree")
}

// trimmed is an item without what only Apply needs.
func trimmed(it book.Item) book.Item {
	return book.Item{Space: it.Space, ID: it.ID, Name: it.Name, Change: it.Change, BookRev: it.BookRev, FileRev: it.FileRev,
		CopyID: it.CopyID, Trials: it.Trials, Photo: it.Photo, Skip: it.Skip}
}

func TestImportKeepsBothSidesOfAConflict(t *testing.T) {
	a, b := phones(t)
	a.save("pear", 0, "Pear", 1)
	b.takes(a)
	a.save("pear", 1, "Pear, here", 2)
	a.trial("pear", "t", 0, "good")
	b.save("pear", 1, "Pear, there", 3)
	b.save("pear", 2, "Pear, there again", 4)

	p := b.takes(a)
	require.Equal(t, map[string]book.Change{"pear": book.Conflicting}, changes(p))
	mine, err := b.Open(t.Context(), "pear")
	require.NoError(t, err)
	assert.Equal(t, "Pear, there again", mine.Name)
	kept, err := b.Open(t.Context(), p.Items[0].CopyID)
	require.NoError(t, err)
	assert.Equal(t, "Pear, here", kept.Name)
	assert.Equal(t, "pear", kept.Conflict)
	assert.Equal(t, []string{"agent.agar"}, kept.Facets)
	list, _, err := b.Versions(t.Context(), kept.ID)
	require.NoError(t, err)
	assert.Len(t, list, 2, "with its whole history")
	trials, _, err := b.Trials(t.Context(), kept.ID)
	require.NoError(t, err)
	assert.Len(t, trials, 1, "and its trials")

	before := string(export(t, b.Book))
	p = b.takes(a)
	assert.Equal(t, map[string]book.Change{"pear": book.Kept}, changes(p))
	assert.Equal(t, before, string(export(t, b.Book)), "once is enough")

	_, err = b.Rename(t.Context(), kept.ID, 2, "Pear, decided", 9, "")
	require.NoError(t, err)
	b.takes(a)
	kept, err = b.Open(t.Context(), kept.ID)
	require.NoError(t, err)
	assert.Equal(t, "Pear, decided", kept.Name)
}

func TestImportOfTrials(t *testing.T) {
	a, b := phones(t)
	a.save("pear", 0, "Pear", 1)
	for _, id := range []string{"same", "later-here", "later-there", "both"} {
		a.trial("pear", id, 0, "first")
	}
	b.takes(a)
	a.trial("pear", "new", 0, "first")
	a.trial("pear", "later-there", 1, "second")
	b.trial("pear", "later-here", 1, "second")
	a.trial("pear", "both", 1, "from a")
	b.trial("pear", "both", 1, "from b")

	p := b.takes(a)
	assert.Equal(t, 3, p.Items[0].Trials)
	assert.Equal(t, book.Changed, p.Items[0].Change)
	list, _, err := b.Trials(t.Context(), "pear")
	require.NoError(t, err)
	notes := map[string]string{}
	for _, x := range list {
		notes[x.ID] = x.Note
	}
	assert.Equal(t, "second", notes["later-here"])
	assert.Equal(t, "second", notes["later-there"])
	assert.Equal(t, "first", notes["new"])
	assert.Equal(t, "from b", notes["both"])
	assert.Len(t, notes, 6, "what was judged twice is kept twice")
	assert.Zero(t, b.takes(a).Items[0].Trials, "once is enough")
}

// What both devices were told alike is no question to ask.
func TestImportOfASettingSavedTwiceAlike(t *testing.T) {
	a, b := phones(t)
	a.setting("shelf", 0, `{"x":2}`)
	a.setting("shelf", 1, `{"x":1}`)
	b.setting("shelf", 0, `{"x":1}`)
	assert.Equal(t, map[string]book.Change{"shelf": book.Kept}, changes(b.takes(a)))
}

func TestImportOfSettings(t *testing.T) {
	a, b := phones(t)
	a.setting("same", 0, "1")
	a.setting("both", 0, "1")
	b.takes(a)
	a.setting("new", 0, "1")
	a.setting("both", 1, "2")
	b.setting("both", 1, "3")

	f, err := b.ReadFile(export(t, a.Book))
	require.NoError(t, err)
	p, err := b.Compare(t.Context(), f)
	require.NoError(t, err)
	assert.Equal(t, map[string]book.Change{"same": book.Kept, "both": book.Conflicting, "new": book.Added}, changes(p))
	require.NoError(t, b.Apply(t.Context(), p))
	s, err := b.Setting(t.Context(), "both")
	require.NoError(t, err)
	assert.Equal(t, "3", string(s.Body), "the book's own stays")

	for i := range p.Items {
		p.Items[i].Skip = p.Items[i].Change != book.Conflicting
	}
	require.NoError(t, b.Apply(t.Context(), p))
	s, err = b.Setting(t.Context(), "both")
	require.NoError(t, err)
	assert.Equal(t, "2", string(s.Body), "unless the person decides otherwise")
	assert.Equal(t, 3, s.Rev)
	require.ErrorIs(t, b.Apply(t.Context(), p), book.ErrConflict, "the preview is of the past")
}

func TestImportOfPhotosTakesTheLater(t *testing.T) {
	a, b := phones(t)
	put := func(p phone, at int64, data string) {
		require.NoError(t, p.PutPhoto(t.Context(), book.Photo{Entry: "pear", Saved: at, Data: "data:image/png;base64," + data}))
	}
	photo := func(p phone) string {
		x, err := p.Photo(t.Context(), "pear")
		require.NoError(t, err)
		return x.Data[len("data:image/png;base64,"):]
	}
	a.save("pear", 0, "Pear", 1)
	put(a, 1, "AAAA")
	assert.True(t, b.takes(a).Items[0].Photo)
	assert.Equal(t, "AAAA", photo(b))
	put(a, 2, "BBBB")
	b.takes(a)
	assert.Equal(t, "BBBB", photo(b))
	put(b, 3, "CCCC")
	b.takes(a)
	assert.Equal(t, "CCCC", photo(b))
}

func TestImportSkipsWhatItIsToldTo(t *testing.T) {
	a, b := phones(t)
	a.save("pear", 0, "Pear", 1)
	a.save("plum", 0, "Plum", 1)
	f, err := b.ReadFile(export(t, a.Book))
	require.NoError(t, err)
	p, err := b.Compare(t.Context(), f)
	require.NoError(t, err)
	p.Items[0].Skip = true
	require.NoError(t, b.Apply(t.Context(), p))
	l, err := b.List(t.Context())
	require.NoError(t, err)
	require.Len(t, l.Heads, 1)
	assert.Equal(t, "plum", l.Heads[0].ID)
}

func TestImportWritesAllOrNothing(t *testing.T) {
	a := phone{t, kitchen(t)}
	f, err := a.ReadFile(export(t, a.Book))
	require.NoError(t, err)
	m := book.NewMemory()
	b := book.New(m, booktest.Checks)
	p, err := b.Compare(t.Context(), f)
	require.NoError(t, err)
	m.Fail = func(step string) error {
		if step == "commit" {
			return &book.Failure{Op: "import", Kind: book.ErrQuota}
		}
		return nil
	}
	require.ErrorIs(t, b.Apply(t.Context(), p), book.ErrQuota)
	m.Fail = nil
	l, err := b.List(t.Context())
	require.NoError(t, err)
	assert.Empty(t, l.Heads)
	require.NoError(t, b.Apply(t.Context(), p))
}

// library fills a book with n formulas of two revisions each.
func library(t testing.TB, n int) *book.Book {
	f := book.File{}
	for i, h := range manyHeads(n) {
		for rev := 1; rev <= 2; rev++ {
			h.Rev, h.Saved = rev, int64(i*10+rev)
			f.Revisions = append(f.Revisions, book.Entry{Head: h, Body: fmt.Appendf(nil,
				`{"liquid":{"name":"pear juice","mass":%d,"brix":11.5,"ph":3.9},"agents":["agar","gellan"],"doses":[{"agent":"agar","share":0.45},{"agent":"gellan","share":0.%d}],"texture":"soft-set","method":[{"step":"disperse"},{"step":"boil","minutes":2},{"step":"pour"}],"note":"Rest overnight, unmould cold, batch %d."}`,
				300+i%500, 10+rev, i)})
		}
	}
	b := empty()
	p, err := b.Compare(t.Context(), f)
	require.NoError(t, err)
	require.NoError(t, b.Apply(t.Context(), p))
	return b
}

func BenchmarkList10000(b *testing.B) {
	lib := library(b, 10_000)
	for b.Loop() {
		l, err := lib.List(b.Context())
		require.NoError(b, err)
		require.Len(b, l.Heads, 10_000)
	}
}

func BenchmarkExport10000(b *testing.B) {
	lib := library(b, 10_000)
	b.SetBytes(int64(len(export(b, lib))))
	for b.Loop() {
		export(b, lib)
	}
}

func BenchmarkImport10000(b *testing.B) {
	text := export(b, library(b, 10_000))
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		imported(b, empty(), text)
	}
}
