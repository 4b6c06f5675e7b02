package formula

import (
	"errors"
	"math"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// FigureBetween reads a typed figure between two limits, which are in u. The
// refusal has no field; an empty text is refused as missing.
func FigureBetween(text string, low, high float64, u unit.Symbol) (float64, *note.Refusal) {
	v, err := unit.ParseFigure(text)
	switch {
	case errors.Is(err, unit.ErrEmpty) && strings.TrimSpace(text) == "":
		return 0, note.Refuse("", FigureMissing)
	case err != nil:
		return 0, note.Refuse("", codeOf(err))
	case v < low:
		return 0, note.Refuse("", FigureLow, note.Num("low", low, u), note.Num("high", high, u))
	case v > high:
		return 0, note.Refuse("", FigureOver, note.Num("limit", high, u))
	}
	return v, nil
}

// CountBetween reads a whole number of things between two limits, which are in u. What is
// no whole number is refused with the two beside it.
func CountBetween(text string, low, high float64, u unit.Symbol) (float64, *note.Refusal) {
	v, refused := FigureBetween(text, low, high, u)
	if refused == nil && v != math.Trunc(v) {
		below := math.Floor(v)
		return 0, note.Refuse("", FigureWhole, note.Num("below", below, unit.One), note.Num("above", below+1, unit.One))
	}
	return v, refused
}

// SheetMass reads the mass of one sheet of gelatin, in grams.
func SheetMass(text string) (float64, *note.Refusal) {
	v, refused := FigureBetween(text, MinSheetMass, MaxSheetMass, unit.Gram)
	if refused != nil && refused.Code == FigureOver {
		refused.Code = FigureSheet
	}
	return v, refused
}
