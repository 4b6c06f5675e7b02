package gel

import (
	"math"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// A cook weighs grams and reads two digits: what the model worked out, and the
// limits of practice, have no more to tell. What a person typed keeps its digits.

// said is a figure of a sentence with two significant digits.
func said(name string, v float64, u unit.Symbol) note.Arg { return note.Num(name, twoDigits(v), u) }

// against is a limit that x was held to, with two digits unless they would put x
// on its other side.
func against(name string, limit, x float64, u unit.Symbol) note.Arg {
	if r := twoDigits(limit); (r < x) == (limit < x) && (r > x) == (limit > x) {
		return note.Num(name, r, u)
	}
	return note.Num(name, limit, u)
}

// twoDigits rounds to two significant digits. Whole hundreds and more are
// divided, not multiplied, so that 1300 stays 1300.
func twoDigits(v float64) float64 {
	if v == 0 || !unit.Finite(v) {
		return v
	}
	digits := 1 - math.Floor(math.Log10(math.Abs(v)))
	if digits >= 0 {
		p := math.Pow(10, digits)
		return math.Round(v*p) / p
	}
	p := math.Pow(10, -digits)
	return math.Round(v/p) * p
}

// Molar masses in g/mol (IUPAC standard atomic weights).
const molarNa, molarK, molarSalt = 22.990, 39.098, 58.44

var molarIon = [...]float64{agent.Sodium: molarNa, agent.Potassium: molarK, agent.Calcium: agent.MolarCa}

// saidIon is an amount of an ion, in mmol/kg, as a weight in a kilogram of
// liquid: mg, or g from one gram on.
func saidIon(name string, ion agent.Ion, mmol float64) note.Arg {
	mg := mmol * molarIon[ion]
	if math.Abs(mg) >= 1000 {
		return said(name, mg/1000, unit.Gram)
	}
	return said(name, mg, unit.Milligram)
}

// saltPercent is a mmol/kg of sodium as the kitchen salt that would bring it, in
// g per 100 g.
const saltPercent = molarSalt / 1e4
