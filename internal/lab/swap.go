package lab

import (
	"errors"
	"strings"

	"tremblant/internal/agent"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// swap says what a formula will be and what could stand in for its agents.
type swap struct {
	picked string // the offer whose inside is shown, by its agents; "" for none
	stands int    // the row that the inside was put into, from 1; 0 where it is at home
	all    bool   // every offer is shown, not only the best
	offers []*gel.Offer
	works  works // named since the section was last shown
}

// bestOffers is how many offers are shown until a person asks for all.
const bestOffers = 6

func newSwap() *swap { return &swap{} }

func (w *swap) part() string { return "swap" }

// swapTicks are the wishes that are ticked: who eats, and what is at hand.
var swapTicks = [...]string{"vegan", "vegetarian", "no-pork", "only-shelf"}

// allergens are the declarable ones that an agent of the catalogue can be.
var allergens = [...]agent.Word{"milk", "egg", "soy", "fish", "gluten"}

func (w *swap) inputs() []string {
	names := append(conditionInputs(), swapInput("texture"))
	for _, t := range swapTicks {
		names = append(names, swapInput(t))
	}
	for _, a := range allergens {
		names = append(names, swapInput("no-"+string(a)))
	}
	return names
}

// tell implements teller.
func (w *swap) tell(s *state) { tellConditions(s) }

func (w *swap) show(s *state) {
	w.offers, w.works = nil, works{}
	defer func() { s.showWorks("lab-swap-work", &w.works) }()
	s.page.Text("lab-swap-known", s.knownConditions())
	s.page.Text("lab-swap-without", w.without(s))
	s.page.Show("lab-swap-only-shelf-ask", len(s.owned()) > 0)
	s.noteRows("lab-swap-count", &w.works, append(append([]note.Note{}, s.counted...), s.strange...))
	rank, err := w.rank(s)
	w.cannot(s, err)
	s.page.Show("lab-swap-answer", s.refused == nil && rank.From.Notes != nil)
	w.offers = rank.Offers
	if rank.From.Notes != nil {
		w.showNow(s, &rank.From)
	}
	w.showOffers(s, &rank, err == nil)
	w.showRefused(s, rank.Refused)
}

// rank is the swap of the formula. A formula that has nothing to swap is at
// least read; From of the answer has notes when it was.
func (w *swap) rank(s *state) (gel.Ranking, error) {
	if s.refused != nil {
		return gel.Ranking{}, s.refused
	}
	rank, err := gel.Swap(w.recipe(s), w.wish(s))
	if err != nil {
		rank.From, _ = gel.Read(w.recipe(s))
	}
	return rank, err
}

// cannot says why there is no answer, or takes that away. What is wrong in the
// pan is said there; here only that the answer waits for it.
func (w *swap) cannot(s *state, err error) {
	text := ""
	var r *note.Refusal
	switch {
	case s.refused != nil:
		text = s.say("lab.wrong")
	case errors.As(err, &r):
		text = s.words.Note(r.Note)
	}
	s.page.Line("lab-swap-cannot", text)
}

// target is the texture that the formula is meant to have: as chosen here, or as
// it was saved; "" when nobody said.
func (s *state) target() agent.Texture {
	t := s.fields[swapInput("texture")]
	if t == "" {
		t = s.reading.Formula.Texture
	}
	for _, known := range agent.Textures {
		if string(known) == t {
			return known
		}
	}
	return ""
}

func (w *swap) recipe(s *state) gel.Recipe {
	t := s.target()
	return gel.Recipe{Doses: s.doses, Made: gel.TreatmentFor(t), Target: t, Cond: s.conditions, Kitchen: s.kitchen.factors}
}

func (w *swap) wish(s *state) gel.Wish {
	wish := gel.Wish{
		Texture: s.target(), Vegan: s.ticked(swapInput("vegan")), Vegetarian: s.ticked(swapInput("vegetarian")),
		NoPork: s.ticked(swapInput("no-pork")), Shelf: s.owned(),
	}
	wish.OnlyShelf = s.ticked(swapInput("only-shelf")) && len(wish.Shelf) > 0
	for _, a := range allergens {
		if s.ticked(swapInput("no-" + string(a))) {
			wish.Without = append(wish.Without, a)
		}
	}
	return wish
}

// without lists the allergens that must not be in it, "" for none.
func (w *swap) without(s *state) string {
	var list []string
	for _, a := range allergens {
		if s.ticked(swapInput("no-" + string(a))) {
			list = append(list, s.say("lab-swap.no-"+string(a)))
		}
	}
	return s.list(list)
}

// key names an offer by its agents, so that it is found again in a new ranking.
func key(o *gel.Offer) string {
	var ids []string
	for _, d := range o.Doses {
		ids = append(ids, string(d.Agent))
	}
	return strings.Join(ids, "+")
}

// showOffers lists the offers, the best first, with the inside of the picked
// one. Nothing is said about none when nothing could be asked.
func (w *swap) showOffers(s *state, rank *gel.Ranking, asked bool) {
	shown := w.offers
	picked := -1
	for i, o := range w.offers {
		if key(o) == w.picked {
			picked = i
		}
	}
	if !w.all && len(shown) > bestOffers {
		shown = shown[:max(bestOffers, picked+1)]
	}
	if picked < 0 {
		w.picked = ""
	}
	w.takeHome(s, picked, len(shown))
	const list = "lab-swap-offer"
	s.page.Rows(list, len(shown))
	for i, o := range shown {
		place := func(what string) string { return view.Row(list, i, what) }
		s.page.Text(place("name"), s.agents(o.Doses))
		mass, text := s.grams(o)
		s.page.Figure(place("mass"), mass, text)
		s.page.Text(place("what"), s.about(w.massRange(s, o), unit.Gram))
		s.page.Text(place("feel"), w.feel(s, o))
		s.page.Set(place("pick"), "aria-expanded", map[bool]string{true: "true", false: "false"}[i == picked])
		s.page.State(place("item"), map[bool]string{true: "picked"}[i == picked])
	}
	s.page.Text("lab-swap-offers-hint", s.say("lab-swap.offers-hint", note.Num("liquid", float64(s.batch.Liquid), unit.Gram)))
	more := len(w.offers) - len(shown)
	s.page.Show("lab-swap-more", more > 0)
	if more > 0 {
		s.page.Text("lab-swap-more", s.say("lab-swap.more", note.Num("count", float64(more), unit.One)))
	}
	s.page.Line("lab-swap-none", map[bool]string{true: s.say("lab-swap.none")}[asked && len(shown) == 0])
	s.page.Show("lab-swap-offers", len(shown) > 0)
	if picked >= 0 {
		w.showChosen(s, rank, w.offers[picked])
		s.page.Place("lab-swap-chosen", view.Row(list, picked, "inside"))
		w.stands = picked + 1
	}
}

// takeHome brings the inside of the picked offer back before the row goes in which it
// stands: the offer itself may have moved up, out of that row.
func (w *swap) takeHome(s *state, picked, shown int) {
	if picked < 0 || picked >= shown || w.stands > shown {
		s.page.Place("lab-swap-chosen", "lab-swap-home")
		w.stands = 0
	}
}

// feel says in a few words what will not be the same, or that nothing differs.
func (w *swap) feel(s *state, o *gel.Offer) string {
	var list []string
	for _, why := range o.Why {
		switch why.Note.Code {
		case gel.CodeBrittle, gel.CodeStretchy:
			list = append(list, s.say("lab-swap.feel-"+string(why.Note.Code)))
		}
	}
	for _, f := range o.Features {
		if f.Same() || f.Points == 0 {
			continue
		}
		text := s.say(f.Is)
		if f.What == "property.in-mouth" {
			text = s.say("lab-swap.feel-mouth-" + f.Is)
		}
		list = append(list, text)
	}
	if len(list) == 0 {
		return s.say("lab-swap.feel-same")
	}
	return s.list(list)
}

func (w *swap) showRefused(s *state, refused []gel.Refused) {
	const list = "lab-swap-refused"
	s.page.Show("lab-swap-refused-box", len(refused) > 0)
	s.page.Text("lab-swap-refused-title", s.say("lab-swap.refused", note.Num("count", float64(len(refused)), unit.One)))
	s.page.Rows(list, len(refused))
	for i, r := range refused {
		name := "" // the sentence names a single agent itself
		if r.B != "" {
			name = s.agents([]gel.Dose{{Agent: r.A}, {Agent: r.B}})
		}
		s.page.Line(view.Row(list, i, "name"), capital(name))
		s.page.Text(view.Row(list, i, "text"), capital(s.words.Note(r.Why)))
	}
}

// do carries out the section's buttons.
func (w *swap) do(what string, row int, s *state) *formula.Change {
	switch what {
	case "more":
		w.all = true
	case "pick":
		if row < 1 || row > len(w.offers) {
			return nil
		}
		k := key(w.offers[row-1])
		if k == w.picked {
			k = ""
		}
		w.picked = k
	case "use":
		return w.use(s)
	}
	return nil
}
