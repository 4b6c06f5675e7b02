//go:build js && wasm

package dom

import (
	"strings"
	"syscall/js"
)

// Now is the time in milliseconds since 1970, UTC.
func Now() int64 { return int64(js.Global().Get("Date").Call("now").Float()) }

// NewID is a new random identifier (RFC 9562, version 4). Browsers without
// crypto.randomUUID, which need a secure page for it, get one from random values.
func NewID() string {
	crypto := js.Global().Get("crypto")
	if crypto.Get("randomUUID").Type() == js.TypeFunction {
		return crypto.Call("randomUUID").String()
	}
	array := js.Global().Get("Uint8Array").New(16)
	crypto.Call("getRandomValues", array)
	var b [16]byte
	js.CopyBytesToGo(b[:], array)
	b[6], b[8] = b[6]&0x0f|0x40, b[8]&0x3f|0x80
	const hex = "0123456789abcdef"
	var s strings.Builder
	for i, c := range b {
		if i == 4 || i == 6 || i == 8 || i == 10 {
			s.WriteByte('-')
		}
		s.WriteByte(hex[c>>4])
		s.WriteByte(hex[c&15])
	}
	return s.String()
}

// DecimalComma reports whether this reader writes a decimal comma.
func DecimalComma() bool {
	f := js.Global().Get("Intl").Get("NumberFormat").New().Call("format", 1.5)
	return strings.Contains(f.String(), ",")
}

// Date writes a time in milliseconds since 1970 as the reader writes dates.
func Date(ms int64) string {
	opts := map[string]any{"dateStyle": "medium"}
	return js.Global().Get("Intl").Get("DateTimeFormat").New(js.Undefined(), opts).Call("format", float64(ms)).String()
}

// Hash is what stands behind "#" in the page's address.
func Hash() string { return js.Global().Get("location").Get("hash").String() }

// SetHash changes the address without a new entry in the history.
func SetHash(hash string) {
	js.Global().Get("history").Call("replaceState", js.Null(), "", hash)
}

// Later calls work after so many milliseconds; a later call with the same timer
// replaces the earlier one.
type Later struct {
	work func()
	id   js.Value
	fn   js.Func
	set  bool
}

// NewLater makes a timer for a piece of work that must not wait.
func NewLater(work func()) *Later {
	l := &Later{work: work}
	l.fn = Func(func(js.Value, []js.Value) {
		l.set = false
		l.work()
	})
	return l
}

// In starts the timer, or starts it anew.
func (l *Later) In(ms int) {
	l.Stop()
	l.id = js.Global().Call("setTimeout", l.fn, ms)
	l.set = true
}

// Stop stops the timer.
func (l *Later) Stop() {
	if l.set {
		js.Global().Call("clearTimeout", l.id)
		l.set = false
	}
}
