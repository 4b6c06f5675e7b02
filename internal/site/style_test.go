package site

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// typed are texts that stand for what a person types: they have a keyboard's
// spaces and quotation marks. So have the words by which liquids are known.
var typed = regexp.MustCompile(`^(paste\.hint|example\.\d+\.lines|liquid\.(forms|alike|also|share)|table\.header)$`)

// mark is something that no sentence of a language has; every language, where
// none is named.
type mark struct {
	lang, says string
	is         *regexp.Regexp
}

// withUnit is a figure, or a slot, and a unit behind a space that may break.
const withUnit = `[\d}] (g|kg|mg|ml|cl|dl|l|min|h|bar|mm|cm|cm²|kPa|Pa|kB|ko|g/cm²|g/min|MG|MS|%|°C|W/m²K)([^\pL\d’/²]|$)`

var marks = []mark{
	{"", "a figure and its unit may come apart", regexp.MustCompile(withUnit)},
	{"", "a factor may come apart", regexp.MustCompile(`× `)},
	{"", "a figure may come apart", regexp.MustCompile(`\d \d{3}\b`)},
	{"", "a straight quotation mark", regexp.MustCompile(`["']`)},
	{"", "two spaces", regexp.MustCompile(`  `)},
	{"", "three dots in place of one sign", regexp.MustCompile(`\.\.\.`)},
	{"", "a space before the dots", regexp.MustCompile(`[\s\x{a0}\x{202f}]…`)},
	{"", "a hyphen for a dash or a minus", regexp.MustCompile(` -[ \d]|\d-\d+[ \x{a0}](g|%|°C)`)},
	{"fr", "a sign without its narrow space", regexp.MustCompile(`[^\x{202f}\d][;:!?»]|«[^\x{202f}]`)},
	{"fr", "a name behind a word that may need an apostrophe", regexp.MustCompile(`\b(de|que|le|la|du|ne|se) \{(name|agents?|ingredient|parts?|item|carrier|constituent|id|list|dish|formula)\}`)},
	{"fr", "the reader is told as vous what the other sentences tell in the infinitive", regexp.MustCompile(`\b(Vérifiez|Faites|Prenez|Saisissez|Choisissez|Mettez|Rechargez|Enregistrez|Pesez|Ajoutez)\b`)},
	{"es", "the reader is told in the imperative what the other sentences tell in the infinitive", regexp.MustCompile(`\b(Revise|Haga|Tome|Escriba|Elija|Ponga|Vuelva|Guarde|Pese|Añada)\b`)},
	{"en", "a space before the sign", regexp.MustCompile(`[ \x{a0}\x{202f}][;:!?]`)},
	{"es", "a space before the sign", regexp.MustCompile(`[ \x{a0}\x{202f}][;:!?]`)},
	{"de", "a space before the sign", regexp.MustCompile(`[ \x{a0}\x{202f}][;:!?]`)},
	{"en", "quotation marks of another language", regexp.MustCompile(`[«»„]`)},
	{"es", "quotation marks of another language", regexp.MustCompile(`[“”„]`)},
	{"fr", "quotation marks of another language", regexp.MustCompile(`[“”„]`)},
	{"de", "quotation marks of another language", regexp.MustCompile(`[«»”]`)},
}

// term is a word that a language's texts do not use, and the one that they do;
// apart is a name that keeps it.
type term struct {
	lang, not, but, apart string
	is                    *regexp.Regexp
}

// termOf is the rule for one word.
func termOf(lang, not, but, apart string) term {
	return term{lang, not, but, apart, regexp.MustCompile(`(?i)(^|[^\pL])` + regexp.QuoteMeta(not) + `([^\pL]|$)`)}
}

// in reports whether the word stands in the sentence, as a word of its own.
func (w term) in(sentence string) bool {
	if w.apart != "" {
		sentence = strings.NewReplacer(w.apart, "", strings.ToUpper(w.apart[:1])+w.apart[1:], "").Replace(sentence)
	}
	return w.is.MatchString(sentence)
}

// readTerms reads the words for which the texts have another one.
func readTerms(t *testing.T) []term {
	t.Helper()
	raw, err := os.ReadFile("testdata/terms.txt")
	require.NoError(t, err)
	var list []term
	for line := range strings.Lines(string(raw)) {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		lang, rest, _ := strings.Cut(line, ": ")
		not, but, ok := strings.Cut(rest, " → ")
		require.True(t, ok && lang != "", line)
		but, apart, _ := strings.Cut(but, ", except ")
		list = append(list, termOf(lang, not, but, apart))
	}
	require.NotEmpty(t, list)
	return list
}

// lapses lists what is against the house style in one sentence.
func lapses(lang, key, sentence string, terms []term) []string {
	var out []string
	if typed.MatchString(key) {
		return nil
	}
	for _, m := range marks {
		if m.lang != "" && m.lang != lang {
			continue
		}
		if at := m.is.FindString(sentence); at != "" {
			out = append(out, fmt.Sprintf("%s: %q in %q", m.says, at, sentence))
		}
	}
	for _, w := range terms {
		if w.lang == lang && w.in(sentence) {
			out = append(out, fmt.Sprintf("“%s” is called “%s” elsewhere: %q", w.not, w.but, sentence))
		}
	}
	return out
}

func TestHouseStyle(t *testing.T) {
	terms := readTerms(t)
	for _, lang := range append(translated(t), english) {
		for file, sentences := range readTexts(t, lang) {
			for key, sentence := range sentences {
				for _, line := range lapses(lang, key, sentence, terms) {
					t.Errorf("%s/%s: %s: %s", lang, file, key, line)
				}
			}
		}
	}
}

// quoted is what a sentence quotes of the page; a slot is what somebody typed.
var quoted = regexp.MustCompile(`“([^”{]+)”|«\x{202f}?([^»{]+?)\x{202f}?»|„([^“{]+)“`)

// A part, a fold or a mark that a sentence names is found on the page under
// that very name.
func TestWhatIsQuotedStandsOnThePage(t *testing.T) {
	for _, lang := range append(translated(t), english) {
		all, there := readTexts(t, lang), map[string]bool{}
		for _, sentences := range all {
			for _, sentence := range sentences {
				there[sentence] = true
			}
		}
		count := 0
		for file, sentences := range all {
			for key, sentence := range sentences {
				for _, m := range quoted.FindAllStringSubmatch(sentence, -1) {
					name := m[1] + m[2] + m[3]
					assert.True(t, there[name], "%s/%s: %s names %q", lang, file, key, name)
					count++
				}
			}
		}
		assert.Positive(t, count, lang)
	}
}

// Each word that the texts have another one for is in the list once, and the
// one that they use is in the texts.
func TestTermsAreUsed(t *testing.T) {
	terms := readTerms(t)
	for i, w := range terms {
		assert.False(t, slices.ContainsFunc(terms[:i], func(o term) bool { return o.lang == w.lang && o.not == w.not }), "%s twice", w.not)
		used, but := false, termOf(w.lang, w.but, "", "")
		for _, sentences := range readTexts(t, w.lang) {
			for _, sentence := range sentences {
				used = used || but.in(sentence)
			}
		}
		assert.True(t, used, "%s: no text says %q", w.lang, w.but)
	}
}

func TestLapses(t *testing.T) {
	terms := []term{termOf("en", "stiffness", "firmness", ""), termOf("en", "soy", "soya", "soy sauce"), termOf("de", "Sicherung", "Backup", "")}
	for _, c := range []struct {
		lang, sentence, says string
	}{
		{"en", "Weigh 5 g.", "come apart"},
		{"de", "{low} bar", "come apart"},
		{"es", "al 100 %", "come apart"},
		{"de", "Festigkeit × {factor}", "come apart"},
		{"fr", "20 000\u00a0Pa", "come apart"},
		{"en", "the liquid's acid", "straight"},
		{"fr", "Trop petit : {low}", "narrow"},
		{"fr", "Combien\u00a0?", "narrow"},
		{"fr", "« Sphères »", "narrow"},
		{"fr", "{mass} de {name}", "apostrophe"},
		{"fr", "Vérifiez le carnet.", "infinitive"},
		{"es", "Revise el libro.", "infinitive"},
		{"es", "¿Cuánto ?", "before the sign"},
		{"de", "Wird geladen …", "before the dots"},
		{"de", "«Sphären»", "another language"},
		{"en", "Stiffness, in Pa", "called “firmness”"},
		{"en", "Soy sauce holds soy", "called “soya”"},
		{"de", "aus einer Sicherung", "called “Backup”"},
	} {
		assert.Contains(t, strings.Join(lapses(c.lang, "a", c.sentence, terms), "\n"), c.says, c.sentence)
	}
	for lang, sentence := range map[string]string{
		"en": "“Spheres”: weigh 5\u00a0g at 19:30, {low} less, 1 less. Soy sauce, soya.",
		"fr": "«\u202fSphères\u202f»\u202f: 5\u00a0g à 19:30\u202f; {abv} l’alcool",
		"es": "«Esferas»: ¿cuánto?",
		"de": "„Sphären“: Sicherungsring, −60\u00a0°C",
	} {
		assert.Empty(t, lapses(lang, "a", sentence, terms))
	}
	assert.Empty(t, lapses("en", "paste.hint", "350 ml apple juice", terms))
}
