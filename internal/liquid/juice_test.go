package liquid_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"tremblant/internal/liquid"
)

// A juice weighs what the puree did, and all but the pulp keeps its proportions.
func TestJuiceLeavesThePulpBehind(t *testing.T) {
	purees := 0
	for _, g := range liquid.Catalogue() {
		j := g.Juice()
		if j.Flags&liquid.Pulpless == 0 {
			assert.Equal(t, g, j, "%s is a juice already, or no fruit", g.ID)
			continue
		}
		purees++
		assert.InDelta(t, 0.2, float64(j.Per100[liquid.Fibre]), 1e-6, g.ID)
		assert.InDelta(t, float64(g.Per100[liquid.Potassium]/g.Per100[liquid.Water]), float64(j.Per100[liquid.Potassium]/j.Per100[liquid.Water]), 1e-6, g.ID)
		assert.Equal(t, j, j.Juice(), "%s: once", g.ID)
		before, after := mix(t, liquid.Add(g, 1000)), mix(t, liquid.Add(j, 1000))
		assert.InDelta(t, float64(before.Mass()), float64(after.Mass()), 1e-6, g.ID)
	}
	assert.Greater(t, purees, 25)
}

// What loses nothing has not boiled: raw egg stays raw and a fresh enzyme alive.
func TestABoilThatTakesNothingHeatsNothing(t *testing.T) {
	raw := []liquid.Step{liquid.Add(get(t, "egg-yolk"), 100), liquid.Add(get(t, "pineapple-raw"), 100)}
	same := mix(t, append(raw, liquid.Step{Kind: liquid.StepReduce, To: 200})...)
	assert.NotZero(t, same.Flags()&liquid.RawEgg)
	assert.NotZero(t, same.Flags()&liquid.Protease)
	less := mix(t, append(raw, liquid.Step{Kind: liquid.StepReduce, To: 180})...)
	assert.Zero(t, less.Flags()&liquid.Protease)
}

// The name "pineapple juice" does not tell whether it was heated: the liquid says what is
// assumed, until it has boiled.
func TestPreheatedJuiceSaysSo(t *testing.T) {
	juice := liquid.Add(get(t, "pineapple-juice"), 300)
	s := mix(t, juice).State(20)
	assert.Contains(t, codes(s.Notes), liquid.CodePreheated)
	assert.NotContains(t, codes(s.Notes), liquid.CodeProtease)
	s = mix(t, juice, liquid.ReduceBy(0.2)).State(20)
	assert.NotContains(t, codes(s.Notes), liquid.CodePreheated)
}
