package liquid

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// The general formula of OIML R 22 (1975) for the density of ethanol and water,
// -20 to 40 °C: A by powers of the mass fraction, B by powers of (t-20), C by
// both.
var (
	oimlA = [...]float64{
		998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388,
		306287.4042, -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426,
	}
	oimlB = [...]float64{-2.0618513e-1, -5.2682542e-3, 3.6130013e-5, -3.8957702e-7, 7.1693540e-9, -9.9739231e-11}
	oimlC = [...][]float64{
		{1.693443461530087e-1, -1.046914743455169e1, 7.196353469546523e1, -7.047478054272792e2, 3.924090430035045e3,
			-1.210164659068747e4, 2.248646550400788e4, -2.605562982188164e4, 1.852373922069467e4, -7.420201433430137e3, 1.285617841998974e3},
		{-1.193013005057010e-2, 2.517399633803461e-1, -2.170575700536993, 1.353034988843029e1, -5.029988758547014e1,
			1.096355666577570e2, -1.422753946421155e2, 1.080435942856230e2, -4.414153236817392e1, 7.442971530188783},
		{-6.802995733503803e-4, 1.876837790289664e-2, -2.002561813734156e-1, 1.022992966719220, -2.895696483903638,
			4.810060584300675, -4.672147440794683, 2.458043105903461, -5.411227621436812e-1},
		{4.075376675622027e-6, -8.763058573471110e-6, 6.515031360099368e-6, -1.515784836987210e-6},
		{-2.788074354782409e-8, 1.345612883493354e-8},
	}
)

// pureEthanol is the density of ethanol at 20 °C in g/ml by the formula, which
// defines % vol (printed as 789.24 kg/m³).
const pureEthanol = 0.7892391233

// ethanolDensity is the density of ethanol in water, g/ml, by mass fraction.
// Beyond 40 °C the formula's slope there is kept.
func ethanolDensity(p float64, t unit.Celsius) float64 {
	if t > 40 {
		at, before := ethanolDensity(p, 40), ethanolDensity(p, 39)
		return max(0.5, at+(at-before)*float64(t-40))
	}
	x := max(-20, float64(t)) - 20
	rho := polynomial(oimlA[:], p) + x*polynomial(oimlB[:], x)
	power := x
	for _, row := range oimlC {
		rho += power * p * polynomial(row, p)
		power *= x
	}
	return rho / 1000
}

// DensityOfAlcohol is the density in g/ml of ethanol in water by mass fraction
// at -20 to 40 °C (OIML R 22, 1975).
func DensityOfAlcohol(byMass unit.Fraction, t unit.Celsius) (unit.Density, error) {
	if p := float64(byMass); !unit.Finite(p) || p < 0 || p > 1 {
		return 0, note.Refuse("alcohol", CodeRange, note.Num("value", finiteOr0(p*100), unit.PercentOf), note.Num("low", 0, unit.PercentOf), note.Num("high", 100, unit.PercentOf))
	}
	if err := checkTemperature(t, -20, 40); err != nil {
		return 0, err
	}
	return unit.Density(ethanolDensity(float64(byMass), t)), nil
}

// ABVOfMass is the alcoholic strength by volume at 20 °C (0 to 1) of ethanol in
// water at a mass fraction: p ρ(p)/789.24.
func ABVOfMass(byMass unit.Fraction) (unit.Fraction, error) {
	d, err := DensityOfAlcohol(byMass, 20)
	return unit.Fraction(float64(byMass) * float64(d) / pureEthanol), err
}

// MassOfABV is the mass fraction of ethanol in a water-ethanol mixture of a
// strength by volume at 20 °C.
func MassOfABV(byVolume unit.Fraction) (unit.Fraction, error) {
	v := float64(byVolume)
	if !unit.Finite(v) || v < 0 || v > 1 {
		return 0, note.Refuse("alcohol", CodeRange, note.Num("value", finiteOr0(v*100), unit.ABV), note.Num("low", 0, unit.ABV), note.Num("high", 100, unit.ABV))
	}
	return unit.Fraction(bisect(0, 1, func(p float64) float64 { return p*ethanolDensity(p, 20)/pureEthanol - v })), nil
}

func finiteOr0(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	return x
}
