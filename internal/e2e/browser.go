//go:build e2e

package e2e

import (
	"context"
	"os"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/inspector"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// patience is how long a page may take for anything that a test waits for. The
// machine may be slow and shared; a test that passes does not wait for it.
const patience = 30 * time.Second

// View is the screen that a page is shown on.
type View struct {
	Width, Height int64
	Scale         float64
	Touch         bool
}

// The screens that the page is made for.
var (
	Phone  = View{360, 740, 2, true}
	Narrow = View{320, 640, 2, true}
	Tablet = View{820, 1180, 2, true}
)

// Browser is one person's browser: pages of it share what is stored.
type Browser struct {
	t   testing.TB
	ctx context.Context
}

// Start starts Chromium with nothing stored; it ends with the test. Extra
// flags are given as they stand on Chromium's command line, without dashes.
func Start(t testing.TB, flags ...string) *Browser {
	t.Helper()
	return launch(t, nil, flags...)
}

// launch is Start with more options for what starts the browser.
func launch(t testing.TB, more []chromedp.ExecAllocatorOption, flags ...string) *Browser {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.Flag("disable-gpu", true),
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.UserDataDir(t.TempDir()),
	)
	if os.Getuid() == 0 {
		options = append(options, chromedp.NoSandbox)
	}
	for _, flag := range flags {
		name, value, found := cut(flag)
		if found {
			options = append(options, chromedp.Flag(name, value))
		} else {
			options = append(options, chromedp.Flag(name, true))
		}
	}
	ctx, stop := chromedp.NewExecAllocator(context.Background(), append(options, more...)...)
	t.Cleanup(stop) // waits until the process has ended
	ctx, cancel := chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	require.NoError(t, chromedp.Do(ctx), "Chromium does not start")
	return &Browser{t: t, ctx: ctx}
}

// Page opens an empty tab with the given screen.
func (b *Browser) Page(view View) *Page {
	b.t.Helper()
	p := &Page{t: b.t}
	ctx, cancel := chromedp.NewContext(b.ctx)
	p.ctx, p.cancel = ctx, cancel
	b.t.Cleanup(p.finish)
	p.must(chromedp.Do(ctx))
	p.listen()
	p.View(view)
	return p
}

// listen keeps what goes wrong in the page: errors on the console, exceptions
// that nothing caught, requests that failed, and crashes.
func (p *Page) listen() {
	console := chromedp.Console(p.ctx)
	go func() {
		for message, err := range console {
			if err != nil {
				return // the page has been closed
			}
			p.note(message.String(), message.IsException() || message.Type == chromedp.ConsoleError)
		}
	}()
	p.must(chromedp.Listen(p.ctx, func(event any) {
		if _, crashed := event.(*inspector.EventTargetCrashed); crashed {
			p.note("the page has crashed", true)
		}
	}))
}

// troubles are what went wrong in a page, and what was expected to.
type troubles struct {
	mu      sync.Mutex
	said    []string // all that stands on the console, a program's last words among it
	noted   []string
	allowed []*regexp.Regexp
}

func (t *troubles) note(text string, trouble bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.said = append(t.said, text)
	if trouble {
		t.noted = append(t.noted, text)
	}
}

// Said is the end of what stands on the console.
func (t *troubles) Said() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return strings.Join(t.said[max(0, len(t.said)-60):], "\n")
}

// Allow says that the test expects errors that match, until it ends.
func (t *troubles) Allow(pattern string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.allowed = append(t.allowed, regexp.MustCompile(pattern))
}

// Troubles lists the errors noted so far that were not allowed.
func (t *troubles) Troubles() []string {
	t.mu.Lock()
	defer t.mu.Unlock()
	var left []string
next:
	for _, text := range t.noted {
		for _, re := range t.allowed {
			if re.MatchString(text) {
				continue next
			}
		}
		left = append(left, text)
	}
	return left
}

// finish fails the test for what went wrong in the page, and closes it.
func (p *Page) finish() {
	p.t.Helper()
	for _, trouble := range p.Troubles() {
		p.t.Errorf("the page reports: %s", trouble)
	}
	if p.t.Failed() {
		p.t.Logf("the page's console:\n%s", p.Said())
	}
	p.cancel()
}

// View changes the page's screen.
func (p *Page) View(v View) {
	p.t.Helper()
	p.view = v
	options := []chromedp.EmulateViewportOption{chromedp.EmulateScale(v.Scale), chromedp.EmulateMobile}
	if v.Touch {
		options = append(options, chromedp.EmulateTouch)
	}
	p.do(chromedp.EmulateViewport(v.Width, v.Height, options...))
}

// Dark shows the page as to a person who prefers dark colours, or light ones.
func (p *Page) Dark(on bool) {
	p.t.Helper()
	scheme := "light"
	if on {
		scheme = "dark"
	}
	p.Prefer("prefers-color-scheme", scheme)
}

// Prefer sets one media feature, for example prefers-reduced-motion to reduce.
// It replaces the one set before.
func (p *Page) Prefer(feature, value string) {
	p.t.Helper()
	call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: feature, Value: value}},
	})
}

// Slow makes the page's processor so many times slower; 1 is full speed.
func (p *Page) Slow(times float64) {
	p.t.Helper()
	call(p, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: times})
}
