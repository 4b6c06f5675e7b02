package weigh

import (
	"cmp"
	"math"
	"slices"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// maxLoads bounds how often one list may need an emptied bowl.
const maxLoads = 200

// Load is one step of weighing everything into one bowl without zeroing
// between: add the item until the display shows Reading.
type Load struct {
	ID      string
	Add     unit.Mass // this item's share of the reading, in exact grams
	Reading unit.Mass // what the display shows since the bowl was last zeroed
	Bowl    int       // 0 for the first filling; a higher number starts with an emptied, zeroed bowl
	OnPlate unit.Mass // bowl and contents: what the scale bears
	// Worst is the largest share by which this item's own weight can miss:
	// both readings around it are rounded, and both may be half a step off.
	Worst unit.Fraction
}

// Bowl is the order of weighing into one bowl.
type Bowl struct {
	Scale string
	Loads []Load
	Apart []Line // to weigh in a cup of their own on a finer scale, then tip in
	Notes []note.Note
}

// OneBowl orders the lines for one bowl: by group, within a group the smallest
// first, while a slip is still cheap to take back. The finest scale that bears
// bowl and batch is taken; if none does, the largest, and the bowl is emptied
// between. Lines that this scale shows too coarsely and another shows better
// are weighed apart. Errors are *note.Refusal.
func OneBowl(l List, scales []Scale, bowl unit.Mass) (Bowl, error) {
	if err := checkScales(scales); err != nil {
		return Bowl{}, err
	}
	if err := checkMass("bowl", bowl); err != nil {
		return Bowl{}, err
	}
	lines := ordered(l.Lines)
	s := bowlScale(lines, scales, bowl)
	if room := s.Capacity - bowl; room < s.Step {
		return Bowl{}, note.Refuse("bowl", CodeTooHeavy,
			note.Num("mass", float64(bowl), unit.Gram), note.Num("capacity", float64(s.Capacity), unit.Gram))
	}
	b := Bowl{Scale: s.ID}
	lines = b.setApart(lines, s, l.Tolerance)
	return b, b.fill(lines, s, bowl)
}

func ordered(lines []Line) []Line {
	out := slices.DeleteFunc(slices.Clone(lines), func(l Line) bool { return l.Mass <= 0 })
	slices.SortStableFunc(out, func(a, b Line) int {
		return cmp.Or(cmp.Compare(a.Group, b.Group), cmp.Compare(a.Mass, b.Mass))
	})
	return out
}

// bowlScale is the finest scale that bears everything at once, or the largest.
func bowlScale(lines []Line, scales []Scale, bowl unit.Mass) Scale {
	total := bowl
	for _, line := range lines {
		total += line.Mass
	}
	best, found := Scale{}, false
	for _, s := range scales {
		if s.Capacity >= total && (!found || s.Step < best.Step) {
			best, found = s, true
		}
	}
	if !found {
		return largest(scales)
	}
	return best
}

// setApart moves lines off the bowl that their own scale shows within the
// tolerance while the bowl's does not.
func (b *Bowl) setApart(lines []Line, s Scale, tol unit.Fraction) []Line {
	var rest []Line
	for _, line := range lines {
		// A whole step: half for the reading before the item and half for the one after.
		inBowl := (math.Abs(float64(s.round(line.Mass)-line.Mass)) + float64(s.Step)) / float64(line.Mass)
		if inBowl <= float64(tol) || line.Reading.Scale == s.ID || !line.Reading.Within(tol) {
			rest = append(rest, line)
			continue
		}
		b.Apart = append(b.Apart, line)
		b.Notes = append(b.Notes, note.New(note.Hint, CodeApart,
			note.Num("mass", float64(line.Reading.Shown), unit.Gram), note.Typed("scale", line.Reading.Scale)).At(line.ID))
	}
	return rest
}

// fill lays the loads, emptying the bowl whenever the plate would bear too much.
func (b *Bowl) fill(lines []Line, s Scale, bowl unit.Mass) error {
	var sum unit.Mass // since the bowl was last zeroed
	for _, line := range lines {
		for left := line.Mass; left > 0; {
			room := s.Capacity - bowl - sum
			if left > room && sum > 0 {
				b.empty(line.ID, s)
				sum, room = 0, s.Capacity-bowl
			}
			add := min(left, room)
			b.Loads = append(b.Loads, s.load(line.ID, sum, add, bowl, b.bowls()))
			sum, left = sum+add, left-add
			if len(b.Loads) > maxLoads {
				return note.Refuse("scales", CodeTooManyLoads, note.Num("capacity", float64(s.Capacity), unit.Gram))
			}
		}
	}
	return nil
}

func (b *Bowl) empty(id string, s Scale) {
	b.Notes = append(b.Notes, note.New(note.Hint, CodeNewBowl,
		note.Num("capacity", float64(s.Capacity), unit.Gram)).At(id))
}

// bowls counts how often the bowl has been emptied so far.
func (b *Bowl) bowls() int {
	n := 0
	for _, note := range b.Notes {
		if note.Code == CodeNewBowl {
			n++
		}
	}
	return n
}

func (s Scale) load(id string, before, add, bowl unit.Mass, n int) Load {
	reading := s.round(before + add)
	off := math.Abs(float64(reading-s.round(before)-add)) + float64(s.Step)
	return Load{ID: id, Add: add, Reading: reading, Bowl: n, OnPlate: bowl + before + add,
		Worst: unit.Fraction(off / float64(add))}
}
