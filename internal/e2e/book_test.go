//go:build e2e

package e2e

import (
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
)

func TestBook(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	goTo(page, "book")
	page.WaitText("#book-empty", "Nothing saved yet")
	page.Shot("book-empty")
	for _, one := range [][2]string{{"Quince gel", "winter, cheese"}, {"Beetroot air", "foam"}, {"Crème caramel", "dessert"}} {
		twoAgents(page, one[0])
		page.Press("#more > summary")
		page.Type("tags", one[1])
		save(page)
		page.Press("#more > summary")
	}
	goTo(page, "book")
	waitNames(page, "Crème caramel|Beetroot air|Quince gel")
	page.NoHScroll(360)
	page.Shot("book-filled")

	page.Type("find", "creme")
	waitNames(page, "Crème caramel")
	page.Type("find", "CHEESE")
	waitNames(page, "Quince gel")
	page.WaitText("#book-count", "1 of 3")
	page.Type("find", "")
	waitNames(page, "Crème caramel|Beetroot air|Quince gel")

	page.Press("[data-row='2'] .entry-more > summary")
	page.Shot("book-more")
	page.Press("[data-row='2'] [data-do=delete]")
	waitNames(page, "Crème caramel|Quince gel")
	page.WaitText("#undo-what", "Beetroot air is deleted")
	page.Shot("book-undo")
	do(page, "undo")
	page.Wait(`document.querySelectorAll("[data-list=entry] li").length === 3`)
	assert.Contains(t, names(page), "Beetroot air")

	page.Type("find", "cheese")
	waitNames(page, "Quince gel")
	assert.False(t, page.Visible(".entry-more [data-do]"), "the menu of the row that went is no menu of the next")
	page.Press("[data-row='1'] .entry-more > summary")
	page.Press("[data-row='1'] [data-do=duplicate]")
	page.Wait(`document.querySelectorAll("[data-list=entry] li").length === 2`)
	assert.Contains(t, names(page), "Quince gel (copy)")
	page.Press("[data-row='1'] .entry-more > summary")
	page.Press("[data-row='1'] [data-do=rename]")
	page.Type("entry-1-rename", `Quince <i>"firm"</i>`)
	press(page, kb.Enter)
	page.Wait(`[...document.querySelectorAll(".entry-name")].some(e => e.textContent === 'Quince <i>"firm"</i>')`)
	assert.Zero(t, Eval[int](page, `document.querySelectorAll(".entry i").length`))

	page.Reload()
	usable(page)
	assert.Len(t, names(page), 4, "all of it is kept")
}

// The address may name a place, also on the very first visit.
func TestAddressNamesAPlace(t *testing.T) {
	t.Parallel()
	server, browser := Serve(t, Dist(t)), Start(t)
	for _, place := range []string{"shelf", "book", "pan"} {
		page := open(server, browser, "#"+place)
		page.WaitShown("#" + place)
		assert.Equal(t, "#"+place, Eval[string](page, `location.hash`))
		assert.Equal(t, 1, Eval[int](page, `[...document.querySelectorAll(".place")].filter(e => !e.hidden).length`))
	}
}

// Two windows save the same formula: nothing of either is lost.
func TestTwoWindowsKeepBoth(t *testing.T) {
	t.Parallel()
	server, browser, page := visit(t)
	twoAgents(page, "Quince gel")
	save(page)
	other := open(server, browser, "#book")
	waitNames(other, "Quince gel")
	do(other, "open")
	other.WaitShown("#pan")
	other.Type("dose-1-amount", "3")
	save(other)
	page.Type("dose-1-amount", "4")
	do(page, "save")
	page.WaitText("#save-state", "both are in the book")
	page.Shot("pan-conflict")
	for _, each := range []*Page{page, other} { // the other window hears of it
		goTo(each, "book")
		each.Wait(`document.querySelectorAll("[data-list=entry] li").length === 2`)
		each.WaitText("[data-list=entry]", "kept from a conflict")
	}
	page.Shot("book-conflict")
	var amounts []string
	for _, row := range []string{"1", "2"} {
		goTo(page, "book")
		page.Press("[data-list=entry] [data-row='" + row + "'] .open")
		page.WaitShown("#pan")
		amounts = append(amounts, value(page, "dose-1-amount"))
	}
	assert.ElementsMatch(t, []string{"3", "4"}, amounts)
}

func TestWithoutAStore(t *testing.T) {
	t.Parallel()
	for name, script := range map[string]string{
		"missing":                 `Object.defineProperty(globalThis, "indexedDB", { value: undefined })`,
		"throws":                  `Object.defineProperty(globalThis, "indexedDB", { get() { throw new DOMException("denied", "SecurityError") } })`,
		"refuses":                 `IDBFactory.prototype.open = function () { throw new DOMException("denied", "SecurityError") }`,
		"and nothing else either": `for (const key of ["localStorage", "sessionStorage"]) Object.defineProperty(globalThis, key, { get() { throw new DOMException("denied", "SecurityError") } }); Object.defineProperty(globalThis, "indexedDB", { value: null })`,
	} {
		t.Run(name, func(t *testing.T) {
			server := Serve(t, Dist(t))
			page := Start(t).Page(Phone)
			page.Allow("indexeddb|IndexedDB|book: |denied")
			page.Before(script)
			server.BeforeProgram(script)
			page.Open(server.URL())
			usable(page)
			page.WaitText("#notice-storage", "does not let the page save")
			twoAgents(page, "Quince gel")
			page.WaitFigure("dose-2-mass", 1.75)
			do(page, "save")
			page.WaitText("#save-state", "only until the page closes")
			assert.NotEqual(t, "saved", Eval[string](page, `document.getElementById("state").dataset.state`))
			page.Shot("pan-no-store")
			goTo(page, "book")
			waitNames(page, "Quince gel") // for as long as the page is open
			goTo(page, "shelf")
			page.WaitText("#kept-state", "lets nothing be saved")
			assert.False(t, page.Visible("#notice-crash"))
		})
	}
}

func TestTellsWhetherTheBrowserKeepsTheBook(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct{ script, says string }{
		"promised":  {`navigator.storage.persisted = navigator.storage.persist = async () => true`, "has promised"},
		"refused":   {`navigator.storage.persisted = navigator.storage.persist = async () => false`, "has not promised"},
		"not known": {`Object.defineProperty(navigator, "storage", { value: undefined })`, "in this browser only"},
	} {
		t.Run(name, func(t *testing.T) {
			server := Serve(t, Dist(t))
			page := Start(t).Page(Phone)
			page.Before(c.script)
			server.BeforeProgram(c.script)
			page.Open(server.URL())
			usable(page)
			twoAgents(page, "Quince gel")
			save(page)
			goTo(page, "shelf")
			page.WaitText("#kept-state", c.says)
		})
	}
}
