//go:build e2e

package e2e

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"
)

// Page is one tab. Its methods do what a person does, wait where a person
// would, and fail the test when it cannot be done.
type Page struct {
	troubles
	t      testing.TB
	ctx    context.Context
	cancel context.CancelFunc
	view   View
}

// Open goes to an address and waits for the page's own load.
func (p *Page) Open(url string) {
	p.t.Helper()
	p.do(chromedp.Navigate(url))
}

// Reload loads the page again, as the browser's button does.
func (p *Page) Reload() {
	p.t.Helper()
	p.do(chromedp.Reload())
}

// Before runs a script in every page that is opened from now on, before its own.
func (p *Page) Before(script string) {
	p.t.Helper()
	call(p, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
}

// Ready waits until the program says that the page can be used.
func (p *Page) Ready() {
	p.t.Helper()
	p.Wait(isReady)
}

// Offline waits until the page works without a network.
func (p *Page) Offline() {
	p.t.Helper()
	p.Wait(isOffline)
}

// Visit opens a site and waits until it needs no network any more.
func (p *Page) Visit(server *Server) {
	p.t.Helper()
	p.Open(server.URL())
	p.Ready()
	p.Offline()
}

// Type replaces what stands in an input by what is typed, key by key.
func (p *Page) Type(name, text string) {
	p.t.Helper()
	p.Focus(name)
	p.do(chromedp.KeyEvent(kb.Backspace))
	if text != "" {
		p.do(chromedp.KeyEvent(text))
	}
	p.Answered()
}

// Focus puts the cursor into an input and selects what stands there. It waits
// until the input can be seen: a hidden one takes no cursor, and the keys that
// follow would go nowhere.
func (p *Page) Focus(name string) {
	p.t.Helper()
	p.Answered()
	selector := fmt.Sprintf(`[name=%q]`, name)
	p.Wait(fmt.Sprintf(`document.querySelector(%s)?.checkVisibility()`, quote(selector)))
	p.Run(fmt.Sprintf(`{ const input = document.querySelector(%s); input.focus(); input.select?.() }`, quote(selector)))
}

// Answered waits until the program has answered all that was done. The program
// works beside the page, and a person does not type into what is about to change.
func (p *Page) Answered() {
	p.t.Helper()
	p.Wait(isAnswered)
}

// Press presses the first visible element that matches.
func (p *Page) Press(selector string) {
	p.t.Helper()
	p.Answered()
	p.do(chromedp.Click(chromedp.CSS(selector), chromedp.NodeVisible))
	p.Answered()
}

// Unfold opens all folds within what the selector names. What stands in one comes to
// the page when it is opened, with folds of its own.
func (p *Page) Unfold(within string) {
	p.t.Helper()
	p.Wait(`(() => {
		const shut = [...document.querySelectorAll(` + quote(within) + `)].flatMap(e => [...e.querySelectorAll("details:not([open])")]);
		for (const fold of shut) fold.querySelector("summary").click();
		return shut.length === 0;
	})()`)
}

// Figure is the value of a computed figure, in base units: the value of its
// <data value>, or the data-value of its <output>.
func (p *Page) Figure(name string) float64 {
	p.t.Helper()
	p.Wait(exists(figure(name)))
	text := Eval[string](p, figureValue(name))
	value, err := strconv.ParseFloat(text, 64)
	require.NoError(p.t, err, "figure %s has the value %q", name, text)
	return value
}

// WaitFigure waits until a figure has a value, to within a millionth of it.
func (p *Page) WaitFigure(name string, want float64) {
	p.t.Helper()
	p.Wait(figureIs(name, want))
}

// WaitText waits until an element that matches is visible and holds a text.
func (p *Page) WaitText(selector, text string) {
	p.t.Helper()
	p.Wait(showsText(selector, text))
}

// Visible reports whether any element that matches is visible now.
func (p *Page) Visible(selector string) bool {
	p.t.Helper()
	return Eval[bool](p, isShown(selector))
}

// NoHScroll fails the test when the page is wider than so many pixels. The
// width is compared with the number, not with the window: a phone's window
// grows with what it shows.
func (p *Page) NoHScroll(width int) {
	p.t.Helper()
	require.LessOrEqual(p.t, Eval[int](p, `document.documentElement.scrollWidth`), width, "the page scrolls sideways")
}

// Shot takes a picture of the whole page into the folder that the environment
// variable SCREENS names, as <name>.png; without it, it does nothing. What is not
// worth keeping goes into the folder "more".
func (p *Page) Shot(name string) {
	p.t.Helper()
	dir := os.Getenv("SCREENS")
	if dir == "" {
		return
	}
	view := p.view
	// As high as the page, so that what is fixed to the screen's edges hides nothing,
	// and one dot for each pixel: these pictures are kept with the sources.
	// What was off the screen gets its height when it comes to be on it.
	// It may be less than it had, and no page is lower than its screen: so it is measured
	// once more from a small one.
	for range 2 {
		p.View(view)
		for high := int64(0); ; {
			now := max(view.Height, Eval[int64](p, `document.documentElement.scrollHeight`))
			if now == high {
				break
			}
			high = now
			p.View(View{view.Width, high, 1, view.Touch})
			Eval[bool](p, `new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => done(true))))`)
		}
	}
	picture, err := runFor(p, chromedp.CaptureScreenshot())
	p.View(view)
	p.must(err)
	picture, err = lean(picture)
	p.must(err)
	file := filepath.Join(dir, name+".png")
	p.must(os.MkdirAll(filepath.Dir(file), 0o755))
	p.must(os.WriteFile(file, picture, 0o644))
}

// Wait waits until a JavaScript expression is true; a page that is just being
// loaded counts as not yet.
func (p *Page) Wait(condition string) {
	p.t.Helper()
	var last error
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		true_, err := runFor(p, chromedp.Evaluate[bool]("Boolean("+condition+")"))
		if true_ && err == nil {
			return
		}
		last = err
	}
	p.t.Fatalf("waited %v in vain for %s\nlast error: %v\nthe page shows: %s", patience, condition, last, p.shown())
}

// shown is what stands on the page, for messages.
func (p *Page) shown() string {
	text, _ := runFor(p, chromedp.Evaluate[string](`document.body.innerText.slice(0, 2000)`))
	return text
}

// Run runs a JavaScript statement.
func (p *Page) Run(script string) {
	p.t.Helper()
	p.do(chromedp.Evaluate[chromedp.Void](script))
}

// Eval returns the value of a JavaScript expression; a promise is awaited.
func Eval[T any](p *Page, expression string) T {
	p.t.Helper()
	value, err := runFor(p, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	require.NoError(p.t, err, expression)
	return value
}

// ----

func (p *Page) must(err error) {
	p.t.Helper()
	require.NoError(p.t, err)
}

func (p *Page) do(action chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	_, err := runFor(p, action)
	p.must(err)
}

func runFor[T any](p *Page, action chromedp.Action[T]) (T, error) {
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	return chromedp.Run(ctx, action)
}

func call[P, R any](p *Page, command cdp.Command[P, R], params P) R {
	p.t.Helper()
	result, err := chromedp.Call(p.ctx, command, params)
	p.must(err)
	return result
}

func quote(text string) string {
	quoted, _ := json.Marshal(text)
	return string(quoted)
}

func exists(selector string) string {
	return fmt.Sprintf(`document.querySelector(%s)`, quote(selector))
}

// What the page says of itself on its root element.
const (
	isReady    = `document.documentElement.dataset.ready === "1"`
	isOffline  = `document.documentElement.dataset.offline === "1"`
	isBookOpen = `document.documentElement.dataset.book === "1"`
	isLabOn    = `document.documentElement.dataset.lab === "1"`
	isAnswered = `(document.documentElement.dataset.stopped || !globalThis.tremblant?.page?.waits())`
	isLabKept  = `document.documentElement.dataset.labKept === "1"` // since lookForLab
)

// lookForLab has the page say when the worker keeps the lab's files.
const lookForLab = `(() => {
	(async () => {
		const [, list] = /const LAB = (\[.*?\]);/.exec(await (await fetch("sw.js")).text());
		const wanted = JSON.parse(list);
		setInterval(async () => {
			const missing = await Promise.all(wanted.map(async (url) => !(await caches.match(url))));
			if (!missing.includes(true)) document.documentElement.dataset.labKept = "1";
		}, 50);
	})();
	return "";
})()`

// isShown is true while any element that matches is visible.
func isShown(selector string) string {
	return fmt.Sprintf(`[...document.querySelectorAll(%s)].some(e => e.checkVisibility({ visibilityProperty: true }))`, quote(selector))
}

// showsText is true while an element that matches is visible and holds a text. The
// browser tells nothing of what it has not laid out yet, far from the screen, but
// what the HTML holds.
func showsText(selector, text string) string {
	return fmt.Sprintf(`[...document.querySelectorAll(%s)].some(e => e.checkVisibility({ visibilityProperty: true })
		&& (e.checkVisibility({ contentVisibilityAuto: true }) ? e.innerText : e.textContent).includes(%s))`,
		quote(selector), quote(text))
}

// figureIs is true while a figure has a value, to within a millionth of it.
func figureIs(name string, want float64) string {
	return fmt.Sprintf(`(v => v !== "" && Math.abs(Number(v) - %[1]v) <= 1e-6 * Math.abs(%[1]v))(%[2]s)`, want, figureValue(name))
}

func figure(name string) string { return fmt.Sprintf(`[data-figure=%q]`, name) }

func figureValue(name string) string {
	return fmt.Sprintf(`(e => e?.getAttribute(e.localName === "data" ? "value" : "data-value") ?? "")(%s)`, exists(figure(name)))
}

func cut(flag string) (name, value string, found bool) { return strings.Cut(flag, "=") }
