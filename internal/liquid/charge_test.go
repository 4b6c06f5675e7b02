package liquid

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/unit"
)

// standards build the solutions of liquid-ph-checks.csv, mol per kg of water.
var standards = map[string]func(m float64) Solution{
	"acetic acid":          acidAlone(AceticAcid),
	"citric acid":          acidAlone(CitricAcid),
	"tartaric acid":        acidAlone(TartaricAcid),
	"lactic acid":          acidAlone(LacticAcid),
	"phosphoric acid":      acidAlone(PhosphoricAcid),
	"ascorbic acid":        acidAlone(AscorbicAcid),
	"oxalic acid":          acidAlone(OxalicAcid),
	"vinegar model":        acidAlone(AceticAcid),
	"K hydrogen phthalate": saltOf(PhthalicAcid, 1, 1),
	"phosphate":            saltOf(PhosphoricAcid, 2, 3),
	"K hydrogen tartrate":  saltOf(TartaricAcid, 1, 1),
	"K dihydrogen citrate": saltOf(CitricAcid, 1, 1),
	"acetate":              saltOf(AceticAcid, 2, 1),
	"citric + salt":        withSalt(CitricAcid, 0.2),
}

func acidAlone(a Acid) func(float64) Solution { return saltOf(a, 1, 0) }

// saltOf is an acid at times × m with alkali × m strong base.
func saltOf(a Acid, times, alkali float64) func(float64) Solution {
	return func(m float64) Solution {
		s := Solution{T: 25, SID: alkali * m, Alkali: alkali * m}
		s.Acid[a] = times * m
		return s
	}
}

func withSalt(a Acid, salt float64) func(float64) Solution {
	return func(m float64) Solution {
		s := Solution{T: 25, Alkali: salt}
		s.Acid[a] = m
		return s
	}
}

// firstNumber is the first figure in a text such as "saturated at 25 C, 0.0341 mol/kg".
func firstNumber(s string) float64 {
	for _, w := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == ',' || r == '(' }) {
		if x, err := strconv.ParseFloat(w, 64); err == nil && x < 10 {
			return x
		}
	}
	return math.NaN()
}

// The acids, and the primary pH standards with their published values (Hamer,
// Pinching & Acree 1946; J. Res. NBS 73A, 1969; see the file), within 0.02.
func TestPHStandards(t *testing.T) {
	published := 0
	for _, row := range Table(t, "liquid-ph-checks.csv") {
		name := row["solution"]
		build, ok := standards[name]
		require.True(t, ok, name)
		m := firstNumber(row["composition"])
		s := build(m)
		e, ok := s.Solve()
		require.True(t, ok)
		assert.InDelta(t, Number(t, row["pH_own_charge_balance"]), e.PH, 0.0016, "%s %g: another solver with the same model", name, m)
		assert.InDelta(t, Number(t, row["pH_PHREEQC3_same_constants"]), e.PH, 0.02, "%s %g: PHREEQC 3", name, m)
		if row["published_25C"] != "" {
			published++
			assert.InDelta(t, firstNumber(row["published_25C"]), e.PH, 0.02, "%s: published", name)
		}
	}
	assert.GreaterOrEqual(t, published, 5)
}

// Every pKa lies in its table's range, at its table's value where we follow it.
func TestPKaTable(t *testing.T) {
	names := map[string]Acid{
		"acetic": AceticAcid, "lactic": LacticAcid, "citric (anhydrous)": CitricAcid, "malic": MalicAcid,
		"tartaric (L)": TartaricAcid, "ascorbic": AscorbicAcid, "oxalic (anhydrous)": OxalicAcid, "phosphoric": PhosphoricAcid,
		"carbonic (CO2(aq)+H2CO3)": CarbonicAcid, "succinic": SuccinicAcid, "benzoic": BenzoicAcid, "sulfurous (SO2(aq))": SulfurousAcid,
		"phthalic": PhthalicAcid, "ammonium": Ammonium, "gluconic": GluconicAcid, "galacturonic (monomer)": GalacturonicAcid,
		"glutamic": GlutamicAcid, "protein carboxyl (Asp, Glu)": Carboxyl, "protein imidazole (His)": Imidazole,
	}
	seen := map[Acid]int{}
	for _, row := range Table(t, "liquid-pka.csv") {
		a, ok := names[row["acid"]]
		if !ok {
			continue
		}
		step := int(Number(t, row["step"])) - 1
		seen[a]++
		got := acids[a].pKa[step]
		assert.GreaterOrEqual(t, got, Number(t, row["low"]), row["acid"])
		assert.LessOrEqual(t, got, Number(t, row["high"]), row["acid"])
		if a != OxalicAcid {
			assert.InDelta(t, Number(t, row["pKa_25C_I0"]), got, 1e-9, row["acid"])
		}
		if row["dH_dissociation_kJ_mol"] != "" {
			assert.InDelta(t, Number(t, row["dH_dissociation_kJ_mol"]), acids[a].heat[step], 0.011, row["acid"])
			slope := (shiftPK(0, acids[a].heat[step], 26) - shiftPK(0, acids[a].heat[step], 24)) / 2
			assert.InDelta(t, Number(t, row["dpKa_dT_per_K"]), slope, 5e-5, row["acid"])
		}
	}
	for name, a := range names {
		assert.Equal(t, len(acids[a].pKa), seen[a], name)
	}
}

// Temperature: pKw 14.73 at 5 and 13.02 at 60 °C, Debye-Hückel slope 0.494 and
// 0.545 (from memory of the CRC Handbook).
func TestTemperatureOfConstants(t *testing.T) {
	assert.InDelta(t, 14.73, pKw(5), 0.015)
	assert.InDelta(t, 13.995, pKw(25), 1e-9)
	assert.InDelta(t, 13.02, pKw(60), 0.015)
	assert.InDelta(t, 0.494, daviesA(5), 0.001)
	assert.InDelta(t, 0.545, daviesA(60), 0.001)
	water := Solution{T: 60}
	e, ok := water.Solve()
	require.True(t, ok)
	assert.InDelta(t, pKw(60)/2, e.PH, 1e-4, "pure water is neutral at any temperature")
}

// SIDAt and Solve are inverse to each other, for every acid and any strength.
func TestSIDAtIsInverse(t *testing.T) {
	for a := range NumAcids {
		for _, m := range []float64{1e-4, 0.01, 0.5, 3} {
			for pH := 1.5; pH < 11; pH += 0.5 {
				s := Solution{T: 25, Alkali: 0.05}
				s.Acid[a] = m
				s.SID = s.SIDAt(pH)
				e, ok := s.Solve()
				require.True(t, ok, "acid %d m %g pH %g", a, m, pH)
				assert.InDelta(t, pH, e.PH, 2e-4, "acid %d m %g", a, m)
			}
		}
	}
}

func TestIonicCapIsTold(t *testing.T) {
	s := Solution{T: 25, Alkali: 3}
	s.Acid[AceticAcid] = 0.1
	e, ok := s.Solve()
	require.True(t, ok)
	assert.True(t, e.Capped)
	assert.InDelta(t, 3, e.Ionic, 0.01)
}

// Calcium and citrate: apparent log K 3.55 at pH 7 and ionic strength 0.1, about
// 4 kg/mol at pH 3 (MINTEQA2 version 4 constants, computed independently).
func TestCalciumBinding(t *testing.T) {
	assert.InDelta(t, 3.55, math.Log10(bindingOf(7, 0.1).citrate), 0.05)
	assert.InDelta(t, 4, bindingOf(3, 0.1).citrate, 2)
}

func FuzzSolve(f *testing.F) {
	f.Add(0.1, 0.0, 0.5, 25.0, 3.0)
	f.Add(5.0, -2.0, 1e-9, 0.0, 13.0)
	f.Add(1e-12, 20.0, 30.0, 100.0, 0.5)
	f.Fuzz(func(t *testing.T, acid, sid, protein, temp, pH float64) {
		for _, x := range []float64{acid, sid, protein, temp, pH} {
			if !unit.Finite(x) || math.Abs(x) > 100 {
				t.Skip()
			}
		}
		s := Solution{T: unit.Celsius(math.Abs(temp)), SID: sid, Alkali: math.Abs(sid)}
		s.Acid[CitricAcid], s.Acid[PhosphoricAcid], s.Acid[Carboxyl], s.Acid[Imidazole] = math.Abs(acid), math.Abs(acid)/3, math.Abs(protein), math.Abs(protein)
		if e, ok := s.Solve(); ok && (!unit.Finite(e.PH) || !unit.Finite(e.Ionic) || e.PH < lowestPH || e.PH > highestPH) {
			t.Fatalf("%+v from %+v", e, s)
		}
		if x := s.SIDAt(min(14, math.Abs(pH))); !unit.Finite(x) {
			t.Fatalf("SID %v", x)
		}
	})
}
