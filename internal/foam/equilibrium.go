package foam

import (
	"math"

	"tremblant/internal/unit"
)

// system is a closed siphon in SI units: what the equations of the package
// documentation need and nothing else.
type system struct {
	t      unit.Celsius
	mass   float64 // base, kg
	rho    float64 // base, kg/m³
	volume float64 // brim, m³
	water  float64 // mol/(kg base · Pa) that the water phase takes
	fat    float64 // mol/(kg base · Pa) that the fat takes
	air    float64 // mol of air locked in
	rt, b  float64 // J/mol, m³/mol
	top    float64 // Pa: the partial pressure up to which the model is used
}

// newSystem is a siphon of brim m³ closed at t over mass kg of a base that
// takes water + fat mol/(kg Pa).
func newSystem(t unit.Celsius, brim, mass, rho, water, fat float64) system {
	s := system{mass: mass, rho: rho, volume: brim, water: water, fat: fat}
	s.at(t)
	s.air = atmosphere * s.headspace() / s.rt
	return s
}

// headspace in m³.
func (s *system) headspace() float64 {
	if s.mass == 0 {
		return s.volume
	}
	return s.volume - s.mass/s.rho
}

func (s *system) airPressure() float64 { return s.air * s.rt / s.headspace() }

// gauge is the pressure above one atmosphere at a partial pressure p of N2O.
func (s *system) gauge(p float64) float64 { return p + s.airPressure() - atmosphere }

// perKg is what a kilogram of base holds, in mol, under p of N2O and other Pa
// of air.
func (s *system) perKg(p, other float64) float64 {
	f := p * math.Exp(s.b*p/s.rt)
	return f * (s.water*math.Exp(partialMolarVolume*(atmosphere-p-other)/s.rt) + s.fat)
}

// inHead is the gas in the headspace in mol.
func (s *system) inHead(p float64) float64 { return p * s.headspace() / (s.rt + s.b*p) }

// at sets what depends on the temperature alone. The model is used up to the
// pressure at which N2O turns liquid, or 100 bar above its critical temperature.
func (s *system) at(t unit.Celsius) {
	s.t = t
	s.rt = gasConstant * t.Kelvin()
	s.b = SecondVirial(t) * 1e-6
	s.top = 100e5
	if p, exists := vapourPressure(t); exists {
		s.top = p
	}
}

// settle finds the partial pressure at which n mol are spread over headspace and
// base. What does not fit below the highest pressure is returned as excess: it
// would be liquid N2O.
func (s *system) settle(n float64) (p, excess float64) {
	other := s.airPressure()
	total := func(p float64) float64 { return s.inHead(p) + s.mass*s.perKg(p, other) }
	// The ideal form p = n/(V/RT + m·k) is within a few per cent: a narrow bracket.
	near := 1.2 * n / (s.headspace()/s.rt + s.mass*(s.water+s.fat))
	if near < s.top && total(near) > n {
		return solveRising(total, n, near), 0
	}
	if most := total(s.top); n >= most {
		return s.top, n - most
	}
	return solveRising(total, n, s.top), 0
}

// solveRising finds x in [0, top] where the rising function f, 0 at 0, reaches
// target: bisection, made quicker by the chord where the chord does better
// (Illinois rule). The bracket never opens, so it cannot fail.
func solveRising(f func(float64) float64, target, top float64) float64 {
	if target <= 0 {
		return 0
	}
	lo, hi := 0.0, top
	fLo, fHi := -target, f(top)-target
	side := 0
	for i := 0; i < 200 && hi-lo > 1e-15*hi; i++ {
		x := (lo*fHi - hi*fLo) / (fHi - fLo)
		if !(x > lo && x < hi) || i%8 == 7 {
			x = lo + (hi-lo)/2
		}
		fx := f(x) - target
		if math.Abs(fx) <= 1e-14*target {
			return x
		}
		if fx < 0 {
			lo, fLo = x, fx
			if side == -1 {
				fHi /= 2
			}
			side = -1
		} else {
			hi, fHi = x, fx
			if side == 1 {
				fLo /= 2
			}
			side = 1
		}
	}
	return lo + (hi-lo)/2
}

// bound is the largest overrun that the gas in the base can blow when it comes
// out at p into one atmosphere, in parts of one: litres of gas per litre of base.
func (s *system) bound(p, other float64) float64 {
	left := s.perKg(atmosphere, 0)
	return max(0, (s.perKg(p, other)-left)*s.rt*s.rho/atmosphere)
}

// drain lets the base out in equal steps, the rest shaken to equilibrium all the
// while, by the fourth-order Runge-Kutta rule on the moles left. It calls visit
// at the start and after every step with the share dispensed and the moles left.
func (s *system) drain(n float64, steps int, visit func(out, n float64, now *system)) {
	start := s.mass
	now := *s
	flow := func(out, n float64) float64 {
		now.mass = start * (1 - out)
		p, _ := now.settle(max(n, 0))
		return -start * now.perKg(p, now.airPressure())
	}
	h := 1 / float64(steps)
	visit(0, n, &now)
	for i := range steps {
		out := float64(i) * h
		k1 := flow(out, n)
		k2 := flow(out+h/2, n+h/2*k1)
		k3 := flow(out+h/2, n+h/2*k2)
		k4 := flow(out+h, n+h*k3)
		n = max(0, n+h/6*(k1+2*k2+2*k3+k4))
		now.mass = start * (1 - float64(i+1)/float64(steps))
		visit(float64(i+1)/float64(steps), n, &now)
	}
}

// meanBound is the bound of [system.bound] averaged over the whole siphonful,
// from the gas that left with the base. Few steps do: the flow is smooth.
func (s *system) meanBound(n float64, steps int) float64 {
	left := n
	s.drain(n, steps, func(_, n float64, _ *system) { left = n })
	if s.mass == 0 {
		return 0
	}
	mean := (n - left) / s.mass
	return max(0, (mean-s.perKg(atmosphere, 0))*s.rt*s.rho/atmosphere)
}

// coarseSteps is how many steps of [system.meanBound] are within 0.1 %.
const coarseSteps = 4

// warmed is the same closed siphon at another temperature: the air stays, the
// base swells as water does, and takes what it takes there.
func (s *system) warmed(t unit.Celsius, water, fat float64) system {
	w := *s
	w.water, w.fat = water, fat
	w.rho = s.rho * float64(waterDensity(t)/waterDensity(s.t))
	w.at(t)
	return w
}
