package method

import (
	"slices"

	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Citrate doses in grams per 100 g of liquid, and what a gram binds.
var (
	citrateDose    = Fact{unit.Range{Low: 0.05, Typical: 0.1, High: 0.3}, source.Ref{Tag: source.Memory, Text: "kitchen and makers' doses of trisodium citrate in hard water"}}
	citratePerMmol = 0.2941 // g of trisodium citrate dihydrate (294.10 g/mol) per mmol of calcium, bound about one to one
)

// milky is the calcium, mmol/kg, above which citrate in a sensible dose cannot
// bind it: 0.3 % is 10.2 mmol/kg.
const milky = 10.2

// sequester binds the calcium that would keep an agent from hydrating, or lifts
// a liquid that is too sour for it.
func (b *builder) sequester() {
	blocked := b.doses(b.meetsCalcium)
	sour := b.doses(b.tooSour)
	if b.sphereCitrate(blocked, sour) {
		return
	}
	if len(blocked) == 0 && len(sour) == 0 {
		return
	}
	if slices.ContainsFunc(blocked, func(d Dose) bool { return b.in.Liquid.calciumFor(d.Process) > milky }) {
		b.tooMuchCalcium(blocked)
		return
	}
	if len(sour) == 0 && b.heatInstead(blocked) {
		return
	}
	who := blocked
	if len(who) == 0 {
		who = sour
	}
	s := newStep(Soften, names(who), b.in.Liquid.ids(Sequestrant)).takes(unit.Range{Low: 1, Typical: 2, High: 3}).
		arg(grams("citrate", b.citrate(blocked))).
		atMost(Share, 0.5, unit.GramPer100, practice).
		why(reason(CodeSequester, citrateDose.Source, note.Num("calcium", b.in.Liquid.calciumFor(who[0].Process), unit.MmolPerKg)))
	if b.in.Liquid.mass(Sequestrant) == 0 {
		s = s.note(caution(CodeSuggested, citrateDose.Source))
	}
	if n, ok := b.giveBack(blocked); ok {
		s = s.note(n)
	}
	if b.in.Liquid.idle() && len(blocked) > 0 && !b.acidLate() {
		s = s.note(caution(CodeCitrateAcid, idleSource, note.Num("ph", b.in.Liquid.PH.Low, unit.PH)))
	}
	b.add(s)
	if len(sour) > 0 {
		b.add(b.phStep(sour[0].Process, b.in.Liquid.PH.Typical))
	}
}

func (b *builder) meetsCalcium(p Process) bool {
	return p.CaMax.Known() && b.in.Liquid.calciumFor(p) > p.CaMax.Low
}

// calciumFor is the calcium, mmol/kg, that an agent meets. What acids hold does not keep
// gellan from hydrating; alginate takes it from them.
func (l Liquid) calciumFor(p Process) float64 {
	if p.ForSpheres() {
		return l.Calcium
	}
	return l.Calcium * (1 - l.Held)
}

// idlePH is the pH below which citrate keeps its acid and hardly binds calcium.
const idlePH = 4

var idleSource = source.Ref{Tag: source.Published, Text: "Logsdon, Modernist Cooking Made Easy, 2012: citrate works only at high pH"}

// idle reports whether citrate may hardly bind in the whole liquid.
func (l Liquid) idle() bool { return l.PH.Typical > 0 && l.PH.Low < idlePH }

// beyondCitrate reports whether citrate would be stirred in for nothing: it stands not
// in the formula, and the sour parts do not wait until later.
func (l Liquid) beyondCitrate() bool {
	late := slices.ContainsFunc(l.Parts, func(p Part) bool { return p.Role == Acid })
	return l.idle() && !late && l.mass(Sequestrant) == 0
}

// heatInstead leaves out the citrate where it would do nothing and all agents hydrate
// with more heat (see [Process.raised]). It reports whether that holds.
func (b *builder) heatInstead(blocked []Dose) bool {
	cold := func(d Dose) bool { return !d.Process.hot() }
	if len(blocked) == 0 || !b.in.Liquid.beyondCitrate() || slices.ContainsFunc(blocked, cold) {
		return false
	}
	for _, d := range blocked {
		b.notes = append(b.notes, reason(CodeCalciumSour, idleSource, agentWord("agent", d.Process.ID), note.Num("ph", b.in.Liquid.PH.Low, unit.PH),
			note.Num("calcium", b.in.Liquid.calciumFor(d.Process), unit.MmolPerKg), celsius("temp", d.Process.raised(b.in.Liquid).Heat.Typical)))
	}
	return true
}

// sphereCitrate puts in the citrate of the sphere calculation, which knows the acids of
// the liquid and counts pH and calcium together. It reports whether that holds here: not
// beside other agents that citrate must help.
func (b *builder) sphereCitrate(blocked, sour []Dose) bool {
	planned := b.in.Spheres
	drops := b.doses(Process.ForSpheres)
	other := func(d Dose) bool { return !d.Process.ForSpheres() }
	if !planned.Planned || len(drops) == 0 || slices.ContainsFunc(blocked, other) || slices.ContainsFunc(sour, other) {
		return false
	}
	if planned.Refused {
		b.notes = append(b.notes, caution(CodeSpheresNo, practice))
		return true
	}
	has := b.in.Liquid.mass(Sequestrant)
	if total := has + planned.Citrate; total > 0 {
		s := newStep(Soften, names(drops), b.in.Liquid.ids(Sequestrant)).takes(unit.Range{Low: 1, Typical: 2, High: 3}).
			arg(grams("citrate", total)).
			atMost(Share, 0.5, unit.GramPer100, practice).
			why(reason(CodeSpheresAsk, practice))
		if has == 0 {
			s = s.note(caution(CodeSuggested, citrateDose.Source))
		}
		b.add(s)
	}
	if len(sour) > 0 {
		b.add(b.phStep(sour[0].Process, planned.PH))
	}
	return true
}

// tooMuchCalcium is milk: what hydrates hot opens up there with more heat
// (see [Process.raised]); what hydrates cold does not.
func (b *builder) tooMuchCalcium(blocked []Dose) {
	for _, d := range blocked {
		if p := d.Process; p.hot() {
			b.notes = append(b.notes, reason(CodeCalciumHot, p.CaMax.Source, agentWord("agent", p.ID),
				note.Num("calcium", b.in.Liquid.calciumFor(p), unit.MmolPerKg), celsius("temp", p.raised(b.in.Liquid).Heat.Typical)))
		} else {
			b.notes = append(b.notes, caution(CodeCalciumHigh, p.CaMax.Source, agentWord("agent", p.ID),
				note.Num("calcium", b.in.Liquid.calciumFor(p), unit.MmolPerKg), note.Num("bound", milky, unit.MmolPerKg)))
		}
	}
}

// tooSour reports whether the hydrating part may be below the lowest pH of an
// agent that citrate helps: only when its sour parts are not added late. For
// other agents the pH moves the dose, not the method.
func (b *builder) tooSour(p Process) bool {
	ph := b.in.Liquid.PH
	return !b.acidLate() && p.CaMax.Known() && p.PHLow > 0 && ph.Typical > 0 && ph.Low < p.PHLow
}

// acidLate reports whether the sour parts wait until after hydration.
func (b *builder) acidLate() bool {
	return slices.ContainsFunc(b.rest, func(p Part) bool { return p.Role == Acid })
}

// giveBack warns when citrate takes the calcium that an agent later sets with,
// and neither late acid, which sets it free, nor a salt brings it back.
func (b *builder) giveBack(blocked []Dose) (note.Note, bool) {
	if b.acidLate() || len(b.doses(func(p Process) bool { return p.Salt })) > 0 {
		return note.Note{}, false
	}
	for _, d := range blocked {
		if d.Process.SetBy == OnCooling {
			return caution(CodeGiveBack, d.Process.CaMax.Source, agentWord("agent", d.Process.ID)), true
		}
	}
	return note.Note{}, false
}

// citrate is the formula's own dose, or one that binds the calcium above the
// agent's limit, within the kitchen's range.
func (b *builder) citrate(blocked []Dose) unit.Mass {
	if m := b.in.Liquid.mass(Sequestrant); m > 0 {
		return m
	}
	share := citrateDose.Typical
	if len(blocked) > 0 {
		over := 0.0
		for _, d := range blocked {
			over = max(over, b.in.Liquid.calciumFor(d.Process)-d.Process.CaMax.Low)
		}
		share = min(max(over*citratePerMmol/10, citrateDose.Low), citrateDose.High)
	}
	return unit.Mass(share/100) * b.hydrating()
}

// phStep asks for a measurement at an agent's limit, where about ph is reckoned with. An
// estimate is never enough.
func (b *builder) phStep(p Process, ph float64) Step {
	s := newStep(CheckPH, []string{p.ID}, nil).takes(unit.Range{Low: 1, Typical: 2, High: 3}).
		atLeast(PH, p.PHLow, unit.PH, p.Heat.Source).
		note(caution(CodePHLow, p.Heat.Source, agentWord("agent", p.ID), note.Num("ph", p.PHLow, unit.PH)))
	if !b.in.Liquid.PHMeasured {
		s = s.note(caution(CodePHMeasure, practice, note.Num("ph", ph, unit.PH)))
	}
	return s
}
