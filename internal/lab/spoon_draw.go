package lab

import (
	"tremblant/internal/agent"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// The picture of the house: a spoonful in profile on its plate line. The drawing
// is 160 wide and 76 high, and shows a plate of 65 mm.
const (
	spoonMiddle = 80.0
	spoonPlate  = 64.0             // y of the plate line
	spoonScale  = 2.45 * 1000      // units for each metre
	spoonEdge   = spoonMiddle - 4. // farthest that a puddle is drawn from the middle
	puddle      = 0.003            // m: thickness of spilt water (twice its capillary length and less; from memory)
)

// wholeHeight is the share of its height that nobody sees missing.
const wholeHeight = 0.965

// spoonLook is what is known of a spoonful.
type spoonLook struct {
	set      bool // it stands at all
	measured bool // there is a modulus to draw it from
	modulus  float64
	strain   float64
	density  unit.Density
	weeps    bool
	broken   bool // the figures are of the gel before it is broken or whipped
}

// spoonOf is the look of a verdict. Only gels that are poured and left are drawn
// from their modulus: a broken or whipped one has another.
func spoonOf(s *state, v *gel.Verdict, weeps bool) spoonLook {
	l := spoonLook{modulus: v.Firmness.Modulus.Typical, strain: v.Firmness.Break.Typical, density: s.reading.Formula.Density, weeps: weeps}
	if l.density == 0 {
		l.density = usualDensity
	}
	switch v.Texture {
	case agent.Loose, agent.SoftSet, agent.FirmSet, agent.Sliceable:
		l.set = !v.Fails || v.Firmness.Known
		l.measured = v.Firmness.Known && l.modulus > 0
	case "", agent.Suspend, agent.Thickened:
	default:
		l.set = true
		l.broken = v.Firmness.Known && l.modulus > 0
	}
	return l
}

// drawSpoon draws a look at a place of the page and says the same in words.
func (s *state) drawSpoon(at string, l spoonLook) {
	var gelPath, dropPath path
	state := ""
	text := ""
	switch {
	case !l.set:
		gelPath.puddle()
		text = s.say("spoon.runs")
	case !l.measured:
		gelPath.outline(sink(1e6, 1, l.strain))
		state, text = "unknown", s.say("spoon.unknown")
		if l.broken {
			text = s.say("spoon.broken")
		}
	default:
		f := sink(l.modulus, l.density, l.strain)
		gelPath.outline(f)
		s.page.Figure(at+"-kept", f.kept, s.rough(f.kept*100, unit.PercentOf))
		key := "spoon.stands"
		if f.kept > wholeHeight {
			key = "spoon.stands-whole"
		}
		text = s.say(key, note.Word("stiff", stiffWord(l.modulus)), note.Word("brittle", strainWord(l.strain)), note.Num("kept", rounded(f.kept*100, 2), unit.PercentOf))
		if l.weeps {
			dropPath.drops(f)
			text = s.list([]string{text, s.say("spoon.weeps")})
		}
	}
	if !l.set || !l.measured {
		s.page.NoFigure(at + "-kept")
	}
	s.page.Set(at+"-gel", "d", gelPath.String())
	s.page.Set(at+"-drops", "d", dropPath.String())
	s.page.State(at+"-spoon", state)
	s.page.Text(at+"-says", text)
}

// outline draws a spoonful, the right half from the top down and the left half
// up again.
func (p *path) outline(f spoonful) {
	x := func(i int, side float64) float64 {
		return spoonMiddle + side*min(f.r[i]*spoonScale, spoonEdge)
	}
	y := func(i int) float64 { return spoonPlate - f.z[i]*spoonScale }
	last := len(f.r) - 1
	p.move(x(0, 1), y(0))
	for i := 1; i <= last; i++ {
		p.line(x(i, 1), y(i))
	}
	for i := last; i > 0; i-- {
		p.line(x(i, -1), y(i))
	}
	p.close()
}

// puddle draws what does not stand: a film over the plate.
func (p *path) puddle() {
	top := spoonPlate - puddle*spoonScale
	p.move(spoonMiddle-spoonEdge, spoonPlate)
	p.line(spoonMiddle-spoonEdge+6, top)
	p.line(spoonMiddle+spoonEdge-6, top)
	p.line(spoonMiddle+spoonEdge, spoonPlate)
	p.close()
}

// drops draws what wept, beside the foot.
func (p *path) drops(f spoonful) {
	foot := min(f.r[len(f.r)-1]*spoonScale, spoonEdge)
	for _, d := range [...]struct{ x, r float64 }{{6, 2.4}, {12.5, 1.6}, {-7, 2}} {
		x := spoonMiddle + foot + d.x
		if d.x < 0 {
			x = spoonMiddle - foot + d.x
		}
		p.dot(x, spoonPlate-d.r, d.r)
	}
}
