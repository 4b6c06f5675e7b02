package weigh

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Item is one thing to weigh into the batch.
type Item struct {
	ID    string    // stable id: of an agent, or of a part of the liquid
	Word  string    // key of the text catalogue for its name; "" when Typed has it
	Typed string    // the cook's own name for it; "" for the id
	Mass  unit.Mass // wanted in the batch
	// Carriers are what it may be diluted in, best first; none for bulk. A
	// carrier that is not Foreign must be an item of the same recipe, and its
	// Have is filled in from there.
	Carriers []Carrier
	// Group orders the bowl: lower groups are weighed first.
	Group int
}

// Name is the item's name as an argument of a note.
func (i Item) Name(arg string) note.Arg {
	switch {
	case i.Word != "":
		return note.Word(arg, i.Word)
	case i.Typed != "":
		return note.Typed(arg, i.Typed)
	}
	return note.Typed(arg, i.ID)
}

// Line is one line of the weighing list.
type Line struct {
	ID      string
	Mass    unit.Mass // to weigh, after the correction for carriers; of the premix if there is one
	Wanted  unit.Mass // wanted in the batch
	Reading Reading
	Premix  *Premix // nil when it is weighed directly
	Group   int
	Notes   []note.Note
}

// List is the weighing list of a batch.
type List struct {
	Lines     []Line
	Tolerance unit.Fraction
}

// Make writes the weighing list of a recipe. A small dose becomes a premix and
// its carrier is taken off the recipe's own, so that the batch comes out as
// written. What cannot be weighed within the tolerance is flagged, not refused.
// A tolerance of 0 means [DefaultTolerance]. Errors are *note.Refusal.
func Make(recipe []Item, scales []Scale, tol unit.Fraction) (List, error) {
	tol, err := checkTolerance(tol)
	if err != nil {
		return List{}, err
	}
	if err := checkRecipe(recipe, scales); err != nil {
		return List{}, err
	}
	l := List{Lines: make([]Line, len(recipe)), Tolerance: tol}
	for i, item := range recipe {
		l.Lines[i] = Line{ID: item.ID, Mass: item.Mass, Wanted: item.Mass, Group: item.Group}
	}
	for i, item := range recipe {
		if len(item.Carriers) > 0 {
			l.dilute(i, item, scales)
		}
	}
	for i := range l.Lines {
		if l.Lines[i].Premix == nil {
			l.read(i, scales)
		}
	}
	return l, nil
}

func checkRecipe(recipe []Item, scales []Scale) error {
	if err := checkScales(scales); err != nil {
		return err
	}
	for i, item := range recipe {
		if err := checkMass(item.ID, item.Mass); err != nil {
			return err
		}
		for _, earlier := range recipe[:i] {
			if earlier.ID == item.ID {
				return note.Refuse(item.ID, CodeTwice, note.Typed("item", item.ID))
			}
		}
	}
	return nil
}

// dilute replaces line i by a premix if direct weighing misses the tolerance.
func (l *List) dilute(i int, item Item, scales []Scale) {
	line := &l.Lines[i]
	direct, err := Weigh(line.Mass, scales)
	if err != nil || line.Mass <= 0 || direct.Within(l.Tolerance) {
		return
	}
	var last error
	for _, c := range item.Carriers {
		from := l.carrierLine(c, i)
		if from != nil {
			c.Have = from.Mass
		} else if !c.Foreign {
			continue
		}
		p, err := FindPremix(Item{ID: item.ID, Word: item.Word, Typed: item.Typed, Mass: line.Mass}, c, scales, l.Tolerance)
		if err != nil {
			last = err
			continue
		}
		line.use(p, item, direct, l.Tolerance)
		if from != nil {
			from.give(p, item)
		}
		return
	}
	line.Notes = append(line.Notes, whyNot(item, last))
}

// carrierLine is the recipe's own line of a carrier that is not from outside.
func (l *List) carrierLine(c Carrier, agent int) *Line {
	for j := range l.Lines {
		if !c.Foreign && j != agent && l.Lines[j].ID == c.ID && l.Lines[j].Premix == nil {
			return &l.Lines[j]
		}
	}
	return nil
}

func whyNot(item Item, err error) note.Note {
	if r, ok := err.(*note.Refusal); ok {
		n := r.Note
		n.Level = note.Caution
		return n.At(item.ID)
	}
	return note.New(note.Caution, CodeNoCarrier, item.Name("agent")).At(item.ID)
}

func (line *Line) use(p Premix, item Item, direct Reading, tol unit.Fraction) {
	line.Premix, line.Mass, line.Reading = &p, p.Use.Target, p.Use
	line.Notes = append(line.Notes, note.New(note.Reason, CodePremix,
		item.Name("agent"),
		note.Num("dose", float64(direct.Target), unit.Gram),
		note.Num("step", float64(direct.Step), unit.Gram),
		note.Num("worst", direct.Worst.Percent(), unit.PercentOf),
		note.Num("tolerance", tol.Percent(), unit.PercentOf)).At(line.ID).From(stepSource))
	if p.Foreign {
		line.Notes = append(line.Notes, note.New(note.Hint, CodeForeignCarrier,
			note.Word("carrier", "carrier."+p.Carrier), note.Num("brought", float64(p.Brought), unit.Gram)).At(line.ID))
	}
	if p.Stock {
		line.Notes = append(line.Notes, note.New(note.Caution, CodeStockFresh).At(line.ID).From(toleranceSource))
	}
}

// give takes the premix's carrier off the recipe's own.
func (line *Line) give(p Premix, item Item) {
	if line.Mass -= p.Brought; line.Mass < least {
		line.Mass = 0
	}
	line.Notes = append(line.Notes, note.New(note.Reason, CodeCarrierUsed,
		note.Num("brought", float64(p.Brought), unit.Gram), item.Name("agent")).At(line.ID))
}

// read weighs line i directly and flags it beyond the tolerance.
func (l *List) read(i int, scales []Scale) {
	line := &l.Lines[i]
	r, err := Weigh(line.Mass, scales)
	if err != nil {
		// Too heavy for one load: the bowl plan splits it; the finest scale's figures still hold.
		line.Reading = largest(scales).read(line.Mass)
		return
	}
	line.Reading = r
	if line.Mass > 0 && !r.Within(l.Tolerance) {
		line.Notes = append(line.Notes, note.New(note.Caution, CodeBeyondTolerance,
			note.Num("mass", float64(line.Mass), unit.Gram),
			note.Num("step", float64(r.Step), unit.Gram),
			note.Num("worst", r.Worst.Percent(), unit.PercentOf),
			note.Num("tolerance", l.Tolerance.Percent(), unit.PercentOf)).At(line.ID).From(toleranceSource))
	}
}

// Composition is what the batch holds of id when every line is weighed
// exactly: premixes opened into agent and carrier.
func (l List) Composition(id string) unit.Mass {
	var sum unit.Mass
	for _, line := range l.Lines {
		switch {
		case line.Premix == nil && line.ID == id:
			sum += line.Mass
		case line.Premix != nil && line.Premix.Agent == id:
			sum += line.Premix.Share.Of(line.Mass)
		case line.Premix != nil && line.Premix.Carrier == id:
			sum += (1 - line.Premix.Share).Of(line.Mass)
		}
	}
	return sum
}

// largest is the scale of the largest capacity, the finer of two equals.
func largest(scales []Scale) Scale {
	best := scales[0]
	for _, s := range scales[1:] {
		if s.Capacity > best.Capacity || s.Capacity == best.Capacity && s.Step < best.Step {
			best = s
		}
	}
	return best
}
