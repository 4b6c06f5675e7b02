//go:build js && wasm

package screen

import (
	"strings"

	"tremblant/internal/dom"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/unit"
)

// sums are the figures of the batch as a whole.
type sums struct {
	box                                      dom.El
	total, afterBoil, yield, portions, vol   *figure
	boiledRow, yieldRow, portionsRow, volRow *toggle
}

// toggle is an element that is shown or hidden.
type toggle struct {
	el    dom.El
	on    bool
	ready bool
}

func (t *toggle) show(on bool) {
	if !t.ready || t.on != on {
		t.el.Show(on)
	}
	t.on, t.ready = on, true
}

func newSums(form dom.El) sums {
	f := func(name string) *figure { return newFigure(form.Find(`[data-figure="` + name + `"]`)) }
	row := func(id string) *toggle { return &toggle{el: dom.ByID(id)} }
	return sums{
		box: dom.ByID("sums"), total: f("total-mass"), afterBoil: f("after-boil-mass"), yield: f("yield-mass"), portions: f("portions-count"), vol: f("liquid-volume"),
		boiledRow: row("sum-boiled"), yieldRow: row("sum-yield"), portionsRow: row("sum-portions"), volRow: row("sum-volume"),
	}
}

// showAnswer writes the figures. When the input is wrong, the last good answer
// stays, dimmed.
func (p *pan) showAnswer() {
	p.form.Class("stale", !p.fine && p.ever)
	if !p.fine {
		if !p.ever {
			p.clear()
		}
		p.app.live.say(p.app.text("live.wrong"))
		return
	}
	for i := range p.reading.Formula.Parts {
		if p.batch.MassKnown {
			p.showWeight(p.parts.rows[p.reading.PartRow(i)].outs["mass"], p.batch.Parts[i])
		} else {
			p.parts.rows[p.reading.PartRow(i)].outs["mass"].none()
		}
	}
	for i, d := range p.reading.Formula.Doses {
		p.showDose(p.doses.rows[p.reading.DoseRow(i)], d, p.batch.Doses[i])
	}
	p.emptyRows()
	p.showSums()
	p.showNotes()
	p.speak()
}

func (p *pan) clear() {
	for _, l := range []*rowList{p.parts, p.doses} {
		for _, r := range l.rows {
			p.clearRow(r)
		}
	}
	p.sums.box.Show(false)
	p.notes.show(nil)
}

func (p *pan) clearRow(r *row) {
	for _, f := range r.outs {
		f.none()
	}
	for _, l := range r.also {
		l.say("")
	}
	if r.shares.There() {
		r.show("shares", r.shares, false)
	}
}

// emptyRows clears rows that hold nothing.
func (p *pan) emptyRows() {
	for _, l := range []*rowList{p.parts, p.doses} {
		for i, r := range l.rows {
			if strings.TrimSpace(p.fields[l.field(i, "name")]+p.fields[l.field(i, "amount")]) == "" {
				p.clearRow(r)
			}
		}
	}
}

// showDose writes one dose: the figure to weigh, its shares, and what else the
// same amount is.
func (p *pan) showDose(r *row, d formula.Dose, out gel.DoseOut) {
	basis, hasBasis := r.inputs["basis"]
	if hasBasis {
		r.show("basis", basis, d.Share() && d.Amount.Unit != unit.GramPerL)
	}
	r.show("grade", r.el.Find(".grade"), isGelatin(d) && d.Amount.Kind() != unit.KindSheets)
	rounding := ""
	if d.Amount.Kind() == unit.KindSheets {
		r.outs["mass"].show(out.Sheets, p.app.words.Style.Significant(out.Sheets, 3)+" "+p.app.text("unit.sheet"))
	} else {
		rounding = p.showWeight(r.outs["mass"], out.Mass)
	}
	r.also["rounding"].say(rounding)
	known := out.MassKnown && p.batch.MassKnown
	r.show("shares", r.shares, known)
	if known {
		p.showShare(r.outs["on-liquid"], out.OnLiquid)
		p.showShare(r.outs["on-batch"], out.OnBatch)
		r.outs["per-kg"].show(float64(out.OnLiquid)*1000, p.app.words.Figure(float64(out.OnLiquid)*1000, unit.Gram))
	}
	p.showGelatin(r, d, out)
}

func (p *pan) showShare(f *figure, share unit.Fraction) {
	f.show(share.Percent(), p.app.words.Figure(share.Percent(), unit.PercentOf))
}

// showWeight writes a weight as the best scale of the shelf shows it, and
// returns what to say when the scale is too coarse for it.
func (p *pan) showWeight(f *figure, m unit.Mass) string {
	words := p.app.words
	reading, err := weigh.Weigh(m, p.app.shelf.scales)
	if err != nil || m == 0 {
		f.show(float64(m), words.Figure(float64(m), unit.Gram))
		return ""
	}
	shown := words.Style.Fixed(float64(reading.Shown), unit.StepDecimals(float64(reading.Step))) + "\u00a0g"
	f.show(float64(m), shown)
	switch {
	case reading.Shown == 0:
		return p.app.text("also.no-scale")
	case !reading.Within(weigh.DefaultTolerance):
		return p.app.text("also.rounding", note.Typed("shown", shown), note.Num("off", reading.Worst.Percent(), unit.PercentOf))
	}
	return ""
}

func (p *pan) showSums() {
	s, b, words := &p.sums, p.batch, p.app.words
	s.box.Show(b.MassKnown)
	if !b.MassKnown {
		return
	}
	mass := func(f *figure, m unit.Mass) { f.show(float64(m), words.Figure(float64(m), unit.Gram)) }
	mass(s.total, b.Total)
	mass(s.afterBoil, b.AfterBoil)
	mass(s.yield, b.Yield)
	s.portions.show(b.Portions, words.Figure(b.Portions, unit.One))
	s.vol.show(float64(b.Volume), words.Figure(float64(b.Volume), unit.Millilitre))
	s.boiledRow.show(b.AfterBoil < b.Total)
	s.yieldRow.show(b.Yield < b.Total)
	s.portionsRow.show(b.Portions > 0)
	s.volRow.show(b.Volume > 0)
	lost := float64(b.Total - b.Yield)
	if lost > 0 {
		p.lossSum.say(p.app.text("loss.sum", note.Num("mass", lost, unit.Gram)))
	} else {
		p.lossSum.say("")
	}
}

// showNotes lists what the answer says as a whole.
func (p *pan) showNotes() {
	var whole []note.Note
	for _, n := range p.batch.Notes {
		if n.Field == "" {
			whole = append(whole, n)
		}
	}
	p.notes.show(whole)
}

// speak puts the answer into one sentence for a screen reader.
func (p *pan) speak() {
	var list []string
	for i, d := range p.reading.Formula.Doses {
		list = append(list, p.doses.rows[p.reading.DoseRow(i)].outs["mass"].text+" "+d.Name)
	}
	p.app.live.say(p.app.text("live.answer", note.Typed("list", strings.Join(list, ", "))))
}

// noteList is a list of notes on the page.
type noteList struct {
	app  *App
	el   dom.El
	last string
}

// show writes the notes if they changed.
func (l *noteList) show(notes []note.Note) {
	var key strings.Builder
	for _, n := range notes {
		key.WriteString(l.app.words.Note(n))
		key.WriteByte('\n')
	}
	if key.String() == l.last {
		return
	}
	l.last = key.String()
	l.el.Empty()
	for _, n := range notes {
		l.el.Append(l.app.noteItem(n))
	}
}

// noteItem is one note with the word for its level, since colour is never alone.
func (a *App) noteItem(n note.Note) dom.El {
	class, kind := "", "kind.hint"
	switch n.Level {
	case note.Caution:
		class, kind = "warn", "kind.caution"
	case note.Danger, note.Refused:
		class, kind = "bad", "kind.danger"
	}
	li := dom.New("li", class)
	if n.Level == note.Caution || n.Level == note.Danger {
		b := dom.New("span", "kind")
		b.SetText(a.text(kind))
		li.Append(b)
	}
	s := dom.New("span", "")
	s.SetText(a.words.Note(n))
	li.Append(s)
	return li
}
