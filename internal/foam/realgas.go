package foam

import (
	"math"

	"tremblant/internal/unit"
)

// virialB fits the second virial coefficients of N2O that NIST lists from 260
// to 330 K within 0.03 cm³/mol: B = b0 + b1·x + b2·x², x = 298.15/T - 1.
var virialB = [3]float64{-133.24, -286.49, -139.74}

// SecondVirial is the second virial coefficient of N2O in cm³/mol at t.
func SecondVirial(t unit.Celsius) float64 {
	x := 298.15/t.Kelvin() - 1
	return virialB[0] + x*(virialB[1]+x*virialB[2])
}

const (
	criticalKelvin   = 309.52   // K
	criticalDensity  = 10.27e3  // mol/m³
	criticalPressure = 72.45e5  // Pa
	helmholtzR       = 8.314472 // J/(mol K), the value the equation was fitted with
)

// helmholtz holds the residual Helmholtz energy of Lemmon & Span (2006) for
// N2O: terms n·δ^d·τ^t, the later ones times exp(-δ^l).
var helmholtz = [12]struct{ n, t, d, l float64 }{
	{0.88045, 0.25, 1, 0},
	{-2.4235, 1.25, 1, 0},
	{0.38237, 1.5, 1, 0},
	{0.068917, 0.25, 3, 0},
	{0.00020367, 0.875, 7, 0},
	{0.13122, 2.375, 1, 1},
	{0.46032, 2, 2, 1},
	{-0.0036985, 2.125, 5, 1},
	{-0.23263, 3.5, 1, 2},
	{-0.00042859, 6.5, 1, 2},
	{-0.042810, 4.75, 4, 2},
	{-0.023038, 12.5, 2, 3},
}

// densePressure is the pressure in Pa of N2O at density d in mol/m³ and t. Two
// terms of the virial series are not enough for the gas of a charge that is
// still all in the headspace; this is.
func densePressure(d float64, t unit.Celsius) float64 {
	delta, tau := d/criticalDensity, criticalKelvin/t.Kelvin()
	if delta <= 0 {
		return 0
	}
	logDelta, logTau := math.Log(delta), math.Log(tau)
	sum := 0.0 // δ·∂α/∂δ
	for _, c := range helmholtz {
		term := c.n * math.Exp(c.d*logDelta+c.t*logTau)
		if c.l == 0 {
			sum += term * c.d
			continue
		}
		power := math.Exp(c.l * logDelta)
		sum += term * math.Exp(-power) * (c.d - c.l*power)
	}
	return d * helmholtzR * t.Kelvin() * (1 + sum)
}

// vapourTable is the pressure over liquid N2O in bar, computed from the
// equation above; the last row is the critical point.
var vapourTable = [...]struct {
	at  unit.Celsius
	bar float64
}{{0, 31.22}, {5, 35.42}, {10, 40.01}, {20, 50.53}, {25, 56.52}, {30, 63.07}, {36, 71.86}, {criticalKelvin - 273.15, criticalPressure / 1e5}}

// vapourPressure is the pressure in Pa at which N2O turns liquid at t, and
// whether it does at all: above 36.4 °C it does not. ln p is linear in 1/T
// between the rows (within 0.1 %).
func vapourPressure(t unit.Celsius) (pascal float64, exists bool) {
	if t.Kelvin() >= criticalKelvin {
		return 0, false
	}
	i := 1
	for i < len(vapourTable)-1 && vapourTable[i].at < t {
		i++
	}
	a, b := vapourTable[i-1], vapourTable[i]
	ln := between(1/t.Kelvin(), 1/a.at.Kelvin(), 1/b.at.Kelvin(), math.Log(a.bar), math.Log(b.bar))
	return math.Exp(ln) * 1e5, true
}

// headPressure is the partial pressure in Pa of n mol of N2O alone in a
// headspace of v m³ at t, and whether part of it would be liquid there.
func headPressure(n, v float64, t unit.Celsius) (pascal float64, liquid bool) {
	d := n / v
	limit, exists := vapourPressure(t)
	if !exists {
		return densePressure(d, t), false
	}
	p := densePressure(d, t)
	if d < surelyVapour && p < limit {
		return p, false
	}
	if d >= saturatedDensity(limit, t) {
		return limit, true
	}
	return min(p, limit), false
}

// surelyVapour is a density in mol/m³ below that of the saturated vapour at
// every temperature from 0 °C on where N2O can be liquid (1.93e3 at 0 °C).
const surelyVapour = 1.9e3

// saturatedDensity is the density in mol/m³ of the vapour at pressure limit: by
// Newton from the ideal density, from which the concave vapour branch is
// climbed without overshoot.
func saturatedDensity(limit float64, t unit.Celsius) float64 {
	d := limit / (helmholtzR * t.Kelvin())
	for range 12 {
		p := densePressure(d, t)
		step := d * 1e-4
		slope := (densePressure(d+step, t) - p) / step
		if slope <= 0 || limit-p <= 1e-6*limit {
			break
		}
		d += (limit - p) / slope
	}
	return d
}
