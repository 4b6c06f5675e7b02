// Package kill proves on a real browser that what was reported as saved is kept.
//
// The harness builds a small page, opens it in Chromium, and kills Chromium with
// SIGKILL to its process group at random moments while the page saves. Then it
// starts Chromium again on the same profile and compares everything that is
// stored with everything that was reported. The harness alone judges; the page
// only saves and reports.
//
//	go test -tags kill ./internal/book/kill -rounds 200
//
// It has shown that Chromium can lose a whole database by such a kill, which the
// second copy of package indexeddb makes good; the torn logs that do it are put
// down by a test of their own.
//
// The same page serves tests of what only a browser can do to the book: two
// tabs, its quota, and throwing data away.
//
// SIGKILL ends the browser, not the device: what the browser handed to the
// operating system survives. A loss of power is beyond this harness; for that
// the book asks for strict durability.
package kill
