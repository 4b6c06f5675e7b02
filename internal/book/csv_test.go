package book_test

import (
	"encoding/csv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
)

func TestCSV(t *testing.T) {
	got := book.CSV([]string{"name", "dose"}, [][]string{
		{`Pear, "soft"`, "0.45"}, {"two\nlines", "-5"}, {"", " kept "}, {"Crème 寒天", "1;2"},
	})
	assert.Equal(t, "\uFEFFname,dose\r\n\"Pear, \"\"soft\"\"\",0.45\r\n\"two\nlines\",-5\r\n,\" kept \"\r\nCrème 寒天,1;2\r\n", string(got))
}

func TestCSVDisarmsFormulas(t *testing.T) {
	for cell, want := range map[string]string{
		`=1+1`: `'=1+1`, `+1`: `'+1`, `@SUM(A1)`: `'@SUM(A1)`, `-2+3`: `'-2+3`, "\t=1": "'\t=1", "\r=1": "'\r=1",
		` =1`: `' =1`, `-`: `'-`, `＝1`: `'＝1`, `-5`: `-5`, `-0.25`: `-0.25`, `5`: `5`, `a=b`: `a=b`, ``: ``, "\u00a0=1": "'\u00a0=1",
	} {
		assert.Equal(t, want, readCSV(t, book.CSV([]string{cell}, nil))[0][0], "%q", cell)
	}
}

// readCSV reads with the standard library, which follows RFC 4180 except that
// it turns CR LF inside quotes into LF.
func readCSV(t testing.TB, text []byte) [][]string {
	r := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(text), "\uFEFF")))
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	require.NoError(t, err)
	return rows
}

func FuzzCSV(f *testing.F) {
	f.Add("a", "b\"c")
	f.Add("=x", "\r\n")
	f.Fuzz(func(t *testing.T, a, b string) {
		rows := readCSV(t, book.CSV([]string{"x", a, b}, nil))
		require.Len(t, rows, 1)
		require.Len(t, rows[0], 3)
		for i, cell := range []string{a, b} {
			got := rows[0][i+1]
			plain := strings.ReplaceAll(cell, "\r\n", "\n")
			require.Contains(t, []string{plain, "'" + plain}, got)
			first := strings.TrimLeft(got, " \t\r\n\u00a0")
			require.False(t, strings.HasPrefix(first, "=") || strings.HasPrefix(first, "@"), "%q", got)
		}
	})
}

// The calendar is compared with that of the standard library.
func TestHeadCells(t *testing.T) {
	h := book.Head{ID: "pear", Rev: 3, Name: "Pear", Tags: []string{"cold", "brunch"}, Saved: 1764079433999}
	assert.Equal(t, []string{"Pear", "cold; brunch", "2025-11-25T14:03:53Z", "3", "pear"}, book.HeadCells(h))
	for ms := int64(0); ms < 1<<44; ms += 86_400_000*17 + 12_345_678 {
		h.Saved = ms
		assert.Equal(t, time.UnixMilli(ms).UTC().Format("2006-01-02T15:04:05Z"), book.HeadCells(h)[2])
	}
}
