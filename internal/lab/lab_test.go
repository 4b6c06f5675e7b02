package lab

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/phrase"
)

func TestShowsNothingBeforeItIsTold(t *testing.T) {
	b, err := formula.Working{Fields: formula.Fields{"dose-1-name": "agar", "dose-1-amount": "1"}, Shelf: formula.UsualShelf()}.Encode()
	require.NoError(t, err)
	l := New(phrase.Book{Find: func(string) (string, bool) { return "", false }})
	l.Open("swap", true)
	require.NoError(t, l.Working(string(b)))
	t.Log(l.Patch())
}
