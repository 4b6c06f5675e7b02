package agent

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// maxName bounds the length of a name that is looked up, in bytes.
const maxName = 80

// folds maps accented letters of the recognised languages to plain ones.
const folds = "àaâaäaáaãaåaçcéeèeêeëeíiìiîiïiñnóoòoôoöoõoúuùuûuüuýyßsøo"

// fold makes a name comparable: lower case, no accents, letters and digits only.
func fold(s string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(s) {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			b.WriteByte(byte(r))
		case r == 'œ':
			b.WriteString("oe")
		case r == 'κ':
			b.WriteByte('k')
		case r == 'ι':
			b.WriteByte('i')
		case r == 'λ':
			b.WriteByte('l')
		case r > 0x7f:
			if at := strings.IndexRune(folds, r); at >= 0 {
				b.WriteByte(folds[at+utf8.RuneLen(r)])
			}
		}
	}
	return b.String()
}

// Find returns the agent that text names: its id, one of its names in any of
// the catalogue's languages, or its only E-number. Case, accents, spaces and
// hyphens do not matter; a plural s is forgiven. Nil when nothing matches.
func Find(text string) *Agent {
	if len(text) > maxName {
		return nil
	}
	want := fold(text)
	if want == "" {
		return nil
	}
	for _, w := range [...]string{want, strings.TrimSuffix(want, "s")} {
		for _, a := range all {
			if a.named(w) {
				return a
			}
		}
	}
	return byE(want)
}

// named reports whether the folded text is the id or a name of a.
func (a *Agent) named(folded string) bool {
	if fold(string(a.ID)) == folded {
		return true
	}
	for name := range strings.SplitSeq(a.Names, "|") {
		if fold(name) == folded {
			return true
		}
	}
	return false
}

// byE finds the one agent with an E-number; an E-number that several agents
// share names none of them.
func byE(folded string) *Agent {
	var found *Agent
	for _, a := range all {
		for e := range strings.SplitSeq(a.E, ",") {
			if e != "" && fold(e) == folded {
				if found != nil {
					return nil
				}
				found = a
			}
		}
	}
	return found
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
	for _, a := range all {
		best := edits(want, fold(string(a.ID)))
		for name := range strings.SplitSeq(a.Names, "|") {
			best = min(best, edits(want, fold(name)))
		}
		if best <= max(1, len(want)/2) {
			out = append(out, Suggestion{a, best})
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
