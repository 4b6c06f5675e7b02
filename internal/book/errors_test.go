package book_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/note"
	"tremblant/internal/wire"
)

func sentences(t *testing.T) map[string]string {
	text, err := os.ReadFile("../../web/text/en/book.json")
	require.NoError(t, err)
	var s map[string]string
	require.NoError(t, json.Unmarshal(text, &s))
	return s
}

var codes = []note.Code{
	book.CodeConflict, book.CodeConflictNot, book.CodeQuota, book.CodeBlocked, book.CodeStale, book.CodeUncertain,
	book.CodeUnavailable, book.CodeNewer, book.CodeDamaged, book.CodeMissing, book.CodeInternal, book.CodeForeign,
	book.CodeFileNewer, book.CodeFileBig, book.CodeFileSyntax, book.CodeFileShape, book.CodeSyntaxTop, book.CodeShapeTop, book.CodeFileTable, book.CodeNoName, book.CodeLongName,
	book.CodeBadName, book.CodeLongTag, book.CodeManyTags, book.CodeBadID, book.CodeBadTime, book.CodeBody,
	book.CodeOutcome, book.CodeLongNote, book.CodePhoto,
}

func TestEveryCodeHasASentence(t *testing.T) {
	s := sentences(t)
	for _, c := range codes {
		assert.NotEmpty(t, s["note."+string(c)], c)
	}
	assert.Len(t, s, len(codes), "and no sentence is left over")
}

func TestNoteOf(t *testing.T) {
	_, syntax := wire.Read("[", wire.Limits{})
	_, top := wire.Read("agar", wire.Limits{})
	list, err := wire.Read("[]", wire.Limits{})
	require.NoError(t, err)
	kind := list.Fields().Err()
	_, big := wire.Read("[1]", wire.Limits{Bytes: 1})
	v, err := wire.Read("{}", wire.Limits{})
	require.NoError(t, err)
	f := v.Fields()
	f.Text("x", 1)
	_, noName := book.CheckName("")
	_, longName := book.CheckName(strings.Repeat("x", 201))
	cause := errors.New("cause")
	s := sentences(t)
	for _, c := range []struct {
		err  error
		want note.Code
	}{
		{&book.Failure{Op: "write", Kind: book.ErrQuota, Cause: cause}, book.CodeQuota},
		{&book.Failure{Op: "open", Kind: book.ErrBlocked}, book.CodeBlocked},
		{&book.Failure{Op: "write", Kind: book.ErrStale}, book.CodeStale},
		{&book.Failure{Op: "commit", Kind: book.ErrUncertain}, book.CodeUncertain},
		{&book.Failure{Op: "open", Kind: book.ErrUnavailable}, book.CodeUnavailable},
		{&book.Failure{Op: "open", Kind: book.ErrNewer}, book.CodeNewer},
		{&book.Failure{Op: "read", Kind: book.ErrMissing}, book.CodeMissing},
		{&book.Conflict{Copy: book.Head{ID: "x", Name: "Pear"}}, book.CodeConflict},
		{&book.Conflict{}, book.CodeConflictNot},
		{fmt.Errorf("while saving: %w", book.ErrConflict), book.CodeConflictNot},
		{&book.FileError{Err: syntax}, book.CodeFileSyntax},
		{&book.FileError{Err: top}, book.CodeSyntaxTop},
		{&book.FileError{Err: kind}, book.CodeShapeTop},
		{&book.FileError{Err: big}, book.CodeFileBig},
		{fmt.Errorf("import: %w", &book.FileError{Err: f.Err()}), book.CodeFileShape},
		{noName, book.CodeNoName},
		{longName, book.CodeLongName},
		{cause, book.CodeInternal},
	} {
		n := book.NoteOf(c.err)
		assert.Equal(t, c.want, n.Code, "%v", c.err)
		for _, arg := range regexp.MustCompile(`\{(\w+)\}`).FindAllStringSubmatch(s["note."+string(n.Code)], -1) {
			_, ok := n.Arg(arg[1])
			assert.True(t, ok, "%s lacks {%s}", n.Code, arg[1])
		}
	}
	wrapped := &book.Failure{Op: "write", Kind: book.ErrQuota, Cause: cause}
	assert.ErrorIs(t, wrapped, cause)
	assert.Equal(t, "write: book: no room left on this device: cause", wrapped.Error())
}

// A damaged stored record is not a damaged file, whatever its cause looks like.
func TestNoteOfADamagedRecord(t *testing.T) {
	_, syntax := wire.Read("[", wire.Limits{})
	n := book.NoteOf(&book.Failure{Op: "read", Kind: book.ErrDamaged, Cause: syntax})
	assert.Equal(t, book.CodeDamaged, n.Code)
}
