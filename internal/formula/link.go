package formula

import (
	"slices"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// LinkPrefix begins the part of a link behind "#" that opens a formula. What
// follows are typed fields by their stable names in the form of
// application/x-www-form-urlencoded (WHATWG URL Standard, section 5):
//
//	#formula?name=Pear+gel&part-1-name=pear+juice&part-1-amount=200&dose-1-name=agar&dose-1-amount=2&batch-liquid=350
//
// or pasted lines: #formula?lines=200+g+pear+juice;2+g+agar&batch-liquid=350
const LinkPrefix = "formula?"

// MaxLink is the most bytes of a link that are read.
const MaxLink = 8000

// Codes of links that are not opened.
const (
	LinkTooLong note.Code = "link.too-long"
	LinkBad     note.Code = "link.not-readable"
)

// linkFields are the fields a link may set besides rows of parts and doses.
var linkFields = []string{
	"name", "tags", "dish", "station", "notes", "texture", "lines", "unread", "liquid-density", "make", "batch-liquid", "batch-liquid-unit",
	"portions", "portion-size", "portion-size-unit", "spare", "left-of", "left-amount", "left-amount-unit",
	"loss-boil", "loss-boil-unit", "loss-boil-rate", "loss-blender", "loss-blender-unit", "loss-sieve", "loss-sieve-unit", "loss-bottle", "loss-bottle-unit",
}

var partProperties = []string{"name", "amount", "unit"}
var doseProperties = []string{"name", "amount", "unit", "grade"}

// FieldNames are all names that a formula's typed fields can have, in page order.
func FieldNames() []string {
	names := slices.Clone(linkFields)
	for i := range MaxParts {
		for _, p := range partProperties {
			names = append(names, PartField(i, p))
		}
	}
	for i := range MaxDoses {
		for _, p := range doseProperties {
			names = append(names, DoseField(i, p))
		}
	}
	return names
}

// Link writes fields behind a link's "#". Fields that a link cannot set are left out.
func (f Fields) Link() string {
	var b strings.Builder
	b.WriteString(LinkPrefix)
	first := true
	for _, n := range append(FieldNames(), f.labNames()...) {
		if f[n] == "" || strings.HasPrefix(n, LabPrefix) && !labFits(n, f[n]) { // as a file may bring
			continue
		}
		if !first {
			b.WriteByte('&')
		}
		first = false
		b.WriteString(n)
		b.WriteByte('=')
		escape(&b, f[n])
	}
	return b.String()
}

// ParseLink reads what stands behind "#". ok is false when it is not a formula
// at all. A link that is too long, wrongly escaped, or sets a field that does
// not exist is refused whole: half a formula would be a wrong one.
func ParseLink(hash string) (fields Fields, ok bool, err error) {
	rest, ok := strings.CutPrefix(strings.TrimPrefix(hash, "#"), LinkPrefix)
	if !ok {
		return nil, false, nil
	}
	if len(rest) > MaxLink {
		return nil, true, note.Refuse("link", LinkTooLong, note.Num("limit", MaxLink, unit.One))
	}
	fields = Fields{}
	known := FieldNames()
	for pair := range strings.SplitSeq(rest, "&") {
		if pair == "" {
			continue
		}
		rawName, rawValue, _ := strings.Cut(pair, "=")
		name, okName := unescape(rawName)
		value, okValue := unescape(rawValue)
		_, twice := fields[name]
		fits := slices.Contains(known, name) || labFits(name, value)
		if !okName || !okValue || twice || !fits {
			return nil, true, note.Refuse("link", LinkBad, note.Typed("part", firstRunes(strings.ToValidUTF8(pair, "?"), 60)))
		}
		fields[name] = value
	}
	return fields, true, nil
}

// labFits reports whether a name and text can be an input of the lab.
func labFits(name, text string) bool {
	return strings.HasPrefix(name, LabPrefix) && len(name) <= maxLabName && len(text) <= maxLabText &&
		strings.Trim(name, "abcdefghijklmnopqrstuvwxyz0123456789-") == ""
}

const hexDigits = "0123456789ABCDEF"

func escape(b *strings.Builder, s string) {
	for i := range len(s) {
		switch c := s[i]; {
		case c == ' ':
			b.WriteByte('+')
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', c == '-', c == '.', c == '_', c == '*':
			b.WriteByte(c)
		default:
			b.WriteByte('%')
			b.WriteByte(hexDigits[c>>4])
			b.WriteByte(hexDigits[c&15])
		}
	}
}

// unescape reads percent escapes and plus signs; it refuses broken escapes, text
// that is not UTF-8, and control characters other than line ends.
func unescape(s string) (string, bool) {
	b := make([]byte, 0, len(s))
	for i := 0; i < len(s); i++ {
		c := s[i]
		switch c {
		case '+':
			c = ' '
		case '%':
			if i+2 >= len(s) {
				return "", false
			}
			hi, lo := hexValue(s[i+1]), hexValue(s[i+2])
			if hi < 0 || lo < 0 {
				return "", false
			}
			c = byte(hi<<4 | lo)
			i += 2
		}
		if c < ' ' && c != '\n' && c != '\r' && c != '\t' {
			return "", false
		}
		b = append(b, c)
	}
	out := string(b)
	return out, strings.ToValidUTF8(out, "\x00") == out
}

func hexValue(c byte) int {
	switch {
	case c >= '0' && c <= '9':
		return int(c - '0')
	case c >= 'A' && c <= 'F':
		return int(c-'A') + 10
	case c >= 'a' && c <= 'f':
		return int(c-'a') + 10
	}
	return -1
}
