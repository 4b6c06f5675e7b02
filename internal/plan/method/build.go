package method

import (
	"math"
	"slices"

	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

func pow3(x float64) float64 { return math.Pow(3, x) }

// builder carries what the steps so far have made.
type builder struct {
	in     Input
	steps  []Step
	notes  []note.Note
	groups []group
	base   []Part    // the hydrating part
	rest   []Part    // what comes late and cold
	borrow unit.Mass // taken from the late parts into the hydrating one
	warned []Role
	named  bool    // the hydrating part stands in some step already
	pan    float64 // °C of the hydrated part
	sugar  unit.Mass
	inMix  unit.Mass // sugar used up as dry carrier
}

// Build writes the method. Errors are *note.Refusal.
func Build(in Input) (Method, error) {
	if err := in.check(); err != nil {
		return Method{}, err
	}
	b := &builder{in: in, groups: groups(in.Doses), sugar: in.Liquid.mass(Sugar)}
	b.split()
	b.prepare()
	b.wet()
	b.heat()
	b.additions()
	b.join()
	b.finish()
	return Method{b.steps, b.notes}, nil
}

func (b *builder) add(s Step) { b.steps = append(b.steps, s) }

// doses picks the formula's doses by their process.
func (b *builder) doses(pick func(Process) bool) []Dose {
	var out []Dose
	for _, d := range b.in.Doses {
		if pick(d.Process) {
			out = append(out, d)
		}
	}
	return out
}

func names(doses []Dose) []string {
	out := make([]string, len(doses))
	for i, d := range doses {
		out[i] = d.Process.ID
	}
	return out
}

func mass(doses []Dose) unit.Mass {
	var sum unit.Mass
	for _, d := range doses {
		sum += d.Mass
	}
	return sum
}

func partNames(parts []Part) []string {
	out := make([]string, len(parts))
	for i, p := range parts {
		out[i] = p.ID
	}
	return out
}

func partMass(parts []Part) unit.Mass {
	var sum unit.Mass
	for _, p := range parts {
		sum += p.Mass
	}
	return sum
}

// meanTemp is the temperature of parts put together.
func meanTemp(parts []Part) float64 {
	var sum, weight float64
	for _, p := range parts {
		sum += float64(p.Mass) * float64(p.Temp)
		weight += float64(p.Mass)
	}
	if weight == 0 {
		return 0
	}
	return sum / weight
}

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
	for _, role := range [...]Role{Delicate, Acid, Alcohol} {
		if len(b.base) == 0 {
			b.promote(role)
		}
	}
	b.cap()
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

// warnHeated says what it costs to heat a part of a role, once.
func (b *builder) warnHeated(role Role) {
	if slices.Contains(b.warned, role) {
		return
	}
	b.warned = append(b.warned, role)
	switch role {
	case Acid:
		b.sourHeat()
	case Alcohol:
		b.notes = append(b.notes, danger(CodeFlame, practice))
	}
}

// sourHeat warns of each agent that loses strength when the sour liquid itself is heated.
func (b *builder) sourHeat() {
	ph := b.in.Liquid.PH
	for _, d := range b.in.Doses {
		p := d.Process
		if p.Acid.Known() && ph.Valid() && ph.Typical > 0 && ph.Low < p.AcidPH+1 {
			b.notes = append(b.notes, caution(CodeAcidHot, p.Acid.Source, agentWord("agent", p.ID),
				minutes("minutes", HotMinutes(p.Acid.Low, p.AcidPH, ph.Low)), note.Num("ph", ph.Low, unit.PH)))
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
		b.notes = append(b.notes, caution(CodeCap, d.Process.Cap.Source, agentWord("agent", d.Process.ID),
			note.Num("cap", d.Process.Cap.Typical, unit.GramPer100), grams("need", need), grams("borrow", b.borrow-before)))
	}
}

// take moves liquid from the late parts to the hydrating one, delicate ones
// first: whole parts, and of the last one what is still wanted.
func (b *builder) take(want unit.Mass) {
	for _, role := range [...]Role{Delicate, Acid, Alcohol} {
		for i := 0; i < len(b.rest) && want > 0; {
			p := b.rest[i]
			if p.Role != role {
				i++
				continue
			}
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

// unnamed gives the parts of the hydrating liquid to the first step that puts
// something into them, so that each is named once.
func (b *builder) unnamed() []string {
	if b.named {
		return nil
	}
	b.named = true
	return partNames(b.base)
}

// hydrating is the mass that is heated with the agents in it.
func (b *builder) hydrating() unit.Mass { return partMass(b.base) }

// prepare covers everything before powder meets liquid.
func (b *builder) prepare() {
	b.add(newStep(Weigh, nil, nil).takes(unit.Range{Low: 3, Typical: 5, High: 10}))
	if len(b.doses(func(p Process) bool { return p.Enzyme })) > 0 {
		for _, p := range b.in.Liquid.Parts {
			if p.Enzyme {
				b.scald(p)
			}
		}
	}
	b.dryMix()
	b.bloom()
	b.sequester()
	if left := b.sugar - b.inMix; left > 1e-9 && !b.isSugarLate() {
		b.add(b.sweeten(left))
	}
}

// enzymeSource says at what heat the enzymes of raw fruit are gone.
var enzymeSource = source.Ref{Tag: source.Tertiary, Text: "trade pages on gelatin and raw fruit; McGee, On Food and Cooking, 2004, names the fruits"}

func (b *builder) scald(p Part) {
	agents := names(b.doses(func(p Process) bool { return p.Enzyme }))
	b.add(newStep(Scald, agents, []string{p.ID}).takes(unit.Range{Low: 4, Typical: 6, High: 10}).uses("stove").
		arg(celsius("temp", 82)).atLeast(Temperature, 82, unit.DegreeC, enzymeSource).
		note(caution(CodeEnzyme, enzymeSource, celsius("temp", 82))))
}

// dryMix rubs the lumping powders with part of the sugar, if there is any.
func (b *builder) dryMix() {
	mixable := b.doses(func(p Process) bool {
		return p.Premix.Known() && !p.Salt && (p.Way == DryBlend || p.Way == Shear || p.Way == RainCold)
	})
	if len(mixable) == 0 || b.sugar == 0 {
		return
	}
	want, ref := unit.Mass(0), source.Ref{}
	for _, d := range mixable {
		want += d.Mass * unit.Mass(d.Process.Premix.Typical)
		ref = d.Process.Premix.Source
	}
	b.inMix = min(want, b.sugar)
	b.add(newStep(DryMix, names(mixable), b.in.Liquid.ids(Sugar)).takes(unit.Range{Low: 1, Typical: 2, High: 3}).
		arg(grams("sugar", b.inMix), grams("powder", mass(mixable)), note.Num("ratio", float64(b.inMix/mass(mixable)), unit.One)).
		why(reason(CodeLumps, ref)))
}

// bloomRatio is how much cold water powdered gelatin is soaked in, grams per
// gram, and about what sheets carry after squeezing.
var bloomRatio = Fact{unit.Range{Low: 4, Typical: 5, High: 6}, source.Ref{Tag: source.Tertiary, Text: "trade pages on gelatin: four to six times its weight of cold water"}}

func (b *builder) bloom() {
	for _, d := range b.doses(func(p Process) bool { return p.Way == Soak }) {
		water := d.Mass * unit.Mass(bloomRatio.Typical)
		s := newStep(Bloom, []string{d.Process.ID}, nil).takes(d.Process.Rest.Range).waits().
			arg(grams("agent", d.Mass), grams("water", water), minutes("low", d.Process.Rest.Low), minutes("high", d.Process.Rest.Typical)).
			atLeast(Time, d.Process.Rest.Low, unit.Minute, d.Process.Rest.Source).
			atMost(Temperature, 20, unit.DegreeC, practice).
			why(reason(CodeSwell, d.Process.Rest.Source))
		if d.Sheets {
			s = s.why(reason(CodeSheetWater, bloomRatio.Source, grams("low", d.Mass*unit.Mass(bloomRatio.Low)), grams("high", d.Mass*unit.Mass(bloomRatio.High))))
		}
		b.add(s)
	}
}

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
	blocked := b.doses(func(p Process) bool { return p.CaMax.Known() && b.in.Liquid.Calcium > p.CaMax.Low })
	sour := b.doses(b.tooSour)
	if len(blocked) == 0 && len(sour) == 0 {
		return
	}
	if b.in.Liquid.Calcium > milky && len(blocked) > 0 {
		b.notes = append(b.notes, caution(CodeCalciumHigh, blocked[0].Process.CaMax.Source, agentWord("agent", blocked[0].Process.ID),
			note.Num("calcium", b.in.Liquid.Calcium, unit.MmolPerKg), note.Num("bound", milky, unit.MmolPerKg)))
		return
	}
	who := blocked
	if len(who) == 0 {
		who = sour
	}
	s := newStep(Soften, names(who), b.in.Liquid.ids(Sequestrant)).takes(unit.Range{Low: 1, Typical: 2, High: 3}).
		arg(grams("citrate", b.citrate(blocked))).
		atMost(Share, 0.5, unit.GramPer100, practice).
		why(reason(CodeSequester, citrateDose.Source, note.Num("calcium", b.in.Liquid.Calcium, unit.MmolPerKg)))
	if b.in.Liquid.mass(Sequestrant) == 0 {
		s = s.note(caution(CodeSuggested, citrateDose.Source))
	}
	if ph := b.in.Liquid.PH; ph.Typical > 0 && ph.Low < 4 && len(blocked) > 0 {
		s = s.note(caution(CodeCitrateAcid, source.Ref{Tag: source.Published, Text: "Logsdon, Modernist Cooking Made Easy, 2012: citrate works only at high pH"}, note.Num("ph", ph.Low, unit.PH)))
	}
	b.add(s)
	if len(sour) > 0 {
		b.add(b.phStep(sour[0].Process))
	}
}

// tooSour reports whether the hydrating part may be below the lowest pH of an
// agent that citrate helps: only when its sour parts are not added late. For
// other agents the pH moves the dose, not the method.
func (b *builder) tooSour(p Process) bool {
	ph := b.in.Liquid.PH
	late := slices.ContainsFunc(b.rest, func(p Part) bool { return p.Role == Acid })
	return !late && p.CaMax.Known() && p.PHLow > 0 && ph.Typical > 0 && ph.Low < p.PHLow
}

// citrate is the formula's own dose, or one that binds the calcium above the
// agent's limit, within the kitchen's range.
func (b *builder) citrate(blocked []Dose) unit.Mass {
	if m := b.in.Liquid.mass(Sequestrant); m > 0 {
		return m
	}
	share := citrateDose.Typical
	if len(blocked) > 0 {
		over := b.in.Liquid.Calcium - blocked[0].Process.CaMax.Low
		share = min(max(over*citratePerMmol/10, citrateDose.Low), citrateDose.High)
	}
	return unit.Mass(share/100) * b.hydrating()
}

// phStep asks for a measurement at an agent's limit. An estimate is never enough.
func (b *builder) phStep(p Process) Step {
	s := newStep(CheckPH, []string{p.ID}, nil).takes(unit.Range{Low: 1, Typical: 2, High: 3}).
		atLeast(PH, p.PHLow, unit.PH, p.Heat.Source).
		note(caution(CodePHLow, p.Heat.Source, agentWord("agent", p.ID), note.Num("ph", p.PHLow, unit.PH)))
	if !b.in.Liquid.PHMeasured {
		s = s.note(caution(CodePHMeasure, practice, note.Num("ph", b.in.Liquid.PH.Typical, unit.PH)))
	}
	return s
}
