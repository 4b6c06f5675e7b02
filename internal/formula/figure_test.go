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
