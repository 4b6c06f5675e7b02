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

func one(id agent.ID, pct float64) []Dose { return []Dose{{Agent: id, Share: unit.Percent(pct)}} }

func firm(t *testing.T, ds []Dose, c Conditions) Firmness {
	t.Helper()
	f, err := FirmnessOf(ds, c, nil)
	require.NoError(t, err)
	require.True(t, f.Known, "%v: %v", ds, codes(f.Notes))
	require.True(t, f.Modulus.Valid())
	return f
}

// TestEqualModulusTable returns the doses of testdata/gel_equal_modulus.csv
// (derived: checks the inverse law with all parameters typical).
func TestEqualModulusTable(t *testing.T) {
	for _, row := range table(t, "gel_equal_modulus.csv") {
		g := figure(t, row["modulus_pa"])
		for id, want := range row {
			if id == "modulus_pa" {
				continue
			}
			got, _, err := DoseFor(agent.ID(id), 0, unit.Exactly(g), Conditions{}, nil)
			require.NoError(t, err, id)
			assert.InDelta(t, figure(t, want), got.Typical*100, 0.0006, "%s at %g Pa", id, g)
			assert.True(t, got.Valid())
			assert.Less(t, got.Low, got.High)
		}
	}
}

// TestPublishedBands: what was measured must overlap the model's range.
func TestPublishedBands(t *testing.T) {
	jelly := Conditions{Brix: Known(65), PH: Known(2.4)}
	cases := []struct {
		name   string
		doses  []Dose
		cond   Conditions
		band   unit.Range
		source string
	}{
		{"standard 150 SAG jelly", one("pectin-hm", 0.433), jelly, unit.Range{Low: 379, Typical: 400, High: 429},
			"Nielsen, Marr & Hvidt, Carbohydrate Polymers 45 (2001) 395-401, abstract"},
		{"kappa 0.6 %, 50 mM NaCl", one("carr-kappa", 0.6), Conditions{Na: Known(50), K: Known(0)}, unit.Exactly(1700),
			"study of whey protein/kappa-carrageenan gels (believed Cakir & Foegeding 2011), results paragraph"},
		{"kappa 0.6 %, 250 mM NaCl", one("carr-kappa", 0.6), Conditions{Na: Known(250), K: Known(0)}, unit.Exactly(5600),
			"the same"},
		{"gelatin phantom 5 %", one("gelatin", 5), Conditions{ServeC: Known(20)}, unit.Exactly(4030),
			"Hall et al., IEEE Trans. UFFC 44 (1997) 1355, from memory"},
		{"agar phantom 1 %", one("agar", 1), Conditions{ServeC: Known(20)}, unit.Exactly(8400), "the same, from memory"},
		{"agar phantom 2 %", one("agar", 2), Conditions{ServeC: Known(20)}, unit.Exactly(30700), "the same, from memory"},
		{"gelatin 6.6 % w/v, hardness 63.4 kPa", one("gelatin", 6.2), Conditions{}, unit.Range{Low: 63400 / 30, Typical: 63400 / 6, High: 63400 / 3},
			"senior-friendly gelatin gels, ersr.org rsr-4-1-56, table 4; a hardness, so compared loosely: E = 3 G and a tenth to a whole of hardness"},
	}
	for _, c := range cases {
		f := firm(t, c.doses, c.cond)
		assert.True(t, f.Modulus.Overlaps(c.band), "%s: model %v, measured %v (%s)", c.name, f.Modulus, c.band, c.source)
	}
}

// TestAgarThreshold: E 406 must gel at 0.25 % or less (Dapčević Hadnađev et al.,
// Food & Feed Research 36 (2009) 69-74).
func TestAgarThreshold(t *testing.T) {
	c0 := agent.ByID("agar").Models[0].C0
	assert.LessOrEqual(t, c0.High, 0.25)
	assert.Positive(t, firm(t, one("agar", 0.26), Conditions{}).Modulus.Low)
	assert.Zero(t, firm(t, one("agar", 0.22), Conditions{}).Modulus.Low, "between the critical doses it may stay liquid")
}

// TestGellanCalcium: the best calcium is half a mole for each carboxyl (Tang,
// Tung & Zeng, Carbohydrate Polymers 29 (1996) 11-16; Nickerson et al., Food
// Hydrocolloids 17 (2003)), so 60 mg/l at 0.2 % with one carboxyl in 668.5 g/mol.
func TestGellanCalcium(t *testing.T) {
	need := agent.ByID("gellan-la").Stands.Needs[0]
	assert.InDelta(t, 0.5, need.Amount.Typical*668.5/1000, 0.001)
	for pct, mg := range map[float64]float64{0.1: 30, 0.2: 60, 0.5: 150, 1.0: 300} {
		assert.InEpsilon(t, mg, bestIon(need, pct)*agent.MolarCa, 0.01, pct)
	}
	best := firm(t, one("gellan-la", 0.5), Conditions{Ca: Known(bestIon(need, 0.5))}).Modulus.Typical
	for _, ca := range []float64{0.5, 1.5, 8, 20} {
		assert.Less(t, firm(t, one("gellan-la", 0.5), Conditions{Ca: Known(ca)}).Modulus.Typical, best, "%g mmol/kg", ca)
	}
}

// TestAgarSugar: stiffer up to 40 % sugar and no longer at 60 % (Maurer,
// Junghans & Vilgis, Food Hydrocolloids 29 (2012) 298; Watase et al., J. Agric.
// Food Chem. 38 (1990) 1181), × 1.2-1.8 at 30 % sucrose (agar from Gracilaria).
func TestAgarSugar(t *testing.T) {
	g := func(brix float64) float64 {
		return firm(t, one("agar", 1), Conditions{Brix: Known(brix)}).Modulus.Typical
	}
	assert.Greater(t, g(20), g(0))
	assert.Greater(t, g(40), g(20))
	assert.Less(t, g(60), g(40))
	ratio := g(30) / g(0)
	assert.True(t, ratio >= 1.2 && ratio <= 1.8, ratio)
}

// TestAgarPairs: one study lifts 493 g/cm² to 864 with locust bean gum at 1:1,
// × 1.75, and with konjac to 2011, × 4.08 (functional properties of agar with
// gums, abstract). Both lie in the range; the second, far from all others, is
// its top.
func TestAgarPairs(t *testing.T) {
	p := agent.PairOf("agar", "lbg")
	assert.True(t, p.Synergy.Range().Contains(1.75))
	k := agent.PairOf("agar", "konjac")
	assert.True(t, k.Synergy.Range().Contains(2011.0/493))
	assert.True(t, k.Share.Range().Contains(0.5))
	v, err := Read(Recipe{Doses: []Dose{{Agent: "agar", Share: 0.0075}, {Agent: "konjac", Share: 0.0075}}})
	require.NoError(t, err)
	assert.Contains(t, codes(v.Notes), CodeSafety, "konjac's choking warning goes with the pair")
	assert.Greater(t, v.Firmness.Modulus.Typical, firm(t, one("agar", 0.75), Conditions{}).Modulus.Typical)
	alone := firm(t, one("agar", 0.9), Conditions{}).Modulus.Typical
	both := firm(t, []Dose{{Agent: "agar", Share: 0.009}, {Agent: "lbg", Share: 0.001}}, Conditions{}).Modulus.Typical
	assert.Greater(t, both, alone)
}

// TestCarrageenanPairs: with 0.75 % locust bean gum it breaks at 31 kPa, with
// guar at 3.1 kPa (J. Home Economics Japan 34(4) 206): the catalogue makes a
// gel pair of the first and none of the second. The best ratio is 7:3 to 6:4
// (J. Home Economics Japan 41(2) 133).
func TestCarrageenanPairs(t *testing.T) {
	p := agent.PairOf("carr-kappa", "lbg")
	require.NotNil(t, p)
	assert.True(t, p.Share.Range().Overlaps(unit.Range{Low: 0.6, Typical: 0.65, High: 0.7}))
	assert.Nil(t, agent.PairOf("carr-kappa", "guar"))
	assert.Greater(t, p.Feel.Break.Typical, agent.ByID("carr-kappa").Feel.Break.Typical)
}

// TestXanthanLBG: melts at 55-60, sets at about 52 °C (Polymers 15 (2023) 4604).
func TestXanthanLBG(t *testing.T) {
	s := agent.PairOf("xanthan", "lbg").Setting
	assert.True(t, s.MeltC.Range().Overlaps(unit.Range{Low: 55, Typical: 57, High: 60}))
	assert.True(t, s.SetC.Range().Contains(52))
}

// TestXanthanLBGThreshold: the two gel at 0.2 % in sum at room temperature, best
// at 1:2 to 1:4 (Tako, Asato & Nakamura, xanthan and locust bean gum, 1984, abstract).
func TestXanthanLBGThreshold(t *testing.T) {
	f := firm(t, []Dose{{Agent: "xanthan", Share: 0.2 / 100 / 3}, {Agent: "lbg", Share: 0.2 / 100 * 2 / 3}}, Conditions{})
	assert.Positive(t, f.Modulus.Low)
	share := agent.PairOf("xanthan", "lbg").Share.Range()
	for _, lbg := range []float64{2, 3, 4} {
		assert.True(t, share.Contains(1/(1+lbg)))
	}
}

// TestAgarTemperatures: 1.5 % sets at 34-43 and melts above 85 °C (Armisén &
// Galatas, FAO Fisheries Technical Paper 288, 1987).
func TestAgarTemperatures(t *testing.T) {
	s := agent.ByID("agar").Setting
	assert.True(t, s.SetC.Range().Overlaps(unit.Range{Low: 34, Typical: 38, High: 43}))
	assert.GreaterOrEqual(t, s.MeltC.High, 85.0)
}

// TestAgarWeeping: weeping falls as dose and sugar rise (Nagasaka & Taneya,
// Nippon Shokuhin Kagaku Kogaku Kaishi 47 (2000) 670). The catalogue keeps only
// the order: agar weeps much, less so with locust bean gum.
func TestAgarWeeping(t *testing.T) {
	assert.Equal(t, agent.Much, agent.ByID("agar").Feel.Weeps)
	assert.Less(t, agent.PairOf("agar", "lbg").Feel.Weeps, agent.Much)
}

// TestCarrageenanAcid: the allowed time falls to a third for each half pH unit
// (carrageenan chapter of a food-gel handbook, believed Thomas in Imeson 1992).
func TestCarrageenanAcid(t *testing.T) {
	k := agent.ByID("carr-kappa")
	at := func(ph float64) float64 {
		m, _, err := AcidTime(k, ph)
		require.NoError(t, err)
		return m.Typical
	}
	assert.InEpsilon(t, 3, at(4.5)/at(4.0), 1e-12)
	assert.InEpsilon(t, 9, at(4.5)/at(3.5), 1e-12)
	_, loss, _ := AcidTime(k, 4.5)
	assert.True(t, loss.Contains(0.2) && loss.Contains(0.25))
	_, _, err := AcidTime(agent.ByID("gelatin"), 4)
	assert.ErrorIs(t, err, note.Refuse("", CodeNoAcidRule))
	_, _, err = AcidTime(k, math.NaN())
	assert.ErrorIs(t, err, note.Refuse("", CodeConditionBad))
}

// TestCarrageenanBelowAgar: at 0.8-1.2 % carrageenan is softer than agar and
// falls fast from 30 to 40 °C, where agar stays (J. Home Economics Japan 36(6)).
// The abstract names no potassium, so it is compared in plain water.
func TestCarrageenanBelowAgar(t *testing.T) {
	for _, pct := range []float64{0.8, 1.0, 1.2} {
		plain := Conditions{K: Known(0), Na: Known(0), Ca: Known(0)}
		assert.Less(t, firm(t, one("carr-kappa", pct), plain).Modulus.Typical, firm(t, one("agar", pct), Conditions{}).Modulus.Typical)
	}
	drop := func(id agent.ID) float64 {
		return firm(t, one(id, 1), Conditions{ServeC: Known(40)}).Modulus.Typical / firm(t, one(id, 1), Conditions{ServeC: Known(30)}).Modulus.Typical
	}
	assert.Less(t, drop("carr-kappa"), 0.7)
	assert.InDelta(t, 1, drop("agar"), 0.02)
}

// TestPotassium: kappa is stiffest at 0.2-0.3 mol/l of KCl (J. Home Economics
// Japan 39(12) 1249).
func TestPotassium(t *testing.T) {
	g := func(k float64) float64 {
		return firm(t, one("carr-kappa", 0.75), Conditions{K: Known(k)}).Modulus.Typical
	}
	assert.Greater(t, g(250), g(30))
	assert.Greater(t, g(30), g(0))
	assert.Less(t, g(600), g(250))
}

// TestGelatinFactors are the factors of the catalogue, from memory: 1.25 at 4 °C,
// a half at 20 °C, 0.65 at pH 3, 0.8 after 8 h.
func TestGelatinFactors(t *testing.T) {
	base := firm(t, one("gelatin", 2), Conditions{}).Modulus.Typical
	for _, c := range []struct {
		cond Conditions
		want float64
	}{
		{Conditions{ServeC: Known(4)}, 1.25}, {Conditions{ServeC: Known(20)}, 0.5}, {Conditions{PH: Known(3)}, 0.65},
		{Conditions{SetHours: Known(8)}, 0.8}, {Conditions{PH: Known(6), ServeC: Known(10), SetHours: Known(18)}, 1},
	} {
		assert.InEpsilon(t, c.want, firm(t, one("gelatin", 2), c.cond).Modulus.Typical/base, 1e-9)
	}
	assert.InEpsilon(t, 500, base, 1e-9)
}

// TestBloomInTheLaw: dose × √Bloom is constant at equal modulus.
func TestBloomInTheLaw(t *testing.T) {
	at200, _, err := DoseFor("gelatin", 200, unit.Exactly(800), Conditions{}, nil)
	require.NoError(t, err)
	at250, _, err := DoseFor("gelatin", 250, unit.Exactly(800), Conditions{}, nil)
	require.NoError(t, err)
	assert.InEpsilon(t, math.Sqrt(250.0/200), at200.Typical/at250.Typical, 1e-9)
	assert.Greater(t, at250.High/at250.Low, at200.High/at200.Low, "another grade adds to the spread")
}

// TestHotAcidLoss: 30-50 % lost at pH 3.5 after 20 min (trade page, tertiary).
func TestHotAcidLoss(t *testing.T) {
	cold := firm(t, one("agar", 1), Conditions{PH: Known(3.5), HeatMinutes: Known(0)})
	hot := firm(t, one("agar", 1), Conditions{PH: Known(3.5), HeatMinutes: Known(20)})
	assert.InEpsilon(t, 0.6, hot.Modulus.Typical/cold.Modulus.Typical, 1e-9)
	f, err := FirmnessOf(one("agar", 1), Conditions{PH: Known(2.2), HeatMinutes: Known(60)}, nil)
	require.NoError(t, err)
	assert.False(t, f.Known)
	assert.Contains(t, codes(f.Notes), CodeAcidDestroys)
}

func TestOutsideWhatWasMeasured(t *testing.T) {
	cases := []struct {
		name  string
		doses []Dose
		cond  Conditions
		code  note.Code
	}{
		{"too little agar", one("agar", 0.05), Conditions{}, CodeOutsideDose},
		{"too much agar", one("agar", 5), Conditions{}, CodeOutsideDose},
		{"gelatin at 60 °C", one("gelatin", 3), Conditions{ServeC: Known(60)}, CodeOutsideCondition},
		{"gelatin at pH 1", one("gelatin", 3), Conditions{PH: Known(1)}, CodeOutsideCondition},
		{"strong spirit", one("gelatin", 3), Conditions{ABV: Known(0.8)}, CodeOutsideCondition},
		{"xanthan", one("xanthan", 0.3), Conditions{}, CodeNoLaw},
	}
	for _, c := range cases {
		f, err := FirmnessOf(c.doses, c.cond, nil)
		require.NoError(t, err, c.name)
		assert.False(t, f.Known, c.name)
		assert.Equal(t, unit.Range{}, f.Modulus, c.name)
		assert.Contains(t, codes(f.Notes), c.code, c.name)
	}
	_, _, err := DoseFor("agar", 0, unit.Exactly(1e8), Conditions{}, nil)
	assert.ErrorIs(t, err, note.Refuse("", CodeOutsideDose))
	_, _, err = DoseFor("xanthan", 0, unit.Exactly(100), Conditions{}, nil)
	assert.ErrorIs(t, err, note.Refuse("", CodeNoLaw))
}

func TestInputRefusals(t *testing.T) {
	bad := []struct {
		name  string
		doses []Dose
		cond  Conditions
		code  note.Code
	}{
		{"nothing", nil, Conditions{}, CodeNoDose},
		{"NaN", []Dose{{Agent: "agar", Share: unit.Fraction(math.NaN())}}, Conditions{}, CodeDoseBad},
		{"zero", one("agar", 0), Conditions{}, CodeDoseBad},
		{"negative", one("agar", -1), Conditions{}, CodeDoseBad},
		{"huge", one("agar", 1e9), Conditions{}, CodeDoseBad},
		{"sum", []Dose{{Agent: "agar", Share: 0.6}, {Agent: "guar", Share: 0.6}}, Conditions{}, CodeDoseSum},
		{"unknown, near", one("agra", 1), Conditions{}, CodeUnknownNear2},
		{"unknown, far", one("qqqqqqqqqq", 1), Conditions{}, CodeUnknownAgent},
		{"grade", []Dose{{Agent: "gelatin", Grade: 9000, Share: 0.02}}, Conditions{}, CodeGradeRange},
		{"pH 20", one("agar", 1), Conditions{PH: Known(20)}, CodeConditionBad},
		{"NaN brix", one("agar", 1), Conditions{Brix: Known(math.NaN())}, CodeConditionBad},
		{"range upside down", one("agar", 1), Conditions{PH: KnownRange(unit.Range{Low: 5, Typical: 4, High: 3})}, CodeConditionBad},
		{"many", slices.Repeat(one("agar", 0.1), 13), Conditions{}, CodeTooMany},
	}
	for _, c := range bad {
		_, err := FirmnessOf(c.doses, c.cond, nil)
		assert.ErrorIs(t, err, note.Refuse("", c.code), c.name)
		_, err = Read(Recipe{Doses: c.doses, Cond: c.cond})
		assert.ErrorIs(t, err, note.Refuse("", c.code), c.name)
		_, err = Swap(Recipe{Doses: c.doses, Cond: c.cond}, Wish{})
		assert.ErrorIs(t, err, note.Refuse("", c.code), c.name)
		_, err = CurveOf(c.doses, c.cond, nil, 50)
		assert.ErrorIs(t, err, note.Refuse("", c.code), c.name)
	}
	for _, g := range []unit.Range{unit.Exactly(0), unit.Exactly(math.NaN()), {Low: 3, Typical: 2, High: 1}, unit.Exactly(1e15)} {
		_, _, err := DoseFor("agar", 0, g, Conditions{}, nil)
		assert.ErrorIs(t, err, note.Refuse("", CodeNotPositive))
	}
}

// randomConditions draws a liquid that a kitchen could have.
func randomConditions(r *rand.Rand) Conditions {
	var c Conditions
	draw := func(g *Given, low, high float64) {
		if r.IntN(3) > 0 {
			x := low + (high-low)*r.Float64()
			w := (high - low) * 0.05 * r.Float64()
			*g = KnownRange(unit.Range{Low: max(low, x-w), Typical: x, High: min(high, x+w)})
		}
	}
	draw(&c.PH, 2.4, 8)
	draw(&c.Brix, 0, 40)
	draw(&c.ABV, 0, 0.15)
	draw(&c.Na, 0, 200)
	draw(&c.K, 0, 100)
	draw(&c.Ca, 0, 30)
	draw(&c.ServeC, 2, 30)
	draw(&c.SetHours, 3, 30)
	draw(&c.HeatMinutes, 0, 5)
	c.Milk = r.IntN(5) == 0
	return c
}

// TestMonotoneInDose: more of an agent is never softer, in any liquid; so is
// the low end and the high end of the range.
func TestMonotoneInDose(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	checked := 0
	for range 150 {
		c := randomConditions(r)
		for _, a := range agent.All() {
			m := a.Model(c.medium())
			if m == nil {
				continue
			}
			var last unit.Range
			for i := range 12 {
				pct := m.Span.From * math.Pow(m.Span.To/m.Span.From, (float64(i)+0.5)/12)
				f, err := FirmnessOf(one(a.ID, pct), c, nil)
				require.NoError(t, err)
				if !f.Known {
					continue
				}
				require.True(t, f.Modulus.Valid(), "%s %v", a.ID, f.Modulus)
				require.GreaterOrEqual(t, f.Modulus.Typical, last.Typical, "%s at %g in %+v", a.ID, pct, c)
				require.GreaterOrEqual(t, f.Modulus.Low, last.Low*(1-1e-9), "%s low end at %g", a.ID, pct)
				last = f.Modulus
				checked++
			}
		}
	}
	assert.Greater(t, checked, 5000)
}

// TestDoseForTurnsRound: the dose for the modulus of a dose is that dose.
func TestDoseForTurnsRound(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	checked := 0
	for range 200 {
		c := randomConditions(r)
		for _, a := range agent.All() {
			m := a.Model(c.medium())
			if m == nil {
				continue
			}
			pct := m.Span.From * math.Pow(m.Span.To/m.Span.From, r.Float64())
			f, err := FirmnessOf(one(a.ID, pct), c, nil)
			require.NoError(t, err)
			if !f.Known {
				continue
			}
			d, _, err := DoseFor(a.ID, 0, unit.Exactly(f.Modulus.Typical), c, nil)
			require.NoError(t, err)
			require.InEpsilon(t, pct, d.Typical*100, 1e-6, "%s in %+v", a.ID, c)
			require.True(t, d.Valid() && d.Low > 0)
			checked++
		}
	}
	assert.Greater(t, checked, 500)
}

// TestRangeHoldsTheCorners: the range reaches at least as far as any one
// parameter alone can push the answer.
func TestRangeHoldsTheCorners(t *testing.T) {
	m := agent.ByID("agar").Models[0]
	f := firm(t, one("agar", 0.7), Conditions{}).Modulus
	law := func(a, n, c0 float64) float64 { return a * math.Pow((0.7/c0-1)/(m.Ref/c0-1), n) }
	for _, x := range []float64{
		law(m.A.Low, m.N.Typical, m.C0.Typical), law(m.A.High, m.N.Typical, m.C0.Typical),
		law(m.A.Typical, m.N.Low, m.C0.Typical), law(m.A.Typical, m.N.High, m.C0.Typical),
		law(m.A.Typical, m.N.Typical, m.C0.Low), law(m.A.Typical, m.N.Typical, m.C0.High),
	} {
		assert.True(t, f.Contains(x), "%g outside %v", x, f)
	}
	assert.InEpsilon(t, law(m.A.Typical, m.N.Typical, m.C0.Typical), f.Typical, 1e-12)
	again := firm(t, one("agar", 0.7), Conditions{}).Modulus
	assert.Equal(t, f, again, "the same input gives the same answer")
}

func TestCurve(t *testing.T) {
	c, err := CurveOf(one("gelatin", 3), Conditions{}, nil, 60)
	require.NoError(t, err)
	assert.InDelta(t, 0.007, float64(c.From), 1e-9)
	assert.InDelta(t, 0.10, float64(c.To), 1e-9)
	assert.True(t, c.Mark.Measured)
	gaps, last := 0, unit.Fraction(0)
	for _, p := range c.Points {
		assert.Greater(t, p.Share, last)
		last = p.Share
		assert.Equal(t, p.Share >= c.From*0.999999 && p.Share <= c.To*1.000001, p.Measured, p.Share)
		if !p.Measured {
			gaps++
			assert.Equal(t, unit.Range{}, p.Modulus)
		}
	}
	assert.Positive(t, gaps)
	blank, err := CurveOf(one("xanthan", 0.2), Conditions{}, nil, 60)
	require.NoError(t, err)
	assert.Empty(t, blank.Points)
	assert.Contains(t, codes(blank.Notes), CodeNoLaw)
}

func TestKitchenFactor(t *testing.T) {
	none, err := FitFactor("agar", 0, nil)
	require.NoError(t, err)
	assert.Equal(t, 1.0, none.Value)
	fit := func(ts ...Trial) Factor {
		f, err := FitFactor("agar", 0, ts)
		require.NoError(t, err)
		assert.True(t, f.Value >= MinFactor && f.Value <= MaxFactor)
		assert.Equal(t, len(ts), f.Trials)
		return f
	}
	right := fit(Trial{4000, 6000, Right})
	assert.InDelta(t, 1.5, right.Value, 0.1, "a trial that was right pulls to its ratio, a little held back")
	assert.Less(t, right.Spread, none.Spread)
	ladder := []Trial{{3000, 6000, TooSoft}, {5000, 6000, TooSoft}, {8000, 6000, Right}}
	f := fit(ladder...)
	assert.InDelta(t, 0.76, f.Value, 0.1)
	slices.Reverse(ladder)
	assert.InDelta(t, f.Value, fit(ladder...).Value, 1e-12, "the order does not matter")
	assert.Less(t, fit(Trial{6000, 6000, TooSoft}).Value, 1.0)
	assert.Greater(t, fit(Trial{6000, 6000, TooFirm}).Value, 1.0)
	wild := fit(slices.Repeat([]Trial{{1e-9, 1e9, TooFirm}}, 20)...)
	assert.InDelta(t, MaxFactor, wild.Value, 0.2)
	for _, bad := range []Trial{{0, 1, Right}, {1, 1, 0}, {unit.Pressure(math.NaN()), 1, Right}, {1, 1, 9}} {
		_, err := FitFactor("agar", 0, []Trial{bad})
		assert.ErrorIs(t, err, note.Refuse("", CodeTrialBad))
	}
}

// TestKitchenIsApplied in reading, inverse and swap, and only to its own grade.
func TestKitchenIsApplied(t *testing.T) {
	k := Kitchen{{Agent: "agar", Value: 2, Spread: 0.2, Trials: 3}}
	plain := firm(t, one("agar", 1), Conditions{})
	mine, err := FirmnessOf(one("agar", 1), Conditions{}, k)
	require.NoError(t, err)
	assert.InEpsilon(t, 2, mine.Modulus.Typical/plain.Modulus.Typical, 1e-12)
	assert.Less(t, mine.Modulus.High/mine.Modulus.Low, plain.Modulus.High/plain.Modulus.Low, "trials narrow the range")
	n, ok := find(mine.Notes, CodeKitchen)
	require.True(t, ok)
	trials, _ := n.Arg("trials")
	assert.Equal(t, 3.0, trials.Value)
	other, err := FirmnessOf([]Dose{{Agent: "agar", Grade: 700, Share: 0.01}}, Conditions{}, k)
	require.NoError(t, err)
	assert.NotContains(t, codes(other.Notes), CodeKitchen)
	less, _, err := DoseFor("agar", 0, unit.Exactly(8000), Conditions{}, k)
	require.NoError(t, err)
	assert.Less(t, less.Typical, 0.01)
	broken := Kitchen{{Agent: "agar", Value: math.NaN(), Trials: 1}, {Agent: "agar", Value: 9, Trials: 1}}
	same, err := FirmnessOf(one("agar", 1), Conditions{}, broken)
	require.NoError(t, err)
	assert.Equal(t, plain.Modulus, same.Modulus, "a factor beyond its limits is not used")
}

func ExampleFirmnessOf() {
	f, _ := FirmnessOf([]Dose{{Agent: "agar", Share: 0.01}}, Conditions{}, nil)
	fmt.Printf("%.0f to %.0f Pa, breaks at %.0f %%\n", f.Modulus.Low, f.Modulus.High, f.Break.Typical*100)
	// Output: 3000 to 15000 Pa, breaks at 25 %
}
