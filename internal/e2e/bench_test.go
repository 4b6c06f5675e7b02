//go:build e2e && bench

package e2e

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/site"
)

// What is asked of the page. A frame is wished for: on a machine without a graphics
// processor even the bare page takes longer.
const (
	askedPaint      = 16.0 // ms, keystroke to painted answer, median
	askedPaintRatio = 3.0  // of the bare page's
	askedStartRatio = 1.5  // of the empty program's
)

// TestBenchKeystroke measures from a key that goes down to the frame that
// shows its answer.
//
// Keys are sent through the browser's own input path. The clock starts at the
// keydown event's timeStamp, which the browser sets when it takes the key, so
// that waiting in queues counts. The answer has changed when a mutation
// observer finds another value in the figure. The next animation frame
// callback then posts a message to the page itself; its delivery is the first
// thing that can happen after that frame was laid out and painted. Frames come
// 60 times a second, so even a page that does nothing waits some 8 ms for the
// next one; the time until the answer changed, without that wait, is given as
// well. Keys come at changing distances, so as to fall anywhere in a frame.
func TestBenchKeystroke(t *testing.T) {
	slowedBothWays(t, keystroke)
}

func keystroke(t *testing.T, browser *Browser, slow slowing) {
	t.Helper()
	bare := Serve(t, Dist(t))
	bare.UseHandler(http.FileServer(http.Dir("testdata/bare")))
	own := Serve(t, Dist(t))
	var floor, page []sample
	for range 2 { // in turns, since the machine's other work comes and goes
		floor = append(floor, typing(browser, bare.URL(), slow)...)
		page = append(page, typing(browser, own.URL(), slow)...)
	}

	t.Logf("keystroke to painted answer, %d keys", len(page))
	changed := func(s sample) float64 { return s.Changed }
	painted := func(s sample) float64 { return s.Painted }
	t.Logf("  bare page: answer changed %s, painted %s", spread(floor, changed), spread(floor, painted))
	t.Logf("  the page:  answer changed %s, painted %s", spread(page, changed), spread(page, painted))
	ratio := quantile(page, painted, 0.5) / quantile(floor, painted, 0.5)
	t.Logf("  painted, median: %.1f ms (wished for: %g); %.2f times the bare page (asked: at most %g)",
		quantile(page, painted, 0.5), askedPaint, ratio, askedPaintRatio)
	assert.LessOrEqual(t, ratio, askedPaintRatio, "keystroke to painted answer, times the bare page%s", busy())
	t.Logf("  changed, median: %.2f times the bare page", quantile(page, changed, 0.5)/quantile(floor, changed, 0.5))
}

// sample is one keystroke, in milliseconds from the keydown.
type sample struct {
	Changed float64 `json:"changed"`
	Painted float64 `json:"painted"`
}

const keystrokes = 40 // in each turn

// watchKeys leaves the samples in globalThis.samples.
const watchKeys = `{
	globalThis.samples = [];
	const value = () => %[1]s;
	let last = value(), pressed = 0;
	addEventListener("keydown", event => { pressed = event.timeStamp }, true);
	new MutationObserver(() => {
		if (!pressed || value() === last) return;
		const start = pressed, changed = performance.now() - start;
		last = value();
		pressed = 0;
		requestAnimationFrame(() => {
			const { port1, port2 } = new MessageChannel();
			port1.onmessage = () => samples.push({ changed, painted: performance.now() - start });
			port2.postMessage(0);
		});
	}).observe(document.body, { subtree: true, childList: true, characterData: true, attributes: true });
}`

// typing types amounts into the page's field and returns a sample for each key.
func typing(browser *Browser, url string, slow slowing) []sample {
	browser.t.Helper()
	page := browser.Page(Phone)
	page.Open(url)
	page.Ready()
	slow(page, true)
	defer slow(page, false)
	page.Run(fmt.Sprintf(watchKeys, figureValue("dose-1-mass")))
	for i := range keystrokes {
		if i%3 == 0 {
			page.Focus("batch-liquid") // and begin another amount
		}
		page.do(chromedp.KeyEvent(string(rune('1' + (i+i/9)%9))))
		// To look earlier would put work between the key and its answer.
		time.Sleep(time.Duration(100+i*7%17) * time.Millisecond)
		page.Wait(fmt.Sprintf(`samples.length === %d`, i+1))
	}
	return Eval[[]sample](page, `samples`)
}

// TestBenchStart measures from a navigation to a page that can be used, on a
// later visit: the service worker answers, no network is needed. The page is
// usable when the figures of the last visit are painted and its fields keep what is
// typed; an empty program, kept by the same service worker and started the same way,
// when it has run to its end and the frame after that is painted. When the page has
// opened (data-open, not painted yet) and when its program answers (data-ready) is
// given as well. The clock is the page's own, which starts at the navigation. They
// take turns.
//
// It is asked of a processor that is slower as a whole, and of Chromium's throttle,
// which leaves workers as fast as they are, and with them the floor: what the two say is
// far apart. An empty program on the page's own thread, which is how most pages start
// one, is slowed by the throttle.
func TestBenchStart(t *testing.T) {
	slowedBothWays(t, func(t *testing.T, browser *Browser, slow slowing) {
		s := startsOf(t, browser, slow)
		s.tell(t)
		assert.LessOrEqual(t, s.ratio(untilUsable, s.empty), askedStartRatio, "navigation to usable, times the empty program")
	})
}

// starts are the visits to the page and to its floors.
type starts struct{ empty, inPage, own *starting }

func startsOf(t *testing.T, browser *Browser, slow slowing) starts {
	t.Helper()
	begin := func(dir string) *starting { return startingOf(browser, Serve(t, dir)) }
	s := starts{begin(emptyProgram(t, "")), begin(emptyProgram(t, "testdata/empty-in-page")), begin(Dist(t))}
	time.Sleep(firstStay)
	for range 16 {
		for _, one := range []*starting{s.empty, s.inPage, s.own} {
			one.again(slow)
		}
	}
	return s
}

func (s starts) tell(t *testing.T) {
	t.Helper()
	t.Logf("navigation to usable, later visit, %d visits", len(s.own.counted()))
	for _, one := range []struct {
		name string
		*starting
	}{{"empty program, in a worker", s.empty}, {"empty program, in the page", s.inPage}, {"the page", s.own}} {
		all := one.counted()
		t.Logf("  %s: usable %s; open %s; program there %s", one.name, spread(all, untilUsable), spread(all, untilOpen), spread(all, untilReady))
	}
	t.Logf("  median, times the empty program in the page: usable %.2f, open %.2f, program there %.2f",
		s.ratio(untilUsable, s.inPage), s.ratio(untilOpen, s.inPage), s.ratio(untilReady, s.inPage))
	t.Logf("  median, times the empty program in a worker: usable %.2f (asked: at most %g), open %.2f, program there %.2f",
		s.ratio(untilUsable, s.empty), askedStartRatio, s.ratio(untilOpen, s.empty), s.ratio(untilReady, s.empty))
}

// ratio compares the page with one of its floors.
func (s starts) ratio(of func(start) float64, floor *starting) float64 {
	return quantile(s.own.counted(), of, 0.5) / quantile(floor.counted(), of, 0.5)
}

// firstStay is how long somebody stays on the first visit: a browser keeps
// compiled code some seconds after it was compiled.
const firstStay = 3 * time.Second

// start is one visit, in milliseconds from the navigation.
type start struct {
	Open   float64 `json:"open"`
	Usable float64 `json:"usable"` // the frame after that is painted
	Ready  float64 `json:"ready"`
}

func untilOpen(s start) float64   { return s.Open }
func untilUsable(s start) float64 { return s.Usable }
func untilReady(s start) float64  { return s.Ready }

// starting is a page that is visited again and again.
type starting struct {
	page   *Page
	server *Server
	all    []start
}

// watchStart leaves a start in globalThis.start.
const watchStart = `{
	const start = globalThis.start = {};
	new MutationObserver(() => {
		const { open, ready } = document.documentElement.dataset;
		if (ready) start.ready ??= performance.now();
		if (!(open || ready) || start.open) return;
		start.open = performance.now();
		requestAnimationFrame(() => {
			const { port1, port2 } = new MessageChannel();
			port1.onmessage = () => { start.usable = performance.now() };
			port2.postMessage(0);
		});
	}).observe(document, { subtree: true, attributes: true, attributeFilter: ["data-open", "data-ready"] });
}`

func startingOf(browser *Browser, server *Server) *starting {
	browser.t.Helper()
	s := &starting{page: browser.Page(Phone), server: server}
	s.page.Before(watchStart)
	s.page.Visit(server)
	return s
}

func (s *starting) again(slow slowing) {
	s.page.Open("about:blank")
	slow(s.page, true)
	defer slow(s.page, false)
	s.page.Open(s.server.URL())
	s.page.Ready()
	s.page.Wait(`start.usable`)
	s.all = append(s.all, Eval[start](s.page, `start`))
}

// counted are all visits but the first one from the cache, which compiles for the ones
// that follow.
func (s *starting) counted() []start { return s.all[1:] }

// emptyProgram builds a site with an empty program and the page's own service
// worker; its scripts are those in the folder instead, if that is given.
func emptyProgram(t *testing.T, instead string) string {
	t.Helper()
	web := filepath.Join(t.TempDir(), "empty")
	require.NoError(t, os.CopyFS(web, os.DirFS("testdata/empty")))
	if instead != "" {
		for _, name := range []string{"ahead.js", "boot.js"} {
			content, err := os.ReadFile(filepath.Join(instead, name))
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(filepath.Join(web, name), content, 0o644))
		}
	}
	worker, err := os.ReadFile("../../web/sw.js")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(web, "sw.js"), worker, 0o644))
	return Variant(t, site.Options{Web: web, Wasm: "./internal/site/floor/empty"})
}

func quantile[T any](all []T, of func(T) float64, q float64) float64 {
	values := make([]float64, len(all))
	for i, v := range all {
		values[i] = of(v)
	}
	slices.Sort(values)
	return values[min(int(q*float64(len(values))), len(values)-1)]
}

func spread[T any](all []T, of func(T) float64) string {
	return fmt.Sprintf("median %.1f ms, p95 %.1f ms", quantile(all, of, 0.5), quantile(all, of, 0.95))
}

// busy tells how much else the machine had to do: times from a machine that has
// more to do than it has processors compare with each other and nothing else.
func busy() string {
	raw, err := os.ReadFile("/proc/loadavg")
	if err != nil {
		return ""
	}
	load, _, _ := strings.Cut(string(raw), " ")
	return fmt.Sprintf("; %s programs at work on %d processors over the last minute", load, runtime.NumCPU())
}
