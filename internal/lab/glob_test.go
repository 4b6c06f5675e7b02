package lab

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// glob lists the files that match, without tests.
func glob(t testing.TB, pattern string) []string {
	t.Helper()
	names, err := filepath.Glob(pattern)
	require.NoError(t, err)
	var out []string
	for _, name := range names {
		if !strings.HasSuffix(name, "_test.go") {
			out = append(out, name)
		}
	}
	require.NotEmpty(t, out, pattern)
	return out
}
