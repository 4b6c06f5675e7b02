//go:build e2e

package e2e

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Where the system sets the colours it draws transparent edges as well, and takes grounds
// away: what is chosen, and what a drawing's key stands for, must still be seen.
func TestForcedColours(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	page.Run(`document.querySelector('[data-lab="dry"]').open = true`)
	page.Wait(isLabOn)
	page.Wait(exists(".plate-key i.solids"))
	page.Prefer("forced-colors", "active")
	page.Wait(`matchMedia("(forced-colors: active)").matches`)
	const edges = `(side, one, other) => [one, other].map(s => getComputedStyle(document.querySelector(s))[side])`
	for _, marked := range []string{
		`"borderBottomColor", ".choices :checked + span", ".choices :not(:checked) + span"`,
		`"borderTopColor", ".places [aria-current]", ".places a:not([aria-current])"`,
		`"backgroundColor", ".plate-key i.solids", ".plate-key i:not(.solids)"`,
	} {
		seen := Eval[[]string](page, `(`+edges+`)(`+marked+`)`)
		assert.NotEqual(t, seen[0], seen[1], marked)
	}
}
