package cool

import "math"

// plateTerms and platePoints are the terms of the series and the points of the
// profile across the layer.
const (
	plateTerms  = 60
	platePoints = 41
)

// plate is a layer whose two faces lose heat at different rates to different
// temperatures: a tray on a steel shelf, or over ice and under warm air. The
// solution is the steady profile plus a Fourier series in the eigenfunctions
// cos μx + (B0/μ) sin μx (Carslaw & Jaeger, Conduction of Heat in Solids, 1959,
// ch. III, from memory; checked in the tests by finite volumes).
type plate struct {
	rate   float64 // α/D², 1/s
	start  float64
	steady [platePoints]float64
	decay  [plateTerms]float64              // μ²
	amp    [plateTerms][platePoints]float64 // series terms at each point, at the start
}

// face is one side of a body: its heat transfer coefficient in W/(m²·K) and
// the temperature beyond it in °C.
type face struct{ h, temp float64 }

// newPlate solves a layer of depth d in metres, bottom at x = 0.
func newPlate(p Properties, d, start float64, bottom, top face) *plate {
	s := &plate{rate: p.Diffusivity() / (d * d), start: start}
	b0, b1 := bottom.h*d/p.Conductivity, top.h*d/p.Conductivity
	at0, at1 := steadyEnds(bottom, top, d/p.Conductivity)
	for j := range s.steady {
		s.steady[j] = at0 + (at1-at0)*point(j)
	}
	for n := range s.decay {
		mu := plateRoot(n, b0, b1)
		s.decay[n] = mu * mu
		amp := plateAmplitude(mu, b0, start-at0, at0-at1)
		for j := range s.amp[n] {
			sin, cos := math.Sincos(mu * point(j))
			s.amp[n][j] = amp * (cos + b0/mu*sin)
		}
	}
	return s
}

func point(j int) float64 { return float64(j) / (platePoints - 1) }

// steadyEnds gives the temperatures of both faces when nothing changes any more.
func steadyEnds(bottom, top face, resistance float64) (at0, at1 float64) {
	switch {
	case bottom.h == 0:
		return top.temp, top.temp
	case top.h == 0:
		return bottom.temp, bottom.temp
	}
	flow := (top.temp - bottom.temp) / (1/bottom.h + resistance + 1/top.h)
	return bottom.temp + flow/bottom.h, top.temp - flow/top.h
}

// plateRoot is the n-th root of (μ² − B0·B1) sin μ = μ (B0 + B1) cos μ; exactly
// one lies between nπ and (n+1)π.
func plateRoot(n int, b0, b1 float64) float64 {
	f := func(mu float64) float64 {
		sin, cos := math.Sincos(mu)
		return (mu*mu-b0*b1)*sin - mu*(b0+b1)*cos
	}
	return bisect(f, float64(n)*math.Pi, float64(n+1)*math.Pi)
}

// plateAmplitude projects the starting excess a + b·x on the eigenfunction.
func plateAmplitude(mu, b0, a, b float64) float64 {
	sin, cos := math.Sincos(mu)
	q := b0 / mu
	one := sin/mu + q*(1-cos)/mu
	x := sin/mu + (cos-1)/(mu*mu) + q*(sin/(mu*mu)-cos/mu)
	norm := (1+q*q)/2 + (1-q*q)*sin*cos/(2*mu) + q*sin*sin/mu
	return (a*one + b*x) / norm
}

// hottest is the temperature of the warmest point of the profile at time t in
// seconds; between points the top is taken from the parabola through three.
func (s *plate) hottest(t float64) float64 {
	fo := s.rate * t
	if fo < startFo/4 { // Fo of the whole depth is a quarter of the half-depth's
		return s.start
	}
	profile := s.steady
	for n, d := range s.decay {
		e := math.Exp(-d * fo)
		if e < 1e-16 {
			break
		}
		for j := range profile {
			profile[j] += e * s.amp[n][j]
		}
	}
	return peak(&profile)
}

func (s *plate) floor() float64 { return max(s.steady[0], s.steady[platePoints-1]) }

func peak(y *[platePoints]float64) float64 {
	top := 0
	for j, v := range y {
		if v > y[top] {
			top = j
		}
	}
	if top == 0 || top == platePoints-1 {
		return y[top]
	}
	left, mid, right := y[top-1], y[top], y[top+1]
	curve := 2*mid - left - right
	if curve <= 0 {
		return mid
	}
	return mid + (right-left)*(right-left)/(8*curve)
}
