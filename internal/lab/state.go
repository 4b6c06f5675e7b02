package lab

import (
	"cmp"
	"errors"
	"slices"
	"strings"

	"tremblant/internal/agent"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/phrase"
	"tremblant/internal/source"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// state is what every section sees: the working formula, what it comes to, and
// what the tellers among the sections have found out.
type state struct {
	words phrase.Book
	page  *view.Page

	link    string  // the page's address without what stands behind "#"
	kitchen kitchen // what this kitchen's trials say of its agents

	fields  formula.Fields // as typed, the lab's own inputs among them
	shelf   formula.Shelf
	reading formula.Reading
	batch   gel.Batch
	refused *note.Refusal // why there is no batch; nil when there is one
	counted []note.Note   // what had to be taken for granted to count the batch

	doses   []gel.Dose  // the agents that are known, as shares of the finished mix
	doseRow []int       // the formula's dose, from 0, of each of them
	strange []note.Note // the agents that are not known, with the nearest names

	// conditions is what is known about the liquid. Each teller may add to it;
	// what a person has typed wins over what was worked out.
	conditions gel.Conditions

	// liquidShares is what a teller knows of the liquid's composition.
	liquidShares liquidShares
	// liquidNames are the names of ingredients in the page's language; nil before
	// the first is asked for.
	liquidNames *liquidNames
	// mix is the liquid as worked out from its parts; nil when it is not known.
	mix *mixture
	// parts are the pan's ingredients with what each is counted as.
	parts []mixPart
}

// work takes a working formula.
func (s *state) work(w formula.Working) {
	s.fields, s.shelf, s.link = w.Fields, w.Shelf, w.Link
	s.kitchen.learn(w)
	s.words.Style = unit.Style{Comma: w.Comma}
}

// read works out what the fields come to, before the tellers are asked.
func (s *state) read() {
	s.conditions, s.liquidShares, s.mix, s.parts = gel.Conditions{}, liquidShares{}, nil, nil
	s.reading = s.fields.Read(findAgent)
	s.refused, s.counted = nil, nil
	s.doses, s.doseRow, s.strange = nil, nil, nil
	for i := range s.reading.Notes {
		n := &s.reading.Notes[i]
		if n.Level == note.Refused && s.refused == nil {
			s.refused = &note.Refusal{Note: *n}
		}
	}
	if s.refused != nil {
		return
	}
	s.count()
	if s.refused == nil {
		s.share()
	}
}

func findAgent(name string) (string, bool) {
	a := agent.Find(name)
	if a == nil {
		return "", false
	}
	return string(a.ID), true
}

// usualDensity stands in, in g/ml, where volumes meet weights and nobody has
// said what the liquid weighs: water's, and near most juices' (common practice).
const usualDensity = 1

// count computes the batch. Unlike the pan, the lab goes on with a usual
// density and sheet, and says so: its answers are estimates anyway.
func (s *state) count() {
	f := s.reading.Formula
	var err error
	s.batch, err = gel.Convert(f, s.ownSheets())
	if err == nil && !s.batch.MassKnown || refusedFor(err, gel.NeedDensity) {
		f.Density = usualDensity
		s.counted = append(s.counted, note.New(note.Hint, CodeUsualDensity))
		s.batch, err = gel.Convert(f, s.ownSheets())
	}
	if err == nil && blindSheets(s.batch) {
		k := s.usualSheets()
		s.counted = append(s.counted, note.New(note.Hint, CodeUsualSheet, note.Num("mass", float64(k.SheetMass), unit.Gram)).From(sheetRef(k)))
		s.batch, err = gel.Convert(f, k)
	}
	errors.As(err, &s.refused)
}

func refusedFor(err error, code note.Code) bool {
	var r *note.Refusal
	return errors.As(err, &r) && r.Code == code
}

func (s *state) ownSheets() gel.Shelf {
	return gel.Shelf{SheetMass: s.shelf.SheetMass, SheetGrade: agent.Word(s.shelf.SheetGrade)}
}

// sheetRef is where the usual mass of a sheet comes from.
func sheetRef(k gel.Shelf) source.Ref {
	sheet, _ := agent.SheetByKey(cmp.Or(k.SheetGrade, "gold"))
	return sheet.Grams.Ref()
}

func blindSheets(b gel.Batch) bool {
	return slices.ContainsFunc(b.Doses, func(d gel.DoseOut) bool { return !d.MassKnown })
}

// usualSheets is the kitchen with its sheets at the weight that the pan counts
// them with, where it only has their number.
func (s *state) usualSheets() gel.Shelf {
	k := s.ownSheets()
	k.SheetMass, _ = k.Sheet()
	return k
}

// share puts the doses in shares of the finished mix, after the boil.
func (s *state) share() {
	for i, d := range s.reading.Formula.Doses {
		if d.Agent == "" {
			s.strange = append(s.strange, s.strangeNote(d.Name))
			continue
		}
		s.doses = append(s.doses, gel.Dose{Agent: agent.ID(d.Agent), Grade: s.gradeOf(d), Share: s.batch.Doses[i].AfterBoil})
		s.doseRow = append(s.doseRow, i)
	}
}

// strangeNote says that an agent is not known, and which names are near.
func (s *state) strangeNote(name string) note.Note {
	if strings.TrimSpace(name) == "" {
		return note.New(note.Hint, CodeNameless)
	}
	var near []string
	for _, suggestion := range agent.Nearest(name, 3) {
		near = append(near, s.agentName(suggestion.Agent.ID))
	}
	if len(near) == 0 {
		return note.New(note.Hint, CodeUnknown, note.Typed("name", name))
	}
	return note.New(note.Hint, CodeUnknownNear, note.Typed("name", name), note.Typed("near", s.list(near)))
}

// gradeOf is the strength of a dose: as written, or as this kitchen's shelf
// says, or 0 for the usual one.
func (s *state) gradeOf(d formula.Dose) float64 {
	a := agent.ByID(agent.ID(d.Agent))
	switch {
	case a == nil || a.Grade.Kind == agent.NoGrade:
		return 0
	case d.Grade != 0:
		return d.Grade
	case a.Grade.Kind == agent.Bloom && d.Amount.Kind() == unit.KindSheets:
		grade, _ := agent.SheetByKey(agent.Word(s.shelf.SheetGrade))
		return grade.Bloom.Typical
	case a.Grade.Kind == agent.Bloom:
		return s.shelf.PowderBloom
	}
	return s.gradeOwned(a)
}

// gradeOwned is the strength that the shelf gives an agent, 0 for none.
func (s *state) gradeOwned(a *agent.Agent) float64 {
	for _, own := range s.owned() {
		if own.Agent == a.ID {
			return own.Grade
		}
	}
	return 0
}

// owned is the agents on this kitchen's shelf with their strengths. Gelatin has
// questions of its own there: a kitchen that has answered them owns it.
func (s *state) owned() []gel.ShelfItem {
	var out []gel.ShelfItem
	if s.shelf.PowderBloom > 0 || s.shelf.SheetMass > 0 {
		out = append(out, gel.ShelfItem{Agent: "gelatin", Grade: s.shelf.PowderBloom})
	}
	for _, own := range s.shelf.Agents {
		a := agent.ByID(agent.ID(own.Agent))
		if a == nil {
			continue
		}
		item := gel.ShelfItem{Agent: a.ID, Grade: own.Grade}
		if _, err := gel.Regrade(a.ID, 1, own.Grade, 0); err != nil {
			item.Grade = 0 // a strength that nobody sells
		}
		out = append(out, item)
	}
	return out
}

// solvent is the mass of the finished mix without its agents, in g: what the
// doses of a swap go into.
func (s *state) solvent() unit.Mass {
	m := s.batch.AfterBoil
	for _, d := range s.batch.Doses {
		m -= d.Mass
	}
	return max(m, 0)
}
