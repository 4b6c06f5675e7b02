package gel

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// table reads a published table: comment lines, a header, then rows by column name.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/" + name)
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 1)
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, h := range rows[0] {
			m[h] = row[i]
		}
		out = append(out, m)
	}
	return out
}

func figure(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return x
}

// doses reads "agar:0.89 lbg:0.10", in per cent.
func doses(t *testing.T, s string) []Dose {
	t.Helper()
	var out []Dose
	for _, f := range strings.Fields(s) {
		id, pct, ok := strings.Cut(f, ":")
		require.True(t, ok, f)
		out = append(out, Dose{Agent: agent.ID(id), Share: unit.Percent(figure(t, pct))})
	}
	return out
}

func codes(notes []note.Note) []note.Code {
	var out []note.Code
	for _, n := range notes {
		out = append(out, n.Code)
	}
	return out
}

func find(notes []note.Note, c note.Code) (note.Note, bool) {
	for _, n := range notes {
		if n.Code == c {
			return n, true
		}
	}
	return note.Note{}, false
}
