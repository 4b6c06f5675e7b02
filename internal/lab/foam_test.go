package lab

import (
	"encoding/json"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/foam"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/phrase"
	"tremblant/internal/unit"
)

// foamPage is a lab with its siphon section open, and what its page shows.
type foamPage struct {
	t      testing.TB
	lab    *Lab
	shelf  formula.Shelf
	fields formula.Fields
	figure map[string]float64
	text   map[string]string // by id, and by the field of a sentence beside it
	shown  map[string]bool
	state  map[string]string
}

// englishTexts are all sentences of the page.
func englishTexts(t testing.TB) phrase.Book {
	t.Helper()
	all := map[string]string{}
	for _, pattern := range []string{"../../web/text/en/*.json", "../../web/text/en/lab/*.json"} {
		names, err := filepath.Glob(pattern)
		require.NoError(t, err)
		for _, name := range names {
			raw, err := os.ReadFile(name)
			require.NoError(t, err)
			require.NoError(t, json.Unmarshal(raw, &all))
		}
	}
	return phrase.Book{Find: func(key string) (string, bool) { s, ok := all[key]; return s, ok }}
}

// beetroot is 400 g with 8.75 % of a cold-soluble stabiliser, common practice,
// no source; the density makes the hand calculations exact.
func beetroot() formula.Fields {
	return formula.Fields{
		"make": "liquid", "batch-liquid": "400", "batch-liquid-unit": "g", "liquid-density": "1.03",
		"part-1-name": "house base", "part-1-amount": "400", "part-1-unit": "g",
		"dose-1-name": "foam stabiliser", "dose-1-amount": "35", "dose-1-unit": "g",
	}
}

func openFoam(t testing.TB, f formula.Fields, typed ...string) *foamPage {
	p := &foamPage{t: t, lab: New(englishTexts(t)), shelf: formula.UsualShelf(), fields: maps.Clone(f), figure: map[string]float64{}, text: map[string]string{}, shown: map[string]bool{}, state: map[string]string{}}
	p.lab.Open("foam", true)
	for i := 0; i < len(typed); i += 2 {
		p.fields[foamInput(typed[i])] = typed[i+1]
	}
	p.work()
	return p
}

// work tells the formula and takes in what the page then shows.
func (p *foamPage) work() {
	b, err := formula.Working{Fields: p.fields, Shelf: p.shelf}.Encode()
	require.NoError(p.t, err)
	require.NoError(p.t, p.lab.Working(string(b)))
	p.read(p.lab.Patch())
}

// typed types into an input, as the page and then the pan tell it.
func (p *foamPage) typed(name, value string) {
	p.lab.Input(foamInput(name), value)
	p.fields[foamInput(name)] = value
	p.work()
}

// press presses a button, takes the change into the pan, and returns its sentence.
func (p *foamPage) press(name string) string {
	p.lab.Do(foamInput(name), 0)
	text := p.lab.Change()
	require.NotEmpty(p.t, text, "%s changes nothing", name)
	c, err := formula.DecodeChange(text)
	require.NoError(p.t, err)
	p.fields = c.Onto(p.fields)
	p.work()
	return c.What
}

// still presses a button that must do nothing.
func (p *foamPage) still(name string) {
	p.lab.Do(foamInput(name), 0)
	assert.Empty(p.t, p.lab.Change(), "%s changes something", name)
}

func (p *foamPage) read(patch string) {
	if patch == "" {
		return
	}
	var ops [][]string
	require.NoError(p.t, json.Unmarshal([]byte(patch), &ops))
	for _, op := range ops {
		for _, x := range op {
			require.NotContains(p.t, x, "NaN", op)
			require.NotContains(p.t, x, "Inf", op)
		}
		switch op[0] {
		case "figure":
			v, err := strconv.ParseFloat(op[2], 64)
			if err != nil {
				v = math.NaN()
			}
			p.figure[op[1]] = v
		case "text", "say":
			p.text[op[1]] = op[2]
			assert.NotContains(p.t, op[2], "{", "an argument is missing")
			assert.False(p.t, strings.HasPrefix(op[2], "lab-foam.") || strings.HasPrefix(op[2], "note."), "no sentence: %s", op[2])
		case "show":
			p.shown[op[1]] = op[2] != ""
		case "state":
			p.state[op[1]] = op[2]
		}
	}
}

func (p *foamPage) fig(name string) float64 { return p.figure[foamInput(name)] }
func (p *foamPage) says(name string) string { return p.text[foamInput(name)] }

// By hand: 38 × 40 ml at a measured growth of 250 % (a cup of 100 g holds 28.57 g
// of foam) is 38 × 40/3.5 × 1.03 = 447.3 g; 5 % stays in the bodies: 470.9 g. One
// body of half a litre holds 515 g to its line, so one filling and one charger do.
func TestFoamThirtyEightCovers(t *testing.T) {
	p := openFoam(t, beetroot(), "covers", "38", "portion", "40", "half", "2", "gas", "1", "cup-base", "100", "cup-foam", "28.5714286")
	assert.InDelta(t, 471, p.fig("base"), 0)
	assert.InDelta(t, 1, p.fig("chargers"), 0)
	assert.InDelta(t, 1, p.fig("boxes"), 0)
	assert.InDelta(t, 471, p.fig("fill-1-mass"), 0)
	assert.InDelta(t, 1, p.fig("fill-1-charges"), 0)
	assert.InDelta(t, 38, p.fig("portions"), 0.1)
	assert.InDelta(t, 2.5, p.fig("overrun"), 1e-6)
	assert.Greater(t, p.fig("before"), p.fig("after"), "the head sees the unshaken pressure first")
	assert.Greater(t, p.fig("bound"), p.fig("overrun"))
	assert.InDelta(t, 1, p.fig("left-1"), 1e-9)
	assert.Greater(t, p.fig("left-2"), p.fig("left-3"))
	assert.Contains(t, p.says("expand-1-text"), "your own measurement")
	assert.NotEmpty(t, p.says("danger-1-text"))
	assert.Greater(t, p.fig("warm-2-gauge"), p.fig("warm-1-gauge"))
	assert.Greater(t, p.fig("warm-1-gauge"), p.fig("after"))
}

// The section shows what the core plans for the same request.
func TestFoamShowsTheCoresPlan(t *testing.T) {
	p := openFoam(t, beetroot(), "covers", "120", "portion", "60", "half", "2", "litre", "1", "gas", "1")
	var shelf []foam.Siphon
	for _, body := range foam.Catalogue() {
		if body.Count = map[unit.Volume]int{500: 2, 1000: 1}[body.Nominal]; body.Count > 0 {
			shelf = append(shelf, body)
		}
	}
	want, err := foam.Make(foam.Request{
		Formula: foam.Formula{Type: "stabiliser", Liquid: 400, Doses: []foam.Dose{{Agent: "foam-stab", Mass: 35}}, Base: foam.Base{Temperature: 5, Density: 1.03}},
		Covers:  120, Portion: foam.Portion{Size: 60}, Shelf: shelf,
	})
	require.NoError(t, err)
	assert.InDelta(t, float64(want.Base), p.fig("base"), 0)
	assert.InDelta(t, float64(want.Chargers), p.fig("chargers"), 0)
	assert.InDelta(t, want.Fillings[0].Before.Typical, p.fig("before"), 1)
	sum := 0.0
	for i, g := range groups(want.Fillings) {
		assert.InDelta(t, float64(want.Fillings[g.first].Mass), p.fig("fill-"+strconv.Itoa(i+1)+"-mass"), 0)
		sum += float64(want.Fillings[g.first].Mass) * float64(g.count)
	}
	assert.InDelta(t, float64(want.Base), sum, 0.5)
}

// Fifteen covers of a hot foam are one filling of the litre body at a low pressure,
// and the page says it is a danger where only the small one is on hand.
func TestFoamAvoidsAHighPressure(t *testing.T) {
	f := beetroot()
	f["dose-1-name"], f["dose-1-amount"] = "corn starch", "8"
	p := openFoam(t, f, "covers", "15", "serve", "hot", "small", "1", "litre", "1", "gas", "1")
	assert.InDelta(t, 2, p.fig("fill-1-charges"), 0)
	assert.Equal(t, "1\u00a0l", p.says("fill-1-name"), "one body, one round")
	assert.Less(t, p.fig("before"), 11e5)
	assert.NotContains(t, p.says("warn-1-text"), "at worst")
	p.typed("litre", "")
	assert.Greater(t, p.fig("before"), 21e5)
	assert.Regexp(t, `^The pressure in the head of the 0\.25\x{a0}l siphon may reach 2\d\x{a0}bar, at worst 3\d\x{a0}bar\. Over 21\x{a0}bar`, p.says("warn-1-text"))
	assert.Equal(t, "bad", p.state[foamInput("warn-1-item")])
	p.typed("pressure", "40")
	assert.NotContains(t, p.says("warn-1-text"), "at worst", "the maker's figure holds")
}

func TestFoamSetsThePan(t *testing.T) {
	f := beetroot()
	f["loss-sieve"], f["loss-sieve-unit"] = "8", "%"
	p := openFoam(t, f, "covers", "38", "half", "2", "gas", "1")
	require.True(t, p.shown[foamInput("make")])
	base := p.fig("base")
	what := p.press("make")
	assert.Contains(t, what, "The pan now makes")
	b, err := gel.Convert(p.fields.Read(findAgent).Formula, gel.Shelf{})
	require.NoError(t, err)
	assert.InDelta(t, base, float64(b.Yield), 1e-6, "what is left after the sieve is the base")
	assert.InDelta(t, base, p.fig("base"), 0, "the plan stays what it was")
	assert.True(t, p.shown[foamInput("fits")])
	assert.False(t, p.shown[foamInput("make")])
	assert.Equal(t, "38", p.fields[foamInput("covers")])
}

func TestFoamTakesCoversFromThePan(t *testing.T) {
	f := beetroot()
	maps.Copy(f, formula.Fields{"make": "portions", "portions": "30", "portion-size": "15", "portion-size-unit": "g", "spare": "10"})
	p := openFoam(t, f, "half", "2", "gas", "1")
	assert.Contains(t, p.says("covers"), "30 portions of 15")
	// By hand: 30 × 15 g × 1.1 = 495 g; 5 % stays behind: 521.05, so 522 g.
	assert.InDelta(t, 522, p.fig("base"), 0)
	p.press("make")
	assert.InDelta(t, 522, p.fig("base"), 0, "written down before the pan's portions change")
	assert.Equal(t, "1", p.fields["portions"])
}

// What guests must be told is all that the pan holds, not only what foams.
func TestFoamTellsAllAllergensOfThePan(t *testing.T) {
	p := openFoam(t, formula.Fields{
		"make": "liquid", "batch-liquid": "400", "batch-liquid-unit": "g",
		"part-1-name": "almond milk", "part-1-amount": "200", "part-1-unit": "g", "part-2-name": "celery juice", "part-2-amount": "100", "part-2-unit": "g",
		"part-3-name": "white wine", "part-3-amount": "100", "part-3-unit": "g", "dose-1-name": "gelatin", "dose-1-amount": "4", "dose-1-unit": "g",
	}, "gas", "1")
	told := ""
	for name, text := range p.text {
		if strings.HasPrefix(name, "lab-foam-danger-") && strings.HasPrefix(text, "Contains ") {
			told += text
		}
	}
	for _, one := range []string{"nuts", "celery", "sulphites"} {
		assert.Contains(t, told, one)
	}
}

// The shelf's chargers are counted against the plan, once somebody has counted them.
func TestFoamMissesChargersOnTheShelf(t *testing.T) {
	p := openFoam(t, beetroot(), "gas", "1", "covers", "120")
	warned := func() string {
		all := ""
		for name, text := range p.text {
			if strings.HasPrefix(name, "lab-foam-warn-") {
				all += text
			}
		}
		return all
	}
	assert.NotContains(t, warned(), "on the shelf")
	p.shelf.Chargers = formula.Stock{Known: true, Amount: 1}
	p.work()
	assert.Contains(t, warned(), "on the shelf: 1")
	p.shelf.Chargers.Amount = 100
	p.work()
	assert.NotContains(t, warned(), "on the shelf")
}

func TestFoamWithNothingTyped(t *testing.T) {
	p := openFoam(t, beetroot())
	assert.False(t, p.shown[foamInput("answer")], "no advice before the gas is known")
	assert.NotEmpty(t, p.says("gas"))
	assert.NotEmpty(t, p.says("danger-1-text"), "dangers stand there without a plan")
	p.typed("gas", "1")
	assert.True(t, p.shown[foamInput("answer")])
	assert.InDelta(t, 435, p.fig("base"), 0, "what is in the pan")
	assert.Contains(t, p.says("siphon-taken"), "one of 0.5\u00a0l")
	p.typed("gas", "")
	assert.False(t, p.shown[foamInput("answer")], "taken back with the tick")
}

// A pan that does not know how much to make is told by the plan.
func TestFoamMendsASizelessPan(t *testing.T) {
	f := beetroot()
	delete(f, "batch-liquid")
	p := openFoam(t, f, "covers", "20", "gas", "1")
	assert.Greater(t, p.fig("base"), 100.0)
	p.press("make")
	assert.False(t, p.fields.Read(findAgent).Bad())
	assert.True(t, p.shown[foamInput("fits")])
}

func TestFoamRefusals(t *testing.T) {
	gelatin := beetroot()
	gelatin["dose-1-name"], gelatin["dose-1-amount"] = "gelatin", "3.2"
	white := beetroot()
	white["dose-1-name"], white["dose-1-amount"] = "egg white powder", "12"
	for _, c := range []struct {
		name  string
		pan   formula.Fields
		typed []string
		field string // where the sentence stands
		says  string
		near  string
	}{
		{"no covers", beetroot(), []string{"covers", "0"}, "covers", "At least one", "1 covers"},
		{"90 °C", beetroot(), []string{"temp", "90"}, "temp", "Charge nothing at 90", "65"},
		{"hot gelatin foam", gelatin, []string{"serve", "hot"}, "temp", "fails above", "5"},
		{"ten charges", beetroot(), []string{"charges", "10"}, "charges", "too many", "2 charges"},
		{"too much", beetroot(), []string{"covers", "900"}, "", "the shelf holds", "covers"},
		{"fibre", beetroot(), []string{"fibre", "6"}, "fibre", "Not into a siphon", "more water in this base"},
		{"egg over its temperature", white, []string{"temp", "68", "fat", "10"}, "temp", "it sets from", "60"},
		{"strong drink", gelatin, []string{"abv", "30"}, "abv", "will not foam", "more water in this base"},
		{"no such gram", beetroot(), []string{"water", "90", "fat", "30"}, "water", "add up", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			typed := append([]string{"covers", "10", "half", "1", "gas", "1"}, c.typed...)
			p := openFoam(t, c.pan, typed...)
			text := p.says("refused-why")
			if c.field != "" {
				text = p.says(c.field)
			}
			assert.Contains(t, strings.ToLower(text), strings.ToLower(c.says))
			assert.NotEmpty(t, p.says("danger-1-text"))
			if c.near == "" {
				assert.False(t, p.shown[foamInput("take")])
				return
			}
			require.True(t, p.shown[foamInput("take")])
			assert.Contains(t, p.says("near"), c.near)
			p.press("take")
			assert.False(t, p.shown[foamInput("take")], "%s", p.says("refused-why"))
			assert.True(t, p.shown[foamInput("answer")])
			assert.Empty(t, p.state[foamInput("answer")])
		})
	}
}

func TestFoamCountsWholeChargers(t *testing.T) {
	p := openFoam(t, beetroot(), "covers", "38", "half", "2", "gas", "1")
	for _, field := range []string{"charges", "box"} {
		p.typed(field, "1,5")
		assert.Contains(t, p.says(field), "1 or 2", field)
		assert.Equal(t, "stale", p.state[foamInput("answer")], field)
		p.typed(field, "1")
		assert.Empty(t, p.says(field), field)
	}
}

func TestFoamKeepsTheLastGoodPlan(t *testing.T) {
	p := openFoam(t, beetroot(), "covers", "38", "half", "2", "gas", "1")
	base := p.fig("base")
	p.typed("covers", "38x")
	assert.NotEmpty(t, p.says("covers"))
	assert.Equal(t, "stale", p.state[foamInput("answer")])
	assert.InDelta(t, base, p.fig("base"), 0)
	p.typed("covers", "38")
	assert.Empty(t, p.state[foamInput("answer")])
	p.fields["dose-1-amount"] = "x"
	p.work()
	assert.NotEmpty(t, p.says("waits"))
	assert.Equal(t, "stale", p.state[foamInput("answer")])
}

// A plan for other covers is no answer: it goes when its question is refused, is
// marked when the question cannot be read, and its buttons do nothing.
func TestFoamOldPlanIsNotTakenForTheAnswer(t *testing.T) {
	p := openFoam(t, beetroot(), "covers", "40", "half", "1", "gas", "1")
	require.True(t, p.shown[foamInput("answer")])
	require.True(t, p.shown[foamInput("make")])
	p.typed("covers", "900")
	require.True(t, p.shown[foamInput("take")])
	assert.False(t, p.shown[foamInput("answer")], "the plan for 40")
	assert.False(t, p.shown[foamInput("more")])
	assert.False(t, p.shown[foamInput("make")])
	p.still("make")
	p.typed("covers", "9oo")
	assert.False(t, p.shown[foamInput("refused")], "nor is the old refusal")
	p.still("make")
	p.still("take")

	p.typed("covers", "40")
	assert.True(t, p.shown[foamInput("answer")])
	assert.True(t, p.shown[foamInput("make")])
	assert.Empty(t, p.says("old"))
	p.typed("covers", "4o")
	assert.True(t, p.shown[foamInput("answer")], "between two keystrokes it is only dimmed")
	assert.Contains(t, p.says("old"), "not for what stands above")
	assert.False(t, p.shown[foamInput("make")])
	p.still("make")
	p.typed("covers", "40")
	assert.Empty(t, p.says("old"))
	p.fields["dose-1-amount"] = "x"
	p.work()
	assert.NotEmpty(t, p.says("old"))
	assert.False(t, p.shown[foamInput("make")])
	p.still("make")
}

// What is wrong with a figure stands right after its field, before the next one.
func TestFoamSentencesStandAtTheirFields(t *testing.T) {
	raw, err := os.ReadFile("../../web/parts/lab/foam.html")
	require.NoError(t, err)
	last, asked := "", 0
	for _, m := range regexp.MustCompile(`<input [^>]*\bid="([^"]+)"|data-for="([^"]+)"`).FindAllStringSubmatch(string(raw), -1) {
		if m[1] != "" {
			last = m[1]
			continue
		}
		if m[2] == foamInput("kind") || m[2] == foamInput("gas") {
			continue // of a choice and of a tick
		}
		asked++
		assert.Equal(t, last, m[2], "this sentence stands at another field")
	}
	assert.Len(t, foamFigures, asked, "every figure has a place for what is wrong with it")
}

// Coarse fibre is thinned to its limit: by hand, 3.03 g in 100 g come to 1.5 % in
// 202 g, so 102 g of liquid for each 100 g of base; 6 g come to it in 400 g.
func TestFoamSaysOfWhatTheLiquidIs(t *testing.T) {
	p := openFoam(t, beetroot(), "covers", "10", "half", "1", "gas", "1", "fibre", "3.03")
	assert.Regexp(t, `^3\.03\x{a0}% of fibre .* add 102\x{a0}g of liquid for each 100.g of base\.$`, p.says("warn-1-text"))
	p.typed("fibre", "6")
	assert.Regexp(t, `thin it with 300\x{a0}g of liquid for each 100.g of base\.$`, p.says("fibre"))
}

// Cream and gelatin, called a hot foam: the page says that the gelatin is liquid then.
func TestFoamSaysThatGelatinMelts(t *testing.T) {
	f := beetroot()
	f["dose-1-name"], f["dose-1-amount"] = "gelatin", "3.6"
	p := openFoam(t, f, "covers", "15", "half", "1", "gas", "1", "fat", "18", "kind", "starch", "serve", "hot")
	says := func() string {
		all := ""
		for i := range 12 {
			all += p.says("warn-"+strconv.Itoa(i+1)+"-text") + "\n"
		}
		return all
	}
	assert.Regexp(t, `Gelatin is liquid above 40.°C: at 6\d.°C it does not hold the bubbles`, says())
}

// Half a siphon is not rounded up to one.
func TestFoamWantsWholeSiphons(t *testing.T) {
	for _, name := range []string{"small", "half", "litre", "own"} {
		p := openFoam(t, beetroot(), "covers", "20", "own-size", "700", "gas", "1", name, "1.5")
		assert.Contains(t, p.says(name), "whole", name)
		assert.False(t, p.shown[foamInput("answer")], name)
		p.typed(name, "2")
		assert.Empty(t, p.says(name), name)
		assert.True(t, p.shown[foamInput("answer")], name)
	}
}

func TestFoamKindsAreGuessed(t *testing.T) {
	for _, c := range []struct {
		kind string
		f    foam.Formula
	}{
		{"gelatin", dosedWith("gelatin")},
		{"stabiliser", dosedWith("foam-stab", "xanthan")},
		{"cream", foam.Formula{Base: foam.Base{MilkFat: 0.3}}},
		{"cream", foam.Formula{Doses: dosedWith("gelatin").Doses, Base: foam.Base{MilkFat: 0.3}}},
		{"oil-gelatin", foam.Formula{Doses: dosedWith("gelatin").Doses, Base: foam.Base{Oil: 0.25}}},
		{"egg-white", dosedWith("eggwhite")},
		{"egg-white", foam.Formula{EggWhite: 0.25}},
		{"egg-hot", foam.Formula{Egg: 0.2}},
		{"starch", dosedWith("corn-starch")},
		{"potato", foam.Formula{Doses: dosedWith("corn-starch").Doses, Puree: 0.6}},
		{"fluid-gel", dosedWith("agar")},
		{"methylcellulose", dosedWith("mc")},
		{"lecithin-air", dosedWith("lecithin")},
		{"", dosedWith("xanthan")},
	} {
		assert.Equal(t, c.kind, guessFoam(c.f), "%+v", c.f)
	}
	for _, k := range foamKinds {
		_, ok := foam.TypeByID(k.kind)
		assert.True(t, ok, k.kind)
		_, ok = findAgent(string(k.agent))
		assert.True(t, ok, k.agent)
	}
}

func dosedWith(ids ...string) foam.Formula {
	f := foam.Formula{}
	for _, id := range ids {
		f.Doses = append(f.Doses, foam.Dose{Agent: id, Mass: 1})
	}
	return f
}

func TestFoamWithoutASiphon(t *testing.T) {
	f := beetroot()
	f["dose-1-name"], f["dose-1-amount"] = "soy lecithin", "3"
	p := openFoam(t, f, "covers", "10", "gas", "1")
	assert.True(t, p.shown[foamInput("answer")])
	assert.False(t, p.shown[foamInput("siphons")])
	assert.False(t, p.shown[foamInput("picture")])
	assert.Contains(t, p.says("why-1-text")+p.says("why-2-text")+p.says("why-3-text")+p.says("why-4-text"), "no siphon")
}

// Two counts of charges stand side by side: a filling that is full and hot takes
// more gas than the rule of thumb gives it, or the other way round.
func TestFoamSetsRuleBesideGas(t *testing.T) {
	p := openFoam(t, beetroot(), "covers", "60", "half", "2", "gas", "1")
	rule, gas := p.fig("rule-chargers"), p.fig("gas-chargers")
	assert.InDelta(t, p.fig("chargers"), rule, 0, "the rule of thumb, until the other is chosen")
	assert.NotEmpty(t, p.says("compare-1-text"))
	p.typed("basis", "gas")
	assert.InDelta(t, gas, p.fig("chargers"), 0)
}

func TestFoamNotesHaveSentences(t *testing.T) {
	words := englishTexts(t)
	for _, c := range FoamCodes {
		_, ok := words.Find("note." + string(c))
		assert.True(t, ok, c)
	}
}

func TestFoamGauge(t *testing.T) {
	assert.Equal(t, "M232 84L232 26", spoke(270, 0, 58), "the middle of the scale points up")
	assert.Equal(t, "M282 84A50 50 0 0 1 232 134", arc(50, 0, 90))
	assert.Contains(t, arc(50, 100, 300), " 0 1 1 ", "the long way round")
}

// Whatever is typed, nothing breaks and no figure is none.
func FuzzFoamInputs(f *testing.F) {
	f.Add("38", "40", "2", "5", "85", "100", uint64(1))
	f.Add("0", "1e9", "-1", "90", "200", "½", uint64(2))
	f.Fuzz(func(t *testing.T, covers, portion, half, temp, water, cup string, seed uint64) {
		for _, x := range []*string{&covers, &portion, &half, &temp, &water, &cup} {
			*x = strings.ToValidUTF8(*x, "?") // a browser hands on nothing else
		}
		rng := rand.New(rand.NewPCG(seed, 1))
		p := openFoam(t, beetroot(), "covers", covers, "portion", portion, "half", half, "temp", temp, "water", water, "cup-base", cup, "cup-foam", "30", "gas", "1",
			"unit", []string{"", "g", "quenelle"}[rng.IntN(3)], "basis", []string{"rule", "gas"}[rng.IntN(2)], "kind", foam.Types()[rng.IntN(len(foam.Types()))].ID)
		p.lab.Do(foamInput("make"), 0)
		p.lab.Do(foamInput("take"), 0)
		p.lab.Do(foamInput("look"), rng.IntN(50)-5)
		p.read(p.lab.Patch())
	})
}

// BenchmarkFoamSizing is a keystroke in the covers: both plans and all that is shown.
func BenchmarkFoamSizing(b *testing.B) {
	p := openFoam(b, beetroot(), "covers", "38", "portion", "40", "half", "2", "gas", "1")
	bench(b, p)
}

func BenchmarkFoamSizingFiveHundred(b *testing.B) {
	p := openFoam(b, beetroot(), "covers", "500", "portion", "60", "half", "3", "litre", "3", "gas", "1")
	bench(b, p)
}

func bench(b *testing.B, p *foamPage) {
	b.Helper()
	start, err := unit.ParseFigure(p.fields[foamInput("covers")])
	require.NoError(b, err)
	n := 0
	for b.Loop() {
		n++
		p.lab.Input(foamInput("covers"), strconv.Itoa(int(start)+n%7))
		if p.lab.Patch() == "" {
			b.Fatal("nothing changed")
		}
	}
}
