//go:build kill

package kill

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A kill in the middle of a write to the browser's log is rare, so these tests
// put down what it leaves behind: the head of a record without its end. Form of
// a record: checksum, four bytes; length, two; type, one (1 is a whole record);
// contents (LevelDB, doc/log_format.md).
var (
	// The next records are taken for its contents, and the checksum does not
	// fit: the browser deletes everything that it keeps for the page.
	tornShort = []byte{1, 2, 3, 4, 0xe8, 0x03, 1, 'a', 'b', 'c'}
	// Longer than all that is written behind it: the browser takes it for the
	// end of the log.
	tornLong = []byte{1, 2, 3, 4, 0xff, 0x7f, 1, 'a', 'b', 'c'}
)

func TestATornLogLosesNoSave(t *testing.T) {
	wasm := build(t)
	for _, c := range []struct {
		name, where string
		torn        []byte
	}{
		{"of the book, short", "Default/IndexedDB", tornShort},
		{"of the book, long", "Default/IndexedDB", tornLong},
		{"of the second copy, short", "Default/WebStorage/*/IndexedDB", tornShort},
		{"of the second copy, long", "Default/WebStorage/*/IndexedDB", tornLong},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			h := newHarness(t, newSite(t, wasm))
			for h.round = 1; h.round <= 6; h.round++ {
				h.once(t, func(b *browser) {
					require.True(t, h.await(t, b, h.compared) && h.await(t, b, h.saved))
					time.Sleep(100 * time.Millisecond)
				})
				if h.round == 2 {
					tear(t, filepath.Join(h.profile, c.where, "*.leveldb", "*.log"), c.torn)
				}
			}
			assert.GreaterOrEqual(t, h.ledger.comparisons, 6)
			assert.GreaterOrEqual(t, h.ledger.reported, 6, "each round saves")
		})
	}
}

// tear puts a torn record at the end of the newest log. A browser that keeps no
// such log needs no such test: the failing will say so.
func tear(t *testing.T, pattern string, torn []byte) {
	t.Helper()
	logs, err := filepath.Glob(pattern)
	require.NoError(t, err)
	require.NotEmpty(t, logs, "this browser keeps its databases in another form")
	f, err := os.OpenFile(logs[len(logs)-1], os.O_APPEND|os.O_WRONLY, 0)
	require.NoError(t, err)
	_, err = f.Write(torn)
	require.NoError(t, err)
	require.NoError(t, f.Close())
}
