//go:build e2e

package e2e

import (
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// eachPart opens every part of the lab in turn, all that folds in it too, with a
// formula in the pan that gives each something to show.
func eachPart(t *testing.T, view View, look func(t *testing.T, p *Page, part string)) {
	t.Helper()
	server, browser := Serve(t, Dist(t)), Start(t)
	p := browser.Page(view)
	call(p, page.SetBypassCSP, page.SetBypassCSPParams{Enabled: true}) // for the rule book
	p.Open(server.URL() + "#formula?name=Quince&lines=200+g+apple+juice;2+g+agar;0.4+g+xanthan&batch-liquid=350")
	usable(p)
	p.WaitFigure("dose-1-mass", 3.5)
	parts := Eval[[]string](p, `[...document.querySelectorAll("details[data-lab]")].map(d => d.dataset.lab)`)
	require.NotEmpty(t, parts)
	for _, part := range parts {
		t.Run(part, func(t *testing.T) {
			p.t = t
			p.Dark(false)
			p.Run(fmt.Sprintf(`for (const d of document.querySelectorAll("details[data-lab]")) d.open = d.dataset.lab === %q`, part))
			p.Wait(`document.documentElement.dataset.lab === "1"`)
			p.Answered()
			still(p) // rows have folds as well
			p.Unfold("#lab-" + part)
			p.Answered()
			layOut(p)
			still(p)
			p.Run(fmt.Sprintf(`document.getElementById("lab-%s").scrollIntoView()`, part))
			look(t, p, part)
		})
	}
	p.t = t
}

// layOut has the lab laid out wherever it stands: the page leaves out what is far from
// the screen, and nothing can be said of its boxes then.
func layOut(p *Page) {
	p.t.Helper()
	p.Run(`for (const body of document.querySelectorAll(".lab-body, .prep-steps > li, .meanings > *")) body.style.contentVisibility = "visible"`)
}

// still waits until the lab has written nothing for a while.
func still(p *Page) {
	p.t.Helper()
	p.Run(`new Promise(done => {
		let soon;
		const wait = () => { clearTimeout(soon); soon = setTimeout(() => { watch.disconnect(); done(); }, 300); };
		const watch = new MutationObserver(wait);
		watch.observe(document.getElementById("pan"), { subtree: true, childList: true, characterData: true, attributes: true });
		wait();
	})`)
}

// The rule book of axe-core finds nothing in any part of the lab. What stands
// around the part is read by TestAccessibility.
func TestLabAccessibility(t *testing.T) {
	t.Parallel()
	script := axe(t)
	for _, name := range []string{"phone", "tablet"} {
		t.Run(name, func(t *testing.T) {
			eachPart(t, screens[name], func(t *testing.T, p *Page, part string) {
				p.Run(script)
				for _, dark := range []bool{false, true} {
					p.Dark(dark)
					assert.Empty(t, Eval[[]string](p, brokenIn(`"#lab-`+part+`"`)), "dark: %v", dark)
				}
			})
		})
	}
}

// Nothing of the lab stands outside the screen, is cut off, or is too small.
func TestLabLayout(t *testing.T) {
	t.Parallel()
	for name, view := range screens {
		t.Run(name, func(t *testing.T) {
			eachPart(t, view, func(t *testing.T, p *Page, part string) {
				p.NoHScroll(int(view.Width))
				assert.Empty(t, Eval[[]string](p, cutOff), "cut off")
				assert.Empty(t, Eval[[]string](p, tooSmall), "too small")
				p.Shot(map[bool]string{true: "more/"}[name == "narrow"] + "lab-" + part + "-" + name)
				p.Dark(true)
				p.Shot(map[bool]string{true: "more/"}[name != "phone"] + "lab-" + part + "-" + name + "-dark")
			})
		})
	}
}

// With letters twice as large, what can be pressed, and what is answered, is still
// read word by word.
func TestLabWithLargeLetters(t *testing.T) {
	t.Parallel()
	eachPart(t, Phone, func(t *testing.T, p *Page, _ string) {
		p.Run(`document.documentElement.style.fontSize = "200%"`)
		still(p)
		p.NoHScroll(int(Phone.Width))
		assert.Empty(t, Eval[[]string](p, cutOff), "cut off")
		assert.Empty(t, Eval[[]string](p, tornIn("button, summary", 12)), "torn words")
		assert.Empty(t, Eval[[]string](p, tornIn(".lab[open] > .lab-body *", 8)), "torn words")
		p.Run(`document.documentElement.style.fontSize = ""`)
	})
}

// tornIn lists the words of at most so many letters that stand on two lines. A long one
// has to; nothing is said here of what has a hyphen to be broken at.
func tornIn(selector string, letters int) string {
	return fmt.Sprintf(`[...document.querySelectorAll(%q)].filter(e => e.checkVisibility() && !e.closest("svg, select, textarea, .unseen")).flatMap(e => {
	const words = [], range = document.createRange();
	for (const text of e.childNodes) {
		if (text.nodeType !== Node.TEXT_NODE) continue;
		for (const { index, 0: word } of text.data.matchAll(/[^\s\u00ad-]+/g)) {
			range.setStart(text, index);
			range.setEnd(text, index + word.length);
			const lines = new Set([...range.getClientRects()].map(r => Math.round(r.top)));
			if (word.length <= %d && lines.size > 1) words.push(word);
		}
	}
	return words;
})`, selector, letters)
}
