//go:build js && wasm

// Command crash is a program that goes wrong when it is told to, for the tests
// of what the page does then.
package main

import "syscall/js"

func main() {
	done := make(chan struct{})
	on := func(name string, do func()) {
		js.Global().Call("addEventListener", name, js.FuncOf(func(js.Value, []js.Value) any { do(); return nil }))
	}
	on("test-panic", func() { panic("told to") })
	on("test-return", func() { close(done) })
	js.Global().Get("document").Get("documentElement").Get("dataset").Set("ready", "1")
	<-done
}
