package gel

import (
	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Given is a condition of the liquid: a range, or not known.
type Given struct {
	unit.Range
	Known bool
}

// Known is a condition without spread.
func Known(x float64) Given { return Given{unit.Exactly(x), true} }

// KnownRange is a condition with its range.
func KnownRange(r unit.Range) Given { return Given{r, true} }

// Conditions is what a gel has to live with. What is not known is not assumed
// to be absent: the answer says which conditions it took for granted.
type Conditions struct {
	PH      Given
	Brix    Given // °Bx: g of sugars in 100 g of liquid
	ABV     Given // parts of one by volume: 12 % vol is 0.12
	Na      Given // sodium, mmol per kg of liquid
	K       Given // potassium, mmol per kg
	Ca      Given // free calcium, mmol per kg
	Fat     Given // mass fraction
	Protein Given // mass fraction of what acid curdles: the protein of milk and of plant milks

	Milk     bool // milk, cream or mostly these
	PartMilk bool // so much milk that it matters which of the two it is counted as
	Protease bool // raw pineapple, papaya, kiwi, fig, ginger, melon
	Tannin   bool // tea, red wine, persimmon
	Amylase  bool // raw yolk, honey, saliva on the spoon

	ServeC      Given // °C at which it is eaten
	SetHours    Given // hours in the cold before it is eaten
	HeatMinutes Given // minutes above about 80 °C with the acid in it
	Frozen      bool  // it will be frozen and thawed
}

// conditionLimits are the values that can be real at all.
var conditionLimits = [...]struct {
	field     string
	low, high float64
	symbol    unit.Symbol // that a cook reads it in
	shown     float64     // how many of them one of the model's is
	of        func(*Conditions) *Given
}{
	{"ph", 0, 14, unit.PH, 1, func(c *Conditions) *Given { return &c.PH }},
	{"brix", 0, 95, unit.Brix, 1, func(c *Conditions) *Given { return &c.Brix }},
	{"abv", 0, 1, unit.ABV, 100, func(c *Conditions) *Given { return &c.ABV }},
	{"sodium", 0, 7000, unit.PercentOf, saltPercent, func(c *Conditions) *Given { return &c.Na }},
	{"potassium", 0, 7000, unit.GramPerKg, molarK / 1e3, func(c *Conditions) *Given { return &c.K }},
	{"calcium", 0, 7000, unit.GramPerKg, agent.MolarCa / 1e3, func(c *Conditions) *Given { return &c.Ca }},
	{"fat", 0, 1, unit.PercentOf, 100, func(c *Conditions) *Given { return &c.Fat }},
	{"protein", 0, 1, unit.PercentOf, 100, func(c *Conditions) *Given { return &c.Protein }},
	{"serve", -30, 130, unit.DegreeC, 1, func(c *Conditions) *Given { return &c.ServeC }},
	{"hours", 0, 24 * 60, unit.Hour, 1, func(c *Conditions) *Given { return &c.SetHours }},
	{"heat", 0, 24 * 60, unit.Minute, 1, func(c *Conditions) *Given { return &c.HeatMinutes }},
}

// Check refuses conditions that no kitchen has; the Field of the refusal is one
// of ph, brix, abv, sodium, potassium, calcium, fat, protein, serve, hours, heat.
func (c *Conditions) Check() error {
	for i := range conditionLimits {
		l := &conditionLimits[i]
		g := l.of(c)
		if !g.Known {
			continue
		}
		if !g.Valid() || g.Low < l.low || g.High > l.high {
			return note.Refuse(l.field, CodeConditionBad, note.Num("value", g.Typical*l.shown, l.symbol),
				said("low", l.low*l.shown, l.symbol), said("high", l.high*l.shown, l.symbol))
		}
	}
	return nil
}

func (c *Conditions) medium() agent.Medium {
	if c.Milk {
		return agent.Milk
	}
	return agent.Water
}

// abvPercent is the alcohol in % vol.
func (c *Conditions) abvPercent() Given {
	return Given{c.ABV.Scale(100), c.ABV.Known}
}

// of returns the condition that a modifier reads; for ions the weighted sum in
// mmol per kg, known when the main ion is.
func (c *Conditions) of(m *agent.Modifier) Given {
	switch m.By {
	case agent.ByTemp:
		return c.ServeC
	case agent.ByPH:
		return c.PH
	case agent.ByBrix:
		return c.Brix
	case agent.ByABV:
		return c.abvPercent()
	case agent.BySalt:
		return c.Na
	case agent.ByHours:
		return c.SetHours
	case agent.ByIons:
		return c.ions(m)
	case agent.ByMilk:
		if c.Milk {
			return Known(1)
		}
		return Known(0)
	}
	return Given{}
}

func (c *Conditions) ions(m *agent.Modifier) Given {
	main := c.Na // the ion that the others are weighed against has the weight 1
	if m.K == 1 {
		main = c.K
	} else if m.Ca == 1 {
		main = c.Ca
	}
	if !main.Known {
		return Given{}
	}
	sum := unit.Range{}
	for _, x := range [...]struct {
		weight float64
		ion    Given
	}{{m.Na, c.Na}, {m.K, c.K}, {m.Ca, c.Ca}} {
		if x.ion.Known {
			s := x.ion.Scale(x.weight)
			sum = unit.Range{Low: sum.Low + s.Low, Typical: sum.Typical + s.Typical, High: sum.High + s.High}
		}
	}
	return KnownRange(sum)
}
