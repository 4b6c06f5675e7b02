package foam

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// found is the cost of a choice, in the order in which it is judged.
type found struct{ chargers, rounds, fillings int }

// exhaust tries every multiset of fillings, tiers included, and returns the
// cheapest that can hold base.
func exhaust(bodies []body, base, maxRounds int) (found, bool) {
	var cheapest found
	ok := false
	var go2 func(k, i, fillings, inBody, chargers, most, least, rounds int)
	go2 = func(k, i, fillings, inBody, chargers, most, least, rounds int) {
		if most >= base && least <= base {
			c := found{chargers, rounds, fillings}
			if !ok || c.less(cheapest) {
				cheapest, ok = c, true
			}
		}
		if k == len(bodies) {
			return
		}
		if i == len(bodies[k].tiers) {
			go2(k+1, 0, fillings, 0, chargers, most, least, rounds)
			return
		}
		go2(k, i+1, fillings, inBody, chargers, most, least, rounds)
		b := bodies[k]
		if inBody < b.count*maxRounds {
			go2(k, i, fillings+1, inBody+1, chargers+b.tiers[i].charges, most+b.tiers[i].most, least+b.least,
				max(rounds, (inBody+b.count)/b.count))
		}
	}
	go2(0, 0, 0, 0, 0, 0, 0, 0)
	return cheapest, ok
}

func (a found) less(b found) bool {
	if a.chargers != b.chargers {
		return a.chargers < b.chargers
	}
	if a.rounds != b.rounds {
		return a.rounds < b.rounds
	}
	return a.fillings < b.fillings
}

func cost(picks []pick, rounds int) found {
	c := found{rounds: rounds, fillings: len(picks)}
	for _, p := range picks {
		c.chargers += p.charges
	}
	return c
}

func checkChoice(t *testing.T, bodies []body, picks []pick, base, rounds int) {
	t.Helper()
	used := map[int]int{}
	for _, p := range picks {
		used[p.shelf]++
	}
	for _, b := range bodies {
		assert.LessOrEqual(t, used[b.shelf], b.count*rounds, "body %d", b.shelf)
	}
	grams := share(picks, base)
	sum := 0
	for i, g := range grams {
		sum += g
		assert.GreaterOrEqual(t, g, picks[i].least, "below the useful minimum")
		assert.LessOrEqual(t, g, picks[i].most, "over what it may hold")
	}
	assert.Equal(t, base, sum, "all of the base and no more")
}

func TestSearchAgainstExhaustiveSearch(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	solved := 0
	for range 600 {
		var bodies []body
		for k := range 1 + rng.IntN(3) {
			line := 100 + rng.IntN(900)
			b := body{shelf: k, count: 1 + rng.IntN(2), line: line, least: line * 2 / 5}
			most, charges := b.least, 0
			for range 1 + rng.IntN(2) {
				charges += 1 + rng.IntN(2)
				most = min(line, most+rng.IntN(line))
				if len(b.tiers) == 0 || most > b.tiers[len(b.tiers)-1].most {
					b.tiers = append(b.tiers, tier{charges, most})
				}
			}
			bodies = append(bodies, b)
		}
		base := 50 + rng.IntN(2200)
		rounds := 1 + rng.IntN(2)
		want, possible := exhaust(bodies, base, rounds)
		picks, used := search(bodies, base, rounds)
		if !possible {
			require.Nil(t, picks, "%v %d", bodies, base)
			continue
		}
		solved++
		require.NotNil(t, picks, "%v %d", bodies, base)
		require.Equal(t, want, cost(picks, used), "%+v base %d rounds %d", bodies, base, rounds)
		checkChoice(t, bodies, picks, base, used)
	}
	assert.Greater(t, solved, 200)
}

func TestShareIsEven(t *testing.T) {
	picks := []pick{{line: 1000, least: 400, most: 1000}, {line: 500, least: 200, most: 500}, {line: 250, least: 100, most: 250}}
	assert.Equal(t, []int{800, 400, 200}, share(picks, 1400))
	assert.Equal(t, []int{1000, 500, 250}, share(picks, 1750))
	assert.Equal(t, []int{400, 200, 100}, share(picks, 700))
}
