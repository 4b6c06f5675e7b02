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
	"tremblant/internal/plan/plantest"
	"tremblant/internal/unit"
)

// sheets are the six formulas that the expected sheets were worked from.
var sheets = plantest.Sheets

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
