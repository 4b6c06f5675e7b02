//go:build kill

package kill

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
)

// The judge is put before states that no book must ever be in.
func TestTheJudgeNotices(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(rows []row) []row
		want   string // what it must say; "" is nothing
	}{
		{"all is well", func(r []row) []row { return r }, ""},
		{"one save more than reported", func(r []row) []row {
			b := storedBook(t, 4)
			return rowsOf(t, b)
		}, ""},
		{"two saves more than reported", func(r []row) []row { return rowsOf(t, storedBook(t, 5)) }, "nobody reported"},
		{"a reported save is lost", func(r []row) []row { return rowsOf(t, storedBook(t, 2)) }, "LOST: r1-e0 revision 3"},
		{"everything is lost", func([]row) []row { return nil }, "LOST"},
		{"a revision in the middle is lost", func(r []row) []row { return without(r, book.Versions, 2) }, "has 2 of them"},
		{"the head is lost", func(r []row) []row { return without(r, book.Heads, 0) }, "without a head"},
		{"a record is cut", func(r []row) []row { return edit(r, book.Versions, func(s string) string { return s[:len(s)-9] }) }, "revisions of r1-e0"},
		{"a record is mixed", func(r []row) []row {
			return edit(r, book.Versions, func(s string) string { return strings.Replace(s, `"fill":["t1"`, `"fill":["t2"`, 1) })
		}, "mixed"},
		{"a record is short", func(r []row) []row {
			return edit(r, book.Versions, func(s string) string { return strings.Replace(s, `"fill":["t1",`, `"fill":[`, 1) })
		}, "half written"},
		{"head and revision differ", func(r []row) []row {
			return edit(r, book.Heads, func(s string) string { return strings.Replace(s, `"name":"t3"`, `"name":"t2"`, 1) })
		}, "differ"},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := newLedger()
			for rev := 1; rev <= 3; rev++ {
				require.NoError(t, l.note(strings.Fields(fmt.Sprintf("save r1-e0 %d t%d", rev, rev))))
			}
			state, err := json.Marshal(c.change(rowsOf(t, storedBook(t, 3))))
			require.NoError(t, err)
			problems := strings.Join(l.compare(string(state)), "\n")
			if c.want == "" {
				assert.Empty(t, problems)
				return
			}
			assert.Contains(t, problems, c.want)
		})
	}
}

func storedBook(t *testing.T, revs int) *book.Memory {
	m := book.NewMemory()
	b := book.New(m, book.Checks{})
	for rev := range revs {
		token := fmt.Sprint("t", rev+1)
		_, err := b.Save(t.Context(), book.Draft{ID: "r1-e0", Base: rev, Name: token, Saved: int64(rev),
			Body: fmt.Appendf(nil, `{"token":%q,"count":3,"fill":[%q,%q,%q]}`, token, token, token, token)})
		require.NoError(t, err)
	}
	return m
}

func rowsOf(t *testing.T, m *book.Memory) (rows []row) {
	spaces, err := m.Snapshot(t.Context(), book.Spaces...)
	require.NoError(t, err)
	for i, list := range spaces {
		for _, r := range list {
			rows = append(rows, row{Space: book.Spaces[i], ID: r.Key.ID, Rev: r.Key.Rev, Sub: r.Key.Sub, Text: r.Text})
		}
	}
	return rows
}

func without(rows []row, space book.Space, rev int) (out []row) {
	for _, r := range rows {
		if r.Space != space || r.Rev != rev {
			out = append(out, r)
		}
	}
	return out
}

func edit(rows []row, space book.Space, do func(string) string) []row {
	for i := range rows {
		if rows[i].Space == space {
			rows[i].Text = do(rows[i].Text)
		}
	}
	return rows
}
