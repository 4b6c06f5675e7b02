package foam

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// vegetable is a lean cold base: 400 g of vegetable juice with 35 g of
// stabiliser. Common practice, no source.
func vegetable() Formula {
	return Formula{
		Type: "stabiliser", Liquid: 400, Doses: []Dose{{"foam-stab", 35}},
		Base: Base{Temperature: 5, Density: 1.03, Water: unit.Exactly(0.85), Sugar: 0.05},
	}
}

// sized is the body of the catalogue of so many millilitres.
func sized(nominal unit.Volume) Siphon {
	all := Catalogue()
	return all[slices.IndexFunc(all, func(s Siphon) bool { return s.Nominal == nominal })]
}

// shelf is so many bodies of each of three sizes.
func shelf(small, half, litre int) []Siphon {
	all := []Siphon{sized(250), sized(500), sized(1000)}
	all[0].Count, all[1].Count, all[2].Count = small, half, litre
	return all
}

// checkPlan holds a plan to what every plan promises.
func checkPlan(t *testing.T, r Request, p Plan) {
	t.Helper()
	require.NotEmpty(t, p.Fillings)
	mass, chargers := 0.0, 0
	place := map[[3]int]bool{}
	for _, f := range p.Fillings {
		mass += float64(f.Mass)
		chargers += f.Charges
		s := r.Shelf[f.Shelf]
		line := float64(s.LineOr().Mass(r.Formula.Base.DensityOr()))
		assert.LessOrEqual(t, float64(f.Mass), line, "over the line")
		if r.Covers > 0 {
			assert.GreaterOrEqual(t, float64(f.Mass), UsefulMinimum*line-1e-9, "under the useful minimum")
		}
		assert.LessOrEqual(t, f.Charges, s.Rule.NeverOver)
		assert.LessOrEqual(t, f.Number, s.Count)
		assert.LessOrEqual(t, f.Round, p.Rounds)
		key := [3]int{f.Shelf, f.Number, f.Round}
		assert.False(t, place[key], "a body filled twice in one round")
		place[key] = true
		assert.True(t, f.Before.Valid() && f.After.Valid() && f.Foam.Valid() && f.Portions.Valid())
		if s.WorkingPressure > 0 {
			assert.LessOrEqual(t, f.Before.High, float64(s.WorkingPressure)*1.000001)
			assert.LessOrEqual(t, f.After.High, float64(s.WorkingPressure)*1.000001)
		}
	}
	assert.InDelta(t, float64(p.Base), mass, 1e-6, "the fillings hold the base")
	assert.Equal(t, p.Chargers, chargers)
	assert.Equal(t, p.Chargers, p.Boxes*r.box()-p.BoxLeft)
	assert.GreaterOrEqual(t, p.Portions.Typical, float64(r.Covers)*(1+float64(r.Spare))-1e-6, "portions come out")
	assert.True(t, hasLevel(p.Notes, note.Danger), "dangers are part of every answer")
	checkOrder(t, p)
}

// checkOrder walks the actions: filled, charged, rested, served, and vented
// before a refill.
func checkOrder(t *testing.T, p Plan) {
	t.Helper()
	state := map[int]note.Code{}
	for _, a := range p.Order {
		f := p.Fillings[a.Filling]
		assert.Equal(t, f.Round, a.Round)
		switch a.Step {
		case StepFill:
			if f.Round > 1 {
				assert.Equal(t, StepRechill, state[a.Filling])
			}
		case StepCharge:
			assert.Equal(t, StepFill, state[a.Filling])
			assert.Equal(t, f.Charges, a.Count)
		case StepRest:
			assert.Equal(t, StepCharge, state[a.Filling])
		case StepServe:
			assert.Equal(t, StepRest, state[a.Filling])
		case StepRechill:
			assert.Equal(t, StepVent, state[a.Filling])
		}
		state[a.Filling] = a.Step
	}
	for i := range p.Fillings {
		assert.Equal(t, StepServe, state[i])
	}
}

func hasLevel(notes []note.Note, l note.Level) bool {
	for _, n := range notes {
		if n.Level == l {
			return true
		}
	}
	return false
}

func hasCode(notes []note.Note, c note.Code) bool {
	for _, n := range notes {
		if n.Code == c {
			return true
		}
	}
	return false
}

// searched is the exhaustive search's cost for the plan's base on its shelf.
func searched(t *testing.T, r Request, p Plan) found {
	t.Helper()
	kind, _ := TypeByID(r.Formula.Type)
	bodies, err := r.bodies(kind)
	require.NoError(t, err)
	c, ok := exhaust(bodies, int(p.Base), p.Rounds)
	require.True(t, ok)
	return c
}

// 38 covers of 40 ml from two half-litre bodies, no spare; the cook measured 250 %.
// By hand: 38 × 40 = 1520 ml foam; / 3.5 = 434.3 ml base; × 1.03 = 447.3 g out;
// / 0.95 (5 % sticks) = 470.9, so 471 g to make. One body's line is 500 ml =
// 515 g: one filling of 471 g, one charger by the rule, one box of ten open and
// nine left. 471 × 0.95 × 3.5 / 1.03 = 1520.5 ml = 38.0 portions.
func TestPlanThirtyEightCovers(t *testing.T) {
	r := Request{Formula: vegetable(), Covers: 38, Portion: Portion{Size: 40}, Shelf: shelf(0, 2, 0), Tests: Measured{2.5}}
	p, err := Make(r)
	require.NoError(t, err)
	checkPlan(t, r, p)
	assert.InDelta(t, 11.77, float64(p.PerCover), 0.01)
	assert.InDelta(t, 447.3, float64(p.Dispensed), 0.1)
	assert.Equal(t, unit.Mass(471), p.Base)
	require.Len(t, p.Fillings, 1)
	assert.Equal(t, []int{1, 1, 1, 9}, []int{p.Chargers, p.Rounds, p.Boxes, p.BoxLeft})
	assert.InDelta(t, 38.0, p.Portions.Typical, 0.05)
	assert.Equal(t, found{1, 1, 1}, searched(t, r, p))

	// With 10 % spare it no longer fits one body: 518 g, both bodies, 259 g each.
	r.Spare = 0.10
	p, err = Make(r)
	require.NoError(t, err)
	checkPlan(t, r, p)
	assert.Equal(t, unit.Mass(518), p.Base)
	require.Len(t, p.Fillings, 2)
	assert.Equal(t, unit.Mass(259), p.Fillings[0].Mass)
	assert.Equal(t, unit.Mass(259), p.Fillings[1].Mass)
	assert.Equal(t, found{2, 1, 2}, searched(t, r, p))
}

// 120 covers of 60 ml from one litre body and one half-litre body, 250 % measured.
// By hand: 7200 ml / 3.5 × 1.03 / 0.95 = 2230.4, so 2231 g. Lines: 1030 g with
// two charges, 515 g with one: 515 g a charger in both, so at least 2231/515 =
// 4.33, five chargers. One round holds 1545 g, two rounds 3090: two rounds. Five
// chargers in the fewest fillings: litre, litre, half = 2575 g, three fillings.
// 2231/2575 = 86.6 %: 892 or 893, 892 and 446 g.
func TestPlanHundredTwentyCovers(t *testing.T) {
	r := Request{Formula: vegetable(), Covers: 120, Portion: Portion{Size: 60}, Shelf: shelf(0, 1, 1), Tests: Measured{2.5}, Box: 24}
	p, err := Make(r)
	require.NoError(t, err)
	checkPlan(t, r, p)
	assert.Equal(t, unit.Mass(2231), p.Base)
	assert.Equal(t, []int{5, 2, 3, 1, 19}, []int{p.Chargers, p.Rounds, len(p.Fillings), p.Boxes, p.BoxLeft})
	assert.Equal(t, "siphon-1000", p.Fillings[0].Siphon)
	assert.InDelta(t, 892.4, float64(p.Fillings[0].Mass), 1)
	assert.InDelta(t, 446.2, float64(p.Fillings[1].Mass), 1)
	assert.Equal(t, found{5, 2, 3}, searched(t, r, p))
	assert.True(t, hasCode(p.Notes, CodeRefill))

	// Two litre bodies and two of half a litre do it in one round with the same chargers.
	r.Shelf = shelf(0, 2, 2)
	p, err = Make(r)
	require.NoError(t, err)
	checkPlan(t, r, p)
	assert.Equal(t, []int{5, 1, 3}, []int{p.Chargers, p.Rounds, len(p.Fillings)})
	assert.Equal(t, found{5, 1, 3}, searched(t, r, p))

	// By gas balance the litre body with little in it takes one charge.
	r.Basis, r.Tests = ByGasBalance, nil
	p, err = Make(r)
	require.NoError(t, err)
	checkPlan(t, r, p)
	c := searched(t, r, p)
	assert.Equal(t, c, found{p.Chargers, p.Rounds, len(p.Fillings)})
}

// 6 covers of 40 ml from one quarter-litre body, 250 % measured. By hand: 240 ml
// / 3.5 × 1.03 / 0.95 = 74.3, 75 g; the useful minimum is 40 % of 250 ml =
// 103 g: 103 g are made and one charge goes in. 103 × 0.95 - 70.6 = 27.2 g over.
func TestPlanSixCovers(t *testing.T) {
	r := Request{Formula: vegetable(), Covers: 6, Portion: Portion{Size: 40}, Shelf: shelf(1, 0, 0), Tests: Measured{2.5}}
	p, err := Make(r)
	require.NoError(t, err)
	checkPlan(t, r, p)
	assert.Equal(t, unit.Mass(103), p.Base)
	assert.Equal(t, []int{1, 1, 1}, []int{p.Chargers, p.Rounds, len(p.Fillings)})
	assert.InDelta(t, 27.2, float64(p.LeftOver), 0.1)
	assert.True(t, hasCode(p.Notes, CodeRaised))
	assert.Equal(t, found{1, 1, 1}, searched(t, r, p))
}

// The same three evenings without a measurement: the expected range of the type
// is a rule of thumb, and the plan says so.
func TestPlansWithoutMeasurement(t *testing.T) {
	for name, r := range map[string]Request{
		"38":  {Formula: vegetable(), Covers: 38, Portion: Portion{Size: 40}, Spare: 0.05, Shelf: shelf(0, 2, 0)},
		"120": {Formula: vegetable(), Covers: 120, Portion: Portion{Size: 60}, Spare: 0.05, Shelf: shelf(0, 1, 1)},
		"6":   {Formula: vegetable(), Covers: 6, Portion: Portion{Size: 40}, Shelf: shelf(1, 0, 0)},
	} {
		for _, basis := range []Basis{ByTradeRule, ByGasBalance} {
			r.Basis = basis
			p, err := Make(r)
			require.NoError(t, err, name)
			checkPlan(t, r, p)
			assert.Equal(t, searched(t, r, p), found{p.Chargers, p.Rounds, len(p.Fillings)}, name)
			assert.True(t, hasCode(p.Notes, CodeRuleOfThumb), name)
		}
	}
}

// Common practice, no source: about 440 g of vegetable base with 8.75 % of
// cold-soluble stabiliser (35 g on 400 g) takes two charges in one half-litre
// body, shaken after each, 30 min in the fridge. The plan gives fill and
// pressures at fridge and room temperature, and sets it beside one charge.
func TestTwoChargesForAVegetableBase(t *testing.T) {
	r := Request{Formula: vegetable(), Base: 440, Portion: Portion{Size: 40}, Shelf: shelf(0, 1, 0), Charges: 2}
	p, err := Make(r)
	require.NoError(t, err)
	require.Len(t, p.Fillings, 1)
	f := p.Fillings[0]
	assert.Equal(t, unit.Mass(440), f.Mass)
	assert.InDelta(t, 440/1.03/500, float64(f.Share), 1e-9)
	assert.Equal(t, 2, p.Chargers)
	assert.True(t, hasCode(p.Notes, CodeDoseFits), "8.75 % lies between 5 and 10 %")
	assert.True(t, hasCode(p.Notes, CodeShakeBetween))
	kind, _ := TypeByID("stabiliser")
	assert.Equal(t, 30*minute, kind.Rest.Typical)
	assert.InDelta(t, 30*minute+120+2*60, p.Lead.Typical, 1)

	fill := Fill{Siphon: r.Shelf[1], Base: r.Formula.Base, Mass: 440, Charges: 2}
	for _, c := range []struct {
		at            unit.Celsius
		before, after [2]float64 // bar g: computed in another language from the same equations (derived)
	}{
		{5, [2]float64{14.69, 19.52}, [2]float64{6.17, 12.50}},
		{20, [2]float64{15.68, 22.48}, [2]float64{8.43, 16.88}},
	} {
		rungs, err := Ladder(fill, c.at)
		require.NoError(t, err)
		for i, x := range rungs {
			near(t, c.before[i], x.Before.Typical/1e5, 0.001, "before")
			near(t, c.after[i], x.After.Typical/1e5, 0.001, "after")
		}
	}
	// Side by side with one charge: the trade's rule is one to two, and one blows
	// this base as well, at half the pressure.
	a, err := Advise(r.Formula, Fill{Siphon: r.Shelf[1], Mass: 440}, FoodN2O, nil)
	require.NoError(t, err)
	assert.Equal(t, unit.Range{Low: 1, Typical: 1, High: 2}, a.Rule)
	assert.Equal(t, 1, a.ByGas)
	assert.Equal(t, 2, a.Limit)
	assert.InDelta(t, 2.05, a.Ladder[1].After.Typical/a.Ladder[0].After.Typical, 0.05)
	assert.Greater(t, a.States[1].Bound, 2*a.States[0].Bound)
}

func TestPlansKeepTheirPromises(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	kinds := Types()
	made, refused := 0, 0
	for range 400 {
		kind := kinds[rng.IntN(len(kinds))]
		if !kind.Siphon {
			continue
		}
		f := Formula{Type: kind.ID, Base: Base{Temperature: unit.Celsius(kind.Temp.Typical), Water: unit.Exactly(0.5 + 0.4*rng.Float64()), MilkFat: unit.Fraction(0.1 * rng.Float64())}}
		r := Request{
			Formula: f, Covers: 1 + rng.IntN(300), Spare: unit.Fraction(0.2 * rng.Float64()), Portion: Portion{Kind: PortionKind(rng.IntN(3)), Size: 5 + 60*rng.Float64()},
			Shelf: shelf(rng.IntN(3), rng.IntN(3), rng.IntN(3)), Basis: Basis(rng.IntN(2)), MaxRounds: 1 + rng.IntN(5), Box: 1 + rng.IntN(24),
		}
		if rng.IntN(3) == 0 {
			r.Tests = Measured{0.5 + 3*rng.Float64()}
		}
		if rng.IntN(4) == 0 {
			for i := range r.Shelf {
				r.Shelf[i].WorkingPressure = unit.Pressure(10e5 + 40e5*rng.Float64())
			}
		}
		p, err := Make(r)
		if err != nil {
			refused++
			var u *Unworkable
			require.ErrorAs(t, err, &u)
			if u.Nearest != nil {
				q, err := Make(*u.Nearest)
				require.NoError(t, err, "the nearest plan works")
				checkPlan(t, *u.Nearest, q)
			}
			continue
		}
		made++
		checkPlan(t, r, p)
	}
	assert.Greater(t, made, 150)
	assert.Greater(t, refused, 20)
}

func TestBadInput(t *testing.T) {
	good := func() Request {
		return Request{Formula: vegetable(), Covers: 20, Portion: Portion{Size: 40}, Shelf: shelf(1, 2, 1)}
	}
	gelatin := Formula{Type: "gelatin", Base: Base{Temperature: 60, Water: unit.Exactly(0.9)}}
	for name, c := range map[string]struct {
		change  func(*Request)
		code    note.Code
		nearest bool
	}{
		"no covers":          {func(r *Request) { r.Covers = 0 }, CodeNoCovers, true},
		"more than it holds": {func(r *Request) { r.Covers = 0; r.Base = 60000 }, CodeTooMuch, true},
		"too many covers":    {func(r *Request) { r.Covers = 4000 }, CodeTooMuch, true},
		"hot gelatin":        {func(r *Request) { r.Formula = gelatin }, CodeTooHot, true},
		"90 degrees":         {func(r *Request) { r.Formula.Base.Temperature = 90 }, CodeFarTooHot, true},
		"ten charges":        {func(r *Request) { r.Charges = 10 }, CodeOverCharged, true},
		"fibre":              {func(r *Request) { r.Formula.Base.Fibre = 0.06 }, CodeFibreTop, true},
		"fat and egg at 68": {func(r *Request) {
			r.Formula = Formula{Type: "egg-hot", Egg: 0.2, Base: Base{Temperature: 68, MilkFat: 0.15, Water: unit.Exactly(0.7)}}
		}, CodeEggSets, true},
		"cream at 20": {func(r *Request) {
			r.Formula = Formula{Type: "cream", Base: Base{Temperature: 20, MilkFat: 0.3, Water: unit.Exactly(0.6)}}
		}, CodeTooHot, true},
		"strong spirit":        {func(r *Request) { r.Formula.Base.Ethanol = 0.25; r.Formula.Base.Water = unit.Exactly(0.6) }, CodeAlcoholTop, true},
		"other gas":            {func(r *Request) { r.Gas = OtherGas }, CodeGas, false},
		"not a siphon":         {func(r *Request) { r.Shelf[1].MadeForN2O = false }, CodeNotSiphon, false},
		"nothing on the shelf": {func(r *Request) { r.Shelf = nil }, CodeNoSiphon, false},
		"none of any":          {func(r *Request) { r.Shelf = shelf(0, 0, 0) }, CodeNoSiphon, false},
		"no portion":           {func(r *Request) { r.Portion.Size = 0 }, CodeNoPortion, false},
		"NaN portion":          {func(r *Request) { r.Portion.Size = math.NaN() }, CodeNotFigure, false},
		"negative covers":      {func(r *Request) { r.Covers = -1 }, CodeOutside, false},
		"huge covers":          {func(r *Request) { r.Covers = 1 << 40 }, CodeOutside, false},
		"NaN temperature":      {func(r *Request) { r.Formula.Base.Temperature = unit.Celsius(math.NaN()) }, CodeNotFigure, false},
		"frozen":               {func(r *Request) { r.Formula.Base.Temperature = -5 }, CodeOutside, false},
		"more than all":        {func(r *Request) { r.Formula.Base.Oil = 0.5 }, CodeShares, false},
		"negative water":       {func(r *Request) { r.Formula.Base.Water = unit.Exactly(-0.1) }, CodeOutside, false},
		"unknown type":         {func(r *Request) { r.Formula.Type = "spume" }, CodeUnknownType, false},
		"infinite test":        {func(r *Request) { r.Tests = Measured{math.Inf(1)} }, CodeNotFigure, false},
		"weak body":            {func(r *Request) { r.Shelf = shelf(0, 1, 0); r.Shelf[1].WorkingPressure = 3e5 }, CodeNeverUnder, false},
		"body of ten litres":   {func(r *Request) { r.Shelf[0].Nominal = 10000 }, CodeOutside, false},
	} {
		t.Run(name, func(t *testing.T) {
			r := good()
			c.change(&r)
			_, err := Make(r)
			var u *Unworkable
			require.ErrorAs(t, err, &u)
			assert.Equal(t, c.code, u.Reason.Code, err)
			assert.True(t, errors.Is(err, &note.Refusal{Note: note.Note{Code: c.code}}))
			require.Equal(t, c.nearest, u.Nearest != nil)
			if c.nearest {
				p, err := Make(*u.Nearest)
				require.NoError(t, err)
				checkPlan(t, *u.Nearest, p)
			}
		})
	}
}

// The nearest plan changes one thing and keeps the rest.
func TestNearestIsNear(t *testing.T) {
	_, err := Make(Request{Formula: vegetable(), Covers: 4000, Portion: Portion{Size: 40}, Shelf: shelf(0, 2, 0), Tests: Measured{2.5}})
	var u *Unworkable
	require.ErrorAs(t, err, &u)
	// Two bodies of 515 g, four rounds: 4120 g, × 0.95 / 1.03 × 3.5 / 40 = 332.5 covers.
	assert.Equal(t, 332, u.Nearest.Covers)
	_, err = Make(Request{Formula: vegetable(), Covers: 20, Portion: Portion{Size: 40}, Shelf: shelf(0, 2, 0), Charges: 10})
	require.ErrorAs(t, err, &u)
	assert.Equal(t, 2, u.Nearest.Charges)
}

// A stated pressure cuts the filling, and an impossible one is refused.
func TestStatedPressure(t *testing.T) {
	s := shelf(0, 1, 0)[1]
	s.Brim = unit.Exactly(670)
	for _, bar := range []float64{12, 16, 20, 26} {
		s.WorkingPressure = unit.Pressure(bar * 1e5)
		r := Request{Formula: vegetable(), Covers: 30, Portion: Portion{Size: 40}, Shelf: []Siphon{s}, Tests: Measured{2.5}}
		p, err := Make(r)
		require.NoError(t, err, bar)
		checkPlan(t, r, p)
		_, err = Advise(r.Formula, Fill{Siphon: s, Mass: 510}, FoodN2O, nil)
		if bar < 20 { // a full body peaks at 20 bar before shaking
			var refusal *note.Refusal
			require.ErrorAs(t, err, &refusal)
			assert.Equal(t, CodeOverPressure, refusal.Code)
			near, _ := refusal.Arg("nearest")
			_, err = Advise(r.Formula, Fill{Siphon: s, Mass: unit.Mass(near.Value)}, FoodN2O, nil)
			assert.NoError(t, err, "the nearest filling is under the limit")
		}
	}
}

func TestAirNeedsNoSiphon(t *testing.T) {
	f := Formula{Type: "lecithin-air", Liquid: 300, Doses: []Dose{{"lecithin", 3}}, Base: Base{Temperature: 20, Water: unit.Exactly(0.95)}}
	p, err := Make(Request{Formula: f, Covers: 10, Portion: Portion{Size: 80}})
	require.NoError(t, err)
	assert.Empty(t, p.Fillings)
	assert.Zero(t, p.Chargers)
	assert.True(t, hasCode(p.Notes, CodeNeedsNone))
	assert.True(t, hasCode(p.Notes, DangerAllergens), "soy")
	assert.True(t, hasLevel(p.Notes, note.Danger))
}

func TestSizeIsThePlanWithoutItsDetails(t *testing.T) {
	for covers := 1; covers < 400; covers += 57 {
		for _, basis := range []Basis{ByTradeRule, ByGasBalance} {
			r := Request{Formula: vegetable(), Covers: covers, Portion: Portion{Size: 40}, Shelf: shelf(1, 2, 1), Basis: basis}
			want, err := Make(r)
			got, sizeErr := Size(r)
			require.Equal(t, err == nil, sizeErr == nil)
			assert.Equal(t, want.Base, got.Base)
			assert.Equal(t, want.Chargers, got.Chargers)
			assert.Len(t, got.Fillings, len(want.Fillings))
			assert.Equal(t, want.Portions, got.Portions)
		}
	}
}

func TestFiveHundredCoversFromAWildShelf(t *testing.T) {
	var all []Siphon
	for i := range maxShelf {
		s, err := CustomSiphon(Siphon{ID: "own", Nominal: unit.Volume(240 + 97*i), Count: 2, MadeForN2O: true})
		require.NoError(t, err)
		all = append(all, s)
	}
	r := Request{Formula: vegetable(), Covers: 500, Portion: Portion{Size: 60}, Shelf: all, Basis: ByGasBalance}
	p, err := Make(r)
	require.NoError(t, err)
	checkPlan(t, r, p)
}

func BenchmarkPlanFiveHundredCovers(b *testing.B) {
	r := Request{Formula: vegetable(), Covers: 500, Portion: Portion{Size: 60}, Shelf: shelf(2, 3, 2)}
	for b.Loop() {
		if _, err := Make(r); err != nil {
			b.Fatal(err)
		}
	}
}

// What a phone works out at each keystroke of an evening's usual size.
func BenchmarkPlanThirtyEightCovers(b *testing.B) {
	r := Request{Formula: vegetable(), Covers: 38, Portion: Portion{Size: 40}, Shelf: shelf(0, 2, 0)}
	for b.Loop() {
		if _, err := Make(r); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPlanByGasBalance(b *testing.B) {
	r := Request{Formula: vegetable(), Covers: 500, Portion: Portion{Size: 60}, Shelf: shelf(2, 3, 2), Basis: ByGasBalance}
	for b.Loop() {
		if _, err := Make(r); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSearchFiveHundredCovers(b *testing.B) {
	r := Request{Formula: vegetable(), Shelf: shelf(2, 3, 2), Portion: Portion{Size: 60}}
	kind, _ := TypeByID("stabiliser")
	bodies, _ := r.bodies(kind)
	for b.Loop() {
		search(bodies, 9000, 4)
	}
}

func BenchmarkSettle(b *testing.B) {
	f := Fill{Siphon: sized(500), Base: vegetable().Base, Mass: 440, Charges: 2}
	for b.Loop() {
		if _, err := Settle(f); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAdvise(b *testing.B) {
	f := Fill{Siphon: sized(500), Mass: 440}
	for b.Loop() {
		if _, err := Advise(vegetable(), f, FoodN2O, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// Gelatin that only helps another foam has to set all the same: the plan, its order and
// the steps of a filling say so. Hot it does not set.
func TestGelatinMakesAnyColdFoamRest(t *testing.T) {
	gelatin, _ := TypeByID("gelatin")
	cream := Formula{Type: "cream", Liquid: 500, Base: Base{MilkFat: 0.3, Sugar: 0.03, Temperature: 5}, Doses: []Dose{{Agent: "xanthan", Mass: 0.5}}}
	r := Request{Formula: cream, Base: 450, Shelf: shelf(0, 1, 0), Gas: FoodN2O}
	rests := func() (unit.Range, float64) {
		p, err := Make(r)
		require.NoError(t, err)
		assert.LessOrEqual(t, p.Rest.Typical, p.Lead.Typical)
		for _, n := range Method(r.Formula, 450, 1) {
			if n.Code == StepRest {
				rest, _ := n.Arg("rest")
				return p.Rest, rest.Value * hour
			}
		}
		return p.Rest, 0
	}
	plain, step := rests()
	assert.InDelta(t, plain.Typical, step, 1e-9)
	assert.Less(t, plain.Typical, gelatin.Rest.Typical)

	r.Formula.Doses = append(r.Formula.Doses, Dose{Agent: "gelatin", Mass: 2.5})
	set, step := rests()
	assert.Equal(t, gelatin.Rest, set)
	assert.InDelta(t, set.Typical, step, 1e-9)

	hot := hotStarch()
	kind, _ := TypeByID(hot.Type)
	hot.Doses = append(hot.Doses, Dose{Agent: "gelatin", Mass: 2.5})
	assert.Equal(t, kind.Rest, kind.resting(hot).Rest)
}

// What a cover takes goes with how much the fillings grow, whatever the base was reckoned
// with: 60 ml at 195 % are 60 × 1.05 / 2.95 = 21.3 g. And no plan makes much too much:
// the most is where half a litre just does not do, and the larger body grows it further.
func TestPlanTellsOneGrowth(t *testing.T) {
	f := Formula{Type: "gelatin", Liquid: 750, Doses: []Dose{{"gelatin", 8}}, Base: Base{Temperature: 5, Water: unit.Exactly(0.74), MilkFat: 0.11, Sugar: 0.12, Fibre: 0.01}}
	for covers := 10; covers <= 80; covers++ {
		r := Request{Formula: f, Covers: covers, Portion: Portion{Size: 60}, Shelf: shelf(0, 1, 1)}
		p, err := Make(r)
		require.NoError(t, err)
		checkPlan(t, r, p)
		grows := p.lowestOverrun().Typical
		assert.InEpsilon(t, grows, p.Overrun.Typical, 0.02, "%d covers", covers)
		assert.InEpsilon(t, float64(r.Portion.BaseFor(grows, f.Base.DensityOr())), float64(p.PerCover), 0.02, "%d covers", covers)
		assert.InDelta(t, float64(p.Dispensed), float64(covers)*float64(p.PerCover), 1e-6, "%d covers", covers)
		if !hasCode(p.Notes, CodeRaised) {
			assert.Less(t, p.Portions.Typical, 1.12*float64(covers), "%d covers", covers)
		}
	}
}
