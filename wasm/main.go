//go:build js && wasm

// Command wasm is the program behind the page.
package main

import (
	"strconv"
	"syscall/js"
	"time"
)

// version is the name of the release; the build stamps it.
var version = "dev"

func main() {
	document := js.Global().Get("document")
	input := document.Call("querySelector", "[name=batch-liquid]")
	figure := document.Call("querySelector", "[data-figure=gram-1]")
	document.Get("documentElement").Get("dataset").Set("release", version)
	document.Get("documentElement").Get("dataset").Set("ready", "1")
	for last := ""; ; time.Sleep(4 * time.Millisecond) {
		typed := input.Get("value").String()
		if typed == last {
			continue
		}
		last = typed
		if grams, err := strconv.ParseFloat(typed, 64); err == nil {
			text := strconv.FormatFloat(grams/100, 'f', -1, 64)
			figure.Set("textContent", text)
			figure.Call("setAttribute", "data-value", text)
		}
	}
}
