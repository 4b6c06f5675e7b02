package formula_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/wire"
)

func TestCodecRoundTrip(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 2000 {
		f := randomFormula(r)
		body, err := f.Encode()
		require.NoError(t, err)
		back, err := formula.Decode(body)
		require.NoError(t, err, "%s", body)
		require.Equal(t, f, back)
		again, err := back.Encode()
		require.NoError(t, err)
		require.Equal(t, string(body), string(again))
	}
}

func TestWhatANewerProgramAddedIsHandedOn(t *testing.T) {
	body := `{"form":1,"name":"a","parts":[],"doses":[],"make":{"mode":"liquid"},"foam":{"charges":2,"of":[1.50]}}`
	f, err := formula.Decode([]byte(body))
	require.NoError(t, err)
	f.Name = "b"
	out, err := f.Encode()
	require.NoError(t, err)
	assert.Contains(t, string(out), `"foam":{"charges":2,"of":[1.50]}`)
}

func TestDecodeRefusesWithThePlace(t *testing.T) {
	for body, c := range map[string]struct {
		path string
		err  error
	}{
		`{"form":9,"name":"a","parts":[],"doses":[],"make":{"mode":"liquid"}}`:                                                 {"/form", formula.ErrNewer},
		`{"form":1,"name":"a","parts":[],"doses":[],"make":{"mode":"sideways"}}`:                                               {"/make/mode", nil},
		`{"form":1,"name":"a","parts":[{"name":"x","amount":{"value":-1,"unit":"g"}}],"doses":[],"make":{"mode":"liquid"}}`:    {"/parts/0/amount/value", wire.ErrRange},
		`{"form":1,"name":"a","parts":[{"name":"x","amount":{"value":1,"unit":"stone"}}],"doses":[],"make":{"mode":"liquid"}}`: {"/parts/0/amount/unit", nil},
		`{"form":1,"parts":[],"doses":[],"make":{"mode":"liquid"}}`:                                                            {"/name", wire.ErrMissing},
		`{"form":1,"name":"a","parts":{},"doses":[],"make":{"mode":"liquid"}}`:                                                 {"/parts", wire.ErrKind},
	} {
		_, err := formula.Decode([]byte(body))
		var shape *wire.ShapeError
		require.ErrorAs(t, err, &shape, body)
		assert.Equal(t, c.path, shape.Path)
		if c.err != nil {
			assert.ErrorIs(t, err, c.err)
		}
	}
	_, err := formula.Decode([]byte(`{"form":1,`))
	var syntax *wire.SyntaxError
	assert.ErrorAs(t, err, &syntax)
}

func TestEncodeRefusesWhatIsNoFigure(t *testing.T) {
	f := formula.Formula{}
	f.Make.Portions = math.NaN()
	_, err := f.Encode()
	assert.ErrorIs(t, err, wire.ErrNotFinite)
}

func FuzzDecode(f *testing.F) {
	r := rand.New(rand.NewPCG(11, 12))
	for range 5 {
		body, _ := randomFormula(r).Encode()
		f.Add(body)
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		one, err := formula.Decode(body)
		if err != nil {
			return
		}
		out, err := one.Encode()
		if err != nil {
			t.Fatalf("%s: %v", body, err)
		}
		two, err := formula.Decode(out)
		if err != nil {
			t.Fatalf("%s → %s: %v", body, out, err)
		}
		again, err := two.Encode()
		if err != nil || string(again) != string(out) {
			t.Fatalf("%s → %s", out, again)
		}
	})
}
