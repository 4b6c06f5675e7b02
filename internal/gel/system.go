package gel

import (
	"math"

	"tremblant/internal/unit"
)

// system is everything in a formula that sets: laws side by side. Its dose c is
// the whole formula's, in g per 100 g of mix, at fixed ratios.
type system struct {
	laws []law
	syn  []spreadLn // synergies of the pairs
}

// spreadLn is a ln factor with its deviations.
type spreadLn struct{ ln, down, up float64 }

// noLaw perturbs nothing.
const noLaw = -1

// lnG is ln of the modulus with one input perturbed: input p of law i, or, from
// len(laws) on, synergy i−len(laws) at its low (p = 1) or high (p = 2) end.
func (s *system) lnG(c float64, i, p int) float64 {
	if len(s.laws) == 1 {
		if i != 0 {
			return s.laws[0].lnG(c, typical) + s.synergy(&s.laws[0], i, p)
		}
		return s.laws[0].lnG(c, p) + s.synergy(&s.laws[0], noLaw, 0)
	}
	most := math.Inf(-1)
	var parts [maxDoses]float64
	for k := range s.laws {
		l := &s.laws[k]
		q := typical
		if k == i {
			q = p
		}
		parts[k] = l.lnG(c, q) + s.synergy(l, i, p)
		most = max(most, parts[k])
	}
	if math.IsInf(most, -1) {
		return most
	}
	sum := 0.0
	for _, v := range parts[:len(s.laws)] {
		sum += math.Exp(v - most)
	}
	return most + math.Log(sum)
}

func (s *system) synergy(l *law, i, p int) float64 {
	if l.syn < 0 {
		return 0
	}
	y := s.syn[l.syn]
	if i == len(s.laws)+l.syn {
		if p == 1 {
			return y.ln - y.down
		}
		return y.ln + y.up
	}
	return y.ln
}

// each calls f for every single perturbation that can change the answer.
func (s *system) each(f func(i, p int)) {
	for i := range s.laws {
		for p := typical + 1; p < perturbations; p++ {
			if !s.laws[i].skips(p) {
				f(i, p)
			}
		}
	}
	for y := range s.syn {
		f(len(s.laws)+y, 1)
		f(len(s.laws)+y, 2)
	}
}

// band is the modulus with its range; all zero below the critical dose. A low
// of zero says that it may not set at all.
func (s *system) band(c float64) unit.Range {
	mid := s.lnG(c, noLaw, 0)
	var d spread
	loose := false
	s.each(func(i, p int) {
		v := s.lnG(c, i, p)
		switch {
		case math.IsInf(v, -1):
			loose = true
		case !math.IsInf(mid, -1):
			d.deviate(v - mid)
		}
	})
	if math.IsInf(mid, -1) {
		return unit.Range{}
	}
	r := unit.Range{Low: math.Exp(mid - math.Sqrt(d.down2)), Typical: math.Exp(mid), High: math.Exp(mid + math.Sqrt(d.up2))}
	if loose {
		r.Low = 0
	}
	return r
}

// dose is the formula dose with a modulus of exp(target), where the target is
// itself uncertain: its deviations are counted in.
func (s *system) dose(target spreadLn) unit.Range {
	mid := s.solve(target.ln, noLaw, 0)
	base := math.Log(mid)
	var d spread
	s.each(func(i, p int) { d.deviate(math.Log(s.near(mid, target.ln, i, p)) - base) })
	if target.down > 0 {
		d.deviate(math.Log(s.near(mid, target.ln-target.down, noLaw, 0)) - base)
	}
	if target.up > 0 {
		d.deviate(math.Log(s.near(mid, target.ln+target.up, noLaw, 0)) - base)
	}
	return unit.Range{Low: mid * math.Exp(-math.Sqrt(d.down2)), Typical: mid, High: mid * math.Exp(math.Sqrt(d.up2))}
}

// near is [system.solve] with a dose that the answer is not far from.
func (s *system) near(c, lnG float64, i, p int) float64 {
	if s.closed() {
		return s.solve(lnG, i, p)
	}
	f := func(u float64) float64 { return s.lnG(math.Exp(u), i, p) - lnG }
	mid := math.Log(c)
	for width := 0.4; width < 6; width *= 3 {
		low, high := mid-width, mid+width
		if fl, fh := f(low), f(high); fl < 0 && fh > 0 {
			return math.Exp(root(f, low, high, fl, fh, rangeTolerance))
		}
	}
	return s.solve(lnG, i, p)
}

// closed reports whether the law can be turned round in closed form.
func (s *system) closed() bool { return len(s.laws) == 1 && s.laws[0].ions == nil }

// solve finds the dose for a ln modulus. The modulus rises with the dose, so
// the root is single; the closed form serves a single law.
func (s *system) solve(lnG float64, i, p int) float64 {
	if s.closed() {
		l := &s.laws[0]
		q := typical
		if i == 0 {
			q = p
		}
		return l.solve(lnG-s.synergy(l, i, p), q)
	}
	f := func(u float64) float64 { return s.lnG(math.Exp(u), i, p) - lnG }
	low, high := math.Log(1e-6), math.Log(1e4)
	return math.Exp(root(f, low, high, f(low), f(high), doseTolerance))
}

// How exactly ln of the modulus is met: the dose itself, and the ends of its range.
const doseTolerance, rangeTolerance = 1e-9, 1e-6

// root finds where a rising function crosses zero: halving while an end is
// infinite, then regula falsi with the Illinois correction (Dowell & Jarratt,
// BIT 11 (1971) 168).
func root(f func(float64) float64, low, high, fl, fh, tolerance float64) float64 {
	if fl >= 0 {
		return low
	}
	if fh <= 0 {
		return high
	}
	side := 0
	for range 100 {
		x := (low + high) / 2
		if !math.IsInf(fl, 0) && high-low < 3 {
			x = (low*fh - high*fl) / (fh - fl)
		}
		v := f(x)
		if math.Abs(v) < tolerance || high-low < 1e-12 {
			return x
		}
		if v < 0 {
			low, fl = x, v
			if side == -1 {
				fh /= 2
			}
			side = -1
		} else {
			high, fh = x, v
			if side == 1 && !math.IsInf(fl, 0) {
				fl /= 2
			}
			side = 1
		}
	}
	return (low + high) / 2
}
