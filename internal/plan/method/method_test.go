package method_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/foam"
	"tremblant/internal/note"
	"tremblant/internal/plan/method"
	"tremblant/internal/plan/plantest"
	"tremblant/internal/plan/timeline"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// TestMixing: figures worked beforehand for splitting a liquid (equal heat
// capacities): share and rest for an agar mix that must stay at 45 °C.
func TestMixing(t *testing.T) {
	assert.InDelta(t, 38.75, method.Mix(250, 95, 750, 20), 1e-9)
	assert.InDelta(t, 46.25, method.Mix(250, 95, 750, 30), 1e-9)
	assert.InDelta(t, 44.98, method.Mix(333, 95, 667, 20), 0.01)
	assert.InDelta(t, 50.0, method.Mix(500, 95, 500, 5), 1e-9)
	assert.InDelta(t, 0.333, method.LeastShare(45, 95, 20), 0.001)
	assert.InDelta(t, 0.444, method.LeastShare(45, 95, 5), 0.001)
	assert.InDelta(t, 28.3, method.RestTemp(45, 95, 0.25), 0.05)
	assert.InDelta(t, 21.7, method.RestTemp(40, 95, 0.25), 0.05)
	assert.Zero(t, method.LeastShare(10, 95, 20))
	assert.Equal(t, 1.0, method.LeastShare(96, 95, 20))
}

// TestHotAcidMinutes: a third for each half unit (Thomas in Imeson, Thickening
// and Gelling Agents for Food, 1992, as quoted): one unit is a ninth.
func TestHotAcidMinutes(t *testing.T) {
	assert.InDelta(t, 5, method.HotMinutes(5, 4.5, 4.5), 1e-12)
	assert.InDelta(t, 5.0/3, method.HotMinutes(5, 4.5, 4.0), 1e-12)
	assert.InDelta(t, 5.0/9, method.HotMinutes(5, 4.5, 3.5), 1e-12)
	assert.InDelta(t, 15, method.HotMinutes(5, 4.5, 5.0), 1e-12)
}

func water(m unit.Mass) method.Liquid {
	return method.Liquid{Parts: []method.Part{{ID: "water", Mass: m, Temp: 20}}}
}

func doses(ps ...method.Process) []method.Dose {
	var out []method.Dose
	for _, p := range ps {
		out = append(out, method.Dose{Process: p, Mass: 2})
	}
	return out
}

// TestBlendTakesHighestNeedAndEarliestSet: agar (95, sets from 45) with gellan
// (90, sets from 60): one step at 95 for the longer hold, poured above 60.
func TestBlendTakesHighestNeedAndEarliestSet(t *testing.T) {
	m := build(t, method.Input{Doses: doses(gellan, agar, xanthan), Liquid: water(500), Target: method.SetGel})
	h := step(t, m, method.Hydrate)
	assert.Equal(t, []string{"agar", "gellan-la"}, h.Agents)
	temp, _ := arg(h, "temp")
	assert.Equal(t, 95.0, temp)
	assert.Equal(t, 90.0, h.Limits[0].Value)
	assert.Contains(t, codes(h.Why), method.CodeHottest)
	assert.Equal(t, 60.0, step(t, m, method.Pour).Limits[0].Value)
	assert.Equal(t, 1, count(m, method.Hydrate))
	assert.Equal(t, []string{"gellan-la", "agar", "xanthan"}, step(t, m, method.Disperse).Agents)
}

func arg(s method.Step, name string) (float64, bool) {
	for _, a := range s.Args {
		if a.Name == name {
			return a.Value, true
		}
	}
	return 0, false
}

func count(m method.Method, k method.Kind) int {
	n := 0
	for _, s := range m.Steps {
		if s.Kind == k {
			n++
		}
	}
	return n
}

// TestConflictingNeedsSplit: gelatin does not bear agar's boil, so it follows
// when the pan has cooled to 60, still above agar's 45.
func TestConflictingNeedsSplit(t *testing.T) {
	m := build(t, method.Input{Doses: doses(agar, gelatin), Liquid: water(500), Target: method.SetGel})
	order := kinds(m)
	assert.Less(t, slices.Index(order, method.Hydrate), slices.Index(order, method.CoolTo))
	assert.Less(t, slices.Index(order, method.CoolTo), slices.Index(order, method.Dissolve))
	cool := step(t, m, method.CoolTo)
	temp, _ := arg(cool, "temp")
	assert.Equal(t, 60.0, temp)
	assert.Empty(t, cool.Notes)
	assert.Equal(t, 45.0, step(t, m, method.Pour).Limits[0].Value)
}

// TestNoTemperatureSuitsBoth: high-acyl gellan sets from 80, above what gelatin bears.
func TestNoTemperatureSuitsBoth(t *testing.T) {
	m := build(t, method.Input{Doses: doses(gellanHA, gelatin), Liquid: water(500), Target: method.SetGel})
	cool := step(t, m, method.CoolTo)
	require.Contains(t, codes(cool.Notes), method.CodeConflict)
	assert.Equal(t, note.Caution, cool.Notes[0].Level)
}

func TestEggWhiteWaitsForTheHeatToPass(t *testing.T) {
	m := build(t, method.Input{Doses: doses(agar, eggwhite), Liquid: water(500), Target: method.SetGel})
	fold := step(t, m, method.FoldIn)
	require.Len(t, fold.Limits, 2)
	assert.Equal(t, 56.0, fold.Limits[0].Value)
	assert.Equal(t, 45.0, fold.Limits[1].Value)
	assert.NotContains(t, step(t, m, method.Hydrate).Agents, "eggwhite")
	for _, s := range m.Steps {
		if s.Kind == method.StirIn {
			assert.NotContains(t, s.Agents, "eggwhite")
		}
	}
}

func TestMethylcelluloseIsHydratedColdAndSetHot(t *testing.T) {
	m := build(t, method.Input{Doses: doses(mc), Liquid: water(500), Target: method.SetGel})
	assert.Equal(t, []method.Kind{method.Weigh, method.HotThird, method.ChillSwell, method.Sieve, method.CookSet}, kinds(m))
	assert.True(t, step(t, m, method.ChillSwell).Limits[0].Most)
	assert.Equal(t, 55.0, step(t, m, method.CookSet).Limits[0].Value)
}

func TestHeatSetBesideABoiledOne(t *testing.T) {
	m := build(t, method.Input{Doses: doses(mc, agar), Liquid: water(500), Target: method.SetGel})
	assert.Contains(t, codes(m.Notes), method.CodeHeatSets)
}

func TestHighMethoxylPectinAsksForAMeasuredPH(t *testing.T) {
	in := method.Input{Doses: doses(hmPectin), Target: method.SetGel, Liquid: water(200)}
	in.Liquid.PH = unit.Range{Low: 3, Typical: 3.2, High: 3.4}
	in.Liquid.Parts = append(in.Liquid.Parts, method.Part{ID: "sugar", Mass: 320, Role: method.Sugar, Temp: 20})
	ph := step(t, build(t, in), method.CheckPH)
	assert.Contains(t, codes(ph.Notes), method.CodePHMeasure)
	in.Liquid.PHMeasured = true
	assert.Empty(t, step(t, build(t, in), method.CheckPH).Notes)
}

func TestAllSour(t *testing.T) {
	in := method.Input{Doses: doses(agar), Target: method.SetGel, Liquid: method.Liquid{PH: unit.Range{Low: 2.9, Typical: 3.1, High: 3.3},
		Parts: []method.Part{{ID: "verjus", Mass: 400, Role: method.Acid, Temp: 10}}}}
	m := build(t, in)
	require.Equal(t, []note.Code{method.CodeAcidHot}, codes(m.Notes))
	a, _ := m.Notes[0].Arg("minutes")
	assert.InDelta(t, 20*math.Pow(3, (2.9-3.5)/0.5), a.Value, 1e-9)
	assert.Zero(t, count(m, method.AcidIn))
}

func TestAlcoholIsLateAndDangerous(t *testing.T) {
	in := method.Input{Doses: doses(agar), Target: method.SetGel, Liquid: water(300)}
	in.Liquid.Parts = append(in.Liquid.Parts, method.Part{ID: "spirit", Mass: 60, Role: method.Alcohol, Temp: 20},
		method.Part{ID: "lemon", Mass: 40, Role: method.Acid, Temp: 5})
	m := build(t, in)
	order := kinds(m)
	assert.Less(t, slices.Index(order, method.AcidIn), slices.Index(order, method.AlcoholIn))
	assert.Equal(t, note.Danger, step(t, m, method.AlcoholIn).Notes[0].Level)
	// Acid costs agar strength, so the pan cools first: (340 × 70 - 40 × 5) / 300 = 78.7,
	// and with 40 g of lemon at 5 °C the mix is (300 × 78 + 200) / 340. The spirit comes after.
	assert.Equal(t, 1, count(m, method.CoolTo))
	mix, _ := arg(step(t, m, method.AcidIn), "mix")
	assert.InDelta(t, 69.4118, mix, 1e-4)
	mix, _ = arg(step(t, m, method.AlcoholIn), "mix")
	assert.InDelta(t, (300*78.0+200+60*20)/400, mix, 1e-9)
}

func TestRawFruitIsScaldedForGelatinOnly(t *testing.T) {
	in := method.Input{Doses: doses(gelatin), Target: method.SetGel, Liquid: method.Liquid{Parts: []method.Part{{ID: "kiwi", Mass: 300, Temp: 5, Enzyme: true}}}}
	assert.Equal(t, 82.0, step(t, build(t, in), method.Scald).Limits[0].Value)
	in.Doses = doses(agar)
	assert.Zero(t, count(build(t, in), method.Scald))
}

// A juice from a carton needs no heat; one pressed fresh does, and its name does not tell.
func TestJuiceThatCountsAsHeated(t *testing.T) {
	in := method.Input{Doses: doses(gelatin), Target: method.SetGel, Liquid: method.Liquid{Parts: []method.Part{{ID: "pineapple", Mass: 300, Temp: 5, Preheated: true}}}}
	m := build(t, in)
	assert.Zero(t, count(m, method.Scald))
	assert.Contains(t, codes(m.Notes), method.CodePreheated)
	in.Doses = doses(agar)
	assert.NotContains(t, codes(build(t, in).Notes), method.CodePreheated)
}

func TestCalcium(t *testing.T) {
	hard := water(1000)
	hard.Calcium = 2.5
	s := step(t, build(t, method.Input{Doses: doses(alginate), Liquid: hard, Target: method.Bath}), method.Soften)
	assert.Contains(t, codes(s.Notes), method.CodeSuggested)
	citrate, _ := arg(s, "citrate")
	// 2.5 − 0.5 = 2 mmol/kg over the limit × 294.1 mg = 0.59 g in a kilogram.
	assert.InDelta(t, 0.588, citrate, 0.001)

	milk := method.Liquid{Dairy: true, Calcium: 28, Parts: []method.Part{{ID: "milk", Mass: 500, Temp: 5}}}
	m := build(t, method.Input{Doses: doses(alginate), Liquid: milk, Target: method.Thicken})
	assert.Contains(t, codes(m.Notes), method.CodeCalciumHigh)
	assert.Zero(t, count(m, method.Soften))
}

// The sphere calculation knows the acids and counts pH and calcium together: the method
// takes its citrate, proposes none of its own, and says so where that way is refused.
func TestSpheresTakeTheirOwnCitrate(t *testing.T) {
	hard := water(1000)
	hard.Calcium = 2.5
	in := method.Input{Doses: doses(alginate), Liquid: hard, Target: method.Bath, Spheres: method.Spheres{Planned: true, Citrate: 2.4}}
	s := step(t, build(t, in), method.Soften)
	citrate, _ := arg(s, "citrate")
	assert.InDelta(t, 2.4, citrate, 1e-9)
	assert.Equal(t, []note.Code{method.CodeSpheresAsk}, codes(s.Why))
	assert.Equal(t, []note.Code{method.CodeSuggested}, codes(s.Notes))

	in.Liquid.Parts = append(in.Liquid.Parts, method.Part{ID: "citrate", Mass: 1.1, Role: method.Sequestrant, Temp: 20})
	s = step(t, build(t, in), method.Soften)
	citrate, _ = arg(s, "citrate")
	assert.InDelta(t, 3.5, citrate, 1e-9, "with what the formula holds")
	assert.Empty(t, s.Notes)

	in.Liquid = hard
	in.Spheres.Citrate = 0
	assert.Zero(t, count(build(t, in), method.Soften), "none is asked for")

	in.Spheres.Refused = true
	m := build(t, in)
	assert.Zero(t, count(m, method.Soften))
	assert.Contains(t, codes(m.Notes), method.CodeSpheresNo)

	in.Doses = doses(alginate, gellan)
	s = step(t, build(t, in), method.Soften)
	assert.Equal(t, []note.Code{method.CodeSequester}, codes(s.Why), "gellan needs its own")
	in.Spheres.Citrate = -1
	_, err := method.Build(in)
	assert.Error(t, err)
}

// Konjac alone sets in alkali, which stands in no formula: the step names it, with 3 to
// 7 % of the powder's weight, and its danger.
func TestKonjacsAlkaliIsNamed(t *testing.T) {
	m := build(t, method.Input{Doses: []method.Dose{{Process: plantest.Konjac, Mass: 30}}, Liquid: water(1000), Target: method.SetGel})
	s := step(t, m, method.Alkali)
	require.Equal(t, []note.Code{method.CodeLime}, codes(s.Why))
	assert.Equal(t, []note.Code{method.CodeCaustic}, codes(s.Notes))
	low, _ := arg(s, "low")
	high, _ := arg(s, "high")
	assert.InDelta(t, 0.9, low, 1e-9)
	assert.InDelta(t, 2.1, high, 1e-9)
}

// TestCitrateIsGivenBack: hard water and gellan. With late acid the citrate lets
// go by itself; with a calcium salt it is made good; otherwise it is said.
func TestCitrateIsGivenBack(t *testing.T) {
	hard := water(500)
	hard.Calcium = 3
	hard.PH = unit.Range{Low: 3.2, Typical: 3.4, High: 3.6}
	alone := step(t, build(t, method.Input{Doses: doses(gellan), Liquid: hard, Target: method.SetGel}), method.Soften)
	assert.Equal(t, []note.Code{method.CodeSuggested, method.CodeGiveBack, method.CodeCitrateAcid}, codes(alone.Notes))
	salted := step(t, build(t, method.Input{Doses: doses(gellan, lactate), Liquid: hard, Target: method.SetGel}), method.Soften)
	assert.NotContains(t, codes(salted.Notes), method.CodeGiveBack)
	hard.Parts = append(hard.Parts, method.Part{ID: "juice", Mass: 100, Role: method.Acid, Temp: 20})
	sour := step(t, build(t, method.Input{Doses: doses(gellan), Liquid: hard, Target: method.SetGel}), method.Soften)
	assert.Equal(t, []note.Code{method.CodeSuggested}, codes(sour.Notes))
}

// Citrate hardly binds below pH 4: where gellan stands the acid, heat opens it up, and no
// citrate is stirred in for nothing. What the formula holds of it is stirred in.
func TestSourGellanIsHeatedInstead(t *testing.T) {
	juice := water(500)
	juice.Calcium = 3
	juice.PH = unit.Range{Low: 3.6, Typical: 4.1, High: 4.6}
	in := method.Input{Doses: doses(gellan), Liquid: juice, Target: method.SetGel}
	m := build(t, in)
	assert.Zero(t, count(m, method.Soften))
	temp, _ := arg(step(t, m, method.Hydrate), "temp")
	assert.Equal(t, 95.0, temp, "the top of its range")
	assert.Contains(t, codes(m.Notes), method.CodeCalciumSour)

	in.Liquid.Parts = append(in.Liquid.Parts, method.Part{ID: "citrate", Mass: 0.5, Role: method.Sequestrant, Temp: 20})
	m = build(t, in)
	assert.Contains(t, codes(step(t, m, method.Soften).Notes), method.CodeCitrateAcid)
	assert.NotContains(t, codes(m.Notes), method.CodeCalciumSour)

	in = method.Input{Doses: doses(gellan, alginate), Liquid: juice, Target: method.SetGel}
	assert.Equal(t, 1, count(build(t, in), method.Soften), "alginate hydrates cold")
}

// What acids hold of the calcium does not keep gellan from hydrating; alginate takes it
// from them.
func TestCalciumThatAcidsHold(t *testing.T) {
	juice := water(500)
	juice.Calcium, juice.Held = 2.4, 0.3
	in := method.Input{Doses: doses(gellan), Liquid: juice, Target: method.SetGel}
	assert.Zero(t, count(build(t, in), method.Soften), "1.68 of it is free, less than 2")
	in.Liquid.Held = 0
	assert.Equal(t, 1, count(build(t, in), method.Soften))
	in.Liquid.Held, in.Doses = 0.9, doses(alginate)
	citrate, _ := arg(step(t, build(t, in), method.Soften), "citrate")
	assert.InDelta(t, 1.9*0.2941*0.5, citrate, 0.002, "binds the 1.9 mmol/kg above its limit in half a kilogram")
	in.Liquid.Held = 1.2
	_, err := method.Build(in)
	assert.Error(t, err)
}

// TestGellanInMilk: makers' pages say that gellan opens up in milk in ordinary
// heat treatment without citrate; it is taken to the top of its range, 95 °C.
func TestGellanInMilk(t *testing.T) {
	milk := method.Liquid{Dairy: true, Calcium: 28, Parts: []method.Part{{ID: "milk", Mass: 500, Temp: 5}}}
	m := build(t, method.Input{Doses: doses(gellan), Liquid: milk, Target: method.SetGel})
	temp, _ := arg(step(t, m, method.Hydrate), "temp")
	assert.Equal(t, 95.0, temp)
	assert.Equal(t, []note.Code{method.CodeCalciumHot}, codes(m.Notes))
}

// A mix for reverse spheres brings its calcium, and thickener in it changes nothing in that.
func TestReverseMixTakesItsCalcium(t *testing.T) {
	m := build(t, method.Input{Doses: doses(xanthan, lactate), Liquid: water(500), Target: method.Bath})
	assert.Equal(t, []string{"ca-lactate"}, step(t, m, method.StirIn).Agents)
	for _, s := range m.Steps {
		for _, why := range s.Why {
			assert.NotEqual(t, method.CodeBathWater, why.Code, "soft water is for what calcium sets")
		}
	}
	m = build(t, method.Input{Doses: doses(alginate, lactate), Liquid: water(500), Target: method.Bath})
	for _, s := range m.Steps {
		assert.NotContains(t, s.Agents, "ca-lactate", "it is for the bath")
	}
}

// A large pan takes longer to get hot: 40 kg are not there in the time of half a kilogram.
func TestHeatingTakesLongerForMore(t *testing.T) {
	at := func(m unit.Mass) unit.Range {
		return step(t, build(t, method.Input{Doses: doses(agar), Liquid: water(m), Target: method.SetGel}), method.Hydrate).Minutes
	}
	assert.Equal(t, at(100), at(2500), "a cook needs as long for a small pan")
	big := at(40_000)
	assert.InDelta(t, 3+40*4.2*80/60/2.5, big.Typical, 0.1)
	assert.Less(t, big.Low, big.Typical)
	assert.Less(t, big.Typical, big.High)
}

// Xanthan that lay in the fridge for hours beside methylcellulose has no grains left.
func TestNothingHydratesOnceMore(t *testing.T) {
	order := kinds(build(t, method.Input{Doses: doses(mc, xanthan), Liquid: water(500), Target: method.Whipped}))
	assert.Contains(t, order, method.ChillSwell)
	assert.NotContains(t, order, method.HydrateIn)
}

// What never sets is neither chilled until set nor broken.
func TestFluidWithoutAGel(t *testing.T) {
	m := build(t, method.Input{Doses: doses(xanthan), Liquid: water(500), Target: method.FluidGel, Bottled: true})
	var kinds []method.Kind
	for _, s := range m.Steps {
		kinds = append(kinds, s.Kind)
	}
	assert.NotContains(t, kinds, method.Chill)
	assert.NotContains(t, kinds, method.Blend)
	assert.Equal(t, []method.Kind{method.Sieve, method.Degas, method.Bottle}, kinds[len(kinds)-3:])
}

func TestCalciumBath(t *testing.T) {
	m := build(t, method.Input{Doses: doses(lactate), Liquid: water(500), Target: method.Bath})
	assert.Equal(t, []method.Kind{method.Weigh, method.StirIn, method.Dip, method.Rinse}, kinds(m))
}

func TestSourAlginateIsMeasured(t *testing.T) {
	in := method.Input{Doses: doses(alginate), Target: method.Thicken, Liquid: method.Liquid{PH: unit.Range{Low: 3.2, Typical: 3.4, High: 3.6},
		Parts: []method.Part{{ID: "mango", Mass: 500, Role: method.Acid, Temp: 5}, {ID: "citrate", Mass: 1.3, Role: method.Sequestrant, Temp: 20}}}}
	m := build(t, in)
	citrate, _ := arg(step(t, m, method.Soften), "citrate")
	assert.Equal(t, 1.3, citrate)
	ph := step(t, m, method.CheckPH)
	assert.Equal(t, method.Limit{Of: method.PH, Value: 4, Unit: unit.PH, Source: alginate.Heat.Source}, ph.Limits[0])
	assert.Contains(t, codes(ph.Notes), method.CodePHMeasure)
}

func TestThickHydratingPartBorrows(t *testing.T) {
	in := method.Input{Doses: []method.Dose{{Process: agar, Mass: 9}}, Target: method.SetGel, Liquid: method.Liquid{Parts: []method.Part{
		{ID: "water", Mass: 100, Temp: 20}, {ID: "juice", Mass: 500, Role: method.Delicate, Temp: 20}}}}
	m := build(t, in)
	require.Contains(t, codes(m.Notes), method.CodeCap)
	liquid, _ := arg(step(t, m, method.Disperse), "liquid")
	assert.Equal(t, 300.0, liquid, "9 g at 3 % needs 300 g")
	require.Equal(t, []note.Code{method.CodeBorrow}, codes(step(t, m, method.Disperse).Notes))
	mass, _ := step(t, m, method.Disperse).Notes[0].Arg("borrow")
	assert.Equal(t, 200.0, mass.Value)
}

// Fresh juice alone: a third of it is heated with the agar, from the largest part, and the
// rest is tempered in, warm enough not to set in the pan.
func TestFreshJuiceAloneIsNotBoiledWhole(t *testing.T) {
	in := method.Input{Doses: doses(agar), Target: method.SetGel, Liquid: method.Liquid{Parts: []method.Part{
		{ID: "parsley", Mass: 100, Role: method.Delicate, Temp: 5}, {ID: "cucumber", Mass: 400, Role: method.Delicate, Temp: 5}}}}
	m := build(t, in)
	hot := step(t, m, method.Disperse)
	liquid, _ := arg(hot, "liquid")
	assert.InDelta(t, 500.0/3, liquid, 1e-9)
	assert.Equal(t, []string{"cucumber"}, hot.Parts)
	late, _ := arg(step(t, m, method.Temper), "mass")
	assert.InDelta(t, 1000.0/3, late, 1e-9)
	warm, _ := arg(step(t, m, method.WarmRest), "temp")
	assert.Equal(t, math.Ceil(method.RestTemp(50, 95, 1.0/3)), warm, "agar is kept above 45 °C, and five more to sieve and pour")
	assert.Empty(t, step(t, m, method.WarmRest).Notes)

	in.Liquid.Parts[1].Bears = 60 // it would split: no share of it can be heated
	m = build(t, in)
	assert.Contains(t, codes(m.Notes), method.CodeBears)

	in.Liquid.Parts = []method.Part{{ID: "parsley", Mass: 100, Role: method.Delicate, Temp: 5}, {ID: "verjus", Mass: 20, Role: method.Acid, Temp: 5},
		{ID: "cucumber", Mass: 400, Role: method.Delicate, Temp: 5}}
	assert.Equal(t, []string{"cucumber"}, step(t, build(t, in), method.Disperse).Parts, "whatever stands between them")
}

// Where only some of the sour liquid must be heated, the caution says so.
func TestSomeOfTheSourLiquidIsHeated(t *testing.T) {
	liquid := method.Liquid{PH: unit.Exactly(3), Parts: []method.Part{{ID: "water", Mass: 100, Temp: 20}, {ID: "rhubarb", Mass: 500, Role: method.Acid, Temp: 5}}}
	m := build(t, method.Input{Doses: []method.Dose{{Process: agar, Mass: 9}}, Target: method.SetGel, Liquid: liquid})
	assert.Contains(t, codes(m.Notes), method.CodeAcidSome)
	assert.NotContains(t, codes(m.Notes), method.CodeAcidHot)
	liquid.Parts = liquid.Parts[1:]
	m = build(t, method.Input{Doses: doses(agar), Target: method.SetGel, Liquid: liquid})
	assert.Contains(t, codes(m.Notes), method.CodeAcidHot)
}

// More than all of the liquid can be stirred with is said; nothing is borrowed in words.
func TestTooMuchForAllOfTheLiquid(t *testing.T) {
	m := build(t, method.Input{Doses: []method.Dose{{Process: agar, Mass: 30}}, Target: method.SetGel, Liquid: water(500)})
	assert.Contains(t, codes(m.Notes), method.CodeCapFails)
	assert.NotContains(t, codes(m.Notes), method.CodeCap)
	assert.Empty(t, step(t, m, method.Disperse).Notes)
}

func TestTemperFailsSaysHowMuchMustBeHot(t *testing.T) {
	in := method.Input{Doses: doses(gellan), Target: method.SetGel, Liquid: method.Liquid{Parts: []method.Part{
		{ID: "water", Mass: 100, Temp: 20}, {ID: "pea-juice", Mass: 400, Role: method.Delicate, Temp: 5, Bears: 40}}}}
	m := build(t, in)
	s := step(t, m, method.WarmRest)
	require.Contains(t, codes(s.Notes), method.CodeTemperFails)
	hot, _ := s.Notes[0].Arg("hot")
	// From 90 °C with the rest at 40: (60 − 40)/(90 − 40) = 40 % of 500 g.
	assert.InDelta(t, 200, hot.Value, 1)
}

func TestSiphonFoams(t *testing.T) {
	m := build(t, method.Input{Doses: doses(agar), Liquid: water(500), Target: method.SiphonCold, Siphon: method.Siphon{Charges: []int{2}}})
	order := kinds(m)
	assert.Less(t, slices.Index(order, method.Blend), slices.Index(order, method.Fill), "a stiff gel is blended before it meets the nozzle")
	charges, _ := arg(step(t, m, method.Charge), "charges")
	assert.Equal(t, 2.0, charges)
	assert.Equal(t, note.Danger, step(t, m, method.Charge).Notes[0].Level)
	assert.Empty(t, step(t, m, method.Fill).Notes)
	assert.Equal(t, 60.0, step(t, m, method.RestCold).Minutes.Typical)

	m = build(t, method.Input{Doses: doses(starch), Liquid: water(500), Target: method.SiphonHot})
	assert.Contains(t, kinds(m), method.FillHot, "a cold body would set what is poured in")
	assert.NotContains(t, kinds(m), method.Fill)
	hold := step(t, m, method.HoldHot)
	assert.Equal(t, 60.0, hold.Limits[0].Value)
	assert.Equal(t, 65.0, hold.Limits[1].Value)
	assert.Equal(t, 1, count(m, method.SlurryIt))
}

// The foam calculation and the method have the rest of a gelatin foam each: a cook who
// has no plan for the siphon must not be told another one.
func TestGelatinFoamRestsAsTheFoamSays(t *testing.T) {
	m := build(t, method.Input{Doses: doses(gelatin), Liquid: water(500), Target: method.SiphonCold})
	kind, ok := foam.TypeByID("gelatin")
	require.True(t, ok)
	assert.Equal(t, kind.Rest.Scale(1.0/60), step(t, m, method.RestCold).Minutes)
}

// What the foam calculation says of fillings and of the rest stands in the method; what
// sets slowly is not served sooner for it.
func TestSiphonFoamsTakeTheFoamsPlan(t *testing.T) {
	fact := func(low, typical, high float64) method.Fact {
		return method.Fact{Range: unit.Range{Low: low, Typical: typical, High: high}, Source: source.Ref{Tag: source.Practice}}
	}
	charges := func(m method.Method) string {
		for _, a := range step(t, m, method.Charge).Args {
			if a.Name == "charges" {
				return a.Typed
			}
		}
		return ""
	}
	in := method.Input{Doses: doses(agar), Liquid: water(500), Target: method.SiphonCold, Siphon: method.Siphon{Charges: []int{2, 2, 1}, Rounds: 1, Rest: fact(30, 30, 120)}}
	m := build(t, in)
	assert.Equal(t, "2 + 2 + 1", charges(m))
	assert.Equal(t, []note.Code{method.CodeFillings}, codes(step(t, m, method.Fill).Notes))
	assert.Equal(t, 6.0, step(t, m, method.Charge).Minutes.Typical, "three fillings take the hand three times")
	assert.Equal(t, 30.0, step(t, m, method.RestCold).Minutes.Typical)

	in.Siphon = method.Siphon{Charges: []int{2, 2, 2}, Rounds: 2, Rest: fact(0, 0, 0)}
	m = build(t, in)
	assert.Equal(t, "3 × 2", charges(m))
	assert.Equal(t, []note.Code{method.CodeRounds}, codes(step(t, m, method.Fill).Notes))
	assert.NotContains(t, kinds(m), method.RestCold, "no rest is asked for")

	in.Doses = doses(gelatin)
	assert.Equal(t, 240.0, step(t, build(t, in), method.RestCold).Minutes.Typical, "gelatin has to set")
}

// Alcohol in the pan has its danger where it is heated, and no water takes its place.
func TestSpiritIsHeatedWithAWarning(t *testing.T) {
	spirit := method.Part{ID: "spirit", Mass: 500, Role: method.Alcohol, Temp: 20}
	m := build(t, method.Input{Doses: doses(agar), Liquid: method.Liquid{Parts: []method.Part{spirit}}, Target: method.SetGel})
	assert.Contains(t, codes(step(t, m, method.Hydrate).Notes), method.CodeFlame)
	assert.NotContains(t, kinds(m), method.TopUp)
	assert.Contains(t, codes(m.Notes), method.CodeSpiritApart)

	spirit.Mass = 50 // beside enough water it stays out of the pan
	m = build(t, method.Input{Doses: doses(agar), Liquid: method.Liquid{Parts: append(water(450).Parts, spirit)}, Target: method.SetGel})
	assert.NotContains(t, codes(step(t, m, method.Hydrate).Notes), method.CodeFlame)
	assert.Contains(t, codes(step(t, m, method.AlcoholIn).Notes), method.CodeFlame)
	mix, _ := arg(step(t, m, method.AlcoholIn), "mix")
	assert.InDelta(t, 64.5, mix, 0.5, "straight from the boil it would come to 88 °C and the spirit would boil off")
	assert.Contains(t, kinds(m), method.TopUp)
	assert.NotContains(t, codes(m.Notes), method.CodeSpiritApart)
}

// Calcium would set a cold mix in the sieve: it goes in at the last moment, in water kept
// back for it. A hot mix takes it while it is hot.
func TestCalciumIntoAColdMix(t *testing.T) {
	m := build(t, method.Input{Doses: doses(alginate, lactate), Liquid: water(500), Target: method.SetGel})
	order := kinds(m)
	assert.Less(t, slices.Index(order, method.Sieve), slices.Index(order, method.AddCalcium))
	assert.Equal(t, slices.Index(order, method.AddCalcium)+1, slices.Index(order, method.Pour))
	liquid, _ := arg(step(t, m, method.Disperse), "liquid")
	assert.InDelta(t, 480, liquid, 1e-9, "2 g of salt take 20 g of water")
	assert.NotContains(t, codes(m.Notes), method.CodeSpheres)

	order = kinds(build(t, method.Input{Doses: doses(gellan, lactate), Liquid: water(500), Target: method.SetGel}))
	assert.Less(t, slices.Index(order, method.AddCalcium), slices.Index(order, method.Sieve))

	m = build(t, method.Input{Doses: doses(alginate), Liquid: water(500), Target: method.SetGel})
	assert.Contains(t, codes(m.Notes), method.CodeSpheres, "without calcium it is meant for spheres")
	m = build(t, method.Input{Doses: doses(lactate, xanthan), Liquid: water(500), Target: method.Thicken})
	assert.Contains(t, codes(m.Notes), method.CodeReverse, "the alginate is in their bath")
	m = build(t, method.Input{Doses: doses(gellan, lactate), Liquid: water(500), Target: method.SetGel})
	assert.NotContains(t, codes(m.Notes), method.CodeReverse)
}

// A part that sets or splits goes in when the pan has cooled for it, as long as the others
// do not set before.
func TestFrailPartsGoInCooler(t *testing.T) {
	liquid := method.Liquid{Parts: []method.Part{{ID: "milk", Mass: 400, Temp: 5}, {ID: "yolk", Mass: 100, Role: method.Delicate, Temp: 5, Bears: 60}}}
	m := build(t, method.Input{Doses: doses(agar), Liquid: liquid, Target: method.SetGel})
	cool, _ := arg(step(t, m, method.CoolTo), "temp")
	// (500 × 60 − 100 × 5) / 400 = 73.75
	assert.InDelta(t, 73, cool, 1e-9)
	mix, _ := arg(step(t, m, method.Temper), "mix")
	assert.LessOrEqual(t, mix, 60.0)
	assert.NotContains(t, codes(m.Notes), method.CodeBears)

	liquid.Parts[0].Role, liquid.Parts[0].Bears = method.Delicate, 60
	m = build(t, method.Input{Doses: doses(agar), Liquid: liquid, Target: method.SetGel})
	assert.Contains(t, codes(m.Notes), method.CodeBears)
}

func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*method.Input)
		code   note.Code
	}{
		{"no liquid", func(in *method.Input) { in.Liquid = method.Liquid{} }, method.CodeNoLiquid},
		{"only sugar", func(in *method.Input) { in.Liquid.Parts[0].Role = method.Sugar }, method.CodeNoLiquid},
		{"mass NaN", func(in *method.Input) { in.Liquid.Parts[0].Mass = unit.Mass(math.NaN()) }, method.CodeBadMass},
		{"mass negative", func(in *method.Input) { in.Liquid.Parts[0].Mass = -1 }, method.CodeBadMass},
		{"dose of nothing", func(in *method.Input) { in.Doses[0].Mass = 0 }, method.CodeBadMass},
		{"dose huge", func(in *method.Input) { in.Doses[0].Mass = 1e30 }, method.CodeBadMass},
		{"part twice", func(in *method.Input) { in.Liquid.Parts = append(in.Liquid.Parts, in.Liquid.Parts[0]) }, method.CodeTwice},
		{"no agent", func(in *method.Input) { in.Doses = nil }, method.CodeNoAgent},
		{"agent twice", func(in *method.Input) { in.Doses = append(in.Doses, in.Doses[0]) }, method.CodeTwice},
		{"pH", func(in *method.Input) { in.Liquid.PH = unit.Range{Low: 1, Typical: 15, High: 16} }, method.CodeBadPH},
		{"calcium", func(in *method.Input) { in.Liquid.Calcium = math.Inf(1) }, method.CodeBadCalcium},
		{"charges", func(in *method.Input) { in.Siphon.Charges = []int{1, -1} }, method.CodeBadCharges},
		{"process without source", func(in *method.Input) { in.Doses[0].Process.Heat.Source.Tag = "" }, method.CodeBadProcess},
		{"process NaN", func(in *method.Input) { in.Doses[0].Process.Heat.Typical = math.NaN() }, method.CodeBadProcess},
		{"process without id", func(in *method.Input) { in.Doses[0].Process.ID = "" }, method.CodeBadProcess},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := method.Input{Doses: doses(agar), Liquid: water(100)}
			c.change(&in)
			_, err := method.Build(in)
			assert.ErrorIs(t, err, note.Refuse("", c.code))
		})
	}
}

func TestFroth(t *testing.T) {
	lecithin := method.Process{ID: "lecithin", Way: method.Shear, Cold: true, Heat: fact(5, 20, 50, practice), Hold: fact(1, 2, 5, practice)}
	assert.Equal(t, []method.Kind{method.Weigh, method.Disperse, method.HydrateIn, method.Sieve, method.Froth, method.Skim},
		kinds(build(t, method.Input{Doses: doses(lecithin), Liquid: water(300), Target: method.Air})))
}

func TestWhippedGelatinIsCooledFirst(t *testing.T) {
	order := kinds(build(t, method.Input{Doses: doses(gelatin), Liquid: water(300), Target: method.Whipped}))
	assert.Less(t, slices.Index(order, method.CoolFill), slices.Index(order, method.Whip))
	assert.Less(t, slices.Index(order, method.Whip), slices.Index(order, method.Chill))
}

func TestTasksFitTheTimeline(t *testing.T) {
	var tasks []timeline.Task
	for _, name := range []string{"siphon foam", "iota in milk"} {
		steps, _ := method.Apply(build(t, sheets[name]).Steps, nil)
		tasks = append(tasks, method.Tasks(name, steps)...)
	}
	kitchen := []timeline.Resource{{ID: timeline.Cook, Capacity: 1}, {ID: "stove", Capacity: 2}, {ID: "fridge", Capacity: 6}, {ID: "blender", Capacity: 1}, {ID: "siphon", Capacity: 2}}
	p, err := timeline.Make(tasks, kitchen, timeline.Options{Typical: true})
	require.NoError(t, err)
	assert.Greater(t, p.Start, 240.0, "the charged rest alone takes four hours")
	for _, h := range p.Holds {
		assert.False(t, h.Zone == timeline.Warm && h.Minutes > 60, "hours in the fridge are no hours between cold and hot: %+v", h)
	}
}

// What must be poured hot does not wait in its pan while the cook is at another dish.
func TestHotMixKeepsForMinutes(t *testing.T) {
	keeps := func(p method.Process, target method.Target) map[string]float64 {
		steps, _ := method.Apply(build(t, method.Input{Doses: doses(p), Liquid: water(500), Target: target}).Steps, nil)
		out := map[string]float64{}
		for i, task := range method.Tasks("x", steps) {
			if task.Limited {
				out[string(steps[i].Kind)] = task.Keeps
			}
		}
		return out
	}
	assert.Equal(t, map[string]float64{"hydrate": 10, "top-up": 10, "sieve": 10}, keeps(agar, method.SetGel))
	assert.Equal(t, map[string]float64{"hydrate": 5, "top-up": 5, "sieve": 5}, keeps(gellan, method.SetGel))
	assert.Empty(t, keeps(gelatin, method.SetGel), "it sets cold")
	assert.Empty(t, keeps(xanthan, method.Thicken), "it never sets")
}

func ExampleBuild() {
	m, _ := method.Build(method.Input{
		Doses:  []method.Dose{{Process: iota, Mass: 1}},
		Liquid: method.Liquid{Parts: []method.Part{{ID: "milk", Mass: 500, Temp: 5}, {ID: "sugar", Mass: 40, Role: method.Sugar, Temp: 20}}},
		Target: method.SetGel,
	})
	for _, s := range m.Steps {
		fmt.Println(s.ID)
	}
	// Output:
	// weigh
	// dry-mix/carr-iota+sugar
	// sugar-in/sugar
	// disperse/carr-iota+milk
	// hydrate/carr-iota
	// top-up/milk
	// sieve
	// pour
	// chill/carr-iota
}

// The pH that is reckoned with is the one after the citrate of the spheres.
func TestSpheresAreMeasuredAfterTheirCitrate(t *testing.T) {
	sour := water(300)
	sour.PH = unit.Range{Low: 3.6, Typical: 3.8, High: 4}
	in := method.Input{Doses: doses(alginate), Liquid: sour, Target: method.Bath, Spheres: method.Spheres{Planned: true, Citrate: 0.6, PH: 4.5}}
	s := step(t, build(t, in), method.CheckPH)
	require.Equal(t, []note.Code{method.CodePHLow, method.CodePHMeasure}, codes(s.Notes))
	assert.InDelta(t, 4.5, s.Notes[1].Args[0].Value, 1e-9)
}
