package cool

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Vessel is the form that the food lies in.
type Vessel uint8

// The vessels.
const (
	Tray   Vessel = iota // a wide layer: Depth
	Bottle               // an upright cylinder, closed: Radius and Height
	Bowl                 // half a ball, open on top: Radius
	Block                // a loaf or mould: Depth, Length, Width
	Ball                 // a sphere: Radius
)

// Load is the food in its vessel. Lengths are in millimetres, inside measures.
type Load struct {
	Vessel                               Vessel
	Depth, Length, Width, Radius, Height float64
	Mixed                                bool    // thin and moved, so of one temperature throughout; else set or thick
	Wall                                 float64 // the vessel wall's resistance, m²·K/W; 0 for bare metal
}

// maxLength bounds a vessel's measures, mm.
const maxLength = 2000

func (l Load) check() error {
	need := map[Vessel][]float64{ // read by key only
		Tray: {l.Depth}, Bottle: {l.Radius, l.Height}, Bowl: {l.Radius}, Block: {l.Depth, l.Length, l.Width}, Ball: {l.Radius},
	}[l.Vessel]
	if need == nil {
		return note.Refuse("vessel", CodeBadLength)
	}
	for _, x := range need {
		if !unit.Finite(x) || x < 0.1 || x > maxLength {
			return note.Refuse("vessel", CodeBadLength, note.Num("most", maxLength, unit.Millimetre))
		}
	}
	if !unit.Finite(l.Wall) || l.Wall < 0 || l.Wall > 10 {
		return note.Refuse("wall", CodeBadLength)
	}
	return nil
}

// BowlRadius is the radius in millimetres of a half ball that holds v.
func BowlRadius(v unit.Volume) float64 { return math.Cbrt(3 * float64(v) * 1000 / (2 * math.Pi)) }

// surfaces are base and open area per volume, 1/m.
func (l Load) surfaces() (base, open float64) {
	d, r, h := l.Depth/1000, l.Radius/1000, l.Height/1000
	switch l.Vessel {
	case Tray:
		return 1 / d, 1 / d
	case Bottle:
		return 2/r + 2/h, 0
	case Bowl:
		return 3 / r, 1.5 / r
	case Block:
		return 2/d + 2000/l.Length + 2000/l.Width, 0
	}
	return 3 / r, 0
}

// bowlSphere is the radius of the sphere that stands for a set half ball with
// the same heat transfer all round, as a part of the bowl's. With fixed surface
// temperature the slowest mode of the half ball, (4.4934/R)² with the first root
// of tan z = z, equals that of a sphere of π/4.4934 = 0.699·R; the first modes
// of the two differ in weight, and 0.74 keeps the sphere the warmer one from
// still air to ice water (checked numerically in the tests).
const bowlSphere = 0.74

// solver answers for one set of heat transfer coefficients.
type solver interface {
	hottest(t float64) float64 // °C after t seconds
	floor() float64            // °C that is approached and never reached
}

// bowlShare is the radius of the sphere that stands for a set bowl, as a part
// of the bowl's. A top that loses less than half of what the wall does, or that
// is warmed, counts as insulated: then the half ball cools as the whole one.
func bowlShare(base, open face) float64 {
	if open.h < base.h/2 || open.temp > base.temp {
		return 1
	}
	return bowlSphere
}

// solver picks the model for a load: well mixed, layer with two faces, or a
// product of one-dimensional series.
func (l Load) solver(p Properties, start float64, base, open face) solver {
	if l.Wall > 0 && base.h > 0 {
		base.h = 1 / (1/base.h + l.Wall)
	}
	switch {
	case l.Mixed:
		return newLumped(l, p, start, base, open)
	case l.Vessel == Tray:
		return newPlate(p, l.Depth/1000, start, base, open)
	}
	b := &product{start: start, medium: base.temp}
	switch l.Vessel {
	case Bottle:
		b.add(p, Cylinder, l.Radius, base.h)
		b.add(p, Slab, l.Height/2, base.h)
	case Bowl:
		b.add(p, Sphere, l.Radius*bowlShare(base, open), base.h)
	case Block:
		b.add(p, Slab, l.Depth/2, base.h)
		b.add(p, Slab, l.Length/2, base.h)
		b.add(p, Slab, l.Width/2, base.h)
	default:
		b.add(p, Sphere, l.Radius, base.h)
	}
	return b
}

// product is a finite body: the product of one-dimensional solutions, at the centre.
type product struct {
	start, medium float64
	axes          []axis
}

type axis struct {
	modes [terms]mode
	rate  float64 // α/L², 1/s
}

// add gives the body one more direction; length in millimetres.
func (b *product) add(p Properties, s Shape, length, h float64) {
	l := length / 1000
	b.axes = append(b.axes, axis{modes(s, h*l/p.Conductivity), p.Diffusivity() / (l * l)})
}

func (b *product) hottest(t float64) float64 {
	theta := 1.0
	for i := range b.axes {
		theta *= centre(&b.axes[i].modes, b.axes[i].rate*t)
	}
	return b.medium + (b.start-b.medium)*theta
}

func (b *product) floor() float64 { return b.medium }

// lumped is a well-mixed body: one temperature, exponential approach to the
// mean of the media weighted by area and heat transfer.
type lumped struct{ start, medium, rate float64 }

func newLumped(l Load, p Properties, start float64, base, open face) *lumped {
	areaBase, areaOpen := l.surfaces()
	gBase, gOpen := areaBase*base.h, areaOpen*open.h
	g := gBase + gOpen
	return &lumped{start, (gBase*base.temp + gOpen*open.temp) / g, g / (float64(p.Density) * 1000 * p.HeatCapacity)}
}

func (l *lumped) hottest(t float64) float64 {
	return l.medium + (l.start-l.medium)*math.Exp(-l.rate*t)
}

func (l *lumped) floor() float64 { return l.medium }
