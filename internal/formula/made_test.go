package formula_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/unit"
	"tremblant/internal/wire"
)

func TestMadeRoundTrip(t *testing.T) {
	f := formula.Formula{Name: "jelly", Doses: []formula.Dose{{Agent: "agar", Name: "agar", Amount: unit.Grams(2)}}, Make: formula.Make{Mode: formula.ForLiquid, Liquid: unit.Grams(80)}}
	m := formula.Made{Made: f, Aim: f}
	m.Made.Name = "firmer"
	body, err := m.Encode()
	require.NoError(t, err)
	back, err := formula.DecodeMade(read(t, body))
	require.NoError(t, err)
	again, err := back.Encode()
	require.NoError(t, err)
	assert.Equal(t, string(body), string(again))
	assert.Equal(t, "firmer", back.Made.Name)
	for _, bad := range []string{`{}`, `{"made":{},"aim":{}}`, `{"made":1,"aim":2}`, `[]`, `{"made":` + string(body) + `}`} {
		v, err := wire.Read(bad, wire.Limits{})
		require.NoError(t, err)
		_, err = formula.DecodeMade(v)
		assert.Error(t, err, bad)
	}
}

func TestWorkingCarriesTrialsAndAddress(t *testing.T) {
	body, err := formula.Made{Made: formula.Formula{Name: "a"}, Aim: formula.Formula{Name: "b"}}.Encode()
	require.NoError(t, err)
	w := formula.Working{Shelf: formula.UsualShelf(), Fields: formula.Fields{"name": "x"}, Link: "https://kitchen.test/", Tried: []formula.Tried{{Batch: body, Firmness: -2}, {Batch: body}}}
	text, err := w.Encode()
	require.NoError(t, err)
	back, err := formula.DecodeWorking(string(text))
	require.NoError(t, err)
	assert.Equal(t, w, back)
	_, err = formula.DecodeWorking(`{"fields":{},"shelf":{"form":1,"scales":[]},"comma":false,"tried":[{"firmness":3,"batch":{}}]}`)
	assert.Error(t, err, "a judgement outside the scale")
}

// Whatever comes, what is read can be written and read again.
func FuzzMade(f *testing.F) {
	body, err := formula.Made{Made: formula.Formula{Name: "a", Doses: []formula.Dose{{Agent: "agar", Name: "agar", Amount: unit.Grams(2)}}}, Aim: formula.Formula{Name: "b"}}.Encode()
	require.NoError(f, err)
	f.Add(string(body))
	f.Fuzz(func(t *testing.T, text string) {
		v, err := wire.Read(text, wire.Limits{})
		if err != nil {
			return
		}
		m, err := formula.DecodeMade(v)
		if err != nil {
			return
		}
		once, err := m.Encode()
		require.NoError(t, err)
		back, err := formula.DecodeMade(read(t, once))
		require.NoError(t, err)
		twice, err := back.Encode()
		require.NoError(t, err)
		assert.Equal(t, string(once), string(twice))
	})
}
