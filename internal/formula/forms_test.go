package formula_test

import (
	"maps"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/wire"
)

// stored are the readers of what a phone may hold, each with its writer.
var stored = map[string]func(wire.Value) ([]byte, error){
	"formula": func(v wire.Value) ([]byte, error) {
		f, err := formula.DecodeValue(v)
		return encoded(f, err)
	},
	"shelf": func(v wire.Value) ([]byte, error) {
		s, err := formula.DecodeShelf(v)
		return encoded(s, err)
	},
	"made": func(v wire.Value) ([]byte, error) {
		m, err := formula.DecodeMade(v)
		return encoded(m, err)
	},
	"evening": func(v wire.Value) ([]byte, error) {
		e, err := formula.DecodeEvening(v)
		return encoded(e, err)
	},
	"draft": func(v wire.Value) ([]byte, error) {
		d, err := formula.DecodeDraft(v)
		return encoded(d, err)
	},
}

func encoded(x interface{ Encode() ([]byte, error) }, err error) ([]byte, error) {
	if err != nil {
		return nil, err
	}
	return x.Encode()
}

// Samples of every form that was ever released, exactly as a phone has them, are
// read for ever. Those of the form that is written today come out the same.
func TestEveryReleasedFormIsRead(t *testing.T) {
	for what, again := range stored {
		samples, err := filepath.Glob("testdata/form*/" + what + ".json")
		require.NoError(t, err)
		require.NotEmpty(t, samples, what)
		for _, name := range samples {
			text, err := os.ReadFile(name)
			require.NoError(t, err)
			out, err := again(read(t, text))
			require.NoError(t, err, name)
			if filepath.Base(filepath.Dir(name)) == "form1" {
				assert.Equal(t, string(text), string(out), name)
			}
		}
	}
}

func TestFormulaOfForm1(t *testing.T) {
	text, err := os.ReadFile("testdata/form1/formula.json")
	require.NoError(t, err)
	f, err := formula.Decode(text)
	require.NoError(t, err)
	assert.Equal(t, "Medlar veil", f.Name)
	assert.Equal(t, []string{"cold", "été"}, f.Tags)
	require.Len(t, f.Parts, 2)
	assert.Equal(t, 300.0, f.Parts[0].Amount.Value)
	require.Len(t, f.Doses, 2)
	assert.Equal(t, formula.OnLiquid, f.Doses[0].Basis)
	assert.Equal(t, 220.0, f.Doses[1].Grade)
	assert.Equal(t, formula.ForLeft, f.Make.Mode)
	assert.Equal(t, formula.Ref{Part: false, Index: 1}, f.Make.LeftOf)
	assert.Equal(t, 4.0, f.Make.Losses.Boil.Minutes)
	assert.Equal(t, formula.Fields{"lab-swap-texture": "soft-set"}, f.Lab)
	require.Len(t, f.Extra, 1)
}

func TestEveningOfForm1(t *testing.T) {
	text, err := os.ReadFile("testdata/form1/evening.json")
	require.NoError(t, err)
	e, err := formula.DecodeEvening(read(t, text))
	require.NoError(t, err)
	assert.Equal(t, []formula.Dish{
		{ID: "id-7", Name: "Medlar veil", Covers: "24", Portion: "60", Unit: "g"},
		{ID: "id-9", Name: "Leek foam, hot", Covers: "24", Portion: "35,5", Unit: "ml"},
		{ID: "id-12", Name: "Écume"},
	}, e.Dishes)
	assert.Equal(t, formula.Fields{"lab-evening-cooks": "2", "lab-evening-day": "1", "lab-evening-service": "19:30",
		"lab-evening-there-agar": "40"}, e.Typed)
	require.Len(t, e.Extra, 1)
}

// Whatever a phone holds: nothing panics, and what is read can be written, and
// read again as the same.
func FuzzStored(f *testing.F) {
	for what := range stored {
		text, err := os.ReadFile("testdata/form1/" + what + ".json")
		require.NoError(f, err)
		f.Add(string(text))
	}
	f.Add(`{"form":1,"scales":[{"step":0.01,"max":1e308}],"agents":[{"agent":"agar"}]}`)
	f.Add(`{"form":2}`)
	f.Fuzz(func(t *testing.T, text string) {
		v, err := wire.Read(text, wire.Limits{})
		if err != nil {
			return
		}
		for what, again := range stored {
			once, err := again(v)
			if err != nil {
				continue
			}
			twice, err := again(read(t, once))
			require.NoError(t, err, what)
			require.Equal(t, string(once), string(twice), what)
		}
	})
}

// FuzzWorking is what the page tells the lab.
func FuzzWorking(f *testing.F) {
	f.Add(`{"fields":{"name":"a"},"shelf":{"form":1,"scales":[]},"comma":false,"tried":[{"firmness":2,"batch":{}}]}`)
	f.Fuzz(func(t *testing.T, text string) {
		w, err := formula.DecodeWorking(text)
		if err != nil {
			return
		}
		once, err := w.Encode()
		require.NoError(t, err)
		back, err := formula.DecodeWorking(string(once))
		require.NoError(t, err)
		twice, err := back.Encode()
		require.NoError(t, err)
		require.Equal(t, string(once), string(twice))
	})
}

// FuzzChange is what the lab answers with: a step that the page puts into the pan.
func FuzzChange(f *testing.F) {
	f.Add(`{"fields":{"dose-1-amount":"2.5"},"what":"Agar","from":{"dose-1-amount":"2"}}`)
	f.Add(`{"fields":{},"what":"","from":null}`)
	f.Fuzz(func(t *testing.T, text string) {
		c, err := formula.DecodeChange(text)
		if err != nil {
			return
		}
		once, err := c.Encode()
		require.NoError(t, err)
		back, err := formula.DecodeChange(string(once))
		require.NoError(t, err)
		maps.DeleteFunc(c.Fields, func(_, text string) bool { return text == "" }) // an empty field is none
		maps.DeleteFunc(c.From, func(_, text string) bool { return text == "" })
		require.Equal(t, c, back)
	})
}
