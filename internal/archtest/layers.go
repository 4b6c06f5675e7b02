// Package archtest holds the rules of the code's structure and the check that
// enforces them. It runs natively, as a test, over the parsed sources.
//
// The rules:
//
//   - An import goes down the layers of [Packages], never up or sideways, but
//     for the lowest layer, whose packages are the shared vocabulary.
//   - A core package is pure: no clock, randomness, input or output, browser or
//     goroutine, nothing that makes the shipped program heavy, and no module
//     from outside but those it is given in [Packages].
//   - A native package is a tool of the developer: nothing that ships imports it.
//   - A file that touches the browser carries the tag js && wasm.
//   - Callbacks are made in one place, and storage is reached in one place.
//   - Every exported name has a doc comment.
//
// A new package is placed in [Packages]; until then the check fails.
package archtest

import "strings"

// Kind says where a package may run.
type Kind int

// The kinds of package.
const (
	Core   Kind = iota // pure, runs anywhere
	Shell              // in the browser
	Native             // on the developer's machine
)

// Package is the place of one package.
type Package struct {
	Path  string   // below the module's root
	Kind  Kind     //
	Layer int      // a package imports only from lower layers
	Uses  []string // modules from outside, and forbidden ones of the standard library, that it may import all the same
}

const (
	indexedDB = "github.com/hack-pad/go-indexeddb"
	qrCode    = "github.com/piglig/go-qr"
)

// ground is the layer whose packages may import each other.
const ground = 0

// Packages is the place of every package, from the ground up.
var Packages = []Package{
	// The words that all others are written in.
	{"internal/unit", Core, ground, nil},
	{"internal/source", Core, ground, nil},
	{"internal/note", Core, ground, nil},
	{"internal/wire", Core, ground, nil},
	// What is in the pan, and what sets it.
	{"internal/liquid", Core, 1, nil},
	{"internal/agent", Core, 1, nil},
	{"internal/formula", Core, 1, nil},
	{"internal/phrase", Core, 1, nil},
	{"internal/view", Core, 1, nil},
	// What comes of the two, and the record of it.
	{"internal/gel", Core, 2, nil},
	{"internal/foam", Core, 2, nil},
	{"internal/emulsion", Core, 2, nil},
	{"internal/sphere", Core, 2, nil},
	{"internal/dry", Core, 2, nil},
	// How it is made and kept.
	{"internal/plan", Core, 6, nil},
	{"internal/plan/safety", Core, 4, nil},
	{"internal/plan/process", Core, 5, nil},
	{"internal/plan/weigh", Core, 3, nil},
	{"internal/plan/cool", Core, 3, nil},
	{"internal/plan/timeline", Core, 3, nil},
	{"internal/plan/method", Core, 4, nil},
	// Callers of the book wait for its store: they hand it a context.
	{"internal/book", Core, 3, []string{"context", "sync"}},
	// What stands on the page: pure, so that it is tested natively.
	{"internal/screen", Core, 7, []string{"context"}},
	{"internal/lab", Core, 7, []string{qrCode}},
	// The shell. dom knows the browser and nothing of cooking.
	{"internal/dom", Shell, 1, nil},
	{"internal/book/indexeddb", Shell, 4, []string{indexedDB}},
	{"wasm", Shell, 8, nil},
	{"wasm/lab", Shell, 8, nil},
	// The developer's tools. The floors are programs to measure against.
	{"internal/site", Native, 9, []string{"github.com/andybalholm/brotli"}},
	{"internal/site/cmd/site", Native, 10, nil},
	{"internal/site/cmd/icons", Native, 10, []string{"github.com/chromedp"}},
	{"internal/site/floor/empty", Shell, 0, nil},
	{"internal/site/floor/store", Shell, 0, []string{indexedDB}},
	{"internal/archtest", Native, 9, nil},
	{"internal/archtest/cmd/layers", Native, 10, nil},
	{"internal/plan/plantest", Native, 6, []string{"github.com/stretchr/testify"}},
	{"internal/book/booktest", Native, 4, []string{"github.com/stretchr/testify"}},
	{"internal/book/kill", Native, 9, []string{"github.com/chromedp", "github.com/stretchr/testify"}},
	{"internal/book/kill/page", Shell, 8, nil},
	{"internal/e2e/webdriver", Native, 9, nil},
	{"internal/e2e", Native, 10, []string{"github.com/chromedp", "github.com/stretchr/testify"}},
}

// callbacks may call js.FuncOf: the choke point for page events, the storage
// adapter, whose requests call back, and the page of the kill harness, which is
// not shipped.
var callbacks = []string{"internal/dom", "internal/book/indexeddb", "internal/book/kill/page"}

// forbidden are the impure and the heavy imports, which no core package may
// have. A name stands for the packages below it as well.
var forbidden = []string{
	"syscall", "time", "os", "net", "log", "math/rand", "math/big", "unsafe", "runtime", "reflect", "plugin",
	"encoding/json", "encoding/csv", "encoding/gob", "encoding/xml", "regexp", "crypto",
	"text/template", "html", "testing", "flag", "database/sql", "go", "debug",
}

// below reports whether an import path is the named one or lies below it.
func below(path, name string) bool {
	return path == name || strings.HasPrefix(path, name+"/")
}
