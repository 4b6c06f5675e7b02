package liquid

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Table reads a CSV of testdata; every file has a source column.
func Table(t testing.TB, name string) []map[string]string {
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

// Number reads a figure of a table.
func Number(t testing.TB, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	require.NoError(t, err, s)
	return x
}
