package method

import (
	"slices"
	"strconv"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Figures of the trade for finishing; minutes unless said.
var (
	fluidSetTime = Fact{unit.Range{Low: 60, Typical: 90, High: 1440}, practice} // a 2 cm layer, cold
	blendTime    = Fact{unit.Range{Low: 1, Typical: 2, High: 3}, practice}
	degasTime    = Fact{unit.Range{Low: 10, Typical: 30, High: 60}, practice}
	gelRest      = Fact{unit.Range{Low: 120, Typical: 240, High: 720}, source.Ref{Tag: source.Tertiary, Text: "cooking pages on siphons: gelatin bases rest charged 6 to 12 hours; shorter rests are common practice"}}
	otherRest    = Fact{unit.Range{Low: 30, Typical: 60, High: 120}, practice}
	dipTime      = Fact{unit.Range{Low: 2, Typical: 3, High: 4}, practice}
	hotRest      = Fact{unit.Range{Low: 15, Typical: 15, High: 30}, practice}
	hotFoam      = Fact{unit.Range{Low: 60, Typical: 63, High: 65}, practice}
	pressureRef  = source.Ref{Tag: source.Published, Text: "DGCCRF (France), practical sheet on culinary siphons"}
	quick        = unit.Range{Low: 1, Typical: 2, High: 4}
)

// finish takes the hydrated liquid to the target.
func (b *builder) finish() {
	switch b.in.Target {
	case SetGel:
		b.sieve()
		b.setGel()
	case FluidGel:
		b.fluid()
		b.bottle()
	case SiphonCold:
		b.siphonCold()
	case SiphonHot:
		b.siphonHot()
	case Bath:
		b.bath()
	case Air:
		b.sieve()
		b.froth()
	case Whipped:
		b.whip()
	default:
		b.sieve()
		b.restForAir()
		b.bottle()
	}
}

func (b *builder) sieve() {
	b.add(newStep(Sieve, nil, nil).takes(quick).why(reason(CodeSieve, practice)))
}

func (b *builder) bottle() {
	if b.in.Bottled {
		b.add(newStep(Bottle, nil, nil).takes(quick))
	}
}

// restForAir waits for bubbles to rise, as long as the neediest agent asks.
func (b *builder) restForAir() {
	rest, ref := degasTime.Range, degasTime.Source
	var who []string
	for _, d := range b.doses(func(p Process) bool { return p.Rest.Known() && p.Way != Soak && p.Way != HotPart }) {
		if d.Process.Rest.Typical > rest.Typical {
			rest, ref = d.Process.Rest.Range, d.Process.Rest.Source
		}
		who = append(who, d.Process.ID)
	}
	b.add(newStep(Degas, who, nil).takes(rest).waits().uses("fridge").
		arg(minutes("low", rest.Low), minutes("high", rest.High)).
		atLeast(Time, rest.Low, unit.Minute, ref).why(reason(CodeAir, ref)))
}

// pour is the last moment before the first agent sets.
func (b *builder) pour() {
	if b.saltWaits() {
		b.add(b.calcium(b.salts()))
	}
	s := newStep(Pour, nil, nil).takes(quick)
	if floor, first := floorOf(b.in.Doses); first != nil {
		s = s.arg(celsius("floor", floor)).atLeast(Temperature, floor, unit.DegreeC, first.Sets.Source).
			why(reason(CodeFirstToSet, first.Sets.Source, agentWord("agent", first.ID), celsius("floor", floor)))
		s.Hot = floor > 60
		s.Warm = !s.Hot
	}
	b.add(s)
}

// settersOf are the agents that set without being heated.
func (b *builder) setters() []Dose {
	return b.doses(func(p Process) bool {
		return p.SetTime.Known() && (p.SetBy == OnCooling || p.SetBy == ByCalcium || p.SetBy == ByAcidSugar || p.SetBy == ByStaling)
	})
}

// chill waits for the slowest of the setters, at least for least minutes.
func (b *builder) chill(least Fact) { b.add(b.chilling(least, CodeSetTime)) }

// chilling is the step in which a gel sets, with the reason why it takes so long.
func (b *builder) chilling(least Fact, why note.Code) Step {
	time, ref := least.Range, least.Source
	below, belowRef := 0.0, practice
	setters := b.setters()
	for _, d := range setters {
		p := d.Process
		if p.SetTime.Typical > time.Typical {
			time, ref = p.SetTime.Range, p.SetTime.Source
		}
		if p.Sets.Known() && (below == 0 || p.Sets.Low < below) {
			below, belowRef = p.Sets.Low, p.Sets.Source
		}
	}
	s := newStep(Chill, names(setters), nil).takes(time).waits().uses("fridge").
		arg(minutes("minutes", time.Typical), minutes("full", time.High)).
		atLeast(Time, time.Low, unit.Minute, ref).why(reason(why, ref, minutes("low", time.Low), minutes("high", time.High)))
	if below > 0 {
		s = s.arg(celsius("temp", below)).atMost(Temperature, below, unit.DegreeC, belowRef)
	}
	// Not counted as standing warm: chilling has rules of its own in the food codes.
	return s
}

func (b *builder) setGel() {
	if len(b.setters()) > 0 {
		b.pour()
		b.chill(Fact{})
	}
	if d := b.doses(func(p Process) bool { return p.SetBy == ByAlkali }); len(d) > 0 {
		b.add(cook(Alkali, d))
	}
	if d := b.doses(func(p Process) bool { return p.SetBy == OnHeating || p.SetBy == HeatForGood }); len(d) > 0 {
		b.add(cook(CookSet, d))
	}
}

// cook sets by heat, to the highest need.
func cook(k Kind, d []Dose) Step {
	p := d[0].Process
	for _, other := range d[1:] {
		if other.Process.Sets.High > p.Sets.High {
			p = other.Process
		}
	}
	s := newStep(k, names(d), nil).takes(p.SetTime.Range).uses("stove").arg(minutes("minutes", p.SetTime.Typical))
	if p.Sets.Known() {
		s = s.arg(celsius("temp", p.Sets.High)).atLeast(Temperature, p.Sets.High, unit.DegreeC, p.Sets.Source)
	}
	s.Hot = true
	return s
}

// fluid sets the gel fully, then breaks it.
func (b *builder) fluid() {
	b.pour()
	b.breakUp()
	b.restForAir()
}

// breakUp lets a gel set and blends it. How strong it would become in the end matters
// to nobody who breaks it.
func (b *builder) breakUp() {
	set := b.chilling(fluidSetTime, CodeSetToBreak)
	set.Broken = true
	b.add(set)
	b.add(newStep(Blend, nil, nil).takes(unit.Range{Low: 3, Typical: 5, High: 8}).uses("blender").
		arg(minutes("low", blendTime.Low), minutes("high", blendTime.High)).
		atLeast(Time, blendTime.Low, unit.Minute, blendTime.Source).why(reason(CodeShearSet, practice)))
	b.add(newStep(SieveFine, nil, nil).takes(unit.Range{Low: 3, Typical: 5, High: 8}))
}

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

// froth blends air into the surface and lets the foam stand before it is skimmed.
func (b *builder) froth() {
	b.add(newStep(Froth, nil, nil).takes(unit.Range{Low: 1, Typical: 2, High: 4}).uses("blender").
		why(reason(CodeFroth, practice), reason(CodeFat, practice)))
	b.add(newStep(Skim, nil, nil).takes(unit.Range{Low: 1, Typical: 1, High: 2}).arg(minutes("minutes", 1)))
}

// whip beats a foam in a clean bowl; what sets on cooling is whipped as it
// begins to thicken.
func (b *builder) whip() {
	if soft := b.doses(func(p Process) bool { return p.SetBy == OnCooling && !p.stiff() }); len(soft) > 0 {
		b.coolSoft(soft[0].Process)
	}
	b.add(newStep(Whip, nil, nil).takes(unit.Range{Low: 3, Typical: 6, High: 10}).arg(minutes("low", 3), minutes("high", 10)).
		why(reason(CodeFat, practice)))
	if d := b.doses(func(p Process) bool { return p.SetBy == OnCooling && !p.stiff() }); len(d) > 0 {
		b.chill(Fact{})
	}
}

// bath rests the setting bath clear, then says how long a sphere stays in it.
func (b *builder) bath() {
	if len(b.doses(func(p Process) bool { return !p.Salt })) > 0 {
		b.restForAir()
		last := len(b.steps) - 1
		b.steps[last] = b.steps[last].why(reason(CodeBathWater, practice))
	}
	b.add(newStep(Dip, nil, nil).takes(dipTime.Range).arg(minutes("low", dipTime.Low), minutes("high", dipTime.High)).
		atMost(Time, dipTime.High, unit.Minute, dipTime.Source).why(reason(CodeSkin, dipTime.Source, minutes("low", dipTime.Low), minutes("high", dipTime.High))))
	b.add(newStep(Rinse, nil, nil).takes(quick))
}
