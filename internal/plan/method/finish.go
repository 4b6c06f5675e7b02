package method

import (
	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Figures of the trade for finishing; minutes unless said.
var (
	fluidSetTime = Fact{unit.Range{Low: 60, Typical: 90, High: 1440}, practice} // a 2 cm layer, cold
	blendTime    = Fact{unit.Range{Low: 1, Typical: 2, High: 3}, practice}
	degasTime    = Fact{unit.Range{Low: 10, Typical: 30, High: 60}, practice}
	dipTime      = Fact{unit.Range{Low: 2, Typical: 3, High: 4}, practice}
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
		b.add(alkali(d))
	}
	if d := b.doses(func(p Process) bool { return p.SetBy == OnHeating || p.SetBy == HeatForGood }); len(d) > 0 {
		b.add(cook(CookSet, d))
	}
}

// limePerGram is the calcium hydroxide that sets konjac, g per gram of its powder.
var limePerGram = Fact{unit.Range{Low: 0.03, Typical: 0.05, High: 0.07}, source.Ref{Tag: source.Memory, Text: "kitchen recipes for konjac blocks: 1 to 2 g of calcium hydroxide to 30 g of powder"}}

// alkali sets konjac. The alkali stands in no formula: it is named, with its dose.
func alkali(d []Dose) Step {
	powder := mass(d)
	return cook(Alkali, d).
		arg(grams("low", twoDigits(powder*unit.Mass(limePerGram.Low))), grams("high", twoDigits(powder*unit.Mass(limePerGram.High)))).
		why(reason(CodeLime, limePerGram.Source)).
		note(danger(CodeCaustic, practice))
}

// twoDigits is as much as is known of such a dose.
func twoDigits(m unit.Mass) unit.Mass { return unit.Mass(unit.Digits(float64(m), 2)) }

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

// fluid sets the gel fully, then breaks it. What never sets is thick as it is, and there
// is nothing to wait for or to break.
func (b *builder) fluid() {
	if len(b.setters()) > 0 {
		b.pour()
		b.breakUp()
	} else {
		b.sieve()
	}
	b.restForAir()
	b.bottle()
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
		if b.dropsIntoCalcium() {
			b.steps[last] = b.steps[last].why(reason(CodeBathWater, practice))
		}
	}
	b.add(newStep(Dip, nil, nil).takes(dipTime.Range).arg(minutes("low", dipTime.Low), minutes("high", dipTime.High)).
		atMost(Time, dipTime.High, unit.Minute, dipTime.Source).why(reason(CodeSkin, dipTime.Source, minutes("low", dipTime.Low), minutes("high", dipTime.High))))
	b.add(newStep(Rinse, nil, nil).takes(quick))
}
