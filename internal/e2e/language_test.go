//go:build e2e

package e2e

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shippedLanguages lists the languages of a built site by the files of their texts.
func shippedLanguages(t *testing.T, dist string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dist, "text.*.json"))
	require.NoError(t, err)
	var langs []string
	for _, file := range files {
		langs = append(langs, strings.Split(filepath.Base(file), ".")[1])
	}
	require.Contains(t, langs, "en")
	slices.Sort(langs)
	return langs
}

// speak chooses a language on the shelf and waits until the page is back in it.
func speak(p *Page, lang string) {
	p.t.Helper()
	goTo(p, "shelf")
	if Eval[string](p, `tremblant.language`) == lang {
		return
	}
	p.Run(`document.documentElement.dataset.before = "1"`)
	choose(p, "language", lang)
	p.Wait(`!document.documentElement.dataset.before && globalThis.tremblant?.language === ` + quote(lang))
	usable(p)
	assert.Equal(p.t, lang, Eval[string](p, `document.documentElement.lang`))
	goTo(p, "shelf")
	assert.Equal(p.t, lang, value(p, "language"))
}

// shows is the text of an element.
func shows(p *Page, selector string) string {
	p.t.Helper()
	return Eval[string](p, exists(selector)+`.innerText`)
}

func TestFrench(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	p := Start(t, "accept-lang=fr-CH,fr,en").Page(Phone)
	p.Open(server.URL())
	usable(p)
	assert.Equal(t, "fr", Eval[string](p, `document.documentElement.lang`))
	assert.Equal(t, "Carnet", shows(p, "#to-book"))

	// Names that the page suggests are read again, and figures have a comma; their
	// values for machines keep the point.
	newFormula(p)
	typeAll(p, "part-1-name", "jus de coing", "part-1-amount", "200", "dose-1-name", "gomme de caroube", "dose-1-amount", "1,3", "batch-liquid", "350")
	p.WaitFigure("dose-1-mass", 2.275)
	assert.Regexp(t, `^2,2[78]?\x{a0}g$`, shows(p, figure("dose-1-mass")))
	assert.Contains(t, Eval[string](p, figureValue("dose-1-mass")), "2.275")
	assert.False(t, p.Visible(`[data-for="dose-1-name"]`), "the agent is known")

	// The lab speaks it too, from its own texts.
	p.Press("#lab-method > summary")
	p.Wait(`document.documentElement.dataset.lab === "1"`)
	p.WaitText("#lab-method", "Chauffer à")

	// What the program has said stays said when the lab's texts come.
	goTo(p, "shelf")
	assert.Regexp(t, `gardées dans ce navigateur, qui a promis|Il n’a pas promis`, shows(p, "#kept-state"))

	assert.Equal(t, "Français", shows(p, "#language option:checked"))
	speak(p, "en")
	assert.Equal(t, "Book", shows(p, "#to-book"))
	goTo(p, "pan")
	p.WaitFigure("dose-1-mass", 2.275)
	assert.Contains(t, shows(p, figure("dose-1-mass")), "2.2")
	assert.Equal(t, "gomme de caroube", value(p, "dose-1-name"), "what was typed is left as it was")
	speak(p, "fr")
	assert.Equal(t, "Carnet", shows(p, "#to-book"))
	goTo(p, "pan")
	p.WaitFigure("dose-1-mass", 2.275)
	assert.Contains(t, shows(p, figure("dose-1-mass")), "2,2")
}

// clipped lists what can be pressed and is smaller than what is written in it.
const clipped = `[...document.querySelectorAll("button, summary, nav a, .choices label")].filter(e =>
	e.checkVisibility({ visibilityProperty: true }) && (e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 1) && e.clientWidth > 0
).map(e => e.outerHTML.slice(0, 160))`

// settled waits until what stands on the page has not changed for a while.
const settled = `new Promise(done => {
	let seen = "", since = performance.now();
	const look = () => {
		const now = document.body.innerText;
		if (now !== seen) [seen, since] = [now, performance.now()];
		if (performance.now() - since > 400) done(true);
		else setTimeout(look, 50);
	};
	look();
})`

// No language is too long for a small phone: nothing scrolls sideways, stands
// outside, or is cut off.
func TestEveryLanguageFits(t *testing.T) {
	t.Parallel()
	dist := Dist(t)
	server := Serve(t, dist)
	p := Start(t, "accept-lang=en").Page(Phone)
	p.Open(server.URL())
	usable(p)
	twoAgents(p, "Quince gel")
	save(p)
	for _, lang := range shippedLanguages(t, dist) {
		t.Run(lang, func(t *testing.T) {
			p.t = t
			p.Run(`for (const d of document.querySelectorAll("details[open]")) d.open = false`)
			speak(p, lang)
			goTo(p, "pan")
			p.Run(`document.querySelector("#lab-method").open = true`)
			p.Wait(`document.documentElement.dataset.lab === "1"`)
			p.Run(`document.querySelector("#lab-method").open = false`)
			for _, view := range []View{Narrow, Phone} {
				p.View(view)
				check := func(what string) {
					t.Helper()
					assert.LessOrEqual(t, Eval[int64](p, `document.documentElement.scrollWidth`), view.Width, "%d px, %s scrolls sideways", view.Width, what)
					assert.Empty(t, Eval[[]string](p, cutOff), "%d px, %s: cut off", view.Width, what)
					assert.Empty(t, Eval[[]string](p, clipped), "%d px, %s: clipped", view.Width, what)
				}
				for _, place := range []string{"pan", "book", "shelf"} {
					goTo(p, place)
					check(place)
				}
				goTo(p, "pan")
				for _, part := range Eval[[]string](p, `[...document.querySelectorAll("details[data-lab]")].map(e => e.dataset.lab)`) {
					section := `document.querySelector('details[data-lab="` + part + `"]')`
					p.Run(section + `.open = true`)
					p.Answered()
					Eval[bool](p, settled)
					p.Unfold(`details[data-lab="` + part + `"]`)
					layOut(p)
					Eval[bool](p, settled)
					check(part)
					p.Shot("language-" + lang + "-" + part)
					p.Run(`for (const d of ` + section + `.querySelectorAll("details")) d.open = false; ` + section + `.open = false`)
				}
			}
			p.View(Phone)
		})
	}
	p.t = t
}
