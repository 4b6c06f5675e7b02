package foam

import (
	"cmp"
	"slices"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// usualHighest is the gauge pressure in Pa above which a filling counts as driven
// high where no working pressure of its maker is entered. No source for what
// bodies are built to stand was found. This is what the head of a half-litre body
// sees, filled to its line with water at 5 °C, right after its one charge (20.8
// bar, worked out): the use that such bodies are sold for. That others stand as
// much is common practice, no source; a maker's figure takes its place.
const usualHighest unit.Pressure = 21e5

// reaches is the highest gauge pressure in Pa that the head sees from the first
// charge to the last, each shaken in before the next, at the typical figures.
func (f Fill) reaches() float64 {
	in := f.typical()
	top := f.settledGauge()
	for n := 1; n <= f.Charges; n++ {
		top = max(top, f.peak(in, n, f.Base.Temperature))
	}
	return top
}

// high reports whether a body without a stated pressure is driven over the usual one.
func (f Fill) high() bool {
	return f.Siphon.WorkingPressure == 0 && f.reaches() > float64(usualHighest)
}

// highNotes is the danger of a filling that is driven high, none for others.
func (f Fill) highNotes(a Advice) []note.Note {
	if f.Charges = a.Advised; !f.high() {
		return nil
	}
	worst := 0.0
	for _, r := range a.Ladder[:a.Advised] {
		worst = max(worst, r.Before.High, r.After.High)
	}
	return []note.Note{note.New(note.Danger, CodeHighPressure, note.Num("siphon", float64(f.Siphon.Nominal)/1000, unit.Litre),
		note.Num("reaches", f.reaches()/1e5, unit.BarUnit), note.Num("worst", worst/1e5, unit.BarUnit),
		note.Num("limit", float64(usualHighest)/1e5, unit.BarUnit)).At("siphon.pressure").From(srcPractice)}
}

// drivenHigh reports whether any filling of a plan is.
func (r Request) drivenHigh(p Plan) bool {
	return slices.ContainsFunc(p.Fillings, func(x Filling) bool { return r.one(x).high() })
}

// spare plans without the smallest bodies, then without the next larger, where a
// plan takes several rounds or drives a body high, and keeps what is better. A
// small body needs the fewest chargers, but little room is left above its base,
// and a larger one, filled once, may do. Chargers are cheap beside a second round.
func (r Request) spare(best Plan, notes []note.Note, kind Type, bodies []body) (Plan, []note.Note) {
	high := r.drivenHigh(best)
	left := slices.SortedStableFunc(slices.Values(bodies), func(a, b body) int { return cmp.Compare(a.line, b.line) })
	for len(left) > 1 && (high || best.Rounds > 1) {
		left = left[1:]
		rounds := best.Rounds
		if !high {
			rounds-- // only fewer rounds would be better
		}
		if holds(left, rounds) < int(best.Base) {
			continue
		}
		p, raised, err := r.smallest(kind, left)
		if err != nil || p.Rounds > best.Rounds {
			continue
		}
		if now := r.drivenHigh(p); high && !now || high == now && p.Rounds < best.Rounds {
			best, notes, high = p, raised, now
		}
	}
	return best, notes
}
