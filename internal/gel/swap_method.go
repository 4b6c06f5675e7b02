package gel

import (
	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// sourAcid is the pH below which the order of acid and heat matters to agents
// that lose strength in hot acid (common practice).
const sourAcid = 4.5

// Method says how to work with the offer in this liquid, agent by agent, in the
// order of the work.
func (o *Offer) Method() []note.Note {
	sw, c, total := o.sw, &o.cand, o.Total.Typical*100
	var out []note.Note
	for i, a := range c.members() {
		dose := total * c.shareA
		if i == 1 {
			dose = total - dose
		}
		out = sw.prepare(out, a, dose)
	}
	p := part{pair: c.pair, a: c.a, b: c.b}
	if c.pair != nil && c.pair.Effect != "" {
		out = append(out, note.New(note.Reason, CodePairEffect, note.Word("effect", "pair."+string(c.pair.Effect))).From(c.pair.Cite.Ref()))
	}
	if setRank(sw.target) == 0 && sw.target != agent.FluidGel {
		return out
	}
	s := p.setting()
	if s.SetC.Known() {
		out = append(out, note.New(note.Reason, CodeMethodSet, agentArg(c.a.ID), note.Num("low", s.SetC.Low, unit.DegreeC), note.Num("high", s.SetC.High, unit.DegreeC)).From(s.SetC.Ref()))
	}
	if s.Minutes.Known() {
		out = append(out, note.New(note.Reason, CodeMethodWait, agentArg(c.a.ID), note.Num("low", s.Minutes.Low, unit.Minute), note.Num("high", s.Minutes.High, unit.Minute)).From(s.Minutes.Ref()))
	}
	if sw.target == agent.FluidGel {
		out = append(out, note.New(note.Reason, CodeMethodShear, agentArg(c.a.ID)).From(p.feel().Cite.Ref()))
	}
	return out
}

// prepare is dispersing, hydrating and what the liquid needs for one agent.
func (sw *swapper) prepare(out []note.Note, a *agent.Agent, dose float64) []note.Note {
	out = append(out, note.New(note.Reason, CodeMethodDry, agentArg(a.ID), note.Word("way", "disperse."+string(a.Disperse.Way))).From(a.Disperse.Cite.Ref()))
	h := a.Hydrate
	code := CodeMethodHot
	if h.Cold {
		code = CodeMethodCold
	}
	out = append(out, note.New(note.Reason, code, agentArg(a.ID), note.Num("serve", h.C.Typical, unit.DegreeC),
		note.Num("low", h.Minutes.Low, unit.Minute), note.Num("high", h.Minutes.High, unit.Minute)).From(h.C.Ref()))
	if h.Rest.Known() {
		out = append(out, note.New(note.Reason, CodeMethodSoak, agentArg(a.ID), note.Num("low", h.Rest.Low, unit.Minute), note.Num("high", h.Rest.High, unit.Minute)).From(h.Rest.Ref()))
	}
	if a.Stands.Acid.Known() && sw.rec.Cond.PH.Known && sw.rec.Cond.PH.Typical < sourAcid {
		out = append(out, note.New(note.Caution, CodeMethodAcid, agentArg(a.ID)).From(a.Stands.Acid.Loss.Ref()))
	}
	if m := a.Stands.CaMax; m.Known() && sw.rec.Cond.Ca.Known && sw.rec.Cond.Ca.Typical > m.Typical {
		out = append(out, note.New(note.Caution, CodeMethodCitrate, agentArg(a.ID), saidIon("calcium", agent.Calcium, sw.rec.Cond.Ca.Typical)).From(m.Ref()))
	}
	if sw.target == agent.Sphere || sw.target == agent.Foam || sw.target == agent.Air || sw.target == agent.Thickened {
		return out
	}
	if setsOnContact(a) {
		return append(out, note.New(note.Caution, CodeMethodBath, agentArg(a.ID)).From(a.Setting.Cite.Ref()))
	}
	for _, need := range a.Stands.Needs {
		out = sw.bring(out, a, need, dose)
	}
	return out
}

// setsOnContact reports whether calcium sets the agent at once, so that it has
// to come from outside.
func setsOnContact(a *agent.Agent) bool {
	return a.Setting.Kind == agent.ByCalcium && a.Stands.CaMax.Known()
}

// bring says how much of a setting ion is missing, as calcium in mg per kg or
// as potassium chloride in g per kg.
func (sw *swapper) bring(out []note.Note, a *agent.Agent, need agent.Need, dose float64) []note.Note {
	if need.NotMilk && sw.rec.Cond.Milk {
		return out
	}
	best := bestIon(need, dose)
	have := sw.rec.Cond.ion(a, need)
	missing := best
	if have.Known {
		missing = best - have.Typical
	}
	if missing <= 0 {
		return out
	}
	if need.Ion == agent.Potassium {
		return append(out, note.New(note.Reason, CodeMethodKCl, agentArg(a.ID), said("salt", missing*agent.MolarKCl/1000, unit.GramPerKg)).From(need.Amount.Ref()))
	}
	return append(out, note.New(note.Reason, CodeMethodCalcium, agentArg(a.ID), saidIon("calcium", agent.Calcium, missing)).From(need.Amount.Ref()))
}
