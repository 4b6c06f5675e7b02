package formula

import (
	"slices"
	"strings"

	"tremblant/internal/unit"
)

// agentIn finds the agent in a name, the name without what is said beside it
// ("agar (about 1 tsp)", "gelatine, soaked"), and the strength that it says.
func (r lineReader) agentIn(name string) (id, bare string, grade float64, ok bool) {
	try := func(s, dropped string) bool {
		if s == "" {
			return false
		}
		g, plain := gradeOf(s)
		if id, ok = r.find(plain); !ok {
			if id, ok = r.find(s); !ok {
				return false
			}
		}
		if weightOfAnother(dropped) {
			return false // "gelatin (soaked in 50 g water)": the water counts
		}
		if dropped != "" && families[id] && !isFigure(firstRune(exactly(strings.TrimLeft(dropped, "=( ")))) {
			return false
		}
		bare, grade = s, g
		return true
	}
	if try(name, "") {
		return id, bare, grade, true
	}
	if s, bloom := tradeGrade(name); bloom > 0 && try(s, "") && id == "gelatin" {
		return id, bare, bloom, true
	}
	short, dropped := withoutBracket(name)
	if try(short, dropped) || try(withoutAmount(short), dropped) {
		return id, bare, grade, true
	}
	if head, tail, cut := strings.Cut(short, ","); cut && (try(strings.TrimSpace(head), tail) || try(withoutAmount(head), tail)) {
		return id, bare, grade, true
	}
	return "", name, 0, false
}

// weightOfAnother reports whether what stands beside a name weighs something else,
// rather than the same again: "3 leaves", "about 6 g".
func weightOfAnother(s string) bool {
	_, rest, err := unit.ScanAmount(exactly(strings.TrimSpace(s)))
	return secondWeight(s) && (err != nil || rest != "")
}

// families are the agents that a name alone stands for while a word beside it
// makes it another agent: "gellan, high acyl type" is not the low-acyl one.
var families = map[string]bool{"gellan-la": true, "carr-kappa": true, "pectin-hm": true, "mc": true}

// withoutBracket takes the first bracket out of a name.
func withoutBracket(name string) (bare, dropped string) {
	from, to := strings.IndexByte(name, '('), strings.IndexByte(name, ')')
	if from < 0 || to < from {
		return name, ""
	}
	return strings.TrimSpace(strings.TrimSpace(name[:from]) + " " + strings.TrimSpace(name[to+1:])), name[from+1 : to]
}

// withoutAmount takes an amount off either end of a name: "agar 0.8 %".
func withoutAmount(name string) string {
	if a, rest, err := unit.ScanAmount(name); err == nil && a.Unit != "" {
		return trimOf(rest)
	}
	for i := 1; i < len(name); i++ {
		if !isDigit(name[i]) || isDigit(name[i-1]) || strings.IndexByte(".,/", name[i-1]) >= 0 {
			continue
		}
		if a, rest, err := unit.ScanAmount(name[i:]); err == nil && a.Unit != "" && rest == "" {
			return strings.TrimRight(name[:i], nameEnd)
		}
	}
	return strings.TrimSpace(name)
}

// tradeGrades are the names of leaf gelatin's grades in the page's languages, and
// their usual Bloom; the agent catalogue has the same figures, and a test compares.
var tradeGrades = map[string]float64{
	"titanium": 110, "titane": 110, "titanio": 110, "titan": 110,
	"bronze": 140, "bronce": 140,
	"silver": 160, "argent": 160, "plata": 160, "silber": 160,
	"gold": 200, "or": 200, "oro": 200,
	"platinum": 250, "platine": 250, "platino": 250, "platin": 250,
}

// tradeGrade takes such a word out of a name.
func tradeGrade(name string) (bare string, bloom float64) {
	words := strings.Fields(strings.NewReplacer("(", " ", ")", " ", ",", " ").Replace(name))
	for i, w := range words {
		if bloom = tradeGrades[strings.ToLower(w)]; bloom > 0 {
			return trimOf(strings.Join(append(words[:i:i], words[i+1:]...), " ")), bloom
		}
	}
	return name, 0
}

// stems stand in the words that agents go by in the page's languages.
var stems = []string{"gelatin", "gélatin", "gellan", "gelan", "pectin", "pektin", "lecit", "lécit", "lezit", "xanth", "xanta", "alginat", "carrag", "konjac", "cellulos", "celulos", "zellulos"}

// besides are words behind which stands what an ingredient is for or has in it:
// "water for the gelatin".
var besides = []string{"for", "with", "without", "to", "in", "pour", "avec", "sans", "para", "con", "sin", "für", "zum", "mit", "ohne"}

// soundsLikeAgent reports whether the first word of a name or one of its last two is an
// agent's, or the name is an E-number of a thickener or emulsifier: "powdered agar",
// "sunflower lecithin", "E 471".
func soundsLikeAgent(name string) bool {
	name, _ = withoutBracket(name)
	low := strings.ToLower(name)
	if number, ok := strings.CutPrefix(low, "e"); ok {
		number = strings.TrimLeft(number, " -")
		if len(number) >= 3 && number[0] == '4' && isDigit(number[1]) && isDigit(number[2]) {
			return true
		}
	}
	head, _, _ := strings.Cut(low, ",")
	words := strings.FieldsFunc(head, func(r rune) bool { return r == ' ' || r == '-' })
	if i := slices.IndexFunc(words, func(w string) bool { return slices.Contains(besides, w) }); i >= 0 {
		words = words[:i]
	}
	if len(words) == 0 {
		return false
	}
	for _, w := range []string{words[0], words[max(0, len(words)-2)], words[len(words)-1]} {
		if strings.HasPrefix(w, "agar") || slices.ContainsFunc(stems, func(stem string) bool { return strings.Contains(w, stem) }) {
			return true
		}
	}
	return false
}
