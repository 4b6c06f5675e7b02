package gel

import (
	"math"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// What each gel-strength test is, by its published definition.
const (
	// BloomGelFraction: 7.5 g of gelatin in 105 g of water (ISO 9665; AOAC; GMIA).
	BloomGelFraction unit.Fraction = 7.5 / 112.5
	// BloomPunchRadius is half of the ½ inch punch, in mm; BloomDepth how far it is pushed, in mm.
	BloomPunchRadius = 6.35
	BloomDepth       = 4.0
	// SAGSolids: the test jelly has 65 % solids (IFT, Food Technol. 13 (1959) 496).
	SAGSolids unit.Fraction = 0.65
	// StandardSag is the sag of a standard jelly, in per cent of its height
	// (Nielsen, Marr & Hvidt, Carbohydrate Polymers 45 (2001) 395).
	StandardSag = 23.5
	// The sag test is usable between these, in per cent (from memory).
	minSag, maxSag = 19.0, 28.0
	// Gravity in m/s² (ISO 80000-3, standard acceleration of free fall).
	gravity = 9.80665
)

// gradeLimits are the labels that can be real, wider than what is usually sold.
var gradeLimits = [...]struct {
	low, high float64
	symbol    unit.Symbol
}{
	agent.Bloom:       {50, 350, unit.Bloom},
	agent.GelStrength: {200, 1800, unit.One},
	agent.SAG:         {50, 400, unit.One},
}

func checkGrade(a *agent.Agent, grade float64) error {
	if grade == 0 {
		return nil
	}
	if a.Grade.Kind == agent.NoGrade {
		return note.Refuse("grade", CodeGradeNone, agentArg(a.ID))
	}
	lim := gradeLimits[a.Grade.Kind]
	if !unit.Finite(grade) || grade < lim.low || grade > lim.high {
		return note.Refuse("grade", CodeGradeRange, agentArg(a.ID), note.Num("grade", grade, lim.symbol),
			note.Num("low", lim.low, lim.symbol), note.Num("high", lim.high, lim.symbol))
	}
	return nil
}

// checkMass refuses a mass or count that is not positive and finite.
func checkMass(field string, m float64) error {
	if !unit.Finite(m) || m <= 0 || m > unit.MaxFigure {
		return note.Refuse(field, CodeNotPositive, note.Num("value", m, unit.One))
	}
	return nil
}

// SquareRootLaw converts a mass of gelatin between Bloom grades with the
// quantity mass × √Bloom constant (GMIA Gelatin Handbook, from memory).
func SquareRootLaw(m unit.Mass, from, to float64) (unit.Mass, error) {
	return bloomLaw(m, from, to, 0.5)
}

// ProportionalLaw converts with mass × Bloom constant, as pastry pages do and
// as sheet weights follow (Lersch, Texture, release note of version 2.1).
func ProportionalLaw(m unit.Mass, from, to float64) (unit.Mass, error) {
	return bloomLaw(m, from, to, 1)
}

func bloomLaw(m unit.Mass, from, to, power float64) (unit.Mass, error) {
	if err := checkMass("mass", float64(m)); err != nil {
		return 0, err
	}
	gelatin := agent.Gelatin()
	for _, g := range [...]float64{from, to} {
		if g == 0 {
			return 0, note.Refuse("grade", CodeNotPositive, note.Num("value", 0, unit.Bloom))
		}
		if err := checkGrade(gelatin, g); err != nil {
			return 0, err
		}
	}
	return unit.Mass(float64(m) * math.Pow(from/to, power)), nil
}

// Regraded is a mass that does the work of another grade's.
type Regraded struct {
	Mass  unit.Range // g
	Notes []note.Note
}

// Regrade converts a mass of an agent from one grade to another: grams × grade^p
// is constant, with the agent's p (gelatin about ½, agar about 1/1.8, pectin
// exactly 1). A grade of 0 is the reference grade.
func Regrade(id agent.ID, m unit.Mass, from, to float64) (Regraded, error) {
	a := agent.ByID(id)
	if a == nil {
		return Regraded{}, unknownAgent(string(id))
	}
	if err := checkMass("mass", float64(m)); err != nil {
		return Regraded{}, err
	}
	for _, g := range [...]float64{from, to} {
		if err := checkGrade(a, g); err != nil {
			return Regraded{}, err
		}
	}
	if a.Grade.Kind == agent.NoGrade {
		return Regraded{Mass: unit.Exactly(float64(m))}, nil
	}
	from, to = gradeOf(a, from), gradeOf(a, to)
	r := powers(float64(m), from/to, a.Grade.Power.Range())
	n := note.New(note.Reason, CodeRegraded, agentArg(id), note.Num("from", from, gradeLimits[a.Grade.Kind].symbol),
		note.Num("to", to, gradeLimits[a.Grade.Kind].symbol), note.Num("power", a.Grade.Power.Typical, unit.One)).From(a.Grade.Power.Ref())
	return Regraded{Mass: r, Notes: []note.Note{n}}, nil
}

// powers is m·ratio^p for the three powers, in ascending order.
func powers(m, ratio float64, p unit.Range) unit.Range {
	a, b := m*math.Pow(ratio, p.Low), m*math.Pow(ratio, p.High)
	return unit.Range{Low: min(a, b), Typical: m * math.Pow(ratio, p.Typical), High: max(a, b)}
}
