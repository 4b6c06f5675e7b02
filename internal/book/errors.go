package book

import (
	"errors"

	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/wire"
)

// What can go wrong between the book and its store. Test with errors.Is.
var (
	ErrConflict    = errors.New("book: changed elsewhere since it was read")
	ErrQuota       = errors.New("book: no room left on this device")
	ErrBlocked     = errors.New("book: another tab holds the store")
	ErrStale       = errors.New("book: connection to the store was lost")
	ErrUncertain   = errors.New("book: no answer whether it was written")
	ErrUnavailable = errors.New("book: no store in this browser")
	ErrNewer       = errors.New("book: written by a newer program")
	ErrDamaged     = errors.New("book: record cannot be read")
	ErrMissing     = errors.New("book: no such record")
	ErrForeign     = errors.New("book: not a book file")
	ErrRepeated    = errors.New("book: record stands twice")
	ErrUnknown     = errors.New("book: member is not known here")
	ErrTable       = errors.New("book: the list for a spreadsheet")
	ErrDangling    = errors.New("book: refers to a record that is not there")
)

// Failure is an error of the store: what was being done, which of the kinds
// above it is, and the cause, for the log.
type Failure struct {
	Op    string
	Kind  error
	Cause error
}

// Error gives all three for the log.
func (f *Failure) Error() string {
	s := f.Op + ": " + f.Kind.Error()
	if f.Cause != nil {
		s += ": " + f.Cause.Error()
	}
	return s
}

// Unwrap gives kind and cause.
func (f *Failure) Unwrap() []error {
	if f.Cause == nil {
		return []error{f.Kind}
	}
	return []error{f.Kind, f.Cause}
}

// Conflict says that the stored revision was not the one a change was made
// from. It is an [ErrConflict]. Nothing is lost: the change stands as Copy.
type Conflict struct {
	Theirs Head // what is stored; zero with only the ID if it cannot be read
	Copy   Head // the entry that keeps the change; zero if the change was a deletion or no spare id was given
}

// Error names the two entries.
func (c *Conflict) Error() string {
	return ErrConflict.Error() + ": " + c.Theirs.ID + ", kept as " + c.Copy.ID
}

// Unwrap gives ErrConflict.
func (c *Conflict) Unwrap() error { return ErrConflict }

// The codes of the notes that [NoteOf] and this package's refusals carry.
const (
	CodeConflict    note.Code = "book.conflict"
	CodeConflictNot note.Code = "book.conflict-not-saved"
	CodeQuota       note.Code = "book.quota"
	CodeBlocked     note.Code = "book.blocked"
	CodeStale       note.Code = "book.stale"
	CodeUncertain   note.Code = "book.uncertain"
	CodeUnavailable note.Code = "book.unavailable"
	CodeNewer       note.Code = "book.newer"
	CodeDamaged     note.Code = "book.damaged"
	CodeMissing     note.Code = "book.missing"
	CodeInternal    note.Code = "book.internal"
	CodeForeign     note.Code = "book.file-foreign"
	CodeFileNewer   note.Code = "book.file-newer"
	CodeFileBig     note.Code = "book.file-big"
	CodeFileSyntax  note.Code = "book.file-syntax"
	CodeFileShape   note.Code = "book.file-shape"
	CodeSyntaxTop   note.Code = "book.file-syntax-top" // nothing in it to name
	CodeShapeTop    note.Code = "book.file-shape-top"
	CodeFileTable   note.Code = "book.file-table"
	CodeNoName      note.Code = "book.name-missing"
	CodeLongName    note.Code = "book.name-long"
	CodeBadName     note.Code = "book.name-characters"
	CodeLongTag     note.Code = "book.tag-long"
	CodeManyTags    note.Code = "book.tags-many"
	CodeBadID       note.Code = "book.id"
	CodeBadTime     note.Code = "book.time"
	CodeBody        note.Code = "book.body"
	CodeOutcome     note.Code = "book.outcome"
	CodeLongNote    note.Code = "book.note-long"
	CodePhoto       note.Code = "book.photo"
)

// kinds pairs the errors of the store with their notes, the most telling first.
var kinds = []struct {
	err  error
	code note.Code
}{
	{ErrQuota, CodeQuota},
	{ErrBlocked, CodeBlocked},
	{ErrStale, CodeStale},
	{ErrUncertain, CodeUncertain},
	{ErrUnavailable, CodeUnavailable},
	{ErrForeign, CodeForeign},
	{ErrNewer, CodeNewer},
	{ErrDamaged, CodeDamaged},
	{ErrMissing, CodeMissing},
	{ErrConflict, CodeConflictNot},
}

// FileError says that a file was refused whole.
type FileError struct {
	Err error // a [*wire.SyntaxError] or [*wire.ShapeError], with the place
}

// Error gives the cause with its place for the log.
func (e *FileError) Error() string { return "book: file refused: " + e.Err.Error() }

// Unwrap gives the cause.
func (e *FileError) Unwrap() error { return e.Err }

// NoteOf turns an error of this package into the note that the page shows. An
// unknown error is "book.internal": details go to the log, never to the person.
func NoteOf(err error) note.Note {
	var file *FileError
	if errors.As(err, &file) {
		// Asked first: what is wrong in the file may be a refusal as well.
		return fileNote(file.Err)
	}
	var refusal *note.Refusal
	if errors.As(err, &refusal) {
		return refusal.Note
	}
	var c *Conflict
	if errors.As(err, &c) && c.Copy.ID != "" {
		return note.New(note.Caution, CodeConflict, note.Typed("name", c.Copy.Name))
	}
	var f *Failure
	if errors.As(err, &f) {
		return note.New(note.Refused, codeOf(f.Kind))
	}
	return note.New(note.Refused, codeOf(err))
}

func codeOf(err error) note.Code {
	for _, k := range kinds {
		if errors.Is(err, k.err) {
			return k.code
		}
	}
	return CodeInternal
}

// fileNote is the note of a file that was refused, with the place that is wrong.
func fileNote(err error) note.Note {
	code, at := CodeFileShape, wire.Place{}
	var syntax *wire.SyntaxError
	var shape *wire.ShapeError
	switch {
	case errors.As(err, &shape):
		at = shape.Place
		if at.Path == "" {
			code = CodeShapeTop
		}
		if errors.Is(err, ErrForeign) {
			code = CodeForeign
		} else if errors.Is(err, ErrNewer) {
			code = CodeFileNewer
		}
	case errors.As(err, &syntax):
		code, at = syntaxCode(syntax), syntax.Place
	}
	return note.New(note.Refused, code,
		note.Num("line", float64(at.Line), unit.One),
		note.Num("column", float64(at.Column), unit.One),
		note.Typed("path", at.Path))
}

func syntaxCode(err *wire.SyntaxError) note.Code {
	switch {
	case errors.Is(err, wire.ErrTooBig):
		return CodeFileBig
	case errors.Is(err, ErrTable):
		return CodeFileTable
	case errors.Is(err, ErrForeign):
		return CodeForeign
	case err.Path == "": // an empty pair of brackets would name nothing
		return CodeSyntaxTop
	}
	return CodeFileSyntax
}
