package unit

import (
	"errors"
	"strconv"
	"strings"
	"unicode/utf8"
)

// What can be wrong with a typed figure. Test with errors.Is; the page picks
// its sentence by these, never by an error's text.
var (
	ErrEmpty     = errors.New("no figure")                       // nothing but space
	ErrNotFigure = errors.New("not a figure")                    // letters or signs where digits belong
	ErrTwoMarks  = errors.New("more than one decimal mark")      // 1,2,3
	ErrTooLarge  = errors.New("figure too large")                // beyond MaxFigure, 1e309 included
	ErrUnit      = errors.New("unit not known")                  // 5 furlongs
	ErrKind      = errors.New("unit of the wrong kind for this") // 5 ml where only a mass will do
)

// MaxFigure is the largest figure that is accepted anywhere; anything a kitchen
// weighs is far below it.
const MaxFigure = 1e12

// maxTyped bounds what is read at all: no figure is longer than this.
const maxTyped = 64

// InputError is a figure that could not be read: where, and which of the Err
// values above.
type InputError struct {
	Text   string // what was typed, cut to a sensible length
	Offset int    // byte offset of the first wrong character
	Err    error  // one of the Err values of this package
}

func (e *InputError) Error() string {
	return "unit: " + e.Err.Error() + " at " + strconv.Itoa(e.Offset) + " in " + strconv.Quote(e.Text)
}

// Unwrap gives the cause for errors.Is.
func (e *InputError) Unwrap() error { return e.Err }

func inputError(text string, at int, err error) *InputError {
	if len(text) > maxTyped {
		cut := maxTyped
		for cut > 0 && !utf8.RuneStart(text[cut]) {
			cut--
		}
		text = text[:cut]
	}
	return &InputError{Text: text, Offset: at, Err: err}
}

// ParseFigure reads a figure as a cook types it. A comma is a decimal mark as
// much as a point. Spaces (also thin and no-break ones) and apostrophes between
// digits group thousands; of two different marks the last is the decimal one
// ("1.234,5"); a single mark is always decimal ("1.234" is one and a bit).
// Unicode minus and full-width or Arabic-Indic digits are understood. A
// fraction "1/2" or "1 1/2" is read too. NaN, infinities, exponents and hex are
// not figures here.
//
// Errors are *InputError around ErrEmpty, ErrNotFigure, ErrTwoMarks or ErrTooLarge.
func ParseFigure(s string) (float64, error) {
	n, rest, err := scanFigure(s)
	if err != nil {
		return 0, err
	}
	if tail := strings.TrimLeft(s[rest:], spaces); tail != "" {
		return 0, inputError(s, len(s)-len(tail), ErrNotFigure)
	}
	return n, nil
}

// spaces are the characters that count as space in typed figures.
const spaces = " \t\r\n\u00a0\u2009\u202f"

// scanFigure reads a figure at the start of s and tells where it ended.
func scanFigure(s string) (value float64, end int, err error) {
	if len(s) > 4096 {
		return 0, 0, inputError(s, 0, ErrTooLarge)
	}
	at := len(s) - len(strings.TrimLeft(s, spaces))
	if at == len(s) {
		return 0, at, inputError(s, 0, ErrEmpty)
	}
	negative := false
	if r, n := utf8.DecodeRuneInString(s[at:]); r == '-' || r == '\u2212' || r == '+' {
		negative = r != '+'
		at += n
	}
	whole, at, err := scanDecimal(s, at)
	if err != nil {
		return 0, at, err
	}
	value, end, err = scanFraction(s, at, whole)
	if err != nil {
		return 0, end, err
	}
	if value > MaxFigure {
		return 0, end, inputError(s, end, ErrTooLarge)
	}
	if negative {
		value = -value
	}
	return value, end, nil
}

// scanFraction completes "1/2" and "1 1/2" and the vulgar fraction signs.
func scanFraction(s string, at int, whole float64) (float64, int, error) {
	skipped := at + len(s[at:]) - len(strings.TrimLeft(s[at:], spaces))
	if r, n := utf8.DecodeRuneInString(s[skipped:]); vulgar[r] != 0 {
		return whole + vulgar[r], skipped + n, nil
	}
	if skipped < len(s) && s[skipped] == '/' {
		below, end, err := scanDecimal(s, skipped+1)
		if err != nil {
			return 0, end, err
		}
		if below == 0 {
			return 0, end, inputError(s, skipped+1, ErrNotFigure)
		}
		return whole / below, end, nil
	}
	if skipped > at { // "1 1/2": the second number must be followed by a stroke
		above, slash, err := scanDecimal(s, skipped)
		if err == nil && slash < len(s) && s[slash] == '/' {
			below, end, err := scanDecimal(s, slash+1)
			if err == nil && below != 0 && above < below {
				return whole + above/below, end, nil
			}
		}
	}
	return whole, at, nil
}

var vulgar = map[rune]float64{'½': 0.5, '¼': 0.25, '¾': 0.75, '⅓': 1.0 / 3, '⅔': 2.0 / 3, '⅛': 0.125}

// scanDecimal reads digits with grouping and a decimal mark, no sign. A figure
// may start with its mark (",5") or with a vulgar fraction sign alone ("½").
func scanDecimal(s string, at int) (float64, int, error) {
	start := at
	var digits strings.Builder // ASCII digits with '.' for the decimal mark
	last, lastMark := -1, rune(0)
	marks, twoKinds := 0, false
	end := at
	for at < len(s) {
		r, n := utf8.DecodeRuneInString(s[at:])
		if d, ok := digitOf(r); ok {
			digits.WriteByte(d)
			at += n
			end = at
			continue
		}
		if r == '.' || r == ',' || r == '\u066b' {
			if marks > 0 && r != lastMark {
				twoKinds = true
			}
			marks, lastMark, last = marks+1, r, digits.Len()
			at += n
			end = at
			continue
		}
		if isGroup(r) && groupFollows(s[at+n:]) && digits.Len() > 0 && last < 0 {
			at += n
			continue
		}
		break
	}
	text := digits.String()
	if text == "" {
		if r, _ := utf8.DecodeRuneInString(s[start:]); vulgar[r] != 0 {
			return 0, start, nil
		}
		if start >= len(s) {
			return 0, start, inputError(s, start, ErrEmpty)
		}
		return 0, start, inputError(s, start, ErrNotFigure)
	}
	if marks > 1 && (!twoKinds || markCount(s[start:end], lastMark) > 1) {
		return 0, start, inputError(s, start, ErrTwoMarks)
	}
	if last >= 0 {
		text = text[:last] + "." + text[last:]
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0, end, inputError(s, start, ErrTooLarge)
	}
	return v, end, nil
}

func markCount(s string, mark rune) int { return strings.Count(s, string(mark)) }

// digitOf maps ASCII, Arabic-Indic, extended Arabic-Indic and full-width digits.
func digitOf(r rune) (byte, bool) {
	for _, zero := range [...]rune{'0', '\u0660', '\u06f0', '\uff10'} {
		if r >= zero && r <= zero+9 {
			return byte('0' + r - zero), true
		}
	}
	return 0, false
}

func isGroup(r rune) bool {
	return r == ' ' || r == '\u00a0' || r == '\u2009' || r == '\u202f' || r == '\'' || r == '\u2019'
}

// groupFollows reports whether s starts with exactly three digits: only then is
// a space before them a thousands separator ("1 500", but not "1 1/2" or "2 30").
func groupFollows(s string) bool {
	for i := range 4 {
		r, n := utf8.DecodeRuneInString(s)
		_, digit := digitOf(r)
		if digit != (i < 3) {
			return false
		}
		s = s[n:]
	}
	return true
}
