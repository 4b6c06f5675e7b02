package gel

import (
	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// rules are asked in this order; each looks at properties of the records, never
// at which agent it is.
var rules = [...]func(*reading){
	(*reading).target, (*reading).enzymes, (*reading).acid, (*reading).heatInAcid, (*reading).curdles, (*reading).sugar, (*reading).alcohol,
	(*reading).acidAndSugar, (*reading).partMilk, (*reading).needs, (*reading).tooMuchCalcium, (*reading).alone, (*reading).served, (*reading).frozen, (*reading).air,
	(*reading).safety,
}

// stands reports whether the recipe is meant to stand still or in a gel's body.
func (rd *reading) stands() bool {
	return setRank(rd.v.Texture) > 0 || rd.v.Texture == agent.FluidGel || rd.v.Texture == agent.Sphere
}

// target compares with what the recipe is meant to become.
func (rd *reading) target() {
	t := rd.Target
	if t == "" || t == rd.v.Texture || t == agent.Emulsion {
		if rd.v.Texture == "" && t == "" {
			code := CodeNothing
			if rd.records[0].Job == agent.Foams && rd.Made != Aerated {
				code = CodeNeedsAir
			}
			rd.fail(note.New(note.Caution, code, rd.firstAgent()))
		}
		return
	}
	args := []note.Arg{note.Word("texture", textureKey(t)), note.Word("reads", readsKey(rd.v.Texture))}
	want, have := setRank(t), setRank(rd.v.Texture)
	switch {
	case have > 0 && want > have:
		rd.add(note.New(note.Caution, CodeSofter, args...))
	case want > 0 && have > want:
		rd.add(note.New(note.Caution, CodeFirmer, args...))
	default:
		rd.fail(note.New(note.Caution, CodeOther, args...))
	}
}

func readsKey(t agent.Texture) string {
	if t == "" {
		return "texture.none"
	}
	return textureKey(t)
}

// enzymes covers what fruit, tea and yolk bring.
func (rd *reading) enzymes() {
	for _, a := range rd.records {
		rd.meets(a, rd.Cond.Protease, a.Stands.Protease, CodeProtease)
		rd.meets(a, rd.Cond.Tannin, a.Stands.Tannin, CodeTannin)
		rd.meets(a, rd.Cond.Amylase, a.Stands.Amylase, CodeAmylase)
	}
}

func (rd *reading) meets(a *agent.Agent, present bool, r agent.Response, code note.Code) {
	if !present || r < agent.Weakens {
		return
	}
	n := note.New(note.Caution, code, agentArg(a.ID)).From(a.Stands.Cite.Ref())
	if r == agent.Fails {
		rd.fail(n)
		return
	}
	rd.add(n)
}

// acid checks the usable pH; the gel that acid sets fails without it.
func (rd *reading) acid() {
	for _, a := range rd.records {
		s := a.Stands.PH
		if !rd.Cond.PH.Known || !s.Known() || s.Contains(rd.Cond.PH.Typical) {
			continue
		}
		code := CodePH
		switch {
		case rd.Cond.PH.Typical > s.To:
			code = CodePHHigh
		case a.Setting.Kind == agent.ByCalcium && a.Stands.CaMax.Known(): // its acid is no more soluble than its calcium salt
			code = CodeFallsOut
		}
		n := note.New(note.Caution, code, agentArg(a.ID), note.Num("ph", rd.Cond.PH.Typical, unit.PH),
			note.Num("low", s.From, unit.PH), note.Num("high", s.To, unit.PH)).From(s.Cite.Ref())
		if a.Setting.Kind == agent.ByAcidSugar && rd.Cond.PH.Low > s.To {
			rd.fail(n)
		} else {
			rd.add(n)
		}
	}
}

// shortAcidTime is the minutes in hot acid below which a cook must be warned
// even without knowing how long it boils (common practice).
const shortAcidTime = 30

// heatInAcid warns of boiling with the acid in.
func (rd *reading) heatInAcid() {
	for _, a := range rd.records {
		h := a.Stands.Acid
		if !rd.Cond.PH.Known || !h.Known() {
			continue
		}
		minutes, loss, err := AcidTime(a, rd.Cond.PH.Typical)
		if err != nil || minutes.Typical >= shortAcidTime {
			continue
		}
		args := []note.Arg{agentArg(a.ID), note.Num("ph", rd.Cond.PH.Typical, unit.PH),
			said("minutes", minutes.Typical, unit.Minute), said("loss", loss.Typical*100, unit.PercentOf)}
		if !rd.Cond.HeatMinutes.Known {
			rd.add(note.New(note.Caution, CodeAcidBoil, args...).From(h.Loss.Ref()))
			continue
		}
		kept, _ := acidKept(h, &rd.Cond)
		args = append(args, note.Num("heat", rd.Cond.HeatMinutes.Typical, unit.Minute), said("lost", (1-kept.Typical)*100, unit.PercentOf))
		n := note.New(note.Caution, CodeAcidLoss, args...).From(h.Loss.Ref())
		if kept.Typical < leastKept {
			rd.fail(n)
		} else if kept.Typical < 0.95 {
			rd.add(n)
		}
	}
}

// Casein has no charge near this pH and curdles within about 0.4 of it (Phillips
// & Williams, Handbook of Hydrocolloids, from memory); below a hundredth of
// protein there is nothing to see (common practice).
const (
	curdlePH      = 4.6
	curdleWidth   = 0.4
	curdleProtein = 0.01
)

func (rd *reading) curdles() {
	c := &rd.Cond
	if !c.PH.Known || !c.Milk && !(c.Protein.Known && c.Protein.Typical >= curdleProtein) {
		return
	}
	if c.PH.High < curdlePH-curdleWidth || c.PH.Low > curdlePH+curdleWidth {
		return
	}
	rd.add(note.New(note.Caution, CodeCurdles, note.Num("ph", c.PH.Typical, unit.PH), note.Num("curdle", curdlePH, unit.PH)).From(curdleSource))
}

var curdleSource = source.Ref{Tag: source.Memory, Text: "Phillips & Williams (eds.), Handbook of Hydrocolloids, milk proteins"}

// sugar checks the limits, and the sugar that a powder must not meet dry.
func (rd *reading) sugar() {
	b := rd.Cond.Brix
	if !b.Known {
		return
	}
	for _, a := range rd.records {
		s := a.Stands.Brix
		if s.Known() && !s.Contains(b.Typical) {
			n := note.New(note.Caution, CodeBrix, agentArg(a.ID), note.Num("brix", b.Typical, unit.Brix),
				note.Num("low", s.From, unit.Brix), note.Num("high", s.To, unit.Brix)).From(s.Cite.Ref())
			if a.Setting.Kind == agent.ByAcidSugar && b.High < s.From {
				rd.fail(n)
			} else {
				rd.add(n)
			}
		}
		if m := a.Hydrate.MaxBrix; m.Known() && b.Typical > m.Typical {
			rd.add(note.New(note.Hint, CodeSugarLater, agentArg(a.ID), said("brix", m.Typical, unit.Brix)).From(m.Ref()))
		}
	}
}

// acidAndSugar reminds of what sets the gel where nobody said that it is there.
func (rd *reading) acidAndSugar() {
	for _, a := range rd.records {
		if a.Setting.Kind == agent.ByAcidSugar && (!rd.Cond.PH.Known || !rd.Cond.Brix.Known) {
			rd.add(note.New(note.Caution, CodeAcidSugar, agentArg(a.ID), note.Num("ph", a.Stands.PH.To, unit.PH),
				said("brix", a.Stands.Brix.From, unit.Brix)).From(a.Stands.PH.Cite.Ref()))
		}
	}
}

// partMilk warns where an agent that sets by far firmer in milk meets some of it.
func (rd *reading) partMilk() {
	if !rd.Cond.PartMilk {
		return
	}
	code := CodePartMilkAsWater
	if rd.Cond.Milk {
		code = CodePartMilkAsMilk
	}
	for _, a := range rd.records {
		if m := a.Model(agent.Milk); m != nil && m != a.Model(agent.Water) {
			rd.add(note.New(note.Caution, code, agentArg(a.ID)).From(m.A.Ref()))
		}
	}
}

func (rd *reading) alcohol() {
	if !rd.Cond.ABV.Known {
		return
	}
	v := rd.Cond.abvPercent().Typical
	for _, a := range rd.records {
		s := a.Stands
		if !s.ABVMax.Known() || v < s.ABVWarn.Typical {
			continue
		}
		args := []note.Arg{agentArg(a.ID), note.Num("abv", v, unit.ABV), note.Num("warn", s.ABVWarn.Typical, unit.ABV), note.Num("most", s.ABVMax.Typical, unit.ABV)}
		if v >= s.ABVMax.Typical {
			rd.fail(note.New(note.Caution, CodeABVFails, args...).From(s.ABVMax.Ref()))
		} else {
			rd.add(note.New(note.Caution, CodeABVWarns, args...).From(s.ABVWarn.Ref()))
		}
	}
}

// needs asks for the ions without which an agent does not set. A bath brings
// its own.
func (rd *reading) needs() {
	for _, p := range rd.parts {
		for k, a := range [...]*agent.Agent{p.a, p.b} {
			if a == nil {
				continue
			}
			for _, need := range a.Stands.Needs {
				if rd.Made == Bath || need.NotMilk && rd.Cond.Milk || rd.Made == Aerated {
					continue
				}
				rd.need(a, need, p.doses[k].percent())
			}
		}
	}
}

func (rd *reading) need(a *agent.Agent, need agent.Need, dose float64) {
	f := need.Amount.Range()
	if need.PerGram {
		f = f.Scale(10 * dose)
	}
	have := rd.Cond.ion(a, need)
	args := []note.Arg{agentArg(a.ID), note.Word("ion", ionWords[need.Ion]), saidIon("low", need.Ion, f.Low), saidIon("best", need.Ion, f.Typical)}
	if !have.Known {
		if setRank(rd.v.Texture) > 0 || rd.v.Texture == agent.FluidGel {
			rd.add(note.New(note.Hint, ionCode(a, CodeIonUnknown), args...).From(need.Amount.Ref()))
		}
		return
	}
	if have.Typical < f.Low {
		n := note.New(note.Caution, ionCode(a, CodeIonMissing), append(args, saidIon("have", need.Ion, have.Typical))...).From(need.Amount.Ref())
		if a.Setting.Kind == agent.ByCalcium && setRank(rd.v.Texture) > 0 {
			rd.fail(n)
		} else {
			rd.add(n)
		}
	}
}

// ionCode is the code, unless the ion sets the agent wherever they meet: then it
// cannot be stirred in.
func ionCode(a *agent.Agent, code note.Code) note.Code {
	if a.Setting.Kind == agent.ByCalcium && a.Stands.CaMax.Known() {
		return CodeIonBath
	}
	return code
}

// ion is what the liquid has of an ion, others counted in by the agent's weights.
func (c *Conditions) ion(a *agent.Agent, need agent.Need) Given {
	for i := range a.Mods {
		if a.Mods[i].By == agent.ByIons {
			return c.ions(&a.Mods[i])
		}
	}
	return [...]Given{agent.Sodium: c.Na, agent.Potassium: c.K, agent.Calcium: c.Ca}[need.Ion]
}

var ionWords = [...]string{agent.Sodium: "ion.sodium", agent.Potassium: "ion.potassium", agent.Calcium: "ion.calcium"}

// tooMuchCalcium warns where the liquid sets the agent before its time.
func (rd *reading) tooMuchCalcium() {
	salted := rd.Cond.Ca != rd.own
	for _, a := range rd.records {
		m := a.Stands.CaMax
		if !m.Known() {
			continue
		}
		if rd.own.Known && rd.own.Typical > m.Typical || rd.Cond.Milk && !rd.own.Known {
			rd.add(note.New(note.Caution, CodeCalciumEarly, agentArg(a.ID), saidIon("most", agent.Calcium, m.Typical)).From(m.Ref()))
		} else if salted && a.Setting.Kind == agent.ByCalcium {
			rd.add(note.New(note.Caution, CodeSaltSameBowl, agentArg(a.ID)).From(m.Ref()))
		}
	}
}

// alone warns of agents that set only with a partner or with alkali.
func (rd *reading) alone() {
	if setRank(rd.Target) == 0 || setRank(rd.v.Texture) > 0 {
		return
	}
	for _, p := range rd.parts {
		if p.pair != nil {
			continue
		}
		switch p.a.Setting.Kind {
		case agent.ByPartner:
			rd.fail(note.New(note.Caution, CodeAlone, agentArg(p.a.ID)).From(p.a.Setting.Cite.Ref()))
		case agent.ByAlkali:
			rd.fail(note.New(note.Caution, CodeAlkali, agentArg(p.a.ID)).From(p.a.Setting.Cite.Ref()))
		}
	}
}
