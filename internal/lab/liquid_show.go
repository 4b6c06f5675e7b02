package lab

import (
	"math"
	"strconv"
	"strings"

	"tremblant/internal/agent"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/liquid"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// mixFigure is one figure of the liquid as the page shows it.
type mixFigure struct {
	name     string
	property liquid.Property
	factor   float64 // from the core's unit to the page's
	unit     unit.Symbol
	digits   int  // decimals
	bare     bool // its unit stands beside it on the page
}

// mixFigures are the figures in the order of the page.
var mixFigures = [...]mixFigure{
	{"ph", liquid.PropPH, 1, unit.PH, 1, true},
	{"brix", liquid.PropBrix, 1, unit.Brix, 1, true},
	{"abv", liquid.PropABV, 100, unit.ABV, 1, true},
	{"salt", liquid.PropSalt, 100, unit.PercentOf, 2, false},
	{"calcium", liquid.PropCalcium, agent.MolarCa, milligramPerKg, 0, false},
	{"free-calcium", liquid.PropFreeCalcium, agent.MolarCa, milligramPerKg, 0, false},
	{"fat", liquid.PropFat, 100, unit.PercentOf, 1, false},
	{"protein", liquid.PropProtein, 100, unit.PercentOf, 1, false},
	{"density", liquid.PropDensity, 1, unit.GramPerMl, 3, false},
	{"boiling", liquid.PropBoiling, 1, unit.DegreeC, 1, false},
	{"sugars", liquid.PropSugars, 100, unit.PercentOf, 1, false},
	{"acids", liquid.PropAcids, 100, unit.PercentOf, 2, false},
	{"reading", liquid.PropReading, 1, unit.Brix, 1, false},
	{"water", liquid.PropWater, 100, unit.PercentOf, 1, false},
}

const milligramPerKg unit.Symbol = "mg/kg"

// shown writes a figure without its unit.
func (f *mixFigure) shown(s *state, v float64) string {
	if f.unit == unit.PH {
		return s.words.Style.Fixed(v, f.digits)
	}
	return s.words.Style.Decimals(v*f.factor, f.digits)
}

// with writes a figure with its unit.
func (f *mixFigure) with(s *state, v float64) string {
	if f.unit == unit.PH {
		return f.shown(s, v)
	}
	return f.shown(s, v) + "\u00a0" + string(f.unit)
}

// span writes a range, low to high, with the unit once.
func (f *mixFigure) span(s *state, r unit.Range) string {
	if f.property == liquid.PropPH { // outwards: a caution about its end must not lie outside it
		r.Low, r.High = math.Floor(r.Low*10+1e-9)/10, math.Ceil(r.High*10-1e-9)/10
	}
	low, high := f.shown(s, r.Low), f.shown(s, r.High)
	if low == high {
		return ""
	}
	if !f.bare {
		high = f.with(s, r.High)
	}
	return s.say("lab.range", textArg("low", low), textArg("high", high))
}

// showMix shows the liquid's figures, and what they mean for who eats it and
// for the agents in it.
func (k *know) showMix(s *state) {
	m := k.mix
	s.page.Show("lab-liquid-answer", m != nil)
	s.page.State("lab-liquid-answer", textIf(k.stale, "stale"))
	s.page.Line("lab-liquid-cannot", k.reason(s))
	if m == nil {
		s.noteRows("lab-liquid-warn", &k.works, nil)
		s.page.Rows("lab-liquid-agent", 0)
		return
	}
	if k.stale {
		return
	}
	for i := range mixFigures {
		m.showFigure(s, &mixFigures[i])
	}
	t := s.times()
	mass := float64(m.state.Mass) * t
	s.page.Figure("lab-liquid-mass", mass, s.words.Figure(mass, unit.Gram))
	volume := float64(m.state.Volume) * t
	s.page.Figure("lab-liquid-volume", volume, s.words.Figure(volume, unit.Millilitre))
	m.showKept(s, mass)
	m.showDiet(s)
	k.showNotes(s, m)
	k.showAgents(s, m)
}

// reason says why there is no fresh answer.
func (k *know) reason(s *state) string {
	switch {
	case !k.stale || len(k.recipe.steps) == 0:
		return ""
	case k.recipe.cannot.Code != "":
		return s.words.Note(k.recipe.cannot)
	}
	return s.say("lab-liquid.wrong")
}

func (m *mixture) showFigure(s *state, f *mixFigure) {
	at := "lab-liquid-" + f.name
	r := m.of(f.property)
	if !m.state.HasPH && (f.property == liquid.PropPH || f.property == liquid.PropFreeCalcium) {
		s.page.NoFigure(at)
		s.page.Text(at+"-range", "")
		s.page.Line(at+"-from", "")
		return
	}
	text, span := f.with(s, r.Typical), f.span(s, r)
	if f.bare {
		text = f.shown(s, r.Typical)
	}
	s.page.Figure(at, r.Typical*f.factor, text)
	s.page.Text(at+"-range", span)
	from := ""
	if r.Typical != 0 {
		from = m.from(s, f.property)
	}
	s.page.Line(at+"-from", from)
}

// showKept says when the steps leave another weight than the pan doses for, and what
// to weigh for that.
func (m *mixture) showKept(s *state, mass float64) {
	pan, text := s.recipeMass()*s.times(), ""
	if doses := s.dosesFor(mass); otherMass(mass, pan) && doses != "" {
		text = s.say("lab-liquid.kept", note.Num("pan", pan, unit.Gram), note.Num("left", mass, unit.Gram), note.Typed("doses", doses))
	} else if otherMass(mass, pan) {
		text = s.say("lab-liquid.kept-bare", note.Num("pan", pan, unit.Gram), note.Num("left", mass, unit.Gram))
	}
	s.page.Line("lab-liquid-kept", text)
}

func otherMass(mass, pan float64) bool { return pan > 0 && math.Abs(mass/pan-1) > sameMass }

// dosesFor lists the pan's doses for so much liquid instead, "" when there are none.
func (s *state) dosesFor(mass float64) string {
	if s.refused != nil || !(s.batch.Liquid > 0) {
		return ""
	}
	var out []string
	for i, d := range s.reading.Formula.Doses {
		if m := float64(s.batch.Doses[i].Mass) * mass / float64(s.batch.Liquid); m > 0 && d.Name != "" {
			out = append(out, d.Name+" "+s.words.Figure(m, unit.Gram))
		}
	}
	return s.list(out)
}

// leftNote says that the liquid's steps come first and leave less, or more, than the
// method is written for; nil when they do not.
func (s *state) leftNote() []note.Note {
	if s.mix == nil {
		return nil
	}
	pan, left := s.recipeMass()*s.times(), float64(s.mix.liquid.Mass())*s.times()
	doses := s.dosesFor(left)
	if !otherMass(left, pan) || doses == "" {
		return nil
	}
	return []note.Note{note.New(note.Caution, CodeLeft, note.Num("pan", pan, unit.Gram), note.Num("left", left, unit.Gram), note.Typed("doses", doses))}
}

// sameMass is how far the pan's weight may be off before the page speaks of it.
const sameMass = 0.03

// showDiet says which allergens went in, and who may eat it, as far as known.
func (m *mixture) showDiet(s *state) {
	var list []string
	for _, name := range m.liquid.Allergens().Names() {
		list = append(list, s.say("allergen."+name))
	}
	text := s.say("lab-liquid.no-allergens")
	if len(list) > 0 {
		text = s.say("lab-liquid.allergens", textArg("list", strings.Join(list, s.say("lab.comma"))))
	}
	s.page.Text("lab-liquid-allergens", text)
	agents := s.agentDiets()
	s.page.Text("lab-liquid-diet", m.diet(s, agents))
	open := ""
	if names := append(m.unlabelled(), agents.open...); len(names) > 0 {
		open = s.say("lab-liquid.diet-open", textArg("list", strings.Join(names, s.say("lab.comma"))))
	}
	s.page.Line("lab-liquid-diet-open", open)
}

// diet is who may eat the liquid with the pan's agents, and which of these stands
// against it where the liquid alone does not.
func (m *mixture) diet(s *state, agents agentDiets) string {
	because := func(key string, names []string) string {
		return s.say(key, textArg("list", strings.Join(names, s.say("lab.comma"))))
	}
	switch {
	case !m.liquid.Vegetarian():
		return s.say("lab-liquid.not-vegetarian")
	case len(agents.animal) > 0:
		return because("lab-liquid.agents-not-vegetarian", agents.animal)
	case !m.liquid.Vegan():
		return s.say("lab-liquid.vegetarian")
	case len(agents.ofAnimal) > 0:
		return because("lab-liquid.agents-vegetarian", agents.ofAnimal)
	}
	return s.say("lab-liquid.vegan")
}

// agentDiets are the names of the pan's doses that are not for everybody: of
// killed animals, from animals, and those of which only the label knows.
type agentDiets struct{ animal, ofAnimal, open []string }

func (s *state) agentDiets() (out agentDiets) {
	for _, d := range s.reading.Formula.Doses {
		if d.Amount.Value <= 0 || d.Name == "" {
			continue
		}
		name, vegan, vegetarian := s.doseDiet(d)
		switch {
		case vegetarian == agent.No:
			out.animal = append(out.animal, name)
		case vegan == agent.No:
			out.ofAnimal = append(out.ofAnimal, name)
		case vegan == agent.Ask || vegetarian == agent.Ask:
			out.open = append(out.open, name)
		}
	}
	return out
}

// doseDiet is what is known of a dose: of an agent, or of an ingredient among them.
func (s *state) doseDiet(d formula.Dose) (name string, vegan, vegetarian agent.Answer) {
	if a := agent.ByID(agent.ID(d.Agent)); a != nil {
		return s.agentTitle(a), a.Vegan, a.Vegetarian
	}
	g, known := s.findLiquid(d.Name)
	l, err := liquid.Run([]liquid.Step{liquid.Add(g, 1)})
	if !known || err != nil {
		return d.Name, agent.Ask, agent.Ask
	}
	answer := func(yes bool) agent.Answer {
		if yes {
			return agent.Yes
		}
		return agent.No
	}
	return d.Name, answer(l.Vegan()), answer(l.Vegetarian())
}

// unlabelled are the ingredients whose label nobody here has read: those that
// are not known, and the cook's own.
func (m *mixture) unlabelled() []string {
	names := append([]string{}, m.unknown...)
	for _, g := range m.liquid.Ingredients() {
		if g.Class == liquid.Own {
			names = append(names, g.Name)
		}
	}
	return names
}

// showNotes lists the cautions, always to be seen, and the reasons, to be
// unfolded.
func (k *know) showNotes(s *state, m *mixture) {
	var warn, why []note.Note
	for _, n := range m.state.Notes {
		if n.Level >= note.Caution {
			warn = append(warn, n)
		} else {
			why = append(why, n)
		}
	}
	s.noteRows("lab-liquid-warn", &k.works, warn)
	for i := range mixFigures {
		if ref := mixFigures[i].property.Source(); ref.Tag.Known() {
			why = append(why, note.New(note.Reason, CodeFigureFrom, note.Word("property", "property."+mixFigures[i].property.String())).From(ref))
		}
	}
	s.noteRows("lab-liquid-why", &k.works, append(why, k.origins()...))
	text := ""
	if len(m.unknown) > 0 {
		text = s.say("lab-liquid.unknown", textArg("list", strings.Join(m.unknown, s.say("lab.comma"))),
			textArg("share", strconv.Itoa(int(math.Round(100*m.open)))+"\u00a0%"))
		if m.open > mostOpen {
			text += " " + s.say("lab-liquid.unknown-much")
		}
	}
	s.page.Line("lab-liquid-unknown", text)
}

// origins say where the record of each ingredient comes from.
func (k *know) origins() []note.Note {
	var out []note.Note
	for i := range k.recipe.parts {
		p := &k.recipe.parts[i]
		if !p.known {
			continue
		}
		out = append(out, note.New(note.Reason, CodeBodyFrom, note.Typed("ingredient", p.name)).From(p.g.CompositionSource()))
		if ref := p.g.PHSource(); ref.Tag.Known() && ref != p.g.CompositionSource() {
			out = append(out, note.New(note.Reason, CodePHFrom, note.Typed("ingredient", p.name)).From(ref))
		}
	}
	return out
}

// agentCautions are the cautions of a gel that come from the liquid, with the
// figure that is behind each; an agent's own safety and dose are told elsewhere.
var agentCautions = [...]struct {
	code     note.Code
	property liquid.Property
	flag     liquid.Flags
}{
	{gel.CodePH, liquid.PropPH, 0}, {gel.CodePHHigh, liquid.PropPH, 0}, {gel.CodeFallsOut, liquid.PropPH, 0}, {gel.CodeAcidBoil, liquid.PropPH, 0}, {gel.CodeAcidLoss, liquid.PropPH, 0}, {gel.CodeAcidDestroys, liquid.PropPH, 0},
	{gel.CodeCurdles, liquid.PropPH, 0}, {gel.CodeBrix, liquid.PropBrix, 0}, {gel.CodeSugarLater, liquid.PropBrix, 0}, {gel.CodeAcidSugar, liquid.PropBrix, 0},
	{gel.CodeABVWarns, liquid.PropABV, 0}, {gel.CodeABVFails, liquid.PropABV, 0}, {gel.CodeIonMissing, liquid.PropFreeCalcium, 0},
	{gel.CodeIonBath, liquid.PropFreeCalcium, 0}, {gel.CodeFatWeakens, liquid.PropFat, 0},
	{gel.CodeCalciumEarly, liquid.PropFreeCalcium, 0}, {gel.CodeFat, liquid.PropFat, 0}, {gel.CodeAlkali, liquid.PropPH, 0},
	{gel.CodeProtease, liquid.PropPH, liquid.Protease}, {gel.CodeTannin, liquid.PropPH, liquid.Tannin}, {gel.CodeAmylase, liquid.PropPH, liquid.RawEgg | liquid.FromBees},
}

// showAgents says what the liquid does to the agents of the formula, and which
// ingredient it is.
func (k *know) showAgents(s *state, m *mixture) {
	const list = "lab-liquid-agent"
	notes, from := k.agentNotes(s, m)
	s.noteRows(list, &k.works, notes)
	for i := range notes {
		text := ""
		if from[i] != "" {
			text = s.say("lab-liquid.driven", textArg("list", from[i]))
		}
		s.page.Line(view.Row(list, i, "from"), text)
	}
	s.page.Show("lab-liquid-agents-box", len(notes) > 0)
}

func (k *know) agentNotes(s *state, m *mixture) (notes []note.Note, from []string) {
	if len(s.doses) == 0 {
		return nil, nil
	}
	v, err := gel.Read(gel.Recipe{Doses: s.doses, Cond: s.conditions, Kitchen: s.kitchen.factors})
	if err != nil {
		return nil, nil
	}
	for _, n := range append(append([]note.Note{}, v.Notes...), v.Firmness.Notes...) {
		for _, c := range agentCautions {
			if c.code != n.Code || n.Level < note.Hint {
				continue
			}
			notes = append(notes, plain(n))
			if c.flag != 0 {
				from = append(from, m.bearers(s, c.flag))
			} else {
				from = append(from, m.from(s, c.property))
			}
		}
	}
	return notes, from
}

// plain is a note whose minutes have no more digits than they can bear.
func plain(n note.Note) note.Note {
	n.Args = append([]note.Arg{}, n.Args...)
	for i := range n.Args {
		if a := &n.Args[i]; a.Unit == unit.Minute {
			a.Value = mixRounded(a.Value, 1)
		}
	}
	return n
}

// bearers names the ingredients with one of some flags.
func (m *mixture) bearers(s *state, flags liquid.Flags) string {
	var list []string
	for _, g := range m.liquid.Ingredients() {
		if g.Flags&flags != 0 {
			list = append(list, s.ingredientName(&g))
		}
	}
	return strings.Join(list, s.say("lab.comma"))
}

// mixRounded keeps so many significant digits.
func mixRounded(v float64, digits int) float64 {
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	if err != nil {
		return v
	}
	return out
}

func textArg(name, text string) note.Arg { return note.Typed(name, text) }

// textIf is a text when something is so, and none otherwise.
func textIf(so bool, text string) string {
	if so {
		return text
	}
	return ""
}
