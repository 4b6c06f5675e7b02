package screen

import (
	"strings"

	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// showAnswer writes the figures. When the input is wrong, the last good answer
// stays, dimmed.
func (p *pan) showAnswer() {
	page := p.app.page
	state := ""
	if !p.fine && p.ever {
		state = "stale"
	}
	page.State("pan", state)
	if !p.fine {
		if p.ever {
			p.showEmpty()
		} else {
			p.blank()
		}
		p.speak(p.app.text("live.wrong"))
		return
	}
	p.showEmpty()
	for i := range p.reading.Formula.Parts {
		place := view.Row("part", p.reading.PartRow(i), "mass")
		if p.batch.MassKnown {
			p.showWeight(place, p.batch.Parts[i])
		} else {
			page.NoFigure(place)
		}
	}
	for i, d := range p.reading.Formula.Doses {
		p.showDose(p.reading.DoseRow(i), d, p.batch.Doses[i])
	}
	p.showSums()
	p.showNotes()
}

// blank shows that nothing was answered yet.
func (p *pan) blank() {
	for _, l := range []*rowList{p.parts, p.doses} {
		for i := range l.n {
			p.blankRow(l, i)
		}
	}
	p.app.page.Show("sums", false)
	p.app.noteRows("note", nil)
}

// showEmpty blanks the rows that hold nothing.
func (p *pan) showEmpty() {
	for _, l := range []*rowList{p.parts, p.doses} {
		for i := range l.n {
			if l.empty(p.fields, i) {
				p.blankRow(l, i)
			}
		}
	}
}

func (p *pan) blankRow(l *rowList, i int) {
	page := p.app.page
	page.NoFigure(l.field(i, "mass"))
	if l == p.parts {
		return
	}
	for _, part := range [...]string{"shares", "grade-ask"} {
		page.Show(l.field(i, part), false)
	}
	page.Line(l.field(i, "rounding"), "")
	page.Show(l.field(i, "sheets"), false)
	page.Show(l.field(i, "powder"), false)
}

// showDose writes one dose: the figure to weigh, its shares, and what else the
// same amount is.
func (p *pan) showDose(i int, d formula.Dose, out gel.DoseOut) {
	page, words := p.app.page, p.app.words
	place := func(property string) string { return view.Row("dose", i, property) }
	page.Show(place("grade-ask"), isGelatin(d) && d.Amount.Kind() != unit.KindSheets)
	rounding := ""
	if d.Amount.Kind() == unit.KindSheets {
		page.Figure(place("mass"), out.Sheets, words.Figure(out.Sheets, unit.Sheet))
	} else {
		rounding = p.showWeight(place("mass"), out.Mass)
	}
	page.Line(place("rounding"), rounding)
	known := out.MassKnown && p.batch.MassKnown
	page.Show(place("shares"), known)
	if known {
		page.Figure(place("on-liquid"), out.OnLiquid.Percent(), words.Figure(out.OnLiquid.Percent(), unit.PercentOf))
		page.Figure(place("on-batch"), out.OnBatch.Percent(), words.Figure(out.OnBatch.Percent(), unit.PercentOf))
		perKg := float64(out.OnLiquid) * 1000
		page.Figure(place("per-kg"), perKg, words.Figure(perKg, unit.Gram))
	}
	p.showGelatin(place, d, out)
}

// showWeight writes a weight as the best scale of the shelf shows it, and
// returns what to say when the scale is too coarse for it.
func (p *pan) showWeight(place string, m unit.Mass) string {
	words := p.app.words
	reading, err := weigh.Weigh(m, p.app.shelf.scales)
	if err != nil || m == 0 {
		p.app.page.Figure(place, float64(m), words.Figure(float64(m), unit.Gram))
		return ""
	}
	shown := words.Style.Fixed(float64(reading.Shown), unit.StepDecimals(float64(reading.Step))) + "\u00a0g"
	p.app.page.Figure(place, float64(m), shown)
	switch {
	case reading.Shown == 0:
		return p.app.text("also.no-scale")
	case !reading.Within(weigh.DefaultTolerance):
		return p.app.text("also.rounding", note.Typed("shown", shown), note.Num("off", reading.Worst.Percent(), unit.PercentOf))
	}
	return ""
}

func (p *pan) showSums() {
	page, b, words := p.app.page, p.batch, p.app.words
	page.Show("sums", b.MassKnown)
	if !b.MassKnown {
		return
	}
	sum := func(name, row string, show bool, v float64, u unit.Symbol) {
		page.Show(row, show)
		page.Figure(name, v, words.Figure(v, u))
	}
	sum("total-mass", "sum-total", true, float64(b.Total), unit.Gram)
	sum("after-boil-mass", "sum-boiled", b.AfterBoil < b.Total, float64(b.AfterBoil), unit.Gram)
	sum("yield-mass", "sum-yield", b.Yield < b.Total, float64(b.Yield), unit.Gram)
	sum("portions-count", "sum-portions", b.Portions > 0, b.Portions, unit.One)
	sum("liquid-volume", "sum-volume", b.Volume > 0, float64(b.Volume), unit.Millilitre)
	lost := ""
	if gone := float64(b.Total - b.Yield); gone > 0 {
		lost = p.app.text("loss.sum", note.Num("mass", gone, unit.Gram))
	}
	page.Text("losses-sum", lost)
}

// showNotes lists what the answer says as a whole, and speaks it.
func (p *pan) showNotes() {
	var whole []note.Note
	for _, n := range p.batch.Notes {
		if n.Field == "" {
			whole = append(whole, n)
		}
	}
	p.app.noteRows("note", whole)
	var list []string
	for i, d := range p.reading.Formula.Doses {
		list = append(list, p.app.page.FigureText(view.Row("dose", p.reading.DoseRow(i), "mass"))+" "+d.Name)
	}
	p.speak(p.app.text("live.answer", note.Typed("list", strings.Join(list, ", "))))
}

// speak tells a screen reader the answer unless it has heard it last: what is typed in
// the lab, in notes or in tags is answered as well, and changes nothing in the pan.
func (p *pan) speak(text string) {
	if text != p.said {
		p.said = text
		p.app.env.Speak(text)
	}
}
