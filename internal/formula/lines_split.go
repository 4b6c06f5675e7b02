package formula

import (
	"strings"
	"unicode/utf8"

	"tremblant/internal/unit"
)

// splitLines parts text at line ends and semicolons, where " + " or ", " ends an
// ingredient, and before the weight of a further ingredient.
func splitLines(text string) []string {
	var out []string
	start := 0
	for i := 0; i < len(text); i++ {
		cut := false
		switch text[i] {
		case '\n', '\r', ';':
			cut = true
		case ',', '+':
			cut = i+2 < len(text) && text[i+1] == ' ' && endsIngredient(text[start:i], text[i+2:])
		}
		if cut {
			out = append(out, splitWeights(text[start:i])...)
			start = i + 1
		}
	}
	return append(out, splitWeights(text[start:])...)
}

// endsIngredient reports whether a comma or plus between these two ends an
// ingredient: a figure begins the next one ("200 g juice, 2 g agar", but not
// "agar, 2 g"), or a name does behind a weight ("juice 200 g, agar 2 g").
func endsIngredient(before, after string) bool {
	if len(before) > longestLine || !hasLetter(before) {
		return false
	}
	next, _, _ := strings.Cut(after[:min(len(after), longestLine)], "\n")
	next = firstRunes(next, maxSplit)
	if after[0] >= 0x80 || !isDigit(after[0]) {
		if len(before) > maxSplit {
			return false
		}
		first, _, _ := strings.Cut(next, ",")
		_, ends := lineReader{}.behind(plainForms(trimBullet(before)))
		_, follows := lineReader{}.behind(plainForms(first))
		return ends && follows
	}
	if strings.IndexFunc(before, isFigure) >= 0 {
		return true
	}
	_, name, err := unit.ScanAmount(strings.TrimSpace(next))
	return err == nil && hasLetter(name) && !followsName(name)
}

// longestLine is the most bytes that a line can have and be read.
const longestLine = maxLineRunes * utf8.UTFMax

// maxSplit is the most bytes in which the end of an ingredient is looked for; no
// line of a recipe is longer, and the time that it takes grows with the square.
const maxSplit = 200

// followsName reports whether what stands behind an amount is said of an
// ingredient before it: "agar, 2 g, soaked", "gelatine, 3 leaves (6 g)".
func followsName(s string) bool {
	_, _, per := perOf(s)
	return per || strings.HasPrefix(s, ",") || strings.HasPrefix(s, "(") || strings.HasPrefix(s, "/")
}

func isFigure(r rune) bool { return r >= '0' && r <= '9' || r >= '½' && r <= '¾' || r == '¼' }

// joining are the words and signs between two ingredients in a line.
var joining = []string{" and", " et", " y", " und", " plus", " with", " mit", " avec", " con", " &", " /", "/", "&", ",", " -", " –", " ·"}

// splitWeights parts "500 g milk and 2 g agar" before the second weight.
func splitWeights(line string) []string {
	var out []string
	for {
		if len(line) > maxSplit {
			return append(out, line)
		}
		s := trimBullet(line)
		at, end := secondAmount(s)
		if at == 0 {
			return append(out, s)
		}
		out, line = append(out, s[:end]), s[at:]
	}
}

// secondAmount finds the weight of a second ingredient in a line that begins with
// a weight, and where the first one ends; zero when there is none.
func secondAmount(s string) (at, end int) {
	first, name, err := unit.ScanAmount(plainForms(s))
	if err != nil || !weighed(first) || !hasLetter(name) {
		return 0, 0
	}
	for i := len(s) - len(name); i < len(s); i++ {
		if i <= 0 || !isDigit(s[i]) || !strings.ContainsRune(" \t/&", rune(s[i-1])) || depth(s[:i]) > 0 {
			continue
		}
		a, rest, err := unit.ScanAmount(s[i:])
		if err != nil || !weighed(a) || !hasLetter(rest) || followsName(rest) {
			continue
		}
		before := strings.TrimRight(s[:i], " \t")
		for _, w := range joining {
			before = strings.TrimSuffix(before, w)
		}
		_, name, err := unit.ScanAmount(before)
		if err == nil && hasLetter(name) && !endsInPer(before) {
			return i, len(before)
		}
	}
	return 0, 0
}

// weighed reports whether an amount is a weight, a volume or a count of sheets.
func weighed(a unit.Amount) bool {
	k := a.Kind()
	return k == unit.KindMass || k == unit.KindVolume || k == unit.KindSheets
}

// depth is how many brackets are open at the end of s.
func depth(s string) int { return strings.Count(s, "(") - strings.Count(s, ")") }

// bullets are list marks; those of a letter's width are followed by a space.
var bullets = []string{"- ", "* ", "– ", "— ", "[ ] ", "[x] ", "•", "·", "●", "○", "▪", "▫", "■", "□", "▢", "☐", "☑", "◦", "‣", "✓", "✔", "*", "|"}

// trimBullet drops outer space and a list mark.
func trimBullet(s string) string {
	s = strings.TrimSpace(s)
	for _, b := range bullets {
		if rest, ok := strings.CutPrefix(s, b); ok {
			return strings.TrimSpace(rest)
		}
	}
	return s
}

// listNumber drops the number of a list, "1. 400 g purée" or "2) agar 3 g".
func listNumber(s string) string {
	i := 0
	for i < len(s) && i < 2 && isDigit(s[i]) {
		i++
	}
	if i > 0 && i+1 < len(s) && (s[i] == '.' || s[i] == ')') && (s[i+1] == ' ' || s[i+1] == '\t') {
		return strings.TrimSpace(s[i+2:])
	}
	return s
}

// roughly are words before a figure that say it is not exact, in the page's languages.
var roughly = []string{
	"approximately ", "approx. ", "approx ", "about ", "around ", "circa ", "ca. ", "ca ", "c. ", "~", "≈",
	"environ ", "env. ", "env ", "aproximadamente ", "aprox. ", "aprox ", "unos ", "unas ", "etwa ", "ungefähr ", "rund ",
	"or ", "soit ", "ou ", "o sea ", "oder ", "= ", "=",
}

// exactly drops such a word in front of a figure.
func exactly(s string) string {
	for _, w := range roughly {
		if len(s) > len(w) && strings.EqualFold(s[:len(w)], w) {
			if rest := strings.TrimSpace(s[len(w):]); rest != "" && isFigure(firstRune(rest)) {
				return rest
			}
		}
	}
	return s
}

func firstRune(s string) rune { r, _ := utf8.DecodeRuneInString(s); return r }

// plainForms makes a line readable: letters and digits of full width, columns, the
// number of a list and a word like "about" have plain forms or none.
func plainForms(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r >= '\uff01' && r <= '\uff5e':
			return r - '\uff01' + '!'
		case r == '\u3000' || r == '\t' || r == '|':
			return ' '
		}
		return r
	}, s)
	return exactly(listNumber(strings.TrimSpace(s)))
}
