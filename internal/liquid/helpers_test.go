package liquid_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/require"

	"tremblant/internal/liquid"
	"tremblant/internal/note"
)

var (
	table  = liquid.Table
	number = liquid.Number
)

func get(t testing.TB, id string) liquid.Ingredient {
	t.Helper()
	g, ok := liquid.ByID(id)
	require.True(t, ok, id)
	return g
}

func mix(t testing.TB, steps ...liquid.Step) *liquid.Liquid {
	t.Helper()
	l, err := liquid.Run(steps)
	require.NoError(t, err)
	return l
}

func refusal(t testing.TB, err error) *note.Refusal {
	t.Helper()
	var r *note.Refusal
	require.True(t, errors.As(err, &r), "%v", err)
	return r
}

func codes(notes []note.Note) []note.Code {
	var out []note.Code
	for _, n := range notes {
		out = append(out, n.Code)
	}
	return out
}
