//go:build js && wasm

// Package screen binds the page and the core: it reads what is typed, asks the
// core, and shows figures and sentences. It computes nothing itself.
//
// The page has three places, each in a file of this package: the pan (the
// working formula), the book (saved formulas) and the shelf (what this kitchen
// owns). All events come through a few listeners on the document and are told
// apart by the input's name or the element's data-do.
package screen

import (
	"syscall/js"

	"tremblant/internal/dom"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/phrase"
	"tremblant/internal/unit"
)

// App is the running page.
type App struct {
	words phrase.Book
	pan   *pan
	shelf *shelf
	book  *bookView
	undo  undo
	live  liveRegion
	does  map[string]func(dom.El) // what the buttons do, by data-do
}

// Start binds the page and computes the first answer. It returns when the page
// can be used; storage opens afterwards by itself.
func Start() *App {
	a := &App{does: map[string]func(dom.El){}}
	a.words = phrase.Book{Find: catalogue(), Style: unit.Style{Comma: dom.DecimalComma()}}
	dom.OnPanic = a.panicked
	a.shelf = newShelf(a)
	a.pan = newPan(a)
	a.book = newBookView(a)
	a.listen()
	a.goTo(dom.Hash())
	return a
}

// catalogue finds texts in the object that the loader fetched.
func catalogue() phrase.Catalogue {
	texts := js.Global().Get("tremblant").Get("text")
	kept := map[string]string{}
	return func(key string) (string, bool) {
		if s, ok := kept[key]; ok {
			return s, true
		}
		v := texts.Get(key)
		if v.Type() != js.TypeString {
			return "", false
		}
		kept[key] = v.String()
		return kept[key], true
	}
}

func (a *App) listen() {
	dom.OnDocument("input", func(ev dom.Event) { a.typed(ev.Target()) })
	dom.OnDocument("change", func(ev dom.Event) { a.typed(ev.Target()) })
	dom.OnDocument("submit", func(ev dom.Event) { ev.Prevent() })
	dom.OnDocument("keydown", a.key)
	dom.OnDocument("click", func(ev dom.Event) {
		if el := ev.Target().Closest("[data-do]"); el.There() {
			if do, ok := a.does[el.Attr("data-do")]; ok {
				do(el)
			}
		}
	})
	dom.OnWindow("hashchange", func(dom.Event) { a.goTo(dom.Hash()) })
	a.does["close-notice"] = func(el dom.El) { el.Closest(".notice").Show(false) }
}

// typed hands an input to the place it belongs to.
func (a *App) typed(el dom.El) {
	name := el.Attr("name")
	switch place := el.Closest(".place"); {
	case !place.There():
	case place.Attr("id") == "pan":
		a.pan.typed(name, el)
	case place.Attr("id") == "book":
		a.book.typed(name, el)
	case place.Attr("id") == "shelf":
		a.shelf.typed(name, el)
	}
}

// key makes Enter leave a one-line field, which puts the keyboard of a phone
// away, instead of pressing some button.
func (a *App) key(ev dom.Event) {
	if ev.Get("key").String() != "Enter" {
		return
	}
	if t := ev.Target(); t.Get("tagName").String() == "INPUT" {
		ev.Prevent()
		a.book.enter(t)
		t.Call("blur")
	}
}

var places = [...]string{"pan", "book", "shelf"}

// goTo shows the place that the address names, or opens the formula in it.
func (a *App) goTo(hash string) {
	fields, ok, err := formula.ParseLink(hash)
	if ok {
		a.pan.openLink(fields, err)
		hash = "#pan"
		dom.SetHash(hash)
	}
	at := "pan"
	for _, p := range places {
		if hash == "#"+p {
			at = p
		}
	}
	for _, p := range places {
		dom.ByID(p).Show(p == at)
		current := ""
		if p == at {
			current = "page"
		}
		dom.ByID("to-"+p).SetAttr("aria-current", current)
	}
	js.Global().Call("scrollTo", 0, 0)
	if at == "book" {
		a.book.shown()
	}
}

// visit moves to a place from within the program.
func (a *App) visit(place string) {
	dom.SetHash("#" + place)
	a.goTo("#" + place)
}

// panicked shows what went wrong; the formula stays where it is.
func (a *App) panicked(what any) {
	js.Global().Get("console").Call("error", "recovered: "+describe(what))
	dom.ByID("crash-detail").SetText(describe(what))
	dom.ByID("notice-crash").Show(true)
}

func describe(what any) string {
	switch x := what.(type) {
	case error:
		return x.Error()
	case string:
		return x
	}
	return "panic"
}

// text fills a sentence of the page's own, which is not a note of the core.
func (a *App) text(key string, args ...note.Arg) string { return a.words.Fill(key, args) }
