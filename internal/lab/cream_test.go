package lab

import (
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/emulsion"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
)

// shellfishCream is common practice, no source: 40 g of a shellfish reduction,
// 30 g yolk, 10 g lime juice, 2 g salt, 130 g neutral oil.
func shellfishCream() formula.Fields {
	return panOf("shellfish reduction", "40", "egg yolk", "30", "lime juice", "10", "salt", "2", "sunflower oil", "130")
}

// panOf is a pan of ingredients in grams, made as it is written.
func panOf(parts ...string) formula.Fields {
	f := formula.Fields{"make": "liquid", "batch-liquid-unit": "g"}
	sum := 0.0
	for i := 0; i < len(parts); i += 2 {
		f[formula.PartField(i/2, "name")], f[formula.PartField(i/2, "amount")], f[formula.PartField(i/2, "unit")] = parts[i], parts[i+1], "g"
		v, _ := strconv.ParseFloat(parts[i+1], 64)
		sum += v
	}
	f["batch-liquid"] = strconv.FormatFloat(sum, 'g', -1, 64)
	return f
}

// openPart is a page with one part of the lab open.
func openPart(t testing.TB, part string, fields formula.Fields, typed ...string) *page {
	t.Helper()
	for i := 0; i < len(typed); i += 2 {
		fields["lab-"+part+"-"+typed[i]] = typed[i+1]
	}
	p := open(t, fields)
	p.lab.Open("swap", false)
	p.lab.Open(part, true)
	p.update()
	return p
}

func (p *page) value(name string) float64 {
	p.t.Helper()
	v, ok := p.figure(name)
	require.True(p.t, ok, name)
	return v
}

// all is every text of a list's rows.
func (p *page) all(list string) string {
	var out []string
	for i := range p.rows(list) {
		out = append(out, p.text(list+"-"+strconv.Itoa(i+1)+"-text"))
	}
	return strings.Join(out, "\n")
}

// take takes the change of a button into the pan and returns its sentence.
func (p *page) take(button string, row int) string {
	p.t.Helper()
	p.press(button, row)
	c, ok := p.change()
	require.True(p.t, ok, button)
	p.fields = c.Fields
	p.tell()
	return c.What
}

func TestEmulsionOfTheKitchen(t *testing.T) {
	p := openPart(t, "emulsion", shellfishCream())
	assert.Empty(t, p.text("lab-emulsion-refused"))
	assert.InDelta(t, 212, p.value("lab-emulsion-total"), 1e-6)
	assert.InDelta(t, 130.0/212, p.value("lab-emulsion-oil-mass"), 0.002)
	phi := p.value("lab-emulsion-oil-volume")
	assert.InDelta(t, 0.642, phi, 0.004, "what the core says of a reduction with 0.5 % fat")
	assert.Equal(t, "Just about spoonable", p.text("lab-emulsion-place-word"), "the limit of 64 % lies within the spread of the densities")
	assert.Contains(t, p.text("lab-emulsion-place-says"), "near a limit")
	assert.Greater(t, p.value("lab-emulsion-more-oil"), 0.0)
	assert.Greater(t, p.value("lab-emulsion-most-oil"), p.value("lab-emulsion-more-oil"))
	ph := p.value("lab-emulsion-ph-is")
	assert.True(t, ph > 3 && ph < 6.5, "acid of a lime against yolk and stock: %v", ph)
	warn := p.all("lab-emulsion-warn")
	assert.Contains(t, warn, "raw egg")
	assert.Contains(t, warn, "Contains egg")
	assert.Contains(t, warn, "shellfish reduction holds is not known", "nobody has said what is in it")
	assert.Contains(t, p.text("lab-emulsion-siphon-word"), "no")
	assert.Greater(t, p.rows("lab-emulsion-egg"), 4, "the published figures stand side by side")
	assert.Contains(t, p.text("lab-emulsion-load-of"), "130")
	p.typed("lab-emulsion-crustaceans", "1")
	assert.Contains(t, p.all("lab-emulsion-warn"), "egg, crustaceans")
	p.typed("lab-emulsion-pasteurised", "1")
	assert.NotContains(t, p.all("lab-emulsion-warn"), "raw egg")
	assert.False(t, p.visible("lab-emulsion-egg-box"))
}

// 24 × 8 g is 192 g of 212: 30 g of yolk come to 27.17. With 20 g of yolk it is
// 20/30 of the recipe, 141.3 g, 17 covers, and 7.17 g of yolk are missing.
func TestEmulsionScaledWithTheYolkAsLimit(t *testing.T) {
	p := openPart(t, "emulsion", shellfishCream(), "covers", "24", "portion", "8")
	assert.InDelta(t, 192, p.value("lab-emulsion-total"), 1e-6)
	assert.InDelta(t, 27.17, p.value("lab-emulsion-weigh-2-mass"), 0.005)
	assert.Equal(t, "2 yolks of large eggs", p.text("lab-emulsion-weigh-2-aside"))
	p.typed("lab-emulsion-limit", "part-2")
	assert.Contains(t, p.places["say lab-emulsion-have"][0], "How much")
	p.typed("lab-emulsion-have", "20")
	assert.InDelta(t, 20, p.value("lab-emulsion-weigh-2-mass"), 1e-9)
	assert.InDelta(t, 212*20.0/30, p.value("lab-emulsion-total"), 1e-6)
	assert.InDelta(t, 17, p.value("lab-emulsion-feeds"), 0)
	assert.Contains(t, p.text("lab-emulsion-limited"), "Egg yolk sets the size: 141\u00a0g, 17\u00a0portions.")
	assert.Contains(t, p.text("lab-emulsion-limited"), "7.17")

	assert.Contains(t, p.take("lab-emulsion-make", 0), "141.3")
	assert.Equal(t, "left", p.fields["make"])
	assert.Equal(t, "part-2", p.fields["left-of"])
	b, err := gel.Convert(p.fields.Read(findAgent).Formula, gel.Shelf{})
	require.NoError(t, err)
	assert.InDelta(t, 20, float64(b.Parts[1]), 1e-9)
	assert.InDelta(t, 212*20.0/30, p.value("lab-emulsion-total"), 1e-6)
	assert.True(t, p.visible("lab-emulsion-fits"))
}

func TestEmulsionSetsThePan(t *testing.T) {
	p := openPart(t, "emulsion", shellfishCream(), "covers", "24", "portion", "8", "spare", "20")
	assert.InDelta(t, 240, p.value("lab-emulsion-total"), 1e-6, "a fifth stays in bowl and bag")
	p.take("lab-emulsion-make", 0)
	b, err := gel.Convert(p.fields.Read(findAgent).Formula, gel.Shelf{})
	require.NoError(t, err)
	assert.InDelta(t, 240, float64(b.Yield), 1e-6)
	assert.InDelta(t, 240, p.value("lab-emulsion-total"), 1e-3)
	assert.True(t, p.visible("lab-emulsion-fits"))
}

func TestEmulsionBroughtBackWithWater(t *testing.T) {
	f := panOf("egg yolk", "20", "lemon juice", "10", "sunflower oil", "200")
	p := openPart(t, "emulsion", f)
	assert.Equal(t, "About to turn", p.text("lab-emulsion-place-word"))
	water := p.value("lab-emulsion-loosen")
	what := p.take("lab-emulsion-loosen", 0)
	assert.Contains(t, what, "more water")
	assert.Equal(t, "Water", p.fields["part-4-name"])
	p.fields["batch-liquid"] = strconv.FormatFloat(230+water, 'g', -1, 64)
	p.tell()
	assert.Equal(t, "Spoonable", p.text("lab-emulsion-place-word"))
	assert.InDelta(t, 0.69, p.value("lab-emulsion-oil-volume"), 0.005, "the middle between the two packings")
}

func TestEmulsionThinnedForTheSiphon(t *testing.T) {
	p := openPart(t, "emulsion", shellfishCream(), "pasteurised", "1")
	assert.Equal(t, "thinned, yes", p.text("lab-emulsion-siphon-word"))
	assert.InDelta(t, 130.0/0.4-212, p.value("lab-emulsion-siphon-add"), 1.5)
	p.take("lab-emulsion-thin", 0)
	assert.Equal(t, "Water", p.fields["part-6-name"])
	raw := openPart(t, "emulsion", shellfishCream())
	raw.press("lab-emulsion-thin", 0)
	_, ok := raw.change()
	assert.False(t, ok, "raw egg does not go in")
}

func TestEmulsionBadInput(t *testing.T) {
	for name, c := range map[string]struct {
		f    formula.Fields
		more []string
		says string
	}{
		"nothing":        {formula.Fields{"make": "liquid"}, nil, "Put the ingredients"},
		"no oil":         {panOf("egg yolk", "30", "lime juice", "10"), nil, "No oil yet"},
		"no emulsifier":  {panOf("lime juice", "30", "sunflower oil", "60"), []string{"style", "cold-cream"}, "Nothing here holds the droplets"},
		"no acid either": {panOf("water", "30", "sunflower oil", "60"), nil, "Nothing here holds the droplets"},
		"oil over 95":    {panOf("egg yolk", "4", "sunflower oil", "196"), nil, "nobody has held more than"},
		"oil in water":   {panOf("egg yolk", "30", "lime juice", "10", "sunflower oil", "60", "olive oil", "60"), []string{"side-" + digest("olive oil"), "water"}, "Move it to the oils"},
		"water as oil":   {panOf("egg yolk", "30", "lime juice", "10", "sunflower oil", "60"), []string{"side-" + digest("lime juice"), "oil"}, "Move it to the watery parts"},
		"covers too few": {shellfishCream(), []string{"covers", "0"}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			p := openPart(t, "emulsion", c.f, c.more...)
			assert.Contains(t, p.text("lab-emulsion-refused"), c.says)
			if c.says == "" {
				assert.NotEmpty(t, p.places["say lab-emulsion-covers"][0])
			}
			assert.False(t, p.visible("lab-emulsion-answer"), "there never was one")
		})
	}
}

// What was a good answer stays, dimmed.
func TestEmulsionKeepsTheLastGoodAnswer(t *testing.T) {
	p := openPart(t, "emulsion", shellfishCream())
	p.typed("lab-emulsion-portion", "8")
	p.typed("lab-emulsion-covers", "-3")
	assert.Equal(t, []string{"stale"}, p.places["state lab-emulsion-answer"])
	assert.InDelta(t, 212, p.value("lab-emulsion-total"), 1e-6)
	p.press("lab-emulsion-make", 0)
	_, ok := p.change()
	assert.False(t, ok, "a stale answer is not put into the pan")
	p.typed("lab-emulsion-covers", "24")
	assert.Equal(t, []string{""}, p.places["state lab-emulsion-answer"])
}

// Raw egg with a measured pH of 7 is named with the limit and the other way.
func TestEmulsionRawEggAtNeutralPH(t *testing.T) {
	p := openPart(t, "emulsion", shellfishCream(), "ph", "7")
	warn := p.all("lab-emulsion-warn")
	assert.Contains(t, warn, "not acid enough")
	assert.Contains(t, warn, "pH 3.3")
	assert.Contains(t, warn, "pasteurised egg")
}

// A herb oil from the garden with watery parts at pH over 4.6 is botulism's place.
func TestEmulsionOfGarlicOilWarns(t *testing.T) {
	p := openPart(t, "emulsion", panOf("whole milk", "60", "garlic oil", "100"))
	assert.Contains(t, p.all("lab-emulsion-warn"), "botulism")
}

// With lecithin alone nothing is said of egg; with egg its place in the work is.
func TestEmulsionWithoutEgg(t *testing.T) {
	f := panOf("water", "150", "lemon juice", "20", "sunflower oil", "300")
	f["dose-1-name"], f["dose-1-amount"], f["dose-1-unit"] = "lecithin", "5", "g"
	p := openPart(t, "emulsion", f)
	assert.NotContains(t, p.places["say lab-emulsion-style"][0], "egg")
	assert.Contains(t, p.places["say lab-emulsion-style"][0], "mayonnaise")
	assert.NotContains(t, strings.ToLower(p.all("lab-emulsion-step")), "egg")
	p = openPart(t, "emulsion", shellfishCream())
	assert.Contains(t, p.all("lab-emulsion-step"), "Stir egg")
}

func TestEmulsionButterAndNuts(t *testing.T) {
	p := openPart(t, "emulsion", panOf("egg yolk", "40", "lemon juice", "15", "butter", "150"), "serve", "70")
	assert.Contains(t, p.places["say lab-emulsion-style"][0], "hot butter sauce")
	assert.Contains(t, p.all("lab-emulsion-warn"), "leaks or curdles")
	p = openPart(t, "emulsion", panOf("water", "60", "almond butter", "120"))
	assert.Contains(t, p.places["say lab-emulsion-style"][0], "nut")
	assert.Contains(t, p.all("lab-emulsion-warn"), "nuts")
}

// Every row of the emulsion's catalogue that an ingredient is like exists, and
// carries its own composition.
func TestEmulsionLikes(t *testing.T) {
	for id, kind := range creamLikes {
		_, ok := emulsion.Find(kind)
		assert.True(t, ok, id)
	}
	for _, kind := range creamAgents {
		_, ok := emulsion.Find(kind)
		assert.True(t, ok, kind)
	}
}

func FuzzPlateInputs(f *testing.F) {
	f.Add("24", "8", "20", "3.5", uint64(1))
	f.Add("-1", "1e9", "½", "NaN", uint64(2))
	f.Fuzz(func(t *testing.T, a, b, c, d string, seed uint64) {
		for _, x := range []*string{&a, &b, &c, &d} {
			// A browser hands on nothing else; what is typed is echoed, and must not look like a slip.
			*x = strings.NewReplacer("NaN", "n", "Inf", "i", "{", "(").Replace(strings.ToValidUTF8(*x, "?"))
		}
		rng := rand.New(rand.NewPCG(seed, 1))
		pans := []formula.Fields{shellfishCream(), panOf("orange juice", "300"), panOf("whole milk", "250"), panOf("parsley", a), {}}
		fields := pans[rng.IntN(len(pans))]
		values := []string{a, b, c, d, "", "1"}
		inputs := [][]string{newCream().inputs(), newPearls().inputs(), newDrier().inputs()}
		for _, list := range inputs {
			for _, name := range list {
				fields[name] = values[rng.IntN(len(values))]
			}
		}
		fields["lab-sphere-method"] = []string{"direct", "reverse", "set-shear", ""}[rng.IntN(4)]
		fields["lab-dry-form"] = []string{"powder", "crisp", "sheet", ""}[rng.IntN(4)]
		p := open(t, fields)
		for _, part := range []string{"emulsion", "sphere", "dry"} {
			p.lab.Open(part, true)
			p.update()
			for _, button := range []string{"make", "loosen", "thin", "turn", "put", "note", "drop"} {
				p.lab.Do("lab-"+part+"-"+button, rng.IntN(3))
				p.update()
			}
		}
	})
}

// Oil and vinegar with nothing that holds them are a vinaigrette; with 0.25 % of
// xanthan in it there is nothing to shake.
func TestOilAndVinegarAreAVinaigrette(t *testing.T) {
	p := openPart(t, "emulsion", panOf("red wine vinegar", "50", "olive oil", "150", "salt", "2"))
	assert.Empty(t, p.text("lab-emulsion-refused"))
	assert.Contains(t, p.places["say lab-emulsion-style"][0], "vinaigrette")
	assert.Contains(t, p.all("lab-emulsion-step"), "shake hard")
	assert.Contains(t, p.all("lab-emulsion-warn"), "shake it just before serving")
	fields := panOf("red wine vinegar", "50", "water", "50", "olive oil", "150", "salt", "2")
	fields["dose-1-name"], fields["dose-1-amount"], fields["dose-1-unit"] = "xanthan gum", "0.6", "g"
	p = openPart(t, "emulsion", fields)
	assert.Contains(t, p.all("lab-emulsion-why"), "holds the droplets in place")
	assert.NotContains(t, p.all("lab-emulsion-warn"), "shake")
	assert.Contains(t, p.all("lab-emulsion-step"), "thin stream")
	p = openPart(t, "emulsion", panOf("red wine vinegar", "50", "mustard", "10", "olive oil", "150"))
	assert.Contains(t, p.places["say lab-emulsion-style"][0], "cold cream", "mustard holds it")
}

// Where nothing is fatter than a cream, its fat is the oil.
func TestCreamAndChocolateAreTheOil(t *testing.T) {
	p := openPart(t, "emulsion", panOf("cream", "200", "lemon juice", "20"), "serve", "75")
	assert.Empty(t, p.text("lab-emulsion-refused"))
	assert.InDelta(t, 0.328, p.value("lab-emulsion-oil-mass"), 0.01, "200 g at 36.1 %, of 220 g")
	assert.Contains(t, p.all("lab-emulsion-warn"), "can curdle")
	assert.NotContains(t, p.all("lab-emulsion-step"), "drop by drop")
	p = openPart(t, "emulsion", panOf("dark chocolate", "200", "cream", "200"))
	assert.Empty(t, p.text("lab-emulsion-refused"))
	assert.Contains(t, p.all("lab-emulsion-step"), "blend until smooth")
	p = openPart(t, "emulsion", panOf("egg yolk", "20", "cream", "50", "lemon juice", "10", "sunflower oil", "100"))
	assert.InDelta(t, (100+0.36*50)/180, p.value("lab-emulsion-oil-mass"), 0.005, "beside an oil, cream is watery")
}

// Nobody can beat in butter or a nut paste by the drop.
func TestEachFatGoesInAsItCan(t *testing.T) {
	p := openPart(t, "emulsion", panOf("white wine", "60", "white wine vinegar", "30", "butter", "250"), "serve", "52")
	assert.Contains(t, p.all("lab-emulsion-step"), "cold butter (250\u00a0g) cube by cube")
	assert.NotContains(t, p.all("lab-emulsion-step"), "drop by drop")
	assert.Contains(t, p.all("lab-emulsion-warn"), "within 2\u00a0h,")
	assert.NotContains(t, p.all("lab-emulsion-warn"), "a day", "it is eaten the same evening")
	assert.Contains(t, p.all("lab-emulsion-siphon"), "gelatin is liquid when this warm")
	p = openPart(t, "emulsion", panOf("almond butter", "100", "water", "150", "olive oil", "30"))
	assert.Contains(t, p.all("lab-emulsion-step"), "into the paste (100\u00a0g)")
	assert.Contains(t, p.all("lab-emulsion-step"), "first 3\u00a0g of the oil drop by drop")
	p = openPart(t, "emulsion", panOf("egg yolk", "60", "white wine", "40", "clarified butter", "250"))
	assert.Contains(t, p.all("lab-emulsion-step"), "first 25\u00a0g of the oil drop by drop")
	assert.NotContains(t, p.all("lab-emulsion-warn"), "room temperature before chilling", "it is served hot")
}

// A part that has no answer yet shows no heading with nothing below it.
func TestNoStepsWithoutAnAnswer(t *testing.T) {
	for part, pan := range map[string][2][]string{
		"emulsion": {{"pear juice", "300"}, {"egg yolk", "30", "sunflower oil", "200", "lemon juice", "30"}},
		"sphere":   {{"sunflower oil", "300"}, {"melon juice", "300"}},
		"dry":      {{"water", "300"}, {"raspberry puree", "300"}},
	} {
		more := "lab-" + part + "-more"
		p := openPart(t, part, panOf(pan[0]...))
		require.NotEmpty(t, p.text("lab-"+part+"-refused"), part)
		assert.False(t, p.visible(more), part)
		p = openPart(t, part, panOf(pan[1]...))
		require.Empty(t, p.text("lab-"+part+"-refused"), part)
		assert.True(t, p.visible(more), part)
		assert.NotZero(t, p.rows("lab-"+part+"-step"), part)
	}
}

// The cooking liquid of chickpeas carries three to five times its weight.
func TestTheLiquidOfChickpeasHolds(t *testing.T) {
	p := openPart(t, "emulsion", panOf("cooking liquid of chickpeas", "50", "mustard", "5", "sunflower oil", "180", "lemon juice", "10"))
	assert.NotContains(t, p.all("lab-emulsion-warn"), "more than these emulsifiers carry")
	p = openPart(t, "emulsion", panOf("cooking liquid of chickpeas", "20", "sunflower oil", "180", "lemon juice", "20"))
	assert.Contains(t, p.all("lab-emulsion-warn"), "more than these emulsifiers carry")
}

// All fourteen allergens can be said of what the page does not know.
func TestEveryAllergenCanBeSaid(t *testing.T) {
	for _, name := range []string{"gluten", "crustaceans", "egg", "fish", "peanuts", "soya", "milk", "nuts", "celery", "mustard", "sesame", "sulphites", "lupin", "molluscs"} {
		p := openPart(t, "emulsion", panOf("house paste", "50", "egg yolk", "20", "water", "50", "sunflower oil", "60"), name, "1")
		assert.Regexp(t, "Contains [^.]*"+texts(t)["allergen."+name], p.all("lab-emulsion-warn"))
	}
	body, err := os.ReadFile("../../web/parts/lab/emulsion.html")
	require.NoError(t, err)
	for _, name := range creamHolds {
		assert.Contains(t, string(body), `name="lab-emulsion-`+name+`"`)
	}
}

// A pH that was measured is not asked for again as "worked out".
func TestAMeasuredPHIsNotAskedForAgain(t *testing.T) {
	p := openPart(t, "emulsion", panOf("egg yolk", "20", "lemon juice", "15", "sunflower oil", "100"))
	computed := p.all("lab-emulsion-warn")
	assert.NotContains(t, computed, "measured at")
	p.typed("lab-emulsion-ph", "3.1")
	assert.Contains(t, p.all("lab-emulsion-warn"), "measured at pH 3.0 to 3.2: within")
	assert.NotContains(t, p.all("lab-emulsion-warn"), "worked out. Measure")
	p.typed("lab-emulsion-ph", "3.3")
	assert.Contains(t, p.all("lab-emulsion-warn"), "too near")
	p.typed("lab-emulsion-ph", "4.4")
	assert.Contains(t, p.all("lab-emulsion-warn"), "not acid enough")
}
