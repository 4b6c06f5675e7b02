//go:build js && wasm

// Package dom is the one place where the program touches the page: finding and
// changing elements, listening to events, and starting work that waits.
//
// Every callback from the browser goes through [Listen] or [Func], and every
// goroutine through [Go]: a panic there is caught and reported to the page, the
// formula stays, and the program lives on. A callback must never wait, since the
// browser's event loop stands still while it runs; what waits goes to [Go].
package dom

import "syscall/js"

// OnPanic is told of a panic that was caught in a callback or goroutine.
// The shell sets it once at the start.
var OnPanic = func(any) {}

var document = js.Global().Get("document")

// El is an element, or none.
type El struct{ js.Value }

// Root is the document's root element.
func Root() El { return El{document.Get("documentElement")} }

// ByID finds an element by its id.
func ByID(id string) El { return El{document.Call("getElementById", id)} }

// All finds the elements of the whole page that match a selector.
func All(selector string) []El { return El{document}.All(selector) }

// There reports whether the element exists.
func (e El) There() bool { return e.Truthy() }

// Find is the first element inside e that matches a selector.
func (e El) Find(selector string) El { return El{e.Call("querySelector", selector)} }

// All are the elements inside e that match a selector.
func (e El) All(selector string) []El {
	list := e.Call("querySelectorAll", selector)
	out := make([]El, list.Length())
	for i := range out {
		out[i] = El{list.Index(i)}
	}
	return out
}

// Closest is e or the nearest element around it that matches a selector.
func (e El) Closest(selector string) El {
	if !e.There() || e.Get("closest").IsUndefined() {
		return El{js.Null()}
	}
	return El{e.Call("closest", selector)}
}

// SetText sets the text of an element. Markup in it stays text.
func (e El) SetText(s string) { e.Set("textContent", s) }

// Typed is the text of an input, "" when it has none.
func (e El) Typed() string {
	v := e.Get("value")
	if v.Type() != js.TypeString {
		return ""
	}
	return v.String()
}

// SetTyped sets the text of an input, unless it is that already: setting moves
// the caret.
func (e El) SetTyped(s string) {
	if e.Typed() != s {
		e.Set("value", s)
	}
}

// Attr is an attribute, "" when it is missing.
func (e El) Attr(name string) string {
	v := e.Call("getAttribute", name)
	if v.Type() != js.TypeString {
		return ""
	}
	return v.String()
}

// SetAttr sets an attribute; an empty value removes it.
func (e El) SetAttr(name, value string) {
	if value == "" {
		e.Call("removeAttribute", name)
		return
	}
	e.Call("setAttribute", name, value)
}

// Show shows or hides an element by its hidden attribute.
func (e El) Show(on bool) { e.Set("hidden", !on) }

// Class sets or removes a class.
func (e El) Class(name string, on bool) { e.Get("classList").Call("toggle", name, on) }

// Focus moves the keyboard to the element.
func (e El) Focus() { e.Call("focus") }

// Append adds children at the end.
func (e El) Append(children ...El) {
	for _, c := range children {
		e.Call("append", c.Value)
	}
}

// Empty removes all children.
func (e El) Empty() { e.Call("replaceChildren") }

// Remove takes the element out of the page.
func (e El) Remove() { e.Call("remove") }

// New makes an element with a class.
func New(tag, class string) El {
	e := El{document.Call("createElement", tag)}
	if class != "" {
		e.Set("className", class)
	}
	return e
}

// Clone makes a copy of the first element of a template.
func Clone(templateID string) El {
	return El{ByID(templateID).Get("content").Get("firstElementChild").Call("cloneNode", true)}
}

// Event is a browser event.
type Event struct{ js.Value }

// Target is the element that the event happened to.
func (ev Event) Target() El { return El{ev.Get("target")} }

// Prevent keeps the browser from its own answer to the event.
func (ev Event) Prevent() { ev.Call("preventDefault") }

// Func makes a callback for the browser that recovers and reports. It lives as
// long as the program: make callbacks once, not one for each row.
func Func(handle func(this js.Value, args []js.Value)) js.Func {
	return js.FuncOf(func(this js.Value, args []js.Value) any {
		defer recovered()
		handle(this, args)
		return nil
	})
}

// Listen calls handle for an event on a target. Listen on a container and look
// at the event's target instead of listening on each row.
func Listen(target js.Value, event string, handle func(Event)) {
	target.Call("addEventListener", event, Func(func(_ js.Value, args []js.Value) {
		handle(Event{args[0]})
	}))
}

// OnDocument listens to an event anywhere on the page.
func OnDocument(event string, handle func(Event)) { Listen(document, event, handle) }

// OnWindow listens to an event of the window.
func OnWindow(event string, handle func(Event)) { Listen(js.Global(), event, handle) }

// Go starts work that may wait.
func Go(work func()) {
	go func() {
		defer recovered()
		work()
	}()
}

func recovered() {
	if r := recover(); r != nil {
		OnPanic(r)
	}
}
