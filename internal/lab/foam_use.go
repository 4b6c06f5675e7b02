package lab

import (
	"maps"
	"math"
	"strconv"

	"tremblant/internal/foam"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// makeBase asks the pan to make the base of the plan: one portion as large as
// the base, so that the pan's own losses in blender, sieve and bottle are put on
// top and what reaches the siphons is exact. What was taken from the pan's
// portions is written down first, since they change.
func (f *siphon) makeBase(s *state) *formula.Change {
	if !f.ever || f.err != nil || !f.current {
		return nil
	}
	fields := maps.Clone(s.fields)
	f.keepServing(s, fields, f.of.Covers)
	onePortion(s, fields, f.plan.Base)
	return &formula.Change{Fields: fields, What: s.say("lab-foam.made", note.Typed("mass", grams(s, f.plan.Base)))}
}

// onePortion sets the pan to a yield.
func onePortion(s *state, fields formula.Fields, m unit.Mass) {
	fields["make"] = string(formula.ForPortions)
	fields["portions"] = "1"
	fields["portion-size"] = s.words.Style.Plain(float64(m))
	fields["portion-size-unit"] = string(unit.Gram)
	delete(fields, "spare")
}

// keepServing writes covers and portion of the request into the section's own inputs.
func (f *siphon) keepServing(s *state, fields formula.Fields, covers int) {
	if covers == 0 {
		return
	}
	fields[foamInput("covers")] = strconv.Itoa(covers)
	if !f.ask.taken.pan {
		return
	}
	p := f.wants.Portion
	fields[foamInput("portion")] = s.words.Style.Plain(p.Size)
	fields[foamInput("unit")] = map[foam.PortionKind]string{foam.ByMass: "g", foam.ByVolume: "ml"}[p.Kind]
	if f.wants.Spare > 0 {
		fields[foamInput("spare")] = s.words.Style.Plain(f.wants.Spare.Percent())
	}
}

// nearText says what the nearest plan that works does otherwise, "" when that
// cannot be typed into the page.
func (f *siphon) nearText(s *state, n *foam.Request) string {
	was := f.wants
	say := func(key string, args ...note.Arg) string { return s.say("lab-foam."+key, args...) }
	switch {
	case n.Covers != was.Covers:
		return say("near-covers", note.Num("covers", float64(n.Covers), unit.One))
	case n.Charges != was.Charges:
		return say("near-charges", note.Typed("charges", chargesText(s, n.Charges)))
	case n.Formula.Base.Temperature != was.Formula.Base.Temperature:
		return say("near-temp", note.Num("temperature", float64(n.Formula.Base.Temperature), unit.DegreeC))
	case n.Base != was.Base:
		return say("near-base", note.Typed("mass", grams(s, n.Base)))
	case f.water(n) > 0 && f.ask.batch.MassKnown:
		return say("near-water", note.Typed("mass", grams(s, f.water(n))))
	}
	return ""
}

// water is what the nearest plan adds to the pan's base, in g: it thins every
// share alike.
func (f *siphon) water(n *foam.Request) unit.Mass {
	part := 1.0
	is := foamShares(&n.Formula)
	was := f.wants.Formula
	for i, x := range foamShares(&was) {
		if *x.at > 0 {
			part = min(part, float64(*is[i].at / *x.at))
		}
	}
	if !(part > 0) || part >= 1 {
		return 0
	}
	return f.ask.batch.Total * unit.Mass(1/part-1)
}

// takeNearest puts the nearest plan that works into the inputs.
func (f *siphon) takeNearest(s *state) *formula.Change {
	n := f.nearest()
	if n == nil || !f.current {
		return nil
	}
	what := f.nearText(s, n)
	if what == "" {
		return nil
	}
	fields := maps.Clone(s.fields)
	was := f.wants
	switch {
	case n.Covers != was.Covers:
		f.keepServing(s, fields, n.Covers)
	case n.Charges != was.Charges:
		fields[foamInput("charges")] = strconv.Itoa(n.Charges)
	case n.Formula.Base.Temperature != was.Formula.Base.Temperature:
		t := float64(n.Formula.Base.Temperature)
		fields[foamInput("temp")] = s.words.Style.Plain(t)
		fields[foamInput("serve")] = servedAt(t)
	case n.Base != was.Base:
		onePortion(s, fields, unit.Mass(math.Floor(float64(n.Base))))
	default:
		if !f.thin(s, fields, n) {
			return nil
		}
	}
	return &formula.Change{Fields: fields, What: s.say("lab-foam.taken", note.Typed("what", what))}
}

func servedAt(t float64) string {
	if t > someHot {
		return "hot"
	}
	return "cold"
}

// thin adds a row of water to the pan's recipe, as much as the nearest plan
// needs, and brings what was typed of the base to what it is then. It returns
// false when the recipe has no room or no weights.
func (f *siphon) thin(s *state, fields formula.Fields, n *foam.Request) bool {
	scale := recipeScale(f.ask)
	row := emptyPart(fields)
	if scale == 0 || row < 0 {
		return false
	}
	water := math.Ceil(float64(f.water(n)) * scale)
	fields[formula.PartField(row, "name")] = s.say("lab-foam.water")
	fields[formula.PartField(row, "amount")] = s.words.Style.Plain(water)
	fields[formula.PartField(row, "unit")] = string(unit.Gram)
	told := f.ask.s.liquidShares != (liquidShares{}) // then the teller thins what was not typed
	for _, x := range foamShares(&n.Formula) {
		if f.ask.known(x.name) || !told && *x.at > 0 {
			fields[foamInput(x.name)] = s.words.Style.Plain(round4(float64(*x.at) / x.factor * 100))
		}
	}
	if f.ask.known("water") {
		fields[foamInput("water")] = s.words.Style.Plain(round4(n.Formula.Base.Water.Typical * 100))
	}
	return true
}

// round4 keeps four decimals, cut, so that what is just within a limit stays so.
func round4(v float64) float64 { return math.Floor(v*1e4) / 1e4 }

// recipeScale is grams as written for each gram of the batch; 0 when the recipe
// has no weighed part.
func recipeScale(a *foamAsk) float64 {
	for i, p := range a.s.reading.Formula.Parts {
		if p.Amount.Kind() == unit.KindMass && a.batch.Parts[i] > 0 {
			return p.Amount.Base() / float64(a.batch.Parts[i])
		}
	}
	return 0
}

// emptyPart is the first free row of the liquid, -1 when there is none.
func emptyPart(f formula.Fields) int {
	for i := range formula.MaxParts {
		if f[formula.PartField(i, "name")] == "" && f[formula.PartField(i, "amount")] == "" {
			return i
		}
	}
	return -1
}
