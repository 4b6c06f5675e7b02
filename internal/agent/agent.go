package agent

import (
	"slices"

	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// ID names an agent for ever: saved formulas hold it.
type ID string

// Agent is one record of the catalogue. A zero [Fig] means that nothing is
// known or that the property does not apply.
type Agent struct {
	ID  ID
	E   string // EU number or numbers; "" when it is a food and not an additive
	Job Job

	Origin     []Word // where it comes from
	Vegan      Answer
	Vegetarian Answer
	PorkFree   Answer
	Allergens  []Word // declarable ones that it is
	MayHold    []Word // declarable ones that a label has to be read for
	Identity   Cite

	Grade    Grade
	Disperse Disperse
	Hydrate  Hydrate
	Setting  Setting
	Feel     Feel
	Stands   Stands

	Windows []Window
	Models  []Model
	Mods    []Modifier
	Safety  []Warning
}

// Job is what an agent mainly does.
type Job uint8

// The jobs.
const (
	Gels     Job = iota + 1 // sets a liquid
	Thickens                // thickens it without setting it alone
	Foams                   // holds air
	Sets                    // a salt that sets another agent
)

// Answer is yes, no, or a question for the label.
type Answer uint8

// The answers. Ask is the zero value: what is not known is asked.
const (
	Ask Answer = iota
	Yes
	No
)

// Word is a key of the text catalogue without its group: a Word "brittle" in
// [Feel.Words] is shown as the text "feel.brittle".
type Word string

// Fig is a figure with its plausible range and its source.
type Fig struct {
	Low, Typical, High float64
	Cite               Cite
}

// Range is the figure as a range.
func (f Fig) Range() unit.Range { return unit.Range{Low: f.Low, Typical: f.Typical, High: f.High} }

// Known reports whether the record holds the figure at all.
func (f Fig) Known() bool { return f.Cite != 0 }

// Ref is where the figure comes from.
func (f Fig) Ref() source.Ref { return f.Cite.Ref() }

// Span is a lower and an upper limit with its source.
type Span struct {
	From, To float64
	Cite     Cite
}

// Known reports whether the record holds the limits.
func (s Span) Known() bool { return s.Cite != 0 }

// Contains reports whether x lies between the limits, both included.
func (s Span) Contains(x float64) bool { return s.From <= x && x <= s.To }

// GradeKind is the quantity that an agent's strength is labelled in.
type GradeKind uint8

// The kinds of grade.
const (
	NoGrade     GradeKind = iota
	Bloom                 // grams of force on a 6.67 % gelatin gel at 10 °C
	GelStrength           // g/cm² that a 1.5 % agar gel carries for 20 s at 20 °C
	SAG                   // grams of sucrose that one gram of pectin sets at 65 % solids
)

// Grade says how an agent's strength is labelled and how it moves the dose: a
// dose of strength g does the work of dose × (g/Value.Typical)^Power.
type Grade struct {
	Kind  GradeKind
	Value Fig // the reference grade that windows and models speak of, with the range that is sold
	Power Fig // exponent of the law above
}

// Disperse says how to wet the powder without lumps.
type Disperse struct {
	Way    Word // "rain-cold", "soak-cold", "sugar", "shear", "hot-third", "slurry", "whisk", "stir"
	Premix Fig  // grams of sugar for each gram of agent, where a dry blend is usual
	Cite   Cite
}

// Hydrate is the heat and time that open the powder up.
type Hydrate struct {
	C       Fig // °C that must be reached
	Minutes Fig // minutes at that temperature
	Rest    Fig // minutes of rest (swelling, losing air) before use
	Cold    bool
	CapPct  Fig // g per 100 g above which the hydrating part is too thick to whisk
	MaxBrix Fig // sugar above which it does not hydrate
}

// SetKind is what makes the gel.
type SetKind uint8

// The kinds of setting.
const (
	NoSet       SetKind = iota
	OnCooling           // sets on cooling, melts on heating
	OnHeating           // sets on heating, melts on cooling
	HeatForGood         // sets on heating and stays set
	ByCalcium           // sets when calcium reaches it
	ByAcidSugar         // sets in acid with much sugar
	ByAlkali            // sets on heating with alkali and stays set
	ByPartner           // sets only together with a partner
	ByStaling           // sets as cooked starch cools and ages
)

// Setting is how the gel forms and what heat it stands.
type Setting struct {
	Kind    SetKind
	SetC    Fig // °C at which it sets on the way down (or up, for OnHeating)
	MeltC   Fig // °C at which it melts again
	HoldC   Fig // °C it may be kept at: caution above Low, melted above High
	NeedC   Fig // °C below which an OnHeating gel is liquid again: High is safe, Low is lost
	Minutes Fig // minutes until it can be used
	Remelts Answer
	Cite    Cite
}

// Feel is what the result is like.
type Feel struct {
	Words    []Word // "firm", "brittle", "elastic" ...
	Clarity  Word   // "clear", "hazy", "cloudy", "opaque", "varies"
	Weeps    Level
	Freeze   Level // how well the gel stands freezing and thawing
	FluidGel Level // how good a fluid gel it makes
	Break    Fig   // strain at break, parts of one
	InMouth  bool  // melts in the mouth
	Cite     Cite
}

// Level is a rough scale; for suitability None is "no" and Much is "very
// good". Zero means that it does not apply.
type Level uint8

// The levels.
const (
	NotGiven Level = iota
	None
	Little
	Some
	Much
)

// Stands is what the liquid may be like.
type Stands struct {
	PH       Span // usable pH
	Acid     HotAcid
	ABVWarn  Fig // % vol at which it weakens
	ABVMax   Fig // % vol at which it fails
	Brix     Span
	Needs    []Need
	CaMax    Fig // mmol/kg of calcium in the liquid above which it sets too early or lumps
	Protease Response
	Tannin   Response
	Fat      Response
	Amylase  Response
	Cite     Cite // of the responses
}

// HotAcid is loss of strength in hot acid: the share Loss is lost in Minutes at
// pH PH and about 85 °C; each half pH unit down divides the time by PerHalfPH.
type HotAcid struct {
	PH        float64
	Minutes   Fig
	Loss      Fig
	PerHalfPH Fig
}

// Known reports whether the agent loses strength in hot acid.
func (h HotAcid) Known() bool { return h.Loss.Known() }

// Ion is a cation of the liquid.
type Ion uint8

// The ions.
const (
	Sodium Ion = iota
	Potassium
	Calcium
)

// Need is an ion without which the agent does not set, in mmol per kg of
// liquid or, with PerGram, in mmol per gram of agent.
type Need struct {
	Ion     Ion
	Amount  Fig
	PerGram bool
	NotMilk bool // milk brings enough of it
}

// Response is what an agent does when it meets a substance.
type Response uint8

// The responses, mildest first. Zero: not known.
const (
	Unknown Response = iota
	Immune
	Weakens
	Fails
)

// Texture is what the cook wants or gets.
type Texture string

// The textures. Emulsion, foam and spheres are computed elsewhere; the
// catalogue has their dose windows.
const (
	Suspend   Texture = "suspend"
	Thickened Texture = "thickened"
	FluidGel  Texture = "fluid-gel"
	Loose     Texture = "loose"
	SoftSet   Texture = "soft-set"
	FirmSet   Texture = "firm-set"
	Sliceable Texture = "sliceable"
	Sphere    Texture = "sphere"
	Foam      Texture = "foam"
	Air       Texture = "air"
	Emulsion  Texture = "emulsion"
)

// Textures lists every texture, thin to firm, then the aerated ones.
var Textures = [...]Texture{Suspend, Thickened, FluidGel, Loose, SoftSet, FirmSet, Sliceable, Sphere, Foam, Air, Emulsion}

// Medium is the kind of liquid that a window or a model was stated for.
type Medium uint8

// The media.
const (
	Water Medium = iota
	Milk
)

// Window is the usual dose for one texture, g per 100 g of finished mix, at
// the agent's reference grade.
type Window struct {
	Texture Texture
	Medium  Medium
	Fig
	Hot bool // served hot
}

// Model is the firmness law G'(c) = A·[(c/C0 − 1)/(Ref/C0 − 1)]^N above the
// critical dose C0, doses in g per 100 g, G' in Pa.
type Model struct {
	Medium Medium
	Ref    float64 // dose at which A is stated
	A      Fig     // G' at Ref
	N      Fig     // exponent
	C0     Fig     // critical dose
	Span   Span    // doses for which the figures are claimed
	C      float64 // °C of the measurement
}

// By is the condition that a modifier reads.
type By uint8

// The conditions.
const (
	ByTemp By = iota // °C at serving
	ByPH
	ByBrix
	ByABV   // % vol
	BySalt  // sodium, mmol/kg
	ByIons  // weighted sum of sodium, potassium and calcium, mmol/kg
	ByHours // hours since it was chilled
	ByMilk  // 1 when the liquid is milk or cream, else 0
)

// Point is one point of a modifier: at X the modulus is multiplied by a factor.
type Point struct{ X, Low, Typical, High float64 }

// Modifier multiplies the modulus by a factor that depends on one condition.
// Between points the logarithm of the factor is interpolated; outside them
// nothing was measured.
//
// A work often says only which way a property goes. Cite is the work and Read
// lists the points that it gives; all others come from Filled, whose source says
// what they are and names the work as well. Without Filled all come from Cite.
type Modifier struct {
	By      By
	Na, K   float64 // ByIons: weight against the main ion
	Ca      float64
	PerGram bool // ByIons: X is per gram of agent, not per kg of liquid
	Points  []Point
	Read    []float64 // X of the points that Cite gives
	Cite    Cite
	Filled  Cite
}

// At is the source of the factor at x: that of the points on both sides, and the
// weaker one where they differ. A point without effect needs none.
func (m *Modifier) At(x float64) Cite {
	if m.Filled == 0 {
		return m.Cite
	}
	last := len(m.Points) - 1
	for i, p := range m.Points {
		beside := i > 0 && m.Points[i-1].X < x && x < p.X || i < last && p.X < x && x < m.Points[i+1].X
		beyond := i == 0 && x < p.X || i == last && x > p.X
		if (x == p.X || beside || beyond) && !p.Neutral() && !slices.Contains(m.Read, p.X) {
			return m.Filled
		}
	}
	return m.Cite
}

// Neutral reports whether the point changes nothing: it is the condition that
// the model was stated for.
func (p Point) Neutral() bool { return p.Low == 1 && p.Typical == 1 && p.High == 1 }

// Warning is a safety note that goes with an agent.
type Warning struct {
	Code  Word // sentence "safety.<code>"
	Cite  Cite
	Grave bool // somebody may be hurt: never to be folded away
}

// MiniCup is the code of the warning about one-bite jelly, which is grave only
// when that is what is made.
const MiniCup Word = "mini-cup"

// Pair is two agents that work together. Share is the part of the first in
// the sum of both.
type Pair struct {
	A, B    ID
	Share   Fig
	Synergy Fig // factor on the sum of both moduli, where Model is not given
	Models  []Model
	Windows []Window // doses of both together
	Setting Setting
	Feel    Feel
	Effect  Word // sentence "pair.<effect>"
	Cite    Cite
}
