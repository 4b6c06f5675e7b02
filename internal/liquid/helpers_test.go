package liquid_test

import (
	"encoding/csv"
	"errors"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tremblant/internal/liquid"
	"tremblant/internal/note"
)

// table reads a CSV of testdata; every file has a source column.
func table(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/" + name)
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Contains(t, rows[0], "source", name)
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

func number(t testing.TB, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	require.NoError(t, err, s)
	return x
}

func get(t testing.TB, id string) liquid.Ingredient {
	t.Helper()
	g, ok := liquid.ByID(id)
	require.True(t, ok, id)
	return g
}

func mix(t testing.TB, steps ...liquid.Step) *liquid.Liquid {
	t.Helper()
	l, err := liquid.Run(steps)
	require.NoError(t, err)
	return l
}

func refusal(t testing.TB, err error) *note.Refusal {
	t.Helper()
	var r *note.Refusal
	require.True(t, errors.As(err, &r), "%v", err)
	return r
}

func codes(notes []note.Note) []note.Code {
	var out []note.Code
	for _, n := range notes {
		out = append(out, n.Code)
	}
	return out
}
