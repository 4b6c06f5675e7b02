// Package process reads the method's facts from the catalogue of agents.
//
// It is a translation, record by record, with no figures of its own but one: an
// agent that sets for good on heating must stay a few kelvins below that point
// until it is wanted.
package process

import (
	"tremblant/internal/agent"
	"tremblant/internal/plan/method"
	"tremblant/internal/unit"
)

// shy is how far below its setting heat a heat-set agent is kept, K; common practice.
const shy = 5

// ways are the catalogue's words for dispersing.
var ways = map[agent.Word]method.Way{ // read by key only
	"rain-cold": method.RainCold, "soak-cold": method.Soak, "sugar": method.DryBlend, "shear": method.Shear, "blend": method.Shear,
	"hot-third": method.HotPart, "slurry": method.Slurry, "whisk": method.Whisk, "stir": method.Stir,
}

// setters are the catalogue's kinds of setting. A gel that needs a partner is
// made by [Blend].
var setters = map[agent.SetKind]method.Setter{ // read by key only
	agent.OnCooling: method.OnCooling, agent.OnHeating: method.OnHeating, agent.HeatForGood: method.HeatForGood, agent.ByCalcium: method.ByCalcium,
	agent.ByAcidSugar: method.ByAcidSugar, agent.ByAlkali: method.ByAlkali, agent.ByStaling: method.ByStaling,
}

// Of translates one agent.
func Of(a *agent.Agent) method.Process {
	p := method.Process{
		ID: string(a.ID), Salt: a.Job == agent.Sets, Way: ways[a.Disperse.Way], Premix: fact(a.Disperse.Premix),
		Heat: fact(a.Hydrate.C), Hold: fact(a.Hydrate.Minutes), Cold: a.Hydrate.Cold, Rest: fact(a.Hydrate.Rest),
		Cap: fact(a.Hydrate.CapPct), Brix: fact(a.Hydrate.MaxBrix),
		SetBy: setters[a.Setting.Kind], Sets: fact(a.Setting.SetC), SetTime: fact(a.Setting.Minutes),
		Acid: fact(a.Stands.Acid.Minutes), AcidPH: a.Stands.Acid.PH,
		CaMax: fact(a.Stands.CaMax), Enzyme: a.Stands.Protease == agent.Fails,
	}
	if a.Stands.PH.Known() {
		p.PHLow, p.PHHigh = a.Stands.PH.From, a.Stands.PH.To
	}
	if p.SetBy == method.ByAcidSugar && a.Stands.Brix.Known() {
		p.Solids = method.Fact{Range: unit.Range{Low: a.Stands.Brix.From, Typical: a.Stands.Brix.From, High: a.Stands.Brix.To}, Source: a.Stands.Brix.Cite.Ref()}
	}
	p.Bears = bears(a, p)
	return p
}

// bears is the heat that an agent must not pass: a soaked one the top of its
// own dissolving range, a heat-set one that hydrates cold its setting heat.
func bears(a *agent.Agent, p method.Process) method.Fact {
	switch {
	case p.Way == method.Soak:
		return method.Fact{Range: unit.Range{Low: p.Heat.High, Typical: p.Heat.High, High: 100}, Source: p.Heat.Source}
	case a.Setting.Kind == agent.HeatForGood && p.Cold:
		s := p.Sets
		return method.Fact{Range: unit.Range{Low: s.Low - shy, Typical: s.Low, High: s.Low}, Source: s.Source}
	}
	return method.Fact{}
}

func fact(f agent.Fig) method.Fact {
	if !f.Known() {
		return method.Fact{}
	}
	return method.Fact{Range: f.Range(), Source: f.Ref()}
}

// Blend translates the agents of one formula. Where a pair has a setting of
// its own, a partner that sets not at all or only with alkali takes it over.
func Blend(agents []*agent.Agent) []method.Process {
	out := make([]method.Process, len(agents))
	for i, a := range agents {
		out[i] = Of(a)
	}
	for i, a := range agents {
		for j, b := range agents[i+1:] {
			pair := agent.PairOf(a.ID, b.ID)
			if pair == nil || !pair.Setting.SetC.Known() {
				continue
			}
			takeOver(&out[i], pair.Setting)
			takeOver(&out[i+1+j], pair.Setting)
		}
	}
	return out
}

func takeOver(p *method.Process, s agent.Setting) {
	if p.SetBy == method.NoSet || p.SetBy == method.ByAlkali {
		p.SetBy, p.Sets, p.SetTime = setters[s.Kind], fact(s.SetC), fact(s.Minutes)
	}
}
