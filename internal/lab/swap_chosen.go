package lab

import (
	"tremblant/internal/agent"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// showChosen fills the inside of the picked offer.
func (w *swap) showChosen(s *state, rank *gel.Ranking, o *gel.Offer) {
	s.drawSpoon("lab-swap-was", spoonOf(s, &rank.From, s.weepsNow(w)))
	s.drawSpoon("lab-swap-will", spoonOf(s, &gel.Verdict{Texture: rank.Texture, Firmness: o.Firmness}, weepsOf(o)))
	s.readings("lab-swap-will", o.Firmness)
	w.showGrams(s, o)
	w.showLadder(s, o)
	w.showFeatures(s, o)
	s.noteRows("lab-swap-care", &w.works, o.Cautions)
	s.page.Show("lab-swap-care-box", len(o.Cautions) > 0)
	s.noteRows("lab-swap-step", &w.works, o.Method())
	var why []note.Note
	for _, r := range o.Why {
		n := r.Note
		n.Level = note.Reason // a caution already stands among the cautions
		why = append(why, n)
	}
	s.noteRows("lab-swap-place", &w.works, append(why, w.showCurve(s, o)...))
}

// showGrams lists what to weigh, with its share of the liquid.
func (w *swap) showGrams(s *state, o *gel.Offer) {
	const list = "lab-swap-gram"
	s.page.Rows(list, len(o.Doses))
	for i, p := range s.onLiquid(o.Doses) {
		g := p / 100 * float64(s.batch.Liquid)
		s.page.Text(view.Row(list, i, "name"), s.agentName(o.Doses[i].Agent))
		s.page.Figure(view.Row(list, i, "mass"), g, s.words.Style.Significant(g, 3)+nbsp+"g")
		s.page.Figure(view.Row(list, i, "share"), p, s.words.Figure(p, unit.PercentOf))
	}
	r := w.massRange(s, o)
	s.page.Text("lab-swap-range", s.say("lab-swap.range", note.Typed("range", s.about(r, unit.Gram)), note.Num("liquid", float64(s.batch.Liquid), unit.Gram)))
}

// trialLiquid is the liquid of one trial in g: enough to taste and to set in a cup.
const trialLiquid = 100.0

// showLadder gives the first three trials, each in a cup of the liquid.
func (w *swap) showLadder(s *state, o *gel.Offer) {
	const list = "lab-swap-trial"
	s.page.Rows(list, len(o.Ladder))
	for i, total := range o.Ladder {
		scale := float64(total) / float64(o.Total.Typical)
		doses := make([]gel.Dose, len(o.Doses))
		for k, d := range o.Doses {
			doses[k] = gel.Dose{Agent: d.Agent, Share: unit.Fraction(float64(d.Share) * scale)}
		}
		sum, text := 0.0, ""
		for k, p := range s.onLiquid(doses) {
			g := p / 100 * trialLiquid
			sum += g
			if k > 0 {
				text += " + "
			}
			text += s.words.Style.Significant(g, 2)
		}
		s.page.Figure(view.Row(list, i, "mass"), sum, text+nbsp+"g")
	}
	s.page.Text("lab-swap-trials-of", s.say("lab-swap.trials", note.Typed("agents", s.agents(o.Doses)), note.Num("liquid", trialLiquid, unit.Gram)))
}

// showFeatures says what stays and what will not.
func (w *swap) showFeatures(s *state, o *gel.Offer) {
	const list = "lab-swap-differ"
	var stays []string
	var differ []gel.Feature
	for _, f := range o.Features {
		if f.Same() {
			stays = append(stays, s.say("lab-swap.stays", note.Word("what", f.What), note.Word("is", f.Is)))
		} else {
			differ = append(differ, f)
		}
	}
	s.page.Rows(list, len(differ))
	for i, f := range differ {
		s.page.Text(view.Row(list, i, "what"), s.say(f.What))
		s.page.Text(view.Row(list, i, "was"), s.say(f.Was))
		s.page.Text(view.Row(list, i, "is"), s.say(f.Is))
	}
	s.page.Show("lab-swap-differ-box", len(differ) > 0)
	s.page.Line("lab-swap-stay", s.list(stays))
	s.page.Show("lab-swap-stay-box", len(stays) > 0)
}

// weepsOf is whether an offer loses liquid on the plate.
func weepsOf(o *gel.Offer) bool {
	for _, f := range o.Features {
		if f.What == "property.weeps" {
			return wet(f.Is)
		}
	}
	return false
}

// weepsNow is whether the formula does: as the offers compare it, or by its
// first agent's record.
func (s *state) weepsNow(w *swap) bool {
	for _, o := range w.offers {
		for _, f := range o.Features {
			if f.What == "property.weeps" {
				return wet(f.Was)
			}
		}
	}
	if len(s.doses) == 0 {
		return false
	}
	a := agent.ByID(s.doses[0].Agent)
	return a != nil && a.Feel.Weeps >= agent.Some
}

func wet(level string) bool { return level == "weeps.3" || level == "weeps.4" }
