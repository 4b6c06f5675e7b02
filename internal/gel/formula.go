package gel

import (
	"math"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// part is what acts as one in a formula: an agent, or a pair that works together.
type part struct {
	pair   *agent.Pair
	a, b   *agent.Agent // b is nil without a pair
	doses  [2]Dose
	total  float64 // g per 100 g of both
	shareA float64 // part of the first agent in total
}

// pairSlack is how far beyond its published ratios a pair still counts as one:
// half as little of the scarcer agent.
const pairSlack = 0.5

// split groups a checked formula: pairs first, in catalogue order, then what is
// left, in the formula's order.
func split(doses []Dose, records []*agent.Agent) []part {
	var out []part
	used := make([]bool, len(doses))
	pairs := agent.Pairs()
	for k := range pairs {
		p := &pairs[k]
		i, j := indexOf(records, p.A, used), indexOf(records, p.B, used)
		if i < 0 || j < 0 {
			continue
		}
		x, y := doses[i].percent(), doses[j].percent()
		share := x / (x + y)
		if share < p.Share.Low*pairSlack || 1-share < (1-p.Share.High)*pairSlack {
			continue
		}
		used[i], used[j] = true, true
		out = append(out, part{pair: p, a: records[i], b: records[j], doses: [2]Dose{doses[i], doses[j]}, total: x + y, shareA: share})
	}
	for i, a := range records {
		if !used[i] {
			out = append(out, part{a: a, doses: [2]Dose{doses[i]}, total: doses[i].percent(), shareA: 1})
		}
	}
	return out
}

func indexOf(records []*agent.Agent, id agent.ID, used []bool) int {
	for i, a := range records {
		if a.ID == id && !used[i] {
			return i
		}
	}
	return -1
}

// build makes the laws of the parts. A formula without any law gives a system
// without laws.
func (r *resolver) build(parts []part) (system, error) {
	total := 0.0
	for _, p := range parts {
		total += p.total
	}
	var s system
	for i := range parts {
		if err := r.add(&s, &parts[i], total); err != nil {
			return system{}, err
		}
	}
	return s, nil
}

func (r *resolver) add(s *system, p *part, total float64) error {
	medium := r.cond.medium()
	if p.pair == nil {
		return r.single(s, p.a, p.doses[0], total, -1, p.a.Feel.Break.Range())
	}
	if m := p.pair.Model(medium); m != nil {
		alone := resolver{cond: r.cond, topUp: r.topUp, explain: r.explain} // what trials say of the first agent says nothing of the pair
		l, err := alone.law(p.a, m, p.pair.Feel.Break.Range(), 0, p.total/total)
		r.notes = append(r.notes, alone.notes...)
		if err == nil {
			l.pair = p.pair
			s.laws = append(s.laws, l)
		}
		return err
	}
	syn := -1
	if p.pair.Synergy.Known() {
		y := p.pair.Synergy
		mid := math.Log(y.Typical)
		s.syn = append(s.syn, spreadLn{mid, mid - math.Log(y.Low), math.Log(y.High) - mid})
		syn = len(s.syn) - 1
	}
	for k, a := range [...]*agent.Agent{p.a, p.b} {
		if a.Setting.Kind == agent.ByAlkali { // its law is the alkali gel's, which is not what the pair sets by
			continue
		}
		if err := r.single(s, a, p.doses[k], total, syn, p.pair.Feel.Break.Range()); err != nil {
			return err
		}
	}
	return nil
}

// single adds the law of one agent, if it has one.
func (r *resolver) single(s *system, a *agent.Agent, d Dose, total float64, syn int, breaks unit.Range) error {
	m := a.Model(r.cond.medium())
	if m == nil {
		return nil
	}
	l, err := r.law(a, m, breaks, d.Grade, d.percent()/total)
	if err != nil {
		return err
	}
	l.syn = syn
	s.laws = append(s.laws, l)
	return nil
}

// Firmness is how a formula sets.
type Firmness struct {
	Modulus unit.Range // G' in Pa; a Low of zero says that it may not set at all
	Break   unit.Range // strain at break, parts of one: small is brittle
	Known   bool       // false when there is no figure; the notes say why
	Notes   []note.Note
}

// FirmnessOf is the firmness of a formula in a liquid, by this kitchen's factors
// (nil for none). What cannot be computed is not an error but a Firmness that is
// not Known; errors are refusals of the input.
func FirmnessOf(doses []Dose, c Conditions, k Kitchen) (Firmness, error) {
	merged, records, err := merge(doses)
	if err != nil {
		return Firmness{}, err
	}
	if err := c.Check(); err != nil {
		return Firmness{}, err
	}
	c = withSalts(c, merged, records)
	r := resolver{cond: &c, kitchen: k, explain: true}
	f, _ := r.firmness(split(merged, records))
	return f, nil
}

// firmness also returns the ln modulus with its deviations, for a swap.
func (r *resolver) firmness(parts []part) (Firmness, spreadLn) {
	s, err := r.build(parts)
	if err != nil {
		return Firmness{Notes: append(r.notes, noteOf(err))}, spreadLn{}
	}
	total := 0.0
	for _, p := range parts {
		total += p.total
	}
	f := Firmness{Notes: r.notes}
	if len(s.laws) == 0 {
		f.Notes = append(f.Notes, note.New(note.Reason, CodeNoLaw))
		return f, spreadLn{}
	}
	if n, bad := s.unmeasured(total); bad {
		f.Notes = append(f.Notes, n)
		return f, spreadLn{}
	}
	if c := r.cond; !c.PH.Known && !c.Brix.Known && !c.ABV.Known {
		f.Notes = append(f.Notes, note.New(note.Reason, CodePlain))
	}
	f.Modulus, f.Break, f.Known = s.band(total), s.breaks(total), true
	f.Notes = append(f.Notes, s.reasons()...)
	if r.explain {
		f.Notes = append(f.Notes, s.ionReasons(total)...)
	}
	if f.Modulus.Low == 0 {
		f.Notes = append(f.Notes, note.New(note.Caution, CodeNearThreshold, workArg(s.laws[0].agent, s.laws[0].pair)).From(s.laws[0].model.C0.Ref()))
	}
	return f, logOf(f.Modulus)
}

// logOf is a modulus range as ln with deviations. A low end of zero counts as
// the high end mirrored, as a dose cannot be infinitely uncertain.
func logOf(r unit.Range) spreadLn {
	mid := math.Log(r.Typical)
	up := math.Log(r.High) - mid
	if r.Low <= 0 {
		return spreadLn{mid, up, up}
	}
	return spreadLn{mid, mid - math.Log(r.Low), up}
}

// unmeasured says which law is beyond what its figures are claimed for, if any
// part is above or all are below.
func (s *system) unmeasured(total float64) (note.Note, bool) {
	below := 0
	var worst *law
	for i := range s.laws {
		l := &s.laws[i]
		x := total * l.share * l.scale.Typical
		if x > l.span.To*(1+1e-9) {
			return outsideNote(l, total), true
		}
		if x < l.span.From*(1-1e-9) {
			below++
			if worst == nil {
				worst = l
			}
		}
	}
	if below == len(s.laws) {
		return outsideNote(worst, total), true
	}
	return note.Note{}, false
}

// outsideNote gives the limits for this formula's grade.
func outsideNote(l *law, total float64) note.Note {
	return note.New(note.Refused, CodeOutsideDose, workArg(l.agent, l.pair), note.Num("dose", total*l.share, unit.PercentOf),
		against("low", l.span.From/l.scale.Typical, total*l.share, unit.PercentOf), against("high", l.span.To/l.scale.Typical, total*l.share, unit.PercentOf)).From(l.span.Cite.Ref())
}

// breaks is the strain at break of the laws, weighted by their moduli.
func (s *system) breaks(total float64) unit.Range {
	var sum, low, typ, high float64
	most := s.lnG(total, noLaw, 0)
	for i := range s.laws {
		l := &s.laws[i]
		w := math.Exp(l.lnG(total, typical) + s.synergy(l, noLaw, 0) - most)
		sum += w
		low += w * math.Log(l.breaks.Low)
		typ += w * math.Log(l.breaks.Typical)
		high += w * math.Log(l.breaks.High)
	}
	if !(sum > 0) || !unit.Finite(sum) {
		return s.laws[0].breaks
	}
	return unit.Range{Low: math.Exp(low / sum), Typical: math.Exp(typ / sum), High: math.Exp(high / sum)}
}

// reasons names the laws with their sources and the kitchen's factors.
func (s *system) reasons() []note.Note {
	var out []note.Note
	for i := range s.laws {
		l := &s.laws[i]
		out = append(out, note.New(note.Reason, CodeLaw, workArg(l.agent, l.pair), note.Num("modulus", l.model.A.Typical, unit.Pascal),
			note.Num("dose", l.ref, unit.PercentOf), note.Num("serve", l.model.C, unit.DegreeC)).From(l.model.A.Ref()))
		if l.mine.Trials > 0 {
			out = append(out, note.New(note.Reason, CodeKitchen, agentArg(l.agent.ID), said("factor", l.mine.Value, unit.One), note.Num("trials", float64(l.mine.Trials), unit.One)))
		}
	}
	return out
}

// ionReasons says what the ions do that are counted for each gram of agent.
func (s *system) ionReasons(total float64) []note.Note {
	var out []note.Note
	for i := range s.laws {
		l := &s.laws[i]
		if l.ions == nil || !(total*l.share > 0) {
			continue
		}
		low, mid, high := math.Exp(l.ionFactor(total, tableLow)), math.Exp(l.ionFactor(total, typical)), math.Exp(l.ionFactor(total, tableHigh))
		if low > 1-leastFactor && high < 1+leastFactor {
			continue
		}
		x := max(l.ionSum.Typical/(10*total*l.share), l.ionMin)
		out = append(out, note.New(note.Reason, CodeFactorIons, agentArg(l.agent.ID), said("factor", mid, unit.One),
			said("low", low, unit.One), said("high", high, unit.One)).From(l.ions.At(x).Ref()))
	}
	return out
}

func noteOf(err error) note.Note {
	if r, ok := err.(*note.Refusal); ok {
		return r.Note
	}
	return note.New(note.Refused, CodeNoLaw)
}

// DoseFor is the inverse: the dose of one agent, as a mass fraction of the mix,
// that is as firm as a modulus in Pa, with its range. A dose beyond what the
// figures are claimed for is refused with [CodeOutsideDose].
func DoseFor(id agent.ID, grade float64, modulus unit.Range, c Conditions, k Kitchen) (unit.Range, []note.Note, error) {
	a := agent.ByID(id)
	if a == nil {
		return unit.Range{}, nil, unknownAgent(string(id))
	}
	if err := checkGrade(a, grade); err != nil {
		return unit.Range{}, nil, err
	}
	if !modulus.Valid() || modulus.Low < 0 || modulus.Typical <= 0 || modulus.High > unit.MaxFigure {
		return unit.Range{}, nil, note.Refuse("modulus", CodeNotPositive, note.Num("value", modulus.Typical, unit.Pascal))
	}
	if err := c.Check(); err != nil {
		return unit.Range{}, nil, err
	}
	r := resolver{cond: &c, kitchen: k, explain: true}
	s, err := r.build([]part{{a: a, doses: [2]Dose{{Agent: id, Grade: grade, Share: 1}}, total: 100, shareA: 1}})
	if err != nil {
		return unit.Range{}, nil, err
	}
	if len(s.laws) == 0 {
		return unit.Range{}, nil, note.Refuse("agent", CodeNoLaw, agentArg(id))
	}
	d := s.dose(logOf(modulus))
	if n, bad := s.unmeasured(d.Typical); bad {
		return unit.Range{}, nil, &note.Refusal{Note: n}
	}
	return d.Scale(0.01), append(r.notes, s.reasons()...), nil
}
