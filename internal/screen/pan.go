//go:build js && wasm

package screen

import (
	"maps"
	"strings"

	"tremblant/internal/dom"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// pan is the working formula: what is typed, and the answer to it.
type pan struct {
	app     *App
	form    dom.El
	fields  formula.Fields
	reading formula.Reading
	batch   gel.Batch
	fine    bool // batch answers what stands in the fields
	ever    bool // batch holds some earlier answer
	parts   *rowList
	doses   *rowList
	says    map[string]*line
	whole   *line
	sums    sums
	notes   *noteList
	unread  *noteList
	lossSum *line
	touched func() // told of every change, for the draft
}

func newPan(a *App) *pan {
	p := &pan{app: a, form: dom.ByID("pan"), fields: formula.Fields{}, says: map[string]*line{}, touched: func() {}}
	for _, el := range p.form.All(".say[data-for]") {
		p.says[el.Attr("data-for")] = &line{el: el}
	}
	p.whole = p.says[""]
	p.parts = newRowList(p, dom.ByID("parts"), "t-part", "part-", formula.MaxParts, []string{"name", "amount", "unit"})
	p.doses = newRowList(p, dom.ByID("doses"), "t-dose", "dose-", formula.MaxDoses, []string{"name", "amount", "unit", "basis", "grade"})
	p.sums = newSums(p.form)
	p.notes = &noteList{app: a, el: dom.ByID("notes")}
	p.unread = &noteList{app: a, el: dom.ByID("unread")}
	p.lossSum = &line{el: dom.ByID("losses-sum")}
	p.actions()
	p.fill(formula.Fields{})
	return p
}

func (p *pan) actions() {
	does := p.app.does
	does["add-part"] = func(dom.El) { p.parts.add().Focus() }
	does["add-dose"] = func(dom.El) { p.doses.add().Focus() }
	does["drop-part"] = func(el dom.El) { p.drop(p.parts, el) }
	does["drop-dose"] = func(el dom.El) { p.drop(p.doses, el) }
	does["read-lines"] = func(dom.El) { p.readLines(p.fields["lines"]) }
	does["drop-unread"] = p.dropUnread
	does["link"] = func(dom.El) { p.showLink() }
	does["new"] = func(dom.El) { p.replace(formula.Fields{}, p.app.text("undo.new")) }
}

// fill puts fields into the inputs and answers them.
func (p *pan) fill(f formula.Fields) {
	p.fields = maps.Clone(f)
	if p.fields["make"] == "" {
		p.fields["make"] = string(formula.ForLiquid)
	}
	for field, u := range usualUnits {
		if p.fields[field] == "" {
			p.fields[field] = u
		}
	}
	p.parts.rebuild()
	p.doses.rebuild()
	p.leftChoices()
	for _, el := range p.form.All("[name]") {
		switch {
		case el.Attr("type") == "radio":
			el.Set("checked", el.Attr("value") == p.fields[el.Attr("name")])
		case !el.Closest(".row").There():
			el.SetTyped(p.fields[el.Attr("name")])
		}
	}
	dom.ByID("link-text").Show(false)
	p.modes()
	p.answer()
}

// usualUnits are chosen until a person chooses others.
var usualUnits = map[string]string{
	"batch-liquid-unit": "g", "portion-size-unit": "g", "left-amount-unit": "g",
	"loss-boil-unit": "g", "loss-blender-unit": "%", "loss-sieve-unit": "%", "loss-bottle-unit": "%",
}

// replace is fill for what takes the place of a person's work, which can be
// taken back.
func (p *pan) replace(f formula.Fields, what string) {
	before, open := maps.Clone(p.fields), p.app.book.open
	worth := p.worthKeeping()
	p.app.book.opened(entryRef{})
	p.fill(f)
	p.touched()
	if worth {
		p.app.offer(what, func() {
			p.app.book.opened(open)
			p.fill(before)
			p.touched()
		})
	}
}

// worthKeeping reports whether the pan holds something that is not in the book.
func (p *pan) worthKeeping() bool {
	return len(p.reading.Formula.Doses)+len(p.reading.Formula.Parts) > 0 && p.app.book.changed()
}

// typed takes one input and answers.
func (p *pan) typed(name string, el dom.El) {
	if name == "" || name == "link-text" {
		return
	}
	value := el.Typed()
	if name == "ask-sheet-mass" {
		p.app.shelf.set("sheet-mass", value)
		p.answer()
		return
	}
	p.fields[name] = value
	switch {
	case name == "make" || name == "loss-boil-unit":
		p.modes()
	case strings.HasSuffix(name, "-name"):
		p.leftChoices()
	}
	p.answer()
	p.touched()
}

// modes shows the inputs that the choices ask for.
func (p *pan) modes() {
	mode := p.fields["make"]
	for _, el := range p.form.All("[data-mode]") {
		el.Show(el.Attr("data-mode") == mode)
	}
	dom.ByID("ask-boil-rate").Show(p.fields["loss-boil-unit"] == string(unit.Minute))
}

// leftChoices offers the recipe's own ingredients for "what is left".
func (p *pan) leftChoices() {
	list := dom.ByID("left-of")
	list.Empty()
	chosen := false
	for _, rows := range []*rowList{p.doses, p.parts} {
		for i := range rows.rows {
			name := strings.TrimSpace(p.fields[rows.field(i, "name")])
			if name == "" {
				continue
			}
			value := strings.TrimSuffix(rows.field(i, ""), "-")
			o := dom.New("option", "")
			o.SetAttr("value", value)
			o.SetText(name)
			list.Append(o)
			chosen = chosen || value == p.fields["left-of"]
		}
	}
	if !chosen {
		p.fields["left-of"] = list.Typed()
	}
	list.SetTyped(p.fields["left-of"])
}

// answer reads the fields, computes and shows.
func (p *pan) answer() {
	p.reading = p.fields.Read(findAgent)
	says := map[string]note.Note{}
	for _, n := range p.reading.Notes {
		keep(says, n.Field, n)
	}
	p.fine = false
	if !p.reading.Bad() {
		p.compute(says)
	}
	p.showSays(says)
	p.showAnswer()
	p.showUnread()
	p.app.book.showState()
}

// keep keeps the first note of a field, and a refusal before a hint.
func keep(says map[string]note.Note, field string, n note.Note) {
	if old, ok := says[field]; !ok || (n.Level == note.Refused && old.Level != note.Refused) {
		says[field] = n
	}
}

func (p *pan) compute(says map[string]note.Note) {
	b, err := gel.Convert(p.reading.Formula, p.app.shelf.kitchen())
	if err == nil {
		p.batch, p.fine, p.ever = b, true, true
		for _, n := range b.Notes {
			if n.Field != "" {
				keep(says, askedIn(n.Field), n)
			}
		}
		return
	}
	if r, ok := err.(*note.Refusal); ok {
		keep(says, askedIn(p.reading.OnPage(r.Field)), r.Note)
	}
}

// askedIn is the pan's own input for what stands on the shelf.
func askedIn(field string) string {
	if field == "sheet-mass" {
		return "ask-sheet-mass"
	}
	return field
}

// showSays puts each sentence beside its field.
func (p *pan) showSays(says map[string]note.Note) {
	for field, l := range p.says {
		n, ok := says[field]
		p.sayNote(l, n, ok)
		if field != "" {
			p.invalid(field, ok && n.Level == note.Refused && n.Code != formula.FigureMissing)
		}
	}
	p.parts.showSays(says)
	p.doses.showSays(says)
	_, density := says["liquid-density"]
	dom.ByID("ask-density").Show(density || p.fields["liquid-density"] != "")
	_, sheet := says["ask-sheet-mass"]
	dom.ByID("ask-sheet").Show(sheet)
}

// gentle are the codes that only ask for what is still missing.
func gentle(c note.Code) bool {
	switch c {
	case formula.FigureMissing, gel.NoTarget, gel.NoLiquid, gel.NeedDensity, gel.NeedSheet, gel.NoIngredient:
		return true
	}
	return false
}

func (p *pan) sayNote(l *line, n note.Note, there bool) {
	if !there {
		l.say("")
		return
	}
	class := ""
	if n.Level != note.Refused || gentle(n.Code) {
		class = "hint"
	}
	l.mark(class)
	l.say(p.app.words.Note(n))
}

func (p *pan) invalid(field string, bad bool) {
	el := p.form.Find(`[name="` + field + `"]`)
	if !el.There() {
		return
	}
	if was := el.Attr("aria-invalid") == "true"; was != bad {
		v := ""
		if bad {
			v = "true"
		}
		el.SetAttr("aria-invalid", v)
	}
}
