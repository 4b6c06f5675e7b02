package gel

import (
	"math"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Treatment is what happens to the mix after the agents are in.
type Treatment uint8

// The treatments.
const (
	Still   Treatment = iota // poured and left, or a sauce
	Sheared                  // set, then blended or sieved
	Bath                     // dropped into a setting bath
	Aerated                  // whipped, foamed or from a siphon
)

// TreatmentFor is the treatment that a texture asks for.
func TreatmentFor(t agent.Texture) Treatment {
	switch t {
	case agent.FluidGel:
		return Sheared
	case agent.Sphere:
		return Bath
	case agent.Foam, agent.Air:
		return Aerated
	}
	return Still
}

// Recipe is a formula as it is to be read.
type Recipe struct {
	Doses   []Dose
	Made    Treatment
	Target  agent.Texture // "" when nobody said
	Cond    Conditions
	OneBite bool // pressed or sucked from a cup in one bite
	Kitchen Kitchen

	explain bool // the conditions' factors are told one by one
}

// Body is how a fluid gel runs.
type Body agent.Word

// The bodies: "body.<word>" in the text catalogue.
const (
	Pourable  Body = "pourable"
	Spoonable Body = "spoonable"
	Piping    Body = "piping"
)

// Verdict is what a recipe will do.
type Verdict struct {
	Texture  agent.Texture // "" when it does nothing that one would notice
	Body     Body          // of a fluid gel; else ""
	Fails    bool          // it will not become what it is meant to be
	Cause    note.Note     // the first note that says why it fails
	Firmness Firmness
	Notes    []note.Note // windows first, then what can go wrong, then safety
}

// reading is a recipe while it is read.
type reading struct {
	*Recipe // its own copy; the setting salts are in the conditions
	parts   []part
	records []*agent.Agent
	own     Given // calcium of the liquid alone
	v       Verdict
}

// Read says which texture the doses fall into, what is outside its window and
// which condition will make it fail. The error is a refusal of the input.
func Read(rec Recipe) (Verdict, error) {
	rec.explain = true
	return read(&rec)
}

func read(rec *Recipe) (Verdict, error) {
	doses, records, err := merge(rec.Doses)
	if err != nil {
		return Verdict{}, err
	}
	if err := rec.Cond.Check(); err != nil {
		return Verdict{}, err
	}
	rd := reading{Recipe: rec, parts: split(doses, records), records: records, own: rec.Cond.Ca}
	rd.v.Notes = make([]note.Note, 0, 8)
	rec.Cond = withSalts(rec.Cond, doses, records)
	rd.classify()
	r := resolver{cond: &rd.Cond, kitchen: rec.Kitchen, explain: rec.explain}
	rd.v.Firmness, _ = r.firmness(rd.parts)
	for _, rule := range rules {
		rule(&rd)
	}
	return rd.v, nil
}

// withSalts adds the calcium of the recipe's setting salts to the liquid's.
func withSalts(c Conditions, doses []Dose, records []*agent.Agent) Conditions {
	for i, a := range records {
		if a.Job != agent.Sets {
			continue
		}
		for _, s := range agent.CalciumSalts {
			if s.Agent == a.ID && s.Usual {
				more := s.Ca.Range().Scale(float64(doses[i].Share) * 1e6 / agent.MolarCa)
				c.Ca = KnownRange(unit.Range{Low: c.Ca.Low + more.Low, Typical: c.Ca.Typical + more.Typical, High: c.Ca.High + more.High})
			}
		}
	}
	return c
}

func (rd *reading) add(n note.Note) { rd.v.Notes = append(rd.v.Notes, n) }

// fail marks the recipe and says why.
func (rd *reading) fail(n note.Note) {
	rd.failed(n)
	rd.add(n)
}

// failed marks the recipe with a cause that stands among the notes already.
func (rd *reading) failed(cause note.Note) {
	if !rd.v.Fails {
		rd.v.Fails, rd.v.Cause = true, cause
	}
}

// edgeSlack forgives the rounding of a typed dose at the end of a window.
const edgeSlack = 0.99

func (rd *reading) classify() {
	switch rd.Made {
	case Sheared:
		rd.classifySheared()
	case Bath:
		rd.classifyBy(agent.Sphere)
	case Aerated:
		if _, _, ok := windowLead(usages(rd.parts, &rd.Cond, agent.Air), agent.Air); ok {
			rd.classifyBy(agent.Air)
		} else {
			rd.classifyBy(agent.Foam)
		}
	default:
		rd.classifyStill()
	}
}

// classifyStill finds the set texture, or else what the thickeners do.
func (rd *reading) classifyStill() {
	l, e, ok := setLead(usages(rd.parts, &rd.Cond, agent.FirmSet))
	if !ok || l.effective < e.loose*edgeSlack {
		rd.classifyThin()
		return
	}
	switch {
	case l.effective >= e.slice:
		rd.v.Texture = agent.Sliceable
	case l.effective >= e.firm:
		rd.v.Texture = agent.FirmSet
	case l.effective >= e.soft:
		rd.v.Texture = agent.SoftSet
	default:
		rd.v.Texture = agent.Loose
	}
	if w, ok := rd.meant(l); ok {
		rd.v.Texture = rd.Target
		rd.windowNote(l, w)
	} else if w, ok := l.window(rd.v.Texture); ok {
		rd.windowNote(l, w)
	}
}

// meant gives the cook the benefit of the doubt where windows overlap: a dose
// inside the window of what was meant is what was meant.
func (rd *reading) meant(l lead) (agent.Window, bool) {
	if setRank(rd.Target) == 0 && rd.Target != agent.Thickened {
		return agent.Window{}, false
	}
	w, ok := l.window(rd.Target)
	return w, ok && l.effective >= w.Low*edgeSlack && l.effective <= w.High/edgeSlack
}

func (rd *reading) classifyThin() {
	l, w, ok := windowLead(usages(rd.parts, &rd.Cond, agent.Thickened), agent.Thickened)
	if ok && l.effective >= w.Low*edgeSlack {
		rd.v.Texture = agent.Thickened
		rd.windowNote(l, w)
		return
	}
	s, sw, has := windowLead(usages(rd.parts, &rd.Cond, agent.Suspend), agent.Suspend)
	if has && s.effective >= sw.Low*edgeSlack {
		rd.v.Texture = agent.Suspend
		rd.windowNote(s, sw)
		return
	}
	if ok {
		rd.windowNote(l, w)
	} else if l, w, ok = windowLead(usages(rd.parts, &rd.Cond, agent.SoftSet), agent.SoftSet); ok {
		rd.windowNote(l, w)
	}
}

// classifySheared reads what is left when a gel has been broken.
func (rd *reading) classifySheared() {
	l, w, ok := windowLead(usages(rd.parts, &rd.Cond, agent.FluidGel), agent.FluidGel)
	if !ok || l.effective < w.Low*edgeSlack {
		if ok {
			rd.windowNote(l, w)
		}
		rd.classifyThin()
		return
	}
	rd.v.Texture = agent.FluidGel
	switch {
	case l.effective < math.Sqrt(w.Low*w.Typical):
		rd.v.Body = Pourable
	case l.effective < math.Sqrt(w.Typical*w.High):
		rd.v.Body = Spoonable
	default:
		rd.v.Body = Piping
	}
	rd.windowNote(l, w)
}

// classifyBy reads a texture that has windows of its own and fails below them.
func (rd *reading) classifyBy(t agent.Texture) {
	l, w, ok := windowLead(usages(rd.setters(), &rd.Cond, t), t)
	if !ok {
		rd.fail(note.New(note.Caution, CodeCannot, note.Word("texture", textureKey(t)), rd.firstAgent()))
		return
	}
	rd.windowNote(l, w)
	if l.effective < w.Low*edgeSlack {
		rd.failed(rd.v.Notes[len(rd.v.Notes)-1])
		return
	}
	rd.v.Texture = t
}

// setters leaves the setting salts out: their windows are for the bath.
func (rd *reading) setters() []part {
	out := make([]part, 0, len(rd.parts))
	for _, p := range rd.parts {
		if p.a.Job != agent.Sets {
			out = append(out, p)
		}
	}
	return out
}

func (rd *reading) firstAgent() note.Arg { return agentArg(rd.records[0].ID) }

func textureKey(t agent.Texture) string { return "texture." + string(t) }

// windowNote says where the dose lies in its window.
func (rd *reading) windowNote(l lead, w agent.Window) {
	code, level := CodeInWindow, note.Reason
	switch {
	case l.effective < w.Low*edgeSlack:
		code, level = CodeUnder, note.Caution
	case l.effective > w.High/edgeSlack:
		code, level = CodeOver, note.Caution
		if w.Texture == agent.FluidGel { // a stiff fluid gel is what pipes
			level = note.Hint
		}
	case l.effective < math.Sqrt(w.Low*w.Typical):
		code, level = CodeLowEdge, note.Hint
		if w.Texture == agent.Air || w.Texture == agent.Foam {
			level = note.Caution
		}
	}
	scale := l.dose / l.effective // figures in this agent's share of the work
	rd.add(note.New(level, code, workArg(l.a, l.pair), note.Word("texture", textureKey(w.Texture)), note.Num("dose", l.dose, unit.PercentOf),
		against("low", w.Low*scale, l.dose, unit.PercentOf), against("high", w.High*scale, l.dose, unit.PercentOf)).From(w.Ref()))
}
