//go:build e2e

package e2e

import (
	"strings"
	"testing"

	cdp "github.com/chromedp/cdproto/page"
	"github.com/stretchr/testify/assert"
)

// offlineWith is the page with a recipe pasted and its size set, its server gone,
// and one part of the lab open.
func offlineWith(t *testing.T, part, grams string, lines ...string) *Page {
	t.Helper()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	call(page, cdp.SetBypassCSP, cdp.SetBypassCSPParams{Enabled: true}) // for the rule book
	page.Visit(server)
	labKept(page)
	page.Press("#paste > summary")
	page.Run(`{ const lines = document.querySelector("[name=lines]"); lines.value = ` + quote(strings.Join(lines, "\n")) + `; lines.dispatchEvent(new Event("input", { bubbles: true })) }`)
	page.Press(`[data-do="read-lines"]`)
	page.Wait(`document.querySelector("[name=part-1-amount]").value !== ""`)
	page.Type("batch-liquid", grams)
	page.Wait(`localStorage.getItem("tremblant-draft")?.includes('"` + grams + `"')`)
	server.Kill()
	page.Reload()
	page.Ready()
	page.Press("#lab-" + part + " > summary")
	page.Wait(`document.documentElement.dataset.lab === "1"`)
	return page
}

// plateLooks fails when a section scrolls sideways, has targets too small for a
// wet thumb, or breaks a rule of axe-core, and takes its picture by day and by night.
func plateLooks(page *Page, part, name string) {
	page.t.Helper()
	page.NoHScroll(360)
	small := Eval[[]string](page, `[...document.querySelectorAll("#lab-`+part+` :is(button, select, summary, input:not([type=checkbox], [type=radio])), #lab-`+part+` label:has([type=checkbox], [type=radio])")]
		.filter(e => e.checkVisibility()).filter(e => { const r = e.getBoundingClientRect(); return r.height < 44 || r.width < 44 }).map(e => e.outerHTML.slice(0, 90))`)
	assert.Empty(page.t, small, "too small for a wet thumb")
	page.Run(axe(page.t.(*testing.T)))
	for _, dark := range []bool{false, true} {
		page.Dark(dark)
		assert.Empty(page.t, Eval[[]string](page, broken), "dark: %v", dark)
		page.Shot(name + map[bool]string{true: "-dark"}[dark])
	}
	page.Dark(false)
}

// The cream is common practice, no source.
func TestPlateEmulsionOffline(t *testing.T) {
	t.Parallel()
	page := offlineWith(t, "emulsion", "212", "40 g shellfish reduction", "30 g egg yolk", "10 g lime juice", "2 g salt", "130 g sunflower oil")
	page.WaitFigure("lab-emulsion-total", 212)
	page.WaitText("#lab-emulsion-place-word", "spoonable")
	page.WaitText("#lab-emulsion", "30\u00a0g of raw egg")
	page.WaitText("#lab-emulsion", "Contains egg")
	assert.InDelta(t, 130.0/212, page.Figure("lab-emulsion-oil-mass"), 0.002)
	assert.InDelta(t, 4.5, page.Figure("lab-emulsion-ph-is"), 1.2)
	plateLooks(page, "emulsion", "plate-1-emulsion")

	thumb := counter{page: page}
	thumb.typed("lab-emulsion-covers", "24")
	thumb.typed("lab-emulsion-portion", "8")
	page.WaitFigure("lab-emulsion-total", 192)
	choose(page, "lab-emulsion-limit", "part-2")
	thumb.typed("lab-emulsion-have", "20")
	page.WaitFigure("lab-emulsion-weigh-2-mass", 20)
	page.WaitText("#lab-emulsion-limited", "7.17")
	total := page.Figure("lab-emulsion-total")
	assert.InDelta(t, 212*20.0/30, total, 1e-6)
	t.Logf("%d taps, %d keys, one choice", thumb.taps, thumb.keys)
	plateLooks(page, "emulsion", "plate-2-limit")
	page.Press("#lab-emulsion-make")
	page.WaitText("#notice-undo", "The pan now makes")
	page.WaitFigure("part-2-mass", 20)
	page.WaitText("#lab-emulsion-fits", "The pan makes this much")
	page.Press(`[data-do="undo"]`)
	page.WaitFigure("part-2-mass", 30)

	page.Type("lab-emulsion-covers", "0")
	page.Wait(`document.querySelector("#lab-emulsion-answer").dataset.state === "stale"`)
	page.WaitText(`[data-for="lab-emulsion-covers"]`, "1")
	page.Shot("plate-3-refused")
	page.Type("lab-emulsion-covers", "24")
	page.Wait(`document.querySelector("#lab-emulsion-answer").dataset.state === ""`)

	// What was typed comes back with the draft.
	page.Wait(`localStorage.getItem("tremblant-draft")?.includes("lab-emulsion-have")`)
	page.Reload()
	page.Ready()
	page.Press("#lab-emulsion > summary")
	page.WaitFigure("lab-emulsion-total", total)
}

func TestPlateSphereOffline(t *testing.T) {
	t.Parallel()
	page := offlineWith(t, "sphere", "270", "250 g whole milk", "20 g honey")
	page.WaitText("#lab-sphere-refused", "Make reverse spheres")
	page.Shot("plate-4-refused")
	page.Press(`[data-do="lab-sphere-turn"]`)
	page.WaitText("#notice-undo", "Now reverse spheres")
	page.Type("lab-sphere-bath", "500")
	page.Wait(`Math.abs(document.querySelector("[data-figure=lab-sphere-weigh-2-mass]")?.value - 2.5126) < 0.001`)
	assert.InDelta(t, 4.31*270/250, page.Figure("lab-sphere-weigh-1-mass"), 0.02)
	page.WaitText("#lab-sphere", "block a throat")
	assert.NotEmpty(t, Eval[string](page, `document.querySelector("#lab-sphere-band").getAttribute("d")`))
	plateLooks(page, "sphere", "plate-5-sphere")
	page.Press("#lab-sphere-put")
	page.WaitText("#lab-sphere-has", "The pan holds this")
	assert.InDelta(t, page.Figure("lab-sphere-weigh-1-mass"), page.Figure("dose-1-mass"), 0.05)
	page.Press(`[data-do="undo"]`)
	page.WaitText("#lab-sphere-put", "Put the liquid")
	choose(page, "lab-sphere-salt", "unknown")
	page.WaitText("#lab-sphere-refused", "Which calcium salt")
}

func TestPlateDryOffline(t *testing.T) {
	t.Parallel()
	page := offlineWith(t, "dry", "520", "500 g raspberry", "20 g sugar")
	page.WaitFigure("lab-dry-wet", 520)
	page.Press(`[name=lab-dry-form][value=sheet] + span`)
	page.WaitText("#lab-dry", "Peel off while warm")
	page.Type("lab-dry-want", "60")
	page.Wait(`Math.abs(document.querySelector("[data-figure=lab-dry-product]").value - 60) < 1e-6`)
	wet := page.Figure("lab-dry-wet")
	assert.Greater(t, wet, 60*4.0)
	page.WaitText("#lab-dry", "Drying kills hardly anything")
	plateLooks(page, "dry", "plate-6-dry")
	page.Press("#lab-dry-make")
	page.WaitText("#lab-dry-fits", "The pan makes this much")
	page.WaitFigure("lab-dry-wet", wet)
	page.Press(`[data-do="undo"]`)
	page.WaitText("#lab-dry-make", "Make this much")
	page.Type("lab-dry-residual", "-5")
	page.WaitText("#lab-dry-refused", "less than no water")
	assert.InDelta(t, 60, page.Figure("lab-dry-product"), 1e-6, "the last good answer stays")
}
