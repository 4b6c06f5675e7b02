package booktest

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/note"
)

// onePixel is a PNG of one pixel.
const onePixel = "data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg=="

func at[T any](v T) *T { return &v }

func trials(t *testing.T, open Opener) {
	ctx, one, two, _ := books(t, open)
	mustSave(t, ctx, one, Draft("pear", 0, "Pear", 1))
	put, err := one.PutTrial(ctx, book.Trial{
		ID: "t1", Entry: "pear", Rev: 1, Made: 5, Saved: 6,
		Outcome: book.Outcome{Firmness: at(-1), Weeping: at(0), Plunger: at(43.5), Note: "weeps a little"},
		Batch:   []byte(`{ "liquid": 350 }`),
	})
	require.NoError(t, err)
	assert.Equal(t, 1, put.Edition)
	assert.Equal(t, `{"liquid":350}`, string(put.Batch))

	list, bad, err := two.Trials(ctx, "pear")
	require.NoError(t, err)
	assert.Empty(t, bad)
	assert.Equal(t, []book.Trial{put}, list)
	assert.Nil(t, list[0].Clarity, "what was not judged stays so")

	tasted := list[0]
	tasted.Taste = at(2)
	changed, err := two.PutTrial(ctx, tasted)
	require.NoError(t, err)
	assert.Equal(t, 2, changed.Edition)
	same, err := two.PutTrial(ctx, tasted)
	require.NoError(t, err)
	assert.Equal(t, changed, same, "the answer was lost, the same again")
	put.Note = "from the other tab"
	_, err = one.PutTrial(ctx, put)
	assert.ErrorIs(t, err, book.ErrConflict)

	_, err = one.PutTrial(ctx, book.Trial{ID: "t2", Entry: "nobody", Rev: 1})
	assert.ErrorIs(t, err, book.ErrMissing)
	_, err = one.PutTrial(ctx, book.Trial{ID: "t2", Entry: "pear", Rev: 7})
	assert.ErrorIs(t, err, book.ErrMissing)
	for name, o := range map[string]book.Outcome{
		"firmness": {Firmness: at(3)},
		"weeping":  {Weeping: at(-1)},
		"plunger":  {Plunger: at(math.NaN())},
		"spread":   {Spread: at(math.Inf(1))},
		"note":     {Note: strings.Repeat("x", book.MaxNote+1)},
	} {
		_, err = one.PutTrial(ctx, book.Trial{ID: "t3", Entry: "pear", Rev: 1, Outcome: o})
		var refusal *note.Refusal
		require.ErrorAs(t, err, &refusal)
		assert.Equal(t, name, refusal.Field)
	}

	everywhere, _, err := one.AllTrials(ctx)
	require.NoError(t, err)
	assert.Equal(t, []book.Trial{changed}, everywhere)
	require.NoError(t, one.RemoveTrial(ctx, "pear", "t1"))
	list, _, err = two.Trials(ctx, "pear")
	require.NoError(t, err)
	assert.Empty(t, list)
	changed.Edition = 0
	_, err = one.PutTrial(ctx, changed)
	assert.NoError(t, err, "taken back")
}

func settings(t *testing.T, open Opener) {
	ctx, one, two, _ := books(t, open)
	_, err := one.Setting(ctx, "shelf.agents")
	assert.ErrorIs(t, err, book.ErrMissing)
	put, err := one.PutSetting(ctx, book.Setting{Key: "shelf.agents", Saved: 1, Body: []byte(`{"gelatin": 200}`)})
	require.NoError(t, err)
	assert.Equal(t, 1, put.Rev)
	got, err := two.Setting(ctx, "shelf.agents")
	require.NoError(t, err)
	assert.Equal(t, put, got)
	assert.Equal(t, `{"gelatin":200}`, string(got.Body))

	got.Body = []byte(`{"gelatin":240}`)
	next, err := two.PutSetting(ctx, got)
	require.NoError(t, err)
	assert.Equal(t, 2, next.Rev)
	put.Body = []byte(`{"gelatin":180}`)
	_, err = one.PutSetting(ctx, put)
	require.ErrorIs(t, err, book.ErrConflict)
	now, err := one.Setting(ctx, "shelf.agents")
	require.NoError(t, err)
	assert.Equal(t, next, now)

	_, err = one.PutSetting(ctx, book.Setting{Key: "shelf.scale", Body: []byte(`0`)})
	assert.Equal(t, book.CodeBody, book.NoteOf(err).Code, "what the caller refuses is not stored")
	_, err = one.PutSetting(ctx, book.Setting{Key: "a b", Body: []byte(`0`)})
	assert.Equal(t, book.CodeBadID, book.NoteOf(err).Code)
	_, err = one.PutSetting(ctx, book.Setting{Key: book.DevicePrefix + "backup", Body: []byte(`7`)})
	require.NoError(t, err)
	list, bad, err := two.Settings(ctx)
	require.NoError(t, err)
	assert.Empty(t, bad)
	require.Len(t, list, 2)
	assert.Equal(t, "device.backup", list[0].Key)
	require.NoError(t, one.RemoveSetting(ctx, "shelf.agents"))
	_, err = two.Setting(ctx, "shelf.agents")
	assert.ErrorIs(t, err, book.ErrMissing)
}

func photos(t *testing.T, open Opener) {
	ctx, one, two, _ := books(t, open)
	mustSave(t, ctx, one, Draft("pear", 0, "Pear", 1))
	_, err := two.Photo(ctx, "pear")
	assert.ErrorIs(t, err, book.ErrMissing)
	p := book.Photo{Entry: "pear", Saved: 3, Data: onePixel}
	require.NoError(t, one.PutPhoto(ctx, p))
	got, err := two.Photo(ctx, "pear")
	require.NoError(t, err)
	assert.Equal(t, p, got)

	assert.ErrorIs(t, one.PutPhoto(ctx, book.Photo{Entry: "nobody", Data: onePixel}), book.ErrMissing)
	for name, data := range map[string]string{
		"nothing":         "",
		"a page":          "data:text/html;base64,PGI+",
		"a drawing":       "data:image/svg+xml;base64,PHN2Zz4=",
		"an address":      "https://example.org/a.png",
		"no Base64":       "data:image/png;base64,a\"><b>",
		"cut Base64":      "data:image/png;base64,abc",
		"far too big":     "data:image/png;base64," + strings.Repeat("AAAA", book.MaxPhoto/4),
		"padding and all": "data:image/png;base64,====",
	} {
		assert.Equal(t, book.CodePhoto, book.NoteOf(one.PutPhoto(ctx, book.Photo{Entry: "pear", Data: data})).Code, name)
	}
	require.NoError(t, one.RemovePhoto(ctx, "pear"))
	_, err = two.Photo(ctx, "pear")
	assert.ErrorIs(t, err, book.ErrMissing)
}
