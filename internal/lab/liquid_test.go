package lab

import (
	"encoding/json"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/liquid"
	"tremblant/internal/phrase"
	"tremblant/internal/unit"
)

// kitchen is a lab with the page before it: it keeps what the ops show, and
// takes changes as the pan does.
type liquidPage struct {
	t      *testing.T
	lab    *Lab
	fields formula.Fields
	shown  map[string]string // op and place → what stands there
	what   string            // of the last change
}

// liquidTexts is the text catalogue of the page.
func liquidTexts(t testing.TB) phrase.Book {
	t.Helper()
	words := map[string]string{}
	for _, pattern := range []string{"../../web/text/en/*.json", "../../web/text/en/lab/*.json"} {
		for _, name := range glob(t, pattern) {
			raw, err := os.ReadFile(name)
			require.NoError(t, err)
			require.NoError(t, json.Unmarshal(raw, &words), name)
		}
	}
	return phrase.Book{Find: func(key string) (string, bool) { s, ok := words[key]; return s, ok }}
}

// open is a lab whose section is open, with a liquid in the pan.
func openLiquid(t *testing.T, fields formula.Fields) *liquidPage {
	t.Helper()
	k := &liquidPage{t: t, lab: New(liquidTexts(t)), fields: formula.Fields{"make": "liquid", "batch-liquid-unit": "g"}, shown: map[string]string{}}
	k.lab.Open("liquid", true)
	for name, text := range fields {
		k.fields[name] = text
	}
	k.tell()
	return k
}

// tell sends the working formula, and takes what comes back.
func (k *liquidPage) tell() {
	k.t.Helper()
	body, err := formula.Working{Fields: k.fields, Shelf: formula.UsualShelf()}.Encode()
	require.NoError(k.t, err)
	require.NoError(k.t, k.lab.Working(string(body)))
	k.take()
}

func (k *liquidPage) take() {
	k.t.Helper()
	patch := k.lab.Patch()
	if patch == "" {
		return
	}
	var ops [][]string
	require.NoError(k.t, json.Unmarshal([]byte(patch), &ops))
	for _, op := range ops {
		k.shown[op[0]+" "+op[1]] = strings.Join(op[2:], "|")
		assert.NotContains(k.t, op[len(op)-1], "NaN", "%v", op)
		assert.NotContains(k.t, op[len(op)-1], "Inf", "%v", op)
	}
}

// type_ is an input, as the page sends it to both programs.
func (k *liquidPage) type_(name, text string) {
	k.t.Helper()
	k.lab.Input(name, text)
	k.fields[name] = text
	k.take()
	k.tell()
}

func (k *liquidPage) press(what string, row int) {
	k.t.Helper()
	k.lab.Do("lab-liquid-"+what, row)
	k.take()
	if text := k.lab.Change(); text != "" {
		c, err := formula.DecodeChange(text)
		require.NoError(k.t, err)
		k.fields, k.what = c.Onto(k.fields), c.What
		k.tell()
	}
}

func (k *liquidPage) figure(name string) float64 {
	k.t.Helper()
	value, _, _ := strings.Cut(k.shown["figure lab-liquid-"+name], "|")
	v, err := strconv.ParseFloat(value, 64)
	require.NoError(k.t, err, "%s shows %q", name, k.shown["figure lab-liquid-"+name])
	return v
}

func (k *liquidPage) text(name string) string { return k.shown["text lab-liquid-"+name] }
func (k *liquidPage) say(name string) string  { return k.shown["say lab-liquid-"+name] }
func (k *liquidPage) visible(name string) bool {
	return k.shown["show lab-liquid-"+name] == "1"
}

// list joins the texts of a list's rows.
func (k *liquidPage) list(name string) string {
	var all []string
	n, _ := strconv.Atoi(k.shown["rows lab-liquid-"+name])
	for i := 1; i <= n; i++ {
		all = append(all, k.text(name+"-"+strconv.Itoa(i)+"-text"))
	}
	return strings.Join(all, "\n")
}

func parts(list ...string) formula.Fields {
	f := formula.Fields{}
	sum := 0.0
	for i := 0; i+1 < len(list); i += 2 {
		f[formula.PartField(i/2, "name")] = list[i]
		a, err := unit.ParseAmount(list[i+1], unit.Gram)
		if err == nil {
			sum += a.Base()
		}
		f[formula.PartField(i/2, "amount")] = list[i+1]
		f[formula.PartField(i/2, "unit")] = "g"
	}
	f["batch-liquid"] = strconv.FormatFloat(sum, 'f', -1, 64)
	return f
}

// Two parts wine vinegar, one part white wine, one part sugar, boiled and
// strained: pH 2.4 to 3.0 (common practice, no source).
func pickle(t *testing.T, more ...string) *liquidPage {
	t.Helper()
	k := openLiquid(t, parts("wine vinegar", "200", "white wine", "100", "sugar", "100"))
	for i := 0; i+1 < len(more); i += 2 {
		k.fields[more[i]] = more[i+1]
	}
	k.tell()
	return k
}

func TestPicklingLiquor(t *testing.T) {
	k := pickle(t, "lab-liquid-step-1-kind", "simmer", "lab-liquid-step-1-amount", "5", "lab-liquid-step-2-kind", "strain")
	assert.InDelta(t, 2.7, k.figure("ph"), 0.3)
	assert.InDelta(t, 28, k.figure("brix"), 4)
	abv := k.figure("abv")
	assert.Greater(t, abv, 0.5)
	assert.Less(t, abv, 3.5, "four parts hold 3.3 %% vol at most")
	assert.Contains(t, k.text("ph-from"), "acetic acid from wine vinegar")
	assert.Contains(t, k.text("brix-from"), "sugar 8", "and not sugar from sugar")
	assert.Contains(t, k.text("abv-from"), "alcohol from white wine")
	assert.Contains(t, k.text("ph-range"), " to ")
	assert.Contains(t, k.text("allergens"), "sulphites")
	assert.Contains(t, k.text("diet"), "Vegan")
	assert.Equal(t, "as White wine vinegar, 6\u00a0%", k.text("part-1-as"))
	assert.Contains(t, k.list("why"), "Wine vinegar: what is in it")
}

// The range reaches the figure that the caution of low acid gives.
func TestRangeReachesTheCaution(t *testing.T) {
	k := openLiquid(t, parts("pear juice", "500", "ginger juice", "20"))
	assert.Contains(t, k.list("warn"), "The pH may be 4.7")
	assert.Contains(t, k.text("ph-range"), "4.7")
}

// Agar and gellan in it lose their strength or lump: the page says which
// ingredient it is, and how to split it (common practice, no source).
func TestAgentCautionsAndSplit(t *testing.T) {
	k := openLiquid(t, parts("water", "400", "wine vinegar", "200", "white wine", "100", "sugar", "100"))
	k.fields["dose-1-name"], k.fields["dose-1-amount"], k.fields["dose-1-unit"] = "agar", "1", "%"
	k.tell()
	require.True(t, k.visible("agents-box"))
	n := k.shown["rows lab-liquid-agent"]
	require.NotEqual(t, "0", n)
	assert.Contains(t, k.text("agent-1-from"), "wine vinegar")
	require.True(t, k.visible("split-box"), k.text("split-why"))
	require.True(t, k.visible("split-plan"))
	assert.Equal(t, "water, sugar", k.text("split-hot-list"), "sugar as long as it stays below 25 °Brix")
	assert.Equal(t, "wine vinegar, white wine", k.text("split-held-list"))
	assert.InDelta(t, 500, k.figure("split-hot"), 1e-6)
	assert.InDelta(t, 300, k.figure("split-held"), 1e-6)
	assert.InDelta(t, 8, k.figure("split-agent"), 1e-6)
	warm := k.figure("split-mix")
	assert.Greater(t, warm, k.figure("split-set")+5)

	k.type_("lab-liquid-rest", "4")
	assert.Less(t, k.figure("split-mix"), warm)
	k.type_("lab-liquid-rest", "-40")
	assert.Contains(t, k.say("rest"), "−18")

	// Nothing but acid: there is no part to hydrate in.
	sour := openLiquid(t, parts("lemon juice", "300"))
	sour.fields["dose-1-name"], sour.fields["dose-1-amount"], sour.fields["dose-1-unit"] = "agar", "1", "%"
	sour.tell()
	require.True(t, sour.visible("split-box"))
	assert.False(t, sour.visible("split-plan"))
	assert.Contains(t, sour.text("split-cannot"), "cannot be split")

	// A spirit is no part to hydrate in, however little acid it has.
	drink := openLiquid(t, parts("gin", "100", "tonic water", "150"))
	drink.fields["dose-1-name"], drink.fields["dose-1-amount"], drink.fields["dose-1-unit"] = "gelatin", "6", "g"
	drink.tell()
	require.True(t, drink.visible("split-box"))
	assert.False(t, drink.visible("split-plan"))
	assert.Contains(t, drink.text("split-cannot"), "in water or milk")

	// Sugar alone is held back for sugar's sake: nothing is said of acid, nor of a setting
	// temperature where there is none.
	syrup := openLiquid(t, parts("water", "350", "sugar", "650"))
	syrup.fields["dose-1-name"], syrup.fields["dose-1-amount"], syrup.fields["dose-1-unit"] = "pectin hm", "10", "g"
	syrup.tell()
	require.True(t, syrup.visible("split-plan"), syrup.text("split-cannot"))
	assert.Contains(t, syrup.text("split-why"), "below 25")
	assert.Contains(t, syrup.text("split-why"), "65")
	assert.NotContains(t, syrup.text("split-why"), "pH")
	assert.False(t, syrup.visible("split-set-line"))
	assert.Equal(t, "sugar", syrup.text("split-held-list"))

	// Milk needs no splitting.
	milk := openLiquid(t, parts("whole milk", "300"))
	milk.fields["dose-1-name"], milk.fields["dose-1-amount"] = "agar", "2"
	milk.tell()
	assert.False(t, milk.visible("split-box"))
}

func TestSteps(t *testing.T) {
	k := openLiquid(t, parts("veal stock", "1800", "red wine", "200"))
	k.press("add-step", 0)
	assert.Equal(t, "1", k.shown["rows lab-liquid-step"], "an empty row waits")
	before := k.figure("salt")
	k.type_("lab-liquid-step-1-kind", "reduce")
	assert.Contains(t, k.say("step-1-say"), "Type a figure")
	assert.InDelta(t, before, k.figure("salt"), 1e-9, "what is not complete is not counted")
	k.type_("lab-liquid-step-1-amount", "90")
	assert.InDelta(t, 200, k.figure("mass"), 1e-6)
	assert.InDelta(t, 10*before, k.figure("salt"), 1e-6)
	assert.Less(t, k.figure("abv"), 0.01)
	assert.Contains(t, k.text("kept"), "200")
	assert.Contains(t, k.text("diet"), "Not vegetarian")

	k.type_("lab-liquid-step-1-amount", "20 g")
	assert.Contains(t, k.say("step-1-say"), "cannot be reduced to 20", "below the dry matter, with the limit")
	assert.Equal(t, "stale", k.shown["state lab-liquid-answer"])
	assert.InDelta(t, 200, k.figure("mass"), 1e-6, "the last good answer stays")
	k.type_("lab-liquid-step-1-unit", "g")
	k.type_("lab-liquid-step-1-amount", "500")
	assert.InDelta(t, 500, k.figure("mass"), 1e-6)
	assert.Equal(t, "", k.shown["state lab-liquid-answer"])

	k.press("add-step", 0)
	k.type_("lab-liquid-step-2-kind", "add")
	assert.Contains(t, k.say("step-2-say"), "Name what goes in")
	k.type_("lab-liquid-step-2-name", "Lemon juice")
	k.type_("lab-liquid-step-2-amount", "20 ml")
	assert.Contains(t, k.text("ph-from"), "citric acid from Lemon juice")
	ph := k.figure("ph")
	k.press("add-step", 0)
	k.type_("lab-liquid-step-3-kind", "ph")
	k.type_("lab-liquid-step-3-amount", "4,75")
	assert.InDelta(t, 4.75, k.figure("ph"), 1e-3, "a measured pH overrides the estimate of %.2f", ph)
	k.type_("lab-liquid-step-3-amount", "17")
	assert.Contains(t, k.say("step-3-say"), "13", "an impossible pH is refused with the limit")

	k.press("drop-step", 2)
	assert.Equal(t, "Add is taken out.", k.what)
	assert.Equal(t, "ph", k.fields["lab-liquid-step-2-kind"])
	assert.Equal(t, "17", k.fields["lab-liquid-step-2-amount"], "what was typed moves up with its row")
	assert.Empty(t, k.fields["lab-liquid-step-3-kind"])
}

// An infusion gives part of itself, and its solids hold liquid back.
func TestInfuseAndStrain(t *testing.T) {
	k := openLiquid(t, parts("apple juice", "500"))
	for i, x := range [][2]string{{"infuse", "50"}, {"strain", ""}, {"brix", "11"}} {
		row := "lab-liquid-step-" + strconv.Itoa(i+1)
		k.fields[row+"-kind"], k.fields[row+"-amount"], k.fields[row+"-name"] = x[0], x[1], "ginger"
	}
	k.tell()
	assert.Less(t, k.figure("mass"), 520.0)
	assert.Contains(t, k.list("why")+k.list("warn"), "should come through the sieve")
	assert.InDelta(t, 11, k.figure("reading"), 0.01)
	k.type_("lab-liquid-step-2-amount", "400")
	assert.InDelta(t, 400, k.figure("mass"), 1e-6)
	k.type_("lab-liquid-step-2-amount", "4000")
	assert.Contains(t, k.say("step-2-say"), "cannot come through the sieve")
}

func TestBadInput(t *testing.T) {
	for name, c := range map[string]struct{ kind, amount, says string }{
		"letters":         {"reduce", "half", "not a figure"},
		"negative":        {"dilute", "-5", "Below zero"},
		"over all":        {"reduce", "150", "100"},
		"unit":            {"dilute", "5 furlongs", "unit"},
		"wrong unit":      {"reduce", "5 ml", "unit"},
		"two marks":       {"add", "1,2,3", "Two decimal marks"},
		"too large":       {"add", "1e400", ""},
		"a tonne":         {"add", "2000 kg", "kg"},
		"zero":            {"dilute", "0", "Zero"},
		"more than all":   {"reduce", "900 g", "less than before"},
		"time":            {"simmer", "99999", "1440"},
		"brix":            {"brix", "120", "95"},
		"no such density": {"density", "0.75", "cannot come from this liquid"},
	} {
		k := pickle(t, "lab-liquid-step-1-kind", c.kind, "lab-liquid-step-1-amount", c.amount, "lab-liquid-step-1-name", "salt")
		assert.Contains(t, k.say("step-1-say"), c.says, name)
		assert.NotEmpty(t, k.say("step-1-say"), name)
		assert.Equal(t, "stale", k.shown["state lab-liquid-answer"], name)
		assert.Equal(t, c.amount, k.shown["value lab-liquid-step-1-amount"], "%s: nothing is lost", name)
	}
}

func TestUnknownIngredient(t *testing.T) {
	k := openLiquid(t, parts("water", "450", "elderflower cordial", "50"))
	assert.Contains(t, k.text("unknown"), "elderflower cordial")
	assert.Equal(t, "Not known. What is it like?", k.text("part-2-as"))
	low, high, ok := strings.Cut(k.text("brix-range"), " to ")
	require.True(t, ok, k.text("brix-range"))
	assert.Equal(t, "0", low)
	h, err := strconv.ParseFloat(high, 64)
	require.NoError(t, err)
	assert.Greater(t, h, 5.0, "it may be a syrup")
	assert.Contains(t, k.text("diet-open"), "elderflower cordial")

	// Its composition is typed.
	k.press("own", 2)
	require.Equal(t, "elderflower cordial", k.fields["lab-liquid-own-1-name"])
	assert.Contains(t, k.say("own-1-say"), "Until then it counts as water")
	k.type_("lab-liquid-own-1-sugar", "60")
	assert.Empty(t, k.text("unknown"))
	assert.InDelta(t, 6, k.figure("brix"), 0.1)
	k.type_("lab-liquid-own-1-acid", "1")
	ph := k.figure("ph")
	assert.Less(t, ph, 3.5, "0.1 %% of citric acid and nothing else")
	assert.Contains(t, k.text("ph-from"), "citric acid from elderflower cordial")
	k.type_("lab-liquid-own-1-ph", "3")
	assert.Greater(t, k.figure("ph"), 2.9)

	// Refused with the limit; the last good answer stays.
	brix := k.figure("brix")
	k.type_("lab-liquid-own-1-sugar", "101")
	assert.Contains(t, k.say("own-1-say"), "100")
	assert.Equal(t, brix, k.figure("brix"))
	k.type_("lab-liquid-own-1-sugar", "-1")
	assert.Contains(t, k.say("own-1-say"), "0")
	k.type_("lab-liquid-own-1-sugar", "80")
	k.type_("lab-liquid-own-1-fat", "40")
	assert.Contains(t, k.say("own-1-say"), "103")
	k.type_("lab-liquid-own-1-fat", "")
	k.type_("lab-liquid-own-1-ph", "15")
	assert.Contains(t, k.say("own-1-say"), "13")

	k.press("drop-own", 1)
	assert.Empty(t, k.fields["lab-liquid-own-1-sugar"])
	assert.Contains(t, k.text("unknown"), "elderflower cordial")
}

func TestNearestNameIsTaken(t *testing.T) {
	k := openLiquid(t, parts("raspbery vinegar", "100", "water", "100"))
	require.Contains(t, k.text("part-1-near-1"), "vinegar", "its last word says what it is")
	k.press("near-1", 1)
	assert.Equal(t, "raspbery vinegar", k.fields["part-1-name"], "the cook's own name stays")
	assert.NotEmpty(t, k.fields["lab-liquid-own-1-as"])
	assert.Contains(t, k.text("part-1-as"), "vinegar")
	assert.Contains(t, k.what, "raspbery vinegar is now counted as")
	assert.Contains(t, k.text("ph-from"), "acetic acid from raspbery vinegar")
}

// A vinegar of 7 % in place of one of 6 %: titratable acid as the label states it.
func TestOwnFiguresOnARecord(t *testing.T) {
	k := openLiquid(t, parts("white wine vinegar", "100"))
	acids := k.figure("acids")
	k.press("own", 1)
	k.type_("lab-liquid-own-1-acid", "7")
	assert.InDelta(t, 7, k.figure("acids"), 0.4, "was %.2f", acids)
	k.type_("lab-liquid-own-1-alcohol", "12")
	assert.InDelta(t, 12, k.figure("abv"), 0.2)
	k.type_("lab-liquid-own-1-salt", "2")
	assert.InDelta(t, 2, k.figure("salt"), 0.01)
	k.type_("lab-liquid-own-1-fat", "3")
	assert.InDelta(t, 3, k.figure("fat"), 0.01)
}

func TestReach(t *testing.T) {
	for name, c := range map[string]struct {
		property, value, with string
		what                  string
	}{
		"sugar":   {"brix", "12", "brix:sugar", "Add Sugar"},
		"acid":    {"ph", "3.4", "ph:citric-acid", "Add Citric acid"},
		"alcohol": {"abv", "8", "abv:spirit-40", "Add Spirit, 40\u00a0% vol"},
		"salt":    {"salt", "1.2", "salt:salt", "Add Salt"},
		"thinner": {"brix", "2", "brix:water", "Add Water, demineralised"},
		"boiled":  {"brix", "40", "brix:boil", "Boil off"},
		"own":     {"brix", "8", "brix:=carrot juice", "Add carrot juice"},
	} {
		t.Run(name, func(t *testing.T) {
			k := openLiquid(t, parts("carrot juice", "300", "water", "200"))
			k.type_(goalProperty, c.property)
			k.type_(goalWith, c.with)
			k.type_(goalValue, c.value)
			require.True(t, k.visible("goal-answer"), k.say("goal-value"))
			assert.Equal(t, c.what, k.text("goal-what"))
			want, err := unit.ParseFigure(c.value)
			require.NoError(t, err)
			assert.InDelta(t, want, k.figure("goal-reached"), 1e-6*max(1, want))
			grams := k.figure("goal-mass")
			assert.Greater(t, grams, 0.0)

			k.press("goal", 0)
			k.type_(goalValue, "")
			got := k.figure(c.property)
			assert.InDelta(t, want, got, 2e-3*want, "the formula with it in is there")
			if c.with != "brix:boil" {
				assert.InDelta(t, 500+grams, k.figure("mass"), 0.5, "and the pan grows by it")
			}
		})
	}
}

func TestReachIsRefusedWithTheLimit(t *testing.T) {
	k := pickle(t)
	k.type_(goalProperty, "abv")
	k.type_(goalWith, "abv:white-wine")
	k.type_(goalValue, "60")
	assert.False(t, k.visible("goal-answer"))
	assert.Regexp(t, `cannot reach 60.*nearest it gets is 1\d`, k.say("goal-value"))
	k.type_(goalValue, "101")
	assert.Contains(t, k.say("goal-value"), "100")
	k.type_(goalValue, "abc")
	assert.Contains(t, k.say("goal-value"), "not a figure")
}

// With steps in the formula, what is added comes after them.
func TestReachAfterSteps(t *testing.T) {
	k := pickle(t, "lab-liquid-step-1-kind", "reduce", "lab-liquid-step-1-amount", "30")
	k.type_(goalProperty, "brix")
	k.type_(goalWith, "brix:water")
	k.type_(goalValue, "20")
	k.press("goal", 0)
	assert.Equal(t, "add", k.fields["lab-liquid-step-2-kind"])
	assert.InDelta(t, 20, k.figure("brix"), 0.05)
}

// The pan makes twice the recipe: figures to weigh are doubled, shares are not.
func TestFiguresAreForTheBatch(t *testing.T) {
	k := pickle(t)
	brix := k.figure("brix")
	k.fields["batch-liquid"] = "800"
	k.tell()
	assert.InDelta(t, brix, k.figure("brix"), 1e-9)
	assert.InDelta(t, 800, k.figure("mass"), 1e-6)
	k.type_(goalProperty, "brix")
	k.type_(goalWith, "brix:sugar")
	k.type_(goalValue, "40")
	grams := k.figure("goal-mass")
	k.press("goal", 0)
	assert.Equal(t, "sugar", k.fields["part-3-name"], "sugar that is there grows")
	now, err := unit.ParseFigure(k.fields["part-3-amount"])
	require.NoError(t, err)
	assert.InDelta(t, 100+grams/2, now, 0.1)
	assert.InDelta(t, 40, k.figure("brix"), 0.05)
	assert.InDelta(t, 800+grams, k.figure("mass"), 0.5)
}

func TestDensityGoesToThePan(t *testing.T) {
	k := openLiquid(t, parts("syrup 1:1", "300"))
	k.press("density", 0)
	d, err := unit.ParseFigure(k.fields["liquid-density"])
	require.NoError(t, err)
	assert.InDelta(t, 1.2296, d, 0.001, "50 °Brix at 20 °C: 1.2296 g/ml (Bubnik et al., Sugar Technologists Manual, 1995)")
}

// What the liquid is like reaches the other sections.
func TestTells(t *testing.T) {
	k := openLiquid(t, parts("whole milk", "300", "pineapple, raw", "20", "black tea", "50", "cream, 36 % fat", "30"))
	c := k.lab.state.conditions
	for name, g := range map[string]gel.Given{"pH": c.PH, "Brix": c.Brix, "ABV": c.ABV, "Na": c.Na, "K": c.K, "Ca": c.Ca, "fat": c.Fat, "protein": c.Protein} {
		assert.True(t, g.Known, name)
		assert.True(t, g.Valid(), name)
	}
	require.NoError(t, c.Check())
	assert.True(t, c.Milk)
	assert.True(t, c.Protease)
	assert.True(t, c.Tannin)
	require.NotNil(t, k.lab.state.mix)
	shares := k.lab.state.mix.shares()
	assert.InDelta(t, c.Fat.Typical, float64(shares.MilkFat+shares.Oil), 1e-9)
	assert.Greater(t, float64(shares.MilkFat), 20*float64(shares.Oil))
	assert.InDelta(t, 0.8, shares.Water.Typical, 0.1)

	// What the pan boils off, the others are told without.
	k.fields["loss-boil"], k.fields["loss-boil-unit"] = "20", "%"
	k.fields["make"], k.fields["batch-liquid"], k.fields["batch-liquid-unit"] = "liquid", "400", "g"
	k.tell()
	boiled := k.lab.state.conditions
	assert.InEpsilon(t, c.Brix.Typical/0.8, boiled.Brix.Typical, 1e-9)
	assert.InEpsilon(t, c.Na.Typical/0.8, boiled.Na.Typical, 1e-9)
	assert.Equal(t, c.PH.Typical, boiled.PH.Typical)

	// Too much that is not known is not told.
	k.fields = parts("mystery of the house", "300", "water", "100")
	k.tell()
	assert.False(t, k.lab.state.conditions.PH.Known)
	assert.Contains(t, k.text("unknown"), "too much")

	// Nor is a liquid that cannot be computed.
	k.fields = parts("water", "100")
	k.fields["lab-liquid-step-1-kind"], k.fields["lab-liquid-step-1-amount"] = "reduce", "x"
	k.tell()
	assert.False(t, k.lab.state.conditions.Brix.Known)
}

func TestDangersStandOutside(t *testing.T) {
	k := openLiquid(t, parts("egg yolk", "50", "garlic oil", "200"))
	assert.Contains(t, k.list("warn"), "botulism")
	assert.Contains(t, k.list("warn"), "pasteurised egg")
	assert.Contains(t, k.text("allergens"), "egg")
}

func TestNothingInThePan(t *testing.T) {
	k := openLiquid(t, nil)
	assert.True(t, k.visible("none"))
	assert.False(t, k.visible("answer"))
	k = openLiquid(t, parts("", "20", "salt", ""))
	assert.Equal(t, "Without a name", k.text("part-1-name"))
	assert.Contains(t, k.text("part-2-as"), "No weight yet")
}

// The amounts of the pan may be volumes: each ingredient then has its own weight.
func TestVolumesHaveTheirOwnWeight(t *testing.T) {
	k := openLiquid(t, formula.Fields{"part-1-name": "honey", "part-1-amount": "100", "part-1-unit": "ml", "batch-liquid": "100", "batch-liquid-unit": "ml"})
	assert.InDelta(t, 142, k.figure("mass"), 4, "honey weighs 1.4 g/ml")
}

// Every key that the section asks for stands in the catalogue.
func TestLiquidTextsAreComplete(t *testing.T) {
	words := liquidTexts(t)
	has := func(key string) {
		_, ok := words.Find(key)
		assert.True(t, ok, "text %q is missing", key)
	}
	for _, c := range Codes {
		has("note." + string(c))
	}
	for _, k := range stepKinds {
		has("lab-liquid.step-" + k.key)
		if len(k.units) > 0 {
			has("lab-liquid.amount-" + k.key)
		}
	}
	for _, f := range mixFigures {
		has("property." + f.property.String())
	}
	for _, g := range goals {
		has("lab-liquid.goal-" + g.figure.name)
		for _, id := range g.usual {
			_, ok := liquid.ByID(id)
			assert.True(t, ok, id)
		}
	}
	for _, id := range standIns {
		_, ok := liquid.ByID(id)
		assert.True(t, ok, id)
	}
	asked := regexp.MustCompile(`"(lab-liquid\.[a-z0-9-]+[a-z0-9])"`)
	for _, name := range glob(t, "liquid*.go") {
		raw, err := os.ReadFile(name)
		require.NoError(t, err)
		for _, m := range asked.FindAllStringSubmatch(string(raw), -1) {
			has(m[1])
		}
	}
}

// Whatever is typed, the section answers without a panic and without NaN.
func FuzzLiquid(f *testing.F) {
	f.Add("wine vinegar", "200", "reduce", "50", "%", "6", "12")
	f.Add("cream", "1e9", "simmer", "-1", "g", "", "NaN")
	f.Add("", "∞", "brix", "1,2,3", "ml", "100", "-0")
	words := liquidTexts(f)
	f.Fuzz(func(t *testing.T, name, amount, kind, figure, symbol, own, goal string) {
		fields := formula.Fields{
			"part-1-name": name, "part-1-amount": amount, "part-1-unit": symbol, "part-2-name": "apple juice", "part-2-amount": "100", "part-2-unit": "g",
			"dose-1-name": "agar", "dose-1-amount": "1", "dose-1-unit": "%", "batch-liquid": "300", "batch-liquid-unit": "g",
			"lab-liquid-step-1-kind": kind, "lab-liquid-step-1-amount": figure, "lab-liquid-step-1-unit": symbol, "lab-liquid-step-1-name": name,
			"lab-liquid-step-1-width": figure, "lab-liquid-own-1-name": name, "lab-liquid-own-1-acid": own, "lab-liquid-own-1-alcohol": own, "lab-liquid-own-1-ph": goal,
			goalProperty: "ph", goalValue: goal, goalWith: "ph:boil", restInput: goal,
		}
		body, err := formula.Working{Fields: fields, Shelf: formula.UsualShelf()}.Encode()
		if err != nil {
			return
		}
		l := New(words)
		l.Open("liquid", true)
		if l.Working(string(body)) != nil {
			return
		}
		for _, what := range []string{"add-step", "goal", "density", "near-1", "own", "drop-step", "step-near-1", "drop-own"} {
			l.Do("lab-liquid-"+what, 1)
		}
		var ops [][]string
		if err := json.Unmarshal([]byte(l.Patch()), &ops); err != nil {
			t.Fatal(err)
		}
		for _, op := range ops {
			if v, err := strconv.ParseFloat(op[len(op)-2], 64); op[0] == "figure" && (err == nil && !unit.Finite(v)) {
				t.Fatalf("shows %v", op)
			}
		}
		c := l.state.conditions
		if err := c.Check(); err != nil {
			t.Fatal(err)
		}
		if m := l.sections[0].(*know).mix; m != nil {
			for p := range liquid.NumProperties {
				if !m.of(p).Valid() {
					t.Fatalf("%s: %v", p, m.of(p))
				}
			}
			if math.IsNaN(float64(m.state.Mass)) {
				t.Fatal("no mass")
			}
		}
	})
}

// BenchmarkLiquidTold is what the liquid costs at each keystroke anywhere in the
// lab, its own part closed: worked out anew, as at each keystroke in the liquid
// itself, and unchanged.
func BenchmarkLiquidTold(b *testing.B) {
	for _, c := range []struct {
		name string
		anew bool
	}{{"anew", true}, {"unchanged", false}} {
		b.Run(c.name, func(b *testing.B) {
			l := New(liquidTexts(b))
			body, err := formula.Working{Fields: pickledPear(), Shelf: formula.UsualShelf()}.Encode()
			require.NoError(b, err)
			require.NoError(b, l.Working(string(body)))
			l.refresh()
			k := l.sections[0].(*know)
			require.NotNil(b, k.mix)
			l.state.read()
			b.ReportAllocs()
			for b.Loop() {
				if c.anew {
					k.asked, k.near = asked{}, nil
				}
				k.tell(&l.state)
			}
		})
	}
}

// pickledPear is a liquid with an ingredient that nobody knows.
func pickledPear() formula.Fields {
	return formula.Fields{
		"name": "pear liquor", "make": "liquid", "batch-liquid": "500", "batch-liquid-unit": "g",
		"part-1-name": "cider vinegar", "part-1-amount": "300", "part-1-unit": "g", "part-2-name": "apple juice", "part-2-amount": "150", "part-2-unit": "g",
		"part-3-name": "rasberry coolis of the house", "part-3-amount": "60", "part-3-unit": "g", "part-4-name": "white wine", "part-4-amount": "100", "part-4-unit": "g",
		"dose-1-name": "agar", "dose-1-amount": "0.8", "dose-1-unit": "%",
		"lab-liquid-step-1-kind": "reduce", "lab-liquid-step-1-amount": "30", "lab-liquid-step-1-unit": "%",
	}
}

// An unchanged liquid is not worked out again, and a changed one is: whatever
// was typed, the answer is that of a lab that was just opened.
func TestUnchangedLiquidIsKept(t *testing.T) {
	l := New(liquidTexts(t))
	tell := func(f formula.Fields) *know {
		body, err := formula.Working{Fields: f, Shelf: formula.UsualShelf()}.Encode()
		require.NoError(t, err)
		require.NoError(t, l.Working(string(body)))
		l.refresh()
		return l.sections[0].(*know)
	}
	f := pickledPear()
	first := tell(f).mix
	require.NotNil(t, first)
	f["dose-1-amount"], f["lab-swap-ph"], f["batch-liquid"] = "0.9", "3.5", "800"
	assert.Same(t, first, tell(f).mix, "nothing in the liquid has changed")
	assert.NotNil(t, l.state.mix, "it is told all the same")
	for _, change := range [][2]string{
		{"part-1-amount", "310"}, {"part-3-name", "water"}, {"lab-liquid-step-1-amount", "40"}, {"lab-liquid-step-2-kind", "flame"},
		{"lab-liquid-own-1-name", "cider vinegar"}, {"part-1-unit", "ml"}, {"part-2-amount", ""}, {"part-4-amount", "x"}, {"part-4-amount", "100"}, {"name", "another"},
	} {
		f[change[0]] = change[1]
		kept := tell(f)
		fresh := openLiquid(t, f).lab.sections[0].(*know)
		assert.Equal(t, fresh.stale, kept.stale, change)
		if !fresh.stale {
			assert.Equal(t, fresh.mix.figures, kept.mix.figures, change)
		}
	}
}

// Part of the liquid is set aside, the rest boils down, and both are blended;
// an alcohol reading overrides what comes of it.
func TestBlendAndMeasuredAlcohol(t *testing.T) {
	k := openLiquid(t, parts("white wine", "900"))
	whole := k.figure("abv")
	step := func(i int, kind, amount string) {
		row := "lab-liquid-step-" + strconv.Itoa(i)
		k.fields[row+"-kind"], k.fields[row+"-amount"] = kind, amount
		k.tell()
	}
	step(1, "aside", "300")
	assert.InDelta(t, 600, k.figure("mass"), 1e-6)
	assert.Contains(t, k.list("why")+k.list("warn"), "300\u00a0g stand aside")
	step(2, "reduce", "50")
	assert.Less(t, k.figure("abv"), 0.2*whole)
	step(3, "blend", "")
	assert.InDelta(t, 600, k.figure("mass"), 1e-6)
	assert.NotContains(t, k.list("why")+k.list("warn"), "stand aside")
	mixed := k.figure("abv")
	assert.Greater(t, mixed, 0.4*whole)
	step(3, "blend", "400")
	assert.Contains(t, k.say("step-3-say"), "400\u00a0g cannot be taken: there is 300\u00a0g")
	step(3, "blend", "100 g")
	assert.InDelta(t, 400, k.figure("mass"), 1e-6)
	step(3, "blend", "")
	step(4, "abv", "6,5")
	assert.InDelta(t, 6.5, k.figure("abv"), 0.01, "it was %.1f", mixed)
	assert.Contains(t, k.list("why")+k.list("warn"), "6.5\u00a0% vol")
	step(4, "abv", "140")
	assert.Contains(t, k.say("step-4-say"), "100")
	assert.NotEmpty(t, k.shown["state lab-liquid-answer"], "stale")
	step(4, "abv", "6.5")
	step(1, "add", "1")
	k.fields["lab-liquid-step-1-name"] = "salt"
	k.tell()
	assert.Contains(t, k.say("step-3-say"), "Nothing is set aside")
	dry := openLiquid(t, parts("apple juice", "500"))
	dry.fields["lab-liquid-step-1-kind"], dry.fields["lab-liquid-step-1-amount"] = "abv", "5"
	dry.tell()
	assert.Contains(t, dry.say("step-1-say"), "No alcohol went in")
}

// Who may eat it takes the pan's agents in: gelatin makes no juice vegan.
func TestDietTakesTheAgentsIn(t *testing.T) {
	for _, c := range []struct{ liquid, agent, diet, open string }{
		{"apple juice", "", "Vegan, as far", ""},
		{"apple juice", "agar", "Vegan, as far", ""},
		{"apple juice", "gelatin", "Neither vegan nor vegetarian, because of gelatin", ""},
		{"milk", "gelatin", "Neither vegan nor vegetarian, because of gelatin", ""},
		{"apple juice", "dried egg white", "Vegetarian, but not vegan because of dried egg white", ""},
		{"milk", "dried egg white", "Vegetarian, not vegan.", ""},
		{"chicken stock", "gelatin", "Not vegetarian.", ""},
		{"apple juice", "sucrose esters", "Vegan, as far", "sucrose esters"},
		{"apple juice", "moon dust", "Vegan, as far", "moon dust"},
		{"apple juice", "sugar", "Vegan, as far", ""},
		{"apple juice", "honey", "Vegetarian, but not vegan because of honey", ""},
	} {
		f := panOf(c.liquid, "200")
		if c.agent != "" {
			f["dose-1-name"], f["dose-1-amount"], f["dose-1-unit"] = c.agent, "2", "g"
		}
		p := openPart(t, "liquid", f)
		assert.Contains(t, p.text("lab-liquid-diet"), c.diet, "%s, %s", c.liquid, c.agent)
		open := p.text("lab-liquid-diet-open")
		assert.Equal(t, c.open != "", open != "", "%s, %s: %s", c.liquid, c.agent, open)
		assert.Contains(t, open, c.open)
	}
}

// What a figure comes from is not named twice.
func TestDriversDoNotDoubleTheirWords(t *testing.T) {
	p := openPart(t, "liquid", panOf("water", "200", "citric acid", "2", "lemon juice", "20"))
	from := p.text("lab-liquid-acids-from")
	assert.NotContains(t, from, "citric acid from citric acid")
	assert.Contains(t, from, "citric acid ")
	assert.Contains(t, from, "citric acid from lemon juice")
	for _, c := range []struct {
		what, name string
		class      liquid.Class
		twice      bool
	}{
		{"citric acid", "Citric acid", liquid.Pures, true}, {"citric acid", "citric acid monohydrate", liquid.Pures, true}, {"lactic acid", "Lactic acid, 80 %", liquid.Pures, true},
		{"sugar (sucrose)", "sugar", liquid.Sugars, true}, {"sugar (sucrose)", "brown sugar", liquid.Sugars, true}, {"water", "tap water", liquid.Waters, true},
		{"acide citrique", "acide citrique", liquid.Pures, true}, {"Zitronensäure", "Zitronensäure", liquid.Pures, true}, {"Wasser", "Leitungswasser", liquid.Waters, true},
		{"eau", "eau-de-vie", liquid.Drinks, false}, {"eau", "bouleau", liquid.Fruits, false}, {"fat", "fat free milk", liquid.Dairy, false},
		{"citric acid", "lemon juice", liquid.Fruits, false}, {"sodium", "salt", liquid.Pures, false}, {"water", "watermelon", liquid.Fruits, false}, {"alcohol", "rum", liquid.Drinks, false},
	} {
		assert.Equal(t, c.twice, saysTwice(c.what, c.name, c.class), "%s from %s", c.what, c.name)
	}
}

// Soy sauce is a quarter dissolved salt and protein, and has 0.4 % of sugar: a gel
// of it must not be told 25 °Bx of sugar. A syrup keeps its own.
func TestSaltAndProteinAreNoSugarToAGel(t *testing.T) {
	for _, c := range []struct {
		name      string
		low, high float64
	}{{"soy sauce", 0, 9}, {"whole milk", 5, 6.5}, {"sugar syrup 1:1", 49, 51}, {"apple juice", 10, 12}} {
		k := openLiquid(t, panOf(c.name, "500"))
		brix := k.lab.state.conditions.Brix
		require.True(t, brix.Known, c.name)
		assert.GreaterOrEqual(t, brix.Typical, c.low, c.name)
		assert.LessOrEqual(t, brix.Typical, c.high, c.name)
		assert.True(t, brix.Range.Valid(), c.name)
	}
}

// Only what acid curdles is told as such: soy sauce has as much protein as soya milk, in
// solution.
func TestWhatCurdles(t *testing.T) {
	for name, curdles := range map[string]bool{"soy sauce": false, "chicken stock": false, "soya milk": true, "whole milk": true} {
		k := openLiquid(t, parts(name, "300"))
		got := k.lab.state.conditions.Protein
		require.True(t, got.Known, name)
		assert.Equal(t, curdles, got.Typical > 0.01, "%s: %v", name, got)
	}
}
