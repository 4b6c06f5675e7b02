package sphere

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// citrateNeed finds the citrate for pH and for calcium.
func citrateNeed(in Input) (CitrateNeed, error) {
	c := CitrateNeed{PH: in.PH.Typical}
	per := func(mol float64) float64 { return mol * trisodiumMolar * float64(in.Liquid) / 1000 }
	start := in.PH.Typical
	if len(in.Acids) > 0 {
		var err error
		if start, err = PHWithCitrate(in.PH.Typical, in.Acids, float64(in.Citrate)/trisodiumMolar/float64(in.Liquid)*1000); err != nil {
			return c, err
		}
	}
	c.Now, c.PH = start, start
	if start < usablePH {
		if len(in.Acids) == 0 {
			c.RuleOfThumb = true
			c.ForPH = unit.Range{Low: 0.001, Typical: ruleOfThumbCitrate, High: mostCitrate}.Scale(float64(in.Liquid))
		} else {
			acids := in.withCitrate()
			var g [3]float64
			for n, to := range []float64{usablePH, (usablePH + betterPH) / 2, betterPH} {
				mol, err := CitrateForPH(start, to, acids)
				if err != nil {
					return c, err
				}
				g[n] = per(mol)
			}
			c.ForPH = unit.Range{Low: g[0], Typical: g[1], High: g[2]}
			c.PH = (usablePH + betterPH) / 2
		}
	}
	c.ForCalcium = citrateForCalcium(in, c)
	return c, nil
}

// ruleOfThumbCitrate is what a published recipe with thinned mango used, g/g.
const ruleOfThumbCitrate = 0.0026

// withCitrate adds the citrate that is in already to the acids.
func (in Input) withCitrate() []Acid {
	if in.Citrate == 0 {
		return in.Acids
	}
	return append([]Acid{{Citric, float64(in.Citrate) / trisodiumMolar / float64(in.Liquid) * 1000}}, in.Acids...)
}

// citrateForCalcium is the citrate beyond what pH asks for, in g, when the
// calcium would tie up a fifth of the alginate or more, or the water is hard.
func citrateForCalcium(in Input, c CitrateNeed) unit.Mass {
	ca := in.Calcium.Typical
	if ca < hardCalcium && ca < someCalcium*binds(DirectDose.Typical) {
		return 0
	}
	keep := keepCalcium * binds(DirectDose.Typical)
	need := CitrateForCalcium(ca, keep, c.PH) // mmol/kg
	extra := need*trisodiumMolar/1e6*float64(in.Liquid) - c.ForPH.Typical - float64(in.Citrate)
	return unit.Mass(max(0, extra))
}

// directLimits refuses what cannot take alginate: acid that citrate does not
// mend within its own limit, and calcium that sets it in the bowl.
func directLimits(in Input, c CitrateNeed) error {
	share := float64(in.Citrate+c.Total()) / float64(in.Liquid)
	mends := c.ForPH.Typical > 0 && !c.RuleOfThumb && share <= mostCitrate
	if c.Now < leastPH && !mends {
		r := note.Refuse("ph", TooAcid, note.Num("ph", c.Now, unit.PH), note.Num("least", leastPH, unit.PH),
			note.Num("most", mostCitrate*float64(in.Liquid), unit.Gram))
		r.Source = acidGel
		return r
	}
	if in.takes(c) > mostCalcium {
		r := note.Refuse("calcium", TooMuchCalcium, note.Num("calcium", in.Calcium.Typical, unit.MmolPerKg),
			note.Num("most", mostCalcium*binds(DirectDose.Typical), unit.MmolPerKg))
		r.Source = groups
		return r
	}
	return nil
}

// takes is the share of a typical dose's groups that the liquid's calcium would
// tie up, beside the citrate that is in already.
func (in Input) takes(c CitrateNeed) float64 {
	citrate := float64(in.Citrate) / trisodiumMolar / float64(in.Liquid) * 1e6
	return FreeCalcium(in.Calcium.Typical, citrate, c.Now) / binds(DirectDose.Typical)
}

func (a *Answer) citrateNotes(in Input) {
	c := a.Citrate
	switch {
	case c.RuleOfThumb:
		a.say(note.New(note.Caution, CitrateRule, note.Num("citrate", c.ForPH.Typical, unit.Gram), note.Num("ph", in.PH.Typical, unit.PH)).From(recipes).At("ph"))
	case c.ForPH.Typical > 0:
		a.say(note.New(note.Hint, CitratePH, note.Num("citrate", c.ForPH.Typical, unit.Gram), note.Num("ph", in.PH.Typical, unit.PH), note.Num("to", c.PH, unit.PH)).From(titration).At("ph"))
	}
	if c.ForCalcium > 0 {
		a.say(note.New(note.Hint, CitrateCa, note.Num("citrate", float64(c.ForCalcium), unit.Gram), note.Num("calcium", in.Calcium.Typical, unit.MmolPerKg)).From(binding))
		if c.PH < usablePH {
			a.say(note.New(note.Caution, CitrateWeak, note.Num("ph", c.PH, unit.PH)).From(binding))
		}
	}
	if share := float64(in.Citrate+c.Total()) / float64(in.Liquid); share > mostCitrate {
		a.say(note.New(note.Caution, CitrateHigh, note.Num("citrate", share*100, unit.PercentOf), note.Num("most", mostCitrate*100, unit.PercentOf)).From(practice))
	}
	if got := in.takes(c); got >= someCalcium {
		a.say(note.New(note.Caution, CalciumSome, note.Num("taken", got*100, unit.PercentOf)).From(groups))
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
	c, err := citrateNeed(in)
	if err != nil {
		return Weak, nil, err
	}
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
