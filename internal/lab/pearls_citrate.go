package lab

import (
	"math"
	"strings"

	"tremblant/internal/liquid"
	"tremblant/internal/note"
	"tremblant/internal/plan/method"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/sphere"
	"tremblant/internal/unit"
)

// citrateID is trisodium citrate in the catalogue of ingredients.
const citrateID = "trisodium-citrate"

// citrateCurve is how a liquid's pH rises with citrate, kept while liquid and
// pH stay: it takes a charge balance for every point.
type citrateCurve struct {
	of     *liquid.Liquid
	ph     float64
	points []sphere.Titrated
}

// citratePoints is how many points the curve has after its first. They lie closer
// at the start, where the pH rises fastest; between them a straight line is off
// by some 0.01.
const citratePoints = 10

// titrate asks the liquid's own model for the pH after citrate, up to the usual
// top; nil where the liquid is not known or has no pH.
func (p *pearls) titrate(s *state) []sphere.Titrated {
	if s.mix == nil || p.in.Method == sphere.Reverse {
		return nil
	}
	of, ph := s.mix.liquid, p.in.PH.Typical
	if p.curve.of != of || p.curve.ph != ph {
		p.curve = citrateCurve{of, ph, titration(of, ph)}
	}
	return p.curve.points
}

func titration(of *liquid.Liquid, ph float64) []sphere.Titrated {
	citrate, ok := liquid.ByID(citrateID)
	start, err := of.Then(liquid.Measure(liquid.Reading{Instrument: liquid.PHMeter, Value: ph}))
	if !ok || err != nil {
		return nil
	}
	out := []sphere.Titrated{{PH: ph}}
	for i := 1; i <= citratePoints; i++ {
		share := sphere.MostCitrate * math.Pow(float64(i)/citratePoints, 2)
		l, err := start.Then(liquid.Add(citrate, unit.Mass(share*float64(of.Mass()))))
		if err != nil {
			return nil
		}
		// A liquid above citrate's own pH falls a little: no citrate is asked for there.
		at := max(phOf(l).Typical, out[i-1].PH)
		out = append(out, sphere.Titrated{Citrate: unit.Fraction(share), PH: at})
	}
	return out
}

// citrateInPan is the citrate that stands on the pan already, at the size that
// it makes.
func (p *pearls) citrateInPan(s *state) unit.Mass {
	sum := unit.Mass(0)
	for i := range s.parts {
		if part := &s.parts[i]; part.known && part.g.ID == citrateID {
			sum += s.massOf(part)
		}
	}
	return min(sum, p.in.Liquid)
}

// citrate is the line of the citrate that is offered; ok is false for none.
func (p *pearls) citrate(s *state, pan string) (l pearlLine, ok bool) {
	a := &p.answer
	if a.Method == sphere.Reverse || !(a.Citrate.Total() > 0) {
		return l, false
	}
	l = pearlLine{name: s.say("ingredient." + citrateID), into: pan, mass: a.Citrate.Total(), span: a.Citrate.Dose}
	if a.Citrate.Fails {
		l.instead = p.say(s, "citrate-top")
	}
	return l, true
}

// aside says beside a weight from where to where it works, and where the
// scales are too coarse for it.
func (l *pearlLine) aside(p *pearls, s *state) string {
	text := l.instead
	if text == "" {
		text = p.say(s, "works-from", note.Typed("range", workingRange(s, l.span, l.mass)))
	}
	return strings.TrimSpace(text + " " + s.missed(l.mass))
}

// shownMass is a weight in g as [state.onScale] writes it, and the step of its
// last digit.
func shownMass(s *state, m unit.Mass) (shown, step float64) {
	if r, err := weigh.Weigh(m, s.scales()); err == nil && r.Shown > 0 {
		return float64(r.Shown), float64(r.Step)
	}
	return rounded(float64(m), 3), lastDigit(float64(m), 3)
}

// inside is a weight that stays in its range when it is written: the scale's
// step, or its last digit, is taken upwards at the lower end and downwards at
// the upper one. A range finer than the scales leaves it as it is.
func inside(s *state, m unit.Mass, r unit.Range) unit.Mass {
	low, high := roundedIn(r, 3)
	shown, step := shownMass(s, m)
	// Steps are not exact in binary: half a thousandth of one is still on the edge.
	hair := step / 2000
	switch {
	case shown < low-hair:
		shown = step * math.Ceil(low/step-hair)
	case shown > high+hair:
		shown = step * math.Floor(high/step+hair)
	default:
		return m
	}
	if shown < low-hair || shown > high+hair || shown <= 0 {
		return m
	}
	return unit.Mass(shown)
}

// workingRange writes a range of grams so that it promises no more than is true:
// two digits, the lower end rounded up and the upper one down; three where
// the dose beside it would lie outside.
func workingRange(s *state, r unit.Range, dose unit.Mass) string {
	shown, _ := shownMass(s, dose)
	low, high := roundedIn(r, 2)
	if shown < low || shown > high {
		low, high = roundedIn(r, 3)
	}
	if low > high {
		return s.about(r, unit.Gram)
	}
	return s.fromTo(s.words.Figure(low, unit.Gram), s.words.Figure(high, unit.Gram))
}

// roundedIn keeps so many significant digits of a range's ends, inwards.
func roundedIn(r unit.Range, digits int) (low, high float64) {
	low, high = rounded(r.Low, digits), rounded(r.High, digits)
	// Floating-point dust on an end must not move it a whole digit.
	if low < r.Low*(1-1e-9) {
		low = rounded(low+lastDigit(low, digits), digits)
	}
	if high > r.High*(1+1e-9) {
		high = rounded(high-lastDigit(r.High, digits), digits)
	}
	return low, high
}

// lastDigit is the worth of the last of so many significant digits.
func lastDigit(v float64, digits int) float64 {
	if !(v > 0) {
		return 0
	}
	return math.Pow(10, math.Floor(math.Log10(v))+1-float64(digits))
}

// plannedCitrate is the citrate that direct spheres ask for, for the method; nothing where
// it cannot be worked out, or where they are made another way.
func (p *pearls) plannedCitrate(s *state) method.Spheres {
	p.typed = s.readFigures(p.input, pearlFigures[:])
	p.read(s)
	if s.refused != nil || !(p.in.Liquid > 0) || p.typed.bad || p.in.Method != sphere.Direct || tooDry(s) || !p.measure(s) {
		return method.Spheres{}
	}
	a, err := sphere.Make(p.in)
	return method.Spheres{Planned: true, Citrate: a.Citrate.Total(), PH: a.Citrate.PH, Refused: err != nil}
}
