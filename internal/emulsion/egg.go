package emulsion

import (
	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Met says whether a recipe is inside a published figure.
type Met uint8

// What a comparison can say. Measure means that the figure lies within the
// uncertainty of the pH.
const (
	Not Met = iota
	Measure
	Inside
)

// EggCheck is one published figure held against the recipe. Inside is not safe:
// the sources disagree and a kitchen is not their laboratory.
type EggCheck struct {
	Rule    EggRule
	Applies bool // its acid is the one in the recipe
	PH      Met
	Amount  Met // acid in the watery side or per egg; Inside when the source asks for none
}

func metPH(ph unit.Range, most float64) Met {
	switch {
	case ph == (unit.Range{}) || ph.Contains(most) && ph.High > most:
		return Measure
	case ph.High <= most:
		return Inside
	}
	return Not
}

// applies tells whether the acid of the recipe is the rule's: vinegar figures
// hold only where acetic acid is the larger part.
func (r EggRule) applies(s sums) bool {
	switch r.Acid {
	case AceticAcid:
		return s.acetic > s.citric
	case CitricAcid:
		return s.citric >= s.acetic && s.citric > 0
	}
	return true
}

func (r EggRule) amount(s sums) Met {
	acid := s.acetic
	if r.Acid == CitricAcid {
		acid = s.citric
	}
	if need := r.needs(s); acid < need {
		return Not
	}
	if s.acetic/s.water < float64(r.AceticInWater) {
		return Not
	}
	return Inside
}

// needs is the acid in grams that the rule asks for these eggs. A yolk and a
// white together count as a whole egg, where the rule has one.
func (r EggRule) needs(s sums) float64 {
	yolks, whites := s.yolk/float64(YolkMass), s.white/float64(whiteMass)
	if r.AcidPerEgg > 0 {
		whole := min(yolks, whites)
		return whole*float64(r.AcidPerEgg) + (yolks-whole)*float64(r.AcidPerYolk) + (whites-whole)*float64(r.AcidPerWhite)
	}
	return (yolks + whites) * float64(r.AcidPerYolk)
}

// egg holds raw egg against the published figures. With raw egg there is always
// a note of the Danger level: nothing computed here makes it safe.
func (a *Answer) egg(in Input, s sums) {
	if s.rawEgg == 0 {
		if s.yolk > 0 || s.white > 0 {
			a.say(note.New(note.Reason, Pasteurised).From(foodCode))
		}
		return
	}
	for _, r := range EggRules {
		a.EggRules = append(a.EggRules, EggCheck{Rule: r, Applies: r.applies(s), PH: metPH(in.PH, r.MaxPH), Amount: r.amount(s)})
	}
	a.say(note.New(note.Danger, RawEgg, note.Num("egg", s.rawEgg, unit.Gram)).From(foodCode))
	if in.Vulnerable {
		a.say(note.New(note.Danger, RawEggGuests).From(foodCode))
	}
	a.eggPH(in, s)
	if in.Style == ButterSauce {
		return // never chilled
	}
	a.say(note.New(note.Caution, HoldConflict).From(eggConflict))
	for _, c := range a.EggRules {
		if c.Applies && c.Amount == Not && c.Rule.AcidPerYolk > 0 {
			a.say(note.New(note.Caution, BelowOwnAdvice, note.Num("need", c.Rule.needs(s), unit.Gram), note.Num("have", max(s.acetic, s.citric), unit.Gram)).From(c.Rule.Source))
		}
	}
}

func (a *Answer) eggPH(in Input, s sums) {
	if in.PH == (unit.Range{}) {
		a.say(note.New(note.Danger, PHUnknown).From(eggReview).At("ph"))
		return
	}
	most, from := s.eggLimit()
	args := []note.Arg{note.Num("low", in.PH.Low, unit.PH), note.Num("high", in.PH.High, unit.PH), note.Num("most", most, unit.PH)}
	code := RawEggMeasure
	switch {
	case in.PH.Low > most:
		code = RawEggPH
	case in.Measured && in.PH.High <= most:
		code = RawEggWithin
	case in.Measured:
		code = RawEggNear
	}
	a.say(note.New(note.Danger, code, args...).From(from).At("ph"))
}

// eggLimit is the pH that this program asks for with raw egg: the lower end of
// the vinegar figures, or the figure for citric acid when that is the acid.
func (s sums) eggLimit() (float64, source.Ref) {
	if s.acetic > s.citric {
		return strictVinegar, acidRatios
	}
	return strictCitric, lemonStudy
}

// insideAcid reports whether the pH was measured and its whole range lies inside
// that limit.
func insideAcid(in Input, s sums) bool {
	most, _ := s.eggLimit()
	return in.Measured && in.PH != (unit.Range{}) && in.PH.High <= most
}
