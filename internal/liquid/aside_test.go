package liquid_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/liquid"
	"tremblant/internal/unit"
)

// Set aside and blended back at once is nothing done at all, in its ranges too.
func TestAsideAndBackIsIdentity(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 17))
	all := liquid.Catalogue()
	for range 200 {
		var steps []liquid.Step
		mass := 0.0
		for range 1 + random.IntN(4) {
			m := 5 + 300*random.Float64()
			mass += m
			steps = append(steps, liquid.Add(all[random.IntN(len(all))], unit.Mass(m)))
		}
		plain := mix(t, steps...)
		off := unit.Mass(mass * (0.05 + 0.4*random.Float64()))
		steps = append(steps, liquid.PourOff(off), liquid.PourOffShare(0.3), liquid.PourBack(off/2), liquid.PourBack(0))
		back := mix(t, steps...)
		x, y := plain.Parts(), back.Parts()
		for c := range x {
			require.InDelta(t, x[c], y[c], 1e-9*mass, liquid.Constituent(c).String())
		}
		require.Len(t, back.Ingredients(), len(plain.Ingredients()), "what came back is no other ingredient")
		s, r := plain.State(20), back.State(20)
		for p := range liquid.NumProperties {
			a, b := s.Of(p), r.Of(p)
			require.InDelta(t, a.Typical, b.Typical, 1e-6*max(1, math.Abs(a.Typical)), p.String())
			if p != liquid.PropPH && p != liquid.PropTitratable && p != liquid.PropFreeCalcium { // a mixture's pH has the error of mixing, a lone ingredient's has not
				require.InDelta(t, a.High-a.Low, b.High-b.Low, 1e-6*max(1, math.Abs(a.Typical)), "the range of %s", p)
			}
		}
	}
}

// What was set aside misses what is done to the rest: a third of a wine kept
// while the rest boils down brings its alcohol back whole. The same comes of
// blending two liquids that were made apart.
func TestBlendAfterReduction(t *testing.T) {
	wine, salt := get(t, "white-wine"), get(t, "salt")
	apart := mix(t, liquid.Add(wine, 900), liquid.Add(salt, 9))
	reduced := mix(t, liquid.Add(wine, 600), liquid.Add(salt, 6), liquid.ReduceTo(200))
	want := mix(t, liquid.Blend(reduced, 200), liquid.Blend(apart, 303))
	got := mix(t, liquid.Add(wine, 900), liquid.Add(salt, 9), liquid.PourOff(303), liquid.ReduceTo(200), liquid.PourBack(0))
	x, y := want.Parts(), got.Parts()
	for c := range x {
		assert.InDelta(t, x[c], y[c], 1e-9*503, liquid.Constituent(c).String())
	}
	assert.InDelta(t, 503, float64(got.Mass()), 1e-9)
	s, r := want.State(25), got.State(25)
	assert.InDelta(t, s.Of(liquid.PropPH).Typical, r.Of(liquid.PropPH).Typical, 1e-6)
	assert.Greater(t, r.Of(liquid.PropABV).Typical, 0.06, "a third of the wine kept its alcohol")
	assert.NotContains(t, codes(r.Notes), liquid.CodeAsideLeft)

	half := mix(t, liquid.Add(wine, 900), liquid.PourOff(300), liquid.ReduceTo(200), liquid.PourBack(100))
	assert.InDelta(t, 300, float64(half.Mass()), 1e-9)
	n := codes(half.State(25).Notes)
	assert.Contains(t, n, liquid.CodeAsideLeft, "the other 200 g are not counted, and that is said")
}

// What heat ends in the pan stays in what was set aside.
func TestAsideStaysRaw(t *testing.T) {
	l := mix(t, liquid.Add(get(t, "pineapple-raw"), 300), liquid.PourOff(100), liquid.ReduceBy(0.2))
	assert.Zero(t, l.Flags()&liquid.Protease)
	l = mix(t, liquid.Add(get(t, "pineapple-raw"), 300), liquid.PourOff(100), liquid.ReduceBy(0.2), liquid.PourBack(10))
	assert.NotZero(t, l.Flags()&liquid.Protease)
}

// A measured alcohol overrides the estimate and recalibrates what follows; its
// range becomes the instrument's, half a per cent by volume.
func TestMeasuredAlcoholRecalibrates(t *testing.T) {
	steps := []liquid.Step{liquid.Add(get(t, "white-wine"), 500), liquid.Add(get(t, "apple-juice"), 500), liquid.Measure(liquid.Reading{Instrument: liquid.Alcoholmeter, Value: 0.075})}
	l := mix(t, steps...)
	s := l.State(20)
	abv := s.Of(liquid.PropABV)
	assert.InDelta(t, 0.075, abv.Typical, 1e-4)
	assert.InDelta(t, 0.005, abv.High-abv.Typical, 1e-3)
	assert.Contains(t, codes(s.Notes), liquid.CodeMeasureFar, "half a wine cannot have 7.5 % vol")
	assert.InDelta(t, 1000, float64(l.Mass()), 1e-9, "water makes room")
	diluted := mix(t, append(steps, liquid.Dilute(1000))...)
	d := diluted.State(20)
	assert.InEpsilon(t, 0.5, float64(d.Of(liquid.PropABW).Typical/s.Of(liquid.PropABW).Typical), 1e-9)
}
