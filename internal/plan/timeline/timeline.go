// Package timeline plans backwards from service: when each task of one or
// several formulas must start, what then wants the same stove or the same pair
// of hands, and how long food stands about in between.
//
// Model: tasks with durations, dependencies and needs on resources of limited
// capacity. Every task is placed as late as its followers allow; where more is
// wanted of a resource than there is, tasks move earlier (backward list
// scheduling, the task with the latest allowed end first). Times are minutes
// before service; there is no clock here, so the caller says what now is.
package timeline

import (
	"cmp"
	"slices"

	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// The codes of this package.
const (
	CodeTwice       note.Code = "timeline.twice"        // refused: two tasks or resources of one id
	CodeUnknown     note.Code = "timeline.unknown-task" // refused: a task comes after one that is not there
	CodeCycle       note.Code = "timeline.cycle"        // refused: tasks wait for each other
	CodeBadDuration note.Code = "timeline.bad-duration" // refused: not a span of minutes
	CodeBadResource note.Code = "timeline.bad-resource" // refused: resource unknown or capacity unusable
	CodeNeedTooMuch note.Code = "timeline.need"         // refused: one task alone wants more than there is
	CodeTooMany     note.Code = "timeline.too-many"     // refused: more tasks than can be planned at once
	CodePast        note.Code = "timeline.past"         // refused: service is not after now
	CodeLate        note.Code = "timeline.late"         // caution: it should have started already
	CodeClash       note.Code = "timeline.clash"        // caution: two tasks want the same thing
	CodeMoved       note.Code = "timeline.moved"        // reason: a task starts earlier because of a clash
	CodeHold        note.Code = "timeline.hold"         // caution: a result waits longer than it may
	CodeWarmTwo     note.Code = "timeline.warm-two"     // caution: two hours between cold and hot in all
	CodeWarmFour    note.Code = "timeline.warm-four"    // danger: four hours between cold and hot in all
)

// Cook is the id of the resource that every hands-on task needs.
const Cook = "cook"

// Zone is where food is as food codes see it.
type Zone uint8

// The zones. Warm is between the cold and the hot limit of the local code.
const (
	NoFood Zone = iota
	Cold
	Warm
	Hot
)

// Need is a part of a resource that a task takes while it runs.
type Need struct {
	Resource string
	Amount   float64 // positive; 0 counts as 1
}

// Task is one piece of work or one wait.
type Task struct {
	ID       string
	Formula  string     // whose task it is
	Duration unit.Range // minutes
	HandsOn  bool       // needs one cook throughout; otherwise it runs by itself
	Needs    []Need
	After    []string // ids of tasks that must be finished first
	// Due is when it must be finished at the latest, in minutes before
	// service; negative for a later course.
	Due float64
	// Keeps limits how long the result may wait for its next use, in minutes,
	// if Limited.
	Limited bool
	Keeps   float64
	During  Zone // where the food is while the task runs
	Resting Zone // where the result waits
}

// Resource is something that tasks share.
type Resource struct {
	ID       string
	Capacity float64
}

// Options say how to plan.
type Options struct {
	Typical   bool // plan with typical durations; otherwise with the long end of the range
	KeepClash bool // do not move tasks to resolve clashes
	// Now and Service are minutes on one clock, if Timed.
	Timed        bool
	Now, Service float64
}

// Slot is when a task runs, in minutes before service: Start ≥ End.
type Slot struct {
	Task       Task
	Start, End float64
	Waits      float64 // minutes that its result waits until the next use
	Moved      float64 // minutes earlier than its followers need, because of a clash
}

// Clash is a stretch in which tasks want more of a resource than there is,
// when every task runs as late as possible.
type Clash struct {
	Resource   string
	From, To   float64 // minutes before service, From > To
	Tasks      []string
	Want, Have float64
}

// Hold is how long the food of a formula is in a zone in all.
type Hold struct {
	Formula string
	Zone    Zone
	Minutes float64
}

// Plan is a backward plan.
type Plan struct {
	Slots   []Slot  // earliest start first
	Clashes []Clash // of the plan in which every task is as late as possible
	Holds   []Hold
	Start   float64 // minutes before service at which the first task starts
	Notes   []note.Note
}

// maxTasks and maxMinutes bound what is planned: two weeks of minutes.
const (
	maxTasks   = 400
	maxMinutes = 14 * 24 * 60
)

// timeRule is the source of the two warnings about standing warm.
var timeRule = source.Ref{Tag: source.Published, Text: "Food Standards Australia New Zealand, 2-hour/4-hour rule (time between 5 and 60 °C adds up)"}

// Make plans tasks backwards from service. Errors are *note.Refusal.
func Make(tasks []Task, resources []Resource, o Options) (Plan, error) {
	b, err := newBoard(tasks, resources, o)
	if err != nil {
		return Plan{}, err
	}
	if o.Timed && !(o.Service > o.Now) {
		return Plan{}, note.Refuse("service", CodePast, note.Num("minutes", o.Now-o.Service, unit.Minute))
	}
	late := b.place(false)
	p := Plan{Clashes: b.clashes(late)}
	slots := late
	if !o.KeepClash && len(p.Clashes) > 0 {
		slots = b.place(true)
	}
	p.finish(b, slots, o)
	return p, nil
}

func (p *Plan) finish(b *board, slots []Slot, o Options) {
	for i := range slots {
		slots[i].Waits = b.wait(slots, i)
		p.Start = max(p.Start, slots[i].Start)
		p.noteSlot(slots[i])
	}
	for _, c := range p.Clashes {
		p.Notes = append(p.Notes, note.New(note.Caution, CodeClash, note.Word("resource", "resource."+c.Resource),
			note.Num("from", c.From, unit.Minute), note.Num("to", c.To, unit.Minute),
			note.Num("want", c.Want, unit.One), note.Num("have", c.Have, unit.One)))
	}
	p.Holds = holds(slots)
	p.noteHolds()
	if late := p.Start - (o.Service - o.Now); o.Timed && late > 0 {
		p.Notes = append(p.Notes, note.New(note.Caution, CodeLate, note.Num("minutes", late, unit.Minute),
			note.Num("needs", p.Start, unit.Minute)).At("service"))
	}
	p.Slots = slices.Clone(slots)
	slices.SortStableFunc(p.Slots, func(x, y Slot) int {
		return cmp.Or(cmp.Compare(y.Start, x.Start), cmp.Compare(y.End, x.End))
	})
}

func (p *Plan) noteSlot(s Slot) {
	if s.Moved > 0 {
		p.Notes = append(p.Notes, note.New(note.Reason, CodeMoved, note.Num("minutes", s.Moved, unit.Minute)).At(s.Task.ID))
	}
	if s.Task.Limited && s.Waits > s.Task.Keeps {
		p.Notes = append(p.Notes, note.New(note.Caution, CodeHold,
			note.Num("minutes", s.Waits, unit.Minute), note.Num("keeps", s.Task.Keeps, unit.Minute)).At(s.Task.ID))
	}
}

func (p *Plan) noteHolds() {
	for _, h := range p.Holds {
		switch {
		case h.Zone != Warm || h.Minutes <= 120:
		case h.Minutes > 240:
			p.Notes = append(p.Notes, warmNote(note.Danger, CodeWarmFour, h))
		default:
			p.Notes = append(p.Notes, warmNote(note.Caution, CodeWarmTwo, h))
		}
	}
}

func warmNote(l note.Level, c note.Code, h Hold) note.Note {
	return note.New(l, c, note.Typed("formula", h.Formula), note.Num("minutes", h.Minutes, unit.Minute)).From(timeRule)
}

// holds adds up the minutes per formula and zone, formulas in the order in
// which they first appear.
func holds(slots []Slot) []Hold {
	var out []Hold
	add := func(formula string, z Zone, minutes float64) {
		if z == NoFood || minutes <= 0 {
			return
		}
		for i := range out {
			if out[i].Formula == formula && out[i].Zone == z {
				out[i].Minutes += minutes
				return
			}
		}
		out = append(out, Hold{formula, z, minutes})
	}
	for _, s := range slots {
		add(s.Task.Formula, s.Task.During, s.Start-s.End)
		add(s.Task.Formula, s.Task.Resting, s.Waits)
	}
	return out
}

// During lists the ids of the other tasks that run at the same time as task id,
// in the plan's order; tasks that only touch end to end do not count.
func (p Plan) During(id string) []string {
	var out []string
	for _, s := range p.Slots {
		if s.Task.ID != id {
			continue
		}
		for _, other := range p.Slots {
			if other.Task.ID != id && other.Start > s.End && s.Start > other.End {
				out = append(out, other.Task.ID)
			}
		}
	}
	return out
}
