//go:build e2e

package e2e

import (
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/site"
)

// stops is what the page says on the console when its program cannot run.
const stops = "Tremblant cannot run"

// crashing is the page with a program that goes wrong when it is told to.
var crashing = site.Options{Wasm: "./internal/e2e/testdata/crash"}

func TestStartOnEveryScreen(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	browser := Start(t)
	for name, view := range map[string]View{"phone": Phone, "narrow": Narrow, "tablet": Tablet} {
		page := browser.Page(view)
		page.Open(server.URL())
		page.Ready()
		page.NoHScroll(int(view.Width))
		page.Shot("start-" + name)
		page.Dark(true)
		page.Shot("start-" + name + "-dark")
		for _, panel := range []string{"#boot-stop", "#boot-update", "#boot-slow"} {
			assert.False(t, page.Visible(panel), panel)
		}
		for _, url := range Eval[[]string](page, `performance.getEntriesByType("resource").map(e => e.name)`) {
			assert.True(t, strings.HasPrefix(url, server.URL()), "asks elsewhere: %s", url)
		}
	}
	for _, answer := range server.Answers() {
		assert.Contains(t, []int{http.StatusOK, http.StatusNotModified}, answer.Status, answer.Path)
	}
}

func TestStartBelowAPath(t *testing.T) {
	t.Parallel()
	server := ServeAt(t, Dist(t), "/some/where/")
	page := Start(t).Page(Phone)
	page.Open(server.URL() + "?from=link#part")
	page.Ready()
	page.Offline()
	server.Kill()
	page.Reload()
	page.Ready()
}

// A plain host sends no compressed twin, no security headers, and may not know
// the type of a program.
func TestStartFromAPlainHost(t *testing.T) {
	t.Parallel()
	dist := Dist(t)
	server := Serve(t, dist)
	server.UseHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasSuffix(r.URL.Path, ".wasm") {
			w.Header().Set("Content-Type", "application/octet-stream")
		}
		http.FileServer(http.Dir(dist)).ServeHTTP(w, r)
	}))
	page := Start(t).Page(Phone)
	page.Open(server.URL())
	page.Ready()
	page.Offline()
}

// The policy in the page's own meta element must refuse what it says it does.
func TestPolicyForbidsInlineScript(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	page.Allow("Content Security Policy")
	page.Open(server.URL())
	page.Ready()
	page.Run(`{ const s = document.createElement("script"); s.textContent = "globalThis.slipped = 1"; document.body.append(s) }`)
	assert.False(t, Eval[bool](page, `"slipped" in globalThis`))
	// The one stylesheet in the page is allowed, another is not.
	page.Run(`{ const s = document.createElement("style"); s.textContent = "#app { opacity: 0.5 }"; document.body.append(s) }`)
	assert.Equal(t, "1", Eval[string](page, `getComputedStyle(document.getElementById("app")).opacity`))
	assert.NotEqual(t, "0px", Eval[string](page, `getComputedStyle(document.querySelector("button.main")).minHeight`))
	assert.NotEmpty(t, Eval[string](page, `fetch("https://example.org/").then(() => "", e => String(e))`))
}

func TestStoppedProgram(t *testing.T) {
	t.Parallel()
	server := Serve(t, Variant(t, crashing))
	for name, event := range map[string]string{"a panic": "test-panic", "its end": "test-return"} {
		t.Run(name, func(t *testing.T) {
			page := Start(t).Page(Phone)
			page.Allow(stops)
			page.Open(server.URL())
			page.Ready()
			assert.False(t, page.Visible("#boot-stop"))
			page.Run(`tremblant.program.postMessage(["` + event + `"])`)
			page.WaitText("#boot-stop", "What you saved is safe")
			assert.False(t, Eval[bool](page, `"ready" in document.documentElement.dataset`))
			assert.True(t, Eval[bool](page, `document.getElementById("app").inert`))
			page.Shot("stopped")
			page.Press("#boot-reload")
			page.Ready()
			assert.False(t, page.Visible("#boot-stop"))
		})
	}
}

func TestBrowserWithoutWebAssembly(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	page.Allow(stops)
	page.Before(`delete globalThis.WebAssembly`)
	page.Open(server.URL())
	page.WaitText("#boot-stop", "too old")
}

func TestStartScriptMissing(t *testing.T) {
	t.Parallel()
	dist := filepath.Join(t.TempDir(), "dist")
	require.NoError(t, os.CopyFS(dist, os.DirFS(Dist(t))))
	remove(t, dist, "page.*.js")
	page := Start(t).Page(Phone)
	page.Allow("") // whatever else leans on the script may complain
	page.Open(Serve(t, dist).URL())
	assert.False(t, page.Visible("#boot-slow a"), "not at once")
	page.WaitText("#boot-slow", "load the page again")
}

func TestFilesMissing(t *testing.T) {
	t.Parallel()
	for name, pattern := range map[string]string{
		"the program": "app.*.wasm", "its worker": "program.*.js", "what starts it": "ahead.*.js", "the text": "text.en.*.json",
	} {
		t.Run(name, func(t *testing.T) {
			dist := filepath.Join(t.TempDir(), "dist")
			require.NoError(t, os.CopyFS(dist, os.DirFS(Dist(t))))
			remove(t, dist, pattern)
			server := Serve(t, dist)
			page := Start(t).Page(Phone)
			page.Allow("404|MIME type|" + stops)
			page.Open(server.URL())
			page.WaitText("#boot-stop", "could not be loaded in full")
			assert.False(t, Eval[bool](page, `"ready" in document.documentElement.dataset`))

			server.Use(Dist(t))
			page.Press("#boot-reload")
			page.Ready()
		})
	}
}

// remove deletes the files that match, with their compressed twins.
func remove(t *testing.T, dist, pattern string) {
	t.Helper()
	names, err := fs.Glob(os.DirFS(dist), pattern+"*")
	require.NoError(t, err)
	require.NotEmpty(t, names)
	for _, name := range names {
		require.NoError(t, os.Remove(filepath.Join(dist, name)))
	}
}

// The program that sizes are measured against must really keep its record.
func TestFloorKeepsARecord(t *testing.T) {
	t.Parallel()
	server := Serve(t, Variant(t, site.Options{Wasm: "./internal/site/floor/store"}))
	page := Start(t).Page(Phone)
	page.Allow(stops) // it ends
	page.Open(server.URL())
	page.WaitText("#boot-stop", "stopped")
	record := Eval[string](page, `new Promise((resolve, reject) => {
		const open = indexedDB.open("floor", 1);
		open.onsuccess = () => {
			const get = open.result.transaction("records").objectStore("records").get("key");
			get.onsuccess = () => resolve(get.result);
			get.onerror = reject;
		};
		open.onerror = reject;
	})`)
	assert.Equal(t, "record", record)
}
