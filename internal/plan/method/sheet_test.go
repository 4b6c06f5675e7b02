package method_test

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/note"
	"tremblant/internal/plan/method"
	"tremblant/internal/unit"
)

// sheets are the six inputs of the expected sheets in plan-sheets.csv, in an
// invented kitchen.
var sheets = map[string]method.Input{
	"agar-gellan fluid gel": {
		Doses: []method.Dose{{Process: agar, Mass: 3.5}, {Process: gellan, Mass: 0.6}},
		Liquid: method.Liquid{PH: unit.Range{Low: 3.1, Typical: 3.3, High: 3.5}, Calcium: 2.5, Parts: []method.Part{
			{ID: "water", Mass: 250, Temp: 15}, {ID: "quince-juice", Mass: 250, Role: method.Acid, Temp: 5},
			{ID: "sugar", Mass: 40, Role: method.Sugar, Temp: 20}, {ID: "citrate", Mass: 0.25, Role: method.Sequestrant, Temp: 20}}},
		Target: method.FluidGel, Bottled: true},
	"leaf gelatin set cream": {
		Doses: []method.Dose{{Process: gelatin, Mass: 5, Sheets: true}},
		Liquid: method.Liquid{Dairy: true, Calcium: 24, Parts: []method.Part{
			{ID: "cream", Mass: 300, Temp: 5}, {ID: "milk", Mass: 200, Temp: 5}, {ID: "sugar", Mass: 50, Role: method.Sugar, Temp: 20}}},
		Target: method.SetGel},
	"iota in milk": {
		Doses: []method.Dose{{Process: iota, Mass: 1}},
		Liquid: method.Liquid{Dairy: true, Calcium: 28, Parts: []method.Part{
			{ID: "milk", Mass: 500, Temp: 5}, {ID: "sugar", Mass: 40, Role: method.Sugar, Temp: 20}}},
		Target: method.SetGel},
	"lm pectin with calcium": {
		Doses: []method.Dose{{Process: pectin, Mass: 4}, {Process: lactate, Mass: 0.8}},
		Liquid: method.Liquid{PH: unit.Range{Low: 3.4, Typical: 3.6, High: 3.8}, Parts: []method.Part{
			{ID: "plum-puree", Mass: 400, Temp: 15}, {ID: "sugar", Mass: 200, Role: method.Sugar, Temp: 20}}},
		Target: method.SetGel},
	"alginate bath": {
		Doses:  []method.Dose{{Process: alginate, Mass: 5}},
		Liquid: method.Liquid{Calcium: 0.1, Parts: []method.Part{{ID: "soft-water", Mass: 1000, Temp: 15}}},
		Target: method.Bath},
	"siphon foam": {
		Doses: []method.Dose{{Process: gelatin, Mass: 3.2}},
		Liquid: method.Liquid{PH: unit.Range{Low: 4.0, Typical: 4.2, High: 4.4}, PHMeasured: true, Parts: []method.Part{
			{ID: "water", Mass: 100, Temp: 15}, {ID: "cucumber-juice", Mass: 300, Role: method.Delicate, Temp: 5}}},
		Target: method.SiphonCold, Charges: 1},
}

// line writes a step the way the table does: figures by name, limits with ≥ and ≤.
func line(s method.Step) (figures, limits string) {
	var f, l []string
	number := func(x float64, u unit.Symbol) string {
		return strconv.FormatFloat(x, 'g', 5, 64) + " " + string(u)
	}
	for _, a := range s.Args {
		if a.Unit == "" {
			f = append(f, a.Name+"="+a.Word+a.Typed)
			continue
		}
		f = append(f, a.Name+"="+number(a.Value, a.Unit))
	}
	for _, one := range s.Limits {
		sign := ">="
		if one.Most {
			sign = "<="
		}
		l = append(l, sign+number(one.Value, one.Unit))
	}
	return strings.Join(f, "; "), strings.Join(l, "; ")
}

// TestSheets compares with the sheets worked by hand in plan-sheets.csv; the
// handbook procedure behind each row is named in its source column.
func TestSheets(t *testing.T) {
	f, err := os.Open("../../../testdata/plan-sheets.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	want := map[string][][]string{}
	for _, row := range rows[1:] {
		require.NotEmpty(t, row[4], "row without source")
		want[row[0]] = append(want[row[0]], row[1:4])
	}
	require.Len(t, want, len(sheets))
	for name, in := range sheets {
		t.Run(name, func(t *testing.T) {
			m, err := method.Build(in)
			require.NoError(t, err)
			var got [][]string
			for _, s := range m.Steps {
				figures, limits := line(s)
				got = append(got, []string{s.ID, figures, limits})
			}
			if !assert.Equal(t, want[name], got) {
				for _, g := range got {
					t.Logf("%q", g)
				}
			}
		})
	}
}

func build(t *testing.T, in method.Input) method.Method {
	t.Helper()
	m, err := method.Build(in)
	require.NoError(t, err)
	return m
}

func kinds(m method.Method) []method.Kind {
	var out []method.Kind
	for _, s := range m.Steps {
		out = append(out, s.Kind)
	}
	return out
}

func step(t *testing.T, m method.Method, k method.Kind) method.Step {
	t.Helper()
	for _, s := range m.Steps {
		if s.Kind == k {
			return s
		}
	}
	t.Fatalf("no step %q in %v", k, kinds(m))
	return method.Step{}
}

func codes(notes []note.Note) []note.Code {
	var out []note.Code
	for _, n := range notes {
		out = append(out, n.Code)
	}
	return out
}
