package liquid_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/liquid"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Mass is kept per constituent through any recipe: additions add, straining
// takes the same share of everything, a boil touches only what can leave, and
// the weights asked for are met. 1e-9 of the mass.
func TestMassBalance(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 11))
	all := liquid.Catalogue()
	for range 400 {
		var steps []liquid.Step
		var want liquid.Amounts // what must be there of constituents that cannot leave
		mass := 0.0
		for range 1 + random.IntN(6) {
			g := all[random.IntN(len(all))]
			m := math.Exp(random.Float64()*8 - 1)
			steps = append(steps, liquid.Add(g, unit.Mass(m)))
			one := mix(t, liquid.Add(g, unit.Mass(m))).Parts()
			for c := range one {
				want[c] += one[c]
			}
			mass += m
			if random.IntN(3) == 0 {
				k := 0.3 + 0.7*random.Float64()
				steps = append(steps, liquid.Step{Kind: liquid.StepStrain, Share: unit.Fraction(k)})
				for c := range want {
					want[c] *= k
				}
				mass *= k
			}
		}
		l := mix(t, steps...)
		check(t, l, want, mass, true)

		limit := want.DryMatter() + want[liquid.Carbonic]
		if want[liquid.Water] < 0.05*mass {
			continue
		}
		to := limit + (mass-limit)*(0.05+0.9*random.Float64())
		reduced := mix(t, append(steps, liquid.ReduceTo(unit.Mass(to)))...)
		check(t, reduced, want, to, false)
		before, after := l.Parts(), reduced.Parts()
		for _, c := range []liquid.Constituent{liquid.Water, liquid.Ethanol, liquid.Acetic, liquid.Carbonic} {
			assert.LessOrEqual(t, after[c], before[c]*(1+1e-9)+1e-9)
			assert.GreaterOrEqual(t, after[c], 0.0)
		}
		if before[liquid.Ethanol] > 1 && before[liquid.Water] > 1 {
			assert.LessOrEqual(t, after[liquid.Ethanol]/before[liquid.Ethanol], after[liquid.Water]/before[liquid.Water]+1e-9, "alcohol leaves first")
		}
	}
}

func check(t *testing.T, l *liquid.Liquid, want liquid.Amounts, mass float64, all bool) {
	t.Helper()
	got := l.Parts()
	require.InDelta(t, mass, got.Mass(), 1e-9*max(1, mass))
	for c := range liquid.NumConstituents {
		volatile := c == liquid.Water || c == liquid.Ethanol || c == liquid.Acetic || c == liquid.Carbonic || c == liquid.Sulfurous
		if all || !volatile {
			require.InDelta(t, want[c], got[c], 1e-9*max(1, mass), c.String())
		}
	}
}

// Blending two liquids is the same as putting all their ingredients together.
func TestBlendIsAdditive(t *testing.T) {
	a := mix(t, liquid.Add(get(t, "orange-juice"), 300), liquid.Add(get(t, "sugar"), 30))
	b := mix(t, liquid.Add(get(t, "cream-36"), 200), liquid.Add(get(t, "egg-yolk"), 40))
	blended := mix(t, liquid.Blend(a, 330), liquid.Blend(b, 120))
	together := mix(t, liquid.Add(get(t, "orange-juice"), 300), liquid.Add(get(t, "sugar"), 30), liquid.Add(get(t, "cream-36"), 100), liquid.Add(get(t, "egg-yolk"), 20))
	x, y := blended.Parts(), together.Parts()
	for c := range x {
		assert.InDelta(t, y[c], x[c], 1e-9)
	}
	s, r := blended.State(25), together.State(25)
	assert.InDelta(t, r.Of(liquid.PropPH).Typical, s.Of(liquid.PropPH).Typical, 1e-6)
	assert.InDelta(t, r.Of(liquid.PropPH).Low, s.Of(liquid.PropPH).Low, 1e-6)
	assert.Equal(t, liquid.Milk|liquid.Egg, blended.Allergens())
}

// In dilute wine the loss follows Rayleigh: alcohol left is the share of water
// left to the power 10, acetic acid to the power 0.7 (0.43 at 30 %, 0.20 at 10 %
// of the mass; computed by hand from the law).
func TestRayleigh(t *testing.T) {
	g, err := liquid.OwnIngredient(liquid.Ingredient{Name: "weak", Per100: liquid.Composition{liquid.Water: 99.9, liquid.Ethanol: 0.05, liquid.Acetic: 0.05}})
	require.NoError(t, err)
	for _, c := range []struct{ left, ethanol, acetic float64 }{{0.7, math.Pow(0.7, 10), 0.779}, {0.5, math.Pow(0.5, 10), 0.616}, {0.3, 0, 0.430}, {0.1, 0, 0.200}} {
		before := mix(t, liquid.Add(g, 1000)).Parts()
		after := mix(t, liquid.Add(g, 1000), liquid.ReduceTo(unit.Mass(1000*c.left))).Parts()
		assert.InDelta(t, c.ethanol, after[liquid.Ethanol]/before[liquid.Ethanol], 0.001)
		assert.InDelta(t, c.acetic, after[liquid.Acetic]/before[liquid.Acetic], 0.002)
	}
}

// USDA Table of Nutrient Retention Factors, Release 6 (2007), alcohol rows, on
// three pages that agree; between rows on the line, beyond them the last.
func TestRetentionFactors(t *testing.T) {
	for how, want := range map[liquid.Treatment]float64{liquid.AddedOffHeat: 0.85, liquid.Flamed: 0.75, liquid.NoHeatOvernight: 0.70, liquid.BakedOnTop: 0.45} {
		got, between, beyond, err := liquid.Retained(how, 0)
		require.NoError(t, err)
		assert.InDelta(t, want, float64(got), 1e-12)
		assert.False(t, between || beyond)
	}
	for minutes, want := range map[float64]float64{15: 0.40, 30: 0.35, 60: 0.25, 90: 0.20, 120: 0.10, 150: 0.05} {
		got, between, beyond, err := liquid.Retained(liquid.StirredIn, unit.Seconds(minutes*60))
		require.NoError(t, err)
		assert.InDelta(t, want, float64(got), 1e-12, "%g min", minutes)
		assert.False(t, between || beyond, "%g min is a row", minutes)
	}
	got, between, _, err := liquid.Retained(liquid.StirredIn, 45*60)
	require.NoError(t, err)
	assert.True(t, between)
	assert.InDelta(t, 0.30, float64(got), 1e-12)
	got, _, beyond, err := liquid.Retained(liquid.StirredIn, 5*3600)
	require.NoError(t, err)
	assert.True(t, beyond)
	assert.InDelta(t, 0.05, float64(got), 1e-12)
	for _, bad := range []unit.Seconds{-1, unit.Seconds(math.NaN()), unit.Seconds(math.Inf(1))} {
		_, _, _, err := liquid.Retained(liquid.StirredIn, bad)
		assert.Error(t, err)
	}

	l := mix(t, liquid.Add(get(t, "red-wine"), 500), liquid.Cook(liquid.StirredIn, 3600))
	parts := l.Parts()
	assert.InDelta(t, 500*0.106*0.25, parts[liquid.Ethanol], 0.01)
	s := l.State(20)
	assert.Contains(t, codes(s.Notes), liquid.CodeRetention)
	flamed := mix(t, liquid.Add(get(t, "spirit-40"), 50), liquid.Cook(liquid.Flamed, 0)).State(20)
	assert.Contains(t, codes(flamed.Notes), liquid.CodeFlame)
}

// A boil by time and surface: one kilowatt in a 24 cm pan drives off 1.6 kg/h,
// 35 kg/(m² h) (heat of evaporation 2257 kJ/kg).
func TestBoilByTime(t *testing.T) {
	area := math.Pi * 12 * 12
	rate := 3600.0 / 2257 / (area / 1e4)
	assert.InDelta(t, 35, rate, 0.5)
	l := mix(t, liquid.Add(get(t, "water"), 2000), liquid.Boil(3600, area, unit.Range{Low: 0.8 * rate, Typical: rate, High: 1.2 * rate}))
	assert.InDelta(t, 2000-1595, float64(l.Mass()), 1)
	s := l.State(20)
	assert.Contains(t, codes(s.Notes), liquid.CodeRate)

	salty := mix(t, liquid.Add(get(t, "water"), 1000), liquid.Add(get(t, "salt"), 10), liquid.Boil(1800, 400, unit.Range{}))
	salt := salty.State(20)
	r := salt.Of(liquid.PropSalt)
	assert.Less(t, r.Low, r.Typical*0.97, "an unknown rate widens the salt")
	assert.Greater(t, r.High, r.Typical*1.03)
	_, err := liquid.Run([]liquid.Step{liquid.Add(get(t, "water"), 100), liquid.Add(get(t, "sugar"), 100), liquid.Boil(36000, 700, unit.Range{})})
	assert.Equal(t, liquid.CodeTooDry, refusal(t, err).Code)
}

// Where the cook knows the time rather than the vessel, the table of retention
// takes the place of the boil's own law, and the weight is still met.
func TestReduceByTable(t *testing.T) {
	steps := []liquid.Step{liquid.Add(get(t, "chicken-stock"), 800), liquid.Add(get(t, "white-wine"), 200)}
	byTable := liquid.ReduceTo(700)
	byTable.ByTable, byTable.Time = true, 15*60
	a := mix(t, append(steps, byTable)...)
	b := mix(t, append(steps, liquid.ReduceTo(700))...)
	assert.InDelta(t, 700, float64(a.Mass()), 1e-9)
	table, boil := a.Parts(), b.Parts()
	assert.InDelta(t, 0.40*20.6, table[liquid.Ethanol], 0.02, "40 % of the wine's alcohol after 15 minutes")
	assert.Less(t, boil[liquid.Ethanol], 0.1*table[liquid.Ethanol], "an open pan loses far more")
	salt := a.State(20)
	assert.InDelta(t, b.State(20).Parts[liquid.Sodium], salt.Parts[liquid.Sodium], 1e-9)
}

func TestInfuseAndStrain(t *testing.T) {
	base := liquid.Add(get(t, "water"), 1000)
	l := mix(t, base, liquid.Infuse(get(t, "parsley"), 50), liquid.Strain())
	parts := l.Parts()
	assert.InDelta(t, 1000, parts.Mass(), 60, "50 g of herbs hold back about their own weight")
	assert.Zero(t, parts[liquid.Fibre])
	assert.Greater(t, parts[liquid.Potassium], 0.05)
	s := l.State(20)
	assert.Contains(t, codes(s.Notes), liquid.CodeYield)
	k := s.Of(liquid.PropPotassium)
	assert.Less(t, k.Low, 0.6*k.Typical, "how much they give is not known")
	weighed := mix(t, base, liquid.Infuse(get(t, "parsley"), 50), liquid.StrainTo(900))
	assert.InDelta(t, 900, float64(weighed.Mass()), 1e-9)
	pulp := mix(t, liquid.Add(get(t, "raspberry"), 500), liquid.Step{Kind: liquid.StepStrain, Pulp: 1, Share: 1})
	p := pulp.Parts()
	assert.Zero(t, p[liquid.Fibre])
	assert.InDelta(t, 500*(1-0.065), p.Mass(), 1)
}

func TestHeatEndsEnzymesAndRawEgg(t *testing.T) {
	raw := mix(t, liquid.Add(get(t, "pineapple-raw"), 300), liquid.Add(get(t, "egg-white"), 60)).State(20)
	assert.Contains(t, codes(raw.Notes), liquid.CodeProtease)
	assert.Contains(t, codes(raw.Notes), liquid.CodeRawEgg)
	boiled := mix(t, liquid.Add(get(t, "pineapple-raw"), 300), liquid.Add(get(t, "egg-white"), 60), liquid.ReduceBy(0.1)).State(20)
	assert.NotContains(t, codes(boiled.Notes), liquid.CodeProtease)
	assert.NotContains(t, codes(boiled.Notes), liquid.CodeRawEgg)
}

func TestSafetyNotes(t *testing.T) {
	level := func(s liquid.State, c note.Code) note.Level {
		for _, n := range s.Notes {
			if n.Code == c {
				return n.Level
			}
		}
		return note.Reason
	}
	oil := mix(t, liquid.Add(get(t, "olive-oil"), 300), liquid.Add(get(t, "garlic"), 30)).State(20)
	assert.Equal(t, note.Danger, level(oil, liquid.CodeSpores))
	plain := mix(t, liquid.Add(get(t, "olive-oil"), 300)).State(20)
	assert.NotContains(t, codes(plain.Notes), liquid.CodeSpores)
	assert.False(t, plain.HasPH)
	infused := mix(t, liquid.Add(get(t, "olive-oil"), 300), liquid.Infuse(get(t, "basil"), 30), liquid.StrainTo(280)).State(20)
	assert.Equal(t, note.Danger, level(infused, liquid.CodeSpores), "straining takes no spores out")
	for _, n := range oil.Notes {
		if n.Code == liquid.CodeSpores {
			assert.True(t, n.Source.Valid())
		}
	}
	stock := mix(t, liquid.Add(get(t, "chicken-stock"), 300)).State(20)
	assert.Equal(t, note.Caution, level(stock, liquid.CodeLowAcid))
	lemon := mix(t, liquid.Add(get(t, "lemon-juice"), 300)).State(20)
	assert.NotContains(t, codes(lemon.Notes), liquid.CodeLowAcid)
	water := mix(t, liquid.Add(get(t, "tap-water-hard"), 300)).State(20)
	assert.NotContains(t, codes(water.Notes), liquid.CodeLowAcid)
	curd := mix(t, liquid.Add(get(t, "whole-milk"), 300), liquid.Add(get(t, "lemon-juice"), 30)).State(20)
	assert.Contains(t, codes(curd.Notes), liquid.CodeCurdle)
	caramel := mix(t, liquid.Add(get(t, "sugar"), 300), liquid.Add(get(t, "water"), 60)).State(20)
	assert.Equal(t, note.Danger, level(caramel, liquid.CodeHotSyrup))
}

func TestDiets(t *testing.T) {
	vegan := mix(t, liquid.Add(get(t, "apple-juice"), 100))
	assert.True(t, vegan.Vegan() && vegan.Vegetarian())
	honey := mix(t, liquid.Add(get(t, "apple-juice"), 100), liquid.Add(get(t, "honey"), 10))
	assert.False(t, honey.Vegan())
	assert.True(t, honey.Vegetarian())
	stock := mix(t, liquid.Add(get(t, "veal-stock"), 100))
	assert.False(t, stock.Vegetarian())
	fish := mix(t, liquid.Add(get(t, "worcester-sauce"), 100))
	assert.False(t, fish.Vegetarian())
	assert.NotZero(t, fish.Allergens()&liquid.Fish)
}

// What milk's calcium is: about 2 to 3 of 30 mmol/kg free (murexide 2.5-3.4 in
// skim milk; Fox & McSweeney's split 3.6), and acid frees the colloid.
func TestFreeCalcium(t *testing.T) {
	milk := mix(t, liquid.Add(get(t, "skimmed-milk"), 500)).State(25)
	free := milk.Of(liquid.PropFreeCalcium)
	assert.True(t, free.Contains(2.5), "%v", free)
	sour := mix(t, liquid.Add(get(t, "yogurt"), 500)).State(25)
	assert.Greater(t, sour.Of(liquid.PropFreeCalcium).Typical, 15.0)
	hard := mix(t, liquid.Add(get(t, "tap-water-hard"), 1000)).State(25)
	assert.InDelta(t, hard.Of(liquid.PropCalcium).Typical, hard.Of(liquid.PropFreeCalcium).Typical, 0.05)
	bound := mix(t, liquid.Add(get(t, "tap-water-hard"), 1000), liquid.Add(get(t, "trisodium-citrate"), 2)).State(25)
	assert.Less(t, bound.Of(liquid.PropFreeCalcium).Typical, 0.25*bound.Of(liquid.PropCalcium).Typical, "6.8 mmol of citrate hold 2 mmol of calcium")
	acid := mix(t, liquid.Add(get(t, "tap-water-hard"), 1000), liquid.Add(get(t, "citric-acid"), 5)).State(25)
	assert.Greater(t, acid.Of(liquid.PropFreeCalcium).Typical, 0.9*acid.Of(liquid.PropCalcium).Typical, "citrate holds none at pH 2.6")
}

// Bicarbonate and gas: sparkling water loses its gas at the boil and its pH rises.
func TestGasLeavesAtTheBoil(t *testing.T) {
	still := mix(t, liquid.Add(get(t, "sparkling-water"), 1000)).State(25)
	boiled := mix(t, liquid.Add(get(t, "sparkling-water"), 1000), liquid.ReduceBy(0.05)).State(25)
	assert.Less(t, still.Of(liquid.PropPH).Typical, 5.3)
	assert.Greater(t, boiled.Of(liquid.PropPH).Typical, 7.0)
	assert.Contains(t, codes(boiled.Notes), liquid.CodeGasLost)
}

func TestStepRefusals(t *testing.T) {
	milk, nan := get(t, "whole-milk"), math.NaN()
	add := liquid.Add(milk, 100)
	for name, c := range map[string]struct {
		steps []liquid.Step
		code  note.Code
		field string
	}{
		"nothing":             {nil, liquid.CodeEmpty, "steps"},
		"reduce nothing":      {[]liquid.Step{liquid.ReduceBy(0.5)}, liquid.CodeEmpty, "steps.0"},
		"negative":            {[]liquid.Step{liquid.Add(milk, -5)}, liquid.CodeBadAmount, "steps.0.mass"},
		"zero":                {[]liquid.Step{liquid.Add(milk, 0)}, liquid.CodeBadAmount, "steps.0.mass"},
		"NaN":                 {[]liquid.Step{liquid.Add(milk, unit.Mass(nan))}, liquid.CodeNotFinite, "steps.0.mass"},
		"huge":                {[]liquid.Step{liquid.Add(milk, 1e12)}, liquid.CodeBadAmount, "steps.0.mass"},
		"negative volume":     {[]liquid.Step{liquid.AddVolume(milk, -1)}, liquid.CodeBadAmount, "steps.0.volume"},
		"no composition":      {[]liquid.Step{liquid.Add(liquid.Ingredient{}, 5)}, liquid.CodeNothing, "steps.0.per100"},
		"reduce to more":      {[]liquid.Step{add, liquid.ReduceTo(200)}, liquid.CodeNotLess, "steps.1.to"},
		"reduce all":          {[]liquid.Step{add, liquid.ReduceBy(1)}, liquid.CodeNotLess, "steps.1.share"},
		"below dry matter":    {[]liquid.Step{add, liquid.ReduceTo(5)}, liquid.CodeTooDry, "steps.1.to"},
		"reduce oil":          {[]liquid.Step{liquid.Add(get(t, "olive-oil"), 100), liquid.ReduceBy(0.1)}, liquid.CodeTooDry, "steps.1.share"},
		"strain to more":      {[]liquid.Step{add, liquid.StrainTo(120)}, liquid.CodeBadYield, "steps.1.to"},
		"strain pulp":         {[]liquid.Step{add, {Kind: liquid.StepStrain, Pulp: 2}}, liquid.CodeBadYield, "steps.1.pulp"},
		"solids soak up all":  {[]liquid.Step{add, liquid.Infuse(get(t, "parsley"), 500), liquid.Strain()}, liquid.CodeBadYield, "steps.2.share"},
		"time":                {[]liquid.Step{add, liquid.Cook(liquid.StirredIn, unit.Seconds(nan))}, liquid.CodeBadTime, "steps.1.time"},
		"area":                {[]liquid.Step{add, liquid.Boil(60, 0, unit.Range{})}, liquid.CodeBadAmount, "steps.1.area"},
		"rate":                {[]liquid.Step{add, liquid.Boil(60, 100, unit.Range{Low: 5, Typical: 3, High: 1})}, liquid.CodeBadAmount, "steps.1.rate"},
		"treatment":           {[]liquid.Step{add, liquid.Cook(99, 60)}, liquid.CodeBadStep, "steps.1.treatment"},
		"unknown step":        {[]liquid.Step{add, {Kind: 99}}, liquid.CodeBadStep, "steps.1.kind"},
		"blend nothing":       {[]liquid.Step{add, liquid.Blend(nil, 5)}, liquid.CodeEmpty, "steps.1.other"},
		"pH 0.1":              {[]liquid.Step{add, liquid.Measure(liquid.Reading{Value: 0.1})}, liquid.CodeBadReading, "steps.1.value"},
		"unknown instrument":  {[]liquid.Step{add, liquid.Measure(liquid.Reading{Instrument: 9})}, liquid.CodeBadStep, "steps.1.instrument"},
		"pH of oil":           {[]liquid.Step{liquid.Add(get(t, "olive-oil"), 100), liquid.Measure(liquid.Reading{Value: 5})}, liquid.CodeDryPH, "steps.1.value"},
		"brix without sugar":  {[]liquid.Step{liquid.Add(get(t, "water"), 100), liquid.Measure(liquid.Reading{Instrument: liquid.Refractometer, Value: 10})}, liquid.CodeNoSugar, "steps.1.value"},
		"alcohol without any": {[]liquid.Step{add, liquid.Measure(liquid.Reading{Instrument: liquid.Alcoholmeter, Value: 0.1})}, liquid.CodeNoAlcohol, "steps.1.value"},
		"alcohol of 120 %":    {[]liquid.Step{liquid.Add(get(t, "white-wine"), 100), liquid.Measure(liquid.Reading{Instrument: liquid.Alcoholmeter, Value: 1.2})}, liquid.CodeBadReading, "steps.1.value"},
		"set all aside":       {[]liquid.Step{add, liquid.PourOff(100)}, liquid.CodeBadAside, "steps.1.mass"},
		"set aside a NaN":     {[]liquid.Step{add, liquid.PourOff(unit.Mass(nan))}, liquid.CodeNotFinite, "steps.1.mass"},
		"set aside nothing":   {[]liquid.Step{add, liquid.PourOffShare(0)}, liquid.CodeBadAside, "steps.1.share"},
		"nothing aside":       {[]liquid.Step{add, liquid.PourBack(0)}, liquid.CodeNoAside, "steps.1"},
		"more than is aside":  {[]liquid.Step{add, liquid.PourOff(40), liquid.PourBack(41)}, liquid.CodeBadAside, "steps.2.mass"},
		"back a negative":     {[]liquid.Step{add, liquid.PourOff(40), liquid.PourBack(-1)}, liquid.CodeBadAside, "steps.2.mass"},
		"density of mercury":  {[]liquid.Step{add, liquid.Measure(liquid.Reading{Instrument: liquid.Hydrometer, Value: 13.6})}, liquid.CodeBadReading, "steps.1.value"},
		"too many":            {make([]liquid.Step, 101), liquid.CodeTooMany, "steps"},
	} {
		_, err := liquid.Run(c.steps)
		require.Error(t, err, name)
		r := refusal(t, err)
		assert.Equal(t, c.code, r.Code, name)
		assert.Equal(t, c.field, r.Field, name)
		assert.Equal(t, note.Refused, r.Level, name)
		for _, a := range r.Args {
			assert.True(t, a.Unit == "" || unit.Finite(a.Value), "%s: %s", name, a.Name)
		}
	}
}

// No recipe gives NaN, an inverted range, or a panic.
func FuzzRun(f *testing.F) {
	f.Add([]byte{0, 10, 200, 1, 50, 3, 3, 128, 0, 9, 3, 8, 0, 30}, 0.5)
	f.Add([]byte{0, 190, 255, 0, 3, 255, 3, 255, 0, 4, 100, 1}, 4.0)
	f.Add([]byte{1, 77, 30, 2, 1, 1, 5, 3, 200, 8, 1, 99, 7, 9, 9}, 1.0)
	all := liquid.Catalogue()
	f.Fuzz(func(t *testing.T, data []byte, value float64) {
		var steps []liquid.Step
		for len(data) >= 3 && len(steps) < 12 {
			k, a, b := data[0], data[1], data[2]
			data = data[3:]
			s := liquid.Step{
				Kind: liquid.StepKind(k % 13), Ingredient: all[int(a)%len(all)], Mass: unit.Mass(b) * unit.Mass(b), Share: unit.Fraction(b) / 256,
				Time: unit.Seconds(b) * 60, Area: float64(a) * 4, Treatment: liquid.Treatment(a % 6), ByTable: b%2 == 0,
				Reading: liquid.Reading{Instrument: liquid.Instrument(a % 6), Value: value},
			}
			if s.Kind == liquid.StepReduce && b%3 == 0 {
				s.To = unit.Mass(a)
			}
			steps = append(steps, s)
		}
		l, err := liquid.Run(steps)
		if err != nil {
			refusal(t, err)
			return
		}
		requireSound(t, l)
		if answer, err := l.AddToReach(all[len(steps)], liquid.PropPH, value); err == nil {
			requireSound(t, answer.Liquid)
		}
		if answer, err := l.ReduceToReach(liquid.PropBrix, value); err == nil {
			requireSound(t, answer.Liquid)
		}
		if _, err := l.HoldBack(liquid.SplitRule{Agent: 1, Cap: 0.03, MinPH: 4, Hot: 95, Rest: unit.Celsius(value), Set: 40}); err != nil {
			refusal(t, err)
		}
	})
}

func requireSound(t *testing.T, l *liquid.Liquid) {
	t.Helper()
	for _, at := range []unit.Celsius{0, 25, 95, unit.Celsius(math.NaN())} {
		s := l.State(at)
		for p := range liquid.NumProperties {
			r := s.Of(p)
			if !r.Valid() {
				t.Fatalf("%s at %g: %v", p, float64(at), r)
			}
			for _, d := range l.Drivers(p) {
				if !unit.Finite(d.Share) || math.Abs(d.Share) > 1+1e-9 || d.Ingredient >= len(l.Ingredients()) {
					t.Fatalf("%s: driver %+v", p, d)
				}
			}
		}
		for c, x := range s.Parts {
			if !unit.Finite(x) || x < -1e-9 {
				t.Fatalf("%s: %g g", liquid.Constituent(c), x)
			}
		}
		for _, n := range s.Notes {
			for _, a := range n.Args {
				if a.Unit != "" && !unit.Finite(a.Value) {
					t.Fatalf("%s: %s", n.Code, a.Name)
				}
			}
		}
	}
}

func ExampleRun() {
	vinegar, _ := liquid.Find("white wine vinegar")
	wine, _ := liquid.Find("dry white wine")
	sugar, _ := liquid.Find("sugar")
	l, err := liquid.Run([]liquid.Step{
		liquid.AddVolume(vinegar, 200), liquid.AddVolume(wine, 100), liquid.Add(sugar, 100), liquid.ReduceBy(0.05),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	s := l.State(20)
	fmt.Printf("%.0f g, pH %.1f, %.0f °Bx\n", float64(s.Mass), s.Of(liquid.PropPH).Typical, s.Of(liquid.PropBrix).Typical)
	// Output: 381 g, pH 2.9, 30 °Bx
}

// What the caution says must not contradict itself: a pH that is shown as 4.6 is not
// above 4.6.
func TestLowAcidIsShownAboveItsLimit(t *testing.T) {
	seen := 0
	for grams := 1.0; grams < 60; grams += 0.5 {
		s := mix(t, liquid.Add(get(t, "chicken-stock"), 300), liquid.Add(get(t, "lemon-juice"), unit.Mass(grams))).State(20)
		for _, n := range s.Notes {
			if n.Code != liquid.CodeLowAcid {
				continue
			}
			seen++
			shown := math.Round(n.Args[0].Value*10) / 10
			assert.Greater(t, shown, n.Args[1].Value, "%g g of lemon juice: %g", grams, s.Of(liquid.PropPH).High)
			assert.InDelta(t, s.Of(liquid.PropPH).High, shown, 0.1001)
		}
	}
	assert.Positive(t, seen)
}

// Half a litre of wine that simmers in a wide pan for 20 minutes loses 0.4 of its
// weight. Boiled down to that weight it has no alcohol left; simmered, the table
// alone left 9 % vol of it, and up to 15.5, more than went in.
func TestSimmerInAnOpenPanAgreesWithBoilingDown(t *testing.T) {
	simmer := liquid.Boil(20*60, math.Pi*12*12, unit.Range{})
	simmer.ByTable, simmer.Treatment = true, liquid.StirredIn
	wine := liquid.Add(get(t, "red-wine"), 500)
	l := mix(t, wine, simmer)
	before, after := mix(t, wine).State(20), l.State(20)
	had, has := before.Of(liquid.PropABV), after.Of(liquid.PropABV)
	down := mix(t, wine, liquid.ReduceTo(l.Mass())).State(20)
	assert.InDelta(t, down.Of(liquid.PropABV).Typical, has.Typical, 0.003)
	assert.Less(t, has.High, had.High, "it never gets stronger")
	assert.Greater(t, has.High, 0.05, "the table's share lies within the range")
	assert.Contains(t, codes(after.Notes), liquid.CodeOpenPan)
	assert.NotContains(t, codes(after.Notes), liquid.CodeRetention)

	narrow := liquid.Boil(15*60, 20, unit.Range{})
	narrow.ByTable, narrow.Treatment = true, liquid.StirredIn
	n := mix(t, wine, narrow)
	parts := n.Parts()
	assert.InDelta(t, 500*0.106*0.40, parts[liquid.Ethanol], 0.3, "hardly any water goes: the table")
}

// 25 g of lemon juice in 500 g of milk make some pH 5.4, 5.2 at the least: the
// sentence tells the figure that is below its limit.
func TestCurdlingTellsTheFigureThatCurdles(t *testing.T) {
	s := mix(t, liquid.Add(get(t, "whole-milk"), 500), liquid.Add(get(t, "lemon-juice"), 27)).State(20)
	for _, n := range s.Notes {
		if n.Code == liquid.CodeCurdle {
			ph, _ := n.Arg("ph")
			limit, _ := n.Arg("limit")
			assert.Less(t, ph.Value, limit.Value)
			assert.Greater(t, s.Of(liquid.PropPH).Typical, limit.Value, "its middle is above")
			return
		}
	}
	t.Fatal("it may curdle")
}
