package gel

import (
	"math"

	"tremblant/internal/agent"
	"tremblant/internal/unit"
)

// law is the firmness law of one agent, or of a pair that has a law of its own,
// with everything that the conditions do to it worked in.
type law struct {
	share  float64    // part of the formula's dose that this law's dose is
	ref    float64    // dose at which the modulus is stated, g/100 g
	n, c0  unit.Range // exponent and critical dose
	scale  unit.Range // what the grade makes of a dose
	lnK    float64    // ln of A times all factors
	down   float64    // deviation of lnK, as a positive number
	up     float64
	syn    int // index of the pair's synergy in the system; -1 for none
	ions   *agent.Modifier
	ionLn  [maxPoints]lnPoint
	ionSum unit.Range // mmol/kg, for a modifier that counts per gram of agent
	ionMin float64    // mmol/g that the method tops up to; 0 for as it is
	span   agent.Span // doses that the figures are claimed for
	agent  *agent.Agent
	pair   *agent.Pair // set when the model is the pair's
	model  *agent.Model
	breaks unit.Range // strain at break
	mine   Factor     // this kitchen's, with no trials when there is none
}

// The perturbations of a law: each moves one uncertain input to one end.
const (
	typical = iota
	nLow
	nHigh
	c0Low
	c0High
	scaleLow
	scaleHigh
	kLow
	kHigh
	tableLow
	tableHigh
	ionLow
	ionHigh
	perturbations
)

// parameters are the law's with one of them moved to one end.
func (l *law) parameters(p int) (n, c0, scale, lnK float64) {
	n, c0, scale, lnK = l.n.Typical, l.c0.Typical, l.scale.Typical, l.lnK
	switch p {
	case nLow:
		n = l.n.Low
	case nHigh:
		n = l.n.High
	case c0Low:
		c0 = l.c0.Low
	case c0High:
		c0 = l.c0.High
	case scaleLow:
		scale = l.scale.Low
	case scaleHigh:
		scale = l.scale.High
	case kLow:
		lnK -= l.down
	case kHigh:
		lnK += l.up
	}
	return n, c0, scale, lnK
}

// lnG is ln of the modulus at a formula dose c in g/100 g; −Inf below the
// critical dose.
func (l *law) lnG(c float64, p int) float64 {
	n, c0, scale, lnK := l.parameters(p)
	x := c * l.share * scale
	if x <= c0 {
		return math.Inf(-1)
	}
	v := lnK + n*math.Log((x/c0-1)/(l.ref/c0-1))
	if l.ions != nil {
		v += l.ionFactor(c, p)
	}
	return v
}

// ionFactor is ln of the factor of ions counted per gram of agent.
func (l *law) ionFactor(c float64, p int) float64 {
	sum := l.ionSum.Typical
	switch p {
	case ionLow:
		sum = l.ionSum.Low
	case ionHigh:
		sum = l.ionSum.High
	}
	x := max(sum/(10*c*l.share), l.ionMin)
	which := 1
	switch p {
	case tableLow:
		which = 0
	case tableHigh:
		which = 2
	}
	pts := l.ionLn[:len(l.ions.Points)]
	x = min(max(x, pts[0].x), pts[len(pts)-1].x)
	i := 1
	for i < len(pts)-1 && pts[i].x < x {
		i++
	}
	t := (x - pts[i-1].x) / (pts[i].x - pts[i-1].x)
	return (1-t)*pts[i-1].ln[which] + t*pts[i].ln[which]
}

// maxPoints bounds the points of a modifier that is asked again and again.
const maxPoints = 8

// lnPoint is a modifier's point with the logarithms of its factors.
type lnPoint struct {
	x  float64
	ln [3]float64 // low, typical, high
}

// countIons prepares the factor of ions per gram of agent.
func (l *law) countIons(m *agent.Modifier, sum unit.Range, least float64) {
	l.ions, l.ionSum, l.ionMin = m, sum, least
	for i, p := range m.Points {
		l.ionLn[i] = lnPoint{p.X, [3]float64{math.Log(p.Low), math.Log(p.Typical), math.Log(p.High)}}
	}
}

// skips reports whether a perturbation cannot change this law.
func (l *law) skips(p int) bool {
	switch p {
	case scaleLow, scaleHigh:
		return l.scale.Low == l.scale.High
	case tableLow, tableHigh, ionLow, ionHigh:
		return l.ions == nil
	}
	return false
}

// solve is the formula dose with a given ln modulus, in closed form where the
// factors do not depend on the dose.
func (l *law) solve(lnG float64, p int) float64 {
	n, c0, scale, lnK := l.parameters(p)
	x := c0 * (1 + (l.ref/c0-1)*math.Exp((lnG-lnK)/n))
	return x / (scale * l.share)
}

// between finds the two points around x, which lies within them, and how far on
// it is from the first to the second.
func between(pts []agent.Point, x float64) (a, b *agent.Point, t float64) {
	i := 1
	for i < len(pts)-1 && pts[i].X < x {
		i++
	}
	a, b = &pts[i-1], &pts[i]
	return a, b, (x - a.X) / (b.X - a.X)
}

// mix is ln of a factor between two, linear in ln.
func mix(p, q, t float64) float64 {
	if p == q {
		if p == 1 {
			return 0
		}
		return math.Log(p)
	}
	return (1-t)*math.Log(p) + t*math.Log(q)
}

// spread is a ln factor with the squares of its deviations.
type spread struct{ ln, down2, up2 float64 }

func (s *spread) deviate(d float64) {
	if d < 0 {
		s.down2 += d * d
	} else {
		s.up2 += d * d
	}
}

// times multiplies by a range of positive factors.
func (s *spread) times(r unit.Range) {
	m := math.Log(r.Typical)
	s.ln += m
	s.deviate(math.Log(r.Low) - m)
	s.deviate(math.Log(r.High) - m)
}

// modify works one modifier in at an uncertain condition.
func (s *spread) modify(m *agent.Modifier, x unit.Range) {
	pts := m.Points
	clamp := func(v float64) float64 { return min(max(v, pts[0].X), pts[len(pts)-1].X) }
	a, b, t := between(pts, clamp(x.Typical))
	typ := mix(a.Typical, b.Typical, t)
	s.ln += typ
	s.deviate(mix(a.Low, b.Low, t) - typ)
	s.deviate(mix(a.High, b.High, t) - typ)
	if x.Low != x.High {
		a, b, t = between(pts, clamp(x.Low))
		p := mix(a.Typical, b.Typical, t)
		a, b, t = between(pts, clamp(x.High))
		q := mix(a.Typical, b.Typical, t)
		s.deviate(min(p, q, typ) - typ)
		s.deviate(max(p, q, typ) - typ)
	}
}
