package book

import (
	"unicode"
	"unicode/utf8"
)

// Fold gives the form of a text that search compares: lower case, Latin letters
// without their accents, "ß" as "ss", "æ" as "ae" and so on, every run of other
// characters than letters and digits as one space. Letters of other scripts are
// only lowered.
func Fold(s string) string {
	if folded(s) {
		return s
	}
	return string(appendFold(make([]byte, 0, len(s)), s))
}

// appendFold adds the folded form of s.
func appendFold(buf []byte, s string) []byte {
	begin, gap := len(buf), false
	for _, r := range s {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
		case r >= 'A' && r <= 'Z':
			r |= 0x20
		case r >= 0x300 && r <= 0x36f:
			continue // a combining accent, of a letter in decomposed form
		case r < utf8.RuneSelf || !unicode.IsLetter(r) && !unicode.IsDigit(r):
			gap = true
			continue
		}
		if gap && len(buf) > begin {
			buf = append(buf, ' ')
		}
		gap = false
		if r < utf8.RuneSelf {
			buf = append(buf, byte(r))
			continue
		}
		buf = foldRune(buf, r)
	}
	return buf
}

// folded reports whether s is its own folded form and plain ASCII, as most of
// what is searched is.
func folded(s string) bool {
	gap := true // a space here would be at the begin or double
	for _, c := range []byte(s) {
		if c == ' ' {
			if gap {
				return false
			}
			gap = true
			continue
		}
		if (c < 'a' || c > 'z') && (c < '0' || c > '9') {
			return false
		}
		gap = false
	}
	return s == "" || !gap
}

func foldRune(buf []byte, r rune) []byte {
	switch c := latinBase(r); {
	case c == '.':
		return utf8.AppendRune(buf, unicode.ToLower(r))
	case c < ' ':
		return append(buf, ligatures[c]...)
	default:
		return append(buf, c)
	}
}

// latinBase is the letter that stays when r loses its accents, an index into
// ligatures, or '.' for a character that stays as it is.
func latinBase(r rune) byte {
	switch {
	case r >= 0xC0 && r <= 0x24F:
		return latinTable[r-0xC0]
	case r >= 0x1E00 && r <= 0x1EFF:
		return latinAdditional[r-0x1E00]
	}
	return '.'
}

var ligatures = [...]string{1: "ae", 2: "oe", 3: "ss", 4: "th", 5: "ij"}

// The tables give the first letter of each character's canonical decomposition
// (The Unicode Standard, Unicode Character Database, UnicodeData.txt), and for
// the letters without one the letter a person would type for them (from memory).
const (
	latinTable = "" +
		"aaaaaa\x01ceeeeiiiidnooooo.ouuuuy\x04\x03aaaaaa\x01ceeeeiiiidnooooo.ouuuuy\x04y" +
		"aaaaaaccccccccddddeeeeeeeeeegggggggghhhhiiiiiiiiii\x05\x05jjkkklllllll" +
		"lllnnnnnnnnnoooooo\x02\x02rrrrrrssssssssttttttuuuuuuuuuuuuwwyyyzzzzzzs" +
		".........d......................oo.............uu..............." +
		".............aaiioouuuuuuuuuu.aaaa\x01\x01..ggkkoooo..j...gg..nnaa\x01\x01oo" +
		"aaaaeeeeiiiioooorrrruuuusstt..hh......aaeeooooooooyy............" +
		"................"
	latinAdditional = "" +
		"aabbbbbbccddddddddddeeeeeeeeeeffgghhhhhhhhhhiiiikkkkkkllllllllmm" +
		"mmmmnnnnnnnnoooooooopppprrrrrrrrssssssssssttttttttuuuuuuuuuuvvvv" +
		"wwwwwwwwwwxxxxyyzzzzzzhtwy.s..\x03.aaaaaaaaaaaaaaaaaaaaaaaaeeeeeeee" +
		"eeeeeeeeiiiioooooooooooooooooooooooouuuuuuuuuuuuuuyyyyyyyy......"
)
