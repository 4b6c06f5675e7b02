package lab

import (
	"strings"

	"tremblant/internal/liquid"
	"tremblant/internal/unit"
)

// liquidNames are the ids of the catalogue's ingredients by their names in the
// page's language.
type liquidNames struct {
	exact map[string]string // by the folded name
	loose map[string]string // by the name as [loosen] leaves it
	alike *strings.Replacer // words that mean the same, as [loosen] leaves them
}

// findLiquid is the catalogue's ingredient of a name, also as the page's
// language writes it. What a text says behind a comma may be left out where the
// first such ingredient is the usual one. Where English knows the juice or the
// puree of a fruit as one ingredient, or the fruit by its bare name, the page's
// language does too.
func (s *state) findLiquid(name string) (liquid.Ingredient, bool) {
	g, ok := s.namedLiquid(name)
	if rest, said, _ := withoutPasteur(name); !ok && said {
		g, ok = s.namedLiquid(rest)
		ok = ok && g.Class == liquid.Eggs // of a juice, heat is another matter
	}
	if ok && s.saysJuice(name) {
		g = g.Juice()
	}
	return g, ok
}

// withoutPasteur takes the words out of a name that say "pasteurised" or that it is not;
// the word begins alike in the page's languages. said is false where the name has none.
func withoutPasteur(name string) (rest string, said, pasteurised bool) {
	denies := map[string]bool{"not": true, "non": true, "pas": true, "no": true, "sin": true, "nicht": true} // read by key only
	var words []string
	denied := false
	for _, w := range strings.Fields(liquid.Fold(name)) {
		switch {
		case denies[w]:
			denied = true
		case strings.HasPrefix(w, "pasteur"):
			said = true
		case strings.HasPrefix(w, "unpasteur"):
			said, denied = true, true
		default:
			words = append(words, w)
		}
	}
	return strings.Join(words, " "), said, said && !denied
}

// saysJuice reports whether a name means the juice, in English or in the page's language.
func (s *state) saysJuice(name string) bool {
	form, _, _ := strings.Cut(s.say("liquid.forms"), ",")
	word, _, front := strings.Cut(form, " ")
	folded := strings.TrimSpace(s.named().alike.Replace(" " + liquid.Fold(name) + " "))
	switch {
	case strings.HasSuffix(folded, englishForms[0]):
		return true
	case front:
		return strings.HasPrefix(folded, liquid.Fold(word)+" ")
	}
	return strings.HasSuffix(folded, liquid.Fold(form))
}

func (s *state) named() *liquidNames {
	if s.liquidNames == nil {
		s.nameLiquids()
	}
	return s.liquidNames
}

// namedLiquid is the ingredient of a name, which may say the share that its label
// tells, "Sahne 30 %"; where the catalogue has nothing near that share, the name is
// not known.
func (s *state) namedLiquid(name string) (liquid.Ingredient, bool) {
	if g, ok := s.calledLiquid(name); ok {
		return g, true
	}
	rest, percent, ok := s.withoutShare(name)
	if !ok {
		return liquid.Ingredient{}, false
	}
	if g, ok := s.calledLiquid(rest); ok {
		return g.WithShare(percent)
	}
	return liquid.Ingredient{}, false
}

// withoutShare takes "35 %" out of a name, with the words beside it that only say
// of what it is ("liquid.share": fat, cocoa).
func (s *state) withoutShare(name string) (rest string, percent float64, ok bool) {
	before, after, found := strings.Cut(name, "%")
	if !found {
		return "", 0, false
	}
	start := len(strings.TrimRight(before, "0123456789., \u00a0\u202f"))
	percent, err := unit.ParseFigure(strings.Trim(before[start:], "., \u00a0\u202f"))
	if err != nil {
		return "", 0, false
	}
	idle := map[string]bool{}
	for word := range strings.SplitSeq(s.say("liquid.share"), ", ") {
		idle[liquid.Fold(word)] = true
	}
	left, right := strings.Fields(liquid.Fold(before[:start])), strings.Fields(liquid.Fold(after))
	for len(left) > 0 && idle[left[len(left)-1]] {
		left = left[:len(left)-1]
	}
	for len(right) > 0 && idle[right[0]] {
		right = right[1:]
	}
	return strings.Join(append(left, right...), " "), percent, true
}

func (s *state) calledLiquid(name string) (liquid.Ingredient, bool) {
	if g, ok := liquid.Find(name); ok {
		return g, true
	}
	n, folded := s.named(), liquid.Fold(name)
	if g, ok := liquid.ByID(n.exact[folded]); ok {
		return g, true
	}
	loose := loosen(folded)
	if g, ok := liquid.ByID(n.loose[loose]); ok {
		return g, true
	}
	return liquid.ByID(n.loose[strings.TrimSpace(n.alike.Replace(" "+loose+" "))])
}

// nameLiquids reads the names of the catalogue in the page's language: whole
// ones first, then what else the language calls them ("liquid.also": lait=whole-milk),
// so that a short one or another form never hides them.
func (s *state) nameLiquids() {
	n := &liquidNames{exact: map[string]string{}, loose: map[string]string{}, alike: s.alikeWords()}
	s.liquidNames = n
	all := liquid.Catalogue()
	names := make([]string, len(all))
	for i := range all {
		names[i] = s.say("ingredient." + all[i].ID)
		n.add(liquid.Fold(names[i]), all[i].ID)
	}
	for _, pair := range strings.Split(s.say("liquid.also"), ", ") {
		if name, id, ok := strings.Cut(pair, "="); ok {
			n.add(liquid.Fold(name), id)
		}
	}
	for i := range all {
		short, _, _ := strings.Cut(names[i], ",")
		n.add(liquid.Fold(short), all[i].ID)
	}
	forms := strings.Split(s.say("liquid.forms"), ", ")
	for i := range all {
		short, _, _ := strings.Cut(names[i], ",")
		n.addForms(liquid.Fold(short), forms, &all[i])
	}
}

func (n *liquidNames) add(folded, id string) {
	if folded == "" {
		return
	}
	if n.exact[folded] == "" {
		n.exact[folded] = id
	}
	if loose := loosen(folded); n.loose[loose] == "" {
		n.loose[loose] = id
	}
}

// addForms adds what else a juice or a puree goes by, as far as English names
// the ingredient so as well. forms are the language's words for the two.
func (n *liquidNames) addForms(name string, forms []string, g *liquid.Ingredient) {
	for _, f := range forms {
		stem, ok := stemOf(name, liquid.Fold(f))
		if !ok {
			continue
		}
		aliases := ";" + g.Aliases + ";"
		for i, english := range englishForms[:min(len(forms), len(englishForms))] {
			if strings.Contains(aliases, english+";") {
				n.add(formed(stem, liquid.Fold(forms[i])), g.ID)
			}
		}
		for _, alias := range strings.Split(g.Aliases, ";") {
			for _, english := range englishForms {
				if strings.Contains(aliases, ";"+alias+english+";") {
					n.add(stem, g.ID)
				}
			}
		}
	}
}

// englishForms end the names of juices and purees in the catalogue, in the order
// of the text "liquid.forms".
var englishForms = [...]string{" juice", " puree"}

// A form that ends in a joining word stands in front of the fruit, "jus de poire",
// and may lose its last letter to a vowel, "jus dorange"; any other is the end of
// the fruit's word, "birnensaft".

func inFront(form string) bool { return strings.Contains(form, " ") }

func stemOf(name, form string) (string, bool) {
	if !inFront(form) {
		stem, ok := strings.CutSuffix(name, form)
		return strings.TrimSpace(stem), ok && stem != ""
	}
	stem, ok := strings.CutPrefix(name, form+" ")
	if !ok {
		stem, ok = strings.CutPrefix(name, strings.TrimSuffix(form, "e"))
	}
	return stem, ok && stem != ""
}

func formed(stem, form string) string {
	switch {
	case !inFront(form):
		return stem + form
	case strings.ContainsRune("aeiouyh", rune(stem[0])) && strings.HasPrefix(form, "jus"):
		return strings.TrimSuffix(form, "e") + stem
	}
	return form + " " + stem
}

// loosen takes away what a typed name may have or lack: the endings of plurals in
// the page's languages, and the e of umlauts that were written out.
func loosen(folded string) string {
	words := strings.Fields(folded)
	for i, w := range words {
		w = strings.NewReplacer("ae", "a", "oe", "o", "ue", "u").Replace(w)
		if short := strings.TrimRight(w, "ensx"); len(short) >= 3 {
			w = short
		}
		words[i] = w
	}
	return strings.Join(words, " ")
}

// alikeWords reads the text of words that mean the same: "jugo=zumo, papa=patata",
// and of their ends, "-mark=-püree".
func (s *state) alikeWords() *strings.Replacer {
	var pairs []string
	for _, pair := range strings.Split(s.say("liquid.alike"), ", ") {
		from, to, ok := strings.Cut(pair, "=")
		if ok {
			start := " "
			if strings.HasPrefix(from, "-") {
				start = ""
			}
			pairs = append(pairs, start+loosen(liquid.Fold(from))+" ", start+loosen(liquid.Fold(to))+" ")
		}
	}
	return strings.NewReplacer(pairs...)
}
