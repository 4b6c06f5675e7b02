package foam

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// hotStarch is a lean base served hot. Common practice, no source.
func hotStarch() Formula {
	return Formula{Type: "starch", Base: Base{Temperature: 65, Water: unit.Exactly(0.8)}}
}

// mango is purée with 1 % of gelatin, cold. Common practice, no source.
func mango(grams unit.Mass) Request {
	liquid := grams / 1.01
	return Request{
		Base: grams,
		Formula: Formula{
			Type: "gelatin", Liquid: liquid, Doses: []Dose{{"gelatin", liquid / 100}}, Puree: 0.95,
			Base: Base{Temperature: 5, Sugar: 0.13},
		},
		Shelf: shelf(1, 0, 1),
	}
}

// One filling of the litre body does what the quarter-litre body needs two
// rounds for, at a third of the pressure. Its useful minimum is 40 % of 1 l.
func TestPlanPrefersOneFillingOfALargerBody(t *testing.T) {
	for name, r := range map[string]Request{
		"hot":  {Formula: hotStarch(), Covers: 15, Portion: Portion{Size: 40}, Shelf: shelf(1, 0, 1)},
		"cold": {Formula: vegetable(), Covers: 25, Portion: Portion{Size: 40}, Shelf: shelf(1, 0, 1)},
	} {
		p, err := Make(r)
		require.NoError(t, err, name)
		checkPlan(t, r, p)
		require.Len(t, p.Fillings, 1, name)
		assert.Equal(t, 1, p.Rounds, name)
		assert.Equal(t, "siphon-1000", p.Fillings[0].Siphon, name)
		assert.Less(t, p.Fillings[0].Before.Typical, 11e5, name)
		assert.True(t, hasCode(p.Notes, CodeRaised), name)
		assert.False(t, hasCode(p.Notes, CodeHighPressure), name)

		same, err := Size(r)
		require.NoError(t, err)
		assert.Equal(t, p.Base, same.Base, "without its details it is the same plan")
	}
}

// What is there is planned as it is: both more than the small body holds and what
// would fill it to the line go into the litre body, below its useful minimum.
func TestPlanOfWhatIsThereAvoidsAHighPressure(t *testing.T) {
	for _, grams := range []unit.Mass{250, 265} {
		r := mango(grams)
		p, err := Make(r)
		require.NoError(t, err)
		checkPlan(t, r, p)
		require.Len(t, p.Fillings, 1)
		assert.Equal(t, "siphon-1000", p.Fillings[0].Siphon)
		assert.Equal(t, grams, p.Fillings[0].Mass)
		assert.Less(t, p.Fillings[0].Before.Typical, 9e5)
		assert.True(t, hasCode(p.Notes, CodeSmallBatch))
		assert.False(t, hasCode(p.Notes, CodeHighPressure))
	}
}

// A body that is not driven high keeps its filling: no larger one is opened, and a
// pressure that the maker states decides instead of the usual one.
func TestPlanKeepsASmallBodyThatDoes(t *testing.T) {
	r := Request{Formula: vegetable(), Covers: 12, Portion: Portion{Size: 40}, Shelf: shelf(1, 0, 1)}
	p, err := Make(r)
	require.NoError(t, err)
	assert.Equal(t, "siphon-250", p.Fillings[0].Siphon)
	assert.Equal(t, 1, p.Chargers)

	r = mango(250)
	r.Shelf[0].WorkingPressure = 50e5
	p, err = Make(r)
	require.NoError(t, err)
	checkPlan(t, r, p)
	assert.Equal(t, "siphon-250", p.Fillings[0].Siphon)
	assert.False(t, hasCode(p.Notes, CodeHighPressure), "the maker's figure holds")
}

// Where nothing else is on hand the plan stands, with a danger.
func TestHighPressureIsADanger(t *testing.T) {
	high := func(f Formula, grams unit.Mass, s []Siphon) []note.Note {
		p, err := Make(Request{Formula: f, Base: grams, Shelf: s})
		require.NoError(t, err)
		var out []note.Note
		for _, n := range p.Notes {
			if n.Code == CodeHighPressure {
				out = append(out, n)
			}
		}
		return out
	}
	notes := high(vegetable(), 248, shelf(1, 0, 0))
	require.Len(t, notes, 1)
	assert.Equal(t, note.Danger, notes[0].Level)
	assert.Equal(t, srcPractice, notes[0].Source)
	assert.Equal(t, "siphon.pressure", notes[0].Field)
	reaches, _ := notes[0].Arg("reaches")
	assert.InDelta(t, 30.1, reaches.Value, 0.1)
	limit, _ := notes[0].Arg("limit")
	assert.InDelta(t, 21, limit.Value, 0)
	assert.Empty(t, high(vegetable(), 149, shelf(1, 0, 0)))
	assert.Empty(t, high(vegetable(), 515, shelf(0, 1, 0)), "a half-litre body to its line is the measure")
	stated := shelf(1, 0, 0)
	stated[0].WorkingPressure = 40e5
	assert.Empty(t, high(vegetable(), 248, stated))

	a, err := Advise(vegetable(), Fill{Siphon: sized(250), Mass: 248}, FoodN2O, nil)
	require.NoError(t, err)
	assert.True(t, hasCode(a.Notes, CodeHighPressure))
}

// The usual highest pressure is that of the filling it is named after, none of
// the gas lost: half a litre of water at 5 °C, one charge.
func TestUsualHighestPressure(t *testing.T) {
	f := Fill{
		Siphon: sized(500), Base: Base{Temperature: 5, Density: 1, Water: unit.Exactly(1)}, Mass: 500, Charges: 1,
		Charger: Charger{Gas: unit.Exactly(8), Transfer: unit.Exactly(1)},
	}
	assert.InDelta(t, float64(usualHighest)/1e5, f.reaches()/1e5, 0.5)
	assert.Greater(t, float64(usualHighest), f.reaches())
}

// No plan takes more rounds than the whole shelf needs, only to spare a body.
func TestSparingABodyCostsNoRound(t *testing.T) {
	for covers := 10; covers <= 400; covers += 13 {
		for _, f := range []Formula{vegetable(), hotStarch()} {
			r := Request{Formula: f, Covers: covers, Portion: Portion{Size: 40}, Shelf: shelf(2, 2, 1)}
			kind, _ := TypeByID(f.Type)
			bodies, err := r.bodies(kind)
			require.NoError(t, err)
			all, _, err := r.smallest(kind, bodies)
			if err != nil {
				continue
			}
			p, err := Make(r)
			require.NoError(t, err)
			checkPlan(t, r, p)
			assert.LessOrEqual(t, p.Rounds, all.Rounds)
			assert.False(t, r.drivenHigh(p) && !r.drivenHigh(all))
		}
	}
}

// A base with gelatin is charged while it still pours: what the head sees, and what a
// stated pressure is held against, is at that heat, and higher than cold.
func TestGelatinIsChargedWarm(t *testing.T) {
	half := sized(500)
	cold := Fill{Siphon: half, Base: Base{Temperature: 5, Sugar: 0.13}, Mass: 450, Charges: 1}
	r := mango(450)
	r.Shelf = shelf(0, 1, 0)
	p, err := Make(r)
	require.NoError(t, err)
	warm, err := Ladder(cold, 25)
	require.NoError(t, err)
	chilled, err := Ladder(cold, 5)
	require.NoError(t, err)
	require.Len(t, p.Fillings, 1)
	assert.InEpsilon(t, warm[0].Before.Typical, p.Fillings[0].Before.Typical, 0.02)
	assert.InEpsilon(t, warm[0].After.Typical, p.Fillings[0].After.Typical, 0.02)
	assert.Greater(t, p.Fillings[0].After.Typical, 1.2*chilled[0].After.Typical, "it settles when it is cold")

	// Between what it sees cold and warm a stated pressure refuses.
	r.Shelf[1].WorkingPressure = unit.Pressure((warm[0].Before.High + chilled[0].Before.High) / 2)
	p, err = Make(r)
	if err == nil {
		assert.LessOrEqual(t, p.Fillings[0].Before.High, float64(r.Shelf[1].WorkingPressure)*1.000001)
	} else {
		var refused *note.Refusal
		require.ErrorAs(t, err, &refused)
		assert.Equal(t, CodeOverPressure, refused.Code)
	}
}
