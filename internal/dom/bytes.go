//go:build js && wasm

package dom

import "syscall/js"

// Bytes makes a Uint8Array of bytes, for a function of the page to take.
func Bytes(b []byte) js.Value {
	array := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(array, b)
	return array
}

// AskBytes calls a function of the page that gives a Uint8Array. Anything else
// is no bytes.
func AskBytes(name string) []byte {
	v := page().Call(name)
	if v.Type() != js.TypeObject || !v.InstanceOf(js.Global().Get("Uint8Array")) {
		return nil
	}
	b := make([]byte, v.Length())
	js.CopyBytesToGo(b, v)
	return b
}
