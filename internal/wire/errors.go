package wire

import (
	"errors"
	"strconv"
)

// What can be wrong with a text. A [*SyntaxError] wraps one of these.
var (
	ErrEnd        = errors.New("wire: text ends too early")
	ErrToken      = errors.New("wire: unexpected character")
	ErrNumber     = errors.New("wire: not a number")
	ErrControl    = errors.New("wire: control character in a string")
	ErrEscape     = errors.New("wire: unknown escape in a string")
	ErrSurrogate  = errors.New("wire: half of a surrogate pair")
	ErrUTF8       = errors.New("wire: not UTF-8")
	ErrDuplicate  = errors.New("wire: name stands twice")
	ErrTrailing   = errors.New("wire: text after the end of the value")
	ErrTooBig     = errors.New("wire: text is too big")
	ErrTooDeep    = errors.New("wire: nested too deep")
	ErrTooMany    = errors.New("wire: too many members or elements")
	ErrTooManyAll = errors.New("wire: too many values in all")
)

// What can be wrong with a value. A [*ShapeError] wraps one of these, or an
// error of the decoder's own (see [Fields.Fail]).
var (
	ErrMissing = errors.New("wire: member is missing")
	ErrKind    = errors.New("wire: wrong kind of value")
	ErrRange   = errors.New("wire: out of range")
	ErrInteger = errors.New("wire: not a whole number")
	ErrLong    = errors.New("wire: too long")
)

// What can be wrong in writing.
var (
	ErrNotFinite = errors.New("wire: NaN and infinity have no JSON form")
	ErrMisuse    = errors.New("wire: value, name or end written out of turn")
)

// Place is a position in a text. The zero Place means that it is not known.
type Place struct {
	Offset int    // bytes from the start
	Line   int    // from 1
	Column int    // from 1, in code points
	Path   string // JSON Pointer (RFC 6901) of the value; "" is the whole document
}

// String gives "line:column path", for logs and tests.
func (p Place) String() string {
	return strconv.Itoa(p.Line) + ":" + strconv.Itoa(p.Column) + " " + p.Path
}

// SyntaxError says that a text is not JSON, not of the strict kind that this
// package reads, or over a limit.
type SyntaxError struct {
	Place
	Err error // one of the sentinels above
}

// Error gives cause and place for logs; a person gets a sentence of the page.
func (e *SyntaxError) Error() string { return e.Err.Error() + " at " + e.Place.String() }

// Unwrap gives the sentinel.
func (e *SyntaxError) Unwrap() error { return e.Err }

// ShapeError says that a value is not what a decoder expects there.
type ShapeError struct {
	Place         // where the value stands; for a missing member the object, with the member's path
	Want  Kind    // for ErrKind: what was expected
	Low   float64 // for ErrRange: the smallest value allowed
	High  float64 // for ErrRange the largest value, for ErrLong the greatest length allowed
	Err   error
}

// Error gives cause and place for logs; a person gets a sentence of the page.
func (e *ShapeError) Error() string {
	s := e.Err.Error()
	switch e.Err {
	case ErrKind:
		s += ", want " + e.Want.String()
	case ErrRange:
		s += ", want " + number(e.Low) + " to " + number(e.High)
	case ErrLong:
		s += ", at most " + number(e.High)
	}
	return s + " at " + e.Place.String()
}

// Unwrap gives the sentinel or the decoder's own error.
func (e *ShapeError) Unwrap() error { return e.Err }

func number(f float64) string { return strconv.FormatFloat(f, 'g', -1, 64) }
