package sphere

import (
	"math"

	"tremblant/internal/unit"
)

// Diffusion is how fast calcium moves in an alginate gel, m²/s. In plain water
// it is 0.79e-9; the gel slows it somewhat (both from memory).
var Diffusion = unit.Range{Low: 0.4e-9, Typical: 0.7e-9, High: 1.0e-9}

// Skin is the thickness in mm of the skin on a flat face after a time: a sharp
// front that must fill the alginate's sites as it goes,
// x = sqrt(2 D t supply/sites). Supply is the calcium that is offered and sites
// what the alginate binds, both in mmol/kg and above zero.
func Skin(t unit.Seconds, supply, sites float64) unit.Range {
	at := func(d float64) float64 { return math.Sqrt(2*d*float64(t)*supply/sites) * 1000 }
	return unit.Range{Low: at(Diffusion.Low), Typical: at(Diffusion.Typical), High: at(Diffusion.High)}
}

// SolidTime is how long a ball of a diameter in mm takes to set through, by the
// shrinking core: R²·sites / (6 D supply).
func SolidTime(diameter, supply, sites float64) unit.Range {
	r := diameter / 2000
	at := func(d float64) float64 { return r * r * sites / (6 * d * supply) }
	return unit.Range{Low: at(Diffusion.High), Typical: at(Diffusion.Typical), High: at(Diffusion.Low)}
}

// BallSkin is the thickness in mm of the skin of a ball after a time. In a ball
// the front speeds up towards the middle; when it has arrived, the ball is solid
// and the skin is its radius.
func BallSkin(diameter float64, t unit.Seconds, supply, sites float64) unit.Range {
	solid := SolidTime(diameter, supply, sites)
	at := func(end float64) float64 { return diameter / 2 * (1 - core(float64(t)/end)) }
	return unit.Range{Low: at(solid.High), Typical: at(solid.Typical), High: at(solid.Low)}
}

// core is the radius of the liquid middle over that of the ball at a share of
// the time to set through: 1 - 3y² + 2y³ = share.
func core(share float64) float64 {
	if share >= 1 {
		return 0
	}
	low, high := 0.0, 1.0
	for range 60 {
		y := (low + high) / 2
		if 1-3*y*y+2*y*y*y > share {
			low = y
		} else {
			high = y
		}
	}
	return (low + high) / 2
}
