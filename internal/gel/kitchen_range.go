package gel

import (
	"math"

	"tremblant/internal/unit"
)

// Range is the factor with what its trials leave uncertain: low and high stand
// two standard deviations of its logarithm out, within the limits of a factor.
func (f Factor) Range() unit.Range {
	return unit.Range{
		Low:     max(MinFactor, f.Value*math.Exp(-2*f.Spread)),
		Typical: f.Value,
		High:    min(MaxFactor, f.Value*math.Exp(2*f.Spread)),
	}
}

// nearLimit is how near to a limit of a factor its trials seem to have asked
// for more: a tenth. The mean of a posterior that is cut off stays inside.
const nearLimit = 1.1

// Bounded reports whether the factor stands at its limit, so that the label,
// the scale or a trial is in doubt rather than the model.
func (f Factor) Bounded() bool { return f.Value < MinFactor*nearLimit || f.Value > MaxFactor/nearLimit }
