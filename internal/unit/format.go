package unit

import (
	"math"
	"strconv"
	"strings"
)

// Style is how figures are written for this reader.
type Style struct {
	Comma bool // a decimal comma instead of a point
}

// Decimals writes x with at most the given decimals and no trailing zeros.
// A figure that is not finite gives a dash: no answer.
func (st Style) Decimals(x float64, decimals int) string {
	if !Finite(x) {
		return "–"
	}
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return st.mark(s)
}

// Fixed writes x with exactly the given decimals, as a scale shows it.
func (st Style) Fixed(x float64, decimals int) string {
	if !Finite(x) {
		return "–"
	}
	return st.mark(strconv.FormatFloat(x, 'f', decimals, 64))
}

// Significant writes x to about n significant digits without an exponent.
func (st Style) Significant(x float64, n int) string {
	if x == 0 || !Finite(x) {
		return st.Decimals(x, 0)
	}
	exp := int(math.Floor(math.Log10(math.Abs(x))))
	d := n - 1 - exp
	if d < 0 {
		p := math.Pow10(-d)
		return st.Decimals(math.Round(x/p)*p, 0)
	}
	return st.Decimals(x, min(d, 9))
}

func (st Style) mark(s string) string {
	if s == "-0" {
		return "0"
	}
	if strings.HasPrefix(s, "-") {
		s = "\u2212" + s[1:]
	}
	if st.Comma {
		return strings.Replace(s, ".", ",", 1)
	}
	return s
}

// StepDecimals is how many decimals a scale of that readability shows: 0 for
// 1 g, 1 for 0.1 g, 2 for 0.05 g. The step must be positive.
func StepDecimals(step float64) int {
	for d := range 6 {
		if scaled := step * math.Pow10(d); math.Abs(scaled-math.Round(scaled)) < 1e-9 && math.Round(scaled) >= 1 {
			return d
		}
	}
	return 6
}

// Plain writes x with all its digits and no exponent, to be typed in again.
func (st Style) Plain(x float64) string {
	if !Finite(x) {
		return ""
	}
	s := strconv.FormatFloat(x, 'f', -1, 64)
	if st.Comma {
		return strings.Replace(s, ".", ",", 1)
	}
	return s
}
