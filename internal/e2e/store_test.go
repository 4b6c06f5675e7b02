//go:build e2e

package e2e

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/storage"
	"github.com/stretchr/testify/assert"
)

// beside opens a page of the same site that runs no program, to reach its store.
func beside(browser *Browser, server *Server) *Page {
	browser.t.Helper()
	page := browser.Page(Phone)
	page.Allow("404") // the browser asks for an icon
	page.Open(server.URL() + "manifest.webmanifest")
	return page
}

// dump is all that stands in the store, as one text; it opens whatever version
// there is.
const dump = `new Promise((resolve, reject) => {
	const request = indexedDB.open("tremblant");
	request.onerror = () => reject(request.error);
	request.onsuccess = () => {
		const db = request.result, names = [...db.objectStoreNames].sort();
		const read = db.transaction(names), all = {};
		for (const name of names) {
			const store = read.objectStore(name);
			store.getAllKeys().onsuccess = ({ target }) => (all[name + " keys"] = target.result);
			store.getAll().onsuccess = ({ target }) => (all[name] = target.result);
		}
		read.oncomplete = () => { db.close(); resolve(db.version + JSON.stringify(all, Object.keys(all).sort())) };
	};
})`

// A newer page may have left a database that this one does not know: after the
// page went back to an older release, or a worker kept one.
func TestStoreOfANewerPage(t *testing.T) {
	t.Parallel()
	server, browser, page := visit(t)
	twoAgents(page, "Quince gel")
	save(page)
	page.Open("about:blank")
	newer := beside(browser, server)
	newer.Run(`new Promise((resolve, reject) => {
		const request = indexedDB.open("tremblant", 7);
		request.onupgradeneeded = () => request.result.createObjectStore("of-tomorrow").put("kept", "x");
		request.onblocked = request.onerror = reject;
		request.onsuccess = () => { request.result.close(); globalThis.upgraded = true; };
	})`)
	newer.Wait(`globalThis.upgraded`)
	before := Eval[string](newer, dump)
	assert.True(t, strings.HasPrefix(before, "7"), before)
	assert.Contains(t, before, "Quince gel")

	page = browser.Page(Phone)
	page.Allow("indexeddb|IndexedDB|book: ")
	page.Open(server.URL())
	usable(page)
	page.WaitText("#notice-storage", "written by a newer version of this page")
	page.Shot("pan-newer-store")
	page.Type("batch-liquid", "700")
	page.WaitFigure("dose-1-mass", 7)
	do(page, "save")
	page.WaitText("#save-state", "only until the page closes")
	assert.NotEqual(t, "saved", Eval[string](page, `document.getElementById("state").dataset.state`))
	goTo(page, "shelf")
	page.WaitText("#kept-state", "saves nothing")
	page.Type("sheet-mass", "2.1")
	page.NoHScroll(360)
	page.Open("about:blank")
	assert.Equal(t, before, Eval[string](newer, dump), "not a byte of it has changed")
}

// A page of a newer release is opened in another tab while this one is open.
func TestNewerPageTakesTheStore(t *testing.T) {
	t.Parallel()
	server, browser, page := visit(t)
	page.Allow("indexeddb|IndexedDB|book: ")
	twoAgents(page, "Quince gel")
	save(page)
	newer := beside(browser, server)
	newer.Run(`{
		const request = indexedDB.open("tremblant", 7);
		request.onsuccess = () => { request.result.close(); globalThis.upgraded = true; };
	}`)
	newer.Wait(`globalThis.upgraded`)
	page.WaitText("#notice-storage", "Another window has moved to a newer version")
	page.Type("dose-1-amount", "3")
	do(page, "save")
	page.WaitText("#save-state", "Could not be saved")
	page.WaitText("#notice-storage", "newer")
	page.WaitFigure("dose-1-mass", 5.25)
	page.Reload()
	usable(page)
	assert.Equal(t, "3", value(page, "dose-1-amount"), "what was typed is still there")
}

// An older tab that does not give way holds the store while this page wants to
// bring it forward. A page of a later release stands in for by asking for the
// version after.
func TestStoreHeldByAnOlderWindow(t *testing.T) {
	t.Parallel()
	server, browser, page := visit(t)
	twoAgents(page, "Quince gel")
	save(page)
	page.Open("about:blank")
	holder := beside(browser, server)
	holder.Run(`indexedDB.open("tremblant").onsuccess = ({ target }) => { globalThis.held = target.result }`)
	holder.Wait(`globalThis.held`)
	holder.Run(`navigator.serviceWorker.getRegistration().then(worker => worker.unregister()).then(() => { globalThis.alone = true })`)
	holder.Wait(`globalThis.alone`)
	call(holder, network.ClearBrowserCache, cdp.Empty{}) // the next page comes from the server
	page = browser.Page(Phone)
	page.Allow("indexeddb|IndexedDB|book: ")
	server.BeforeProgram(`{ const open = IDBFactory.prototype.open; IDBFactory.prototype.open = function (name, version) { return open.call(this, name, version + 1) } }`)
	page.Open(server.URL())
	usable(page)
	page.WaitText("#notice-storage", "Another window of this page holds the book")
	page.Type("batch-liquid", "700")
	page.WaitFigure("dose-1-mass", 7)
	do(page, "save")
	page.WaitText("#save-state", "only until the page closes")
	page.Shot("pan-blocked-store")
	kept := Eval[[]string](holder, `new Promise(resolve => { held.transaction("versions").objectStore("versions").getAll().onsuccess = ({ target }) => resolve(target.result) })`)
	if assert.Len(t, kept, 1, "the book is as it was") {
		assert.Contains(t, kept[0], "Quince gel")
	}
}

// The browser's own quota. It is set before the page begins: the browser counts
// on what was free before for half a minute.
func TestQuotaOfTheBrowser(t *testing.T) {
	t.Parallel()
	server, browser := Serve(t, Dist(t)), Start(t)
	page := browser.Page(Phone)
	page.Allow("indexeddb|IndexedDB|book: |quota|Quota")
	quota := func(bytes *float64) {
		call(page, storage.OverrideQuotaForOrigin, storage.OverrideQuotaForOriginParams{Origin: strings.TrimSuffix(server.URL(), "/"), QuotaSize: bytes})
	}
	none := 1.0
	quota(&none)
	page.Open(server.URL())
	usable(page)
	twoAgents(page, "Quince gel")
	do(page, "save")
	page.Wait(`["unsaved", "brief"].includes(document.getElementById("state").dataset.state)`)
	page.WaitText("#notice-storage", "no room")
	page.Shot("pan-quota")
	page.WaitFigure("dose-1-mass", 3.5)

	quota(nil)
	page.Reload()
	usable(page)
	page.WaitFigure("dose-1-mass", 3.5)
	save(page)
	page.Reload()
	usable(page)
	goTo(page, "book")
	waitNames(page, "Quince gel")
}

// The browser may throw the data of a site away, as when space runs out: while
// the page is open, or between two visits.
func TestStoreEvicted(t *testing.T) {
	t.Parallel()
	for name, closed := range map[string]bool{"while open": false, "while closed": true} {
		t.Run(name, func(t *testing.T) {
			server, browser, page := visit(t)
			page.Allow("close|indexeddb")
			twoAgents(page, "Quince gel")
			save(page)
			if closed {
				page.Open("about:blank")
			}
			call(page, storage.ClearDataForOrigin, storage.ClearDataForOriginParams{Origin: strings.TrimSuffix(server.URL(), "/"), StorageTypes: "indexeddb"})
			if closed {
				page = open(server, browser, "")
			}
			page.WaitText("#notice-storage", "has cleared the formulas")
			page.WaitText("#save-state", "Not saved yet")
			page.Shot(fmt.Sprintf("pan-evicted-closed-%v", closed))
			page.WaitFigure("dose-1-mass", 3.5)
			goTo(page, "book")
			page.WaitText("#book-empty", "Nothing saved yet")
			goTo(page, "pan")
			save(page)
			page.Reload()
			usable(page)
			goTo(page, "book")
			waitNames(page, "Quince gel")
		})
	}
}

// A browser deletes a database that it finds damaged. The page has a second
// copy and says what happened.
func TestStoreBroughtBack(t *testing.T) {
	t.Parallel()
	server, browser, page := visit(t)
	twoAgents(page, "Quince gel")
	save(page)
	page.Open(server.URL() + "sw.js") // of the same origin, and without the page's program
	page.Allow("favicon|404")
	page.Run(`indexedDB.deleteDatabase("tremblant").onsuccess = () => { window.deleted = true; }`)
	page.Wait(`window.deleted`)
	page = open(server, browser, "")
	page.WaitText("#notice-storage", "brought them back from its second copy")
	page.Shot("pan-brought-back")
	goTo(page, "book")
	waitNames(page, "Quince gel")
	page.Reload()
	usable(page)
	page.WaitGone("#notice-storage")
	goTo(page, "book")
	waitNames(page, "Quince gel")
}

// A private window keeps the book only as long as it is open; the page works
// there, and promises nothing.
func TestPrivateWindow(t *testing.T) {
	t.Parallel()
	server, browser := Serve(t, Dist(t)), Start(t, "incognito")
	page := open(server, browser, "")
	twoAgents(page, "Quince gel")
	save(page)
	page.Reload()
	usable(page)
	goTo(page, "book")
	waitNames(page, "Quince gel")
	goTo(page, "shelf")
	page.WaitText("#kept-state", "has not promised")
}
