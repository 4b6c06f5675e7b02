package site

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWeighCountsEachFileOnce(t *testing.T) {
	dir := t.TempDir()
	for name, size := range map[string]int{
		"index.html": 100, "index.html.gz": 60, "index.html.br": 50,
		"text.en.0123456789.json": 40, "text.en.0123456789.json.gz": 30, "text.en.0123456789.json.br": 20,
		"text.fr.0123456789.json": 44, "text.fr.0123456789.json.gz": 33, "text.fr.0123456789.json.br": 22,
		"lab.0123456789.wasm": 1000, "lab.0123456789.wasm.gz": 500, "lab.0123456789.wasm.br": 400,
		"icons/i.0123456789.png": 7,
	} {
		file := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file, make([]byte, size), 0o644))
	}
	var w Weight
	require.NoError(t, w.weighFiles(os.DirFS(dir)))
	assert.Len(t, w.Files, 5)
	assert.Equal(t, Bytes{147, 97, 77}, w.FirstLoad)
	assert.Equal(t, Bytes{1191, 630, 499}, w.All)

	w.Store.Brotli, w.Lean.Brotli = 70, 50
	firstLoad, all := w.Ratios()
	assert.InDelta(t, 1.1, firstLoad, 1e-9)
	assert.InDelta(t, 499.0/70, all, 1e-9)
	var out bytes.Buffer
	w.Print(&out)
	assert.Contains(t, out.String(), "first load 1.100, all 7.129")
}

func TestWeighMissesNoTwin(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "index.html"), nil, 0o644))
	var w Weight
	require.ErrorContains(t, w.weighFiles(os.DirFS(dir)), "index.html.gz")
}
