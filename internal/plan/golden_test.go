package plan_test

import (
	"encoding/csv"
	"fmt"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/note"
	"tremblant/internal/plan"
	"tremblant/internal/plan/plantest"
	"tremblant/internal/plan/weigh"
)

// shelves are the scales of two kitchens: one has only a bench scale.
var shelves = map[string][]weigh.Scale{
	"bench":        {{ID: "bench", Step: 0.1, Capacity: 2000}},
	"bench+pocket": {{ID: "bench", Step: 0.1, Capacity: 2000}, {ID: "pocket", Step: 0.01, Capacity: 200, Cup: 10}},
}

// TestSheetWeights compares the weighing lists of the six formulas with
// figures worked by hand in plan-sheet-weights.csv, beside the method that
// TestSheets of package method compares.
func TestSheetWeights(t *testing.T) {
	f, err := os.Open("../../testdata/plan-sheet-weights.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	want := map[[2]string][][]string{}
	for _, row := range rows[1:] {
		require.NotEmpty(t, row[6])
		key := [2]string{row[0], row[1]}
		want[key] = append(want[key], row[2:6])
	}
	require.Len(t, want, len(plantest.Sheets))
	for key, lines := range want {
		t.Run(key[0], func(t *testing.T) {
			in, ok := plantest.Sheets[key[0]]
			require.True(t, ok)
			s, err := plan.Make(plan.Input{Title: key[0], Items: plan.Items(in), Method: in, Scales: shelves[key[1]]})
			require.NoError(t, err)
			var got [][]string
			for _, l := range s.Weights.Lines {
				got = append(got, []string{l.ID, strconv.FormatFloat(float64(l.Reading.Shown), 'g', -1, 64), l.Reading.Scale, premix(l)})
			}
			if !assert.Equal(t, lines, got) {
				t.Logf("%q", got)
			}
			for _, l := range s.Weights.Lines {
				assert.True(t, l.Premix != nil || l.Reading.Within(s.Weights.Tolerance), "%s is weighable", l.ID)
			}
			assert.Equal(t, plan.UseByPlan, s.Label.UseBy)
		})
	}
}

func premix(l weigh.Line) string {
	if l.Premix == nil {
		return ""
	}
	return fmt.Sprintf("%g+%g %s", float64(l.Premix.AgentIn.Shown), float64(l.Premix.CarrierIn.Shown), l.Premix.Carrier)
}

// TestSiphonSheetWarnsFirst: the danger of the siphon heads its sheet.
func TestSiphonSheetWarnsFirst(t *testing.T) {
	in := plantest.Sheets["siphon foam"]
	s, err := plan.Make(plan.Input{Title: "Cucumber foam", Items: plan.Items(in), Method: in, Scales: shelves["bench+pocket"]})
	require.NoError(t, err)
	require.NotEmpty(t, s.Cautions)
	assert.Equal(t, note.Danger, s.Cautions[0].Level)
	assert.Equal(t, note.Code("method.pressure"), s.Cautions[0].Code)
}
