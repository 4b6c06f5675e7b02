// Package weigh turns the grams of a recipe into what a kitchen's scales can
// really show.
//
// Model: a digital scale shows whole steps, and a load that shows a reading may
// truly be half a step away from it on either side (OIML R 76-1, 2006: rounding
// error of a digital indication). A weight is good when rounding to the step
// and half a step together stay within a tolerance of the target. A dose that
// no scale can weigh so is diluted: agent and carrier are weighed as a larger
// round premix, and a larger weight of that goes into the batch. Loads are
// taken as true to the scale; drift and levelling are the kitchen's to check.
package weigh

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// DefaultTolerance is the share of a target weight that may be wrong unless
// the caller says otherwise: 2 %, common practice.
const DefaultTolerance unit.Fraction = 0.02

// Sources of the weighing rules.
var (
	stepSource      = source.Ref{Tag: source.Memory, Text: "OIML R 76-1, Non-automatic weighing instruments, Part 1, 2006: rounding error of a digital indication"}
	toleranceSource = source.Ref{Tag: source.Practice}
)

// The codes of this package.
const (
	CodeNoScale         note.Code = "weigh.no-scale"         // refused: the shelf has no scale
	CodeBadScale        note.Code = "weigh.bad-scale"        // refused: step or capacity is not a usable figure
	CodeBadMass         note.Code = "weigh.bad-mass"         // refused: a weight is not a usable figure
	CodeBadTolerance    note.Code = "weigh.bad-tolerance"    // refused: tolerance outside 0–100 %
	CodeTooHeavy        note.Code = "weigh.too-heavy"        // refused: no scale bears it at once
	CodeBeyondTolerance note.Code = "weigh.beyond-tolerance" // caution: the scale cannot show it finely enough
	CodePremix          note.Code = "weigh.premix"           // reason: why a premix
	CodeNoPremix        note.Code = "weigh.no-premix"        // refused: no premix of sensible size meets the tolerance
	CodeNoCarrier       note.Code = "weigh.no-carrier"       // refused: nothing to dilute it in
	CodeBadCarrier      note.Code = "weigh.bad-carrier"      // refused: carrier share not usable
	CodeForeignCarrier  note.Code = "weigh.foreign-carrier"  // hint: the carrier is not in the recipe
	CodeCarrierUsed     note.Code = "weigh.carrier-used"     // reason: the recipe's carrier is reduced by so much
	CodeStockFresh      note.Code = "weigh.stock-fresh"      // caution: a stock solution is a food, keep it cold
	CodeTwice           note.Code = "weigh.twice"            // refused: one item stands twice in the recipe
	CodeApart           note.Code = "weigh.apart"            // hint: weigh in a cup of its own on the finer scale
	CodeNewBowl         note.Code = "weigh.new-bowl"         // hint: empty the bowl first, zeroing does not free capacity
	CodeTooManyLoads    note.Code = "weigh.too-many-loads"   // refused: the scale is far too small for the batch
)

// Scale is one scale of the shelf.
type Scale struct {
	ID       string    // stable id, as the shelf keeps it
	Step     unit.Mass // readability: the smallest difference that the display shows
	Capacity unit.Mass // largest load on the plate, vessel included
	Cup      unit.Mass // weight of the cup that loads are weighed in on it; 0 for none
}

// Reading is one weighing: what is wanted, and what the display must show.
type Reading struct {
	Target unit.Mass
	Scale  string    // the scale's id
	Step   unit.Mass // that scale's step
	Shown  unit.Mass // the target rounded to the step
	// Off is the rounding error as a signed share of the target; 0 for a target of nothing.
	Off unit.Fraction
	// Worst is the largest share by which the true load can miss the target
	// when the display shows Shown: rounding plus half a step.
	Worst unit.Fraction
}

// Within reports whether even the worst case of the reading is inside the tolerance.
func (r Reading) Within(tol unit.Fraction) bool { return r.Worst <= tol+slack }

// slack absorbs floating-point dust at the edge of a tolerance; it is ten
// orders below anything a scale shows.
const slack = 1e-12

// Weigh picks the scale that shows target best among those that bear it, and
// rounds to its step. Errors are *note.Refusal: no scale, an unusable figure,
// or a load above every capacity.
func Weigh(target unit.Mass, scales []Scale) (Reading, error) {
	if err := checkScales(scales); err != nil {
		return Reading{}, err
	}
	if err := checkMass("mass", target); err != nil {
		return Reading{}, err
	}
	best, found := Reading{}, false
	largest := unit.Mass(0)
	for _, s := range scales {
		largest = max(largest, s.Capacity-s.Cup)
		if target+s.Cup > s.Capacity {
			continue
		}
		r := s.read(target)
		if !found || r.Worst < best.Worst {
			best, found = r, true
		}
	}
	if !found {
		return Reading{}, note.Refuse("mass", CodeTooHeavy,
			note.Num("mass", float64(target), unit.Gram), note.Num("capacity", float64(largest), unit.Gram))
	}
	return best, nil
}

// read rounds a target to the scale's step.
func (s Scale) read(target unit.Mass) Reading {
	r := Reading{Target: target, Scale: s.ID, Step: s.Step, Shown: s.round(target)}
	if target > 0 {
		r.Off = unit.Fraction((r.Shown - target) / target)
		r.Worst = unit.Fraction((math.Abs(float64(r.Shown-target)) + float64(s.Step)/2) / float64(target))
	}
	return r
}

// round gives the nearest reading. Steps below one gram are divided by their
// whole reciprocal, so that 0.3 g on a 0.1 g scale is 0.3 and not 0.30000000000000004.
func (s Scale) round(m unit.Mass) unit.Mass {
	step := float64(s.Step)
	n := math.Round(float64(m) / step)
	if per := math.Round(1 / step); step < 1 && math.Abs(per*step-1) < 1e-9 {
		return unit.Mass(n / per)
	}
	return unit.Mass(n * step)
}

func checkScales(scales []Scale) error {
	if len(scales) == 0 {
		return note.Refuse("scales", CodeNoScale)
	}
	for _, s := range scales {
		if !usable(float64(s.Step)) || !usable(float64(s.Capacity)) || s.Step > s.Capacity-s.Cup ||
			!unit.Finite(float64(s.Cup)) || s.Cup < 0 || s.Step < 1e-6 {
			return note.Refuse("scales", CodeBadScale, note.Typed("scale", s.ID))
		}
	}
	return nil
}

// least is the smallest mass above zero that means anything, in grams: below
// it is only what floating-point subtraction leaves behind.
const least unit.Mass = 1e-9

func checkMass(field string, m unit.Mass) error {
	if !unit.Finite(float64(m)) || m < 0 || m > 0 && m < least || float64(m) > unit.MaxFigure {
		return note.Refuse(field, CodeBadMass)
	}
	return nil
}

func checkTolerance(tol unit.Fraction) (unit.Fraction, error) {
	if tol == 0 {
		return DefaultTolerance, nil
	}
	if !unit.Finite(float64(tol)) || tol < 0 || tol >= 1 {
		return 0, note.Refuse("tolerance", CodeBadTolerance)
	}
	return tol, nil
}

func usable(x float64) bool { return unit.Finite(x) && x > 0 && x <= unit.MaxFigure }
