package book

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"tremblant/internal/wire"
)

// scanHead reads a head as [decodeHead] does, many times faster: it knows the
// layout in which encodeHead writes and takes texts as pieces of the row. Ten
// thousand heads are read before the first list is shown. A row of any other
// layout, with an escape in a text or anything unusual, goes to decodeHead.
func scanHead(row Row) (Head, error) {
	s := scanner{rest: row.Text, ok: utf8.ValidString(row.Text)}
	h := s.head()
	if !s.ok || s.rest != "" || h.ID != row.Key.ID {
		return decodeHead(row)
	}
	return h, nil
}

// scanVersion reads a revision as [decodeVersion] does, by the same means: what
// an export of ten thousand needs. The formula in it is checked as strictly.
func scanVersion(row Row) (Entry, error) {
	s := scanner{rest: row.Text, ok: utf8.ValidString(row.Text) && len(row.Text) <= recordLimits.Bytes}
	e := Entry{Head: s.members()}
	s.must(`,"body":`)
	if !s.ok || strings.HasPrefix(s.rest, " ") || (Key{ID: e.ID, Rev: e.Rev}) != row.Key {
		return decodeVersion(row)
	}
	n, err := wire.Skip(s.rest, bodyLimits)
	if err != nil || s.rest[n:] != "}" {
		return decodeVersion(row)
	}
	e.Body = []byte(s.rest[:n])
	return e, nil
}

// scanner takes a text off piece by piece. Once something is not as expected it
// is no longer ok, and what it gives has no meaning.
type scanner struct {
	rest string
	ok   bool
}

func (s *scanner) head() Head {
	h := s.members()
	s.must(`,"words":`)
	h.Words = s.text(MaxWords)
	s.must(`,"facets":`)
	h.Facets = s.texts(MaxFacets)
	s.must(`}`)
	return h
}

// members takes what Head.write has written.
func (s *scanner) members() (h Head) {
	s.must(`{"form":1,"id":`)
	h.ID = s.id()
	s.must(`,"rev":`)
	h.Rev = int(s.number(1, MaxRev))
	s.must(`,"name":`)
	h.Name = s.text(MaxName)
	if s.may(`,"tags":`) {
		h.Tags = s.texts(MaxTags)
	}
	s.must(`,"made":`)
	h.Made = s.number(0, MaxUnixMs)
	s.must(`,"saved":`)
	h.Saved = s.number(0, MaxUnixMs)
	if s.may(`,"from":{"id":`) {
		h.From.ID = s.id()
		s.must(`,"rev":`)
		h.From.Rev = int(s.number(1, MaxRev))
		s.must(`}`)
	}
	if s.may(`,"conflict":`) {
		h.Conflict = s.id()
	}
	if s.may(`,"binned":`) {
		h.Binned = s.number(1, MaxUnixMs)
	}
	s.ok = s.ok && plain(h.Name) && plainTags(h.Tags)
	return h
}

// plain is true of a name or tag that CheckName or CheckTags leaves as it is.
func plain(text string) bool {
	return text != "" && text == strings.TrimSpace(text) && printable(text)
}

func plainTags(tags []string) bool {
	for i, t := range tags {
		if !plain(t) {
			return false
		}
		for _, before := range tags[:i] {
			if !apart(before, t) && Fold(before) == Fold(t) {
				return false
			}
		}
	}
	return true
}

// apart reports whether two texts differ in a letter or digit before anything
// that folding might drop or change; then they differ folded as well.
func apart(a, b string) bool {
	for i := range min(len(a), len(b)) {
		x, y := a[i]|0x20, b[i]|0x20
		if (x < 'a' || x > 'z') && (x < '0' || x > '9') || (y < 'a' || y > 'z') && (y < '0' || y > '9') {
			return false
		}
		if x != y {
			return true
		}
	}
	return false
}

func (s *scanner) id() string {
	id := s.text(MaxID)
	s.ok = s.ok && validID(id, MaxID)
	return id
}

func (s *scanner) may(piece string) bool {
	rest, ok := strings.CutPrefix(s.rest, piece)
	if ok {
		s.rest = rest
	}
	return ok
}

func (s *scanner) must(piece string) { s.ok = s.may(piece) && s.ok }

// text takes a string without escapes.
func (s *scanner) text(limit int) string {
	if !s.may(`"`) {
		s.ok = false
		return ""
	}
	n := strings.IndexByte(s.rest, '"')
	if n < 0 || n > limit {
		s.ok = false
		return ""
	}
	text := s.rest[:n]
	s.rest = s.rest[n+1:]
	for _, c := range []byte(text) {
		if c < ' ' || c == '\\' {
			s.ok = false
			return ""
		}
	}
	return text
}

func (s *scanner) texts(limit int) (list []string) {
	s.must(`[`)
	for s.ok && !s.may(`]`) {
		if len(list) > 0 {
			s.must(`,`)
		}
		if list == nil {
			list = make([]string, 0, 4)
		}
		list = append(list, s.text(MaxTag))
		s.ok = s.ok && len(list) <= limit
	}
	return list
}

func (s *scanner) number(low, high int64) int64 {
	n := 0
	for n < len(s.rest) && s.rest[n] >= '0' && s.rest[n] <= '9' {
		n++
	}
	v, err := strconv.ParseInt(s.rest[:n], 10, 64)
	s.ok = s.ok && err == nil && v >= low && v <= high && (n == 1 || s.rest[0] != '0')
	s.rest = s.rest[n:]
	return v
}
