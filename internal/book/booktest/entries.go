package booktest

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
	"tremblant/internal/note"
	"tremblant/internal/wire"
)

func saveOpen(t *testing.T, open Opener) {
	ctx, one, two, _ := books(t, open)
	d := Draft("pear", 0, "  Pear jelly ", 1000)
	d.Tags = []string{" cold", "Dessert", "COLD", ""}
	d.Body = []byte("{ \"agents\" : [\"agar\"],\n \"dose\": 0.450 }")
	saved := mustSave(t, ctx, one, d)
	assert.Equal(t, book.Head{
		ID: "pear", Rev: 1, Name: "Pear jelly", Tags: []string{"cold", "Dessert"}, Made: 1000, Saved: 1000,
		Reading: book.Reading{Words: "agar", Facets: []string{"agent.agar"}},
	}, saved)

	e, err := two.Open(ctx, "pear")
	require.NoError(t, err)
	assert.Equal(t, saved, e.Head)
	assert.Equal(t, `{"agents":["agar"],"dose":0.450}`, string(e.Body), "canonical, with the number as it was written")

	mustSave(t, ctx, two, Draft("quince", 0, "Quince", 3000))
	mustSave(t, ctx, two, Draft("plum", 0, "Plum", 2000))
	l, err := one.List(ctx)
	require.NoError(t, err)
	assert.Empty(t, l.Damaged)
	var names []string
	for _, h := range l.Heads {
		names = append(names, h.Name)
	}
	assert.Equal(t, []string{"Quince", "Plum", "Pear jelly"}, names)
	h, err := one.Head(ctx, "pear")
	require.NoError(t, err)
	assert.Equal(t, saved, h)

	for _, err := range []error{
		second(one.Open(ctx, "nobody")), second(one.Head(ctx, "nobody")), second(one.Version(ctx, "pear", 2)),
	} {
		assert.ErrorIs(t, err, book.ErrMissing)
	}
	_, _, err = one.Versions(ctx, "nobody")
	assert.ErrorIs(t, err, book.ErrMissing)
}

func second[T any](_ T, err error) error { return err }

func saveRefuses(t *testing.T, open Opener) {
	ctx, one, _, port := books(t, open)
	good := Draft("pear", 0, "Pear", 1)
	cases := []struct {
		name   string
		change func(d *book.Draft)
		code   note.Code
	}{
		{"no name", func(d *book.Draft) { d.Name = " \t " }, book.CodeNoName},
		{"a name of 10,000 characters", func(d *book.Draft) { d.Name = strings.Repeat("é", 10_000) }, book.CodeLongName},
		{"a name with control characters", func(d *book.Draft) { d.Name = "a\x00b" }, book.CodeBadName},
		{"a name that is not UTF-8", func(d *book.Draft) { d.Name = "a\xff" }, book.CodeBadName},
		{"a long tag", func(d *book.Draft) { d.Tags = []string{strings.Repeat("x", 61)} }, book.CodeLongTag},
		{"many tags", func(d *book.Draft) { d.Tags = strings.Split("abcdefghijklmnopqrstu", "") }, book.CodeManyTags},
		{"no id", func(d *book.Draft) { d.ID = "" }, book.CodeBadID},
		{"an id with markup", func(d *book.Draft) { d.ID = "<b>" }, book.CodeBadID},
		{"a spare id with a line end", func(d *book.Draft) { d.Spare = "a\n" }, book.CodeBadID},
		{"a time before time", func(d *book.Draft) { d.Saved = -1 }, book.CodeBadTime},
		{"a body that is no JSON", func(d *book.Draft) { d.Body = []byte(`{"agents":`) }, book.CodeBody},
		{"a body that the caller refuses", func(d *book.Draft) { d.Body = []byte(`{"agents":1}`) }, book.CodeBody},
		{"a body that is too big", func(d *book.Draft) {
			d.Body = []byte(`"` + strings.Repeat("x", book.MaxBody) + `"`)
		}, book.CodeBody},
	}
	for _, c := range cases {
		d := good
		c.change(&d)
		_, err := one.Save(ctx, d)
		var refusal *note.Refusal
		if assert.ErrorAs(t, err, &refusal, c.name) {
			assert.Equal(t, c.code, refusal.Code, c.name)
			assert.Equal(t, c.code, book.NoteOf(err).Code, c.name)
		}
	}
	rows, err := port.Snapshot(ctx, book.Spaces...)
	require.NoError(t, err)
	for _, r := range rows {
		assert.Empty(t, r)
	}
	d := good
	d.Name = "<script>alert(1)</script>"
	assert.Equal(t, d.Name, mustSave(t, ctx, one, d).Name, "markup is text like any other")
}

func versionsStay(t *testing.T, open Opener) {
	ctx, one, two, _ := books(t, open)
	for rev := range 12 {
		h := mustSave(t, ctx, one, Draft("pear", rev, "Pear", int64(1000+rev)))
		assert.Equal(t, rev+1, h.Rev)
		assert.EqualValues(t, 1000, h.Made)
	}
	_, err := one.Rename(ctx, "pear", 12, "Williams", 2000, "spare")
	require.NoError(t, err)
	list, bad, err := two.Versions(ctx, "pear")
	require.NoError(t, err)
	assert.Empty(t, bad)
	require.Len(t, list, 13)
	assert.Equal(t, "Williams", list[0].Name)
	assert.Equal(t, list[1].Body, list[0].Body)
	for i, e := range list[1:] {
		assert.Equal(t, 12-i, e.Rev)
		assert.Contains(t, string(e.Body), "Pear 10")
	}
	first, err := two.Version(ctx, "pear", 1)
	require.NoError(t, err)
	assert.Equal(t, `{"agents":["agar"],"note":"Pear 1000"}`, string(first.Body))
}

func twoTabs(t *testing.T, open Opener) {
	ctx, one, two, _ := books(t, open)
	mustSave(t, ctx, one, Draft("pear", 0, "Pear", 1))
	mustSave(t, ctx, one, Draft("pear", 1, "Pear, firmer", 2))

	late := Draft("pear", 1, "Pear, softer", 3)
	late.Spare = "pear-2"
	_, err := two.Save(ctx, late)
	var conflict *book.Conflict
	require.ErrorAs(t, err, &conflict)
	assert.ErrorIs(t, err, book.ErrConflict)
	assert.Equal(t, "Pear, firmer", conflict.Theirs.Name)
	assert.Equal(t, book.CodeConflict, book.NoteOf(err).Code)

	kept, err := one.Open(ctx, "pear-2")
	require.NoError(t, err)
	assert.Equal(t, conflict.Copy, kept.Head)
	assert.Equal(t, "Pear, softer", kept.Name)
	assert.Equal(t, "pear", kept.Conflict)
	assert.Equal(t, book.Origin{ID: "pear", Rev: 1}, kept.From)
	assert.Equal(t, `{"agents":["agar"],"note":"Pear 3"}`, string(kept.Body))
	theirs, err := one.Open(ctx, "pear")
	require.NoError(t, err)
	assert.Equal(t, "Pear, firmer", theirs.Name)
	assert.Equal(t, 2, theirs.Rev)

	// Both tabs invent the same id at once.
	mustSave(t, ctx, one, Draft("plum", 0, "Plum", 4))
	other := Draft("plum", 0, "Another plum", 5)
	other.Spare = "plum-2"
	_, err = two.Save(ctx, other)
	require.ErrorAs(t, err, &conflict)
	assert.Equal(t, book.Origin{}, conflict.Copy.From)
	// A deletion of what changed elsewhere is not carried out.
	_, err = two.Bin(ctx, "pear", 1, 6)
	require.ErrorIs(t, err, book.ErrConflict)
	assert.Equal(t, book.CodeConflictNot, book.NoteOf(err).Code)
}

func noSpare(t *testing.T, open Opener) {
	ctx, one, two, port := books(t, open)
	mustSave(t, ctx, one, Draft("pear", 0, "Pear", 1))
	_, err := two.Save(ctx, Draft("pear", 0, "Other", 2))
	var conflict *book.Conflict
	require.ErrorAs(t, err, &conflict)
	assert.Zero(t, conflict.Copy)
	rows, err := port.Snapshot(ctx, book.Heads, book.Versions)
	require.NoError(t, err)
	assert.Len(t, rows[0], 1)
	assert.Len(t, rows[1], 1)
}

func repeatedSave(t *testing.T, open Opener) {
	ctx, one, two, port := books(t, open)
	d := Draft("pear", 0, "Pear", 1)
	d.Spare = "spare"
	first := mustSave(t, ctx, one, d)
	assert.Equal(t, first, mustSave(t, ctx, one, d), "the answer was lost, the same again")
	mustSave(t, ctx, one, Draft("pear", 1, "Pear", 2))

	_, err := two.Save(ctx, d)
	require.ErrorIs(t, err, book.ErrConflict)
	_, err = two.Save(ctx, d)
	require.ErrorIs(t, err, book.ErrConflict, "the copy is not made twice")
	rows, err := port.Snapshot(ctx, book.Heads)
	require.NoError(t, err)
	assert.Len(t, rows[0], 2)

	changed := d
	changed.Name = "Something else"
	_, err = two.Save(ctx, changed)
	require.ErrorIs(t, err, book.ErrConflict)
	kept, err := one.Open(ctx, "spare")
	require.NoError(t, err)
	assert.Equal(t, "Pear", kept.Name, "a taken spare id is never overwritten")
}

func binRestore(t *testing.T, open Opener) {
	ctx, one, two, port := books(t, open)
	mustSave(t, ctx, one, Draft("pear", 0, "Pear", 1))
	mustSave(t, ctx, one, Draft("plum", 0, "Plum", 2))
	_, err := one.PutTrial(ctx, book.Trial{ID: "t", Entry: "pear", Rev: 1})
	require.NoError(t, err)
	require.NoError(t, one.PutPhoto(ctx, book.Photo{Entry: "pear", Data: onePixel}))

	binned, err := one.Bin(ctx, "pear", 1, 1000)
	require.NoError(t, err)
	assert.EqualValues(t, 1000, binned.Binned)
	assert.Equal(t, 2, binned.Rev)
	again, err := one.Bin(ctx, "pear", 1, 1000)
	require.NoError(t, err)
	assert.Equal(t, binned, again, "the answer was lost, the same again")

	back, err := two.Restore(ctx, "pear", 2, 1100)
	require.NoError(t, err)
	assert.Zero(t, back.Binned)
	assert.Equal(t, []string{"agent.agar"}, back.Facets)
	e, err := one.Open(ctx, "pear")
	require.NoError(t, err)
	assert.Equal(t, "Pear", e.Name)
	assert.Equal(t, `{"agents":["agar"],"note":"Pear 1"}`, string(e.Body))

	_, err = one.Bin(ctx, "pear", 3, 2000)
	require.NoError(t, err)
	n, err := one.Purge(ctx, 2000)
	require.NoError(t, err)
	assert.Zero(t, n, "not old enough")
	n, err = one.Purge(ctx, 2001)
	require.NoError(t, err)
	assert.Equal(t, 1, n)
	rows, err := port.Snapshot(ctx, book.Spaces...)
	require.NoError(t, err)
	assert.Len(t, rows[0], 1)
	assert.Len(t, rows[1], 1)
	assert.Empty(t, rows[2])
	assert.Empty(t, rows[4])
	_, err = one.Restore(ctx, "pear", 4, 3000)
	assert.ErrorIs(t, err, book.ErrMissing)
}

func purgedElsewhere(t *testing.T, open Opener) {
	ctx, one, two, _ := books(t, open)
	mustSave(t, ctx, one, Draft("pear", 0, "Pear", 1))
	_, err := two.Bin(ctx, "pear", 1, 5)
	require.NoError(t, err)
	_, err = two.Purge(ctx, 10)
	require.NoError(t, err)
	h := mustSave(t, ctx, one, Draft("pear", 1, "Pear, better", 6))
	assert.Equal(t, 2, h.Rev)
	e, err := two.Open(ctx, "pear")
	require.NoError(t, err)
	assert.Equal(t, "Pear, better", e.Name)
}

func branch(t *testing.T, open Opener) {
	ctx, one, _, _ := books(t, open)
	mustSave(t, ctx, one, Draft("pear", 0, "Pear", 1))
	mustSave(t, ctx, one, Draft("pear", 1, "Pear 2", 2))
	copied, err := one.Duplicate(ctx, "pear", 0, "copy", "Pear for a crowd", 3)
	require.NoError(t, err)
	assert.Equal(t, book.Origin{ID: "pear", Rev: 2}, copied.From)
	assert.EqualValues(t, 3, copied.Made)
	assert.Equal(t, 1, copied.Rev)
	_, err = one.Duplicate(ctx, "pear", 1, "branch", "Pear, the old way", 4)
	require.NoError(t, err)
	branched, err := one.Open(ctx, "branch")
	require.NoError(t, err)
	assert.Equal(t, book.Origin{ID: "pear", Rev: 1}, branched.From)
	assert.Contains(t, string(branched.Body), "Pear 1")

	h, err := one.Revert(ctx, "pear", 2, 1, 5, "spare")
	require.NoError(t, err)
	assert.Equal(t, 3, h.Rev)
	now, err := one.Open(ctx, "pear")
	require.NoError(t, err)
	assert.Equal(t, "Pear", now.Name)
	assert.Contains(t, string(now.Body), "Pear 1")
	later := mustSave(t, ctx, one, Draft("copy", 1, "Pear for a crowd", 9))
	assert.Equal(t, book.Origin{ID: "pear", Rev: 2}, later.From, "where it came from stays")
}

func damagedRecords(t *testing.T, open Opener) {
	ctx, one, _, port := books(t, open)
	mustSave(t, ctx, one, Draft("pear", 0, "Pear", 1))
	mustSave(t, ctx, one, Draft("plum", 0, "Plum", 2))
	mustSave(t, ctx, one, Draft("plum", 1, "Plum", 3))
	spoil := func(space book.Space, key book.Key, text string) {
		require.NoError(t, port.Write(ctx, book.Strict, book.Spaces, func(tx book.Tx) error { return tx.Put(space, key, text) }))
	}
	spoil(book.Heads, book.Key{ID: "pear"}, `{"form":1,"id":"pear","rev":1,"na`)
	spoil(book.Versions, book.Key{ID: "plum", Rev: 1}, `{"form":1}`)
	spoil(book.Trials, book.Key{ID: "plum", Sub: "t"}, ``)
	spoil(book.Settings, book.Key{ID: "shelf"}, `[]`)

	l, err := one.List(ctx)
	require.NoError(t, err)
	require.Len(t, l.Heads, 1)
	assert.Equal(t, "plum", l.Heads[0].ID)
	require.Len(t, l.Damaged, 1)
	assert.Equal(t, "pear", l.Damaged[0].Key.ID)
	assert.ErrorIs(t, l.Damaged[0].Err, book.ErrDamaged)
	var at *wire.SyntaxError
	assert.ErrorAs(t, l.Damaged[0].Err, &at, "with the place")

	_, err = one.Open(ctx, "pear")
	assert.ErrorIs(t, err, book.ErrDamaged)
	list, bad, err := one.Versions(ctx, "plum")
	require.NoError(t, err)
	assert.Len(t, list, 1)
	assert.Len(t, bad, 1)
	_, badTrials, err := one.Trials(ctx, "plum")
	require.NoError(t, err)
	assert.Len(t, badTrials, 1)
	_, badSettings, err := one.Settings(ctx)
	require.NoError(t, err)
	assert.Len(t, badSettings, 1)

	d := Draft("pear", 1, "Pear, again", 4)
	d.Spare = "pear-2"
	_, err = one.Save(ctx, d)
	assert.ErrorIs(t, err, book.ErrConflict, "what cannot be read is not overwritten")
	kept, err := one.Open(ctx, "pear-2")
	require.NoError(t, err)
	assert.Equal(t, "Pear, again", kept.Name)

	h, err := one.Repair(ctx, "pear")
	require.NoError(t, err)
	assert.Equal(t, "Pear", h.Name)
	assert.Equal(t, []string{"agent.agar"}, h.Facets)
	l, err = one.List(ctx)
	require.NoError(t, err)
	assert.Empty(t, l.Damaged)
}

func newerRecord(t *testing.T, open Opener) {
	ctx, one, _, port := books(t, open)
	const text = `{"form":99,"what":"ever"}`
	require.NoError(t, port.Write(ctx, book.Strict, book.Spaces, func(tx book.Tx) error {
		return tx.Put(book.Heads, book.Key{ID: "pear"}, text)
	}))
	l, err := one.List(ctx)
	require.NoError(t, err)
	require.Len(t, l.Damaged, 1)
	assert.ErrorIs(t, l.Damaged[0].Err, book.ErrNewer)
	d := Draft("pear", 0, "Pear", 1)
	d.Spare = "spare"
	_, err = one.Save(ctx, d)
	assert.ErrorIs(t, err, book.ErrConflict)
	_, err = one.Repair(ctx, "pear")
	assert.Error(t, err)
	require.NoError(t, port.Read(ctx, []book.Space{book.Heads}, func(tx book.Tx) error {
		still, _, err := tx.Get(book.Heads, book.Key{ID: "pear"})
		assert.Equal(t, text, still)
		return err
	}))
}

func unknownMembers(t *testing.T, open Opener) {
	ctx, one, _, port := books(t, open)
	mustSave(t, ctx, one, Draft("pear", 0, "Pear", 1))
	const newer = `{"form":1,"id":"pear","rev":1,"name":"Pear","mood":{"calm":1.0},"made":1,"saved":1,"body":{"agents":[],"later":[1]}}`
	require.NoError(t, port.Write(ctx, book.Strict, book.Spaces, func(tx book.Tx) error {
		return tx.Put(book.Versions, book.Key{ID: "pear", Rev: 1}, newer)
	}))
	_, err := one.Rename(ctx, "pear", 1, "Williams", 2, "")
	require.NoError(t, err)
	rows, err := port.Snapshot(ctx, book.Versions)
	require.NoError(t, err)
	assert.Equal(t, `{"form":1,"id":"pear","rev":2,"name":"Williams","made":1,"saved":2,"body":{"agents":[],"later":[1]},"mood":{"calm":1.0}}`,
		rows[0][1].Text)
}
