package lab

import (
	"math"

	"tremblant/internal/unit"
)

// A spoonful turned out on a plate, and how far it sinks under its own weight.
//
// It is taken as a stack of thin slices of an incompressible rubber. The slice
// at a depth carries the weight of all above it, so that its nominal stress is
// P = ρ·g·V/A, with V the volume above and A its area before it sank. A
// neo-Hookean rubber of shear modulus G under pressure gets thinner by λ with
//
//	λ⁻² − λ = P/G
//
// (Treloar, The Physics of Rubber Elasticity, 3rd ed., 1975, Oxford: uniaxial
// deformation; from memory) and wider by λ^(−½), which keeps its volume. Only
// the number ρ·g·h/G matters. The plate's friction and flow in time are left
// out: a real spoonful of a gel this soft sinks a little less at once and a
// little more later.

const (
	gravity = 9.80665 // m/s², standard (ISO 80000-3:2019)
	spoon   = 15e-6   // m³: a tablespoon of 15 ml
	aspect  = 0.9     // height over half width before it sinks
	layers  = 48
)

// spoonful is the outline of half a spoonful: half widths by height, in m, from
// the top down.
type spoonful struct {
	r, z []float64
	kept float64 // height over the height before it sank
}

// sink is a spoonful of a modulus in Pa, of a density in g/ml, that breaks at a
// strain. Modulus and density must be positive and finite.
func sink(modulus float64, density unit.Density, strain float64) spoonful {
	return sinkShape(modulus, density, edge(strain))
}

// sinkShape is sink for the exponent of an outline.
func sinkShape(modulus float64, density unit.Density, n float64) spoonful {
	half := math.Cbrt(spoon / (math.Pi * aspect * fullness(n)))
	height := half * aspect
	load := float64(density) * 1000 * gravity / modulus

	r, thick := make([]float64, layers+1), make([]float64, layers)
	above := 0.0 // volume above the slice, m³
	for i := range layers {
		from, to := depth(i), depth(i+1)
		middle, bottom, dz := width(n, (from+to)/2), width(n, to), (to-from)*height
		area := math.Pi * half * half * middle * middle
		above += area * dz
		l := squeeze(load * (above - area*dz/2) / area)
		thick[i] = dz * l
		r[i+1] = half * bottom / math.Sqrt(l)
	}
	out := spoonful{r: r, z: make([]float64, layers+1)}
	for i := layers - 1; i >= 0; i-- {
		out.z[i] = out.z[i+1] + thick[i]
	}
	out.kept = out.z[0] / height
	return out
}

// squeeze is the λ of a load P/G ≥ 0: the root of λ⁻² − λ = load between 0 and 1.
func squeeze(load float64) float64 {
	low, high := 0.0, 1.0
	for range 60 {
		mid := (low + high) / 2
		if 1/(mid*mid)-mid > load {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// edge is the exponent of the outline (r/R)ⁿ + (z/H)ⁿ = 1 before it sinks: 2 is
// round, as a spoon leaves what stretches; 5 has a shoulder, as it leaves what
// cracks. It is a drawing of the strain at break and no measured shape.
func edge(strain float64) float64 {
	const sharp, round = 0.2, 1.2 // strains at break of the two ends
	if !(strain > 0) {
		return 3
	}
	x := math.Log(round/strain) / math.Log(round/sharp)
	return 2 + 3*min(max(x, 0), 1)
}

// depth is where slice i begins, over the height: the slices are thin at the top,
// where the outline turns.
func depth(i int) float64 { return float64(i*i) / (layers * layers) }

// width is the half width at a depth below the top, both over their most.
func width(n, depth float64) float64 {
	return math.Pow(1-math.Pow(1-depth, n), 1/n)
}

// fullness is the volume over that of the cylinder around it.
func fullness(n float64) float64 {
	sum := 0.0
	for i := range layers {
		from, to := depth(i), depth(i+1)
		middle := width(n, (from+to)/2)
		sum += middle * middle * (to - from)
	}
	return sum
}
