package note_test

import (
	"errors"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

func TestRefusalTellsWhatAndWhere(t *testing.T) {
	r := note.Refuse("dose-1-amount", "dose.over", note.Num("limit", 100, unit.PercentOf), note.Word("agent", "agent.agar"), note.Typed("text", "1\n2"))
	assert.Equal(t, `dose.over at dose-1-amount, limit=100%, agent=agent.agar, text="1\n2"`, r.Error())
	assert.Equal(t, "dose.over", note.Refuse("", "dose.over").Error())
}

func TestRefusalsMatchByCodeAlone(t *testing.T) {
	err := fmt.Errorf("converting: %w", note.Refuse("a", "dose.over", note.Num("limit", 1, unit.One)))
	assert.ErrorIs(t, err, note.Refuse("", "dose.over"))
	assert.NotErrorIs(t, err, note.Refuse("", "dose.under"))
	assert.NotErrorIs(t, err, errors.New("dose.over"))
}

func TestNotesAreValues(t *testing.T) {
	plain := note.New(note.Caution, "heat", note.Num("at", 60, unit.DegreeC))
	placed := plain.At("serve").From(source.Ref{Tag: source.Practice})
	assert.Empty(t, plain.Field, "At gives another note")
	assert.Equal(t, "serve", placed.Field)
	assert.True(t, placed.Source.Valid())
	arg, ok := placed.Arg("at")
	require.True(t, ok)
	assert.Equal(t, 60.0, arg.Value)
	_, ok = placed.Arg("nothing")
	assert.False(t, ok)
}
