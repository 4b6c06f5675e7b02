package lab

import (
	"slices"

	"tremblant/internal/agent"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
	"tremblant/internal/wire"
)

// A kitchen's factors come from the trials that the pan tells of. A trial
// counts for an agent when that agent alone sets the batch: a factor that two
// agents might share cannot be told apart. The modulus that was wanted is the
// one that the model gives for what was aimed at, so a judgement of the recipe
// itself moves the factor, and a cup of a ladder that came out right moves it by
// what its dose differs. Acid, sugar and the rest are the same on both sides and
// fall out.

// kitchen holds the factors with the trials that they were worked out from.
type kitchen struct {
	from    []formula.Tried
	shelf   formula.Shelf
	factors gel.Kitchen
}

// learn works the factors out anew when the trials or the shelf have changed.
func (k *kitchen) learn(w formula.Working) {
	same := slices.EqualFunc(k.from, w.Tried, func(a, b formula.Tried) bool {
		return a.Firmness == b.Firmness && string(a.Batch) == string(b.Batch)
	})
	if same && sameGelatin(k.shelf, w.Shelf) {
		return
	}
	k.from, k.shelf, k.factors = w.Tried, w.Shelf, nil
	var kinds []learnt
	for _, t := range w.Tried {
		one, trial, ok := readTried(t, w.Shelf)
		if !ok {
			continue
		}
		i := slices.IndexFunc(kinds, func(l learnt) bool { return l.agent == one.agent && l.grade == one.grade })
		if i < 0 {
			i = len(kinds)
			kinds = append(kinds, one)
		}
		kinds[i].trials = append(kinds[i].trials, trial)
	}
	for _, l := range kinds {
		if f, err := gel.FitFactor(l.agent, l.grade, l.trials); err == nil {
			k.factors = append(k.factors, f)
		}
	}
}

// sameGelatin compares what of a shelf changes the doses of a trial.
func sameGelatin(a, b formula.Shelf) bool {
	return a.SheetMass == b.SheetMass && a.SheetGrade == b.SheetGrade && a.PowderBloom == b.PowderBloom
}

// learnt is one agent of one grade with its trials.
type learnt struct {
	agent  agent.ID
	grade  float64
	trials []gel.Trial
}

// readTried reads a trial that one agent alone is answerable for.
func readTried(t formula.Tried, shelf formula.Shelf) (one learnt, trial gel.Trial, ok bool) {
	v, err := wire.Read(t.Batch, wire.Limits{})
	if err != nil {
		return one, trial, false
	}
	m, err := formula.DecodeMade(v)
	if err != nil {
		return one, trial, false
	}
	made, aim := dosesOf(m.Made, shelf), dosesOf(m.Aim, shelf)
	i := settingAlone(made)
	if i < 0 {
		return one, trial, false
	}
	predicted, wanted := modulusOf(made), modulusOf(aim)
	if predicted <= 0 || wanted <= 0 {
		return one, trial, false
	}
	trial = gel.Trial{Predicted: predicted, Wanted: wanted, Outcome: gel.Right}
	switch {
	case t.Firmness < 0:
		trial.Outcome = gel.TooSoft
	case t.Firmness > 0:
		trial.Outcome = gel.TooFirm
	}
	return learnt{agent: made[i].Agent, grade: made[i].Grade}, trial, true
}

// dosesOf reads the doses of a formula as the lab reads the pan's.
func dosesOf(f formula.Formula, shelf formula.Shelf) []gel.Dose {
	s := state{fields: formula.FieldsOf(f, unit.Style{}), shelf: shelf}
	s.read()
	if s.refused != nil || len(s.strange) > 0 {
		return nil
	}
	return s.doses
}

func modulusOf(doses []gel.Dose) unit.Pressure {
	f, err := gel.FirmnessOf(doses, gel.Conditions{}, nil)
	if err != nil || !f.Known {
		return 0
	}
	return unit.Pressure(f.Modulus.Typical)
}

// settingAlone is which dose sets the batch when the others by themselves do
// not; -1 when it is none or several.
func settingAlone(doses []gel.Dose) int {
	found := -1
	for i := range doses {
		if modulusOf(doses[i:i+1]) <= 0 {
			continue
		}
		if found >= 0 {
			return -1
		}
		found = i
	}
	return found
}

// learned is the part of the page that shows the factors.
type learned struct{}

func newLearned() *learned { return &learned{} }

func (*learned) part() string { return "kitchen" }

func (*learned) inputs() []string { return nil }

func (*learned) do(string, int, *state) *formula.Change { return nil }

func (*learned) show(s *state) {
	list := s.kitchen.factors
	s.page.Show("lab-kitchen-none", len(list) == 0)
	s.page.Rows("lab-kitchen-factor", len(list))
	for i, f := range list {
		// What is left uncertain is shown two deviations out, as the model's own ranges are.
		r := f.Range()
		key := "lab-kitchen.factor"
		if f.Bounded() {
			key = "lab-kitchen.bounded"
		}
		place := func(what string) string { return view.Row("lab-kitchen-factor", i, what) }
		name := s.words.Text("agent." + string(f.Agent))
		if f.Grade != 0 {
			name = s.say("lab-kitchen.grade", note.Typed("agent", name), note.Num("grade", f.Grade, unit.One))
		}
		s.page.Text(place("name"), name)
		s.page.Figure(place("value"), f.Value, s.say("lab-kitchen.times", note.Typed("factor", s.words.Style.Significant(f.Value, 2))))
		s.page.Text(place("what"), s.say(key, note.Num("count", float64(f.Trials), unit.One),
			note.Typed("low", s.words.Style.Significant(r.Low, 2)), note.Typed("high", s.words.Style.Significant(r.High, 2))))
	}
}
