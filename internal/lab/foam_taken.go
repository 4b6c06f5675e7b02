package lab

import (
	"strings"

	"tremblant/internal/foam"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// showTaken says what was taken for granted, beside the inputs that would say
// otherwise, and shows the inputs that a choice asks for.
func (f *siphon) showTaken(s *state) {
	a, taken := f.ask, f.ask.taken
	hint := func(field, key string, on bool, args ...note.Arg) {
		if !on || strings.TrimSpace(s.fields[foamInput(field)]) != "" {
			return
		}
		s.page.Say(foamInput(field), s.say("lab-foam."+key, args...), true)
	}
	f.showKind(s)
	hint("covers", "taken-pan", taken.pan, note.Num("covers", float64(f.wants.Covers), unit.One), note.Typed("portion", portionText(s, f.wants.Portion)))
	hint("covers", "taken-all", taken.all, note.Typed("mass", grams(s, f.wants.Base)))
	hint("portion", "taken-portion", taken.portion && f.wants.Covers > 0 && !taken.pan, note.Num("size", usualFoam, unit.Millilitre))
	hint("gave", "taken-gave", a.known("gave-base"))
	hint("gave-base", "taken-gave-base", a.known("gave"))
	hint("cup-foam", "taken-cup", a.known("cup-base"))
	hint("cup-base", "taken-cup", a.known("cup-foam"))
	s.page.Line(foamInput("siphon-taken"), s.sayIf(taken.siphon, "lab-foam.taken-siphon")+s.sayIf(taken.shelf, "lab-foam.taken-shelf"))
	quenelle := s.fields[foamInput("unit")] == "quenelle"
	s.page.Show(foamInput("quenelle-ask"), quenelle)
	t := float64(f.wants.Formula.Base.Temperature)
	s.page.Set(foamInput("temp"), "placeholder", s.words.Style.Significant(t, 3))
	s.page.Value(foamInput("serve"), a.served(t))
	f.showServed(s, t)
	basis := "rule"
	if f.wants.Basis == foam.ByGasBalance {
		basis = "gas"
	}
	s.page.Value(foamInput("basis"), basis)
	s.page.Say(foamInput("gas"), s.sayIf(f.wants.Gas != foam.FoodN2O, "lab-foam.gas-needed"), true)
}

// showKind says which kind of foam was guessed.
func (f *siphon) showKind(s *state) {
	id := f.wants.Formula.Type
	text := ""
	switch {
	case id == "":
		text = s.words.Note(note.Refuse("", CodeFoamKind).Note)
	case f.ask.taken.kind:
		text = s.say("lab-foam.taken-kind", note.Word("kind", "foam.type."+id))
	}
	s.page.Say(foamInput("kind"), text, id != "")
}

// showServed says that a temperature is not what "cold" or "hot" says.
func (f *siphon) showServed(s *state, t float64) {
	chosen := s.fields[foamInput("serve")]
	if !f.ask.known("temp") || chosen != "cold" && chosen != "hot" || (t > someHot) == (chosen == "hot") {
		return
	}
	s.page.Say(foamInput("temp"), s.words.Note(note.New(note.Hint, CodeFoamServed, note.Num("temperature", t, unit.DegreeC))), true)
}

// sayIf is a sentence, or nothing.
func (s *state) sayIf(on bool, key string, args ...note.Arg) string {
	if !on {
		return ""
	}
	return s.say(key, args...)
}

// portionText is what one cover gets.
func portionText(s *state, p foam.Portion) string {
	switch p.Kind {
	case foam.ByMass:
		return s.words.Figure(p.Size, unit.Gram)
	case foam.ByQuenelle:
		key := "lab-foam.quenelles"
		if p.Each == 1 {
			key = "lab-foam.quenelle-one"
		}
		return s.say(key, note.Num("each", float64(p.Each), unit.One), note.Num("size", p.Size, unit.Millilitre))
	}
	return s.words.Figure(p.Size, unit.Millilitre)
}

// foamFields are the inputs that the core's fields belong to.
var foamFields = map[string]string{
	"covers": "covers", "portion": "portion", "portion.each": "portion", "spare": "spare", "charges": "charges", "box": "box",
	"temperature": "temp", "water": "water", "milk-fat": "fat", "oil": "oil", "sugar": "sugar", "salt": "salt", "ethanol": "abv",
	"fibre": "fibre", "ph": "ph", "share": "puree", "siphon.nominal": "own-size", "siphon.brim": "own-brim", "siphon.pressure": "pressure",
	"cup.base": "cup-base", "cup.foam": "cup-foam", "foam": "gave", "overrun": "gave", "type": "kind",
}

// topFields stand in sight of the answer; their sentences are not said twice.
var topFields = map[string]bool{"covers": true, "portion": true, "spare": true, "kind": true, "gas": true}

// showRefusal says why there is no plan, at its input and above the last good
// one, and offers the nearest plan that works.
func (f *siphon) showRefusal(s *state) {
	r := f.refusal()
	text, near := "", ""
	if r != nil && r.Code != foam.CodeGas {
		text = s.words.Note(roughNote(s, r.Note))
		field := foamFields[r.Field]
		if field != "" && field != "kind" {
			s.page.Invalid(foamInput(field), true)
			s.page.Say(foamInput(field), text, false)
		}
		if topFields[field] {
			text = ""
		}
		if n := f.nearest(); n != nil {
			near = f.nearText(s, n)
		}
	}
	s.page.Show(foamInput("refused"), text+near != "")
	s.page.Line(foamInput("refused-why"), text)
	s.page.Line(foamInput("near"), near)
	s.page.Show(foamInput("take"), near != "")
}
