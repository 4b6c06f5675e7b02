package liquid

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Sucrose: all rows of the table (Bubnik et al. 1995 polynomial; NBS Circular
// 440, 1942; ICUMSA refractive index).
func TestSucroseTable(t *testing.T) {
	rows := Table(t, "liquid-brix-density.csv")
	require.GreaterOrEqual(t, len(rows), 6)
	for _, row := range rows {
		brix := Number(t, row["brix_pct_mass_sucrose"])
		d, err := DensityOfBrix(brix, 20)
		require.NoError(t, err)
		assert.InDelta(t, Number(t, row["density_kg_m3_20C"]), float64(d)*1000, 0.0056, "density at %g", brix)
		sg := float64(d) / waterDensity(20)
		assert.InDelta(t, Number(t, row["true_sg_20_20"]), sg, 5.1e-6, "SG at %g", brix)
		if nbs := row["apparent_sg_20_20_NBS_C440"]; nbs != "" {
			const air = 0.0012
			apparent := (float64(d) - air) / (waterDensity(20) - air)
			assert.InDelta(t, Number(t, nbs), apparent, 1e-4, "NBS at %g: the two tables differ by 9e-5", brix)
		}
		n, err := IndexOfBrix(brix)
		require.NoError(t, err)
		assert.InDelta(t, Number(t, row["refractive_index_nD_20C"]), n, 1.1e-5, "nD at %g", brix)
		if rise := row["boiling_point_elevation_C"]; rise != "" {
			a := Amounts{Water: 100 - brix, Sucrose: brix}
			assert.InDelta(t, 100+Number(t, rise), a.boiling(), 0.21, "boiling at %g", brix)
		}
		back, err := BrixOfDensity(d)
		require.NoError(t, err)
		assert.InDelta(t, brix, back, 1e-6)
	}
}

// Ethanol: all rows of the table (OIML R 22, 1975).
func TestEthanolTable(t *testing.T) {
	rows := Table(t, "liquid-ethanol-density.csv")
	require.GreaterOrEqual(t, len(rows), 6)
	for _, row := range rows {
		abv := Number(t, row["abv_pct_20C"]) / 100
		byMass, err := MassOfABV(unit.Fraction(abv))
		require.NoError(t, err)
		assert.InDelta(t, Number(t, row["ethanol_mass_pct"]), byMass.Percent(), 5.5e-5, "%g %% vol", abv*100)
		d, err := DensityOfAlcohol(byMass, 20)
		require.NoError(t, err)
		assert.InDelta(t, Number(t, row["density_kg_m3_20C"]), float64(d)*1000, 0.0051)
		back, err := ABVOfMass(byMass)
		require.NoError(t, err)
		assert.InDelta(t, abv, float64(back), 1e-9)
	}
}

// Away from 20 °C: water 999.97 at 4 and 992.2 kg/m³ at 40 °C, ethanol 785.0 at
// 25 °C (CRC Handbook, from memory); and the formula's water against the other
// formula's water, which come from different tables.
func TestDensityAgainstTemperature(t *testing.T) {
	assert.InDelta(t, 0.99997, waterDensity(4), 2e-5)
	assert.InDelta(t, 0.9922, waterDensity(40), 1e-4)
	assert.InDelta(t, 0.7850, ethanolDensity(1, 25), 2e-4)
	for _, x := range []unit.Celsius{0, 10, 30, 40} {
		assert.InDelta(t, waterDensity(x), ethanolDensity(0, x), 3e-5, "water at %g", float64(x))
	}
	warm, err := DensityOfBrix(50, 60)
	require.NoError(t, err)
	cold, err := DensityOfBrix(50, 20)
	require.NoError(t, err)
	// ICUMSA: a 50 % solution loses about 20 kg/m³ from 20 to 60 °C (from memory).
	assert.InDelta(t, 0.020, float64(cold-warm), 0.003)
}

// Brine: all rows of the table at 20 °C, and the mixture model on the same rows.
func TestBrineTable(t *testing.T) {
	for _, row := range Table(t, "liquid-brine-density.csv") {
		w := Number(t, row["nacl_mass_pct"])
		want := Number(t, row["density_kg_m3_20C"])
		d, err := DensityOfBrine(w)
		require.NoError(t, err)
		assert.InDelta(t, want, float64(d)*1000, 0.051)
		a := Amounts{Water: 100 - w, Ash: w, Sodium: w / SaltPerSodium}
		assert.InDelta(t, want, a.density(20)*1000, 0.3, "as a mixture, %g %%", w)
	}
}

// A mixture of water with one solute meets that solute's own table exactly, and
// the simple rule of constant specific volumes (water 1.0018, sugars 0.618,
// ethanol 1.169 ml/g) where several meet, within 0.4 %.
func TestMixedDensity(t *testing.T) {
	syrup := Amounts{Water: 50, Sucrose: 50}
	assert.InDelta(t, sucroseDensity(0.5, 20), syrup.density(20), 1e-12)
	spirit := Amounts{Water: 66.7, Ethanol: 33.3}
	assert.InDelta(t, ethanolDensity(0.333, 20), spirit.density(20), 1e-12)
	liqueur := Amounts{Water: 50, Sucrose: 25, Ethanol: 25}
	plain := 100 / (50*1.0018 + 25*0.618 + 25*1.169)
	assert.InDelta(t, plain, liqueur.density(20), 0.012*plain)
	milk, _ := ByID("whole-milk")
	assert.InDelta(t, 1.031, float64(milk.DensityAt(20)), 0.003, "milk is 1.028 to 1.034 (common practice, no source)")
}

func TestDensityRefuses(t *testing.T) {
	nan := math.NaN()
	for name, err := range map[string]error{
		"brix NaN":  second(DensityOfBrix(nan, 20)),
		"brix 76":   second(DensityOfBrix(76, 20)),
		"brix -1":   second(DensityOfBrix(-1, 20)),
		"hot":       second(DensityOfBrix(10, 200)),
		"light":     second(BrixOfDensity(0.9)),
		"heavy":     second(BrixOfDensity(1.6)),
		"abv 1.1":   second(MassOfABV(1.1)),
		"abv NaN":   second(MassOfABV(unit.Fraction(nan))),
		"abw":       second(ABVOfMass(-0.1)),
		"frozen":    second(DensityOfAlcohol(0.1, -30)),
		"brine":     second(DensityOfBrine(27)),
		"index":     second(BrixOfIndex(1.2)),
		"index NaN": second(BrixOfIndex(nan)),
		"reading":   second(CorrectReading(90, 20)),
		"pressure":  second(WaterBoils(1e3)),
	} {
		var r *note.Refusal
		require.True(t, errors.As(err, &r), name)
		_, low := r.Arg("low")
		assert.True(t, low, "%s tells no limit", name)
	}
}

func second[T any](_ T, err error) error { return err }

// The boiling point of ethanol and water: 12 % vol near 91-93, 40 % vol near 84
// °C; water at 1500 m (84.5 kPa) 95 °C (common practice, no source).
func TestBoiling(t *testing.T) {
	wine := Amounts{Water: 90.36, Ethanol: 9.64}
	assert.InDelta(t, 92, wine.boiling(), 1.2)
	spirit := Amounts{Water: 66.7, Ethanol: 33.3}
	assert.InDelta(t, 84, spirit.boiling(), 0.5)
	at, err := WaterBoils(84500)
	require.NoError(t, err)
	assert.InDelta(t, 95, float64(at), 0.3)
	sea, err := WaterBoils(unit.Atmosphere)
	require.NoError(t, err)
	assert.InDelta(t, 100, float64(sea), 1e-9)
	brine := Amounts{Water: 80, Ash: 20, Sodium: 20 / SaltPerSodium}
	assert.Greater(t, brine.boiling(), 103.0)
}

// Units of hardness: 1 mmol/l = 100.1 mg/l CaCO3 = 5.61 °dH = 10.0 °fH = 7.02 °e =
// 5.84 gpg = 40.08 mg/l calcium; classes of the US Geological Survey.
func TestHardness(t *testing.T) {
	for u, want := range map[HardnessUnit]float64{MgCaCO3: 100.1, GermanDegree: 5.61, FrenchDegree: 10.0, EnglishDegree: 7.02, GrainPerUSGal: 5.84, MgCalcium: 40.08} {
		assert.InDelta(t, want, Hardness(1).In(u), 0.002*want)
		h, err := HardnessOf(want, u)
		require.NoError(t, err)
		assert.InDelta(t, 1, float64(h), 0.002)
	}
	for mgl, want := range map[float64]HardnessClass{30: Soft, 90: ModeratelyHard, 150: Hard, 250: VeryHard} {
		h, err := HardnessOf(mgl, MgCaCO3)
		require.NoError(t, err)
		assert.Equal(t, want, h.Class())
		assert.True(t, h.Class().Source().Valid())
	}
	assert.Error(t, second(HardnessOf(-1, GermanDegree)))
	assert.Error(t, second(HardnessOf(math.Inf(1), MgCaCO3)))
	assert.Error(t, second(HardnessOf(1, numHardnessUnits)))
	water, err := TapWater(Hardness(2), -1)
	require.NoError(t, err)
	require.NoError(t, water.Check())
	l, err := Run([]Step{Add(water, 1000)})
	require.NoError(t, err)
	s := l.State(25)
	assert.InDelta(t, 1.5, s.Of(PropCalcium).Typical, 0.02, "three quarters of 2 mmol/l")
	assert.True(t, s.Of(PropPH).Contains(7.5))
}
