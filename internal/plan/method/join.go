package method

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// warmest is how warm a late part may be made, °C: its own limit, or what its
// role stands by common practice.
func (p Part) warmest() float64 {
	if p.Bears > 0 {
		return float64(p.Bears)
	}
	switch p.Role {
	case Delicate:
		return 50
	case Alcohol:
		return 40
	}
	return 60
}

// acidAt is the heat that acid is added at, °C, where hot acid costs strength.
var acidAt = Fact{unit.Range{Low: 50, Typical: 65, High: 70}, source.Ref{Tag: source.Tertiary, Text: "agar makers' question pages: acid at 65–70 °C, another about 50 °C"}}

// join brings hot and cold parts together: warmed if the mix would otherwise
// set in the pan, the neutral ones first, acid and alcohol last.
func (b *builder) join() {
	floor, first := floorOf(b.in.Doses)
	if len(b.rest) > 0 && len(b.groups) > 0 {
		b.balance(floor, first)
	}
	b.fold(floor)
	for _, d := range b.doses(func(p Process) bool { return p.SetBy == ByAcidSugar }) {
		s := newStep(CheckPH, []string{d.Process.ID}, nil).takes(unit.Range{Low: 1, Typical: 2, High: 3}).
			atLeast(PH, d.Process.PHLow, unit.PH, d.Process.Sets.Source).
			atMost(PH, d.Process.PHHigh, unit.PH, d.Process.Sets.Source)
		if !b.in.Liquid.PHMeasured {
			s = s.note(caution(CodePHMeasure, practice, note.Num("ph", b.in.Liquid.PH.Typical, unit.PH)))
		}
		b.add(s)
	}
}

// spareHeat is how much warmer than the first agent's setting a mix is wanted, °C: it is
// sieved and poured before it sets (common practice).
const spareHeat = 5

// lateRoles is the order in which late parts go in: neutral ones first, acid and alcohol last.
var lateRoles = [...]Role{Delicate, Acid, Alcohol}

// balance works out the heat of the mix and adds the late parts.
func (b *builder) balance(floor float64, first *Process) {
	if partMass(b.rest) <= 0 {
		return
	}
	if first != nil && b.mixAfter(Alcohol) < floor+spareHeat {
		b.warm(floor, first)
	}
	if p := b.frailest(b.rest); p != nil && b.mixAfter(p.Role) > float64(p.Bears) && floor <= float64(p.Bears) {
		b.coolFirst(p.Role, float64(p.Bears), partNames(b.rest), practice, reason(CodeKeepsFresh, practice))
	}
	if b.acidHurts() && b.mixAfter(Acid) > acidAt.High && floor <= acidAt.High {
		b.coolFirst(Acid, acidAt.High, partNames(lateOf(b.rest, Acid)), acidAt.Source, reason(CodeAcidLate, acidAt.Source, celsius("temp", acidAt.High)))
	}
	if keeps := max(spiritKeeps, floor+spareHeat); keeps < spiritBoils && len(lateOf(b.rest, Alcohol)) > 0 && b.mixAfter(Alcohol) > keeps {
		b.coolFirst(Alcohol, keeps, partNames(lateOf(b.rest, Alcohol)), practice, reason(CodeAlcoholLate, practice))
	}
	for _, role := range lateRoles {
		b.addLate(role, floor, first)
	}
}

// spiritKeeps is how hot a mix may be that keeps most of the alcohol stirred into it, °C:
// well below where spirit boils (common practice).
const spiritKeeps = 65

// lateUpTo is the mass of the late parts that have gone in with a role, in g, and their
// mass times their °C.
func (b *builder) lateUpTo(role Role) (mass, heat float64) {
	for _, r := range lateRoles {
		for _, p := range lateOf(b.rest, r) {
			mass += float64(p.Mass)
			heat += float64(p.Mass) * float64(p.Temp)
		}
		if r == role {
			break
		}
	}
	return mass, heat
}

// mixAfter is the heat of the mix, °C, when the late parts up to a role have gone in.
func (b *builder) mixAfter(role Role) float64 {
	hot := float64(b.hydrating())
	mass, heat := b.lateUpTo(role)
	return (hot*b.pan + heat) / (hot + mass)
}

// coolFirst lets the pan cool so far that the mix with a role in it comes to what that bears.
func (b *builder) coolFirst(role Role, bears float64, parts []string, ref sourceRef, why note.Note) {
	hot := float64(b.hydrating())
	mass, heat := b.lateUpTo(role)
	b.pan = math.Floor(((hot+mass)*bears - heat) / hot)
	s := newStep(CoolTo, nil, parts).takes(unit.Range{Low: 3, Typical: 8, High: 15}).waits().
		arg(celsius("temp", b.pan)).
		atMost(Temperature, b.pan, unit.DegreeC, ref).
		why(why)
	s.Hot = true
	b.add(s)
}

// warm heats the late parts to what the mix needs, in whole degrees, or as far
// as they bear; where that is too little the hot part must be larger, and a caution says
// how large.
func (b *builder) warm(floor float64, first *Process) {
	hot, cold := float64(b.hydrating()), float64(partMass(b.rest))
	need := math.Ceil(RestTemp(floor+spareHeat, b.pan, hot/(hot+cold)))
	bears := math.Inf(1)
	for _, p := range b.rest {
		bears = min(bears, p.warmest())
	}
	coldTemp := max(min(need, bears), meanTemp(b.rest))
	for i := range b.rest {
		b.rest[i].Temp = max(b.rest[i].Temp, unit.Celsius(coldTemp))
	}
	mix := b.mixAfter(Alcohol)
	s := newStep(WarmRest, nil, partNames(b.rest)).takes(unit.Range{Low: 3, Typical: 5, High: 8}).uses("stove").
		arg(celsius("temp", coldTemp)).
		atLeast(Temperature, coldTemp, unit.DegreeC, first.Sets.Source).
		why(reason(CodeTemperWarm, first.Sets.Source, agentWord("agent", first.ID), celsius("floor", floor), celsius("temp", coldTemp)))
	if mix < floor {
		share := LeastShare(floor, b.pan, coldTemp)
		s = s.note(caution(CodeTemperFails, first.Sets.Source, agentWord("agent", first.ID), celsius("mix", mix), celsius("floor", floor),
			grams("hot", unit.Mass(math.Ceil(share*(hot+cold))))))
	}
	b.add(s)
}

// acidHurts reports whether hot acid costs one of the agents strength.
func (b *builder) acidHurts() bool {
	return len(b.doses(func(p Process) bool { return p.Acid.Known() })) > 0 && len(lateOf(b.rest, Acid)) > 0
}

// frailest is the part that bears the least heat by its own nature; nil when all bear any.
func (b *builder) frailest(parts []Part) *Part {
	var least *Part
	for i := range parts {
		if p := &parts[i]; p.Bears > 0 && (least == nil || p.Bears < least.Bears) {
			least = p
		}
	}
	return least
}

func lateOf(parts []Part, r Role) []Part {
	var out []Part
	for _, p := range parts {
		if p.Role == r {
			out = append(out, p)
		}
	}
	return out
}

// addLate adds the late parts of one role.
func (b *builder) addLate(r Role, floor float64, first *Process) {
	parts := lateOf(b.rest, r)
	if len(parts) == 0 {
		return
	}
	mix := b.mixAfter(r)
	kind := map[Role]Kind{Delicate: Temper, Acid: AcidIn, Alcohol: AlcoholIn}[r]
	s := newStep(kind, nil, partNames(parts)).takes(unit.Range{Low: 1, Typical: 2, High: 3}).
		arg(grams("mass", partMass(parts)), celsius("mix", mix))
	if first != nil {
		s = s.atLeast(Temperature, floor, unit.DegreeC, first.Sets.Source).
			why(reason(CodeFirstToSet, first.Sets.Source, agentWord("agent", first.ID), celsius("floor", floor)))
	}
	s.Hot = true
	b.add(b.lateReasons(s, r, mix))
}

func (b *builder) lateReasons(s Step, r Role, mix float64) Step {
	s = s.why(reason(CodeTemper, practice, celsius("mix", mix)))
	switch r {
	case Delicate:
		return s.why(reason(CodeKeepsFresh, practice))
	case Alcohol:
		return s.why(reason(CodeAlcoholLate, practice)).note(danger(CodeFlame, practice))
	}
	floor, first := floorOf(b.in.Doses)
	switch {
	case !b.acidHurts():
	case floor > acidAt.High:
		s = s.note(caution(CodeAcidQuick, acidAt.Source, agentWord("agent", first.ID), celsius("floor", floor), celsius("temp", acidAt.High)))
	default:
		s = s.atMost(Temperature, max(acidAt.High, math.Ceil(mix)), unit.DegreeC, acidAt.Source)
	}
	return s.why(reason(CodeAcidLate, acidAt.Source, celsius("temp", acidAt.High)))
}

// fold brings the heat-shy cold agents into the mix between what they bear
// and what the others need.
func (b *builder) fold(floor float64) {
	d := b.doses(b.folded)
	if len(d) == 0 {
		return
	}
	p := d[0].Process
	for _, other := range d[1:] {
		if other.Process.Bears.Low < p.Bears.Low {
			p = other.Process
		}
	}
	s := newStep(FoldIn, names(d), b.unnamed()).takes(unit.Range{Low: 2, Typical: 4, High: 6}).
		arg(grams("powder", mass(d)), celsius("temp", p.Bears.Low)).
		atMost(Temperature, p.Bears.Low, unit.DegreeC, p.Bears.Source).
		why(reason(CodeSplitHeat, p.Bears.Source, agentWord("agent", p.ID), celsius("temp", p.Bears.Low)))
	if floor > 0 {
		_, first := floorOf(b.in.Doses)
		s = s.atLeast(Temperature, floor, unit.DegreeC, first.Sets.Source)
		if floor > p.Bears.Low {
			s = s.note(caution(CodeConflict, p.Bears.Source, agentWord("agent", p.ID), celsius("bears", p.Bears.Low),
				agentWord("first", first.ID), celsius("floor", floor)))
		}
	}
	b.add(s)
}
