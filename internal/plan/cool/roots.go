package cool

import "math"

// Shape is a body with one-dimensional conduction and the same heat transfer
// all round; its half-thickness or radius is the length of Bi and Fo.
type Shape uint8

// The shapes.
const (
	Slab Shape = iota
	Cylinder
	Sphere
)

// mode is one term of a Fourier series: coefficient and eigenvalue.
type mode struct{ root, coef float64 }

// terms is how many terms are kept. The series are used from Fo = 0.005 on,
// where the 40th term is below exp(−70).
const terms = 40

// modes solves the eigenvalue equation of a shape for its first terms. Between
// two neighbouring poles of the equation lies exactly one root, so bisection
// between them cannot miss or double one.
func modes(s Shape, bi float64) [terms]mode {
	var out [terms]mode
	for n := range out {
		low, high := bracket(s, n)
		z := bisect(func(z float64) float64 { return residual(s, bi, z) }, low, high)
		out[n] = mode{z, coefficient(s, z)}
	}
	return out
}

// bracket encloses the n-th root: slab between the zeros of sine and cosine,
// sphere between zeros of sine, cylinder between zeros of J1 and J0.
func bracket(s Shape, n int) (low, high float64) {
	switch s {
	case Slab:
		return float64(n) * math.Pi, (float64(n) + 0.5) * math.Pi
	case Sphere:
		return float64(n) * math.Pi, (float64(n) + 1) * math.Pi
	}
	if n > 0 {
		low = besselZero(math.J1, float64(n)+0.25)
	}
	return low, besselZero(math.J0, float64(n)+0.75)
}

// besselZero finds the zero of J0 or J1 nearest to k·π, k from McMahon's
// expansion (Abramowitz & Stegun, Handbook of Mathematical Functions, 1964,
// 9.5.12, from memory); the first neglected term is far below the half width.
func besselZero(j func(float64) float64, k float64) float64 {
	return bisect(j, k*math.Pi-0.6, k*math.Pi+0.6)
}

// residual is the eigenvalue equation without poles: ζ tan ζ = Bi for the
// slab, ζ J1/J0 = Bi for the cylinder, 1 − ζ cot ζ = Bi for the sphere (Cengel,
// Heat Transfer, 2003, Table 4-2).
func residual(s Shape, bi, z float64) float64 {
	switch s {
	case Slab:
		sin, cos := math.Sincos(z)
		return z*sin - bi*cos
	case Cylinder:
		return z*math.J1(z) - bi*math.J0(z)
	}
	sin, cos := math.Sincos(z)
	return (1-bi)*sin - z*cos
}

// coefficient is the weight of a root at the centre for a uniform start.
func coefficient(s Shape, z float64) float64 {
	sin, cos := math.Sincos(z)
	switch s {
	case Slab:
		return 4 * sin / (2*z + math.Sin(2*z))
	case Cylinder:
		j0, j1 := math.J0(z), math.J1(z)
		return 2 * j1 / (z * (j0*j0 + j1*j1))
	}
	return 4 * (sin - z*cos) / (2*z - math.Sin(2*z))
}

// bisect finds the sign change of f between low and high to the last bit. A
// zero exactly at low (the trivial root of the first bracket) is stepped over.
func bisect(f func(float64) float64, low, high float64) float64 {
	below := math.Signbit(f(high))
	for range 200 {
		mid := low + (high-low)/2
		if mid <= low || mid >= high {
			break
		}
		if math.Signbit(f(mid)) == below {
			high = mid
		} else {
			low = mid
		}
	}
	return low + (high-low)/2
}

// startFo is the Fourier number (of the half-thickness) below which the centre
// still has its starting temperature: the error is about erfc(1/(2·√Fo)), 1e-22.
const startFo = 0.005

// Centre is the excess temperature at the centre of a shape after Fourier
// number fo, as a part of the excess at the start. bi and fo must not be
// negative; bi = 0 is a body that keeps its heat.
func Centre(s Shape, bi, fo float64) float64 {
	if bi <= 0 {
		return 1
	}
	m := modes(s, bi)
	return centre(&m, fo)
}

func centre(m *[terms]mode, fo float64) float64 {
	if fo < startFo {
		return 1
	}
	sum := 0.0
	for _, t := range m {
		sum += t.coef * math.Exp(-t.root*t.root*fo)
	}
	return sum
}
