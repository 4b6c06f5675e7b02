//go:build e2e

package e2e

import (
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
)

// From the example in the book to the grams for the liquid at hand: at most six
// taps, those on the phone's keyboard among them. The siphon's and the swap's taps
// are counted with their own sections.
func TestNewcomerComesToGramsInSixTaps(t *testing.T) {
	t.Parallel()
	_, _, page := visit(t)
	thumb := counter{page: page}
	thumb.press("#to-book")
	thumb.press("[data-list=example] [data-row='1'] .open")
	page.WaitShown("#pan")
	thumb.typed("batch-liquid", "750")
	// 0.8 % and 0.15 % of the liquid, as the example says.
	page.WaitFigure("dose-1-mass", 6)
	page.WaitFigure("dose-2-mass", 1.125)
	t.Logf("example to own grams: %d taps and %d keys", thumb.taps, thumb.keys)
	assert.LessOrEqual(t, thumb.taps+thumb.keys, 6)
	page.Shot("newcomer-grams")
}

// Nothing that a cook does asks another place than the page's own for anything.
func TestNothingIsAskedElsewhere(t *testing.T) {
	t.Parallel()
	server, _, page := visit(t)
	var mu sync.Mutex
	var asked []string
	call(page, network.Enable, network.EnableParams{})
	page.must(chromedp.Listen(page.ctx, func(event any) {
		if sent, ok := event.(*network.EventRequestWillBeSent); ok {
			mu.Lock()
			defer mu.Unlock()
			asked = append(asked, sent.Request.URL)
		}
	}))
	page.Reload()
	usable(page)
	twoAgents(page, "Quince gel")
	save(page)
	page.Press("#lab-swap > summary")
	page.Wait(isLabOn)
	for _, part := range Eval[[]string](page, `[...document.querySelectorAll("#pan details[data-lab]:not([open])")].map(e => e.id)`) {
		page.PressIn("#" + part + " > summary")
	}
	goTo(page, "book")
	backup(page, downloads(page))
	goTo(page, "shelf")

	mu.Lock()
	defer mu.Unlock()
	assert.NotEmpty(t, asked)
	for _, url := range append(asked, Eval[[]string](page, `performance.getEntriesByType("resource").map(e => e.name)`)...) {
		own := strings.HasPrefix(url, server.URL()) || strings.HasPrefix(url, "blob:"+server.URL()) || strings.HasPrefix(url, "data:")
		assert.True(t, own, "asks elsewhere: %s", url)
	}
}
