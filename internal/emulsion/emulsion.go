package emulsion

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Style is what the emulsion is meant to be; it decides the temperatures and
// whether it may do without an emulsifier.
type Style uint8

// The styles.
const (
	ColdCream   Style = iota // of the mayonnaise kind
	ButterSauce              // hot, on butter, with or without yolk
	Vinaigrette              // may be shaken together without an emulsifier
	NutCream                 // on nut or seed paste
	DairyCream               // on cream or milk
)

// Input is an emulsion as it stands in the recipe.
type Input struct {
	Style Style
	Water []Part // everything watery, eggs, salt and powders included
	Oil   []Part // oils, butter, nut pastes; cream too if it is the only fat
	// PH is the range of the watery side's pH, computed or measured. The zero
	// Range means that it is not known.
	PH       unit.Range
	Measured bool // PH was measured, not computed
	// Serve is the temperature it is held and served at, if that is known.
	Serve *unit.Celsius
	Tool  Tool // how the droplets are made
	// WaterViscosity is that of the watery side in Pa·s; zero takes thin juice.
	WaterViscosity float64
	// Vulnerable: guests who are very young, old, pregnant or ill.
	Vulnerable bool
}

// Answer is what the recipe comes to.
type Answer struct {
	Total, Oil, Watery unit.Mass     // g; Oil is the fat that stands as droplets
	OilByMass          unit.Fraction // of the total
	OilByVolume        unit.Fraction // phi, at usual densities
	Phi                unit.Range    // phi over the spread of densities
	TotalFat           unit.Fraction // with the fat bound in yolk
	YolkShare          unit.Fraction // egg yolk in the total
	Class              Class
	Place              float64 // 0 at the lower limit of the class, 1 at the upper
	Steps              []Step
	Rescue             Rescue
	Capacity           unit.Range    // g of fat that the emulsifiers carry, by practice
	Load               float64       // fat over typical capacity
	Netted             bool          // xanthan holds the droplets, with an emulsifier or without
	SaltInWater        unit.Fraction // salt per water and salt
	AceticInWater      unit.Fraction // acetic acid per water
	CitricInWater      unit.Fraction // citric acid per water
	Standards          []Verdict
	EggRules           []EggCheck // empty without raw egg
	Creaming           *Creaming  // nil above close packing
	Windows            []Window   // temperatures for this style
	Siphon             Siphon
	Notes              []note.Note
}

func (a *Answer) say(n note.Note) { a.Notes = append(a.Notes, n) }

// Make computes an emulsion. A refusal is a *note.Refusal; it names the input,
// the limit that was crossed and what would bring it back.
func Make(in Input) (Answer, error) {
	s, err := in.sum()
	if err != nil {
		return Answer{}, err
	}
	if err := in.check(s); err != nil {
		return Answer{}, err
	}
	a := s.answer()
	if err := a.carrier(in, s); err != nil {
		return Answer{}, err
	}
	a.packNotes()
	a.medium(s)
	a.creaming(in)
	a.Standards = s.standards()
	a.egg(in, s)
	a.temperature(in, s)
	a.siphon(in, s)
	for _, k := range s.allergens {
		a.say(note.New(note.Caution, Allergen, note.Word("allergen", k)))
	}
	return a, nil
}

func (in Input) check(s sums) error {
	switch {
	case len(in.Oil) == 0 || s.oil <= 0:
		return note.Refuse("oil", NoOil)
	case s.water <= 0:
		return note.Refuse("water", NoWater)
	case !(in.WaterViscosity >= 0 && in.WaterViscosity < 1e6):
		return note.Refuse("water-viscosity", BadFigure, note.Num("most", 1e6, unit.One))
	case in.Serve != nil && !(*in.Serve > -60 && *in.Serve < 150):
		return note.Refuse("serve", BadFigure, note.Num("most", 150, unit.DegreeC))
	case in.PH != (unit.Range{}) && !(in.PH.Valid() && in.PH.Low >= 0 && in.PH.High <= 14):
		return note.Refuse("ph", BadPH)
	}
	if share := s.oil / s.mass; share > float64(MostOil) {
		r := note.Refuse("oil", OilOver, note.Num("oil", share*100, unit.PercentOf), note.Num("most", MostOil.Percent(), unit.PercentOf),
			note.Num("water", float64(s.step(DensestPacking, Stiff).Water), unit.Gram))
		r.Source = lowe
		return r
	}
	return nil
}

func (s sums) answer() Answer {
	at, spread := s.phi()
	a := Answer{
		Total: unit.Mass(s.mass), Oil: unit.Mass(s.oil), Watery: unit.Mass(s.rest),
		OilByMass: unit.Fraction(s.oil / s.mass), OilByVolume: at, Phi: spread,
		TotalFat: unit.Fraction(s.fat / s.mass), YolkShare: unit.Fraction(s.yolk / s.mass),
		Class: ClassOf(at), Steps: s.steps(), Rescue: s.rescue(), Capacity: s.capacity,
		SaltInWater:   unit.Fraction(s.salt / (s.water + s.salt)),
		AceticInWater: unit.Fraction(s.acetic / s.water), CitricInWater: unit.Fraction(s.citric / s.water),
	}
	from, to := a.Class.bounds()
	a.Place = float64((at - from) / (to - from))
	return a
}

// carrier checks the emulsifiers against the fat.
func (a *Answer) carrier(in Input, s sums) error {
	if s.capacity.High <= 0 {
		if in.Style != Vinaigrette {
			return note.Refuse("water", NoEmulsifier, note.Num("yolk", s.oil/perYolk.Typical, unit.Gram), note.Num("lecithin", s.oil/perLecithin, unit.Gram))
		}
		if !s.netted() {
			a.say(note.New(note.Caution, Temporary, note.Num("mustard", s.oil/2, unit.Gram)).From(practice))
		}
		return nil
	}
	a.Load = s.oil / s.capacity.Typical
	// Compared as they are written, so that a figure never stands as more than itself.
	oil, usual, most := unit.Digits(s.oil, 3), unit.Digits(s.capacity.Typical, 2), unit.Digits(s.capacity.High, 2)
	switch {
	case oil > most:
		more := s.oil - s.capacity.Typical
		a.say(note.New(note.Caution, ShortCarrier, note.Num("oil", oil, unit.Gram), note.Num("most", most, unit.Gram), note.Num("typical", usual, unit.Gram),
			note.Num("yolk", more/perYolk.Typical, unit.Gram), note.Num("lecithin", more/perLecithin, unit.Gram)).From(practice))
	case oil > usual:
		a.say(note.New(note.Hint, ThinCarrier, note.Num("oil", oil, unit.Gram), note.Num("typical", usual, unit.Gram)).From(practice))
	case s.yolk > 0:
		a.say(note.New(note.Reason, WaterIsLimit).From(mcGee))
	}
	return nil
}

// What the watery side says: limits of salt and xanthan.
const (
	xanthanNet   = 0.0015 // of the whole: from here a network holds the droplets
	xanthanFlocs = 0.0001 // g/g: above this, and below the net, it makes creaming worse
	saltOpens    = 0.005  // of the whole: opens yolk granules, thickens
	saltLoosens  = 0.03   // of the whole: with acid it thins
)

// netted reports whether xanthan holds the droplets in place.
func (s sums) netted() bool { return s.xanthan/s.mass >= xanthanNet }

func (a *Answer) medium(s sums) {
	x := s.xanthan / s.mass
	a.Netted = s.netted()
	switch {
	case a.Netted:
		a.say(note.New(note.Reason, XanthanHolds, note.Num("xanthan", x*100, unit.PercentOf)).From(dressing))
	case x > xanthanFlocs:
		a.say(note.New(note.Caution, XanthanLow, note.Num("xanthan", x*100, unit.PercentOf), note.Num("need", xanthanNet*s.mass, unit.Gram)).From(parker))
	}
	salt := s.salt / s.mass
	switch {
	case salt > saltLoosens:
		a.say(note.New(note.Caution, SaltHigh, note.Num("salt", salt*100, unit.PercentOf)).From(granules))
	case salt >= saltOpens && s.yolk > 0:
		a.say(note.New(note.Reason, SaltHelps, note.Num("salt", salt*100, unit.PercentOf)).From(granules))
	}
}
