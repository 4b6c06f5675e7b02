package lab

import (
	"errors"
	"math"
	"strings"

	"tremblant/internal/agent"
	"tremblant/internal/liquid"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// splitNeed is what the agents of the formula together ask of the part that
// they are hydrated in.
type splitNeed struct {
	rule   liquid.SplitRule
	names  []string
	brix   float64 // most sugar, °Bx; 0 for no limit
	volume float64 // g of liquid that they need to be whisked into
}

// hotAcidMinutes is how long a cook needs the agent hot without loss: to bring
// it up, to hydrate and to work it in (common practice).
const hotAcidMinutes = 30

// usualRoom is the temperature of what was held back, in °C, unless it is said.
const usualRoom = 20

// need reads the agents' records.
func (k *know) need(s *state) splitNeed {
	n := splitNeed{rule: liquid.SplitRule{Rest: usualRoom, Set: 0}}
	for i, d := range s.doses {
		a := agent.ByID(d.Agent)
		if a == nil || !a.Hydrate.C.Known() || a.Hydrate.Cold || a.Hydrate.C.Typical < hotFrom {
			continue
		}
		mass := s.batch.Doses[s.doseRow[i]].Mass / unit.Mass(s.times())
		if !(mass > 0) {
			continue
		}
		n.add(a, mass, s.agentTitle(a))
	}
	if n.volume > 0 {
		n.rule.Cap = min(1, unit.Fraction(float64(n.rule.Agent)/n.volume))
	}
	return n
}

// hotFrom is the temperature from which an agent counts as hydrated hot, in °C.
const hotFrom = 60

// usualCap is the most agent in the hot part where a record does not say, g per
// 100 g (common practice).
const usualCap = 3

func (n *splitNeed) add(a *agent.Agent, mass unit.Mass, name string) {
	r := &n.rule
	n.names = append(n.names, name)
	r.Agent += mass
	most := usualCap / 100.0
	if a.Hydrate.CapPct.Known() {
		most = a.Hydrate.CapPct.Typical / 100
	}
	n.volume += float64(mass) / most
	r.Hot = max(r.Hot, unit.Celsius(a.Hydrate.C.Typical))
	if a.Setting.Kind == agent.OnCooling && a.Setting.SetC.Known() {
		r.Set = max(r.Set, unit.Celsius(a.Setting.SetC.High))
	}
	r.MinPH = max(r.MinPH, leastPH(a))
	if warn := a.Stands.ABVWarn; warn.Known() && (r.MaxABV == 0 || unit.Percent(warn.Typical) < r.MaxABV) {
		r.MaxABV = unit.Percent(warn.Typical)
	}
	if max := a.Hydrate.MaxBrix; max.Known() && (n.brix == 0 || max.Typical < n.brix) {
		n.brix = max.Typical
	}
}

// leastPH is the pH from which an agent can be hydrated hot: inside what it
// stands, and where hot acid leaves it for long enough. Each half pH up
// multiplies the time by the record's factor.
func leastPH(a *agent.Agent) float64 {
	least := 0.0
	if a.Stands.PH.Known() && a.Setting.Kind != agent.ByAcidSugar {
		least = a.Stands.PH.From
	}
	if h := a.Stands.Acid; h.Known() {
		least = max(least, h.PH+0.5*math.Log(hotAcidMinutes/h.Minutes.Typical)/math.Log(h.PerHalfPH.Typical))
	}
	return least
}

// wantsSplit reports whether the liquid as it stands will not do.
func (n *splitNeed) wantsSplit(m *mixture) bool {
	return n.rule.Agent > 0 && (n.tooSour(m) || n.brix > 0 && m.of(liquid.PropBrix).Typical > n.brix)
}

func (n *splitNeed) tooSour(m *mixture) bool {
	return m.state.HasPH && m.of(liquid.PropPH).Typical < n.rule.MinPH
}

// why says what keeps the agents from hydrating in the whole: its acid, or else its sugar.
func (k *know) why(s *state, n *splitNeed) string {
	names := textArg("agents", strings.Join(n.names, s.say("lab.comma")))
	if n.tooSour(k.mix) {
		return s.say("lab-liquid.split-why", names, note.Num("ph", n.rule.MinPH, unit.PH), textArg("is", figureOf("ph").with(s, k.mix.of(liquid.PropPH).Typical)))
	}
	return s.say("lab-liquid.split-why-sugar", names, note.Num("brix", n.brix, unit.Brix), textArg("is", figureOf("brix").with(s, k.mix.of(liquid.PropBrix).Typical)))
}

// showSplit plans which part to hydrate the agents in.
func (k *know) showSplit(s *state) {
	if k.stale && k.mix != nil {
		return // the last good plan stays with the last good answer
	}
	ready := k.mix != nil && s.refused == nil && len(s.doses) > 0
	var n splitNeed
	if ready {
		n = k.need(s)
		ready = n.wantsSplit(k.mix)
	}
	s.page.Show("lab-liquid-split-box", ready)
	if !ready {
		return
	}
	if t := s.typed(restInput, -18, 95, unit.DegreeC); t.Known {
		n.rule.Rest = unit.Celsius(t.Typical)
	}
	s.page.Text("lab-liquid-split-why", k.why(s, &n))
	plan, err := k.mix.liquid.HoldBack(n.rule)
	s.page.Show("lab-liquid-split-plan", err == nil)
	var refused *note.Refusal
	if errors.As(err, &refused) {
		s.page.Line("lab-liquid-split-cannot", s.words.Note(refused.Note))
		s.noteRows("lab-liquid-split-note", &k.works, nil)
		s.page.Show("lab-liquid-split-merged", k.recipe.hot)
		return
	}
	s.page.Show("lab-liquid-split-merged", false)
	s.page.Line("lab-liquid-split-cannot", "")
	k.showPlan(s, &n, &plan)
}

func (k *know) showPlan(s *state, n *splitNeed, p *liquid.Split) {
	t := s.times()
	grams := func(name string, m unit.Mass) {
		s.page.Figure("lab-liquid-split-"+name, float64(m)*t, s.words.Figure(float64(m)*t, unit.Gram))
	}
	degrees := func(name string, c unit.Celsius) {
		s.page.Figure("lab-liquid-split-"+name, float64(c), s.words.Style.Decimals(float64(c), 0)+"\u00a0°C")
	}
	grams("hot", p.HotMass)
	grams("held", p.HeldMass)
	grams("agent", n.rule.Agent)
	degrees("hot-at", n.rule.Hot)
	degrees("rest-at", n.rule.Rest)
	degrees("mix", p.Mix)
	degrees("set", n.rule.Set)
	s.page.Show("lab-liquid-split-set-line", n.rule.Set > 0)
	s.page.Text("lab-liquid-split-hot-list", k.namesOf(s, p.Hot))
	s.page.Text("lab-liquid-split-held-list", k.namesOf(s, p.Held))
	s.page.Show("lab-liquid-split-held-row", len(p.Held) > 0)
	s.page.Show("lab-liquid-split-water-row", p.AddWater > 0)
	grams("water", p.AddWater)
	var notes []note.Note
	for _, x := range p.Notes {
		if x.Level >= note.Caution {
			notes = append(notes, scaled(x, t))
		}
	}
	s.noteRows("lab-liquid-split-note", &k.works, notes)
}

// scaled is a note with its weights at the size of the batch.
func scaled(n note.Note, times float64) note.Note {
	args := append([]note.Arg{}, n.Args...)
	for i := range args {
		if args[i].Unit == unit.Gram {
			args[i].Value *= times
		}
	}
	n.Args = args
	return n
}

func (k *know) namesOf(s *state, list []int) string {
	all := k.mix.liquid.Ingredients()
	var names []string
	for _, i := range list {
		names = append(names, s.ingredientName(&all[i]))
	}
	return strings.Join(names, s.say("lab.comma"))
}

func (s *state) agentTitle(a *agent.Agent) string { return s.say("agent." + string(a.ID)) }
