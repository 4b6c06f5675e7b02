package wire

import (
	"math"
	"slices"
	"strconv"
	"unicode/utf8"
)

// Writer writes one JSON text. The form is canonical: one record always gives
// the same bytes. Members stand in the order written; a float stands in the
// shortest form that reads back as the same float, laid out as ECMAScript's
// Number.prototype.toString does (which RFC 8785 section 3.2.2.3 also takes);
// a string is escaped only where RFC 8259 demands it.
//
// The first thing that is wrong is kept and returned by [Writer.Bytes]; what is
// written after it is dropped.
type Writer struct {
	buf    []byte
	indent bool
	open   []level
	names  []string // of all open objects, innermost last
	ready  bool     // a member's name was written and waits for its value
	done   bool     // the one value of the text is complete
	err    error
}

type level struct {
	end   byte
	some  bool            // at least one element or member was written
	first int             // where its names begin in Writer.names
	many  map[string]bool // its names, once they are many
}

// NewWriter makes a writer of compact text.
func NewWriter() *Writer { return &Writer{} }

// Grow makes room for a text of about so many bytes, for a writer whose text is
// long or one of very many.
func (w *Writer) Grow(n int) *Writer {
	w.buf = slices.Grow(w.buf, n)
	w.names = slices.Grow(w.names, 16)
	w.open = slices.Grow(w.open, 4)
	return w
}

// NewIndented makes a writer of text with one member or element a line,
// indented by two spaces a level, for files that people open.
func NewIndented() *Writer { return &Writer{indent: true} }

// Bytes gives the text, once its value is complete.
func (w *Writer) Bytes() ([]byte, error) {
	if w.err == nil && !w.done {
		return nil, ErrMisuse
	}
	if w.err != nil {
		return nil, w.err
	}
	return w.buf, nil
}

// Err is the first thing that was wrong so far.
func (w *Writer) Err() error { return w.err }

func (w *Writer) fail(err error) {
	if w.err == nil {
		w.err = err
	}
}

// begin makes room for a value and reports whether one may stand here.
func (w *Writer) begin() bool {
	switch {
	case w.err != nil:
		return false
	case w.done:
		w.fail(ErrMisuse)
		return false
	case w.ready:
		w.ready = false
	case len(w.open) > 0:
		if w.open[len(w.open)-1].end == '}' {
			w.fail(ErrMisuse)
			return false
		}
		w.separate()
	}
	w.done = len(w.open) == 0
	return true
}

func (w *Writer) separate() {
	top := &w.open[len(w.open)-1]
	if top.some {
		w.buf = append(w.buf, ',')
	}
	top.some = true
	w.line()
}

func (w *Writer) line() {
	if !w.indent {
		return
	}
	w.lineAt(len(w.open))
}

func (w *Writer) lineAt(depth int) {
	w.buf = append(w.buf, '\n')
	for range depth {
		w.buf = append(w.buf, "  "...)
	}
}

// Name writes the name of the next member.
func (w *Writer) Name(name string) *Writer {
	if w.err != nil {
		return w
	}
	if n := len(w.open); n == 0 || w.open[n-1].end != '}' || w.ready {
		w.fail(ErrMisuse)
		return w
	}
	if !w.add(name) {
		w.fail(ErrDuplicate)
		return w
	}
	w.separate()
	w.quote(name)
	w.buf = append(w.buf, ':')
	if w.indent {
		w.buf = append(w.buf, ' ')
	}
	w.ready = true
	return w
}

// add notes a name of the open object, and is false if it was there before.
func (w *Writer) add(name string) bool {
	top := &w.open[len(w.open)-1]
	own := w.names[top.first:]
	if top.many == nil && slices.Contains(own, name) || top.many[name] {
		return false
	}
	w.names = append(w.names, name)
	if top.many == nil && len(own) >= fewNames {
		top.many = make(map[string]bool, 2*fewNames)
		for _, s := range own {
			top.many[s] = true
		}
	}
	if top.many != nil {
		top.many[name] = true
	}
	return true
}

// BeginObject opens an object; members follow, each a Name and a value.
func (w *Writer) BeginObject() { w.opened('{', '}') }

// EndObject closes it.
func (w *Writer) EndObject() { w.closed('}') }

// BeginArray opens an array; its elements follow.
func (w *Writer) BeginArray() { w.opened('[', ']') }

// EndArray closes it.
func (w *Writer) EndArray() { w.closed(']') }

func (w *Writer) opened(begin, end byte) {
	if !w.begin() {
		return
	}
	w.done = false
	w.buf = append(w.buf, begin)
	w.open = append(w.open, level{end: end, first: len(w.names)})
}

func (w *Writer) closed(end byte) {
	if w.err != nil {
		return
	}
	n := len(w.open)
	if n == 0 || w.open[n-1].end != end || w.ready {
		w.fail(ErrMisuse)
		return
	}
	some := w.open[n-1].some
	w.names = w.names[:w.open[n-1].first]
	if w.open = w.open[:n-1]; some {
		w.line()
	}
	w.buf = append(w.buf, end)
	w.done = n == 1
}

// Text writes a string. One that is not UTF-8 is refused with ErrUTF8.
func (w *Writer) Text(s string) {
	if w.begin() {
		w.quote(s)
	}
}

// Texts writes an array of strings.
func (w *Writer) Texts(list []string) {
	w.BeginArray()
	for _, s := range list {
		w.Text(s)
	}
	w.EndArray()
}

// Float writes a number. NaN and infinity are refused with ErrNotFinite.
func (w *Writer) Float(f float64) {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		w.fail(ErrNotFinite)
	}
	if w.begin() {
		w.buf = appendFloat(w.buf, f)
	}
}

// Int writes a whole number. One beyond ±(2^53 - 1), which other programs
// would read as its neighbour, is refused with ErrRange.
func (w *Writer) Int(n int64) {
	if n > maxExact || n < -maxExact {
		w.fail(ErrRange)
	}
	if w.begin() {
		w.buf = strconv.AppendInt(w.buf, n, 10)
	}
}

// Bool writes true or false.
func (w *Writer) Bool(b bool) {
	if w.begin() {
		w.buf = strconv.AppendBool(w.buf, b)
	}
}

// Null writes null.
func (w *Writer) Null() {
	if w.begin() {
		w.buf = append(w.buf, "null"...)
	}
}

// Value writes a value that was read: numbers by their literal, members in
// their order.
func (w *Writer) Value(v Value) {
	switch v.kind {
	case String:
		w.Text(v.text)
	case Number, Bool:
		if w.begin() {
			w.buf = append(w.buf, v.text...)
		}
	case Array:
		w.BeginArray()
		for i := range v.kids {
			w.Value(v.kids[i].Value)
		}
		w.EndArray()
	case Object:
		w.BeginObject()
		w.Members(v.kids)
		w.EndObject()
	default:
		w.Null()
	}
}

// Members writes members into the open object, as [Fields.Rest] gave them.
func (w *Writer) Members(members []Member) {
	for i := range members {
		w.Name(members[i].Name).Value(members[i].Value)
	}
}

// Canonical writes a text that [Compact] made, without reading it again. A text
// from elsewhere must go through [Read] and Compact first; an empty one is
// refused with ErrMisuse.
func (w *Writer) Canonical(text []byte) {
	if len(text) == 0 {
		w.fail(ErrMisuse)
	}
	if !w.begin() {
		return
	}
	if !w.indent {
		w.buf = append(w.buf, text...)
		return
	}
	w.spread(string(text))
}

// spread writes compact text over lines.
func (w *Writer) spread(text string) {
	depth := len(w.open)
	for i := 0; i < len(text); i++ {
		switch c := text[i]; c {
		case '{', '[':
			w.buf = append(w.buf, c)
			if i+1 < len(text) && text[i+1] == c+2 { // '}' and ']' stand two behind
				w.buf = append(w.buf, text[i+1])
				i++
				continue
			}
			depth++
			w.lineAt(depth)
		case '}', ']':
			depth--
			w.lineAt(depth)
			w.buf = append(w.buf, c)
		case ',':
			w.buf = append(w.buf, c)
			w.lineAt(depth)
		case ':':
			w.buf = append(w.buf, ": "...)
		case '"':
			end := skipString(text, i)
			w.buf = append(w.buf, text[i:end]...)
			i = end - 1
		default:
			w.buf = append(w.buf, c)
		}
	}
}

const usualText = 512 // bytes of a formula

// Compact gives v as compact canonical text.
func Compact(v Value) ([]byte, error) {
	w := NewWriter().Grow(usualText)
	w.Value(v)
	return w.Bytes()
}

// appendFloat lays a float out as ECMAScript does: plain from 1e-6 to 1e21,
// with an exponent outside.
func appendFloat(buf []byte, f float64) []byte {
	format := byte('f')
	if a := math.Abs(f); a != 0 && (a < 1e-6 || a >= 1e21) {
		format = 'e'
	}
	buf = strconv.AppendFloat(buf, f, format, -1, 64)
	if n := len(buf); format == 'e' && n >= 4 && buf[n-4] == 'e' && buf[n-2] == '0' {
		buf[n-2] = buf[n-1] // e-09 to e-9
		buf = buf[:n-1]
	}
	return buf
}

const hexDigits = "0123456789abcdef"

func (w *Writer) quote(s string) {
	w.buf = append(w.buf, '"')
	start := 0
	for i := 0; i < len(s); {
		c := s[i]
		if c >= utf8.RuneSelf {
			r, n := utf8.DecodeRuneInString(s[i:])
			if r == utf8.RuneError && n == 1 {
				w.fail(ErrUTF8)
				return
			}
			i += n
			continue
		}
		if c >= ' ' && c != '"' && c != '\\' {
			i++
			continue
		}
		w.buf = appendEscape(append(w.buf, s[start:i]...), c)
		i++
		start = i
	}
	w.buf = append(append(w.buf, s[start:]...), '"')
}

func appendEscape(buf []byte, c byte) []byte {
	short := c
	switch c {
	case '"', '\\':
	case '\b':
		short = 'b'
	case '\f':
		short = 'f'
	case '\n':
		short = 'n'
	case '\r':
		short = 'r'
	case '\t':
		short = 't'
	default:
		return append(buf, '\\', 'u', '0', '0', hexDigits[c>>4], hexDigits[c&15])
	}
	return append(buf, '\\', short)
}
