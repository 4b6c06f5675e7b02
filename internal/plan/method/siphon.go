package method

import (
	"slices"
	"strconv"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Figures of the trade for siphons; minutes unless said.
var (
	gelRest     = Fact{unit.Range{Low: 120, Typical: 240, High: 720}, source.Ref{Tag: source.Tertiary, Text: "cooking pages on siphons: gelatin bases rest charged 6 to 12 hours; shorter rests are common practice"}}
	otherRest   = Fact{unit.Range{Low: 30, Typical: 60, High: 120}, practice}
	hotRest     = Fact{unit.Range{Low: 15, Typical: 15, High: 30}, practice}
	hotFoam     = Fact{unit.Range{Low: 60, Typical: 63, High: 65}, practice}
	pressureRef = source.Ref{Tag: source.Published, Text: "DGCCRF (France), practical sheet on culinary siphons"}
)

// siphonCold fills a liquid base, or a set one after blending, and rests it
// charged as long as its stabiliser needs.
func (b *builder) siphonCold() {
	stiff := b.doses(func(p Process) bool { return p.SetBy == OnCooling && p.stiff() || p.SetBy == ByCalcium })
	soft := b.doses(func(p Process) bool { return p.SetBy == OnCooling && !p.stiff() })
	rest := otherRest
	switch {
	case len(stiff) > 0:
		b.pour()
		b.breakUp()
	case len(soft) > 0:
		rest = gelRest
		b.sieve()
		b.coolSoft(soft[0].Process)
	default:
		b.sieve()
		b.add(newStep(ChillBase, nil, nil).takes(otherRest.Range).waits().uses("fridge").
			arg(minutes("low", otherRest.Low), minutes("minutes", otherRest.Typical)).
			atLeast(Time, otherRest.Low, unit.Minute, otherRest.Source))
	}
	if b.fillAndCharge(Fill); b.in.Siphon.Refused {
		return
	}
	if rest = b.restCharged(rest, len(soft) > 0); rest.High <= 0 {
		return
	}
	b.add(newStep(RestCold, names(soft), nil).takes(rest.Range).waits().uses("fridge", "siphon").
		arg(minutes("low", rest.Low), minutes("high", rest.High), minutes("minutes", rest.Typical)).
		atLeast(Time, rest.Low, unit.Minute, rest.Source).
		why(reason(CodeSetTime, rest.Source, minutes("low", rest.Low), minutes("high", rest.High))))
}

// restCharged is the rest that the foam calculation gave; but what sets slowly needs its own.
func (b *builder) restCharged(usual Fact, sets bool) Fact {
	given := b.in.Siphon.Rest
	if !given.Known() || sets && given.Typical < usual.Typical {
		return usual
	}
	return given
}

// coolSoft cools a base that sets slowly only so far that it still pours.
func (b *builder) coolSoft(p Process) {
	s := newStep(CoolFill, []string{p.ID}, nil).takes(unit.Range{Low: 10, Typical: 20, High: 40}).waits().arg(celsius("temp", p.pourAbove())).
		atLeast(Temperature, p.Sets.Typical, unit.DegreeC, p.Sets.Source).
		why(reason(CodeFirstToSet, p.Sets.Source, agentWord("agent", p.ID), celsius("floor", p.Sets.Typical)))
	s.Warm = true
	b.add(s)
}

// fillAndCharge tells how many chargers only where that has been worked out: by a siphon's
// size, its filling and its limits, none of which stand in here.
func (b *builder) fillAndCharge(fill Kind) {
	s := b.in.Siphon
	if s.Refused {
		b.add(newStep(NoCharge, nil, nil).note(danger(CodeNoCharge, pressureRef)))
		return
	}
	times := quick.Scale(float64(max(len(s.Charges), 1)))
	pour := newStep(fill, nil, nil).takes(times).uses("siphon").why(reason(CodeNozzle, practice))
	fillings := float64(len(s.Charges))
	switch {
	case s.Rounds > 1:
		pour = pour.note(caution(CodeRounds, practice, note.Num("fillings", fillings, unit.One), note.Num("rounds", float64(s.Rounds), unit.One)))
	case fillings > 1:
		pour = pour.note(note.New(note.Hint, CodeFillings, note.Num("fillings", fillings, unit.One)).From(practice))
	}
	b.add(pour)
	charge := newStep(Charge, nil, nil).takes(times).uses("siphon").
		arg(s.Chargers("charges"), note.Num("low", 10, unit.One), note.Num("high", 15, unit.One)).
		note(danger(CodePressure, pressureRef))
	if len(s.Charges) == 0 {
		charge.Kind = ChargeFew
	}
	b.add(charge)
}

// Chargers is how many go in, as an argument of a sentence: 2, or 3 × 2 where each of
// three fillings takes two, or 2 + 2 + 1.
func (s Siphon) Chargers(name string) note.Arg {
	if len(s.Charges) <= 1 {
		return note.Num(name, float64(sum(s.Charges)), unit.One)
	}
	var each []string
	for _, n := range s.Charges {
		each = append(each, strconv.Itoa(n))
	}
	if slices.Max(s.Charges) == slices.Min(s.Charges) {
		return note.Typed(name, strconv.Itoa(len(each))+" × "+each[0])
	}
	return note.Typed(name, strings.Join(each, " + "))
}

func sum(all []int) (total int) {
	for _, n := range all {
		total += n
	}
	return total
}

// siphonHot brings the base to the heat that it is kept at: what sets on cooling has set
// and been blended before, and what was boiled would be too hot.
func (b *builder) siphonHot() {
	bath := hotFoam
	if given := b.in.Siphon.Bath; given != (unit.Range{}) {
		bath.Range = given
	}
	stiff := b.doses(func(p Process) bool { return p.SetBy == OnCooling && p.stiff() || p.SetBy == ByCalcium })
	if len(stiff) > 0 {
		b.pour()
		b.breakUp()
	} else {
		b.sieve()
	}
	if d := b.doses(func(p Process) bool { return p.SetBy == OnHeating }); len(d) > 0 {
		b.add(cook(CookSet, d))
	} else {
		warm := newStep(BringTo, nil, nil).takes(unit.Range{Low: 3, Typical: 6, High: 12}).uses("stove").
			arg(celsius("low", bath.Low), celsius("high", bath.High)).
			atLeast(Temperature, bath.Low, unit.DegreeC, bath.Source).
			atMost(Temperature, bath.High, unit.DegreeC, bath.Source)
		warm.Hot = true
		b.add(warm)
	}
	if b.fillAndCharge(FillHot); b.in.Siphon.Refused {
		return
	}
	rest := b.restCharged(hotRest, false)
	s := newStep(HoldHot, nil, nil).takes(rest.Range).waits().uses("stove", "siphon").
		arg(celsius("low", bath.Low), celsius("high", bath.High)).
		atLeast(Temperature, bath.Low, unit.DegreeC, bath.Source).
		atMost(Temperature, bath.High, unit.DegreeC, bath.Source).
		note(danger(CodeHotSplash, practice))
	s.Hot = true
	b.add(s)
}
