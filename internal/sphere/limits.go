package sphere

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// directLimits refuses what cannot take alginate: acid that citrate does not
// mend within its own limit, and calcium that sets it in the bowl.
func directLimits(in Input, c CitrateNeed) error {
	mends := c.ForPH.Typical > 0 && !c.RuleOfThumb && !c.Short
	if c.Now < leastPH && !mends {
		r := note.Refuse("ph", TooAcid, note.Num("ph", c.Now, unit.PH), note.Num("least", leastPH, unit.PH),
			note.Num("most", MostCitrate*float64(in.Liquid), unit.Gram))
		r.Source = acidGel
		return r
	}
	if in.takes() > mostCalcium {
		r := note.Refuse("calcium", TooMuchCalcium, note.Num("calcium", in.Calcium.Typical, unit.MmolPerKg),
			note.Num("most", mostCalcium*binds(DirectDose.Typical), unit.MmolPerKg))
		r.Source = groups
		return r
	}
	return nil
}

// takes is the share of a typical dose's groups that the liquid's calcium would
// tie up, beside the citrate that is in already.
func (in Input) takes() float64 { return in.freeWith(0) / binds(DirectDose.Typical) }

func (a *Answer) citrateNotes(in Input) {
	if in.PH.Low < leastPH && a.Citrate.Now >= leastPH {
		a.say(note.New(note.Caution, PHUnsure, note.Num("low", in.PH.Low, unit.PH), note.Num("least", leastPH, unit.PH)).From(acidGel).At("ph"))
	}
	a.citrateDose(in)
	c := a.Citrate
	most := note.Num("most", MostCitrate*float64(in.Liquid), unit.Gram)
	switch {
	case c.Fails && c.PH < usablePH && !c.RuleOfThumb:
		a.say(note.New(note.Caution, CitrateShort, most, note.Num("to", c.PH, unit.PH)).From(practice).At("ph"))
	case c.Fails:
		a.say(note.New(note.Caution, CitrateLeaves, most, note.Num("left", c.Left, unit.MmolPerKg)).From(binding))
	case c.Short:
		a.say(note.New(note.Hint, CitrateTop, most).From(practice))
	}
	// A dose is written with three digits: what that adds is not too much.
	if share := float64(in.Citrate+in.Counted+c.Total()) / float64(in.Liquid); share > 1.01*MostCitrate {
		a.say(note.New(note.Caution, CitrateHigh, note.Num("citrate", share*100, unit.PercentOf), note.Num("most", MostCitrate*100, unit.PercentOf)).From(practice))
	}
	if got := in.takes(); got >= someCalcium {
		a.say(note.New(note.Caution, CalciumSome, note.Num("taken", got*100, unit.PercentOf)).From(groups))
	}
}

// citrateDose says what to stir in and what for; once, since it is one dose.
func (a *Answer) citrateDose(in Input) {
	c := a.Citrate
	dose, calcium := note.Num("citrate", c.Dose.Typical, unit.Gram), note.Num("calcium", in.Calcium.Typical, unit.MmolPerKg)
	from, to := note.Num("ph", c.Now, unit.PH), note.Num("to", c.PH, unit.PH)
	lift := titration
	if len(in.Titration) > 0 {
		lift = curve
	}
	forPH, forCalcium := c.ForPH.Typical > 0, c.ForCalcium > 0
	switch {
	case c.RuleOfThumb && forPH:
		a.say(note.New(note.Caution, CitrateRule, dose, from).From(recipes).At("ph"))
	case forPH && forCalcium:
		a.say(note.New(note.Hint, CitrateBoth, dose, from, to, calcium).From(binding).At("ph"))
	case forPH:
		a.say(note.New(note.Hint, CitratePH, dose, from, to).From(lift).At("ph"))
	case forCalcium:
		a.say(note.New(note.Hint, CitrateCa, dose, calcium).From(binding))
	}
	if forCalcium && c.PH < usablePH {
		a.say(note.New(note.Caution, CitrateWeak, note.Num("ph", c.PH, unit.PH)).From(binding))
	}
}

// Recipe is a finished direct recipe to be judged.
type Recipe struct {
	Liquid, Alginate, Citrate unit.Mass  // g
	PH, Calcium               unit.Range // of the liquid before citrate
	Acids                     []Acid
	Bath, Salt                unit.Mass // g of water and of calcium salt
	Kind                      Salt
}

// Verdict is what a recipe gives.
type Verdict uint8

// The verdicts.
const (
	Weak   Verdict = iota // a skin that tears, or none in time
	Sphere                // a sphere
)

// Classify tells whether a direct recipe gives spheres. It refuses what cannot,
// with the figure and the limit.
func Classify(r Recipe) (Verdict, []note.Note, error) {
	in := Input{Liquid: r.Liquid, PH: r.PH, Calcium: r.Calcium, Acids: r.Acids, Citrate: r.Citrate, Salt: r.Kind, BathWater: r.Bath}.defaults()
	if err := in.check(); err != nil {
		return Weak, nil, err
	}
	if !(r.Alginate > 0 && r.Alginate <= r.Liquid) {
		return Weak, nil, note.Refuse("alginate", BadFigure, note.Num("most", float64(r.Liquid), unit.Gram))
	}
	content, err := r.Kind.Content(r.Salt, r.Bath)
	if err != nil {
		return Weak, nil, err
	}
	c := citrateNeed(in)
	// The recipe adds no more citrate than it says.
	if err := directLimits(in, CitrateNeed{Now: c.Now, PH: c.Now}); err != nil {
		return Weak, nil, err
	}
	return judge(float64(r.Alginate/(r.Liquid+r.Alginate)), content)
}

// judge compares dose and bath with their windows, a tenth of slack each way.
func judge(dose float64, content unit.Range) (Verdict, []note.Note, error) {
	v, notes := Sphere, []note.Note(nil)
	if dose < DirectDose.Low*0.9 || dose > DirectDose.High*1.1 {
		v = Weak
		notes = append(notes, note.New(note.Caution, DoseOutside, note.Num("dose", dose*100, unit.PercentOf), note.Num("low", DirectDose.Low*100, unit.PercentOf), note.Num("high", DirectDose.High*100, unit.PercentOf)).From(practice))
	}
	switch {
	case content.Typical < weakBath:
		v = Weak
		notes = append(notes, note.New(note.Caution, BathWeak, note.Num("calcium", content.Typical, unit.MmolPerKg), note.Num("least", weakBath, unit.MmolPerKg)).From(practice))
	case content.Typical > strongBath:
		notes = append(notes, note.New(note.Caution, BathStrong, note.Num("calcium", content.Typical, unit.MmolPerKg), note.Num("most", strongBath, unit.MmolPerKg)).From(practice))
	}
	return v, notes, nil
}
