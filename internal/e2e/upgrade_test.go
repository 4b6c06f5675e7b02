//go:build e2e

package e2e

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// onTheBook does something with the raw database while no program holds it, and
// gives a text.
func onTheBook(page *Page, server *Server, work string) string {
	page.t.Helper()
	page.Allow("404") // the browser looks for a picture of the bare file
	page.Open(server.URL() + "manifest.webmanifest")
	return Eval[string](page, `(async () => {
		const asked = (request) => new Promise((done, failed) => { request.onsuccess = () => done(request.result); request.onerror = () => failed(request.error) });
		const [{ name, version }] = await indexedDB.databases();
		`+work+`
	})()`)
}

// all is everything that the database holds, and its version.
const all = `const db = await asked(indexedDB.open(name));
	const held = { version: db.version };
	for (const store of [...db.objectStoreNames].sort()) {
		const s = db.transaction(store).objectStore(store);
		held[store] = [await asked(s.getAllKeys()), await asked(s.getAll())];
	}
	db.close();
	return JSON.stringify(held);`

// An older page over a newer book, as when one window was updated and the other
// comes from a cache: it says so, computes on, and touches nothing.
func TestBookOfANewerPageIsLeftAlone(t *testing.T) {
	t.Parallel()
	server, browser, page := visit(t)
	twoAgents(page, "Quince gel")
	save(page)
	onTheBook(page, server, `(await asked(indexedDB.open(name, version + 1))).close(); return ""`)
	before := onTheBook(page, server, all)
	assert.Contains(t, before, "Quince gel")

	later := open(server, browser, "")
	later.WaitText("#notice-storage", "newer version of this page")
	later.Shot("book-newer")
	later.Type("batch-liquid", "700")
	later.WaitFigure("dose-1-mass", 7) // the draft is there, and computes
	do(later, "save")
	later.WaitText("#save-state", "only until the page closes")
	assert.False(t, later.Visible("#notice-crash"))
	assert.Equal(t, before, onTheBook(later, server, all))
}
