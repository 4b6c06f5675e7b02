package cool

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// table reads a CSV of /testdata as one map a row, by the header's names.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../../testdata/" + name)
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 1)
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, name := range rows[0] {
			m[name] = row[i]
		}
		require.NotEmpty(t, m["source"])
		out = append(out, m)
	}
	return out
}

func figure(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return x
}

// volumes is an independent solution by finite volumes, implicit in time
// (Crank–Nicolson after four small implicit steps that calm the start): a layer
// (power 0), cylinder (1) or sphere (2) in n cells, inner and outer face.
type volumes struct {
	k, rhoCp, length float64
	power            int
	inner, outer     face
	temp             []float64
}

func newVolumes(k, rhoCp, length float64, power, n int, start float64, inner, outer face) *volumes {
	v := &volumes{k: k, rhoCp: rhoCp, length: length, power: power, inner: inner, outer: outer, temp: make([]float64, n)}
	for i := range v.temp {
		v.temp[i] = start
	}
	return v
}

func (v *volumes) area(x float64) float64 {
	a := 1.0
	for range v.power {
		a *= x
	}
	return a
}

// step advances by dt with weight w of the new time level (1 implicit, ½ Crank–Nicolson).
func (v *volumes) step(dt, w float64) {
	n := len(v.temp)
	dx := v.length / float64(n)
	lower, diag, upper, rhs := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	g := make([]float64, n+1) // conductance of each face
	for i := 1; i < n; i++ {
		g[i] = v.area(float64(i)*dx) * v.k / dx
	}
	series := func(h float64) float64 {
		if h == 0 {
			return 0
		}
		return 1 / (1/h + dx/2/v.k)
	}
	g[0], g[n] = v.area(0)*series(v.inner.h), v.area(v.length)*series(v.outer.h)
	at := func(i int) float64 {
		switch {
		case i < 0:
			return v.inner.temp
		case i >= n:
			return v.outer.temp
		}
		return v.temp[i]
	}
	for i := range n {
		mid := (float64(i) + 0.5) * dx
		c := v.rhoCp * v.area(mid) * dx / dt
		if v.power == 2 { // exact shell volume
			a, b := float64(i)*dx, float64(i+1)*dx
			c = v.rhoCp * (b*b*b - a*a*a) / 3 / dt
		}
		flow := g[i]*(at(i-1)-at(i)) + g[i+1]*(at(i+1)-at(i))
		lower[i], upper[i] = -w*g[i], -w*g[i+1]
		diag[i] = c + w*(g[i]+g[i+1])
		rhs[i] = c*v.temp[i] + (1-w)*flow
		if i == 0 {
			rhs[i] += w * g[0] * v.inner.temp
			lower[i] = 0
		}
		if i == n-1 {
			rhs[i] += w * g[n] * v.outer.temp
			upper[i] = 0
		}
	}
	for i := 1; i < n; i++ {
		m := lower[i] / diag[i-1]
		diag[i] -= m * upper[i-1]
		rhs[i] -= m * rhs[i-1]
	}
	v.temp[n-1] = rhs[n-1] / diag[n-1]
	for i := n - 2; i >= 0; i-- {
		v.temp[i] = (rhs[i] - upper[i]*v.temp[i+1]) / diag[i]
	}
}

func (v *volumes) run(seconds float64, steps int) {
	dt := seconds / float64(steps)
	for range 4 {
		v.step(dt/4, 1)
	}
	for range steps - 1 {
		v.step(dt, 0.5)
	}
}

func (v *volumes) hottest() float64 {
	top := v.temp[0]
	for _, x := range v.temp {
		top = max(top, x)
	}
	return top
}
