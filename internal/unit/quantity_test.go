package unit_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/unit"
)

func TestScanAmount(t *testing.T) {
	for _, c := range []struct {
		in   string
		want unit.Amount
		rest string
	}{
		{"1,5 g agar", unit.Amount{Value: 1.5, Unit: unit.Gram}, "agar"},
		{"350 ml apple juice", unit.Amount{Value: 350, Unit: unit.Millilitre}, "apple juice"},
		{"0.6% gellan", unit.Amount{Value: 0.6, Unit: unit.PercentOf}, "gellan"},
		{"0.6%gellan", unit.Amount{Value: 0.6, Unit: unit.PercentOf}, "gellan"},
		{"2 garlic cloves", unit.Amount{Value: 2}, "garlic cloves"},
		{"8 fl oz cream", unit.Amount{Value: 8, Unit: unit.FluidOunce}, "cream"},
		{"2 g/kg xanthan", unit.Amount{Value: 2, Unit: unit.GramPerKg}, "xanthan"},
		{"4 leaves gelatin", unit.Amount{Value: 4, Unit: unit.Sheet}, "gelatin"},
		{"1 500 g stock", unit.Amount{Value: 1500, Unit: unit.Gram}, "stock"},
		{"3G", unit.Amount{Value: 3, Unit: unit.Gram}, ""},
		{"1 l. milk", unit.Amount{Value: 1, Unit: unit.Litre}, "milk"},
		{"½ l milk", unit.Amount{Value: 0.5, Unit: unit.Litre}, "milk"},
	} {
		got, rest, err := unit.ScanAmount(c.in)
		require.NoError(t, err, c.in)
		assert.Equal(t, c.want, got, c.in)
		assert.Equal(t, c.rest, rest, c.in)
	}
}

// Exact by definition: the international yard and pound agreement (1959) and
// the US customary gallon of 231 cubic inches (NIST Handbook 44, Appendix C).
func TestDefinedUnits(t *testing.T) {
	assert.Equal(t, 28.349523125, unit.Amount{Value: 1, Unit: unit.Ounce}.Base())
	assert.Equal(t, 453.59237, unit.Amount{Value: 1, Unit: unit.Pound}.Base())
	assert.InDelta(t, 231*2.54*2.54*2.54/128, unit.Amount{Value: 1, Unit: unit.FluidOunce}.Base(), 1e-9)
	assert.InDelta(t, 16, unit.Pound.ToBase(1)/unit.Ounce.ToBase(1), 1e-12)
	assert.InDelta(t, 212, unit.Celsius(100).Fahrenheit(), 1e-12)
	assert.InDelta(t, -40, float64(unit.FromFahrenheit(-40)), 1e-12)
	assert.InDelta(t, 298.15, unit.Celsius(25).Kelvin(), 1e-12)
}

func TestParseAmountRefusesUnknownUnits(t *testing.T) {
	_, err := unit.ParseAmount("5 furlongs", unit.Gram)
	assert.ErrorIs(t, err, unit.ErrUnit)
	a, err := unit.ParseAmount("5", unit.Gram)
	require.NoError(t, err)
	assert.Equal(t, unit.Grams(5), a)
}

func TestStyle(t *testing.T) {
	point, comma := unit.Style{}, unit.Style{Comma: true}
	assert.Equal(t, "3.5", point.Decimals(3.5, 2))
	assert.Equal(t, "3,5", comma.Decimals(3.5, 2))
	assert.Equal(t, "100", point.Decimals(100, 0))
	assert.Equal(t, "0", point.Decimals(-0.001, 1))
	assert.Equal(t, "\u22122.5", point.Decimals(-2.5, 1))
	assert.Equal(t, "3.50", point.Fixed(3.5, 2))
	assert.Equal(t, "–", point.Decimals(math.NaN(), 2))
	assert.Equal(t, "0.0123", point.Significant(0.012345, 3))
	assert.Equal(t, "12300", point.Significant(12345, 3))
	for step, d := range map[float64]int{1: 0, 2: 0, 5: 0, 0.5: 1, 0.1: 1, 0.05: 2, 0.01: 2, 0.001: 3} {
		assert.Equal(t, d, unit.StepDecimals(step), "%v", step)
	}
}

func FuzzScanAmount(f *testing.F) {
	for _, s := range []string{"1,5 g agar", "½ l", "2 g/kg", "İ g", "5 ‰"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, rest, err := unit.ScanAmount(s)
		if err != nil {
			return
		}
		if !unit.Finite(a.Value) || len(rest) > len(s) || (a.Unit != "" && a.Kind() == unit.KindNone) {
			t.Fatalf("%q: %+v %q", s, a, rest)
		}
	})
}

func TestDigits(t *testing.T) {
	for _, c := range []struct {
		x      float64
		digits int
		want   float64
	}{{0, 2, 0}, {4.8024, 2, 4.8}, {0.3618, 2, 0.36}, {1234, 2, 1200}, {-0.0999, 1, -0.1}, {996, 2, 1000}} {
		assert.InDelta(t, c.want, unit.Digits(c.x, c.digits), 1e-12)
	}
	assert.True(t, math.IsNaN(unit.Digits(math.NaN(), 2)))
}
