//go:build js && wasm

package screen

import "tremblant/internal/dom"

// undo offers to take back the last step that took something away. It stays
// until it is used, closed, or another step takes its place.
type undo struct {
	back func()
}

// offer shows what happened and how to take it back.
func (a *App) offer(what string, back func()) {
	if a.undo.back == nil {
		a.does["undo"] = func(dom.El) { a.takeBack() }
	}
	a.undo.back = back
	dom.ByID("undo-what").SetText(what)
	dom.ByID("notice-undo").Show(true)
}

func (a *App) takeBack() {
	dom.ByID("notice-undo").Show(false)
	if back := a.undo.back; back != nil {
		a.undo.back = func() {}
		back()
	}
}
