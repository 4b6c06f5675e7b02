package weigh_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/note"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/unit"
)

var (
	kitchen = weigh.Scale{ID: "kitchen", Step: 1, Capacity: 5000}
	bench   = weigh.Scale{ID: "bench", Step: 0.1, Capacity: 2000}
	pocket  = weigh.Scale{ID: "pocket", Step: 0.01, Capacity: 200}
)

func TestWeigh(t *testing.T) {
	for _, c := range []struct {
		name   string
		target unit.Mass
		scales []weigh.Scale
		scale  string
		shown  unit.Mass
		worst  float64
	}{
		{"fine scale wins", 4.237, []weigh.Scale{kitchen, bench, pocket}, "pocket", 4.24, (0.003 + 0.005) / 4.237},
		{"capacity sends it to the bench scale", 400, []weigh.Scale{kitchen, bench, pocket}, "bench", 400, 0.05 / 400},
		{"only a coarse scale", 4.237, []weigh.Scale{kitchen}, "kitchen", 4, (0.237 + 0.5) / 4.237},
		{"below half a step shows nothing", 0.004, []weigh.Scale{pocket}, "pocket", 0, (0.004 + 0.005) / 0.004},
		{"no dust in the figure", 0.3, []weigh.Scale{bench}, "bench", 0.3, 0.05 / 0.3},
		{"the cup counts", 195, []weigh.Scale{bench, {ID: "cup", Step: 0.01, Capacity: 200, Cup: 12}}, "bench", 195, 0.05 / 195},
		{"nothing to weigh", 0, []weigh.Scale{bench}, "bench", 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := weigh.Weigh(c.target, c.scales)
			require.NoError(t, err)
			assert.Equal(t, c.scale, r.Scale)
			assert.Equal(t, c.shown, r.Shown)
			assert.InDelta(t, c.worst, float64(r.Worst), 1e-9)
		})
	}
}

func TestRefusals(t *testing.T) {
	nan, inf := unit.Mass(math.NaN()), unit.Mass(math.Inf(1))
	for _, c := range []struct {
		name string
		code note.Code
		err  error
	}{
		{"no scale", weigh.CodeNoScale, errOf(weigh.Weigh(1, nil))},
		{"step of nothing", weigh.CodeBadScale, errOf(weigh.Weigh(1, []weigh.Scale{{Step: 0, Capacity: 1}}))},
		{"step above capacity", weigh.CodeBadScale, errOf(weigh.Weigh(1, []weigh.Scale{{Step: 2, Capacity: 1}}))},
		{"cup as heavy as the scale bears", weigh.CodeBadScale, errOf(weigh.Weigh(1, []weigh.Scale{{Step: 1, Capacity: 50, Cup: 50}}))},
		{"cup NaN", weigh.CodeBadScale, errOf(weigh.Weigh(1, []weigh.Scale{{Step: 1, Capacity: 50, Cup: nan}}))},
		{"step NaN", weigh.CodeBadScale, errOf(weigh.Weigh(1, []weigh.Scale{{Step: nan, Capacity: 1}}))},
		{"capacity infinite", weigh.CodeBadScale, errOf(weigh.Weigh(1, []weigh.Scale{{Step: 1, Capacity: inf}}))},
		{"mass NaN", weigh.CodeBadMass, errOf(weigh.Weigh(nan, []weigh.Scale{bench}))},
		{"mass negative", weigh.CodeBadMass, errOf(weigh.Weigh(-1, []weigh.Scale{bench}))},
		{"mass like dust", weigh.CodeBadMass, errOf(weigh.Weigh(1e-310, []weigh.Scale{bench}))},
		{"mass huge", weigh.CodeBadMass, errOf(weigh.Weigh(1e300, []weigh.Scale{bench}))},
		{"too heavy", weigh.CodeTooHeavy, errOf(weigh.Weigh(6000, []weigh.Scale{bench, kitchen}))},
		{"dose of nothing", weigh.CodeBadMass, errOf(weigh.FindPremix(weigh.Item{ID: "agar", Mass: 0}, sugar(100), []weigh.Scale{bench}, 0))},
		{"carrier share", weigh.CodeBadCarrier, errOf(weigh.FindPremix(weigh.Item{ID: "agar", Mass: 1}, weigh.Carrier{ID: "w", Stock: true}, []weigh.Scale{bench}, 0))},
		{"tolerance", weigh.CodeBadTolerance, errOf(weigh.FindPremix(weigh.Item{ID: "agar", Mass: 1}, sugar(100), []weigh.Scale{bench}, 1))},
		{"not enough carrier", weigh.CodeNoPremix, errOf(weigh.FindPremix(weigh.Item{ID: "agar", Mass: 0.3}, sugar(0.2), []weigh.Scale{bench}, 0))},
		{"scale too coarse for any premix", weigh.CodeNoPremix, errOf(weigh.FindPremix(weigh.Item{ID: "agar", Mass: 0.01}, sugar(1e6), []weigh.Scale{kitchen}, 0))},
		{"twice", weigh.CodeTwice, errOf(weigh.Make([]weigh.Item{{ID: "a", Mass: 1}, {ID: "a", Mass: 2}}, []weigh.Scale{bench}, 0))},
		{"bowl heavier than the scale", weigh.CodeTooHeavy, errOf(weigh.OneBowl(weigh.List{}, []weigh.Scale{pocket}, 900))},
	} {
		t.Run(c.name, func(t *testing.T) {
			var r *note.Refusal
			require.ErrorAs(t, c.err, &r)
			assert.Equal(t, c.code, r.Code)
		})
	}
}

func errOf[T any](_ T, err error) error { return err }

func sugar(have unit.Mass) weigh.Carrier { return weigh.Carrier{ID: "sugar", Have: have} }

// TestSmallestPremix is done by hand: 0.6 g on a scale of 0.1 g is off by up to
// 0.05/0.6 = 8.3 %. At one part in ten, 6.0 g of premix is off by 0.05/6 = 0.8 %,
// and 5 g of agent in 50 g by 0.05/5 = 1 % (less a tenth, since the agent is also
// part of the whole) + 0.05/45·0.9: 1.9 % in all, within 2 %. Anything smaller fails:
// 25 g at one in ten holds 2.5 g of agent, 2 % off already.
func TestSmallestPremix(t *testing.T) {
	p, err := weigh.FindPremix(weigh.Item{ID: "gellan-la", Mass: 0.6}, sugar(80), []weigh.Scale{bench}, 0)
	require.NoError(t, err)
	assert.Equal(t, unit.Mass(50), p.Total())
	assert.InDelta(t, 0.1, float64(p.Share), 1e-12)
	assert.Equal(t, unit.Mass(5), p.AgentIn.Shown)
	assert.Equal(t, unit.Mass(45), p.CarrierIn.Shown)
	assert.Equal(t, unit.Mass(6), p.Use.Shown)
	assert.InDelta(t, 5.4, float64(p.Brought), 1e-12)
	assert.InDelta(t, 44, float64(p.Left), 1e-12)
	assert.InDelta(t, 0.018, float64(p.Worst), 0.001)
}

func TestStockSolutionKeepsBelowItsCap(t *testing.T) {
	water := weigh.Carrier{ID: "water", Have: 900, Stock: true, MaxShare: 0.01}
	p, err := weigh.FindPremix(weigh.Item{ID: "xanthan", Mass: 0.8}, water, []weigh.Scale{bench}, 0.03)
	require.NoError(t, err)
	assert.LessOrEqual(t, float64(p.Share), 0.01)
	assert.InDelta(t, 0.8, float64(p.Share.Of(p.Use.Target)), 1e-12)
}

// smaller is every smaller round premix tried again by brute force: none may do.
func TestNoSmallerPremixWouldDo(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 1))
	found := 0
	for range 400 {
		dose, scales, tol := unit.Mass(math.Exp(rnd.Float64()*6-4)), randomScales(rnd), unit.Fraction(0.005+0.045*rnd.Float64())
		p, err := weigh.FindPremix(weigh.Item{ID: "a", Mass: dose}, sugar(1e6), scales, tol)
		if err != nil {
			continue
		}
		found++
		for _, total := range []float64{5, 10, 20, 25, 50, 100, 200, 250, 500} {
			if unit.Mass(total) >= p.Total() {
				break
			}
			for _, part := range []float64{2, 4, 5, 10, 20, 25, 50, 100, 200, 500, 1000} {
				require.False(t, good(float64(dose), total, part, scales, float64(tol)), "dose %v total %v part %v", dose, total, part)
			}
		}
	}
	require.Greater(t, found, 200)
}

// good is an independent reading of the same rule, by trying the corners of
// what the three displays can hide.
func good(dose, total, part float64, scales []weigh.Scale, tol float64) bool {
	agent, use := total/part, dose*part
	a, e1 := weigh.Weigh(unit.Mass(agent), scales)
	k, e2 := weigh.Weigh(unit.Mass(total-agent), scales)
	u, e3 := weigh.Weigh(unit.Mass(use), scales)
	if e1 != nil || e2 != nil || e3 != nil || use > total || math.Abs(float64(a.Off)) > 1e-9 || math.Abs(float64(k.Off)) > 1e-9 {
		return false
	}
	for corner := range 8 {
		sign := func(bit int) float64 { return float64(corner>>bit&1) - 0.5 }
		am := float64(a.Shown) + sign(0)*float64(a.Step)
		km := float64(k.Shown) + sign(1)*float64(k.Step)
		um := float64(u.Shown) + sign(2)*float64(u.Step)
		if math.Abs(um*am/(am+km)/dose-1) > tol {
			return false
		}
	}
	return true
}

func randomScales(rnd *rand.Rand) []weigh.Scale {
	all := []weigh.Scale{{ID: "a", Step: 0.01, Capacity: 200}, {ID: "b", Step: 0.1, Capacity: 2000}, {ID: "c", Step: 0.5, Capacity: 3000},
		{ID: "d", Step: 1, Capacity: 5000}, {ID: "e", Step: 2, Capacity: 10000}, {ID: "f", Step: 0.05, Capacity: 500}}
	rnd.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	return all[:1+rnd.IntN(3)]
}

// TestRecipeProperties: over random doses and scales the batch composition is
// the target to 1e-9, and whatever the displays hide, an agent that went by
// premix is within the tolerance.
func TestRecipeProperties(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 2))
	premixes, flagged := 0, 0
	for range 600 {
		scales, tol := randomScales(rnd), unit.Fraction(0.01+0.04*rnd.Float64())
		recipe := randomRecipe(rnd)
		list, err := weigh.Make(recipe, scales, tol)
		require.NoError(t, err)
		for i, item := range recipe {
			got := float64(list.Composition(item.ID))
			require.InEpsilon(t, float64(item.Mass), got, 1e-9, "%s", item.ID)
			line := list.Lines[i]
			require.GreaterOrEqual(t, float64(line.Mass), 0.0)
			switch {
			case line.Premix != nil:
				premixes++
				for range 20 {
					require.InDelta(t, 1, delivered(rnd, line)/float64(line.Wanted), float64(tol)+1e-12)
				}
			case !line.Reading.Within(tol) && line.Mass > 0:
				flagged++
				require.NotEmpty(t, line.Notes)
			}
		}
	}
	require.Greater(t, premixes, 200, "the test must meet premixes")
	require.Greater(t, flagged, 20, "the test must meet flags")
}

func randomRecipe(rnd *rand.Rand) []weigh.Item {
	mass := func(low, high float64) unit.Mass {
		return unit.Mass(math.Exp(math.Log(low) + rnd.Float64()*math.Log(high/low)))
	}
	dry := weigh.Carrier{ID: "sugar"}
	stock := weigh.Carrier{ID: "water", Stock: true, MaxShare: 0.02}
	return []weigh.Item{
		{ID: "gellan-la", Mass: mass(0.05, 5), Carriers: []weigh.Carrier{dry, stock}},
		{ID: "xanthan", Mass: mass(0.05, 5), Carriers: []weigh.Carrier{stock, dry}},
		{ID: "agar", Mass: mass(0.5, 20), Carriers: []weigh.Carrier{dry, stock}},
		{ID: "sugar", Mass: mass(5, 300)},
		{ID: "water", Mass: mass(200, 3000)},
	}
}

// delivered simulates one cook: each true load lies anywhere within half a step of its reading.
func delivered(rnd *rand.Rand, l weigh.Line) float64 {
	load := func(r weigh.Reading) float64 { return float64(r.Shown) + (rnd.Float64()-0.5)*float64(r.Step) }
	a, k, u := load(l.Premix.AgentIn), load(l.Premix.CarrierIn), load(l.Premix.Use)
	return u * a / (a + k)
}

func TestForeignCarrierComesOnTop(t *testing.T) {
	list, err := weigh.Make([]weigh.Item{
		{ID: "gellan-la", Mass: 0.6, Carriers: []weigh.Carrier{{ID: "maltodextrin", Foreign: true}}},
		{ID: "tea", Mass: 950},
	}, []weigh.Scale{bench}, 0)
	require.NoError(t, err)
	require.NotNil(t, list.Lines[0].Premix)
	assert.InDelta(t, 950, float64(list.Composition("tea")), 1e-9)
	assert.InDelta(t, 0.6, float64(list.Composition("gellan-la")), 1e-12)
	assert.InDelta(t, 5.4, float64(list.Composition("maltodextrin")), 1e-9)
	assert.Equal(t, weigh.CodeForeignCarrier, list.Lines[0].Notes[1].Code)
}

func TestOneBowlCumulative(t *testing.T) {
	list, err := weigh.Make([]weigh.Item{
		{ID: "water", Mass: 500, Group: 1}, {ID: "sugar", Mass: 60}, {ID: "agar", Mass: 4.5},
	}, []weigh.Scale{bench, pocket}, 0)
	require.NoError(t, err)
	b, err := weigh.OneBowl(list, []weigh.Scale{bench, pocket}, 300)
	require.NoError(t, err)
	require.Equal(t, "bench", b.Scale)
	// 0.1 g in 4.5 g is 2.2 %, beyond 2 %: the pocket scale takes the agar.
	require.Len(t, b.Apart, 1)
	assert.Equal(t, "agar", b.Apart[0].ID)
	require.Len(t, b.Loads, 2)
	assert.Equal(t, unit.Mass(60), b.Loads[0].Reading)
	assert.Equal(t, unit.Mass(560), b.Loads[1].Reading)
	assert.Equal(t, unit.Mass(860), b.Loads[1].OnPlate)
}

func TestBowlRespectsCapacity(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 3))
	for range 300 {
		scales := randomScales(rnd)
		list, err := weigh.Make(randomRecipe(rnd), scales, 0)
		require.NoError(t, err)
		bowl := unit.Mass(rnd.Float64() * 150)
		b, err := weigh.OneBowl(list, scales, bowl)
		require.NoError(t, err)
		var s weigh.Scale
		for _, one := range scales {
			if one.ID == b.Scale {
				s = one
			}
		}
		sums := map[string]unit.Mass{}
		var inBowl unit.Mass
		for i, load := range b.Loads {
			if i == 0 || load.Bowl != b.Loads[i-1].Bowl {
				inBowl = 0
			}
			inBowl += load.Add
			sums[load.ID] += load.Add
			require.LessOrEqual(t, float64(load.OnPlate), float64(s.Capacity)*(1+1e-12))
			require.InDelta(t, float64(inBowl), float64(load.Reading), float64(s.Step)/2+1e-9)
		}
		for _, line := range b.Apart {
			sums[line.ID] += line.Mass
		}
		for _, line := range list.Lines {
			require.InDelta(t, float64(line.Mass), float64(sums[line.ID]), 1e-9)
		}
	}
}

func TestSheets(t *testing.T) {
	for _, c := range []struct {
		name         string
		target, each unit.Mass
		halves       int
		off          float64
		cut          bool
	}{
		{"three gold sheets", 6, 2, 6, 0, false},
		{"two and a half", 5, 2, 5, 0, false},
		{"between halves", 5.3, 2, 5, 5/5.3 - 1, true},
		{"less than a quarter", 0.3, 2, 1, 1/0.3 - 1, true},
		{"nothing", 0, 2, 0, 0, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			n, err := weigh.Sheets(c.target, c.each, 0)
			require.NoError(t, err)
			assert.Equal(t, c.halves, n.Halves)
			assert.InDelta(t, c.off, float64(n.Off), 1e-12)
			assert.Equal(t, c.cut, len(n.Notes) > 0)
		})
	}
	for _, each := range []unit.Mass{0, -1, unit.Mass(math.NaN()), unit.Mass(math.Inf(1)), 1e-9} {
		assert.ErrorIs(t, errOf(weigh.Sheets(5, each, 0)), note.Refuse("sheet", weigh.CodeBadMass))
	}
}

func FuzzMake(f *testing.F) {
	f.Add(0.6, 80.0, 0.1, 2000.0, 0.02)
	f.Add(math.NaN(), -1.0, 0.0, math.Inf(1), 2.0)
	f.Add(1e-310, 5.0, 0.1, 2000.0, 0.02)
	f.Add(1e-300, 1e12, 1e-6, 1e12, 1e-300)
	f.Fuzz(func(t *testing.T, dose, sugar, step, capacity, tol float64) {
		scales := []weigh.Scale{{ID: "s", Step: unit.Mass(step), Capacity: unit.Mass(capacity)}}
		list, err := weigh.Make([]weigh.Item{
			{ID: "agar", Mass: unit.Mass(dose), Carriers: []weigh.Carrier{{ID: "sugar"}}},
			{ID: "sugar", Mass: unit.Mass(sugar)},
		}, scales, unit.Fraction(tol))
		if err != nil {
			return
		}
		for _, line := range list.Lines {
			for _, x := range []float64{float64(line.Mass), float64(line.Reading.Shown), float64(line.Reading.Worst)} {
				if !unit.Finite(x) || x < 0 {
					t.Fatalf("%+v", line)
				}
			}
		}
		_, _ = weigh.OneBowl(list, scales, 0)
	})
}

func ExampleFindPremix() {
	p, _ := weigh.FindPremix(weigh.Item{ID: "gellan-la", Mass: 0.6}, weigh.Carrier{ID: "sugar", Have: 80}, []weigh.Scale{{ID: "bench", Step: 0.1, Capacity: 2000}}, 0)
	fmt.Printf("%g g agent + %g g %s; use %g g\n", p.AgentIn.Shown, p.CarrierIn.Shown, p.Carrier, p.Use.Shown)
	// Output: 5 g agent + 45 g sugar; use 6 g
}
