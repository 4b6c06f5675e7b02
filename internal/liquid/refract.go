package liquid

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// What a sucrose-scaled refractometer shows per % by mass of each constituent.
// Salt, ethanol and acid are from memory; protein is from the refractive
// increments 0.185 and 0.145 ml/g, from memory; carbohydrate counts as sugar.
const (
	readSalt    = 1.15
	readAcid    = 0.90
	readProtein = 1.25
	readAsh     = 1.0
)

// SavouryBrix is the part of the dissolved solids, in °Bx, that is salt and protein:
// what a figure for sugar must leave out.
func SavouryBrix(salt, protein unit.Fraction) float64 {
	return readSalt*salt.Percent() + readProtein*protein.Percent()
}

// readEthanol is °Bx per % by mass of ethanol.
var readEthanol = unit.Range{Low: 0.35, Typical: 0.42, High: 0.50}

// brixWeight is the °Bx that 1 % by mass of a constituent shows, alcohol apart.
func brixWeight(c Constituent) float64 {
	switch {
	case c >= Sucrose && c <= OtherSugar, c == OtherCarb:
		return 1
	case c >= DairyProtein && c <= Collagen:
		return readProtein
	case c >= Acetic && c <= Sulfurous:
		return readAcid
	case c == Sodium:
		return readSalt * SaltPerSodium
	}
	return 0
}

// brix is the dissolved solids as °Bx of sucrose, ethanol left out, from grams.
func (a *Amounts) brix() float64 {
	sum := readAsh * a.otherAsh()
	for c := Sucrose; c < Phosphate; c++ {
		sum += brixWeight(c) * a[c]
	}
	sum += brixWeight(Sodium) * a[Sodium]
	return 100 * sum / a.Mass()
}

// reading is what a refractometer shows, °Bx, ethanol included.
func (a *Amounts) reading(perEthanol float64) float64 {
	return a.brix() + 100*perEthanol*a[Ethanol]/a.Mass()
}

// Refractive index of sucrose solutions at 20 °C: °Bx as a polynomial of nD
// (fit to the ICUMSA table, T).
var brixOfIndex = [...]float64{-99127.4536, 318417.95, -413145.80, 270177.93, -88885.21, 11758.74}

// BrixOfIndex is the °Brix of a refractive index nD at 20 °C, 1.3330 to 1.5033.
func BrixOfIndex(n float64) (float64, error) {
	if !unit.Finite(n) || n < 1.3329 || n > 1.5033 {
		return 0, note.Refuse("index", CodeRange, note.Num("value", finiteOr0(n), unit.One), note.Num("low", 1.333, unit.One), note.Num("high", 1.5033, unit.One))
	}
	return polynomial(brixOfIndex[:], n), nil
}

// IndexOfBrix is the refractive index nD at 20 °C of a sucrose solution, 0 to 80 °Brix.
func IndexOfBrix(brix float64) (float64, error) {
	if !unit.Finite(brix) || brix < 0 || brix > 80 {
		return 0, note.Refuse("brix", CodeRange, note.Num("value", finiteOr0(brix), unit.Brix), note.Num("low", 0, unit.Brix), note.Num("high", 80, unit.Brix))
	}
	return bisect(1.33, 1.51, func(n float64) float64 { return polynomial(brixOfIndex[:], n) - brix }), nil
}

// Correction of a hand refractometer that was made for 20 °C, °Bx per kelvin
// away from it, by the °Bx read: rounded from the ICUMSA correction table (from
// memory).
var brixPerKelvin = [...][2]float64{{0, 0.060}, {15, 0.068}, {30, 0.075}, {50, 0.079}, {70, 0.080}}

// CorrectReading is a refractometer reading taken at t brought to 20 °C; for
// instruments without their own correction, 10 to 40 °C.
func CorrectReading(brix float64, t unit.Celsius) (float64, error) {
	if !unit.Finite(brix) || brix < 0 || brix > 85 {
		return 0, note.Refuse("reading", CodeRange, note.Num("value", finiteOr0(brix), unit.Brix), note.Num("low", 0, unit.Brix), note.Num("high", 85, unit.Brix))
	}
	if err := checkTemperature(t, 10, 40); err != nil {
		return 0, err
	}
	return max(0, brix+interpolate(brixPerKelvin[:], brix)*float64(t-20)), nil
}
