package gel

import (
	"math"
	"slices"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// CurvePoint is one point of a dose–firmness curve.
type CurvePoint struct {
	Share    unit.Fraction // the whole formula's agents, mass fraction of the mix
	Modulus  unit.Range    // Pa; without meaning when not Measured
	Measured bool          // false is a gap in the curve: no figure is claimed there
}

// Curve is how firm a formula is as its dose changes at fixed ratios.
type Curve struct {
	Points   []CurvePoint  // by rising dose, evenly by ratio, with both ends of what is measured
	From, To unit.Fraction // what is measured
	Mark     CurvePoint    // the formula itself
	Notes    []note.Note   // laws with their sources, and why there is no curve
}

// Limits of the number of points of a curve.
const minSteps, maxSteps = 8, 400

// CurveOf is the curve of a formula in a liquid with about steps points. A
// formula without a law gives a curve without points, whose notes say why; the
// error is a refusal of the input.
func CurveOf(doses []Dose, c Conditions, k Kitchen, steps int) (Curve, error) {
	merged, records, err := merge(doses)
	if err != nil {
		return Curve{}, err
	}
	if err := c.Check(); err != nil {
		return Curve{}, err
	}
	c = withSalts(c, merged, records)
	parts := split(merged, records)
	r := resolver{cond: &c, kitchen: k, explain: true}
	s, err := r.build(parts)
	if err != nil {
		return Curve{Notes: []note.Note{noteOf(err)}}, nil
	}
	if len(s.laws) == 0 {
		return Curve{Notes: []note.Note{note.New(note.Reason, CodeNoLaw)}}, nil
	}
	total := sum(merged) * 100
	from, to := s.measured()
	out := Curve{From: unit.Percent(from), To: unit.Percent(to), Mark: s.point(total), Notes: append(append(r.notes, s.reasons()...), s.ionReasons(total)...)}
	for _, x := range curveDoses(from, to, total, min(max(steps, minSteps), maxSteps)) {
		out.Points = append(out.Points, s.point(x))
	}
	return out, nil
}

// measured is the span of the formula's dose, in g per 100 g, where all laws
// may speak that have a say: from where the first one starts to where the first one ends.
func (s *system) measured() (from, to float64) {
	from, to = math.Inf(1), math.Inf(1)
	for i := range s.laws {
		l := &s.laws[i]
		from = min(from, l.span.From/(l.share*l.scale.Typical))
		to = min(to, l.span.To/(l.share*l.scale.Typical))
	}
	return from, to
}

func (s *system) point(total float64) CurvePoint {
	p := CurvePoint{Share: unit.Percent(total)}
	if _, bad := s.unmeasured(total); !bad {
		p.Modulus, p.Measured = s.band(total), true
	}
	return p
}

// curveDoses spreads doses evenly by ratio, from half of what is measured to a
// quarter above it and wide enough for the formula's own dose.
func curveDoses(from, to, total float64, steps int) []float64 {
	low, high := min(from/2, total/1.1), min(100, max(to*1.25, total*1.1))
	out := make([]float64, 0, steps+3)
	for i := range steps {
		out = append(out, low*math.Pow(high/low, float64(i)/float64(steps-1)))
	}
	for _, x := range [...]float64{from, to, total} {
		if x > low && x < high {
			out = append(out, x)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
