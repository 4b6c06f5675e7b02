package sphere

import (
	"math"
	"sort"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Titrated is one point of how a liquid's pH rises with citrate.
type Titrated struct {
	Citrate unit.Fraction // trisodium citrate dihydrate put in, g per g of the liquid, 0 to 1
	PH      float64       // 0 to 14
}

// CitrateNeed is trisodium citrate dihydrate in g, for the whole liquid, beside
// what is in it already. One dose serves both ends: what lifts the pH holds
// calcium too, and what is put in for the calcium lifts the pH. No dose goes
// over the usual top.
type CitrateNeed struct {
	ForPH       unit.Range // to pH 4 (low), 4.5 and 5 (high)
	ForCalcium  unit.Mass  // what the calcium asks for beyond ForPH.Typical
	Dose        unit.Range // for both: from where it works, what to take, to where it works well
	Short       bool       // the top is less than what ought to be taken
	Fails       bool       // the top is less than that from where it works
	RuleOfThumb bool       // the pH is too low, and the acids were not given
	Now         float64    // pH with the citrate that is in already
	PH          float64    // after Dose.Typical and what was in already
	Left        float64    // calcium that stays unbound then, mmol/kg
}

// Total is the typical dose in g.
func (c CitrateNeed) Total() unit.Mass { return unit.Mass(c.Dose.Typical) }

// assumed is the citric acid, mol/kg, that stands for acids that nobody has given: few,
// usual and much. With the usual one a liquid of pH 3.9 takes the 2.6 g/kg that a
// published recipe with thinned mango used.
var assumed = unit.Range{Low: 0.01, Typical: 0.03, High: 0.06}

// checkTitration wants a curve that starts with no citrate and never falls: the
// search in it would not find the least dose otherwise.
func (in Input) checkTitration() error {
	last := Titrated{}
	for n, p := range in.Titration {
		fits := p.PH >= last.PH && p.PH <= 14 && p.Citrate <= 1
		if n == 0 && p.Citrate != 0 || n > 0 && !(p.Citrate > last.Citrate) || !fits {
			return note.Refuse("titration", BadRange)
		}
		last = p
	}
	return nil
}

// knowsAcids reports whether the pH after citrate can be worked out.
func (in Input) knowsAcids() bool { return len(in.Titration) > 0 || len(in.Acids) > 0 }

// phWith is the pH after so much citrate, in g, beside Input.Citrate: by the
// curve or else by the acids; beyond the curve's end, that of its end.
func (in Input) phWith(added float64) float64 {
	share := (float64(in.Citrate) + added) / float64(in.Liquid)
	points := in.Titration
	switch {
	case len(points) == 0 && len(in.Acids) == 0:
		return in.liftedFrom(assumed.Typical, share)
	case len(points) == 0:
		return lifted(in.PH.Typical, in.Acids, share/trisodiumMolar*1000)
	}
	i := sort.Search(len(points), func(i int) bool { return float64(points[i].Citrate) >= share })
	switch {
	case i == len(points):
		return points[i-1].PH
	case i == 0:
		return points[0].PH
	}
	a, b := points[i-1], points[i]
	return a.PH + (b.PH-a.PH)*(share-float64(a.Citrate))/float64(b.Citrate-a.Citrate)
}

// liftedFrom is the pH of the liquid with so much citrate, g/g, where its acids count as
// so much citric acid, mol/kg.
func (in Input) liftedFrom(acid, share float64) float64 {
	return lifted(in.PH.Typical, []Acid{{Kind: Citric, MolPerKg: acid}}, share/trisodiumMolar*1000)
}

// freeWith is the calcium in mmol/kg that so much citrate, in g, leaves unbound
// at the pH that it brings. The liquid's own citric acid holds its part: in
// solution it is the same as citrate.
func (in Input) freeWith(added float64) float64 {
	held := (float64(in.Citrate) + added) / trisodiumMolar * 1e6 / float64(in.Liquid)
	for _, a := range in.Acids {
		if a.Kind == Citric {
			held += 1000 * a.MolPerKg
		}
	}
	return FreeCalcium(in.Calcium.Typical, held, in.phWith(added))
}

// leastCitrate finds the least citrate in g that is enough; infinite where the
// top is not. enough must hold for all more than some dose.
func leastCitrate(top float64, enough func(added float64) bool) float64 {
	switch {
	case enough(0):
		return 0
	case !enough(top):
		return math.Inf(1)
	}
	low, high := 0.0, top
	for range 48 {
		if at := (low + high) / 2; enough(at) {
			high = at
		} else {
			low = at
		}
	}
	return high
}

// room is the citrate in g that may still go in below the usual top.
func (in Input) room() float64 {
	return max(0, MostCitrate*float64(in.Liquid)-float64(in.Citrate+in.Counted))
}

// wantedForPH is the citrate in g to the pH from which it works, to that in the
// middle and to that from which it works well; infinite where the top does not reach.
func (in Input) wantedForPH(c *CitrateNeed, top float64) unit.Range {
	if !in.knowsAcids() {
		c.RuleOfThumb = c.Now < aimPH
		return in.thumb(top)
	}
	to := func(ph float64) float64 {
		return leastCitrate(top, func(x float64) bool { return in.phWith(x) >= ph })
	}
	return unit.Range{Low: to(usablePH), Typical: to(aimPH), High: to(betterPH)}
}

// thumb is what a liquid of unknown acids takes, in g: with few of them to where it works,
// with the usual ones to the pH that is aimed at, with many to where it works well.
func (in Input) thumb(top float64) unit.Range {
	to := func(ph, acid float64) float64 {
		return leastCitrate(top, func(x float64) bool {
			return in.liftedFrom(acid, (float64(in.Citrate)+x)/float64(in.Liquid)) >= ph
		})
	}
	return unit.Range{Low: to(usablePH, assumed.Low), Typical: to(aimPH, assumed.Typical), High: to(betterPH, assumed.High)}
}

// wantedForCalcium is the citrate in g that leaves no more calcium unbound than
// soft water holds (low), and than ties up hardly any alginate (typical); more
// holds still more, up to the top.
func (in Input) wantedForCalcium(top float64) unit.Range {
	if in.Calcium.Typical < hardCalcium {
		return unit.Range{}
	}
	to := func(free float64) float64 {
		return leastCitrate(top, func(x float64) bool { return in.freeWith(x) <= free })
	}
	keep := to(keepCalcium * binds(DirectDose.Typical))
	return unit.Range{Low: to(hardCalcium), Typical: keep, High: max(keep, top)}
}

// citrateNeed finds the citrate for pH and for calcium. The aim is the same pH
// for every liquid below it, so that a sourer one never takes less.
func citrateNeed(in Input) CitrateNeed {
	top := in.room()
	c := CitrateNeed{Now: in.phWith(0)}
	ph, ca := in.wantedForPH(&c, top), in.wantedForCalcium(top)
	want := unit.Range{Low: max(ph.Low, ca.Low), Typical: max(ph.Typical, ca.Typical), High: max(ph.High, ca.High)}
	few := fewCitrate * float64(in.Liquid)
	// Few acids take little to lift, and below pH 4 it must be done all the same.
	if want.Typical >= few || c.Now < usablePH {
		c.Short, c.Fails = want.Typical > top, want.Low > top
		if top >= min(few, want.Typical) {
			c.ForPH, c.Dose = under(ph, top), under(want, top)
			c.ForCalcium = unit.Mass(c.Dose.Typical - c.ForPH.Typical)
		}
	}
	c.PH, c.Left = in.phWith(c.Dose.Typical), in.freeWith(c.Dose.Typical)
	return c
}

func under(r unit.Range, top float64) unit.Range {
	return unit.Range{Low: min(r.Low, top), Typical: min(r.Typical, top), High: min(r.High, top)}
}
