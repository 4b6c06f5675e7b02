//go:build e2e

package e2e

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// visit opens the page as somebody does for the first time, on a phone.
func visit(t *testing.T) (*Server, *Browser, *Page) {
	t.Helper()
	server, browser := Serve(t, Dist(t)), Start(t)
	return server, browser, open(server, browser, "")
}

// open opens the page in a new tab and waits for its book.
func open(server *Server, browser *Browser, hash string) *Page {
	browser.t.Helper()
	page := browser.Page(Phone)
	page.Open(server.URL() + hash)
	usable(page)
	return page
}

// usable waits until the page can be used and has opened its book.
func usable(page *Page) {
	page.t.Helper()
	page.Ready()
	page.Wait(isBookOpen)
}

// typing types into inputs: name, text, name, text …
func typeAll(page *Page, pairs ...string) {
	page.t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		page.Type(pairs[i], pairs[i+1])
	}
}

// paste replaces what stands in an input at once, as a person's paste does.
func paste(page *Page, name, text string) {
	page.t.Helper()
	page.Focus(name)
	page.Run(fmt.Sprintf(`document.execCommand("insertText", false, %s)`, quote(text)))
}

// choose picks from a select or from radio buttons.
func choose(page *Page, name, value string) {
	page.t.Helper()
	page.Run(fmt.Sprintf(`{
		const named = [...document.querySelectorAll('[name=%q]')];
		const radio = named.find(e => e.type === "radio" && e.value === %[2]s);
		if (radio) radio.click();
		else {
			named[0].value = %[2]s;
			if (named[0].value !== %[2]s) throw new Error("no such choice: " + %[2]s);
			named[0].dispatchEvent(new Event("input", { bubbles: true }));
		}
	}`, name, quote(value)))
}

func do(page *Page, what string) {
	page.t.Helper()
	page.Press(fmt.Sprintf(`[data-do=%q]`, what))
}

// goTo presses one of the three places.
func goTo(page *Page, place string) {
	page.t.Helper()
	page.Press("#to-" + place)
	page.WaitShown("#" + place)
}

// WaitShown waits until an element that matches is visible.
func (p *Page) WaitShown(selector string) {
	p.t.Helper()
	p.Wait(isShown(selector))
}

// WaitGone waits until no element that matches is visible.
func (p *Page) WaitGone(selector string) {
	p.t.Helper()
	p.Wait("!" + isShown(selector))
}

func value(page *Page, name string) string {
	page.t.Helper()
	return Eval[string](page, fmt.Sprintf(`document.querySelector('[name=%q]').value`, name))
}

// names are the names in the book's list.
func names(page *Page) []string {
	page.t.Helper()
	return Eval[[]string](page, `[...document.querySelectorAll("[data-list=entry] .entry-name")].map(e => e.innerText)`)
}

func waitNames(page *Page, want string) {
	page.t.Helper()
	page.Wait(fmt.Sprintf(`[...document.querySelectorAll("[data-list=entry] .entry-name")].map(e => e.textContent).join("|") === %s`, quote(want)))
}

// newFormula empties the pan.
func newFormula(page *Page) {
	page.t.Helper()
	goTo(page, "book")
	do(page, "new")
	page.WaitShown("#pan")
}

// twoAgents types 200 g of liquid with 2 g of one agent and 1 g of another.
func twoAgents(page *Page, name string) {
	page.t.Helper()
	newFormula(page)
	do(page, "add-dose")
	typeAll(page, "name", name, "part-1-name", "quince juice", "part-1-amount", "200",
		"dose-1-name", "agar", "dose-1-amount", "2", "dose-2-name", "xanthan", "dose-2-amount", "1", "batch-liquid", "350")
	page.WaitFigure("dose-1-mass", 3.5)
}

func save(page *Page) {
	page.t.Helper()
	do(page, "save")
	page.WaitText("#save-state", "Saved ")
}

func press(page *Page, key string) {
	page.t.Helper()
	page.do(chromedp.KeyEvent(key))
	page.Answered()
}

// tabTo presses Tab until the element with the keyboard matches, and fails when
// the keyboard has gone round the page without coming by.
func tabTo(page *Page, selector string) {
	page.t.Helper()
	for range 120 {
		if Eval[bool](page, fmt.Sprintf(`document.activeElement.matches(%s)`, quote(selector))) {
			return
		}
		press(page, kb.Tab)
	}
	page.t.Fatalf("the keyboard does not come to %s", selector)
}
