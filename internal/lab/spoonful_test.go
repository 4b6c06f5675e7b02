package lab

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"tremblant/internal/unit"
)

// volume of the body of revolution, in m³.
func (f spoonful) volume() float64 {
	v := 0.0
	for i := 1; i < len(f.r); i++ {
		v += math.Pi * (f.r[i]*f.r[i] + f.r[i-1]*f.r[i-1]) / 2 * (f.z[i-1] - f.z[i])
	}
	return v
}

// A bar of length H that stands on end is shorter by ρ·g·H²/(2·E) under its own
// weight (Gere & Goodno, Mechanics of Materials, 8th ed., 2013, chapter 2, a bar
// under its own weight; from memory), and E = 3·G where volume stays.
func TestAStiffColumnSinksAsABarDoes(t *testing.T) {
	const column = 4000 // exponent of an outline with a flat top and straight sides
	f := sinkShape(1e6, 1, column)
	height := f.z[0] / f.kept
	want := 1000 * gravity * height / (2 * 3 * 1e6)
	assert.InEpsilon(t, want, 1-f.kept, 0.01)
}

// λ⁻² − λ: Treloar, The Physics of Rubber Elasticity, 3rd ed., 1975; from memory.
func TestSqueeze(t *testing.T) {
	assert.InDelta(t, 1, squeeze(0), 1e-12)
	assert.InDelta(t, 0.5, squeeze(3.5), 1e-9) // 4 − ½
	assert.InDelta(t, 0.1, squeeze(99.9), 1e-9)
	assert.InDelta(t, 1-1e-6/3, squeeze(1e-6), 1e-11)
}

func TestASpoonfulKeepsItsVolumeAndOrder(t *testing.T) {
	for _, strain := range []float64{0, 0.05, 0.3, 0.9, 3, math.NaN()} {
		last := 0.0
		for _, modulus := range []float64{1, 5, 20, 100, 400, 2000, 20_000, 1e6} {
			f := sink(modulus, 1.1, strain)
			assert.Greater(t, f.kept, last, "stiffer stands higher")
			assert.LessOrEqual(t, f.kept, 1.0)
			last = f.kept
			if modulus >= 100 {
				assert.InEpsilon(t, spoon, f.volume(), 0.05, "%g Pa", modulus)
			}
			for i := range f.r {
				assert.True(t, unit.Finite(f.r[i]) && unit.Finite(f.z[i]))
			}
		}
	}
	assert.Less(t, sink(200, 1.4, 1).kept, sink(200, 0.9, 1).kept, "heavier sinks further")
}

func TestEdge(t *testing.T) {
	assert.InDelta(t, 5, edge(0.1), 1e-9)
	assert.InDelta(t, 2, edge(2), 1e-9)
	assert.Greater(t, edge(0.3), edge(0.6))
	assert.InDelta(t, 2.0/3, fullness(2), 0.01, "half a ball fills two thirds of its cylinder")
}

func TestPath(t *testing.T) {
	var p path
	p.move(1, 2.25)
	p.line(-3, 0)
	p.close()
	assert.Equal(t, "M1 2.2L-3 0Z", p.String())
	p = path{}
	p.dot(5, 5, 2)
	assert.Equal(t, "M3 5A2 2 0 0 1 7 5A2 2 0 0 1 3 5Z", p.String())
}
