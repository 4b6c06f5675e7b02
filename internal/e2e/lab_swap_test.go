//go:build e2e

package e2e

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// labReady waits until the lab has answered.
func labReady(p *Page) {
	p.t.Helper()
	p.Wait(`document.documentElement.dataset.lab === "1"`)
	p.Wait(`document.querySelector("#lab-swap-now-texture").textContent !== ""`)
}

// taps presses and counts.
type taps struct {
	page *Page
	n    int
}

func (c *taps) press(selector string) {
	c.page.t.Helper()
	c.page.Press(selector)
	c.n++
}

// offer is the row of an offer by its name, from 1, or 0.
func offer(p *Page, name string) int {
	p.t.Helper()
	return Eval[int](p, fmt.Sprintf(`[...document.querySelectorAll("#lab-swap .offer-name")].findIndex(e => e.textContent === %s) + 1`, quote(name)))
}

// From the page as it opens to another agent in the pan: at most six taps.
func TestLabSwapInSixTaps(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	page.Open(server.URL())
	page.Ready()
	tap := &taps{page: page}
	tap.press("#lab-swap > summary")
	labReady(page)
	page.WaitText("#lab-swap-now-texture", "Fluid gel")
	page.NoHScroll(360)
	page.Shot("lab-swap-phone")

	tap.press(`label:has([name="lab-swap-vegan"])`)
	page.Wait(`![...document.querySelectorAll("#lab-swap .offer-name")].some(e => /gelatin|egg|milk|whey/.test(e.textContent))`)
	row := offer(page, "iota carrageenan")
	require.NotZero(t, row)
	at := fmt.Sprintf("lab-swap-offer-%d", row)
	tap.press("#" + at + "-pick")
	page.WaitText("#lab-swap-chosen", "Put it in the pan")
	assert.Equal(t, "true", Eval[string](page, `document.getElementById("`+at+`-pick").ariaExpanded`))
	assert.True(t, Eval[bool](page, `document.getElementById("`+at+`-inside").contains(document.getElementById("lab-swap-chosen"))`))
	page.NoHScroll(360)
	page.Shot("lab-swap-picked-phone")
	mass := page.Figure(at + "-mass")

	tap.press(`[data-do="lab-swap-use"]`)
	page.WaitFigure("dose-1-mass", mass)
	assert.LessOrEqual(t, tap.n, 6)
	assert.Equal(t, "iota carrageenan", Eval[string](page, `document.querySelector("[name=dose-1-name]").value`))
	page.WaitText("#undo-what", "in place of agar + low-acyl gellan")
	page.Wait(`document.activeElement.id === "lab-swap-now-texture"`)
	page.Shot("lab-swap-used-phone")

	page.Press(`#notice-undo [data-do="undo"]`)
	page.Wait(`document.querySelector("[name=dose-1-name]").value === "agar"`)
	page.Wait(`document.querySelector("[name=dose-2-name]").value === "low-acyl gellan"`)
	assert.True(t, Eval[bool](page, `document.querySelector("[name=lab-swap-vegan]").checked`), "the wish stays")
}

// What is typed in the lab is kept with the formula.
func TestLabInputsAreKept(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	page.Open(server.URL())
	page.Ready()
	page.Press("#lab-swap > summary")
	labReady(page)
	page.Press("#lab-swap-liquid > summary")
	page.Type("lab-swap-ph", "3,2")
	page.WaitText("#lab-swap-known", "pH 3.2")
	page.Type("lab-swap-brix", "x")
	page.WaitText(`[data-for="lab-swap-brix"]`, "not a figure")
	page.Shot("lab-swap-liquid-phone")
	page.Type("lab-swap-brix", "12")
	page.WaitText("#lab-swap-known", "12")
	page.Wait(`(sessionStorage.getItem("tremblant-draft") ?? "").includes("lab-swap-brix")`)
	page.Reload()
	page.Ready()
	page.Press("#lab-swap > summary")
	labReady(page)
	page.Press("#lab-swap-liquid > summary")
	page.Wait(`document.querySelector("[name=lab-swap-ph]").value === "3,2"`)
	page.WaitText("#lab-swap-known", "12")
}

// What the lab says of a part that nobody has opened yet waits for it.
func TestUnopenedPartsWait(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	page.Press("#lab-swap > summary")
	labReady(page)
	page.Press("#lab-swap-liquid > summary")
	typeAll(page, "lab-swap-ph", "3,2", "lab-swap-brix", "x")
	page.Wait(`(sessionStorage.getItem("tremblant-draft") ?? "").includes("lab-swap-brix")`)
	page.Reload()
	page.Ready()
	page.Press("#lab-help > summary")
	page.Wait(isLabOn)
	page.Type("batch-liquid", "700")
	page.Answered()
	const standing = `document.querySelector("[name=lab-swap-brix]") !== null` // the fold opens by itself: something in it is wrong
	require.False(t, Eval[bool](page, standing), "its fields are not on the page")
	page.Press("#lab-swap > summary")
	page.Wait(standing)
	assert.Equal(t, "x", value(page, "lab-swap-brix"))
	assert.Equal(t, "3,2", value(page, "lab-swap-ph"))
	page.WaitText(`[data-for="lab-swap-brix"]`, "not a figure")
	page.WaitText("#lab-swap-known", "pH 3.2")
}

func TestLabWorksWithoutANetwork(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	page.Open(server.URL())
	page.Ready()
	page.Offline()
	labKept(page) // kept without ever having been opened
	server.Kill()
	page.Reload()
	page.Ready()
	page.Press("#lab-swap > summary")
	labReady(page)
	page.Press("#lab-swap-offer-1-pick")
	page.WaitText("#lab-swap-chosen", "Put it in the pan")
}

// Keystrokes do not wait for the lab, and the last one is answered.
func TestLabAnswersTheNewestFormula(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	page.Open(server.URL())
	page.Ready()
	page.Press("#lab-swap > summary")
	labReady(page)
	before := page.Figure("lab-swap-offer-1-mass")
	batch := page.Figure("total-mass")
	page.Run(`{ const i = document.querySelector("[name=batch-liquid]"); for (let n = 1; n <= 200; n++) { i.value = String(n * 10); i.dispatchEvent(new Event("input", { bubbles: true })) } }`)
	page.Wait(fmt.Sprintf(`Math.abs(Number(document.querySelector("[data-figure=lab-swap-offer-1-mass]").value) - %v) < 1e-6`, before*2000/350))
	assert.Greater(t, page.Figure("total-mass"), batch)
}

// A lab that cannot be loaded says so, leaves the pan alone, and can be begun anew.
func TestLabThatDoesNotArrive(t *testing.T) {
	t.Parallel()
	dist := filepath.Join(t.TempDir(), "dist")
	require.NoError(t, os.CopyFS(dist, os.DirFS(Dist(t))))
	server := Serve(t, dist)
	var there atomic.Bool
	whole := server.handler
	server.UseHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !there.Load() && strings.HasPrefix(filepath.Base(r.URL.Path), "lab.") {
			http.NotFound(w, r)
			return
		}
		whole.ServeHTTP(w, r)
	}))
	page := Start(t).Page(Phone)
	page.Allow("lab|404")
	page.Open(server.URL())
	page.Ready()
	page.Press("#lab-swap > summary")
	page.WaitText("#lab-failed", "Try again")
	page.Shot("lab-failed-phone")
	page.Type("batch-liquid", "700")
	page.WaitFigure("total-mass", 706.65)
	there.Store(true)
	page.Press(`[data-do="lab-again"]`)
	labReady(page)
	assert.False(t, page.Visible("#lab-failed"))
}

func TestLabOnEveryScreen(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	browser := Start(t)
	for name, view := range map[string]View{"phone": Phone, "narrow": Narrow, "tablet": Tablet} {
		page := browser.Page(view)
		page.Dark(name != "tablet")
		page.Open(server.URL())
		page.Ready()
		page.Press("#lab-swap > summary")
		labReady(page)
		page.Press("#lab-swap-offer-2-pick")
		page.WaitText("#lab-swap-chosen", "Put it in the pan")
		for _, box := range []string{"#lab-swap-allergens", "#lab-swap-liquid", "#lab-swap-refused-box", "#lab-swap-work-box", "#lab-swap-why-box"} {
			page.Press(box + " > summary")
		}
		page.NoHScroll(int(view.Width))
		small := Eval[[]string](page, `[...document.querySelectorAll("#lab-swap :is(button, summary, input:not([type=checkbox]), select, .ticks label)")]`+
			`.filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 44).map(e => e.outerHTML.slice(0, 80))`)
		assert.Empty(t, small, "too small for a thumb")
		page.Shot("lab-swap-all-" + name)
	}
}

// What stands on the shelf is said once and can be all that is offered.
func TestLabOffersOnlyWhatIsOnTheShelf(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	page.Open(server.URL())
	page.Ready()
	page.Wait(`document.documentElement.dataset.book === "1"`)
	page.Press("#to-shelf")
	for i, agent := range []string{"kappa carrageenan", "moon dust", "agar"} {
		page.Press(`[data-do="add-own"]`)
		page.Type(fmt.Sprintf("own-%d-name", i+1), agent)
		page.Run(`document.activeElement.blur()`) // closes the browser's list of names
	}
	page.WaitText(`[data-for="own-2-say"]`, "No agent goes by this name")
	page.Press(`[data-row="2"] [data-do="drop-own"]`)
	page.WaitText("#undo-what", "moon dust is taken out")
	page.Type("own-2-grade", "5")
	page.WaitText(`[data-for="own-2-say"]`, "at the least")
	page.Type("own-2-grade", "950")
	page.NoHScroll(360)
	page.Shot("shelf-agents-phone")
	page.Press("#to-pan")
	page.Press("#lab-swap > summary")
	labReady(page)
	page.Press(`label:has([name="lab-swap-only-shelf"])`)
	page.Wait(`[...document.querySelectorAll("#lab-swap .offer-name")].map(e => e.textContent).sort().join() === "agar,kappa carrageenan"`)
}
