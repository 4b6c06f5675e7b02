package lab

import (
	"math"
	"strconv"

	"tremblant/internal/plan/cool"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// The cooling curve: minutes across, °C of the warmest point upwards.
const (
	coolLeft, coolRight = 36.0, 298.0
	coolTop, coolFoot   = 8.0, 148.0
	coolPoints          = 48
	coolTicks           = 5 // written on each side
)

// svgPath writes the d attribute of an SVG path (SVG 2, 9.3).
type svgPath struct{ b []byte }

func (p *svgPath) to(op byte, x, y float64) {
	p.b = append(p.b, op)
	p.b = strconv.AppendFloat(p.b, x, 'f', 1, 64)
	p.b = append(p.b, ' ')
	p.b = strconv.AppendFloat(p.b, y, 'f', 1, 64)
}

func (p *svgPath) String() string { return string(p.b) }

// steps that an axis may be divided by: minutes and kelvins that a cook counts in.
var (
	timeSteps = [...]float64{1, 2, 5, 10, 15, 20, 30, 60, 120, 180, 240, 360, 720, 1440, 2880, 7200, 14400}
	heatSteps = [...]float64{5, 10, 20, 25, 50}
)

// division is the smallest step that cuts a span into no more than most parts.
func division(span float64, steps []float64, most int) float64 {
	for _, step := range steps {
		if span <= step*float64(most) {
			return step
		}
	}
	return math.Ceil(span / float64(most))
}

// drawCooling draws the curve with its range, and the lines that a cook waits for.
func (s *state) drawCooling(c *cool.Curve, milestones []cool.Milestone) {
	last := 0.0
	for _, ms := range milestones {
		if ms.Refusal == nil {
			last = max(last, ms.Time.High/60)
		}
	}
	if last <= 0 {
		last = 6 * 60
	}
	step := division(last, timeSteps[:], coolTicks)
	span := step * math.Ceil(last/step)
	rise := division(float64(c.Start), heatSteps[:], coolTicks-1)
	top := max(rise, rise*math.Ceil(float64(c.Start)/rise))
	x := func(minutes float64) float64 { return coolLeft + (coolRight-coolLeft)*minutes/span }
	y := func(temp float64) float64 { return coolFoot - (coolFoot-coolTop)*min(max(temp, 0), top)/top }

	var line, band svgPath
	at := make([]unit.Range, coolPoints+1)
	for i := range at {
		minutes := span * float64(i) / coolPoints
		at[i] = c.Hottest(unit.Seconds(minutes * 60))
		op := byte('L')
		if i == 0 {
			op = 'M'
		}
		line.to(op, x(minutes), y(at[i].Typical))
		band.to(op, x(minutes), y(at[i].High))
	}
	for i := coolPoints; i >= 0; i-- {
		band.to('L', x(span*float64(i)/coolPoints), y(at[i].Low))
	}
	band.b = append(band.b, 'Z')
	s.page.Set(mname("curve-line"), "d", line.String())
	s.page.Set(mname("curve-band"), "d", band.String())
	s.coolAxes(span, step, top, rise, x, y)
	s.coolMarks(milestones, x, y)
}

func (s *state) coolAxes(span, step, top, rise float64, x, y func(float64) float64) {
	var grid svgPath
	for i := range coolTicks + 1 {
		minutes, temp := step*float64(i), rise*float64(i)
		s.tick("curve-time", i, minutes <= span, "x", x(min(minutes, span)), s.duration(minutes))
		s.tick("curve-temp", i, temp <= top, "y", y(min(temp, top))+3.5, s.words.Figure(temp, unit.DegreeC))
		if minutes <= span {
			grid.to('M', x(minutes), coolTop)
			grid.to('L', x(minutes), coolFoot)
		}
		if temp <= top {
			grid.to('M', coolLeft, y(temp))
			grid.to('L', coolRight, y(temp))
		}
	}
	s.page.Set(mname("curve-grid"), "d", grid.String())
}

// tick writes one figure beside an axis, or takes it away.
func (s *state) tick(list string, i int, on bool, axis string, place float64, text string) {
	id := view.Row(mname(list), i, "text")
	if !on {
		text = ""
	}
	s.page.Set(id, axis, strconv.FormatFloat(place, 'f', 1, 64))
	s.page.Text(id, text)
}

// coolMarks draws a line down from the curve at each temperature that is reached.
func (s *state) coolMarks(milestones []cool.Milestone, x, y func(float64) float64) {
	var marks svgPath
	for _, ms := range milestones {
		if ms.Refusal != nil || ms.Time.Typical <= 0 {
			continue
		}
		at := x(ms.Time.Typical / 60)
		marks.to('M', at, y(float64(ms.Target)))
		marks.to('L', at, coolFoot)
	}
	s.page.Set(mname("curve-marks"), "d", marks.String())
}
