//go:build e2e

package e2e

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
)

// described is what a screen reader says of a field beside its name and value.
func described(p *Page, name string) string {
	return Eval[string](p, fmt.Sprintf(`(field => document.getElementById(field.getAttribute("aria-describedby"))?.textContent ?? "")(document.querySelector('[name=%q]'))`, name))
}

func TestErrorsAreReadOutWithTheirFields(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	twoAgents(page, "Quince gel")
	for _, field := range []string{"batch-liquid", "dose-1-amount", "name"} {
		before := value(page, field)
		if field == "name" {
			paste(page, field, fmt.Sprintf("%0999d", 0))
		} else {
			page.Type(field, "1,2,3")
		}
		page.Wait(fmt.Sprintf(`document.querySelector('[name=%q]').ariaInvalid === "true"`, field))
		assert.NotEmpty(t, described(page, field), field)
		page.Type(field, before)
		page.Wait(fmt.Sprintf(`!document.querySelector('[name=%q]').ariaInvalid`, field))
		assert.Empty(t, described(page, field), field)
	}
	goTo(page, "shelf")
	for _, field := range []string{"sheet-mass", "scale-1-step"} {
		page.Type(field, "1,2,3")
		page.Wait(fmt.Sprintf(`document.querySelector('[name=%q]').ariaInvalid === "true"`, field))
		assert.Contains(t, described(page, field), "Two decimal marks", field)
	}
}

// What takes a row out says which.
func TestRowsHaveNames(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	twoAgents(page, "Quince gel")
	for button, row := range map[string]string{"drop-part": "part-1-name", "drop-dose": "dose-1-name"} {
		named := Eval[[]string](page, fmt.Sprintf(`[...document.querySelector('[data-do=%q]').ariaLabelledByElements].map(e => e.value || e.ariaLabel)`, button))
		assert.Equal(t, []string{"Take out", value(page, row)}, named)
	}
}

// What the lab answers is said, once, where somebody works in it, and what the pan
// answers is not said again.
func TestLabAnswersAreSpoken(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	openedFoam(page)
	page.Run(`window.said = []; new MutationObserver(() => said.push(document.getElementById("live").textContent))
		.observe(document.getElementById("live"), { childList: true })`)
	page.PressIn(`#lab-foam [name="lab-foam-half"] + button`)
	page.Wait(`said.at(-1) === "1"`)
	page.Type("lab-foam-covers", "24")
	page.Wait(`/^Base to make [0-9.]+ g$/.test(said.at(-1))`)
	page.Type("lab-foam-covers", "-3")
	page.Wait(`/at the least/.test(said.at(-1))`)
	assert.Empty(t, Eval[[]string](page, `said.filter(one => /agar|gelatin|gellan/.test(one))`))
}

// A phone brings up its keyboard for a field that gets it within the press; the row
// itself comes later.
func TestKeyboardComesWithThePress(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	twoAgents(page, "Quince gel")
	page.Run(`document.addEventListener("click", () => { window.within = document.activeElement.tagName; })`)
	page.PressIn(`[data-do="add-dose"]`)
	page.Wait(`document.activeElement.name === "dose-3-name"`)
	assert.Equal(t, "INPUT", Eval[string](page, `within`))
	page.Wait(`!document.querySelector("input[tabindex]")`)
	save(page)
	goTo(page, "book")
	page.Press("#book-list .entry-more > summary")
	page.Press(`[data-do="rename"]`)
	page.Wait(`document.activeElement.name === "entry-1-rename"`)
	assert.Equal(t, "INPUT", Eval[string](page, `within`))
}

// The browser's way back closes the versions where they were opened from the list.
func TestBackFromVersionsLeadsToTheList(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	twoAgents(page, "Quince gel")
	save(page)
	goTo(page, "book")
	for range 2 {
		page.Press("#book-list .entry-more > summary")
		page.Press(`#book-list [data-do="kept"]`)
		page.WaitShown("#kept")
		page.Run(`history.back()`)
		page.WaitGone("#kept")
		assert.True(t, page.Visible("#book-list"))
	}
	page.Press("#book-list .entry-more > summary")
	page.Press(`#book-list [data-do="kept"]`)
	page.WaitShown("#kept")
	page.Press(`[data-do="kept-close"]`)
	page.WaitShown("#book-list")
	page.Run(`history.back()`)
	page.WaitShown("#pan")
	page.Press(`[data-do="kept-pan"]`)
	page.WaitShown("#kept")
	page.Run(`history.back()`)
	page.WaitShown("#pan")
	page.Press(`[data-do="kept-pan"]`)
	page.WaitShown("#kept")
	page.Press(`[data-do="kept-close"]`)
	page.WaitShown("#book-list")
}

// The keyboard goes along into the versions of a formula, to their heading.
func TestVersionsTakeTheKeyboard(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	twoAgents(page, "Quince gel")
	save(page)
	goTo(page, "book")
	page.Press("#book-list .entry-more > summary")
	page.Run(`document.querySelector('#book-list [data-do="kept"]').focus()`)
	press(page, kb.Enter)
	page.WaitShown("#kept")
	page.Wait(`document.activeElement.id === "kept-name"`)
}
