package lab

import (
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// showNow says what the formula will be as it stands: its texture, how stiff
// and how brittle, and what can go wrong.
func (w *swap) showNow(s *state, v *gel.Verdict) {
	s.page.Show("lab-swap-answer", true)
	s.page.Text("lab-swap-now-texture", capital(s.textureName(*v)))
	fails := ""
	if v.Fails {
		fails = s.words.Note(v.Cause)
	}
	s.page.Line("lab-swap-now-fails", fails)
	s.readings("lab-swap-now", v.Firmness)
	s.drawSpoon("lab-swap-now", spoonOf(s, v, s.weepsNow(w)))

	var warn, why []note.Note
	for _, list := range [...][]note.Note{v.Notes, v.Firmness.Notes} {
		for _, n := range list {
			switch {
			case v.Fails && same(n, v.Cause):
			case n.Level >= note.Caution:
				warn = append(warn, n)
			default:
				why = append(why, n)
			}
		}
	}
	s.noteRows("lab-swap-warn", &w.works, warn)
	s.noteRows("lab-swap-why", &w.works, why)
	s.page.Show("lab-swap-why-box", len(why) > 0)
}

// same reports whether two notes say the same of the same agent.
func same(a, b note.Note) bool {
	x, _ := a.Arg("agent")
	y, _ := b.Arg("agent")
	return a.Code == b.Code && x == y
}

// readings shows stiffness and brittleness, two readings that a swap keeps
// apart, as a word with its figure and range. at names their places.
func (s *state) readings(at string, f gel.Firmness) {
	s.page.Show(at+"-readings", f.Known)
	s.page.Show(at+"-unknown", !f.Known)
	if !f.Known {
		s.page.NoFigure(at + "-modulus")
		s.page.NoFigure(at + "-strain")
		return
	}
	s.page.Text(at+"-stiff", s.say(stiffWord(f.Modulus.Typical)))
	s.page.Figure(at+"-modulus", f.Modulus.Typical, s.rough(f.Modulus.Typical, unit.Pascal))
	s.page.Text(at+"-modulus-range", s.about(f.Modulus, unit.Pascal))
	known := f.Break.Typical > 0
	s.page.Show(at+"-brittle-row", known)
	if known {
		s.page.Text(at+"-brittle", s.say(strainWord(f.Break.Typical)))
		s.page.Figure(at+"-strain", f.Break.Typical, s.rough(f.Break.Typical*100, unit.PercentOf))
		s.page.Text(at+"-strain-range", s.about(f.Break.Scale(100), unit.PercentOf))
	}
}
