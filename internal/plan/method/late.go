package method

import (
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
	case !b.dropsIntoCalcium(): // a calcium bath, or a mix for reverse spheres; beside alginate the salt belongs to the spheres
		b.add(newStep(StirIn, names(calcium), b.unnamed()).takes(unit.Range{Low: 1, Typical: 3, High: 5}).arg(grams("powder", mass(calcium))))
	}
}

// dropsIntoCalcium reports whether the mix itself is what calcium sets.
func (b *builder) dropsIntoCalcium() bool {
	return len(b.doses(func(p Process) bool { return p.SetBy == ByCalcium })) > 0
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
	for _, d := range b.doses(Process.ForSpheres) {
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
