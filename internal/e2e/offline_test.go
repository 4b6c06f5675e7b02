//go:build e2e

package e2e

import (
	"encoding/json"
	"net/http"
	"os"
	"path"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/site"
)

const release = `tremblant.release`

// releases builds the page twice, under two names.
func releases(t *testing.T) (older, newer string) {
	t.Helper()
	return Variant(t, site.Options{Release: "1-older"}), Variant(t, site.Options{Release: "2-newer"})
}

func TestWorksWithTheServerDead(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	browser := Start(t)
	page := browser.Page(Phone)
	page.Visit(server)
	page.WaitText("#boot-offline", "Works without a network")
	server.Kill()

	page.Reload()
	page.Ready()
	page.Type("batch-liquid", "350")
	page.WaitFigure("dose-1-mass", 350*0.8/100)
	assert.False(t, page.Visible("#boot-offline"), "no news any more")

	for _, address := range []string{"?from=link", "index.html", "#part"} {
		other := browser.Page(Phone)
		other.Open(server.URL() + address)
		other.Ready()
	}
}

// The worker keeps what the page has just loaded; asking whether it still
// holds must not load it again.
func TestFirstVisitLoadsEachFileOnce(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	page.Visit(server)
	loaded := map[string]int{}
	for _, answer := range server.Answers() {
		if answer.Status == http.StatusOK {
			loaded[answer.Path]++
		}
	}
	kinds := map[string]bool{}
	for name, times := range loaded {
		switch kind := path.Ext(name); kind {
		case ".wasm", ".json", ".js": // the stylesheet comes in the page
			kinds[kind] = true
			assert.Equal(t, 1, times, name)
		}
	}
	assert.Len(t, kinds, 3, "%v", loaded)
}

func TestUpdateWaitsForConsent(t *testing.T) {
	t.Parallel()
	older, newer := releases(t)
	server := Serve(t, older)
	browser := Start(t)
	page := browser.Page(Phone)
	page.Visit(server)
	usable(page)
	twoAgents(page, "Quince gel")
	save(page)
	page.Type("batch-liquid", "700") // and not saved
	page.WaitText("#save-state", "Changed since")
	page.Wait(`sessionStorage.getItem("tremblant-draft").includes("700")`)
	other := browser.Page(Phone)
	other.Open(server.URL())
	other.Ready()

	server.Use(newer)
	page.Reload()
	page.Ready()
	page.WaitText("#boot-update", "A new version is ready")
	page.Shot("update")
	assert.Equal(t, "1-older", Eval[string](page, release), "nothing is taken without consent")
	page.Reload()
	page.Ready()
	assert.Equal(t, "1-older", Eval[string](page, release), "nor on a reload")
	page.WaitText("#boot-update", "A new version is ready")

	page.Run(`globalThis.stale = true`)
	page.Press("#boot-update-apply")
	page.Wait(`!("stale" in globalThis) && ` + release + ` === "2-newer"`)
	usable(page)
	assert.False(t, page.Visible("#boot-update"))
	page.WaitFigure("dose-1-mass", 7)
	page.WaitText("#save-state", "Changed since")
	goTo(page, "book")
	waitNames(page, "Quince gel")
	do(page, "open")
	page.WaitFigure("dose-1-mass", 3.5) // as it was saved by the old version

	// The other window goes on with what it has, and is told.
	other.WaitText("#boot-update", "Another window")
	assert.Equal(t, "1-older", Eval[string](other, release))
	other.Press("#boot-update-apply")
	other.Wait(release + ` === "2-newer"`)
	other.Ready()

	server.Kill()
	page.Reload()
	page.Ready()
	assert.Equal(t, "2-newer", Eval[string](page, release))
	assert.Equal(t, 1, Eval[int](page, `caches.keys().then(k => k.length)`), "the old version is gone")
}

// A page that was there before there was any worker is not controlled by one,
// and sees no change of it.
func TestUpdateOfAPageFromTheFirstVisit(t *testing.T) {
	t.Parallel()
	older, newer := releases(t)
	server := Serve(t, older)
	page := Start(t).Page(Phone)
	page.Visit(server)
	server.Use(newer)
	page.Run(`navigator.serviceWorker.getRegistration().then(r => r.update())`)
	page.WaitText("#boot-update", "A new version is ready")
	page.Press("#boot-update-apply")
	page.Wait(release + ` === "2-newer"`)
	page.Ready()
}

func TestHalfAnUpdateIsNone(t *testing.T) {
	t.Parallel()
	older, newer := releases(t)
	remove(t, newer, "icons/dome-192.*.png")
	server := Serve(t, older)
	page := Start(t).Page(Phone)
	page.Visit(server)
	server.Use(newer)
	page.Allow("404")
	failed := Eval[string](page, `navigator.serviceWorker.getRegistration().then(async r => {
		await r.update();
		const worker = r.installing;
		await new Promise(done => worker.addEventListener("statechange", done, { once: true }));
		return worker.state;
	})`)
	assert.Equal(t, "redundant", failed)
	server.Kill()
	page.Reload()
	page.Ready()
	assert.Equal(t, "1-older", Eval[string](page, release))
	assert.False(t, page.Visible("#boot-update"))
}

// withLanguage is the page with one more language, whose sentences are the
// English ones with a mark.
func withLanguage(t *testing.T, lang, release string) string {
	t.Helper()
	web := Web(t)
	dir := filepath.Join(web, "text", lang)
	require.NoError(t, os.RemoveAll(dir))
	for _, part := range []string{"", "lab"} {
		names, err := filepath.Glob(filepath.Join(web, "text/en", part, "*.json"))
		require.NoError(t, err)
		require.NotEmpty(t, names)
		require.NoError(t, os.MkdirAll(filepath.Join(dir, part), 0o755))
		for _, name := range names {
			raw, err := os.ReadFile(name)
			require.NoError(t, err)
			sentences := map[string]string{}
			require.NoError(t, json.Unmarshal(raw, &sentences))
			for key, sentence := range sentences {
				sentences[key] = lang + ": " + sentence
			}
			raw, err = json.Marshal(sentences)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(filepath.Join(dir, part, filepath.Base(name)), raw, 0o644))
		}
	}
	return Variant(t, site.Options{Web: web, Release: release})
}

func TestLanguage(t *testing.T) {
	t.Parallel()
	server := Serve(t, withLanguage(t, "eo", "1-older"))
	const spoken = `tremblant.language + " " + document.documentElement.lang + " " + tremblant.text["boot.reload"].slice(0, 4)`

	t.Run("asked for by the browser", func(t *testing.T) {
		page := Start(t, "accept-lang=xx,eo-XX,en").Page(Phone)
		page.Open(server.URL())
		page.Ready()
		assert.Equal(t, "eo eo eo: ", Eval[string](page, spoken))
		page.Offline()
		page.WaitText("#boot-offline", "eo: ")
	})
	t.Run("English when none fits", func(t *testing.T) {
		page := Start(t, "accept-lang=xx").Page(Phone)
		page.Open(server.URL())
		page.Ready()
		assert.Equal(t, "en en Load", Eval[string](page, spoken))
	})
	t.Run("chosen, kept without a network and over an update", func(t *testing.T) {
		page := Start(t, "accept-lang=en").Page(Phone)
		page.Open(server.URL())
		page.Ready()
		page.Offline()
		page.Run(`tremblant.choose("eo")`)
		page.Wait(`tremblant.language === "eo"`)
		page.Ready()
		keptIn(page, "eo")
		server.Kill()
		page.Reload()
		page.Ready()
		assert.Equal(t, "eo eo eo: ", Eval[string](page, spoken))

		server.Start()
		server.Use(withLanguage(t, "eo", "2-newer"))
		page.Reload()
		page.Ready()
		page.WaitText("#boot-update", "eo: ")
		page.Press("#boot-update-apply")
		page.Wait(release + ` === "2-newer"`)
		server.Kill()
		page.Reload()
		page.Ready()
		assert.Equal(t, "eo eo eo: ", Eval[string](page, spoken))
	})
}

// keptIn waits until the worker has kept a language.
func keptIn(page *Page, lang string) {
	page.t.Helper()
	page.Run(`setInterval(async () => {
		for (const name of await caches.keys())
			for (const { url } of await (await caches.open(name)).keys())
				if (url.includes("/text.` + lang + `.")) document.documentElement.dataset.kept = "` + lang + `";
	}, 20)`)
	page.Wait(`document.documentElement.dataset.kept === "` + lang + `"`)
}
