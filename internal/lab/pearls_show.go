package lab

import (
	"math"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/sphere"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// CodeHolds names the allergens of a liquid.
const CodeHolds note.Code = "lab.holds"

// The drawing: skin upwards against time to the right, and a cut ball beside it.
const (
	skinLeft, skinRight = 34.0, 210.0
	skinTop, skinFoot   = 12.0, 110.0
	skinSteps           = 32
	ballX, ballY, ballR = 268.0, 62.0, 44.0
)

// skinPlot places times and thicknesses.
type skinPlot struct {
	most float64 // s
	tall float64 // mm
}

func (k skinPlot) x(t float64) float64 { return skinLeft + (skinRight-skinLeft)*t/k.most }
func (k skinPlot) y(mm float64) float64 {
	return skinFoot - (skinFoot-skinTop)*min(1, mm/k.tall)
}

// showPicture draws the skin against time, with the ball as it is at the time
// asked for, and says the same.
func (p *pearls) showPicture(s *state) {
	show := p.answer.Method != sphere.SetShear
	s.page.Show(p.input("picture"), show)
	if !show {
		return
	}
	a, t := &p.answer, float64(p.of.Time)
	k := skinPlot{most: 2.5 * t}
	k.tall = max(0.1, a.SkinAt(unit.Seconds(k.most)).High*1.05)
	var band, line, mark path
	at := func(i int) (float64, unit.Range) {
		when := k.most * math.Pow(float64(i)/skinSteps, 2) // the root rises steeply at first
		return when, a.SkinAt(unit.Seconds(when))
	}
	band.move(k.x(0), k.y(0))
	line.move(k.x(0), k.y(0))
	for i := 1; i <= skinSteps; i++ {
		when, r := at(i)
		band.line(k.x(when), k.y(r.High))
		line.line(k.x(when), k.y(r.Typical))
	}
	for i := skinSteps; i > 0; i-- {
		when, r := at(i)
		band.line(k.x(when), k.y(r.Low))
	}
	band.close()
	mark.move(k.x(t), skinFoot)
	mark.line(k.x(t), k.y(a.Skin.Typical))
	mark.dot(k.x(t), k.y(a.Skin.Typical), 4)
	s.page.Set(p.input("band"), "d", band.String())
	s.page.Set(p.input("line"), "d", line.String())
	s.page.Set(p.input("mark"), "d", mark.String())
	s.page.Text(p.input("tall"), s.rough(k.tall, unit.Millimetre))
	s.page.Text(p.input("long"), s.duration(k.most/60))
	p.drawBall(s)
	s.page.Figure(p.input("skin"), a.Skin.Typical, s.rough(a.Skin.Typical, unit.Millimetre))
	s.page.Text(p.input("skin-range"), s.about(a.Skin, unit.Millimetre))
	s.page.Text(p.input("picture-says"), p.say(s, "picture-says", note.Typed("size", s.rough(p.of.Diameter, unit.Millimetre)), note.Typed("time", s.duration(t/60))))
}

// drawBall draws the ball cut through: the skin as a ring. A reverse ball grows
// its skin outwards, a direct one inwards.
func (p *pearls) drawBall(s *state) {
	skin, half := p.answer.Skin.Typical, p.of.Diameter/2
	outer, inner := half, max(0, half-skin)
	if p.answer.Method == sphere.Reverse {
		outer, inner = half+skin, half
	}
	scale := ballR / outer
	s.page.Set(p.input("ball"), "r", coordinate(outer*scale))
	s.page.Set(p.input("core"), "r", coordinate(inner*scale))
}

// showReadings shows how long the bath serves, what it holds, and what floats.
func (p *pearls) showReadings(s *state) {
	a := &p.answer
	direct := a.Method == sphere.Direct
	s.page.Show(p.input("portions-row"), direct)
	s.page.Figure(p.input("portions"), a.Portions.Typical, s.words.Style.Significant(math.Floor(a.Portions.Typical), 3))
	s.page.Text(p.input("portions-range"), p.say(s, "portions-range", note.Typed("range", s.about(a.Portions, unit.One)), note.Typed("portion", s.words.Figure(float64(p.of.Portion), unit.Gram))))
	covers, short := p.typed.or("covers", 0), ""
	if direct && covers > a.Portions.Low && a.Portions.Low >= 1 {
		short = p.say(s, "baths", note.Num("baths", math.Ceil(covers/a.Portions.Low), unit.One), note.Num("covers", covers, unit.One))
	}
	if need := covers * float64(p.of.Portion); need > float64(p.of.Liquid)*1.005 {
		short = spaced(short, p.say(s, "too-little", note.Num("covers", covers, unit.One), note.Num("portion", float64(p.of.Portion), unit.Gram),
			note.Num("need", need, unit.Gram), note.Num("have", float64(p.of.Liquid), unit.Gram)))
	}
	s.page.Line(p.input("baths"), short)
	s.page.Figure(p.input("calcium-is"), a.Calcium.Typical, s.rough(a.Calcium.Typical, unit.MmolPerKg))
	s.page.Figure(p.input("share"), a.Share.Typical, s.rough(100*a.Share.Typical, unit.PercentOf))
	s.page.Text(p.input("share-range"), s.about(a.Share.Scale(100), unit.PercentOf))
	ph := p.of.PH.Typical
	if a.Method != sphere.Reverse && a.Citrate.PH > 0 {
		ph = a.Citrate.PH
	}
	s.page.Figure(p.input("ph-is"), ph, s.words.Style.Fixed(ph, 1))
	s.page.Show(p.input("buoy-row"), a.Buoyancy != nil)
	if b := a.Buoyancy; b != nil {
		s.page.Figure(p.input("buoy"), float64(b.Difference), s.words.Style.Significant(math.Abs(float64(b.Difference)), 2)+nbsp+"g/ml")
		word := "floats"
		switch {
		case math.Abs(float64(b.Difference)) <= 0.005:
			word = "hovers"
		case b.IntoBath:
			word = "sinks"
		}
		s.page.Text(p.input("buoy-word"), p.say(s, word))
	}
}

// showSalts lists the same calcium in every other salt.
func (p *pearls) showSalts(s *state) {
	list := p.input("salts")
	s.page.Rows(list, len(agent.CalciumSalts))
	for i, salt := range agent.CalciumSalts {
		s.page.Text(view.Row(list, i, "name"), capital(s.say("salt."+string(salt.Key))))
		s.page.Text(view.Row(list, i, "share"), p.say(s, "salt-share", note.Typed("share", s.words.Style.Significant(100*salt.Ca.Typical, 4)+nbsp+"%")))
		into := p.of.BathWater
		if p.answer.Method != sphere.Direct {
			into = p.of.Liquid
		}
		m, err := coreSalt(salt).Dose(p.answer.Calcium.Typical, into)
		if err != nil {
			s.page.NoFigure(view.Row(list, i, "mass"))
			continue
		}
		s.weight(view.Row(list, i, "mass"), m)
	}
}

// method is the order of the work with its times.
func (p *pearls) method(s *state) []string {
	a := &p.answer
	time := note.Typed("time", s.duration(float64(p.of.Time)/60))
	var out []string
	add := func(key string, args ...note.Arg) { out = append(out, p.say(s, key, args...)) }
	if a.Method != sphere.Reverse && a.Citrate.Total() > 0 {
		add("step-citrate")
	}
	switch a.Method {
	case sphere.Reverse:
		add("step-bath-alginate")
		add("step-rest-bath")
		add("step-salt-liquid")
		add("step-freeze")
		add("step-drop-reverse", time)
		add("step-rinse-keep")
	case sphere.SetShear:
		add("step-alginate")
		add("step-rest")
		add("step-salt-last")
		add("step-shear")
	default:
		add("step-alginate")
		add("step-rest")
		add("step-bath-salt")
		add("step-drop", time)
		add("step-rinse")
		if a.Portions.Low < 1 {
			break
		}
		add("step-renew", note.Typed("portions", s.words.Style.Significant(math.Floor(a.Portions.Low), 3)))
	}
	return out
}
