package booktest

import (
	"embed"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
)

// samples hold one record of each kind in every form that was ever released,
// exactly as a phone has it. They never change; a new form adds a folder.
//
//go:embed testdata/form*/*.json
var samples embed.FS

// Sample reads a record of a released form.
func Sample(t testing.TB, form, kind string) string {
	t.Helper()
	text, err := samples.ReadFile("testdata/" + form + "/" + kind + ".json")
	require.NoError(t, err)
	return string(text)
}

// releasedForms reads every released form through the store and expects the
// same entry, trial, setting and photo from each.
func releasedForms(t *testing.T, open Opener) {
	forms, err := samples.ReadDir("testdata")
	require.NoError(t, err)
	require.NotEmpty(t, forms)
	for _, form := range forms {
		t.Run(form.Name(), func(t *testing.T) { releasedForm(t, open, form.Name()) })
	}
}

func releasedForm(t *testing.T, open Opener, form string) {
	const id = "6f1d1f0c-8f0e-4a52-9a8f-0c8d2f1b7a11"
	ctx, one, _, port := books(t, open)
	require.NoError(t, port.Write(ctx, book.Strict, book.Spaces, func(tx book.Tx) error {
		for _, r := range []struct {
			space book.Space
			key   book.Key
			kind  string
		}{
			{book.Heads, book.Key{ID: id}, "head"},
			{book.Versions, book.Key{ID: id, Rev: 2}, "version"},
			{book.Trials, book.Key{ID: id, Sub: "t-1"}, "trial"},
			{book.Settings, book.Key{ID: "shelf.scale"}, "setting"},
			{book.Photos, book.Key{ID: id}, "photo"},
		} {
			if err := tx.Put(r.space, r.key, Sample(t, form, r.kind)); err != nil {
				return err
			}
		}
		return nil
	}))
	origin := "0b7f4a1e-33a9-4c0f-bf0e-4f1f5a2c9d10"
	head := book.Head{
		ID: id, Rev: 2, Name: "Crème of quince, set", Tags: []string{"cold", "brunch"},
		Made: 1764000000000, Saved: 1764000360000, From: book.Origin{ID: origin, Rev: 4}, Conflict: origin,
		Binned:  1764000360000,
		Reading: book.Reading{Words: "agar quince weeps if cut", Facets: []string{"agent.agar", "texture.soft-set"}},
	}
	l, err := one.List(ctx)
	require.NoError(t, err)
	assert.Empty(t, l.Damaged)
	assert.Equal(t, []book.Head{head}, l.Heads)
	e, err := one.Open(ctx, id)
	require.NoError(t, err)
	assert.Equal(t, head, e.Head)
	assert.Equal(t, `{"agents":["agar"],"note":"weeps if cut","dose":0.450}`, string(e.Body))
	assert.Equal(t, "mood", e.Rest[0].Name)

	list, bad, err := one.Trials(ctx, id)
	require.NoError(t, err)
	require.Empty(t, bad)
	assert.Equal(t, book.Outcome{
		Firmness: at(-1), Weeping: at(1), Clarity: at(0), Taste: at(0), Plunger: at(43.5), Spread: at(60.0), Note: "better at 7 °C",
	}, list[0].Outcome)
	assert.Equal(t, 3, list[0].Edition)
	assert.Equal(t, `{"liquid":350}`, string(list[0].Batch))
	s, err := one.Setting(ctx, "shelf.scale")
	require.NoError(t, err)
	assert.Equal(t, "0.1", string(s.Body))
	p, err := one.Photo(ctx, id)
	require.NoError(t, err)
	assert.Equal(t, onePixel, p.Data)

	// And what was read can be changed and saved.
	_, err = one.Restore(ctx, id, 2, 1764000400000)
	require.NoError(t, err)
	list[0].Note = "again"
	_, err = one.PutTrial(ctx, list[0])
	require.NoError(t, err)
	_, err = one.PutSetting(ctx, s)
	require.NoError(t, err)
	require.NoError(t, one.PutPhoto(ctx, p))
}
