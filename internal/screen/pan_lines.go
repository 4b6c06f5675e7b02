//go:build js && wasm

package screen

import (
	"maps"
	"slices"
	"strings"
	"syscall/js"

	"tremblant/internal/dom"
	"tremblant/internal/formula"
	"tremblant/internal/note"
)

// readLines puts a pasted recipe into the pan. Name, tags, notes and what to
// make stay; lines that were not understood are kept and shown with the reason.
func (p *pan) readLines(text string) {
	lines := formula.ParseLines(text, findAgent)
	if len(lines) == 0 {
		return
	}
	before := maps.Clone(p.fields)
	p.fill(p.withLines(maps.Clone(p.fields), lines))
	p.touched()
	p.app.offer(p.app.text("undo.pasted"), func() { p.fill(before); p.touched() })
}

// withLines replaces the ingredients of f by those of the lines.
func (p *pan) withLines(f formula.Fields, lines []formula.Line) formula.Fields {
	for _, l := range []*rowList{p.parts, p.doses} {
		for i := range l.limit {
			for _, property := range l.properties {
				delete(f, l.field(i, property))
			}
		}
	}
	var got formula.Formula
	var unread []string
	for _, l := range lines {
		switch {
		case l.Part != nil && len(got.Parts) < formula.MaxParts:
			got.Parts = append(got.Parts, *l.Part)
		case l.Dose != nil && len(got.Doses) < formula.MaxDoses:
			got.Doses = append(got.Doses, *l.Dose)
		default:
			unread = append(unread, l.Text)
		}
	}
	for name, value := range formula.FieldsOf(got, p.app.words.Style) {
		if strings.HasPrefix(name, "part-") || strings.HasPrefix(name, "dose-") {
			f[name] = value
		}
	}
	delete(f, "lines")
	f["unread"] = strings.Join(unread, "\n")
	return f
}

// showUnread lists the kept lines with the reason and a way to drop each.
func (p *pan) showUnread() {
	kept := p.reading.Formula.Unread
	key := strings.Join(kept, "\n")
	if key == p.unread.last {
		return
	}
	p.unread.last = key
	dom.ByID("unread-box").Show(len(kept) > 0)
	p.unread.el.Empty()
	for _, text := range kept {
		li := dom.New("li", "warn")
		quote := dom.New("span", "kind")
		quote.SetText(text)
		why := dom.New("span", "")
		if lines := formula.ParseLines(text, findAgent); len(lines) > 0 && lines[0].Why != nil {
			why.SetText(p.app.words.Note(lines[0].Why.Note))
		}
		drop := dom.New("button", "bare")
		drop.SetAttr("type", "button")
		drop.SetAttr("data-do", "drop-unread")
		drop.SetAttr("data-line", text)
		drop.SetText(p.app.text("bench.drop"))
		li.Append(quote, why, drop)
		p.unread.el.Append(li)
	}
}

func (p *pan) dropUnread(el dom.El) {
	before := maps.Clone(p.fields)
	name := el.Attr("data-line")
	kept := slices.DeleteFunc(slices.Clone(p.reading.Formula.Unread), func(s string) bool { return s == name })
	p.fields["unread"] = strings.Join(kept, "\n")
	p.answer()
	p.touched()
	p.app.offer(p.app.text("undo.row", note.Typed("name", name)), func() { p.fill(before); p.touched() })
}

// openLink puts the formula of a link into the pan; a bad link changes nothing.
func (p *pan) openLink(f formula.Fields, err error) {
	if refused, ok := err.(*note.Refusal); ok {
		p.says["link"].mark("")
		p.says["link"].say(p.app.words.Note(refused.Note))
		dom.ByID("storage-problem").SetText(p.app.words.Note(refused.Note))
		dom.ByID("notice-storage").Show(true)
		return
	}
	if text := f["lines"]; text != "" {
		f = p.withLines(f, formula.ParseLines(text, findAgent))
	}
	name := f["name"]
	if name == "" {
		name = p.app.text("book.unnamed")
	}
	p.replace(f, p.app.text("undo.opened", note.Typed("name", name)))
}

// showLink writes the link of the working formula to be copied.
func (p *pan) showLink() {
	where := js.Global().Get("location")
	link := where.Get("origin").String() + where.Get("pathname").String() + "#" + p.fields.Link()
	box := dom.ByID("link-text")
	box.SetTyped(link)
	box.Show(true)
	box.Focus()
	box.Call("select")
}
