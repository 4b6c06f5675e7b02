//go:build e2e

package e2e

import (
	"encoding/base64"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"tremblant/internal/e2e/webdriver"
)

// Tab is a window of any engine, with what a path through the page needs of it.
// A Page is one in Chromium.
type Tab interface {
	Open(url string)
	Reload()
	Press(selector string)         // waits until it is visible
	Type(name, text string)        // replaces what stands in an input, key by key
	Pick(selector, file string)    // gives a file to a file picker
	Wait(condition string)         // for a JavaScript expression to be true
	Text(expression string) string // the value of a JavaScript expression; a promise is awaited
	Shot(name string)
}

// Pick gives a file to a file picker.
func (p *Page) Pick(selector, file string) {
	p.t.Helper()
	p.do(chromedp.SetUploadFiles(chromedp.CSS(selector), []string{file}))
}

// Text is the value of a JavaScript expression that gives a string.
func (p *Page) Text(expression string) string {
	p.t.Helper()
	return Eval[string](p, expression)
}

// driven is a window of Firefox or WebKit.
type driven struct {
	t       testing.TB
	session *webdriver.Session
}

// drive starts a browser for a test; it ends with the test.
func drive(t testing.TB, start func(dir string, patience time.Duration) (*webdriver.Session, error)) *driven {
	t.Helper()
	session, err := start(t.TempDir(), patience)
	require.NoError(t, err)
	t.Cleanup(session.Close)
	// No narrower than each engine lets its window be.
	require.NoError(t, session.Resize(int(Phone.Width), int(Phone.Height)))
	return &driven{t, session}
}

// Open goes to an address and waits for the page's own load.
func (d *driven) Open(url string) {
	d.t.Helper()
	require.NoError(d.t, d.session.Open(url))
}

// Reload loads the page again as a page does itself: WebDriver's own command has
// Firefox pass over the service worker, as a person does by Shift and reload.
func (d *driven) Reload() {
	d.t.Helper()
	d.Text(`(() => { document.documentElement.dataset.leaving = "1"; setTimeout(() => location.reload()); return "" })()`)
	d.Wait(`!document.documentElement.dataset.leaving && document.readyState === "complete"`)
}

// Press waits until an element is visible, brings it into the middle, where no
// bar covers it, and clicks it.
func (d *driven) Press(selector string) {
	d.t.Helper()
	d.Wait(isAnswered)
	d.Wait(isShown(selector))
	d.patiently(func() error {
		err := d.session.Eval(exists(selector)+`.scrollIntoView({ block: "center", behavior: "instant" })`, nil)
		if err != nil {
			return err
		}
		return d.session.Click(selector)
	})
}

// Type replaces what stands in an input by what is typed, key by key.
func (d *driven) Type(name, text string) {
	d.t.Helper()
	selector := fmt.Sprintf(`[name=%q]`, name)
	d.Wait(isShown(selector))
	d.patiently(func() error {
		// What has the keyboard keeps its selection when keys are sent to it.
		err := d.session.Eval(fmt.Sprintf(`(input => { input.focus(); input.select() })(%s)`, exists(selector)), nil)
		if err != nil {
			return err
		}
		return d.session.Keys(selector, webdriver.Backspace+text)
	})
	d.Wait(isAnswered)
}

// Pick gives a file to a file picker.
func (d *driven) Pick(selector, file string) {
	d.t.Helper()
	require.NoError(d.t, d.session.Keys(selector, file))
}

// Wait waits until a JavaScript expression is true.
func (d *driven) Wait(condition string) {
	d.t.Helper()
	var last error
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		var met bool
		last = d.session.Eval("Boolean("+condition+")", &met)
		if met && last == nil {
			return
		}
	}
	var shown string
	_ = d.session.Eval(`document.body.innerText.slice(0, 2000)`, &shown)
	d.Shot("failed")
	d.t.Fatalf("waited %v in vain for %s\nlast error: %v\nthe page shows: %s", patience, condition, last, shown)
}

// Text is the value of a JavaScript expression that gives a string.
func (d *driven) Text(expression string) string {
	d.t.Helper()
	var text string
	require.NoError(d.t, d.session.Eval(expression, &text), expression)
	return text
}

// Shot takes a picture of what the window shows into the folder that the
// environment variable SCREENS names.
func (d *driven) Shot(name string) {
	d.t.Helper()
	dir := os.Getenv("SCREENS")
	if dir == "" {
		return
	}
	text, err := d.session.Screenshot()
	require.NoError(d.t, err)
	picture, err := base64.StdEncoding.DecodeString(text)
	require.NoError(d.t, err)
	picture, err = lean(picture)
	require.NoError(d.t, err)
	require.NoError(d.t, os.MkdirAll(dir, 0o755))
	require.NoError(d.t, os.WriteFile(filepath.Join(dir, name+".png"), picture, 0o644))
}

// passing are the errors that go by while a page is being laid out.
var passing = []string{"element not interactable", "element click intercepted", "stale element reference", "no such element", "javascript error"}

// patiently does something again while the page moves under it.
func (d *driven) patiently(work func() error) {
	d.t.Helper()
	for end := time.Now().Add(patience); ; time.Sleep(50 * time.Millisecond) {
		err := work()
		var refused *webdriver.Error
		if errors.As(err, &refused) && slices.Contains(passing, refused.Code) && time.Now().Before(end) {
			continue
		}
		require.NoError(d.t, err)
		return
	}
}
