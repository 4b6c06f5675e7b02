package gel_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

func g(x float64) unit.Amount       { return unit.Grams(x) }
func ml(x float64) unit.Amount      { return unit.Amount{Value: x, Unit: unit.Millilitre} }
func percent(x float64) unit.Amount { return unit.Amount{Value: x, Unit: unit.PercentOf} }
func sheets(x float64) unit.Amount  { return unit.Amount{Value: x, Unit: unit.Sheet} }

func forLiquid(a unit.Amount) formula.Make { return formula.Make{Mode: formula.ForLiquid, Liquid: a} }

func twoAgents() formula.Formula {
	return formula.Formula{
		Parts: []formula.Part{{Name: "liquid", Amount: g(200)}},
		Doses: []formula.Dose{{Agent: "agar", Amount: g(2)}, {Agent: "gellan-la", Amount: g(1)}},
	}
}

// 1 % and 0.5 % on the liquid: common practice, no source; the rest is arithmetic.
func TestConvertToTheLiquidInThePan(t *testing.T) {
	f := twoAgents()
	f.Make = forLiquid(g(350))
	b, err := gel.Convert(f, gel.Shelf{})
	require.NoError(t, err)
	assert.InDelta(t, 3.5, float64(b.Doses[0].Mass), 1e-12)
	assert.InDelta(t, 1.75, float64(b.Doses[1].Mass), 1e-12)
	assert.InDelta(t, 0.01, float64(b.Doses[0].OnLiquid), 1e-15)
	assert.InDelta(t, 0.005, float64(b.Doses[1].OnLiquid), 1e-15)
	assert.InDelta(t, 3.5/355.25, float64(b.Doses[0].OnBatch), 1e-15)
	assert.InDelta(t, 355.25, float64(b.Total), 1e-12)
	assert.True(t, b.MassKnown)
}

// 4 g in 400 g is 1.000 % on the liquid and 0.990 % of the mix; 5.6 g is
// 1.400 % and 1.381 % (arithmetic).
func TestTheTwoBasesDiffer(t *testing.T) {
	for dose, want := range map[float64][2]float64{4: {1.000, 0.990}, 5.6: {1.400, 1.381}} {
		f := formula.Formula{Parts: []formula.Part{{Amount: g(400)}}, Doses: []formula.Dose{{Amount: g(dose)}}, Make: forLiquid(g(400))}
		b, err := gel.Convert(f, gel.Shelf{})
		require.NoError(t, err)
		assert.InDelta(t, want[0], b.Doses[0].OnLiquid.Percent(), 5e-4)
		assert.InDelta(t, want[1], b.Doses[0].OnBatch.Percent(), 5e-4)
	}
}

func TestShareOfTheBatchStaysAShareOfTheBatch(t *testing.T) {
	f := formula.Formula{
		Doses: []formula.Dose{
			{Amount: percent(2), Basis: formula.OnBatch},
			{Amount: percent(1), Basis: formula.OnLiquid},
			{Amount: unit.Amount{Value: 5, Unit: unit.GramPerKg}, Basis: formula.OnBatch},
		},
		Make: forLiquid(g(1000)),
	}
	b, err := gel.Convert(f, gel.Shelf{})
	require.NoError(t, err)
	assert.InDelta(t, 0.02, float64(b.Doses[0].OnBatch), 1e-15)
	assert.InDelta(t, 0.01, float64(b.Doses[1].OnLiquid), 1e-15)
	assert.InDelta(t, 0.005, float64(b.Doses[2].OnBatch), 1e-15)
	assert.InDelta(t, 1000*1.01/0.975, float64(b.Total), 1e-9)
}

// By hand: 40 × 6 g with 10 % spare is 264 g; before the bottle (5 %)
// 264/0.95 = 277.8947 g; before the blender (8 %) 277.8947/0.92 = 302.0595 g;
// before 12 g boiled off 314.0595 g in the pan. At 1.5 % of agents on the
// liquid that is 314.0595/1.015 = 309.4182 g of liquid.
func TestBackwardYield(t *testing.T) {
	f := twoAgents()
	f.Make = formula.Make{
		Mode: formula.ForPortions, Portions: 40, Portion: g(6), Spare: 0.10,
		Losses: formula.Losses{Boil: formula.Boil{Amount: g(12)}, Blender: percent(8), Bottle: percent(5)},
	}
	b, err := gel.Convert(f, gel.Shelf{})
	require.NoError(t, err)
	assert.InDelta(t, 314.0595, float64(b.Total), 5e-5)
	assert.InDelta(t, 309.4182, float64(b.Liquid), 5e-5)
	assert.InDelta(t, 3.094182, float64(b.Doses[0].Mass), 5e-7)
	assert.InDelta(t, 302.0595, float64(b.AfterBoil), 5e-5)
	assert.InDelta(t, 264, float64(b.Yield), 1e-9)
	assert.InDelta(t, 40, b.Portions, 1e-12)
	require.Len(t, b.Losses, 3)
	assert.Equal(t, "boil", b.Losses[0].Step)
	assert.InDelta(t, 24.1648, float64(b.Losses[1].Mass), 5e-5)
	assert.InDelta(t, 13.8947, float64(b.Losses[2].Mass), 5e-5)
}

func TestBoilByTime(t *testing.T) {
	f := twoAgents()
	f.Make = forLiquid(g(1000))
	f.Make.Losses.Boil = formula.Boil{Minutes: 5, Rate: 20}
	b, err := gel.Convert(f, gel.Shelf{})
	require.NoError(t, err)
	assert.InDelta(t, 915, float64(b.AfterBoil), 1e-9)
	require.Len(t, b.Notes, 1)
	assert.Equal(t, gel.Concentrates, b.Notes[0].Code)
	assert.InDelta(t, 10.0/915, float64(b.Doses[0].AfterBoil), 1e-12)
}

func TestLimitingIngredient(t *testing.T) {
	f := twoAgents()
	f.Make = formula.Make{Mode: formula.ForLeft, LeftOf: formula.Ref{Index: 0}, Left: g(1.4)}
	b, err := gel.Convert(f, gel.Shelf{})
	require.NoError(t, err)
	assert.InDelta(t, 140, float64(b.Liquid), 1e-9)
	assert.InDelta(t, 0.7, float64(b.Doses[1].Mass), 1e-12)

	f.Parts = append(f.Parts, formula.Part{Name: "sugar", Amount: g(50)})
	f.Make = formula.Make{Mode: formula.ForLeft, LeftOf: formula.Ref{Part: true, Index: 1}, Left: g(20)}
	b, err = gel.Convert(f, gel.Shelf{})
	require.NoError(t, err)
	assert.InDelta(t, 80, float64(b.Parts[0]), 1e-9)
	assert.InDelta(t, 100, float64(b.Liquid), 1e-9)
	assert.InDelta(t, 0.8, float64(b.Doses[0].Mass), 1e-12)
}

func TestVolumesNeedADensityOnlyWhenTheyMeetWeights(t *testing.T) {
	f := formula.Formula{Parts: []formula.Part{{Amount: ml(350)}}, Doses: []formula.Dose{{Amount: g(3.5)}}, Make: forLiquid(ml(500))}
	b, err := gel.Convert(f, gel.Shelf{})
	require.NoError(t, err)
	assert.InDelta(t, 5, float64(b.Doses[0].Mass), 1e-12)
	assert.False(t, b.MassKnown)
	assert.Zero(t, b.Total)

	f.Make = forLiquid(g(500))
	_, err = gel.Convert(f, gel.Shelf{})
	assertRefused(t, err, gel.NeedDensity, "liquid-density")

	f.Density = 1.05
	b, err = gel.Convert(f, gel.Shelf{})
	require.NoError(t, err)
	assert.InDelta(t, 3.5*500/(350*1.05), float64(b.Doses[0].Mass), 1e-12)
	assert.InDelta(t, 500/1.05, float64(b.Volume), 1e-9)

	f.Doses[0].Amount = unit.Amount{Value: 10, Unit: unit.GramPerL}
	b, err = gel.Convert(f, gel.Shelf{})
	require.NoError(t, err)
	assert.InDelta(t, 10*0.5/1.05, float64(b.Doses[0].Mass), 1e-12)
}

func TestSheetsAreCountedUntilTheirWeightIsKnown(t *testing.T) {
	f := formula.Formula{Parts: []formula.Part{{Amount: g(250)}}, Doses: []formula.Dose{{Agent: "gelatin", Amount: sheets(3)}}, Make: forLiquid(g(500))}
	b, err := gel.Convert(f, gel.Shelf{})
	require.NoError(t, err)
	assert.InDelta(t, 6, b.Doses[0].Sheets, 1e-12)
	assert.False(t, b.Doses[0].MassKnown)
	require.Len(t, b.Notes, 1)
	assert.Equal(t, gel.UsualSheet, b.Notes[0].Code)
	assert.InDelta(t, 512, float64(b.Total), 1e-9, "the sums count a sheet of the commonest grade")
	silver, err := gel.Convert(f, gel.Shelf{SheetGrade: "silver"})
	require.NoError(t, err)
	assert.InDelta(t, 515, float64(silver.Total), 1e-9, "or of the kitchen's own")

	b, err = gel.Convert(f, gel.Shelf{SheetMass: 2})
	require.NoError(t, err)
	assert.InDelta(t, 12, float64(b.Doses[0].Mass), 1e-12)
	assert.InDelta(t, 6, b.Doses[0].Sheets, 1e-12)

	f.Make = formula.Make{Mode: formula.ForPortions, Portions: 10, Portion: g(30)}
	blind, err := gel.Convert(f, gel.Shelf{})
	require.NoError(t, err)
	known, err := gel.Convert(f, gel.Shelf{SheetMass: 2})
	require.NoError(t, err)
	assert.Equal(t, known.Liquid, blind.Liquid, "as much liquid, whether the usual weight was typed or not")
	assert.InDelta(t, 300, float64(blind.Yield), 1e-9)

	f.Doses[0].Amount = g(6)
	f.Make = formula.Make{Mode: formula.ForLeft, LeftOf: formula.Ref{}, Left: sheets(3)}
	left, err := gel.Convert(f, gel.Shelf{})
	require.NoError(t, err)
	assert.InDelta(t, 250, float64(left.Liquid), 1e-9, "three sheets for six grams")
	assert.Equal(t, gel.UsualSheet, left.Notes[0].Code)
}

func assertRefused(t *testing.T, err error, code note.Code, field string) {
	t.Helper()
	var r *note.Refusal
	require.ErrorAs(t, err, &r)
	assert.Equal(t, code, r.Code)
	assert.Equal(t, field, r.Field)
}

func TestConvertRefuses(t *testing.T) {
	base := twoAgents()
	base.Make = forLiquid(g(350))
	for name, c := range map[string]struct {
		change func(*formula.Formula)
		code   note.Code
		field  string
	}{
		"nothing to make":        {func(f *formula.Formula) { f.Make = formula.Make{} }, gel.NoTarget, "batch-liquid"},
		"zero liquid":            {func(f *formula.Formula) { f.Make = forLiquid(g(0)) }, gel.NoTarget, "batch-liquid"},
		"a thousand tonnes":      {func(f *formula.Formula) { f.Make = forLiquid(unit.Amount{Value: 1e6, Unit: unit.Kilogram}) }, gel.TooLarge, "batch-liquid"},
		"grams without a liquid": {func(f *formula.Formula) { f.Parts = nil }, gel.NoLiquid, "part-1-amount"},
		"dose over 100 %":        {func(f *formula.Formula) { f.Doses[1].Amount = percent(120) }, gel.TooMuchAgent, "dose-2-amount"},
		"more agent than liquid": {func(f *formula.Formula) { f.Doses[0].Amount = g(201) }, gel.TooMuchAgent, "dose-1-amount"},
		"batch of nothing but agents": {func(f *formula.Formula) {
			f.Doses = []formula.Dose{{Amount: percent(60), Basis: formula.OnBatch}, {Amount: percent(40), Basis: formula.OnBatch}}
		}, gel.AllAgent, "dose-1-amount"},
		"agent in millilitres": {func(f *formula.Formula) { f.Doses[0].Amount = ml(3) }, gel.WrongKind, "dose-1-amount"},
		"sieve keeps all":      {func(f *formula.Formula) { f.Make.Losses.Sieve = percent(100) }, gel.NothingLeft, "loss-sieve"},
		"sieve keeps all, backward": {func(f *formula.Formula) {
			f.Make = formula.Make{Mode: formula.ForPortions, Portions: 4, Portion: g(5), Losses: formula.Losses{Sieve: percent(100)}}
		}, gel.LossOver, "loss-sieve"},
		"boils dry":       {func(f *formula.Formula) { f.Make.Losses.Boil.Amount = g(352) }, gel.BoilsAway, "loss-boil"},
		"bottle too big":  {func(f *formula.Formula) { f.Make.Losses.Bottle = g(400) }, gel.NothingLeft, "loss-bottle"},
		"no portion size": {func(f *formula.Formula) { f.Make = formula.Make{Mode: formula.ForPortions, Portions: 4} }, gel.NoTarget, "portion-size"},
		"portions in ml without density": {func(f *formula.Formula) {
			f.Make = formula.Make{Mode: formula.ForPortions, Portions: 4, Portion: ml(20)}
		}, gel.NeedDensity, "liquid-density"},
		"left of nothing": {func(f *formula.Formula) {
			f.Make = formula.Make{Mode: formula.ForLeft, LeftOf: formula.Ref{Index: 9}, Left: g(1)}
		}, gel.NoIngredient, "left-of"},
	} {
		t.Run(name, func(t *testing.T) {
			f := base
			f.Doses = append([]formula.Dose(nil), base.Doses...)
			c.change(&f)
			_, err := gel.Convert(f, gel.Shelf{})
			assertRefused(t, err, c.code, c.field)
		})
	}
}

// randomFormula makes a sound formula with weights, shares on both bases and losses.
func randomFormula(r *rand.Rand) formula.Formula {
	f := formula.Formula{Density: unit.Density(0.9 + 0.5*r.Float64())}
	for range 1 + r.IntN(3) {
		f.Parts = append(f.Parts, formula.Part{Amount: [2]unit.Amount{g(1 + 500*r.Float64()), ml(1 + 500*r.Float64())}[r.IntN(2)]})
	}
	for range 1 + r.IntN(3) {
		f.Doses = append(f.Doses, [4]formula.Dose{
			{Amount: g(0.01 + r.Float64()/4)},
			{Amount: percent(0.01 + 3*r.Float64()), Basis: formula.OnLiquid},
			{Amount: percent(0.01 + 3*r.Float64()), Basis: formula.OnBatch},
			{Amount: unit.Amount{Value: 20 * r.Float64(), Unit: unit.GramPerL}},
		}[r.IntN(4)])
	}
	f.Make.Losses = formula.Losses{
		Boil:    formula.Boil{Amount: [2]unit.Amount{g(10 * r.Float64()), percent(30 * r.Float64())}[r.IntN(2)]},
		Blender: percent(20 * r.Float64()), Sieve: g(5 * r.Float64()), Bottle: percent(20 * r.Float64()),
	}
	return f
}

func TestScalingThereAndBackIsIdentity(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		f := randomFormula(r)
		f.Make.Mode, f.Make.Liquid = formula.ForLiquid, g(50+3000*r.Float64())
		b, err := gel.Convert(f, gel.Shelf{})
		require.NoError(t, err)

		back := formula.Formula{Density: f.Density}
		for _, p := range b.Parts {
			back.Parts = append(back.Parts, formula.Part{Amount: g(float64(p))})
		}
		for _, d := range b.Doses {
			back.Doses = append(back.Doses, formula.Dose{Amount: g(float64(d.Mass))})
		}
		base := 0.0
		for _, p := range f.Parts {
			base += map[bool]float64{true: p.Amount.Base(), false: p.Amount.Base() * float64(f.Density)}[p.Amount.Kind() == unit.KindMass]
		}
		back.Make = forLiquid(g(base))
		a, err := gel.Convert(back, gel.Shelf{})
		require.NoError(t, err)
		f.Make.Liquid, f.Make.Losses = g(base), formula.Losses{}
		first, err := gel.Convert(f, gel.Shelf{})
		require.NoError(t, err)
		for i := range a.Doses {
			assert.InEpsilon(t, float64(first.Doses[i].Mass), float64(a.Doses[i].Mass), 1e-9)
			assert.InEpsilon(t, float64(first.Doses[i].OnLiquid), float64(b.Doses[i].OnLiquid), 1e-9, "doses do not change with scale")
		}
	}
}

func TestYieldOfBackwardIsTheYieldAskedFor(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		f := randomFormula(r)
		f.Make.Mode, f.Make.Portions, f.Make.Portion, f.Make.Spare = formula.ForPortions, float64(1+r.IntN(300)), g(1+80*r.Float64()), unit.Fraction(r.Float64()/2)
		b, err := gel.Convert(f, gel.Shelf{})
		require.NoError(t, err)
		want := f.Make.Portions * f.Make.Portion.Base() * (1 + float64(f.Make.Spare))
		assert.InEpsilon(t, want, float64(b.Yield), 1e-9)
		assert.InEpsilon(t, f.Make.Portions, b.Portions, 1e-9)

		forward := f
		forward.Make.Mode, forward.Make.Liquid = formula.ForLiquid, g(float64(b.Liquid))
		again, err := gel.Convert(forward, gel.Shelf{})
		require.NoError(t, err)
		assert.InEpsilon(t, float64(b.Yield), float64(again.Yield), 1e-9)
		sum := float64(again.Yield)
		for _, l := range again.Losses {
			sum += float64(l.Mass)
		}
		assert.InEpsilon(t, float64(again.Total), sum, 1e-9, "what goes in comes out or is lost")
	}
}

func FuzzConvert(f *testing.F) {
	f.Add(200.0, 2.0, uint8(0), 350.0, 8.0, 12.0, 1.0)
	f.Add(0.0, math.Inf(1), uint8(3), math.NaN(), 100.0, -1.0, 0.0)
	units := []unit.Symbol{unit.Gram, unit.Millilitre, unit.PercentOf, unit.Sheet, unit.GramPerL, unit.Kilogram, ""}
	f.Fuzz(func(t *testing.T, base, dose float64, u uint8, target, loss, boil, density float64) {
		a := func(x float64, k uint8) unit.Amount { return unit.Amount{Value: x, Unit: units[int(u/k)%len(units)]} }
		fm := formula.Formula{
			Parts:   []formula.Part{{Amount: a(base, 1)}},
			Doses:   []formula.Dose{{Amount: a(dose, 3), Basis: formula.OnBatch}, {Amount: percent(1), Basis: formula.OnLiquid}},
			Density: unit.Density(density),
			Make: formula.Make{Mode: []formula.Mode{formula.ForLiquid, formula.ForPortions, formula.ForLeft}[u%3], Liquid: a(target, 7), Portions: target,
				Portion: g(loss), Left: a(target, 5), Losses: formula.Losses{Sieve: a(loss, 2), Boil: formula.Boil{Amount: a(boil, 4)}}},
		}
		b, err := gel.Convert(fm, gel.Shelf{SheetMass: 2})
		if err != nil {
			return
		}
		for _, x := range []float64{float64(b.Total), float64(b.Yield), float64(b.Doses[0].Mass), float64(b.Doses[1].OnBatch), b.Portions} {
			if !unit.Finite(x) || x < 0 {
				t.Fatalf("%+v gave %+v", fm, b)
			}
		}
	})
}

func BenchmarkConvert(b *testing.B) {
	f := twoAgents()
	f.Make = formula.Make{Mode: formula.ForPortions, Portions: 40, Portion: g(6), Spare: 0.1, Losses: formula.Losses{Boil: formula.Boil{Amount: g(12)}, Blender: percent(8), Bottle: percent(5)}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := gel.Convert(f, gel.Shelf{}); err != nil {
			b.Fatal(err)
		}
	}
}
