//go:build e2e

package e2e

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// states are what the page may look like, each reached from a new page that
// holds one saved formula.
var states = []struct {
	name  string
	reach func(*Page)
}{
	{"pan", func(*Page) {}},
	{"pan-empty", newFormula},
	{"pan-example", func(p *Page) {
		goTo(p, "book")
		p.Press("[data-list=example] [data-row='1'] .open")
		p.WaitShown("#pan")
	}},
	{"pan-wrong", func(p *Page) {
		typeAll(p, "batch-liquid", "1,2,3", "dose-2-amount", "abc", "name", strings.Repeat("long name ", 13))
		p.WaitText(`[data-for="name"]`, "at the most")
	}},
	{"pan-portions", func(p *Page) {
		choose(p, "make", "portions")
		typeAll(p, "portions", "40", "portion-size", "6")
	}},
	{"pan-left", func(p *Page) {
		choose(p, "make", "left")
		p.Type("left-amount", "1.4")
	}},
	{"pan-open", func(p *Page) {
		p.Run(`for (const d of document.querySelectorAll("#pan .folds > details:not([data-lab])")) d.open = true`)
		choose(p, "batch-liquid-unit", "ml") // asks how heavy the liquid is
		p.Type("liquid-density", "1.04")
		choose(p, "loss-boil-unit", "min")
		p.Type("loss-boil", "10")
		do(p, "link")
	}},
	{"pan-unread", func(p *Page) {
		p.Run(`document.getElementById("paste").open = true`)
		paste(p, "lines", "350 g apple juice\n1,5 g agar\na pinch of luck and a very long line about it that nobody understands")
		do(p, "read-lines")
		p.WaitText("#unread-1-why", "No amount")
	}},
	{"pan-large", func(p *Page) {
		choose(p, "dose-1-unit", "g/kg batch")
		typeAll(p, "dose-1-amount", "6.25", "batch-liquid", "200123", "dose-2-amount", "1.2512", "part-1-name", "reduced quince, medlar and black radish juice")
		p.WaitFigure("dose-2-mass", 200123*1.2512/200)
	}},
	{"pan-gelatin", func(p *Page) {
		choose(p, "dose-1-unit", "sheet")
		typeAll(p, "dose-1-name", "gelatin", "dose-1-amount", "12", "dose-2-name", "gelatin", "dose-2-grade", "250")
		p.WaitText(`[data-for="ask-sheet-mass"]`, "Weigh one and type it")
	}},
	{"book", func(p *Page) {
		goTo(p, "book")
		p.Press("[data-list=entry] summary")
		p.Press("[data-list=entry] [data-do=rename]")
	}},
	{"book-deleted", func(p *Page) {
		goTo(p, "book")
		p.Press("[data-list=entry] summary")
		do(p, "delete")
		p.WaitShown("#notice-undo")
	}},
	{"shelf", func(p *Page) { goTo(p, "shelf") }},
	{"shelf-wrong", func(p *Page) {
		goTo(p, "shelf")
		typeAll(p, "scale-2-step", "-1", "sheet-mass", "999")
		p.WaitShown(`[data-for="sheet-mass"]`)
	}},
}

// eachState shows every state on a screen and lets look at it. All are states
// of one page, which a link sets back in between.
func eachState(t *testing.T, view View, look func(t *testing.T, p *Page, name string)) {
	t.Helper()
	server, browser := Serve(t, Dist(t)), Start(t)
	p := browser.Page(view)
	call(p, page.SetBypassCSP, page.SetBypassCSPParams{Enabled: true}) // for the rule book
	p.Open(server.URL())
	usable(p)
	twoAgents(p, "Quince gel")
	save(p)
	for _, state := range states {
		t.Run(state.name, func(t *testing.T) {
			p.t = t
			setBack(p)
			state.reach(p)
			look(t, p, state.name)
			if state.name == "book-deleted" {
				do(p, "undo")
				waitNames(p, "Quince gel")
			}
		})
	}
	p.t = t
}

// setBack shows the pan with two agents, everything folded and no notices.
func setBack(p *Page) {
	p.t.Helper()
	p.Dark(false)
	p.Run(`location.hash = "` + quinceLink + `&dose-2-name=xanthan&dose-2-amount=1"`)
	p.WaitShown("#pan")
	p.WaitFigure("dose-2-mass", 1.75)
	p.Run(`for (const d of document.querySelectorAll("details[open]")) d.open = false;
		for (const n of document.querySelectorAll(".notice:not([hidden]) [data-do=close-notice]")) n.click();
		scrollTo(0, 0)`)
}

var screens = map[string]View{"narrow": Narrow, "phone": Phone, "tablet": Tablet}

// Nothing may stand outside the screen, be cut off, or be too small for a wet
// thumb; also with letters twice as large.
func TestLayout(t *testing.T) {
	t.Parallel()
	for name, view := range screens {
		t.Run(name, func(t *testing.T) {
			eachState(t, view, func(t *testing.T, p *Page, state string) {
				check := func(what string) {
					t.Helper()
					p.NoHScroll(int(view.Width))
					assert.Empty(t, Eval[[]string](p, cutOff), "%s: cut off", what)
					assert.Empty(t, Eval[[]string](p, tooSmall), "%s: smaller than 44 px", what)
				}
				check("usual letters")
				p.Shot(map[bool]string{true: "more/"}[name == "narrow"] + state + "-" + name)
				p.Run(`document.documentElement.style.fontSize = "200%"`)
				check("large letters")
				if name == "phone" {
					p.Shot("more/" + state + "-" + name + "-large")
				}
				p.Run(`document.documentElement.style.fontSize = ""`)
				if name != "narrow" {
					p.Dark(true)
					p.Shot(map[bool]string{true: "more/"}[name == "tablet"] + state + "-" + name + "-dark")
				}
			})
		})
	}
}

// cutOff lists what stands outside the screen, or is wider than a box that
// clips it. The text of an input scrolls inside it, and is not cut while it is
// typed; numbers must fit all the same.
const cutOff = `[...document.querySelectorAll("body *")].filter(e => {
	if (!e.checkVisibility({ visibilityProperty: true }) || e.closest(".unseen, datalist, select, svg")) return false;
	const box = e.getBoundingClientRect();
	if (box.left < -1 || box.right > document.documentElement.clientWidth + 1) return true;
	if (e.matches("input[inputmode=decimal]")) return e.value.length < 8 && e.scrollWidth > e.clientWidth + 1;
	if (e.matches("input, textarea")) return false;
	const style = getComputedStyle(e);
	return style.overflowX !== "visible" && e.scrollWidth > e.clientWidth + 1;
}).map(e => e.outerHTML.slice(0, 120))`

// tooSmall lists what can be pressed and is less than 44 px wide or high. A
// choice, and a file to pick, is as large as the label around it.
const tooSmall = `[...document.querySelectorAll("a, button, input, select, textarea, summary")].filter(e => {
	if (!e.checkVisibility({ visibilityProperty: true }) || e.closest("#boot-slow")) return false;
	const box = (["radio", "checkbox", "file"].includes(e.type) && e.closest("label") || e).getBoundingClientRect();
	return box.width < 44 || box.height < 44;
}).map(e => e.outerHTML.slice(0, 120) + " " + e.getBoundingClientRect().width + " x " + e.getBoundingClientRect().height)`

// Whoever goes by keyboard sees where they are: an outline, and nothing over it.
func TestFocusIsVisible(t *testing.T) {
	t.Parallel()
	const seen = `(() => {
		const e = document.activeElement, mark = { radio: e.nextElementSibling, file: e.closest("label") }[e.type] ?? e;
		const style = getComputedStyle(mark), box = mark.getBoundingClientRect();
		const at = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
		return { name: e.name || e.id || e.dataset.do || e.outerHTML.slice(0, 60), outline: style.outlineStyle === "none" ? 0 : parseFloat(style.outlineWidth),
			clear: !!at && (e.contains(at) || at.contains(e) || mark.contains(at)), last: e === document.body };
	})()`
	type where struct {
		Name    string
		Outline float64
		Clear   bool
		Last    bool
	}
	for _, name := range []string{"pan-open", "book-deleted", "shelf"} {
		t.Run(name, func(t *testing.T) {
			_, _, p := visit(t)
			twoAgents(p, "Quince gel")
			save(p)
			for _, s := range states {
				if s.name == name {
					s.reach(p)
				}
			}
			// The next stop is counted from where the last press was: back to the top.
			p.Run(`scrollTo(0, 0);
				const start = document.createElement("span");
				start.tabIndex = -1;
				document.body.prepend(start);
				start.focus();
				start.remove()`)
			stops := 0
			for range 90 {
				press(p, kb.Tab)
				at := Eval[where](p, seen)
				if at.Last {
					break
				}
				stops++
				assert.GreaterOrEqual(t, at.Outline, 2.0, "no outline at %s", at.Name)
				assert.True(t, at.Clear, "something covers %s", at.Name)
			}
			assert.Greater(t, stops, 7)
		})
	}
}

// The rule book of axe-core finds nothing, on any state, light or dark.
func TestAccessibility(t *testing.T) {
	t.Parallel()
	script := axe(t)
	for _, name := range []string{"phone", "tablet"} {
		t.Run(name, func(t *testing.T) {
			eachState(t, screens[name], func(t *testing.T, p *Page, _ string) {
				p.Run(script)
				for _, dark := range []bool{false, true} {
					p.Dark(dark)
					assert.Empty(t, Eval[[]string](p, broken), "dark: %v", dark)
				}
			})
		})
	}
}

// broken lists what breaks a rule of the rule book, anywhere on the page.
var broken = brokenIn("document")

// brokenIn lists it for what a JavaScript expression gives.
func brokenIn(what string) string {
	return `axe.run(` + what + `, { resultTypes: ["violations"] }).then(r =>
		r.violations.flatMap(v => v.nodes.map(n => v.id + ": " + n.target + " " + n.failureSummary.slice(0, 300))))`
}

// axe reads the rule book that make has fetched.
func axe(t *testing.T) string {
	t.Helper()
	path := os.Getenv("AXE")
	if path == "" {
		found, err := filepath.Glob("../../.tools/axe-core-*/node_modules/axe-core/axe.min.js")
		require.NoError(t, err)
		require.NotEmpty(t, found, "make test-page fetches axe-core first")
		path = found[len(found)-1]
	}
	raw, err := os.ReadFile(path)
	require.NoError(t, err)
	return string(raw)
}
