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

// mostWords bounds the words of a name.
const mostWords = 8

// Fold makes the names of ingredients comparable: lower case, no marks, one
// space between words, and no plural s on words of four letters or more.
func Fold(name string) string { return plain(name) }

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
	words = words[:min(len(words), mostWords)]
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

// idle are words that never decide which ingredient is meant.
var idle = []string{"fresh", "freshly", "squeezed", "pressed", "organic", "cold", "hot", "warm", "good", "some", "of", "the", "a", "an"}

func withoutIdle(name string) string {
	words := strings.Fields(name)
	words = slices.DeleteFunc(words, func(w string) bool { return slices.Contains(idle, w) })
	return strings.Join(words, " ")
}

// named reports whether an ingredient bears a folded name.
func (g *Ingredient) named(wanted string) bool {
	for rest := g.Aliases; rest != ""; {
		alias, after, _ := strings.Cut(rest, ";")
		if alias == wanted {
			return true
		}
		rest = after
	}
	return false
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
				if shelf[i].named(wanted) {
					return shelf[i], true
				}
			}
		}
	}
	return Ingredient{}, false
}

// Naming is what another language calls the ingredients. The zero value is the
// catalogue's own English.
type Naming struct {
	Called func(id string) string // the name of the ingredient with that id; nil adds none
	Forms  string                 // its words for juice and puree with what joins them to a fruit, with spaces between
}

// Nearest is up to n ingredients whose names come nearest to a typed text, best
// first: equal names, then names that begin so or share words, then names that
// differ by few letters. Which fruit counts for more than whether it is a juice or
// a puree. Names with nothing in common are left out.
func Nearest(text string, n int, also Naming) []Ingredient {
	wanted := withoutIdle(plain(text))
	if wanted == "" || n <= 0 {
		return nil
	}
	asked := seek(wanted, append(strings.Fields(plain(also.Forms)), englishForms...))
	type hit struct {
		g     *Ingredient
		score float64
	}
	var hits []hit
	for _, shelf := range shelves {
		for i := range shelf {
			best := 0.0
			for name := range strings.SplitSeq(shelf[i].Aliases, ";") {
				best = max(best, asked.likeness(name))
			}
			if also.Called != nil {
				best = max(best, asked.likeness(plain(also.Called(shelf[i].ID))))
			}
			if best >= 0.5 {
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

// englishForms are the words that many names share and that say least about them.
var englishForms = []string{"juice", "puree"}

// formWeight is what a word for juice or puree counts for, beside the fruit.
const formWeight = 0.4

// sought is a typed name, folded, in words.
type sought struct {
	name    string
	words   []string
	weights []float64 // what each word counts for
	sum     float64   // of the weights
	forms   []string
}

func seek(name string, forms []string) *sought {
	s := &sought{name: name, forms: forms}
	for w := range strings.FieldsSeq(name) {
		if stem, form := partedForm(w, forms); form != "" {
			s.words = append(s.words, stem)
			w = form
		}
		s.words = append(s.words, w)
	}
	for _, w := range s.words {
		weight := 1.0
		if slices.Contains(forms, w) {
			weight = formWeight
		}
		s.weights = append(s.weights, weight)
		s.sum += weight
	}
	return s
}

// partedForm parts a word that ends in a form, as in "birnensaft"; form is "" for any other.
func partedForm(word string, forms []string) (stem, form string) {
	for _, f := range forms {
		if len(word) > len(f)+2 && strings.HasSuffix(word, f) {
			return strings.TrimSuffix(word, f), f
		}
	}
	return word, ""
}

// likeness to a folded name, 0 to 1: how near each typed word comes to some word of
// the name, raised when the name begins with what was typed.
func (s *sought) likeness(name string) float64 {
	if s.name == name {
		return 1
	}
	var best [2 * mostWords]float64
	for n := range strings.FieldsSeq(name) {
		stem, form := partedForm(n, s.forms)
		for i, w := range s.words {
			best[i] = max(best[i], nearness(w, n)) // as one word, too, for a form that is misspelt
			if form != "" {
				best[i] = max(best[i], nearness(w, stem), nearness(w, form))
			}
		}
	}
	sum := 0.0
	for i, weight := range s.weights {
		sum += best[i] * weight
	}
	// A name of many more words than were typed is less likely meant.
	cover := float64(min(len(s.name), len(name))) / float64(max(len(s.name), len(name)))
	score := sum / s.sum * (0.85 + 0.14*cover)
	if strings.HasPrefix(name, s.name) {
		score = max(score, 0.75+0.24*cover)
	}
	return score
}

// longestWord bounds the words that are compared letter by letter.
const longestWord = 24

// nearness of two words, 0 to 1: one less their edit distance by the longer
// length; below a half it counts as nothing.
func nearness(a, b string) float64 {
	longest, shortest := max(len(a), len(b)), min(len(a), len(b))
	if longest > 2*shortest || longest > longestWord {
		return 0
	}
	near := 1 - float64(editDistance(a, b))/float64(longest)
	if near < 0.5 {
		return 0
	}
	return near
}

// editDistance counts letters put in, left out, changed, or exchanged with their
// neighbour (optimal string alignment). Folded names are ASCII, so bytes do.
func editDistance(a, b string) int {
	var rows [3][longestWord + 1]int
	before, last, row := &rows[0], &rows[1], &rows[2]
	for k := range len(b) + 1 {
		last[k] = k
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for k := 1; k <= len(b); k++ {
			change := 1
			if a[i-1] == b[k-1] {
				change = 0
			}
			row[k] = min(last[k]+1, row[k-1]+1, last[k-1]+change)
			if i > 1 && k > 1 && a[i-1] == b[k-2] && a[i-2] == b[k-1] {
				row[k] = min(row[k], before[k-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
