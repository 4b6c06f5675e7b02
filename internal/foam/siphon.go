package foam

import (
	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Siphon is one size of body on the shelf.
type Siphon struct {
	ID      string      // a stable name for the page, e.g. "siphon-500"
	Nominal unit.Volume // what the maker calls it, ml
	Brim    unit.Range  // ml that it holds to the head's underside; equal ends when measured
	Line    unit.Volume // maximum fill, ml: the marked line. 0 means the nominal volume
	Count   int         // how many of them stand on the shelf
	// WorkingPressure is the gauge pressure that its maker states, Pa; 0 when none is stated.
	WorkingPressure unit.Pressure
	// MadeForN2O says that the maker sells it for foaming food with 8 g N2O
	// chargers. Without it no advice is given.
	MadeForN2O bool
	// Rule is the trade's rule for charges; zero takes the catalogue's for the size.
	Rule   ChargeRule
	Source source.Ref // of Brim; of the whole record in the catalogue
}

// ChargeRule is how many 8 g charges a body takes by rule of thumb.
type ChargeRule struct {
	Rich      unit.Range // cold and rich: cream
	Lean      unit.Range // cold and lean
	Hot       unit.Range
	NeverOver int // never more than this per filling
	Source    source.Ref
}

// Charger is the gas of one charger.
type Charger struct {
	Gas      unit.Range // g of N2O
	Transfer unit.Range // part of it that reaches the siphon
	Source   source.Ref
}

// Gas is what the cook wants to charge with.
type Gas uint8

// The gases a cook may have at hand. Only the first gets advice.
const (
	FoodN2O  Gas = iota // food-grade N2O (E 942) in 8 g chargers
	OtherGas            // CO2, technical or engine N2O, cylinders, anything else
)

// maxLine is the share of the brim that other advice gives as the fullest fill.
const maxLine = 0.75

// UsefulMinimum is the least sensible fill as a share of the line: below it most
// of the gas stays behind in the body. Rule of thumb: 40 to 50 %.
const UsefulMinimum = 0.40

// usefulGood is the share of the line above which a fill needs no comment.
const usefulGood = 0.50

// LineOr is the fill line in ml.
func (s Siphon) LineOr() unit.Volume {
	if s.Line > 0 {
		return s.Line
	}
	return s.Nominal
}

// Measured reports whether the cook has measured the brim volume.
func (s Siphon) Measured() bool { return s.Brim.Low == s.Brim.High && s.Brim.Low > 0 }

// CustomSiphon completes a body of the cook's own: what is not given is taken
// from the nearest size of the catalogue, in proportion. Errors are refusals
// (size outside 150 to 1100 ml, figures that make no body).
func CustomSiphon(s Siphon) (Siphon, error) {
	if err := within("siphon.nominal", float64(s.Nominal), 1, 1e5, unit.Millilitre); err != nil {
		return s, err
	}
	if s.Nominal < smallestBody || s.Nominal > largestBody {
		return s, note.Refuse("siphon.nominal", CodeSiphonSize, note.Num("value", float64(s.Nominal), unit.Millilitre),
			note.Num("low", smallestBody, unit.Millilitre), note.Num("high", largestBody, unit.Millilitre))
	}
	near := nearestBody(s.Nominal)
	if s.Brim == (unit.Range{}) {
		s.Brim = near.Brim.Scale(float64(s.Nominal / near.Nominal))
		s.Source = near.Source
	}
	if s.Rule == (ChargeRule{}) {
		s.Rule = near.Rule
	}
	return s, s.check()
}

// The sizes for which there is a rule of charges at all.
const (
	smallestBody = 150
	largestBody  = 1100
)

// nearestBody is the largest body of the catalogue that is not larger, or its
// smallest, so that there are never more charges than for the size.
func nearestBody(v unit.Volume) Siphon {
	all := Catalogue()
	near := all[0]
	for _, s := range all[1:] {
		if s.Nominal <= v {
			near = s
		}
	}
	return near
}

// check refuses a body that cannot be, or that is not made for this.
func (s Siphon) check() error {
	if !s.MadeForN2O {
		return note.Refuse("siphon", CodeNotSiphon)
	}
	if err := within("siphon.nominal", float64(s.Nominal), smallestBody, largestBody, unit.Millilitre); err != nil {
		return err
	}
	if !s.Brim.Valid() {
		return note.Refuse("siphon.brim", CodeNotFigure)
	}
	if err := within("siphon.brim", s.Brim.Low, 0.9*float64(s.Nominal), 2*float64(s.Nominal), unit.Millilitre); err != nil {
		return err
	}
	if err := within("siphon.brim", s.Brim.High, s.Brim.Low, 2*float64(s.Nominal), unit.Millilitre); err != nil {
		return err
	}
	if err := within("siphon.line", float64(s.LineOr()), 0.3*float64(s.Nominal), 0.95*s.Brim.Typical, unit.Millilitre); err != nil {
		return err
	}
	if err := within("siphon.pressure", float64(s.WorkingPressure)/1e5, 0, 100, unit.BarUnit); err != nil {
		return err
	}
	if s.Rule.NeverOver < 1 || s.Rule.NeverOver > 3 {
		return outside("siphon.charges", float64(s.Rule.NeverOver), 1, 3, unit.Charger)
	}
	return within("siphon.count", float64(s.Count), 0, 100, unit.One)
}
