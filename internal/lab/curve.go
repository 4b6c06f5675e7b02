package lab

import (
	"math"
	"slices"

	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// The dose–firmness curve: dose across, modulus upwards, both by ratio, since a
// dose is right or wrong by ratio and the law of a gel is straight then.
const (
	curveLeft, curveRight = 48.0, 314.0
	curveTop, curveFoot   = 8.0, 150.0
	curveLow, curveHigh   = 10.0, 100_000.0 // Pa at foot and top: a trembling jelly to a rubber
	curveSpread           = 4.0             // a curve is drawn to this ratio to each side of its dose
	curveSteps            = 40
	curveTicks            = 6 // doses written below
)

// plot places doses, in per cent of the mix, and moduli on the drawing.
type plot struct{ from, to float64 }

func (p plot) x(dose float64) float64 {
	return curveLeft + (curveRight-curveLeft)*math.Log(dose/p.from)/math.Log(p.to/p.from)
}

func (p plot) y(modulus float64) float64 {
	m := min(max(modulus, curveLow), curveHigh)
	return curveFoot - (curveFoot-curveTop)*math.Log(m/curveLow)/math.Log(curveHigh/curveLow)
}

// showCurve draws the formula's curve and the picked offer's. What the offer's
// was worked out from is handed back: laws, and what the liquid does to them.
func (w *swap) showCurve(s *state, o *gel.Offer) []note.Note {
	now, then := s.conditions, o.Liquid()
	was, hasWas := curveOf(s.doses, now, s.kitchen.factors)
	will, hasWill := curveOf(o.Doses, then, s.kitchen.factors)
	s.page.Show("lab-swap-curve", hasWas || hasWill)
	if !hasWas && !hasWill {
		return will.Notes
	}
	p := plot{math.Inf(1), 0}
	for _, c := range [...]struct {
		curve gel.Curve
		has   bool
	}{{was, hasWas}, {will, hasWill}} {
		if c.has {
			d := c.curve.Mark.Share.Percent()
			p.from, p.to = min(p.from, d/curveSpread), max(p.to, min(d*curveSpread, 100))
		}
	}
	s.drawCurve("lab-swap-curve-was", p, was, hasWas)
	s.drawOwn("lab-swap-curve-was", p, s.doses, now, was)
	s.drawCurve("lab-swap-curve-will", p, will, hasWill)
	s.drawOwn("lab-swap-curve-will", p, o.Doses, then, will)
	s.curveScale("lab-swap-tick", p)
	var says, own []string
	for _, c := range [...]struct {
		key   string
		doses []gel.Dose
		curve gel.Curve
		has   bool
	}{{"curve.was", s.doses, was, hasWas}, {"curve.will", o.Doses, will, hasWill}} {
		if c.has {
			says = append(says, s.curveSays(c.key, c.doses, c.curve))
			own = s.ownSays(own, c.curve)
		}
	}
	says = append(says, own...)
	s.page.Rows("lab-swap-say", len(says))
	for i, text := range says {
		s.page.Text(view.Row("lab-swap-say", i, "text"), text)
	}
	return will.Notes
}

// curveOf is the curve of some doses in a liquid, and whether there is one to draw.
func curveOf(doses []gel.Dose, in gel.Conditions, k gel.Kitchen) (gel.Curve, bool) {
	c, err := gel.CurveOf(doses, in, k, curveSteps)
	return c, err == nil && len(c.Points) > 0 && c.Mark.Measured
}

// ownFactors is what this kitchen's trials did to a curve.
func ownFactors(c gel.Curve) []note.Note {
	var out []note.Note
	for _, n := range c.Notes {
		if n.Code == gel.CodeKitchen {
			out = append(out, n)
		}
	}
	return out
}

// ownSays adds what this kitchen's trials did, once for each agent.
func (s *state) ownSays(says []string, c gel.Curve) []string {
	for _, n := range ownFactors(c) {
		if text := s.words.Note(n); !slices.Contains(says, text) {
			says = append(says, text)
		}
	}
	return says
}

// drawOwn draws the curve as it would be by the tables alone below one that
// this kitchen's trials have moved, and writes by how much they moved it.
func (s *state) drawOwn(at string, p plot, doses []gel.Dose, in gel.Conditions, c gel.Curve) {
	var line, x, y path
	text := ""
	own := ownFactors(c)
	if tables, ok := curveOf(doses, in, nil); ok && len(own) > 0 && len(c.Points) > 0 {
		for i, q := range within(p, tables) {
			if i == 0 {
				line.move(p.x(q.Share.Percent()), p.y(q.Modulus.Typical))
				continue
			}
			line.line(p.x(q.Share.Percent()), p.y(q.Modulus.Typical))
		}
		var factors []string
		for _, n := range own {
			f, _ := n.Arg("factor")
			factors = append(factors, s.say("lab-kitchen.times", note.Typed("factor", s.words.Style.Significant(f.Value, 2))))
		}
		text = s.list(factors)
		x.number(p.x(c.Mark.Share.Percent()) + ownRight)
		y.number(p.y(c.Mark.Modulus.Typical) + ownBelow)
	}
	s.page.Set(at+"-tables", "d", line.String())
	s.page.Text(at+"-own", text)
	s.page.Set(at+"-own", "x", x.String())
	s.page.Set(at+"-own", "y", y.String())
}

// ownRight and ownBelow are where a factor stands beside its mark.
const ownRight, ownBelow = 7.0, 13.0

// curveSays is the curve in words: where the dose stands, and what half as much
// and twice as much would do.
func (s *state) curveSays(key string, doses []gel.Dose, c gel.Curve) string {
	args := []note.Arg{
		note.Typed("agents", s.agents(doses)), note.Typed("dose", s.rough(c.Mark.Share.Percent(), unit.PercentOf)),
		note.Typed("modulus", s.rough(c.Mark.Modulus.Typical, unit.Pascal)), note.Typed("range", s.about(c.Mark.Modulus, unit.Pascal)),
		note.Typed("from", s.rough(c.From.Percent(), unit.PercentOf)), note.Typed("to", s.rough(c.To.Percent(), unit.PercentOf)),
	}
	return s.say(key, args...)
}

// drawCurve draws the band from low to high, the line of the typical, and a mark
// at the dose.
func (s *state) drawCurve(at string, p plot, c gel.Curve, has bool) {
	var band, line, mark path
	if has {
		points := within(p, c)
		for i, q := range points {
			x := p.x(q.Share.Percent())
			if i == 0 {
				band.move(x, p.y(q.Modulus.High))
				line.move(x, p.y(q.Modulus.Typical))
				continue
			}
			band.line(x, p.y(q.Modulus.High))
			line.line(x, p.y(q.Modulus.Typical))
		}
		for i := len(points) - 1; i >= 0; i-- {
			band.line(p.x(points[i].Share.Percent()), p.y(points[i].Modulus.Low))
		}
		if len(points) > 0 {
			band.close()
		}
		x := p.x(c.Mark.Share.Percent())
		mark.move(x, curveFoot)
		mark.line(x, p.y(c.Mark.Modulus.Typical))
		mark.dot(x, p.y(c.Mark.Modulus.Typical), 4)
	}
	s.page.Set(at+"-band", "d", band.String())
	s.page.Set(at+"-line", "d", line.String())
	s.page.Set(at+"-mark", "d", mark.String())
}

// within is the points of a curve that were measured and lie on the drawing.
func within(p plot, c gel.Curve) []gel.CurvePoint {
	var out []gel.CurvePoint
	for _, q := range c.Points {
		d := q.Share.Percent()
		if q.Measured && d >= p.from && d <= p.to && unit.Finite(q.Modulus.Typical) {
			out = append(out, q)
		}
	}
	return out
}

// tickDoses are the round doses, in per cent, that may be written below.
var tickDoses = [...]float64{0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50}

// curveScale writes round doses below the drawing.
func (s *state) curveScale(list string, p plot) {
	var ticks []float64
	for _, d := range tickDoses {
		if d >= p.from && d <= p.to {
			ticks = append(ticks, d)
		}
	}
	for len(ticks) > curveTicks {
		ticks = everySecond(ticks)
	}
	var grid path
	for i := range curveTicks {
		at, text, x := view.Row(list, i, "dose"), "", curveLeft
		if i < len(ticks) {
			text, x = s.words.Figure(ticks[i], unit.PercentOf), p.x(ticks[i])
			grid.move(x, curveTop)
			grid.line(x, curveFoot)
		}
		s.page.Text(at, text)
		var place path
		place.number(x)
		s.page.Set(at, "x", place.String())
	}
	for _, m := range [...]float64{10, 100, 1000, 10_000, 100_000} {
		grid.move(curveLeft, p.y(m))
		grid.line(curveRight, p.y(m))
	}
	s.page.Set("lab-swap-curve-grid", "d", grid.String())
}

func everySecond(ticks []float64) []float64 {
	var out []float64
	for i := 0; i < len(ticks); i += 2 {
		out = append(out, ticks[i])
	}
	return out
}
