//go:build e2e

package e2e

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// cookFrom puts a recipe of the tests' own kitchen into the pan and opens its method.
func cookFrom(p *Page, name, lines, liquid string) {
	p.t.Helper()
	p.Wait(`document.documentElement.dataset.book === "1"`)
	p.Run(`document.querySelector("#paste").open = true`)
	set(p, "lines", lines)
	p.Press("[data-do=read-lines]")
	p.Type("batch-liquid", liquid)
	p.Type("name", name)
	p.Run(`document.querySelector("#paste").open = false`)
	p.Press("#lab-method > summary")
	p.Wait(`document.documentElement.dataset.lab === "1"`)
	p.Wait(`document.querySelector("#lab-method-answer:not([hidden])")`)
}

// set puts a text into an input as if it had been typed at once.
func set(p *Page, name, text string) {
	p.t.Helper()
	p.Run(`{ const e = document.querySelector("[name=` + name + `]"); if (e.type === "checkbox") e.checked = ` + quote(text) + ` !== ""; else e.value = ` + quote(text) + `; e.dispatchEvent(new InputEvent("input", { bubbles: true })) }`)
}

const (
	fluidGel = "250 g water\n250 g quince juice\n40 g sugar\n3.5 g agar\n0.6 g low-acyl gellan\n0.3 g sodium citrate"
	setCream = "300 g cream\n200 g milk\n50 g sugar\n5 g gelatin"
)

// papers are the sizes that the sheet is printed on, in inches: ISO 216 and
// ANSI/ASME Y14.1.
var papers = []struct {
	name          string
	width, height float64
}{{"A4", 210 / 25.4, 297 / 25.4}, {"A5", 148 / 25.4, 210 / 25.4}, {"letter", 8.5, 11}}

// pages counts the pages of a PDF by their objects (ISO 32000-1, 7.7.3.3).
var pages = regexp.MustCompile(`/Type\s*/Page\b[^s]`)

// paper prints the page and keeps the PDF beside the pictures.
func paper(p *Page, name string, width, height float64) []byte {
	p.t.Helper()
	raw := call(p, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: width, PaperHeight: height}).Data
	if dir := os.Getenv("SCREENS"); dir != "" {
		require.NoError(p.t, os.MkdirAll(dir, 0o755))
		require.NoError(p.t, os.WriteFile(filepath.Join(dir, name+".pdf"), raw, 0o644))
	}
	return raw
}

// sheets are formulas from few words to many.
var sheets = map[string]string{
	"two-lines": "1 l tomato water\n1.1% agar",
	"fluid-gel": fluidGel,
	"set-cream": setCream,
	"crowded": "200 g water\n100 g lemon juice\n100 g raspberry puree\n100 g sherry\n100 g cream\n60 g sugar\n2 g salt\n30 g honey\n50 g egg white\n10 g herb oil\n" +
		"2 g agar\n0.5 g low-acyl gellan\n3 g konjac\n1 g xanthan\n4 g gelatin\n0.4 g calcium lactate\n1 g methylcellulose\n0.8 g kappa carrageenan",
}

func TestLabMethodPrintsOnePage(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	browser := Start(t)
	for name, lines := range sheets {
		t.Run(name, func(t *testing.T) {
			p := browser.Page(Phone)
			p.Open(server.URL())
			p.Ready()
			cookFrom(p, "Quince and bay", lines, "500")
			set(p, "notes", "Warm the moulds first.\n\nNever a second time through the blender.")
			p.Unfold("#lab-method")
			set(p, "lab-method-place", "still-fridge")
			p.WaitText("#lab-method-cool-answer", "°C")
			set(p, "lab-method-frail", "1")
			set(p, "lab-method-one-bite", "1")
			if name == "two-lines" {
				set(p, "lab-method-service", "1930")
				set(p, "lab-method-day", "1")
			}
			p.Wait(`document.querySelector(".sheet[data-state=ready]")`)
			steps := Eval[[]string](p, `[...document.querySelectorAll(".prep-steps > li .prep-text")].map(e => e.textContent.split(" ")[0])`)
			for _, size := range papers {
				pdf := paper(p, "sheet-"+name+"-"+size.name, size.width, size.height)
				assert.Len(t, pages.FindAll(pdf, -1), 1, "%s on %s", name, size.name)
				printed(t, "sheet-"+name, pdf, append(steps, "Quince and bay", "Weigh", "Use by", "Warm the moulds")...)
			}
			call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
			assert.True(t, p.Visible(".sheet .sheet-label"), "the sheet is what is printed")
			assert.False(t, p.Visible("main"), "and nothing else")
			call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{})
			p.Run(`for (const d of document.querySelectorAll("#lab-method details[open]")) d.open = d.id === "lab-method-cooling"`)
			p.Shot("method-" + name)
			p.Type("batch-liquid", "much") // no paper from a figure that is wrong
			p.Wait(`document.querySelector(".sheet").dataset.state === ""`)
		})
	}
}

// TestLabMethodAtTheStove cooks a formula through on a phone whose server is gone:
// weights and steps are ticked, a clock is started and outlives a reload, and
// what is over is shown when the page wakes.
func TestLabMethodAtTheStove(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	p := Start(t).Page(Phone)
	p.Prefer("prefers-reduced-motion", "reduce") // a step that still moves is missed by a press
	p.Before(`globalThis.locks = []; Object.defineProperty(navigator, "wakeLock", { value: { request: async (kind) => {
		const lock = new EventTarget();
		lock.release = async () => { locks.push("off"); lock.dispatchEvent(new Event("release")) };
		locks.push(kind);
		return lock;
	} } })`)
	p.Visit(server)
	p.Prefer("prefers-reduced-motion", "reduce") // nothing moves away from under the finger
	cookFrom(p, "Quince and bay gel, for the cheese trolley", fluidGel, "500")
	set(p, "lab-method-target", "fluid")
	set(p, "lab-method-bottled", "1")
	p.Wait(`document.querySelectorAll(".prep-weights > li, .prep-steps > li").length > 12`)
	p.Answered()
	server.Kill()
	p.Reload()
	p.Ready()
	p.Press("#lab-method > summary")
	p.Wait(`document.documentElement.dataset.lab === "1"`)
	p.WaitText("#lab-method-answer", "Quince juice")

	require.False(t, Eval[bool](p, `Boolean(document.querySelector("#cook-list"))`), "it is not in the page yet")
	p.Press("[data-cook=open]")
	p.WaitText("#lab-method-cook", "0 / ")
	p.NoHScroll(360)
	assert.Empty(t, Eval[[]string](p, tornIn("button, summary", 12)), "torn words beside a long name")
	view(p, "cook-start")
	p.Press("#cook-awake")
	p.Wait(`locks.at(-1) === "screen" && document.querySelector("#cook-awake").ariaPressed === "true"`)

	small := Eval[[]string](p, `[...document.querySelectorAll("#lab-method-cook button, #cook-list label")]
		.filter(e => e.checkVisibility()).filter(e => e.getBoundingClientRect().height < 44).map(e => e.outerHTML)`)
	assert.Empty(t, small, "too small for a wet thumb")

	// Tick until the step that has a clock; start it.
	const now = `#cook-list > li[data-state=now]`
	for Eval[bool](p, `!document.querySelector("`+now+` .cook-timer:not([hidden])")`) {
		before := Eval[string](p, `document.querySelector("`+now+`").dataset.key`)
		p.Press(now + " label")
		p.Wait(`document.querySelector("` + now + `").dataset.key !== ` + quote(before))
	}
	view(p, "cook-step")
	p.Press(now + " .cook-timer")
	p.WaitText("#cook-timers", "2:")
	assert.Equal(t, "lab-method-cook", Eval[string](p, `document.querySelector("#cook-timers").parentElement.id`), "it stands above the dialog")
	done := Eval[string](p, `document.querySelector("#cook-count").textContent`)
	view(p, "cook-clock")

	// The phone is locked and the page thrown away; on waking the clock is over.
	p.Run(`{ const kept = JSON.parse(localStorage["tremblant-cook"]); kept.clocks[0].ends -= 300000; localStorage["tremblant-cook"] = JSON.stringify(kept) }`)
	p.Reload()
	p.Ready()
	p.WaitText("#cook-timers", "Time is up")
	p.WaitText("#cook-timers", "+2:")
	p.Shot("cook-over")

	// What can be taken back is offered above the clocks, not over them.
	p.Run(`document.querySelector('[data-do="drop-dose"]').click()`)
	p.Wait(`!document.querySelector("#notice-undo").hidden`)
	p.Wait(`document.querySelector("#notice-undo").getBoundingClientRect().bottom <= document.querySelector("#cook-timers").getBoundingClientRect().top`)
	p.Press(`[data-do="undo"]`)
	p.Wait(`document.querySelector("#notice-undo").hidden`)
	p.Press("#cook-timers [data-cook=longer]")
	p.Wait(`document.querySelector("#cook-timer-list > li").dataset.state === ""`)
	const ends = `(JSON.parse(localStorage["tremblant-cook"]).clocks[0] ?? {}).ends ?? 0`
	until := Eval[float64](p, ends)
	p.Press("#cook-timers [data-cook=stop]") // it stands beside the minute more
	p.Wait(`document.querySelector("#cook-timer-list > li").dataset.state === "stopped"`)
	assert.True(t, Eval[bool](p, `document.activeElement.matches("[data-cook=resume]")`))
	assert.Zero(t, Eval[float64](p, ends))
	p.Reload()
	p.Ready()
	p.WaitText("#cook-timers", "Stopped")
	p.Press("#cook-timers [data-cook=resume]")
	p.Wait(`document.querySelector("#cook-timer-list > li").dataset.state === ""`)
	assert.InDelta(t, until, Eval[float64](p, ends), 0, "it ends when it would have ended")
	p.Press("#cook-timers [data-cook=stop]")
	p.Wait(`document.querySelector("#cook-timer-list > li").dataset.state === "stopped"`)
	p.Press("#cook-timers [data-cook=stop]") // nothing runs, and no offer stands in the way
	p.Wait(`document.querySelector("#cook-timers").hidden`)

	p.Press("#lab-method > summary")
	p.WaitText("#lab-method-answer", "Quince juice")
	p.OnScreen("[data-cook=open]")
	before := Eval[float64](p, `scrollY`)
	p.Press("[data-cook=open]")
	p.WaitText("#cook-count", done)
	require.False(t, Eval[bool](p, `document.querySelector("#lab-method-answer").checkVisibility({ contentVisibilityAuto: true })`), "the page beneath is left out")
	for Eval[bool](p, `Boolean(document.querySelector("`+now+`"))`) {
		p.Press(now + " label")
	}
	p.WaitText("#cook-done", "All done")
	view(p, "cook-done")

	// The keyboard stays in the list, round and round.
	for range 60 {
		press(p, kb.Tab)
		require.False(t, Eval[bool](p, `Boolean(document.activeElement.closest("#app"))`), "in the page beneath")
	}

	// The page is as it was: at its place, shown, with the keyboard where it was.
	asItWas := func() {
		t.Helper()
		p.Wait(`!document.querySelector("#lab-method-cook").open && document.querySelector("#lab-method [data-cook=open]").checkVisibility({ contentVisibilityAuto: true })`)
		assert.InDelta(t, before, Eval[float64](p, `scrollY`), 1)
		assert.True(t, Eval[bool](p, `document.activeElement.matches("#lab-method [data-cook=open]")`))
	}
	p.Press("#lab-method-cook [data-cook=close]")
	asItWas()
	p.Press("#lab-method [data-cook=open]")
	p.Wait(`document.activeElement.closest("#lab-method-cook")`)
	press(p, kb.Escape)
	asItWas()

	// Another weight is not ticked, though the old one was.
	p.Type("batch-liquid", "700")
	p.Wait(`document.querySelector("#cook-list > li").dataset.state === "now"`)
	p.Press("[data-cook=open]")
	assert.False(t, Eval[bool](p, `document.querySelector("#cook-list > li input").checked`))
	p.Press(now + " label")
	p.Wait(`document.querySelector("#cook-list > li").dataset.state === "done"`)
	done = Eval[string](p, `document.querySelector("#cook-count").textContent`)
	p.Press("#cook-again")
	p.WaitText("#cook-count", "0 / ")
	p.Press("#cook-unagain")
	p.WaitText("#cook-count", done)
	p.Press("#cook-again")
	p.Press(now + " label")
	p.Wait(`document.querySelector("#cook-unagain").hidden`) // work has begun anew
	p.Dark(true)
	view(p, "cook-dark")
}

// TestLabMethodIsTheCooksOwn: a step is reworded, one is moved and one added, with
// the network gone; all of it comes back with the saved formula.
func TestLabMethodIsTheCooksOwn(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	p := Start(t).Page(Phone)
	p.Visit(server)
	p.Prefer("prefers-reduced-motion", "reduce")
	cookFrom(p, "Quince and bay", fluidGel, "500")
	server.Kill()
	set(p, "lab-method-service", "1930")
	p.WaitText("#lab-method-start-answer", ":")

	step := func(n int) string { return fmt.Sprintf("#lab-method-step-%d-", n) }
	disperse := Eval[int](p, `1 + [...document.querySelectorAll(".prep-steps > li")].findIndex(li => li.textContent.includes("Disperse"))`)
	p.PressIn(step(disperse) + "edit")
	p.WaitText(step(disperse)+"editor", "In your own words")
	p.Run(`document.querySelector("#lab-method-words").select()`)
	p.Type(Eval[string](p, `document.querySelector("#lab-method-words").name`), "Whirl it in the tall jug.")
	p.WaitText(step(disperse)+"text", "tall jug")
	p.Shot("method-editor")
	p.PressIn("#lab-method-do-up")
	p.WaitText(step(disperse-1)+"text", "tall jug")
	p.PressIn(`#lab-method-editor [data-do="lab-method-step-add"]`)
	p.WaitText(step(disperse)+"do", "Your own step")
	p.Type(Eval[string](p, `document.querySelector("#lab-method-words").name`), "Toast the bay leaf.")
	p.WaitText(step(disperse)+"text", "Toast the bay leaf.")

	small := Eval[[]string](p, `[...document.querySelectorAll("#lab-method :is(button, summary, select, textarea, input:not([type=checkbox]), label.tick)")]
		.filter(e => e.checkVisibility()).filter(e => e.getBoundingClientRect().height < 44).map(e => e.outerHTML)`)
	assert.Empty(t, small, "too small for a wet thumb")
	p.NoHScroll(360)

	p.Press("[data-do=save]")
	p.WaitText("#save-state", "Saved")
	p.Reload()
	p.Ready()
	p.Press("#lab-method > summary")
	p.WaitText(step(disperse)+"text", "Toast the bay leaf.")
	p.WaitText(step(disperse-1)+"text", "tall jug")
	assert.Equal(t, "19:30", clockless(Eval[string](p, `document.querySelector("[name=lab-method-service]").value`)))
	p.Dark(true)
	p.Shot("method-dark")
	p.Dark(false)
	p.PressIn("#lab-method-reset-all") // the steps near it may have been drawn only now
	p.WaitText(step(disperse)+"do", "Disperse")
	p.WaitText("#notice-undo", "as it was worked out")
	p.Press("[data-do=undo]")
	p.WaitText(step(disperse)+"text", "Toast the bay leaf.")
}

// TestLabMethodClocksOfTwoDishes starts the same clock for two dishes that are made alike,
// and presses once too often: neither clock is lost.
func TestLabMethodClocksOfTwoDishes(t *testing.T) {
	t.Parallel()
	p := Start(t).Page(Phone)
	p.Visit(Serve(t, Dist(t)))
	cookFrom(p, "Quince and bay gel", fluidGel, "500")
	const clock = `[...document.querySelectorAll("#cook-list .cook-timer:not([hidden])")].at(-1)`
	const clocks = `JSON.parse(localStorage["tremblant-cook"] ?? "{}").clocks ?? []`
	begin := func(dish string) {
		p.Run(`document.querySelector("[data-cook=open]").click()`)
		p.WaitText("#lab-method-cook-title", dish)
		p.Wait(`Boolean(` + clock + `)`)
		assert.Empty(t, Eval[string](p, clock+`.dataset.state`), "the clock of another dish is none of this one")
		p.Run(clock + `.click()`)
		p.Wait(clock + `.dataset.state === "runs" && ` + clock + `.ariaDisabled === "true"`)
	}
	begin("Quince and bay gel")
	p.Run(`{ const kept = JSON.parse(localStorage["tremblant-cook"]); kept.clocks[0].ends -= 30000; localStorage["tremblant-cook"] = JSON.stringify(kept);
		dispatchEvent(new StorageEvent("storage", { key: "tremblant-cook" })) }`)
	ends := Eval[float64](p, `(`+clocks+`)[0].ends`)
	p.Run(clock + `.click()`)
	p.Answered()
	assert.InDelta(t, ends, Eval[float64](p, `(`+clocks+`)[0].ends`), 0, "half a minute gone, and a slip of the finger")
	p.Run(`document.querySelector("#lab-method-cook [data-cook=close]").click()`)
	p.Type("name", "Pear and bay gel")
	p.Answered()
	begin("Pear and bay gel")
	assert.Equal(t, 2, Eval[int](p, `(`+clocks+`).length`))
	p.WaitText("#cook-timer-list > li:nth-child(1)", "Quince and bay gel")
	p.WaitText("#cook-timer-list > li:nth-child(2)", "Pear and bay gel")

	// The list, and the page under it, can be scrolled free of the clocks.
	const top = `document.querySelector("#cook-timers").getBoundingClientRect().top`
	p.Run(`{ const cook = document.querySelector("#lab-method-cook"); cook.scrollTop = cook.scrollHeight }`)
	p.Wait(`[...document.querySelectorAll("#cook-list > li")].at(-1).getBoundingClientRect().bottom <= ` + top)
	p.Run(`document.querySelector("#lab-method-cook [data-cook=close]").click()`)
	p.Wait(`document.querySelector("#cook-timers").parentElement === document.body`)
	// Clocks that came from the list to the page are not covered either.
	p.Run(`document.querySelector('[data-do="drop-dose"]').click()`)
	p.Wait(`!document.querySelector("#notice-undo").hidden`)
	p.Wait(`document.querySelector("#notice-undo").getBoundingClientRect().bottom <= ` + top)
	assert.Greater(t, Eval[float64](p, `parseFloat(getComputedStyle(document.documentElement).scrollPaddingBottom)`),
		Eval[float64](p, `innerHeight - `+top), "what gets the keyboard would lie beneath the clocks")
}

// clockless writes 1930 as 19:30.
func clockless(text string) string { return text[:2] + ":" + text[len(text)-2:] }

// view takes a picture of what a person sees, which for a dialog is not the whole page.
func view(p *Page, name string) {
	p.t.Helper()
	dir := os.Getenv("SCREENS")
	if dir == "" {
		return
	}
	picture := call(p, page.CaptureScreenshot, page.CaptureScreenshotParams{}).Data
	require.NoError(p.t, os.MkdirAll(dir, 0o755))
	require.NoError(p.t, os.WriteFile(filepath.Join(dir, name+".png"), picture, 0o644))
}

// TestLabMethodPremix: half a gram on a scale of a tenth becomes a premix of
// round weights, and the recipe gives up the sugar that comes with it.
func TestLabMethodPremix(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	p := Start(t).Page(Phone)
	p.Open(server.URL())
	p.Ready()
	p.Wait(`document.documentElement.dataset.book === "1"`)
	p.Open(server.URL() + "#shelf")
	for name, text := range map[string]string{"scale-1-step": "0.1", "scale-1-max": "2000", "scale-2-step": "0.1", "scale-2-max": "3000"} {
		set(p, name, text)
	}
	p.Open(server.URL() + "#pan")
	cookFrom(p, "Almond and lemon leaf", "490 g water\n10 g sugar\n0.53 g low-acyl gellan", "500")
	p.WaitText("#lab-method-weights", "First mix")
	gellan, sugar := p.Figure("lab-method-weigh-1-premix-agent"), p.Figure("lab-method-weigh-1-premix-carrier")
	use := p.Figure("lab-method-weigh-1-mass")
	// What was weighed, and what it must come to: 0.53 g of gellan and 10 g of
	// sugar, each within the two per cent that a scale may be off.
	share := gellan / (gellan + sugar)
	assert.InEpsilon(t, 0.53, use*share, 0.02)
	assert.InDelta(t, 10, use*(1-share)+p.Figure("lab-method-weigh-2-mass"), 0.2)
	for _, weight := range []float64{gellan, sugar, use} {
		assert.InDelta(t, 0, math.Remainder(weight, 0.1), 1e-9, "the scale can show it")
	}
	p.NoHScroll(360)
	p.Shot("method-premix")
	p.View(Narrow)
	p.Wait(`document.querySelector("#lab-method-answer")`)
	p.NoHScroll(320)
	p.Shot("method-narrow")
}
