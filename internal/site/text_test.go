package site

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/agent"
)

// texts is what one language says: file → key → sentence.
type texts map[string]map[string]string

// readTexts reads a language as it stands in web/text.
func readTexts(t *testing.T, lang string) texts {
	t.Helper()
	folder, all := os.DirFS("../../web/text/"+lang), texts{}
	require.NoError(t, fs.WalkDir(folder, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		raw, err := fs.ReadFile(folder, name)
		require.NoError(t, err)
		all[name] = map[string]string{}
		require.NoError(t, decodeText(raw, func(key, sentence string) error {
			if _, twice := all[name][key]; twice {
				return fmt.Errorf("%s: %q stands twice", name, key)
			}
			all[name][key] = sentence
			return nil
		}), name)
		return nil
	}))
	require.NotEmpty(t, all)
	return all
}

// translated lists the languages other than English.
func translated(t *testing.T) []string {
	t.Helper()
	folders, err := filepath.Glob("../../web/text/*")
	require.NoError(t, err)
	var langs []string
	for _, folder := range folders {
		if lang := filepath.Base(folder); lang != english {
			langs = append(langs, lang)
		}
	}
	return langs
}

// sharedWords reads the words that a language shares with English: a sentence
// of these alone may read the same in both. Lines that begin with # are for the
// reader.
func sharedWords(t *testing.T, lang string) map[string]bool {
	t.Helper()
	raw, err := os.ReadFile("testdata/words." + lang + ".txt")
	require.NoError(t, err, "the words shared with English")
	shared := map[string]bool{}
	for line := range strings.Lines(string(raw)) {
		if !strings.HasPrefix(line, "#") {
			for _, word := range strings.Fields(line) {
				shared[word] = true
			}
		}
	}
	return shared
}

// symbols are the words of units and instruments' scales, alike in every language.
var (
	symbols = regexp.MustCompile(`^(?:g|kg|mg|ml|l|mm|cm²|min|h|kB|Pa|kPa|bar|pH|vol|SAG|dH|fH|mmol|Brix|Bx|CFR|N2O|CO2|E|fl|oz)$`)
	words   = regexp.MustCompile(`[\pL\pM]+[²0-9]*`)
)

// toTranslate are the words of a sentence, in small letters, besides its slots,
// figures, signs and unit symbols.
func toTranslate(sentence string) []string {
	var out []string
	for _, word := range words.FindAllString(sentenceSlot.ReplaceAllString(sentence, ""), -1) {
		if !symbols.MatchString(word) {
			out = append(out, strings.ToLower(word))
		}
	}
	return out
}

// slots are the sorted names in braces of a sentence, each once.
func slots(sentence string) []string {
	all := sentenceSlot.FindAllString(sentence, -1)
	slices.Sort(all)
	return slices.Compact(all)
}

// pointed is a figure with a decimal point; the numbers of laws have it in
// every language.
var pointed = regexp.MustCompile(`\d\.\d`)

// shortfalls lists what one language lacks or has wrong beside English.
func shortfalls(reference, other texts, shared map[string]bool) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	comma := other["page.json"]["number.decimal"] == ","
	for _, file := range sortedKeys(other) {
		if reference[file] == nil {
			say("%s: English has no such file", file)
		}
	}
	met := map[string]bool{}
	for _, file := range sortedKeys(reference) {
		if other[file] == nil {
			say("%s: missing", file)
			continue
		}
		for _, key := range sortedKeys(other[file]) {
			if _, ok := reference[file][key]; !ok {
				say("%s: %s: English has no such key", file, key)
			}
		}
		for _, key := range sortedKeys(reference[file]) {
			was := reference[file][key]
			is, ok := other[file][key]
			switch {
			case !ok:
				say("%s: %s: missing", file, key)
			case strings.TrimSpace(is) == "" && strings.TrimSpace(was) != "":
				say("%s: %s: empty", file, key)
			case !slices.Equal(slots(is), slots(was)):
				say("%s: %s: has %v in place of %v", file, key, slots(is), slots(was))
			case comma && pointed.MatchString(is) && !strings.HasPrefix(key, "standard."):
				say("%s: %s: a figure with a point: %q", file, key, is)
			case is == was:
				left := toTranslate(is)
				if slices.ContainsFunc(left, func(w string) bool { return !shared[w] }) {
					say("%s: %s: still English: %q", file, key, is)
					continue
				}
				for _, word := range left {
					met[word] = true
				}
			}
		}
	}
	for _, word := range sortedKeys(shared) {
		if !met[word] {
			say("%s: listed as shared with English, and no sentence needs it", word)
		}
	}
	return out
}

func TestEveryLanguageSaysAll(t *testing.T) {
	reference := readTexts(t, english)
	for _, lang := range translated(t) {
		t.Run(lang, func(t *testing.T) {
			other := readTexts(t, lang)
			for _, line := range shortfalls(reference, other, sharedWords(t, lang)) {
				t.Error(line)
			}
			assert.Contains(t, []string{".", ","}, other["page.json"]["number.decimal"])
		})
	}
}

// The agent inputs suggest the names of the page's language, so each must be
// read as the agent it stands for; in English as in the others.
func TestEveryLanguagesAgentNamesAreRecognised(t *testing.T) {
	for _, lang := range append(translated(t), english) {
		names := readTexts(t, lang)["agent.json"]
		for _, id := range agent.IDs() {
			found, ok := agent.Recognise(names["agent."+string(id)])
			assert.True(t, ok && found == id, "%s: %q is read as %q, not as %s", lang, names["agent."+string(id)], found, id)
		}
	}
}

// The build takes every file of every language in: what a person reads is what
// stands in web/text.
func TestBuildTakesEveryLanguage(t *testing.T) {
	b := &builder{web: os.DirFS("../../web"), made: map[string][]byte{}, used: map[string]bool{}}
	require.NoError(t, b.addText())
	for _, lang := range append(translated(t), english) {
		for file, sentences := range readTexts(t, lang) {
			group := "text"
			if path.Dir(file) == "lab" {
				group = "lab"
			}
			shipped := b.made[group+"."+lang+".json"]
			for key, sentence := range sentences {
				entry, err := encodeText(map[string]string{key: sentence})
				require.NoError(t, err)
				assert.True(t, bytes.Contains(shipped, entry[1:len(entry)-1]), "%s/%s: %s is not shipped", lang, file, key)
			}
		}
	}
}

func TestShortfalls(t *testing.T) {
	reference := texts{
		"page.json":    {"number.decimal": ".", "a": "Stir in {mass} of {part}.", "b": "Agar", "c": "{low} g", "d": "pH 4.2", "unit.1": ""},
		"lab/gel.json": {"e": "Chill."},
	}
	const decimal = "number.decimal"
	good := func() texts {
		return texts{
			"page.json":    {decimal: ",", "a": "Incorporer {mass} de {part}.", "b": "Agar", "c": "{low} g", "d": "pH 4,2", "unit.1": ""},
			"lab/gel.json": {"e": "Refroidir."},
		}
	}
	for name, c := range map[string]struct {
		spoil func(texts)
		want  string
	}{
		"nothing":                {func(texts) {}, ""},
		"a file is missing":      {func(o texts) { delete(o, "lab/gel.json") }, "lab/gel.json: missing"},
		"a file too many":        {func(o texts) { o["x.json"] = map[string]string{} }, "x.json: English has no such file"},
		"a key is missing":       {func(o texts) { delete(o["page.json"], "a") }, "page.json: a: missing"},
		"a key too many":         {func(o texts) { o["page.json"]["z"] = "z" }, "page.json: z: English has no such key"},
		"empty":                  {func(o texts) { o["page.json"]["a"] = " " }, "page.json: a: empty"},
		"a slot is lost":         {func(o texts) { o["page.json"]["a"] = "Incorporer {mass}." }, "page.json: a: has [{mass}] in place of [{mass} {part}]"},
		"a slot is renamed":      {func(o texts) { o["page.json"]["a"] = "{masse} {part}" }, "page.json: a: has [{masse} {part}] in place of [{mass} {part}]"},
		"still English":          {func(o texts) { o["lab/gel.json"]["e"] = "Chill." }, `lab/gel.json: e: still English: "Chill."`},
		"a point for a comma":    {func(o texts) { o["page.json"]["d"] = "pH 4.2" }, `page.json: d: a figure with a point: "pH 4.2"`},
		"a shared word too many": {func(o texts) { o["page.json"]["b"] = "Gélose" }, "agar: listed as shared with English, and no sentence needs it"},
	} {
		t.Run(name, func(t *testing.T) {
			other := good()
			c.spoil(other)
			var want []string
			if c.want != "" {
				want = []string{c.want}
			}
			assert.Equal(t, want, shortfalls(reference, other, map[string]bool{"agar": true}))
		})
	}
}

// The page offers each language under its own name, for whom cannot read another.
func TestEachLanguageIsOffered(t *testing.T) {
	page, err := os.ReadFile("../../web/parts/shelf.html")
	require.NoError(t, err)
	var offered []string
	for _, m := range regexp.MustCompile(`<option value="([^"]*)" lang="([^"]*)">\p{Lu}`).FindAllStringSubmatch(string(page), -1) {
		assert.Equal(t, m[1], m[2])
		offered = append(offered, m[1])
	}
	assert.ElementsMatch(t, append(translated(t), english), offered)
}
