package lab

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/phrase"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// jelly is a liquid with agar at so many grams per 100 g.
func jelly(percent float64, more ...formula.Dose) formula.Formula {
	return formula.Formula{
		Name: "jelly", Parts: []formula.Part{{Name: "quince juice", Amount: unit.Grams(500)}},
		Doses: append([]formula.Dose{{Agent: "agar", Name: "agar", Amount: unit.Amount{Value: percent, Unit: unit.PercentOf}, Basis: formula.OnLiquid}}, more...),
		Make:  formula.Make{Mode: formula.ForLiquid, Liquid: unit.Grams(80)},
	}
}

func triedCup(t *testing.T, made, aim formula.Formula, firmness int) formula.Tried {
	t.Helper()
	b, err := formula.Made{Made: made, Aim: aim}.Encode()
	require.NoError(t, err)
	return formula.Tried{Batch: b, Firmness: firmness}
}

func factorsOf(tried ...formula.Tried) gel.Kitchen {
	var k kitchen
	k.learn(formula.Working{Tried: tried, Shelf: formula.UsualShelf()})
	return k.factors
}

// By the model's own law: when a cup at dose d comes out as the recipe at dose
// d0 was meant to, the kitchen's agent is G(d0)/G(d) times the model's. Many
// such cups must bring the factor there, whatever the prior says.
func TestFactorFollowsALadder(t *testing.T) {
	aim := jelly(1)
	modulus := func(percent float64) float64 {
		f, err := gel.FirmnessOf([]gel.Dose{{Agent: "agar", Share: unit.Percent(percent) / (1 + unit.Percent(percent))}}, gel.Conditions{}, nil)
		require.NoError(t, err)
		return f.Modulus.Typical
	}
	var tried []formula.Tried
	for range 8 {
		tried = append(tried, triedCup(t, jelly(0.7), aim, -1), triedCup(t, jelly(0.83), aim, 0), triedCup(t, jelly(1), aim, 1))
	}
	list := factorsOf(tried...)
	require.Len(t, list, 1)
	assert.Equal(t, 24, list[0].Trials)
	assert.InEpsilon(t, modulus(1)/modulus(0.83), list[0].Value, 0.05)
	assert.False(t, list[0].Bounded())
	r := list[0].Range()
	assert.Less(t, r.Low, list[0].Value)
	assert.Greater(t, r.High, list[0].Value)
}

func TestFactorStaysWithinItsBounds(t *testing.T) {
	var tried []formula.Tried
	for range formula.MaxTried {
		tried = append(tried, triedCup(t, jelly(1.5), jelly(0.6), -2))
	}
	list := factorsOf(tried...)
	require.Len(t, list, 1)
	assert.GreaterOrEqual(t, list[0].Value, gel.MinFactor)
	assert.True(t, list[0].Bounded(), "%v", list[0].Value)
	assert.GreaterOrEqual(t, list[0].Range().Low, gel.MinFactor)
}

func TestTrialThatTeachesNothing(t *testing.T) {
	gellan := formula.Dose{Agent: "gellan-low", Name: "low-acyl gellan", Amount: unit.Amount{Value: 0.4, Unit: unit.PercentOf}, Basis: formula.OnLiquid}
	id, ok := findAgent(gellan.Name)
	require.True(t, ok)
	gellan.Agent = id
	for name, tried := range map[string]formula.Tried{
		"two agents set it": triedCup(t, jelly(1, gellan), jelly(1, gellan), 1),
		"none is known":     triedCup(t, formula.Formula{Name: "x"}, formula.Formula{Name: "x"}, 0),
		"too thin to set":   triedCup(t, jelly(0.001), jelly(1), -2),
		"no batch":          {Batch: []byte(`{}`)},
		"no JSON":           {Batch: []byte(`{`)},
	} {
		assert.Empty(t, factorsOf(tried), name)
	}
}

func TestFactorIsTakenAway(t *testing.T) {
	var k kitchen
	w := formula.Working{Tried: []formula.Tried{triedCup(t, jelly(1), jelly(1), 1)}}
	k.learn(w)
	require.Len(t, k.factors, 1)
	assert.Greater(t, k.factors[0].Value, 1.0, "too firm: the agent is stronger than the tables say")
	k.learn(formula.Working{Tried: []formula.Tried{triedCup(t, jelly(1), jelly(1), -1)}})
	assert.Less(t, k.factors[0].Value, 1.0)
	k.learn(formula.Working{})
	assert.Empty(t, k.factors)
}

// The message from the pan carries the trials, and the lab shows the factor.
func TestLabShowsTheFactor(t *testing.T) {
	l := New(phrase.Book{Find: func(string) (string, bool) { return "", false }})
	tried := []formula.Tried{triedCup(t, jelly(0.83), jelly(1), 0)}
	body, err := formula.Working{Fields: formula.FieldsOf(jelly(1), unit.Style{}), Shelf: formula.UsualShelf(), Tried: tried}.Encode()
	require.NoError(t, err)
	require.NoError(t, l.Working(string(body)))
	l.Open("kitchen", true)
	patch := l.Patch()
	assert.Contains(t, patch, `["rows","lab-kitchen-factor","1"]`)
	assert.Contains(t, patch, `["figure","lab-kitchen-factor-1-value","1.`)
	require.Len(t, l.state.kitchen.factors, 1)
	plain, err := gel.FirmnessOf(l.state.doses, gel.Conditions{}, nil)
	require.NoError(t, err)
	own, err := gel.FirmnessOf(l.state.doses, gel.Conditions{}, l.state.kitchen.factors)
	require.NoError(t, err)
	assert.InEpsilon(t, l.state.kitchen.factors[0].Value, own.Modulus.Typical/plain.Modulus.Typical, 1e-9, "the pan's own doses go by it")
	assert.False(t, math.IsNaN(own.Modulus.Typical))
}

// strongAgar are trials of a kitchen whose agar at 0.7 % does what the tables
// promise of 1 %.
func strongAgar(t *testing.T) []formula.Tried {
	t.Helper()
	var tried []formula.Tried
	for range 6 {
		tried = append(tried, triedCup(t, jelly(0.7), jelly(1), 0))
	}
	return tried
}

// The answers of the lab go by what the kitchen's trials taught: the firmness
// that is read, the grams of a swap, and the curve, which says so and by how much.
func TestAnswersGoByTheKitchen(t *testing.T) {
	ask := func(tried []formula.Tried, agent string, amount string) *page {
		p := open(t, with(pear(), "dose-1-name", agent, "dose-1-amount", amount))
		p.tried = tried
		p.tell()
		return p
	}
	factor := factorsOf(strongAgar(t)...)[0].Value
	require.Greater(t, factor, 1.5)

	tables, own := ask(nil, "agar", "0.8"), ask(strongAgar(t), "agar", "0.8")
	before, ok := tables.figure("lab-swap-now-modulus")
	require.True(t, ok)
	after, ok := own.figure("lab-swap-now-modulus")
	require.True(t, ok)
	assert.InEpsilon(t, factor, after/before, 1e-6, "the firmness now")

	agar := func(p *page) float64 {
		for i, name := range p.offers() {
			if name == "agar" {
				m, ok := p.figure(view.Row("lab-swap-offer", i, "mass"))
				require.True(t, ok)
				p.press("lab-swap-pick", i+1)
				return m
			}
		}
		t.Fatal("no agar offered")
		return 0
	}
	plain, taught := ask(nil, "gelatin", "2"), ask(strongAgar(t), "gelatin", "2")
	plain.press("lab-swap-more", 0)
	taught.press("lab-swap-more", 0)
	assert.Less(t, agar(taught), 0.95*agar(plain), "a stronger agar needs fewer grams")

	assert.Empty(t, plain.text("lab-swap-curve-will-own"))
	assert.Empty(t, plain.set("lab-swap-curve-will-tables", "d"))
	want := unit.Style{}.Significant(factor, 2)
	assert.Equal(t, "×\u00a0"+want, taught.text("lab-swap-curve-will-own"), "written in the picture")
	assert.NotEmpty(t, taught.set("lab-swap-curve-will-tables", "d"), "the tables' own curve beside it")
	assert.NotEqual(t, taught.set("lab-swap-curve-will-line", "d"), taught.set("lab-swap-curve-will-tables", "d"))
	assert.Empty(t, taught.text("lab-swap-curve-was-own"), "nothing is known of this kitchen's gelatin")
	assert.Empty(t, taught.set("lab-swap-curve-was-tables", "d"))
	var says []string
	for i := range taught.rows("lab-swap-say") {
		says = append(says, taught.text(view.Row("lab-swap-say", i, "text")))
	}
	require.Len(t, says, 3)
	assert.Contains(t, says[2], "your own trials (6) agar sets "+want+" times as firm")
}
