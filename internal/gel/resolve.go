package gel

import (
	"math"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// resolver works conditions into laws and collects what it took for granted.
type resolver struct {
	cond    *Conditions
	kitchen Kitchen
	topUp   bool // setting ions that are missing are brought in by the method
	explain bool // each condition's factor gets a note with its source
	notes   []note.Note
}

// usualHeat is how long acid liquid stays hot when nobody says, in minutes:
// acid stirred in at the end and poured, up to a slow batch (common practice).
var usualHeat = unit.Range{Low: 0, Typical: 0.5, High: 5}

// law resolves the law of an agent, or, with a pair, of the pair through its
// first agent. Below is the share of the formula's dose.
func (r *resolver) law(a *agent.Agent, m *agent.Model, breaks unit.Range, grade, share float64) (law, error) {
	l := law{share: share, ref: m.Ref, n: m.N.Range(), c0: m.C0.Range(), scale: unit.Exactly(1), syn: -1,
		span: m.Span, agent: a, model: m, breaks: breaks}
	if grade != 0 && a.Grade.Kind != agent.NoGrade {
		p := a.Grade.Power
		x, y := gradeScale(a, grade, p.Low), gradeScale(a, grade, p.High)
		l.scale = unit.Range{Low: min(x, y), Typical: gradeScale(a, grade, p.Typical), High: max(x, y)}
	}
	var s spread
	s.times(m.A.Range())
	for i := range a.Mods {
		if err := r.modifier(&l, &s, &a.Mods[i]); err != nil {
			return law{}, err
		}
	}
	if err := r.hotAcid(a, &s); err != nil {
		return law{}, err
	}
	l.mine = r.kitchen.apply(a.ID, grade, &s)
	l.lnK, l.down, l.up = s.ln, math.Sqrt(s.down2), math.Sqrt(s.up2)
	return l, nil
}

func (r *resolver) modifier(l *law, s *spread, m *agent.Modifier) error {
	g := r.cond.of(m)
	if m.By == agent.ByIons {
		if r.cond.Milk && !m.PerGram { // the milk law was stated in milk, with its ions
			return nil
		}
		r.ions(l, s, m, g)
		return nil
	}
	if !g.Known {
		return nil
	}
	if err := outside(l.agent, m, g.Typical); err != nil {
		return err
	}
	s.modify(m, g.Range)
	r.tell(l.agent, m, g)
	return nil
}

// tell says what a condition does to the modulus and who says so.
func (r *resolver) tell(a *agent.Agent, m *agent.Modifier, g Given) {
	if !r.explain {
		return
	}
	var f spread
	f.modify(m, unit.Exactly(g.Typical))
	low, high := math.Exp(f.ln-math.Sqrt(f.down2)), math.Exp(f.ln+math.Sqrt(f.up2))
	if low > 1-leastFactor && high < 1+leastFactor {
		return
	}
	w := conditionWords[m.By]
	n := note.New(note.Reason, CodeFactor, agentArg(a.ID), note.Word("condition", w.word), note.Num("value", g.Typical*w.shown, w.symbol),
		said("factor", math.Exp(f.ln), unit.One), said("low", low, unit.One), said("high", high, unit.One))
	switch m.By {
	case agent.ByMilk:
		n.Code = CodeFactorMilk
	case agent.ByIons:
		n.Code = CodeFactorIons
	}
	r.notes = append(r.notes, n.From(m.At(g.Typical).Ref()))
}

// leastFactor is how far from 1 a factor must be, or reach, to be worth a word.
const leastFactor = 0.02

func (r *resolver) ions(l *law, s *spread, m *agent.Modifier, g Given) {
	if !g.Known {
		if !r.topUp {
			r.notes = append(r.notes, note.New(note.Reason, CodeAssumesIons, agentArg(l.agent.ID)).From(m.At(0).Ref()))
		}
		return
	}
	least := 0.0
	if r.topUp && len(l.agent.Stands.Needs) > 0 {
		least = l.agent.Stands.Needs[0].Amount.Typical
	}
	if m.PerGram {
		l.countIons(m, g.Range, least)
		return
	}
	sum := unit.Range{Low: max(g.Low, least), Typical: max(g.Typical, least), High: max(g.High, least)}
	s.modify(m, sum)
	r.tell(l.agent, m, KnownRange(sum))
}

// conditionWords name a modifier's condition in the text catalogue.
var conditionWords = [...]struct {
	word   string
	symbol unit.Symbol
	slack  float64 // how far beyond the last point its value still holds
	shown  float64 // how many of the symbol one of the model's is
}{
	agent.ByTemp:  {"condition.serve", unit.DegreeC, 3, 1},
	agent.ByPH:    {"condition.ph", unit.PH, 0.05, 1},
	agent.ByBrix:  {"condition.brix", unit.Brix, 1, 1},
	agent.ByABV:   {"condition.abv", unit.ABV, 0.5, 1},
	agent.BySalt:  {"condition.sodium", unit.PercentOf, 50, saltPercent},
	agent.ByIons:  {"condition.ions", unit.One, math.MaxFloat64, 1},
	agent.ByHours: {"condition.hours", unit.Hour, math.MaxFloat64, 1},
	agent.ByMilk:  {"condition.milk", unit.One, 1, 1},
}

// outside refuses a condition beyond the points of a modifier.
func outside(a *agent.Agent, m *agent.Modifier, x float64) error {
	w := conditionWords[m.By]
	first, last := m.Points[0].X, m.Points[len(m.Points)-1].X
	if x >= first-w.slack && x <= last+w.slack {
		return nil
	}
	x, first, last = x*w.shown, first*w.shown, last*w.shown
	return &note.Refusal{Note: note.New(note.Refused, CodeOutsideCondition, agentArg(a.ID), note.Word("condition", w.word),
		note.Num("value", x, w.symbol), against("low", first, x, w.symbol), against("high", last, x, w.symbol)).From(m.At(x / w.shown).Ref())}
}

// hotAcid works in what the heat does to the agent in acid.
func (r *resolver) hotAcid(a *agent.Agent, s *spread) error {
	h := a.Stands.Acid
	if !h.Known() || !r.cond.PH.Known {
		return nil
	}
	kept, dev := acidKept(h, r.cond)
	if r.cond.HeatMinutes.Known && kept.Typical < leastKept {
		return &note.Refusal{Note: note.New(note.Refused, CodeAcidDestroys, agentArg(a.ID), note.Num("ph", r.cond.PH.Typical, unit.PH),
			said("minutes", heatOf(r.cond).Typical, unit.Minute), said("kept", kept.Typical*100, unit.PercentOf)).From(h.Loss.Ref())}
	}
	s.ln += math.Log(kept.Typical)
	s.down2 += dev.down2
	s.up2 += dev.up2
	return nil
}
