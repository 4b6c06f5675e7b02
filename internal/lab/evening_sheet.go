package lab

import (
	"strconv"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/unit"
)

// showSheet writes the evening's one sheet of paper: what to weigh for each
// formula, what the shelf must hold, and the plan. How each step is done in full
// stands on the formula's own sheet.
func (e *evening) showSheet(s *state) {
	if len(e.sheets()) == 0 {
		s.page.State(ename("sheet"), "")
		return
	}
	w := paper{s: s, at: ename("sheet-"), dense: inColumns}
	w.text("title", e.called(s))
	w.text("what", e.sheetWhat(s))
	w.text("left-out", e.leftOutText(s))
	e.sheetWeights(&w)
	e.sheetNeeds(&w)
	e.sheetPlan(&w)
	w.cautions(e.cautions(s, true))
	s.page.Set(ename("sheet"), "data-size", s.words.Style.Fixed(float64(w.size()), 0))
	s.page.State(ename("sheet"), "ready")
}

// inColumns is how much of the paper the same text takes in the columns of the
// evening's sheet, beside the formula's own; measured.
const inColumns = 0.8

// lastDay is the last day that the page offers, counted from today.
const lastDay = 3

// called is the evening's name.
func (e *evening) called(s *state) string {
	if name := strings.TrimSpace(s.fields[ename("name")]); name != "" {
		return name
	}
	return s.esay("title")
}

// sheetWhat says when service is and when to begin.
func (e *evening) sheetWhat(s *state) string {
	begin := s.esay("sheet-begin", note.Typed("begin", e.when(s, e.joined.Timeline.Start)), note.Typed("total", s.span(e.joined.Timeline.Start)))
	service, known := readMoment(s.fields[ename("service")], s.fields[ename("day")])
	if !known {
		return begin
	}
	day := s.serviceDay(ename)
	return spaced(s.esay("sheet-service", note.Typed("time", s.clockText(service, day)), note.Word("day", "lab-method.day-"+strconv.Itoa(min(int(day), lastDay)))), begin)
}

func (e *evening) leftOutText(s *state) string {
	var out []string
	for _, c := range e.courses {
		if !c.fine() {
			out = append(out, c.title+": "+c.cannot)
		}
	}
	if len(out) == 0 {
		return ""
	}
	return s.esay("sheet-left-out", note.Typed("list", strings.Join(out, " ")))
}

// sheetWeights writes each formula with what to weigh for it.
func (e *evening) sheetWeights(w *paper) {
	type cell struct{ state, mass, name, extra string }
	var cells []cell
	for _, c := range e.courses {
		if !c.fine() {
			continue
		}
		cells = append(cells, cell{"head", "", c.title, c.sheetHead()})
		for _, line := range c.sheet.Weights.Lines {
			mass, extra := c.sheetLine(line)
			name := c.s.itemName(c.p, line.ID)
			if line.Premix != nil {
				name = c.s.msay("premix-with", note.Typed("agent", name))
			}
			cells = append(cells, cell{"", mass, name, extra})
		}
	}
	w.rows("weigh", len(cells))
	for i, x := range cells {
		w.s.page.State(erow("sheet-weigh", i, "item"), x.state)
		w.cell("weigh", i, "mass", x.mass)
		w.cell("weigh", i, "name", x.name)
		w.cell("weigh", i, "extra", x.extra)
	}
}

// sheetHead says for how many a formula is, what it comes to, and what it
// contains.
func (c *course) sheetHead() string {
	each := c.s.words.Style.Plain(0)
	if a, err := unit.ParseAmount(c.dish.Portion, unit.Symbol(c.dish.Unit)); err == nil {
		each = c.s.words.Figure(a.Base(), map[bool]unit.Symbol{true: unit.Millilitre, false: unit.Gram}[a.Kind() == unit.KindVolume])
	}
	covers, _ := c.readCovers(c.s)
	return strings.Join(nonEmpty(c.s.esay("sheet-for", note.Num("covers", covers, unit.One), note.Typed("each", each), note.Typed("mass", c.s.sum(float64(c.made())))), c.what()), " · ")
}

// sheetLine is what the scale shows, and how a premix for it is made.
func (c *course) sheetLine(line weigh.Line) (mass, extra string) {
	if c.p.noWeights != nil {
		return c.s.sum(float64(line.Wanted)), ""
	}
	if x := line.Premix; x != nil {
		extra = c.s.msay("sheet-premix", note.Typed("first", c.s.display(x.AgentIn.Shown, x.AgentIn.Step)), note.Typed("second", c.s.display(x.CarrierIn.Shown, x.CarrierIn.Step)),
			note.Typed("carrier", c.s.words.Arg(c.p.item(x.Carrier).Name("item"))))
	} else {
		extra = c.s.sheets(c.p, line)
	}
	return c.s.display(line.Reading.Shown, line.Reading.Step), extra
}

// sheetNeeds writes what the shelf must hold, and what is short of it.
func (e *evening) sheetNeeds(w *paper) {
	w.rows("need", len(e.needs))
	for i, n := range e.needs {
		w.cell("need", i, "amount", n.text(w.s, n.amount))
		w.cell("need", i, "name", n.name)
		short := ""
		if n.short() > 0 {
			short = w.s.esay("short", note.Typed("amount", n.text(w.s, n.short())))
		}
		w.cell("need", i, "short", short)
	}
}

// sheetPlan writes the plan, one line a step.
func (e *evening) sheetPlan(w *paper) {
	s := w.s
	slots := e.joined.Timeline.Slots
	w.rows("slot", len(slots))
	for i, slot := range slots {
		c, id := e.slotStep(slot.Task.ID)
		if c == nil {
			continue
		}
		step := c.step(id)
		w.cell("slot", i, "start", e.when(s, slot.Start))
		w.cell("slot", i, "dish", c.title)
		w.cell("slot", i, "do", c.briefly(step.ID))
		w.cell("slot", i, "limit", s.join(c.s.limits(*step)))
		w.cell("slot", i, "time", c.s.stepTime(*step))
	}
	clashes := e.clashes(s)
	w.rows("clash", len(clashes))
	for i, r := range clashes {
		w.cell("clash", i, "text", r.text)
	}
}

// briefly is a step in a few words: what is done, and to which agents or parts.
// A cook's own words stand as they are.
func (c *course) briefly(id string) string {
	e := c.step(id)
	if strings.TrimSpace(e.Text) != "" {
		return e.Text
	}
	with := e.Agents
	if len(with) == 0 {
		with = e.Parts
	}
	if len(with) == 0 || e.Own {
		return c.s.stepName(*e)
	}
	return c.s.msay("do-with", note.Typed("do", c.s.stepName(*e)), note.Typed("names", c.s.names(c.p, with)))
}
