package gel

import (
	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// JellyPectin is the grams of pectin of a SAG grade that set the given grams of
// sugar at 65 % solids: grade is by definition grams of sugar for each gram.
func JellyPectin(grade float64, sugar unit.Mass) (unit.Mass, error) {
	if err := checkMass("sugar", float64(sugar)); err != nil {
		return 0, err
	}
	if !unit.Finite(grade) || grade < gradeLimits[agent.SAG].low || grade > gradeLimits[agent.SAG].high {
		return 0, note.Refuse("grade", CodeSAGRange, note.Num("grade", grade, unit.One),
			note.Num("low", gradeLimits[agent.SAG].low, unit.One), note.Num("high", gradeLimits[agent.SAG].high, unit.One))
	}
	return unit.Mass(float64(sugar) / grade), nil
}

// SAGGrade is the true grade of a pectin from the sag of a jelly made for an
// assumed grade: assumed × (2 − sag/23.5), from memory, and exact at its anchor
// of 23.5 %. The sag is in per cent and must lie between 19 and 28.
func SAGGrade(assumed, sag float64) (float64, error) {
	if err := checkMass("grade", assumed); err != nil {
		return 0, err
	}
	if !unit.Finite(sag) || sag < minSag || sag > maxSag {
		return 0, note.Refuse("sag", CodeSagRange, note.Num("sag", sag, unit.PercentOf),
			note.Num("low", minSag, unit.PercentOf), note.Num("high", maxSag, unit.PercentOf))
	}
	return assumed * (2 - sag/StandardSag), nil
}

// BloomModulus is the shear modulus in Pa of a 6.67 % gelatin gel at 10 °C from
// its Bloom: a flat punch of radius a pushed d into an incompressible
// half-space needs F = 8·a·d·G. The cup stiffens the reading, so the plain
// result is the upper bound and half of it the lower one (common practice).
func BloomModulus(bloom float64) (unit.Range, error) {
	if err := checkMass("grade", bloom); err != nil {
		return unit.Range{}, err
	}
	top := bloom * 1e-3 * gravity / (8 * BloomPunchRadius * BloomDepth * 1e-6)
	return unit.Range{Low: 0.5 * top, Typical: 0.7 * top, High: top}, nil
}
