package wire

import (
	"strconv"
	"unicode/utf8"
)

// Limits bound what a text may cost. A zero field takes the default.
type Limits struct {
	Bytes   int // length of the text; default 1 MiB, at most 1 GiB
	Depth   int // arrays and objects inside each other; default 32
	Members int // members of one object or elements of one array; default 10,000
	Values  int // values in the whole text; default 100,000
}

func (l Limits) orDefault() Limits {
	or := func(n, def int) int {
		if n <= 0 {
			return def
		}
		return n
	}
	return Limits{
		Bytes:   min(or(l.Bytes, 1<<20), 1<<30),
		Depth:   or(l.Depth, 32),
		Members: or(l.Members, 10_000),
		Values:  or(l.Values, 100_000),
	}
}

// Read reads one JSON text. The error is a [*SyntaxError]. The value shares
// memory with the text.
func Read[T string | []byte](text T, limits Limits) (Value, error) {
	l := limits.orDefault()
	if len(text) > l.Bytes {
		// Not copied and not located: the text may be far too big for either.
		return Value{}, &SyntaxError{Place{Offset: l.Bytes}, ErrTooBig}
	}
	s := string(text)
	r := reader{text: s, source: &s, limits: l, kids: make([]Member, 0, 16)}
	v, err := r.document()
	if err != nil {
		return Value{}, r.located(err)
	}
	return v, nil
}

// Skip checks the one value that text begins with, as strictly as [Read] does,
// and gives its length. It keeps nothing, and so costs a fraction of Read. An
// error has no place.
func Skip(text string, limits Limits) (int, error) {
	l := limits.orDefault()
	r := reader{text: text[:min(len(text), l.Bytes)], limits: l, dry: true}
	_, err := r.value()
	return r.pos, err
}

type reader struct {
	dry    bool // values are checked and not kept
	text   string
	source *string
	pos    int
	depth  int
	values int
	limits Limits
	kids   []Member // of all open containers, innermost last
}

// duplicate carries the name that stands twice up to where the error is located.
type duplicate string

func (duplicate) Error() string { return ErrDuplicate.Error() }

func (r *reader) located(err error) error {
	place := locate(r.text, r.pos)
	if name, ok := err.(duplicate); ok {
		place.Path += step(string(name))
		err = ErrDuplicate
	}
	return &SyntaxError{place, err}
}

func (r *reader) document() (Value, error) {
	v, err := r.value()
	if err != nil {
		return v, err
	}
	if r.space(); r.pos < len(r.text) {
		return v, ErrTrailing
	}
	return v, nil
}

func (r *reader) space() {
	for r.pos < len(r.text) {
		switch r.text[r.pos] {
		case ' ', '\t', '\n', '\r':
			r.pos++
		default:
			return
		}
	}
}

// peek skips white space and gives the next byte; 0 at the end, where no byte
// of a token can be 0 either.
func (r *reader) peek() byte {
	if r.space(); r.pos < len(r.text) {
		return r.text[r.pos]
	}
	return 0
}

// unexpected tells the end of the text from a wrong character in it.
func (r *reader) unexpected() error {
	if r.pos >= len(r.text) {
		return ErrEnd
	}
	return ErrToken
}

func (r *reader) value() (v Value, err error) {
	c := r.peek()
	if r.values++; r.values > r.limits.Values {
		return v, ErrTooManyAll
	}
	v.source, v.offset = r.source, uint32(r.pos)
	switch {
	case c == '{':
		v.kind = Object
		v.kids, err = r.container('}')
	case c == '[':
		v.kind = Array
		v.kids, err = r.container(']')
	case c == '"':
		v.kind = String
		v.text, err = r.str()
	case c == '-' || c >= '0' && c <= '9':
		v.kind = Number
		v.text, err = r.number()
	default:
		v.kind, v.text, err = r.word()
	}
	return v, err
}

func (r *reader) word() (Kind, string, error) {
	rest := r.text[r.pos:]
	for _, w := range [...]string{"true", "false", "null"} {
		n := 0
		for n < len(w) && n < len(rest) && rest[n] == w[n] {
			n++
		}
		if n == 0 {
			continue
		}
		if r.pos += n; n < len(w) {
			return Null, "", r.unexpected()
		}
		if w == "null" {
			return Null, "", nil
		}
		return Bool, w, nil
	}
	return Null, "", r.unexpected()
}

// container reads an array or object whose opening bracket is next; end is its
// closing bracket.
func (r *reader) container(end byte) ([]Member, error) {
	if r.depth++; r.depth > r.limits.Depth {
		return nil, ErrTooDeep
	}
	r.pos++
	first := len(r.kids)
	var many map[string]bool
	for r.peek() != end || len(r.kids) > first {
		if len(r.kids)-first >= r.limits.Members {
			return nil, ErrTooMany
		}
		m, err := r.member(end == '}', first, &many)
		if err != nil {
			return nil, err
		}
		r.kids = append(r.kids, m)
		if r.peek() == end {
			break
		}
		if r.peek() != ',' {
			return nil, r.unexpected()
		}
		r.pos++
	}
	r.pos++
	r.depth--
	var kids []Member
	if !r.dry {
		kids = append(kids, r.kids[first:]...)
	}
	r.kids = r.kids[:first]
	return kids, nil
}

func (r *reader) member(named bool, first int, many *map[string]bool) (m Member, err error) {
	if named {
		if r.peek() != '"' {
			return m, r.unexpected()
		}
		start := r.pos
		if m.Name, err = r.str(); err != nil {
			return m, err
		}
		if r.seen(m.Name, r.kids[first:], many) {
			r.pos = start
			return m, duplicate(m.Name)
		}
		if r.peek() != ':' {
			return m, r.unexpected()
		}
		r.pos++
	}
	m.Value, err = r.value()
	return m, err
}

// seen reports whether a name stands among the members so far. Objects are small
// as a rule, so it compares one by one until that would be slow.
func (r *reader) seen(name string, sofar []Member, many *map[string]bool) bool {
	if len(sofar) < fewNames {
		for i := range sofar {
			if sofar[i].Name == name {
				return true
			}
		}
		return false
	}
	if *many == nil {
		*many = make(map[string]bool, 2*fewNames)
		for i := range sofar {
			(*many)[sofar[i].Name] = true
		}
	}
	old := (*many)[name]
	(*many)[name] = true
	return old
}

const fewNames = 24

// number reads by the grammar of RFC 8259 section 6 and keeps the literal.
func (r *reader) number() (string, error) {
	start := r.pos
	if r.at('-') {
		r.pos++
	}
	if r.at('0') {
		r.pos++
	} else if !r.digits() {
		return "", r.notNumber()
	}
	if r.at('.') {
		if r.pos++; !r.digits() {
			return "", r.notNumber()
		}
	}
	if r.at('e') || r.at('E') {
		if r.pos++; r.at('+') || r.at('-') {
			r.pos++
		}
		if !r.digits() {
			return "", r.notNumber()
		}
	}
	return r.text[start:r.pos], nil
}

func (r *reader) notNumber() error {
	if r.pos >= len(r.text) {
		return ErrEnd
	}
	return ErrNumber
}

func (r *reader) at(c byte) bool { return r.pos < len(r.text) && r.text[r.pos] == c }

func (r *reader) digits() bool {
	start := r.pos
	for r.pos < len(r.text) && r.text[r.pos] >= '0' && r.text[r.pos] <= '9' {
		r.pos++
	}
	return r.pos > start
}

// str reads a string whose opening quote is next. One without escapes is a
// piece of the text; only one with escapes is copied.
func (r *reader) str() (string, error) {
	r.pos++
	start, escaped := r.pos, false
	for r.pos < len(r.text) {
		switch c := r.text[r.pos]; {
		case c == '"':
			raw := r.text[start:r.pos]
			r.pos++
			if !escaped {
				return raw, nil
			}
			return unescape(raw)
		case c < ' ':
			return "", ErrControl
		case c == '\\':
			escaped = true
			n, err := escapeLen(r.text[r.pos:])
			if err != nil {
				return "", err
			}
			r.pos += n
		case c < utf8.RuneSelf:
			r.pos++
		default:
			c, n := utf8.DecodeRuneInString(r.text[r.pos:])
			if c == utf8.RuneError && n == 1 {
				return "", ErrUTF8
			}
			r.pos += n
		}
	}
	return "", ErrEnd
}

// escapeLen checks the escape at the start of s and gives its length; a
// surrogate pair counts as one escape.
func escapeLen(s string) (int, error) {
	if len(s) < 2 {
		return 0, ErrEnd
	}
	if s[1] != 'u' {
		if shortEscape(s[1]) == 0 {
			return 0, ErrEscape
		}
		return 2, nil
	}
	_, n, err := unicodeEscape(s)
	return n, err
}

// shortEscape gives the character of a two-character escape, or 0.
func shortEscape(c byte) byte {
	switch c {
	case '"', '\\', '/':
		return c
	case 'b':
		return '\b'
	case 'f':
		return '\f'
	case 'n':
		return '\n'
	case 'r':
		return '\r'
	case 't':
		return '\t'
	}
	return 0
}

// unicodeEscape reads \uXXXX, or two of them for a surrogate pair.
func unicodeEscape(s string) (rune, int, error) {
	hi, err := hex4(s)
	if err != nil || hi < 0xD800 || hi > 0xDFFF {
		return hi, 6, err
	}
	if hi >= 0xDC00 || len(s) < 8 || s[6] != '\\' || s[7] != 'u' {
		return 0, 0, ErrSurrogate
	}
	lo, err := hex4(s[6:])
	if err != nil {
		return 0, 0, err
	}
	if lo < 0xDC00 || lo > 0xDFFF {
		return 0, 0, ErrSurrogate
	}
	return (hi-0xD800)<<10 | (lo - 0xDC00) + 0x10000, 12, nil
}

func hex4(s string) (rune, error) {
	for _, c := range []byte(s[2:min(6, len(s))]) {
		// ParseUint also takes signs and underscores, which are no hex digits.
		if c < '0' || c > '9' && c|0x20 < 'a' || c|0x20 > 'f' {
			return 0, ErrEscape
		}
	}
	if len(s) < 6 {
		return 0, ErrEnd
	}
	n, err := strconv.ParseUint(s[2:6], 16, 16)
	if err != nil {
		return 0, ErrEscape
	}
	return rune(n), nil
}

// unescape resolves the escapes of a string's raw text.
func unescape(raw string) (string, error) {
	out := make([]byte, 0, len(raw))
	for i := 0; i < len(raw); {
		if raw[i] != '\\' {
			out = append(out, raw[i])
			i++
			continue
		}
		if _, err := escapeLen(raw[i:]); err != nil {
			return "", err
		}
		if raw[i+1] != 'u' {
			out = append(out, shortEscape(raw[i+1]))
			i += 2
			continue
		}
		c, n, err := unicodeEscape(raw[i:])
		if err != nil {
			return "", err
		}
		out = utf8.AppendRune(out, c)
		i += n
	}
	return string(out), nil
}
