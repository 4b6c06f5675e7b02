package lab

import (
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/agent"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

func TestTheFormulaIsRead(t *testing.T) {
	p := open(t, pear())
	assert.True(t, p.visible("lab-swap-answer"))
	assert.Equal(t, "Firm set", p.text("lab-swap-now-texture"))
	modulus, ok := p.figure("lab-swap-now-modulus")
	require.True(t, ok)
	want, err := gel.FirmnessOf([]gel.Dose{{Agent: "agar", Share: 0.8 / 100.8}}, gel.Conditions{}, nil)
	require.NoError(t, err)
	assert.InEpsilon(t, want.Modulus.Typical, modulus, 1e-9)
	strain, _ := p.figure("lab-swap-now-strain")
	assert.InDelta(t, want.Break.Typical, strain, 1e-9)
	assert.Contains(t, p.text("lab-swap-now-modulus-range"), " to ")
	assert.NotEmpty(t, p.places["set lab-swap-now-gel d"][0])
	assert.NotZero(t, p.rows("lab-swap-warn"), "agar's cautions")
	assert.Contains(t, p.text("lab-swap-warn-1-source"), "published [")
}

// What is broken stands otherwise than the gel that its figures are of, and the picture
// says so.
func TestPictureOfABrokenGelIsASketch(t *testing.T) {
	f := pear()
	f["texture"] = "fluid-gel"
	p := open(t, f)
	assert.Contains(t, p.text("lab-swap-now-texture"), "Fluid gel")
	_, known := p.figure("lab-swap-now-modulus")
	require.True(t, known)
	assert.Contains(t, p.text("lab-swap-now-says"), "before it is broken")
	f["texture"] = "firm-set"
	assert.NotContains(t, open(t, f).text("lab-swap-now-says"), "sketch")
}

func TestOffersAreRankedForTheBatch(t *testing.T) {
	p := open(t, pear())
	assert.Len(t, p.offers(), bestOffers)
	assert.NotContains(t, p.offers(), "agar", "that is what it is made of")
	assert.True(t, p.visible("lab-swap-more"))
	p.press("lab-swap-more", 0)
	assert.Greater(t, len(p.offers()), 15)
	assert.False(t, p.visible("lab-swap-more"))
	one, _ := p.figure("lab-swap-offer-1-mass")
	p.fields["batch-liquid"] = "1000"
	p.tell()
	two, _ := p.figure("lab-swap-offer-1-mass")
	assert.InEpsilon(t, 2*one, two, 1e-9, "twice the liquid")
	assert.NotZero(t, p.rows("lab-swap-refused"))
	assert.NotEmpty(t, p.text("lab-swap-refused-1-text"))
}

func TestAnOfferOpensAndCloses(t *testing.T) {
	p := open(t, pear())
	row := p.rowOf("low-acyl gellan")
	p.press("lab-swap-pick", row)
	at := "lab-swap-offer-" + strconv.Itoa(row)
	assert.Equal(t, []string{at + "-inside"}, p.places["place lab-swap-chosen"])
	assert.Equal(t, []string{"aria-expanded", "true"}, p.places["set "+at+"-pick aria-expanded"])
	mass, _ := p.figure(at + "-mass")
	weigh, _ := p.figure("lab-swap-gram-1-mass")
	assert.Equal(t, mass, weigh)
	assert.Equal(t, 3, p.rows("lab-swap-trial"))
	low, _ := p.figure("lab-swap-trial-1-mass")
	mid, _ := p.figure("lab-swap-trial-2-mass")
	high, _ := p.figure("lab-swap-trial-3-mass")
	assert.True(t, low < mid && mid < high)
	assert.InDelta(t, mass/5, mid, 0.02, "a trial is a fifth of 500 g")
	for _, list := range []string{"differ", "care", "step", "place", "say"} {
		assert.NotZero(t, p.rows("lab-swap-"+list), list)
	}
	for _, drawing := range []string{"was-gel", "will-gel", "curve-was-line", "curve-will-line", "curve-will-band", "curve-was-mark", "curve-grid"} {
		assert.NotEmpty(t, p.places["set lab-swap-"+drawing+" d"][1], drawing)
	}
	p.press("lab-swap-pick", row)
	assert.Equal(t, []string{"lab-swap-home"}, p.places["place lab-swap-chosen"])
	assert.Equal(t, []string{"aria-expanded", "false"}, p.places["set "+at+"-pick aria-expanded"])
}

func TestAPickedOfferThatGoesIsClosed(t *testing.T) {
	p := open(t, pear())
	p.press("lab-swap-more", 0)
	p.press("lab-swap-pick", p.rowOf("gelatin"))
	p.typed("lab-swap-vegan", "1")
	assert.Equal(t, []string{"lab-swap-home"}, p.places["place lab-swap-chosen"])
	p.press("lab-swap-use", 0)
	_, asked := p.change()
	assert.False(t, asked)
}

// An offer that moves up does not leave its inside in a row that goes.
func TestAPickedOfferThatMovesUpKeepsItsInside(t *testing.T) {
	w := &swap{stands: 22}
	l := New(englishTexts(t))
	w.takeHome(&l.state, 3, 6)
	assert.Zero(t, w.stands, "row 22 goes, with what stands in it")
	w.stands = 3
	w.takeHome(&l.state, 4, 6)
	assert.Equal(t, 3, w.stands, "row 3 stays")
}

// What the pan weighs after the change is what the offer said.
func TestUsingAnOffer(t *testing.T) {
	gelatins := 0
	for name, fields := range map[string]formula.Fields{
		"shares":      pear(),
		"grams":       with(pear(), "dose-1-amount", "4", "dose-1-unit", "g"),
		"boiled down": with(pear(), "loss-boil", "20", "loss-boil-unit", "%"),
		"other batch": with(pear(), "batch-liquid", "1,35", "batch-liquid-unit", "kg"),
		"a comma":     with(pear(), "dose-1-amount", "0,8"),
		"with salt":   with(pear(), "dose-2-name", "citric acid", "dose-2-amount", "1", "dose-2-unit", "g"),
	} {
		t.Run(name, func(t *testing.T) {
			p := open(t, fields)
			p.press("lab-swap-more", 0)
			for _, offer := range p.offers() {
				p.press("lab-swap-more", 0)
				row := p.rowOf(offer)
				p.press("lab-swap-pick", row)
				mass, ok := p.figure("lab-swap-offer-" + strconv.Itoa(row) + "-mass")
				require.True(t, ok)
				p.press("lab-swap-use", 0)
				c, asked := p.change()
				require.True(t, asked)
				assert.Contains(t, c.What, "in place of agar.")
				r := c.Fields.Read(findAgent)
				require.False(t, r.Bad(), r.Notes)
				b, err := gel.Convert(r.Formula, gel.Shelf{})
				require.NoError(t, err)
				sum := 0.0
				for i, d := range r.Formula.Doses {
					if d.Agent != "" {
						sum += float64(b.Doses[i].Mass)
					}
					if d.Agent == "gelatin" {
						gelatins++
						assert.InDelta(t, agent.ByID("gelatin").Grade.Value.Typical, d.Grade, 1e-9, "grams of gelatin say of which")
					}
				}
				assert.InEpsilon(t, mass, sum, 1e-9, offer)
				assert.Len(t, r.Formula.Doses, strings.Count(offer, " + ")+1+len(p.unknown()))
				_, again := p.change()
				assert.False(t, again, "asked once")
			}
		})
	}
	assert.Positive(t, gelatins)
}

// unknown are the doses that the catalogue does not know.
func (p *page) unknown() []string {
	var names []string
	for _, d := range p.fields.Read(findAgent).Formula.Doses {
		if d.Agent == "" {
			names = append(names, d.Name)
		}
	}
	return names
}

func TestGuestsAreRespected(t *testing.T) {
	for _, c := range []struct {
		wish string
		fits func(*agent.Agent) bool
	}{
		{"vegan", func(a *agent.Agent) bool { return a.Vegan == agent.Yes }},
		{"vegetarian", func(a *agent.Agent) bool { return a.Vegetarian == agent.Yes }},
		{"no-pork", func(a *agent.Agent) bool { return a.PorkFree == agent.Yes }},
		{"no-milk", func(a *agent.Agent) bool { return !holds(a, "milk") }},
		{"no-egg", func(a *agent.Agent) bool { return !holds(a, "egg") }},
		{"no-soy", func(a *agent.Agent) bool { return !holds(a, "soy") }},
		{"no-fish", func(a *agent.Agent) bool { return !holds(a, "fish") }},
	} {
		t.Run(c.wish, func(t *testing.T) {
			for _, texture := range agent.Textures {
				p := open(t, with(pear(), "lab-swap-texture", string(texture), "lab-swap-"+c.wish, "1"))
				p.press("lab-swap-more", 0)
				for _, offer := range p.offers() {
					for _, name := range strings.Split(offer, " + ") {
						a := p.agent(name)
						assert.True(t, c.fits(a), "%s for %s", name, texture)
					}
				}
			}
		})
	}
}

// agent is the agent of a name on the page.
func (p *page) agent(name string) *agent.Agent {
	p.t.Helper()
	for _, a := range agent.All() {
		if p.lab.state.agentName(a.ID) == name {
			return a
		}
	}
	require.Fail(p.t, "no agent", name)
	return nil
}

func holds(a *agent.Agent, what agent.Word) bool {
	for _, w := range a.Allergens {
		if w == what {
			return true
		}
	}
	return false
}

func TestOnlyMyShelf(t *testing.T) {
	p := open(t, with(pear(), "lab-swap-only-shelf", "1"))
	assert.False(t, p.visible("lab-swap-only-shelf-ask"), "an empty shelf refuses nothing")
	assert.NotEmpty(t, p.offers())
	p.shelf.Agents = []formula.Owned{{Agent: "gellan-la"}, {Agent: "agar", Grade: 1100}, {Agent: "gone"}, {Agent: "pectin-hm", Grade: 1}}
	p.shelf.PowderBloom = 180
	p.tell()
	assert.True(t, p.visible("lab-swap-only-shelf-ask"))
	assert.Subset(t, []string{"low-acyl gellan", "gelatin", "agar + gelatin", "agar + low-acyl gellan", "high-methoxyl pectin"}, p.offers())
	assert.Contains(t, p.offers(), "gelatin")
	strong, _ := p.figure("lab-swap-now-modulus")
	p.shelf.Agents = nil
	p.tell()
	usual, _ := p.figure("lab-swap-now-modulus")
	assert.Greater(t, strong, usual, "the shelf's agar is stronger than the usual one")
}

func TestServedHot(t *testing.T) {
	p := open(t, pear())
	p.press("lab-swap-more", 0)
	assert.Contains(t, p.offers(), "gelatin")
	p.typed("lab-swap-serve", "60")
	p.press("lab-swap-more", 0)
	assert.NotContains(t, p.offers(), "gelatin", "it melts in the hand")
	assert.Contains(t, p.text("lab-swap-known"), "60")
}

func TestConditionsThatCannotBe(t *testing.T) {
	for value, sentence := range map[string]string{"15": "at the most", "0": "at the least", "sour": "not a figure", "3,4,5": "Two decimal marks", "-4": "at the least", "1e999": "not a figure"} {
		p := open(t, with(pear(), "lab-swap-ph", value))
		require.NotEmpty(t, p.places["say lab-swap-ph"], value)
		assert.Contains(t, p.places["say lab-swap-ph"][0], sentence, value)
		assert.Equal(t, []string{"1"}, p.places["invalid lab-swap-ph"])
		assert.NotEmpty(t, p.offers(), "the rest is answered all the same")
		assert.Empty(t, p.text("lab-swap-known"))
	}
}

func TestWhatCannotBeAnswered(t *testing.T) {
	for name, c := range map[string]struct {
		fields formula.Fields
		says   string
	}{
		"nothing in the pan": {formula.Fields{"make": "liquid", "batch-liquid": "500", "batch-liquid-unit": "g"}, "Add an agent"},
		"a wrong figure":     {with(pear(), "dose-1-amount", "1,2,3"), "A figure in the pan"},
		"no target":          {with(pear(), "batch-liquid", ""), "A figure in the pan"},
		"only unknown names": {with(pear(), "dose-1-name", "moon dust"), "Add an agent"},
	} {
		t.Run(name, func(t *testing.T) {
			p := open(t, c.fields)
			assert.Contains(t, p.text("lab-swap-cannot"), c.says)
			assert.False(t, p.visible("lab-swap-answer"))
			p.press("lab-swap-pick", 1)
			p.press("lab-swap-use", 0)
			_, asked := p.change()
			assert.False(t, asked)
		})
	}
}

// An answer that no longer holds must not stand there.
func TestAnAnswerGoesWithItsQuestion(t *testing.T) {
	p := open(t, pear())
	require.NotEmpty(t, p.offers())
	p.press("lab-swap-pick", 1)
	p.fields["dose-1-amount"] = "x"
	p.tell()
	assert.False(t, p.visible("lab-swap-answer"))
	assert.False(t, p.visible("lab-swap-offers"))
	p.press("lab-swap-use", 0)
	_, asked := p.change()
	assert.False(t, asked)
	p.fields["dose-1-amount"] = "0.8"
	p.tell()
	assert.True(t, p.visible("lab-swap-answer"))
	assert.True(t, p.visible("lab-swap-offers"))
}

func TestUnknownNamesGetTheNearest(t *testing.T) {
	p := open(t, with(pear(), "dose-2-name", "gelan", "dose-2-amount", "1", "dose-2-unit", "g"))
	assert.Contains(t, p.text("lab-swap-count-1-text"), "Near it: ")
	assert.True(t, p.visible("lab-swap-answer"))
}

func TestVolumesAndSheetsAreCountedAsUsual(t *testing.T) {
	p := open(t, with(pear(), "part-1-unit", "ml", "batch-liquid-unit", "ml", "dose-1-amount", "4", "dose-1-unit", "g"))
	assert.True(t, p.visible("lab-swap-answer"))
	assert.Contains(t, p.text("lab-swap-count-1-text"), "1\u00a0g for 1\u00a0ml")
	p = open(t, with(pear(), "dose-1-name", "gelatin", "dose-1-amount", "5", "dose-1-unit", "sheet"))
	assert.True(t, p.visible("lab-swap-answer"))
	assert.Contains(t, p.text("lab-swap-count-1-text"), "a sheet")
}

func TestAFluidGelIsReadAsOne(t *testing.T) {
	p := open(t, with(pear(), "lab-swap-texture", "fluid-gel"))
	assert.True(t, strings.HasPrefix(p.text("lab-swap-now-texture"), "Fluid gel, "), p.text("lab-swap-now-texture"))
}

func TestWhatFailsIsSaidFirst(t *testing.T) {
	p := open(t, with(pear(), "dose-1-name", "gelatin", "dose-1-amount", "1.5", "lab-swap-enzymes", "1"))
	assert.True(t, p.visible("lab-swap-now-fails"))
	assert.Contains(t, p.text("lab-swap-now-fails"), "enzymes")
	for i := range p.rows("lab-swap-warn") {
		assert.NotEqual(t, p.text("lab-swap-now-fails"), p.text("lab-swap-warn-"+strconv.Itoa(i+1)+"-text"), "not twice")
	}
}

// Whatever is typed, every figure is finite and every sentence is whole; the
// page of the tests checks both.
func TestManyFormulas(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	all := agent.All()
	p := open(t, pear())
	for range 150 {
		p.fields = pear()
		for i := range 1 + r.IntN(3) {
			p.fields[formula.DoseField(i, "name")] = string(all[r.IntN(len(all))].ID)
			p.fields[formula.DoseField(i, "amount")] = strconv.FormatFloat(0.01*float64(1+r.IntN(1500)), 'f', 2, 64)
			p.fields[formula.DoseField(i, "unit")] = "%"
		}
		for _, c := range conditions {
			if r.IntN(3) == 0 {
				p.fields[swapInput(c.name)] = strconv.FormatFloat(c.low+r.Float64()*(c.high-c.low), 'f', 2, 64)
			}
		}
		for _, name := range (&swap{}).inputs() {
			if r.IntN(8) == 0 && p.fields[name] == "" {
				p.fields[name] = "1"
			}
		}
		p.fields["lab-swap-texture"] = string(append(agent.Textures[:], "", "", "nonsense")[r.IntN(len(agent.Textures)+3)])
		p.tell()
		p.press("lab-swap-pick", 1+r.IntN(4))
		p.press("lab-swap-use", 0)
		if c, ok := p.change(); ok {
			assert.False(t, c.Fields.Read(findAgent).Bad(), c.Fields)
		}
	}
}

func FuzzInput(f *testing.F) {
	f.Add("lab-swap-ph", "3,4", "lab-swap-pick", 1)
	f.Add("lab-swap-serve", "-99999999999", "lab-swap-use", 0)
	f.Add("lab-swap-texture", "emulsion", "lab-swap-more", -1)
	f.Add("dose-1-amount", "1e300", "lab-", 1<<40)
	f.Fuzz(func(t *testing.T, name, value, do string, row int) {
		p := open(t, pear())
		p.lab.Input(name, value)
		p.update()
		p.lab.Do(do, row)
		p.update()
		_, _ = p.change()
	})
}

func BenchmarkShow(b *testing.B) {
	p := open(b, pear())
	p.press("lab-swap-pick", 1)
	for b.Loop() {
		p.lab.stale = true
		p.lab.refresh()
	}
}

// What the liquid does to the firmness is told with its source: a figure that
// was read as published, one that was filled in around a published direction as
// from memory (agar in sugar: x 1.2 to 1.8 at 30 % is in the work on Gracilaria
// agar, the fall at 60 % only as a direction in the one on agarose).
func TestFactorsCarryTheirTag(t *testing.T) {
	why := func(list, brix string) string {
		p := open(t, with(pear(), "lab-swap-brix", brix))
		for i := range p.rows(list) {
			if strings.HasPrefix(strings.ToLower(p.text(view.Row(list, i, "text"))), "sugar "+brix) {
				return p.text(view.Row(list, i, "text")) + " | " + p.text(view.Row(list, i, "source"))
			}
		}
		t.Errorf("nothing about the sugar at %s", brix)
		return ""
	}
	assert.Regexp(t, `agar, firmness ×\x{a0}1\.5 .*published`, why("lab-swap-why", "30"))
	assert.Regexp(t, `\| .*memory`, why("lab-swap-why", "50"))
	assert.NotRegexp(t, `\| .*published`, why("lab-swap-why", "50"))
	p := open(t, with(pear(), "dose-1-name", "gelatin", "dose-1-amount", "2", "lab-swap-brix", "50"))
	p.press("lab-swap-more", 0)
	for i, name := range p.offers() {
		if name == "agar" {
			p.press("lab-swap-pick", i+1)
		}
	}
	found := false
	for i := range p.rows("lab-swap-place") {
		if strings.Contains(p.text(view.Row("lab-swap-place", i, "text")), "agar, firmness ×\u00a0") {
			found = true
			assert.Contains(t, p.text(view.Row("lab-swap-place", i, "source")), "memory")
		}
	}
	assert.True(t, found, "an offer tells what it was worked out from")
}

// Each filter on what the liquid goes through takes out what does not stand it,
// with a reason among those that will not do, and leaves what does.
func TestTheLiquidsFilters(t *testing.T) {
	for _, c := range []struct {
		name         string
		from         formula.Fields
		input, value string
		gone, stays  string
	}{
		{"served hot", pear(), "serve", "60", "gelatin", "low-acyl gellan"},
		{"served cold", pear(), "serve", "5", "methylcellulose", "gelatin"},
		{"frozen", with(pear(), "dose-1-name", "gelatin", "dose-1-amount", "2"), "frozen", "1", "agar", "high-acyl gellan"},
		{"acid", with(pear(), "dose-1-name", "xanthan", "dose-1-amount", "0.3"), "ph", "2.8", "cellulose gum (CMC)", "acid-stable modified starch"},
		{"alcohol", pear(), "abv", "33", "kappa carrageenan", "low-acyl gellan"},
		{"raw fruit", pear(), "enzymes", "1", "gelatin", "low-acyl gellan"},
	} {
		p := open(t, c.from)
		p.press("lab-swap-more", 0)
		assert.Contains(t, p.offers(), c.gone, c.name)
		refused := p.rows("lab-swap-refused")
		p.typed("lab-swap-"+c.input, c.value)
		p.press("lab-swap-more", 0)
		assert.NotContains(t, p.offers(), c.gone, c.name)
		assert.Contains(t, p.offers(), c.stays, c.name)
		assert.Greater(t, p.rows("lab-swap-refused"), refused, c.name)
		told := false
		for i := range p.rows("lab-swap-refused") {
			told = told || strings.Contains(strings.ToLower(p.text(view.Row("lab-swap-refused", i, "text"))), strings.ToLower(c.gone))
		}
		assert.True(t, told, "%s: the reason names %s", c.name, c.gone)
	}
}

// Gluten is never in an agent by itself; where a label has to be read for it,
// the offer says so as a danger.
func TestNoGlutenWarnsOfLabels(t *testing.T) {
	p := open(t, with(pear(), "dose-1-name", "guar", "dose-1-amount", "0.6", "lab-swap-no-gluten", "1"))
	p.press("lab-swap-more", 0)
	p.press("lab-swap-pick", p.rowOf("xanthan gum"))
	found := false
	for i := range p.rows("lab-swap-care") {
		found = found || strings.Contains(p.text(view.Row("lab-swap-care", i, "text")), "may hold gluten: read the label before")
	}
	assert.True(t, found)
}

// The curve of an offer is of the liquid that its method makes: kappa in water gets
// potassium, low-methoxyl pectin calcium, and what is told of both agrees.
func TestTheCurveCountsTheSaltsOfTheMethod(t *testing.T) {
	for name, offer := range map[string]string{"water": "kappa carrageenan", "apple juice": "low-methoxyl pectin", "chicken stock": "low-acyl gellan"} {
		fields := panOf(name, "500")
		fields["dose-1-name"], fields["dose-1-amount"], fields["dose-1-unit"] = "gelatin", "1.8", "%"
		p := open(t, fields)
		p.press("lab-swap-more", 0)
		p.press("lab-swap-pick", p.rowOf(offer))
		will := p.value("lab-swap-will-modulus")
		says := p.text("lab-swap-say-2-text")
		require.Contains(t, says, offer)
		told := p.lab.state.rough(will, unit.Pascal)
		assert.Contains(t, says, "gives about "+told, "%s in %s: %s", offer, name, says)
	}
}

// Carrageenan sets by orders firmer in milk, and a spoon of milk more or less
// decides which it is counted as: between the two that is said. 5 g in 500 of milk
// turn 13 kPa into 86 Pa.
func TestPartMilkIsSaid(t *testing.T) {
	warned := func(milk, water, agent string) string {
		fields := panOf("whole milk", milk, "water", water)
		fields["dose-1-name"], fields["dose-1-amount"], fields["dose-1-unit"] = agent, "0.3", "%"
		return open(t, fields).all("lab-swap-warn")
	}
	assert.Contains(t, warned("240", "260", "kappa carrageenan"), "Counted as milk, it may come much softer")
	assert.Contains(t, warned("235", "265", "kappa carrageenan"), "Counted as water, it may come much firmer")
	assert.Contains(t, warned("60", "440", "iota carrageenan"), "Counted as water")
	for _, whole := range [][2]string{{"500", "1"}, {"10", "490"}} {
		assert.NotContains(t, warned(whole[0], whole[1], "kappa carrageenan"), "Counted as", whole)
	}
	assert.NotContains(t, warned("240", "260", "agar"), "Counted as", "agar does not mind")
	cream := panOf("double cream, 48 % fat", "500")
	cream["dose-1-name"], cream["dose-1-amount"], cream["dose-1-unit"] = "kappa carrageenan", "0.2", "%"
	assert.NotContains(t, open(t, cream).all("lab-swap-warn"), "Counted as")
}

// What is known of the liquid names the salt that matters, and not the hundredth
// of a percent that a juice has.
func TestTracesAreNotNamed(t *testing.T) {
	for typed, named := range map[string]bool{"0.01": false, "0.06": true, "1": true} {
		assert.Equal(t, named, strings.Contains(open(t, with(pear(), "lab-swap-salt", typed)).text("lab-swap-known"), "salt"), typed)
	}
}
