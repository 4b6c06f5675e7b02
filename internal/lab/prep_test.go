package lab

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/agent"
	"tremblant/internal/formula"
	"tremblant/internal/liquid"
	"tremblant/internal/phrase"
)

// prepPage is the page's method part with the lab behind it; it takes changes as
// the pan does.
type prepPage struct {
	t      testing.TB
	lab    *Lab
	fields formula.Fields
	shelf  formula.Shelf
	shown  map[string]string // by op and place
	named  map[string]string // name attributes that were set, by id
	comma  bool              // figures are written with a decimal comma
	what   string            // of the last change
}

var prepWords map[string]string // read once

func prepTexts(t testing.TB) map[string]string {
	t.Helper()
	if prepWords == nil {
		prepWords = textsOf(t, "en")
	}
	return prepWords
}

func textsOf(t testing.TB, language string) map[string]string {
	t.Helper()
	words := map[string]string{}
	for _, pattern := range []string{"/*.json", "/lab/*.json"} {
		names, err := filepath.Glob("../../web/text/" + language + pattern)
		require.NoError(t, err)
		for _, name := range names {
			raw, err := os.ReadFile(name)
			require.NoError(t, err)
			require.NoError(t, json.Unmarshal(raw, &words), name)
		}
	}
	return words
}

// benchShelf is a kitchen with one scale that shows tenths.
func benchShelf() formula.Shelf {
	return formula.Shelf{Scales: []formula.Scale{{Step: 0.1, Max: 2000}}}
}

// openPrep opens the method of a recipe: pairs of name, amount and unit, those
// with a leading * being agents.
func openPrep(t testing.TB, shelf formula.Shelf, recipe [][3]string, typed ...string) *prepPage {
	t.Helper()
	return openPrepIn(t, prepTexts(t), false, shelf, recipe, typed...)
}

// openPrepIn is openPrep in the language of the words.
func openPrepIn(t testing.TB, words map[string]string, comma bool, shelf formula.Shelf, recipe [][3]string, typed ...string) *prepPage {
	t.Helper()
	p := &prepPage{t: t, shelf: shelf, comma: comma, shown: map[string]string{}, named: map[string]string{},
		fields: formula.Fields{"make": "liquid", "batch-liquid": "500", "batch-liquid-unit": "g", "name": "Quince and bay"}}
	p.lab = New(phrase.Book{Find: func(key string) (string, bool) {
		s, ok := words[key]
		optional := strings.HasPrefix(key, "unit.") || strings.HasPrefix(key, "lab-method.do-") || strings.HasPrefix(key, "agent.") // steps that are gone
		if !ok && !optional {
			t.Errorf("no text for %s", key)
		}
		return s, ok
	}})
	parts, doses := 0, 0
	for _, r := range recipe {
		row, n := "part-", &parts
		if strings.HasPrefix(r[0], "*") {
			row, n = "dose-", &doses
		}
		*n++
		at := row + strconv.Itoa(*n)
		p.fields[at+"-name"], p.fields[at+"-amount"], p.fields[at+"-unit"] = strings.TrimPrefix(r[0], "*"), r[1], r[2]
	}
	for i := 0; i < len(typed); i += 2 {
		p.fields[typed[i]] = typed[i+1]
	}
	p.lab.Open("method", true)
	p.tell()
	return p
}

func (p *prepPage) tell() {
	p.t.Helper()
	body, err := formula.Working{Fields: p.fields, Shelf: p.shelf, Comma: p.comma}.Encode()
	require.NoError(p.t, err)
	require.NoError(p.t, p.lab.Working(string(body)))
	p.take()
}

var unfilled = regexp.MustCompile(`\{[a-z0-9-]+\}|NaN|Inf`)

func (p *prepPage) take() {
	p.t.Helper()
	patch := p.lab.Patch()
	if patch == "" {
		return
	}
	var ops [][]string
	require.NoError(p.t, json.Unmarshal([]byte(patch), &ops))
	for _, op := range ops {
		at := op[0] + " " + op[1]
		if op[0] == "set" {
			at += " " + op[2]
			if op[2] == "name" {
				p.named[op[1]] = op[3]
			}
		}
		p.shown[at] = op[len(op)-1]
		if op[0] == "figure" {
			p.shown["value "+op[1]] = op[2]
		}
		if op[0] == "say" {
			p.shown[at] = op[2]
			assert.Equal(p.t, strings.TrimSpace(op[2]), op[2], "a message without a word opens the fold around it: %s", at)
		}
		assert.NotRegexp(p.t, unfilled, strings.Join(op[2:], " "), at)
	}
}

func (p *prepPage) typed(name, text string) {
	p.t.Helper()
	p.lab.Input(name, text)
	p.fields[name] = text
	p.take()
	p.tell()
}

func (p *prepPage) press(what string, row int) {
	p.t.Helper()
	p.lab.Do("lab-method-"+what, row)
	p.take()
	if text := p.lab.Change(); text != "" {
		c, err := formula.DecodeChange(text)
		require.NoError(p.t, err)
		p.fields, p.what = c.Onto(p.fields), c.What
		p.tell()
	}
}

func (p *prepPage) text(id string) string { return p.shown["text lab-method-"+id] }
func (p *prepPage) said(id string) string { return p.shown["say lab-method-"+id] }
func (p *prepPage) told(id string) string { return p.shown["figure lab-method-"+id] }
func (p *prepPage) seen(id string) bool   { return p.shown["show lab-method-"+id] == "1" }

func (p *prepPage) figure(id string) float64 {
	p.t.Helper()
	v, err := strconv.ParseFloat(p.shown["value lab-method-"+id], 64)
	require.NoError(p.t, err, "%s shows %q", id, p.told(id))
	return v
}

func (p *prepPage) rows(list string) int {
	n, _ := strconv.Atoi(p.shown["rows lab-method-"+list])
	return n
}

// list gives one text of each row.
func (p *prepPage) list(list, what string) []string {
	var out []string
	for i := range p.rows(list) {
		out = append(out, p.text(list+"-"+strconv.Itoa(i+1)+"-"+what))
	}
	return out
}

// row is the row, from 1, whose text is one.
func (p *prepPage) row(list, what, text string) int {
	p.t.Helper()
	for i, one := range p.list(list, what) {
		if one == text {
			return i + 1
		}
	}
	require.Fail(p.t, "no such row", "%s among %v", text, p.list(list, what))
	return 0
}

var quinceGel = [][3]string{{"water", "250", "g"}, {"quince juice", "250", "g"}, {"sugar", "40", "g"}, {"*agar", "3.5", "g"}, {"*low-acyl gellan", "0.6", "g"}}

func TestPrepPremixOnACoarseScale(t *testing.T) {
	p := openPrep(t, benchShelf(), [][3]string{{"water", "490", "g"}, {"sugar", "10", "g"}, {"*low-acyl gellan", "0.53", "g"}})
	require.True(t, p.seen("weigh-1-premix"))
	agent, carrier, use := p.figure("weigh-1-premix-agent"), p.figure("weigh-1-premix-carrier"), p.figure("weigh-1-mass")
	share := agent / (agent + carrier)
	assert.InEpsilon(t, 0.53, use*share, 0.02, "the gellan")
	assert.InDelta(t, 10, use*(1-share)+p.figure("weigh-2-mass"), 0.1, "the sugar that the recipe asks for, the premix counted in")
	assert.InDelta(t, agent+carrier-0.53/share, p.figure("weigh-1-premix-left"), 1e-9)
	for _, shown := range []float64{agent, carrier, use} {
		assert.InDelta(t, 0, math.Remainder(shown, 0.1), 1e-9, "the scale can show it")
	}
	assert.Equal(t, []string{"Low-acyl gellan", "Sugar", "Water"}, p.list("weigh", "name"))
	assert.Equal(t, "of the premix", p.text("weigh-1-of"))

	fine := openPrep(t, formula.UsualShelf(), [][3]string{{"water", "490", "g"}, {"sugar", "10", "g"}, {"*low-acyl gellan", "0.53", "g"}})
	assert.False(t, fine.seen("weigh-1-premix"), "a hundredth shows it")
	assert.InDelta(t, 0.53, fine.figure("weigh-1-mass"), 1e-9)
}

func TestPrepOneBowlReadsUp(t *testing.T) {
	p := openPrep(t, benchShelf(), quinceGel)
	last := 0.0
	for i := range p.rows("load") {
		reading := p.figure("load-" + strconv.Itoa(i+1) + "-reading")
		assert.Greater(t, reading, last)
		last = reading
	}
	assert.InDelta(t, p.figure("batch"), last, 0.3)
	p.typed("lab-method-bowl", "2000")
	assert.NotEmpty(t, p.text("no-bowl"), "the scale does not bear so heavy a bowl")
	assert.Positive(t, p.rows("step"), "the method stands all the same")
}

func TestPrepSteps(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), quinceGel, "lab-method-target", "fluid", "lab-method-bottled", "1")
	names := p.list("step", "do")
	for _, name := range []string{"Mix dry", "Disperse", "Heat and hold", "Add the acid", "Pour", "Chill", "Blend", "Bottle"} {
		assert.Contains(t, names, name)
	}
	hold := "step-" + strconv.Itoa(p.row("step", "do", "Heat and hold"))
	assert.Equal(t, "never below 90 °C", strings.ReplaceAll(p.told(hold+"-limit-1"), "\u00a0", " "))
	assert.InDelta(t, 90, p.figure(hold+"-limit-1"), 0)
	assert.Contains(t, p.text(hold+"-why"), "swollen grains")
	assert.Contains(t, p.text(hold+"-why"), "(", "with the source in words")
	last := math.Inf(1)
	for i := range names {
		start := p.figure("step-" + strconv.Itoa(i+1) + "-start")
		assert.LessOrEqual(t, start, last, "each step after the one before")
		last = start
	}
	assert.InDelta(t, p.figure("begin"), p.figure("step-1-start"), 1e-9)
}

// How strong a gel becomes in the end is told of one that stays whole only.
func TestPrepChillsToBreak(t *testing.T) {
	for target, full := range map[string]bool{"set": true, "fluid": false, "siphon-cold": false} {
		p := openPrep(t, formula.UsualShelf(), quinceGel, "lab-method-target", target)
		chill := "step-" + strconv.Itoa(p.row("step", "do", "Chill"))
		assert.Contains(t, p.text(chill+"-text"), "until set", target)
		for _, what := range []string{"-text", "-why"} {
			assert.Equal(t, full, strings.Contains(p.text(chill+what), "full strength"), "%s: %s", target, p.text(chill+what))
		}
	}
}

func TestPrepNoStepHasMoreLimitsThanAreShown(t *testing.T) {
	for _, target := range targets {
		for _, id := range []string{"agar", "gelatin", "pectin-hm", "pectin-lm", "methylcellulose", "egg white powder", "konjac", "alginate", "iota carrageenan"} {
			p := openPrep(t, formula.UsualShelf(), [][3]string{{"water", "300", "g"}, {"lemon juice", "100", "g"}, {"rum", "60", "g"}, {"sugar", "300", "g"}, {"*" + id, "8", "g"}, {"*calcium lactate", "1", "g"}},
				"lab-method-target", target.word)
			require.NotNil(t, p.lab)
			for _, s := range p.lab.sections {
				m, ok := s.(*prep)
				if !ok || m.now == nil {
					continue
				}
				for _, e := range m.now.sheet.Steps {
					assert.LessOrEqual(t, len(e.Limits), maxLimits, e.ID)
				}
			}
		}
	}
}

func TestPrepWords(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), quinceGel)
	row := p.row("step", "do", "Disperse")
	at := "step-" + strconv.Itoa(row)
	worked := p.text(at + "-text")
	p.press("edit", row)
	words := p.named["lab-method-words"]
	require.True(t, strings.HasPrefix(words, "lab-method-words-"))
	assert.LessOrEqual(t, len(words), 60, "the pan keeps names so long")
	assert.Equal(t, worked, p.shown["value "+words], "the editor begins with what stands there")
	assert.Equal(t, "lab-method-"+at+"-editor", p.shown["place lab-method-editor"])

	p.typed(words, "Whirl it in the tall jug.")
	assert.Equal(t, "Whirl it in the tall jug.", p.text(at+"-text"))
	assert.Equal(t, "your words", p.text(at+"-mark"))
	assert.Contains(t, p.text("computed"), worked)

	// The figures of the step change: the words stay, and the cook is told.
	p.typed("batch-liquid", "800")
	assert.Equal(t, "Whirl it in the tall jug.", p.text(at+"-text"))
	assert.Contains(t, p.text(at+"-mark"), "changed since")
	p.press("step-right", row)
	assert.Equal(t, "your words", p.text(at+"-mark"))
	assert.Equal(t, "Whirl it in the tall jug.", p.text(at+"-text"))

	// The agents go: the words are shown, not lost.
	p.fields["dose-1-name"], p.fields["dose-2-name"], p.fields["dose-2-amount"] = "gelatin", "", ""
	p.tell()
	require.Equal(t, 1, p.rows("lost"))
	assert.Contains(t, p.text("lost-1-text"), "Whirl it in the tall jug.")
	p.press("lost", 1)
	assert.Zero(t, p.rows("lost"))
	assert.NotContains(t, strings.Join(valuesOf(p.fields), "|"), "Whirl")
}

func valuesOf(f formula.Fields) []string {
	var out []string
	for _, v := range f {
		out = append(out, v)
	}
	return out
}

func TestPrepSkipMoveAddReset(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), quinceGel)
	before := p.list("step", "do")
	row := p.row("step", "do", "Heat and hold")

	p.press("step-skip", row)
	assert.Equal(t, "The step is left out.", p.what)
	at := "step-" + strconv.Itoa(row)
	assert.Equal(t, "out", p.shown["state lab-method-"+at+"-item"])
	assert.Contains(t, p.text(at+"-caution"), "decides whether it sets")
	p.press("step-back", row)
	assert.Empty(t, p.shown["state lab-method-"+at+"-item"])
	assert.Equal(t, before, p.list("step", "do"))

	p.press("step-up", row)
	assert.Equal(t, row-1, p.row("step", "do", "Heat and hold"))
	p.press("step-up", row-1)
	p.press("step-down", row-2)
	p.press("step-down", row-1)
	assert.Equal(t, before, p.list("step", "do"))
	assert.Len(t, kept(p.fields, "lab-method-edit-"), 1, "moves of one step in a row are one")
	p.press("step-up", 1)
	p.press("step-down", len(before))
	assert.Equal(t, before, p.list("step", "do"), "nothing before the first or behind the last")

	p.press("step-add", 2)
	own := 3
	assert.Equal(t, "Your own step", p.list("step", "do")[own-1])
	words := p.named["lab-method-words"]
	p.typed(words, "Toast the bay leaf.")
	minutes := p.named["lab-method-own-minutes"]
	p.typed(minutes, "12")
	assert.Equal(t, "Toast the bay leaf.", p.text("step-3-text"))
	assert.InDelta(t, 12, p.figure("step-3-minutes"), 0)
	p.typed(minutes, "soon")
	assert.NotEmpty(t, p.shown["say "+minutes])
	p.typed(minutes, "12")
	p.press("step-reset", own)
	assert.Equal(t, before, p.list("step", "do"))
	assert.Empty(t, p.fields[words], "its words go with it")

	p.press("step-skip", 2)
	p.press("step-add", 1)
	assert.True(t, p.seen("reset-all"))
	p.press("reset-all", 0)
	assert.Equal(t, before, p.list("step", "do"))
	assert.False(t, p.seen("reset-all"))
	assert.Empty(t, kept(p.fields, "lab-method-edit-"))
}

func kept(f formula.Fields, prefix string) []string {
	var out []string
	for name, text := range f {
		if strings.HasPrefix(name, prefix) && text != "" {
			out = append(out, name)
		}
	}
	return out
}

func TestPrepHoldsNoMoreEditsThanAreKept(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), quinceGel)
	for range maxEdits + 2 {
		p.press("step-add", 1)
	}
	assert.Len(t, kept(p.fields, "lab-method-edit-"), maxEdits)
	assert.NotEmpty(t, p.text("full"))
}

func TestPrepEditorClosesWithAnotherFormula(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), quinceGel)
	p.press("edit", p.row("step", "do", "Sieve"))
	p.fields["name"] = "Another"
	p.tell()
	assert.Equal(t, "lab-method-editor-home", p.shown["place lab-method-editor"])
}

func TestPrepClock(t *testing.T) {
	for text, want := range map[string]int{"19:30": 1170, "19.30": 1170, "1930": 1170, "19h30": 1170, " 7 ": 420, "730": 450, "0:00": 0, "24": 1440, "23:59": 1439, "8h": 480} {
		got, ok := readClock(text)
		assert.True(t, ok, text)
		assert.Equal(t, want, got, text)
	}
	for _, text := range []string{"", ":", "25:00", "19:60", "24:01", "soon", "-1:00", "+7", "19:3", "12345", "19:30:15", "１９"} {
		_, ok := readClock(text)
		assert.False(t, ok, text)
	}
}

func TestPrepService(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), quinceGel)
	assert.Contains(t, p.told("begin"), "before service")
	p.typed("lab-method-service", "19:30")
	total := p.figure("begin")
	at := int(math.Round(19*60 + 30 - total))
	clock := twoDigits(at/60) + ":" + twoDigits(at%60)
	assert.Equal(t, clock, p.told("begin"))
	assert.Equal(t, clock, p.told("step-1-start"))
	assert.InDelta(t, total*60, p.figure("total"), 1e-9)

	p.press("clock", 20*60+1) // it is 20:00
	assert.Contains(t, p.said("service"), "30", "half an hour too late")
	p.press("clock", 19*60+1)
	assert.Empty(t, p.said("service"))
	assert.Contains(t, strings.Join(p.list("time-note", "text"), " "), "late")
	p.press("clock", 12*60+1)
	assert.Zero(t, p.rows("time-note"))
	p.press("clock", 20*60+1)
	p.typed("lab-method-day", "1")
	assert.Empty(t, p.said("service"), "tomorrow is not over")

	p.typed("lab-method-service", "0:20")
	assert.Contains(t, p.told("begin"), "the day before")
	p.typed("lab-method-service", "noon")
	assert.Contains(t, p.said("service"), "19:30")
	assert.Contains(t, p.told("begin"), "before service", "what is known stands all the same")
}

// cookKeys are the keys that ticks hold on to, the batch's first.
func (p *prepPage) cookKeys() []string {
	keys := []string{p.shown["set lab-method-cook data-batch"]}
	for i := range p.rows("cook") {
		keys = append(keys, p.shown["set lab-method-cook-"+strconv.Itoa(i+1)+"-item data-key"])
	}
	return keys
}

// A cook's list that is half ticked off may be read on in another language.
func TestTicksOutliveTheLanguage(t *testing.T) {
	for name, of := range map[string]struct {
		recipe [][3]string
		typed  []string
	}{
		"premix":    {[][3]string{{"water", "490", "g"}, {"sugar", "10.8", "g"}, {"*agar", "4", "g"}, {"*xanthan", "0.02", "g"}}, nil},
		"no name":   {quinceGel, []string{"name", ""}},
		"siphon":    {[][3]string{{"leek stock", "500", "g"}, {"*gelatin", "6", "g"}}, []string{"lab-method-target", "siphon-cold", "lab-foam-gas", "1", "lab-foam-half", "1"}},
		"no liquid": {[][3]string{{"*agar", "0.9", "%"}, {"*locust bean gum", "0.2", "%"}}, nil},
	} {
		english := openPrep(t, benchShelf(), of.recipe, of.typed...)
		require.Greater(t, english.rows("cook"), 3, name)
		for _, language := range []string{"fr", "es", "de"} {
			other := openPrepIn(t, textsOf(t, language), true, benchShelf(), of.recipe, of.typed...)
			assert.Equal(t, english.cookKeys(), other.cookKeys(), "%s: %s", name, language)
		}
	}
	p := openPrep(t, benchShelf(), [][3]string{{"water", "490", "g"}, {"sugar", "10.8", "g"}, {"*agar", "4", "g"}})
	before := p.cookKeys()
	p.typed("part-2-amount", "11")
	after := p.cookKeys()
	require.Len(t, after, len(before))
	assert.Equal(t, before[0], after[0], "the same batch")
	assert.NotContains(t, after, before[p.row("cook", "do", "Sugar")], "another weight is not ticked")
}

// A beginning that is rounded to five minutes would stand beside a first step that is
// not, and beside the time of day that it is to say.
func TestTimesAgreeToTheMinute(t *testing.T) {
	inHours := regexp.MustCompile(`^(\d+)\D+?h(?:\D+?(\d+)\D+min)?`)
	for _, minutes := range []string{"201", "233", "271.5", "283", "1437", "2003"} {
		p := openPrep(t, formula.UsualShelf(), quinceGel, editName(1), "insert\t\town-1", wordsName("own-1", ownBasis), "rest", minutesName("own-1"), minutes)
		require.Contains(t, p.list("step", "text"), "rest", "the step is there")
		start := p.figure("begin")
		m := inHours.FindStringSubmatch(p.told("begin"))
		require.NotNil(t, m, p.told("begin"))
		hours, _ := strconv.Atoi(m[1])
		rest, _ := strconv.Atoi(m[2])
		assert.InDelta(t, start, hours*60+rest, 0.5, p.told("begin"))
		assert.Equal(t, "−"+strconv.Itoa(hours)+":"+twoDigits(rest), p.told("step-1-start"))
		assert.Contains(t, p.text("sheet-times"), m[0]+" in all")

		p.typed("lab-method-service", "23:59")
		at, ok := readClock(strings.Split(p.told("begin"), ",")[0][:5])
		require.True(t, ok, p.told("begin"))
		assert.Equal(t, (hours*60+rest)%dayMinutes, (23*60+59-at+dayMinutes)%dayMinutes, "%s, %s", p.told("begin"), p.told("total"))
		assert.Equal(t, m[0], p.told("total"))
	}
}

// What loses its colour or its taste when it boils is held back, in every language.
func TestPrepFreshIsHeldBack(t *testing.T) {
	for language, names := range map[string][2][]string{
		"en": {{"parsley juice", "cucumber juice", "Spinach juice", "basil water", "woodruff, cold infusion"}, {"spinach puree", "mint tea", "mushroom stock", "coconut water", "carrot juice"}},
		"fr": {{"jus de persil", "jus de concombre", "eau d’oseille", "menthe fraîche"}, {"purée d’épinards", "thé à la menthe", "bisque de crustacés au persil", "jus de veau"}},
		"es": {{"zumo de perejil", "zumo de pepino", "agua de albahaca"}, {"puré de espinacas", "té de menta", "caldo de verduras", "ajo frito con perejil"}},
		"de": {{"Petersiliensaft", "Gurkensaft", "Spinatsaft", "Waldmeister, Kaltauszug"}, {"Spinatpüree", "Minztee", "Pilzfond", "Leitungswasser"}},
	} {
		for i, list := range names {
			for _, name := range list {
				p := openPrepIn(t, textsOf(t, language), language != "en", formula.UsualShelf(),
					[][3]string{{"rice milk", "150", "g"}, {name, "350", "g"}, {"*agar", "4", "g"}}, "batch-liquid", "500", "lab-method-target", "set")
				held := slices.Contains(p.list("step", "do"), textsOf(t, language)["lab-method.do-temper"])
				assert.Equal(t, i == 0, held, "%s: %s", language, name)
			}
		}
	}
}

// Service at 24:00 ends the evening that it is on: what is begun that evening is not begun
// the day before.
func TestPrepServiceAtMidnight(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), quinceGel, "lab-method-service", "24:00")
	assert.NotContains(t, p.told("begin"), "day")
	p.typed("lab-method-service", "0:00")
	p.typed("lab-method-day", "1")
	assert.Contains(t, p.told("begin"), "the day before", "midnight as the beginning of a day")
}

func TestPrepCooling(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), quinceGel)
	assert.False(t, p.seen("cool-answer"), "nobody has said where")
	p.typed("lab-method-place", "still-fridge")
	require.True(t, p.seen("cool-answer"))
	require.Equal(t, 4, p.rows("cool"))
	assert.Contains(t, p.text("cool-1-to"), "sets below")
	before := 0.0
	for i := 1; i <= 4; i++ {
		now := p.figure("cool-" + strconv.Itoa(i) + "-time")
		assert.Greater(t, now, before, "the colder the later")
		before = now
	}
	slow := p.figure("cool-4-time")
	p.typed("lab-method-place", "blast-chiller")
	assert.Less(t, p.figure("cool-4-time"), slow/2)
	p.typed("lab-method-depth", "60")
	assert.Greater(t, p.figure("cool-4-time"), slow/4, "a thick layer holds its heat")
	assert.NotEmpty(t, p.shown["set lab-method-curve-line d"])
	assert.Contains(t, p.text("cool-1-range"), "to")

	cream := openPrep(t, formula.UsualShelf(), [][3]string{{"milk", "500", "g"}, {"*gelatin", "5", "g"}}, "lab-method-place", "fan-fridge")
	assert.Equal(t, 3, cream.rows("cool"), "it sets at 10 °C, which is a cold limit as well: once is enough")

	p.typed("lab-method-place", "room")
	assert.Empty(t, p.shown["value lab-method-cool-4-time"], "a room at 20 °C never brings it to 5 °C")
	assert.Contains(t, p.text("cool-4-note"), "never gets down")
	p.typed("lab-method-place-temp", "19")
	p.typed("lab-method-start", "15")
	assert.NotEmpty(t, p.text("cool-cannot"))
	assert.Positive(t, p.rows("step"), "the method stands all the same")
	p.typed("lab-method-start", "hot")
	assert.NotEmpty(t, p.said("start"))
	for _, vessel := range []string{"bowl", "bottle"} {
		p.typed("lab-method-vessel", vessel)
		p.typed("lab-method-place", "ice-bath-still")
		p.typed("lab-method-start", "80")
		p.typed("lab-method-place-temp", "")
		one := p.figure("cool-2-time")
		p.typed("lab-method-vessels", "10")
		assert.Less(t, p.figure("cool-2-time"), one, "small ones are cold sooner: %s", vessel)
		p.typed("lab-method-vessels", "")
	}
}

func TestPrepKeepsTheLastAnswerDimmed(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), quinceGel)
	assert.Equal(t, "ready", p.shown["state lab-method-sheet"])
	rows := p.rows("weigh")
	p.typed("batch-liquid", "much")
	assert.Equal(t, "stale", p.shown["state lab-method-answer"])
	assert.True(t, p.seen("answer"))
	assert.NotEmpty(t, p.text("cannot"))
	assert.Equal(t, rows, p.rows("weigh"))
	assert.Empty(t, p.shown["state lab-method-sheet"], "nobody prints what no longer follows")
	assert.Equal(t, "stale", p.shown["state lab-method-cook"])
	p.typed("batch-liquid", "500")
	assert.Empty(t, p.shown["state lab-method-answer"])
	assert.Equal(t, "ready", p.shown["state lab-method-sheet"])
}

func TestPrepWeighsWhatItDoesNotKnow(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), [][3]string{{"water", "500", "g"}, {"*zorblax", "5", "g"}})
	assert.Contains(t, p.list("weigh", "name"), "Zorblax")
	assert.Contains(t, p.text("no-method"), "sets, thickens or foams")
	assert.False(t, p.seen("method"))
	assert.Empty(t, p.shown["state lab-method-sheet"])
	p.fields["dose-2-name"], p.fields["dose-2-amount"], p.fields["dose-2-unit"] = "agar", "5", "g"
	p.tell()
	assert.True(t, p.seen("method"))
	assert.ElementsMatch(t, []string{"Agar", "Water", "Zorblax"}, p.list("weigh", "name"))
}

func TestPrepCountsOneAgentOnce(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), [][3]string{{"water", "500", "g"}, {"*agar", "2", "g"}, {"*agar-agar", "3", "g"}})
	assert.ElementsMatch(t, []string{"Agar", "Water"}, p.list("weigh", "name"))
	assert.InDelta(t, 5, p.figure("weigh-1-mass"), 0.01)
}

// A third of the juice's calcium is held by its own acids: what is free does not keep the
// gellan from hydrating, and no citrate is asked for.
func TestPrepAsksForNoCitrateThatAcidsMakeNeedless(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), [][3]string{{"pear juice", "480", "g"}, {"ginger juice", "20", "g"}, {"*agar", "4", "g"}, {"*low-acyl gellan", "0.75", "g"}})
	assert.NotContains(t, p.list("step", "do"), "Stir in citrate")
	assert.NotContains(t, strings.Join(p.list("note", "text"), " "), "citrate")
	require.NotNil(t, p.lab.state.mix)
	assert.Greater(t, p.lab.state.mix.of(liquid.PropCalcium).Typical, 2.0, "all of it would, mmol/kg")
}

func TestPrepWithoutAScale(t *testing.T) {
	p := openPrep(t, formula.Shelf{}, quinceGel)
	assert.Contains(t, p.text("no-weights"), "scale")
	assert.False(t, p.seen("weights"))
	assert.Positive(t, p.rows("step"))
	assert.Empty(t, p.shown["state lab-method-sheet"])
}

// What only the cook knows is on the paper as well.
func TestPrepSheetHasTheCooksNotes(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), quinceGel)
	assert.False(t, p.seen("sheet-own") || p.seen("sheet-more"))
	size := p.shown["set lab-method-sheet data-size"]
	p.fields["notes"], p.fields["unread"] = "Sieve twice.\n\nNever the blender.", "salt q.s.\nzest of 1 lemon"
	p.tell()
	assert.True(t, p.seen("sheet-own") && p.seen("sheet-more"))
	assert.Equal(t, "Sieve twice.\nNever the blender.", p.text("sheet-notes"))
	assert.Equal(t, "salt q.s.\nzest of 1 lemon", p.text("sheet-unread"))
	p.fields["notes"] = strings.Repeat("Stir. ", 600)
	p.tell()
	assert.Greater(t, p.shown["set lab-method-sheet data-size"], size, "small enough for one page")
}

func TestPrepDietAndDangers(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), [][3]string{{"cream", "300", "g"}, {"milk", "200", "g"}, {"*gelatin", "5", "g"}}, "lab-method-target", "siphon-cold")
	assert.Contains(t, p.text("diet"), "Vegan: no. Vegetarian: no.")
	assert.Contains(t, p.text("contains"), "milk")
	assert.Contains(t, p.text("labels"), "fish")
	assert.Contains(t, p.text("sheet-label-contains"), "milk")
	assert.Contains(t, p.text("sheet-label-use-by"), "food-safety plan")
	charge := "step-" + strconv.Itoa(p.row("step", "do", "Charge"))
	assert.Contains(t, p.text(charge+"-danger"), "Under pressure")
	assert.Equal(t, "bad", p.shown["state lab-method-caution-1-item"], "dangers first")

	stranger := openPrep(t, formula.UsualShelf(), [][3]string{{"house liquor", "500", "g"}, {"*agar", "4", "g"}})
	assert.Contains(t, stranger.text("diet"), "house liquor", "what is not known is a question, not a yes")

	egg := openPrep(t, formula.UsualShelf(), [][3]string{{"milk", "400", "g"}, {"egg yolk", "100", "g"}, {"*agar", "4", "g"}}, "lab-method-frail", "1")
	assert.Contains(t, strings.Join(egg.list("caution", "text"), " "), "pasteurised only")
}

// The siphon's part counts the chargers; the method takes its count, unless
// another one is typed there.
func TestPrepTakesTheChargesOfTheSiphonsPart(t *testing.T) {
	cream := [][3]string{{"cream", "900", "g"}, {"*gelatin", "4", "g"}}
	p := openPrep(t, formula.UsualShelf(), cream, "lab-method-target", "siphon-cold", "batch-liquid", "900",
		"lab-foam-kind", "cream", "lab-foam-gas", "1", "lab-foam-litre", "1")
	charge := func() string { return p.text("step-" + strconv.Itoa(p.row("step", "do", "Charge")) + "-text") }
	assert.Contains(t, p.text("charges-planned"), "plans: 2.", "a full body of a litre")
	assert.Contains(t, charge(), "Chargers: 2.")
	p.typed("lab-foam-half", "2")
	p.typed("lab-foam-litre", "")
	assert.Contains(t, charge(), "Chargers: 2 × 1.", "as the siphon's part changes")
	filling := p.text("step-" + strconv.Itoa(p.row("step", "do", "Fill the siphon")) + "-caution")
	assert.Contains(t, filling, "Fillings: 2.")
	assert.Contains(t, p.text("step-"+strconv.Itoa(p.row("step", "do", "Rest it charged"))+"-text"), "2\u00a0h to 12\u00a0h, best 4\u00a0h", "the gelatin has to set")
	p.typed("lab-method-charges", "3")
	assert.Contains(t, charge(), "Chargers: 2 × 1.", "half a litre never takes three")
	assert.NotEmpty(t, p.shown["say lab-method-charges"])
	p.typed("lab-foam-litre", "1")
	p.typed("lab-foam-half", "")
	p.typed("lab-method-charges", "1")
	assert.Contains(t, charge(), "Chargers: 1.", "what was typed here holds")
	assert.Contains(t, p.text("charges-planned"), "plans: 2.")
	assert.Empty(t, p.shown["say lab-method-charges"])
	p.typed("lab-method-charges", "12")
	assert.Contains(t, p.shown["say lab-method-charges"], "3", "more than any siphon takes")
	p.typed("lab-method-charges", "1,5")
	assert.Contains(t, p.shown["say lab-method-charges"], "1 or 2", "half a charger is none")
	p.typed("lab-method-charges", "")
	p.typed("lab-foam-gas", "")
	assert.Empty(t, p.text("charges-planned"), "no plan for a gas that nobody has named")
	assert.Contains(t, charge(), "The siphon part says how many chargers")
	p.typed("lab-foam-gas", "1")
	p.typed("lab-method-target", "set")
	assert.Empty(t, p.text("charges-planned"))
}

// Egg and cultured milk are kept from the heat that sets and splits them, unless starch
// keeps the egg.
func TestPrepKeepsEggAndYogurtFromTheHeat(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), [][3]string{{"milk", "400", "g"}, {"egg yolk", "100", "g"}, {"*agar", "4", "g"}})
	in := "step-" + strconv.Itoa(p.row("step", "do", "Temper"))
	assert.Contains(t, p.text(in+"-text"), "egg yolk")
	assert.Contains(t, p.text(in+"-text"), "59.4\u00a0°C", "the pan has cooled before it goes in")

	alone := openPrep(t, formula.UsualShelf(), [][3]string{{"yogurt", "500", "g"}, {"*agar", "4", "g"}})
	assert.Contains(t, strings.Join(alone.list("caution", "text"), " "), "sets or splits above 60")

	custard := openPrep(t, formula.UsualShelf(), [][3]string{{"milk", "400", "g"}, {"egg yolk", "100", "g"}, {"*corn starch", "35", "g"}})
	assert.NotContains(t, custard.list("step", "do"), "Temper")
}

// What shall boil off is not made up for; what soaks and what stirs in is counted.
func TestPrepMakesUpToWhatTheBatchWeighs(t *testing.T) {
	upTo := func(p *prepPage) string {
		return p.text("step-" + strconv.Itoa(p.row("step", "do", "Make up the weight")) + "-text")
	}
	p := openPrep(t, formula.UsualShelf(), [][3]string{{"apple juice", "500", "g"}, {"*agar", "4", "g"}}, "loss-boil", "20", "loss-boil-unit", "%")
	assert.Contains(t, upTo(p), "403\u00a0g", "a fifth of 504 g is meant to go")
	p = openPrep(t, formula.UsualShelf(), [][3]string{{"water", "500", "g"}, {"*agar", "3", "g"}, {"*gum arabic", "50", "g"}})
	assert.Contains(t, upTo(p), "553\u00a0g")
	p = openPrep(t, formula.UsualShelf(), [][3]string{{"milk", "500", "g"}, {"*agar", "3", "g"}, {"*gelatin", "5", "g"}})
	assert.Contains(t, upTo(p), "478\u00a0g", "the gelatin's 25 g of milk come later")
}

// A reduction of the liquid is no step of this method: it says that it comes first, and
// what to weigh for what is left.
func TestPrepSaysThatTheLiquidIsReducedFirst(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), [][3]string{{"red wine", "1000", "g"}, {"*agar", "12", "g"}}, "lab-liquid-step-1-kind", "reduce", "lab-liquid-step-1-amount", "50")
	said := strings.ReplaceAll(strings.Join(p.list("count", "text"), " "), "\u00a0", " ")
	assert.Contains(t, said, "leave 250 g of 500 g")
	assert.Contains(t, said, "agar 3 g", "the pan makes half of the recipe")
	p.typed("lab-liquid-step-1-kind", "")
	assert.NotContains(t, strings.Join(p.list("count", "text"), " "), "leave")
}

// In much oil what is not known is asked about, and what grows in soil is a danger; a
// little oil keeps no air out.
func TestPrepOilWithVegetables(t *testing.T) {
	cautions := func(rows ...[3]string) string {
		p := openPrep(t, formula.UsualShelf(), append(rows, [3]string{"*lecithin", "3", "g"}))
		return strings.Join(p.list("caution", "text"), " ")
	}
	assert.Contains(t, cautions([3]string{"olive oil", "400", "g"}, [3]string{"onion puree", "100", "g"}), "vegetables in oil can grow botulism")
	assert.Contains(t, cautions([3]string{"olive oil", "400", "g"}, [3]string{"thyme of the yard", "100", "g"}), "Something here is not known")
	assert.NotContains(t, cautions([3]string{"beetroot juice", "300", "g"}, [3]string{"olive oil", "30", "g"}), "vegetables in oil")
}

// Where all is sour, the powders are opened up in the juice; the vinegar keeps its bite, as
// long as there is juice enough.
func TestVinegarWaitsForTheJuice(t *testing.T) {
	late := func(juice string) []string {
		p := openPrep(t, benchShelf(), [][3]string{{"cider vinegar", "100", "g"}, {"apple juice", juice, "g"}, {"*agar", "3", "g"}}, "lab-method-target", "fluid")
		return p.list("step", "do")
	}
	assert.Contains(t, late("300"), "Add the acid")
	assert.NotContains(t, late("15"), "Add the acid", "the vinegar is the liquid")
}

// The method knows an ingredient as its cook has described it.
func TestMethodKnowsADescribedLiquid(t *testing.T) {
	recipe := [][3]string{{"water", "200", "g"}, {"house cordial", "200", "g"}, {"*agar", "3", "g"}}
	p := openPrep(t, benchShelf(), recipe, "lab-method-target", "set")
	assert.NotContains(t, p.list("step", "do"), "Add the acid")
	p = openPrep(t, benchShelf(), recipe, "lab-method-target", "set", formula.LiquidField(0, "name"), "house cordial", formula.LiquidField(0, "as"), "lemon-juice")
	assert.Contains(t, p.list("step", "do"), "Add the acid")
}

// The spheres' part knows what lifts the pH of a sour liquid: the method takes its
// citrate for the batch, or proposes none where that part turns to reverse spheres.
func TestMethodTakesTheCitrateOfSpheres(t *testing.T) {
	recipe := [][3]string{{"orange juice", "100", "g"}, {"water", "200", "g"}, {"*sodium alginate", "2", "g"}}
	p := openPrep(t, benchShelf(), recipe, "batch-liquid", "300", "lab-method-target", "bath")
	soften := "step-" + strconv.Itoa(p.row("step", "do", "Stir in citrate")) + "-text"
	p.lab.Open("sphere", true)
	p.tell()
	require.Contains(t, p.shown["text lab-sphere-weigh-1-name"], "itrate")
	asked, err := strconv.ParseFloat(p.shown["value lab-sphere-weigh-1-mass"], 64)
	require.NoError(t, err)
	assert.Greater(t, asked, 0.0)
	assert.Contains(t, p.text(soften), strconv.FormatFloat(asked, 'g', 3, 64)+"\u00a0g")

	milk := openPrep(t, benchShelf(), [][3]string{{"whole milk", "300", "g"}, {"*sodium alginate", "2", "g"}}, "batch-liquid", "300", "lab-method-target", "bath")
	assert.NotContains(t, milk.list("step", "do"), "Stir in citrate")
	assert.Contains(t, strings.Join(milk.list("caution", "text"), " "), "refuses this way")
}

// What the siphon's part refuses is not charged in the method either.
func TestPrepChargesNothingThatTheSiphonsPartRefuses(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), [][3]string{{"cream", "480", "g"}, {"*gelatin", "2.4", "g"}}, "lab-method-target", "siphon-cold",
		"batch-liquid", "480", "lab-foam-kind", "cream", "lab-foam-gas", "1", "lab-foam-half", "1", "lab-foam-pressure", "8")
	never := "step-" + strconv.Itoa(p.row("step", "do", "Do not charge"))
	assert.Contains(t, p.text(never+"-danger"), "refuses")
	assert.NotContains(t, p.list("step", "do"), "Charge")
	assert.NotContains(t, p.list("step", "do"), "Fill the siphon")
	p.typed("lab-foam-pressure", "")
	p.row("step", "do", "Charge")
}

// A foam that the siphon's part serves hot is made hot: set and blended before, then
// brought to the heat of its bath.
func TestPrepMakesAHotFoamHot(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), [][3]string{{"chicken stock", "450", "g"}, {"*agar", "2.7", "g"}}, "texture", "foam",
		"lab-foam-serve", "hot", "lab-foam-gas", "1", "lab-foam-half", "1")
	assert.Contains(t, p.text("target-guess"), "hot")
	var order []int
	for _, do := range []string{"Chill", "Blend", "Bring to temperature", "Fill the siphon hot", "Charge", "Keep hot"} {
		order = append(order, p.row("step", "do", do))
	}
	assert.IsIncreasing(t, order)

	egg := openPrep(t, formula.UsualShelf(), [][3]string{{"chicken stock", "350", "g"}, {"whole egg", "150", "g"}, {"*xanthan", "0.5", "g"}},
		"lab-method-target", "siphon-hot", "lab-foam-serve", "hot", "lab-foam-gas", "1", "lab-foam-half", "1")
	assert.Contains(t, egg.text("step-"+strconv.Itoa(egg.row("step", "do", "Bring to temperature"))+"-text"), "62 °C")
}

func TestPrepCost(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), [][3]string{{"water", "490", "g"}, {"sugar", "10", "g"}, {"*agar", "4", "g"}})
	assert.False(t, p.seen("cost-answer"))
	p.typed("lab-method-price-agar", "60")
	p.typed("lab-method-price-sugar", "1,5")
	p.typed("lab-method-currency", "kr")
	// 60/kg × 4 g + 1.5/kg × 10 g = 0.24 + 0.015
	assert.InDelta(t, 0.255, p.figure("cost-batch"), 1e-9)
	assert.Contains(t, p.told("cost-batch"), "kr")
	assert.Equal(t, "Without a price, so not counted: water.", p.text("cost-missing"))
	for _, list := range []string{"caution", "sheet-caution"} {
		assert.NotContains(t, strings.Join(p.list(list, "text"), " "), "price", "no matter of safety")
	}
	p.typed("lab-method-price-agar", "dear")
	assert.NotEmpty(t, p.said("price-agar"))

	// Prices stay with their ingredient when rows move.
	was := p.row("price", "name", "Sugar")
	p.fields["dose-2-name"], p.fields["dose-2-amount"], p.fields["dose-2-unit"] = "xanthan", "1", "g"
	p.tell()
	assert.Equal(t, was+1, p.row("price", "name", "Sugar"))
	assert.Equal(t, "lab-method-price-sugar", p.named["lab-method-price-"+strconv.Itoa(p.row("price", "name", "Sugar"))+"-in"])
	assert.Equal(t, "1,5", p.shown["value lab-method-price-sugar"])
}

func TestPrepRoles(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), [][3]string{{"water", "100", "g"}, {"house liquor", "400", "g"}, {"*agar", "2", "g"}})
	assert.NotContains(t, p.list("step", "do"), "Add the alcohol")
	p.typed("lab-method-part-house-liquor-role", "alcohol")
	row := p.row("step", "do", "Add the alcohol")
	assert.Contains(t, p.text("step-"+strconv.Itoa(row)+"-danger"), "Alcohol vapour burns")
	assert.Contains(t, p.list("step", "do"), "Warm the rest")
	p.typed("lab-method-part-house-liquor-from", "hot")
	assert.NotContains(t, p.list("step", "do"), "Warm the rest", "it is warm already")
}

func TestPrepPartIDs(t *testing.T) {
	assert.Equal(t, "quince-juice", partID(" Quince  juice "))
	assert.NotEqual(t, partID("crème"), partID("créme"))
	assert.NotEmpty(t, partID("柚子"))
	assert.NotEqual(t, partID("柚子"), partID("抹茶"))
	for _, name := range []string{"", "—", strings.Repeat("very ", 40), "a" + strings.Repeat("é", 60)} {
		id := partID(name)
		assert.Regexp(t, `^[a-z0-9-]+$`, id)
		assert.LessOrEqual(t, len(partInput(id+"-24", "role")), 60)
		assert.LessOrEqual(t, len(mname("price-"+id)), 60)
	}
}

// Every sentence that this section asks for by name is there; those of steps,
// targets, roles and places stand by the names of what they speak of.
func TestPrepTexts(t *testing.T) {
	words := prepTexts(t)
	has := func(key string) { t.Helper(); assert.Contains(t, words, key) }
	for key := range words {
		if kind, ok := strings.CutPrefix(key, "step."); ok {
			has("lab-method.do-" + kind)
		}
	}
	for _, c := range targets {
		has("lab-method.target-" + c.word)
	}
	for _, c := range roles {
		has("lab-method.role-" + c.word)
	}
	for _, c := range places {
		has("lab-method.from-" + c.word)
	}
	for _, c := range facts {
		has("lab-method." + c.word)
	}
	for _, c := range vessels {
		has("lab-method.vessel-" + c.word)
	}
	for _, what := range []string{"move", "skip", "back", "add", "right", "reset", "reset-all", "drop"} {
		has("lab-method.did-" + what)
	}
	has("note." + string(CodeBadClock))
	names, err := filepath.Glob("prep*.go")
	require.NoError(t, err)
	asked := regexp.MustCompile(`msay\("([a-z-]*[a-z])"`)
	found := 0
	for _, name := range names {
		raw, err := os.ReadFile(name)
		require.NoError(t, err)
		for _, m := range asked.FindAllStringSubmatch(string(raw), -1) {
			has("lab-method." + m[1])
			found++
		}
	}
	assert.Greater(t, found, 50)
}

// Whatever is typed, the section answers without a panic, without a figure that
// is none, and with every sentence filled in.
func TestPrepBearsAnything(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	odd := []string{"", "0", "1", "-3", "20", "1e309", "NaN", "1,2,3", "∞", "soon", "99999999", "0.0001", "tray", "bowl", "bottle", "still-fridge", "room", "fluid", "siphon-hot", "bath", "19:30", "1", "hot", "acid"}
	names := append(newPrep().inputs(), "lab-method-part-water-role", "lab-method-part-water-from", "lab-method-price-agar", "batch-liquid", "dose-1-amount", "part-1-amount", "lab-method-edit-1", "lab-method-edit-2")
	odd = append(odd, "skip\tsieve", "move\tsieve\t", "insert\tsieve\town-1", "move\t\t", "insert", "skip\tno such step", "move\tsieve\tsieve")
	p := openPrep(t, formula.UsualShelf(), quinceGel)
	presses := []string{"edit", "step-up", "step-down", "step-skip", "step-back", "step-add", "step-right", "step-reset", "reset-all", "lost", "clock", "nothing", "step-nothing"}
	for range 250 {
		p.typed(names[r.IntN(len(names))], odd[r.IntN(len(odd))])
		if r.IntN(3) == 0 {
			p.press(presses[r.IntN(len(presses))], r.IntN(20)-2)
		}
	}
}

func FuzzPrepClock(f *testing.F) {
	f.Add("19:30")
	f.Add("730")
	f.Fuzz(func(t *testing.T, text string) {
		if at, ok := readClock(text); ok && (at < 0 || at > dayMinutes) {
			t.Errorf("%q is %d", text, at)
		}
	})
}

func FuzzPrepEdits(f *testing.F) {
	f.Add("skip\tsieve", "words", "12")
	f.Add("move\tsieve\tpour", "", "x")
	f.Fuzz(func(t *testing.T, edit, words, minutes string) {
		if len(edit) > 500 || len(words) > 500 {
			t.Skip()
		}
		openPrep(t, formula.UsualShelf(), [][3]string{{"water", "500", "g"}, {"*agar", "4", "g"}},
			editName(1), strings.ToValidUTF8(edit, ""), wordsName("own-1", ownBasis), strings.ToValidUTF8(words, ""), minutesName("own-1"), strings.ToValidUTF8(minutes, ""))
	})
}

// Egg is known by the word that a cook puts before it, and is not called raw where that
// says what its maker has done.
func TestPrepKnowsPasteurisedEgg(t *testing.T) {
	for name, raw := range map[string]bool{"egg yolk": true, "raw egg yolk": true, "egg yolk, not pasteurised": true, "unpasteurised egg yolk": true, "pasteurised egg yolk": false, "egg yolk (pasteurized)": false} {
		p := openPrep(t, formula.UsualShelf(), [][3]string{{name, "100", "g"}, {"sunflower oil", "300", "g"}, {"*xanthan", "0.8", "g"}})
		assert.Contains(t, p.text("contains"), "egg", name)
		assert.Equal(t, raw, strings.Contains(strings.Join(p.list("caution", "text"), " "), "salmonella"), name)
	}
	de := openPrepIn(t, textsOf(t, "de"), true, formula.UsualShelf(), [][3]string{{"pasteurisiertes Eigelb", "100", "g"}, {"Wasser", "300", "g"}, {"*xanthan", "0,8", "g"}})
	assert.Contains(t, de.text("contains"), "Ei")
}

// Xanthan may be as thick as a fluid gel, but nothing is set and broken for it.
func TestPrepBreaksNoGelWhereNothingSets(t *testing.T) {
	p := openPrep(t, formula.UsualShelf(), [][3]string{{"raspberry puree", "400", "g"}, {"maltodextrin", "80", "g"}, {"*xanthan", "4", "g"}},
		"lab-swap-texture", string(agent.FluidGel))
	assert.Contains(t, p.text("target-guess"), "sauce")
	assert.NotContains(t, strings.Join(p.list("step", "do"), " "), "Chill")
}

// Oil is no liquid to disperse a powder in.
func TestPrepBeatsInTheFatLast(t *testing.T) {
	said := func(fat, mass string) string {
		p := openPrep(t, formula.UsualShelf(), [][3]string{{"egg yolk", "60", "g"}, {"lemon juice", "100", "g"}, {fat, mass, "g"}, {"*xanthan", "0.8", "g"}})
		return strings.Join(p.list("caution", "text"), " ")
	}
	assert.Contains(t, strings.ToLower(said("sunflower oil", "300")), "sunflower oil: keep it out")
	assert.Contains(t, said("butter", "200"), "thin stream")
	assert.NotContains(t, said("sunflower oil", "5"), "thin stream", "a few drops")
	assert.NotContains(t, said("cream", "300"), "thin stream", "it is an emulsion already")
}
