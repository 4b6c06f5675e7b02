package lab

import (
	"maps"
	"math"

	"tremblant/internal/emulsion"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// cream makes an emulsion of the pan's recipe: the ingredients are the pan's,
// the pH is the liquid's, the weights are the shelf's scales'.
type cream struct {
	plate
	ask    *creamAsk
	answer emulsion.Answer // the last good one, at the size asked for
	scaled emulsion.Scaled
	parts  []creamPart // of the last good answer
	named  map[string]string
}

func newCream() *cream {
	return &cream{plate: plate{name: "emulsion"}, named: map[string]string{}}
}

// creamFigures are the inputs that hold a figure.
var creamFigures = [...]figureAsked{
	{"covers", 1, 5000, unit.One},
	{"portion", 0.1, 2000, unit.Gram},
	{"spare", 0, 90, unit.PercentOf},
	{"have", 0.1, 100_000, unit.Gram},
	{"ph", 1, 12, unit.PH},
	{"serve", -20, 120, unit.DegreeC},
}

func (c *cream) inputs() []string {
	return c.names(creamFigures[:], []string{"style", "limit", "tool", "pasteurised", "guests"}, creamHolds[:])
}

// show implements section.
func (c *cream) show(s *state) {
	c.ask = c.read(s)
	c.showParts(s)
	c.showTaken(s)
	if len(c.ask.parts) == 0 {
		c.stale(s, c.say(s, "empty"))
		return
	}
	if c.ask.bad {
		c.stale(s, "")
		return
	}
	scaled, answer, err := c.ask.make()
	if err != nil {
		c.refuse(s, err, map[string]string{"covers": "covers", "portion-size": "portion", "ph": "ph", "serve": "serve"})
		c.blame(s, err)
		return
	}
	c.scaled, c.answer, c.parts = scaled, answer, c.ask.parts
	c.good(s)
	c.showWeights(s)
	c.showPlace(s)
	c.showReadings(s)
	c.showSiphon(s)
	c.showNotes(s)
	c.showRules(s)
	c.steps(s, c.method(s))
	s.showWorks(c.input("work"), &c.works)
}

// do implements section.
func (c *cream) do(what string, _ int, s *state) *formula.Change {
	if !c.fresh {
		return nil
	}
	switch what {
	case "make":
		return c.makeThis(s)
	case "loosen":
		return c.addWater(s, c.answer.Rescue.Loosen)
	case "thin":
		if c.answer.Siphon.Barred {
			return nil
		}
		return c.addWater(s, c.answer.Siphon.Add)
	}
	return nil
}

// makeThis sets the pan to the covers, or to what the limit allows.
func (c *cream) makeThis(s *state) *formula.Change {
	fields := maps.Clone(s.fields)
	if l := c.scaled.Limit; l != nil {
		fields["make"] = string(formula.ForLeft)
		fields["left-of"] = c.refOf(*l)
		fields["left-amount"] = s.words.Style.Plain(float64(l.Mass))
		fields["left-amount-unit"] = string(unit.Gram)
	} else {
		if !c.ask.known("covers") {
			return nil
		}
		fields["make"] = string(formula.ForPortions)
		fields["portions"] = s.words.Style.Plain(c.ask.or("covers", 0))
		fields["portion-size"] = s.words.Style.Plain(c.ask.or("portion", usualCream))
		fields["portion-size-unit"] = string(unit.Gram)
		// The pan counts what is spare on top; here it is what stays behind.
		fields["spare"] = s.words.Style.Plain(rounded((1/(1-float64(c.ask.share("spare")))-1)*100, 6))
	}
	return &formula.Change{Fields: fields, What: c.say(s, "made", note.Typed("mass", s.onScale(c.scaled.Total)))}
}

// refOf is the pan's name for a part of the emulsion.
func (c *cream) refOf(h emulsion.Have) string {
	for _, p := range c.parts {
		if p.inOil == h.InOil && p.at == h.Index {
			return p.ref
		}
	}
	return ""
}

// addWater adds water to the pan's recipe; the answer is for the size asked for,
// so it is brought back to the pan's.
func (c *cream) addWater(s *state, m unit.Mass) *formula.Change {
	fields := s.addToPan(s.say("lab-foam.water"), m/unit.Mass(c.factor()))
	if fields == nil {
		return nil
	}
	return &formula.Change{Fields: fields, What: c.say(s, "watered", note.Num("water", math.Round(float64(m)*10)/10, unit.Gram))}
}

// factor is the size asked for over the pan's.
func (c *cream) factor() float64 {
	if c.scaled.Factor > 0 {
		return c.scaled.Factor
	}
	return 1
}

// fits reports whether the pan makes just this much.
func (c *cream) fits() bool { return math.Abs(c.factor()-1) < 1e-3 }
