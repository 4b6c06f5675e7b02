package cool

import (
	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Properties are what conduction needs to know of a food.
type Properties struct {
	Conductivity float64      // W/(m·K)
	HeatCapacity float64      // J/(kg·K)
	Density      unit.Density // g/ml
}

// Diffusivity is k/(ρ·cp) in m²/s.
func (p Properties) Diffusivity() float64 {
	return p.Conductivity / (float64(p.Density) * 1000 * p.HeatCapacity)
}

// Composition is the make-up of a food in parts of one; the parts add to one.
type Composition struct {
	Water, Protein, Fat, Carbohydrate, Fibre, Ash, Ethanol unit.Fraction
}

// ChoiOkos is the source of the component equations.
var ChoiOkos = source.Ref{Tag: source.Published, Text: "Choi & Okos, Effects of temperature and composition on the thermal properties of foods, 1986, as reprinted in ASHRAE Refrigeration, ch. 19 (read in a copy)"}

// component is one row of the equations: each property is a + b·T + c·T², T in °C.
type component struct {
	k, cp, rho [3]float64 // W/(m·K), kJ/(kg·K), kg/m³
}

// components are in the order of Composition's fields.
var components = [...]component{
	{[3]float64{0.57109, 1.7625e-3, -6.7036e-6}, [3]float64{4.1762, -9.0864e-5, 5.4731e-6}, [3]float64{997.18, 3.1439e-3, -3.7574e-3}},
	{[3]float64{0.17881, 1.1958e-3, -2.7178e-6}, [3]float64{2.0082, 1.2089e-3, -1.3129e-6}, [3]float64{1329.9, -0.5184}},
	{[3]float64{0.18071, -2.7604e-4, -1.7749e-7}, [3]float64{1.9842, 1.4733e-3, -4.8008e-6}, [3]float64{925.59, -0.41757}},
	{[3]float64{0.20141, 1.3874e-3, -4.3312e-6}, [3]float64{1.5488, 1.9625e-3, -5.9399e-6}, [3]float64{1599.1, -0.31046}},
	{[3]float64{0.18331, 1.2497e-3, -3.1683e-6}, [3]float64{1.8459, 1.8306e-3, -4.6509e-6}, [3]float64{1311.5, -0.36589}},
	{[3]float64{0.32962, 1.4011e-3, -2.9069e-6}, [3]float64{1.0926, 1.8896e-3, -3.6817e-6}, [3]float64{2423.8, -0.28063}},
	// Ethanol is not one of the equations' components; its figures near 25 °C
	// are from memory (CRC Handbook of Chemistry and Physics).
	{[3]float64{0.167}, [3]float64{2.44}, [3]float64{789}},
}

func (c Composition) parts() [len(components)]float64 {
	return [...]float64{float64(c.Water), float64(c.Protein), float64(c.Fat), float64(c.Carbohydrate), float64(c.Fibre), float64(c.Ash), float64(c.Ethanol)}
}

// At gives the properties at a temperature between 0 and 150 °C: heat capacity
// weighted by mass, specific volume by mass, conductivity by volume (source:
// [ChoiOkos]). Parts that add to within 5 % of one are scaled to one; anything
// else is refused with CodeBadComposition.
func (c Composition) At(t unit.Celsius) (Properties, error) {
	if !unit.Finite(float64(t)) || t < 0 || t > 150 {
		return Properties{}, note.Refuse("temperature", CodeBadTemperature)
	}
	sum := 0.0
	for _, x := range c.parts() {
		if !unit.Finite(x) || x < 0 {
			return Properties{}, note.Refuse("composition", CodeBadComposition)
		}
		sum += x
	}
	if sum < 0.95 || sum > 1.05 {
		return Properties{}, note.Refuse("composition", CodeBadComposition, note.Num("sum", sum*100, unit.PercentOf))
	}
	var cp, volume, conductivity float64
	for i, x := range c.parts() {
		v := x / sum / quadratic(components[i].rho, float64(t))
		cp += x / sum * quadratic(components[i].cp, float64(t))
		conductivity += v * quadratic(components[i].k, float64(t))
		volume += v
	}
	return Properties{Conductivity: conductivity / volume, HeatCapacity: cp * 1000, Density: unit.Density(1 / volume / 1000)}, nil
}

func quadratic(a [3]float64, t float64) float64 { return a[0] + t*(a[1]+t*a[2]) }
