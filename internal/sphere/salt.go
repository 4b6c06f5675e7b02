package sphere

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Salt is a calcium salt or one of its hydrates.
type Salt struct {
	Key     string     // of the text catalogue, e.g. "salt.cacl2-2h2o"
	Calcium unit.Range // calcium as a share of its mass
}

// CalciumShare is the share of calcium in a salt with one calcium, from its
// molar mass in g/mol, water of crystallisation included.
func CalciumShare(molar float64) float64 { return MolarCalcium / molar }

// check refuses a salt that is not known, or that holds more calcium than
// calcium itself.
func (s Salt) check() error {
	if s.Calcium == (unit.Range{}) {
		return note.Refuse("calcium-salt", SaltUnknown)
	}
	if !s.Calcium.Valid() || s.Calcium.Low <= 0 || s.Calcium.High >= 1 {
		return note.Refuse("calcium-salt", BadFigure, note.Num("most", 100, unit.PercentOf))
	}
	return nil
}

// PerGram is the calcium of a gram of salt, mmol.
func (s Salt) PerGram() unit.Range { return s.Calcium.Scale(1000 / MolarCalcium) }

// Equivalent is how many grams of to carry the calcium of one gram of s, at
// their typical calcium. It refuses an unknown salt.
func (s Salt) Equivalent(to Salt) (float64, error) {
	for _, x := range []Salt{s, to} {
		if err := x.check(); err != nil {
			return 0, err
		}
	}
	return s.Calcium.Typical / to.Calcium.Typical, nil
}

// Dose is the grams of salt that bring a mass of water or liquid to a calcium
// content in mmol per kg of the finished mix. It refuses contents that the salt
// cannot reach within half its own weight.
func (s Salt) Dose(calcium float64, into unit.Mass) (unit.Mass, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	if !(calcium >= 0 && calcium <= 1e5) || !(into > 0 && into <= maxMass) {
		return 0, note.Refuse("calcium", BadFigure, note.Num("most", float64(maxMass), unit.Gram))
	}
	per := s.PerGram().Typical - calcium/1000
	if per < calcium/1000 {
		return 0, note.Refuse("calcium-salt", SaltWeak, note.Num("most", s.PerGram().Typical/2*1000, unit.MmolPerKg))
	}
	return unit.Mass(calcium / 1000 * float64(into) / per), nil
}

// Content is the calcium in mmol per kg of a mix of salt and water.
func (s Salt) Content(salt, water unit.Mass) (unit.Range, error) {
	if err := s.check(); err != nil {
		return unit.Range{}, err
	}
	if !(salt >= 0 && salt <= maxMass) || !(water > 0 && water <= maxMass) {
		return unit.Range{}, note.Refuse("bath", BadFigure, note.Num("most", float64(maxMass), unit.Gram))
	}
	return s.PerGram().Scale(float64(salt) / float64(salt+water) * 1000), nil
}

// maxMass is the largest mass taken, a tonne.
const maxMass unit.Mass = 1e6
