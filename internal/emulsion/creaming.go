package emulsion

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Tool is how the droplets are made, which decides their size.
type Tool uint8

// The tools.
const (
	Whisk Tool = iota
	StickBlender
	Homogeniser
)

// DropletRadius is the usual droplet radius in µm: hand-made 5-50 µm across,
// blended 1-20 (mostly 3-10), homogenised 0.3-1 (from memory: textbook ranges).
func (t Tool) DropletRadius() unit.Range {
	switch t {
	case StickBlender:
		return unit.Range{Low: 0.5, Typical: 3, High: 10}
	case Homogeniser:
		return unit.Range{Low: 0.15, Typical: 0.3, High: 0.5}
	}
	return unit.Range{Low: 2.5, Typical: 8, High: 25}
}

const (
	gravity     = 9.81
	secondsADay = 86400
	stableSpeed = 1.0 // mm/day; slower counts as stable (McClements)
)

// Stokes is the speed at which one free droplet rises, in mm a day:
// v = 2 g r² Δρ / 9η. Radius in µm, lighter by g/ml, viscosity of the watery
// side in Pa·s (above zero). It is negative for a droplet that sinks.
func Stokes(radius float64, lighter unit.Density, viscosity float64) float64 {
	r := radius * 1e-6
	return 2 * gravity * r * r * float64(lighter) * 1000 / (9 * viscosity) * secondsADay * 1000
}

// Hindered slows Stokes' speed among other droplets by (1-phi)^n, n between
// 4.65 and 5.65 (Richardson and Zaki; seen on a secondary page). It refuses at
// and above random close packing, where droplets cannot pass each other.
func Hindered(free float64, phi unit.Fraction) (unit.Range, error) {
	if !(phi >= 0 && phi < RandomPacking) {
		return unit.Range{}, packed(phi)
	}
	at := func(n float64) float64 { return free * math.Pow(1-float64(phi), n) }
	return unit.Range{Low: at(5.65), Typical: at(5.15), High: at(4.65)}, nil
}

// KriegerDougherty is the viscosity of a suspension relative to its liquid:
// (1 - phi/phiMax)^(-2.5 phiMax). It refuses at and above phiMax, where the
// emulsion is a soft solid and has no viscosity.
func KriegerDougherty(phi, phiMax unit.Fraction) (float64, error) {
	if !(phi >= 0 && phi < phiMax && phiMax <= 1) {
		return 0, packed(phi)
	}
	return math.Pow(1-float64(phi/phiMax), -2.5*float64(phiMax)), nil
}

func packed(phi unit.Fraction) error {
	if !unit.Finite(float64(phi)) {
		return note.Refuse("phi", BadFigure, note.Num("most", 100, unit.PercentOf))
	}
	r := note.Refuse("phi", Packed, note.Num("phi", phi.Percent(), unit.PercentOf), note.Num("most", RandomPacking.Percent(), unit.PercentOf))
	r.Source = packing
	return r
}

// SurfaceLimit is the volume of oil, in ml, whose droplets of a diameter (µm)
// a mass of surface-active matter (g) can cover at a load of mg/m²:
// area per volume is 6/d. All must be above zero.
func SurfaceLimit(active unit.Mass, diameter, load float64) unit.Volume {
	area := float64(active) * 1000 / load                // m²
	return unit.Volume(area * diameter * 1e-6 / 6 * 1e6) // m³ to ml
}

// Creaming is how fast oil rises in a thin emulsion.
type Creaming struct {
	Free     unit.Range // mm/day, over the droplet sizes of the tool
	Speed    unit.Range // mm/day among the other droplets
	Relative float64    // viscosity over that of the watery side, by Krieger and Dougherty
}

// thinJuice is the viscosity of juice or stock, Pa·s (from memory).
const thinJuice = 0.0015

func (a *Answer) creaming(in Input) {
	if a.Class != Thin {
		a.say(note.New(note.Reason, DoesNotCream).From(packing))
		return
	}
	if in.Style == ButterSauce || in.Style == NutCream || a.Netted {
		return // eaten within hours, thick with what is ground in it, or held
	}
	eta := in.WaterViscosity
	if eta == 0 {
		eta = thinJuice
	}
	r := in.Tool.DropletRadius()
	lighter := waterDensity - oilDensity
	c := Creaming{Free: unit.Range{Low: Stokes(r.Low, lighter, eta), Typical: Stokes(r.Typical, lighter, eta), High: Stokes(r.High, lighter, eta)}}
	slow, err := Hindered(1, a.OilByVolume)
	if err != nil {
		return
	}
	c.Speed = unit.Range{Low: c.Free.Low * slow.Low, Typical: c.Free.Typical * slow.Typical, High: c.Free.High * slow.High}
	if c.Relative, err = KriegerDougherty(a.OilByVolume, RandomPacking); err != nil {
		return
	}
	a.Creaming = &c
	if c.Speed.Typical > stableSpeed {
		told := func(name string, x float64) note.Arg { return note.Num(name, unit.Digits(x, 2), unit.Millimetre) } // the sizes of droplets are a guess
		a.say(note.New(note.Caution, Creams, told("speed", c.Speed.Typical), told("low", c.Speed.Low), told("high", c.Speed.High)).From(stokes))
	}
}
