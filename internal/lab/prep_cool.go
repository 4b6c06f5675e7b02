package lab

import (
	"errors"
	"math"

	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/plan/cool"
	"tremblant/internal/plan/method"
	"tremblant/internal/unit"
)

// Usual vessels, in mm, where the cook has typed nothing (common practice).
const (
	usualDepth  = 20
	usualBottle = 70
)

// vessels are the choices for what it cools in, with the usual wall.
var vessels = [...]struct {
	word   string
	vessel cool.Vessel
	wall   string
}{{"tray", cool.Tray, "steel"}, {"bowl", cool.Bowl, "steel"}, {"bottle", cool.Bottle, "plastic"}}

// cool works out the cooling, if a place for it was chosen.
func (p *prepared) cool(s *state, steps []method.Step) {
	place, chosen := cool.FindMedium(s.fields[mname("place")])
	start := s.typed(mname("start"), 0, 150, unit.DegreeC)
	own := s.typed(mname("place-temp"), -40, 40, unit.DegreeC)
	count := s.typedCount(mname("vessels"), 1, 1000, unit.One)
	depth := s.typed(mname("depth"), 1, 300, unit.Millimetre)
	width := s.typed(mname("width"), 10, 500, unit.Millimetre)
	usual := pouredAt(steps)
	s.page.Set(mname("start"), "placeholder", s.words.Style.Fixed(usual, 0))
	s.page.Set(mname("place-temp"), "placeholder", s.words.Style.Decimals(float64(place.Base.Temp), 1))
	if !chosen {
		return
	}
	p.cooling = true
	if own.Known {
		place.Base.Temp = unit.Celsius(own.Typical)
		if place.Base.Temp < place.Open.Temp && place.Open.Temp < 15 || place.Fridge { // the air of a cabinet goes with it
			place.Open.Temp = place.Base.Temp
		}
	}
	job := cool.Job{Medium: place, Start: unit.Celsius(or(start, usual)), Mass: s.batch.Total}
	var err error
	if job.Properties, err = s.composition(p.parts).At(unit.Celsius(min(60, max(0, or(start, usual)/2)))); err == nil {
		volume := unit.Volume(float64(s.batch.Total) / float64(job.Properties.Density) / or(count, 1))
		job.Load = s.load(volume, or(depth, usualDepth), or(width, usualBottle))
		p.curve, err = cool.New(job)
	}
	if errors.As(err, &p.noCooling) {
		return
	}
	p.in.Cooling = &job
}

// or is a typed figure, or the usual one.
func or(g gel.Given, usual float64) float64 {
	if g.Known {
		return g.Typical
	}
	return usual
}

// load is one vessel of it.
func (s *state) load(v unit.Volume, depth, width float64) cool.Load {
	choice := vessels[0]
	for _, c := range vessels {
		if s.fields[mname("vessel")] == c.word {
			choice = c
		}
	}
	l := cool.Load{Vessel: choice.vessel, Depth: depth, Mixed: s.ticked(mname("stirred"))}
	switch choice.vessel {
	case cool.Bowl:
		l.Radius = cool.BowlRadius(v)
	case cool.Bottle:
		l.Radius = width / 2
		l.Height = float64(v) * 1000 / (math.Pi * l.Radius * l.Radius)
	}
	wall := choice.wall
	if typed := s.fields[mname("wall")]; typed != "" {
		wall = typed
	}
	for _, w := range cool.Walls {
		if w.ID == wall {
			l.Wall = w.Resistance
		}
	}
	return l
}

// composition is what conduction needs to know of the liquid; what is not known
// counts as water.
func (s *state) composition(parts []ingredient) cool.Composition {
	var c cool.Composition
	var all, dry unit.Mass
	for _, p := range parts {
		all += p.mass
		if p.role == method.Sugar {
			dry += p.mass
		}
	}
	switch {
	case s.conditions.Brix.Known:
		c.Carbohydrate = unit.Percent(s.conditions.Brix.Typical)
	case all > 0:
		c.Carbohydrate = unit.Fraction(dry / all)
	}
	if s.conditions.Fat.Known {
		c.Fat = unit.Fraction(s.conditions.Fat.Typical)
	}
	if s.conditions.ABV.Known {
		c.Ethanol = unit.Fraction(0.8 * s.conditions.ABV.Typical) // by mass, near enough for heat
	}
	c.Carbohydrate = min(c.Carbohydrate, 0.9)
	c.Fat = min(c.Fat, 1-c.Carbohydrate)
	c.Ethanol = min(c.Ethanol, 1-c.Carbohydrate-c.Fat)
	c.Water = 1 - c.Carbohydrate - c.Fat - c.Ethanol
	return c
}

// coldWork are the steps at which the hot part of a method is over.
var coldWork = map[method.Kind]bool{ // read by key only
	method.Chill: true, method.Degas: true, method.CoolFill: true, method.RestCold: true, method.ChillSwell: true, method.Fill: true,
}

// roomTemp is where a method without heat starts to cool from, °C.
const roomTemp = 20

// pouredAt is how hot the batch is when it begins to cool: the last temperature
// that the method names before it is cold work.
func pouredAt(steps []method.Step) float64 {
	at := float64(roomTemp)
	for _, step := range steps {
		if coldWork[step.Kind] {
			break
		}
		for _, a := range step.Args {
			if (a.Name == "mix" || a.Name == "temp") && a.Unit == unit.DegreeC && (step.Hot || step.Kind == method.Dissolve) {
				at = a.Value
			}
		}
	}
	return at
}

// showCooling shows when it is set, when it is cold, and the curve.
func (s *state) showCooling(p *prepared) {
	vessel := s.fields[mname("vessel")]
	s.page.Show(mname("depth-ask"), vessel == "" || vessel == "tray")
	s.page.Show(mname("width-ask"), vessel == "bottle")
	s.page.Show(mname("vessels-ask"), vessel == "bowl" || vessel == "bottle")
	s.page.Line(mname("cool-cannot"), s.refusal(p.noCooling))
	milestones, sets := p.milestones()
	s.page.Show(mname("cool-answer"), len(milestones) > 0)
	s.page.Text(mname("cool-sum"), "")
	if len(milestones) == 0 {
		s.page.Rows(mname("cool"), 0)
		return
	}
	s.page.Rows(mname("cool"), len(milestones))
	for i, ms := range milestones {
		to := s.words.Figure(float64(ms.Target), unit.DegreeC)
		key := "cool-to"
		if i == 0 && sets {
			key = "cool-sets"
			s.page.Text(mname("cool-sum"), s.milestone(ms))
		}
		s.page.State(mrow("cool", i, "item"), map[bool]string{true: "first"}[i == 0])
		s.page.Text(mrow("cool", i, "to"), s.msay(key, note.Typed("temp", to)))
		said := s.refusal(ms.Refusal)
		if ms.Refusal == nil {
			s.page.Figure(mrow("cool", i, "time"), ms.Time.Typical, s.duration(ms.Time.Typical/60))
			s.page.Line(mrow("cool", i, "range"), s.between(ms.Time.Scale(1.0/60)))
		} else {
			s.page.NoFigure(mrow("cool", i, "time"))
			s.page.Line(mrow("cool", i, "range"), "")
		}
		for _, n := range ms.Notes {
			said = s.noteSentence(n)
		}
		s.page.Line(mrow("cool", i, "note"), said)
	}
	s.showRemarks("cool-note", s.remarks(p.curve.Notes))
	s.drawCooling(p.curve, milestones)
}

// milestones are the temperatures on the way down, each once, and whether the
// first is the one that it sets at.
func (p *prepared) milestones() (out []cool.Milestone, sets bool) {
	if p.curve == nil {
		return nil, false
	}
	for i, ms := range p.sheet.Cooling {
		if i == 0 || ms.Target != p.sheet.Cooling[0].Target {
			out = append(out, ms)
		}
	}
	return out, len(p.sheet.Cooling) > len(cool.ColdLimits)
}

// milestone is one line for the paper: what is reached, and when.
func (s *state) milestone(ms cool.Milestone) string {
	to := note.Num("temp", float64(ms.Target), unit.DegreeC)
	if ms.Refusal != nil {
		return s.msay("cool-never", to)
	}
	return s.msay("cool-line", to, note.Typed("time", s.duration(ms.Time.Typical/60)), note.Typed("range", s.between(ms.Time.Scale(1.0/60))))
}

// refusal is the sentence of a refusal, "" for none.
func (s *state) refusal(r *note.Refusal) string {
	if r == nil {
		return ""
	}
	return s.noteSentence(r.Note)
}
