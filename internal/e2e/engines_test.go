//go:build e2e

package e2e

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/e2e/webdriver"
)

// engines are the three that browsers are built on.
var engines = []struct {
	name  string
	start func(*testing.T) Tab
}{
	{"Chromium", func(t *testing.T) Tab { return Start(t).Page(Phone) }},
	{"Firefox", func(t *testing.T) Tab { return drive(t, webdriver.Firefox) }},
	{"WebKit", func(t *testing.T) Tab { return drive(t, webdriver.WebKit) }},
}

// paths are what a cook does from the first visit to a kitchen without a
// network, each going on where the one before has ended.
var paths = []struct {
	name string
	walk func(*walker)
}{
	{"first visit", firstVisit},
	{"swap", swapPath},
	{"siphon", siphonPath},
	{"convert", convertPath},
	{"at the stove", stovePath},
	{"save and reload", savePath},
	{"backup and import", importPath},
	{"offline with the server dead", offlinePath},
}

// TestEngines walks the main paths in all three engines.
func TestEngines(t *testing.T) {
	for _, engine := range engines {
		t.Run(engine.name, func(t *testing.T) {
			w := &walker{Tab: engine.start(t), t: t, engine: strings.ToLower(engine.name), server: Serve(t, Dist(t))}
			for _, path := range paths {
				t.Logf("%s", path.name)
				path.walk(w)
				w.noTrouble()
			}
		})
	}
}

// walker walks through the page in one engine.
type walker struct {
	Tab
	t      *testing.T
	engine string
	server *Server
}

func (w *walker) usable() {
	w.t.Helper()
	w.Wait(isReady)
	w.Wait(isBookOpen)
	w.Text(watchTroubles)
}

// watchTroubles keeps what goes wrong in the page on its root element.
const watchTroubles = `(() => {
	const note = text => { document.documentElement.dataset.troubles = (document.documentElement.dataset.troubles ?? "") + text + "\n" };
	addEventListener("error", event => note(event.message ?? String(event)));
	addEventListener("unhandledrejection", event => note(String(event.reason)));
	addEventListener("securitypolicyviolation", event => note(event.violatedDirective + " " + event.blockedURI));
	return "";
})()`

func (w *walker) noTrouble() {
	w.t.Helper()
	assert.Empty(w.t, w.Text(`document.documentElement.dataset.troubles ?? ""`))
	assert.Equal(w.t, "", w.Text(`performance.getEntriesByType("resource").map(e => e.name).filter(url => !url.startsWith(location.origin + "/") && !url.startsWith("blob:" + location.origin)).join(" ")`), "asks elsewhere")
	for _, panel := range []string{"#notice-crash", "#notice-storage", "#boot-stop", "#lab-failed"} {
		assert.Equal(w.t, "false", w.Text("String("+isShown(panel)+")"), panel)
	}
}

func (w *walker) seen(selector, text string) { w.t.Helper(); w.Wait(showsText(selector, text)) }

func (w *walker) figure(name string, value float64) { w.t.Helper(); w.Wait(figureIs(name, value)) }

func (w *walker) goTo(place string) {
	w.t.Helper()
	w.Press("#to-" + place)
	w.Wait(isShown("#" + place))
}

func (w *walker) types(pairs ...string) {
	w.t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		w.Type(pairs[i], pairs[i+1])
	}
}

func (w *walker) lab(part string) {
	w.t.Helper()
	w.Press("#lab-" + part + " > summary")
	w.Wait(isLabOn)
}

func firstVisit(w *walker) {
	w.t.Helper()
	w.Open(w.server.URL())
	w.usable()
	w.Wait(isOffline)
	w.t.Logf("the window is %s wide, of %s", w.Text(`innerWidth + " px"`), w.Text(`navigator.userAgent`))
}

// swapPath puts another agent in place of the example's.
func swapPath(w *walker) {
	w.t.Helper()
	w.lab("swap")
	w.seen("#lab-swap-now-texture", "Fluid gel")
	w.Press(`label:has([name="lab-swap-vegan"])`)
	w.Wait(`![...document.querySelectorAll("#lab-swap .offer-name")].some(e => /gelatin|egg|milk|whey/.test(e.textContent))`)
	row := w.Text(`String([...document.querySelectorAll("#lab-swap .offer-name")].findIndex(e => e.textContent === "iota carrageenan") + 1)`)
	w.Press("#lab-swap-offer-" + row + "-pick")
	w.seen("#lab-swap-chosen", "Put it in the pan")
	mass := w.Text(`document.querySelector("[data-figure=lab-swap-offer-` + row + `-mass]").value`)
	w.Press(`[data-do="lab-swap-use"]`)
	w.Wait(`document.querySelector("[name=dose-1-name]").value === "iota carrageenan"`)
	w.Wait(`document.querySelector("[data-figure=dose-1-mass]").value === ` + quote(mass))
	w.Shot("engine-" + w.engine + "-swap")
}

// siphonPath plans a foam for covers.
func siphonPath(w *walker) {
	w.t.Helper()
	w.Text(`location.hash = "#formula?name=Beetroot+foam&lines=400+g+beetroot+juice;35+g+foam+stabiliser&batch-liquid=400"`)
	w.Wait(`document.querySelector("[name=dose-1-name]").value === "foam stabiliser"`)
	w.lab("foam")
	w.seen(".foam-dangers", "pressure vessel")
	w.types("lab-foam-covers", "38", "lab-foam-portion", "40")
	w.Press(`#lab-foam-half ~ [data-step="1"]`)
	w.Press(`#lab-foam-half ~ [data-step="1"]`)
	w.Press(`[name="lab-foam-gas"]`)
	w.seen("#lab-foam-answer", "Base to make")
	w.figure("lab-foam-chargers", 2)
	w.Shot("engine-" + w.engine + "-siphon")
}

// convertPath scales 200 g of liquid with 2 g and 1 g of agents to 350 g, and to
// portions. The figures are those of TestConvertSaveAndComeBack.
func convertPath(w *walker) {
	w.t.Helper()
	w.goTo("book")
	w.Press(`[data-do="new"]`)
	w.Wait(isShown("#pan"))
	w.Press(`[data-do="add-dose"]`)
	w.types("name", "Quince gel", "part-1-name", "quince juice", "part-1-amount", "200",
		"dose-1-name", "agar", "dose-1-amount", "2", "dose-2-name", "xanthan", "dose-2-amount", "1,0", "batch-liquid", "350")
	w.figure("dose-1-mass", 3.5)
	w.figure("dose-2-mass", 1.75)
	w.figure("dose-2-on-liquid", 0.5)
	w.Press(`label:has([name="make"][value="portions"])`)
	w.types("portions", "40", "portion-size", "6")
	w.figure("yield-mass", 240)
	w.Press(`label:has([name="make"][value="liquid"])`)
	w.figure("dose-1-mass", 3.5)
	w.Shot("engine-" + w.engine + "-pan")
}

// stovePath opens the cook's list over the page, by which nothing beneath it can be
// reached, and closes it by its button and by a key.
func stovePath(w *walker) {
	w.t.Helper()
	const button, beneath = "#lab-method [data-cook=open]", "#lab-method summary"
	w.lab("method")
	w.Wait(`document.querySelectorAll(".prep-steps > li").length > 4`)
	at := ""
	opens := func() {
		w.t.Helper()
		w.Press(button)
		w.Wait(isShown("#cook-list > li[data-state=now]"))
		w.Wait(`Boolean(document.activeElement.closest("#lab-method-cook"))`)
		at = w.Text(`String(scrollY)`)
		w.Text(`String(` + exists(beneath) + `.focus())`)
		assert.Equal(w.t, "false", w.Text(`String(document.activeElement.matches("`+beneath+`"))`), "the page beneath cannot be reached")
	}
	isBack := func() {
		w.t.Helper()
		w.Wait(`!document.querySelector("#lab-method-cook").open && document.activeElement.matches("` + button + `")`)
		assert.Equal(w.t, at, w.Text(`String(scrollY)`))
	}
	opens()
	w.Press("#cook-list > li[data-state=now] label")
	w.seen("#cook-count", "1 / ")
	w.Press("[data-cook=close]")
	isBack()
	opens()
	w.Text(`String(document.dispatchEvent(new KeyboardEvent("keydown", { key: "Escape", bubbles: true })))`)
	isBack()
	w.Press("#lab-method > summary") // closed again
}

// savePath saves, changes what was saved, and finds both again.
func savePath(w *walker) {
	w.t.Helper()
	w.Press(`[data-do="save"]`)
	w.seen("#save-state", "Saved ")
	w.Type("batch-liquid", "700")
	w.figure("dose-1-mass", 7)
	w.seen("#save-state", "Changed since")
	w.Wait(`sessionStorage.getItem("tremblant-draft").includes("700")`)
	w.Reload()
	w.usable()
	w.figure("dose-1-mass", 7) // the draft
	w.goTo("book")
	w.seen("[data-list=entry] .entry-name", "Quince gel")
	w.Press(`[data-do="open"]`)
	w.Wait(isShown("#pan"))      // the figures may have been there before
	w.figure("dose-1-mass", 3.5) // what was saved
}

// importPath carries the book to a page with a store of its own.
func importPath(w *walker) {
	w.t.Helper()
	w.goTo("book")
	w.Text(`(() => {
		const real = URL.createObjectURL;
		URL.createObjectURL = blob => { blob.text().then(text => { document.documentElement.dataset.handed = text }); return real.call(URL, blob) };
		return "";
	})()`)
	w.Press(`#transfer [data-do="backup"]`)
	w.seen("#file-name", "is ready")
	w.Wait(`document.documentElement.dataset.handed`)
	text := w.Text(`document.documentElement.dataset.handed`)
	require.Contains(w.t, text, "Quince gel")
	file := filepath.Join(w.t.TempDir(), "backup.json")
	require.NoError(w.t, os.WriteFile(file, []byte(text), 0o600))

	elsewhere := Serve(w.t, Dist(w.t)) // another port is another store
	w.Open(elsewhere.URL() + "#book")
	w.usable()
	w.seen("#book-empty", "Nothing saved yet")
	w.Pick("#import-file", file)
	w.seen("#import-sum", "1 new")
	w.Press("#import-apply")
	w.seen("#entry-1-name", "Quince gel")
	w.Press(`[data-do="open"]`)
	w.Wait(isShown("#pan")) // the figures may have been there before
	w.figure("dose-1-mass", 3.5)
	w.Shot("engine-" + w.engine + "-imported")
	w.noTrouble()
	w.Open(w.server.URL())
	w.usable()
}

// offlinePath kills the server and goes on, the lab too.
func offlinePath(w *walker) {
	w.t.Helper()
	w.Wait(isOffline)
	w.Text(lookForLab)
	w.Wait(isLabKept)
	w.server.Kill()
	w.Reload()
	w.usable()
	w.goTo("book")
	w.Press(`[data-list=entry] [data-do="open"]`)
	w.Wait(isShown("#pan")) // the figures may have been there before
	w.figure("dose-1-mass", 3.5)
	w.Type("batch-liquid", "100")
	w.figure("dose-2-mass", 0.5)
	w.Press(`[data-do="save"]`)
	w.seen("#save-state", "Saved ")
	w.lab("swap")
	w.Wait(`document.querySelector("#lab-swap-now-texture").textContent !== ""`)
	w.Open(w.server.URL() + "?from=link#shelf")
	w.usable()
	w.Wait(isShown("#shelf"))
	w.Shot("engine-" + w.engine + "-offline")
}
