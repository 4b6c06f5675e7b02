package method

import (
	"slices"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// split decides which parts are heated with the agents and which come late.
// Without heat nothing needs to come late.
func (b *builder) split() {
	for _, p := range b.in.Liquid.Parts {
		switch {
		case p.Role > Delicate:
		case p.Role == Base || len(b.groups) == 0:
			b.base = append(b.base, p)
		default:
			b.rest = append(b.rest, p)
		}
	}
	if len(b.base) == 0 && b.allFresh() {
		b.heatSome()
	}
	for _, role := range [...]Role{Delicate, Acid, Alcohol} {
		if len(b.base) == 0 {
			b.promote(role)
		}
	}
	b.cap()
	b.warnFrail()
}

// freshShare is the least share of a fresh juice that is heated where there is nothing else
// to hydrate in (common practice: a third to a half).
const freshShare = 1.0 / 3

// allFresh reports whether there are delicate parts and none of them sets or splits in heat:
// what is heated of them only loses its freshness.
func (b *builder) allFresh() bool {
	fresh := lateOf(b.rest, Delicate)
	return len(fresh) > 0 && b.frailest(fresh) == nil
}

// heatSome heats no more of the fresh parts than the powders and the heat of the mix need.
func (b *builder) heatSome() {
	floor, _ := floorOf(b.in.Doses)
	share := LeastShare(floor+spareHeat, b.groups[0].at, Part{Role: Delicate}.warmest())
	b.take(max(freshShare*partMass(lateOf(b.rest, Delicate)), unit.Mass(share)*partMass(b.rest)))
}

// warnFrail says when something that is heated with the agents does not bear their heat.
func (b *builder) warnFrail() {
	if len(b.groups) == 0 {
		return
	}
	if p, heat := b.frailest(b.base), b.groups[0].at; p != nil && heat > float64(p.Bears) {
		b.notes = append(b.notes, caution(CodeBears, practice, celsius("bears", float64(p.Bears)), celsius("heat", heat)))
	}
}

// spirit reports whether alcohol is heated with the agents.
func (b *builder) spirit() bool { return len(lateOf(b.base, Alcohol)) > 0 }

// flame marks a step in which alcohol is heated.
func (b *builder) flame(s Step) Step {
	if b.spirit() {
		s = s.note(danger(CodeFlame, practice))
	}
	return s
}

// promote heats the parts of a role after all, since nothing else is there to
// hydrate in; sour and alcoholic ones with a caution.
func (b *builder) promote(role Role) {
	keep := b.rest[:0:0]
	for _, p := range b.rest {
		if p.Role == role {
			b.base = append(b.base, p)
		} else {
			keep = append(keep, p)
		}
	}
	b.rest = keep
	if len(b.base) > 0 {
		b.warnHeated(role)
	}
}

// spiritBoils is about where spirit of 40 % vol boils, °C, from memory.
const spiritBoils = 80

// warnHeated says what it costs to heat a part of a role, once.
func (b *builder) warnHeated(role Role) {
	if slices.Contains(b.warned, role) {
		return
	}
	b.warned = append(b.warned, role)
	switch role {
	case Acid:
		b.sourHeat(len(b.base) > len(lateOf(b.base, Acid)))
	case Alcohol:
		b.notes = append(b.notes, danger(CodeFlame, practice))
		if len(b.base) == len(lateOf(b.base, Alcohol)) && len(b.groups) > 0 && b.groups[0].at >= spiritBoils {
			b.notes = append(b.notes, caution(CodeSpiritApart, practice, celsius("heat", b.groups[0].at)))
		}
	}
}

// sourHeat warns of each agent that loses strength when the sour liquid itself is heated,
// all of it or some.
func (b *builder) sourHeat(some bool) {
	ph := b.in.Liquid.PH
	for _, d := range b.in.Doses {
		p := d.Process
		if p.Acid.Known() && ph.Valid() && ph.Typical > 0 && ph.Low < p.AcidPH+1 {
			n := caution(CodeAcidHot, p.Acid.Source, agentWord("agent", p.ID),
				minutes("minutes", HotMinutes(p.Acid.Low, p.AcidPH, ph.Low)), note.Num("ph", ph.Low, unit.PH))
			if some {
				n.Code = CodeAcidSome
			}
			b.notes = append(b.notes, n)
		}
	}
}

// cap borrows from the late parts when the hydrating part would be too thick to whisk.
func (b *builder) cap() {
	for _, d := range b.in.Doses {
		if !d.Process.Cap.Known() || d.Process.Salt {
			continue
		}
		need := unit.Mass(float64(d.Mass) * 100 / d.Process.Cap.Typical)
		if need <= b.hydrating() {
			continue
		}
		before := b.borrow
		b.take(need - b.hydrating())
		if b.hydrating() < need*0.999 {
			b.notes = append(b.notes, caution(CodeCapFails, d.Process.Cap.Source, agentWord("agent", d.Process.ID),
				note.Num("cap", d.Process.Cap.Typical, unit.GramPer100), grams("need", need), grams("have", b.hydrating())))
			continue
		}
		b.notes = append(b.notes, caution(CodeCap, d.Process.Cap.Source, agentWord("agent", d.Process.ID),
			note.Num("cap", d.Process.Cap.Typical, unit.GramPer100), grams("need", need), grams("borrow", b.borrow-before)))
	}
}

// take moves liquid from the late parts to the hydrating one, delicate ones
// first: whole parts, and of the last one what is still wanted.
func (b *builder) take(want unit.Mass) {
	for _, role := range [...]Role{Delicate, Acid, Alcohol} {
		for want > 0 {
			i := b.nextOf(role)
			if i < 0 {
				break
			}
			p := b.rest[i]
			taken := p
			taken.Mass = min(p.Mass, want)
			b.base = append(b.base, taken)
			b.borrow, want = b.borrow+taken.Mass, want-taken.Mass
			b.warnHeated(role)
			if taken.Mass < p.Mass {
				b.rest[i].Mass -= taken.Mass
				break
			}
			b.rest = slices.Delete(b.rest, i, i+1)
		}
	}
}

// nextOf is the late part of a role that is heated before the others of its kind: the
// largest delicate one, so that few are, and else the first; -1 where there is none.
func (b *builder) nextOf(role Role) int {
	next := -1
	for i, p := range b.rest {
		if p.Role == role && (next < 0 || role == Delicate && p.Mass > b.rest[next].Mass) {
			next = i
		}
	}
	return next
}

// unnamed gives the parts of the hydrating liquid to the first step that puts
// something into them, so that each is named once.
func (b *builder) unnamed() []string {
	if b.named {
		return nil
	}
	b.named = true
	return partNames(b.base)
}

// cold is the liquid that the powders go into: without the water that soaks others, and
// that for the calcium where no hot water comes later that could be less instead.
func (b *builder) cold() unit.Mass {
	kept := b.soakWater()
	if !b.topsUp() {
		kept += b.saltWater()
	}
	return b.hydrating() - min(kept, b.hydrating()/2)
}

// soakWater is what powdered gelatin takes of the hydrating liquid.
func (b *builder) soakWater() unit.Mass {
	var soak unit.Mass
	for _, d := range b.doses(func(p Process) bool { return p.Way == Soak }) {
		if !d.Sheets { // those swim in other water
			soak += d.Mass * unit.Mass(bloomRatio.Typical)
		}
	}
	return min(soak, b.hydrating()/4)
}

// topsUp reports whether what boils off is made up for with hot water, which must not
// take the place of alcohol.
func (b *builder) topsUp() bool {
	return len(b.groups) > 0 && b.groups[0].at >= 80 && !b.spirit() &&
		slices.ContainsFunc(b.groups[0].doses, func(d Dose) bool { return d.Process.Way != Soak })
}

// hydrating is the mass that is heated with the agents in it.
func (b *builder) hydrating() unit.Mass { return partMass(b.base) }
