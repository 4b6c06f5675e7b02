package sphere

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Bath is a calcium bath in use.
type Bath struct {
	Mass    unit.Mass // g
	Calcium float64   // mmol/kg when fresh
}

// Worn is the share of its calcium that a bath may lose before it is renewed:
// a third (common practice).
const Worn = 1.0 / 3

// DragOut is the bath liquid that clings to spheres and spoon, as a share of
// their weight. Common practice, no source: weigh yours.
var DragOut = unit.Range{Low: 0.03, Typical: 0.10, High: 0.20}

// Filled is how much of its sites a fresh skin has filled (from memory: a young
// gel is not yet saturated).
var Filled = unit.Range{Low: 0.5, Typical: 0.8, High: 1.0}

// Loss is the calcium in mmol that one portion takes from the bath: what the
// skin binds, what stands free in the skin's water, and what clings.
func (b Bath) Loss(portion unit.Mass, skinShare unit.Range, sites float64) unit.Range {
	kg := float64(portion) / 1000
	at := func(skin, filled, drag float64) float64 {
		return kg * (skin*(sites*filled+b.Calcium) + drag*b.Calcium)
	}
	return unit.Range{
		Low:     at(skinShare.Low, Filled.Low, DragOut.Low),
		Typical: at(skinShare.Typical, Filled.Typical, DragOut.Typical),
		High:    at(skinShare.High, Filled.High, DragOut.High),
	}
}

// Portions is how many portions the bath serves before its calcium has fallen
// by a third.
func (b Bath) Portions(loss unit.Range) unit.Range {
	may := float64(b.Mass) / 1000 * b.Calcium * Worn
	return unit.Range{Low: may / loss.High, Typical: may / loss.Typical, High: may / loss.Low}
}

// skinShare is the share of a ball's volume that its skin takes.
func skinShare(diameter, skin float64) float64 {
	return 1 - math.Pow(max(0, 1-2*skin/diameter), 3)
}

// Buoyancy compares the densities of drop and bath.
type Buoyancy struct {
	Liquid, Bath unit.Density
	Difference   unit.Density  // of the liquid over the bath
	Sugar        unit.Fraction // sugar that would lift the lighter of the two to the heavier, as a share of its mass
	IntoBath     bool          // the bath is the lighter one
}

// even is the difference in g/ml under which a drop hangs in the bath.
const even = 0.005

// mostEvening is the most sugar that is put in to even the densities out: a
// bath or a liquid with more is a syrup (common practice).
const mostEvening unit.Fraction = 0.25

// saltDensity is the gain of density of a bath by a share of calcium salt, and
// gumDensity by a share of alginate, g/ml (from memory: 1 % chloride 0.008,
// 1 % lactate 0.005).
const (
	saltDensity = 0.65
	gumDensity  = 0.6
	plainWater  = 0.998
)

// Match compares densities in g/ml and finds the sugar that evens them out, by
// the first terms of the density of sucrose solutions.
func Match(liquid, bath unit.Density) Buoyancy {
	b := Buoyancy{Liquid: liquid, Bath: bath, Difference: liquid - bath, IntoBath: liquid > bath}
	gap := math.Abs(float64(b.Difference))
	// gap = 0.3852 w + 0.1354 w²
	const a, c = 0.3851761, 0.1353705
	b.Sugar = unit.Fraction((-a + math.Sqrt(a*a+4*c*gap)) / (2 * c))
	return b
}

func (b Buoyancy) note() note.Note {
	args := []note.Arg{note.Num("liquid", float64(b.Liquid), unit.GramPerMl), note.Num("bath", float64(b.Bath), unit.GramPerMl), note.Num("sugar", unit.Digits(b.Sugar.Percent(), 2), unit.PercentOf)}
	switch {
	case math.Abs(float64(b.Difference)) <= even:
		return note.New(note.Reason, Hovers, args...).From(sucrose)
	case b.Sugar > mostEvening && b.Difference > 0:
		return note.New(note.Hint, SinksFar, args[:2]...).From(sucrose)
	case b.Sugar > mostEvening:
		return note.New(note.Hint, FloatsFar, args[:2]...).From(sucrose)
	case b.Difference > 0:
		return note.New(note.Hint, Sinks, args...).From(sucrose)
	}
	return note.New(note.Hint, Floats, args...).From(sucrose)
}
