// Package webdriver drives Firefox and WebKit for the tests of the whole page.
//
// Both speak W3C WebDriver: WebKit over HTTP through Debian's WebKitWebDriver,
// Firefox over its own port, where the same commands travel as JSON with their
// length before them. All but this file carries the tag e2e.
package webdriver
