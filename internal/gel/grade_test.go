package gel

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// TestBloomLaws: 6 of 250 bloom is 6.708 of 200 by the square-root law (GMIA,
// Gelatin Handbook, 2012, from memory; arithmetic derived). The proportional law
// is the one of Lersch (ed.), Texture, release note of version 2.1, 2008.
func TestBloomLaws(t *testing.T) {
	cases := []struct {
		mass, from, to, root, proportional float64
	}{
		{6, 250, 200, 6.708, 7.5}, {10, 250, 160, 12.50, 15.63},
		{1, 200, 80, 1.581, 2.500}, {1, 200, 125, 1.265, 1.600}, {1, 200, 160, 1.118, 1.250}, {1, 200, 250, 0.894, 0.800}, {1, 200, 300, 0.816, 0.667},
		{50, 200, 160, 55.90, 62.5}, // the proportional figure stands on a pastry page (tertiary)
	}
	for _, c := range cases {
		r, err := SquareRootLaw(unit.Mass(c.mass), c.from, c.to)
		require.NoError(t, err)
		assert.InDelta(t, c.root, float64(r), 0.0051)
		p, err := ProportionalLaw(unit.Mass(c.mass), c.from, c.to)
		require.NoError(t, err)
		assert.InDelta(t, c.proportional, float64(p), 0.0051)
		typ, err := Regrade("gelatin", unit.Mass(c.mass), c.from, c.to)
		require.NoError(t, err)
		assert.InDelta(t, float64(r), typ.Mass.Typical, 1e-9, "weighed gelatin goes by the square root")
		assert.True(t, typ.Mass.Valid())
	}
}

// TestPectinTable reproduces the jelly-grade table to ± 0.003 g
// (testdata/pectin_jelly_grades.csv, source in its head).
func TestPectinTable(t *testing.T) {
	rows := table(t, "pectin_jelly_grades.csv")
	require.Len(t, rows, 11)
	for _, row := range rows {
		got, err := JellyPectin(figure(t, row["grade"]), 250)
		require.NoError(t, err)
		assert.InDelta(t, figure(t, row["grams"]), float64(got), 0.003, row["grade"])
	}
	// 250 g sugar at 65 % solids is 384.6 g of jelly: a standard one holds 0.433 % of 150 grade.
	got, _ := JellyPectin(150, 250)
	assert.InDelta(t, 0.00433, float64(got)/(250/float64(SAGSolids)), 0.00001)
}

// TestSAGArithmetic checks the sag formula (from memory) at its anchor and at
// figures derived from it.
func TestSAGArithmetic(t *testing.T) {
	for sag, want := range map[float64]float64{19: 178.7, 20: 172.3, 22: 159.6, 23.5: 150.0, 25: 140.4, 27: 127.7} {
		got, err := SAGGrade(150, sag)
		require.NoError(t, err)
		assert.InDelta(t, want, got, 0.05, sag)
	}
	for _, bad := range []float64{0, 18.9, 28.1, -1, math.NaN(), math.Inf(1)} {
		_, err := SAGGrade(150, bad)
		assert.ErrorIs(t, err, note.Refuse("", CodeSagRange))
	}
}

// TestAgarByStrength: 900 to 700 g/cm² is × 1.15 (exponent 1.8, from memory).
func TestAgarByStrength(t *testing.T) {
	got, err := Regrade("agar", 10, 900, 700)
	require.NoError(t, err)
	assert.InDelta(t, 11.5, got.Mass.Typical, 0.01)
	assert.True(t, got.Mass.Contains(11.34), "exponent two lies in the range")
	pectin, err := Regrade("pectin-hm", 2, 150, 100)
	require.NoError(t, err)
	assert.Equal(t, unit.Exactly(3), pectin.Mass)
}

// TestAgarStrengthExponent: 0.5 to 1.5 % agar carries 82 to 535 g/cm² (Shauli &
// Salomon, Phycology 5 (2025) 6, abstract), an exponent of 1.71.
func TestAgarStrengthExponent(t *testing.T) {
	m := math.Log(535.0/82) / math.Log(1.5/0.5)
	assert.InDelta(t, 1.71, m, 0.01)
	assert.True(t, agent.ByID("agar").Grade.Power.Range().Contains(1/m))
}

// TestBloomModulus: 48.26 Pa for each gram of Bloom, an upper bound (punch
// mechanics, derived).
func TestBloomModulus(t *testing.T) {
	for bloom, want := range map[float64]float64{1: 48.26, 200: 9652, 250: 12065} {
		got, err := BloomModulus(bloom)
		require.NoError(t, err)
		assert.InEpsilon(t, want, got.High, 0.0002)
		assert.InDelta(t, got.High/2, got.Low, 1e-6)
	}
	assert.InDelta(t, 6.667, BloomGelFraction.Percent(), 0.001)
}

// TestSheets: sheet to sheet keeps the count, and sheets into grams spread from
// one law to the other.
func TestSheets(t *testing.T) {
	n, notes, err := SheetsToSheets(Sheets{Count: 4, Grade: "silver"}, "gold")
	require.NoError(t, err)
	assert.Equal(t, 4.0, n)
	assert.Contains(t, codes(notes), CodeSheetSame)
	heavy, _, err := SheetsToSheets(Sheets{Count: 2, Grade: "gold", Grams: 5}, "gold")
	require.NoError(t, err)
	assert.InDelta(t, 5, heavy, 1e-9, "a 5 g gold sheet does the work of two and a half")

	got, err := SheetsToGrams(Sheets{Count: 3, Grade: "platinum"}, 200)
	require.NoError(t, err)
	assert.InDelta(t, 3*1.7*math.Sqrt(250.0/200), got.Mass.Typical, 1e-9)
	assert.InDelta(t, 3*1.7*250/200, got.Mass.High, 1e-9)
	assert.Contains(t, codes(got.Notes), CodeSheetLaws)
	assert.Contains(t, codes(got.Notes), CodeSheetMass)

	back, err := GramsToSheets(unit.Mass(got.Mass.Typical), 200, Sheets{Grade: "platinum"})
	require.NoError(t, err)
	assert.InDelta(t, 3, back.Mass.Typical, 1e-9)
	assert.True(t, back.Mass.Valid())

	for _, g := range agent.SheetGrades { // mass × bloom is near constant, mass × √bloom is not (derived)
		if g.Key != "titanium" {
			assert.InDelta(t, 430, g.Grams.Typical*g.Bloom.Typical, 35, g.Key)
		}
	}
}

func TestGradeRefusals(t *testing.T) {
	cases := []struct {
		name string
		run  func() error
		code note.Code
	}{
		{"no such sheet", func() error { _, err := SheetsToGrams(Sheets{Count: 1, Grade: "tin"}, 200); return err }, CodeSheetGrade},
		{"no such target", func() error { _, _, err := SheetsToSheets(Sheets{Count: 1, Grade: "gold"}, "tin"); return err }, CodeSheetGrade},
		{"no sheets", func() error { _, err := SheetsToGrams(Sheets{Grade: "gold"}, 200); return err }, CodeNotPositive},
		{"negative sheet", func() error { _, err := SheetsToGrams(Sheets{Count: 1, Grade: "gold", Grams: -1}, 200); return err }, CodeNotPositive},
		{"bloom 5", func() error { _, err := SquareRootLaw(1, 5, 200); return err }, CodeGradeRange},
		{"bloom 0", func() error { _, err := SquareRootLaw(1, 0, 200); return err }, CodeNotPositive},
		{"NaN mass", func() error { _, err := ProportionalLaw(unit.Mass(math.NaN()), 200, 250); return err }, CodeNotPositive},
		{"graded xanthan", func() error { _, err := Regrade("xanthan", 1, 100, 200); return err }, CodeGradeNone},
		{"unknown", func() error { _, err := Regrade("gelatine-x", 1, 100, 200); return err }, CodeUnknownNear3},
		{"SAG 3", func() error { _, err := JellyPectin(3, 250); return err }, CodeSAGRange},
		{"no sugar", func() error { _, err := JellyPectin(150, 0); return err }, CodeNotPositive},
		{"no bloom", func() error { _, err := BloomModulus(-2); return err }, CodeNotPositive},
	}
	for _, c := range cases {
		assert.ErrorIs(t, c.run(), note.Refuse("", c.code), c.name)
	}
}

// TestRegradeRoundTrip: there and back is the same mass, for any grades.
func TestRegradeRoundTrip(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		m, a, b := 0.01+100*r.Float64(), 60+280*r.Float64(), 60+280*r.Float64()
		there, err := Regrade("gelatin", unit.Mass(m), a, b)
		require.NoError(t, err)
		back, err := Regrade("gelatin", unit.Mass(there.Mass.Typical), b, a)
		require.NoError(t, err)
		assert.InEpsilon(t, m, back.Mass.Typical, 1e-12)
		assert.Equal(t, a > b, there.Mass.Typical > m, "a weaker grade needs more")
	}
}

func ExampleSquareRootLaw() {
	m, _ := SquareRootLaw(6, 250, 200)
	fmt.Printf("%.3f g\n", m)
	// Output: 6.708 g
}
