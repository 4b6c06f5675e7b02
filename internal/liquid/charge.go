package liquid

import (
	"math"

	"tremblant/internal/unit"
)

// Solution is what decides a pH: molalities per kg of water.
type Solution struct {
	T       unit.Celsius      // temperature at which the pH is wanted
	SID     float64           // strong-ion difference, eq/kg water
	Alkali  float64           // sodium + potassium, mol/kg water: only for the ionic strength
	Acid    [NumAcids]float64 // mol/kg water
	present [NumAcids]Acid    // the acids that are there, the first n
	n       int
	k       *constants
}

// constants are the dissociation constants at one temperature.
type constants struct {
	t  unit.Celsius
	ka [NumAcids][3]float64
	kw float64
	a  float64 // Debye-Hückel slope
}

// at25 serves the temperature at which all catalogue figures hold.
var at25 = constantsAt(25)

func constantsAt(t unit.Celsius) *constants {
	k := &constants{t: t, kw: exp10(-pKw(t)), a: daviesA(t)}
	for a := range NumAcids {
		for i, pk := range acids[a].pKa {
			k.ka[a][i] = exp10(-shiftPK(pk, acids[a].heat[i], t))
		}
	}
	return k
}

// exp10 is ten to a power, quicker than math.Pow.
func exp10(x float64) float64 { return math.Exp(x * math.Ln10) }

// Equilibrium is the solved charge balance.
type Equilibrium struct {
	PH     float64
	Ionic  float64 // ionic strength, mol/kg water, before the cap
	Capped bool    // the ionic strength lay above IonicCap: the activities are those at the cap
}

// IonicCap is the ionic strength, mol/kg, beyond which the Davies equation is
// not followed: it holds to about 0.5 mol/kg.
const IonicCap = 0.6

// The pH between which a root is looked for. A charge balance that has none
// here is no kitchen liquid.
const (
	lowestPH  = -2
	highestPH = 16
)

const gasConstant = 8.314462618e-3 // kJ/(mol K), CODATA 2018

// daviesA is the Debye-Hückel slope in √(kg/mol): the parabola through 0.494
// at 5, 0.5092 at 25 and 0.545 at 60 °C (from memory).
func daviesA(t unit.Celsius) float64 {
	x := float64(t) - 25
	return 0.5092 + x*8.5619e-4 + x*x*4.8095e-6
}

// pKw is the ion product of water: 13.995 at 25 °C, enthalpy 55.8 kJ/mol, heat
// capacity -0.2 kJ/(mol K) (from memory; 14.73 at 5 and 13.02 at 60 °C).
func pKw(t unit.Celsius) float64 {
	k, ref := t.Kelvin(), unit.Celsius(25).Kelvin()
	cp := -0.2 / (math.Ln10 * gasConstant) * (ref/k - 1 + math.Log(k/ref))
	return shiftPK(13.995, 55.8, t) - cp
}

// shiftPK is the van 't Hoff shift of a pK at 25 °C by an enthalpy in kJ/mol.
func shiftPK(pk, heat float64, t unit.Celsius) float64 {
	return pk + heat/(math.Ln10*gasConstant)*(1/t.Kelvin()-1/unit.Celsius(25).Kelvin())
}

// prepare picks the acids that are there and the constants of the temperature.
func (s *Solution) prepare() {
	switch {
	case s.k != nil && s.k.t == s.T:
	case s.T == 25:
		s.k = at25
	default:
		s.k = constantsAt(s.T)
	}
	s.n = 0
	for a := range NumAcids {
		if s.Acid[a] > 0 {
			s.present[s.n] = a
			s.n++
		}
	}
}

// activities are the coefficients of ions of charge 0 to 4 by Davies (1962):
// log γ = -A z² (√I/(1+√I) - 0.3 I).
type activities [5]float64

func (s *Solution) activities(ionic float64) activities {
	i := min(ionic, IonicCap)
	root := math.Sqrt(i)
	unitLog := -s.k.a * (root/(1+root) - 0.3*i)
	g1 := exp10(unitLog)
	g4 := g1 * g1 * g1 * g1
	return activities{1, g1, g4, g4 * g4 * g1, g4 * g4 * g4 * g4}
}

// balance is the sum of all charges at a pH, its slope against pH (negative)
// and the sum of m z² of the small acids' ions.
func (s *Solution) balance(pH float64, g *activities) (charge, slope, squares float64) {
	h := exp10(-pH)
	hydrogen, hydroxide := h/g[1], s.k.kw/h/g[1]
	charge = s.SID + hydrogen - hydroxide
	spread := hydrogen + hydroxide
	squares = spread
	for _, a := range s.present[:s.n] {
		mean, square := s.meanCharge(a, h, g)
		m := s.Acid[a]
		charge += m * mean
		spread += m * (square - mean*mean)
		if !acids[a].group {
			squares += m * square
		}
	}
	return charge, -math.Ln10 * spread, squares
}

// meanCharge is the mean charge and mean squared charge of an acid.
func (s *Solution) meanCharge(a Acid, h float64, g *activities) (mean, square float64) {
	z := int(acids[a].charge)
	weight, sum := 1.0, 1.0
	mean, square = float64(z), float64(z*z)
	ka := &s.k.ka[a]
	for i := range acids[a].pKa {
		weight *= ka[i] / h * g[abs(z)] / g[abs(z-1)]
		z--
		sum += weight
		mean += weight * float64(z)
		square += weight * float64(z*z)
	}
	return mean / sum, square / sum
}

// ionic is the ionic strength for a sum of m z² of acids, H and OH: strong ions
// are the difference and twice the chloride that sodium and potassium leave over.
func (s *Solution) ionic(squares float64) float64 {
	return 0.5 * (math.Abs(s.SID) + 2*max(0, s.Alkali-s.SID) + squares)
}

// Solve finds the pH at which the charges cancel, with the ionic strength fed
// back: by plain Newton steps, or where those do not settle, by steps kept
// inside a bracket that is halved whenever they leave it. ok is false when no pH between -2 and 16 does.
func (s *Solution) Solve() (e Equilibrium, ok bool) { return s.solveNear(5) }

// solveNear is Solve from a guess.
func (s *Solution) solveNear(pH float64) (e Equilibrium, ok bool) {
	s.prepare()
	ionic := s.ionic(0)
	g := s.activities(ionic)
	if low, _, _ := s.balance(lowestPH, &g); !(low > 0) {
		return Equilibrium{}, false
	}
	if high, _, _ := s.balance(highestPH, &g); !(high < 0) {
		return Equilibrium{}, false
	}
	if e, ok := s.newton(pH, ionic); ok {
		return e, true
	}
	for range 60 {
		var squares float64
		pH, squares = s.root(pH, &g)
		next := s.ionic(squares)
		done := math.Abs(next-ionic) < 1e-9
		ionic = next
		if done {
			break
		}
		g = s.activities(ionic)
	}
	return Equilibrium{PH: pH, Ionic: ionic, Capped: ionic > IonicCap}, true
}

// newton moves pH and ionic strength together; most liquids are done in a few
// steps so. ok is false when it does not settle: then the safe way is taken.
func (s *Solution) newton(pH, ionic float64) (e Equilibrium, ok bool) {
	g := s.activities(ionic)
	for range 15 {
		charge, slope, squares := s.balance(pH, &g)
		step := max(-1.5, min(1.5, -charge/slope))
		next := s.ionic(squares)
		if math.Abs(step) < 1e-8 && math.Abs(next-ionic) < 1e-8 {
			return Equilibrium{PH: pH, Ionic: next, Capped: next > IonicCap}, pH > lowestPH && pH < highestPH
		}
		pH += step
		ionic = next
		g = s.activities(ionic)
	}
	return Equilibrium{}, false
}

// root finds the pH at fixed activities, starting from a guess.
func (s *Solution) root(pH float64, g *activities) (at, squares float64) {
	low, high := float64(lowestPH), float64(highestPH)
	for range 200 {
		charge, slope, sq := s.balance(pH, g)
		squares = sq
		if charge > 0 {
			low = pH
		} else {
			high = pH
		}
		next := pH - charge/slope
		if !(next > low && next < high) {
			next = 0.5 * (low + high)
		}
		moved := math.Abs(next - pH)
		pH = next
		if moved < 1e-8 {
			break
		}
	}
	return pH, squares
}

// SIDAt is the strong-ion difference, eq/kg water, that makes this solution's
// acids agree with a pH; s.SID is not used.
func (s *Solution) SIDAt(pH float64) float64 {
	s.prepare()
	s.SID = 0
	ionic := 0.05
	for range 60 {
		g := s.activities(ionic)
		charge, _, squares := s.balance(pH, &g)
		s.SID -= charge
		next := s.ionic(squares)
		done := math.Abs(next-ionic) < 1e-10
		ionic = next
		if done {
			break
		}
	}
	return s.SID
}

// chargeAt is the mean charge of the acids per kg of water at a pH, without the
// strong ions: what a base must bring, with its sign turned, to reach that pH.
func (s *Solution) chargeAt(pH, ionic float64) float64 {
	s.prepare()
	g := s.activities(ionic)
	charge, _, _ := s.balance(pH, &g)
	return charge - s.SID
}

// solution makes the charge balance of some amounts with a strong-ion
// difference in eq. It needs water; ok is false below 1 mg or 1 % of it.
func (a *Amounts) solution(sid float64, k *constants) (s Solution, ok bool) {
	if a[Water] < 1e-3 || a[Water] < leastWater*a.Mass() {
		return Solution{}, false
	}
	perKg := 1000 / a[Water]
	s = Solution{T: k.t, k: k, SID: sid * perKg}
	s.Alkali = perKg * (a[Sodium]/molarSodium + a[Potassium]/molarPotassium)
	for c := range NumConstituents {
		if acid, isAcid := acidOf(c); isAcid && a[c] > 0 {
			s.Acid[acid] = perKg * a[c] / acids[acid].molar
		}
	}
	for _, g := range proteinGroups {
		m := perKg * max(0, a[g.protein]) / 1000
		s.Acid[Carboxyl] += m * g.carboxyl
		s.Acid[Imidazole] += m * g.imidazole
		s.Acid[Amino] += m * g.amino
		s.Acid[Colloid] += m * g.colloid
	}
	return s, true
}

// leastWater is the part of the mass below which a liquid has no pH to speak of.
const leastWater = 0.01

func abs(z int) int {
	if z < 0 {
		return -z
	}
	return z
}
