package gel

import (
	"math"
	"slices"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Points of the ranking: what a swap costs. They are this product's own
// weights, not a measurement; every offer shows its own.
const (
	pointsBreak    = 15.0 // for each doubling of the ratio of strains at break
	pointsFarBreak = 30.0 // more, when the ratio is above two
	pointsClass    = 12.0 // for each class of texture off
	pointsWide     = 4.0  // for each doubling of the dose range
	pointsWindow   = 4.0  // the dose comes from windows
	pointsNoLaw    = 20.0 // more, where a firmness was wanted
	pointsNoBreak  = 20.0 // brittleness not known
	pointsBath     = 25.0 // sets on contact with calcium: a skin rather than a slab
	pointsPair     = 5.0  // two powders to weigh
	pointsClarity  = 4.0  // for each step of clouding
	pointsMouth    = 10.0 // melts in the mouth, or no longer
	pointsWeep     = 4.0  // for each step of more weeping
	pointsFluid    = 10.0 // for each step below a very good fluid gel
	pointsNoFoamer = 15.0 // steadies a foam and raises none
)

// maxBreakRatio is the ratio of strains at break above which a swap feels like
// another thing and says so.
const maxBreakRatio = 2.0

// cautionPoints is what each caution of the new formula costs; others cost
// otherCaution.
var cautionPoints = [...]struct {
	code   note.Code
	points float64
}{
	{CodeMayMelt, 15}, {CodeMelts, 20}, {CodeFreeze, 15}, {CodePH, 12}, {CodePHHigh, 12}, {CodeFallsOut, 12}, {CodeAcidBoil, 6}, {CodeAcidLoss, 12}, {CodeABVWarns, 10},
	{CodeTannin, 10}, {CodeCalciumEarly, 10}, {CodeOnlyHot, 40}, {CodeAcidSugar, 40}, {CodeSafety, 0}, {CodeAllergen, 0}, {CodeMayHold, 2},
	{CodeSofter, 0}, {CodeFirmer, 0}, {CodeOther, 0}, {CodeUnder, 8}, {CodeOver, 8},
}

const otherCaution = 5.0

func pointsOf(c note.Code) float64 {
	for _, p := range cautionPoints {
		if p.code == c {
			return p.points
		}
	}
	return otherCaution
}

// rank adds up the points with their reasons.
func (sw *swapper) rank(c *candidate, o *Offer, v *Verdict) {
	if o.Basis == ByModulus {
		o.because(0, note.New(note.Reason, CodeByModulus, note.Num("modulus", o.Firmness.Modulus.Typical, unit.Pascal)))
	} else {
		points := pointsWindow
		if setRank(sw.target) > 0 {
			points += pointsNoLaw
		}
		o.because(points, note.New(note.Reason, CodeByWindow, note.Word("texture", textureKey(sw.target))))
	}
	if c.pair != nil {
		o.because(pointsPair, note.New(note.Reason, CodeTwoPowders))
	}
	for _, a := range c.members() {
		if setRank(sw.target) > 0 && setsOnContact(a) {
			o.because(pointsBath, note.New(note.Caution, CodeMethodBath, agentArg(a.ID)).From(a.Setting.Cite.Ref()))
		}
	}
	sw.rankUse(c, o)
	sw.rankBreak(c, o)
	if d := abs(setRank(v.Texture) - setRank(sw.target)); setRank(sw.target) > 0 && d > 0 {
		o.because(pointsClass*float64(d), note.New(note.Reason, CodeClassOff, note.Word("reads", readsKey(v.Texture)), note.Word("texture", textureKey(sw.target))))
	}
	if wide := math.Log2(o.Total.High / o.Total.Low); wide > 1 && unit.Finite(wide) {
		o.because(pointsWide*wide, note.New(note.Reason, CodeWide, said("low", o.Total.Low*100, unit.PercentOf), said("high", o.Total.High*100, unit.PercentOf)))
	}
	sw.rankCautions(c, o, v)
}

// rankUse asks how well the candidate does as a fluid gel or in a foam.
func (sw *swapper) rankUse(c *candidate, o *Offer) {
	p := part{pair: c.pair, a: c.a, b: c.b}
	f := p.feel()
	if sw.target == agent.FluidGel && f.FluidGel > agent.NotGiven && f.FluidGel < agent.Much {
		o.because(pointsFluid*float64(agent.Much-f.FluidGel), note.New(note.Reason, CodeFluidGel, agentArg(c.a.ID), note.Word("how", fluidKeys[f.FluidGel])).From(f.Cite.Ref()))
	}
	if sw.target == agent.Foam && c.pair == nil && c.a.Job == agent.Thickens {
		o.because(pointsNoFoamer, note.New(note.Reason, CodeNoFoamer, agentArg(c.a.ID)))
	}
}

func (o *Offer) because(points float64, n note.Note) {
	o.Score += points
	o.Why = append(o.Why, Reason{n, points})
}

// rankBreak compares brittleness, a reading of its own beside stiffness.
func (sw *swapper) rankBreak(c *candidate, o *Offer) {
	p := part{pair: c.pair, a: c.a, b: c.b}
	was, is := sw.feel.Break, p.feel().Break
	if setRank(sw.target) == 0 {
		return
	}
	if !was.Known() || !is.Known() {
		o.because(pointsNoBreak, note.New(note.Reason, CodeBreakUnknown))
		return
	}
	ratio := was.Typical / is.Typical
	code := CodeBrittle
	if ratio < 1 {
		ratio, code = 1/ratio, CodeStretchy
	}
	points, level := pointsBreak*math.Log2(ratio), note.Reason
	if ratio > maxBreakRatio {
		points, level = points+pointsFarBreak, note.Caution
	}
	if ratio > 1.2 {
		o.because(points, note.New(level, code, agentArg(c.a.ID), said("ratio", ratio, unit.One)).From(is.Ref()))
	}
}

// rankCautions counts what the reading of the new formula warns of. Warnings
// that the wish makes grave are raised.
func (sw *swapper) rankCautions(c *candidate, o *Offer, v *Verdict) {
	sum, count := 0.0, 0
	o.Cautions = make([]note.Note, 0, 4)
	firmness := v.Firmness.Notes
	if setRank(sw.target) == 0 {
		firmness = nil // nobody asked for one
	}
	for _, list := range [...][]note.Note{firmness, v.Notes} {
		for i := range list {
			if !sw.warns(&list[i]) {
				continue
			}
			if x := pointsOf(list[i].Code); x > 0 {
				sum += x
				count++
			}
			o.Cautions = append(o.Cautions, list[i])
		}
	}
	for _, a := range c.members() {
		for _, al := range sw.wish.Without {
			if slices.Contains(a.MayHold, al) {
				sum, count = sum+25, count+1
				o.Cautions = append(o.Cautions, note.New(note.Danger, CodeMayAllergen, agentArg(a.ID), note.Word("allergen", "allergen."+string(al))).From(a.Identity.Ref()))
			}
		}
	}
	if count > 0 {
		o.because(sum, note.New(note.Reason, CodeCautions, note.Num("count", float64(count), unit.One)))
	}
}

// warns reports whether a note of the new formula's reading counts against it.
// A gel that is good only while hot is no news when the old one was the same.
func (sw *swapper) warns(n *note.Note) bool {
	if n.Code == CodeOnlyHot {
		return sw.setting.Kind != agent.OnHeating
	}
	return n.Level >= note.Caution
}

// clarities in order of clouding; "varies" is not compared.
var clarities = [...]agent.Word{"clear", "hazy", "cloudy", "opaque"}

// compare says what stays the same and what will not.
func (sw *swapper) compare(c *candidate, o *Offer) {
	p := part{pair: c.pair, a: c.a, b: c.b}
	was, is := sw.feel, p.feel()
	i, j := slices.Index(clarities[:], was.Clarity), slices.Index(clarities[:], is.Clarity)
	if i >= 0 && j >= 0 {
		o.property("property.clarity", "clarity."+string(was.Clarity), "clarity."+string(is.Clarity), is.Cite, pointsClarity*math.Abs(float64(i-j)))
	}
	if was.Weeps > 0 && is.Weeps > 0 {
		o.property("property.weeps", weepKeys[was.Weeps], weepKeys[is.Weeps], is.Cite, pointsWeep*float64(max(0, int(is.Weeps)-int(was.Weeps))))
	}
	if was.Freeze > 0 && is.Freeze > 0 {
		o.property("property.freeze", freezeKeys[was.Freeze], freezeKeys[is.Freeze], is.Cite, 0)
	}
	if setRank(sw.target) > 0 {
		o.property("property.in-mouth", boolKey(was.InMouth), boolKey(is.InMouth), is.Cite, pointsMouth)
		s := p.setting()
		o.property("property.remelts", answerKey(sw.setting.Remelts), answerKey(s.Remelts), s.Cite, 0)
	}
	if len(was.Words) > 0 && len(is.Words) > 0 {
		o.property("property.feel", "feel."+string(was.Words[0]), "feel."+string(is.Words[0]), is.Cite, 0)
	}
}

// property files one property; a difference may cost points.
func (o *Offer) property(what, was, is string, cite agent.Cite, points float64) {
	if was == is {
		points = 0
	}
	o.Score += points
	o.Features = append(o.Features, Feature{what, was, is, points, cite.Ref()})
}

// Keys of the levels, None to Much.
var (
	weepKeys   = [...]string{agent.None: "weeps.1", agent.Little: "weeps.2", agent.Some: "weeps.3", agent.Much: "weeps.4"}
	fluidKeys  = [...]string{agent.None: "fluid-gel.1", agent.Little: "fluid-gel.2", agent.Some: "fluid-gel.3", agent.Much: "fluid-gel.4"}
	freezeKeys = [...]string{agent.None: "freeze.1", agent.Little: "freeze.2", agent.Some: "freeze.3", agent.Much: "freeze.4"}
)

func boolKey(b bool) string {
	if b {
		return "diet.yes"
	}
	return "diet.no"
}

func answerKey(a agent.Answer) string {
	return [...]string{agent.Ask: "diet.ask", agent.Yes: "diet.yes", agent.No: "diet.no"}[a]
}

func abs(i int) int {
	if i < 0 {
		return -i
	}
	return i
}
