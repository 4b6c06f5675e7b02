package method

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

type sourceRef = source.Ref

// additions brings what must wait for hydration: the rest of the sugar, salt,
// calcium.
func (b *builder) additions() {
	if left := b.sugar - b.inMix; left > 1e-9 && b.isSugarLate() {
		b.add(b.sweeten(left))
	}
	for _, d := range b.doses(func(p Process) bool { return p.SetBy == ByAcidSugar && p.Solids.Known() }) {
		b.add(boilDown(d.Process))
	}
	if salt := b.in.Liquid.ids(Salt); len(salt) > 0 {
		b.add(newStep(AddSalt, nil, salt).takes(unit.Range{Low: 1, Typical: 1, High: 2}).
			arg(grams("salt", b.in.Liquid.mass(Salt))).why(reason(CodeSaltLate, practice)))
	}
	calcium := b.salts()
	switch {
	case len(calcium) == 0 || b.saltWaits():
	case b.in.Target != Bath:
		b.add(b.calcium(calcium))
	case len(calcium) == len(b.in.Doses): // a calcium bath; beside alginate the salt belongs to the spheres
		b.add(newStep(StirIn, names(calcium), b.unnamed()).takes(unit.Range{Low: 1, Typical: 3, High: 5}).arg(grams("powder", mass(calcium))))
	}
}

func (b *builder) salts() []Dose { return b.doses(func(p Process) bool { return p.Salt }) }

// saltWaits reports whether the calcium must wait until the mix is about to be poured: it
// sets a cold mix where it stands, in the sieve as well.
func (b *builder) saltWaits() bool {
	cold := len(b.groups) == 0 && len(b.doses(func(p Process) bool { return p.SetBy == ByCalcium })) > 0
	pours := b.in.Target == SetGel || b.in.Target == FluidGel || b.in.Target == SiphonCold || b.in.Target == SiphonHot
	return cold && pours && len(b.salts()) > 0
}

// spheres says where the calcium of a mix without any comes from.
func (b *builder) spheres() {
	if len(b.salts()) > 0 {
		if len(b.doses(func(p Process) bool { return p.SetBy != NoSet || p.Salt })) == len(b.salts()) {
			b.notes = append(b.notes, note.New(note.Hint, CodeReverse).From(practice))
		}
		return
	}
	for _, d := range b.doses(func(p Process) bool { return p.SetBy == ByCalcium && p.Cold }) {
		b.notes = append(b.notes, note.New(note.Hint, CodeSpheres, agentWord("agent", d.Process.ID)).From(practice))
	}
}

// boilDown cooks to the solids that a sugar-acid gel needs.
func boilDown(p Process) Step {
	s := newStep(BoilDown, []string{p.ID}, nil).takes(unit.Range{Low: 2, Typical: 5, High: 15}).uses("stove").
		arg(note.Num("brix", p.Solids.Low, unit.Brix)).
		atLeast(Share, p.Solids.Low, unit.Brix, p.Solids.Source).
		why(reason(CodeBoilDown, p.Solids.Source, note.Num("brix", p.Solids.Low, unit.Brix))).
		note(danger(CodeHotSplash, practice))
	s.Hot = true
	return s
}

// muchSugar is the °Brix above which any powder hydrates poorly; common practice.
const muchSugar = 30

// sugarLate names the agent, if any, that does not hydrate in all of the sugar.
func (b *builder) sugarLate() (who string, limit Fact, late bool) {
	brix := float64(b.sugar / (b.sugar + b.hydrating()) * 100)
	for _, d := range b.in.Doses {
		p := d.Process
		if p.Salt || p.Way == Soak {
			continue
		}
		most := Fact{unit.Exactly(muchSugar), practice}
		if p.Brix.Known() {
			most = p.Brix
		}
		if brix > most.Low && (!late || most.Low < limit.Low) {
			who, limit, late = p.ID, most, true
		}
	}
	return who, limit, late
}

func (b *builder) isSugarLate() bool { _, _, late := b.sugarLate(); return late }

func (b *builder) sweeten(left unit.Mass) Step {
	who, limit, late := b.sugarLate()
	kind := SugarIn
	if late {
		kind = Sweeten
	}
	s := newStep(kind, nil, b.in.Liquid.ids(Sugar)).takes(unit.Range{Low: 1, Typical: 2, High: 4}).arg(grams("sugar", left))
	if late {
		s = s.why(reason(CodeSugarLate, limit.Source, agentWord("agent", who), note.Num("brix", limit.Low, unit.Brix)))
	}
	return s
}

// saltWater is the water that the calcium is dissolved in, kept back from the recipe's own.
func (b *builder) saltWater() unit.Mass {
	if b.in.Target == Bath {
		return 0
	}
	return min(10*mass(b.salts()), b.hydrating()/5)
}

// calcium goes in hot and thin, while the gel is still far from setting.
func (b *builder) calcium(salts []Dose) Step {
	water := b.saltWater()
	s := newStep(AddCalcium, names(salts), b.unnamed()).takes(unit.Range{Low: 1, Typical: 2, High: 4}).
		arg(grams("salt", mass(salts)), grams("water", water)).
		why(reason(CodeSaltLate, practice))
	if floor, first := floorOf(b.in.Doses); first != nil && len(b.groups) > 0 {
		s = s.atLeast(Temperature, floor, unit.DegreeC, first.Sets.Source)
	}
	return s
}

// warmest is how warm a late part may be made, °C: its own limit, or what its
// role stands by common practice.
func (p Part) warmest() float64 {
	if p.Bears > 0 {
		return float64(p.Bears)
	}
	switch p.Role {
	case Delicate:
		return 45
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
	for _, role := range lateRoles {
		b.addLate(role, floor, first)
	}
}

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
