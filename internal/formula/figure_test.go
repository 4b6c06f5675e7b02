package formula_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

func TestFigureBetween(t *testing.T) {
	for text, want := range map[string]note.Code{
		"": formula.FigureMissing, "  ": formula.FigureMissing, "x": formula.FigureBad, "1,2,3": formula.FigureTwoMarks,
		"9999999999999999": formula.FigureTooLarge, "0.5": formula.FigureLow, "-3": formula.FigureLow, "12,1": formula.FigureOver,
		"1": "", "3,5": "", "12": "",
	} {
		v, refused := formula.FigureBetween(text, 1, 12, unit.Gram)
		if want == "" {
			assert.Nil(t, refused, text)
			assert.Positive(t, v)
			continue
		}
		if assert.NotNil(t, refused, text) {
			assert.Equal(t, want, refused.Code, text)
			assert.Zero(t, v)
		}
	}
}

func TestCountBetween(t *testing.T) {
	for text, want := range map[string]note.Code{
		"": formula.FigureMissing, "0": "", "24": "", "24,0": "", "24,5": formula.FigureWhole, "0.5": formula.FigureWhole, "31": formula.FigureOver,
	} {
		_, refused := formula.CountBetween(text, 0, 30, unit.Charger)
		if want == "" {
			assert.Nil(t, refused, text)
		} else if assert.NotNil(t, refused, text) {
			assert.Equal(t, want, refused.Code, text)
		}
	}
}
