package gel

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

func offerOf(r Ranking, ids ...agent.ID) *Offer {
	for _, o := range r.Offers {
		if len(o.Doses) != len(ids) {
			continue
		}
		all := true
		for i, id := range ids {
			all = all && o.Doses[i].Agent == id
		}
		if all {
			return o
		}
	}
	return nil
}

func refusedFor(r Ranking, id agent.ID) note.Code {
	for _, x := range r.Refused {
		if x.A == id && x.B == "" {
			return x.Why.Code
		}
	}
	return ""
}

// TestGelatinToAgar: published ratios by weight run from 2 to 8 (trade pages and
// books disagree; "five times the setting power", "8 teaspoons to 1").
func TestGelatinToAgar(t *testing.T) {
	for _, pct := range []float64{1, 1.5, 2, 3, 5} {
		r, err := Swap(Recipe{Doses: one("gelatin", pct)}, Wish{})
		require.NoError(t, err)
		o := offerOf(r, "agar")
		require.NotNil(t, o)
		ratio := pct / (o.Total.Typical * 100)
		assert.True(t, ratio >= 2 && ratio <= 8, "%g %% gelatin: ratio %g", pct, ratio)
		assert.True(t, o.Total.Valid())
		assert.True(t, o.Ladder[0] < o.Ladder[1] && o.Ladder[1] < o.Ladder[2])
		assert.InDelta(t, o.Total.Typical, float64(o.Ladder[1]), 1e-12)
		assert.True(t, slices.ContainsFunc(o.Why, func(w Reason) bool {
			return w.Note.Code == CodeBrittle && w.Note.Level == note.Caution && w.Points > 30
		}),
			"agar breaks at a sixth of gelatin's strain: it must say so and be ranked down")
	}
}

// TestBrittlenessRanksDown: from gelatin, whatever is within a factor of two in
// strain at break stands above everything that is not.
func TestBrittlenessRanksDown(t *testing.T) {
	r, err := Swap(Recipe{Doses: one("gelatin", 2)}, Wish{})
	require.NoError(t, err)
	near, far := 0.0, math.Inf(1)
	for _, o := range r.Offers {
		if o.Basis != ByModulus {
			continue
		}
		ratio := agent.ByID("gelatin").Feel.Break.Typical / o.Firmness.Break.Typical
		if ratio <= maxBreakRatio {
			near = max(near, o.Score)
		} else {
			far = min(far, o.Score)
		}
	}
	assert.Less(t, near, far)
}

// TestRoundTrip: from A to B and back lands within the stated range, and by the
// typical figures on the same dose.
func TestRoundTrip(t *testing.T) {
	cond := Conditions{PH: Known(5), Brix: Known(10), ServeC: Known(10)}
	done, pairs := 0, 0
	for _, a := range agent.All() {
		for _, texture := range []agent.Texture{agent.SoftSet, agent.FirmSet, agent.Thickened, agent.Foam, agent.FluidGel} {
			w, ok := a.Window(texture, agent.Water)
			if !ok || w.Hot {
				continue
			}
			rec := Recipe{Doses: one(a.ID, w.Typical), Made: TreatmentFor(texture), Cond: cond}
			r, err := Swap(rec, Wish{})
			if err != nil || r.From.Fails || r.Texture != texture {
				continue
			}
			for _, o := range r.Offers {
				back, err := Swap(Recipe{Doses: o.Doses, Made: rec.Made, Cond: cond}, Wish{Texture: ""})
				require.NoError(t, err)
				home := offerOf(back, a.ID)
				if home == nil || back.Texture != r.Texture || home.Basis != o.Basis {
					continue // the way back is refused with its reason, or by another rule
				}
				require.True(t, home.Total.Contains(w.Typical/100), "%s -> %s -> back: %v, want %g %%", a.ID, o.Doses[0].Agent, home.Total, w.Typical)
				if done++; o.Pair != nil { // the window of a pair's lead is not the pair's: within the range and no closer
					pairs++
					continue
				}
				require.InEpsilon(t, w.Typical/100, home.Total.Typical, 1e-6, "%s -> %s", a.ID, o.Doses[0].Agent)
			}
		}
	}
	t.Logf("%d round trips, %d of them by a pair", done, pairs)
	assert.Greater(t, done, 150)
	assert.Greater(t, pairs, 20)
}

// TestGuests: what a filter forbids is never offered, alone or in a pair.
func TestGuests(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 60 {
		rec := Recipe{Doses: one([]agent.ID{"gelatin", "agar", "lecithin", "corn-starch", "eggwhite"}[r.IntN(5)], 0.5+2*r.Float64()), Cond: randomConditions(r)}
		rec.Made = []Treatment{Still, Sheared, Aerated}[r.IntN(3)]
		ranking, err := Swap(rec, Wish{Vegan: true})
		if err != nil {
			continue
		}
		for _, o := range ranking.Offers {
			for _, d := range o.Doses {
				a := agent.ByID(d.Agent)
				assert.Equal(t, agent.Yes, a.Vegan, d.Agent)
				assert.NotContains(t, []agent.ID{"gelatin", "eggwhite", "milkprotein", "whey"}, d.Agent)
			}
		}
	}
	from := Recipe{Doses: one("foam-stab", 7), Made: Aerated}
	cases := []struct {
		name string
		wish Wish
		gone agent.ID
		code note.Code
	}{
		{"vegan", Wish{Vegan: true}, "gelatin", CodeNotVegan},
		{"vegan, label", Wish{Vegan: true, Texture: agent.Air}, "sucrose-esters", CodeAskVegan},
		{"vegetarian", Wish{Vegetarian: true}, "gelatin", CodeNotVegetarian},
		{"vegetarian, label", Wish{Vegetarian: true, Texture: agent.Air}, "sucrose-esters", CodeAskVegetarian},
		{"no pork", Wish{NoPork: true}, "gelatin", CodePork},
		{"no egg", Wish{Without: []agent.Word{"egg"}}, "eggwhite", CodeHasAllergen},
		{"shelf", Wish{OnlyShelf: true, Shelf: []ShelfItem{{Agent: "agar"}}}, "gelatin", CodeNotOnShelf},
	}
	for _, c := range cases {
		r, err := Swap(from, c.wish)
		require.NoError(t, err, c.name)
		assert.Nil(t, offerOf(r, c.gone), c.name)
		assert.Equal(t, c.code, refusedFor(r, c.gone), c.name)
	}
	milk, err := Swap(Recipe{Doses: one("agar", 0.4), Made: Aerated}, Wish{Without: []agent.Word{"milk"}})
	require.NoError(t, err)
	if o := offerOf(milk, "foam-stab"); assert.NotNil(t, o) {
		n, ok := find(o.Cautions, CodeMayAllergen)
		assert.True(t, ok && n.Level == note.Danger, "a blend that often holds milk is offered only with a warning")
	}
}

// TestWhatTheLiquidForbids: each with its named reason.
func TestWhatTheLiquidForbids(t *testing.T) {
	cases := []struct {
		name string
		rec  Recipe
		gone agent.ID
		code note.Code
	}{
		{"served hot", Recipe{Doses: one("agar", 1), Cond: Conditions{ServeC: Known(60)}}, "gelatin", CodeOutsideCondition},
		{"served hot, fluid", Recipe{Doses: one("agar", 1), Made: Sheared, Cond: Conditions{ServeC: Known(60)}}, "gelatin", CodeMelts},
		{"served cold", Recipe{Doses: one("agar", 1), Cond: Conditions{ServeC: Known(8)}}, "mc", CodeOutsideCondition},
		{"frozen", Recipe{Doses: one("gelatin", 2), Cond: Conditions{Frozen: true}}, "agar", CodeNotFrozen},
		{"raw pineapple", Recipe{Doses: one("agar", 1), Cond: Conditions{Protease: true}}, "gelatin", CodeProtease},
		{"spirit", Recipe{Doses: one("agar", 1), Cond: Conditions{ABV: Known(0.33)}}, "carr-kappa", CodeOutsideCondition},
		{"spirit, foam", Recipe{Doses: one("agar", 0.4), Made: Aerated, Cond: Conditions{ABV: Known(0.33)}}, "eggwhite", CodeABVFails},
		{"no sugar", Recipe{Doses: one("agar", 1), Cond: Conditions{Brix: Known(10), PH: Known(3.2)}}, "pectin-hm", CodeOutsideCondition},
		{"sour sauce", Recipe{Doses: one("xanthan", 0.3), Cond: Conditions{PH: Known(2.8)}}, "cmc", CodeTooSour},
		{"no gel", Recipe{Doses: one("agar", 1)}, "guar", CodeCannotTexture},
		{"no alkali", Recipe{Doses: one("agar", 1.4)}, "konjac", CodeNeedsAlkali},
		{"fatty air", Recipe{Doses: one("sucrose-esters", 0.6), Made: Aerated, Cond: Conditions{Fat: Known(0.03)}}, "lecithin", CodeFat},
	}
	for _, c := range cases {
		r, err := Swap(c.rec, Wish{})
		require.NoError(t, err, c.name)
		assert.Nil(t, offerOf(r, c.gone), c.name)
		assert.Equal(t, c.code, refusedFor(r, c.gone), c.name)
	}
}

// TestStaysSetAtSixty: the question "it must stay set at 60 °C" has answers.
func TestStaysSetAtSixty(t *testing.T) {
	r, err := Swap(Recipe{Doses: one("gelatin", 2.5)}, Wish{})
	require.NoError(t, err)
	require.NotNil(t, offerOf(r, "agar"))
	hot, err := Swap(Recipe{Doses: one("gelatin", 2.5), Cond: Conditions{ServeC: Known(60)}}, Wish{Texture: agent.FirmSet})
	require.NoError(t, err)
	assert.True(t, hot.From.Fails)
	for _, id := range []agent.ID{"agar", "gellan-la", "mc"} {
		assert.NotNil(t, offerOf(hot, id), id)
	}
	for _, o := range hot.Offers {
		assert.NotContains(t, codes(o.Cautions), CodeMelts, o.Doses[0].Agent)
	}
}

// TestEveryCandidateIsAnswered: offers and refusals together are all agents and
// pairs, each once, and every offer keeps its promises.
func TestEveryCandidateIsAnswered(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	all := 0
	for _, a := range agent.All() {
		if a.Job != agent.Sets {
			all++
		}
	}
	for range 60 {
		rec := Recipe{Doses: one([]agent.ID{"gelatin", "agar", "xanthan", "carr-iota", "lecithin", "alginate", "mc"}[r.IntN(7)], 0.2+2.5*r.Float64()), Cond: randomConditions(r)}
		rec.Made = Treatment(r.IntN(4))
		ranking, err := Swap(rec, Wish{})
		if err != nil {
			continue
		}
		assert.Equal(t, all+len(agent.Pairs())-1, len(ranking.Offers)+len(ranking.Refused))
		last := 0.0
		for _, o := range ranking.Offers {
			require.True(t, o.Total.Valid() && o.Total.Low > 0 && o.Total.Typical < 1, "%v", o.Total)
			require.GreaterOrEqual(t, o.Score, last)
			last = o.Score
			points := 0.0
			for _, w := range o.Why {
				points += w.Points
			}
			for _, f := range o.Features {
				points += f.Points
			}
			require.InDelta(t, o.Score, points, 1e-9, "every point has its reason")
			require.InDelta(t, o.Total.Typical, sum(o.Doses), 1e-12)
			require.NotEmpty(t, o.Method())
			for i, total := range o.Ladder {
				require.InDelta(t, float64(total), sum(o.Trial(i)), 1e-12)
			}
			require.NotEmpty(t, o.Features)
		}
		for _, x := range ranking.Refused {
			require.NotEmpty(t, x.Why.Code)
			require.Equal(t, note.Refused, x.Why.Level, x.Why.Code)
		}
		again, err := Swap(rec, Wish{})
		require.NoError(t, err)
		for i := range again.Offers {
			require.Equal(t, ranking.Offers[i].Doses, again.Offers[i].Doses, "the same input ranks the same")
		}
	}
}

// TestShelfGrades: the dose is for the label on the shelf.
func TestShelfGrades(t *testing.T) {
	rec := Recipe{Doses: one("agar", 0.8)}
	strong, err := Swap(rec, Wish{Shelf: []ShelfItem{{Agent: "gelatin", Grade: 250}}})
	require.NoError(t, err)
	weak, err := Swap(rec, Wish{Shelf: []ShelfItem{{Agent: "gelatin", Grade: 120}}})
	require.NoError(t, err)
	s, w := offerOf(strong, "gelatin"), offerOf(weak, "gelatin")
	assert.Equal(t, 250.0, s.Doses[0].Grade)
	assert.InEpsilon(t, math.Sqrt(250.0/120), w.Total.Typical/s.Total.Typical, 1e-9)
	_, err = Swap(rec, Wish{Shelf: []ShelfItem{{Agent: "agra"}}})
	assert.ErrorIs(t, err, note.Refuse("", CodeUnknownNear2))
	_, err = Swap(rec, Wish{Shelf: []ShelfItem{{Agent: "gelatin", Grade: 1}}})
	assert.ErrorIs(t, err, note.Refuse("", CodeGradeRange))
}

// TestIonsAreBrought: in soft water the swap counts with what it tells to add.
func TestIonsAreBrought(t *testing.T) {
	soft := Conditions{Ca: Known(0.2), K: Known(0.1), Na: Known(0.1)}
	r, err := Swap(Recipe{Doses: one("agar", 0.8), Cond: soft}, Wish{})
	require.NoError(t, err)
	g, k := offerOf(r, "gellan-la"), offerOf(r, "carr-kappa")
	require.NotNil(t, g)
	require.NotNil(t, k)
	n, ok := find(g.Method(), CodeMethodCalcium)
	require.True(t, ok)
	mg, _ := n.Arg("calcium")
	assert.InEpsilon(t, (0.748*10*g.Total.Typical*100-0.2)*40.078, mg.Value, 0.02)
	n, ok = find(k.Method(), CodeMethodKCl)
	require.True(t, ok)
	salt, _ := n.Arg("salt")
	assert.Equal(t, 1.5, salt.Value, "(20 - 0.1 - 0.5*0.1 - 2*0.2) mmol of 74.551 g/mol, with two digits")
	assert.NotContains(t, codes(g.Cautions), CodeIonMissing)
}

// TestSwapFromBlendAndToPair.
func TestSwapFromBlendAndToPair(t *testing.T) {
	r, err := Swap(Recipe{Doses: []Dose{{Agent: "carr-kappa", Share: 0.004}, {Agent: "lbg", Share: 0.003}}}, Wish{})
	require.NoError(t, err)
	assert.Nil(t, offerOf(r, "carr-kappa", "lbg"), "not itself")
	require.NotNil(t, offerOf(r, "agar"))
	p := offerOf(r, "gellan-ha", "gellan-la")
	require.NotNil(t, p)
	assert.InEpsilon(t, 3, float64(p.Doses[0].Share/p.Doses[1].Share), 1e-9, "3:1 as published")
	assert.Contains(t, codes(p.Method()), CodePairEffect)
}

// TestFluidGelSuitability: what makes a better fluid gel stands higher for it.
func TestFluidGelSuitability(t *testing.T) {
	r, err := Swap(Recipe{Doses: one("gellan-la", 0.2), Made: Sheared}, Wish{})
	require.NoError(t, err)
	assert.Less(t, offerOf(r, "agar").Score, offerOf(r, "xanthan").Score)
	assert.Less(t, offerOf(r, "agar").Score, offerOf(r, "gelatin").Score)
}

// TestFoamNeedsAFoamer: a mere thickener stands below what raises a foam.
func TestFoamNeedsAFoamer(t *testing.T) {
	r, err := Swap(Recipe{Doses: one("foam-stab", 7), Made: Aerated}, Wish{})
	require.NoError(t, err)
	assert.Less(t, offerOf(r, "eggwhite").Score, offerOf(r, "arabic").Score)
	for _, o := range r.Offers {
		assert.NotContains(t, codes(o.Cautions), CodeOutsideDose, "a foam asks for no firmness")
	}
}

func TestSwapNothingToMatch(t *testing.T) {
	_, err := Swap(Recipe{Doses: one("guar", 0.001)}, Wish{})
	assert.ErrorIs(t, err, note.Refuse("", CodeSwapNothing))
	_, err = Swap(Recipe{Doses: one("agar", 1)}, Wish{Texture: agent.Emulsion})
	assert.ErrorIs(t, err, note.Refuse("", CodeSwapNothing))
}

func FuzzReadAndSwap(f *testing.F) {
	f.Add(uint8(0), uint8(3), 1.0, 0.5, 200.0, 3.0, 10.0, 0.1, 2.0, 20.0, uint8(0), uint16(0))
	f.Add(uint8(1), uint8(14), 3.0, 0.1, 0.0, 7.0, 65.0, 0.0, 50.0, 70.0, uint8(3), uint16(511))
	f.Add(uint8(8), uint8(20), math.NaN(), math.Inf(1), -1.0, 99.0, -3.0, 2.0, 1e300, -400.0, uint8(9), uint16(7))
	f.Fuzz(func(t *testing.T, i, j uint8, p, q, grade, ph, brix, abv, ca, serve float64, madeBy uint8, flags uint16) {
		all := agent.All()
		has := func(k int) bool { return flags&(1<<k) != 0 }
		rec := Recipe{Doses: []Dose{{all[int(i)%len(all)].ID, grade, unit.Fraction(p / 100)}}, Made: Treatment(madeBy % 4), OneBite: has(0)}
		if has(1) {
			rec.Doses = append(rec.Doses, Dose{all[int(j)%len(all)].ID, 0, unit.Fraction(q / 100)})
		}
		rec.Target = agent.Textures[int(j)%len(agent.Textures)]
		c := &rec.Cond
		c.Milk, c.Protease, c.Tannin, c.Frozen = has(2), has(3), has(4), has(5)
		for k, g := range []*Given{&c.PH, &c.Brix, &c.ABV, &c.Ca, &c.ServeC} {
			if has(6 + k) {
				*g = Known([]float64{ph, brix, abv, ca, serve}[k])
			}
		}
		v, err := Read(rec)
		if err != nil {
			return
		}
		sane(t, v.Firmness)
		w := Wish{Vegan: has(11), OnlyShelf: has(12)}
		r, err := Swap(rec, w)
		if err != nil {
			return
		}
		for _, o := range r.Offers {
			sane(t, o.Firmness)
			if !o.Total.Valid() || o.Total.Low <= 0 || !unit.Finite(o.Score) {
				t.Fatalf("offer %v %v", o.Doses, o.Total)
			}
		}
		if _, err := CurveOf(rec.Doses, rec.Cond, nil, int(j)); err != nil {
			t.Fatal("a recipe that can be read has a curve", err)
		}
	})
}

func sane(t *testing.T, f Firmness) {
	if f.Known && (!f.Modulus.Valid() || f.Modulus.Low < 0 || f.Modulus.Typical <= 0 || !f.Break.Valid()) {
		t.Fatalf("firmness %v %v", f.Modulus, f.Break)
	}
}

// fullLiquid has every condition known, the dearest case for a ranking.
var fullLiquid = Conditions{PH: KnownRange(unit.Range{Low: 3.9, Typical: 4, High: 4.1}), Brix: KnownRange(unit.Range{Low: 11, Typical: 12, High: 13}),
	ABV: KnownRange(unit.Range{Low: 0.04, Typical: 0.05, High: 0.06}), Na: Known(20), K: Known(15), Ca: KnownRange(unit.Range{Low: 1, Typical: 2, High: 3}),
	Fat: Known(0), Protein: Known(0.001), ServeC: Known(12), SetHours: Known(12), HeatMinutes: KnownRange(unit.Range{Low: 1, Typical: 2, High: 3})}

// BenchmarkSwap ranks all agents and pairs with their ranges; the promise is
// 5 ms in WebAssembly.
func BenchmarkSwap(b *testing.B) {
	rec := Recipe{Doses: []Dose{{Agent: "gelatin", Share: 0.02}}, Cond: fullLiquid}
	b.ReportAllocs()
	for b.Loop() {
		if r, err := Swap(rec, Wish{}); err != nil || len(r.Offers) < 10 {
			b.Fatal(err, len(r.Offers))
		}
	}
}

func BenchmarkRead(b *testing.B) {
	rec := Recipe{Doses: []Dose{{Agent: "agar", Share: 0.01}, {Agent: "gellan-la", Share: 0.005}}, Made: Sheared, Cond: fullLiquid}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read(rec); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleSwap() {
	r, _ := Swap(Recipe{Doses: []Dose{{Agent: "gelatin", Share: 0.02}}}, Wish{Vegan: true})
	for _, o := range r.Offers[:2] {
		fmt.Printf("%s %.2f %%\n", o.Doses[0].Agent, o.Total.Typical*100)
	}
	// Output:
	// carr-iota 1.33 %
	// gellan-ha 0.51 %
}
