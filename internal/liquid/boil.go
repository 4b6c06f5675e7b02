package liquid

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// sucroseRise is the boiling point elevation in K by % of sucrose in sucrose
// plus water: Browne (1912) on a web table; 85 % interpolated there.
var sucroseRise = [...][2]float64{
	{0, 0}, {2, 0.1}, {10, 0.4}, {20, 0.6}, {30, 1.0}, {40, 1.5}, {50, 2.0}, {60, 3.0}, {70, 6.5}, {80, 12.0}, {85, 17.8}, {90, 27.8}, {100, 60},
}

// ethanolBoils is the bubble point in °C at one atmosphere by mass fraction of
// ethanol in ethanol plus water (Carey & Lewis 1932, from memory).
var ethanolBoils = [...][2]float64{
	{0, 100}, {0.047, 95.5}, {0.166, 89.0}, {0.215, 86.7}, {0.265, 85.3}, {0.337, 84.1}, {0.438, 82.7}, {0.474, 82.3},
	{0.554, 81.5}, {0.627, 80.7}, {0.725, 79.8}, {0.774, 79.3}, {0.842, 78.7}, {0.956, 78.15}, {1, 78.37},
}

// ebullioscopic is the boiling rise of water, K kg/mol.
const ebullioscopic = 0.512

// boiling is the boiling point at one atmosphere, °C; meaningless without water
// and ethanol, where it stays at that of water.
func (a *Amounts) boiling() float64 {
	solvent := a[Water] + a[Ethanol]
	if solvent < 1e-6 {
		return 100
	}
	t := interpolate(ethanolBoils[:], a[Ethanol]/solvent)
	sugars := a.Sugars() + a[OtherCarb]
	t += interpolate(sucroseRise[:], 100*sugars/(sugars+solvent))
	// Glucose and fructose are half the size of sucrose: they raise it twice.
	mono := (a[Glucose] + a[Fructose]) / 180.16 * 0.474
	salts := 2*a[Sodium]/molarSodium + 2*a[Potassium]/molarPotassium
	t += ebullioscopic * min(12, 1000/solvent*(mono+salts))
	return t
}

// WaterBoils is the boiling point of water in °C at an air pressure of 50 to
// 110 kPa, by Antoine's equation (constants from memory: 8.07131, 1730.63,
// 233.426 for mmHg), set to 100 °C at one atmosphere.
func WaterBoils(p unit.Pressure) (unit.Celsius, error) {
	if x := float64(p); !unit.Finite(x) || x < 5e4 || x > 1.1e5 {
		return 0, note.Refuse("pressure", CodeRange, note.Num("value", finiteOr0(x), unit.Pascal), note.Num("low", 5e4, unit.Pascal), note.Num("high", 1.1e5, unit.Pascal))
	}
	antoine := func(p float64) float64 { return 1730.63/(8.07131-math.Log10(p/133.322)) - 233.426 }
	return unit.Celsius(100 + antoine(float64(p)) - antoine(float64(unit.Atmosphere))), nil
}
