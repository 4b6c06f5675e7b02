package liquid

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
)

// folded maps letters that cooks type with and without their marks.
var folded = map[rune]string{
	'à': "a", 'á': "a", 'â': "a", 'ä': "a", 'ã': "a", 'å': "a", 'ç': "c", 'è': "e", 'é': "e", 'ê': "e", 'ë': "e",
	'ì': "i", 'í': "i", 'î': "i", 'ï': "i", 'ñ': "n", 'ò': "o", 'ó': "o", 'ô': "o", 'ö': "o", 'õ': "o", 'ø': "o",
	'ù': "u", 'ú': "u", 'û': "u", 'ü': "u", 'ß': "ss", 'œ': "oe", 'æ': "ae", '’': "", '\'': "",
}

// mostTyped bounds how much of a typed name is looked at.
const mostTyped = 120

// plain folds a typed name: lower case, no marks, one space between words, and
// no plural s on words of four letters or more.
func plain(s string) string {
	if len(s) > mostTyped {
		s = s[:mostTyped]
	}
	var b strings.Builder
	for _, r := range strings.ToLower(s) {
		switch f, ok := folded[r]; {
		case ok:
			b.WriteString(f)
		case unicode.IsLetter(r) || unicode.IsDigit(r) || r == '%':
			b.WriteRune(r)
		default:
			b.WriteByte(' ')
		}
	}
	words := strings.Fields(b.String())
	for i, w := range words {
		words[i] = singular(w)
	}
	return strings.Join(words, " ")
}

func singular(w string) string {
	switch {
	case len(w) > 4 && strings.HasSuffix(w, "ies"):
		return w[:len(w)-3] + "y"
	case len(w) > 4 && strings.HasSuffix(w, "oes"):
		return w[:len(w)-2]
	case len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss") && !strings.HasSuffix(w, "us"):
		return w[:len(w)-1]
	}
	return w
}

// eachName calls f with every folded name of an ingredient until it returns false.
func (g *Ingredient) eachName(f func(string) bool) bool {
	if !f(plain(g.ID)) {
		return false
	}
	for alias := range strings.SplitSeq(g.Aliases, ";") {
		if !f(plain(alias)) {
			return false
		}
	}
	return true
}

// idle are words that never decide which ingredient is meant.
var idle = []string{"fresh", "freshly", "squeezed", "pressed", "organic", "cold", "hot", "warm", "good", "some", "of", "the", "a", "an"}

func withoutIdle(name string) string {
	words := strings.Fields(name)
	words = slices.DeleteFunc(words, func(w string) bool { return slices.Contains(idle, w) })
	return strings.Join(words, " ")
}

// Find is the ingredient that a typed name means: its stable name or one of its
// aliases, in any case, with or without accents and plural s; then once more
// without words such as "fresh". ok is false when no ingredient bears the name.
func Find(text string) (Ingredient, bool) {
	name := plain(text)
	for _, wanted := range [...]string{name, withoutIdle(name)} {
		if wanted == "" {
			continue
		}
		for _, shelf := range shelves {
			for i := range shelf {
				if !shelf[i].eachName(func(n string) bool { return n != wanted }) {
					return shelf[i], true
				}
			}
		}
	}
	return Ingredient{}, false
}

// Nearest is up to n ingredients whose names come nearest to a typed text, best
// first: equal names, then names that share words or beginnings, then names
// that differ by few letters. Names with nothing in common are left out.
func Nearest(text string, n int) []Ingredient {
	wanted := plain(text)
	if wanted == "" || n <= 0 {
		return nil
	}
	type hit struct {
		g     *Ingredient
		score float64
	}
	var hits []hit
	for _, shelf := range shelves {
		for i := range shelf {
			best := 0.0
			shelf[i].eachName(func(name string) bool {
				best = max(best, likeness(wanted, name))
				return true
			})
			if best >= 0.4 {
				hits = append(hits, hit{&shelf[i], best})
			}
		}
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return cmp.Compare(b.score, a.score) })
	out := make([]Ingredient, 0, min(n, len(hits)))
	for _, h := range hits[:min(n, len(hits))] {
		out = append(out, *h.g)
	}
	return out
}

// likeness of two folded names, 0 to 1: the share of letter pairs in common
// (Dice's coefficient), raised when one name begins the other or a word is shared.
func likeness(a, b string) float64 {
	if a == b {
		return 1
	}
	score := dice(a, b)
	if strings.HasPrefix(b, a) {
		score = max(score, 0.75+0.2*float64(len(a))/float64(len(b)))
	}
	for w := range strings.FieldsSeq(a) {
		if len(w) > 3 && slices.Contains(strings.Fields(b), w) {
			score = max(score, 0.6+0.3*float64(len(w))/float64(max(len(a), len(b))))
		}
	}
	return score
}

func dice(a, b string) float64 {
	pairsA, pairsB := pairs(a), pairs(b)
	if len(pairsA)+len(pairsB) == 0 {
		return 0
	}
	total := len(pairsA) + len(pairsB)
	common := 0
	for _, p := range pairsA {
		if i := slices.Index(pairsB, p); i >= 0 {
			common++
			pairsB[i] = ""
		}
	}
	return 2 * float64(common) / float64(total)
}

func pairs(s string) []string {
	r := []rune(s)
	var out []string
	for i := 1; i < len(r); i++ {
		if r[i-1] != ' ' && r[i] != ' ' {
			out = append(out, string(r[i-1:i+1]))
		}
	}
	return out
}
