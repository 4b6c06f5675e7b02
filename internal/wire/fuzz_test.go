package wire_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"tremblant/internal/wire"
)

// deliberate are the refusals in which this package is stricter than the
// standard library: a name that stands twice (the library keeps the last), half
// a surrogate pair and bytes that are not UTF-8 (the library puts U+FFFD, so
// two different texts become one), and the caller's limits.
var deliberate = []error{
	wire.ErrDuplicate, wire.ErrSurrogate, wire.ErrUTF8,
	wire.ErrTooBig, wire.ErrTooDeep, wire.ErrTooMany, wire.ErrTooManyAll,
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{
		imageExample, `null`, `[1.5e-3,-0,"\uD834\uDD1E",{"a":{}}]`, `{"a":1,"a":2}`, `"\uD834"`, "\"\xff\"",
		`[01]`, `[1,]`, `{"":[]}`, `"\u12`, `tru`, "\"\x01\"", `1e999`, ` [ ] `, `[[[[`, `{"a~/":!}`,
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		v, err := wire.Read(text, wire.Limits{})
		want, wantErr := standard(text)
		if err != nil {
			var at *wire.SyntaxError
			require.ErrorAs(t, err, &at)
			require.LessOrEqual(t, at.Offset, len(text))
			for _, d := range deliberate {
				if errors.Is(err, d) {
					return
				}
			}
			require.Error(t, wantErr, "refused with %v what the standard library reads", err)
			return
		}
		require.NoError(t, wantErr)
		require.True(t, utf8.Valid(text))
		n, err := wire.Skip(string(text)+" rest", wire.Limits{})
		require.NoError(t, err)
		require.Equal(t, len(bytes.TrimRight(text, " \t\r\n")), n)
		require.Equal(t, want, plain(v))
		roundTrip(t, v)
	})
}

func standard(text []byte) (any, error) {
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	var v any
	if err := d.Decode(&v); err != nil {
		return nil, err
	}
	if _, err := d.Token(); err != io.EOF {
		return nil, errors.New("text after the value")
	}
	return v, nil
}

func plain(v wire.Value) any {
	switch v.Kind() {
	case wire.Bool:
		b, _ := v.Bool()
		return b
	case wire.Number:
		return json.Number(v.Literal())
	case wire.String:
		s, _ := v.Text(1 << 30)
		return s
	case wire.Array:
		list := []any{}
		items, _ := v.Items(1 << 30)
		for _, item := range items {
			list = append(list, plain(item))
		}
		return list
	case wire.Object:
		object := map[string]any{}
		for _, m := range v.Fields().Rest() {
			object[m.Name] = plain(m.Value)
		}
		return object
	}
	return nil
}

// roundTrip checks that writing and reading are each other's inverse in both
// forms, and that both forms are canonical.
func roundTrip(t *testing.T, v wire.Value) {
	compact, err := wire.Compact(v)
	require.NoError(t, err)
	w := wire.NewIndented()
	w.Value(v)
	indented, err := w.Bytes()
	require.NoError(t, err)
	spread := wire.NewIndented()
	spread.Canonical(compact)
	spreadText, err := spread.Bytes()
	require.NoError(t, err)
	require.Equal(t, string(indented), string(spreadText))
	for _, text := range [][]byte{compact, indented} {
		back, err := wire.Read(text, wire.Limits{Bytes: 1 << 26})
		require.NoError(t, err)
		require.True(t, v.Equal(back))
		again, err := wire.Compact(back)
		require.NoError(t, err)
		require.Equal(t, compact, again)
	}
}

func FuzzText(f *testing.F) {
	f.Add("agar")
	f.Add("\"\\\x00\u2028\xff")
	f.Fuzz(func(t *testing.T, s string) {
		w := wire.NewWriter()
		w.Text(s)
		out, err := w.Bytes()
		if !utf8.ValidString(s) {
			require.ErrorIs(t, err, wire.ErrUTF8)
			return
		}
		require.NoError(t, err)
		var std string
		require.NoError(t, json.Unmarshal(out, &std))
		require.Equal(t, s, std)
		v, err := wire.Read(out, wire.Limits{Bytes: 1 << 26})
		require.NoError(t, err)
		got, err := v.Text(len(s))
		require.NoError(t, err)
		require.Equal(t, s, got)
	})
}

func BenchmarkRead(b *testing.B) {
	text := []byte(imageExample)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := wire.Read(text, wire.Limits{}); err != nil {
			b.Fatal(err)
		}
	}
}
