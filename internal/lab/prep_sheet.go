package lab

import (
	"strings"
	"unicode/utf8"

	"tremblant/internal/note"
	"tremblant/internal/plan"
	"tremblant/internal/plan/method"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// showCook shows weights and steps for the stove: one list to tick off. Ticks
// and timers are the page's own (web/lab.cook.js); they hold on to the key of a row,
// which changes with what must be weighed, so that an old tick never stands
// beside a new weight; but not with the language, in which the list is read.
func (s *state) showCook(p *prepared) {
	var lines []cookLine
	for _, line := range p.list.Lines {
		if p.noWeights != nil {
			break
		}
		name := s.itemName(p, line.ID)
		if x := line.Premix; x != nil {
			lines = append(lines, cookLine{key: digest("premix\t" + line.ID + "\t" + shownKey(x.AgentIn) + "\t" + shownKey(x.CarrierIn)),
				big: s.display(x.AgentIn.Shown, x.AgentIn.Step) + " + " + s.display(x.CarrierIn.Shown, x.CarrierIn.Step),
				do:  s.msay("premix-of", note.Typed("agent", name), note.Typed("carrier", s.words.Arg(p.item(x.Carrier).Name("item"))))})
			name = s.msay("premix-with", note.Typed("agent", name))
		}
		big := s.display(line.Reading.Shown, line.Reading.Step)
		lines = append(lines, cookLine{key: digest("weigh\t" + line.ID + "\t" + shownKey(line.Reading)), big: big, do: name, text: s.sheets(p, line), scale: line.Reading.Scale})
	}
	for _, e := range p.sheet.Steps {
		if p.noMethod != nil || e.Skipped || e.Kind == method.Weigh {
			continue
		}
		dangers, cautions := s.besides(e)
		lines = append(lines, cookLine{key: digest("step\t" + e.ID + "\t" + e.Basis()), do: s.stepName(e), text: s.stepText(p, e),
			limit: strings.Join(s.limits(e), "\n"), danger: strings.Join(append(dangers, cautions...), "\n"), timer: timerMinutes(e)})
	}
	s.page.State(mname("cook"), "")
	s.page.Set(mname("cook"), "data-batch", p.key())
	s.page.Text(mname("cook-title"), p.in.Title)
	s.page.Rows(mname("cook"), len(lines))
	for i, l := range lines {
		at := func(what string) string { return mrow("cook", i, what) }
		s.page.Set(at("item"), "data-key", l.key)
		s.page.Line(at("big"), l.big)
		s.page.Text(at("do"), l.do)
		s.page.Line(at("scale"), l.scale)
		s.page.Line(at("text"), l.text)
		s.page.Line(at("limit"), l.limit)
		s.page.Line(at("danger"), l.danger)
		s.page.Set(at("timer"), "data-seconds", s.words.Style.Fixed(l.timer*60, 0))
		s.page.Text(at("timer-length"), s.duration(l.timer))
		s.page.Show(at("timer"), l.timer > 0)
	}
}

// shownKey is what a scale shows, written as no language would change it.
func shownKey(r weigh.Reading) string {
	return unit.Style{}.Fixed(float64(r.Shown), unit.StepDecimals(float64(r.Step)))
}

// cookLine is one line of the cook's list.
type cookLine struct {
	key                 string
	big, do, scale      string
	text, limit, danger string
	timer               float64 // minutes; 0 for none
}

// densities are the numbers of characters, rows counted in, up to which a sheet
// is printed in one size of type, largest first; beyond the last the smallest is
// taken. Each is what was measured to fill about four fifths of the paper.
var densities = [...]int{1430, 1770, 2200, 2700, 3350, 4150, 5200, 6400, 8600}

// showSheet writes the paper.
func (s *state) showSheet(p *prepared) {
	if p.noMethod != nil || p.noWeights != nil {
		s.page.State(mname("sheet"), "")
		return
	}
	w := paper{s: s, at: mname("sheet-")}
	w.text("title", p.in.Title)
	w.text("batch", s.sheetBatch(p))
	w.weights(p)
	w.steps(p)
	w.own("own", "notes", s.reading.Formula.Notes)
	w.own("more", "unread", strings.Join(s.reading.Formula.Unread, "\n"))
	w.text("times", strings.Join(s.sheetTimes(p), " "))
	diet, contains, labels := s.dietLines(p)
	w.text("diet", strings.Join(nonEmpty(diet, contains, labels), " "))
	w.cautions(s.paperCautions(p))
	w.label(p)
	s.page.Set(mname("sheet"), "data-size", s.words.Style.Fixed(float64(w.size()), 0))
	s.page.State(mname("sheet"), "ready")
}

// paper counts what is written on it.
type paper struct {
	s     *state
	at    string // begins the names of its places
	runes int
	dense float64 // how much of a line a character takes, beside a sheet in one column; 0 counts as 1
}

func (w *paper) text(what, text string) {
	w.runes += utf8.RuneCountInString(text)
	w.s.page.Line(w.at+what, text)
}

func (w *paper) cell(list string, i int, what, text string) {
	w.runes += utf8.RuneCountInString(text)
	w.s.page.Text(view.Row(w.at+list, i, what), text)
}

// lineWeight is about how many characters a row costs beside its own, for the
// space between rows and lines that are not full.
const lineWeight = 45

func (w *paper) rows(list string, n int) {
	w.runes += n * lineWeight
	w.s.page.Rows(w.at+list, n)
}

// size is the size of type, 1 for the largest.
func (w *paper) size() int {
	runes := w.runes
	if w.dense > 0 {
		runes = int(float64(runes) * w.dense)
	}
	for i, most := range densities {
		if runes <= most {
			return i + 1
		}
	}
	return len(densities) + 1
}

func (s *state) sheetBatch(p *prepared) string {
	text := s.msay("sheet-batch", note.Num("batch", float64(p.sheet.Batch), unit.Gram))
	if p.in.Yield > 0 && p.in.Yield < 1 {
		text = spaced(text, s.msay("sheet-yield", note.Num("yield", float64(p.sheet.Finished), unit.Gram)))
	}
	if p.sheet.Portions > 0 {
		text = spaced(text, s.msay("sheet-portions", note.Num("count", p.sheet.Portions, unit.Portion), note.Num("each", float64(p.sheet.Portion), unit.Gram)))
	}
	return text
}

func (w *paper) weights(p *prepared) {
	s := w.s
	w.rows("weigh", len(p.list.Lines))
	for i, line := range p.list.Lines {
		name := s.itemName(p, line.ID)
		if line.Premix != nil {
			name = s.msay("premix-with", note.Typed("agent", name))
		}
		w.cell("weigh", i, "name", name)
		w.cell("weigh", i, "mass", s.display(line.Reading.Shown, line.Reading.Step))
		w.cell("weigh", i, "within", s.msay("within", note.Num("within", s.missBy(line), unit.Gram)))
		extra := s.sheets(p, line)
		if x := line.Premix; x != nil {
			extra = s.msay("sheet-premix", note.Typed("first", s.display(x.AgentIn.Shown, x.AgentIn.Step)), note.Typed("second", s.display(x.CarrierIn.Shown, x.CarrierIn.Step)),
				note.Typed("carrier", s.words.Arg(p.item(x.Carrier).Name("item"))))
		}
		w.cell("weigh", i, "extra", extra)
	}
}

func (w *paper) steps(p *prepared) {
	s := w.s
	var steps []method.Edited
	for _, e := range p.sheet.Steps {
		if !e.Skipped && e.Kind != method.Weigh {
			steps = append(steps, e)
		}
	}
	w.rows("step", len(steps))
	for i, e := range steps {
		_, start, _ := s.startOf(p, e.ID)
		w.cell("step", i, "start", start)
		w.cell("step", i, "text", s.stepText(p, e))
		w.cell("step", i, "limit", capital(s.join(s.limits(e))))
		w.cell("step", i, "time", s.stepTime(e))
	}
}

// own writes what the cook has typed, line by line; blank lines save paper. Without it
// the sheet would lose what the program does not know: what was noted, and lines of a
// pasted recipe that are in no weight.
func (w *paper) own(box, place, text string) {
	lines := nonEmpty(strings.Split(strings.ReplaceAll(text, "\r", "\n"), "\n")...)
	w.runes += len(lines) * lineWeight
	w.s.page.Show(w.at+box, len(lines) > 0)
	w.text(place, strings.Join(lines, "\n"))
}

// sheetTimes are when to begin, when it is set and cold.
func (s *state) sheetTimes(p *prepared) []string {
	out := []string{s.msay("sheet-begin", note.Typed("begin", s.page.FigureText(mname("begin"))), note.Typed("total", s.span(p.timeline.Start)))}
	if p.curve == nil {
		return out
	}
	if place := s.fields[mname("place")]; place != "" {
		out = append(out, s.msay("sheet-cool", note.Word("place", "medium."+place)))
	}
	milestones, _ := p.milestones()
	for _, ms := range milestones {
		out = append(out, s.milestone(ms))
	}
	return out
}

// paperCautions are those that belong on paper: every danger, and every
// caution but those about scales, labels and cooling, which stand elsewhere on it.
func (s *state) paperCautions(p *prepared) []remark {
	skip := map[string]bool{} // read by key only
	for _, n := range p.sheet.Cautions {
		if n.Code == plan.CodeReadLabel || strings.HasPrefix(string(n.Code), "weigh.") && n.Level < note.Danger {
			skip[s.noteSentence(n)] = true
		}
	}
	var out []remark
	for _, r := range s.cautions(p) {
		if !skip[r.text] {
			out = append(out, r)
		}
	}
	return out
}

func (w *paper) cautions(lines []remark) {
	w.rows("caution", len(lines))
	for i, r := range lines {
		kind := w.s.say("kind.caution")
		if r.level >= note.Danger {
			kind = w.s.say("kind.danger")
		}
		w.s.page.State(view.Row(w.at+"caution", i, "item"), map[bool]string{true: "bad", false: "warn"}[r.level >= note.Danger])
		w.cell("caution", i, "kind", kind)
		w.cell("caution", i, "text", r.text)
	}
}

// label is the strip for the bottle. Its date is the page's, and it computes none
// by which to use it.
func (w *paper) label(p *prepared) {
	l, s := p.sheet.Label, w.s
	w.text("label-name", l.Name)
	w.text("label-batch", s.msay("label-line", note.Word("what", "label.batch"), note.Typed("is", s.words.Figure(float64(l.Batch), unit.Gram))))
	contains, may := "", ""
	if len(l.Allergens) > 0 {
		contains = s.msay("label-line", note.Word("what", "label.contains"), note.Typed("is", s.allergenList(l.Allergens)))
	}
	if len(l.MayHold) > 0 {
		may = s.msay("label-line", note.Word("what", "label.may-hold"), note.Typed("is", s.allergenList(l.MayHold)))
	}
	w.text("label-contains", contains)
	w.text("label-may-hold", may)
	w.text("label-use-by", s.say(l.UseBy))
}

func nonEmpty(texts ...string) []string {
	var out []string
	for _, t := range texts {
		if t != "" {
			out = append(out, t)
		}
	}
	return out
}
