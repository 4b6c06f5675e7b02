package liquid

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Stability of calcium with citrate and phosphate at ionic strength 0 and 25 °C,
// log K (MINTEQA2 version 4).
const (
	logCaCit   = 4.87           // Ca + Cit3-
	logCaHCit  = 9.26 - 6.396   // Ca + HCit2-
	logCaH2Cit = 12.26 - 11.157 // Ca + H2Cit-
	logCaHPO4  = 15.04 - 12.375 // Ca + HPO4 2-
)

// Milk calcium: the part dissolved at milk's own pH (Fox & McSweeney), all of it
// by pH 5 (from memory).
const (
	milkDissolved = 0.34
	milkPH        = 6.6
	milkAllPH     = 5.0
)

// freeCalcium is the calcium, mmol/kg, that is neither in milk's colloid, nor an
// insoluble oxalate, nor held by citrate or phosphate. It is a rough figure: the
// range is a factor 0.7 to 1.3 beyond those of pH and calcium.
func (l *Liquid) freeCalcium(pH, total unit.Range) unit.Range {
	a := l.Parts()
	at := func(ph, share float64) float64 {
		return l.freeCalciumAt(&a, ph) * share
	}
	typical := at(pH.Typical, 1)
	rel := 1.0
	if total.Typical > 0 {
		rel = total.Low / total.Typical
	}
	low := min(typical, at(pH.High, 0.7), at(pH.Low, 0.7)) * rel
	up := 1.0
	if total.Typical > 0 {
		up = total.High / total.Typical
	}
	high := max(typical, at(pH.Low, 1.3), at(pH.High, 1.3)) * up
	return unit.Range{Low: low, Typical: typical, High: min(max(typical, high), max(typical, total.High))}
}

// dissolvedCalcium is mol of calcium outside the milk colloid and outside oxalate.
func (l *Liquid) dissolvedCalcium(a *Amounts, pH float64) float64 {
	milk, other := 0.0, 0.0
	for i := range l.portions {
		p := &l.portions[i]
		if p.parts[DairyProtein] > 0 {
			milk += p.parts[Calcium] / molarCalcium
		} else {
			other += p.parts[Calcium] / molarCalcium
		}
	}
	share := milkDissolved + (1-milkDissolved)*min(1, max(0, (milkPH-pH)/(milkPH-milkAllPH)))
	bound := 0.0
	if pH > 3 {
		bound = a[Oxalic] / acids[OxalicAcid].molar
	}
	return max(0, milk*share+other-bound)
}

func (l *Liquid) freeCalciumAt(a *Amounts, pH float64) float64 {
	kg := a[Water] / 1000
	ca := l.dissolvedCalcium(a, pH)
	if ca <= 0 || kg <= 0 {
		return 0
	}
	citrate := a[Citric] / acids[CitricAcid].molar / kg
	phosphate := a[Phosphate] / acids[PhosphoricAcid].molar / kg
	if a[DairyProtein] > 0 {
		phosphate *= milkDissolved // the rest is in the colloid with its calcium
	}
	k := bindingOf(pH, 0.1)
	free := bisect(0, ca/kg, func(x float64) float64 {
		held := citrate*k.citrate*x/(1+k.citrate*x) + phosphate*k.phosphate*x/(1+k.phosphate*x)
		return x + held - ca/kg
	})
	return free * kg / a.Mass() * 1e6
}

// binding is the apparent constants of calcium with all citrate and all
// phosphate, kg/mol, at a pH.
type binding struct{ citrate, phosphate float64 }

// bindingOf computes apparent constants at a pH and ionic strength (Davies).
func bindingOf(pH, ionic float64) binding {
	s := Solution{T: 25}
	s.Acid[CitricAcid], s.Acid[PhosphoricAcid] = 1, 1
	s.prepare()
	g := s.activities(ionic)
	h := exp10(-pH)
	cit := s.shares(CitricAcid, h, &g)
	pho := s.shares(PhosphoricAcid, h, &g)
	pair := func(logK float64, z int) float64 { // Ca2+ with an anion of charge -z
		return exp10(logK) * g[2] * g[z] / g[abs(2-z)]
	}
	return binding{
		citrate:   cit[3]*pair(logCaCit, 3) + cit[2]*pair(logCaHCit, 2) + cit[1]*pair(logCaH2Cit, 1),
		phosphate: pho[2] * pair(logCaHPO4, 2),
	}
}

// shares are the shares of the species of an acid, most protonated first.
func (s *Solution) shares(a Acid, h float64, g *activities) [4]float64 {
	out := [4]float64{1}
	sum, weight, z := 1.0, 1.0, int(acids[a].charge)
	for i := range acids[a].pKa {
		weight *= s.k.ka[a][i] / h * g[abs(z)] / g[abs(z-1)]
		z--
		out[i+1] = weight
		sum += weight
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}

// Hardness is a water hardness in mmol/l of calcium and magnesium together.
type Hardness float64

// HardnessUnit is a unit that water works print.
type HardnessUnit uint8

// The units of hardness.
const (
	MmolPerLitre  HardnessUnit = iota
	MgCaCO3                    // mg/l as calcium carbonate, the same as ppm
	GermanDegree               // °dH
	FrenchDegree               // °fH
	EnglishDegree              // °e, Clark
	GrainPerUSGal              // gpg
	MgCalcium                  // mg/l of calcium alone
	numHardnessUnits
)

// perMmol is how much of each unit one mmol/l is (computed from molar masses and
// the units' definitions).
var perMmol = [numHardnessUnits]float64{1, 100.09, 5.608, 10.009, 7.022, 5.847, 40.078}

// HardnessOf reads a hardness in a unit; 0 to 20 mmol/l.
func HardnessOf(x float64, u HardnessUnit) (Hardness, error) {
	if u >= numHardnessUnits {
		return 0, note.Refuse("unit", CodeBadHardness, note.Num("value", finiteOr0(x), unit.One), note.Num("limit", 20, unit.One))
	}
	h := x / perMmol[u]
	if !unit.Finite(h) || h < 0 || h > 20 {
		return 0, note.Refuse("hardness", CodeBadHardness, note.Num("value", finiteOr0(x), unit.One), note.Num("limit", 20*perMmol[u], unit.One))
	}
	return Hardness(h), nil
}

// In is the hardness in a unit; 0 for an unknown one.
func (h Hardness) In(u HardnessUnit) float64 {
	if u >= numHardnessUnits {
		return 0
	}
	return float64(h) * perMmol[u]
}

// HardnessClass is a class of the US Geological Survey.
type HardnessClass uint8

// The classes: 0-60, 61-120, 121-180 and over 180 mg/l as calcium carbonate.
const (
	Soft HardnessClass = iota
	ModeratelyHard
	Hard
	VeryHard
)

// Class is the hardness's class. Other bodies cut at 75, 150 and 300.
func (h Hardness) Class() HardnessClass {
	x := h.In(MgCaCO3)
	switch {
	case x <= 60:
		return Soft
	case x <= 120:
		return ModeratelyHard
	case x <= 180:
		return Hard
	}
	return VeryHard
}

// TapWater is tap water of a total hardness and an alkalinity in mmol/l of
// bicarbonate (negative: taken as 80 % of the hardness charge, a rule of thumb),
// three quarters of the hardness as calcium.
func TapWater(h Hardness, alkalinity float64) (Ingredient, error) {
	x := float64(h)
	if !unit.Finite(x) || x < 0 || x > 20 || !unit.Finite(alkalinity) || alkalinity > 40 {
		return Ingredient{}, note.Refuse("hardness", CodeBadHardness, note.Num("value", finiteOr0(x), unit.One), note.Num("limit", 20, unit.One))
	}
	if alkalinity < 0 {
		alkalinity = 1.6 * x
	}
	g, _ := ByID("tap-water-medium")
	g.Aliases = ""
	ca, mag := 0.75*x, 0.25*x
	g.Per100[Calcium] = float32(ca * molarCalcium / 1e4)
	g.Per100[Magnesium] = float32(mag * molarMagnesium / 1e4)
	g.Per100[Carbonic] = float32(alkalinity * 1.07 * acids[CarbonicAcid].molar / 1e4)
	g.Per100[Ash] = float32(min(1, 0.01+0.008*x))
	g.Per100[Water] = 99.9
	g.SID = float32(alkalinity / 10)
	return g, nil
}
