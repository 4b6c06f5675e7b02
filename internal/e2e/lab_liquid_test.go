//go:build e2e

package e2e

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// choose picks a choice of a select, as a person does with the phone's list.
func (p *Page) choose(name, value string) {
	p.t.Helper()
	p.Focus(name) // long lists are filled then
	p.Wait(fmt.Sprintf(`document.querySelector('[name=%q] option[value=%q]')`, name, value))
	p.Run(fmt.Sprintf(`{ const e = document.querySelector('[name=%q]'); e.value = %q; e.dispatchEvent(new Event("input", { bubbles: true })) }`, name, value))
}

// near waits until a figure is within so much of a value.
func (p *Page) near(name string, want, within float64) {
	p.t.Helper()
	p.Wait(fmt.Sprintf(`(v => v !== "" && Math.abs(Number(v) - %v) <= %v)(%s)`, want, within, figureValue(name)))
}

// paste puts a recipe in place of what is in the pan.
func (p *Page) paste(lines, total string) {
	p.t.Helper()
	p.Run(fmt.Sprintf(`{ const e = document.getElementById("lines"); e.value = %q; e.dispatchEvent(new Event("input", { bubbles: true })) }`, lines))
	p.Press("#paste > summary")
	p.Press(`[data-do="read-lines"]`)
	p.Press("#paste > summary")
	p.Type("batch-liquid", total)
}

// A pickling liquor of two parts wine vinegar, one part white wine and one part
// sugar, boiled and strained: pH 2.4 to 3.0 (common practice, no source). The
// network is gone; phones have it no better in a cellar kitchen.
func TestLabLiquidOffline(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	browser := Start(t)
	page := browser.Page(Phone)
	page.Visit(server)
	page.Press("#lab-liquid > summary")
	page.Wait(`document.documentElement.dataset.lab === "1"`)
	server.Kill()
	page.Reload()
	page.Ready()

	page.paste("200 g wine vinegar\n100 g white wine\n100 g sugar\n4 g agar", "400")
	page.Press("#lab-liquid > summary")
	page.near("lab-liquid-ph", 2.7, 0.3)
	page.Press("#lab-liquid-add")
	page.choose("lab-liquid-step-1-kind", "simmer")
	page.Type("lab-liquid-step-1-amount", "5")
	page.Press("#lab-liquid-add")
	page.choose("lab-liquid-step-2-kind", "strain")
	page.Wait(figureValue("lab-liquid-abv") + ` < 3`)
	page.near("lab-liquid-ph", 2.7, 0.3)
	page.near("lab-liquid-brix", 28, 4)
	assert.Greater(t, page.Figure("lab-liquid-abv"), 0.5)
	page.WaitText("#lab-liquid-allergens", "sulphites")
	page.WaitText("#lab-liquid-agent-1-from", "wine vinegar")
	page.NoHScroll(360)
	page.Shot("liquid-pickle")

	// A wrong figure: the answer stays, dimmed, and the row says what is wrong.
	ph := page.Figure("lab-liquid-ph")
	page.Type("lab-liquid-step-1-amount", "five")
	page.WaitText("#lab-liquid-step-1-said", "not a figure")
	page.Wait(`document.getElementById("lab-liquid-answer").dataset.state === "stale"`)
	assert.Equal(t, ph, page.Figure("lab-liquid-ph"))
	page.Shot("liquid-wrong")
	page.Type("lab-liquid-step-1-amount", "5")
	page.Wait(`document.getElementById("lab-liquid-answer").dataset.state !== "stale"`)

	// What was typed is kept with the formula, and comes back.
	page.Wait(`JSON.parse(localStorage.getItem("tremblant-draft"))`)
	page.Run(`dispatchEvent(new Event("pagehide"))`)
	page.Reload()
	page.Ready()
	page.Press("#lab-liquid > summary")
	page.near("lab-liquid-ph", ph, 1e-6)
	assert.Equal(t, "simmer", Eval[string](page, `document.querySelector('[name="lab-liquid-step-1-kind"]').value`))

	for name, view := range map[string]View{"narrow": Narrow, "tablet": Tablet} {
		page.View(view)
		page.NoHScroll(int(view.Width))
		page.Shot("liquid-pickle-" + name)
	}
	page.View(Phone)
	page.Dark(true)
	page.Shot("liquid-pickle-dark")
}

// A long list holds what is chosen in it, and the rest when somebody is about to open
// it: by a finger, or by the keyboard.
func TestLongListFillsUp(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	page.Open(server.URL())
	page.Ready()
	page.Press("#lab-liquid > summary")
	page.Wait(isLabOn)
	const list = "lab-liquid-goal-with"
	length := func() int { return Eval[int](page, `document.getElementById("`+list+`").options.length`) }
	value := func() string { return Eval[string](page, `document.getElementById("`+list+`").value`) }
	page.Wait(`document.getElementById("` + list + `").options.length > 0`)
	assert.Equal(t, 1, length())
	first := value()
	page.Run(`document.getElementById("` + list + `").dispatchEvent(new PointerEvent("pointerdown", { bubbles: true }))`)
	assert.Greater(t, length(), 40)
	assert.Equal(t, first, value(), "and the same is chosen")

	page.choose("lab-liquid-goal-property", "abv") // brings another list
	page.Wait(`document.getElementById("` + list + `").options.length === 1`)
	page.choose(list, "abv:white-wine")
	page.Answered()
	assert.Greater(t, length(), 1)
	page.choose("lab-liquid-goal-property", "brix")
	page.Wait(`document.getElementById("` + list + `").options.length === 1`)
	page.Type("batch-liquid", "400")
	page.Answered()
	assert.Equal(t, 1, length(), "an answer does not fill it")
	assert.NotEmpty(t, value())
	assert.Empty(t, Eval[string](page, `document.activeElement.tagName === "SELECT" ? "the list" : ""`))
}

// "What must I add to reach 40 °Brix": solved, put into the pan, and taken back.
// The pickling liquor again, let down with water (common practice, no source).
func TestLabLiquidReaches(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	page.Open(server.URL())
	page.Ready()
	page.paste("400 g water\n200 g wine vinegar\n100 g white wine\n100 g sugar\n8 g agar", "800")
	page.Press("#lab-liquid > summary")
	page.near("lab-liquid-ph", 2.95, 0.2)
	page.Type("lab-liquid-goal-value", "25")
	page.near("lab-liquid-goal-reached", 25, 1e-6)
	grams := page.Figure("lab-liquid-goal-mass")
	assert.Greater(t, grams, 20.0)
	page.Shot("liquid-goal")
	page.Press("#lab-liquid-goal-use")
	page.near("lab-liquid-brix", 25, 0.05)
	page.near("part-4-mass", 100+grams, 0.1)
	page.Press(`[data-do="undo"]`)
	page.near("part-4-mass", 100, 1e-6)

	page.choose("lab-liquid-goal-property", "abv")
	page.choose("lab-liquid-goal-with", "abv:white-wine")
	page.Type("lab-liquid-goal-value", "50")
	page.WaitText(`[data-for="lab-liquid-goal-value"]`, "nearest it gets is")

	// The split for the agar: the acid is held back.
	page.WaitText("#lab-liquid-split-held-list", "wine vinegar, white wine")
	page.near("lab-liquid-split-hot", 500, 1e-3)
	page.near("lab-liquid-split-held", 300, 1e-3)
	assert.Greater(t, page.Figure("lab-liquid-split-mix"), page.Figure("lab-liquid-split-set")+5)

	page.Press("#lab-liquid-all > summary")
	page.WaitText("#lab-liquid-ph-from", "acetic acid from wine vinegar")
	density := page.Figure("lab-liquid-density")
	page.Press("#lab-liquid-use-density")
	page.Wait(fmt.Sprintf(`Math.abs(document.querySelector('[name="liquid-density"]').value - %v) < 0.001`, density))
	page.Shot("liquid-split")
}

// A liquid that nobody knows: the nearest names are offered, or its label is typed.
func TestLabLiquidUnknown(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	page.Open(server.URL())
	page.Ready()
	page.paste("400 g water\n50 g hedgerow vinegar\n50 g sloe cordial\n5 g agar", "500")
	page.Press("#lab-liquid > summary")
	page.WaitText("#lab-liquid-unknown", "hedgerow vinegar, sloe cordial")
	page.Shot("liquid-unknown")
	page.Press("#lab-liquid-part-2-near-1")
	page.WaitText("#lab-liquid-part-2-as", "vinegar")
	page.Press("#lab-liquid-part-3-own")
	page.Wait(`document.activeElement.name === "lab-liquid-own-2-sugar"`)
	page.Type("lab-liquid-own-2-sugar", "50")
	page.Type("lab-liquid-own-2-acid", "1,2")
	page.Wait(`document.getElementById("lab-liquid-unknown").hidden`)
	require.InDelta(t, 5.5, page.Figure("lab-liquid-brix"), 0.7)
	page.NoHScroll(360)
	page.Shot("liquid-own")
	page.Type("lab-liquid-own-2-sugar", "140")
	page.WaitText("#lab-liquid-own-2-said", "100")
}

// What the pan tells the lab late takes back nothing that was typed in the lab since.
func TestLabHearsLate(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	server.BeforeProgram(lateProgram)
	page := Start(t).Page(Phone)
	page.Open(server.URL())
	page.Ready()
	page.paste("400 g water\n50 g sloe cordial\n5 g agar", "450")
	page.Press("#lab-liquid > summary")
	page.Press("#lab-liquid-part-2-own")
	page.Wait(`document.activeElement.name === "lab-liquid-own-1-sugar"`)
	page.Answered()
	for _, key := range []string{"1", "4", "0"} {
		page.do(chromedp.KeyEvent(key))
		time.Sleep(300 * time.Millisecond) // the answer to one key comes between the next two
	}
	require.True(t, Eval[bool](page, `tremblant.page.waits()`), "the answer to the last key is owed")
	page.Answered()
	page.WaitText("#lab-liquid-own-1-said", "100")
	assert.Equal(t, "140", value(page, "lab-liquid-own-1-sugar"))
	page.Type("lab-liquid-own-1-sugar", "50")
	page.near("lab-liquid-brix", 5.6, 0.7)
}

// What was measured of a liquid in one formula is there for the next: saved, it stands on
// the shelf, and the next formula takes it with one press.
func TestLiquidDescribedOnce(t *testing.T) {
	t.Parallel()
	page := Start(t).Page(Phone)
	page.Visit(Serve(t, Dist(t)))
	page.paste("200 g House verjus\n2 g agar", "200")
	page.Press("#lab-liquid > summary")
	page.WaitText("#lab-liquid-part-1-as", "Not known")
	page.Press("#lab-liquid-part-1-own")
	page.Type("lab-liquid-own-1-ph", "2.9")
	page.near("lab-liquid-ph", 2.9, 0.05)
	page.Press("[data-do=save]")
	goTo(page, "shelf")
	page.WaitText("#liquid-1-name", "House verjus")
	page.NoHScroll(360)
	page.Shot("shelf-liquids")

	page.Reload()
	page.Ready()
	goTo(page, "book")
	page.Press("[data-do=new]")
	page.paste("300 g house verjus\n1 g xanthan", "300")
	page.Press("#lab-liquid > summary")
	page.WaitShown("#lab-liquid-part-1-again")
	page.Press("#lab-liquid-part-1-again")
	page.near("lab-liquid-ph", 2.9, 0.05)

	goTo(page, "shelf")
	page.Press("[data-do=drop-liquid]")
	page.Wait(`document.getElementById("liquids").hidden`)
	page.Press("[data-do=undo]")
	page.WaitShown("#liquid-1-name")
}
