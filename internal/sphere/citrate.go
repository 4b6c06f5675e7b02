package sphere

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// AcidKind is an acid of fruit and vinegar.
type AcidKind uint8

// The acids that count here.
const (
	Citric AcidKind = iota
	Malic
	Tartaric
	Lactic
	Acetic
)

// Acid is how much of an acid a liquid holds, all its forms together, mol/kg.
type Acid struct {
	Kind     AcidKind
	MolPerKg float64
}

// pKas at 25 °C and no salt: citric, tartaric and acetic by MINTEQA2, malic and
// lactic from memory.
var pKas = [...][]float64{
	Citric:   {3.128, 4.761, 6.396},
	Malic:    {3.40, 5.11},
	Tartaric: {3.036, 4.366},
	Lactic:   {3.86},
	Acetic:   {4.757},
}

// davies is -log10 of the activity coefficient of a single charge at ionic
// strength 0.1, which is near enough for juice with citrate.
const davies = 0.107

// charge is the mean negative charge of an acid at a pH, and the share of its
// last, bare form.
func (k AcidKind) charge(ph float64) (mean, bare float64) {
	weight, sum, charged := 1.0, 1.0, 0.0
	for n, pK := range pKas[k] {
		z := float64(n + 1)
		weight *= math.Pow(10, ph-pK+davies*(2*z-1))
		sum += weight
		charged += z * weight
	}
	return charged / sum, weight / sum
}

func charges(acids []Acid, ph float64) float64 {
	q := 0.0
	for _, a := range acids {
		z, _ := a.Kind.charge(ph)
		q += a.MolPerKg * z
	}
	return q
}

// hydrogen is the concentration of H+ at a pH, mol/kg.
func hydrogen(ph float64) float64 { return math.Pow(10, davies-ph) }

// PHWithCitrate is the pH of a liquid of known acids after trisodium citrate,
// mol/kg, has gone in.
func PHWithCitrate(from float64, acids []Acid, citrate float64) (float64, error) {
	if err := checkAcids(acids); err != nil {
		return 0, err
	}
	if !(from >= 0 && from <= 14) || !(citrate >= 0 && citrate <= 10) {
		return 0, note.Refuse("citrate", BadFigure, note.Num("most", 10, unit.MolPerKg))
	}
	return lifted(from, acids, citrate), nil
}

// lifted is PHWithCitrate for figures that have been checked.
func lifted(from float64, acids []Acid, citrate float64) float64 {
	if citrate == 0 {
		return from
	}
	brought := charges(acids, from) - hydrogen(from) + 3*citrate
	low, high := from, 14.0
	for range 60 {
		at := (low + high) / 2
		z, _ := Citric.charge(at)
		if charges(acids, at)+citrate*z-hydrogen(at) < brought {
			low = at
		} else {
			high = at
		}
	}
	return (low + high) / 2
}

func checkAcids(acids []Acid) error {
	for _, a := range acids {
		if int(a.Kind) >= len(pKas) || !(a.MolPerKg >= 0 && a.MolPerKg <= 10) {
			return note.Refuse("acids", BadFigure, note.Num("most", 10, unit.MolPerKg))
		}
	}
	return nil
}

// The calcium citrate complexes, log10 at no salt, and the activity term of
// each at ionic strength 0.1 (sum of squared charges that the bond removes).
var complexes = [...]struct{ logK, squares, hydrogens float64 }{
	{4.87, 12, 0},  // CaCit-
	{9.26, 13, 1},  // CaHCit
	{12.26, 12, 2}, // CaH2Cit+
}

// BindingConstant is how strongly citrate of all forms holds calcium at a pH,
// in kg/mol at ionic strength 0.1: some 3600 at pH 7, about 4 at pH 3.
func BindingConstant(ph float64) float64 {
	_, bare := Citric.charge(ph)
	k := 0.0
	for _, c := range complexes {
		k += math.Pow(10, c.logK-davies*c.squares-ph*c.hydrogens)
	}
	return k * bare
}

// FreeCalcium is what calcium stays unbound beside citrate, all in mmol/kg.
func FreeCalcium(calcium, citrate, ph float64) float64 {
	k := BindingConstant(ph) / 1000
	b := k*(citrate-calcium) + 1
	return (-b + math.Sqrt(b*b+4*k*calcium)) / (2 * k)
}
