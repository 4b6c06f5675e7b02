package book

import (
	"strings"
	"unicode/utf8"

	"tremblant/internal/wire"
)

// scanHeads reads the rows it can and reports the others.
func scanHeads(rows []Row) (heads []Head, bad []Damage) {
	var s scanner
	heads = make([]Head, len(rows))
	n := 0
	for _, row := range rows {
		if err := s.readHead(row, &heads[n]); err != nil {
			bad = append(bad, Damage{Heads, row.Key, err})
			continue
		}
		n++
	}
	return heads[:n], bad
}

// readHead reads a head as [decodeHead] does, many times faster: it knows the
// layout in which encodeHead writes and takes texts as pieces of the row. Ten
// thousand heads are read before the first list is shown. A row of any other
// layout, with an escape in a text or anything unusual, goes to decodeHead.
func (s *scanner) readHead(row Row, h *Head) (err error) {
	s.begin(row.Text)
	s.head(h)
	if s.ok && s.rest == "" && h.ID == row.Key.ID && s.valid(row.Text) {
		return nil
	}
	*h, err = decodeHead(row)
	return err
}

// readVersion reads a revision as [decodeVersion] does, by the same means: what
// an export of ten thousand needs. The formula in it is checked as strictly.
func (s *scanner) readVersion(row Row) (Entry, error) {
	var e Entry
	s.begin(row.Text)
	s.members(&e.Head)
	s.must(`,"body":`)
	if !s.ok || strings.HasPrefix(s.rest, " ") || (Key{ID: e.ID, Rev: e.Rev}) != row.Key ||
		len(row.Text) > recordLimits.Bytes || !s.valid(row.Text) {
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
	wide bool     // a string had a character beyond ASCII
	room []string // where the lists of many heads stand, so that each need not be found room for
}

func (s *scanner) begin(text string) { s.rest, s.ok, s.wide = text, true, false }

// valid reports whether all that was taken is UTF-8.
func (s *scanner) valid(text string) bool { return !s.wide || utf8.ValidString(text) }

func (s *scanner) head(h *Head) {
	s.members(h)
	s.must(`,"words":`)
	h.Words = s.text(MaxWords)
	s.must(`,"facets":`)
	h.Facets = s.texts(MaxFacets)
	s.must(`}`)
}

// members takes what Head.write has written.
func (s *scanner) members(h *Head) {
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
	s.ok = s.ok && s.plain(h.Name) && s.plainTags(h.Tags)
}

// plain is true of a name or tag that CheckName or CheckTags leaves as it is.
// What text gives has no control characters of ASCII.
func (s *scanner) plain(text string) bool {
	if text == "" || text[0] == ' ' || text[len(text)-1] == ' ' {
		return false
	}
	return !s.wide || text == strings.TrimSpace(text) && printable(text)
}

func (s *scanner) plainTags(tags []string) bool {
	for i, t := range tags {
		if !s.plain(t) {
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

// unusual are the bytes at which text stops: the quote, and what goes to the
// thorough way.
var unusual = func() (table [256]bool) {
	for c := range 0x20 {
		table[c] = true
	}
	table['"'], table['\\'], table[0x7f] = true, true, true
	return table
}()

// text takes a string without escapes.
func (s *scanner) text(limit int) string {
	if !s.may(`"`) {
		s.ok = false
		return ""
	}
	n, all := 0, byte(0)
	for n < len(s.rest) && !unusual[s.rest[n]] {
		all |= s.rest[n]
		n++
	}
	if n == len(s.rest) || n > limit || s.rest[n] != '"' {
		s.ok = false
		return ""
	}
	text := s.rest[:n]
	s.rest = s.rest[n+1:]
	s.wide = s.wide || all >= utf8.RuneSelf
	return text
}

const roomFor = 1024 // strings

func (s *scanner) texts(limit int) []string {
	if cap(s.room)-len(s.room) < limit {
		s.room = make([]string, 0, max(limit, min(roomFor, 4*cap(s.room))))
	}
	first := len(s.room)
	s.must(`[`)
	for s.ok && !s.may(`]`) {
		if len(s.room) > first {
			s.must(`,`)
		}
		if s.ok = s.ok && len(s.room) < first+limit; s.ok {
			s.room = append(s.room, s.text(MaxTag))
		}
	}
	if len(s.room) == first {
		return nil
	}
	return s.room[first:len(s.room):len(s.room)]
}

func (s *scanner) number(low, high int64) (v int64) {
	n := 0
	for n < len(s.rest) && n < 18 && s.rest[n] >= '0' && s.rest[n] <= '9' {
		v = 10*v + int64(s.rest[n]-'0')
		n++
	}
	s.ok = s.ok && n > 0 && v >= low && v <= high && (n == 1 || s.rest[0] != '0')
	s.rest = s.rest[n:]
	return v
}
