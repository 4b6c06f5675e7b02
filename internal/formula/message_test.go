package formula_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"tremblant/internal/formula"
)

// A change that is carried out within the fields it began from gives its own; typed
// fields that it is not about stay.
func TestChangeWithin(t *testing.T) {
	c := formula.Change{From: formula.Fields{"name": "a", "dose-1-name": "agar"}, Fields: formula.Fields{"name": "a", "dose-2-name": "agar"}}
	assert.Equal(t, c.Fields, c.Within(c.From))
	assert.Equal(t, map[string]bool{"dose-1-name": true, "dose-2-name": true}, c.About())
	now := formula.Fields{"name": "b", "dose-1-name": "agar", "batch-liquid": "3"}
	assert.Equal(t, formula.Fields{"name": "b", "dose-2-name": "agar", "batch-liquid": "3"}, c.Within(now))
	assert.Equal(t, "agar", now["dose-1-name"], "what is there now is not touched")
}
