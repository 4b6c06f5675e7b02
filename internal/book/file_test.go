package book_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/book/booktest"
	"tremblant/internal/wire"
)

// kitchen is a small book with everything in it.
func kitchen(t testing.TB) *book.Book {
	b := book.New(book.NewMemory(), booktest.Checks)
	booktest.Fill(t, b)
	return b
}

func export(t testing.TB, b *book.Book) []byte {
	f, bad, err := b.Export(t.Context())
	require.NoError(t, err)
	require.Empty(t, bad)
	text, err := f.Encode()
	require.NoError(t, err)
	return text
}

func empty() *book.Book { return book.New(book.NewMemory(), booktest.Checks) }

func imported(t testing.TB, b *book.Book, text []byte) book.Preview {
	f, err := b.ReadFile(text)
	require.NoError(t, err)
	p, err := b.Compare(t.Context(), f)
	require.NoError(t, err)
	require.NoError(t, b.Apply(t.Context(), p))
	return p
}

func TestExportOfAnEmptyBook(t *testing.T) {
	text := export(t, empty())
	assert.Equal(t, `{
  "format": "tremblant-book",
  "version": 1,
  "revisions": [],
  "trials": [],
  "photos": [],
  "settings": []
}
`, string(text))
	assert.Empty(t, imported(t, empty(), text).Items)
}

func TestExportLeavesDeviceSettingsOut(t *testing.T) {
	assert.NotContains(t, string(export(t, kitchen(t))), "device.")
}

func TestExportReportsWhatItCannotRead(t *testing.T) {
	m := book.NewMemory()
	b := book.New(m, booktest.Checks)
	booktest.Fill(t, b)
	require.NoError(t, m.Write(t.Context(), book.Strict, book.Spaces, func(tx book.Tx) error {
		return tx.Put(book.Versions, book.Key{ID: "plum", Rev: 1}, `{"form":1`)
	}))
	f, bad, err := b.Export(t.Context())
	require.NoError(t, err)
	require.Len(t, bad, 1)
	assert.Equal(t, "plum", bad[0].Key.ID)
	text, err := f.Encode()
	require.NoError(t, err)
	_, err = empty().ReadFile(text)
	require.NoError(t, err, "the rest is a sound file, without the trial of what is lost")
}

const head = `{"format":"tremblant-book","version":1,`

func fileOf(revisions, trials, photos, settings string) string {
	return head + "\n\"revisions\":[" + revisions + "],\n\"trials\":[" + trials + "],\n\"photos\":[" + photos + "],\n\"settings\":[" + settings + "]}"
}

const revision = `{"id":"a","rev":1,"name":"A","made":1,"saved":1,"body":{}}`

var refusedFiles = []struct {
	name, text string
	err        error
	line       int
	path       string
	schema     bool // the schema alone refuses it too
}{
	{"nothing", "", wire.ErrEnd, 1, "", true},
	{"another JSON file", `{"recipes":[]}`, book.ErrForeign, 1, "/format", true},
	{"another format", `{"format":"other","version":1}`, book.ErrForeign, 1, "/format", true},
	{"a list", `[]`, wire.ErrKind, 1, "", true},
	{"a page", `<!doctype html>`, wire.ErrToken, 1, "", true},
	{"a newer version", strings.Replace(fileOf("", "", "", ""), "1", "2", 1), book.ErrNewer, 1, "/version", true},
	{"no version", `{"format":"tremblant-book"}`, wire.ErrMissing, 1, "/version", true},
	{"a list is missing", head + `"revisions":[],"trials":[],"photos":[]}`, wire.ErrMissing, 1, "/settings", true},
	{"an unknown list", strings.Replace(fileOf("", "", "", ""), `"trials"`, `"more":[],"trials"`, 1), book.ErrUnknown, 3, "/more", true},
	{"no name", fileOf(`{"id":"a","rev":1,"made":1,"saved":1,"body":{}}`, "", "", ""), wire.ErrMissing, 2, "/revisions/0/name", true},
	{"a name of white space", fileOf(strings.Replace(revision, `"A"`, `" "`, 1), "", "", ""), nil, 2, "/revisions/0/name", false},
	{"a number for a name", fileOf(strings.Replace(revision, `"A"`, `1`, 1), "", "", ""), wire.ErrKind, 2, "/revisions/0/name", true},
	{"an id with markup", fileOf(strings.Replace(revision, `"a"`, `"<b>"`, 1), "", "", ""), nil, 2, "/revisions/0/id", true},
	{"revision zero", fileOf(strings.Replace(revision, `"rev":1`, `"rev":0`, 1), "", "", ""), wire.ErrRange, 2, "/revisions/0/rev", true},
	{"a revision that none can follow", fileOf(strings.Replace(revision, `"rev":1`, `"rev":1073741824`, 1), "", "", ""), wire.ErrRange, 2, "/revisions/0/rev", true},
	{"an edition that none can follow", fileOf(revision, `{"id":"t","entry":"a","rev":1,"edition":1073741824,"made":1,"saved":1}`, "", ""), wire.ErrRange, 3, "/trials/0/edition", true},
	{"a setting that none can follow", fileOf("", "", "", `{"key":"x","rev":1073741824,"saved":1,"body":1}`), wire.ErrRange, 5, "/settings/0/rev", true},
	{"half a revision", fileOf(strings.Replace(revision, `"rev":1`, `"rev":1.5`, 1), "", "", ""), wire.ErrInteger, 2, "/revisions/0/rev", true},
	{"a time beyond time", fileOf(strings.Replace(revision, `"saved":1`, `"saved":1e300`, 1), "", "", ""), wire.ErrRange, 2, "/revisions/0/saved", true},
	{"a revision twice", fileOf(revision+",\n"+revision, "", "", ""), book.ErrRepeated, 3, "/revisions/1/rev", false},
	{"a body that the formula refuses", fileOf(strings.Replace(revision, `{}`, `{"agents":["agar",7]}`, 1), "", "", ""), wire.ErrKind, 2, "/revisions/0/body/agents/1", false},
	{"a body too deep", fileOf(strings.Replace(revision, `{}`, strings.Repeat("[", 26)+strings.Repeat("]", 26), 1), "", "", ""), wire.ErrTooDeep, 2, "/revisions/0/body", false},
	{"a body too big", fileOf(strings.Replace(revision, `{}`, `"`+strings.Repeat("x", book.MaxBody)+`"`, 1), "", "", ""), wire.ErrTooBig, 2, "/revisions/0/body", false},
	{"a trial of nothing", fileOf(revision, `{"id":"t","entry":"b","rev":1,"edition":1,"made":1,"saved":1}`, "", ""), book.ErrDangling, 3, "/trials/0/rev", false},
	{"a trial beyond the scale", fileOf(revision, `{"id":"t","entry":"a","rev":1,"edition":1,"made":1,"saved":1,"firmness":3}`, "", ""), wire.ErrRange, 3, "/trials/0/firmness", true},
	{"a photo of nothing", fileOf(revision, "", `{"entry":"b","saved":1,"data":"data:image/png;base64,AAAA"}`, ""), book.ErrDangling, 4, "/photos/0/entry", false},
	{"a photo that is a page", fileOf(revision, "", `{"entry":"a","saved":1,"data":"data:text/html;base64,AAAA"}`, ""), nil, 4, "/photos/0/data", true},
	{"a setting of a device", fileOf("", "", "", `{"key":"device.x","rev":1,"saved":1,"body":1}`), book.ErrUnknown, 5, "/settings/0/key", false},
	{"a setting that the shelf refuses", fileOf("", "", "", `{"key":"shelf.scale","rev":1,"saved":1,"body":0}`), wire.ErrRange, 5, "/settings/0/body", false},
	{"a setting twice", fileOf("", "", "", `{"key":"x","rev":1,"saved":1,"body":1},{"key":"x","rev":2,"saved":1,"body":1}`), book.ErrRepeated, 5, "/settings/1/key", false},
	{"a name twice in a record", fileOf(strings.Replace(revision, `"rev":1`, `"rev":1,"rev":2`, 1), "", "", ""), wire.ErrDuplicate, 2, "/revisions/0/rev", false},
}

func TestFilesAreRefusedWholeWithThePlace(t *testing.T) {
	for _, c := range refusedFiles {
		t.Run(c.name, func(t *testing.T) {
			_, err := empty().ReadFile([]byte(c.text))
			require.Error(t, err)
			if c.err != nil {
				assert.ErrorIs(t, err, c.err)
			}
			n := book.NoteOf(err)
			line, _ := n.Arg("line")
			path, _ := n.Arg("path")
			assert.EqualValues(t, c.line, line.Value)
			assert.Equal(t, c.path, path.Typed)
			codes := []any{book.CodeFileShape, book.CodeFileSyntax, book.CodeForeign, book.CodeFileNewer}
			if c.path == "" {
				codes = []any{book.CodeShapeTop, book.CodeSyntaxTop}
			}
			if strings.HasPrefix(c.text, "<") {
				codes = []any{book.CodeForeign} // a page is no damaged backup
			}
			assert.Contains(t, codes, n.Code)
		})
	}
}

// A text editor puts a mark before what it saves; nothing of the file is lost by that.
func TestAByteOrderMarkIsPassedOver(t *testing.T) {
	text := export(t, kitchen(t))
	b := empty()
	imported(t, b, append([]byte("\uFEFF"), text...))
	assert.Equal(t, string(text), string(export(t, b)))
	_, err := empty().ReadFile([]byte("\uFEFF\uFEFF{}"))
	assert.ErrorIs(t, err, wire.ErrToken, "one is enough")
}

// Signs have no folded form, in which tags are compared.
func TestTagsOfSignsAreNotTheSame(t *testing.T) {
	tags, err := book.CheckTags([]string{"🍓", "🥝", "🍓", "Cold", "cold"})
	require.NoError(t, err)
	assert.Equal(t, []string{"🍓", "🥝", "Cold"}, tags)
}

// What a file brings can be saved again, and is still there then.
func TestWhatAFileBringsCanBeSavedAgain(t *testing.T) {
	b := empty()
	top := fmt.Sprint(book.MaxFileRev)
	imported(t, b, []byte(fileOf(strings.Replace(revision, `"rev":1`, `"rev":`+top, 1),
		`{"id":"t","entry":"a","rev":`+top+`,"edition":`+top+`,"made":1,"saved":1}`, "",
		`{"key":"x","rev":`+top+`,"saved":1,"body":1}`)))
	e, err := b.Open(t.Context(), "a")
	require.NoError(t, err)
	d := book.DraftOf(e)
	d.Name = "B"
	_, err = b.Save(t.Context(), d)
	require.NoError(t, err)
	trials, _, err := b.Trials(t.Context(), "a")
	require.NoError(t, err)
	_, err = b.PutTrial(t.Context(), trials[0])
	require.NoError(t, err)
	set, err := b.Setting(t.Context(), "x")
	require.NoError(t, err)
	_, err = b.PutSetting(t.Context(), set)
	require.NoError(t, err)
	l, err := b.List(t.Context())
	require.NoError(t, err)
	assert.Empty(t, l.Damaged)
	_, bad, err := b.Export(t.Context())
	require.NoError(t, err)
	assert.Empty(t, bad)
}

func TestAHugeFileIsRefused(t *testing.T) {
	_, err := empty().ReadFile(make([]byte, book.MaxFile+1))
	assert.Equal(t, book.CodeFileBig, book.NoteOf(err).Code)
	_, err = empty().ReadFile([]byte(fileOf(strings.Repeat("[],", 5_000_000), "", "", "")))
	assert.ErrorIs(t, err, wire.ErrTooMany)
	_, err = empty().ReadFile([]byte(strings.Repeat("[", 5_000_000)))
	assert.ErrorIs(t, err, wire.ErrTooDeep)
}

func TestAFileCutAnywhereIsRefused(t *testing.T) {
	b := kitchen(t)
	text := export(t, b)
	for n := range len(text) - 2 { // the last two bytes are the bracket and the line's end
		_, err := empty().ReadFile(text[:n])
		var at *wire.SyntaxError
		require.ErrorAs(t, err, &at, "cut at %d", n)
		require.Positive(t, at.Line)
	}
}

func TestAFileWithOneByteChangedIsRefusedOrSound(t *testing.T) {
	text := export(t, kitchen(t))
	for i := range text {
		for _, c := range []byte{'x', '"', '{', '9', 0, 0xff} {
			spoiled := append([]byte{}, text...)
			spoiled[i] = c
			f, err := empty().ReadFile(spoiled)
			if err != nil {
				continue
			}
			_, err = f.Encode()
			require.NoError(t, err, fmt.Sprint(i, c))
		}
	}
}

// FuzzReadFile promises: no file panics, and what is accepted imports into an
// empty book and comes out again as the same canonical bytes.
func FuzzReadFile(f *testing.F) {
	f.Add(export(f, kitchen(f)))
	for _, c := range refusedFiles {
		if len(c.text) < 2000 {
			f.Add([]byte(c.text))
		}
	}
	f.Add([]byte(fileOf(revision, "", "", "")))
	f.Fuzz(func(t *testing.T, text []byte) {
		file, err := empty().ReadFile(text)
		if err != nil {
			require.NotEqual(t, book.CodeInternal, book.NoteOf(err).Code, "%v", err)
			return
		}
		want, err := file.Encode()
		require.NoError(t, err)
		b := empty()
		imported(t, b, text)
		require.Equal(t, string(want), string(export(t, b)))
		imported(t, b, want)
		require.Equal(t, string(want), string(export(t, b)), "a second import changes nothing")
	})
}
