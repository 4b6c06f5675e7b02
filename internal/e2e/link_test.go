//go:build e2e

package e2e

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

const quinceLink = "#formula?name=Quince+gel&part-1-name=quince+juice&part-1-amount=200&dose-1-name=agar&dose-1-amount=2&batch-liquid=350"

func TestLinkOpensAFormula(t *testing.T) {
	t.Parallel()
	server, browser, page := visit(t)
	first := Start(t) // a browser that has never seen the page
	fresh := open(server, first, quinceLink)
	fresh.WaitFigure("dose-1-mass", 3.5)
	assert.Equal(t, "Quince gel", value(fresh, "name"))
	fresh.WaitText("#save-state", "Not saved yet")
	assert.False(t, fresh.Visible("#notice-undo"), "nothing was there that could be lost")

	// Over a formula that was being worked on, and back.
	twoAgents(page, "Beetroot air")
	page.Run(`location.hash = ` + quote(quinceLink))
	page.WaitFigure("total-mass", 353.5)
	assert.Equal(t, "Quince gel", value(page, "name"))
	do(page, "undo")
	page.WaitFigure("total-mass", 355.25)
	assert.Equal(t, "Beetroot air", value(page, "name"))
	assert.Equal(t, "#pan", Eval[string](page, `location.hash`), "a reload must not open the link again")

	// The page's own link does the same elsewhere.
	page.Press("#more > summary")
	do(page, "link")
	page.WaitShown("[name=link-text]")
	link := value(page, "link-text")
	page.Shot("pan-link")
	assert.True(t, strings.HasPrefix(link, server.URL()), link)
	again := open(server, first, strings.TrimPrefix(link, server.URL()))
	again.WaitFigure("total-mass", 355.25)
	assert.Equal(t, "Beetroot air", value(again, "name"))
	_ = browser
}

func TestBadLinks(t *testing.T) {
	t.Parallel()
	server, browser, page := visit(t)
	twoAgents(page, "Quince gel")
	for name, hash := range map[string]string{
		"rubbish": "#formula?%%%&&&=", "unknown field": "#formula?oops=1", "too long": "#formula?name=" + strings.Repeat("x", 9000),
		"not UTF-8": "#formula?name=%ff%fe", "control character": "#formula?name=%00",
	} {
		page.Run(`location.hash = ` + quote(hash))
		page.WaitText("#notice-storage", "This link is")
		assert.Equal(t, "Quince gel", value(page, "name"), name)
		page.WaitFigure("dose-1-mass", 3.5)
		page.Press("#notice-storage button")
	}
	other := open(server, browser, "#formula?oops=1")
	other.WaitText("#notice-storage", "damaged near")
	other.Shot("pan-bad-link")
	other.WaitFigure("dose-1-mass", 3.5) // the draft is there
}

func TestMarkupInALinkStaysText(t *testing.T) {
	t.Parallel()
	server, browser := Serve(t, Dist(t)), Start(t)
	page := open(server, browser, "#formula?name=%3Cimg+src%3Dx+onerror%3Dalert(1)%3E&part-1-name=%3Cb%3Ejuice&part-1-amount=200"+
		"&dose-1-name=%3Cscript%3E&dose-1-amount=2&batch-liquid=350&unread=%3Ci%3Ewhat&tags=%3Cu%3Etag")
	page.WaitFigure("dose-1-mass", 3.5)
	save(page)
	goTo(page, "book")
	page.WaitText(".entry-name", "<img src=x onerror=alert(1)>")
	page.WaitText(".entry-what", "<u>tag")
	assert.Zero(t, Eval[int](page, `document.querySelectorAll("main img:not(#photo-picture), .entry :is(b, i, u, script), .notice :is(b, i, u, script), [onerror]").length`))
	page.Press("[data-row='1'] .entry-more > summary")
	do(page, "delete")
	page.WaitText("#undo-what", "<img")
	assert.Zero(t, Eval[int](page, `document.querySelectorAll("main img:not(#photo-picture), .entry :is(b, i, u, script), .notice :is(b, i, u, script), [onerror]").length`))
}
