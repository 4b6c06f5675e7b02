package sphere_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/note"
	"tremblant/internal/sphere"
	"tremblant/internal/unit"
)

// sour are liquids of 350 g by their acids in mol/kg and their calcium in
// mmol/kg, from little of both to much of both.
var sour = map[string]sphere.Input{
	"pear with ginger": {Acids: []sphere.Acid{{Kind: sphere.Citric, MolPerKg: 0.0026}, {Kind: sphere.Malic, MolPerKg: 0.0182}}, Calcium: unit.Exactly(2.32)},
	"apple":            {Acids: []sphere.Acid{{Kind: sphere.Malic, MolPerKg: 0.0336}}, Calcium: unit.Exactly(2.0)},
	"orange, thinned":  {Acids: []sphere.Acid{{Kind: sphere.Citric, MolPerKg: 0.0151}, {Kind: sphere.Malic, MolPerKg: 0.0037}}, Calcium: unit.Exactly(0.91)},
	"grape":            {Acids: []sphere.Acid{{Kind: sphere.Malic, MolPerKg: 0.0297}, {Kind: sphere.Tartaric, MolPerKg: 0.0265}}, Calcium: unit.Exactly(2.73)},
	"raspberry":        {Acids: []sphere.Acid{{Kind: sphere.Citric, MolPerKg: 0.0801}, {Kind: sphere.Malic, MolPerKg: 0.0111}}, Calcium: unit.Exactly(6.19)},
	"acids unknown":    {Calcium: unit.Exactly(2.32)},
	"vinegar, thinned": {Acids: []sphere.Acid{{Kind: sphere.Acetic, MolPerKg: 0.05}}, Calcium: unit.Exactly(0.2)},
}

// makeAt makes direct spheres of a liquid at a pH; ok is false where it is refused.
func makeAt(t testing.TB, in sphere.Input, ph float64) (a sphere.Answer, ok bool) {
	in.Liquid, in.PH, in.Salt, in.BathWater = 350, unit.Exactly(ph), dihydrate, 1000
	a, err := sphere.Make(in)
	var r *note.Refusal
	if errors.As(err, &r) {
		return a, false
	}
	require.NoError(t, err)
	return a, true
}

// At the same composition a sourer liquid never takes less citrate, and what it
// takes leaves it no sourer than it was.
func TestSourerLiquidNeverTakesLessCitrate(t *testing.T) {
	for name, in := range sour {
		last, made := 0.0, 0
		for step := 60; step >= 0; step-- {
			ph := 3 + 0.05*float64(step)
			a, ok := makeAt(t, in, ph)
			if !ok {
				assert.Less(t, ph, 3.6, "%s at pH %.2f is refused", name, ph)
				continue
			}
			made++
			total := float64(a.Citrate.Total())
			assert.GreaterOrEqual(t, total, last-1e-9, "%s at pH %.2f", name, ph)
			assert.True(t, a.Citrate.Dose.Valid(), "%s at pH %.2f: %+v", name, ph, a.Citrate.Dose)
			assert.GreaterOrEqual(t, a.Citrate.PH, ph-1e-9, "%s at pH %.2f", name, ph)
			last = total
		}
		assert.Greater(t, made, 45, name)
	}
}

// No more citrate is offered than the usual top of 0.5 %.
func TestCitrateStaysBelowItsTop(t *testing.T) {
	for name, in := range sour {
		for step := range 61 {
			ph := 3 + 0.05*float64(step)
			if a, ok := makeAt(t, in, ph); ok {
				assert.LessOrEqual(t, float64(a.Citrate.Total()), 0.005*350+1e-9, "%s at pH %.2f", name, ph)
			}
		}
	}
}

// Where the top does not lift a liquid to pH 4, or leaves it more calcium than
// soft water holds, that is said with what does it instead; where it merely
// falls short of the aim, no alarm is raised.
func TestCitrateThatDoesNotDoItIsSaid(t *testing.T) {
	strong := sphere.Input{Liquid: 350, PH: unit.Exactly(3.65), Acids: []sphere.Acid{{Kind: sphere.Citric, MolPerKg: 0.25}}, Salt: dihydrate, BathWater: 1000}
	a := mustMake(t, strong)
	assert.True(t, a.Citrate.Fails)
	assert.Less(t, a.Citrate.PH, 4.0)
	assert.Equal(t, note.Caution, codes(a.Notes)[sphere.CitrateShort])

	hard := sphere.Input{Liquid: 350, PH: unit.Exactly(4.1), Acids: []sphere.Acid{{Kind: sphere.Malic, MolPerKg: 0.15}}, Calcium: unit.Exactly(6), Salt: dihydrate, BathWater: 1000}
	a = mustMake(t, hard)
	assert.True(t, a.Citrate.Fails)
	assert.Equal(t, note.Caution, codes(a.Notes)[sphere.CitrateLeaves])

	some := strong
	some.Acids = []sphere.Acid{{Kind: sphere.Citric, MolPerKg: 0.06}}
	a = mustMake(t, some)
	assert.True(t, a.Citrate.Short && !a.Citrate.Fails)
	assert.Contains(t, codes(a.Notes), sphere.CitrateTop)
	assert.NotContains(t, codes(a.Notes), sphere.CitrateShort)

	some.Counted = 0.005 * 350
	a = mustMake(t, some)
	assert.Zero(t, a.Citrate.Total(), "the top is in already")
	assert.Equal(t, note.Caution, codes(a.Notes)[sphere.CitrateShort])
}

// One dose does both: the calcium is held at the pH that the dose brings, so
// that it takes far less than at the liquid's own.
func TestCitrateForCalciumCountsThePHThatItBrings(t *testing.T) {
	in := sour["pear with ginger"]
	for _, ph := range []float64{3.9, 4.0, 4.1, 4.3} {
		a, ok := makeAt(t, in, ph)
		require.True(t, ok)
		mmol := float64(a.Citrate.Total())/294.10/350*1e6 + 2.6 // its own citric acid holds calcium too
		assert.InDelta(t, a.Citrate.Left, sphere.FreeCalcium(2.32, mmol, a.Citrate.PH), 1e-6, "pH %.1f", ph)
		assert.Less(t, a.Citrate.Left, 1.02, "pH %.1f", ph)
		assert.Greater(t, a.Citrate.PH, ph+0.2, "citrate lifts the pH, whatever it is taken for")
	}
}

// A curve of citrate and pH is followed in place of the acids, and refused when
// it falls or does not start without citrate.
func TestTitrationIsFollowed(t *testing.T) {
	in := sour["pear with ginger"]
	in.Calcium = unit.Exactly(0.3)
	in.Titration = []sphere.Titrated{{Citrate: 0, PH: 3.8}, {Citrate: 0.002, PH: 4.4}, {Citrate: 0.005, PH: 4.7}}
	a, ok := makeAt(t, in, 3.8)
	require.True(t, ok)
	assert.InDelta(t, 0.003*350, float64(a.Citrate.Total()), 1e-6, "pH 4.5 is a third of the way from 4.4 to 4.7")
	assert.InDelta(t, 4.5, a.Citrate.PH, 1e-6)
	for _, bad := range [][]sphere.Titrated{
		{{Citrate: 0.001, PH: 4}}, {{Citrate: 0, PH: 4}, {Citrate: 0, PH: 5}}, {{Citrate: 0, PH: 5}, {Citrate: 0.1, PH: 4}}, {{Citrate: 0, PH: math.NaN()}}, {{Citrate: 0, PH: 15}},
	} {
		in.Liquid, in.PH, in.Salt, in.BathWater, in.Titration = 350, unit.Exactly(3.8), dihydrate, 1000, bad
		_, err := sphere.Make(in)
		assert.ErrorIs(t, err, note.Refuse("", sphere.BadRange), "%v", bad)
	}
}

// Where the acids are not known the rule of thumb comes in by degrees, and no hundredth
// of pH changes the dose by more than a tenth of what the published recipe took. With so
// little calcium it is for the pH alone.
func TestRuleOfThumbComesInByDegrees(t *testing.T) {
	recipe := 0.0026 * 350
	last := sphere.CitrateNeed{}
	for step := 100; step >= 0; step-- {
		ph := 3.6 + 0.01*float64(step)
		a, ok := makeAt(t, sphere.Input{Calcium: unit.Exactly(0.2)}, ph)
		require.True(t, ok)
		c := a.Citrate
		assert.InDelta(t, last.Dose.Typical, c.Dose.Typical, 0.1*recipe, "pH %.2f", ph)
		assert.InDelta(t, last.Dose.Low, c.Dose.Low, 0.1*recipe, "pH %.2f", ph)
		assert.Equal(t, ph < 4.5-1e-9, c.RuleOfThumb, "pH %.2f", ph)
		last = c
	}
	at, ok := makeAt(t, sphere.Input{Calcium: unit.Exactly(0.2)}, 3.9)
	require.True(t, ok)
	assert.InEpsilon(t, recipe, at.Citrate.Dose.Typical, 0.05, "what the recipe took for mango of pH 3.9")
	assert.Greater(t, at.Citrate.PH, 4.4, "and the alginate is dosed for the pH that it brings")
}

// A few drops of lemon in a litre of water are sour, and hardly any citrate
// lifts them: 0.74 mmol/kg of citric acid take less than what is not worth
// weighing, but it has to be done all the same.
func TestFewAcidsAreLiftedByLittle(t *testing.T) {
	in := sphere.Input{Acids: []sphere.Acid{{Kind: sphere.Citric, MolPerKg: 0.00074}}}
	for _, ph := range []float64{3.2, 3.4, 3.59, 3.61, 3.99} {
		a, ok := makeAt(t, in, ph)
		if assert.True(t, ok, "pH %.2f", ph) {
			assert.InDelta(t, 4.5, a.Citrate.PH, 0.01)
			assert.Greater(t, a.Citrate.Dose.Typical, 0.0)
			assert.Less(t, a.Citrate.Dose.Typical, 0.0005*350)
			assert.False(t, a.Citrate.Short)
		}
	}
}
