package lab

import (
	"math"
	"strings"

	"tremblant/internal/gel"
	"tremblant/internal/liquid"
	"tremblant/internal/unit"
)

// mixture is the liquid that a recipe comes to, at the size of the recipe.
type mixture struct {
	liquid  *liquid.Liquid
	state   liquid.State
	figures [liquid.NumProperties]unit.Range // widened by what is not known
	unknown []string                         // ingredients that count as water
	open    float64                          // their share of what went in
	hot     bool
	eggs    [2]float64 // g of white, and of yolk or whole egg, that went in
	puree   float64    // g of fruit and vegetables with fibre that went in
	put     float64    // g that went in
	parts   liquidShares
	why     [liquid.NumProperties]reasons
}

// reasons is what makes a figure, in words; told once for a liquid.
type reasons struct {
	text string
	told bool
}

// standIns are what an ingredient that is not known could be like: the range of
// each figure spans them all. They are far apart in sugar, acid, alcohol, salt,
// fat and calcium (common practice).
var standIns = [...]string{"syrup-2-1", "lemon-juice", "spirit-40", "soy-sauce", "cream-36", "whole-milk"}

// reference is the temperature at which the figures are told, in °C: that of
// the tables of sugar and alcohol.
const reference = 20

// make works the liquid out.
func (r *mixRecipe) make() (*mixture, error) {
	l, err := liquid.Run(r.steps)
	if err != nil {
		return nil, err
	}
	m := &mixture{liquid: l, state: l.State(reference), hot: r.hot}
	for p := range liquid.NumProperties {
		m.figures[p] = m.state.Of(p)
	}
	m.figures[liquid.PropPH] = phOf(l)
	m.count(r)
	m.widen(r)
	m.parts = m.shares()
	return m, nil
}

// phOf is the pH at 25 °C, for which meters and tables are made.
func phOf(l *liquid.Liquid) unit.Range {
	s := l.State(25)
	return s.Of(liquid.PropPH)
}

func (m *mixture) of(p liquid.Property) unit.Range { return m.figures[p] }

// count adds up what went in.
func (m *mixture) count(r *mixRecipe) {
	strange := 0.0
	next := 0
	for i := range r.steps {
		step := &r.steps[i]
		if step.Kind != liquid.StepAdd && step.Kind != liquid.StepDilute {
			continue
		}
		g := &step.Ingredient
		mass := float64(step.Mass)
		if mass == 0 {
			mass = float64(step.Volume.Mass(g.DensityAt(reference)))
		}
		m.put += mass
		for next < len(r.strange) && r.strange[next] < i {
			next++
		}
		if next < len(r.strange) && r.strange[next] == i {
			strange += mass
		}
		m.sort(g, mass)
	}
	m.unknown = r.unknown
	if m.put > 0 {
		m.open = strange / m.put
	}
}

// someFat is the g per 100 g of fat from which an egg has its yolk (common practice).
const someFat = 2

func (m *mixture) sort(g *liquid.Ingredient, mass float64) {
	switch {
	case g.Class == liquid.Eggs && g.Per100[liquid.Fat] < someFat:
		m.eggs[0] += mass
	case g.Class == liquid.Eggs:
		m.eggs[1] += mass
	case (g.Class == liquid.Fruits || g.Class == liquid.Vegetables) && g.Per100[liquid.Fibre] >= liquid.PureeFibre:
		m.puree += mass
	}
}

// widen spreads each figure over what the unknown ingredients could be.
func (m *mixture) widen(r *mixRecipe) {
	if len(r.strange) == 0 {
		return
	}
	for _, id := range standIns {
		g, ok := liquid.ByID(id)
		if !ok {
			continue
		}
		steps := append([]liquid.Step{}, r.steps...)
		for _, i := range r.strange {
			if steps[i].Kind == liquid.StepAdd {
				steps[i].Ingredient = g
			}
		}
		l, err := liquid.Run(steps)
		if err != nil {
			continue
		}
		s := l.State(reference)
		for p := range liquid.NumProperties {
			x := s.Of(p)
			if p == liquid.PropPH {
				x = phOf(l)
			}
			if !s.HasPH && (p == liquid.PropPH || p == liquid.PropTitratable || p == liquid.PropFreeCalcium) {
				continue
			}
			f := &m.figures[p]
			f.Low, f.High = min(f.Low, x.Low), max(f.High, x.High)
		}
	}
}

// mostOpen is the share of unknown ingredients above which the liquid is not
// handed on: its ranges would say nothing (common practice).
const mostOpen = 0.25

// mostlyMilk is the milk protein, as a share of the mass, from which the liquid
// counts as milk: about half of whole milk's (common practice).
const mostlyMilk = 0.015

// someMilk and allMilk are the milk protein, as a share of what is not fat, between
// which a liquid is part milk: from a tenth of whole milk's to two thirds (common practice).
const someMilk, allMilk = 0.003, 0.022

// hand tells the other sections what the liquid is like.
func (m *mixture) hand(s *state) {
	if m.open > mostOpen {
		return
	}
	s.mix, s.liquidShares = m, m.parts
	c := &s.conditions
	boiled := s.boiledTo()
	if m.hot {
		boiled = 1 // its own steps have boiled it
	}
	of := func(p liquid.Property) unit.Range { return m.of(p).Scale(1 / boiled) }
	if m.state.HasPH {
		told(&c.PH, m.of(liquid.PropPH), 14)
		told(&c.Ca, of(liquid.PropFreeCalcium), 7000)
	}
	told(&c.Brix, sweet(of(liquid.PropBrix), of(liquid.PropSalt), of(liquid.PropProtein)), 95)
	told(&c.ABV, m.of(liquid.PropABV).Scale(boiled), 1) // alcohol goes faster than water; at least so much
	told(&c.Na, of(liquid.PropSodium), 7000)
	told(&c.K, of(liquid.PropPotassium), 7000)
	told(&c.Fat, of(liquid.PropFat), 1)
	told(&c.Protein, of(liquid.PropProtein).Scale(m.ofMilks(liquid.PropProtein)), 1)
	flags := m.liquid.Flags()
	dairy := float64(m.state.Share(liquid.DairyProtein))
	c.Milk = dairy >= mostlyMilk
	serum := dairy / max(0.1, 1-m.of(liquid.PropFat).Typical) // cream is no thinned milk
	c.PartMilk = serum >= someMilk && serum < allMilk
	c.Protease = flags&liquid.Protease != 0
	c.Tannin = flags&liquid.Tannin != 0
	c.Amylase = flags&liquid.RawEgg != 0 && m.eggs[1] > 0 || flags&liquid.FromBees != 0 && !m.hot
}

// ofMilks is the share of a property that milk and plant milks bring: of protein, what
// acid curdles. That of soy sauce or a stock stays in solution.
func (m *mixture) ofMilks(p liquid.Property) float64 {
	share := 0.0
	all := m.liquid.Ingredients()
	for _, d := range m.liquid.Drivers(p) {
		if c := all[d.Ingredient].Class; c == liquid.Dairy || c == liquid.PlantMilks {
			share += d.Share
		}
	}
	return min(max(share, 0), 1)
}

// sweet is the dissolved solids without salt and protein: what gels know as sugar.
func sweet(brix, salt, protein unit.Range) unit.Range {
	off := liquid.SavouryBrix(unit.Fraction(salt.Typical), unit.Fraction(protein.Typical))
	return unit.Range{Low: max(0, brix.Low-off), Typical: max(0, brix.Typical-off), High: max(0, brix.High-off)}
}

// boiledTo is the part of the liquid that is left when the pan has boiled as long as its
// losses say: the doses are shares of that as well.
func (s *state) boiledTo() float64 {
	boil := float64(s.batch.Total - s.batch.AfterBoil)
	all := float64(s.batch.Liquid)
	if s.refused != nil || !(boil > 0) || !(boil < 0.95*all) {
		return 1
	}
	return 1 - boil/all
}

// told sets a condition, unless it lies beyond what the gels are asked about.
func told(g *gel.Given, r unit.Range, most float64) {
	if r.Valid() && r.Low >= 0 && r.Typical <= most {
		r.High = min(r.High, most)
		*g = gel.KnownRange(r)
	}
}

// shares tells the liquid's shares. Fat of dairy is milk fat, all other fat oil;
// what went in as egg or puree counts by its share of what went in.
func (m *mixture) shares() liquidShares {
	share := func(p liquid.Property) unit.Fraction { return unit.Fraction(m.of(p).Typical) }
	out := liquidShares{
		Water: m.of(liquid.PropWater), Sugar: share(liquid.PropSugars), Salt: share(liquid.PropSalt), Ethanol: share(liquid.PropABW),
		Fibre: share(liquid.PropFibre), RawEgg: m.liquid.Flags()&liquid.RawEgg != 0,
	}
	dairy := 0.0
	all := m.liquid.Ingredients()
	for _, d := range m.liquid.Drivers(liquid.PropFat) {
		if all[d.Ingredient].Class == liquid.Dairy {
			dairy += d.Share
		}
	}
	fat := m.of(liquid.PropFat).Typical
	out.MilkFat, out.Oil = unit.Fraction(fat*dairy), unit.Fraction(fat*max(0, 1-dairy))
	if m.put > 0 {
		out.EggWhite, out.Egg, out.Puree = unit.Fraction(m.eggs[0]/m.put), unit.Fraction(m.eggs[1]/m.put), unit.Fraction(m.puree/m.put)
	}
	return out
}

// from says which ingredients make a figure, the strongest first, and which
// work against it.
func (m *mixture) from(s *state, p liquid.Property) string {
	if w := &m.why[p]; !w.told {
		w.text, w.told = m.made(s, p), true
	}
	return m.why[p].text
}

func (m *mixture) made(s *state, p liquid.Property) string {
	all := m.liquid.Ingredients()
	var with, against []string
	for _, d := range m.liquid.Drivers(p) {
		g := &all[d.Ingredient]
		switch {
		case math.Abs(d.Share) < leastDriver && len(with) > 0:
		case d.Share > 0 && len(with) < mostDrivers:
			with = append(with, s.driver(g, d))
		case d.Share < 0 && p == liquid.PropPH && len(against) < mostDrivers-1:
			against = append(against, s.ingredientName(g)) // what buffers is many things at once
		case d.Share < 0 && len(against) < mostDrivers-1:
			against = append(against, s.driver(g, d))
		}
	}
	out := strings.Join(with, s.say("lab.comma"))
	if len(against) > 0 {
		out = strings.TrimPrefix(out+s.say("lab.comma"), s.say("lab.comma")) + s.say(againstKey(p), textArg("list", strings.Join(against, s.say("lab.comma"))))
	}
	return out
}

// mostDrivers is how many reasons stand beside a figure, leastDriver the share
// below which another one is not worth a word.
const (
	mostDrivers = 3
	leastDriver = 0.04
)

func againstKey(p liquid.Property) string {
	if p == liquid.PropPH {
		return "lab-liquid.held-up"
	}
	return "lab-liquid.against"
}

// driver is one reason for a figure: what, from where, how much of it.
func (s *state) driver(g *liquid.Ingredient, d liquid.Driver) string {
	what, name, key := s.say("constituent."+d.Constituent.String()), s.ingredientName(g), "lab-liquid.driver"
	if saysTwice(what, name, g.Class) {
		key = "lab-liquid.driver-itself"
	}
	return s.say(key, textArg("constituent", what), textArg("ingredient", name), textArg("share", s.words.Style.Decimals(100*math.Abs(d.Share), 0)+"\u00a0%"))
}

// saysTwice reports whether an ingredient's name says already what is in it, as
// citric acid, brown sugar and Mineralwasser do.
func saysTwice(what, name string, class liquid.Class) bool {
	const compounded = 5 // letters from which a word's end is hardly chance
	what, _, _ = strings.Cut(what, " (")
	what, name = liquid.Fold(what), liquid.Fold(name)
	before, ends := strings.CutSuffix(name, what)
	_, begins := strings.CutPrefix(name+" ", what+" ")
	switch class {
	case liquid.Pures, liquid.Sugars, liquid.Waters:
	default:
		begins = false // "fat free milk"
	}
	return begins || ends && (before == "" || strings.HasSuffix(before, " ") || len(what) >= compounded)
}

func (s *state) ingredientName(g *liquid.Ingredient) string {
	if g.Name != "" {
		return g.Name
	}
	return s.say("ingredient." + g.ID)
}
