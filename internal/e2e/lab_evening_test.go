//go:build e2e

package e2e

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// dishes are the four formulas of the tests' own kitchen, with how much each
// cover gets.
var dishes = []struct{ name, lines, target, portion, unit string }{
	{"Clear tomato set", "1000 g tomato water\n8 g salt\n5 g lemon juice\n9 g agar", "set", "40", "g"},
	{"Quince fluid gel", fluidGel, "fluid", "12", "g"},
	{"Bay cream", setCream, "set", "60", "g"},
	{"Leek foam", "500 g water\n100 g leek\n7 g gelatin", "siphon-cold", "30", "ml"},
}

// intoTheBook saves the dishes, one after the other, as a person would.
func intoTheBook(p *Page) {
	p.t.Helper()
	for i, d := range dishes {
		if i > 0 {
			goTo(p, "book")
			do(p, "new")
		}
		cookFrom(p, d.name, d.lines, "500")
		set(p, "lab-method-target", d.target)
		if d.unit == "ml" {
			p.Run(`document.querySelector("#lab-foam").open = true`)
			set(p, "lab-foam-gas", "1")
			set(p, "lab-foam-kind", "gelatin")
		}
		do(p, "save")
		p.Wait(`document.querySelector("#state").dataset.state === "saved"`)
		p.Run(`for (const e of document.querySelectorAll("#pan details[open]")) e.open = false`)
	}
}

// pick adds a formula of the book to the evening by its name.
func pick(p *Page, name string, row int) {
	p.t.Helper()
	option := `[...document.querySelector("[name=evening-pick]").options].find(o => o.textContent === ` + quote(name) + `)`
	p.Wait(`!!` + option)
	p.Run(`{ const e = document.querySelector("[name=evening-pick]"); e.value = ` + option + `.value; e.dispatchEvent(new Event("input", { bubbles: true })) }`)
	p.WaitText("#lab-evening-dish-"+string(rune('0'+row))+"-name", name)
}

// TestEveningOfFourFormulasOffline plans four formulas for 38 covers on a phone
// whose server is gone, from the book to the printed sheet.
func TestEveningOfFourFormulasOffline(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	p := Start(t).Page(Phone)
	p.Prefer("prefers-reduced-motion", "reduce")
	p.Visit(server)
	p.Wait(`document.documentElement.dataset.book === "1"`)
	intoTheBook(p)
	server.Kill()
	p.Reload()
	p.Ready()
	p.Wait(`document.documentElement.dataset.book === "1"`)

	// The shelf says what is there.
	goTo(p, "shelf")
	do(p, "add-body")
	set(p, "body-1-size", "500")
	set(p, "body-1-count", "2")
	set(p, "chargers", "1")
	do(p, "add-own")
	set(p, "own-1-name", "agar")
	set(p, "own-1-stock", "10,5")
	p.Shot("evening-shelf")

	goTo(p, "book")
	p.Press("#lab-evening > summary")
	p.Wait(`document.documentElement.dataset.lab === "1"`)
	p.WaitShown("#lab-evening-empty")
	set(p, "lab-evening-service", "1930")
	set(p, "lab-evening-day", "1")
	for i, d := range dishes {
		pick(p, d.name, i+1)
		row := "lab-evening-dish-" + string(rune('1'+i))
		if i == 0 { // the others take the covers of the one before
			set(p, row+"-covers", "38")
		}
		set(p, row+"-unit", d.unit)
		set(p, row+"-portion", d.portion)
		p.Wait(`+document.querySelector('[data-figure="` + row + `-make"]').value > 0`)
	}
	p.WaitFigure("lab-evening-dish-1-make", 38*40)
	p.WaitFigure("lab-evening-dish-2-make", 38*12)
	p.WaitFigure("lab-evening-dish-3-make", 38*60)
	assert.Equal(t, "38", value(p, "lab-evening-dish-4-covers"))
	p.Wait(`document.querySelectorAll("#lab-evening .evening-plan > li").length > 20`)
	needs := Eval[string](p, `document.querySelector(".evening-needs").innerText`)
	for _, want := range []string{"Agar", "short", "Siphon of 0.5", "Chargers", "Lemon juice", "Gelatin", "Cream"} {
		assert.Contains(t, needs, want)
	}
	clashes := Eval[string](p, `document.querySelector("[data-list=lab-evening-clash]").innerText`)
	assert.Contains(t, clashes, "needed at once")
	p.NoHScroll(360)
	small := Eval[[]string](p, `[...document.querySelectorAll("#lab-evening :is(button, input, select, summary)")].filter(e => e.type !== "checkbox" && e.checkVisibility())
		.filter(e => e.getBoundingClientRect().height < 44).map(e => e.outerHTML)`)
	assert.Empty(t, small, "too small for a wet thumb")
	p.Shot("evening")
	p.Dark(true)
	p.Shot("evening-dark")
	p.Dark(false)

	for _, size := range papers {
		pdf := paper(p, "evening-"+size.name, size.width, size.height)
		assert.Len(t, pages.FindAll(pdf, -1), 1, size.name)
		printed(t, "evening", pdf, "Clear tomato set", "Leek foam", "19:30", "Agar")
	}

	// It is all there after a reload, and a formula that is deleted is named.
	p.Reload()
	p.Ready()
	p.Wait(`document.documentElement.dataset.book === "1"`)
	p.Press("#lab-evening > summary")
	p.WaitFigure("lab-evening-dish-3-make", 38*60)
	assert.Equal(t, "1930", value(p, "lab-evening-service"))
	p.Run(`document.querySelector("#lab-evening").open = false`)
	p.Wait(`!!document.querySelector(".entries [data-do=delete]")`)
	p.Run(`[...document.querySelectorAll("[data-list=entry] .entry")].find(e => e.innerText.includes("Bay cream")).querySelector("[data-do=delete]").click()`)
	p.Run(`document.querySelector("#lab-evening").open = true`)
	p.WaitText("#lab-evening-dish-3-cannot", "no longer")
	p.WaitText("#lab-evening-left-out", "Bay cream")
	p.WaitFigure("lab-evening-dish-1-make", 38*40)
	p.Shot("evening-missing")
	do(p, "undo")
	p.WaitFigure("lab-evening-dish-3-make", 38*60)
	p.Run(`document.querySelectorAll("[data-do=evening-drop]")[3].click()`)
	p.Wait(`document.querySelectorAll(".evening-dishes > li").length === 3`)
	do(p, "undo")
	p.Wait(`document.querySelectorAll(".evening-dishes > li").length === 4`)
	assert.Equal(t, "30", value(p, "lab-evening-dish-4-portion"))

	for _, bad := range []string{"0", "abc", "-1", "99999999"} {
		set(p, "lab-evening-dish-1-covers", bad)
		p.Wait(`document.querySelector("[name=lab-evening-dish-1-covers]").getAttribute("aria-invalid") === "true"`)
		p.WaitText("#lab-evening-left-out", "Clear tomato set")
	}
	set(p, "lab-evening-dish-1-covers", "1,5")
	p.WaitFigure("lab-evening-dish-1-make", 80)
}

// printed reads the paper back and keeps what it says.
func printed(t *testing.T, name string, pdf []byte, want ...string) {
	t.Helper()
	tool, err := exec.LookPath("pdftotext")
	require.NoError(t, err, "install it with .ci/tools")
	read := exec.Command(tool, "-layout", "-", "-")
	read.Stdin = bytes.NewReader(pdf)
	text, err := read.Output()
	require.NoError(t, err)
	for _, w := range want {
		assert.Contains(t, string(text), w)
	}
	if dir := os.Getenv("SCREENS"); dir != "" {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name+".txt"), text, 0o644))
	}
}
