package method_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/plan/method"
)

func TestEditsSurviveRecomputation(t *testing.T) {
	in := sheets["agar-gellan fluid gel"]
	m := build(t, in)
	hydrate := step(t, m, method.Hydrate)
	edits := []method.Edit{
		{Kind: method.Replace, Step: hydrate.ID, Text: "Simmer in the copper pan.", Basis: hydrate.Basis()},
		{Kind: method.Insert, Step: "pour", ID: "own-1", Text: "Take the tray out of the freezer.", Minutes: 2},
		{Kind: method.Skip, Step: "top-up/water"},
		{Kind: method.Move, Step: "sieve-fine", After: "degas"},
	}
	out, lost := method.Apply(m.Steps, edits)
	require.Empty(t, lost)
	ids := func(steps []method.Edited) (out []string) {
		for _, s := range steps {
			out = append(out, s.ID)
		}
		return
	}
	list := ids(out)
	assert.Equal(t, slices.Index(list, "pour")+1, slices.Index(list, "own-1"))
	assert.Equal(t, slices.Index(list, "degas")+1, slices.Index(list, "sieve-fine"))
	assert.Equal(t, "Simmer in the copper pan.", out[slices.Index(list, hydrate.ID)].Text)
	assert.False(t, out[slices.Index(list, hydrate.ID)].Changed)
	assert.True(t, out[slices.Index(list, "top-up/water")].Skipped)

	// More liquid: figures change, steps stay, the edits stay where they were.
	in.Liquid.Parts = slices.Clone(in.Liquid.Parts)
	in.Liquid.Parts[0].Mass = 400
	more := build(t, in)
	again, lost := method.Apply(more.Steps, edits)
	require.Empty(t, lost)
	assert.Equal(t, list[:slices.Index(list, "warm-rest/quince-juice")], ids(again)[:slices.Index(list, "warm-rest/quince-juice")])

	// A slower agent in the blend: the reworded step has new figures and says so.
	in.Doses = slices.Clone(in.Doses)
	in.Doses[0].Process.Hold = fact(8, 10, 15, practice)
	slow, lost := method.Apply(build(t, in).Steps, edits)
	require.Empty(t, lost)
	assert.True(t, slow[slices.Index(ids(slow), hydrate.ID)].Changed)

	// Without gellan the step is another: the edit is lost and reported; the cook's own step is kept.
	in.Doses = in.Doses[:1]
	in.Target = method.Thicken
	after, lost := method.Apply(build(t, in).Steps, edits)
	require.Len(t, lost, 3)
	assert.Equal(t, hydrate.ID, lost[0].Edit.Step)
	assert.False(t, lost[0].Kept)
	assert.True(t, lost[1].Kept)
	assert.True(t, after[len(after)-1].Own)
}

func TestSkippingACriticalStepStaysVisible(t *testing.T) {
	m := build(t, sheets["iota in milk"])
	out, lost := method.Apply(m.Steps, []method.Edit{{Kind: method.Skip, Step: "hydrate/carr-iota"}})
	require.Empty(t, lost)
	for _, s := range out {
		if s.Skipped {
			assert.Contains(t, codes(s.Notes), method.CodeSkipped)
		}
	}
	assert.NotContains(t, codes(step(t, m, method.Hydrate).Notes), method.CodeSkipped, "the computed steps are left alone")
}

func FuzzApply(f *testing.F) {
	f.Add(uint64(1), byte(1), "pour", "", "own")
	f.Add(uint64(2), byte(4), "weigh", "weigh", "")
	f.Fuzz(func(t *testing.T, seed uint64, kind byte, step, after, id string) {
		m, err := method.Build(randomInput(rand.New(rand.NewPCG(seed, 1))))
		if err != nil {
			return
		}
		e := method.Edit{Kind: method.EditKind(kind % 6), Step: step, After: after, ID: id, Text: id, Minutes: float64(seed)}
		out, lost := method.Apply(m.Steps, []method.Edit{e, e})
		n := len(m.Steps)
		if len(out) < n || len(out) > n+2 || len(lost) > 2 {
			t.Fatal(len(out), n, lost)
		}
		seen := map[string]bool{}
		for _, s := range out {
			if seen[s.ID] {
				t.Fatalf("%q twice", s.ID)
			}
			seen[s.ID] = true
		}
	})
}
