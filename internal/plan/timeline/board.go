package timeline

import (
	"cmp"
	"slices"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// board is the checked input: tasks by index, their followers, their needs.
type board struct {
	tasks     []Task
	minutes   []float64 // planned duration
	followers [][]int
	leaders   [][]int
	needs     [][]Need // hands included
	resources []Resource
}

func newBoard(tasks []Task, resources []Resource, o Options) (*board, error) {
	if len(tasks) > maxTasks {
		return nil, note.Refuse("tasks", CodeTooMany, note.Num("most", maxTasks, unit.One))
	}
	b := &board{tasks: tasks, resources: resources,
		minutes: make([]float64, len(tasks)), needs: make([][]Need, len(tasks)),
		followers: make([][]int, len(tasks)), leaders: make([][]int, len(tasks))}
	if err := b.checkResources(); err != nil {
		return nil, err
	}
	for i := range tasks {
		if err := b.take(i, o); err != nil {
			return nil, err
		}
	}
	if len(b.order()) != len(tasks) {
		return nil, note.Refuse("tasks", CodeCycle)
	}
	return b, nil
}

func (b *board) checkResources() error {
	for i, r := range b.resources {
		if !unit.Finite(r.Capacity) || r.Capacity <= 0 {
			return note.Refuse(r.ID, CodeBadResource, note.Typed("resource", r.ID))
		}
		for _, earlier := range b.resources[:i] {
			if earlier.ID == r.ID {
				return note.Refuse(r.ID, CodeTwice, note.Typed("id", r.ID))
			}
		}
	}
	return nil
}

// take checks one task and wires it to the others.
func (b *board) take(i int, o Options) error {
	t := b.tasks[i]
	if j := b.index(t.ID); j != i {
		return note.Refuse(t.ID, CodeTwice, note.Typed("id", t.ID))
	}
	if !t.Duration.Valid() || t.Duration.Low < 0 || t.Duration.High > maxMinutes || !unit.Finite(t.Due) ||
		t.Due > maxMinutes || t.Due < -maxMinutes || t.Limited && (!unit.Finite(t.Keeps) || t.Keeps < 0) {
		return note.Refuse(t.ID, CodeBadDuration, note.Typed("id", t.ID))
	}
	b.minutes[i] = t.Duration.High
	if o.Typical {
		b.minutes[i] = t.Duration.Typical
	}
	for _, id := range t.After {
		j := b.index(id)
		if j < 0 {
			return note.Refuse(t.ID, CodeUnknown, note.Typed("id", id))
		}
		b.followers[j] = append(b.followers[j], i)
		b.leaders[i] = append(b.leaders[i], j)
	}
	return b.takeNeeds(i)
}

func (b *board) takeNeeds(i int) error {
	t := b.tasks[i]
	all := slices.Clone(t.Needs)
	if t.HandsOn {
		all = append(all, Need{Cook, 1})
	}
	for _, n := range all {
		if n.Amount == 0 {
			n.Amount = 1
		}
		if b.capacity(n.Resource) == 0 || !unit.Finite(n.Amount) || n.Amount < 0 {
			return note.Refuse(t.ID, CodeBadResource, note.Typed("resource", n.Resource))
		}
		k := slices.IndexFunc(b.needs[i], func(earlier Need) bool { return earlier.Resource == n.Resource })
		if k < 0 {
			b.needs[i] = append(b.needs[i], n)
		} else {
			b.needs[i][k].Amount += n.Amount
		}
	}
	return b.checkNeeds(i)
}

func (b *board) checkNeeds(i int) error {
	for _, n := range b.needs[i] {
		if have := b.capacity(n.Resource); n.Amount > have {
			return note.Refuse(b.tasks[i].ID, CodeNeedTooMuch, note.Word("resource", "resource."+n.Resource),
				note.Num("want", n.Amount, unit.One), note.Num("have", have, unit.One))
		}
	}
	return nil
}

func (b *board) index(id string) int {
	return slices.IndexFunc(b.tasks, func(t Task) bool { return t.ID == id })
}

func (b *board) capacity(id string) float64 {
	for _, r := range b.resources {
		if r.ID == id {
			return r.Capacity
		}
	}
	return 0
}

// order lists the tasks so that each comes after all of its followers; shorter
// than the tasks when they wait for each other.
func (b *board) order() []int {
	waiting := make([]int, len(b.tasks))
	var out []int
	for i := range b.tasks {
		waiting[i] = len(b.followers[i])
		if waiting[i] == 0 {
			out = append(out, i)
		}
	}
	for k := 0; k < len(out); k++ {
		for _, j := range b.leaders[out[k]] {
			if waiting[j]--; waiting[j] == 0 {
				out = append(out, j)
			}
		}
	}
	return out
}

// place puts every task as late as it can be; with share, no resource is ever
// wanted beyond its capacity. Of the tasks whose followers all stand, the one
// that may end latest goes first, then the longer, then the earlier in the list.
func (b *board) place(share bool) []Slot {
	slots := make([]Slot, len(b.tasks))
	waiting := make([]int, len(b.tasks))
	var ready []int
	for i := range b.tasks {
		if waiting[i] = len(b.followers[i]); waiting[i] == 0 {
			ready = append(ready, i)
		}
	}
	var placed []int
	for len(ready) > 0 {
		slices.SortFunc(ready, func(x, y int) int {
			return cmp.Or(cmp.Compare(b.latest(slots, x), b.latest(slots, y)), cmp.Compare(b.minutes[y], b.minutes[x]), cmp.Compare(x, y))
		})
		i := ready[0]
		ready = ready[1:]
		slots[i] = b.slot(slots, placed, i, share)
		placed = append(placed, i)
		for _, j := range b.leaders[i] {
			if waiting[j]--; waiting[j] == 0 {
				ready = append(ready, j)
			}
		}
	}
	return slots
}

// latest is the latest allowed end of task i, in minutes before service.
func (b *board) latest(slots []Slot, i int) float64 {
	end := b.tasks[i].Due
	for _, j := range b.followers[i] {
		end = max(end, slots[j].Start)
	}
	return end
}

// slot finds the latest end at which task i fits: its followers' start, or the
// start of a task already placed.
func (b *board) slot(slots []Slot, placed []int, i int, share bool) Slot {
	wanted := b.latest(slots, i)
	end := wanted
	if share && !b.fits(slots, placed, i, end) {
		var starts []float64
		for _, j := range placed {
			if slots[j].Start > wanted {
				starts = append(starts, slots[j].Start)
			}
		}
		slices.Sort(starts)
		for _, s := range starts { // the last one always fits: everything placed is later
			if end = s; b.fits(slots, placed, i, end) {
				break
			}
		}
	}
	return Slot{Task: b.tasks[i], Start: end + b.minutes[i], End: end, Moved: end - wanted}
}

// fits reports whether task i may run up to end without overdrawing a resource.
// Use can only rise where some task starts or ends, so it is enough to look
// just before the end of each task and of i itself.
func (b *board) fits(slots []Slot, placed []int, i int, end float64) bool {
	start := end + b.minutes[i]
	for _, n := range b.needs[i] {
		have := b.capacity(n.Resource)
		if b.used(slots, placed, n.Resource, end)+n.Amount > have+1e-9 && start > end {
			return false
		}
		for _, j := range placed {
			if at := slots[j].End; at > end && at < start && b.used(slots, placed, n.Resource, at)+n.Amount > have+1e-9 {
				return false
			}
		}
	}
	return true
}

// used is what the placed tasks take of a resource just before a moment that
// is given in minutes before service.
func (b *board) used(slots []Slot, placed []int, resource string, at float64) float64 {
	sum := 0.0
	for _, j := range placed {
		if slots[j].End <= at && at < slots[j].Start {
			sum += b.takes(j, resource)
		}
	}
	return sum
}

func (b *board) takes(i int, resource string) float64 {
	sum := 0.0
	for _, n := range b.needs[i] {
		if n.Resource == resource {
			sum += n.Amount
		}
	}
	return sum
}

// clashes sweeps each resource and joins neighbouring stretches of the same tasks.
func (b *board) clashes(slots []Slot) []Clash {
	all := make([]int, len(slots))
	var moments []float64
	for i, s := range slots {
		all[i] = i
		moments = append(moments, s.Start, s.End)
	}
	slices.Sort(moments)
	moments = slices.Compact(moments)
	slices.Reverse(moments)
	var out []Clash
	for _, r := range b.resources {
		from := len(out)
		for k := 1; k < len(moments); k++ {
			want := b.used(slots, all, r.ID, moments[k])
			if want <= r.Capacity+1e-9 {
				continue
			}
			c := Clash{r.ID, moments[k-1], moments[k], b.users(slots, r.ID, moments[k]), want, r.Capacity}
			if n := len(out); n > from && out[n-1].To == c.From && slices.Equal(out[n-1].Tasks, c.Tasks) {
				out[n-1].To = c.To
				continue
			}
			out = append(out, c)
		}
	}
	return out
}

func (b *board) users(slots []Slot, resource string, at float64) []string {
	var out []string
	for i, s := range slots {
		if s.End <= at && at < s.Start && b.takes(i, resource) > 0 {
			out = append(out, s.Task.ID)
		}
	}
	return out
}

// wait is how long the result of task i stands until its first use: the
// earliest start of a follower, or its due time.
func (b *board) wait(slots []Slot, i int) float64 {
	next := b.tasks[i].Due
	for k, j := range b.followers[i] {
		if k == 0 || slots[j].Start > next {
			next = slots[j].Start
		}
	}
	return max(0, slots[i].End-next)
}
