// Package e2e tests the whole page in Chromium, and its main paths in Firefox
// and WebKit too, against the bytes that ship.
//
// All but this file carries the tag e2e, so that plain go test needs no
// browser; make test-page builds dist/ and runs it. A test reads as what a
// person does and sees:
//
//	server := Serve(t, Dist(t))
//	page := Start(t).Page(Phone)
//	page.Open(server.URL())
//	page.Ready()
//	page.Type("batch-liquid", "350")
//	page.WaitFigure("dose-1-mass", 3.5)
//
// A page that writes an error to the console, throws, or crashes fails its
// test at the end, unless the test has said with Allow that it expects it.
//
// The names that tests hold on to are those of the page itself: an input's
// name, a figure's data-figure with its value in base units, and
// data-ready="1" on the root element, which the program sets when the page can
// be used.
//
// With the tag bench, TestBench measures how fast the page answers and starts,
// against floors measured in the same run; with the tag soak, TestSoak makes
// ten thousand edits and looks for leaks.
package e2e
