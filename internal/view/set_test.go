package view

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestAttributesAndPlaces(t *testing.T) {
	p := New()
	p.Set("dome", "d", "M0 0")
	p.Set("dome", "data-x", "1")
	p.Place("inside", "row-1")
	assert.JSONEq(t, `[["set","dome","d","M0 0"],["set","dome","data-x","1"],["place","inside","row-1"]]`, p.Patch())
	p.Set("dome", "d", "M0 0")
	p.Place("inside", "row-1")
	assert.Empty(t, p.Patch(), "that is what stands there")
	p.Set("dome", "d", "M1 1")
	p.Place("inside", "home")
	assert.JSONEq(t, `[["set","dome","d","M1 1"],["place","inside","home"]]`, p.Patch())
}

// An attribute in a row goes with the row.
func TestAttributesOfARowThatWent(t *testing.T) {
	p := New()
	p.Rows("tick", 1)
	p.Set("tick-1-dose", "x", "4")
	p.Rows("tick", 0)
	p.Rows("tick", 1)
	_ = p.Patch()
	p.Set("tick-1-dose", "x", "4")
	assert.JSONEq(t, `[["set","tick-1-dose","x","4"]]`, p.Patch())
}
