//go:build e2e

package e2e

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// slowProgram has the program come long after the page.
const slowProgram = `{
	const compile = WebAssembly.compileStreaming;
	WebAssembly.compileStreaming = async (response) => {
		const program = await compile(response);
		await new Promise((done) => setTimeout(done, 2000));
		return program;
	};
}`

const isOpen = `document.documentElement.dataset.open === "1"`

// kept waits until an opening with this text is kept for the next visit.
func kept(page *Page, text string) {
	page.t.Helper()
	page.Wait(fmt.Sprintf(`sessionStorage.getItem("tremblant-opening")?.includes(%s)`, quote(text)))
}

// visitSlowly opens a page whose program always comes late.
func visitSlowly(t *testing.T) *Page {
	t.Helper()
	server := Serve(t, Dist(t))
	server.BeforeProgram(slowProgram)
	return open(server, Start(t), "")
}

// opensAgain loads the page again and finds it open before its program is there.
func opensAgain(page *Page) {
	page.t.Helper()
	page.Reload()
	page.Wait(isOpen)
	require.False(page.t, Eval[bool](page, isReady), "the program is still to come")
}

// The figures of the last visit stand before the program is there, and it answers
// what is typed meanwhile.
func TestOpensBeforeItsProgram(t *testing.T) {
	t.Parallel()
	page := visitSlowly(t)
	twoAgents(page, "Quince gel")
	kept(page, "3.50")
	opensAgain(page)
	assert.InDelta(t, 3.5, page.Figure("dose-1-mass"), 1e-9)
	assert.Equal(t, "Quince gel", value(page, "name"))
	assert.Equal(t, "xanthan", value(page, "dose-2-name"))
	page.Shot("opening")

	page.Run(`document.querySelector("[name=batch-liquid]").focus(); document.activeElement.select()`)
	page.do(chromedp.KeyEvent("700"))
	page.Run(`document.querySelector("[data-do=drop-dose]").click()`)
	const rows, early = `document.querySelector("[data-list=dose]").childElementCount`, `document.getElementById("pan").dataset.early ?? ""`
	assert.Equal(t, "1", Eval[string](page, early), "the figures are not of what stands in the field")
	require.False(t, Eval[bool](page, isReady), "all of it before the program is there")
	page.Ready()
	page.WaitFigure("dose-1-mass", 7)
	page.Answered()
	assert.Equal(t, "700", value(page, "batch-liquid"))
	assert.Equal(t, "batch-liquid", Eval[string](page, `document.activeElement.name`))
	assert.Equal(t, 2, Eval[int](page, rows), "a press on a row waits until the row can go at once")
	assert.Empty(t, Eval[string](page, early))
}

// Nothing moves under a finger when the program and the book come.
func TestOpensInItsPlace(t *testing.T) {
	t.Parallel()
	page := visitSlowly(t)
	twoAgents(page, "Quince gel") // one row fewer than a first visit makes room for
	kept(page, "3.50")
	opensAgain(page)
	const heights = `JSON.stringify([...document.querySelectorAll("#pan *")].filter(e => e.checkVisibility()).map(e => [e.id || e.className || e.tagName, e.getBoundingClientRect().top]))`
	before := Eval[string](page, heights)
	usable(page)
	assert.Equal(t, before, Eval[string](page, heights))
}

// A first visit opens with the example, in its language, and the program finds nothing
// to say that does not stand there.
func TestFirstVisitOpens(t *testing.T) {
	t.Parallel()
	browser, server := Start(t), Serve(t, Dist(t))
	server.BeforeProgram(slowProgram)
	for language, figure := range map[string]string{"en": "2.80\u00a0g", "fr": "2,80\u00a0g", "es": "2,80\u00a0g", "de": "2,80\u00a0g"} {
		t.Run(language, func(t *testing.T) {
			page := browser.Page(Phone)
			page.Before(fmt.Sprintf(`localStorage.clear(); localStorage.setItem("tremblant-language", %q)`, language))
			page.Before(`new MutationObserver((_, observer) => {
				if (!document.documentElement.dataset.open) return;
				observer.disconnect();
				globalThis.moved = [];
				new MutationObserver((changes) => {
					for (const { type, target, attributeName } of changes) moved.push([type, target.id ?? target.parentElement?.id, attributeName].join(" "));
				}).observe(document.getElementById("pan"), { subtree: true, childList: true, characterData: true, attributes: true });
			}).observe(document, { subtree: true, attributes: true, attributeFilter: ["data-open"] })`)
			page.Open(server.URL())
			page.Wait(isOpen)
			require.False(t, Eval[bool](page, isReady), "the program is still to come")
			const shown = `document.querySelector("[data-figure=dose-1-mass]").textContent`
			assert.Equal(t, figure, Eval[string](page, shown))
			name := Eval[string](page, `tremblant.text["example.1.name"] ?? ""`)
			if language != "en" { // whose texts the page need not have yet
				assert.Equal(t, name, value(page, "name"))
			}
			usable(page)
			assert.Equal(t, figure, Eval[string](page, shown))
			assert.Equal(t, Eval[string](page, `tremblant.text["example.1.name"]`), value(page, "name"))
			assert.Empty(t, Eval[[]string](page, `moved`))
		})
	}
}

// The page may be asked for a text before the texts have come, and a part of the lab opened:
// what comes later is there all the same.
func TestLabOpenedBeforeTheTexts(t *testing.T) {
	t.Parallel()
	dist := Dist(t)
	server := Serve(t, dist)
	server.UseHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasPrefix(r.URL.Path, "/text.en.") {
			time.Sleep(2 * time.Second)
		}
		http.FileServer(http.Dir(dist)).ServeHTTP(w, r)
	}))
	page := Start(t).Page(Phone)
	page.Open(server.URL())
	page.Wait(isOpen)
	require.Empty(t, Eval[string](page, `tremblant.text["agent.agar"] ?? ""`), "the texts are still to come")
	page.PressIn("#lab-method > summary")
	usable(page)
	assert.Equal(t, "agar", Eval[string](page, `tremblant.text["agent.agar"]`))
	page.WaitText("#lab-method-weigh-1-name", "Agar")
}

// A page that is never painted, in a tab behind others, has its program all the same.
func TestFirstVisitUnseen(t *testing.T) {
	t.Parallel()
	page := Start(t).Page(Phone)
	page.Before(`globalThis.requestAnimationFrame = () => 0`)
	page.Visit(Serve(t, Dist(t)))
	page.WaitFigure("dose-1-mass", 2.8)
}

// So does an example that nobody has touched.
func TestOpensWithTheExample(t *testing.T) {
	t.Parallel()
	page := visitSlowly(t)
	kept(page, "2.80")
	opensAgain(page)
	assert.InDelta(t, 2.8, page.Figure("dose-1-mass"), 1e-9)
	page.Ready()
	assert.Equal(t, Eval[string](page, `tremblant.text["example.1.name"]`), value(page, "name"))
}

// Nor is anything lost that is typed before the program is there, whether the figures
// stand or not.
func TestTypesBeforeItsProgram(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	server.BeforeProgram(slowProgram)
	browser := Start(t)
	typesEarly := func(t *testing.T, page *Page, opened bool) {
		for _, field := range []string{"name", "batch-liquid"} {
			page.Run(fmt.Sprintf(`document.querySelector("[name=%s]").focus(); document.activeElement.select()`, field))
			page.do(chromedp.KeyEvent("700"))
		}
		require.Equal(t, opened, Eval[bool](page, isOpen))
		require.False(t, Eval[bool](page, isReady))
		page.Ready()
		page.WaitFigure("dose-1-mass", 5.6)
		assert.Equal(t, "700", value(page, "name"))
		assert.Equal(t, "700", value(page, "batch-liquid"))
	}
	t.Run("first visit", func(t *testing.T) {
		page := browser.Page(Phone)
		page.Open(server.URL())
		typesEarly(t, page, true)
	})
	t.Run("no opening kept", func(t *testing.T) {
		page := browser.Page(Phone)
		page.Open(server.URL())
		usable(page)
		page.Type("batch-liquid", "351")
		kept(page, "351")
		page.Before(`for (const store of [sessionStorage, localStorage]) store.removeItem("tremblant-opening")`)
		page.Reload()
		page.Wait(`document.readyState !== "loading"`)
		typesEarly(t, page, false)
	})
}

func TestOpensInItsLanguage(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	server.BeforeProgram(slowProgram)
	page := Start(t).Page(Phone)
	page.Before(`localStorage.setItem("tremblant-language", "fr")`)
	page.Open(server.URL())
	page.Ready()
	state := Eval[string](page, `document.getElementById("save-state").textContent`)
	page.Type("batch-liquid", "700")
	kept(page, "5,60")
	opensAgain(page)
	assert.InDelta(t, 5.6, page.Figure("dose-1-mass"), 1e-9)
	assert.Equal(t, state, Eval[string](page, `document.getElementById("save-state").textContent`))
	page.Ready()
	assert.Equal(t, state, Eval[string](page, `document.getElementById("save-state").textContent`))
}

// An opening may be of another program, damaged, or not true: the program has the
// last word.
func TestOpeningsThatAreWrong(t *testing.T) {
	t.Parallel()
	browser, server := Start(t), Serve(t, Dist(t))
	for name, change := range map[string]struct {
		to   string // from: what was kept, of: what it is of
		open bool
	}{
		"no JSON":         {`"{"`, false},
		"no list":         {`"7"`, false},
		"another version": {`JSON.stringify(["another", JSON.parse(from)[1]])`, false},
		"another draft":   {`JSON.stringify([of.replace("2", "3"), JSON.parse(from)[1]])`, false},
		"no patch":        {`JSON.stringify([of, "["])`, false},
		"no op":           {`JSON.stringify([of, '[["value","notes","left over"],["explode","pan"]]'])`, false},
		"no place":        {`JSON.stringify([of, '[["rows","nowhere","3"],["text","nowhere","x"]]'])`, true},
		"not true": {`JSON.stringify([of, JSON.stringify([...JSON.parse(JSON.parse(from)[1]), ["rows", "dose", "3"],
			["figure", "dose-1-mass", "99", "99 g"], ["say", "name", "<b>wrong</b>", ""], ["invalid", "name", "1"], ["value", "notes", "left over"]])])`, true},
	} {
		t.Run(name, func(t *testing.T) {
			page := browser.Page(Phone)
			page.Allow("opening: ")
			page.Open(server.URL())
			usable(page)
			newFormula(page)
			typeAll(page, "part-1-name", "quince juice", "part-1-amount", "200", "dose-1-name", "agar", "dose-1-amount", "2", "batch-liquid", "350")
			kept(page, "3.50")
			page.Before(`for (const store of [sessionStorage, localStorage]) {
				const from = store.getItem("tremblant-opening"), of = JSON.parse(from)[0];
				store.setItem("tremblant-opening", ` + change.to + `);
			}`)
			page.Before(`new MutationObserver(() => { globalThis.opened ??= !document.documentElement.dataset.ready })
				.observe(document, { subtree: true, attributes: true, attributeFilter: ["data-open"] })`)
			page.Reload()
			usable(page)
			assert.Equal(t, change.open, Eval[bool](page, `globalThis.opened`))
			assert.InDelta(t, 3.5, page.Figure("dose-1-mass"), 1e-9)
			assert.Equal(t, 1, Eval[int](page, `document.querySelector("[data-list=dose]").childElementCount`))
			assert.Equal(t, "", value(page, "notes"))
			assert.False(t, page.Visible(`[data-for="name"]`))
			assert.False(t, Eval[bool](page, `document.querySelector("[name=name]").hasAttribute("aria-invalid")`))
			page.Type("batch-liquid", "700")
			page.WaitFigure("dose-1-mass", 7)
		})
	}
}

// Who opens the page at another place gets that place.
func TestOpensAtTheShelf(t *testing.T) {
	t.Parallel()
	server, _, page := visit(t)
	kept(page, "2.80")
	page.Open("about:blank")
	page.Open(server.URL() + "#shelf")
	page.Ready()
	assert.True(t, page.Visible("#shelf"))
	assert.False(t, page.Visible("#pan"))
}
