package lab

import (
	"math"
	"slices"
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/source"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// mname is the name of a place or an input of the section.
func mname(what string) string { return "lab-method-" + what }

// mrow is the name of a place in row i, from 0, of a list of the section.
func mrow(list string, i int, what string) string { return view.Row(mname(list), i, what) }

// msay is a sentence of the section's own.
func (s *state) msay(key string, args ...note.Arg) string { return s.say("lab-method."+key, args...) }

// remark is one line that a cook must or may read.
type remark struct {
	level note.Level
	text  string
	from  source.Ref
}

// remarks are notes as lines, each text once.
func (s *state) remarks(notes []note.Note) []remark {
	var out []remark
	for _, n := range notes {
		r := remark{n.Level, s.noteSentence(n), n.Source}
		if !slices.ContainsFunc(out, func(o remark) bool { return o.text == r.text }) {
			out = append(out, r)
		}
	}
	return out
}

// noteSentence is a note with its long times in hours.
func (s *state) noteSentence(n note.Note) string {
	n.Args = s.hours(n.Args)
	return capital(s.words.Note(n))
}

// hours writes times of two hours and more in hours.
func (s *state) hours(args []note.Arg) []note.Arg {
	out := slices.Clone(args)
	for i, a := range out {
		if a.Unit == unit.Minute {
			out[i] = note.Typed(a.Name, s.duration(a.Value))
		}
	}
	return out
}

// showRemarks shows lines in a list of the section.
func (s *state) showRemarks(list string, lines []remark) { s.remarkRows(mname(list), lines) }

// remarkRows shows lines in a list whose rows have the places item, kind, text
// and source; the word for the level stands with the colour.
func (s *state) remarkRows(list string, lines []remark) {
	s.page.Rows(list, len(lines))
	for i, r := range lines {
		mark, kind := "", ""
		switch r.level {
		case note.Caution:
			mark, kind = "warn", s.say("kind.caution")
		case note.Danger, note.Refused:
			mark, kind = "bad", s.say("kind.danger")
		}
		s.page.State(view.Row(list, i, "item"), mark)
		s.page.Line(view.Row(list, i, "kind"), kind)
		s.page.Text(view.Row(list, i, "text"), r.text)
		s.page.Line(view.Row(list, i, "source"), s.credit(r.from))
	}
}

// credit says in words how far a rule can be trusted, and where it stands.
func (s *state) credit(ref source.Ref) string {
	switch {
	case !ref.Tag.Known():
		return ""
	case ref.Text == "":
		return s.say("source." + string(ref.Tag))
	}
	return s.msay("work", note.Word("trust", "source."+string(ref.Tag)), note.Typed("work", ref.Text))
}

// duration writes minutes as a cook says them: 30 s, 2.5 min, 45 min, 4 h, 1 h 20 min.
func (s *state) duration(minutes float64) string {
	switch {
	case !unit.Finite(minutes):
		return "–"
	case minutes > 0 && minutes < 1:
		return s.words.Figure(math.Round(minutes*60), unit.Second)
	case minutes < 10:
		return s.words.Figure(math.Round(minutes*2)/2, unit.Minute)
	case minutes < 100:
		return s.words.Figure(math.Round(minutes), unit.Minute)
	}
	whole := math.Round(minutes)
	if minutes > 4*60 {
		whole = 5 * math.Round(minutes/5)
	}
	if minutes < 24*60 {
		return s.hoursMinutes(whole)
	}
	return s.words.Figure(math.Round(minutes/60), unit.Hour)
}

// span writes minutes as duration does, but to the minute however long it is: it
// stands beside times that a cook goes by.
func (s *state) span(minutes float64) string {
	if !unit.Finite(minutes) || minutes < 100 {
		return s.duration(minutes)
	}
	return s.hoursMinutes(math.Round(minutes))
}

// hoursMinutes writes a whole number of minutes as hours, and the rest where there is one.
func (s *state) hoursMinutes(whole float64) string {
	hours, rest := math.Floor(whole/60), math.Mod(whole, 60)
	if rest == 0 {
		return s.words.Figure(hours, unit.Hour)
	}
	return s.msay("hours-minutes", note.Typed("hours", s.words.Style.Fixed(hours, 0)), note.Typed("minutes", s.words.Style.Fixed(rest, 0)))
}

// between writes a range of minutes, once where both ends read the same.
func (s *state) between(r unit.Range) string {
	low, high := s.duration(r.Low), s.duration(r.High)
	if low == high {
		return low
	}
	return s.msay("between", note.Typed("low", low), note.Typed("high", high))
}

// join lists texts as the reader's language lists them.
func (s *state) join(texts []string) string { return strings.Join(texts, s.msay("comma")) }

// display is a reading as the scale shows it, and always in grams.
func (s *state) display(m, step unit.Mass) string {
	return s.words.Style.Fixed(float64(m), unit.StepDecimals(float64(step))) + "\u00a0" + string(unit.Gram)
}

// scaleName tells scales apart by what a cook sees of them.
func (s *state) scaleName(step, most unit.Mass, twins bool) string {
	if twins {
		return s.msay("scale-most", note.Num("step", float64(step), unit.Gram), note.Num("most", float64(most), unit.Gram))
	}
	return s.msay("scale", note.Num("step", float64(step), unit.Gram))
}

// scales are the shelf's, named.
func (s *state) scales() []weigh.Scale {
	var out []weigh.Scale
	for i, sc := range s.shelf.Scales {
		twins := false
		for j, other := range s.shelf.Scales {
			twins = twins || i != j && other.Step == sc.Step
		}
		named := weigh.Scale{ID: s.scaleName(sc.Step, sc.Max, twins), Step: sc.Step, Capacity: sc.Max}
		if !slices.Contains(out, named) && sc.Step <= sc.Max {
			out = append(out, named)
		}
	}
	return out
}

// digest is a short name, of letters and digits, for a text of any length: 64
// bits of FNV-1a.
func digest(text string) string {
	const letters = "0123456789abcdefghijklmnopqrstuvwxyz"
	h := uint64(14695981039346656037)
	for i := range len(text) {
		h = (h ^ uint64(text[i])) * 1099511628211
	}
	var b [13]byte
	for i := range b {
		b[i] = letters[h%36]
		h /= 36
	}
	return string(b[:])
}
