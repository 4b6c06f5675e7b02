package plan_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/note"
	"tremblant/internal/plan"
	"tremblant/internal/plan/cool"
	"tremblant/internal/plan/method"
	"tremblant/internal/plan/safety"
	"tremblant/internal/plan/timeline"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

var handbook = source.Ref{Tag: source.Published, Text: "Phillips & Williams (eds.), Handbook of Hydrocolloids, 3rd ed., 2021"}

func fact(low, typical, high float64) method.Fact {
	return method.Fact{Range: unit.Range{Low: low, Typical: typical, High: high}, Source: handbook}
}

var gellan = method.Process{ID: "gellan-la", Way: method.DryBlend, Premix: fact(5, 5, 10), Heat: fact(80, 90, 95), Hold: fact(1, 2, 3),
	SetBy: method.OnCooling, Sets: fact(25, 40, 60), SetTime: fact(2, 10, 30)}

// quince is a fluid gel of an invented kitchen: 0.6 g of gellan is too little
// for its 0.1 g scale.
func quince(t *testing.T) plan.Input {
	t.Helper()
	fridge, ok := cool.FindMedium("still-fridge")
	require.True(t, ok)
	props, err := cool.Composition{Water: 0.87, Carbohydrate: 0.13}.At(40)
	require.NoError(t, err)
	return plan.Input{
		Title: "Quince fluid gel", Made: "12 Nov", Portions: 20, Yield: 0.9, Currency: "€", Bowl: 250,
		Items: []plan.Item{
			{Item: weigh.Item{ID: "gellan-la", Word: "agent.gellan-la", Mass: 0.6, Carriers: []weigh.Carrier{{ID: "sugar"}}}, Agent: true,
				Vegan: plan.Yes, Vegetarian: plan.Yes, Price: 60, Priced: true},
			{Item: weigh.Item{ID: "sugar", Typed: "sugar", Mass: 60}, Vegan: plan.Yes, Vegetarian: plan.Yes, Price: 1.5, Priced: true},
			{Item: weigh.Item{ID: "juice", Typed: "quince juice", Mass: 500, Group: 1}, Vegan: plan.Ask, Vegetarian: plan.Yes, MayHold: []string{"sulphite"}},
		},
		Scales: []weigh.Scale{{ID: "bench", Step: 0.1, Capacity: 2000}},
		Method: method.Input{Doses: []method.Dose{{Process: gellan, Mass: 0.6}}, Target: method.FluidGel, Bottled: true,
			Liquid: method.Liquid{Parts: []method.Part{{ID: "juice", Mass: 500, Temp: 5}, {ID: "sugar", Mass: 60, Role: method.Sugar, Temp: 20}}}},
		Cooling: &cool.Job{Load: cool.Load{Vessel: cool.Tray, Depth: 20}, Medium: fridge, Properties: props, Start: 85, Mass: 560},
		Safety:  safety.Facts{HotLiquid: true},
		Holds:   []safety.Hold{{Temp: 20, Minutes: 300}},
	}
}

func makeQuince(t *testing.T) (plan.Sheet, error) { return plan.Make(quince(t)) }

func TestSheet(t *testing.T) {
	s, err := makeQuince(t)
	require.NoError(t, err)

	assert.InDelta(t, 560.6, float64(s.Batch), 1e-9)
	assert.InDelta(t, 504.54, float64(s.Finished), 1e-9)
	assert.InDelta(t, 25.227, float64(s.Portion), 1e-9)

	require.NotNil(t, s.Weights.Lines[0].Premix, "0.6 g goes by premix")
	assert.InDelta(t, 54.6, float64(s.Weights.Lines[1].Mass), 1e-9, "the premix brings 5.4 g of the sugar")
	assert.InDelta(t, 60, float64(s.Weights.Composition("sugar")), 1e-9)
	require.Len(t, s.Bowl.Loads, 3)
	assert.Equal(t, "juice", s.Bowl.Loads[2].ID)

	// 60 g/kg × 0.6 g + 1.5 × 60 g = 0.036 + 0.09
	assert.InDelta(t, 0.126, s.Cost.Batch, 1e-12)
	assert.InDelta(t, 0.0063, s.Cost.Portion, 1e-12)
	assert.Equal(t, []string{"juice"}, s.Cost.Missing)

	assert.Equal(t, plan.Diet{Vegan: plan.Ask, Vegetarian: plan.Yes, MayHold: []string{"sulphite"}}, s.Diet)
	assert.Equal(t, plan.Label{Name: "Quince fluid gel", Made: "12 Nov", Batch: s.Finished, MayHold: []string{"sulphite"}, UseBy: plan.UseByPlan}, s.Label)

	require.Len(t, s.Cooling, 4)
	assert.Equal(t, unit.Celsius(25), s.Cooling[0].Target, "the method chills below 25 °C")
	for _, task := range s.Tasks {
		if task.ID == "Quince fluid gel/chill/gellan-la" {
			assert.InDelta(t, s.Cooling[0].Time.Typical/60, task.Duration.Typical, 1e-9, "the fridge is slower than the gel")
		}
	}
	for i := 1; i < len(s.Cautions); i++ {
		assert.GreaterOrEqual(t, s.Cautions[i-1].Level, s.Cautions[i].Level, "dangers first")
	}
	assert.Equal(t, safety.CodeHoldFails, s.Cautions[0].Code)
}

func TestEvening(t *testing.T) {
	in := quince(t)
	one, err := plan.Make(in)
	require.NoError(t, err)
	in.Title = "Pear fluid gel"
	two, err := plan.Make(in)
	require.NoError(t, err)
	kitchen := []timeline.Resource{{ID: timeline.Cook, Capacity: 1}, {ID: "stove", Capacity: 2}, {ID: "fridge", Capacity: 4}, {ID: "blender", Capacity: 1}}
	e, err := plan.Join([]plan.Sheet{one, two}, kitchen, timeline.Options{Typical: true})
	require.NoError(t, err)
	assert.NotEmpty(t, e.Timeline.Clashes, "one cook for two formulas")
	require.Len(t, e.Needs, 3)
	assert.Equal(t, "sugar", e.Needs[1].ID)
	assert.InDelta(t, 120, float64(e.Needs[1].Mass), 1e-9, "what is wanted, not what is left after the premix")
	assert.Equal(t, []string{"Quince fluid gel", "Pear fluid gel"}, e.Needs[1].Sheets)
	assert.InDelta(t, 2*0.126, e.Cost, 1e-12)

	_, err = plan.Join([]plan.Sheet{one, one}, kitchen, timeline.Options{})
	assert.ErrorIs(t, err, note.Refuse("title", plan.CodeTwoTitles))
}

// TestItems: everything in the method is weighed once, small doses with a way to
// dilute them. Powders are listed before liquids, and go into one bowl after them.
func TestItems(t *testing.T) {
	in := method.Input{Doses: []method.Dose{{Process: gellan, Mass: 0.6}}, Liquid: method.Liquid{Parts: []method.Part{
		{ID: "juice", Mass: 500}, {ID: "sugar", Mass: 60, Role: method.Sugar}, {ID: "citrate", Mass: 0.3, Role: method.Sequestrant}}}}
	items := plan.Items(in)
	list, err := weigh.Make(items2recipe(items), []weigh.Scale{{ID: "bench", Step: 0.1, Capacity: 2000}}, 0)
	require.NoError(t, err)
	var total unit.Mass
	for i, item := range items {
		total += item.Mass
		assert.InDelta(t, float64(item.Mass), float64(list.Composition(item.ID)), 1e-9, item.ID)
		if i > 0 {
			assert.LessOrEqual(t, item.Group, items[i-1].Group)
		}
	}
	bowl, err := weigh.OneBowl(list, []weigh.Scale{{ID: "fine", Step: 0.001, Capacity: 2000}}, 0)
	require.NoError(t, err)
	var order []string
	for _, load := range bowl.Loads {
		order = append(order, load.ID)
	}
	assert.Equal(t, []string{"juice", "citrate", "sugar", "gellan-la"}, order)
	assert.InDelta(t, 560.9, float64(total), 1e-9)
	assert.NotNil(t, list.Lines[0].Premix, "gellan")
	assert.NotNil(t, list.Lines[2].Premix, "citrate")
}

func items2recipe(items []plan.Item) (out []weigh.Item) {
	for _, item := range items {
		out = append(out, item.Item)
	}
	return out
}

func TestCarriers(t *testing.T) {
	liquid := method.Liquid{Parts: []method.Part{{ID: "stock", Mass: 500}, {ID: "salt", Mass: 5, Role: method.Salt}, {ID: "honey-sugar", Mass: 40, Role: method.Sugar}}}
	ids := func(p method.Process) (out []string) {
		for _, c := range plan.Carriers(p, liquid) {
			out = append(out, c.ID)
		}
		return out
	}
	xanthan := method.Process{ID: "xanthan", Cold: true, Cap: fact(1, 1, 1)}
	assert.Equal(t, []string{"honey-sugar", "stock", "salt", "maltodextrin"}, ids(xanthan))
	assert.Equal(t, unit.Fraction(0.01), plan.Carriers(xanthan, liquid)[1].MaxShare)
	blocked := gellan
	blocked.CaMax = fact(2, 2.5, 4)
	assert.Equal(t, []string{"honey-sugar", "maltodextrin"}, ids(blocked))
	assert.Empty(t, ids(method.Process{ID: "gelatin", Way: method.Soak}))
}

func TestPlaceThatIsNotColdEnough(t *testing.T) {
	in := quince(t)
	in.SetAt = 10
	room, _ := cool.FindMedium("room")
	in.Cooling.Medium = room
	s, err := plan.Make(in)
	require.NoError(t, err)
	var codes []note.Code
	for _, n := range s.Cautions {
		codes = append(codes, n.Code)
	}
	assert.Contains(t, codes, plan.CodeNoSet)
}

// What a chilling says, and what its clock is set to, is as long as it is planned.
func TestChillingSaysHowLongItCools(t *testing.T) {
	in := quince(t)
	long, err := plan.Make(in)
	require.NoError(t, err)
	in.Cooling = nil
	short, err := plan.Make(in)
	require.NoError(t, err)
	chill := func(s plan.Sheet) method.Edited {
		i := slices.IndexFunc(s.Steps, func(e method.Edited) bool { return e.Kind == method.Chill })
		require.GreaterOrEqual(t, i, 0)
		return s.Steps[i]
	}
	said := func(e method.Edited) float64 {
		i := slices.IndexFunc(e.Args, func(a note.Arg) bool { return a.Name == "minutes" })
		require.GreaterOrEqual(t, i, 0)
		return e.Args[i].Value
	}
	require.Greater(t, chill(long).Minutes.Typical, chill(short).Minutes.Typical, "else this compares nothing")
	assert.InDelta(t, chill(long).Minutes.Typical, said(chill(long)), 1e-9)
	assert.InDelta(t, chill(short).Minutes.Typical, said(chill(short)), 1e-9)
}

// A large batch of which nobody has said how it cools is not promised for when its agent sets.
func TestLargeBatchAsksHowDeepItLies(t *testing.T) {
	in := quince(t)
	in.Cooling = nil
	warned := func() bool {
		s, err := plan.Make(in)
		require.NoError(t, err)
		return slices.ContainsFunc(s.Cautions, func(n note.Note) bool { return n.Code == plan.CodeThinLayer })
	}
	assert.False(t, warned())
	for i := range in.Items {
		in.Items[i].Mass *= 50
	}
	assert.True(t, warned())
}

func TestAnimalAndAllergens(t *testing.T) {
	in := quince(t)
	in.Items[0].Vegan = plan.No // a no is not undone by what follows
	in.Items[2].Vegetarian, in.Items[2].Allergens, in.Items[2].MayHold = plan.No, []string{"milk", "fish"}, []string{"milk", "egg"}
	s, err := plan.Make(in)
	require.NoError(t, err)
	assert.Equal(t, plan.No, s.Diet.Vegetarian)
	assert.Equal(t, plan.No, s.Diet.Vegan)
	assert.Equal(t, []string{"fish", "milk"}, s.Diet.Allergens)
	assert.Equal(t, []string{"egg"}, s.Diet.MayHold)
}

func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*plan.Input)
		code   note.Code
	}{
		{"portions NaN", func(in *plan.Input) { in.Portions = math.NaN() }, plan.CodeBadPortions},
		{"portions negative", func(in *plan.Input) { in.Portions = -1 }, plan.CodeBadPortions},
		{"yield above one", func(in *plan.Input) { in.Yield = 1.1 }, plan.CodeBadYield},
		{"price NaN", func(in *plan.Input) { in.Items[0].Price = math.NaN() }, plan.CodeBadPrice},
		{"price negative", func(in *plan.Input) { in.Items[0].Price = -1 }, plan.CodeBadPrice},
		{"no scale", func(in *plan.Input) { in.Scales = nil }, weigh.CodeNoScale},
		{"mass", func(in *plan.Input) { in.Items[0].Mass = unit.Mass(math.Inf(1)) }, weigh.CodeBadMass},
		{"method", func(in *plan.Input) { in.Method.Doses = nil }, method.CodeNoAgent},
		{"cooling", func(in *plan.Input) { in.Cooling.Load.Depth = -1 }, cool.CodeBadLength},
		{"hold", func(in *plan.Input) { in.Holds[0].Minutes = -1 }, safety.CodeBadHold},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := quince(t)
			c.change(&in)
			_, err := plan.Make(in)
			assert.ErrorIs(t, err, note.Refuse("", c.code))
		})
	}
}

func ExampleMake() {
	s, err := plan.Make(plan.Input{
		Title:  "Milk pudding",
		Items:  []plan.Item{{Item: weigh.Item{ID: "gellan-la", Mass: 2}}, {Item: weigh.Item{ID: "milk", Mass: 500}, Allergens: []string{"milk"}}},
		Scales: []weigh.Scale{{ID: "pocket", Step: 0.01, Capacity: 500}, {ID: "bench", Step: 1, Capacity: 3000}},
		Method: method.Input{Doses: []method.Dose{{Process: gellan, Mass: 2}}, Liquid: method.Liquid{Parts: []method.Part{{ID: "milk", Mass: 500, Temp: 5}}}, Target: method.SetGel},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.Weights.Lines[0].Reading.Shown, s.Label.Allergens, len(s.Steps))
	// Output: 2 [milk] 7
}
