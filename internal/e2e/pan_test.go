//go:build e2e

package e2e

import (
	"math"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The main job: convert, save, lose the network, come back.
func TestConvertSaveAndComeBack(t *testing.T) {
	t.Parallel()
	server, browser, page := visit(t)
	twoAgents(page, "Quince gel")
	// 2 g and 1 g in 200 g are 1 % and 0.5 % of the liquid: common practice, no source.
	page.WaitFigure("dose-1-mass", 3.5)
	page.WaitFigure("dose-2-mass", 1.75)
	page.WaitFigure("dose-1-on-liquid", 1)
	page.WaitFigure("dose-2-on-liquid", 0.5)
	page.WaitText("#dose-1-shares", "of batch")
	save(page)
	page.Offline()
	server.Kill()

	page.Reload()
	usable(page)
	page.WaitFigure("dose-1-mass", 3.5)
	page.WaitText("#save-state", "Saved ")
	page.Type("batch-liquid", "700")
	page.WaitFigure("dose-1-mass", 7)
	page.WaitText("#save-state", "Changed since")

	other := open(server, browser, "#book") // another tab, still without a server
	waitNames(other, "Quince gel")
	do(other, "open")
	other.WaitShown("#pan")
	other.WaitFigure("dose-1-mass", 3.5)
	other.Type("batch-liquid", "100")
	other.WaitFigure("dose-2-mass", 0.5)
}

// The chain by hand: 40 × 6 × 1.1 = 264; ÷ 0.95 (bottle) ÷ 0.92 (blender) =
// 302.0595; + 12 (boil) = 314.0595; ÷ 1.015 (agents) = 309.4182.
func TestBackwardYield(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	newFormula(page)
	do(page, "add-dose")
	choose(page, "dose-1-unit", "%")
	choose(page, "dose-2-unit", "%")
	choose(page, "make", "portions")
	page.WaitShown("#make-portions")
	page.Press("#losses > summary")
	typeAll(page, "portions", "40", "portion-size", "6", "spare", "10", "dose-1-name", "agar", "dose-1-amount", "1",
		"dose-2-name", "xanthan", "dose-2-amount", "0,5", "part-1-name", "quince juice", "part-1-amount", "1",
		"loss-boil", "12", "loss-blender", "8", "loss-bottle", "5")
	page.WaitFigure("total-mass", 264/(0.95*0.92)+12)
	assert.InDelta(t, 314.0595, page.Figure("total-mass"), 5e-5)
	assert.InDelta(t, 309.4182, page.Figure("part-1-mass"), 5e-5)
	page.WaitFigure("yield-mass", 264)
	page.WaitFigure("portions-count", 40)
	page.WaitText("#losses-sum", "50.1")
	page.NoHScroll(360)
	page.Shot("pan-portions")
}

func TestWhatIsLeftInTheJar(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	twoAgents(page, "Quince gel")
	choose(page, "make", "left")
	choose(page, "left-of", "dose-2")
	page.Type("left-amount", "1.4")
	page.WaitFigure("part-1-mass", 280)
	page.WaitFigure("dose-1-mass", 2.8)
	page.Shot("pan-left")
}

func TestGelatin(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	newFormula(page)
	choose(page, "dose-1-unit", "sheet")
	typeAll(page, "part-1-name", "cream", "part-1-amount", "500", "dose-1-name", "gelatin", "dose-1-amount", "4", "batch-liquid", "750")
	page.WaitFigure("dose-1-mass", 6)
	page.WaitText(`[data-for="ask-sheet-mass"]`, "Weigh one and type it")
	page.Shot("pan-sheets-ask")
	goTo(page, "shelf")
	typeAll(page, "sheet-mass", "2.5", "powder-bloom", "200")
	choose(page, "sheet-grade", "silver")
	goTo(page, "pan")
	assert.False(t, page.Visible("#ask-sheet"), "asked once")
	page.WaitText("#dose-1-powder", "sources disagree")
	page.Shot("pan-sheets")

	// Weighed gelatin by grams × √Bloom: 6 × √(250/200) (common practice, no source).
	choose(page, "dose-1-unit", "g")
	typeAll(page, "dose-1-amount", "6", "dose-1-grade", "250", "batch-liquid", "500")
	page.WaitFigure("dose-1-as-powder", 6*math.Sqrt(1.25))
	page.Reload()
	usable(page)
	page.WaitFigure("dose-1-as-powder", 6*math.Sqrt(1.25))
	page.WaitText("#dose-1-powder", "6.71")
}

func TestPaste(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	twoAgents(page, "Apple gel")
	page.Press("#paste > summary")
	paste(page, "lines", "350 g apple juice\n1,5 g agar\n0.6% gellan\n<img src=x onerror=alert(1)>")
	do(page, "read-lines")
	page.WaitFigure("dose-1-mass", 1.5)
	page.WaitFigure("dose-2-mass", 2.1)
	page.WaitText("#unread-1-line", "<img")
	page.WaitText("#unread-1-why", "No amount found")
	assert.Zero(t, Eval[int](page, `document.querySelectorAll("img:not(#photo-picture)").length`))
	page.Shot("pan-unread")
	do(page, "undo")
	page.WaitFigure("dose-1-mass", 3.5)
}

// What stands in the pan outlives the page, also when it is wrong.
func TestDraftSurvives(t *testing.T) {
	t.Parallel()
	server, browser, page := visit(t)
	twoAgents(page, "Quince gel")
	typeAll(page, "dose-2-amount", "1,2,3", "batch-liquid", "400")
	page.Wait(`sessionStorage.getItem("tremblant-draft").includes("1,2,3")`)
	page.Reload()
	usable(page)
	assert.Equal(t, "1,2,3", value(page, "dose-2-amount"))
	page.WaitText(`[data-for="dose-2-say"]`, "Two decimal marks")

	// A tab that is closed at once, before the draft's own delay.
	page.Run(`{ const i = document.querySelector("[name=batch-liquid]"); i.value = "512"; i.dispatchEvent(new InputEvent("input", { bubbles: true })) }`)
	page.Open("about:blank")
	other := open(server, browser, "")
	assert.Equal(t, "512", value(other, "batch-liquid"))
	assert.Equal(t, "1,2,3", value(other, "dose-2-amount"))
	other.Type("dose-2-amount", "1")
	other.WaitFigure("dose-1-mass", 5.12)
}

func TestKeyboardOnly(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	say := func(selector, text string) {
		t.Helper()
		tabTo(page, selector)
		press(page, text)
	}
	tabTo(page, "#to-book")
	press(page, kb.Enter)
	page.WaitShown("#book")
	say("[data-do=new]", " ")
	page.WaitShown("#pan")
	say("[name=name]", "By keyboard")
	press(page, kb.Enter)
	say("[name=make]:checked", kb.ArrowRight) // to the portions
	page.WaitShown("#make-portions")
	press(page, kb.ArrowLeft)
	say("[name=batch-liquid]", "350")
	say("[name=part-1-name]", "quince juice")
	say("[name=part-1-amount]", "200")
	say("[name=dose-1-name]", "agar")
	say("[name=dose-1-amount]", "1")
	say("[name=dose-1-unit]", "%")
	page.WaitFigure("dose-1-mass", 3.5)
	say("[data-do=add-dose]", " ")
	page.Wait(`document.activeElement.name === "dose-2-name"`)
	press(page, "xanthan")
	say("[name=dose-2-amount]", "1")
	page.WaitFigure("dose-2-mass", 1.75)
	say("#losses > summary", " ")
	say("[name=loss-boil]", "10")
	page.WaitFigure("after-boil-mass", 350+3.5+1.75-10)
	say("[data-do=save]", " ")
	page.WaitText("#save-state", "Saved ")
	say("#to-book", kb.Enter)
	page.WaitShown("#book")
	say("[data-list=entry] summary", " ")
	say("[data-do=rename]", " ")
	page.Wait(`document.activeElement.name === "entry-1-rename"`)
	press(page, "By hand")
	press(page, kb.Enter)
	waitNames(page, "By hand")
	say("[data-do=open]", kb.Enter)
	page.WaitShown("#pan")
	assert.Equal(t, "By hand", value(page, "name"))
}

// The keyboard is nowhere once its row, its notice or its part of the page has gone. It
// goes to what took its place.
func TestKeyboardIsNotLost(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	twoAgents(page, "By keyboard")
	save(page)
	twoAgents(page, "By hand")
	save(page)
	goTo(page, "book")
	hit := func(selector string) {
		t.Helper()
		page.Run(`document.querySelector(` + quote(selector) + `).focus()`)
		press(page, kb.Enter)
	}
	has := func(selector string) {
		t.Helper()
		page.Wait(`document.activeElement.matches(` + quote(selector) + `)`)
	}
	hit("[data-list=entry] [data-row='1'] summary")
	hit("[data-list=entry] [data-row='1'] [data-do=delete]")
	waitNames(page, "By keyboard")
	has("[data-list=entry] [data-row='1'] :is(button, summary)")
	hit("[data-do=undo]")
	waitNames(page, "By hand|By keyboard")
	has("[data-list=entry] [data-row='1'] :is(button, summary)")

	hit("[data-list=entry] [data-row='1'] [data-do=open]")
	page.WaitShown("#pan")
	has("#pan-title")
	hit("[data-do=kept-pan]")
	page.WaitShown("#kept")
	has("#kept-name")
	page.Press("#trial-fold > summary")
	page.Press("#trial-fold .steps-5 label:nth-child(2)")
	hit("[data-do=trial-save]")
	page.Wait(`document.querySelectorAll("[data-list=trial] > li").length === 1`)
	has("[data-do=trial-save]")
	hit("[data-do=trial-drop]")
	page.Wait(`document.querySelectorAll("[data-list=trial] > li").length === 0`)
	page.Wait(`document.activeElement !== document.body`)
	hit("#notice-undo [data-do=close-notice]")
	page.Wait(`document.querySelector("#notice-undo").hidden && document.activeElement !== document.body`)

	// A finger has no such place.
	page.Press("[data-do=kept-close]")
	page.WaitShown("#book-list")
	assert.True(t, Eval[bool](page, `document.activeElement === document.body`))
}

// A panic inside a callback is caught and shown, and the formula stays.
func TestPanicIsCaught(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	server.BeforeProgram(`{ const real = crypto.randomUUID; crypto.randomUUID = () => { crypto.randomUUID = real; throw new Error("no luck") } }`)
	page := open(server, Start(t), "")
	page.Allow("recovered: ")
	twoAgents(page, "Quince gel")
	do(page, "save")
	page.WaitText("#notice-crash", "Your formula is still here")
	page.WaitText("#crash-detail", "no luck")
	page.Shot("pan-crash")
	page.Press("#notice-crash button")
	page.Type("batch-liquid", "700")
	page.WaitFigure("dose-1-mass", 7)
	save(page)
	assert.False(t, page.Visible("#notice-crash"))
	assert.False(t, page.Visible("#boot-stop"), "the program lives")
}

// lateProgram has each message reach the program after a while, as on a phone with
// much else to do.
const lateProgram = `{
	const listen = addEventListener;
	globalThis.addEventListener = (kind, hear) => listen(kind, event => setTimeout(() => hear(event), 500));
}`

// What comes late takes neither what was typed meanwhile nor the keyboard, and what
// the program did not hear of before the page went is there when it comes again.
func TestAnswersComeLate(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	server.BeforeProgram(lateProgram)
	page := open(server, Start(t), "")
	twoAgents(page, "Quince gel")
	page.Run(`document.querySelector("[data-do=add-dose]").click();
		document.querySelector("[name=batch-liquid]").focus();
		document.querySelector("[name=batch-liquid]").select()`)
	page.do(chromedp.KeyEvent("512"))
	require.True(t, Eval[bool](page, `tremblant.page.waits()`), "the answer to the first key is owed")
	page.Answered()
	assert.Equal(t, "batch-liquid", Eval[string](page, `document.activeElement.name`))
	assert.Equal(t, "512", value(page, "batch-liquid"))
	page.WaitFigure("dose-1-mass", 5.12)
	page.do(chromedp.KeyEvent("0"))
	page.Reload()
	usable(page)
	page.WaitFigure("dose-1-mass", 51.2)
	assert.Equal(t, "5120", value(page, "batch-liquid"))
}

// Answers reach a screen reader once the typing pauses.
func TestAnswersAreSpoken(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	twoAgents(page, "Quince gel")
	page.Wait(`document.getElementById("live").textContent.replaceAll("\u00a0", " ") === "3.50 g agar, 1.75 g xanthan"`)
	page.do(chromedp.KeyEvent("x"))
	page.Type("batch-liquid", "abc")
	page.Wait(`document.getElementById("live").textContent.includes("dimmed")`)
}
