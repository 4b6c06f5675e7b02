//go:build e2e

package webdriver

import (
	"encoding/json"
	"fmt"
	"time"
)

// Session is one window of a browser. Its methods are the commands of the W3C
// recommendation WebDriver (W3C, 2018, and its later drafts) of the same names.
type Session struct {
	wire wire
	end  func()
}

// wire carries commands to one kind of browser.
type wire interface {
	// do sends a command and returns the value that it answers with.
	do(command command, element string, parameters map[string]any) (json.RawMessage, error)
}

// command is one of WebDriver's, as it is named over HTTP and by Firefox.
type command struct {
	method, path string // the path follows the session's, with %s for an element
	firefox      string
}

var (
	navigateTo     = command{"POST", "/url", "WebDriver:Navigate"}
	executeAsync   = command{"POST", "/execute/async", "WebDriver:ExecuteAsyncScript"}
	findElement    = command{"POST", "/element", "WebDriver:FindElement"}
	elementClick   = command{"POST", "/element/%s/click", "WebDriver:ElementClick"}
	elementKeys    = command{"POST", "/element/%s/value", "WebDriver:ElementSendKeys"}
	setWindowRect  = command{"POST", "/window/rect", "WebDriver:SetWindowRect"}
	takeScreenshot = command{"GET", "/screenshot", "WebDriver:TakeScreenshot"}
)

// Error is what a browser answers to a command that it cannot carry out. Code is
// WebDriver's own, such as "no such element".
type Error struct {
	Code    string `json:"error"`
	Message string `json:"message"`
}

// Error says what went wrong.
func (e *Error) Error() string { return e.Code + ": " + e.Message }

// elementKey is the name under which WebDriver hands out an element.
const elementKey = "element-6066-11e4-a52e-4f735466cecf"

// Backspace is a key that has no character, as WebDriver encodes it.
const Backspace = "\ue003"

// Open goes to an address and waits for the page's own load.
func (s *Session) Open(url string) error {
	_, err := s.wire.do(navigateTo, "", map[string]any{"url": url})
	return err
}

// Resize sets the window's outer size in CSS pixels, or the least that it can be.
func (s *Session) Resize(width, height int) error {
	_, err := s.wire.do(setWindowRect, "", map[string]any{"width": width, "height": height})
	return err
}

// Eval leaves the value of a JavaScript expression in value, which may be nil; a
// promise is awaited.
func (s *Session) Eval(expression string, value any) error {
	const script = `const done = arguments[0];
		(async () => [%s])().then(([value]) => done({ value }), (error) => done({ failed: String(error) }));`
	raw, err := s.wire.do(executeAsync, "", map[string]any{"script": fmt.Sprintf(script, expression), "args": []any{}})
	if err != nil {
		return err
	}
	var answer struct {
		Value  json.RawMessage
		Failed string
	}
	if err := json.Unmarshal(raw, &answer); err != nil {
		return fmt.Errorf("%s: %w", raw, err)
	}
	if answer.Failed != "" {
		return &Error{"javascript error", answer.Failed}
	}
	if value == nil || answer.Value == nil {
		return nil
	}
	return json.Unmarshal(answer.Value, value)
}

// Click presses the middle of the first element that matches.
func (s *Session) Click(selector string) error {
	element, err := s.find(selector)
	if err != nil {
		return err
	}
	_, err = s.wire.do(elementClick, element, map[string]any{})
	return err
}

// Keys types into the first element that matches; into a file picker, the path
// of the file.
func (s *Session) Keys(selector, text string) error {
	element, err := s.find(selector)
	if err != nil {
		return err
	}
	_, err = s.wire.do(elementKeys, element, map[string]any{"text": text})
	return err
}

// Screenshot is a picture of what the window shows, as PNG in base 64.
func (s *Session) Screenshot() (string, error) {
	raw, err := s.wire.do(takeScreenshot, "", nil)
	if err != nil {
		return "", err
	}
	var picture string
	return picture, json.Unmarshal(raw, &picture)
}

// Close ends the browser.
func (s *Session) Close() { s.end() }

func (s *Session) find(selector string) (string, error) {
	raw, err := s.wire.do(findElement, "", map[string]any{"using": "css selector", "value": selector})
	if err != nil {
		return "", err
	}
	var found map[string]string
	if err := json.Unmarshal(raw, &found); err != nil {
		return "", fmt.Errorf("%s: %w", raw, err)
	}
	return found[elementKey], nil
}

// capabilities asks for a window that waits for pages and scripts as long as the
// tests do.
func capabilities(patience time.Duration, more map[string]any) map[string]any {
	ms := patience.Milliseconds()
	always := map[string]any{
		"timeouts": map[string]any{"script": ms, "pageLoad": ms},
	}
	for name, value := range more {
		always[name] = value
	}
	return map[string]any{"capabilities": map[string]any{"alwaysMatch": always}}
}
