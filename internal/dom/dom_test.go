//go:build js && wasm

package dom_test

import (
	"syscall/js"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/dom"
)

// withPage stands in for web/bind.js: a page with the given functions.
func withPage(t *testing.T, functions map[string]any) js.Value {
	t.Helper()
	page := js.ValueOf(functions)
	js.Global().Set("tremblant", map[string]any{"page": page, "text": map[string]any{"place.pan": "Pan", "broken": 3}})
	t.Cleanup(func() { js.Global().Delete("tremblant") })
	return page
}

// caught collects what panics report.
func caught(t *testing.T) *[]any {
	t.Helper()
	var list []any
	before := dom.OnPanic
	dom.OnPanic = func(what any) { list = append(list, what) }
	t.Cleanup(func() { dom.OnPanic = before })
	return &list
}

func TestAPanicInACallbackIsCaughtAndTheNextEventWorks(t *testing.T) {
	page := withPage(t, nil)
	panics := caught(t)
	var got []string
	dom.Events(func(kind string, args []string) {
		if kind == "bad" {
			none := args[:0]
			_ = none[len(args)] // beyond the end
		}
		got = append(got, kind)
	})
	page.Call("event", "bad", "x")
	page.Call("event", "input", "name", "value")
	assert.Equal(t, []string{"input"}, got)
	require.Len(t, *panics, 1)
	assert.ErrorContains(t, (*panics)[0].(error), "out of range")
}

func TestAPanicInAGoroutineIsCaught(t *testing.T) {
	panics := caught(t)
	dom.Go(func() { panic("boom") })
	require.Eventually(t, func() bool { return len(*panics) == 1 }, time.Second, time.Millisecond)
	assert.Equal(t, "boom", (*panics)[0])
}

// The browser may call with anything; what is no text is passed over.
func TestEventsTakeTextsOnly(t *testing.T) {
	page := withPage(t, nil)
	calls := 0
	dom.Events(func(string, []string) { calls++ })
	page.Call("event")
	page.Call("event", 1, js.Null())
	assert.Zero(t, calls)
	page.Call("event", "go", js.Undefined(), "x")
	assert.Equal(t, 1, calls)
}

func TestAskAndTell(t *testing.T) {
	answer := js.FuncOf(func(js.Value, []js.Value) any { return "yes" })
	defer answer.Release()
	nothing := js.FuncOf(func(js.Value, []js.Value) any { return nil })
	defer nothing.Release()
	withPage(t, map[string]any{"ask": answer, "none": nothing})
	assert.Equal(t, "yes", dom.Ask("ask"))
	assert.Empty(t, dom.Ask("none"))
	dom.Tell("none", "x")
}

func TestText(t *testing.T) {
	withPage(t, nil)
	find := dom.Text()
	s, ok := find("place.pan")
	assert.True(t, ok)
	assert.Equal(t, "Pan", s)
	_, ok = find("broken")
	assert.False(t, ok)
	_, ok = find("missing")
	assert.False(t, ok)
}

func TestNow(t *testing.T) {
	assert.InDelta(t, time.Now().UnixMilli(), dom.Now(), 1000)
}
