package screen

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"tremblant/internal/book"
	"tremblant/internal/formula"
	"tremblant/internal/note"
)

// What was typed in the lab stands in a formula under the names of the lab's inputs.
// Where versions are set side by side it is called by the labels that stand beside
// those inputs. These are texts of the lab, and come when they are first needed.

// labels are the keys of the labels, below the part's own, that are not called like
// their inputs.
var labels = map[string]string{
	"foam-small": "size-small", "foam-half": "size-half", "foam-litre": "size-litre", "foam-own": "own-count", "foam-basis": "by-title", "foam-charges": "charges-each",
	"liquid-own-name": "owns", "liquid-own-as": "like", "liquid-own-sugar": "sugar", "liquid-own-alcohol": "alcohol", "liquid-own-acid": "acid",
	"liquid-own-acid-kind": "acid-kind", "liquid-own-salt": "salt", "liquid-own-fat": "fat",
	"method-price": "cost", "method-minutes": "own-minutes", "method-edit": "method", "dry-run": "set-runs", "emulsion-side": "set-sides",
}

// shared are the keys of labels and words that several parts use: what the input, or
// the input and what is chosen in it, begins with, and what stands in its place.
var shared = [][2]string{
	{"dry-keep-", "dry.kept."},
	{"foam-unit", "unit.label"},
	{"foam-kind-", "foam.type."},
	{"foam-serve-", "lab-foam."},
	{"foam-basis-", "lab-foam.by-"},
	{"liquid-own-ph", "differ.ph"},
	{"emulsion-style-", "emulsion.style."},
	{"method-place-", "medium."},
	{"method-wall-", "wall."},
	{"sphere-method-", "sphere.method."},
	{"swap-texture-", "texture."},
	{"emulsion-", "allergen."},
}

// labWord finds the label of an input, or the word of what is chosen in it.
func (a *App) labWord(name string) (string, bool) {
	part, field, _ := strings.Cut(name, "-")
	if label, ok := labels[name]; ok {
		field = label
	}
	if s, ok := a.words.Find(formula.LabPrefix + part + "." + field); ok {
		return s, true
	}
	for _, s := range shared {
		if rest, ok := strings.CutPrefix(name, s[0]); ok {
			if strings.HasSuffix(s[1], ".") || strings.HasSuffix(s[1], "-") {
				return a.words.Find(s[1] + rest)
			}
			return a.words.Find(s[1])
		}
	}
	return "", false
}

// labTraits puts what was typed in the lab into words, in the order of the names.
func (a *App) labTraits(f formula.Formula) []trait {
	var list []trait
	for _, name := range slices.Sorted(maps.Keys(f.Lab)) {
		if value := f.Lab[name]; value != "" && name != methodOn { // the day that is chosen says it
			own := strings.TrimPrefix(name, formula.LabPrefix)
			list = append(list, trait{name, a.labAbout(own, f), a.labValue(own, value)})
		}
	}
	return list
}

// labAbout is what an input is called: its part, its label, and what its row is about.
func (a *App) labAbout(name string, f formula.Formula) string {
	part, field, _ := strings.Cut(name, "-")
	kind, of := rowOf(name, f)
	label, ok := a.labWord(kind)
	if !ok {
		label, of = field, "" // the lab's texts are not there
	}
	if of != "" {
		label = a.text("differ.of", note.Typed("what", label), note.Typed("name", of))
	}
	if title, ok := a.words.Find(formula.LabPrefix + part + ".title"); ok {
		part = title
	}
	return a.text("differ.part", note.Typed("part", part), note.Typed("what", label))
}

// rowOf takes the name of an input in a row apart: what it asks, and what it is asked
// of. What was typed of a step is named by a digest, which says nothing to anybody.
func rowOf(name string, f formula.Formula) (kind, of string) {
	words := strings.Split(name, "-")
	if len(words) < 3 {
		return name, ""
	}
	last := len(words) - 1
	switch strings.Join(words[:2], "-") {
	case "liquid-own":
		if n, err := strconv.Atoi(words[2]); err == nil && words[last] != "name" {
			of = f.Lab[formula.LiquidField(n-1, "name")]
		}
		return strings.Join(append([]string{"liquid-own"}, words[3:]...), "-"), of
	case "liquid-step", "dry-run", "method-edit":
		return strings.Join(words[:2], "-"), words[2]
	case "method-price":
		return "method-price", strings.Join(words[2:], " ")
	case "method-part":
		return "method-" + words[last], strings.Join(words[2:last], " ")
	case "method-words", "method-minutes", "emulsion-side":
		return strings.Join(words[:2], "-"), ""
	}
	return name, ""
}

// ticks are the inputs that are ticked or not.
var ticks = strings.Fields(`
	dry-animal dry-keep-
	emulsion-celery emulsion-crustaceans emulsion-egg emulsion-fish emulsion-gluten emulsion-guests emulsion-lupin emulsion-milk emulsion-molluscs
	emulsion-mustard emulsion-nuts emulsion-pasteurised emulsion-peanuts emulsion-sesame emulsion-soya emulsion-sulphites
	foam-chilled foam-fish foam-gas foam-raw-egg foam-raw-fruit foam-seeds foam-strained
	method-airless method-beans method-bottled method-flowers method-frail method-oil method-one-bite method-pasteurised method-raw-egg method-slack method-soft-diet method-stirred
	sphere-swallow
	swap-enzymes swap-frozen swap-milk swap-no- swap-only-shelf swap-tannin swap-vegan swap-vegetarian`)

func ticked(name string) bool {
	return slices.ContainsFunc(ticks, func(one string) bool {
		return name == one || strings.HasSuffix(one, "-") && strings.HasPrefix(name, one)
	})
}

// labValue is what was typed, or the word of what was chosen.
func (a *App) labValue(name, value string) string {
	if ticked(name) {
		return "✓"
	}
	kind, _ := rowOf(name, formula.Formula{})
	if kind == "method-edit" {
		return a.editWords(value)
	}
	if word, ok := a.labWord(kind + "-" + value); ok && strings.ContainsFunc(value, isLetter) {
		return word
	}
	return value
}

// editWords says what a kept change of the method does: "skip", a step; "move", a step
// and the one that it follows; or "insert", the step that it follows and its id. No step
// is the beginning.
func (a *App) editWords(value string) string {
	kind, rest, _ := strings.Cut(value, "\t")
	step, after, _ := strings.Cut(rest, "\t")
	key := "lab-method.kept-" + kind
	if kind == "insert" {
		after = step
	}
	if kind != "skip" && after == "" {
		key += "-first"
	}
	if _, there := a.words.Find(key); !there {
		return strings.ReplaceAll(value, "\t", " ")
	}
	return a.text(key, note.Typed("step", a.words.Step(step)), note.Typed("after", a.words.Step(after)))
}

func isLetter(r rune) bool { return r >= 'a' && r <= 'z' }

// askForLabTexts asks for the lab's texts when labels are wanted that are not there.
func (a *App) askForLabTexts(revs []book.Entry) {
	if _, there := a.labWord("foam-covers"); there {
		return
	}
	for _, e := range revs {
		if f, err := formula.Decode(e.Body); err == nil && len(f.Lab) > 0 {
			a.env.LabTexts()
			return
		}
	}
}

// LabTexts takes notice that the lab's texts have come.
func (a *App) LabTexts() {
	if len(a.kept.revs) == 0 {
		return // closed meanwhile
	}
	a.kept.showVersions()
	a.kept.showCompared()
}
