package agent

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxName bounds the length of a name that is looked up, in bytes.
const maxName = 80

// folds maps accented letters of the recognised languages to plain ones.
const folds = "àaâaäaáaãaåaçcéeèeêeëeíiìiîiïiñnóoòoôoöoõoúuùuûuüuýyßsøo"

// plain are the letters of a comparable name.
const plain = "abcdefghijklmnopqrstuvwxyz0123456789"

// foldRune is what a letter counts as in a comparable name: lower case, no
// accents, letters and digits only.
func foldRune(r rune) string {
	r = unicode.ToLower(r)
	switch {
	case r >= 'a' && r <= 'z':
		return plain[r-'a':][:1]
	case r >= '0' && r <= '9':
		return plain[26+r-'0':][:1]
	case r == 'œ':
		return "oe"
	case r == 'κ':
		return "k"
	case r == 'ι':
		return "i"
	case r == 'λ':
		return "l"
	case r > 0x7f:
		if at := strings.IndexRune(folds, r); at >= 0 {
			return folds[at+utf8.RuneLen(r):][:1]
		}
	}
	return ""
}

// fold makes a name comparable.
func fold(s string) string {
	var b strings.Builder
	for _, r := range s {
		b.WriteString(foldRune(r))
	}
	return b.String()
}

// foldsTo reports whether fold(s) is folded, and mostly tells at the first
// letter: names are looked up at every keystroke.
func foldsTo(s, folded string) bool {
	for _, r := range s {
		rest, ok := strings.CutPrefix(folded, foldRune(r))
		if !ok {
			return false
		}
		folded = rest
	}
	return folded == ""
}

// Recognise returns the id of the agent that text names: its id, one of its
// names in any of the catalogue's languages, or its E-number if no other agent
// has it. Case, accents, spaces and hyphens do not matter; a plural s is
// forgiven. ok is false when nothing matches.
func Recognise(text string) (id ID, ok bool) {
	if len(text) > maxName {
		return "", false
	}
	want := fold(text)
	if want == "" {
		return "", false
	}
	for _, w := range [...]string{want, strings.TrimSuffix(want, "s")} {
		for _, n := range names {
			if n.is(w) {
				return n.id, true
			}
		}
	}
	return "", false
}

// Find returns the record of the agent that text names, as [Recognise] does, or
// nil.
func Find(text string) *Agent {
	id, ok := Recognise(text)
	if !ok {
		return nil
	}
	return ByID(id)
}

// is reports whether the folded text is the id or a name.
func (n named) is(folded string) bool {
	if foldsTo(string(n.id), folded) {
		return true
	}
	for name := range strings.SplitSeq(n.names, "|") {
		if foldsTo(name, folded) {
			return true
		}
	}
	return false
}

// Suggestion is a known agent near a name that is not known.
type Suggestion struct {
	Agent *Agent
	Edits int // letters to insert, drop, change or swap
}

// Nearest returns up to n agents whose names are nearest to text by edit
// distance, nearest first and in catalogue order among equals; only those
// within half of the letters. Empty when nothing is near.
func Nearest(text string, n int) []Suggestion {
	want := fold(text)
	if want == "" || len(text) > maxName || n <= 0 {
		return nil
	}
	var out []Suggestion
	for _, a := range names {
		best := edits(want, fold(string(a.id)))
		for name := range strings.SplitSeq(a.names, "|") {
			best = min(best, edits(want, fold(name)))
		}
		if best <= max(1, len(want)/2) {
			out = append(out, Suggestion{ByID(a.id), best})
		}
	}
	slices.SortStableFunc(out, func(x, y Suggestion) int { return x.Edits - y.Edits })
	return out[:min(n, len(out))]
}

// edits is the optimal string alignment distance of two ASCII strings:
// insertions, deletions, changes and swaps of neighbours count one each.
func edits(a, b string) int {
	before := make([]int, len(b)+1)
	last := make([]int, len(b)+1)
	now := make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		now[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			now[j] = min(last[j]+1, now[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				now[j] = min(now[j], before[j-2]+1)
			}
		}
		before, last, now = last, now, before
	}
	return last[len(b)]
}
