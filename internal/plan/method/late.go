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

// balance works out the heat of the mix and adds the late parts.
func (b *builder) balance(floor float64, first *Process) {
	hot, cold := float64(b.hydrating()), float64(partMass(b.rest))
	if cold <= 0 {
		return
	}
	coldTemp := meanTemp(b.rest)
	mix := Mix(hot, b.pan, cold, coldTemp)
	bears := b.frailest(b.rest)
	if mix < floor {
		_, mix = b.warm(hot, cold, floor, first)
	} else if mix > bears && floor <= bears {
		b.coolForFrail(hot, cold, coldTemp, bears)
		mix = bears
	} else if b.acidHurts() && mix > acidAt.High && floor <= acidAt.High {
		b.coolForAcid(hot, cold, coldTemp)
		mix = acidAt.High
	}
	for _, role := range [...]Role{Delicate, Acid, Alcohol} {
		b.addLate(role, mix, floor, first)
	}
}

// warm heats the late parts to what the mix needs, in whole degrees, or as far
// as they bear; then the hot part must be larger, and a caution says how large.
func (b *builder) warm(hot, cold, floor float64, first *Process) (coldTemp, mix float64) {
	need := math.Ceil(RestTemp(floor, b.pan, hot/(hot+cold)))
	bears := math.Inf(1)
	for _, p := range b.rest {
		bears = min(bears, p.warmest())
	}
	coldTemp = max(min(need, bears), meanTemp(b.rest))
	mix = Mix(hot, b.pan, cold, coldTemp)
	s := newStep(WarmRest, nil, partNames(b.rest)).takes(unit.Range{Low: 3, Typical: 5, High: 8}).uses("stove").
		arg(celsius("temp", coldTemp)).
		atLeast(Temperature, coldTemp, unit.DegreeC, first.Sets.Source).
		why(reason(CodeTemperWarm, first.Sets.Source, agentWord("agent", first.ID), celsius("floor", floor), celsius("temp", coldTemp)))
	if need > bears {
		share := LeastShare(floor, b.pan, coldTemp)
		s = s.note(caution(CodeTemperFails, first.Sets.Source, agentWord("agent", first.ID), celsius("mix", mix), celsius("floor", floor),
			grams("hot", unit.Mass(math.Ceil(share*(hot+cold))))))
	}
	b.add(s)
	return coldTemp, mix
}

// acidHurts reports whether hot acid costs one of the agents strength.
func (b *builder) acidHurts() bool {
	return len(b.doses(func(p Process) bool { return p.Acid.Known() })) > 0 && len(lateOf(b.rest, Acid)) > 0
}

// frailest is the least heat, °C, that one of the parts bears by its own nature.
func (b *builder) frailest(parts []Part) float64 {
	bears := math.Inf(1)
	for _, p := range parts {
		if p.Bears > 0 {
			bears = min(bears, float64(p.Bears))
		}
	}
	return bears
}

// coolForFrail lets the pan cool so far that what goes in does not set or split.
func (b *builder) coolForFrail(hot, cold, coldTemp, bears float64) {
	b.pan = math.Floor(((hot+cold)*bears - cold*coldTemp) / hot)
	s := newStep(CoolTo, nil, partNames(b.rest)).takes(unit.Range{Low: 3, Typical: 8, High: 15}).waits().
		arg(celsius("temp", b.pan)).
		atMost(Temperature, b.pan, unit.DegreeC, practice).
		why(reason(CodeKeepsFresh, practice))
	s.Hot = true
	b.add(s)
}

func (b *builder) coolForAcid(hot, cold, coldTemp float64) {
	b.pan = ((hot+cold)*acidAt.High - cold*coldTemp) / hot
	s := newStep(CoolTo, nil, partNames(lateOf(b.rest, Acid))).takes(unit.Range{Low: 3, Typical: 8, High: 15}).waits().
		arg(celsius("temp", math.Floor(b.pan))).
		atMost(Temperature, math.Floor(b.pan), unit.DegreeC, acidAt.Source).
		why(reason(CodeAcidLate, acidAt.Source, celsius("temp", acidAt.High)))
	s.Hot = true
	b.add(s)
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
func (b *builder) addLate(r Role, mix, floor float64, first *Process) {
	parts := lateOf(b.rest, r)
	if len(parts) == 0 {
		return
	}
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
