package lab

import (
	"errors"
	"slices"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/plan"
	"tremblant/internal/plan/timeline"
	"tremblant/internal/unit"
)

// resourceSiphon is what the method calls the siphons.
const resourceSiphon = "siphon"

// What a kitchen has to work with where it has not said: rules of thumb.
const (
	usualCooks    = 1
	usualRings    = 4
	usualBlenders = 1
	usualPlaces   = 20 // trays and bottles in the fridge
)

// kitchenHas is what the formulas share, as typed or usual.
func (e *evening) kitchenHas(s *state) []timeline.Resource {
	ask := func(id, name string, most, usual float64) timeline.Resource {
		v := usual
		if g := s.typedCount(ename(name), 1, most, unit.One); g.Known {
			v = g.Typical
		}
		return timeline.Resource{ID: id, Capacity: v}
	}
	return []timeline.Resource{
		ask(timeline.Cook, "cooks", 50, usualCooks), ask("stove", "rings", 50, usualRings),
		ask("blender", "blenders", 20, usualBlenders), ask("fridge", "places", 500, usualPlaces),
		{ID: resourceSiphon, Capacity: e.siphons(s)},
	}
}

// siphons is how many there are: as the shelf says, or as many as are wanted. One
// formula alone never wants more than it was planned with.
func (e *evening) siphons(s *state) float64 {
	have, want, most := 0, 0, 1
	for _, own := range s.shelf.Siphons {
		have += own.Count
	}
	for _, c := range e.courses {
		n := c.atOnce()
		if c.fine() && n == 0 && slices.ContainsFunc(c.sheet.Tasks, usesSiphon) {
			n = 1
		}
		want += n
		most = max(most, n)
	}
	if len(s.shelf.Siphons) == 0 {
		have = want
	}
	return float64(max(have, most))
}

func usesSiphon(t timeline.Task) bool {
	return slices.ContainsFunc(t.Needs, func(n timeline.Need) bool { return n.Resource == resourceSiphon })
}

// service is when the evening begins, in minutes from today's midnight.
func (e *evening) service(s *state) (float64, bool) {
	minutes, known := readMoment(s.fields[ename("service")], s.fields[ename("day")])
	message := ""
	if !known && strings.TrimSpace(s.fields[ename("service")]) != "" {
		message = s.words.Note(note.Refuse("", CodeBadClock).Note)
	}
	s.page.Invalid(ename("service"), message != "")
	s.page.Say(ename("service"), message, false)
	return minutes, known
}

// join puts the sheets together: one list of needs, one plan.
func (e *evening) join(s *state) {
	service, known := e.service(s)
	o := timeline.Options{Typical: !s.ticked(ename("slack")), Timed: known && e.clocked, Now: e.clock, Service: service}
	resources := e.kitchenHas(s)
	joined, err := plan.Join(e.sheets(), resources, o)
	var r *note.Refusal
	if errors.As(err, &r) && r.Code == timeline.CodePast { // said beside its input; the plan stands all the same
		s.page.Say(ename("service"), s.noteSentence(r.Note), false)
		s.page.Invalid(ename("service"), true)
		o.Timed, r = false, nil
		joined, err = plan.Join(e.sheets(), resources, o)
	}
	e.joined = joined
	errors.As(err, &r)
	s.page.Line(ename("no-plan"), s.refusal(r))
	s.page.Show(ename("plan"), err == nil && len(joined.Timeline.Slots) > 0)
	e.gather(s)
}

// when is a moment before service: by the clock when service is known.
func (e *evening) when(s *state, before float64) string {
	service, known := readMoment(s.fields[ename("service")], s.fields[ename("day")])
	if known {
		return s.clockText(service-before, s.serviceDay(ename))
	}
	return s.msay("ahead", note.Typed("hours", hourMinute(before)))
}

// slotStep is the course and the step of a task.
func (e *evening) slotStep(id string) (c *course, step string) {
	for _, c := range e.courses {
		if rest, ok := strings.CutPrefix(id, c.title+"/"); ok && c.fine() && c.step(rest) != nil {
			return c, rest
		}
	}
	return nil, ""
}

// tellMoved is how many minutes earlier than alone a step must stand for that to be
// said: a few are so of nearly every step, and change nothing for a cook.
const tellMoved = 10

// showPlan shows when to begin, what clashes, and every step in its order.
func (e *evening) showPlan(s *state) {
	t := e.joined.Timeline
	s.page.Figure(ename("begin"), t.Start, e.when(s, t.Start))
	s.page.Figure(ename("total"), t.Start, s.span(t.Start))
	s.remarkRows(ename("clash"), e.clashes(s))
	s.remarkRows(ename("time-note"), e.timeNotes(s))
	s.page.Rows(ename("slot"), len(t.Slots))
	for i, slot := range t.Slots {
		c, id := e.slotStep(slot.Task.ID)
		if c == nil {
			continue
		}
		step := c.step(id)
		at := func(what string) string { return erow("slot", i, what) }
		s.page.Figure(at("start"), slot.Start, e.when(s, slot.Start))
		s.page.Text(at("dish"), c.title)
		s.page.Text(at("do"), c.s.stepName(*step))
		s.page.Text(at("text"), c.s.stepText(c.p, *step))
		s.page.Text(at("time"), c.s.stepTime(*step))
		s.page.Line(at("limit"), capital(s.join(c.s.limits(*step))))
		dangers, _ := c.s.besides(*step)
		s.page.Line(at("danger"), strings.Join(dangers, "\n"))
		moved := ""
		if slot.Moved >= tellMoved {
			moved = s.esay("moved", note.Typed("time", s.duration(slot.Moved)))
		}
		s.page.Line(at("moved"), moved)
		s.page.State(at("item"), map[bool]string{true: "waits"}[!slot.Task.HandsOn])
	}
}

// clashes says what wants the same thing at the same time when every formula
// goes as late as it can. Clashes of one resource and the same formulas are said
// together; the plan that is shown has none of them left.
func (e *evening) clashes(s *state) []remark {
	type sum struct {
		resource, dishes string
		from, to, want   float64
		have             float64
		count            int
	}
	var all []sum
	for _, c := range e.joined.Timeline.Clashes {
		var titles []string
		for _, id := range c.Tasks {
			if course, _ := e.slotStep(id); course != nil && !slices.Contains(titles, course.title) {
				titles = append(titles, course.title)
			}
		}
		one := sum{c.Resource, s.join(titles), c.From, c.To, c.Want, c.Have, 1}
		k := slices.IndexFunc(all, func(o sum) bool {
			return o.resource == one.resource && (o.dishes == one.dishes || one.resource == timeline.Cook)
		})
		if k < 0 {
			all = append(all, one)
			continue
		}
		o := &all[k]
		if one.from < o.to { // else it only goes on
			o.count++
		}
		o.from, o.to, o.want = max(o.from, one.from), min(o.to, one.to), max(o.want, one.want)
		if o.dishes != one.dishes {
			o.dishes = s.esay("several")
		}
	}
	var out []remark
	for _, o := range all {
		level := note.Caution
		if o.resource == timeline.Cook {
			level = note.Hint
		}
		key := "clash"
		if o.count > 1 {
			key = "clashes"
		}
		out = append(out, remark{level: level, text: capital(s.esay(key, note.Word("resource", "resource."+o.resource), note.Typed("dishes", o.dishes),
			note.Typed("from", e.when(s, o.from)), note.Typed("to", e.when(s, o.to)), note.Num("count", float64(o.count), unit.One),
			note.Num("want", o.want, unit.One), note.Num("have", o.have, unit.One)))})
	}
	slices.SortStableFunc(out, func(a, b remark) int { return int(b.level) - int(a.level) })
	return out
}

// timeNotes are what else the plan says: that it is late, that something waits
// too long or stands warm too long.
func (e *evening) timeNotes(s *state) []remark {
	var out []remark
	for _, n := range e.joined.Timeline.Notes {
		if n.Code == timeline.CodeClash || n.Code == timeline.CodeMoved {
			continue
		}
		text := s.noteSentence(n)
		if c, id := e.slotStep(n.Field); c != nil {
			text = s.esay("of-step", note.Typed("dish", c.title), note.Typed("step", c.s.stepName(*c.step(id))), note.Typed("text", text))
		}
		out = append(out, remark{n.Level, text, n.Source})
	}
	return out
}

// showCautions shows every danger and caution of the evening once, with the
// formulas that it is about.
func (e *evening) showCautions(s *state) { s.remarkRows(ename("caution"), e.cautions(s, false)) }

// cautions are those of all formulas, dangers first; paper leaves out what
// stands elsewhere on it.
func (e *evening) cautions(s *state, paper bool) []remark {
	type said struct {
		remark
		of []string
	}
	var all []said
	for _, c := range e.courses {
		if !c.fine() {
			continue
		}
		list := c.s.cautions(c.p)
		if paper {
			list = c.s.paperCautions(c.p)
		}
		for _, r := range list {
			k := slices.IndexFunc(all, func(o said) bool { return o.text == r.text })
			if k < 0 {
				all = append(all, said{r, []string{c.title}})
			} else if !slices.Contains(all[k].of, c.title) {
				all[k].of = append(all[k].of, c.title)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b said) int { return int(b.level) - int(a.level) })
	var out []remark
	for _, r := range all {
		r.text = s.esay("caution-of", note.Typed("text", r.text), note.Typed("dishes", s.join(r.of)))
		out = append(out, r.remark)
	}
	return out
}
