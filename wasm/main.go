//go:build js && wasm

// Command wasm is the program behind the page.
package main

import (
	"strconv"
	"syscall/js"
)

// version is the name of the release; the build stamps it.
var version = "dev"

func main() {
	document := js.Global().Get("document")
	input := document.Call("querySelector", "[name=batch-liquid]")
	figure := document.Call("querySelector", "[data-figure=gram-1]")
	show := func() {
		grams, err := strconv.ParseFloat(input.Get("value").String(), 64)
		if err != nil {
			figure.Set("textContent", "–")
			return
		}
		text := strconv.FormatFloat(grams/100, 'f', -1, 64)
		figure.Set("textContent", text)
		figure.Call("setAttribute", "data-value", text)
	}
	input.Call("addEventListener", "input", js.FuncOf(func(js.Value, []js.Value) any { show(); return nil }))
	show()
	document.Get("documentElement").Get("dataset").Set("ready", "1")
	js.Global().Get("console").Call("info", "release "+version)
	select {}
}
