package archtest

import (
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestStructure holds the rules against the module's own sources.
func TestStructure(t *testing.T) {
	problems, err := Check(os.DirFS("../.."))
	require.NoError(t, err)
	for _, p := range problems {
		t.Error(p)
	}
}

// TestTreeIsSeen keeps TestStructure from passing on an empty tree.
func TestTreeIsSeen(t *testing.T) {
	for _, p := range []string{"internal/unit", "internal/site", "wasm"} {
		pkg, ok := placed(p)
		require.True(t, ok)
		entries, err := os.ReadDir("../../" + p)
		require.NoError(t, err)
		assert.True(t, slices.ContainsFunc(entries, func(e os.DirEntry) bool { return strings.HasSuffix(e.Name(), ".go") }), pkg.Path)
	}
}

func TestPlacesAreUnique(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range Packages {
		assert.False(t, seen[p.Path], p.Path)
		seen[p.Path] = true
	}
}

func TestCheckFinds(t *testing.T) {
	const js = "//go:build js && wasm\n\n"
	for name, c := range map[string]struct{ file, text, want string }{
		"an arrow up":             {"internal/liquid/a.go", `import _ "tremblant/internal/gel"`, "internal/liquid (layer 1) imports internal/gel (layer 2)"},
		"an arrow sideways":       {"internal/gel/a.go", `import _ "tremblant/internal/foam"`, "arrows point down"},
		"from the ground":         {"internal/note/a.go", `import _ "tremblant/internal/liquid"`, "arrows point down"},
		"an arrow up in a test":   {"internal/liquid/a_test.go", `import _ "tremblant/internal/plan"`, "arrows point down"},
		"core on the shell":       {"internal/plan/a.go", `import _ "tremblant/internal/dom"`, "needs a browser"},
		"dom on cooking":          {"internal/dom/a.go", js + `package p; import _ "tremblant/internal/gel"`, "arrows point down"},
		"shipped on a tool":       {"wasm/a.go", js + `package p; import _ "tremblant/internal/site"`, "a tool of the developer"},
		"import without a place":  {"internal/gel/a.go", `import _ "tremblant/internal/novel"`, "has no place"},
		"package without a place": {"internal/novel/a.go", ``, "internal/novel: has no place yet: add it to Packages"},
		"the browser in core":     {"internal/gel/a.go", `import _ "syscall/js"`, "internal/gel is core and imports syscall/js"},
		"a clock":                 {"internal/gel/a.go", `import _ "time"`, "imports time"},
		"the system":              {"internal/gel/a.go", `import _ "os"`, "imports os"},
		"below the system":        {"internal/gel/a.go", `import _ "os/exec"`, "imports os/exec"},
		"the network":             {"internal/gel/a.go", `import _ "net/url"`, "imports net/url"},
		"randomness":              {"internal/gel/a.go", `import _ "math/rand/v2"`, "imports math/rand/v2"},
		"heavy JSON":              {"internal/formula/a.go", `import _ "encoding/json"`, "imports encoding/json"},
		"regular expressions":     {"internal/unit/a.go", `import _ "regexp"`, "imports regexp"},
		"reflection":              {"internal/unit/a.go", `import _ "reflect"`, "imports reflect"},
		"a module in core":        {"internal/unit/a.go", `import _ "example.org/heavy"`, "may not import example.org/heavy"},
		"storage elsewhere":       {"internal/screen/a.go", js + `package p; import _ "github.com/hack-pad/go-indexeddb/idb"`, "may not import"},
		"storage in a test":       {"internal/screen/a_test.go", js + `package p; import _ "github.com/hack-pad/go-indexeddb/idb"`, "may not import"},
		"a goroutine":             {"internal/gel/a.go", `func f() { go f() }`, "starts a goroutine"},
		"a select":                {"internal/gel/a.go", `func f() { select {} }`, "waits on channels"},
		"no tag":                  {"internal/dom/a.go", `import _ "syscall/js"`, "lacks the line"},
		"half a tag":              {"internal/dom/a.go", "//go:build js\n\n" + `package p; import _ "syscall/js"`, "lacks the line"},
		"a way round the tag":     {"internal/dom/a.go", "//go:build unix || (js && wasm)\n\n" + `package p; import _ "syscall/js"`, "lacks the line"},
		"a wide tag":              {"internal/dom/a.go", "//go:build js || wasm\n\n" + `package p; import _ "syscall/js"`, "lacks the line"},
		"a tag too late":          {"internal/dom/a.go", "package p\n\n//go:build js && wasm\n\n" + `import _ "syscall/js"`, "lacks the line"},
		"native in the browser":   {"internal/site/a.go", js + `package p; import _ "syscall/js"`, "is native and imports syscall/js"},
		"a callback":              {"wasm/a.go", js + `package p; import "syscall/js"; var _ = js.FuncOf(nil)`, "js.FuncOf belongs to"},
		"a renamed callback":      {"wasm/a.go", js + `package p; import web "syscall/js"; var _ = web.FuncOf`, "js.FuncOf belongs to"},
		"a hidden callback":       {"wasm/a.go", js + `package p; import . "syscall/js"; var _ = FuncOf`, "without a name"},
		"no doc on a function":    {"internal/gel/a.go", `func Dose() {}`, "a.go:2: Dose is exported"},
		"no doc on a method":      {"internal/gel/a.go", "// T is.\ntype T[A any] int\nfunc (*T[A]) Dose() {}", "Dose is exported"},
		"no doc on a type":        {"internal/gel/a.go", `type Dose int`, "Dose is exported"},
		"no doc on a constant":    {"internal/gel/a.go", "const (\n\ta = 1\n\tDose = 2\n)", "Dose is exported"},
		"no doc on a variable":    {"internal/gel/a.go", `var a, Dose int`, "Dose is exported"},
	} {
		t.Run(name, func(t *testing.T) {
			problems := check(t, c.file, c.text)
			require.NotEmpty(t, problems)
			assert.Contains(t, strings.Join(problems, "\n"), c.want)
			assert.Len(t, problems, 1+strings.Count(c.want, "core and imports syscall/js"), "and nothing else: %v", problems)
		})
	}
}

func TestCheckAccepts(t *testing.T) {
	const js = "//go:build js && wasm\n\n"
	for name, c := range map[string]struct{ file, text string }{
		"an arrow down":          {"internal/gel/a.go", `import _ "tremblant/internal/liquid"`},
		"on the ground":          {"internal/note/a.go", `import _ "tremblant/internal/unit"`},
		"the shell on core":      {"internal/screen/a.go", js + `package p; import _ "tremblant/internal/plan"`},
		"a tool on core":         {"internal/e2e/a.go", `import _ "tremblant/internal/gel"`},
		"light imports":          {"internal/gel/a.go", `import ("math"; "strings"; "fmt"; "errors"; "slices")`},
		"storage in its adapter": {"internal/book/indexeddb/a.go", js + `package p; import _ "github.com/hack-pad/go-indexeddb/idb"`},
		"a callback in dom":      {"internal/dom/a.go", js + `package p; import "syscall/js"; var _ = js.FuncOf(nil)`},
		"a longer tag":           {"internal/dom/a.go", "//go:build js && wasm && !soak\n\n" + `package p; import _ "syscall/js"`},
		"another FuncOf":         {"internal/gel/a.go", "var x struct{ FuncOf float64 }\nvar _ = x.FuncOf"},
		"tests are free":         {"internal/gel/a_test.go", "import (_ \"os\"; _ \"time\"; _ \"github.com/stretchr/testify/assert\")\nfunc Dose() { go Dose() }"},
		"documented names":       {"internal/gel/a.go", "// A is.\ntype A int\n\n// Dose is.\nfunc (A) Dose() {}\n\n// Both.\nconst (\n\tB = 1\n\tC = 2\n)\n\nvar (\n\tD = 1 // is\n)\n\ntype e int\n\nfunc (e) Free() {}\n\nfunc (A) Error() string { return \"\" }"},
		"left out":               {"internal/gel/testdata/a.go", `import _ "os"`},
	} {
		t.Run(name, func(t *testing.T) { assert.Empty(t, check(t, c.file, c.text)) })
	}
}

func TestCheckFailsOnWhatItCannotParse(t *testing.T) {
	_, err := Check(fstest.MapFS{"internal/gel/a.go": {Data: []byte("package")}})
	require.Error(t, err)
}

// check runs the rules over one file; a text without a package clause gets one.
func check(t *testing.T, name, text string) []string {
	t.Helper()
	if !strings.Contains(text, "package ") {
		text = "package p\n" + text
	}
	problems, err := Check(fstest.MapFS{name: {Data: []byte(text)}})
	require.NoError(t, err)
	return problems
}
