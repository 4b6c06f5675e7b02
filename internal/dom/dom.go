//go:build js && wasm

// Package dom is the bridge between the program and the page: the page's events
// come in through one function, patches go out through another.
//
// The program runs in a worker, web/program.js; the page's side is web/bind.js.
// Every callback goes through [Func] and every goroutine through [Go]: a panic there
// is caught and reported, the formula stays, and the program lives on. A callback
// must never wait, since the event loop stands still while it runs; what waits goes
// to [Go].
package dom

import "syscall/js"

// OnPanic is told of a panic that was caught in a callback or goroutine.
// The shell sets it once at the start.
var OnPanic = func(any) {}

// page is the page's side of the bridge, see web/bind.js.
func page() js.Value { return js.Global().Get("tremblant").Get("page") }

// Apply carries out a patch on the page.
func Apply(patch string) {
	if patch != "" {
		page().Call("apply", patch)
	}
}

// Ask calls a function of the page that gives a text.
func Ask(name string, args ...any) string {
	v := page().Call(name, args...)
	if v.Type() != js.TypeString {
		return ""
	}
	return v.String()
}

// Tell calls a function of the page.
func Tell(name string, args ...any) { page().Call(name, args...) }

// Events lets the page call handle with the kind of an event and its texts.
func Events(handle func(kind string, args []string)) {
	page().Set("event", Func(func(args []js.Value) {
		texts := make([]string, 0, len(args))
		for _, a := range args {
			if a.Type() == js.TypeString {
				texts = append(texts, a.String())
			}
		}
		if len(texts) > 0 {
			handle(texts[0], texts[1:])
		}
	}))
}

// Func makes a callback for the browser that recovers and reports. It lives as
// long as the program: make callbacks once, not one for each use.
func Func(handle func(args []js.Value)) js.Func {
	return js.FuncOf(func(_ js.Value, args []js.Value) any {
		defer recovered()
		handle(args)
		return nil
	})
}

// Go starts work that may wait.
func Go(work func()) {
	go func() {
		defer recovered()
		work()
	}()
}

func recovered() {
	if r := recover(); r != nil {
		OnPanic(r)
	}
}

// Text finds texts in the object that the loader fetched, and keeps them.
func Text() func(key string) (string, bool) {
	texts := js.Global().Get("tremblant").Get("text")
	kept := map[string]string{}
	return func(key string) (string, bool) {
		if s, ok := kept[key]; ok {
			return s, true
		}
		v := texts.Get(key)
		if v.Type() != js.TypeString {
			return "", false
		}
		kept[key] = v.String()
		return kept[key], true
	}
}

// Now is the time in milliseconds since 1970, UTC.
func Now() int64 { return int64(js.Global().Get("Date").Call("now").Float()) }
