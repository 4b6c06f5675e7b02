//go:build js && wasm

// Command crash is a program that goes wrong when it is told to, for the tests
// of what the page does then.
package main

import "syscall/js"

func main() {
	done := make(chan struct{})
	js.Global().Call("addEventListener", "message", js.FuncOf(func(_ js.Value, args []js.Value) any {
		switch args[0].Get("data").Index(0).String() {
		case "test-panic":
			panic("told to")
		case "test-return":
			close(done)
		}
		return nil
	}))
	js.Global().Get("tremblant").Get("page").Call("ready")
	<-done
}
