package method

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// wet disperses the powders: each in its own way, alike ones together.
func (b *builder) wet() {
	plain := func(w Way) []Dose {
		return b.doses(func(p Process) bool { return p.Way == w && !p.Salt && !b.folded(p) })
	}
	if d := plain(Slurry); len(d) > 0 {
		b.add(b.slurry(d))
	}
	if d := append(append(plain(DryBlend), plain(RainCold)...), plain(Shear)...); len(d) > 0 {
		b.add(b.disperse(d, b.unnamed()))
	}
	for _, w := range [...]Way{Stir, Whisk} {
		if d := plain(w); len(d) > 0 {
			b.add(newStep(StirIn, names(d), b.unnamed()).takes(unit.Range{Low: 1, Typical: 3, High: 5}).arg(grams("powder", mass(d))))
		}
	}
	if d := plain(HotPart); len(d) > 0 {
		b.hotThird(d, b.unnamed())
	}
	b.hydrateCold()
}

// folded reports whether a cold agent must wait until the heat is over.
func (b *builder) folded(p Process) bool { return p.late() && len(b.groups) > 0 }

func (b *builder) slurry(d []Dose) Step {
	return newStep(SlurryIt, names(d), nil).takes(unit.Range{Low: 1, Typical: 2, High: 3}).
		arg(grams("powder", mass(d)), grams("liquid", mass(d)*2)).why(reason(CodeLumps, practice))
}

func (b *builder) disperse(d []Dose, base []string) Step {
	s := newStep(Disperse, names(d), base).takes(unit.Range{Low: 2, Typical: 3, High: 5}).
		arg(grams("powder", mass(d)+b.inMix), grams("liquid", b.cold()))
	if b.borrow > 0 {
		s = s.note(note.New(note.Hint, CodeBorrow, grams("borrow", b.borrow)).From(practice))
	}
	for _, dose := range d {
		if dose.Process.Way == Shear && b.inMix == 0 || dose.Process.Way == DryBlend && b.inMix == 0 {
			s = s.uses("blender").arg(note.Word("tool", "tool.blender"))
			break
		}
	}
	return s.why(reason(CodeLumps, practice))
}

// hotThird is methylcellulose: the powder in a hot third, then the rest ice-cold.
func (b *builder) hotThird(d []Dose, base []string) {
	liquid := b.cold()
	third := liquid / 3
	b.add(b.flame(newStep(HotThird, names(d), base).takes(unit.Range{Low: 4, Typical: 6, High: 10}).uses("stove", "blender").
		arg(grams("powder", mass(d)), grams("hot", third), grams("cold", liquid-third), celsius("temp", 70)).
		atLeast(Temperature, 70, unit.DegreeC, practice).why(reason(CodeLumps, practice))))
	p := d[0].Process
	b.add(newStep(ChillSwell, names(d), nil).takes(p.Rest.Range).waits().uses("fridge").
		arg(celsius("temp", p.Heat.High), minutes("minutes", p.Rest.Typical)).
		atMost(Temperature, p.Heat.High, unit.DegreeC, p.Heat.Source).
		atLeast(Time, p.Rest.Low, unit.Minute, p.Rest.Source).
		why(reason(CodeHydrate, p.Heat.Source)))
}

// hydrateCold stirs cold-swelling agents until they are hydrated; heat that
// comes anyway does it for them, and so do the hours in which methylcellulose swells.
func (b *builder) hydrateCold() {
	if len(b.groups) > 0 || len(b.doses(func(p Process) bool { return p.Way == HotPart && p.Rest.Known() })) > 0 {
		return
	}
	cold := b.doses(func(p Process) bool { return p.Cold && !p.Salt && p.Way != HotPart })
	var hold unit.Range
	ref := practice
	for _, d := range cold {
		if d.Process.Hold.Typical > hold.Typical {
			hold, ref = d.Process.Hold.Range, d.Process.Hold.Source
		}
	}
	if hold.Typical == 0 {
		return
	}
	b.add(newStep(HydrateIn, names(cold), nil).takes(hold).waits().
		arg(minutes("minutes", hold.Typical)).atLeast(Time, hold.Low, unit.Minute, ref).why(reason(CodeHydrate, ref)))
}

// heat hydrates group by group, hottest first.
func (b *builder) heat() {
	b.warnHeatSet()
	var before []Dose
	for i, g := range b.groups {
		if i > 0 {
			b.coolFor(&g, before)
		}
		b.pan = g.at
		b.hydrate(g, i)
		before = append(before, g.doses...)
	}
}

// warnHeatSet says when an agent that gels on heating shares a pan with one
// that must be boiled.
func (b *builder) warnHeatSet() {
	if len(b.groups) == 0 {
		return
	}
	hottest := b.groups[0]
	for _, d := range b.doses(func(p Process) bool { return p.SetBy == OnHeating && p.Sets.Known() && p.Sets.Low < hottest.at }) {
		b.notes = append(b.notes, caution(CodeHeatSets, d.Process.Sets.Source, agentWord("agent", d.Process.ID), celsius("sets", d.Process.Sets.Low),
			agentWord("other", hottest.doses[hottest.lead].Process.ID), celsius("heat", hottest.at)))
	}
}

// coolFor lets the pan cool to the next group's heat, but not to where the
// agents already in it set; when the next agent does not bear that, a caution
// says that no temperature suits both.
func (b *builder) coolFor(g *group, before []Dose) {
	floor, first := floorOf(before)
	g.at = max(g.at, floor)
	p := g.doses[0].Process
	s := newStep(CoolTo, names(g.doses), nil).takes(unit.Range{Low: 5, Typical: 10, High: 20}).waits().arg(celsius("temp", g.at)).
		atMost(Temperature, p.Bears.Low, unit.DegreeC, p.Bears.Source).
		why(reason(CodeSplitHeat, p.Bears.Source, agentWord("agent", p.ID), celsius("temp", p.Bears.Low)))
	if first != nil {
		s = s.atLeast(Temperature, floor, unit.DegreeC, first.Sets.Source)
	}
	if g.at > p.Bears.Low {
		s = s.note(caution(CodeConflict, p.Bears.Source, agentWord("agent", p.ID), celsius("bears", p.Bears.Low),
			agentWord("first", first.ID), celsius("floor", floor)))
	}
	s.Hot = true
	b.add(s)
}

// hydrate heats and holds the powders of a group, then dissolves the bloomed ones.
func (b *builder) hydrate(g group, n int) {
	var powders, bloomed []Dose
	for _, d := range g.doses {
		if d.Process.Way == Soak {
			bloomed = append(bloomed, d)
		} else {
			powders = append(powders, d)
		}
	}
	if len(powders) > 0 {
		b.add(b.hydrateStep(g, powders))
		if n == 0 && b.topsUp() {
			b.add(b.topUp())
		}
	}
	if len(bloomed) > 0 {
		b.add(b.dissolve(g, bloomed))
	}
}

func (b *builder) hydrateStep(g group, powders []Dose) Step {
	up := heatUp(b.hydrating() + b.in.Liquid.mass(Sugar))
	s := newStep(Hydrate, names(powders), b.unnamed()).uses("stove").
		takes(unit.Range{Low: g.hold + up.Low, Typical: g.hold + up.Typical, High: g.hold + up.High}).
		arg(celsius("temp", g.at), minutes("minutes", g.hold)).
		atLeast(Temperature, g.least, unit.DegreeC, g.source()).
		atLeast(Time, g.hold, unit.Minute, b.holdSource(powders)).
		why(reason(CodeHydrate, g.source(), celsius("temp", g.least)))
	if len(powders) > 1 {
		s = s.why(reason(CodeHottest, g.source(), agentWord("agent", g.doses[g.lead].Process.ID), celsius("temp", g.at)))
	}
	s.Hot = true
	return b.flame(s)
}

func (b *builder) holdSource(doses []Dose) (ref sourceRef) {
	longest := -1.0
	for _, d := range doses {
		if d.Process.Hold.Typical > longest {
			longest, ref = d.Process.Hold.Typical, d.Process.Hold.Source
		}
	}
	return ref
}

func (b *builder) topUp() Step {
	inPan := b.doses(func(p Process) bool { return !p.Salt && p.Way != Soak && !b.folded(p) })
	whole := b.hydrating() - b.soakWater() - b.saltWater() + mass(inPan) + b.in.Liquid.mass(Sequestrant) + b.inMix
	if !b.isSugarLate() {
		whole += b.sugar - b.inMix
	}
	whole -= min(b.in.Boil, b.hydrating()/2)
	s := newStep(TopUp, nil, partNames(b.base)).takes(unit.Range{Low: 1, Typical: 1, High: 2}).
		arg(grams("weight", whole)).why(reason(CodeTopUp, practice))
	s.Hot = true
	return s
}

func (b *builder) dissolve(g group, bloomed []Dose) Step {
	p := bloomed[0].Process
	s := newStep(Dissolve, names(bloomed), b.unnamed()).takes(unit.Range{Low: 2, Typical: 4, High: 8}).uses("stove").
		arg(celsius("temp", g.at), celsius("low", p.Heat.Low), celsius("high", max(g.at, p.Heat.Typical))).
		atLeast(Temperature, p.Heat.Low, unit.DegreeC, p.Heat.Source).
		why(reason(CodeHydrate, p.Heat.Source, celsius("temp", p.Heat.Low)))
	if p.Bears.Known() {
		s = s.atMost(Temperature, max(p.Bears.Low, g.at), unit.DegreeC, p.Bears.Source)
	}
	s.Hot = true
	return b.flame(s)
}
