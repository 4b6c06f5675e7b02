package gel

import (
	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Sheets is an amount of leaf gelatin.
type Sheets struct {
	Count float64
	Grade agent.Word // key of agent.SheetGrades
	Grams unit.Mass  // mass of one sheet as weighed; 0 for the usual mass of that grade
}

// sheetPower spreads from the square-root law of gels to the proportional law
// that the sheets themselves follow.
var sheetPower = unit.Range{Low: 0.5, Typical: 0.5, High: 1}

func (s Sheets) resolve() (agent.SheetGrade, unit.Mass, []note.Note, error) {
	g, ok := agent.SheetByKey(s.Grade)
	if !ok {
		return g, 0, nil, note.Refuse("sheets", CodeSheetGrade, note.Typed("name", clip(string(s.Grade))))
	}
	if err := checkMass("sheets", s.Count); err != nil {
		return g, 0, nil, err
	}
	if s.Grams != 0 {
		return g, s.Grams, nil, checkMass("sheet-mass", float64(s.Grams))
	}
	n := note.New(note.Hint, CodeSheetMass, note.Word("grade", "sheet."+string(g.Key)), note.Num("mass", g.Grams.Typical, unit.Gram)).From(g.Grams.Ref())
	return g, unit.Mass(g.Grams.Typical), []note.Note{n}, nil
}

// SheetsToGrams is the mass of powder of a Bloom grade that sets as the sheets
// do. The two laws in use disagree; the range runs from one to the other.
func SheetsToGrams(s Sheets, bloom float64) (Regraded, error) {
	g, each, notes, err := s.resolve()
	if err != nil {
		return Regraded{}, err
	}
	gelatin := agent.Gelatin()
	if err := checkGrade(gelatin, bloom); err != nil {
		return Regraded{}, err
	}
	bloom = gradeOf(gelatin, bloom)
	r := powers(s.Count*float64(each), g.Bloom.Typical/bloom, sheetPower)
	notes = append(notes, note.New(note.Reason, CodeSheetLaws, note.Num("low", r.Low, unit.Gram), note.Num("high", r.High, unit.Gram)).From(g.Bloom.Ref()))
	return Regraded{Mass: r, Notes: notes}, nil
}

// GramsToSheets is how many sheets of a grade set as a mass of powder does; the
// Mass of the answer is a count. Count of the sheets given is ignored.
func GramsToSheets(m unit.Mass, bloom float64, s Sheets) (Regraded, error) {
	if err := checkMass("mass", float64(m)); err != nil {
		return Regraded{}, err
	}
	s.Count = 1
	one, err := SheetsToGrams(s, bloom)
	if err != nil {
		return Regraded{}, err
	}
	r := one.Mass
	one.Mass = unit.Range{Low: float64(m) / r.High, Typical: float64(m) / r.Typical, High: float64(m) / r.Low}
	return one, nil
}

// SheetsToSheets keeps the count: a sheet of any grade sets about the same
// liquid, as its mass makes up for its Bloom. A sheet of an unusual mass counts
// by its mass against the usual one.
func SheetsToSheets(s Sheets, to agent.Word) (float64, []note.Note, error) {
	g, each, notes, err := s.resolve()
	if err != nil {
		return 0, nil, err
	}
	if _, ok := agent.SheetByKey(to); !ok {
		return 0, nil, note.Refuse("sheets", CodeSheetGrade, note.Typed("name", clip(string(to))))
	}
	n := note.New(note.Reason, CodeSheetSame).From(g.Grams.Ref())
	return s.Count * float64(each) / g.Grams.Typical, append(notes, n), nil
}
