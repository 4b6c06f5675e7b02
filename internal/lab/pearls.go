package lab

import (
	"maps"
	"math"

	"tremblant/internal/agent"
	"tremblant/internal/formula"
	"tremblant/internal/liquid"
	"tremblant/internal/note"
	"tremblant/internal/sphere"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// pearls makes spheres of the pan's liquid: the mass is the pan's, pH, calcium,
// acids and density are the liquid's.
type pearls struct {
	plate
	typed  figuresTyped
	in     sphere.Input
	salt   agent.Salt // with the key of the text catalogue
	chosen string     // the method, as the page names it
	guess  bool       // the salt is the usual one
	answer sphere.Answer
	of     sphere.Input // what the last good answer is of
	ofSalt agent.Salt
	curve  citrateCurve
}

func newPearls() *pearls { return &pearls{plate: plate{name: "sphere"}} }

// pearlFigures are the inputs that hold a figure.
var pearlFigures = [...]figureAsked{
	{"bath", 1, 100_000, unit.Gram},
	{"diameter", 1, 100, unit.Millimetre},
	{"minutes", 0.1, 600, unit.Minute},
	{"portion", 0.5, 500, unit.Gram},
	{"covers", 1, 5000, unit.One},
	{"ph", 1, 12, unit.PH},
	{"calcium", 0, 1000, unit.MmolPerKg},
	{"water-calcium", 0, 20, unit.MmolPerKg},
}

// What holds where nothing is typed (common practice).
const (
	usualBath    = 1000 // g
	usualPearl   = 5    // mm
	usualSphere  = 25   // mm, reverse
	usualPearls  = 10   // g a cover
	usualDirect  = 1    // minutes
	usualReverse = 3
	leastWater   = 0.1 // of the liquid: with less, alginate and calcium salts have nothing to dissolve in
)

var pearlMethods = [...]struct {
	word   string
	method sphere.Method
	salt   agent.Word // the usual one for it
}{
	{"direct", sphere.Direct, "cacl2-2h2o"}, {"reverse", sphere.Reverse, "lactate-gluconate"}, {"set-shear", sphere.SetShear, "lactate-5h2o"},
}

func (p *pearls) inputs() []string {
	return p.names(pearlFigures[:], []string{"salt", "swallow"})
}

// show implements section.
func (p *pearls) show(s *state) {
	p.typed = s.readFigures(p.input, pearlFigures[:])
	p.read(s)
	s.page.Value(p.input("method"), p.chosen)
	p.showTaken(s)
	switch {
	case s.refused != nil || !(p.in.Liquid > 0):
		p.stale(s, s.say("lab.wrong"))
		return
	case p.typed.bad:
		p.stale(s, "")
		return
	}
	if tooDry(s) {
		p.stale(s, p.say(s, "no-water"))
		return
	}
	if !p.measure(s) {
		p.stale(s, p.say(s, "ph-needed"))
		return
	}
	a, err := sphere.Make(p.in)
	reverse := p.in.Method != sphere.Reverse && (err != nil || a.Citrate.Fails) && p.reverseWorks()
	s.page.Show(p.input("turn"), reverse)
	if err != nil {
		p.refuse(s, err, map[string]string{"bath": "bath", "diameter": "diameter", "calcium": "calcium", "ph": "ph", "water-calcium": "water-calcium", "calcium-salt": "salt"})
		return
	}
	p.answer, p.of, p.ofSalt = a, p.in, p.salt
	p.good(s)
	p.showWeights(s)
	p.showPicture(s)
	p.showReadings(s)
	p.showSalts(s)
	p.notes(s, append(s.counted, append(a.Notes, s.allergenNotes(CodeHolds)...)...))
	p.steps(s, p.method(s))
	s.showWorks(p.input("work"), &p.works)
}

// tooDry reports whether there is too little water in the liquid for anything to hydrate.
func tooDry(s *state) bool { return s.mix != nil && s.mix.of(liquid.PropWater).Typical < leastWater }

// measure adds what the liquid is like; it reports false where its pH is not known.
func (p *pearls) measure(s *state) bool {
	p.in.PH, p.in.Calcium = p.acidity(s), p.calcium(s)
	if p.in.PH == (unit.Range{}) {
		return false
	}
	p.in.Titration, p.in.Counted = p.titrate(s), p.citrateInPan(s)
	return true
}

// reverseWorks reports whether the reverse way is open when another is not.
func (p *pearls) reverseWorks() bool {
	in := p.in
	in.Method = sphere.Reverse
	if in.BathWater <= 0 {
		in.BathWater = usualBath
	}
	_, err := sphere.Make(in)
	return err == nil
}

// read puts the question together.
func (p *pearls) read(s *state) {
	t := p.typed
	p.in = sphere.Input{
		Liquid: s.solvent(), BathWater: unit.Mass(t.or("bath", usualBath)), WaterCalcium: t.or("water-calcium", 0),
		Portion: unit.Mass(t.or("portion", usualPearls)), Children: s.ticked(p.input("swallow")), Density: s.reading.Formula.Density,
	}
	chosen := pearlMethods[0]
	for _, m := range pearlMethods {
		if m.word == s.fields[p.input("method")] {
			chosen = m
		}
	}
	p.in.Method, p.chosen = chosen.method, chosen.word
	size, minutes := float64(usualPearl), float64(usualDirect)
	if p.in.Method == sphere.Reverse {
		size, minutes = usualSphere, usualReverse
	}
	p.in.Diameter, p.in.Time = t.or("diameter", size), unit.Seconds(60*t.or("minutes", minutes))
	key := agent.Word(s.fields[p.input("salt")])
	p.guess = key == ""
	if p.guess {
		key = chosen.salt
	}
	p.salt, p.in.Salt = agent.Salt{}, sphere.Salt{}
	if salt, ok := agent.SaltByKey(key); ok {
		p.salt, p.in.Salt = salt, coreSalt(salt)
	}
	p.liquid(s)
}

func coreSalt(s agent.Salt) sphere.Salt {
	return sphere.Salt{Key: "salt." + string(s.Key), Calcium: unit.Range{Low: s.Ca.Low, Typical: s.Ca.Typical, High: s.Ca.High}}
}

// pearlAcids are the liquid model's acids that count here, with their molar
// masses in g/mol (IUPAC standard atomic weights).
var pearlAcids = [...]struct {
	of    liquid.Constituent
	kind  sphere.AcidKind
	molar float64
}{
	{liquid.Citric, sphere.Citric, 192.124}, {liquid.Malic, sphere.Malic, 134.087}, {liquid.Tartaric, sphere.Tartaric, 150.087},
	{liquid.Lactic, sphere.Lactic, 90.078}, {liquid.Acetic, sphere.Acetic, 60.052},
}

// liquid takes what the liquid model says.
func (p *pearls) liquid(s *state) {
	c := s.conditions
	p.in.Sugar, p.in.Alcohol = unit.Percent(c.Brix.Typical), unit.Fraction(c.ABV.Typical)
	if s.mix == nil {
		return
	}
	for _, a := range pearlAcids {
		if x := float64(s.mix.state.Share(a.of)) * 1000 / a.molar; x > 0 {
			p.in.Acids = append(p.in.Acids, sphere.Acid{Kind: a.kind, MolPerKg: x})
		}
	}
	if p.in.Density == 0 {
		p.in.Density = unit.Density(s.mix.of(liquid.PropDensity).Typical)
	}
	p.in.Sugar = unit.Fraction(s.mix.of(liquid.PropSugars).Typical)
}

func (p *pearls) acidity(s *state) unit.Range { return phTyped(p.typed, s) }

// calcium is the liquid's, all of it, as typed or worked out; of a liquid that
// is not known, from none to what a hard juice holds.
func (p *pearls) calcium(s *state) unit.Range {
	switch {
	case p.typed.known("calcium"):
		return unit.Exactly(p.typed.or("calcium", 0))
	case s.mix != nil:
		return s.mix.of(liquid.PropCalcium)
	}
	return unit.Exactly(s.conditions.Ca.Typical)
}

// showTaken says what is counted where nothing is typed.
func (p *pearls) showTaken(s *state) {
	choices := []string{"", p.say(s, "salt-usual"), "unknown", p.say(s, "salt-unknown")}
	for _, salt := range agent.CalciumSalts {
		choices = append(choices, string(salt.Key), s.say("salt."+string(salt.Key)))
	}
	s.page.Choices(p.input("salt"), choices...)
	s.page.Value(p.input("salt"), s.fields[p.input("salt")])
	s.page.Say(p.input("salt"), s.sayIf(p.guess, "lab-sphere.salt-guess", note.Word("salt", "salt."+string(p.salt.Key))), true)
	s.page.Set(p.input("bath"), "placeholder", s.words.Style.Plain(usualBath))
	s.page.Show(p.input("bath-ask"), p.in.Method != sphere.SetShear)
	s.page.Show(p.input("size-ask"), p.in.Method != sphere.SetShear)
	s.page.Set(p.input("diameter"), "placeholder", s.words.Style.Plain(p.in.Diameter))
	s.page.Set(p.input("minutes"), "placeholder", s.words.Style.Plain(float64(p.in.Time)/60))
	s.page.Set(p.input("portion"), "placeholder", s.words.Style.Plain(usualPearls))
	ph := p.say(s, "ph-unknown")
	if r := p.acidity(s); r != (unit.Range{}) {
		ph = p.say(s, "from-liquid", note.Typed("value", s.about(r, unit.PH)))
	}
	p.hint(s, "ph", ph)
	calcium := p.say(s, "calcium-unknown")
	if s.mix != nil || s.conditions.Ca.Known {
		calcium = p.say(s, "from-liquid", note.Typed("value", s.about(p.calcium(s), unit.MmolPerKg)))
	}
	p.hint(s, "calcium", calcium)
}

// do implements section.
func (p *pearls) do(what string, _ int, s *state) *formula.Change {
	switch what {
	case "turn":
		fields := maps.Clone(s.fields)
		fields[p.input("method")] = "reverse"
		delete(fields, p.input("salt"))
		return &formula.Change{Fields: fields, What: p.say(s, "turned")}
	case "put":
		return p.put(s)
	}
	return nil
}

// put writes the agents that go into the liquid into the pan: the alginate or
// the salt as doses, the citrate as a part of the liquid.
func (p *pearls) put(s *state) *formula.Change {
	if !p.fresh {
		return nil
	}
	fields := maps.Clone(s.fields)
	if c, ok := p.citrate(s, ""); ok {
		if fields = s.addToPan(c.name, inside(s, c.mass, c.span)); fields == nil {
			return nil
		}
	}
	for _, d := range p.doses() {
		if d.mass > 0 && !s.putDose(fields, d.agent, d.mass) {
			return nil
		}
	}
	return &formula.Change{Fields: fields, What: p.say(s, "put-done")}
}

type pearlDose struct {
	agent agent.ID
	mass  unit.Mass
}

// doses are what goes into the liquid.
func (p *pearls) doses() []pearlDose {
	alginate, salt := pearlDose{"alginate", unit.Mass(p.answer.Alginate.Typical)}, pearlDose{p.ofSalt.Agent, unit.Mass(p.answer.Salt.Typical)}
	switch p.answer.Method {
	case sphere.Reverse:
		return []pearlDose{salt}
	case sphere.SetShear:
		return []pearlDose{alginate, salt}
	}
	return []pearlDose{alginate}
}

// putDose writes a dose of grams at the pan's size into its own row, or the
// first free one; false when there is none.
func (s *state) putDose(fields formula.Fields, id agent.ID, m unit.Mass) bool {
	row := -1
	for i, d := range s.reading.Formula.Doses {
		if d.Agent == string(id) {
			row = s.reading.DoseRow(i)
		}
	}
	for i := 0; row < 0 && i < formula.MaxDoses; i++ {
		if fields[formula.DoseField(i, "name")] == "" && fields[formula.DoseField(i, "amount")] == "" {
			row = i
		}
	}
	if row < 0 {
		return false
	}
	fields[formula.DoseField(row, "name")] = s.agentName(id)
	fields[formula.DoseField(row, "amount")] = s.words.Style.Plain(rounded(float64(m)/s.times(), 3))
	fields[formula.DoseField(row, "unit")] = string(unit.Gram)
	return true
}

// holds reports whether the pan holds the doses already, to a twentieth.
func (p *pearls) holds(s *state) bool {
	for _, d := range p.doses() {
		has := 0.0
		for i, x := range s.reading.Formula.Doses {
			if x.Agent == string(d.agent) {
				has += float64(s.batch.Doses[i].Mass)
			}
		}
		if math.Abs(has-float64(d.mass)) > 0.05*float64(d.mass) {
			return false
		}
	}
	return !(p.answer.Citrate.Total() > 0)
}

// pearlLine is one thing to weigh and where it goes.
type pearlLine struct {
	name, into string
	mass       unit.Mass
	span       unit.Range // from where to where it works
	instead    string     // what is said in place of that, "" for nothing
}

// lines are what to weigh, in the order of the work.
func (p *pearls) lines(s *state) []pearlLine {
	a := &p.answer
	pan, bath := p.say(s, "into-liquid", note.Typed("mass", s.onScale(p.of.Liquid))), p.say(s, "into-bath", note.Typed("mass", s.onScale(p.of.BathWater)))
	alginate := pearlLine{name: s.agentName("alginate"), into: pan, mass: unit.Mass(a.Alginate.Typical), span: a.Alginate}
	salt := pearlLine{name: capital(s.say("salt." + string(p.ofSalt.Key))), into: bath, mass: unit.Mass(a.Salt.Typical), span: a.Salt}
	var out []pearlLine
	if c, ok := p.citrate(s, pan); ok {
		out = append(out, c)
	}
	switch a.Method {
	case sphere.Reverse:
		salt.into, alginate.into = pan, bath
		return append(out, salt, alginate)
	case sphere.SetShear:
		salt.into = pan
	}
	return append(out, alginate, salt)
}

func (p *pearls) showWeights(s *state) {
	lines := p.lines(s)
	list := p.input("weigh")
	s.page.Rows(list, len(lines))
	for i, l := range lines {
		l.mass = inside(s, l.mass, l.span)
		s.page.Text(view.Row(list, i, "name"), l.name)
		s.weight(view.Row(list, i, "mass"), l.mass)
		s.page.Text(view.Row(list, i, "into"), l.into)
		s.page.Text(view.Row(list, i, "aside"), l.aside(p, s))
	}
	has := p.holds(s)
	s.page.Show(p.input("put"), !has)
	s.page.Show(p.input("has"), has)
}
