package foam

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// randomFill is any filling that has room for gas.
func randomFill(rng *rand.Rand) Fill {
	all := Catalogue()
	s := all[rng.IntN(len(all))]
	if rng.IntN(2) == 0 {
		s.Brim = unit.Exactly(s.Brim.Typical * (0.95 + 0.1*rng.Float64()))
	}
	water := 0.3 + 0.6*rng.Float64()
	rest := 1 - water
	fat := rest * rng.Float64() * 0.8
	b := Base{
		Temperature: unit.Celsius(75 * rng.Float64()), Water: unit.Exactly(water), Density: unit.Density(0.95 + 0.2*rng.Float64()),
		Sugar: unit.Fraction((rest - fat) * rng.Float64() * 0.5), Salt: unit.Fraction((rest - fat) * 0.1 * rng.Float64()),
	}
	if rng.IntN(2) == 0 {
		b.MilkFat = unit.Fraction(fat)
	} else {
		b.Oil = unit.Fraction(fat)
	}
	most := 0.95 * s.Brim.Low * float64(b.Density)
	return Fill{Siphon: s, Base: b, Mass: unit.Mass(most * rng.Float64()), Charges: rng.IntN(6)}
}

func TestMassIsConserved(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 3000 {
		f := randomFill(rng)
		st, err := Settle(f)
		require.NoError(t, err)
		in := float64(f.Charges) * 0.95 * 8.0 / 1000 / molarMass
		assert.InDelta(t, in, st.Moles, 1e-12)
		assert.InDelta(t, in, st.HeadMoles+st.BaseMoles+st.LiquidMoles, 1e-9*max(in, 1e-3), "%+v", f)
		assert.True(t, st.Gauge.Valid(), "%+v", st.Gauge)
	}
}

// What left with the base plus what is left is what was charged: the gas that
// goes out is summed here from the states, apart from the code's own balance.
func TestMassIsConservedWhileEmptying(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 2))
	for range 100 {
		f := randomFill(rng)
		if f.Charges == 0 || f.Mass < 20 {
			continue
		}
		in := f.typical()
		s := f.system(in, f.Base.Temperature)
		n := in.moles(f.Charges)
		var c []float64
		last := 0.0
		const steps = 200
		s.drain(n, steps, func(_, left float64, now *system) {
			p, excess := now.settle(left)
			c = append(c, now.perKg(p, now.airPressure()))
			assert.InDelta(t, left, now.inHead(p)+now.mass*c[len(c)-1]+excess, 1e-9*n)
			last = left
		})
		out := 0.0 // Simpson's rule over the gas in what came out
		for i := 0; i+2 < len(c); i += 2 {
			out += (c[i] + 4*c[i+1] + c[i+2]) / 3 * s.mass / steps
		}
		if p, excess := s.settle(n); excess == 0 && p < s.top {
			assert.InDelta(t, n, out+last, 2e-7*n, "%+v", f)
		}
	}
}

func TestPressureMovesTheRightWay(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	gauge := func(f Fill) float64 {
		st, err := Settle(f)
		require.NoError(t, err)
		return st.Gauge.Typical
	}
	for range 500 {
		f := randomFill(rng)
		f.Charges = 1 + f.Charges%2
		f.Base.Temperature = min(f.Base.Temperature, 65)
		f.Siphon.Brim = unit.Exactly(f.Siphon.Brim.Typical)
		if st, _ := Settle(f); st.LiquidMoles > 0 {
			continue
		}
		p := gauge(f)
		more := f
		more.Charges++
		assert.Greater(t, gauge(more)+1e-6, p, "a further charge")
		larger := f
		larger.Siphon.Brim = unit.Exactly(f.Siphon.Brim.Typical * 1.05)
		assert.Less(t, gauge(larger), p, "a larger body")
		warm, err := Warm(f, f.Base.Temperature+5)
		require.NoError(t, err)
		if f.Base.MilkFat < 0.05 { // milk fat that melts on warming takes up more gas than the water lets go
			assert.Greater(t, warm.Gauge.Typical, p, "warming")
		}
		drawn, err := Empty(f, 5)
		require.NoError(t, err)
		for i := 1; i < len(drawn); i++ {
			assert.LessOrEqual(t, float64(drawn[i].Gauge), float64(drawn[i-1].Gauge)+1e-6, "dispensing")
			assert.LessOrEqual(t, drawn[i].Left, drawn[i-1].Left)
			assert.LessOrEqual(t, drawn[i].Bound, drawn[i-1].Bound+1e-9)
		}
	}
}

// The sensitivities of the cold half-litre body with 0.5 kg and one charge,
// derived independently: brim ±5 %, charge 7.7/8.3 g, η 0.90, w 0.8.
func TestSensitivities(t *testing.T) {
	f := Fill{Siphon: sized(500), Base: Base{Temperature: 5, Density: 1, Water: unit.Exactly(1)}, Mass: 500, Charges: 1}
	at := func(i int, v float64) float64 {
		in := f.typical()
		in.transfer = 1
		base := f.system(in, 5)
		p0, _ := base.settle(in.moles(1))
		in.set(i, v)
		s := f.system(in, 5)
		p, _ := s.settle(in.moles(1))
		return 100 * (p/p0 - 1)
	}
	for _, c := range []struct {
		input    int
		v, wants float64
	}{{0, 670 * 1.05, -4.8}, {0, 670 * 0.95, 5.4}, {2, 7.7, -3.9}, {2, 8.3, 3.9}, {3, 0.90, -10.2}, {1, 0.8, 18}} {
		assert.InDelta(t, c.wants, at(c.input, c.v), 0.3, "%+v", c)
	}
	st, err := Settle(f)
	require.NoError(t, err)
	assert.InDelta(t, 5.665e5, st.Gauge.Typical, 600, "η 0.95, the table's E14")
	assert.InDelta(t, 0.13, 1-st.Gauge.Low/st.Gauge.Typical, 0.03, "squares of 10 % brim, 5 % η, 4 % charge")
	f.Siphon.Brim = unit.Exactly(670)
	measured, err := Settle(f)
	require.NoError(t, err)
	assert.Less(t, measured.Gauge.High-measured.Gauge.Low, 0.65*(st.Gauge.High-st.Gauge.Low), "a measured brim narrows the range")
}

// Size chart for four fifths of the line, water-like, shaken, none lost (derived
// independently): bar g at 5, 20 and 60 °C.
func TestSizeChart(t *testing.T) {
	for _, c := range []struct {
		body    unit.Volume
		mass    unit.Mass
		charges int
		at      unit.Celsius
		want    float64
	}{
		{500, 400, 1, 5, 5.98}, {500, 400, 1, 20, 8.13}, {500, 400, 1, 60, 12.4}, {500, 400, 2, 5, 12.1}, {500, 400, 2, 20, 16.3}, {500, 400, 2, 60, 24.4},
		{1000, 800, 1, 5, 3.06}, {1000, 800, 1, 20, 4.22}, {1000, 800, 1, 60, 6.58}, {1000, 800, 2, 5, 6.17}, {1000, 800, 2, 20, 8.46}, {1000, 800, 2, 60, 13.1}, {1000, 800, 3, 5, 9.3},
	} {
		f := Fill{
			Siphon: sized(c.body), Base: Base{Temperature: c.at, Density: 1, Water: unit.Exactly(1)}, Mass: c.mass, Charges: c.charges,
			Charger: Charger{Gas: unit.Exactly(8), Transfer: unit.Exactly(1)},
		}
		st, err := Settle(f)
		require.NoError(t, err)
		assert.InDelta(t, c.want, st.Gauge.Typical/1e5, 0.006*c.want+0.05, fmt.Sprintf("%+v", c))
	}
}

// The same table of pressures before shaking through the front door: two charges
// at once 34.4 bar, one 20.8, in a half-litre body with 0.5 kg at 5 °C; shaken in
// between, the second stays far below.
func TestAllAtOnce(t *testing.T) {
	f := Fill{
		Siphon: sized(500), Base: Base{Temperature: 5, Density: 1, Water: unit.Exactly(1)}, Mass: 500, Charges: 2,
		Charger: Charger{Gas: unit.Exactly(8), Transfer: unit.Exactly(1)},
	}
	two, err := AllAtOnce(f)
	require.NoError(t, err)
	assert.InDelta(t, 34.4, two.Typical/1e5, 0.1)
	rungs, err := Ladder(f, 5)
	require.NoError(t, err)
	assert.InDelta(t, 20.8, rungs[0].Before.Typical/1e5, 0.1)
	assert.Less(t, rungs[1].Before.Typical, 0.8*two.Typical)
	_, err = AllAtOnce(Fill{})
	assert.Error(t, err)
}

// A body charged beyond reason: N2O would be liquid, nothing breaks, and the
// state says so.
func TestLiquidGas(t *testing.T) {
	f := Fill{Siphon: sized(250), Base: Base{Temperature: 5, Water: unit.Exactly(0.9)}, Mass: 250, Charges: 10}
	st, err := Settle(f)
	require.NoError(t, err)
	assert.Positive(t, st.LiquidMoles)
	assert.InDelta(t, 35.42e5, float64(st.Partial), 1e4, "the pressure over the liquid at 5 °C")
	assert.True(t, hasCode(st.Notes, CodeGasLiquid))
}

func TestRefusalsOfAFill(t *testing.T) {
	good := Fill{Siphon: sized(500), Base: Base{Temperature: 5, Water: unit.Exactly(0.9)}, Mass: 400, Charges: 1}
	_, err := Settle(good)
	require.NoError(t, err)
	for name, c := range map[string]struct {
		change func(*Fill)
		code   note.Code
	}{
		"overfull":       {func(f *Fill) { f.Mass = 640 }, CodeNoHeadspace},
		"NaN mass":       {func(f *Fill) { f.Mass = unit.Mass(math.NaN()) }, CodeNotFigure},
		"negative mass":  {func(f *Fill) { f.Mass = -1 }, CodeOutside},
		"charges":        {func(f *Fill) { f.Charges = -1 }, CodeOutside},
		"many charges":   {func(f *Fill) { f.Charges = 1000 }, CodeOutside},
		"90 degrees":     {func(f *Fill) { f.Base.Temperature = 90 }, CodeFarTooHot},
		"brim under all": {func(f *Fill) { f.Siphon.Brim = unit.Exactly(100) }, CodeOutside},
		"NaN brim":       {func(f *Fill) { f.Siphon.Brim.High = math.NaN() }, CodeNotFigure},
		"line over brim": {func(f *Fill) { f.Siphon.Line = 690 }, CodeOutside},
		"charger":        {func(f *Fill) { f.Charger = Charger{Gas: unit.Exactly(-8), Transfer: unit.Exactly(1)} }, CodeOutside},
		"density":        {func(f *Fill) { f.Base.Density = unit.Density(math.Inf(1)) }, CodeNotFigure},
	} {
		f := good
		c.change(&f)
		_, err := Settle(f)
		var r *note.Refusal
		require.ErrorAs(t, err, &r, name)
		assert.Equal(t, c.code, r.Code, name)
	}
	_, err = Warm(good, 95)
	assert.Error(t, err)
	_, err = Empty(good, 0)
	assert.Error(t, err)
}

func FuzzSettleNeverBreaks(f *testing.F) {
	f.Add(5.0, 500.0, 0.9, 0.05, 670.0, 8.0, 2)
	f.Add(75.0, 0.0, 0.0, 1.0, 1300.0, 1e-9, 20)
	f.Add(math.NaN(), math.Inf(1), -1.0, 2.0, 0.0, -1.0, -5)
	f.Fuzz(func(t *testing.T, temp, mass, water, fat, brim, gas float64, charges int) {
		s := sized(500)
		s.Brim = unit.Exactly(brim)
		x := Fill{
			Siphon: s, Base: Base{Temperature: unit.Celsius(temp), Water: unit.Exactly(water), MilkFat: unit.Fraction(fat)}, Mass: unit.Mass(mass), Charges: charges,
			Charger: Charger{Gas: unit.Exactly(gas), Transfer: unit.Exactly(0.95)},
		}
		st, err := Settle(x)
		if err != nil {
			var r *note.Refusal
			require.ErrorAs(t, err, &r)
			return
		}
		require.True(t, st.Gauge.Valid(), "%+v", st)
		require.InDelta(t, st.Moles, st.HeadMoles+st.BaseMoles+st.LiquidMoles, 1e-9*max(st.Moles, 1e-6))
		drawn, err := Empty(x, 3)
		require.NoError(t, err)
		for _, d := range drawn {
			require.True(t, unit.Finite(float64(d.Gauge)) && unit.Finite(d.Bound) && d.Moles >= 0)
		}
		_, err = Ladder(x, x.Base.Temperature)
		require.NoError(t, err)
		p, err := PictureOf(x)
		require.NoError(t, err)
		require.True(t, p.FullScale > 0 && p.Before.Valid())
	})
}

func FuzzMakeNeverBreaks(f *testing.F) {
	f.Add(uint8(1), 5.0, 38, 40.0, 0.1, 0.0, 0, uint8(1), 0.0, 0.9, 0.05, 0.0)
	f.Add(uint8(6), 65.0, 5000, 0.6, 1.0, 20.0, 3, uint8(9), 500.0, 0.2, 0.8, 0.03)
	f.Add(uint8(250), math.NaN(), -3, math.Inf(1), -1.0, 1e9, 99, uint8(255), -1.0, 2.0, -2.0, 9.0)
	f.Fuzz(func(t *testing.T, kind uint8, temp float64, covers int, size, spare, bar float64, charges int, bits uint8, base, water, fat, fibre float64) {
		r := Request{
			Formula: Formula{Type: types[int(kind)%len(types)].ID, Base: Base{Temperature: unit.Celsius(temp), Water: unit.Exactly(water), MilkFat: unit.Fraction(fat), Fibre: unit.Fraction(fibre)}},
			Covers:  covers, Portion: Portion{Kind: PortionKind(bits % 3), Size: size}, Spare: unit.Fraction(spare), Base: unit.Mass(base),
			Shelf: shelf(int(bits&3), int(bits>>2&3), int(bits>>4&3)), Charges: charges, Basis: Basis(bits >> 6 & 1),
		}
		for i := range r.Shelf {
			r.Shelf[i].WorkingPressure = unit.Pressure(bar * 1e5)
		}
		p, err := Make(r)
		if err != nil {
			var u *Unworkable
			require.ErrorAs(t, err, &u)
			return
		}
		require.True(t, unit.Finite(float64(p.Base)) && p.Portions.Valid() && p.Foam.Valid(), "%+v", p)
		require.True(t, hasLevel(p.Notes, note.Danger))
		for _, f := range p.Fillings {
			require.True(t, f.Before.Valid() && f.After.Valid())
		}
	})
}
