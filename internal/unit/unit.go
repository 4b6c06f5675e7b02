// Package unit holds the quantities of the kitchen, each in one base unit, and
// reads and writes figures the way cooks type them.
//
// Base units: mass in grams, volume in millilitres, density in g/ml (equal to
// kg/l), temperature in degrees Celsius, pressure in pascals, time in seconds,
// and fractions as parts of one (a dose of 1 % is 0.01). A page or a file that
// uses other units converts at its edge.
package unit

import "math"

// Mass is a mass in grams.
type Mass float64

// Volume is a volume in millilitres.
type Volume float64

// Density is a density in grams per millilitre.
type Density float64

// Celsius is a temperature in degrees Celsius.
type Celsius float64

// Pressure is a pressure or a modulus in pascals.
type Pressure float64

// Seconds is a span of time in seconds.
type Seconds float64

// Fraction is a part of one: 1 % is 0.01.
type Fraction float64

// AbsoluteZero is the lowest temperature, in °C.
const AbsoluteZero Celsius = -273.15

// Atmosphere is the standard atmosphere in pascals (ISO 2533:1975).
const Atmosphere Pressure = 101325

// Kelvin is the temperature in kelvins.
func (c Celsius) Kelvin() float64 { return float64(c) - float64(AbsoluteZero) }

// Mass is the mass of v at density d.
func (v Volume) Mass(d Density) Mass { return Mass(float64(v) * float64(d)) }

// Volume is the volume of m at density d; d must be positive.
func (m Mass) Volume(d Density) Volume { return Volume(float64(m) / float64(d)) }

// Of is the fraction f of a mass.
func (f Fraction) Of(m Mass) Mass { return Mass(float64(f) * float64(m)) }

// Percent is the fraction in per cent.
func (f Fraction) Percent() float64 { return float64(f) * 100 }

// Percent makes a fraction from a figure in per cent.
func Percent(p float64) Fraction { return Fraction(p / 100) }

// Finite reports whether x is neither NaN nor infinite.
func Finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// Digits rounds to so many significant digits, at least one.
func Digits(x float64, digits int) float64 {
	if x == 0 || !Finite(x) {
		return x
	}
	p := math.Pow10(digits - 1 - int(math.Floor(math.Log10(math.Abs(x)))))
	return math.Round(x*p) / p
}

// Range is an uncertain figure: a plausible low and high around what is
// typical. It is not a tolerance that anyone guarantees.
type Range struct{ Low, Typical, High float64 }

// Exactly is a range without spread.
func Exactly(x float64) Range { return Range{x, x, x} }

// Valid reports whether the three figures are finite and in order.
func (r Range) Valid() bool {
	return Finite(r.Low) && Finite(r.Typical) && Finite(r.High) && r.Low <= r.Typical && r.Typical <= r.High
}

// Contains reports whether x lies within the range, ends included.
func (r Range) Contains(x float64) bool { return r.Low <= x && x <= r.High }

// Overlaps reports whether two ranges share a figure.
func (r Range) Overlaps(o Range) bool { return r.Low <= o.High && o.Low <= r.High }

// Scale multiplies all three figures by a factor, which must not be negative.
func (r Range) Scale(k float64) Range { return Range{r.Low * k, r.Typical * k, r.High * k} }
