package cool

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// halfBall solves a half ball numerically, explicit finite volumes in radius
// and polar angle: wall with h, flat top with hTop, all around at 0, start 1.
// It returns the warmest cell after the given times, in ascending order.
func halfBall(p Properties, radius, h, hTop float64, times []float64) []float64 {
	const nr, na = 12, 8
	dr, da := radius/nr, math.Pi/2/na
	k, heat := p.Conductivity, float64(p.Density)*1000*p.HeatCapacity
	var temp, next [nr][na]float64
	for i := range temp {
		for j := range temp[i] {
			temp[i][j] = 1
		}
	}
	step := 0.15 * math.Pow(dr/2*da, 2) / p.Diffusivity() // the innermost cells are the smallest
	var out []float64
	for at, t := 0, 0.0; at < len(times); t += step {
		if t >= times[at] {
			top := 0.0
			for i := range temp {
				for j := range temp[i] {
					top = max(top, temp[i][j])
				}
			}
			out = append(out, top)
			at++
		}
		for i := range nr {
			in, outer, mid := float64(i)*dr, float64(i+1)*dr, (float64(i)+0.5)*dr
			for j := range na {
				a, b := float64(j)*da, float64(j+1)*da // angle from the axis below
				cap := math.Cos(a) - math.Cos(b)
				ring := (outer*outer - in*in) / 2
				flow := 0.0
				if i > 0 {
					flow += in * in * cap * k / dr * (temp[i-1][j] - temp[i][j])
				}
				if i < nr-1 {
					flow += outer * outer * cap * k / dr * (temp[i+1][j] - temp[i][j])
				} else {
					flow -= outer * outer * cap / (1/h + dr/2/k) * temp[i][j]
				}
				if j > 0 {
					flow += ring * math.Sin(a) * k / (mid * da) * (temp[i][j-1] - temp[i][j])
				}
				if j < na-1 {
					flow += ring * math.Sin(b) * k / (mid * da) * (temp[i][j+1] - temp[i][j])
				} else if hTop > 0 {
					flow -= ring / (1/hTop + mid*da/2/k) * temp[i][j]
				}
				next[i][j] = temp[i][j] + step*flow/(heat*cap*(outer*outer*outer-in*in*in)/3)
			}
		}
		temp = next
	}
	return out
}

// TestBowlIsNeverUnderstated: the sphere that stands for a set bowl is never
// colder than the half ball itself, and not warmer by much.
func TestBowlIsNeverUnderstated(t *testing.T) {
	const radius = 0.061
	for _, c := range []struct {
		name    string
		h, hTop float64
	}{
		{"still fridge", 8, 8}, {"fan fridge", 20, 20}, {"immersed in ice", 250, 250}, {"over ice, top counted as insulated", 250, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := Load{Vessel: Bowl, Radius: radius * 1000}.solver(gel, 1, face{c.h, 0}, face{c.hTop, 0})
			var times []float64
			for _, theta := range []float64{0.8, 0.5, 0.2} {
				times = append(times, timeTo(s, theta))
			}
			for i, want := range halfBall(gel, radius, c.h, c.hTop, times) {
				got := s.hottest(times[i])
				// The grid's own error is about half a per cent.
				assert.GreaterOrEqual(t, got, want-0.004, "after %.0f s", times[i])
				assert.LessOrEqual(t, got, want+0.09, "after %.0f s", times[i])
			}
		})
	}
}
