package lab

import (
	"maps"

	"tremblant/internal/agent"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// onLiquid is each dose of an offer at so many agents in the finished mix, as
// per cent of the liquid that is weighed in, kept to two digits: what is
// uncertain by half needs no third.
func (s *state) onLiquid(doses []gel.Dose) []float64 {
	sum := 0.0
	for _, d := range doses {
		sum += float64(d.Share)
	}
	out := make([]float64, len(doses))
	if !(s.batch.Liquid > 0) || sum >= 1 {
		return out
	}
	for i, d := range doses {
		grams := float64(d.Share) / (1 - sum) * float64(s.solvent())
		out[i] = rounded(grams/float64(s.batch.Liquid)*100, 2)
	}
	return out
}

// grams is what an offer's start weighs in this batch: the sum, and the weights
// as text.
func (s *state) grams(o *gel.Offer) (sum float64, text string) {
	for i, p := range s.onLiquid(o.Doses) {
		g := p / 100 * float64(s.batch.Liquid)
		sum += g
		if i > 0 {
			text += " + "
		}
		text += s.words.Style.Significant(g, 3)
	}
	return sum, text + nbsp + "g"
}

// massRange is the range of an offer's agents together in this batch, in g.
func (w *swap) massRange(s *state, o *gel.Offer) unit.Range {
	of := func(share float64) float64 {
		if share >= 1 {
			share = 0.999
		}
		return share / (1 - share) * float64(s.solvent())
	}
	return unit.Range{Low: of(o.Total.Low), Typical: of(o.Total.Typical), High: of(o.Total.High)}
}

// use puts the picked offer in place of the formula's agents. Doses of agents
// that are not known stay; the new ones take the first rows.
func (w *swap) use(s *state) *formula.Change {
	var chosen *gel.Offer
	for _, o := range w.offers {
		if w.picked != "" && key(o) == w.picked {
			chosen = o
		}
	}
	if chosen == nil || s.refused != nil {
		return nil
	}
	f := maps.Clone(s.fields)
	rows := w.offered(s, chosen)
	for i := range s.reading.Formula.Doses {
		if s.reading.Formula.Doses[i].Agent == "" {
			rows = append(rows, w.kept(s, s.reading.DoseRow(i)))
		}
	}
	for i := range formula.MaxDoses {
		for _, property := range doseProperties {
			delete(f, formula.DoseField(i, property))
			if i < len(rows) && rows[i][property] != "" {
				f[formula.DoseField(i, property)] = rows[i][property]
			}
		}
	}
	what := s.say("lab-swap.used", note.Typed("new", s.agents(chosen.Doses)), note.Typed("old", s.agents(s.doses)))
	w.picked, w.all = "", false
	s.page.Focus("lab-swap-now-texture")
	return &formula.Change{Fields: f, What: capital(what)}
}

var doseProperties = [...]string{"name", "amount", "unit", "basis", "grade"}

// offered is an offer as the pan's rows of inputs.
func (w *swap) offered(s *state, o *gel.Offer) []formula.Fields {
	var rows []formula.Fields
	for i, p := range s.onLiquid(o.Doses) {
		d := o.Doses[i]
		row := formula.Fields{
			"name": s.writtenName(d.Agent), "amount": s.words.Style.Plain(p),
			"unit": string(unit.PercentOf), // of the liquid, as nothing else is said
		}
		if grade := weighedFor(d); grade != 0 {
			row["grade"] = s.words.Style.Plain(grade)
		}
		rows = append(rows, row)
	}
	return rows
}

// weighedFor is the strength that a dose's grams are for: as labelled, or for gelatin,
// which is sold by its Bloom, what is taken when no label was told; 0 for any other.
func weighedFor(d gel.Dose) float64 {
	if a := agent.ByID(d.Agent); d.Grade == 0 && a.Grade.Kind == agent.Bloom {
		return a.Grade.Value.Typical
	}
	return d.Grade
}

// writtenName is the agent's name in the reader's language, if the catalogue
// finds the agent by it again, or else its id.
func (s *state) writtenName(id agent.ID) string {
	name := s.agentName(id)
	if found, ok := findAgent(name); ok && found == string(id) {
		return name
	}
	return string(id)
}

func (w *swap) kept(s *state, row int) formula.Fields {
	out := formula.Fields{}
	for _, property := range doseProperties {
		out[property] = s.fields[formula.DoseField(row, property)]
	}
	return out
}
