package lab

import (
	"math"
	"strconv"

	"tremblant/internal/foam"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// The cut-away, in units of its drawing: the inside of the body reaches from the
// brim down to the floor, and the gauge is an arc of three quarters of a circle.
const (
	bodyBrim, bodyFloor = 58.0, 190.0
	gaugeX, gaugeY      = 232.0, 84.0
	gaugeStart          = 135.0 // degrees, clockwise from three o'clock
	gaugeSweep          = 270.0
	leftWidth           = 52.0 // of the bars of gas left
)

// Radii of the gauge: the scale, the two bands and the two needles.
const (
	scaleRadius  = 58.0
	beforeRadius = 50.0
	afterRadius  = 40.0
)

// fill is one filling of the last good plan as the physics sees it.
func (f *siphon) fill(x foam.Filling) foam.Fill {
	return foam.Fill{Siphon: f.of.Shelf[x.Shelf], Base: f.of.Formula.Base, Mass: x.Mass, Charges: x.Charges}
}

// looks are the fillings worth a picture of their own: one of each size of body
// and count of charges, by their place in the plan.
func (f *siphon) looks() []int {
	var out []int
next:
	for i, x := range f.plan.Fillings {
		for _, at := range out {
			if y := f.plan.Fillings[at]; x.Shelf == y.Shelf && x.Charges == y.Charges {
				continue next
			}
		}
		out = append(out, i)
	}
	return out
}

// showDrawn shows one filling: the cut-away, the pressures charge by charge, and
// what warming does.
func (f *siphon) showDrawn(s *state) {
	looks := f.looks()
	s.page.Show(foamInput("picture"), len(looks) > 0)
	s.page.Show(foamInput("bar"), len(looks) > 0)
	if len(looks) == 0 {
		return
	}
	f.drawn = max(0, min(f.drawn, len(looks)-1))
	f.showLooks(s, looks)
	x := f.plan.Fillings[looks[f.drawn]]
	f.draw(s, x)
	f.showLadder(s, x)
	f.showWarming(s, x)
}

// showLooks offers the pictures, where there is more than one.
func (f *siphon) showLooks(s *state, looks []int) {
	list := foamInput("look")
	if len(looks) < 2 {
		s.page.Rows(list, 0)
		return
	}
	s.page.Rows(list, len(looks))
	for i, at := range looks {
		x := f.plan.Fillings[at]
		s.page.Text(view.Row(list, i, "at"), s.say("lab-foam.look", note.Typed("siphon", f.sizeText(s, x.Shelf)), note.Typed("mass", grams(s, x.Mass))))
		s.page.Set(view.Row(list, i, "at"), "aria-pressed", strconv.FormatBool(i == f.drawn))
	}
}

// draw draws a filling and says the same in text.
func (f *siphon) draw(s *state, x foam.Filling) {
	p := x.Picture
	text := func(id, line string) { s.page.Text(foamInput(id), line) }
	f.drawBody(s, x)
	f.drawGauge(s, p)
	f.drawLeft(s, p)
	s.page.Text(foamInput("picture-of"), s.say("lab-foam.picture-of", note.Typed("siphon", f.sizeText(s, x.Shelf)),
		note.Typed("mass", grams(s, x.Mass)), note.Typed("charges", chargesText(s, x.Charges))))
	s.page.Figure(foamInput("before"), p.Before.Typical, barText(s, p.Before.Typical))
	text("before-range", barRange(s, p.Before))
	s.page.Figure(foamInput("after"), p.After.Typical, barText(s, p.After.Typical))
	text("after-range", barRange(s, p.After))
	stated := s.say("lab-foam.not-stated")
	if p.Stated > 0 {
		stated = barText(s, float64(p.Stated))
	}
	text("stated", stated)
	s.page.Figure(foamInput("fill-share"), float64(x.Share), s.words.Style.Significant(x.Share.Percent(), 2)+"\u00a0%")
	s.page.Figure(foamInput("headspace"), float64(p.Headspace), s.words.Style.Significant(float64(p.Headspace), 2)+"\u00a0ml")
	s.page.Figure(foamInput("dissolved"), float64(p.Dissolved), s.words.Style.Significant(p.Dissolved.Percent(), 2)+"\u00a0%")
}

// drawBody sets the base's height and the fill line.
func (f *siphon) drawBody(s *state, x foam.Filling) {
	p := x.Picture
	height := func(share unit.Fraction) float64 { return (bodyFloor - bodyBrim) * min(1, float64(share)) }
	h := height(p.Fill)
	s.page.Set(foamInput("pic-base"), "y", coordinate(bodyFloor-h))
	s.page.Set(foamInput("pic-base"), "height", coordinate(h))
	line := bodyFloor - height(p.Line)
	s.page.Set(foamInput("pic-line"), "d", "M14 "+coordinate(line)+"H126")
	s.page.Set(foamInput("pic-line-says"), "y", coordinate(line+3.5))
	s.page.Set(foamInput("pic-gas-says"), "y", coordinate(bodyBrim+min(16, (bodyFloor-bodyBrim-h)/2)+3.5))
	s.page.Set(foamInput("pic-base-says"), "y", coordinate(bodyFloor-h/2+3.5))
	s.page.Text(foamInput("pic-gas-says"), s.words.Style.Significant(float64(p.Headspace), 2)+"\u00a0ml")
	s.page.Text(foamInput("pic-base-says"), grams(s, x.Mass))
}

// drawGauge sets scale, bands, needles, and the stated limit.
func (f *siphon) drawGauge(s *state, p foam.Picture) {
	at := func(pa float64) float64 { return gaugeStart + gaugeSweep*max(0, min(1, pa/float64(p.FullScale))) }
	set := func(id, d string) { s.page.Set(foamInput(id), "d", d) }
	ticks := ""
	for i := range 11 {
		inner := scaleRadius - 4
		if i%5 == 0 {
			inner = scaleRadius - 8
		}
		ticks += spoke(gaugeStart+gaugeSweep*float64(i)/10, inner, scaleRadius)
	}
	set("pic-ticks", ticks)
	set("pic-before-band", arc(beforeRadius, at(p.Before.Low), at(p.Before.High)))
	set("pic-after-band", arc(afterRadius, at(p.After.Low), at(p.After.High)))
	set("pic-before", pointer(at(p.Before.Typical), beforeRadius+3))
	set("pic-after", spoke(at(p.After.Typical), 0, afterRadius+3))
	limit := ""
	if p.Stated > 0 {
		limit = spoke(at(float64(p.Stated)), afterRadius-8, scaleRadius+6)
	}
	set("pic-limit", limit)
	half := s.words.Style.Significant(float64(p.FullScale)/2e5, 2)
	s.page.Text(foamInput("pic-half"), half)
	s.page.Text(foamInput("pic-full"), s.words.Style.Significant(float64(p.FullScale)/1e5, 2))
}

// drawLeft sets the bars of the gas that is left as the base goes out.
func (f *siphon) drawLeft(s *state, p foam.Picture) {
	for i, d := range p.GasLeft {
		if i >= 3 {
			break
		}
		n := strconv.Itoa(i + 1)
		percent := s.words.Style.Significant(d.Left.Percent(), 2) + "\u00a0%"
		s.page.Set(foamInput("pic-left-"+n), "width", coordinate(leftWidth*float64(d.Left)))
		s.page.Figure(foamInput("left-"+n), float64(d.Left), percent)
		s.page.Text(foamInput("left-"+n+"-bar"), barText(s, max(0, float64(d.Gauge))))
	}
}

// coordinate writes a length of the drawing to a tenth of a unit.
func coordinate(v float64) string {
	return strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64)
}

func onGauge(degrees, radius float64) string {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return coordinate(gaugeX+radius*cos) + " " + coordinate(gaugeY+radius*sin)
}

// spoke is a line on the gauge from one radius to another.
func spoke(degrees, from, to float64) string {
	return "M" + onGauge(degrees, from) + "L" + onGauge(degrees, to)
}

// pointer is a hollow needle: a slim triangle from the middle.
func pointer(degrees, length float64) string {
	return "M" + onGauge(degrees+90, 3) + "L" + onGauge(degrees, length) + "L" + onGauge(degrees-90, 3) + "Z"
}

// arc is a part of a circle around the middle of the gauge.
func arc(radius, from, to float64) string {
	large := "0"
	if to-from > 180 {
		large = "1"
	}
	r := coordinate(radius)
	return "M" + onGauge(from, radius) + "A" + r + " " + r + " 0 " + large + " 1 " + onGauge(to, radius)
}

// Temperatures of a kitchen that a charged siphon may warm to.
const (
	roomC       = 20
	hotKitchenC = 35
)

// rung is the pressures of one charge at one temperature.
type rung struct {
	foam.Rung
	at unit.Celsius
}

// showLadder lists the pressures charge by charge, at the base's temperature and,
// for a cold base, as they would be with everything at room temperature.
func (f *siphon) showLadder(s *state, x foam.Filling) {
	rungs := f.rungs(x)
	list := foamInput("rung")
	s.page.Rows(list, len(rungs))
	for i, r := range rungs {
		s.page.Text(view.Row(list, i, "name"), s.say("lab-foam.after-charge", note.Num("number", float64(r.Charge), unit.One), note.Num("temperature", float64(r.at), unit.DegreeC)))
		s.page.Figure(view.Row(list, i, "before"), r.Before.Typical, s.words.Style.Significant(r.Before.Typical/1e5, 2))
		s.page.Figure(view.Row(list, i, "after"), r.After.Typical, barText(s, r.After.Typical))
	}
}

// rungs are the pressures charge by charge. The last at the base's own
// temperature is in the filling already.
func (f *siphon) rungs(x foam.Filling) []rung {
	fill := f.fill(x)
	here := fill.Base.Temperature
	var out []rung
	climb := func(charges int, t unit.Celsius) {
		fill.Charges = charges
		ladder, err := foam.Ladder(fill, t)
		if err != nil {
			return
		}
		for _, r := range ladder {
			out = append(out, rung{r, t})
		}
	}
	climb(x.Charges-1, here)
	out = append(out, rung{foam.Rung{Charge: x.Charges, Before: x.Before, After: x.After}, here})
	if here < roomC {
		climb(x.Charges, roomC)
	}
	return out
}

// showWarming says what a sealed siphon does when it is left to warm.
func (f *siphon) showWarming(s *state, x foam.Filling) {
	fill := f.fill(x)
	var at []unit.Celsius
	var gauges []unit.Range
	for _, t := range warmTo(fill.Base) {
		if st, err := foam.Warm(fill, t); err == nil {
			at, gauges = append(at, t), append(gauges, st.Gauge)
		}
	}
	list := foamInput("warm")
	s.page.Rows(list, len(at))
	for i, t := range at {
		s.page.Text(view.Row(list, i, "name"), s.say("lab-foam.warm", note.Num("temperature", float64(t), unit.DegreeC)))
		s.page.Figure(view.Row(list, i, "gauge"), gauges[i].Typical, barText(s, gauges[i].Typical))
		s.page.Text(view.Row(list, i, "range"), barRange(s, gauges[i]))
	}
}

// warmTo lists the temperatures that a siphon left standing may come to.
func warmTo(b foam.Base) []unit.Celsius {
	switch {
	case b.Hot():
		return []unit.Celsius{foam.Hottest}
	case b.Temperature >= roomC:
		return []unit.Celsius{hotKitchenC}
	}
	return []unit.Celsius{roomC, hotKitchenC}
}
