package lab

import (
	"tremblant/internal/agent"
	"tremblant/internal/gel"
	"tremblant/internal/unit"
)

// molarSalt is the molar mass of sodium chloride in g/mol (IUPAC standard atomic weights).
const molarSalt = 58.44

// condition is one figure about the liquid that a person may type. Empty means
// not known, and the model says what it takes for granted.
type condition struct {
	name      string
	low, high float64     // limits, as typed
	unit      unit.Symbol // as typed
	base      float64     // of the model's unit in one of the typed unit
	of        func(*gel.Conditions) *gel.Given
}

// conditions lists them in the order of the page. The limits are those that a
// kitchen can meet.
var conditions = [...]condition{
	{"ph", 1, 12, unit.PH, 1, func(c *gel.Conditions) *gel.Given { return &c.PH }},
	{"brix", 0, 90, unit.Brix, 1, func(c *gel.Conditions) *gel.Given { return &c.Brix }},
	{"abv", 0, 80, unit.ABV, 0.01, func(c *gel.Conditions) *gel.Given { return &c.ABV }},
	{"salt", 0, 30, unit.PercentOf, 1e4 / molarSalt, func(c *gel.Conditions) *gel.Given { return &c.Na }},
	{"calcium", 0, 20_000, unit.Milligram, 1 / agent.MolarCa, func(c *gel.Conditions) *gel.Given { return &c.Ca }},
	{"fat", 0, 90, unit.PercentOf, 0.01, func(c *gel.Conditions) *gel.Given { return &c.Fat }},
	{"heat", 0, 600, unit.Minute, 1, func(c *gel.Conditions) *gel.Given { return &c.HeatMinutes }},
	{"serve", -25, 100, unit.DegreeC, 1, func(c *gel.Conditions) *gel.Given { return &c.ServeC }},
}

// conditionTicks are what is so or not.
var conditionTicks = [...]struct {
	name string
	of   func(*gel.Conditions) *bool
}{
	{"milk", func(c *gel.Conditions) *bool { return &c.Milk }},
	{"enzymes", func(c *gel.Conditions) *bool { return &c.Protease }},
	{"tannin", func(c *gel.Conditions) *bool { return &c.Tannin }},
	{"frozen", func(c *gel.Conditions) *bool { return &c.Frozen }},
}

func swapInput(name string) string { return "lab-swap-" + name }

// conditionInputs are the names of the inputs about the liquid.
func conditionInputs() []string {
	var names []string
	for _, c := range conditions {
		names = append(names, swapInput(c.name))
	}
	for _, c := range conditionTicks {
		names = append(names, swapInput(c.name))
	}
	return names
}

// tellConditions puts what was typed about the liquid into the state, where it
// wins over what other sections have worked out.
func tellConditions(s *state) {
	for _, c := range conditions {
		if g := s.typed(swapInput(c.name), c.low, c.high, c.unit); g.Known {
			*c.of(&s.conditions) = gel.Known(g.Typical * c.base)
		}
	}
	for _, c := range conditionTicks {
		if s.ticked(swapInput(c.name)) {
			*c.of(&s.conditions) = true
		}
	}
}

// hardlyAny is the salt or fat in percent that changes no gel: what an analysis
// finds in a fruit juice.
const hardlyAny = 0.05

// knownConditions says in one line what is known about the liquid, "" for nothing.
func (s *state) knownConditions() string {
	var list []string
	for _, c := range conditions {
		g := c.of(&s.conditions)
		if g.Known && (c.unit != unit.PercentOf || g.Typical/c.base >= hardlyAny) {
			list = append(list, s.conditionText(c, g.Typical/c.base))
		}
	}
	for _, c := range conditionTicks {
		if *c.of(&s.conditions) {
			list = append(list, s.say("lab-swap.known-"+c.name))
		}
	}
	return s.list(list)
}
