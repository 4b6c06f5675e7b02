package weigh

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// CodeSheetCut says that half sheets do not meet the tolerance: cut by weight.
const CodeSheetCut note.Code = "weigh.sheet-cut"

// SheetCount is a weight of leaf gelatin in sheets.
type SheetCount struct {
	Exact  float64       // sheets and parts of a sheet
	Halves int           // the nearest number of half sheets, at least one for any target above zero
	Off    unit.Fraction // what those halves miss the target by, as a signed share of it
	Notes  []note.Note
}

// Sheets counts target in sheets of a known weight each, to the half sheet that
// scissors can cut; a hint says when that misses the tolerance (0 means
// [DefaultTolerance]). The weight of a sheet is never assumed: it differs by
// grade and maker. Errors are *note.Refusal.
func Sheets(target, each unit.Mass, tol unit.Fraction) (SheetCount, error) {
	tol, err := checkTolerance(tol)
	if err != nil {
		return SheetCount{}, err
	}
	if err := checkMass("mass", target); err != nil {
		return SheetCount{}, err
	}
	if !usable(float64(each)) || each < 1e-3 || target/each > 1e6 {
		return SheetCount{}, note.Refuse("sheet", CodeBadMass)
	}
	c := SheetCount{Exact: float64(target / each)}
	if target == 0 {
		return c, nil
	}
	c.Halves = max(1, int(math.Round(c.Exact*2)))
	c.Off = unit.Fraction(float64(c.Halves)/2/c.Exact - 1)
	if math.Abs(float64(c.Off)) > float64(tol)+slack {
		c.Notes = append(c.Notes, note.New(note.Hint, CodeSheetCut, note.Num("mass", float64(target), unit.Gram),
			note.Num("off", math.Abs(c.Off.Percent()), unit.PercentOf)).From(toleranceSource))
	}
	return c, nil
}
