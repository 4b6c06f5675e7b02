package screen

import (
	"cmp"
	"maps"
	"strings"

	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// pan is the working formula: what is typed, and the answer to it.
type pan struct {
	app     *App
	fields  formula.Fields
	reading formula.Reading
	batch   gel.Batch
	fine    bool // batch answers what stands in the fields
	ever    bool // batch holds some earlier answer
	wrong   string
	misread *note.Refusal // what is wrong with that weight as typed
	weighs  bool          // a sheet's weight was typed here, and the field stays while it is
	linked  bool          // the link of what stands in the fields is shown
	said    string        // to a screen reader, last
	parts   *rowList
	doses   *rowList
}

// saidFields are the inputs that have a place for a sentence of their own;
// rows have one for each row.
var saidFields = []string{
	"name", "tags", "dish", "station", "notes", "batch-liquid", "portions", "portion-size", "spare", "left-of", "left-amount",
	"liquid-density", "ask-sheet-mass", "loss-boil", "loss-boil-rate", "loss-blender", "loss-sieve", "loss-bottle", "",
}

// usualFields hold until a person chooses otherwise.
var usualFields = []struct{ name, value string }{
	{"make", "liquid"}, {"batch-liquid-unit", "g"}, {"portion-size-unit", "g"}, {"left-amount-unit", "g"},
	{"loss-boil-unit", "g"}, {"loss-blender-unit", "%"}, {"loss-sieve-unit", "%"}, {"loss-bottle-unit", "%"},
}

// plainFields are the inputs outside rows, as a formula fills them.
var plainFields = []string{
	"name", "tags", "dish", "station", "notes", "lines", "liquid-density", "make", "batch-liquid", "batch-liquid-unit", "portions", "portion-size", "portion-size-unit",
	"spare", "left-amount", "left-amount-unit", "loss-boil", "loss-boil-unit", "loss-boil-rate", "loss-blender", "loss-blender-unit",
	"loss-sieve", "loss-sieve-unit", "loss-bottle", "loss-bottle-unit",
}

func newPan(a *App) *pan {
	p := &pan{app: a, fields: formula.Fields{}, parts: partRows(), doses: doseRows()}
	does := a.does
	does["add-part"] = func(int) { p.add(p.parts) }
	does["add-dose"] = func(int) { p.add(p.doses) }
	does["drop-part"] = func(row int) { p.drop(p.parts, row) }
	does["drop-dose"] = func(row int) { p.drop(p.doses, row) }
	does["read-lines"] = func(int) { p.readLines(p.fields["lines"]) }
	does["drop-unread"] = p.dropUnread
	does["link"] = func(int) { p.showLink() }
	does["new"] = func(int) {
		p.replace(formula.Fields{}, a.text("undo.new"))
		a.visit("pan")
	}
	return p
}

// fill puts fields into the inputs and answers them. An earlier answer does not
// belong to them, row by row.
func (p *pan) fill(f formula.Fields) {
	p.fields, p.ever, p.weighs, p.misread = maps.Clone(p.app.onDay(f)), false, false, nil
	p.app.page.Value("ask-sheet-mass", "")
	for _, u := range usualFields {
		if p.fields[u.name] == "" {
			p.fields[u.name] = u.value
		}
	}
	p.parts.show(p.app.page, p.fields, p.parts.used(p.fields))
	p.doses.show(p.app.page, p.fields, p.doses.used(p.fields))
	for _, name := range plainFields {
		p.app.page.Value(name, p.fields[name])
	}
	p.linked = false
	p.tellLink()
	p.leftChoices()
	p.modes()
	p.answer()
}

// replace is fill for what takes the place of a person's work, which can be
// taken back.
func (p *pan) replace(f formula.Fields, what string) {
	before, open, saved := p.fields, p.app.book.open, p.app.book.saved
	worth := len(p.reading.Formula.Doses)+len(p.reading.Formula.Parts) > 0 && p.app.book.changed()
	p.app.book.holds(entryRef{}, nil)
	p.fill(f)
	p.touched()
	p.app.leavePan()
	if worth {
		p.offerBack(what, before, open, saved)
	}
}

// offerBack offers the formula that was in the pan before. Where the one that is there
// now has been worked on by then, the way to it is offered in turn.
func (p *pan) offerBack(what string, before formula.Fields, open entryRef, saved formula.Fields) {
	book, as := p.app.book, maps.Clone(p.fields)
	p.app.offerStep(what, offer{pan: &formula.Draft{Fields: before, ID: open.id, Rev: open.rev, Saved: saved}, back: func() {
		now, nowOpen, nowSaved := p.fields, book.open, book.saved
		book.holds(open, saved)
		p.fill(before)
		p.touched()
		if !maps.Equal(now, as) {
			p.offerBack(p.app.text("undo.opened", note.Typed("name", p.nameIn(before))), now, nowOpen, nowSaved)
		}
	}})
}

// nameIn is the name that the fields hold, or that they have none.
func (p *pan) nameIn(f formula.Fields) string {
	return cmp.Or(f["name"], p.app.text("book.unnamed"))
}

// touched keeps the draft after a change.
func (p *pan) touched() { p.app.keepDraft() }

// typed takes one input and answers.
func (p *pan) typed(name, value string) {
	switch {
	case name == "" || name == "link-text":
		return
	case name == "ask-sheet-mass":
		p.weighed(value)
		return
	}
	p.fields[name] = value
	if name == methodDay {
		p.fields[methodOn] = p.app.dayMeant(value)
	}
	p.app.typedOver(name)
	switch {
	case name == "make" || name == "loss-boil-unit":
		p.modes()
	case strings.HasSuffix(name, "-name"):
		p.leftChoices()
	}
	p.answer()
	p.touched()
}

// weighed takes the weight of a sheet, which is the shelf's, and says here what is wrong
// with it.
func (p *pan) weighed(value string) {
	p.app.page.Value("sheet-mass", value)
	p.weighs, p.misread = true, nil
	if strings.TrimSpace(value) != "" {
		_, p.misread = formula.SheetMass(value)
	}
	p.app.shelf.typed("sheet-mass", value)
	p.answer()
}

func (p *pan) add(l *rowList) {
	if l.n < l.limit {
		l.show(p.app.page, p.fields, l.n+1)
		p.answer()
	}
	p.app.page.Focus(l.field(l.n-1, "name"))
}

func (p *pan) drop(l *rowList, row int) {
	if row < 1 || row > l.n {
		return
	}
	before := maps.Clone(p.fields)
	filled, name := !l.empty(p.fields, row-1), p.fields[l.field(row-1, "name")]
	l.drop(p.fields, row-1)
	p.fill(p.fields)
	p.touched()
	if !filled {
		return
	}
	rest := p.undoing(before) // for a list that is full by then
	left := p.fields["left-of"]
	p.app.offerInPan(p.app.text("undo.row", note.Typed("name", name)), func() {
		now := maps.Clone(p.fields)
		if !l.insert(now, before, row-1) {
			rest()
			return
		}
		if before["left-of"] == l.value(row-1) && p.fields["left-of"] == left {
			now["left-of"] = before["left-of"]
		}
		p.fill(now)
		p.touched()
	}, nil) // what is typed stays in its row
}

// undoing takes back what the pan holds now in place of before. What is typed until
// then stays, but for the fields that the step was about.
func (p *pan) undoing(before formula.Fields) func() {
	step := p.since(before)
	return func() {
		p.fill(step.Within(p.fields))
		p.touched()
	}
}

func (p *pan) since(before formula.Fields) formula.Change {
	return formula.Change{From: maps.Clone(p.fields), Fields: before}
}

// offerBefore offers to take back what the pan holds now in place of before.
func (p *pan) offerBefore(what string, before formula.Fields) {
	p.app.offerInPan(what, p.undoing(before), p.since(before).About())
}

// modes shows the inputs that the choices ask for.
func (p *pan) modes() {
	for _, m := range []formula.Mode{formula.ForLiquid, formula.ForPortions, formula.ForLeft} {
		p.app.page.Show("make-"+string(m), p.fields["make"] == string(m))
	}
	p.app.page.Show("ask-boil-rate", p.fields["loss-boil-unit"] == string(unit.Minute))
}

// leftChoices offers the recipe's own ingredients for "what is left".
func (p *pan) leftChoices() {
	var pairs []string
	chosen := false
	for _, l := range []*rowList{p.doses, p.parts} {
		for i := range l.n {
			name := strings.TrimSpace(p.fields[l.field(i, "name")])
			if name == "" {
				continue
			}
			value := l.value(i)
			pairs = append(pairs, value, name)
			chosen = chosen || value == p.fields["left-of"]
		}
	}
	if !chosen {
		p.fields["left-of"] = ""
		if len(pairs) > 0 {
			p.fields["left-of"] = pairs[0]
		}
	}
	p.app.page.Choices("left-of", pairs...)
	p.app.page.Value("left-of", p.fields["left-of"])
}

// answer reads the fields, computes and shows.
func (p *pan) answer() {
	p.reading = p.fields.Read(findAgent)
	says := map[string]note.Note{}
	for _, n := range p.reading.Notes {
		keep(says, n)
	}
	if p.misread != nil {
		keep(says, p.misread.At("ask-sheet-mass"))
	}
	p.fine = false
	if !p.reading.Bad() {
		p.compute(says)
	}
	p.showSays(says)
	p.showAnswer()
	p.showUnread()
	if p.linked {
		p.tellLink()
	}
	p.app.book.showState()
	p.app.tellLab()
}

// keep keeps the first note of a field, and a refusal before a hint.
func keep(says map[string]note.Note, n note.Note) {
	if old, ok := says[n.Field]; !ok || (n.Level == note.Refused && old.Level != note.Refused) {
		says[n.Field] = n
	}
}

func (p *pan) compute(says map[string]note.Note) {
	b, err := gel.Convert(p.reading.Formula, p.app.shelf.kitchen())
	if err == nil {
		p.batch, p.fine, p.ever = b, true, true
		for _, n := range b.Notes {
			if n.Field != "" {
				keep(says, n.At(askedIn(n.Field)))
			}
		}
		return
	}
	if r, ok := err.(*note.Refusal); ok {
		keep(says, r.At(askedIn(p.reading.OnPage(r.Field))))
	}
}

// askedIn is the pan's own input for what stands on the shelf.
func askedIn(field string) string {
	if field == "sheet-mass" {
		return "ask-sheet-mass"
	}
	return field
}

// showSays puts each sentence beside its field and notes the first wrong input.
func (p *pan) showSays(says map[string]note.Note) {
	p.wrong = ""
	for _, field := range saidFields {
		p.say(field, []string{field}, says)
	}
	for _, l := range []*rowList{p.parts, p.doses} {
		for i := range l.n {
			fields := make([]string, len(l.properties))
			for j, property := range l.properties {
				fields[j] = l.field(i, property)
			}
			p.say(l.field(i, "say"), fields, says)
		}
	}
	_, density := says["liquid-density"]
	p.app.page.Show("ask-density", density || p.fields["liquid-density"] != "")
	_, sheet := says["ask-sheet-mass"]
	p.app.page.Show("ask-sheet", sheet || p.weighs)
}

// say shows the first sentence among some fields in their common place.
func (p *pan) say(place string, fields []string, says map[string]note.Note) {
	text, hint := "", false
	for _, field := range fields {
		n, ok := says[field]
		bad := ok && n.Level == note.Refused && !gentle(n.Code)
		if field != "" {
			p.app.page.Invalid(field, bad)
		}
		if bad && p.wrong == "" {
			p.wrong = field
		}
		if ok && text == "" {
			if field == "batch-liquid" && n.Code == formula.FigureMissing {
				n.Code = gel.NoTarget // no figure is missing in the eyes of who begins anew: the question is
			}
			text, hint = p.app.words.Note(n), !bad
		}
	}
	p.app.page.Say(place, text, hint)
}

// gentle reports whether a code only asks for what is still missing.
func gentle(c note.Code) bool {
	switch c {
	case formula.FigureMissing, gel.NoTarget, gel.NoLiquid, gel.NeedDensity, gel.NoIngredient:
		return true
	}
	return false
}
