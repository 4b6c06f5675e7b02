package screen

import (
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/phrase"
)

var (
	inputForm  = regexp.MustCompile(`<(input|select|textarea)([^>]*) name="lab-([^"]*)"([^>]*)>`)
	textForm   = regexp.MustCompile(` data-text="([^"]*)"`)
	radioForm  = regexp.MustCompile(`<input type="radio" name="lab-([^"]*)" value="([^"]*)">.*?data-text="([^"]*)"`)
	selectForm = regexp.MustCompile(`(?s)<select[^>]* name="lab-([^"]*)"[^>]*>(.*?)</select>`)
	optionForm = regexp.MustCompile(`<option value="([^"]+)" data-text="([^"]*)"`)
)

// labelOf is the key of the label that stands beside an input in the HTML: the one
// that says for which it is, or the one around it.
func labelOf(t *testing.T, html string, at []int) string {
	t.Helper()
	tag := html[at[0]:at[1]]
	if id := regexp.MustCompile(` id="([^"]*)"`).FindStringSubmatch(tag); id != nil {
		if label := regexp.MustCompile(`<label for="` + regexp.QuoteMeta(id[1]) + `"[^>]*>(<span[^>]*>)?`).FindString(html); textForm.MatchString(label) {
			return textForm.FindStringSubmatch(label)[1]
		}
	}
	if said := regexp.MustCompile(` data-label="([^"]*)"`).FindStringSubmatch(tag); said != nil {
		return said[1]
	}
	if strings.Contains(tag, `type="checkbox"`) {
		return textForm.FindStringSubmatch(html[at[1]:])[1]
	}
	before := html[strings.LastIndex(html[:at[0]], "<label"):at[0]]
	if m := textForm.FindStringSubmatch(before); m != nil {
		return m[1]
	}
	return ""
}

// What versions call an input of the lab is what stands beside it in the lab.
func TestLabLabelsAreThoseOfTheLab(t *testing.T) {
	texts := everyText(t)
	a := &App{words: phrase.Book{Find: func(key string) (string, bool) { s, ok := texts[key]; return s, ok }}}
	files, err := filepath.Glob("../../web/parts/lab/*.html")
	require.NoError(t, err)
	checked, words := 0, 0
	for _, file := range files {
		raw, err := os.ReadFile(file)
		require.NoError(t, err)
		html := string(raw)
		if strings.Contains(file, "evening") {
			continue // no part of a formula
		}
		for _, at := range inputForm.FindAllStringSubmatchIndex(html, -1) {
			name, tag := html[at[6]:at[7]], html[at[0]:at[1]]
			if strings.Contains(tag, `type="radio"`) || strings.HasPrefix(name, "method-step-") {
				continue
			}
			kind, _ := rowOf(strings.ReplaceAll(name, "#", "1"), formula.Formula{})
			label, ok := a.labWord(kind)
			assert.True(t, ok, "no label for %s", name)
			if key := labelOf(t, html, at); key != "" && kind != "liquid-step" {
				assert.Equal(t, texts[key], label, name)
				checked++
			}
			assert.Equal(t, strings.Contains(tag, `type="checkbox"`), ticked(kind), name)
		}
		for _, m := range radioForm.FindAllStringSubmatch(html, -1) {
			_, ok := a.labWord(m[1])
			assert.True(t, ok, "no label for %s", m[1])
			assert.Equal(t, texts[m[3]], a.labValue(m[1], m[2]), m[1])
			words++
		}
		for _, m := range selectForm.FindAllStringSubmatch(html, -1) {
			for _, o := range optionForm.FindAllStringSubmatch(m[2], -1) {
				if o[1] != "1" && o[1] != "2" && o[1] != "3" {
					assert.Equal(t, texts[o[2]], a.labValue(m[1], o[1]), "%s %s", m[1], o[1])
					words++
				}
			}
		}
	}
	for name, value := range map[string]string{"emulsion-side-00ff": "oil", "dry-run-1-temp": "60", "method-edit-2": "skip\tpour", "method-words-00ff-1": "stir", "method-minutes-00ff": "5", "method-part-sugar-role": "acid", "liquid-step-1-unit": "g"} {
		kind, _ := rowOf(name, formula.Formula{})
		label, ok := a.labWord(kind)
		assert.True(t, ok, name)
		assert.NotContains(t, label, "{", name)
		assert.NotContains(t, a.labValue(name, value), "{", name)
	}
	assert.Equal(t, texts["lab-emulsion.side-oil"], a.labValue("emulsion-side-00ff", "oil"))
	assert.Equal(t, texts["lab-method.role-acid"], a.labValue("method-part-sugar-role", "acid"))
	assert.Equal(t, "g", a.labValue("liquid-step-1-unit", "g"))
	for value, want := range map[string]string{
		"skip\tsieve": "left out: Sieve", "move\tbloom/gelatin\tweigh": "moved behind “Weigh”: Soak (gelatin)",
		"move\tsieve\t": "moved to the beginning: Sieve", "insert\tweigh\town-1": "your own step, after “Weigh”", "insert\t\town-1": "your own step, at the beginning",
		"shuffle\tsieve": "shuffle sieve",
	} {
		assert.Equal(t, want, a.labValue("method-edit-1", value), value)
	}
	assert.Greater(t, checked, 120)
	assert.Greater(t, words, 40)
}

// Versions that differ in the lab say so in the lab's words, and in the names of its
// inputs until these have come.
func TestCompareInTheLabsWords(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.typing("part-1-name", "quince juice", "lab-foam-covers", "20", "lab-method-place", "fan-fridge")
	k.press("save")
	k.typing("lab-foam-covers", "30", "lab-method-place", "room", "lab-liquid-own-1-name", "Rose hip syrup", "lab-liquid-own-1-sugar", "11", "lab-method-raw-egg", "1", "lab-method-price-locust-bean-gum", "40")
	k.press("save")
	require.True(t, strings.HasPrefix(k.saveState(), "Saved"), k.saveState())
	require.Zero(t, k.wantsLabTexts)
	k.press("kept-pan")
	assert.Equal(t, 1, k.wantsLabTexts)
	assert.Equal(t, [3]string{"changed", "20", "30"}, k.differing()[k.catalogue["lab-foam.title"]+": covers"])

	more := everyText(t)
	maps.Copy(k.catalogue, more)
	k.app.LabTexts()
	k.show()
	got := k.differing()
	assert.Equal(t, map[string][3]string{
		"Siphon foam: Covers":                                   {"changed", "20", "30"},
		"Method and prep sheet: It cools in":                    {"changed", more["medium.fan-fridge"], more["medium.room"]},
		"Know the liquid: Your own figures":                     {"only on the right", "–", "Rose hip syrup"},
		"Know the liquid: Sugar, Rose hip syrup":                {"only on the right", "–", "11"},
		"Method and prep sheet: Egg that is not heated through": {"only on the right", "–", "✓"},
		"Method and prep sheet: What it costs, locust bean gum": {"only on the right", "–", "40"},
	}, got, "%v", slices.Sorted(maps.Keys(got)))
	k.press("kept-pan")
	assert.Equal(t, 1, k.wantsLabTexts, "they are there")
}

// Whatever an import holds, each entry keeps a line of its own.
func TestLabWordsOfAnything(t *testing.T) {
	k := someone(t)
	f := formula.Formula{Lab: formula.Fields{}}
	for _, name := range []string{"lab-", "lab-x", "lab-liquid-own-9-sugar", "lab-liquid-own--", "lab-method-price-", "lab-method-part-role", "lab-dry-keep-", "lab-<b>-x", "lab-method-words-00ff", "lab-method-words-00fe"} {
		f.Lab[name] = "<i>"
	}
	list := k.app.labTraits(f)
	require.Len(t, list, len(f.Lab))
	for _, one := range list {
		assert.NotEmpty(t, one.about, one.kind)
		assert.Contains(t, []string{"<i>", "✓"}, one.is)
	}
}
