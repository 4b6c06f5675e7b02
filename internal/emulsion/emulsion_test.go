package emulsion_test

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/emulsion"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// reduction is a reduced stock as the liquid model would hand it over.
var reduction = emulsion.Composition{Water: 0.80, Fat: 0.005, Salt: 0.015}

// kitchenCream is the cream of the kitchen check (common practice, no source):
// 40 g shellfish reduction, 30 g yolk, 10 g lime juice, 2 g salt, 130 g neutral oil.
func kitchenCream() emulsion.Input {
	return emulsion.Input{
		Water: []emulsion.Part{
			{Name: "shellfish reduction", Mass: 40, Own: reduction},
			{Kind: "yolk", Mass: 30},
			{Kind: "lime-juice", Mass: 10},
			{Kind: "salt", Mass: 2},
		},
		Oil:  []emulsion.Part{{Kind: "neutral-oil", Mass: 130}},
		PH:   unit.Range{Low: 4.2, Typical: 4.6, High: 5.1},
		Tool: emulsion.StickBlender,
	}
}

func mustMake(t testing.TB, in emulsion.Input) emulsion.Answer {
	a, err := emulsion.Make(in)
	require.NoError(t, err)
	text := sentences(t)
	for _, n := range a.Notes {
		says(t, text, n)
	}
	return a
}

func codes(notes []note.Note) map[note.Code]note.Level {
	m := map[note.Code]note.Level{}
	for _, n := range notes {
		m[n.Code] = n.Level
	}
	return m
}

func TestKitchenCream(t *testing.T) {
	a := mustMake(t, kitchenCream())
	assert.InDelta(t, 212, float64(a.Total), 1e-9)
	assert.InDelta(t, 130.0/212, float64(a.OilByMass), 1e-3) // 61.3 % by weight
	assert.Equal(t, emulsion.Spoonable, a.Class)             // between spoonable (0.64) and stiff (0.74)
	assert.True(t, a.Phi.Contains(float64(a.OilByVolume)))
	assert.Less(t, float64(a.OilByVolume), 0.74)
	assert.Greater(t, float64(a.Steps[1].MoreOil), 0.0) // to stiff
	// 2.636 g salt to 56.77 g water, from the compositions by hand
	assert.InDelta(t, 0.0444, float64(a.SaltInWater), 0.0001)

	c := codes(a.Notes)
	assert.Equal(t, note.Danger, c[emulsion.RawEgg])
	assert.Equal(t, note.Danger, c[emulsion.RawEggPH], "pH 4.2 and more is above 3.3 with lime alone")
	assert.Equal(t, note.Danger, c[emulsion.SiphonRawEgg])
	assert.Contains(t, c, emulsion.Allergen)
	assert.Contains(t, c, emulsion.WaterIsLimit)
}

func TestKitchenCreamScaledToCoversWithTheYolkAsLimit(t *testing.T) {
	in := kitchenCream()
	want := emulsion.Want{Covers: 24, Portion: 8}

	free, err := in.Scale(want)
	require.NoError(t, err)
	assert.InDelta(t, 192.0/212, free.Factor, 1e-12)
	assert.InDelta(t, 27.17, float64(free.Water[1].Mass), 0.005)
	assert.Equal(t, 2, emulsion.Yolks(free.Water[1].Mass))
	assert.Nil(t, free.Limit)

	yolk, err := in.Scale(want, emulsion.Have{Index: 1, Mass: 20})
	require.NoError(t, err)
	assert.InDelta(t, 20.0/30, yolk.Factor, 1e-12)
	assert.InDelta(t, 212*20.0/30, float64(yolk.Total), 1e-9)
	assert.InDelta(t, 17.67, yolk.Covers, 0.005)
	assert.InDelta(t, 7.17, float64(yolk.Short), 0.005)
	require.Len(t, yolk.Notes, 1)
	says(t, sentences(t), yolk.Notes[0])

	all, err := in.Scale(emulsion.Want{Portion: 8}, emulsion.Have{Index: 1, Mass: 34}, emulsion.Have{InOil: true, Mass: 1000})
	require.NoError(t, err)
	assert.InDelta(t, 34, float64(all.Water[1].Mass), 1e-9, "two whole yolks")
	assert.InDelta(t, 212*34.0/30/8, all.Covers, 1e-9)
	assert.Zero(t, all.Short)
}

// Weight to volume share at 0.92 and 1.03 g/ml, computed beforehand with other
// means than this program.
func TestVolumeShare(t *testing.T) {
	for _, c := range []struct{ byMass, phi float64 }{
		{0.30, 0.324}, {0.50, 0.528}, {0.65, 0.675}, {0.70, 0.723}, {0.75, 0.771}, {0.785, 0.803}, {0.80, 0.817}, {0.85, 0.864},
		{0.614, 0.64}, {0.718, 0.74}, {0.781, 0.80}, {0.835, 0.85},
	} {
		assert.InDelta(t, c.phi, float64(emulsion.VolumeShare(unit.Fraction(c.byMass), 0.92, 1.03)), 0.0006, c.byMass)
	}
}

func TestClasses(t *testing.T) {
	for _, c := range []struct {
		phi  unit.Fraction
		want emulsion.Class
	}{
		{0, emulsion.Thin}, {0.6399, emulsion.Thin}, {0.64, emulsion.Spoonable}, {0.7399, emulsion.Spoonable}, {0.74, emulsion.Stiff},
		{0.8499, emulsion.Stiff}, {0.85, emulsion.Edge}, {0.8999, emulsion.Edge}, {0.90, emulsion.Beyond}, {1, emulsion.Beyond},
	} {
		assert.Equal(t, c.want, emulsion.ClassOf(c.phi), c.phi)
	}
}

// The ordinary recipe of Lowe, Experimental Cookery: 1/2 to 3/4 cup of oil (109
// to 164 g), one yolk, 15 ml vinegar averages 65 to 75 % oil; of McGee, On Food
// and Cooking, 2004: as much as 80 % oil by volume.
func TestOrdinaryMayonnaise(t *testing.T) {
	for _, oil := range []unit.Mass{109, 164} {
		a := mustMake(t, emulsion.Input{
			Water: []emulsion.Part{{Kind: "yolk", Mass: 17, Pasteurised: true}, {Kind: "vinegar", Mass: 15}},
			Oil:   []emulsion.Part{{Kind: "neutral-oil", Mass: oil}},
		})
		assert.GreaterOrEqual(t, a.Class, emulsion.Stiff)
		assert.InDelta(t, 0.79, float64(a.OilByMass), 0.06)
		assert.Contains(t, codes(a.Notes), emulsion.Pasteurised)
		assert.NotContains(t, codes(a.Notes), emulsion.RawEgg)
		assert.Empty(t, a.EggRules)
	}
}

// 16.95 mm/day: r = 1 µm, 90 kg/m³, 1 mPa·s; McClements, Food Emulsions, gives
// about 17 for this case. The others by r².
func TestStokes(t *testing.T) {
	for _, c := range []struct{ radius, want float64 }{{1, 16.95}, {0.5, 4.24}, {2, 67.8}, {5, 424}, {10, 1695}} {
		assert.InEpsilon(t, c.want, emulsion.Stokes(c.radius, 0.09, 0.001), 0.001, c.radius)
	}
	slow, err := emulsion.Hindered(16.95, 0.3)
	require.NoError(t, err)
	assert.InDelta(t, 16.95*math.Pow(0.7, 4.65), slow.High, 1e-9)
	assert.True(t, slow.Valid())
	_, err = emulsion.Hindered(1, 0.64)
	assert.ErrorIs(t, err, note.Refuse("", emulsion.Packed))
}

// Relative viscosities of the Krieger-Dougherty form with intrinsic viscosity
// 2.5, computed beforehand with other means.
func TestKriegerDougherty(t *testing.T) {
	for _, c := range []struct{ phi, phiMax, want float64 }{
		{0.1, 0.64, 1.312}, {0.3, 0.64, 2.751}, {0.4, 0.64, 4.803}, {0.5, 0.64, 11.378}, {0.6, 0.64, 84.45},
		{0.1, 0.74, 1.308}, {0.3, 0.74, 2.616}, {0.4, 0.74, 4.215}, {0.5, 0.74, 8.029}, {0.6, 0.74, 21.76},
	} {
		got, err := emulsion.KriegerDougherty(unit.Fraction(c.phi), unit.Fraction(c.phiMax))
		require.NoError(t, err)
		assert.InEpsilon(t, c.want, got, 0.0005)
	}
	for _, phi := range []unit.Fraction{0.64, 0.7, 1, -0.1, unit.Fraction(math.NaN()), unit.Fraction(math.Inf(1))} {
		_, err := emulsion.KriegerDougherty(phi, 0.64)
		assert.Error(t, err, phi)
	}
}

// 4.4 g of surface-active matter (one yolk) at 2.5 mg/m².
func TestSurfaceLimit(t *testing.T) {
	for _, c := range []struct{ d, litres float64 }{{1, 0.29}, {3, 0.88}, {10, 2.9}, {20, 5.9}} {
		assert.InEpsilon(t, c.litres*1000, float64(emulsion.SurfaceLimit(4.4, c.d, 2.5)), 0.02)
	}
}

// Yolk by USDA SR28 NDB 01125: 52.31 % water, 26.54 % fat; white 01124 87.57 %.
func TestEggComposition(t *testing.T) {
	yolk, ok := emulsion.Find("yolk")
	require.True(t, ok)
	assert.InDelta(t, 0.5231, float64(yolk.Composition.Water), 1e-9)
	assert.InDelta(t, 0.2654, float64(yolk.Composition.Fat), 1e-9)
	white, _ := emulsion.Find("egg-white")
	assert.InDelta(t, 0.8757, float64(white.Composition.Water), 1e-9)
	// 20 ml of 6 % vinegar and one yolk: 1.2 g acid to 8.9 g of yolk water and 18.8 g
	// of vinegar water is 4.3 % (4.2 % where the whole vinegar counts as water).
	a := mustMake(t, emulsion.Input{
		Water: []emulsion.Part{{Kind: "yolk", Mass: 17}, {Kind: "vinegar", Mass: 20, Own: emulsion.Composition{Acetic: 0.06}}},
		Oil:   []emulsion.Part{{Kind: "neutral-oil", Mass: 100}}, PH: unit.Range{Low: 3.2, Typical: 3.4, High: 3.6},
	})
	assert.InDelta(t, 0.0433, float64(a.AceticInWater), 0.0001)
	for _, c := range a.EggRules {
		if c.Rule.ID == "vinegar-1999" || c.Rule.ID == "glass-1991" {
			assert.Equal(t, emulsion.Inside, c.PH)
			assert.Equal(t, emulsion.Inside, c.Amount, c.Rule.ID)
			assert.True(t, c.Applies)
		}
		if c.Rule.ID == "lemon-1999" {
			assert.False(t, c.Applies)
		}
	}
	assert.Equal(t, note.Danger, codes(a.Notes)[emulsion.RawEgg], "inside a figure is still not safe")
}

func TestStandards(t *testing.T) {
	f, err := os.Open("../../testdata/emulsion-standards.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	for _, row := range rows[1:] {
		g := func(i int) unit.Mass {
			v, err := strconv.ParseFloat(row[i], 64)
			require.NoError(t, err)
			return unit.Mass(v)
		}
		in := emulsion.Input{Oil: []emulsion.Part{{Kind: "neutral-oil", Mass: g(1)}}}
		for i, k := range []emulsion.Kind{"yolk", "egg-white", "vinegar", "water"} {
			if m := g(2 + i); m > 0 {
				in.Water = append(in.Water, emulsion.Part{Kind: k, Mass: m, Pasteurised: true})
			}
		}
		a := mustMake(t, in)
		for _, v := range a.Standards {
			if v.Standard.ID == row[0] {
				assert.Equal(t, row[6] == "yes", v.Meets(), "%v: %+v", row, v.Lacks)
			}
		}
	}
}

func TestRefusals(t *testing.T) {
	nan := unit.Mass(math.NaN())
	oil := func(m unit.Mass) []emulsion.Part { return []emulsion.Part{{Kind: "neutral-oil", Mass: m}} }
	yolk := func(m unit.Mass) []emulsion.Part { return []emulsion.Part{{Kind: "yolk", Mass: m}} }
	hot := unit.Celsius(math.Inf(1))
	text := sentences(t)
	for _, c := range []struct {
		name  string
		in    emulsion.Input
		code  note.Code
		field string
	}{
		{"oil over 95 %", emulsion.Input{Water: yolk(4), Oil: oil(96)}, emulsion.OilOver, "oil"},
		{"no emulsifier", emulsion.Input{Water: []emulsion.Part{{Kind: "vinegar", Mass: 50}}, Oil: oil(50)}, emulsion.NoEmulsifier, "water"},
		{"oil in the water list", emulsion.Input{Water: append(yolk(17), oil(5)...), Oil: oil(50)}, emulsion.OilInWater, "water.1"},
		{"water in the oil list", emulsion.Input{Water: yolk(17), Oil: append(oil(50), emulsion.Part{Kind: "milk", Mass: 9})}, emulsion.WaterInOil, "oil.1"},
		{"no oil", emulsion.Input{Water: yolk(17)}, emulsion.NoOil, "oil"},
		{"no water", emulsion.Input{Oil: oil(17)}, emulsion.NoWater, "water"},
		{"nothing", emulsion.Input{}, emulsion.NoOil, "oil"},
		{"not a mass", emulsion.Input{Water: yolk(nan), Oil: oil(5)}, emulsion.BadFigure, "water.0"},
		{"negative", emulsion.Input{Water: yolk(17), Oil: oil(-5)}, emulsion.BadFigure, "oil.0"},
		{"huge", emulsion.Input{Water: yolk(1e300), Oil: oil(5)}, emulsion.BadFigure, "water.0"},
		{"unknown", emulsion.Input{Water: []emulsion.Part{{Kind: "gold", Mass: 1}}, Oil: oil(5)}, emulsion.UnknownPart, "water.0"},
		{"shares over one", emulsion.Input{Water: []emulsion.Part{{Own: emulsion.Composition{Water: 0.9, Salt: 0.2}, Mass: 1}}, Oil: oil(5)}, emulsion.BadShare, "water.0"},
		{"pH upside down", emulsion.Input{Water: yolk(17), Oil: oil(50), PH: unit.Range{Low: 5, Typical: 4, High: 3}}, emulsion.BadPH, "ph"},
		{"infinite heat", emulsion.Input{Water: yolk(17), Oil: oil(50), Serve: &hot}, emulsion.BadFigure, "serve"},
	} {
		_, err := emulsion.Make(c.in)
		var r *note.Refusal
		require.ErrorAs(t, err, &r, c.name)
		assert.Equal(t, c.code, r.Code, c.name)
		assert.Equal(t, c.field, r.Field, c.name)
		says(t, text, r.Note)
	}
}

// The nearest workable way must work: the water that a refusal names brings it back.
func TestOilOverNamesTheWaterThatHelps(t *testing.T) {
	in := emulsion.Input{Water: []emulsion.Part{{Kind: "yolk", Mass: 3}}, Oil: []emulsion.Part{{Kind: "neutral-oil", Mass: 97}}}
	_, err := emulsion.Make(in)
	var r *note.Refusal
	require.ErrorAs(t, err, &r)
	water, ok := r.Arg("water")
	require.True(t, ok)
	in.Water = append(in.Water, emulsion.Part{Kind: "water", Mass: unit.Mass(water.Value)})
	a := mustMake(t, in)
	assert.InDelta(t, float64(emulsion.DensestPacking), float64(a.OilByVolume), 1e-9)
}

func TestRawEggAtNeutralPHIsDanger(t *testing.T) {
	in := kitchenCream()
	in.PH = unit.Exactly(7)
	a := mustMake(t, in)
	n := find(t, a.Notes, emulsion.RawEggPH)
	assert.Equal(t, note.Danger, n.Level)
	most, _ := n.Arg("most")
	assert.InDelta(t, 3.3, most.Value, 1e-9)
	assert.True(t, a.Siphon.Barred)
	for _, c := range a.EggRules {
		assert.Equal(t, emulsion.Not, c.PH, c.Rule.ID)
	}
	in.PH = unit.Range{}
	assert.Equal(t, note.Danger, codes(mustMake(t, in).Notes)[emulsion.PHUnknown])
	in.Vulnerable = true
	assert.Equal(t, note.Danger, codes(mustMake(t, in).Notes)[emulsion.RawEggGuests])
	for i := range in.Water {
		in.Water[i].Pasteurised = true
	}
	assert.False(t, mustMake(t, in).Siphon.Barred)
}

func find(t testing.TB, notes []note.Note, c note.Code) note.Note {
	for _, n := range notes {
		if n.Code == c {
			return n
		}
	}
	require.Fail(t, "no note", c)
	return note.Note{}
}

func TestSiphonDilution(t *testing.T) {
	a := mustMake(t, kitchenCream())
	assert.InDelta(t, 0.40, float64(a.Oil/a.Siphon.Total), 1e-9)
	assert.False(t, a.Siphon.Ready)
	lean := mustMake(t, emulsion.Input{Style: emulsion.DairyCream,
		Water: []emulsion.Part{{Kind: "milk", Mass: 100}}, Oil: []emulsion.Part{{Kind: "cream", Mass: 100}}})
	assert.True(t, lean.Siphon.Ready)
	assert.Zero(t, lean.Siphon.Add)
	assert.NotNil(t, lean.Creaming)
}

// A butter sauce without egg: leaks above 58 °C, separates when it cools below
// body temperature (McGee, On Food and Cooking, 2004); any amount of butter.
func TestButterSauce(t *testing.T) {
	at := func(c unit.Celsius) map[note.Code]note.Level {
		return codes(mustMake(t, emulsion.Input{Style: emulsion.ButterSauce, Serve: &c,
			Water: []emulsion.Part{{Mass: 40, Own: emulsion.Composition{Water: 0.95, Acetic: 0.01}}},
			Oil:   []emulsion.Part{{Kind: "butter", Mass: 400}}}).Notes)
	}
	assert.Contains(t, at(60), emulsion.TooHot)
	assert.Contains(t, at(30), emulsion.TooCold)
	ok := at(51)
	assert.NotContains(t, ok, emulsion.TooHot)
	assert.NotContains(t, ok, emulsion.TooCold)
	assert.Equal(t, note.Danger, ok[emulsion.HoldWarm])
	assert.NotContains(t, ok, emulsion.ShortCarrier)
}

// What a note says is more is more in the figures that it prints, and these are the
// ones that the answer gives; the same amount is not more.
func TestCarrierSaysMoreOfMore(t *testing.T) {
	for _, c := range []struct {
		lecithin, oil unit.Mass
		want          note.Code
	}{{4.5, 270, ""}, {4.5, 274, emulsion.ThinCarrier}, {4.575, 458, emulsion.ThinCarrier}, {4.575, 460, emulsion.ThinCarrier}, {4.575, 461, emulsion.ShortCarrier}} {
		a := mustMake(t, emulsion.Input{Water: []emulsion.Part{{Kind: "water", Mass: 300}, {Kind: "lecithin", Mass: c.lecithin}}, Oil: []emulsion.Part{{Kind: "neutral-oil", Mass: c.oil}}})
		got := codes(a.Notes)
		for _, code := range []note.Code{emulsion.ThinCarrier, emulsion.ShortCarrier} {
			_, said := got[code]
			assert.Equal(t, code == c.want, said, "%v %s", c.oil, code)
		}
		for _, n := range a.Notes {
			for _, x := range n.Args {
				if (n.Code == emulsion.ShortCarrier && x.Name == "most") || (n.Code == emulsion.ThinCarrier && x.Name == "typical") {
					assert.Greater(t, n.Args[0].Value, x.Value, "%v", c.oil)
				}
			}
		}
	}
}

// Droplet sizes are ranges from textbooks: no third digit of what follows from them.
func TestCreamingIsToldInTwoDigits(t *testing.T) {
	a := mustMake(t, emulsion.Input{Tool: emulsion.StickBlender, Water: []emulsion.Part{{Kind: "water", Mass: 300}, {Kind: "lecithin", Mass: 5}}, Oil: []emulsion.Part{{Kind: "neutral-oil", Mass: 200}}})
	require.Contains(t, codes(a.Notes), emulsion.Creams)
	for _, n := range a.Notes {
		for _, x := range n.Args {
			if n.Code == emulsion.Creams {
				text := strings.Trim(strings.ReplaceAll(strconv.FormatFloat(x.Value, 'f', -1, 64), ".", ""), "0")
				assert.LessOrEqual(t, len(text), 2, "%s %v", x.Name, x.Value)
			}
		}
	}
}

func TestVinaigretteMayDoWithoutEmulsifier(t *testing.T) {
	a := mustMake(t, emulsion.Input{Style: emulsion.Vinaigrette,
		Water: []emulsion.Part{{Kind: "vinegar", Mass: 50}}, Oil: []emulsion.Part{{Kind: "olive-oil", Mass: 50}}})
	assert.Contains(t, codes(a.Notes), emulsion.Temporary)
	require.NotNil(t, a.Creaming)
	assert.Equal(t, emulsion.Thin, a.Class)
}

// Xanthan 0.05 % was worst, from 0.15 % on it holds (Grizio 2011; PMC5241418).
func TestXanthan(t *testing.T) {
	with := func(x unit.Mass) map[note.Code]note.Level {
		return codes(mustMake(t, emulsion.Input{Style: emulsion.Vinaigrette,
			Water: []emulsion.Part{{Kind: "vinegar", Mass: 50}, {Kind: "xanthan", Mass: x}, {Kind: "mustard", Mass: 10}},
			Oil:   []emulsion.Part{{Kind: "olive-oil", Mass: 40}}}).Notes)
	}
	assert.Contains(t, with(0.05), emulsion.XanthanLow)
	assert.Contains(t, with(0.25), emulsion.XanthanHolds)
}

func randomInput(r *rand.Rand) emulsion.Input {
	in := emulsion.Input{Style: emulsion.Style(r.IntN(5)), Tool: emulsion.Tool(r.IntN(3)), Vulnerable: r.IntN(2) == 0}
	for range 1 + r.IntN(4) {
		k := emulsion.Ingredients[r.IntN(len(emulsion.Ingredients))].Kind
		in.Water = append(in.Water, emulsion.Part{Kind: k, Mass: unit.Mass(math.Exp(r.Float64()*10 - 2)), Pasteurised: r.IntN(2) == 0})
	}
	for range 1 + r.IntN(2) {
		k := []emulsion.Kind{"neutral-oil", "olive-oil", "butter", "almond-paste", "cream", "sesame-paste"}[r.IntN(6)]
		in.Oil = append(in.Oil, emulsion.Part{Kind: k, Mass: unit.Mass(math.Exp(r.Float64()*10 - 2))})
	}
	if r.IntN(3) > 0 {
		lo := r.Float64() * 7
		in.PH = unit.Range{Low: lo, Typical: lo + 0.2, High: lo + 0.5}
	}
	if r.IntN(3) == 0 {
		at := unit.Celsius(r.Float64() * 90)
		in.Serve = &at
	}
	return in
}

func TestProperties(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 1))
	text := sentences(t)
	made := 0
	for range 3000 {
		in := randomInput(r)
		a, err := emulsion.Make(in)
		if err != nil {
			var ref *note.Refusal
			require.ErrorAs(t, err, &ref)
			says(t, text, ref.Note)
			continue
		}
		made++
		for _, n := range a.Notes {
			says(t, text, n)
			if n.Level == note.Danger {
				require.NotEmpty(t, n.Source.Text, n.Code)
			}
		}
		total := 0.0
		for _, p := range append(in.Water, in.Oil...) {
			total += float64(p.Mass)
		}
		require.InEpsilon(t, total, float64(a.Total), 1e-9)
		require.InEpsilon(t, total, float64(a.Oil+a.Watery), 1e-9, "mass balance")
		require.True(t, a.Phi.Valid())
		checkSteps(t, in, a)
		checkScale(t, in, a, r)
	}
	require.Greater(t, made, 800)
}

// checkSteps adds what a step says and makes the emulsion again: it must stand at the limit.
func checkSteps(t *testing.T, in emulsion.Input, a emulsion.Answer) {
	oilMass := 0.0
	for _, p := range in.Oil {
		oilMass += float64(p.Mass)
	}
	for _, s := range a.Steps {
		again := emulsion.Input{Style: emulsion.Vinaigrette, Water: in.Water, Oil: in.Oil}
		switch {
		case s.Water > 1e-9 && s.Water < 1e6:
			again.Water = append(append([]emulsion.Part{}, in.Water...), emulsion.Part{Kind: "water", Mass: s.Water})
		case s.MoreOil > 1e-9 && float64(s.MoreOil)+oilMass < 1e5:
			again.Oil = append([]emulsion.Part{}, in.Oil...)
			for i := range again.Oil {
				again.Oil[i].Mass *= unit.Mass(1 + float64(s.MoreOil)/oilMass)
			}
		default:
			continue
		}
		b, err := emulsion.Make(again)
		if errors.Is(err, note.Refuse("", emulsion.OilOver)) {
			continue
		}
		require.NoError(t, err)
		require.InDelta(t, float64(s.Limit), float64(b.OilByVolume), 1e-6)
	}
}

func checkScale(t *testing.T, in emulsion.Input, a emulsion.Answer, r *rand.Rand) {
	want := emulsion.Want{Covers: 1 + 50*r.Float64(), Portion: unit.Mass(1 + 30*r.Float64()), Loss: unit.Fraction(r.Float64() * 0.3)}
	s, err := in.Scale(want)
	require.NoError(t, err)
	require.InEpsilon(t, want.Covers, s.Covers, 1e-9)
	b, err := emulsion.Make(emulsion.Input{Style: in.Style, Water: s.Water, Oil: s.Oil})
	require.NoError(t, err)
	require.InEpsilon(t, float64(a.OilByVolume), float64(b.OilByVolume), 1e-9, "scaling keeps the proportions")
}

func TestScaleRefuses(t *testing.T) {
	in := kitchenCream()
	nan := math.NaN()
	text := sentences(t)
	for _, c := range []struct {
		want emulsion.Want
		have []emulsion.Have
		code note.Code
	}{
		{emulsion.Want{}, nil, emulsion.NoTarget},
		{emulsion.Want{Covers: nan, Portion: 8}, nil, emulsion.BadFigure},
		{emulsion.Want{Covers: 4, Portion: -8}, nil, emulsion.BadFigure},
		{emulsion.Want{Covers: 4}, nil, emulsion.BadFigure},
		{emulsion.Want{Covers: 4, Portion: 8, Loss: 1}, nil, emulsion.BadFigure},
		{emulsion.Want{Covers: 1e6, Portion: 1e6}, nil, emulsion.BadFigure},
		{emulsion.Want{Covers: 4, Portion: 8}, []emulsion.Have{{Index: 9, Mass: 1}}, emulsion.NoSuchPart},
		{emulsion.Want{Covers: 4, Portion: 8}, []emulsion.Have{{Index: 1, Mass: 0}}, emulsion.BadFigure},
	} {
		_, err := in.Scale(c.want, c.have...)
		var r *note.Refusal
		require.ErrorAs(t, err, &r, "%+v", c)
		assert.Equal(t, c.code, r.Code)
		says(t, text, r.Note)
	}
}

func FuzzMake(f *testing.F) {
	f.Add(40.0, 30.0, 130.0, 0.8, 0.01, 4.0, 20.0, uint8(0), uint8(1))
	f.Add(0.0, math.Inf(1), math.NaN(), -1.0, 2.0, 15.0, -300.0, uint8(7), uint8(9))
	f.Fuzz(func(t *testing.T, water, yolk, oil, wet, fat, ph, serve float64, style, kind uint8) {
		at := unit.Celsius(serve)
		in := emulsion.Input{Style: emulsion.Style(style), Tool: emulsion.Tool(kind), Serve: &at, PH: unit.Range{Low: ph, Typical: ph, High: ph},
			Water: []emulsion.Part{
				{Mass: unit.Mass(water), Own: emulsion.Composition{Water: unit.Fraction(wet), Fat: unit.Fraction(fat)}},
				{Kind: emulsion.Ingredients[int(kind)%len(emulsion.Ingredients)].Kind, Mass: unit.Mass(yolk)}},
			Oil: []emulsion.Part{{Kind: "neutral-oil", Mass: unit.Mass(oil)}}}
		a, err := emulsion.Make(in)
		if err != nil {
			var r *note.Refusal
			if !errors.As(err, &r) {
				t.Fatal(err)
			}
			return
		}
		figures := []float64{float64(a.Total), float64(a.OilByMass), float64(a.OilByVolume), a.Place, a.Load, float64(a.SaltInWater),
			float64(a.AceticInWater), float64(a.Siphon.Add), float64(a.Siphon.Total), a.Phi.Low, a.Phi.High, float64(a.Rescue.Loosen), float64(a.Rescue.StartWith)}
		for _, s := range a.Steps {
			figures = append(figures, float64(s.MoreOil), float64(s.Water))
		}
		for _, n := range a.Notes {
			for _, g := range n.Args {
				figures = append(figures, g.Value)
			}
		}
		for i, x := range figures {
			if !unit.Finite(x) || x < 0 && i > 0 && i < 13 {
				t.Fatalf("figure %d is %v in %+v", i, x, a)
			}
		}
		if a.OilByVolume > 1 || a.Place > 1 || a.Place < 0 {
			t.Fatalf("%+v", a)
		}
	})
}

func ExampleMake() {
	a, err := emulsion.Make(emulsion.Input{
		Water: []emulsion.Part{{Kind: "yolk", Mass: 34, Pasteurised: true}, {Kind: "vinegar", Mass: 30}, {Kind: "salt", Mass: 3}},
		Oil:   []emulsion.Part{{Kind: "neutral-oil", Mass: 200}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %% oil by weight, %.1f %% by volume; %.0f g of water loosens it\n",
		a.OilByMass.Percent(), a.OilByVolume.Percent(), float64(a.Rescue.Loosen))
	// Output: 74.9 % oil by weight, 77.2 % by volume; 34 g of water loosens it
}

// A part that is like a row of the catalogue brings its own composition, and the
// row's emulsifier and egg.
func TestLike(t *testing.T) {
	in := kitchenCream()
	row, ok := emulsion.Find("yolk")
	require.True(t, ok)
	in.Water[1] = emulsion.Part{Name: "salted yolk", Mass: 30, Like: "yolk", Own: row.Composition}
	like, is := mustMake(t, in), mustMake(t, kitchenCream())
	assert.Equal(t, is.OilByVolume, like.OilByVolume)
	assert.Equal(t, is.Capacity, like.Capacity)
	assert.Equal(t, len(is.EggRules), len(like.EggRules))
	in.Water[1].Like = "no such row"
	_, err := emulsion.Make(in)
	assert.ErrorIs(t, err, note.Refuse("", emulsion.UnknownPart))
}

// A pH that was worked out lets no raw egg into a siphon; the sentence asks for a
// measured one.
func TestOnlyAMeasuredPHLetsRawEggIntoASiphon(t *testing.T) {
	in := emulsion.Input{PH: unit.Range{Low: 3.0, Typical: 3.1, High: 3.2},
		Water: []emulsion.Part{{Kind: "yolk", Mass: 20}, {Kind: "lemon-juice", Mass: 180}}, Oil: []emulsion.Part{{Kind: "neutral-oil", Mass: 100}}}
	a := mustMake(t, in)
	assert.True(t, a.Siphon.Barred)
	assert.Contains(t, codes(a.Notes), emulsion.RawEggMeasure)
	in.Measured = true
	a = mustMake(t, in)
	assert.False(t, a.Siphon.Barred)
	assert.True(t, a.Siphon.Ready)
	assert.Contains(t, codes(a.Notes), emulsion.RawEggWithin)
	in.PH.High = 3.35
	a = mustMake(t, in)
	assert.True(t, a.Siphon.Barred)
	assert.Contains(t, codes(a.Notes), emulsion.RawEggNear)
}
