//go:build e2e

package e2e

import (
	"fmt"
	"slices"
	"testing"
	"time"

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

// labKept waits until the worker keeps the lab as well, which it does after the
// page itself.
func labKept(page *Page) {
	page.t.Helper()
	page.Run(lookForLab)
	page.Wait(isLabKept)
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
	t.Parallel()
	server := Serve(t, Dist(t))
	browser := Start(t)
	page := browser.Page(Phone)
	page.Visit(server)
	foamInThePan(page)
	page.Wait(`localStorage.getItem("tremblant-draft")?.includes("foam stabiliser")`)
	labKept(page)
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
	thumb.press(`#lab-foam-half ~ [data-step="1"]`)
	thumb.press(`#lab-foam-half ~ [data-step="1"]`)
	thumb.press(`[name="lab-foam-gas"]`)
	page.WaitText("#lab-foam-answer", "Base to make")
	t.Logf("%d taps and %d keys", thumb.taps, thumb.keys)
	assert.LessOrEqual(t, thumb.taps, 8)
	base := page.Figure("lab-foam-base")
	assert.InDelta(t, base, 2*page.Figure("lab-foam-fill-1-mass"), 1, "two bodies, evenly filled")
	assert.InDelta(t, 2, page.Figure("lab-foam-chargers"), 0)
	page.NoHScroll(360)
	page.Shot("foam-2-plan")

	page.Press("#lab-foam-make")
	page.WaitText("#notice-undo", "The pan now makes")
	page.WaitFigure("total-mass", base)
	page.WaitText("#lab-foam-fits", "The pan makes this much")
	page.Press(`[data-do="undo"]`)
	page.WaitText("#lab-foam-make", "Make this much")
	page.Wait(`document.querySelector("[name=make]:checked").value === "liquid"`)
	page.WaitFigure("lab-foam-base", base)

	// What was typed comes back with the draft, and the plan with it.
	page.Wait(`localStorage.getItem("tremblant-draft")?.includes("lab-foam-covers")`)
	page.Reload()
	page.Ready()
	page.Press("#lab-foam > summary")
	page.WaitFigure("lab-foam-base", base)
	assert.Equal(t, "2", Eval[string](page, `document.querySelector("[name=lab-foam-half]").value`))
}

// openedFoam is the section with a plan for 38 covers.
func openedFoam(page *Page) {
	page.t.Helper()
	foamInThePan(page)
	page.Press("#lab-foam > summary")
	page.Wait(`document.documentElement.dataset.lab === "1"`)
	page.Type("lab-foam-covers", "38")
	page.Press(`[name="lab-foam-gas"]`)
	page.WaitText("#lab-foam-answer", "Base to make")
}

func TestFoamRefusalAndNearestPlan(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Narrow)
	page.Visit(server)
	labKept(page)
	server.Kill()
	page.Reload()
	page.Ready()
	openedFoam(page)
	page.NoHScroll(320)
	page.Shot("foam-3-narrow")

	page.Type("lab-foam-temp", "90")
	page.WaitText(`[data-for="lab-foam-temp"]`, "Charge nothing at 90")
	page.WaitText("#lab-foam-near", "65\u00a0°C")
	page.Wait(`document.querySelector("#lab-foam-answer").dataset.state === "stale"`)
	assert.Greater(t, page.Figure("lab-foam-base"), 500.0, "the last good answer stays: the one for 9 °C, on the way to 90")
	page.WaitText(".foam-dangers", "pressure vessel")
	page.Shot("foam-4-refused")
	page.Press("#lab-foam-take")
	page.Wait(`document.querySelector("#lab-foam-answer").dataset.state === ""`)
	page.WaitText("#lab-foam-hold-box", "63\u00a0°C and over")
	page.WaitText(".foam-dangers", "sticks and burns")
	page.Shot("foam-5-hot")

	page.Type("lab-foam-covers", "900")
	page.WaitText("#lab-foam-refused", "the shelf holds")
	page.Press("#lab-foam-take")
	page.Wait(`document.querySelector("#lab-foam-answer").dataset.state === ""`)
	assert.Greater(t, page.Figure("lab-foam-covers-planned"), 10.0)
}

// A count is what stands in its field, and what is no count is said beside it.
func TestFoamCountsOfSiphons(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	page.Visit(server)
	openedFoam(page)
	const field = `document.querySelector("#lab-foam-half")`
	for _, c := range []struct{ typed, more, fewer string }{
		{"", "1", "0"}, {"1,5", "2", "1"}, {"abc", "1", "0"}, {"0", "1", "0"}, {"50", "50", "49"}, {"80", "80", "79"},
		{"-4", "0", "0"}, {"1e309", "1", "0"},
	} {
		for step, want := range map[string]string{"1": c.more, "-1": c.fewer} {
			page.Type("lab-foam-half", c.typed)
			page.PressIn(`.stepper:has(#lab-foam-half) [data-step="` + step + `"]`)
			assert.Equal(t, want, Eval[string](page, field+".value"), "%q and %s", c.typed, step)
		}
	}
	for _, bad := range []string{"1,5", "abc", "-4"} {
		page.Type("lab-foam-half", bad)
		page.Wait(`!document.querySelector("#lab-foam-half-said").hidden`)
		assert.Equal(t, bad, Eval[string](page, field+".value"), "what was typed stays")
		assert.Equal(t, "true", Eval[string](page, field+".ariaInvalid"), bad)
		page.Type("lab-foam-half", "1")
		page.Wait(`document.querySelector("#lab-foam-half-said").hidden`)
	}
}

// The picture is drawn from the figures beside it.
func TestFoamPictureOfMixedSiphons(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	page.Visit(server)
	page.Dark(true)
	openedFoam(page)
	page.Type("lab-foam-covers", "120")
	page.Type("lab-foam-portion", "60")
	page.Press(`#lab-foam-half ~ [data-step="1"]`)
	page.Press(`#lab-foam-litre ~ [data-step="1"]`)
	page.Wait(`document.querySelectorAll("[data-list=lab-foam-fill] > li").length > 1`)
	const drawn = `document.querySelector("#lab-foam-pic-base").getAttribute("height") + document.querySelector("#lab-foam-pic-after").getAttribute("d")`
	first, before := Eval[string](page, drawn), page.Figure("lab-foam-before")
	page.Shot("foam-6-mixed-dark")
	page.Press("#lab-foam-look-2-at")
	page.Wait(drawn + " !== " + quote(first))
	assert.Greater(t, abs(page.Figure("lab-foam-before")-before), 1.0)
	page.NoHScroll(360)
	small := Eval[[]string](page, `[...document.querySelectorAll("#lab-foam :is(button, select, summary, input:not([type=checkbox], [type=radio])), #lab-foam label:has([type=checkbox], [type=radio])")]
		.filter(e => e.checkVisibility()).filter(e => { const r = e.getBoundingClientRect(); return r.height < 44 || r.width < 44 }).map(e => e.outerHTML.slice(0, 90))`)
	assert.Empty(t, small, "too small for a wet thumb")
}

func abs(v float64) float64 {
	if v < 0 {
		return -v
	}
	return v
}

// TestFoamSizingTime measures from an input event to the patch that shows its
// plan: the pan's own answer, the way to the lab's worker, both plans, and back.
// The browser slows the page's thread only, not the worker's, so four times the
// time at full speed is given as well: the honest figure for a slow phone.
func TestFoamSizingTime(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	page.Visit(server)
	openedFoam(page)
	page.Press(`#lab-foam-half ~ [data-step="1"]`)
	page.Press(`#lab-foam-half ~ [data-step="1"]`)
	page.Wait(`document.querySelector("[data-figure=lab-foam-chargers]").value === "2"`)
	page.Run(watchSizing)
	full := sizing(page, 1)
	slow := sizing(page, 4)
	t.Logf("input to plan, %d inputs: median %.1f ms at full speed (times 4: %.1f ms), least %.1f ms; %.1f ms with the page 4 times slower",
		len(full), middle(full), 4*middle(full), slices.Min(full), middle(slow))
	assert.Less(t, middle(slow), 1000.0, "something is badly wrong")
}

const watchSizing = `{
	globalThis.sized = [];
	const base = document.querySelector("[data-figure=lab-foam-base]");
	let start = 0;
	document.addEventListener("input", () => { start = performance.now() }, true);
	new MutationObserver(() => { if (start) { sized.push(performance.now() - start); start = 0 } })
		.observe(base, { childList: true, characterData: true, subtree: true, attributes: true });
	globalThis.size = (covers) => {
		const input = document.querySelector("[name=lab-foam-covers]");
		input.value = covers;
		input.dispatchEvent(new Event("input", { bubbles: true }));
	};
}`

// sizing changes the covers and returns how long each plan took, in ms.
func sizing(page *Page, slow float64) []float64 {
	page.t.Helper()
	page.Slow(slow)
	page.Run(`sized.length = 0`)
	for i := range 25 {
		page.Run(fmt.Sprintf(`size("%d")`, 30+i%9+int(slow)*10))
		page.Wait(fmt.Sprintf(`sized.length === %d`, i+1))
		time.Sleep(60 * time.Millisecond) // the second telling must not fall into the next
	}
	page.Slow(1)
	return Eval[[]float64](page, `sized`)
}

func middle(all []float64) float64 {
	sorted := slices.Sorted(slices.Values(all))
	return sorted[len(sorted)/2]
}
