package emulsion

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Class is where an emulsion stands by the share of its volume that is droplets.
type Class uint8

// The classes, thinnest first.
const (
	Thin      Class = iota // phi below 0.64: droplets move freely
	Spoonable              // 0.64 to 0.74: they touch
	Stiff                  // 0.74 to 0.85: they press each other flat
	Edge                   // 0.85 to 0.90: it may invert or split any moment
	Beyond                 // above 0.90: seen in the laboratory, hardly ever lasting
)

// The limits between the classes, as share of the volume.
const (
	RandomPacking  unit.Fraction = 0.64 // random close packing of equal spheres
	DensestPacking unit.Fraction = 0.74 // face-centred packing of equal spheres
	EdgeFrom       unit.Fraction = 0.85 // inversion or splitting: from here,
	EdgeTo         unit.Fraction = 0.90 // to here (from memory; Lowe saw breaking soon after 90 % by weight)
)

// MostOil is the oil share by weight above which nothing is computed: just over
// 95 % was reached in the laboratory (Lowe, Experimental Cookery).
const MostOil unit.Fraction = 0.95

var limits = [...]unit.Fraction{RandomPacking, DensestPacking, EdgeFrom, EdgeTo}

var classCodes = [...]note.Code{IsThin, IsSpoonable, IsStiff, IsEdge, IsBeyond}

// ClassOf is the class at a volume share of droplets.
func ClassOf(phi unit.Fraction) Class {
	c := Thin
	for _, l := range limits {
		if phi >= l {
			c++
		}
	}
	return c
}

// bounds are the volume shares that a class spans.
func (c Class) bounds() (from, to unit.Fraction) {
	from, to = 0, 1
	if c > Thin {
		from = limits[c-1]
	}
	if int(c) < len(limits) {
		to = limits[c]
	}
	return from, to
}

// VolumeShare converts an oil share by weight to one by volume, for the
// densities of oil and watery side in g/ml.
func VolumeShare(byMass unit.Fraction, oil, watery unit.Density) unit.Fraction {
	o, w := float64(byMass)/float64(oil), (1-float64(byMass))/float64(watery)
	return unit.Fraction(o / (o + w))
}

// Step is what it takes to come to a limit between two classes.
type Step struct {
	Limit     unit.Fraction // volume share of droplets
	Class     Class         // the class above the limit
	MoreOil   unit.Mass     // more of the oil list, mixed as it is; zero when already there
	Reachable bool          // false when the oil list itself holds too much water to get there
	Water     unit.Mass     // plain water that brings it down to the limit; zero when already below
}

// steps lists every limit.
func (s sums) steps() []Step {
	list := make([]Step, 0, len(limits))
	for n, l := range limits {
		list = append(list, s.step(l, Class(n+1)))
	}
	return list
}

func (s sums) step(l unit.Fraction, c Class) Step {
	b, whole := float64(l), s.oilVolume+s.restVolume
	st := Step{Limit: l, Class: c, Reachable: true}
	if short := b*whole - s.oilVolume; short > 0 {
		fat, all := s.perOilFatVolume/s.perOilMass, s.perOilVolume/s.perOilMass
		if gain := fat - b*all; gain > 0 {
			st.MoreOil = unit.Mass(short / gain)
		} else {
			st.Reachable = false
		}
		return st
	}
	st.Water = unit.Mass((s.oilVolume/b - whole) * 1) // water: 1 g/ml
	return st
}

// phi is the volume share with its range from the densities.
func (s sums) phi() (unit.Fraction, unit.Range) {
	at := s.oilVolume / (s.oilVolume + s.restVolume)
	share := func(oil, water float64) float64 {
		o := s.oilVolume * float64(oilDensity) / oil
		return o / (o + s.restVolume*float64(waterDensity)/water)
	}
	return unit.Fraction(at), unit.Range{
		Low:     min(at, share(oilDensities.High, waterDensities.Low)),
		Typical: at,
		High:    max(at, share(oilDensities.Low, waterDensities.High)),
	}
}

// Rescue says how to bring back a stiff or a split emulsion.
type Rescue struct {
	// Loosen is the water, in g, that brings a stiff one down to the middle of
	// the spoonable class; zero when it is not above that.
	Loosen unit.Mass
	// StartWith is a spoon of fresh water in a clean bowl, in g, into which a
	// split one is beaten drop by drop: no new yolk is needed.
	StartWith unit.Mass
}

// spoon is a tablespoon of water, with which a broken mayonnaise is formed again (Lowe).
const spoon unit.Mass = 15

// middleSpoonable is the aim of a rescue.
const middleSpoonable = (RandomPacking + DensestPacking) / 2

func (s sums) rescue() Rescue {
	r := Rescue{Loosen: s.step(middleSpoonable, Spoonable).Water}
	r.StartWith = max(r.Loosen, min(spoon, unit.Mass(s.mass/10)))
	return r
}

// packNotes say where it stands and how to move.
func (a *Answer) packNotes() {
	a.say(note.New(classLevel(a.Class), classCodes[a.Class],
		note.Num("phi", a.OilByVolume.Percent(), unit.PercentOf)).From(packing))
	if lo, hi := ClassOf(unit.Fraction(a.Phi.Low)), ClassOf(unit.Fraction(a.Phi.High)); lo != hi {
		a.say(note.New(note.Reason, OnTheLine, note.Num("low", a.Phi.Low*100, unit.PercentOf), note.Num("high", a.Phi.High*100, unit.PercentOf)).From(packing))
	}
	if a.Class >= Stiff {
		a.say(note.New(note.Hint, RescueStiff, note.Num("water", float64(a.Rescue.Loosen), unit.Gram)).From(packing))
	}
	a.say(note.New(note.Reason, RescueSplit, note.Num("water", float64(a.Rescue.StartWith), unit.Gram)).From(lowe))
}

func classLevel(c Class) note.Level {
	if c >= Edge {
		return note.Caution
	}
	return note.Reason
}
