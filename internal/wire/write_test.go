package wire_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/wire"
)

func written(t *testing.T, w *wire.Writer) string {
	t.Helper()
	out, err := w.Bytes()
	require.NoError(t, err)
	return string(out)
}

func TestWriterForms(t *testing.T) {
	build := func(w *wire.Writer) string {
		w.BeginObject()
		w.Name("name").Text("Sea jelly")
		w.Name("tags").Texts([]string{"cold", "fish"})
		w.Name("none").Texts(nil)
		w.Name("dose").BeginObject()
		w.Name("agar").Float(0.45)
		w.Name("sheets").Int(3)
		w.EndObject()
		w.Name("empty").BeginObject()
		w.EndObject()
		w.Name("done").Bool(true)
		w.Name("photo").Null()
		w.EndObject()
		return written(t, w)
	}
	assert.Equal(t, `{"name":"Sea jelly","tags":["cold","fish"],"none":[],"dose":{"agar":0.45,"sheets":3},"empty":{},"done":true,"photo":null}`,
		build(wire.NewWriter()))
	assert.Equal(t, `{
  "name": "Sea jelly",
  "tags": [
    "cold",
    "fish"
  ],
  "none": [],
  "dose": {
    "agar": 0.45,
    "sheets": 3
  },
  "empty": {},
  "done": true,
  "photo": null
}`, build(wire.NewIndented()))
}

func TestWriterTakesANameAgainInAnotherObject(t *testing.T) {
	w := wire.NewWriter()
	w.BeginObject()
	for i := range 60 {
		w.Name(string(rune('A' + i))).BeginObject()
		w.Name("A").Null()
		w.EndObject()
	}
	w.EndObject()
	_, err := wire.Read(written(t, w), wire.Limits{})
	assert.NoError(t, err)
}

func TestWriterFloats(t *testing.T) {
	// Samples as in A. Rundgren, B. Jordan, S. Erdtman, JSON Canonicalization
	// Scheme, RFC 8785, 2020, appendix B (recalled from memory). One difference
	// is meant: the scheme drops the sign of -0, a round trip must not.
	cases := []struct {
		bits uint64
		want string
	}{
		{0x0000000000000000, "0"},
		{0x8000000000000000, "-0"},
		{0x0000000000000001, "5e-324"},
		{0x7fefffffffffffff, "1.7976931348623157e+308"},
		{0x4340000000000000, "9007199254740992"},
		{0x4430000000000000, "295147905179352830000"},
		{0x44b52d02c7e14af5, "9.999999999999997e+22"},
		{0x44b52d02c7e14af6, "1e+23"},
		{0x444b1ae4d6e2ef4e, "999999999999999700000"},
		{0x444b1ae4d6e2ef50, "1e+21"},
		{0x3eb0c6f7a0b5ed8c, "9.999999999999997e-7"},
		{0x3eb0c6f7a0b5ed8d, "0.000001"},
	}
	for _, c := range cases {
		w := wire.NewWriter()
		w.Float(math.Float64frombits(c.bits))
		assert.Equal(t, c.want, written(t, w))
	}
}

func TestWriterFloatsAgreeWithTheStandardLibraryAndReadBack(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 20_000 {
		f := math.Float64frombits(rnd.Uint64())
		if rnd.IntN(2) == 0 {
			f = math.Round(rnd.Float64()*1e6) / 1e3 // as kitchen figures are
		}
		w := wire.NewWriter()
		w.Float(f)
		if math.IsNaN(f) || math.IsInf(f, 0) {
			require.ErrorIs(t, w.Err(), wire.ErrNotFinite)
			continue
		}
		got := written(t, w)
		want, err := json.Marshal(f)
		require.NoError(t, err)
		require.Equal(t, string(want), got)
		v, err := wire.Read(got, wire.Limits{})
		require.NoError(t, err)
		back, err := v.Float(-math.MaxFloat64, math.MaxFloat64)
		require.NoError(t, err)
		require.Equal(t, math.Float64bits(f), math.Float64bits(back))
	}
}

func TestWriterEscapesOnlyWhatItMust(t *testing.T) {
	w := wire.NewWriter()
	w.Text("\"\\/\b\f\n\r\t\x00\x1f\x7f<&>é\u2028😀")
	assert.Equal(t, `"\"\\/\b\f\n\r\t\u0000\u001f`+"\x7f<&>é\u2028😀\"", written(t, w))
}

func TestWriterCanonical(t *testing.T) {
	for _, w := range []*wire.Writer{wire.NewWriter(), wire.NewIndented()} {
		w.BeginObject()
		w.Name("body").Canonical([]byte(`{"dose":0.450,"list":[]}`))
		w.EndObject()
		v, err := wire.Read(written(t, w), wire.Limits{})
		require.NoError(t, err)
		out, err := wire.Compact(v)
		require.NoError(t, err)
		assert.Equal(t, `{"body":{"dose":0.450,"list":[]}}`, string(out))
	}
	w := wire.NewWriter()
	w.Canonical(nil)
	assert.ErrorIs(t, w.Err(), wire.ErrMisuse)
}

func TestWriterRefuses(t *testing.T) {
	cases := []struct {
		name  string
		write func(w *wire.Writer)
		err   error
	}{
		{"NaN", func(w *wire.Writer) { w.Float(math.NaN()) }, wire.ErrNotFinite},
		{"infinity", func(w *wire.Writer) { w.Float(math.Inf(-1)) }, wire.ErrNotFinite},
		{"whole number without a float of its own", func(w *wire.Writer) { w.Int(1 << 53) }, wire.ErrRange},
		{"text that is not UTF-8", func(w *wire.Writer) { w.Text("a\xff") }, wire.ErrUTF8},
		{"name twice", func(w *wire.Writer) {
			w.BeginObject()
			w.Name("a").Null()
			w.Name("a").Null()
			w.EndObject()
		}, wire.ErrDuplicate},
		{"name twice among many", func(w *wire.Writer) {
			w.BeginObject()
			for i := range 100 {
				w.Name(string(rune('A' + i))).Null()
			}
			w.Name("B").Null()
			w.EndObject()
		}, wire.ErrDuplicate},
		{"nothing", func(w *wire.Writer) {}, wire.ErrMisuse},
		{"not closed", func(w *wire.Writer) { w.BeginArray() }, wire.ErrMisuse},
		{"closed by the wrong bracket", func(w *wire.Writer) { w.BeginArray(); w.EndObject() }, wire.ErrMisuse},
		{"two values", func(w *wire.Writer) { w.Null(); w.Null() }, wire.ErrMisuse},
		{"value without a name", func(w *wire.Writer) { w.BeginObject(); w.Null() }, wire.ErrMisuse},
		{"name without an object", func(w *wire.Writer) { w.Name("a") }, wire.ErrMisuse},
		{"name without a value", func(w *wire.Writer) { w.BeginObject(); w.Name("a"); w.EndObject() }, wire.ErrMisuse},
		{"two names", func(w *wire.Writer) { w.BeginObject(); w.Name("a"); w.Name("b") }, wire.ErrMisuse},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			w := wire.NewWriter()
			c.write(w)
			_, err := w.Bytes()
			assert.ErrorIs(t, err, c.err)
			if w.Err() != nil {
				w.Text("after")
				_, err = w.Bytes()
				assert.ErrorIs(t, err, c.err, "what comes after a failure does not heal it")
			}
		})
	}
}
