package foam

import (
	"math"

	"tremblant/internal/unit"
)

const (
	gasConstant        = 8.314462618 // J/(mol K), CODATA 2018
	molarMass          = 0.0440128   // kg/mol of N2O, Lemmon & Span 2006
	atmosphere         = float64(unit.Atmosphere)
	partialMolarVolume = 32.3e-6 // m³/mol of dissolved gas, Weiss & Price 1980 (their CO2 value)
)

// henryKg and henryLitre are the coefficients of Weiss & Price (1980) for pure
// water, ln K0 = a1 + a2·(100/T) + a3·ln(T/100), in mol/(kg atm) and mol/(l atm)
// against fugacity. Fitted from about -1 to 40 °C.
var (
	henryKg    = [3]float64{-64.8539, 100.2520, 25.2049}
	henryLitre = [3]float64{-62.7062, 97.3066, 24.1406}
	// saltTerm multiplies the salinity in g/kg: b1 + b2·T/100 + b3·(T/100)².
	saltTerm = [3]float64{-0.058420, 0.033193, -0.0051313}
)

// HenryFittedTo is the warmest temperature of the measurements behind
// [HenryWater]; above it the same line is an extrapolation, 4 % high at 60 °C
// and 7 % at 65 °C against a gas treating correlation (from memory).
const HenryFittedTo unit.Celsius = 40

func henry(a [3]float64, t unit.Celsius) float64 {
	k := t.Kelvin()
	return math.Exp(a[0] + a[1]*100/k + a[2]*math.Log(k/100))
}

// HenryWater is the solubility of N2O in pure water at t in mol per kg of water
// and atmosphere of fugacity (Weiss & Price 1980).
func HenryWater(t unit.Celsius) float64 { return henry(henryKg, t) }

// HenrySI is the same in mol/(m³ Pa), the unit of the compilation of Sander (2023).
func HenrySI(t unit.Celsius) float64 { return henry(henryLitre, t) * 1000 / atmosphere }

// VantHoffSlope is d ln K0 / d(1/T) in kelvins at t, of [HenryWater].
func VantHoffSlope(t unit.Celsius) float64 { return 100*henryKg[1] - henryKg[2]*t.Kelvin() }

// maxSalinity is where the salt term is no longer followed, g/kg: Weiss & Price
// went to 40, a stock can be saltier.
const maxSalinity = 60

// SaltFactor is by how much salt lowers the solubility: 35 g/kg at 20 °C leaves
// 0.833 of it (Weiss & Price 1980, sea salt). Salinity in g per kg of salt water;
// above 60 it stays at the value of 60.
func SaltFactor(t unit.Celsius, salinity float64) float64 {
	x := t.Kelvin() / 100
	s := min(max(salinity, 0), maxSalinity)
	return math.Exp(s * (saltTerm[0] + saltTerm[1]*x + saltTerm[2]*x*x))
}

const (
	oilGas37   = 1.40   // volume of gas a volume of oil takes at 37 °C
	oilDensity = 905.0  // kg/m³ of oil at 37 °C
	oilKelvin  = 310.15 // 37 °C
	oilSlope   = 1000.0 // K, 500 to 1500; a guess from CO2 in oils
)

// oilAt37 is the solubility in oil at 37 °C in mol/(kg Pa), 5.999e-7.
const oilAt37 = oilGas37 / (oilDensity * gasConstant * oilKelvin)

// OilSolubility is what a kilogram of liquid oil takes at t, in mol/(kg Pa) of
// fugacity: the oil/gas coefficient at 37 °C, carried to t with a guessed slope.
func OilSolubility(t unit.Celsius) float64 {
	return oilAt37 * math.Exp(oilSlope*(1/t.Kelvin()-1/oilKelvin))
}

// milkFatFactor is the share of the liquid fat's solubility left at a
// temperature: CO2 in anhydrous milk fat at 4, 24 and 35 °C, 1.19, 3.9 and
// 5.75e-7 mol/(kg Pa) (Food Chemistry 237 (2017) 667).
var milkFatFactor = [3]struct {
	at     unit.Celsius
	factor float64
}{{4, 1.19 / 5.75}, {24, 3.9 / 5.75}, {35, 1}}

// MilkFatSolubility is what a kilogram of milk fat that has had its hours at t
// takes, in mol/(kg Pa) of fugacity. Crystallised fat takes far less: a fifth
// at 4 °C. Linear between the measured temperatures, constant outside them.
func MilkFatSolubility(t unit.Celsius) float64 {
	f := milkFatFactor
	switch {
	case t <= f[0].at:
		return oilAt37 * f[0].factor
	case t <= f[1].at:
		return oilAt37 * between(float64(t), float64(f[0].at), float64(f[1].at), f[0].factor, f[1].factor)
	case t <= f[2].at:
		return oilAt37 * between(float64(t), float64(f[1].at), float64(f[2].at), f[1].factor, f[2].factor)
	}
	return oilAt37
}

// between is the line through (x0, y0) and (x1, y1) at x.
func between(x, x0, x1, y0, y1 float64) float64 { return y0 + (y1-y0)*(x-x0)/(x1-x0) }

// waterDensity is the density of water in g/ml at t (Kell 1975), 0 to 100 °C.
func waterDensity(t unit.Celsius) unit.Density {
	x := float64(t)
	above := 999.83952 + x*(16.945176+x*(-7.9870401e-3+x*(-46.170461e-6+x*(105.56302e-9-x*280.54253e-12))))
	return unit.Density(above / (1 + 16.879850e-3*x) / 1000)
}

// henrySpreadLow is the lowest of other equations at 0 to 25 °C beside K0.
const henrySpreadLow = 0.97

// henrySpread is by which factors K0 may be off at t: other equations lie 2.3 to
// 2.9 % below at 0 to 25 °C, and the extrapolation above 40 °C is 4 to 7 % high.
func henrySpread(t unit.Celsius) unit.Range {
	hot := max(0, float64(t-HenryFittedTo)) / 25
	return unit.Range{Low: henrySpreadLow - 0.05*hot, Typical: 1, High: 1.02 + 0.03*hot}
}
