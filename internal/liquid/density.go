package liquid

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// waterDensity is the density of air-free water in g/ml, 0 to 100 °C (Kell's
// formula as printed with the sucrose polynomial, Bubnik et al. 1995).
func waterDensity(t unit.Celsius) float64 {
	x := float64(t)
	top := 999.83952 + x*(16.952577+x*(-7.9905127e-3+x*(-46.241757e-6+x*(105.84601e-9-281.03006e-12*x))))
	return top / (1 + 16.887236e-3*x) / 1000
}

// sucroseColumns are the sucrose terms of Bubnik et al. (1995): at 20 °C, then
// by powers of (t-20)/100. Each row is in powers of the mass fraction from the first.
var sucroseColumns = [...][]float64{
	{385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890},
	{-46.2720, -7.1720, 1.1597, 5.1126, 17.5254},
	{59.7712, 7.2491, 12.3630, -35.4791},
	{-47.2207, -21.6977, 27.6301},
	{18.3184, 12.3081},
}

// sucroseDensity is the density of a sucrose solution, g/ml, at a mass fraction
// 0 to 1 (published to 0.75) and 0 to 80 °C.
func sucroseDensity(w float64, t unit.Celsius) float64 {
	x := (float64(t) - 20) / 100
	sum, power := 0.0, 1.0
	for _, column := range sucroseColumns {
		sum += power * w * polynomial(column, w)
		power *= x
	}
	return waterDensity(t) + sum/1000
}

// polynomial is c0 + c1 x + c2 x² + ….
func polynomial(c []float64, x float64) float64 {
	sum := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		sum = sum*x + c[i]
	}
	return sum
}

// DensityOfBrix is the density in g/ml of a sucrose solution at a °Brix (% by
// mass, 0 to 75) and a temperature (0 to 80 °C): Bubnik et al. (1995).
func DensityOfBrix(brix float64, t unit.Celsius) (unit.Density, error) {
	if !unit.Finite(brix) || brix < 0 || brix > 75 {
		return 0, note.Refuse("brix", CodeRange, note.Num("value", brix, unit.Brix), note.Num("low", 0, unit.Brix), note.Num("high", 75, unit.Brix))
	}
	if err := checkTemperature(t, 0, 80); err != nil {
		return 0, err
	}
	return unit.Density(sucroseDensity(brix/100, t)), nil
}

// BrixOfDensity is the °Brix of a sucrose solution of a density in g/ml at 20 °C.
func BrixOfDensity(d unit.Density) (float64, error) {
	low, high := sucroseDensity(0, 20), sucroseDensity(0.75, 20)
	x := float64(d)
	if !unit.Finite(x) || x < low-1e-9 || x > high {
		return 0, note.Refuse("density", CodeRange, note.Num("value", x, unit.GramPerMl), note.Num("low", low, unit.GramPerMl), note.Num("high", high, unit.GramPerMl))
	}
	return 100 * bisect(0, 0.75, func(w float64) float64 { return sucroseDensity(w, 20) - x }), nil
}

func checkTemperature(t unit.Celsius, low, high float64) error {
	if x := float64(t); !unit.Finite(x) || x < low || x > high {
		if !unit.Finite(x) {
			x = 0
		}
		return note.Refuse("temperature", CodeBadTemp, note.Num("value", x, unit.DegreeC), note.Num("low", low, unit.DegreeC), note.Num("high", high, unit.DegreeC))
	}
	return nil
}

// bisect finds where an increasing function crosses zero between low and high;
// the nearer end when it does not.
func bisect(low, high float64, f func(float64) float64) float64 {
	for range 100 {
		mid := 0.5 * (low + high)
		if mid == low || mid == high {
			break
		}
		if f(mid) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return 0.5 * (low + high)
}

// brineTable is the density of sodium chloride solutions at 20 °C, g/ml, per
// mass per cent (Poradnik fizykochemiczny, 1974; water from waterDensity).
var brineTable = [...][2]float64{
	{0, 0.998203}, {1, 1.0053}, {2, 1.0122}, {4, 1.0268}, {6, 1.0413}, {8, 1.0559}, {10, 1.0707}, {12, 1.0857},
	{14, 1.1009}, {16, 1.1162}, {18, 1.1319}, {20, 1.1478}, {22, 1.1640}, {24, 1.1804}, {26, 1.1972},
}

// brineDensity interpolates the brine table at a mass fraction; beyond 26 %
// (saturated) it stays with the last slope.
func brineDensity(w float64) float64 { return interpolate(brineTable[:], 100*w) }

// DensityOfBrine is the density in g/ml of salt in water at 20 °C, for 0 to 26 %
// salt by mass, interpolated in the table between whole even per cents.
func DensityOfBrine(percent float64) (unit.Density, error) {
	if !unit.Finite(percent) || percent < 0 || percent > 26.4 {
		return 0, note.Refuse("salt", CodeRange, note.Num("value", percent, unit.PercentOf), note.Num("low", 0, unit.PercentOf), note.Num("high", 26.4, unit.PercentOf))
	}
	return unit.Density(brineDensity(percent / 100)), nil
}

// interpolate reads a table of (x, y) linearly, with the end slopes beyond it.
func interpolate(table [][2]float64, x float64) float64 {
	i := 1
	for i < len(table)-1 && x > table[i][0] {
		i++
	}
	a, b := table[i-1], table[i]
	return a[1] + (b[1]-a[1])*(x-a[0])/(b[0]-a[0])
}

// Apparent specific volumes, ml/g at 20 °C, of what is neither water nor
// sucrose, ethanol or salt: derived so that mixtures meet the tables.
const (
	volumeCarbohydrate = 0.62
	volumeAcid         = 0.62
	volumeAcetic       = 0.86
	volumeAsh          = 0.40
	volumeProtein      = 0.73
	volumeFat          = 1.087
	volumeUnknown      = 0.70
)

// Volume is the volume of some amounts in ml at a temperature. Sugars, ethanol
// and salt each take the apparent volume that they have in water alone at their
// ratio to the water here, so that plain syrups, spirits and brines meet their
// tables exactly; temperature acts through water, sugar and ethanol only.
func (a *Amounts) volume(t unit.Celsius) float64 {
	sugar, salt := a.Sugars(), a.Salt()
	v := a[Water] / waterDensity(t)
	v += apparent(sugar, a[Water], t, func(w float64) float64 { return sucroseDensity(min(w, 0.98), t) })
	v += apparent(a[Ethanol], a[Water], t, func(p float64) float64 { return ethanolDensity(p, t) })
	v += apparent(salt, a[Water], 20, brineDensityCapped)
	v += volumeCarbohydrate * (a[Fibre] + a[Starch] + a[OtherCarb])
	v += volumeAcid*(a.Acids()-a[Acetic]+a[Carbonic]+a[Sulfurous]) + volumeAcetic*a[Acetic]
	v += volumeAsh*a.otherAsh() + volumeProtein*a.Protein() + volumeFat*a[Fat] + volumeUnknown*a[Unknown]
	return v
}

// saltVolume is the apparent specific volume of salt in strong brine, ml/g.
const saltVolume = 0.33

func brineDensityCapped(w float64) float64 {
	if w <= 0.264 {
		return brineDensity(w)
	}
	return 1 / ((1-w)/brineTable[0][1] + w*saltVolume)
}

// apparent is the volume that m grams of a solute add to some water.
func apparent(m, water float64, t unit.Celsius, density func(float64) float64) float64 {
	if m <= 0 {
		return 0
	}
	w := m / (m + water)
	return (m+water)/density(w) - water/waterDensity(t)
}

// density is the density of some amounts, g/ml.
func (a *Amounts) density(t unit.Celsius) float64 {
	m := a.Mass()
	if m <= 0 {
		return 0
	}
	return m / a.volume(t)
}

// DensityAt is the ingredient's density in g/ml at a temperature: measured where
// the row has it, computed otherwise.
func (g *Ingredient) DensityAt(t unit.Celsius) unit.Density {
	a := g.amounts(100)
	d := a.density(t)
	if g.Density > 0 {
		d *= float64(g.Density) / a.density(20)
	}
	return unit.Density(d)
}
