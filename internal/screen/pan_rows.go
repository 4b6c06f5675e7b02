//go:build js && wasm

package screen

import (
	"maps"
	"strconv"
	"strings"

	"tremblant/internal/dom"
	"tremblant/internal/note"
)

// rowList is one of the pan's lists: the liquid's parts, or the doses.
type rowList struct {
	pan        *pan
	el         dom.El
	template   string
	prefix     string // "part-" or "dose-"
	limit      int
	properties []string
	rows       []*row
}

// row is one line of a list.
type row struct {
	el     dom.El
	say    *line
	also   map[string]*line
	shares dom.El
	outs   map[string]*figure
	inputs map[string]dom.El
	state  map[string]string // what was last shown, to write only changes
}

func newRowList(p *pan, el dom.El, template, prefix string, limit int, properties []string) *rowList {
	return &rowList{pan: p, el: el, template: template, prefix: prefix, limit: limit, properties: properties}
}

func (l *rowList) field(i int, property string) string {
	return l.prefix + strconv.Itoa(i+1) + "-" + property
}

// used is how many rows the fields need.
func (l *rowList) used() int {
	n := 1
	for i := range l.limit {
		if l.pan.fields[l.field(i, "name")]+l.pan.fields[l.field(i, "amount")] != "" {
			n = i + 1
		}
	}
	return n
}

// rebuild makes the rows that the fields need.
func (l *rowList) rebuild() {
	l.el.Empty()
	l.rows = nil
	for range l.used() {
		l.append()
	}
}

// add makes an empty row and gives its first input.
func (l *rowList) add() dom.El {
	if len(l.rows) == l.limit {
		return l.rows[l.limit-1].inputs["name"]
	}
	return l.append().inputs["name"]
}

func (l *rowList) append() *row {
	i := len(l.rows)
	r := &row{el: dom.Clone(l.template), outs: map[string]*figure{}, inputs: map[string]dom.El{}, also: map[string]*line{}, state: map[string]string{}}
	r.say = &line{el: r.el.Find(".say")}
	sayID := strings.TrimSuffix(l.field(i, "say"), "-")
	r.say.el.Set("id", sayID)
	for _, el := range r.el.All("[data-prop]") {
		property := el.Attr("data-prop")
		field := l.field(i, property)
		if l.pan.fields[field] == "" && el.Get("tagName").String() == "SELECT" {
			l.pan.fields[field] = el.Typed()
		}
		el.SetAttr("name", field)
		el.SetAttr("aria-describedby", sayID)
		el.SetTyped(l.pan.fields[field])
		r.inputs[property] = el
	}
	for _, el := range r.el.All("[data-out]") {
		el.SetAttr("data-figure", l.field(i, el.Attr("data-out")))
		r.outs[el.Attr("data-out")] = newFigure(el)
	}
	for _, el := range r.el.All("[data-also]") {
		r.also[el.Attr("data-also")] = &line{el: el}
	}
	r.shares = r.el.Find(".shares")
	l.rows = append(l.rows, r)
	l.el.Append(r.el)
	return r
}

// drop takes a row out; the rows below move up.
func (p *pan) drop(l *rowList, el dom.El) {
	at := -1
	for i, r := range l.rows {
		if r.el.Equal(el.Closest(".row").Value) {
			at = i
		}
	}
	if at < 0 {
		return
	}
	before := maps.Clone(p.fields)
	name := p.fields[l.field(at, "name")]
	filled := name+p.fields[l.field(at, "amount")] != ""
	for i := at; i < l.limit; i++ {
		for _, property := range l.properties {
			if next, ok := p.fields[l.field(i+1, property)]; ok && i+1 < l.limit {
				p.fields[l.field(i, property)] = next
			} else {
				delete(p.fields, l.field(i, property))
			}
		}
	}
	p.fill(p.fields)
	p.touched()
	if filled {
		p.app.offer(p.app.text("undo.row", note.Typed("name", name)), func() { p.fill(before); p.touched() })
	}
}

// showSays shows the first sentence of each row, whichever input it is about.
func (l *rowList) showSays(says map[string]note.Note) {
	for i, r := range l.rows {
		var first note.Note
		found := false
		for _, property := range l.properties {
			n, ok := says[l.field(i, property)]
			l.invalid(r, property, ok && n.Level == note.Refused && !gentle(n.Code))
			if ok && !found {
				first, found = n, true
			}
		}
		l.pan.sayNote(r.say, first, found)
	}
}

func (l *rowList) invalid(r *row, property string, bad bool) {
	v := ""
	if bad {
		v = "true"
	}
	if r.state["bad-"+property] == v {
		return
	}
	r.state["bad-"+property] = v
	if el, ok := r.inputs[property]; ok {
		el.SetAttr("aria-invalid", v)
	}
}

// show shows or hides a part of the row, if that changes it.
func (r *row) show(key string, el dom.El, on bool) {
	v := "off"
	if on {
		v = "on"
	}
	if r.state[key] != v {
		r.state[key] = v
		el.Show(on)
	}
}
