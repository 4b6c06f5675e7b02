//go:build e2e

package e2e

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

// vegetableFoam is left in the pan as a draft: 8.75 % of stabiliser on 400 g,
// common practice, no source.
const vegetableFoam = `400 g beetroot juice\n35 g foam stabiliser`

// foamInThePan puts the foam's recipe into the pan as a person pastes it.
func foamInThePan(page *Page) {
	page.t.Helper()
	page.Press("#paste > summary")
	page.Run(`{ const lines = document.querySelector("[name=lines]"); lines.value = "` + vegetableFoam + `"; lines.dispatchEvent(new Event("input", { bubbles: true })) }`)
	page.Press(`[data-do="read-lines"]`)
	page.Wait(`document.querySelector("[name=dose-1-name]").value === "foam stabiliser"`)
}

// counter counts what a thumb does: presses, and keys of the phone's keyboard.
type counter struct {
	page       *Page
	taps, keys int
}

func (c *counter) press(selector string) {
	c.page.t.Helper()
	c.page.Press(selector)
	c.taps++
}

func (c *counter) typed(name, text string) {
	c.page.t.Helper()
	c.page.Press(fmt.Sprintf(`[name=%q]`, name))
	c.page.Type(name, text)
	c.taps++
	c.keys += len(text)
}

func TestFoamPlanInFewTaps(t *testing.T) {
	server := Serve(t, Dist(t))
	browser := Start(t)
	page := browser.Page(Phone)
	page.Visit(server)
	foamInThePan(page)
	page.Wait(`localStorage.getItem("tremblant-draft")?.includes("foam stabiliser")`)
	server.Kill()
	page.Reload()
	page.Ready()

	thumb := counter{page: page}
	thumb.press("#lab-foam > summary")
	page.Wait(`document.documentElement.dataset.lab === "1"`)
	page.WaitText("#lab-foam", "Tick this")
	assert.False(t, page.Visible("#lab-foam-answer"), "no advice before the gas is known")
	page.WaitText(".foam-dangers", "pressure vessel")
	page.Shot("foam-1-open")
	thumb.typed("lab-foam-covers", "38")
	thumb.typed("lab-foam-portion", "40")
	thumb.press(`#lab-foam-half ~ [data-step="stepUp"]`)
	thumb.press(`#lab-foam-half ~ [data-step="stepUp"]`)
	thumb.press(`[name="lab-foam-gas"]`)
	page.WaitText("#lab-foam-answer", "Base to make")
	t.Logf("%d taps and %d keys", thumb.taps, thumb.keys)
	assert.LessOrEqual(t, thumb.taps, 8)
	page.NoHScroll(360)
	page.Shot("foam-2-plan")
}
