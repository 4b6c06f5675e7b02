package lab

import (
	"slices"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/plan/method"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// maxLimits is how many critical limits of one step are shown; no step has more.
const maxLimits = 4

// showSteps shows the method with its times, and the editor where it is open.
func (m *prep) showSteps(s *state, p *prepared) {
	if p.noMethod != nil {
		m.closeEditor(s, 0)
		s.page.Rows(mname("step"), 0)
		s.page.Rows(mname("lost"), 0)
		return
	}
	m.plan(s, p)
	steps := p.sheet.Steps
	m.closeEditor(s, len(steps))
	s.page.Rows(mname("step"), len(steps))
	number := 0
	for i, e := range steps {
		if !e.Skipped {
			number++
		}
		s.showStep(p, i, e, number)
	}
	s.page.Rows(mname("lost"), len(p.sheet.LostEdits))
	for i, l := range p.sheet.LostEdits {
		s.page.Text(mrow("lost", i, "text"), s.lostText(l))
	}
	s.page.Show(mname("lost-box"), len(p.sheet.LostEdits) > 0)
	s.page.Show(mname("reset-all"), len(s.editNames()) > 0 || len(s.wordsNames()) > 0)
	s.page.Line(mname("full"), map[bool]string{true: s.msay("full")}[m.full])
	m.showEditor(s, p)
}

func (s *state) showStep(p *prepared, i int, e method.Edited, number int) {
	at := func(what string) string { return mrow("step", i, what) }
	state, told := "", s.words.Style.Fixed(float64(number), 0)
	if e.Skipped {
		state, told = "out", "–"
	}
	s.page.State(at("item"), state)
	s.page.Text(at("number"), told)
	s.page.Text(at("do"), s.stepName(e))
	s.page.Text(at("text"), s.stepText(p, e))
	s.page.Text(at("mark"), s.marks(e))
	if before, text, ok := s.startOf(p, e.ID); ok {
		s.page.Figure(at("start"), before, text)
	} else {
		s.page.NoFigure(at("start"))
	}
	s.page.Figure(at("minutes"), e.Minutes.Typical, s.stepTime(e))
	s.showLimits(i, e)
	dangers, cautions := s.besides(e)
	s.page.Line(at("danger"), strings.Join(dangers, "\n"))
	s.page.Line(at("caution"), strings.Join(cautions, "\n"))
	why := s.reasons(e)
	s.page.Text(at("why"), strings.Join(why, "\n"))
	s.page.Show(at("why-box"), len(why) > 0)
}

// stepName is the step in a word or two.
func (s *state) stepName(e method.Edited) string {
	if e.Own {
		return s.msay("own-step")
	}
	return s.msay("do-" + string(e.Kind))
}

// stepText is the sentence of a step: the cook's words, or what was worked out.
func (s *state) stepText(p *prepared, e method.Edited) string {
	if strings.TrimSpace(e.Text) != "" {
		return e.Text
	}
	if e.Own {
		return s.msay("own-empty")
	}
	return s.stepSentence(p, e.Step)
}

func (s *state) stepSentence(p *prepared, step method.Step) string {
	args := append(s.hours(step.Args), note.Typed("agents", s.names(p, step.Agents)), note.Typed("parts", s.names(p, step.Parts)))
	if step.Broken {
		return s.msay("chill-to-break", args...)
	}
	return s.say("step."+string(step.Kind), args...)
}

// names are the names of agents or parts, as a cook lists them.
func (s *state) names(p *prepared, ids []string) string {
	var out []string
	for _, id := range ids {
		out = append(out, s.nameOf(p, id))
	}
	return s.join(out)
}

// nameOf is the name of an agent or of a part of the liquid by its id.
func (s *state) nameOf(p *prepared, id string) string {
	for _, part := range p.parts {
		if part.id == id {
			return part.name
		}
	}
	return s.say("agent." + id)
}

// stepTime says how long a step takes, and whether the cook is wanted.
func (s *state) stepTime(e method.Edited) string {
	if e.Minutes.High <= 0 {
		return ""
	}
	key := "takes"
	if !e.Hands {
		key = "waits"
	}
	return s.msay(key, note.Typed("time", s.duration(e.Minutes.Typical)))
}

// marks say what the cook has done to a step.
func (s *state) marks(e method.Edited) string {
	var out []string
	for _, c := range [...]struct {
		on  bool
		key string
	}{{e.Skipped, "is-out"}, {e.Changed, "is-changed"}, {e.Moved, "is-moved"}, {e.Text != "" && !e.Own && !e.Changed, "is-reworded"}} {
		if c.on {
			out = append(out, s.msay(c.key))
		}
	}
	return s.join(out)
}

// limitText is one critical limit: never below 90 °C.
func (s *state) limitText(l method.Limit) string {
	of := map[method.Quantity]string{method.Temperature: "temperature", method.Time: "time", method.PH: "ph", method.Share: "share"}[l.Of]
	side := "least"
	if l.Most {
		side = "most"
	}
	value := s.words.Figure(l.Value, l.Unit)
	if l.Unit == unit.Minute {
		value = s.duration(l.Value)
	}
	return s.say("limit."+of+"-"+side, note.Typed("value", value))
}

func (s *state) showLimits(i int, e method.Edited) {
	for k := range maxLimits {
		at := mrow("step", i, "limit-"+string(rune('1'+k)))
		if k < len(e.Limits) {
			s.page.Figure(at, e.Limits[k].Value, s.limitText(e.Limits[k]))
		}
		s.page.Show(at, k < len(e.Limits))
	}
}

// limits are all of them.
func (s *state) limits(e method.Edited) []string {
	var out []string
	for _, l := range e.Limits {
		out = append(out, s.limitText(l))
	}
	return out
}

// besides are what must be said beside a step: dangers, and cautions.
func (s *state) besides(e method.Edited) (dangers, cautions []string) {
	for _, r := range s.remarks(e.Notes) {
		if r.level >= note.Danger {
			dangers = append(dangers, r.text)
		} else {
			cautions = append(cautions, r.text)
		}
	}
	return dangers, cautions
}

// reasons say why a step is so, and where its limits come from.
func (s *state) reasons(e method.Edited) []string {
	var out []string
	for _, r := range s.remarks(e.Why) {
		out = append(out, s.withWork(r.text, r.from))
	}
	for _, l := range e.Limits {
		if line := s.withWork(capital(s.limitText(l))+".", l.Source); !slices.Contains(out, line) {
			out = append(out, line)
		}
	}
	return out
}

func (s *state) withWork(text string, ref source.Ref) string {
	work := s.credit(ref)
	if work == "" {
		return text
	}
	return s.msay("with-work", note.Typed("text", text), note.Typed("work", work))
}

// timerMinutes is what a cook sets a clock to in a step: its hold, its wait, or
// its least time; 0 for a step without one.
func timerMinutes(e method.Edited) float64 {
	if e.Own {
		return e.Minutes.Typical
	}
	for _, a := range e.Args {
		if a.Name == "minutes" && a.Unit == unit.Minute {
			return a.Value
		}
	}
	for _, l := range e.Limits {
		if l.Of == method.Time && !l.Most {
			return l.Value
		}
	}
	for _, a := range e.Args {
		if a.Name == "low" && a.Unit == unit.Minute {
			return a.Value
		}
	}
	if !e.Hands {
		return e.Minutes.Typical
	}
	return 0
}

// ---- the editor of one step, which stands in the step's row while it is open

// closeEditor takes the editor out of a row that is about to go.
func (m *prep) closeEditor(s *state, steps int) {
	if m.openRow() < 0 || m.openRow() >= steps {
		s.page.Place(mname("editor"), mname("editor-home"))
	}
}

func (m *prep) openRow() int {
	if m.now == nil || m.open == "" {
		return -1
	}
	return slices.IndexFunc(m.now.sheet.Steps, func(e method.Edited) bool { return e.ID == m.open })
}

func (m *prep) showEditor(s *state, p *prepared) {
	i := m.openRow()
	for k := range p.sheet.Steps {
		s.page.Set(mrow("step", k, "edit"), "aria-expanded", map[bool]string{true: "true", false: "false"}[k == i])
	}
	if i < 0 {
		return
	}
	e := p.sheet.Steps[i]
	s.page.Place(mname("editor"), mrow("step", i, "editor"))
	words := s.wordsInput(e)
	if m.afresh {
		m.afresh = false
		s.page.Set(mname("words"), "name", words)
		s.page.Unknown(words) // the input held another step's words
		text := s.fields[words]
		if text == "" && !e.Own {
			text = s.stepSentence(p, e.Step)
		}
		s.page.Value(words, text)
		s.page.Set(mname("own-minutes"), "name", minutesName(e.ID))
		s.page.Set(mname("own-minutes-say"), "data-for", minutesName(e.ID))
		s.page.Unknown(minutesName(e.ID))
		s.page.Value(minutesName(e.ID), s.fields[minutesName(e.ID)])
	}
	s.page.Show(mname("own-ask"), e.Own)
	if e.Own {
		s.typed(minutesName(e.ID), 0, maxOwnMinutes, unit.Minute)
	}
	s.page.Show(mname("do-skip"), !e.Skipped && !e.Own)
	s.page.Show(mname("do-back"), e.Skipped)
	s.page.Show(mname("do-right"), e.Changed)
	s.page.Text(mname("do-reset"), s.msay(map[bool]string{true: "reset-own", false: "reset-one"}[e.Own]))
	s.page.Show(mname("do-reset"), e.Own || e.Text != "" || e.Moved || e.Skipped)
	s.page.Show(mname("do-up"), i > 0)
	s.page.Show(mname("do-down"), i < len(p.sheet.Steps)-1)
	s.page.Line(mname("computed"), s.computed(p, e))
	if m.focus == "up" || m.focus == "down" || m.focus == "words" {
		name := mname(m.focus)
		if m.focus == "words" {
			name = words
		}
		s.page.Focus(name)
	}
	m.focus = ""
}

// computed is what the method itself says where the cook's words stand instead.
func (s *state) computed(p *prepared, e method.Edited) string {
	if e.Own || e.Text == "" {
		return ""
	}
	return s.msay("computed", note.Typed("text", s.stepSentence(p, e.Step)))
}
