//go:build js && wasm

package screen

import (
	"strconv"

	"tremblant/internal/dom"
)

// figure is a <data> element that shows a computed figure: the text for people,
// the value in base units for machines. It writes only what changed.
type figure struct {
	el    dom.El
	text  string
	value string
	fresh bool
}

func newFigure(el dom.El) *figure { return &figure{el: el, fresh: true} }

// show sets text and value.
func (f *figure) show(value float64, text string) {
	v := strconv.FormatFloat(value, 'g', -1, 64)
	if f.fresh || v != f.value {
		f.el.Set("value", v)
	}
	if f.fresh || text != f.text {
		f.el.SetText(text)
	}
	f.value, f.text, f.fresh = v, text, false
}

// none shows that there is no answer.
func (f *figure) none() {
	if f.fresh || f.value != "" {
		f.el.Set("value", "")
		f.el.SetText("–")
	}
	f.value, f.text, f.fresh = "", "–", false
}

// line is an element with a sentence that comes and goes.
type line struct {
	el    dom.El
	text  string
	class string
	ready bool
}

// say shows a sentence, or hides the element for "".
func (l *line) say(text string) {
	if l.ready && text == l.text {
		return
	}
	l.text, l.ready = text, true
	l.el.SetText(text)
	l.el.Show(text != "")
}

// mark sets one class or none.
func (l *line) mark(class string) {
	if class == l.class {
		return
	}
	if l.class != "" {
		l.el.Class(l.class, false)
	}
	if class != "" {
		l.el.Class(class, true)
	}
	l.class = class
}

// liveRegion tells a screen reader the answer when typing has paused.
type liveRegion struct {
	el    dom.El
	timer *dom.Later
	next  string
}

const liveDelay = 700 // ms: long enough not to speak between two keystrokes

func (r *liveRegion) say(text string) {
	if r.timer == nil {
		r.el = dom.ByID("live")
		r.timer = dom.NewLater(func() { r.el.SetText(r.next) })
	}
	if text == r.next {
		return
	}
	r.next = text
	r.timer.In(liveDelay)
}
