package liquid_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/liquid"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// The usual questions, each answered and verified by a fresh computation.
func TestAddToReach(t *testing.T) {
	raspberry := liquid.Add(get(t, "raspberry"), 1000)
	for name, c := range map[string]struct {
		base  liquid.Step
		with  string
		prop  liquid.Property
		value float64
	}{
		"sugar to 12 °Brix":   {liquid.Add(get(t, "apple-puree"), 1000), "sugar", liquid.PropBrix, 20},
		"syrup to 25 °Brix":   {raspberry, "syrup-1-1", liquid.PropBrix, 25},
		"water to 6 °Brix":    {raspberry, "water", liquid.PropBrix, 6},
		"lemon to pH 3.4":     {liquid.Add(get(t, "apple-juice"), 500), "lemon-juice", liquid.PropPH, 3.4},
		"citric acid to pH 3": {liquid.Add(get(t, "peach"), 500), "citric-acid", liquid.PropPH, 3.0},
		"citrate to pH 4.2":   {liquid.Add(get(t, "raspberry"), 500), "trisodium-citrate", liquid.PropPH, 4.2},
		"spirit to 8 % vol":   {liquid.Add(get(t, "orange-juice"), 700), "spirit-40", liquid.PropABV, 0.08},
		"water to 8 % vol":    {liquid.Add(get(t, "white-wine"), 700), "water", liquid.PropABV, 0.08},
		"salt to 1.2 %":       {liquid.Add(get(t, "tomato-juice"), 700), "salt", liquid.PropSalt, 0.012},
		"a density":           {liquid.Add(get(t, "water"), 700), "sugar", liquid.PropDensity, 1.08},
		"calcium":             {liquid.Add(get(t, "water"), 700), "calcium-lactate", liquid.PropCalcium, 20},
		"fat":                 {liquid.Add(get(t, "skimmed-milk"), 700), "cream-36", liquid.PropFat, 0.10},
		"soda to pH 7":        {liquid.Add(get(t, "tomato-juice"), 700), "baking-soda", liquid.PropPH, 7},
	} {
		l := mix(t, c.base)
		a, err := l.AddToReach(get(t, c.with), c.prop, c.value)
		require.NoError(t, err, name)
		assert.Greater(t, float64(a.Amount), 0.0, name)
		assert.InDelta(t, c.value, a.Value, 1e-9*max(1, c.value), name)
		again := mix(t, c.base, liquid.Add(get(t, c.with), a.Amount))
		at := unit.Celsius(20)
		if c.prop == liquid.PropPH {
			at = 25
		}
		s := again.State(at)
		assert.InDelta(t, c.value, s.Of(c.prop).Typical, 1e-7*max(1, c.value), "%s computed anew", name)
		less := mix(t, c.base, liquid.Add(get(t, c.with), a.Amount*0.9)).State(at)
		assert.Greater(t, math.Abs(less.Of(c.prop).Typical-c.value), 1e-6, "%s: less would not do", name)
	}
}

func TestReduceToReach(t *testing.T) {
	l := mix(t, liquid.Add(get(t, "chicken-stock"), 1000), liquid.Add(get(t, "white-wine"), 200))
	for prop, value := range map[liquid.Property]float64{liquid.PropSalt: 0.012, liquid.PropBrix: 15, liquid.PropABV: 0.005, liquid.PropDensity: 1.06, liquid.PropWater: 0.8} {
		a, err := l.ReduceToReach(prop, value)
		require.NoError(t, err, prop.String())
		again := mix(t, liquid.Add(get(t, "chicken-stock"), 1000), liquid.Add(get(t, "white-wine"), 200), liquid.ReduceTo(1200-a.Amount)).State(20)
		assert.InDelta(t, value, again.Of(prop).Typical, 1e-7*max(1, value), prop.String())
		assert.InDelta(t, 1200-float64(a.Amount), float64(again.Mass), 1e-6)
	}
	juice := mix(t, liquid.Add(get(t, "apple-juice"), 1000))
	reduced, err := juice.ReduceToReach(liquid.PropBrix, 40)
	require.NoError(t, err)
	assert.InDelta(t, 1000*(1-11.5/40), float64(reduced.Amount), 25, "11.5 °Brix to 40 °Brix")
	diluted, err := juice.DiluteToReach(liquid.PropBrix, 8)
	require.NoError(t, err)
	assert.InDelta(t, 8, diluted.Value, 1e-9)
}

// What cannot be reached is refused with the nearest value that can.
func TestUnreachable(t *testing.T) {
	juice := mix(t, liquid.Add(get(t, "apple-juice"), 500))
	for name, c := range map[string]struct {
		err   error
		limit float64
		about float64
	}{
		"alcohol by wine":     {second(juice.AddToReach(get(t, "white-wine"), liquid.PropABV, 0.3)), 12.8, 0.7},
		"sugar by water":      {second(juice.DiluteToReach(liquid.PropBrix, 30)), 11.3, 0.7},
		"acid by vinegar":     {second(juice.AddToReach(get(t, "cider-vinegar"), liquid.PropPH, 2)), 3.1, 0.05},
		"salt by salt":        {second(juice.DiluteToReach(liquid.PropSalt, 0.1)), 0.01, 0.01},
		"reduce for less":     {second(juice.ReduceToReach(liquid.PropBrix, 5)), 11.3, 0.7},
		"reduce for 130 °Bx":  {second(juice.ReduceToReach(liquid.PropBrix, 120)), 97, 4},
		"reduce for alcohol":  {second(juice.ReduceToReach(liquid.PropABV, 0.1)), 0, 0.01},
		"fat by a lean thing": {second(juice.AddToReach(get(t, "skimmed-milk"), liquid.PropFat, 0.2)), 0.13, 0.06},
	} {
		r := refusal(t, c.err)
		assert.Equal(t, liquid.CodeUnreachable, r.Code, name)
		limit, ok := r.Arg("limit")
		require.True(t, ok, name)
		assert.InDelta(t, c.limit, limit.Value, c.about, name)
	}
	for name, err := range map[string]error{
		"pH 15":        second(juice.AddToReach(get(t, "sugar"), liquid.PropPH, 15)),
		"NaN":          second(juice.AddToReach(get(t, "sugar"), liquid.PropBrix, math.NaN())),
		"negative":     second(juice.ReduceToReach(liquid.PropBrix, -1)),
		"120 % vol":    second(juice.DiluteToReach(liquid.PropABV, 1.2)),
		"no property":  second(juice.DiluteToReach(liquid.NumProperties, 1)),
		"free calcium": second(juice.DiluteToReach(liquid.PropFreeCalcium, 1)),
		"no thing":     second(juice.AddToReach(liquid.Ingredient{}, liquid.PropBrix, 20)),
	} {
		assert.Contains(t, []note.Code{liquid.CodeBadTarget, liquid.CodeNotThere, liquid.CodeNothing}, refusal(t, err).Code, name)
	}
}

func second[T any](_ T, err error) error { return err }

// Any answer, for any pair of ingredients, holds when computed anew.
func TestAnswersHold(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 5))
	all := liquid.Catalogue()
	answered := 0
	for range 150 {
		base := liquid.Add(all[random.IntN(len(all))], unit.Mass(100+900*random.Float64()))
		with := all[random.IntN(len(all))]
		prop := []liquid.Property{liquid.PropPH, liquid.PropBrix, liquid.PropSalt, liquid.PropDensity, liquid.PropABV}[random.IntN(5)]
		value := []float64{2 + 6*random.Float64(), 60 * random.Float64(), 0.05 * random.Float64(), 0.95 + 0.3*random.Float64(), 0.3 * random.Float64()}[map[liquid.Property]int{liquid.PropPH: 0, liquid.PropBrix: 1, liquid.PropSalt: 2, liquid.PropDensity: 3, liquid.PropABV: 4}[prop]]
		a, err := mix(t, base).AddToReach(with, prop, value)
		if err != nil {
			refusal(t, err)
			continue
		}
		answered++
		assert.InDelta(t, value, a.Value, 1e-6, "%s into %s", with.ID, base.Ingredient.ID)
	}
	assert.Greater(t, answered, 30)
}

func TestMeasuredPHRecalibrates(t *testing.T) {
	steps := []liquid.Step{liquid.Add(get(t, "raspberry"), 500), liquid.Add(get(t, "sugar"), 50)}
	estimated := mix(t, steps...).State(25)
	measured := mix(t, append(steps, liquid.Measure(liquid.Reading{Instrument: liquid.PHMeter, Value: 3.24}))...)
	s := measured.State(25)
	ph := s.Of(liquid.PropPH)
	assert.InDelta(t, 3.24, ph.Typical, 1e-6)
	assert.InDelta(t, 0.05, ph.High-ph.Typical, 0.01, "the range is the meter's")
	assert.InDelta(t, 0.05, ph.Typical-ph.Low, 0.01)
	assert.True(t, s.Measured)
	assert.Contains(t, codes(s.Notes), liquid.CodeMeasured)
	// What follows agrees with it: cream lifts both by the same way.
	later, err := measured.Then(liquid.Add(get(t, "cream-36"), 200))
	require.NoError(t, err)
	after := later.State(25)
	plain := mix(t, append(steps, liquid.Add(get(t, "cream-36"), 200))...).State(25)
	assert.Greater(t, after.Of(liquid.PropPH).Typical, 3.24)
	assert.Less(t, after.Of(liquid.PropPH).Typical, plain.Of(liquid.PropPH).Typical, "the more acid puree stays more acid (estimated %v)", estimated.Of(liquid.PropPH))
	strip := mix(t, append(steps, liquid.Measure(liquid.Reading{Instrument: liquid.PHStrip, Value: 3.5}))...).State(25)
	r := strip.Of(liquid.PropPH)
	assert.InDelta(t, 1.0, r.High-r.Low, 0.1, "a strip is half a unit off either way")
	far := mix(t, append(steps, liquid.Measure(liquid.Reading{Value: 6}))...).State(25)
	assert.Contains(t, codes(far.Notes), liquid.CodeMeasureFar)
	// The same reading again changes nothing.
	again, err := measured.Then(liquid.Measure(liquid.Reading{Value: 3.24}))
	require.NoError(t, err)
	twice := again.State(25)
	assert.InDelta(t, s.SID, twice.SID, 1e-9)
}

func TestMeasuredBrixRecalibrates(t *testing.T) {
	l := mix(t, liquid.Add(get(t, "raspberry"), 500), liquid.Measure(liquid.Reading{Instrument: liquid.Refractometer, Value: 12}))
	s := l.State(20)
	assert.InDelta(t, 12, s.Of(liquid.PropReading).Typical, 1e-9)
	assert.InDelta(t, 500, float64(s.Mass), 1e-9, "the weight stays")
	r := s.Of(liquid.PropBrix)
	assert.InDelta(t, 0.2, r.High-r.Typical, 0.02)
	half, err := l.Then(liquid.Dilute(500))
	require.NoError(t, err)
	diluted := half.State(20)
	assert.InDelta(t, 6, diluted.Of(liquid.PropReading).Typical, 1e-6, "later steps agree with it")

	stock := mix(t, liquid.Add(get(t, "veal-stock"), 500), liquid.ReduceBy(0.8), liquid.Measure(liquid.Reading{Instrument: liquid.Refractometer, Value: 22})).State(20)
	assert.InDelta(t, 22, stock.Of(liquid.PropReading).Typical, 1e-9, "a stock has gelatin in place of sugar")

	wine := mix(t, liquid.Add(get(t, "white-wine"), 750), liquid.Measure(liquid.Reading{Instrument: liquid.Alcoholmeter, Value: 0.11})).State(20)
	assert.InDelta(t, 0.11, wine.Of(liquid.PropABV).Typical, 1e-9)
	assert.InDelta(t, 0.005, wine.Of(liquid.PropABV).High-0.11, 1e-4)

	syrup := mix(t, liquid.Add(get(t, "syrup-1-1"), 300), liquid.Measure(liquid.Reading{Instrument: liquid.Hydrometer, Value: 1.200})).State(20)
	assert.InDelta(t, 1.200, syrup.Of(liquid.PropDensity).Typical, 1e-9)
	assert.InDelta(t, 44.6, syrup.Of(liquid.PropBrix).Typical, 0.1, "1.200 g/ml is 44.5 °Brix by the sucrose table")
	_, err = liquid.Run([]liquid.Step{liquid.Add(get(t, "syrup-1-1"), 300), liquid.Measure(liquid.Reading{Instrument: liquid.Hydrometer, Value: 0.9})})
	assert.Equal(t, liquid.CodeBadReading, refusal(t, err).Code)
}

// The refractometer's own corrections: alcohol and salt count in its reading,
// and a cold or warm sample reads off (about 0.06-0.08 °Bx per kelvin).
func TestRefractometer(t *testing.T) {
	wine := mix(t, liquid.Add(get(t, "white-wine"), 750)).State(20)
	assert.InDelta(t, 0.42*10.3, wine.Of(liquid.PropReading).Typical-wine.Of(liquid.PropBrix).Typical, 0.005)
	assert.Less(t, wine.Of(liquid.PropReading).Low, wine.Of(liquid.PropReading).Typical-0.5)
	brine := mix(t, liquid.Add(get(t, "water"), 950), liquid.Add(get(t, "salt"), 50)).State(20)
	assert.InDelta(t, 5.8, brine.Of(liquid.PropReading).Typical, 0.3, "5 % salt reads 5.5 to 6 °Bx")
	warm, err := liquid.CorrectReading(30, 30)
	require.NoError(t, err)
	assert.InDelta(t, 30.75, warm, 0.05)
	same, err := liquid.CorrectReading(30, 20)
	require.NoError(t, err)
	assert.InDelta(t, 30, same, 1e-12)
}

func TestWithTitratable(t *testing.T) {
	wine := get(t, "white-wine")
	for _, g := range []float64{0.5, 0.6, 0.9} { // g of tartaric acid per 100 ml is how wine is reported
		got, err := liquid.WithTitratable(wine, liquid.Tartaric, g, liquid.Tartaric)
		require.NoError(t, err)
		s := mix(t, liquid.Add(got, 1000)).State(25)
		assert.InDelta(t, g*10/150.087*2, s.Of(liquid.PropTitratable).Typical, 1e-4)
		assert.InDelta(t, float64(wine.PH.Typical), s.Of(liquid.PropPH).Typical, 0.001, "pH and titratable acid are two inputs")
	}
	_, err := liquid.WithTitratable(wine, liquid.Sucrose, 1, liquid.Citric)
	assert.Equal(t, liquid.CodeBadStep, refusal(t, err).Code)
	_, err = liquid.WithTitratable(wine, liquid.Citric, math.NaN(), liquid.Citric)
	assert.Equal(t, liquid.CodeBadTarget, refusal(t, err).Code)
	_, err = liquid.WithTitratable(wine, liquid.Citric, 0, liquid.Citric)
	assert.Equal(t, liquid.CodeUnreachable, refusal(t, err).Code, "its other acids are more than that")
}

// Mixing temperatures with equal specific heats: computed by hand from
// T = Σ mT / Σ m.
func TestMixTemperature(t *testing.T) {
	for _, c := range []struct{ hot, rest, at, cold, want float64 }{
		{250, 750, 95, 20, 38.75}, {250, 750, 95, 30, 46.25}, {333, 667, 95, 20, 44.975}, {500, 500, 95, 5, 50.0},
	} {
		got, err := liquid.MixTemperature(liquid.Warm{Mass: unit.Mass(c.hot), Heat: 4, T: unit.Celsius(c.at)}, liquid.Warm{Mass: unit.Mass(c.rest), Heat: 4, T: unit.Celsius(c.cold)})
		require.NoError(t, err)
		assert.InDelta(t, c.want, float64(got), 1e-9)
	}
	share, err := liquid.LeastHotShare(95, 20, 45, 4, 4)
	require.NoError(t, err)
	assert.InDelta(t, 33.3, share.Percent(), 0.05)
	share, err = liquid.LeastHotShare(95, 5, 45, 4, 4)
	require.NoError(t, err)
	assert.InDelta(t, 44.4, share.Percent(), 0.05)
	rest, err := liquid.RestNeeded(0.25, 95, 45, 4, 4)
	require.NoError(t, err)
	assert.InDelta(t, 28.3, float64(rest), 0.05)
	rest, err = liquid.RestNeeded(0.25, 95, 40, 4, 4)
	require.NoError(t, err)
	assert.InDelta(t, 21.7, float64(rest), 0.05)
	none, err := liquid.LeastHotShare(95, 50, 45, 4, 4)
	require.NoError(t, err)
	assert.Zero(t, none)
	assert.Equal(t, liquid.CodeNoSplit, refusal(t, second(liquid.LeastHotShare(40, 20, 45, 4, 4))).Code)
	assert.Error(t, second(liquid.LeastHotShare(95, 20, unit.Celsius(math.NaN()), 4, 4)))
	assert.Error(t, second(liquid.MixTemperature()))
	assert.Error(t, second(liquid.MixTemperature(liquid.Warm{Mass: -1, Heat: 4, T: 20})))
	assert.Error(t, second(liquid.RestNeeded(1, 95, 45, 4, 4)))
}

func TestHoldBack(t *testing.T) {
	rule := liquid.SplitRule{Agent: 6, Cap: 0.03, MinPH: 4.5, Hot: 95, Rest: 20, Set: 40}
	l := mix(t, liquid.Add(get(t, "water"), 400), liquid.Add(get(t, "lemon-juice"), 200), liquid.Add(get(t, "orange-juice"), 200), liquid.Add(get(t, "sugar"), 60))
	s, err := l.HoldBack(rule)
	require.NoError(t, err)
	name := func(list []int) []string {
		var ids []string
		for _, i := range list {
			ids = append(ids, l.Ingredients()[i].ID)
		}
		return ids
	}
	assert.Equal(t, []string{"water", "sugar"}, name(s.Hot))
	assert.Equal(t, []string{"lemon-juice", "orange-juice"}, name(s.Held))
	assert.InDelta(t, 460, float64(s.HotMass), 1e-9)
	assert.InDelta(t, 400, float64(s.HeldMass), 1e-9)
	assert.GreaterOrEqual(t, s.HotPH, 4.5)
	assert.Greater(t, float64(s.Mix), 45.0)
	assert.InDelta(t, 59.5, float64(s.Mix), 1.5, "460 g at 95 and 400 g at 20")
	assert.True(t, s.Works)
	hot := s.Share
	assert.Greater(t, hot, s.LeastShare)

	// Too cold: the plan says how warm the rest must be, and that is right.
	rule.Rest = 4
	rule.Set, rule.Margin = 60, 5
	cold, err := l.HoldBack(rule)
	require.NoError(t, err)
	assert.False(t, cold.Works)
	assert.Contains(t, codes(cold.Notes), liquid.CodeSplitWarm)
	rule.Rest = cold.RestNeeded
	warm, err := l.HoldBack(rule)
	require.NoError(t, err)
	assert.InDelta(t, 65, float64(warm.Mix), 0.3)

	// Too thick: the water asked for brings it under the cap.
	rule = liquid.SplitRule{Agent: 20, Cap: 0.03, MinPH: 4.5, Hot: 95, Rest: 20, Set: 35, Loss: 0.05}
	thick, err := l.HoldBack(rule)
	require.NoError(t, err)
	assert.Contains(t, codes(thick.Notes), liquid.CodeSplitWater)
	assert.InDelta(t, 20/0.03-0.95*460, float64(thick.AddWater), 1e-6)

	// All acid: nothing to hydrate in.
	sour := mix(t, liquid.Add(get(t, "lemon-juice"), 200))
	_, err = sour.HoldBack(rule)
	r := refusal(t, err)
	assert.Equal(t, liquid.CodeNoSplit, r.Code)
	limit, _ := r.Arg("limit")
	assert.InDelta(t, 2.3, limit.Value, 0.01)

	// Nothing acid: nothing to hold back.
	milk := mix(t, liquid.Add(get(t, "whole-milk"), 700))
	all, err := milk.HoldBack(rule)
	require.NoError(t, err)
	assert.Empty(t, all.Held)
	assert.Contains(t, codes(all.Notes), liquid.CodeSplitOff)
	assert.InDelta(t, 95, float64(all.Mix), 1e-9)

	// What was boiled together cannot be taken apart again.
	boiled := mix(t, liquid.Add(get(t, "water"), 400), liquid.Add(get(t, "lemon-juice"), 200), liquid.ReduceBy(0.1))
	_, err = boiled.HoldBack(rule)
	assert.Equal(t, liquid.CodeNoSplit, refusal(t, err).Code)

	for name, bad := range map[string]liquid.SplitRule{
		"no agent": {Cap: 0.03, Hot: 95, Rest: 20, Set: 35}, "no cap": {Agent: 5, Hot: 95, Rest: 20, Set: 35},
		"NaN": {Agent: 5, Cap: 0.03, Hot: unit.Celsius(math.NaN()), Rest: 20, Set: 35}, "loss": {Agent: 5, Cap: 0.03, Hot: 95, Rest: 20, Set: 35, Loss: 1},
	} {
		_, err := l.HoldBack(bad)
		require.Error(t, err, name)
		refusal(t, err)
	}
}

// A spirit is the least sour part of a drink, and no part to hydrate anything in.
func TestHoldBackFromSpirit(t *testing.T) {
	rule := liquid.SplitRule{Agent: 1, Cap: 0.03, MinPH: 4, MaxABV: 0.2, Hot: 60, Rest: 20, Set: 25}
	drink := mix(t, liquid.Add(get(t, "spirit-40"), 100), liquid.Add(get(t, "tonic-water"), 150))
	_, err := drink.HoldBack(rule)
	r := refusal(t, err)
	assert.Equal(t, liquid.CodeNoSplit, r.Code)
	value, _ := r.Arg("value")
	limit, _ := r.Arg("limit")
	assert.Equal(t, unit.PH, limit.Unit)
	assert.Less(t, limit.Value, value.Value, "what is weak enough is too sour")

	long := mix(t, liquid.Add(get(t, "spirit-40"), 100), liquid.Add(get(t, "tonic-water"), 150), liquid.Add(get(t, "water"), 80))
	s, err := long.HoldBack(rule)
	require.NoError(t, err)
	assert.Equal(t, []int{2}, s.Hot, "the water, not the spirit")

	neat := mix(t, liquid.Add(get(t, "spirit-40"), 100))
	_, err = neat.HoldBack(rule)
	r = refusal(t, err)
	limit, _ = r.Arg("limit")
	assert.Equal(t, unit.ABV, limit.Unit)
	assert.InDelta(t, 40, limit.Value, 0.2)

	rule.MaxABV = 1.1
	_, err = drink.HoldBack(rule)
	assert.Equal(t, liquid.CodeBadSplit, refusal(t, err).Code)
}

func TestDrivers(t *testing.T) {
	l := mix(t, liquid.Add(get(t, "whole-milk"), 500), liquid.Add(get(t, "lemon-juice"), 30), liquid.Add(get(t, "sugar"), 40), liquid.Add(get(t, "spirit-40"), 50))
	name := func(d liquid.Driver) string { return l.Ingredients()[d.Ingredient].ID + " " + d.Constituent.String() }
	for prop, want := range map[liquid.Property]string{
		liquid.PropPH: "lemon-juice citric", liquid.PropBrix: "sugar sucrose", liquid.PropABV: "spirit-40 ethanol", liquid.PropCalcium: "whole-milk calcium",
		liquid.PropFat: "whole-milk fat", liquid.PropProtein: "whole-milk dairy-protein", liquid.PropWater: "whole-milk water",
	} {
		drivers := l.Drivers(prop)
		require.NotEmpty(t, drivers, prop.String())
		assert.Equal(t, want, name(drivers[0]), prop.String())
		sum := 0.0
		for i, d := range drivers {
			sum += math.Abs(d.Share)
			assert.True(t, i == 0 || prop == liquid.PropPH || math.Abs(d.Share) <= math.Abs(drivers[i-1].Share), "strongest first")
		}
		assert.InDelta(t, 1, sum, 0.06, "all but what is below 1 %%")
	}
	assert.Empty(t, l.Drivers(liquid.PropStarch))
	assert.Empty(t, l.Drivers(liquid.NumProperties))
	soda := mix(t, liquid.Add(get(t, "lemon-juice"), 100), liquid.Add(get(t, "baking-soda"), 2)).Drivers(liquid.PropPH)
	negative := false
	for _, d := range soda {
		negative = negative || d.Share < 0
	}
	assert.True(t, negative, "soda works against the acid")
}

func TestStateEdges(t *testing.T) {
	l := mix(t, liquid.Add(get(t, "whole-milk"), 500))
	s := l.State(-40)
	assert.Equal(t, unit.Celsius(0), s.T)
	s = l.State(400)
	assert.Equal(t, unit.Celsius(100), s.T)
	assert.Equal(t, unit.Range{}, s.Of(liquid.NumProperties))
	assert.Zero(t, s.Share(liquid.NumConstituents))
	lactose := s.Share(liquid.Lactose)
	assert.InDelta(t, 0.0505, float64(lactose), 3e-4)
	cold, hot := l.State(5), l.State(60)
	assert.Greater(t, cold.Of(liquid.PropPH).Typical, hot.Of(liquid.PropPH).Typical-0.5)
	assert.Greater(t, float64(hot.Volume), float64(cold.Volume))
	assert.Equal(t, "", liquid.Constituent(200).String())
	c, ok := liquid.ConstituentNamed("citric")
	assert.True(t, ok)
	assert.Equal(t, liquid.Citric, c)
}

func TestAsIngredient(t *testing.T) {
	l := mix(t, liquid.Add(get(t, "veal-stock"), 1500), liquid.Add(get(t, "red-wine"), 300), liquid.ReduceTo(500), liquid.Measure(liquid.Reading{Value: 5.1}))
	g, err := l.AsIngredient("house jus")
	require.NoError(t, err)
	again := mix(t, liquid.Add(g, 200))
	a, b := l.State(25), again.State(25)
	for p := range liquid.NumProperties {
		assert.InDelta(t, a.Of(p).Typical, b.Of(p).Typical, 2e-4*max(1, math.Abs(a.Of(p).Typical)), p.String())
	}
	assert.Equal(t, l.Flags(), again.Flags())
	assert.Equal(t, l.Allergens(), again.Allergens())
	oil, err := mix(t, liquid.Add(get(t, "olive-oil"), 100)).AsIngredient("oil")
	require.NoError(t, err)
	assert.Equal(t, liquid.PH{}, oil.PH)

	lemon, err := get(t, "lemon-juice").Measured(liquid.Reading{Value: 2.45})
	require.NoError(t, err)
	assert.Equal(t, "lemon-juice", lemon.ID)
	s := mix(t, liquid.Add(lemon, 100)).State(25)
	assert.InDelta(t, 2.45, s.Of(liquid.PropPH).Typical, 1e-3)
	assert.InDelta(t, 0.05, s.Of(liquid.PropPH).High-2.45, 0.01)
	honey, err := get(t, "honey").Measured(liquid.Reading{Instrument: liquid.Refractometer, Value: 79})
	require.NoError(t, err)
	s = mix(t, liquid.Add(honey, 100)).State(20)
	assert.InDelta(t, 79, s.Of(liquid.PropReading).Typical, 1e-3)
	assert.Less(t, float64(honey.DensityAt(20)), float64(1.42))
	_, err = get(t, "olive-oil").Measured(liquid.Reading{Value: 5})
	assert.Equal(t, liquid.CodeDryPH, refusal(t, err).Code)
}

// Specific heats at 20 °C by Choi & Okos (1986), computed independently: water
// 4177, syrup 50 % 2881, whole milk 3894, cream 3247 J/(kg K).
func TestSpecificHeat(t *testing.T) {
	for id, want := range map[string]float64{"water": 4.177, "syrup-1-1": 2.881, "whole-milk": 3.894, "cream-36": 3.247} {
		s := mix(t, liquid.Add(get(t, id), 100)).State(20)
		assert.InDelta(t, want, s.Of(liquid.PropHeat).Typical, 0.015, id)
	}
}

// Every property of a liquid that has everything names something that drives it.
func TestEveryPropertyHasDrivers(t *testing.T) {
	l := mix(t, liquid.Add(get(t, "whole-milk"), 500), liquid.Add(get(t, "banana"), 200), liquid.Add(get(t, "spirit-40"), 50), liquid.Add(get(t, "honey"), 30))
	for p := range liquid.NumProperties {
		drivers := l.Drivers(p)
		require.NotEmpty(t, drivers, p.String())
		if ref := p.Source(); ref.Tag != "" {
			assert.True(t, ref.Valid(), p.String())
		}
		for _, d := range drivers {
			assert.NotZero(t, d.Share)
		}
	}
	for _, d := range l.Drivers(liquid.PropDensity) {
		if d.Constituent == liquid.Ethanol || d.Constituent == liquid.Fat {
			assert.Negative(t, d.Share, "alcohol and fat make it lighter")
		}
	}
	titratable := l.Drivers(liquid.PropTitratable)
	assert.NotEqual(t, liquid.Water, titratable[0].Constituent)
	alone := mix(t, liquid.Add(get(t, "lemon-juice"), 100)).Drivers(liquid.PropPH)
	require.NotEmpty(t, alone)
	assert.Equal(t, liquid.Citric, alone[0].Constituent, "one ingredient pulls nowhere: its own acid is named")
}

func TestThen(t *testing.T) {
	l := mix(t, liquid.Add(get(t, "apple-juice"), 500), liquid.ReduceBy(0.2))
	before := l.Parts()
	next, err := l.Then(liquid.Add(get(t, "sugar"), 50))
	require.NoError(t, err)
	assert.InDelta(t, 450, float64(next.Mass()), 1e-9)
	assert.Equal(t, before, l.Parts(), "the liquid itself does not change")
	s := next.State(20)
	assert.InDelta(t, 450/s.Of(liquid.PropDensity).Typical, float64(next.Volume(20)), 1e-6)
	_, err = l.Then(liquid.ReduceTo(1))
	assert.Equal(t, "steps.0.to", refusal(t, err).Field)
	_, err = l.Then(make([]liquid.Step, 101)...)
	assert.Equal(t, liquid.CodeTooMany, refusal(t, err).Code)
}
