package lab

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/plan/timeline"
	"tremblant/internal/unit"
)

const dayMinutes = 24 * 60

// oneCook is what one cook has to work with; a formula alone wants no more.
var oneCook = []timeline.Resource{
	{ID: timeline.Cook, Capacity: 1}, {ID: "stove", Capacity: 4}, {ID: "blender", Capacity: 1}, {ID: "fridge", Capacity: 20}, {ID: "siphon", Capacity: 10},
}

// readClock reads a time of day as a cook types it: 19:30, 19.30, 1930, 19h30, 7.
// It gives minutes since midnight.
func readClock(text string) (minutes int, ok bool) {
	text = strings.TrimSpace(text)
	cut := strings.IndexAny(text, ":.,hH ")
	hours, rest := text, ""
	switch {
	case cut >= 0:
		hours, rest = text[:cut], strings.TrimSpace(text[cut+1:])
	case len(text) == 3 || len(text) == 4:
		hours, rest = text[:len(text)-2], text[len(text)-2:]
	}
	h, okH := smallNumber(hours, 24)
	m, okM := smallNumber(rest, 59)
	if rest == "" {
		m, okM = 0, true
	}
	if !okH || !okM || h == 24 && m > 0 || len(rest) == 1 {
		return 0, false
	}
	return h*60 + m, true
}

func smallNumber(text string, most int) (int, bool) {
	if len(text) > 2 || strings.Trim(text, "0123456789") != "" {
		return 0, false
	}
	n, err := strconv.Atoi(text)
	return n, err == nil && n <= most
}

// service is when it is wanted, in minutes from today's midnight.
func (s *state) service() (minutes float64, known bool) {
	minutes, known = readService(s)
	message := ""
	if !known && strings.TrimSpace(s.fields[mname("service")]) != "" {
		message = s.words.Note(note.Refuse("", CodeBadClock).Note)
	}
	s.page.Invalid(mname("service"), message != "")
	s.page.Say(mname("service"), message, false)
	return minutes, known
}

// plan lays the method out backwards from service.
func (m *prep) plan(s *state, p *prepared) {
	service, known := s.service()
	o := timeline.Options{Typical: !s.ticked(mname("slack")), Timed: known && m.clocked, Now: m.clock, Service: service}
	var err error
	p.timeline, err = timeline.Make(p.sheet.Tasks, oneCook, o)
	var r *note.Refusal
	if errors.As(err, &r) && r.Code == timeline.CodePast { // said beside its input; the times stand all the same
		s.page.Say(mname("service"), s.noteSentence(r.Note), false)
		s.page.Invalid(mname("service"), true)
		o.Timed = false
		p.timeline, err = timeline.Make(p.sheet.Tasks, oneCook, o)
	}
	s.page.Show(mname("start-answer"), err == nil)
	if err != nil {
		return
	}
	s.page.Figure(mname("total"), p.timeline.Start*60, s.span(p.timeline.Start))
	s.page.Show(mname("total-row"), known) // else it is what stands there already
	if known {
		s.page.Figure(mname("begin"), p.timeline.Start, s.clockText(service-p.timeline.Start, s.serviceDay(mname)))
	} else {
		s.page.Figure(mname("begin"), p.timeline.Start, s.msay("before", note.Typed("time", s.span(p.timeline.Start))))
	}
	s.page.Show(mname("day-ask"), known)
	s.showRemarks("time-note", s.remarks(p.timeline.Notes))
}

// clockText is a time of day, with its day where that is before the day of service. Half
// a minute makes it earlier, as it makes the span up to service longer.
func (s *state) clockText(minutes, serviceDay float64) string {
	whole := math.Ceil(minutes - 0.5)
	day := math.Floor(whole / dayMinutes)
	of := int(whole - day*dayMinutes)
	text := twoDigits(of/60) + ":" + twoDigits(of%60)
	switch before := serviceDay - day; {
	case before <= 0:
		return text
	case before == 1:
		return s.msay("day-before", note.Typed("time", text))
	default:
		return s.msay("days-before", note.Num("days", before, unit.One), note.Typed("time", text))
	}
}

// hourMinute writes a span as hours and minutes, 1:05.
func hourMinute(minutes float64) string {
	whole := int(math.Round(minutes))
	return strconv.Itoa(whole/60) + ":" + twoDigits(whole%60)
}

func twoDigits(n int) string {
	if n < 10 {
		return "0" + strconv.Itoa(n)
	}
	return strconv.Itoa(n)
}

// startOf is when a step begins: by the clock when service is known, else so
// long before it. ok is false for steps that take no place in the plan.
func (s *state) startOf(p *prepared, step string) (before float64, text string, ok bool) {
	service, known := readService(s)
	for _, slot := range p.timeline.Slots {
		if slot.Task.ID != p.sheet.Title+"/"+step {
			continue
		}
		if known {
			return slot.Start, s.clockText(service-slot.Start, s.serviceDay(mname)), true
		}
		return slot.Start, s.msay("ahead", note.Typed("hours", hourMinute(slot.Start))), true
	}
	return 0, "", false
}

// readService is service without a word about what is wrong with it.
func readService(s *state) (float64, bool) {
	return readMoment(s.fields[mname("service")], s.fields[mname("day")])
}

// readMoment reads a time of day and how many days off it is, in minutes from
// today's midnight.
func readMoment(clock, days string) (float64, bool) {
	at, ok := readClock(clock)
	return float64(at + readDay(days)*dayMinutes), ok
}

func readDay(days string) int {
	day, err := strconv.Atoi(days)
	if err != nil || day < 0 || day > 6 {
		return 0
	}
	return day
}

// serviceDay is the day that service is on, counted from today; name makes the names of a
// part's inputs. Service at 24:00 ends the day that it is on.
func (s *state) serviceDay(name func(string) string) float64 {
	return float64(readDay(s.fields[name("day")]))
}
