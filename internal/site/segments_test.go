package site

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// memory is what a module's data segments put into memory.
func memory(t *testing.T, module []byte) (image []byte, segments int) {
	t.Helper()
	for rest := module[wasmHead:]; len(rest) > 0; {
		id, body, next, err := section(rest)
		require.NoError(t, err)
		if id == sectionData {
			list, err := readSegments(body)
			require.NoError(t, err)
			for _, s := range list {
				image = append(image, make([]byte, s.end()-int64(len(image)))...)
				copy(image[s.at:], s.data)
			}
			segments = len(list)
		}
		rest = next
	}
	return image, segments
}

func moduleOf(segments ...segment) []byte {
	body := writeSegments(segments)
	module := append([]byte("\x00asm\x01\x00\x00\x00"), 0, 2, 1, 'x', sectionData)
	return append(append(module, byte(len(body))), body...)
}

func TestMergeKeepsMemory(t *testing.T) {
	module := moduleOf(segment{10, []byte("ab")}, segment{20, nil}, segment{22, []byte("c")}, segment{100, []byte("far")})
	merged, err := mergeSegments(module, 10)
	require.NoError(t, err)
	assert.Equal(t, moduleOf(segment{10, []byte("ab\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00c")}, segment{100, []byte("far")}), merged)
	apart, err := mergeSegments(module, 9)
	require.NoError(t, err)
	_, n := memory(t, apart)
	assert.Equal(t, 3, n)
}

func TestSignedNumbers(t *testing.T) {
	for _, v := range []int64{0, 1, 63, 64, 127, 128, 8191, 8192, 1 << 20, 1<<31 - 1} {
		got, n := signed(appendSigned(nil, v))
		assert.Equal(t, v, got)
		assert.Len(t, appendSigned(nil, v), n)
	}
	v, n := signed([]byte{0x7f}) // −1: WebAssembly Core Specification 1.0, 5.2.2
	assert.Equal(t, int64(-1), v)
	assert.Equal(t, 1, n)
	_, n = signed([]byte{0x80, 0x80})
	assert.Zero(t, n)
}

func TestMergeRefusesWhatItDoesNotKnow(t *testing.T) {
	for name, module := range map[string]string{
		"no module":         "asm",
		"a text":            "hello, world",
		"a long section":    "\x00asm\x01\x00\x00\x00\x0b\x7f\x00",
		"no size":           "\x00asm\x01\x00\x00\x00\x0b",
		"counted twice":     "\x00asm\x01\x00\x00\x00\x0c\x01\x00",
		"passive":           "\x00asm\x01\x00\x00\x00\x0b\x04\x01\x01\x01x",
		"another place":     "\x00asm\x01\x00\x00\x00\x0b\x07\x01\x00\x23\x00\x0b\x01x",
		"a long segment":    "\x00asm\x01\x00\x00\x00\x0b\x06\x01\x00\x41\x00\x0b\x09",
		"bytes left over":   "\x00asm\x01\x00\x00\x00\x0b\x02\x00\x00",
		"overlapping":       string(moduleOf(segment{10, []byte("abc")}, segment{12, []byte("d")})),
		"before the memory": "\x00asm\x01\x00\x00\x00\x0b\x07\x01\x00\x41\x7f\x0b\x01x",
	} {
		_, err := mergeSegments([]byte(module), mergeGap)
		assert.ErrorIs(t, err, errModule, name)
	}
}

func FuzzMergeSegments(f *testing.F) {
	f.Add(moduleOf(segment{1, []byte("a")}, segment{9, []byte("b")}))
	f.Fuzz(func(t *testing.T, module []byte) {
		merged, err := mergeSegments(module, 64)
		if err != nil {
			return
		}
		again, err := mergeSegments(merged, 64)
		require.NoError(t, err)
		assert.Equal(t, merged, again)
	})
}

// hello builds a small program as the linker leaves it.
func hello(t *testing.T) []byte {
	t.Helper()
	out := filepath.Join(t.TempDir(), "plain.wasm")
	_, err := goTool("../..", "build", "-trimpath", "-ldflags", "-s -w", "-o", out, "./internal/site/testdata/hello")
	require.NoError(t, err)
	plain, err := os.ReadFile(out)
	require.NoError(t, err)
	return plain
}

// run runs a program in Node and returns what it says.
func run(t *testing.T, program []byte, args ...string) (string, error) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "program.wasm")
	require.NoError(t, os.WriteFile(file, program, 0o644))
	goroot, err := goTool("../..", "env", "GOROOT")
	require.NoError(t, err)
	runner := filepath.Join(strings.TrimSpace(string(goroot)), "lib", "wasm", "wasm_exec_node.js")
	said, err := exec.Command("node", append([]string{"--stack-size=8192", runner, file}, args...)...).CombinedOutput()
	return string(said), err
}

// A merged program holds the same memory and runs.
func TestMergedProgramRuns(t *testing.T) {
	plain := hello(t)
	merged, err := mergeSegments(plain, mergeGap)
	require.NoError(t, err)

	before, many := memory(t, plain)
	after, few := memory(t, merged)
	assert.True(t, bytes.Equal(before, after), "memory differs")
	assert.Less(t, few, many/20)
	less, err := Fast.Brotli(merged)
	require.NoError(t, err)
	more, err := Fast.Brotli(plain)
	require.NoError(t, err)
	assert.Less(t, len(less), len(more))
	t.Logf("%d segments became %d, %d bytes of quick Brotli became %d", many, few, len(more), len(less))

	said, err := run(t, merged, "a", "b")
	require.NoError(t, err, said)
	assert.Equal(t, "sorted: [a b] of map[1:one 2:two], 3.14\n", said)
}
