package liquid

import (
	"strconv"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// StepKind is what a step does.
type StepKind uint8

// The kinds of step.
const (
	StepAdd      StepKind = iota // an ingredient, by Mass or Volume (at 20 °C)
	StepInfuse                   // solids that give part of what dissolves and are strained out later
	StepStrain                   // keep To grams, or Share of what is there, or (neither) what infused solids do not hold back
	StepReduce                   // boil down to To grams, or by Share
	StepBoil                     // boil or simmer for Time at Rate on Area
	StepCook                     // cook for Time without weighing: alcohol by the table of retention
	StepDilute                   // Mass of pure water
	StepBlend                    // Mass of another liquid
	StepMeasure                  // a reading that overrides the estimate
	StepPourOff                  // Mass or Share of the liquid, set aside
	StepPourBack                 // Mass of what was set aside; all for 0
)

// Step is one thing done to the liquid. Make it with the functions below; the
// fields that its kind does not name are not read.
type Step struct {
	Kind       StepKind
	Ingredient Ingredient    // add, infuse
	Mass       unit.Mass     // add, infuse, dilute, blend, pour off, pour back: g
	Volume     unit.Volume   // add: ml at 20 °C, used when Mass is 0
	To         unit.Mass     // strain, reduce: g left
	Share      unit.Fraction // infuse: part of the solubles given off (0: 0.2-0.5-0.9); strain: part kept; reduce: part of the mass boiled away; pour off: part set aside
	Pulp       unit.Fraction // strain: part of fibre and starch held back
	Hold       unit.Range    // infuse: g of liquid each g of solids holds (zero: 0.5-1-3)
	Time       unit.Seconds  // boil, cook
	Area       float64       // boil: open surface, cm²
	Rate       unit.Range    // boil: kg of water per m² and hour (zero: a simmer, 7-14-22)
	Treatment  Treatment     // cook; boil and reduce when ByTable is set
	ByTable    bool          // boil, reduce: alcohol by the table of retention rather than by mass
	Other      *Liquid       // blend
	Reading    Reading       // measure
}

// Add puts in an ingredient by mass.
func Add(g Ingredient, m unit.Mass) Step { return Step{Kind: StepAdd, Ingredient: g, Mass: m} }

// AddVolume puts in an ingredient by volume at 20 °C.
func AddVolume(g Ingredient, v unit.Volume) Step {
	return Step{Kind: StepAdd, Ingredient: g, Volume: v}
}

// Infuse steeps solids that are strained out later.
func Infuse(g Ingredient, m unit.Mass) Step { return Step{Kind: StepInfuse, Ingredient: g, Mass: m} }

// StrainTo strains and weighs what is left.
func StrainTo(m unit.Mass) Step { return Step{Kind: StepStrain, To: m} }

// Strain strains without weighing: what infused solids hold back is estimated.
func Strain() Step { return Step{Kind: StepStrain} }

// ReduceTo boils down to a weight.
func ReduceTo(m unit.Mass) Step { return Step{Kind: StepReduce, To: m} }

// ReduceBy boils away a part of the mass: 0.9 leaves a tenth.
func ReduceBy(f unit.Fraction) Step { return Step{Kind: StepReduce, Share: f} }

// Boil boils for a time on an open surface in cm².
func Boil(t unit.Seconds, area float64, rate unit.Range) Step {
	return Step{Kind: StepBoil, Time: t, Area: area, Rate: rate}
}

// Cook cooks for a time, with alcohol by the table of retention and no water lost.
func Cook(how Treatment, t unit.Seconds) Step { return Step{Kind: StepCook, Treatment: how, Time: t} }

// Dilute adds pure water.
func Dilute(m unit.Mass) Step { return Step{Kind: StepDilute, Mass: m} }

// Blend pours in another liquid.
func Blend(o *Liquid, m unit.Mass) Step { return Step{Kind: StepBlend, Other: o, Mass: m} }

// Measure overrides the estimate by a reading.
func Measure(r Reading) Step { return Step{Kind: StepMeasure, Reading: r} }

// MostSteps bounds the length of a recipe.
const MostSteps = 100

// setting picks an end of what the cook does not know: -1 low, 0 typical, 1 high.
type setting struct{ rate, volatility, extraction int }

// Run carries out the steps in order. A refusal names the step in its field:
// "steps.2.to" is the weight of the third step.
func Run(steps []Step) (*Liquid, error) {
	if len(steps) > MostSteps {
		return nil, note.Refuse("steps", CodeTooMany, note.Num("value", float64(len(steps)), unit.One), note.Num("limit", MostSteps, unit.One))
	}
	first := firstUncertain(steps)
	before := &Liquid{}
	if err := before.run(steps[:first], 0, setting{}); err != nil {
		return nil, err
	}
	l := before.clone()
	if err := l.run(steps[first:], first, setting{}); err != nil {
		return nil, err
	}
	if len(l.portions) == 0 || l.Mass() <= 0 {
		return nil, note.Refuse("steps", CodeEmpty)
	}
	l.sayAside()
	for _, pair := range uncertain(steps) {
		low, high := before.clone(), before.clone()
		if low.run(steps[first:], first, pair[0]) == nil && high.run(steps[first:], first, pair[1]) == nil {
			l.variants = append(l.variants, [2]*Liquid{low, high})
		}
	}
	return l, nil
}

// Then is this liquid after further steps; the liquid itself does not change.
// Steps that leave a setting open are taken as typical here.
func (l *Liquid) Then(steps ...Step) (*Liquid, error) {
	if len(steps) > MostSteps {
		return nil, note.Refuse("steps", CodeTooMany, note.Num("value", float64(len(steps)), unit.One), note.Num("limit", MostSteps, unit.One))
	}
	next := l.clone()
	if err := next.run(steps, 0, setting{}); err != nil {
		return nil, err
	}
	for _, pair := range l.variants {
		low, high := pair[0].clone(), pair[1].clone()
		if low.run(steps, 0, setting{}) == nil && high.run(steps, 0, setting{}) == nil {
			next.variants = append(next.variants, [2]*Liquid{low, high})
		}
	}
	return next, nil
}

// firstUncertain is the first step whose outcome depends on a setting.
func firstUncertain(steps []Step) int {
	for i := range steps {
		if len(uncertain(steps[i:i+1])) > 0 {
			return i
		}
	}
	return len(steps)
}

// uncertain lists the settings that these steps leave open.
func uncertain(steps []Step) [][2]setting {
	var rate, volatility, extraction bool
	for i := range steps {
		switch s := &steps[i]; s.Kind {
		case StepBoil:
			rate, volatility = true, true
		case StepReduce:
			volatility = volatility || !s.ByTable
		case StepInfuse:
			extraction = extraction || s.Share == 0
		}
	}
	var out [][2]setting
	if rate {
		out = append(out, [2]setting{{rate: -1}, {rate: 1}})
	}
	if volatility {
		out = append(out, [2]setting{{volatility: -1}, {volatility: 1}})
	}
	if extraction {
		out = append(out, [2]setting{{extraction: -1}, {extraction: 1}})
	}
	return out
}

// run carries out steps on l; first is the number of the first of them.
func (l *Liquid) run(steps []Step, first int, set setting) error {
	for i := range steps {
		if err := l.step(&steps[i], set); err != nil {
			return inStep(first+i, err)
		}
	}
	return nil
}

// inStep puts the step's number before a refusal's field.
func inStep(i int, err error) error {
	r, ok := err.(*note.Refusal)
	if !ok {
		return err
	}
	c := *r
	field := "steps." + strconv.Itoa(i)
	if c.Field != "" {
		field += "." + c.Field
	}
	c.Field = field
	return &c
}

func (l *Liquid) step(s *Step, set setting) error {
	switch s.Kind {
	case StepAdd:
		return l.stepAdd(s)
	case StepDilute:
		water, _ := ByID("water")
		return l.add(&water, float64(s.Mass))
	case StepInfuse:
		return l.infuse(s, set)
	}
	if len(l.portions) == 0 && s.Kind != StepBlend {
		return note.Refuse("", CodeEmpty)
	}
	switch s.Kind {
	case StepStrain:
		return l.strain(s)
	case StepReduce:
		return l.reduce(s, set)
	case StepBoil:
		return l.boil(s, set)
	case StepCook:
		return l.cook(s)
	case StepBlend:
		if s.Other == nil {
			return note.Refuse("other", CodeEmpty)
		}
		return l.blend(s.Other, float64(s.Mass))
	case StepMeasure:
		return l.measure(s.Reading)
	case StepPourOff:
		return l.pourOff(s)
	case StepPourBack:
		return l.pourBack(float64(s.Mass))
	}
	return note.Refuse("kind", CodeBadStep)
}

func (l *Liquid) stepAdd(s *Step) error {
	m := float64(s.Mass)
	if m == 0 && s.Volume != 0 {
		if err := checkAmount("volume", float64(s.Volume), unit.Millilitre); err != nil {
			return err
		}
		if err := s.Ingredient.Check(); err != nil {
			return err
		}
		m = float64(s.Volume.Mass(s.Ingredient.DensityAt(20)))
	}
	return l.add(&s.Ingredient, m)
}
