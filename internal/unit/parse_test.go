package unit_test

import (
	"errors"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/unit"
)

func TestParseFigure(t *testing.T) {
	for _, c := range []struct {
		in   string
		want float64
	}{
		{"0", 0}, {"12", 12}, {"1,5", 1.5}, {"1.5", 1.5}, {",5", 0.5}, {".5", 0.5}, {"1,", 1},
		{"1.234", 1.234}, {"1.234,5", 1234.5}, {"1,234.5", 1234.5}, {"1.234.567,5", 1234567.5},
		{"1 500", 1500}, {"1\u202f500", 1500}, {"1'500,5", 1500.5}, {"-2", -2}, {"\u22122", -2}, {"+3", 3},
		{" 7 ", 7}, {"１２", 12}, {"٣٫٥", 3.5},
		{"1/2", 0.5}, {"1 1/2", 1.5}, {"½", 0.5}, {"1½", 1.5}, {"2 ¼", 2.25},
	} {
		got, err := unit.ParseFigure(c.in)
		require.NoError(t, err, "%q", c.in)
		assert.InDelta(t, c.want, got, 1e-12*max(1, c.want), "%q", c.in)
	}
}

func TestParseFigureRefuses(t *testing.T) {
	for _, c := range []struct {
		in  string
		err error
	}{
		{"", unit.ErrEmpty}, {"  \u00a0", unit.ErrEmpty}, {"-", unit.ErrEmpty},
		{"abc", unit.ErrNotFigure}, {"NaN", unit.ErrNotFigure}, {"Inf", unit.ErrNotFigure}, {"1e309", unit.ErrNotFigure},
		{"0x10", unit.ErrNotFigure}, {"1 g", unit.ErrNotFigure}, {"1/0", unit.ErrNotFigure}, {"--1", unit.ErrNotFigure},
		{"1,2,3", unit.ErrTwoMarks}, {"1.2,3.4", unit.ErrTwoMarks}, {"1..2", unit.ErrTwoMarks},
		{"9999999999999", unit.ErrTooLarge}, {strings.Repeat("9", 400), unit.ErrTooLarge}, {strings.Repeat("9", 5000), unit.ErrTooLarge},
	} {
		_, err := unit.ParseFigure(c.in)
		var in *unit.InputError
		require.ErrorAs(t, err, &in, "%.20q", c.in)
		assert.ErrorIs(t, err, c.err, "%.20q", c.in)
		assert.LessOrEqual(t, in.Offset, len(c.in))
	}
}

func FuzzParseFigure(f *testing.F) {
	for _, s := range []string{"1,5", "1.234,5", "1 1/2", "½", "NaN", "１２", "1'000", "", "-,"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := unit.ParseFigure(s)
		if err != nil {
			var in *unit.InputError
			if !errors.As(err, &in) || in.Offset < 0 || in.Offset > len(s) {
				t.Fatalf("%q: %v", s, err)
			}
			return
		}
		if !unit.Finite(v) || v > unit.MaxFigure || v < -unit.MaxFigure {
			t.Fatalf("%q gave %v", s, v)
		}
		again, err := unit.ParseFigure(strconv.FormatFloat(v, 'f', -1, 64))
		if err != nil || again != v {
			t.Fatalf("%q: %v printed and read again is %v, %v", s, v, again, err)
		}
	})
}
