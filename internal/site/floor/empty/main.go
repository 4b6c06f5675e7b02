//go:build js && wasm

// Command empty is the smallest program that the toolchain can build for the
// browser: a floor to measure the size and the start of the page against.
package main

func main() {}
