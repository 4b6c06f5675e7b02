package lab

import (
	"maps"
	"strings"

	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/plan"
	"tremblant/internal/plan/method"
)

// prep is the section that turns the formula into weights, a method, times and
// a prep sheet. Its part of the page is called method.
type prep struct {
	now *prepared // what is on the page; nil before anything was

	open   string // id of the step whose editor is open
	afresh bool   // the editor must be filled with the step's words
	focus  string // button or input of the editor that gets the keyboard
	full   bool   // the last change was one too many

	pearls *pearls // asked for the citrate of spheres

	clock   float64 // minutes since midnight, as the page's clock says
	clocked bool

	rowInputs
}

func newPrep() *prep { return &prep{pearls: newPearls(), rowInputs: rowInputs{}} }

func (m *prep) part() string { return "method" }

func (m *prep) inputs() []string {
	names := []string{}
	for _, what := range [...]string{"target", "bottled", "charges", "tolerance", "bowl", "service", "day", "slack", "vessel", "depth", "width",
		"vessels", "wall", "place", "place-temp", "start", "stirred", "hold-temp", "hold-minutes", "currency"} {
		names = append(names, mname(what))
	}
	for _, f := range facts {
		names = append(names, mname(f.word))
	}
	return names
}

func (m *prep) show(s *state) {
	if s.refused != nil || s.batch.Total <= 0 {
		m.wrong(s)
		return
	}
	p := m.prepare(s)
	if m.now != nil && m.now.key() != p.key() {
		m.open = "" // another formula
	}
	m.now = p
	s.page.Line(mname("cannot"), "")
	s.page.Show(mname("answer"), true)
	s.page.State(mname("answer"), "")
	s.showRemarks("count", s.remarks(append(append(s.leftNote(), s.counted...), s.strange...)))
	s.page.Text(mname("target-guess"), s.msay("guess", note.Word("target", "lab-method.target-"+targetWord(p.target))))
	s.page.Show(mname("bottled-ask"), p.target == method.FluidGel || p.target == method.Thicken)
	s.page.Show(mname("charges-ask"), p.target == method.SiphonCold || p.target == method.SiphonHot)
	planned := ""
	if len(p.planned.Charges) > 0 {
		planned = s.msay("charges-planned", p.planned.Chargers("count"))
	}
	s.page.Line(mname("charges-planned"), planned)
	s.showWeights(p)
	s.page.Line(mname("no-method"), s.refusal(p.noMethod))
	s.page.Show(mname("method"), p.noMethod == nil)
	m.showSteps(s, p)
	s.showCooling(p)
	m.showCautions(s, p)
	m.showParts(s, p)
	m.showCost(s, p)
	s.showCook(p)
	s.showSheet(p)
}

// key tells one formula from another, in every language: its name and what goes into it.
func (p *prepared) key() string {
	all := []string{p.named}
	for _, item := range p.in.Items {
		all = append(all, item.ID)
	}
	return digest(strings.Join(all, "\t"))
}

// wrong leaves the last good answer on the page, dimmed, and takes the paper
// away: nobody should cook from what no longer follows from the formula.
func (m *prep) wrong(s *state) {
	s.page.Line(mname("cannot"), s.msay("wrong"))
	s.page.Show(mname("answer"), m.now != nil)
	s.page.State(mname("answer"), "stale")
	s.page.State(mname("sheet"), "")
	s.page.State(mname("cook"), "stale")
}

// do carries out the section's buttons. The page's clock comes in here as well,
// as minutes since midnight, counted from 1.
func (m *prep) do(what string, row int, s *state) *formula.Change {
	c := m.press(what, row, s)
	if c != nil { // so that the page follows at once; the pan will say the same
		s.fields = maps.Clone(c.Fields)
	}
	return c
}

func (m *prep) press(what string, row int, s *state) *formula.Change {
	switch {
	case what == "clock":
		m.clock, m.clocked = float64(row-1), row >= 1 && row <= dayMinutes
		return nil
	case m.now == nil:
		return nil
	case what == "edit":
		m.edit(row - 1)
		return nil
	case what == "reset-all":
		m.open = ""
		return s.resetAll()
	case what == "lost":
		return m.dropLost(row-1, s)
	}
	step, ok := strings.CutPrefix(what, "step-")
	if !ok {
		return nil
	}
	m.focus = step
	c := m.change(step, row-1, s)
	m.full = c == nil && len(s.editNames()) >= maxEdits
	return c
}

// edit opens the editor of a step, or closes it.
func (m *prep) edit(i int) {
	steps := m.now.sheet.Steps
	if i < 0 || i >= len(steps) || steps[i].ID == m.open {
		m.open = ""
		return
	}
	m.open, m.afresh = steps[i].ID, true
}

// showCautions shows what is not said beside a step or a weight already.
func (m *prep) showCautions(s *state, p *prepared) {
	beside := map[string]bool{} // read by key only
	for _, step := range p.sheet.Steps {
		for _, r := range s.remarks(step.Notes) {
			beside[r.text] = true
		}
	}
	for _, line := range p.list.Lines {
		for _, r := range s.remarks(line.Notes) {
			beside[r.text] = true
		}
	}
	var lines []remark
	for _, r := range s.cautions(p) {
		if !beside[r.text] {
			lines = append(lines, r)
		}
	}
	s.showRemarks("caution", lines)
	var known []remark
	for _, r := range s.remarks(p.sheet.Notes) {
		if !beside[r.text] {
			known = append(known, r)
		}
	}
	s.showRemarks("known", known)
	s.page.Show(mname("known-box"), len(known) > 0)
	diet, contains, labels := s.dietLines(p)
	s.page.Text(mname("diet"), diet)
	s.page.Line(mname("contains"), contains)
	s.page.Line(mname("labels"), labels)
}

// said are warnings of an agent's record that package safety says as well.
var said = map[string]bool{ // read by key only
	"mini-cup": true, "gut": true, "ca-irritant": true, "konjac-dry": true, "konjac-us": true, "konjac-confectionery": true,
}

// cautions are all dangers and cautions, dangers first.
func (s *state) cautions(p *prepared) []remark {
	var dangers, others []remark
	file := func(r remark) {
		if r.level >= note.Danger {
			dangers = append(dangers, r)
		} else {
			others = append(others, r)
		}
	}
	for _, r := range s.remarks(p.sheet.Cautions) {
		file(r)
	}
	for _, a := range p.agents {
		for _, w := range a.Safety {
			if said[string(w.Code)] {
				continue
			}
			level := note.Caution
			if w.Grave {
				level = note.Danger
			}
			file(remark{level, capital(s.msay("of-agent", note.Word("agent", "agent."+string(a.ID)), note.Word("warning", "safety."+string(w.Code)))), w.Cite.Ref()})
		}
	}
	return append(dangers, others...)
}

// dietLines are the diet, what it contains, and what labels must be read for.
func (s *state) dietLines(p *prepared) (diet, contains, labels string) {
	d := p.sheet.Diet
	if p.noMethod != nil {
		return "", "", ""
	}
	diet = s.msay("diet", note.Typed("vegan", s.dietAnswer(d.Vegan, p.in.Items, func(i plan.Item) plan.Answer { return i.Vegan })),
		note.Typed("vegetarian", s.dietAnswer(d.Vegetarian, p.in.Items, func(i plan.Item) plan.Answer { return i.Vegetarian })))
	if len(d.Allergens) > 0 {
		contains = s.msay("contains", note.Typed("list", s.allergenList(d.Allergens)))
	}
	if len(d.MayHold) > 0 {
		labels = s.msay("read-labels", note.Typed("list", s.allergenList(d.MayHold)))
	}
	return diet, contains, labels
}

// dietAnswer is yes, no, or what is not known.
func (s *state) dietAnswer(a plan.Answer, items []plan.Item, of func(plan.Item) plan.Answer) string {
	switch a {
	case plan.Yes:
		return s.msay("yes")
	case plan.No:
		return s.msay("no")
	}
	var open []string
	for _, item := range items {
		if of(item) == plan.Ask && item.Mass > 0 {
			open = append(open, s.words.Arg(item.Name("item")))
		}
	}
	return s.msay("ask", note.Typed("list", s.join(open)))
}

func (s *state) allergenList(ids []string) string {
	var names []string
	for _, id := range ids {
		names = append(names, s.say("allergen."+id))
	}
	return s.join(names)
}
