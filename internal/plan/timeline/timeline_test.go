package timeline_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/note"
	"tremblant/internal/plan/timeline"
	"tremblant/internal/unit"
)

func minutes(m float64) unit.Range { return unit.Exactly(m) }

var kitchen = []timeline.Resource{{ID: timeline.Cook, Capacity: 1}, {ID: "stove", Capacity: 2}, {ID: "fridge", Capacity: 4}, {ID: "siphon", Capacity: 1}}

// evening is two formulas: a fluid gel and a siphon foam.
func evening() []timeline.Task {
	return []timeline.Task{
		{ID: "gel.hydrate", Formula: "gel", Duration: minutes(15), HandsOn: true, Needs: []timeline.Need{{Resource: "stove"}}, During: timeline.Hot, Resting: timeline.Warm},
		{ID: "gel.set", Formula: "gel", Duration: minutes(90), After: []string{"gel.hydrate"}, Needs: []timeline.Need{{Resource: "fridge"}}, During: timeline.Warm, Resting: timeline.Cold},
		{ID: "gel.blend", Formula: "gel", Duration: minutes(10), After: []string{"gel.set"}, HandsOn: true, Resting: timeline.Cold},
		{ID: "foam.base", Formula: "foam", Duration: minutes(20), HandsOn: true, During: timeline.Hot, Needs: []timeline.Need{{Resource: "stove"}}},
		{ID: "foam.chill", Formula: "foam", Duration: unit.Range{Low: 60, Typical: 80, High: 100}, After: []string{"foam.base"}, During: timeline.Warm},
		{ID: "foam.charge", Formula: "foam", Duration: minutes(5), After: []string{"foam.chill"}, HandsOn: true, Needs: []timeline.Need{{Resource: "siphon"}}},
	}
}

func start(t *testing.T, p timeline.Plan, id string) float64 {
	t.Helper()
	for _, s := range p.Slots {
		if s.Task.ID == id {
			return s.Start
		}
	}
	t.Fatalf("no task %s", id)
	return 0
}

// TestEveningByHand: as late as possible the gel needs 10 + 90 + 15 = 115 min
// and the foam 5 + 100 + 20 = 125. Both last steps want the cook at the end, and
// both hot steps overlap (115–100 and 125–105 min before service).
func TestEveningByHand(t *testing.T) {
	late, err := timeline.Make(evening(), kitchen, timeline.Options{KeepClash: true})
	require.NoError(t, err)
	assert.Equal(t, 125.0, late.Start)
	require.Len(t, late.Clashes, 2)
	assert.Equal(t, timeline.Clash{Resource: "cook", From: 115, To: 105, Tasks: []string{"gel.hydrate", "foam.base"}, Want: 2, Have: 1}, late.Clashes[0])
	assert.Equal(t, timeline.Clash{Resource: "cook", From: 5, To: 0, Tasks: []string{"gel.blend", "foam.charge"}, Want: 2, Have: 1}, late.Clashes[1])
	assert.ElementsMatch(t, []string{"foam.base", "foam.chill"}, late.During("gel.hydrate"), "setting only touches it")

	// One cook: the longer blending stays at the end, charging moves before it
	// (15–10), so the foam starts at 135; its base runs 135–115, and hydrating follows 115–100.
	p, err := timeline.Make(evening(), kitchen, timeline.Options{})
	require.NoError(t, err)
	assert.Equal(t, late.Clashes, p.Clashes)
	assert.Equal(t, 10.0, start(t, p, "gel.blend"))
	assert.Equal(t, 15.0, start(t, p, "foam.charge"))
	assert.Equal(t, 115.0, start(t, p, "gel.hydrate"))
	assert.Equal(t, 135.0, start(t, p, "foam.base"))
	assert.Equal(t, 135.0, p.Start)
	assert.Contains(t, p.Holds, timeline.Hold{Formula: "gel", Zone: timeline.Warm, Minutes: 90})
	assert.Contains(t, p.Holds, timeline.Hold{Formula: "foam", Zone: timeline.Warm, Minutes: 100})
}

func TestTypicalDurations(t *testing.T) {
	p, err := timeline.Make(evening(), kitchen, timeline.Options{Typical: true, KeepClash: true})
	require.NoError(t, err)
	assert.Equal(t, 115.0, p.Start)
}

func TestServiceTime(t *testing.T) {
	_, err := timeline.Make(evening(), kitchen, timeline.Options{Timed: true, Now: 1140, Service: 1139})
	assert.ErrorIs(t, err, note.Refuse("service", timeline.CodePast))
	_, err = timeline.Make(evening(), kitchen, timeline.Options{Timed: true, Now: math.NaN(), Service: 10})
	assert.ErrorIs(t, err, note.Refuse("service", timeline.CodePast))

	p, err := timeline.Make(evening(), kitchen, timeline.Options{Timed: true, Now: 1000, Service: 1100})
	require.NoError(t, err)
	n := find(p.Notes, timeline.CodeLate)
	require.NotNil(t, n)
	late, _ := n.Arg("minutes")
	assert.Equal(t, 35.0, late.Value)
}

func find(notes []note.Note, c note.Code) *note.Note {
	for i := range notes {
		if notes[i].Code == c {
			return &notes[i]
		}
	}
	return nil
}

func TestHoldsAddUpAcrossTasks(t *testing.T) {
	tasks := []timeline.Task{
		{ID: "a", Formula: "x", Duration: minutes(100), During: timeline.Warm, Resting: timeline.Warm},
		{ID: "b", Formula: "x", Duration: minutes(150), After: []string{"a"}, During: timeline.Warm},
	}
	p, err := timeline.Make(tasks, nil, timeline.Options{})
	require.NoError(t, err)
	require.NotNil(t, find(p.Notes, timeline.CodeWarmFour))
	assert.Equal(t, note.Danger, find(p.Notes, timeline.CodeWarmFour).Level)
}

func TestResultThatMayNotWait(t *testing.T) {
	tasks := []timeline.Task{
		{ID: "froth", Duration: minutes(3), Limited: true, Keeps: 2, HandsOn: true},
		{ID: "plate", Duration: minutes(8), HandsOn: true},
	}
	p, err := timeline.Make(tasks, []timeline.Resource{{ID: timeline.Cook, Capacity: 1}}, timeline.Options{})
	require.NoError(t, err)
	n := find(p.Notes, timeline.CodeHold)
	require.NotNil(t, n, "froth waits 8 minutes for service")
	assert.Equal(t, "froth", n.Field)
}

func TestLaterCourse(t *testing.T) {
	p, err := timeline.Make([]timeline.Task{{ID: "dessert", Duration: minutes(30), Due: -90}}, nil, timeline.Options{})
	require.NoError(t, err)
	assert.Equal(t, -60.0, p.Slots[0].Start)
}

func TestRefusals(t *testing.T) {
	one := func(change func(*timeline.Task)) []timeline.Task {
		task := timeline.Task{ID: "a", Duration: minutes(5)}
		change(&task)
		return []timeline.Task{task}
	}
	for _, c := range []struct {
		name      string
		tasks     []timeline.Task
		resources []timeline.Resource
		code      note.Code
	}{
		{"cycle", []timeline.Task{{ID: "a", After: []string{"b"}}, {ID: "b", After: []string{"a"}}}, nil, timeline.CodeCycle},
		{"itself", one(func(t *timeline.Task) { t.After = []string{"a"} }), nil, timeline.CodeCycle},
		{"unknown", one(func(t *timeline.Task) { t.After = []string{"z"} }), nil, timeline.CodeUnknown},
		{"twice", []timeline.Task{{ID: "a"}, {ID: "a"}}, nil, timeline.CodeTwice},
		{"negative", one(func(t *timeline.Task) { t.Duration = minutes(-1) }), nil, timeline.CodeBadDuration},
		{"NaN", one(func(t *timeline.Task) { t.Duration = minutes(math.NaN()) }), nil, timeline.CodeBadDuration},
		{"endless", one(func(t *timeline.Task) { t.Duration = minutes(1e9) }), nil, timeline.CodeBadDuration},
		{"due NaN", one(func(t *timeline.Task) { t.Due = math.NaN() }), nil, timeline.CodeBadDuration},
		{"no such resource", one(func(t *timeline.Task) { t.Needs = []timeline.Need{{Resource: "oven"}} }), kitchen, timeline.CodeBadResource},
		{"no cook", one(func(t *timeline.Task) { t.HandsOn = true }), nil, timeline.CodeBadResource},
		{"too much", one(func(t *timeline.Task) { t.Needs = []timeline.Need{{"stove", 3}} }), kitchen, timeline.CodeNeedTooMuch},
		{"twice the same need", one(func(t *timeline.Task) { t.Needs = []timeline.Need{{"stove", 1}, {"stove", 2}} }), kitchen, timeline.CodeNeedTooMuch},
		{"capacity", nil, []timeline.Resource{{"stove", 0}}, timeline.CodeBadResource},
		{"resource twice", nil, []timeline.Resource{{"stove", 1}, {"stove", 1}}, timeline.CodeTwice},
		{"too many", make([]timeline.Task, 1000), nil, timeline.CodeTooMany},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := timeline.Make(c.tasks, c.resources, timeline.Options{})
			assert.ErrorIs(t, err, note.Refuse("", c.code))
		})
	}
}

func randomEvening(rnd *rand.Rand) []timeline.Task {
	tasks := make([]timeline.Task, 1+rnd.IntN(14))
	for i := range tasks {
		d := float64(rnd.IntN(40))
		tasks[i] = timeline.Task{ID: fmt.Sprint(i), Formula: fmt.Sprint(rnd.IntN(3)), Duration: unit.Range{Low: d, Typical: d, High: d + float64(rnd.IntN(9))}, HandsOn: rnd.IntN(2) == 0}
		for _, r := range kitchen[1:] {
			if rnd.IntN(3) == 0 {
				tasks[i].Needs = append(tasks[i].Needs, timeline.Need{Resource: r.ID, Amount: 1 + float64(rnd.IntN(int(r.Capacity)))})
			}
		}
		for j := range i {
			if rnd.IntN(4) == 0 {
				tasks[i].After = append(tasks[i].After, fmt.Sprint(j))
			}
		}
	}
	rnd.Shuffle(len(tasks), func(i, j int) { tasks[i], tasks[j] = tasks[j], tasks[i] })
	return tasks
}

// use is what the slots take of a resource in the middle of minute m, counted afresh.
func use(p timeline.Plan, resource string, m float64) float64 {
	sum := 0.0
	for _, s := range p.Slots {
		if s.End > m || m >= s.Start {
			continue
		}
		for _, n := range s.Task.Needs {
			if n.Resource == resource {
				sum += n.Amount
			}
		}
		if s.Task.HandsOn && resource == timeline.Cook {
			sum++
		}
	}
	return sum
}

// TestProperties counts minute by minute: no resource is overdrawn once clashes
// are resolved, no task starts before what it waits for, and the clash list is
// exactly the overdrawn minutes of the latest plan.
func TestProperties(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 6))
	clashes := 0
	for range 300 {
		tasks := randomEvening(rnd)
		late, err := timeline.Make(tasks, kitchen, timeline.Options{KeepClash: true})
		require.NoError(t, err)
		p, err := timeline.Make(tasks, kitchen, timeline.Options{})
		require.NoError(t, err)
		for _, plan := range []timeline.Plan{late, p} {
			checkOrder(t, plan)
		}
		require.GreaterOrEqual(t, p.Start, late.Start)
		for _, r := range kitchen {
			for m := 0.5; m < p.Start; m++ {
				require.LessOrEqual(t, use(p, r.ID, m), r.Capacity, "%s at %v", r.ID, m)
				inList := false
				for _, c := range late.Clashes {
					inList = inList || c.Resource == r.ID && c.To <= m && m < c.From
				}
				require.Equal(t, use(late, r.ID, m) > r.Capacity, inList, "%s at %v", r.ID, m)
				if inList {
					clashes++
				}
			}
		}
	}
	require.Greater(t, clashes, 100)
}

func checkOrder(t *testing.T, p timeline.Plan) {
	at := map[string]timeline.Slot{}
	for _, s := range p.Slots {
		at[s.Task.ID] = s
	}
	for _, s := range p.Slots {
		require.Equal(t, s.Task.Duration.High, s.Start-s.End)
		require.GreaterOrEqual(t, s.End, 0.0)
		for _, id := range s.Task.After {
			require.GreaterOrEqual(t, at[id].End, s.Start)
		}
	}
}

func FuzzMake(f *testing.F) {
	f.Add(uint64(1), 5.0, 0.0, 10.0)
	f.Fuzz(func(t *testing.T, seed uint64, d, now, service float64) {
		tasks := randomEvening(rand.New(rand.NewPCG(seed, 7)))
		tasks[0].Duration = unit.Exactly(d)
		p, err := timeline.Make(tasks, kitchen, timeline.Options{Timed: true, Now: now, Service: service})
		if err == nil && (!unit.Finite(p.Start) || len(p.Slots) != len(tasks)) {
			t.Fatal(p)
		}
	})
}

func ExampleMake() {
	p, _ := timeline.Make([]timeline.Task{
		{ID: "hydrate", Duration: unit.Exactly(10), HandsOn: true},
		{ID: "set", Duration: unit.Range{Low: 60, Typical: 75, High: 90}, After: []string{"hydrate"}},
	}, []timeline.Resource{{ID: timeline.Cook, Capacity: 1}}, timeline.Options{})
	for _, s := range p.Slots {
		fmt.Printf("%s: start %g min before service\n", s.Task.ID, s.Start)
	}
	// Output:
	// hydrate: start 100 min before service
	// set: start 90 min before service
}
