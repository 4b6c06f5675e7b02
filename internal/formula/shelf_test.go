package formula_test

import (
	"bytes"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/wire"
)

func read(t *testing.T, body []byte) wire.Value {
	t.Helper()
	v, err := wire.Read(body, wire.Limits{})
	require.NoError(t, err)
	return v
}

func TestShelfRoundTrip(t *testing.T) {
	s := formula.UsualShelf()
	s.SheetMass, s.SheetGrade, s.PowderBloom = 2.05, "gold", 220
	s.Agents = []formula.Owned{{Agent: "agar", Grade: 900}, {Agent: "xanthan"}}
	s.Liquids = []formula.OwnLiquid{{Name: "House verjus", Says: map[string]string{"as": "white-grape-juice", "acid": "2,6", "ph": "2.8"}}}
	body, err := s.Encode()
	require.NoError(t, err)
	back, err := formula.DecodeShelf(read(t, body))
	require.NoError(t, err)
	assert.Equal(t, s, back)
	_, err = formula.DecodeShelf(read(t, []byte(`{"form":1,"scales":[{"step":0,"max":5}]}`)))
	assert.ErrorIs(t, err, wire.ErrRange)
}

func TestDescribedLiquids(t *testing.T) {
	f := formula.Fields{
		formula.LiquidField(0, "name"): " Verjus ", formula.LiquidField(0, "ph"): "2.8",
		formula.LiquidField(1, "name"):  "nothing said of it",
		formula.LiquidField(2, "sugar"): "12", // of nothing
		formula.LiquidField(4, "name"):  "Birch sap", formula.LiquidField(4, "as"): "water", formula.LiquidField(4, "sugar"): "1,1",
	}
	all := f.Described()
	require.Len(t, all, 2)
	assert.Equal(t, formula.OwnLiquid{Name: "Verjus", Says: map[string]string{"ph": "2.8"}}, all[0])
	assert.Equal(t, map[string]string{"as": "water", "sugar": "1,1"}, all[1].Says)
	assert.Equal(t, 1, formula.FindLiquid(all, " birch SAP"))
	assert.Equal(t, -1, formula.FindLiquid(all, "sap"))
}

// The limit of a sheet was 50 g once: such a shelf loads, and its sheet counts as not weighed.
func TestShelfWithTooHeavyASheet(t *testing.T) {
	for body, want := range map[string]unit.Mass{`{"form":1,"scales":[],"sheet-mass":25}`: 0, `{"form":1,"scales":[],"sheet-mass":10}`: 10, `{"form":1,"scales":[],"sheet-mass":2.1}`: 2.1} {
		s, err := formula.DecodeShelf(read(t, []byte(body)))
		require.NoError(t, err, body)
		assert.Equal(t, want, s.SheetMass, body)
	}
	_, err := formula.DecodeShelf(read(t, []byte(`{"form":1,"scales":[],"sheet-mass":-2}`)))
	assert.ErrorIs(t, err, wire.ErrRange)
	for text, code := range map[string]note.Code{"25": formula.FigureSheet, "10.1": formula.FigureSheet, "0.1": formula.FigureLow, "x": formula.FigureBad} {
		_, refused := formula.SheetMass(text)
		require.NotNil(t, refused, text)
		assert.Equal(t, code, refused.Code, text)
	}
	v, refused := formula.SheetMass("5")
	assert.Nil(t, refused)
	assert.Equal(t, 5.0, v)
}

func TestDraftKeepsWhatWasTypedRightOrWrong(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	d := formula.Draft{Fields: formula.FieldsOf(randomFormula(r), unit.Style{}), Saved: formula.Fields{"name": "x"}, ID: "abc", Rev: 3}
	d.Fields["batch-liquid"] = "1,2,3 <b>"
	body, err := d.Encode()
	require.NoError(t, err)
	back, err := formula.DecodeDraft(read(t, body))
	require.NoError(t, err)
	assert.Equal(t, d, back)

	own := formula.Shelf{Scales: []formula.Scale{{Step: 0.1, Max: 500}}, SheetMass: 2.5}
	d.Shelf = &own
	body, err = d.Encode()
	require.NoError(t, err)
	back, err = formula.DecodeDraft(read(t, body))
	require.NoError(t, err)
	assert.Equal(t, d, back)
	back, err = formula.DecodeDraft(read(t, bytes.Replace(body, []byte(`"step":0.1`), []byte(`"step":"x"`), 1)))
	require.NoError(t, err, "a shelf that cannot be read")
	d.Shelf = nil
	assert.Equal(t, d, back)
}

func TestDraftKeepsTheFormulaBefore(t *testing.T) {
	d := formula.Draft{Fields: formula.Fields{"name": "x"}, Saved: formula.Fields{},
		Before: &formula.Draft{Fields: formula.Fields{"name": "y", "lab-liquid-rest": "1"}, Saved: formula.Fields{"name": "z"}, ID: "abc", Rev: 2}}
	body, err := d.Encode()
	require.NoError(t, err)
	back, err := formula.DecodeDraft(read(t, body))
	require.NoError(t, err)
	assert.Equal(t, d, back)
	back, err = formula.DecodeDraft(read(t, bytes.Replace(body, []byte(`"rev":2`), []byte(`"rev":"x"`), 1)))
	require.NoError(t, err, "one that cannot be read")
	assert.Nil(t, back.Before)
	assert.Equal(t, d.Fields, back.Fields)
}

func TestDraftKeepsWhatWasSaidOfABatch(t *testing.T) {
	d := formula.Draft{Fields: formula.Fields{"name": "x"}, Saved: formula.Fields{}, Judged: formula.Judging{Of: "abc",
		Form: formula.Fields{"trial-note": "weeps", "trial-firmness": ""}, Cups: map[string]string{"abc\n{}": "-1"}}}
	body, err := d.Encode()
	require.NoError(t, err)
	back, err := formula.DecodeDraft(read(t, body))
	require.NoError(t, err)
	delete(d.Judged.Form, "trial-firmness")
	assert.Equal(t, d, back)
	back, err = formula.DecodeDraft(read(t, bytes.Replace(body, []byte(`"of":"abc"`), []byte(`"of":3`), 1)))
	require.NoError(t, err, "what was said and cannot be read")
	assert.Equal(t, formula.Judging{}, back.Judged)

	for i := range 100 {
		d.Judged.Cups[strconv.Itoa(i)] = "1"
	}
	d.Judged.Cups[strings.Repeat("x", 9000)] = "1"
	body, err = d.Encode()
	require.NoError(t, err)
	back, err = formula.DecodeDraft(read(t, body))
	require.NoError(t, err)
	assert.Len(t, back.Judged.Cups, 40)
	assert.Equal(t, "weeps", back.Judged.Form["trial-note"])
}

func TestMessagesBetweenPanAndLab(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	w := formula.Working{Fields: formula.FieldsOf(randomFormula(r), unit.Style{}), Shelf: formula.UsualShelf(), Comma: true}
	body, err := w.Encode()
	require.NoError(t, err)
	back, err := formula.DecodeWorking(string(body))
	require.NoError(t, err)
	assert.Equal(t, w, back)

	c := formula.Change{Fields: w.Fields, From: formula.Fields{"name": "before"}, What: "Swapped agar for gellan."}
	body, err = c.Encode()
	require.NoError(t, err)
	again, err := formula.DecodeChange(string(body))
	require.NoError(t, err)
	assert.Equal(t, c, again)
}
