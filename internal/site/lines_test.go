package site

import (
	"bytes"
	"encoding/binary"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A program without its lines runs, and the trace of its panic names functions.
func TestProgramWithoutLinesRuns(t *testing.T) {
	plain := hello(t)
	merged, err := mergeSegments(plain, mergeGap)
	require.NoError(t, err)
	small, err := shrink(plain)
	require.NoError(t, err)
	assert.Len(t, small, len(merged), "nothing moves")
	assert.NotContains(t, string(small), "runtime/malloc.go")
	assert.Contains(t, string(merged), "runtime/malloc.go")
	less, err := Fast.Brotli(small)
	require.NoError(t, err)
	more, err := Fast.Brotli(merged)
	require.NoError(t, err)
	assert.Less(t, float64(len(less)), 0.97*float64(len(more)), "the lines are gone: does this toolchain lay them out in another way?")
	t.Logf("%d bytes of quick Brotli became %d", len(more), len(less))

	said, err := run(t, small, "a", "b")
	require.NoError(t, err, said)
	assert.Equal(t, "sorted: [a b] of map[1:one 2:two], 3.14\n", said)

	said, err = run(t, small, "collect")
	require.NoError(t, err, said)
	assert.Equal(t, "collected: 499500, caught: runtime error: integer divide by zero\n", said, "stacks are still read")

	said, err = run(t, small, "panic")
	require.Error(t, err)
	assert.Contains(t, said, "panic: asked to")
	assert.Contains(t, said, "main.deep(", "functions keep their names")
	assert.NotContains(t, said, ".go:")
}

// table is a table of functions as the linker writes it: each function with its
// tables of the stack, files and lines, and others.
func table(tables string, functions ...[]uint32) []byte {
	const files, units = "a.go\x00", "\x00\x00\x00\x00"
	var index, records []byte
	for i, f := range functions {
		index = binary.LittleEndian.AppendUint32(index, uint32(i))
		index = binary.LittleEndian.AppendUint32(index, uint32(len(functions)*funcEntry+len(records)))
		for _, v := range []uint32{0, 0, 0, 0, f[0], f[1], f[2], uint32(len(f) - 3), 7, 1, 0} {
			records = binary.LittleEndian.AppendUint32(records, v)
		}
		for _, more := range f[3:] {
			records = binary.LittleEndian.AppendUint32(records, more)
		}
	}
	b := bytes.Clone(lineMagic)
	names, at := "main.main\x00", uint64(lineHead)
	for _, v := range []uint64{uint64(len(functions)), 1, 0, at, at + 10, at + 14, at + 19, at + 19 + uint64(len(tables))} {
		b = binary.LittleEndian.AppendUint64(b, v)
	}
	return append(append([]byte(string(b)+names+units+files+tables), index...), records...)
}

func TestWithoutLines(t *testing.T) {
	data := append([]byte("before"+string(lineMagic)+"not here"), table("\x00SSFFFLLLMM", []uint32{1, 3, 6, 9}, []uint32{1, 3, 6}, []uint32{0, 9, 0})...)
	length := len(data)
	require.True(t, withoutLines([]segment{{0, []byte("none")}, {99, data}}))
	assert.Len(t, data, length)
	assert.Contains(t, string(data), "\x00SS\x00\x00\x00\x00\x00\x00MM", "what the stack and other tables name stays")
	assert.NotContains(t, string(data), "a.go")
	assert.Contains(t, string(data), "main.main")
	again := bytes.Clone(data)
	require.True(t, withoutLines([]segment{{0, data}}))
	assert.Equal(t, again, data)

	for name, change := range map[string]func(b []byte) []byte{
		"cut off":             func(b []byte) []byte { return b[:len(b)-1] },
		"no header":           func(b []byte) []byte { return b[:20] },
		"another layout":      func(b []byte) []byte { b[0]--; return b },
		"pointers of 4 bytes": func(b []byte) []byte { b[7] = 4; return b },
		"no functions":        func([]byte) []byte { return table("\x00") },
		"too many functions":  func(b []byte) []byte { b[15] = 0xff; return b },
		"parts out of order":  func(b []byte) []byte { b[8*6] = 0xff; return b },
		"a record outside":    func(b []byte) []byte { b[len(b)-funcRecord-4] = 0xff; return b },
	} {
		b := change(table("\x00SSFFFLLL", []uint32{1, 3, 6}))
		before := bytes.Clone(b)
		assert.False(t, withoutLines([]segment{{0, b}}), name)
		assert.Equal(t, before, b, name)
	}
}

func FuzzWithoutLines(f *testing.F) {
	f.Add(table("\x00SSFFFLLLMM", []uint32{1, 3, 6, 9}, []uint32{1, 3, 6}))
	f.Fuzz(func(t *testing.T, b []byte) {
		before := bytes.Clone(b)
		if !withoutLines([]segment{{0, b}}) {
			assert.Equal(t, before, b)
		}
		assert.Len(t, b, len(before))
	})
}
