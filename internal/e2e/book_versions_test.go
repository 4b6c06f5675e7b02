//go:build e2e

package e2e

import (
	"fmt"
	"image"
	_ "image/png" // the form of the browser's pictures
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// small lists what a finger must hit and is lower than 44 CSS pixels (WCAG 2.2,
// success criterion 2.5.5), among what is visible inside an element. A choice
// that fills its label is measured by the label.
const small = `[...document.querySelectorAll(%s)].flatMap(root => [...root.querySelectorAll("button,a,select,input,summary")])
	.filter(e => e.checkVisibility({ visibilityProperty: true }) && !e.classList.contains("unseen"))
	.map(e => ({ e, box: (e.matches("input[type=radio],input[type=checkbox]") ? e.closest("label") : e).getBoundingClientRect() }))
	.filter(({ box }) => box.height < 44)
	.map(({ e, box }) => e.outerHTML.slice(0, 120) + " " + box.height)`

// Fingers fails the test when something in an element is too low to be hit.
func (p *Page) Fingers(selector string) {
	p.t.Helper()
	assert.Empty(p.t, Eval[[]string](p, fmt.Sprintf(small, quote(selector))))
}

// Choose chooses from a select, or sets a radio or a checkbox, as a press does.
func (p *Page) Choose(name, value string) {
	p.t.Helper()
	p.Wait(exists(fmt.Sprintf(`[name=%q]`, name)))
	p.Run(fmt.Sprintf(`{
		const [name, value] = [%s, %s];
		const all = [...document.querySelectorAll("[name=\"" + name + "\"]")];
		const el = all.find(e => e.type === "radio" && e.value === value) ?? all[0];
		if (el.type === "radio") el.click();
		else if (el.type === "checkbox") { if (el.checked !== (value !== "")) el.click(); }
		else { el.focus(); el.value = value; el.dispatchEvent(new Event("input", { bubbles: true })); }
	}`, quote(name), quote(value)))
}

// PressIn brings an element away from the edges of the screen, where bars stand,
// and presses it.
func (p *Page) PressIn(selector string) {
	p.t.Helper()
	p.Answered() // what an answer brings into sight may move the rest
	p.OnScreen(selector)
	p.Press(selector)
}

// OnScreen brings an element to the middle of the screen and waits until it is drawn.
func (p *Page) OnScreen(selector string) {
	p.t.Helper()
	p.toMiddle(selector)
	Eval[bool](p, `new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => done(true))))`)
}

func (p *Page) toMiddle(selector string) {
	p.t.Helper()
	p.Wait(exists(selector))
	p.Run(fmt.Sprintf(`%s.scrollIntoView({ block: "center" })`, exists(selector)))
}

// Saved waits until the book has what is in the pan.
func (p *Page) Saved() {
	p.t.Helper()
	p.Press(`[data-do="save"]`)
	p.Wait(`document.getElementById("state").dataset.state === "saved"`)
}

// openBook opens the page and waits for its book.
func openBook(t *testing.T, browser *Browser, server *Server) *Page {
	t.Helper()
	page := browser.Page(Phone)
	page.Open(server.URL())
	page.Ready()
	page.Wait(`document.documentElement.dataset.book === "1"`)
	return page
}

// recipe opens a formula of one agent by its link, and saves it twice.
func recipe(page *Page, server *Server) {
	page.t.Helper()
	page.Run(`location.hash = "#formula?name=Medlar+gel&tags=cold,cheese&lines=500+g+medlar+juice;5+g+agar&batch-liquid=350"`)
	page.Wait(`document.querySelector("[name=name]").value === "Medlar gel"`)
	page.Saved()
	page.Type("dose-1-amount", "6")
	page.Wait(`document.getElementById("state").dataset.state === "changed"`)
	page.Saved()
}

func TestVersionsOnAPhone(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := openBook(t, Start(t), server)
	recipe(page, server)
	page.Press(`[data-do="kept-pan"]`)
	page.WaitText("#version-1-what", "agar: 5\u00a0g → 6\u00a0g")
	page.WaitText("#compare", "changed")
	page.NoHScroll(360)
	page.Fingers("#kept")
	page.Shot("book-versions")
	page.View(Narrow)
	page.NoHScroll(320)
	page.Fingers("#kept")
	page.Shot("book-versions-narrow")
	page.Dark(true)
	page.Shot("book-versions-narrow-dark")
	page.Dark(false)
	page.View(Phone)

	page.PressIn(`[data-list="version"] > li:nth-child(2) summary`)
	page.Shot("book-version-more")
	page.PressIn(`[data-list="version"] > li:nth-child(2) [data-do="version-back"]`)
	page.WaitText("#version-1-name", "Version 3")
	page.WaitText("#undo-what", "Version 1")
	page.Reload()
	page.Ready()
	page.Wait(`document.querySelector("[name='dose-1-amount']").value === "5"`)
	page.Wait(`document.documentElement.dataset.book === "1"`)
	page.Press("#to-pan")
	page.Press(`[data-do="kept-pan"]`)
	page.WaitText("#version-1-name", "Version 3")
}

func TestTrialsAndCupsOnAPhone(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := openBook(t, Start(t), server)
	recipe(page, server)
	page.Press(`[data-do="kept-pan"]`)
	page.Press(`#trial-fold > summary`)
	page.Choose("trial-firmness", "1")
	page.Choose("trial-weeping", "1")
	page.Type("trial-spread", "40")
	page.NoHScroll(360)
	page.Fingers("#kept")
	page.Shot("book-trial")
	page.View(Narrow)
	page.NoHScroll(320)
	page.Shot("book-trial-narrow")
	page.View(Phone)
	page.PressIn(`[data-do="trial-save"]`)
	page.WaitText("#trial-1-what", "too firm · a few drops · spreads 40")
	page.PressIn(`[data-do="trial-edit"]`)
	page.WaitText("#trial-of", "Changing the trial")
	page.Choose("trial-weeping", "0")
	page.NoHScroll(360)
	page.Shot("book-trial-edit")
	page.PressIn(`[data-do="trial-save"]`)
	page.WaitText("#trial-1-what", "too firm · does not weep · spreads 40")
	page.Wait(`document.querySelectorAll('[data-list="trial"] > li').length === 1`)
	page.Press(`#trial-fold > summary`)

	page.Press(`#ladder-fold > summary`)
	page.WaitFigure("ladder-3-dose", 1.2)
	page.WaitFigure("ladder-3-mass", 0.96)
	page.Choose("ladder-1-firmness", "0")
	page.Choose("ladder-3-firmness", "2")
	page.NoHScroll(360)
	page.Fingers("#kept")
	page.Shot("book-cups")
	page.View(Narrow)
	page.NoHScroll(320)
	page.Shot("book-cups-narrow")
	page.View(Phone)
	page.PressIn(`[data-do="ladder-save"]`)
	page.Wait(`document.querySelectorAll('[data-list="trial"] > li').length === 3`)
	page.Shot("book-trials-kept")

	page.Press(`#to-pan`)
	page.Press("#lab-kitchen > summary")
	page.Wait(`document.documentElement.dataset.lab === "1"`)
	page.Wait(`document.querySelectorAll('[data-list="lab-kitchen-factor"] > li').length === 1`)
	assert.Greater(t, page.Figure("lab-kitchen-factor-1-value"), 1.0, "this agar is stronger than the tables say")
	page.Shot("lab-kitchen")
	page.Press("#to-shelf")
	page.WaitText("#learned", "agar")
	page.Fingers("#learned")
	page.Shot("shelf-learned")
	page.Choose("learned-1-use", "")
	page.Press("#to-pan")
	page.WaitText("#lab-kitchen-none", "Nothing yet")
}

func TestFiltersAndBinOnAPhone(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := openBook(t, Start(t), server)
	recipe(page, server)
	page.Press(`#to-book`)
	page.Press(`[data-do="new"]`)
	page.Type("dose-1-name", "gelatin")
	page.Type("dose-1-amount", "5")
	page.Type("part-1-name", "cream")
	page.Type("part-1-amount", "300")
	page.Type("batch-liquid", "300")
	page.Saved()
	page.Press(`#to-book`)
	page.Press("#chips > summary")
	page.Shot("book-filters")
	page.NoHScroll(360)
	page.Fingers("#book-list")
	page.View(Narrow)
	page.NoHScroll(320)
	page.View(Phone)
	page.Run(`[...document.querySelectorAll("#chips label")].find(l => l.innerText.includes("gelatin")).querySelector("input").click()`)
	page.WaitText("#book-count", "1 of 2")
	page.WaitText("#entry-1-name", "cream")
	page.Press(`[data-list="entry"] summary`)
	page.Shot("book-entry-more")
	page.Press(`[data-do="delete"]`)
	page.WaitText("#entry-1-name", "Medlar gel")
	page.Press("#bin > summary")
	page.Press(`[data-do="purge"]`)
	page.WaitText("#purge-ask", "cannot be undone")
	page.Fingers("#bin")
	page.Shot("book-bin")
	page.Press(`[data-do="purge-no"]`)
	page.Press(`[data-do="restore"]`)
	page.WaitText("#book-count", "2 of 2")
	assert.False(t, page.Visible("#bin"))
}

// The code on the screen is read as another phone would read it, by a decoder
// that shares no code with the encoder.
func TestCodeOnTheScreenIsReadBack(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := openBook(t, Start(t), server)
	recipe(page, server)
	page.Press("#lab-share > summary")
	page.Wait(`document.getElementById("lab-share-path").getAttribute("d")`)
	page.Wait(isLabOn)
	page.Answered() // what else the first answer fills moves the code
	for _, dark := range []bool{false, true} {
		page.Dark(dark)
		page.Shot(fmt.Sprintf("lab-share-dark-%v", dark))
		page.OnScreen("#lab-share-code") // what is off the screen may not be drawn
		link := codeOn(page)
		require.True(t, strings.HasPrefix(link, server.URL()), link)

		other := openBook(t, Start(t), server)
		other.Type("part-1-name", "what was there")
		other.Run("location.hash = " + quote(link[strings.Index(link, "#"):]))
		other.WaitFigure("dose-1-mass", 6.0/500*350)
		other.WaitText("#undo-what", "is in the pan")
		other.Press(`[data-do="undo"]`)
		other.Wait(`document.querySelector("[name='part-1-name']").value === "what was there"`)
	}
	page.Dark(false)
	page.Press("#more > summary")
	page.Run(`{ const notes = document.querySelector("[name=notes]"); notes.value = "Stir. ".repeat(300); notes.dispatchEvent(new Event("input", { bubbles: true })); }`)
	page.WaitText("#lab-share-big", "too long")
	assert.False(t, page.Visible("#lab-share-code"))
}

// codeOn reads the code off a picture of the screen. As with a camera, what still moves
// is looked at again: the page is laid out anew when its colours and its height change.
func codeOn(page *Page) string {
	page.t.Helper()
	var read *gozxing.Result
	var failed error
	for range 5 {
		picture, err := runFor(page, chromedp.Screenshot(chromedp.CSS("#lab-share-code"), chromedp.NodeVisible))
		require.NoError(page.t, err)
		img, _, err := image.Decode(strings.NewReader(string(picture)))
		require.NoError(page.t, err)
		bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
		require.NoError(page.t, err)
		if read, failed = qrcode.NewQRCodeReader().Decode(bitmap, nil); failed == nil {
			return read.GetText()
		}
		time.Sleep(300 * time.Millisecond)
		page.OnScreen("#lab-share-code")
	}
	require.NoError(page.t, failed, "five pictures")
	return ""
}

// The link goes onto the clipboard; where the browser refuses, it stands on the page,
// marked. What was said goes when the link is another.
func TestLinkIsCopied(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := openBook(t, Start(t), server)
	recipe(page, server)
	page.Run(`Object.defineProperty(navigator, "clipboard", { value: { writeText: async (text) => {
		if (globalThis.refuses) throw new DOMException("no", "NotAllowedError");
		globalThis.taken = text;
	} } }); document.execCommand = () => false`)
	page.Press("#lab-share > summary")
	page.Wait(isLabOn)
	page.Wait(`document.getElementById("lab-share-copy").dataset.link`)
	page.Answered()
	page.Press("#lab-share-copy")
	page.WaitText("#lab-share-copied", "is copied")
	page.Shot("lab-share-copied")
	page.Fingers("#lab-share")
	assert.Equal(t, Eval[string](page, `document.getElementById("lab-share-copy").dataset.link`), Eval[string](page, `taken`))
	assert.False(t, page.Visible("#lab-share-text"))

	page.Run(`globalThis.refuses = true`)
	page.Press("#lab-share-copy")
	page.WaitText("#lab-share-refused", "did not let")
	assert.False(t, page.Visible("#lab-share-copied"))
	page.Shot("lab-share-refused")
	page.Wait(`((e) => e.id === "lab-share-text" && e.selectionEnd === e.value.length && e.value.startsWith("http"))(document.activeElement)`)

	page.Type("batch-liquid", "351")
	page.Wait(`document.getElementById("lab-share-refused").hidden && document.getElementById("lab-share-text").hidden`)
	assert.Contains(t, Eval[string](page, `document.getElementById("lab-share-copy").dataset.link`), "batch-liquid=351")
}

// ---- files

// downloads lets the page save files, and returns the folder that they go to.
func downloads(page *Page) string {
	page.t.Helper()
	dir := page.t.TempDir()
	call(page, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: dir})
	return dir
}

// backup takes the whole book out, in two presses, and returns the file.
func backup(page *Page, dir string) (name, text string) {
	page.t.Helper()
	page.Press("#to-book")
	page.Press(`#transfer [data-do="backup"]`)
	page.WaitText("#file-name", "is ready")
	page.Press("#file-save")
	require.Eventually(page.t, func() bool {
		names, _ := filepath.Glob(filepath.Join(dir, "*.json"))
		if len(names) != 1 {
			return false
		}
		raw, err := os.ReadFile(names[0])
		name, text = names[0], string(raw)
		return err == nil && strings.HasSuffix(text, "}\n")
	}, patience, patience/300)
	page.WaitText("#backup-state", "Last backup")
	return name, text
}

func importFile(page *Page, file string) {
	page.t.Helper()
	page.do(chromedp.SetUploadFiles(chromedp.CSS("#import-file"), []string{file}))
}

func TestBackupWipeImportOnAPhone(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	browser := Start(t)
	page := openBook(t, browser, server)
	recipe(page, server)
	page.Press(`[data-do="kept-pan"]`)
	page.Press(`#trial-fold > summary`)
	page.Choose("trial-firmness", "-1")
	page.PressIn(`[data-do="trial-save"]`)
	page.WaitText("#trial-1-what", "too soft")
	page.Press(`[data-do="kept-close"]`)
	page.Press("#to-shelf")
	page.Type("sheet-mass", "2.1")
	page.Press("#to-book")
	dir := downloads(page)
	first, text := backup(page, dir)
	page.Shot("book-backup")
	page.NoHScroll(360)
	page.Fingers("#book")
	kept := filepath.Join(t.TempDir(), "first.json")
	require.NoError(t, os.Rename(first, kept))

	page.Allow("404")                                // the browser looks for a picture of the bare file
	page.Open(server.URL() + "manifest.webmanifest") // the program must let go first
	page.Run(`Promise.all([navigator.storageBuckets.delete("second-copy"), indexedDB.databases().then(all => Promise.all(all.map(({ name }) => new Promise(done => {
		const gone = indexedDB.deleteDatabase(name);
		gone.onsuccess = done;
	}))))]).then(() => { localStorage.clear(); sessionStorage.clear(); document.documentElement.setAttribute("wiped", ""); })`)
	page.Wait(`document.documentElement.hasAttribute("wiped")`)
	page.Open(server.URL())
	page.Ready()
	page.Wait(`document.documentElement.dataset.book === "1"`)
	page.Press("#to-book")
	page.WaitText("#book-empty", "Nothing saved yet")

	importFile(page, kept)
	page.WaitText("#import-sum", "2 new")
	page.WaitText("#incoming-1-what", "new, up to version 2")
	page.NoHScroll(360)
	page.Fingers("#import-box")
	page.Shot("book-import")
	page.Press("#import-apply")
	page.WaitText("#entry-1-name", "Medlar gel")
	assert.Equal(t, "2.1", Eval[string](page, `document.querySelector("[name='sheet-mass']").value`))
	_, again := backup(page, dir)
	assert.Equal(t, text, again, "byte for byte")

	importFile(page, kept)
	page.WaitText("#import-nothing", "in the book already")
	page.Press(`[data-do="import-drop"]`)

	broken := filepath.Join(t.TempDir(), "broken.json")
	require.NoError(t, os.WriteFile(broken, []byte(text[:len(text)/2]), 0o600))
	importFile(page, broken)
	page.WaitText(`[data-for="import-file"]`, "broken.json: This file is damaged at line")
	page.NoHScroll(360)
	page.Shot("book-import-broken")
	assert.False(t, page.Visible("#import-box"))
}

// A file that is dropped is imported; the page is not left for it.
func TestDropAndShareOnAPhone(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := Start(t).Page(Phone)
	// Headless Chromium has nobody to share with: what is handed over is kept.
	page.Before(`navigator.canShare = ({ files }) => files[0].name.endsWith(".txt");
		navigator.share = async ({ files }) => { globalThis.shared = [files[0].name, files[0].type, await files[0].text()]; };`)
	page.Open(server.URL())
	page.Ready()
	page.Wait(`document.documentElement.dataset.book === "1"`)
	recipe(page, server)
	page.Press("#to-book")
	page.Press(`#transfer [data-do="backup"]`)
	page.WaitText("#file-share", "Share")
	page.Press("#file-share")
	page.Wait(`globalThis.shared`)
	shared := Eval[[]string](page, `globalThis.shared`)
	assert.Regexp(t, `^tremblant-\d{4}-\d\d-\d\d\.json\.txt$`, shared[0], "where .json is not taken, .txt is")
	assert.Equal(t, "text/plain", shared[1])
	page.WaitText("#backup-state", "Last backup")

	other := openBook(t, Start(t), server)
	drop := func(name, text string) {
		other.Run(fmt.Sprintf(`{
			const carried = new DataTransfer();
			carried.items.add(new File([%s], %s));
			for (const type of ["dragover", "drop"]) {
				const event = new DragEvent(type, { dataTransfer: carried, bubbles: true, cancelable: true });
				document.querySelector("main").dispatchEvent(event);
				if (!event.defaultPrevented) throw new Error("the browser would leave the page");
			}
		}`, quote(text), quote(name)))
	}
	drop("cake.txt", "agar 2 g")
	other.WaitText(`[data-for="import-file"]`, "cake.txt: This file is not a backup of this book")
	drop(shared[0], shared[2])
	other.WaitText("#import-sum", "1 new")
	other.Press("#import-apply")
	other.WaitText("#entry-1-name", "Medlar gel")
}

func TestBackupReminderOnAPhone(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	page := openBook(t, Start(t), server)
	recipe(page, server)
	for i := range 8 {
		page.Type("batch-liquid", fmt.Sprint(400+i))
		page.Wait(`document.getElementById("state").dataset.state === "changed"`)
		page.Saved()
	}
	page.Press("#to-book")
	page.WaitText("#backup-due-text", "No backup yet. Changes so far: 10")
	page.NoHScroll(360)
	page.Fingers("#backup-due")
	page.Shot("book-reminder")
	page.Press(`[data-do="backup-later"]`)
	page.Wait(`document.getElementById("backup-due").hidden`)
	page.Reload()
	page.Ready()
	page.Wait(`document.documentElement.dataset.book === "1"`)
	assert.False(t, page.Visible("#backup-due"))
}

// What was typed in the lab is called in versions as it is in the lab, whose texts come
// for it, in the reader's language.
func TestVersionsInTheLabsWords(t *testing.T) {
	t.Parallel()
	server := Serve(t, Dist(t))
	p := Start(t, "accept-lang=de").Page(Phone)
	p.Visit(server)
	twoAgents(p, "Quittengel")
	p.Run(`document.querySelector("#lab-foam").open = true`)
	p.Wait(isLabOn)
	for _, covers := range []string{"20", "30"} {
		set(p, "lab-foam-covers", covers)
		do(p, "save")
		p.Wait(`document.querySelector("#state").dataset.state === "saved"`)
	}
	p.Reload()
	p.Ready()
	p.Wait(`document.documentElement.dataset.book === "1"`)
	do(p, "kept-pan")
	p.WaitText("#compare", "schaum: Gäste geändert")
	p.NoHScroll(360)
	p.Shot("versions-lab-de")
}
