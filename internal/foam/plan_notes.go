package foam

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// planNotes says what to know about a plan.
func (r Request) planNotes(p Plan, kind Type) []note.Note {
	var notes []note.Note
	first := p.Fillings[0]
	notes = append(notes, first.Expansion.Notes...)
	notes = append(notes, r.one(first).physicsNotes(0)...)
	if p.Rounds > 1 {
		notes = append(notes, r.refill(p, kind))
	}
	if r.Covers > 0 && p.Portions.Low < float64(r.Covers) {
		notes = append(notes, note.New(note.Caution, CodeShortAtLow, note.Num("low", math.Floor(p.Portions.Low), unit.Portion),
			note.Num("covers", float64(r.Covers), unit.Portion)).From(first.Expansion.Source))
	}
	if r.isThick() {
		notes = append(notes, note.New(note.Hint, CodeThickSticks, note.Num("share", stuckThick.Typical*100, unit.PercentOf)).From(srcPractice))
	}
	if drawn := first.Picture.GasLeft; len(drawn) == 3 {
		notes = append(notes, note.New(note.Reason, CodeLastDenser, note.Num("first", drawn[0].Bound*100, unit.PercentOf),
			note.Num("last", drawn[2].Bound*100, unit.PercentOf), note.Num("left", drawn[2].Left.Percent(), unit.PercentOf)).From(srcModel))
	}
	return append(notes, r.bodyNotes(p, kind)...)
}

// refill says what is done between the rounds.
func (r Request) refill(p Plan, kind Type) note.Note {
	code := CodeRefill
	if r.Formula.Base.Hot() {
		code = CodeRefillHot
	}
	return note.New(note.Caution, code, note.Num("rounds", float64(p.Rounds), unit.One),
		note.Num("rest", kind.Rest.Typical/minute, unit.Minute)).From(srcPractice)
}

// one is a filling of the plan as the physics sees it.
func (r Request) one(x Filling) Fill {
	f := r.full(x.Shelf)
	f.Mass, f.Charges = x.Mass, x.Charges
	return f
}

// bodyNotes sets rule and gas side by side for each size used, once.
func (r Request) bodyNotes(p Plan, kind Type) []note.Note {
	var notes []note.Note
	done := make([]bool, len(r.Shelf))
	for _, x := range p.Fillings {
		if done[x.Shelf] {
			continue
		}
		done[x.Shelf] = true
		f := r.one(x)
		limit, err := f.limit()
		if err != nil {
			continue
		}
		a := Advice{Rule: f.Siphon.ruleFor(kind), Limit: limit, ByGas: f.chargesByGas(kind, r.Tests, limit), Advised: x.Charges}
		for n := 1; n <= x.Charges; n++ {
			a.Ladder = append(a.Ladder, f.rung(n, f.chargedAt()))
		}
		for _, n := range f.adviceNotes(a)[len(f.physicsNotes(0)):] {
			if n.Field == "" {
				n.Field = "siphon." + x.Siphon // so that the page can say which body
			}
			notes = append(notes, n)
		}
	}
	return notes
}
