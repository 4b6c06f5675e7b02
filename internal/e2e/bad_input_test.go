//go:build e2e

package e2e

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// loud is whether the figure to weigh is one to weigh by: heavy, and not marked.
const loud = `(({ fontWeight, textDecorationLine }) => fontWeight >= 600 && textDecorationLine === "none")(
	getComputedStyle(document.querySelector("[data-row='1'].dose .weigh data")))`

func TestBadInput(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	twoAgents(page, "Quince gel")
	page.Press("#losses > summary")
	fields := map[string]string{"batch-liquid": "350", "dose-1-amount": "2", "part-1-amount": "200", "loss-sieve": "", "loss-boil": ""}
	for _, c := range []struct{ name, field, text, says string }{
		{"nothing", "batch-liquid", "", "Type how much to make"},
		{"zero", "batch-liquid", "0", "Zero makes nothing"},
		{"negative", "batch-liquid", "-350", "Below zero"},
		{"beyond every number", "batch-liquid", "1e309", "not a figure"},
		{"NaN", "batch-liquid", "NaN", "not a figure"},
		{"letters", "batch-liquid", "abc", "not a figure"},
		{"two marks", "batch-liquid", "1,2,3", "Two decimal marks"},
		{"a million kilograms", "batch-liquid", "1000000 kg", "at the most"},
		{"long", "batch-liquid", strings.Repeat("9", 400), "Too large"},
		{"markup", "batch-liquid", "<b>350</b>", "not a figure"},
		{"a dose of more than all", "dose-1-amount", "101 %", "100"},
		{"a dose of nothing", "dose-1-amount", "", "Type a figure"},
		{"a negative dose", "dose-1-amount", "-2", "Below zero"},
		{"a dose by volume", "dose-1-amount", "5 ml", "unit"},
		{"doses that are more than the liquid", "dose-1-amount", "300", "100\u00a0%"},
		{"liquid beyond reason", "part-1-amount", "1e309", "not a figure"},
		{"no liquid", "part-1-amount", "0", "Type the liquid"},
		{"all in the sieve", "loss-sieve", "100", "at the most"},
		{"more than all in the sieve", "loss-sieve", "120", "at the most"},
		{"a pan boiled dry", "loss-boil", "9000", "boil off"},
	} {
		t.Run(c.name, func(t *testing.T) {
			page.t = t
			paste(page, c.field, c.text)
			if c.text == "" {
				page.Type(c.field, "")
			}
			place := strings.Replace(c.field, "-1-amount", "-1-say", 1)
			page.WaitText(fmt.Sprintf(`[data-for=%q]`, place), c.says)
			page.Wait(`!` + loud)
			page.WaitFigure("dose-1-mass", 3.5)
			page.WaitFigure("dose-2-mass", 1.75)
			assert.Equal(t, c.text, value(page, c.field), "what was typed stays")
			assert.Less(t, Eval[float64](page, fmt.Sprintf(`(() => {
				const box = s => document.querySelector(s).getBoundingClientRect();
				const field = box('[name=%q]'), said = box('[data-for=%q]');
				return Math.abs(said.top - field.bottom);
			})()`, c.field, place)), 60.0, "the sentence stands at the field")
			page.NoHScroll(360)
			if c.name == "two marks" {
				page.Shot("pan-error")
			}
			page.Type(c.field, fields[c.field])
			page.WaitGone(fmt.Sprintf(`[data-for=%q]`, place))
			page.Wait(loud)
		})
	}
	page.t = t
	assert.False(t, page.Visible("#notice-crash"))
	assert.Equal(t, "Quince gel", value(page, "name"))
	save(page)
}

func TestBadNames(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	twoAgents(page, "Quince gel")
	paste(page, "name", strings.Repeat("long ", 2000))
	page.WaitText(`[data-for=name]`, "at the most")
	page.NoHScroll(360)
	page.Shot("pan-long-name")
	assert.Len(t, value(page, "name"), 10_000, "nothing is cut")
	do(page, "save")
	page.WaitText("#save-state", "correct it")
	page.Wait(`document.activeElement.name === "name"`)
	page.Reload()
	usable(page)
	assert.Len(t, value(page, "name"), 10_000, "nor by a reload")

	paste(page, "name", "one\nname\r\nof three lines")
	page.WaitGone(`[data-for=name]`)
	assert.Equal(t, "one name of three lines", value(page, "name"))
	page.Press("#more > summary")
	for _, field := range []string{"part-1-name", "dose-1-name", "notes", "tags"} {
		before := value(page, field)
		paste(page, field, `<script>alert(1)</script>`+strings.Repeat("ü", 10_000))
		place := strings.Replace(field, "-1-name", "-1-say", 1)
		page.WaitText(fmt.Sprintf(`[data-for=%q]`, place), "at the most")
		page.NoHScroll(360)
		paste(page, field, before)
		if before == "" {
			page.Type(field, "")
		}
		page.WaitGone(fmt.Sprintf(`[data-for=%q]`, place))
	}
	paste(page, "name", `<b onclick="x">Bold</b> & "quoted"`)
	save(page)
	goTo(page, "book")
	page.WaitText(".entry-name", `<b onclick="x">Bold</b> & "quoted"`)
	assert.Zero(t, Eval[int](page, `document.querySelectorAll(".entry b, .entry script, [onclick]").length`))
}

// A figure that is wrong in a folded part must be seen.
func TestBadInputUnfoldsItsPart(t *testing.T) {
	t.Parallel()
	server, browser := Serve(t, Dist(t)), Start(t)
	page := open(server, browser, quinceLink+"&loss-sieve=100")
	page.WaitText(`[data-for="loss-sieve"]`, "at the most")
}

func TestBadShelf(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	goTo(page, "shelf")
	page.Shot("shelf")
	for _, c := range [][3]string{
		{"sheet-mass", "sheet-mass", "999"}, {"powder-bloom", "powder-bloom", "1,2,3"},
		{"scale-1-step", "scale-1-say", "NaN"}, {"scale-2-max", "scale-2-say", "-1"},
	} {
		before := value(page, c[0])
		page.Type(c[0], c[2])
		page.WaitShown(fmt.Sprintf(`[data-for=%q]`, c[1]))
		assert.Equal(t, "true", Eval[string](page, fmt.Sprintf(`document.querySelector('[name=%q]').getAttribute("aria-invalid") ?? ""`, c[0])))
		page.NoHScroll(360)
		if c[0] == "scale-1-step" {
			page.Shot("shelf-error")
		}
		page.Type(c[0], before)
		page.WaitGone(fmt.Sprintf(`[data-for=%q]`, c[1]))
	}
}
