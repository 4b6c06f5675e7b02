package gel

import (
	"slices"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// refuses asks the guests, the shelf and the texture; the zero note is a yes.
func (sw *swapper) refuses(c *candidate) note.Note {
	for _, a := range c.members() {
		if n := sw.diet(a); n.Code != "" {
			return n
		}
		if sw.wish.OnlyShelf && !slices.ContainsFunc(sw.wish.Shelf, func(s ShelfItem) bool { return s.Agent == a.ID }) {
			return refusal(CodeNotOnShelf, a)
		}
	}
	return sw.texture(c)
}

func refusal(code note.Code, a *agent.Agent, more ...note.Arg) note.Note {
	return note.New(note.Refused, code, append([]note.Arg{agentArg(a.ID)}, more...)...).From(a.Identity.Ref())
}

// diet refuses what the guests do not eat; what only the label knows is refused
// for vegans and vegetarians, and warned of for pork.
func (sw *swapper) diet(a *agent.Agent) note.Note {
	w := sw.wish
	switch {
	case w.Vegan && a.Vegan == agent.No:
		return refusal(CodeNotVegan, a)
	case w.Vegan && a.Vegan == agent.Ask:
		return refusal(CodeAskVegan, a)
	case w.Vegetarian && a.Vegetarian == agent.No:
		return refusal(CodeNotVegetarian, a)
	case w.Vegetarian && a.Vegetarian == agent.Ask:
		return refusal(CodeAskVegetarian, a)
	case w.NoPork && a.PorkFree != agent.Yes:
		return refusal(CodePork, a)
	}
	for _, al := range w.Without {
		if slices.Contains(a.Allergens, al) {
			return refusal(CodeHasAllergen, a, note.Word("allergen", "allergen."+string(al)))
		}
	}
	return note.Note{}
}

// texture refuses a candidate without a window for the texture that is wanted.
func (sw *swapper) texture(c *candidate) note.Note {
	t, m := windowTexture(sw.target), sw.rec.Cond.medium()
	ok := false
	if c.pair != nil {
		_, ok = c.pair.Window(t, m)
		if !ok && len(c.pair.Windows) == 0 && c.pair.Synergy.Known() {
			_, ok = c.a.Window(t, m)
		}
	} else {
		_, ok = c.a.Window(t, m)
		if ok && setRank(sw.target) > 0 && c.a.Setting.Kind == agent.ByAlkali && !(sw.rec.Cond.PH.Known && sw.rec.Cond.PH.Typical >= 9) {
			return refusal(CodeNeedsAlkali, c.a).From(c.a.Setting.Cite.Ref())
		}
	}
	if !ok {
		return refusal(CodeCannotTexture, c.a, note.Word("texture", textureKey(sw.target)))
	}
	return note.Note{}
}

// phSlack is how far outside the usable pH an agent without a measured pH
// factor is still offered, with a caution.
const phSlack = 0.3

// liquid refuses for the liquid itself what a reading only warns of.
func (sw *swapper) liquid(c *candidate, basis Basis) note.Note {
	cond := &sw.rec.Cond
	for _, a := range c.members() {
		s := &a.Stands
		if cond.PH.Known && s.PH.Known() && (basis == ByWindow || !hasPHTable(a)) {
			if ph := cond.PH.Typical; ph < s.PH.From-phSlack || ph > s.PH.To+phSlack {
				return refusal(CodeTooSour, a, note.Num("ph", ph, unit.PH), note.Num("low", s.PH.From, unit.PH), note.Num("high", s.PH.To, unit.PH)).From(s.PH.Cite.Ref())
			}
		}
		if cond.Brix.Known && s.Brix.Known() && !s.Brix.Contains(cond.Brix.Typical) {
			return refusal(CodeWrongSugar, a, note.Num("brix", cond.Brix.Typical, unit.Brix), note.Num("low", s.Brix.From, unit.Brix), note.Num("high", s.Brix.To, unit.Brix)).From(s.Brix.Cite.Ref())
		}
	}
	p := part{pair: c.pair, a: c.a, b: c.b}
	if f := p.feel(); cond.Frozen && f.Freeze == agent.None {
		return refusal(CodeNotFrozen, c.a).From(f.Cite.Ref())
	}
	return note.Note{}
}

func hasPHTable(a *agent.Agent) bool {
	return slices.ContainsFunc(a.Mods, func(m agent.Modifier) bool { return m.By == agent.ByPH })
}
