package cool

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestOneTermCoefficients against Cengel, Heat Transfer, Table 4-2 (see the
// table's source column); the last digit may differ by one.
func TestOneTermCoefficients(t *testing.T) {
	for _, row := range table(t, "plan-conduction-coefficients.csv") {
		bi := figure(t, row["Bi"])
		for name, shape := range map[string]Shape{"slab": Slab, "cylinder": Cylinder, "sphere": Sphere} {
			first := modes(shape, bi)[0]
			assert.InDelta(t, figure(t, row[name+"_zeta1"]), first.root, 1.01e-4, "%s Bi %v", name, bi)
			assert.InDelta(t, figure(t, row[name+"_C1"]), first.coef, 1.01e-4, "%s Bi %v", name, bi)
		}
	}
}

var shapes = map[string]Shape{"slab": Slab, "cyl": Cylinder, "sph": Sphere}

// TestSeriesAgainstChecks compares with a 60-term series and a finite-volume
// solution computed elsewhere, to 1e-4, and shows where one term is not enough.
func TestSeriesAgainstChecks(t *testing.T) {
	for _, row := range table(t, "plan-conduction-checks.csv") {
		shape, bi, fo := shapes[row["shape"]], figure(t, row["Bi"]), figure(t, row["Fo"])
		got := Centre(shape, bi, fo)
		assert.InDelta(t, figure(t, row["theta_centre_series"]), got, 1e-5, "%v", row)
		assert.InDelta(t, figure(t, row["theta_centre_finite_volume"]), got, 1e-4, "%v", row)
		first := modes(shape, bi)[0]
		oneTerm := first.coef * math.Exp(-first.root*first.root*fo)
		assert.InDelta(t, figure(t, row["theta_centre_one_term"]), oneTerm, 1e-5, "%v", row)
	}
}

// TestSeriesAgainstFiniteVolumes solves random cases numerically in the test itself.
func TestSeriesAgainstFiniteVolumes(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 4))
	for range 24 {
		shape := Shape(rnd.IntN(3))
		bi, fo := math.Exp(rnd.Float64()*7-3), 0.02+0.8*rnd.Float64()
		v := newVolumes(1, 1, 1, int(shape), 300, 1, face{}, face{bi, 0})
		v.run(fo, 1500)
		// The centre cell's mean lies off the centre by a third of a cell at most.
		assert.InDelta(t, v.temp[0], Centre(shape, bi, fo), 1e-4, "shape %d Bi %g Fo %g", shape, bi, fo)
	}
}

// TestPlateAgainstFiniteVolumes: faces with different transfer and different temperatures.
func TestPlateAgainstFiniteVolumes(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 5))
	p := Properties{Conductivity: 0.58, HeatCapacity: 4050, Density: 1.03}
	for range 20 {
		d := 0.004 + 0.05*rnd.Float64()
		bottom := face{math.Exp(rnd.Float64()*6 + 0.7), 10 * rnd.Float64()}
		top := face{math.Exp(rnd.Float64()*5 + 0.7), 25 * rnd.Float64()}
		if rnd.IntN(5) == 0 {
			top.h = 0
		}
		seconds := (0.02 + rnd.Float64()) * d * d / p.Diffusivity()
		v := newVolumes(p.Conductivity, 1030*4050, d, 0, 400, 90, bottom, top)
		v.run(seconds, 1500)
		assert.InDelta(t, v.hottest(), newPlate(p, d, 90, bottom, top).hottest(seconds), 0.01, "d %g bottom %v top %v t %g", d, bottom, top, seconds)
	}
}

func TestPlateIsASlabWhenBothFacesAreAlike(t *testing.T) {
	p := Properties{Conductivity: 0.5, HeatCapacity: 4000, Density: 1}
	for _, h := range []float64{0.5, 8, 60, 3000} {
		s := newPlate(p, 0.03, 90, face{h, 4}, face{h, 4})
		for _, seconds := range []float64{60, 600, 6000, 30000} {
			want := 4 + 86*Centre(Slab, h*0.015/0.5, p.Diffusivity()*seconds/(0.015*0.015))
			assert.InDelta(t, want, s.hottest(seconds), 1e-6)
		}
	}
}

// TestRootsAreComplete: the interlacing property of each equation, over Biot
// numbers from nearly insulated to a fixed surface temperature. A coefficient
// sum of one is the series at the start: no root is missing.
func TestRootsAreComplete(t *testing.T) {
	for _, shape := range []Shape{Slab, Cylinder, Sphere} {
		for e := -6.0; e <= 6; e += 0.25 {
			bi := math.Pow(10, e)
			last := 0.0
			for n, m := range modes(shape, bi) {
				require.Greater(t, m.root, last, "shape %d Bi %g term %d", shape, bi, n)
				require.InDelta(t, 0, residual(shape, bi, m.root)/(m.root+bi), 1e-9)
				last = m.root
			}
			require.InDelta(t, 1, Centre(shape, bi, startFo), 1e-9, "shape %d Bi %g", shape, bi)
		}
	}
}

// TestBottleAgainstTwoDimensions checks the product solution against an
// explicit two-dimensional solution of the finite cylinder.
func TestBottleAgainstTwoDimensions(t *testing.T) {
	const n, radius, half, h = 24, 0.039, 0.051, 40.0
	p := Properties{Conductivity: 0.58, HeatCapacity: 4050, Density: 1.03}
	dr, dz := radius/n, half/n
	var temp, next [n][n]float64
	for i := range temp {
		for j := range temp[i] {
			temp[i][j] = 1
		}
	}
	dt := 0.2 * dr * dr / p.Diffusivity()
	cell := 1030.0 * 4050
	hr, hz := 1/(1/h+dr/2/p.Conductivity), 1/(1/h+dz/2/p.Conductivity)
	seconds := 0.0
	for ; seconds < 4000; seconds += dt {
		for i := range n {
			in, out := float64(i)*dr, float64(i+1)*dr
			volume := (out*out - in*in) / 2 * dz
			for j := range n {
				flow := 0.0
				if i > 0 {
					flow += in * dz * p.Conductivity / dr * (temp[i-1][j] - temp[i][j])
				}
				if i < n-1 {
					flow += out * dz * p.Conductivity / dr * (temp[i+1][j] - temp[i][j])
				} else {
					flow -= out * dz * hr * temp[i][j]
				}
				if j > 0 {
					flow += (out*out - in*in) / 2 * p.Conductivity / dz * (temp[i][j-1] - temp[i][j])
				}
				if j < n-1 {
					flow += (out*out - in*in) / 2 * p.Conductivity / dz * (temp[i][j+1] - temp[i][j])
				} else {
					flow -= (out*out - in*in) / 2 * hz * temp[i][j]
				}
				next[i][j] = temp[i][j] + dt*flow/(cell*volume)
			}
		}
		temp = next
	}
	b := Load{Vessel: Bottle, Radius: radius * 1000, Height: 2 * half * 1000}.solver(p, 1, face{h, 0}, face{h, 0})
	assert.InDelta(t, temp[0][0], b.hottest(seconds), 2e-3)
}
