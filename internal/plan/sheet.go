// Package plan joins weighing, method, cooling, timing, safety and cost into
// the prep sheet of a batch.
//
// The parts live below it, each with its own model: weigh (scales and
// premixes), method (order of work), cool (heat conduction), timeline (backward
// planning), safety (food codes). This package only brings their answers
// together as data; the page prints it.
package plan

import (
	"slices"

	"tremblant/internal/note"
	"tremblant/internal/plan/cool"
	"tremblant/internal/plan/method"
	"tremblant/internal/plan/safety"
	"tremblant/internal/plan/timeline"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// The codes of this package.
const (
	CodeBadPortions note.Code = "plan.bad-portions" // refused: number of portions
	CodeBadPrice    note.Code = "plan.bad-price"    // refused: a price that is no figure
	CodeBadYield    note.Code = "plan.bad-yield"    // refused: losses of everything or less than nothing
	CodeTwoTitles   note.Code = "plan.two-titles"   // refused: two sheets of one title on one evening
	CodeReadLabel   note.Code = "plan.read-label"   // caution: an allergen may be in it
	CodeChillLong   note.Code = "plan.chill-long"   // reason: cooling takes longer than setting
	CodeThinLayer   note.Code = "plan.thin-layer"   // caution: a large batch cools longer than its agent sets
	CodeNoSet       note.Code = "plan.no-set"       // caution: it does not get cold enough there to set
)

// Item is one ingredient as the sheet needs it.
type Item struct {
	weigh.Item
	Agent      bool // an agent rather than a part of the liquid
	Vegan      Answer
	Vegetarian Answer
	Allergens  []string // keys under "allergen."
	MayHold    []string // allergens that its label must be read for
	Price      float64  // per kilogram, in the kitchen's currency
	Priced     bool     // a price is known; a price of 0 is one too
}

// Input is everything a prep sheet follows from.
type Input struct {
	Title    string // typed by the cook
	Made     string // date as the caller's clock and the cook's habit write it
	Items    []Item
	Portions float64 // number of portions; 0 when not portioned
	Yield    float64 // share of the batch that is left after losses; 0 counts as 1

	Scales    []weigh.Scale
	Tolerance unit.Fraction
	Bowl      unit.Mass // of the empty mixing bowl

	Method method.Input
	Edits  []method.Edit

	Cooling  *cool.Job // where the batch cools; nil when it does not
	SetAt    float64   // °C of the setting temperature to time; 0 for the one that the method chills below
	Safety   safety.Facts
	Holds    []safety.Hold
	Currency string // as the kitchen writes it, only passed on
}

// Sheet is the prep sheet: data for the page and the printer.
type Sheet struct {
	Title, Made string
	Batch       unit.Mass // what is weighed in
	Finished    unit.Mass // what is left after losses
	Portion     unit.Mass // per portion; 0 when not portioned
	Portions    float64
	Weights     weigh.List
	Bowl        weigh.Bowl
	Steps       []method.Edited
	LostEdits   []method.Lost
	Cooling     []cool.Milestone // setting temperature first if asked for, then the codes' cold limits
	Tasks       []timeline.Task
	Diet        Diet
	Cautions    []note.Note // dangers first, each once
	Notes       []note.Note // reasons and hints
	Cost        Cost
	Label       Label
}

// Make writes the prep sheet. Errors are *note.Refusal of the part that refused.
func Make(in Input) (Sheet, error) {
	s := Sheet{Title: in.Title, Made: in.Made, Portions: in.Portions}
	if err := s.amounts(in); err != nil {
		return Sheet{}, err
	}
	for _, part := range [...]func(*Sheet, Input) error{
		(*Sheet).weights, (*Sheet).steps, (*Sheet).cooling, (*Sheet).safety, (*Sheet).costs,
	} {
		if err := part(&s, in); err != nil {
			return Sheet{}, err
		}
	}
	s.Tasks = method.Tasks(s.Title, s.Steps)
	s.diet(in.Items)
	s.Label = Label{s.Title, s.Made, s.Finished, s.Diet.Allergens, s.Diet.MayHold, UseByPlan}
	s.sortNotes()
	return s, nil
}

func (s *Sheet) amounts(in Input) error {
	if !unit.Finite(in.Portions) || in.Portions < 0 || in.Portions > 1e6 {
		return note.Refuse("portions", CodeBadPortions)
	}
	yield := in.Yield
	if yield == 0 {
		yield = 1
	}
	if !unit.Finite(yield) || yield < 0 || yield > 1 {
		return note.Refuse("yield", CodeBadYield)
	}
	for _, item := range in.Items {
		s.Batch += item.Mass
	}
	s.Finished = s.Batch * unit.Mass(yield)
	if in.Portions > 0 {
		s.Portion = s.Finished / unit.Mass(in.Portions)
	}
	return nil
}

func (s *Sheet) weights(in Input) error {
	recipe := make([]weigh.Item, len(in.Items))
	for i, item := range in.Items {
		recipe[i] = item.Item
	}
	var err error
	if s.Weights, err = weigh.Make(recipe, in.Scales, in.Tolerance); err != nil {
		return err
	}
	if s.Bowl, err = weigh.OneBowl(s.Weights, in.Scales, in.Bowl); err != nil {
		return err
	}
	for _, line := range s.Weights.Lines {
		s.say(line.Notes)
	}
	s.say(s.Bowl.Notes)
	return nil
}

func (s *Sheet) steps(in Input) error {
	m, err := method.Build(in.Method)
	if err != nil {
		return err
	}
	s.Steps, s.LostEdits = method.Apply(m.Steps, in.Edits)
	s.say(m.Notes)
	for _, step := range s.Steps {
		s.say(step.Notes)
	}
	return nil
}

func (s *Sheet) cooling(in Input) error {
	if in.Cooling == nil {
		s.askDepth(in)
		return nil
	}
	c, err := cool.New(*in.Cooling)
	if err != nil {
		return err
	}
	targets := slices.Clone(cool.ColdLimits)
	setAt := in.SetAt
	if setAt == 0 {
		setAt = s.chillsBelow()
	}
	if setAt > 0 {
		targets = append([]unit.Celsius{unit.Celsius(setAt)}, targets...)
	}
	s.Cooling = c.Milestones(targets...)
	if setAt > 0 {
		s.setAfter(s.Cooling[0], in.Cooling.Medium.ID)
	}
	s.say(c.Notes)
	for _, m := range s.Cooling {
		s.say(m.Notes)
	}
	s.say(safety.Chilling(c))
	return nil
}

// thinLayer is the batch, g, that lies about 2 cm deep in one usual tray: what sets in the
// time of its agent. More of it takes longer to get cold (common practice, no source).
const thinLayer = 2500

// askDepth says at the chilling of a large batch that its time is that of a thin layer,
// where nobody has said how deep it lies.
func (s *Sheet) askDepth(in Input) {
	if s.Batch <= thinLayer {
		return
	}
	for i := range s.Steps {
		if step := &s.Steps[i]; step.Kind == method.Chill {
			n := note.New(note.Caution, CodeThinLayer).From(source.Ref{Tag: source.Practice})
			step.Notes = append(slices.Clone(step.Notes), n)
			s.say([]note.Note{n})
		}
	}
}

// chillsBelow is the temperature below which the method's gel sets; 0 for none.
func (s *Sheet) chillsBelow() float64 {
	for _, step := range s.Steps {
		for _, l := range step.Limits {
			if step.Kind == method.Chill && l.Of == method.Temperature && l.Most {
				return l.Value
			}
		}
	}
	return 0
}

// setAfter makes the chilling step as long as the cooling, where that is the
// longer; a place that never gets cold enough is a caution.
func (s *Sheet) setAfter(m cool.Milestone, medium string) {
	if m.Refusal != nil {
		s.say([]note.Note{note.New(note.Caution, CodeNoSet, note.Num("temp", float64(m.Target), unit.DegreeC), note.Word("medium", "medium."+medium))})
		return
	}
	for i := range s.Steps {
		step := &s.Steps[i]
		if step.Kind != method.Chill || m.Time.Typical/60 <= step.Minutes.Typical {
			continue
		}
		t := m.Time.Scale(1.0 / 60)
		step.Minutes = unit.Range{Low: max(step.Minutes.Low, t.Low), Typical: t.Typical, High: max(step.Minutes.High, t.High)}
		step.Args = slices.Clone(step.Args) // its sentence and its clock say the same
		for k := range step.Args {
			if a := &step.Args[k]; a.Unit == unit.Minute {
				a.Value = max(a.Value, t.Typical)
			}
		}
		s.say([]note.Note{note.New(note.Reason, CodeChillLong, note.Num("minutes", t.Typical, unit.Minute), note.Num("temp", float64(m.Target), unit.DegreeC)).At(step.ID)})
	}
}

func (s *Sheet) safety(in Input) error {
	s.say(safety.Cautions(in.Safety))
	for _, h := range in.Holds {
		notes, err := safety.Holding(h)
		if err != nil {
			return err
		}
		s.say(notes)
	}
	return nil
}

// say files notes by loudness.
func (s *Sheet) say(notes []note.Note) {
	for _, n := range notes {
		if n.Level >= note.Caution {
			s.Cautions = append(s.Cautions, n)
		} else {
			s.Notes = append(s.Notes, n)
		}
	}
}

// sortNotes puts dangers first and drops what is said twice in the same words.
func (s *Sheet) sortNotes() {
	slices.SortStableFunc(s.Cautions, func(a, b note.Note) int { return int(b.Level) - int(a.Level) })
	var once []note.Note
	for _, n := range s.Cautions {
		if !slices.ContainsFunc(once, func(m note.Note) bool { return same(m, n) }) {
			once = append(once, n)
		}
	}
	s.Cautions = once
}

func same(a, b note.Note) bool {
	return a.Code == b.Code && a.Field == b.Field && slices.Equal(a.Args, b.Args)
}
