package lab

import (
	"maps"
	"strings"

	"tremblant/internal/formula"
	"tremblant/internal/liquid"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// know builds the liquid from the pan's parts and what is done to them, and
// tells the other sections what it is like.
type know struct {
	all    []string       // ids of the catalogue, in its order
	names  []string       // names of the catalogue, each twice: choices for an input
	recipe mixRecipe      // what stands in the fields
	mix    *mixture       // what it comes to; the last good one when stale
	of     string         // name of the formula that mix is of
	stale  bool           // mix does not answer what stands in the fields
	extra  bool           // an empty row waits for a step
	focus  string         // input to go to
	awaits int            // rows of own ingredients that must be there before that
	goal   *liquid.Answer // how the wanted figure is reached; nil when it is not
	works  works          // named by what is shown

	asked asked                          // what recipe and mix answer
	near  map[string][]liquid.Ingredient // names that were looked for in vain, with their nearest
}

// asked is all that the liquid is worked out from.
type asked struct {
	fields formula.Fields
	style  unit.Style
}

// about takes from the formula what the liquid depends on.
func about(s *state) asked {
	a := asked{formula.Fields{}, s.words.Style}
	for name, text := range s.fields {
		if name == "name" || name == "liquid-density" || strings.HasPrefix(name, "part-") || strings.HasPrefix(name, "lab-liquid-") {
			a.fields[name] = text
		}
	}
	return a
}

func (a asked) same(b asked) bool { return a.style == b.style && maps.Equal(a.fields, b.fields) }

func newKnow() *know { return &know{} }

func (k *know) part() string { return "liquid" }

func (k *know) inputs() []string {
	return []string{goalProperty, goalValue, goalWith, restInput}
}

// The inputs outside rows.
const (
	goalProperty = "lab-liquid-goal-property"
	goalValue    = "lab-liquid-goal-value"
	goalWith     = "lab-liquid-goal-with"
	restInput    = "lab-liquid-rest"
)

// tell implements teller: it works the liquid out when something about it has
// changed, and hands on what is known.
func (k *know) tell(s *state) {
	if now := about(s); !now.same(k.asked) {
		k.asked = asked{} // a panic on the way must not leave an old answer to a new question
		k.work(s)
		k.asked = now
	}
	s.parts = k.recipe.parts
	k.settleExtra(s)
	if k.mix != nil && !k.stale {
		k.mix.hand(s)
	}
}

// work reads the fields and works the liquid out; one that cannot be leaves the
// last good one, stale.
func (k *know) work(s *state) {
	k.recipe = k.read(s)
	k.stale = true
	if k.of != s.fields["name"] {
		k.mix, k.of = nil, s.fields["name"]
	}
	if len(k.recipe.steps) == 0 {
		k.mix = nil
	}
	if k.recipe.wrong || len(k.recipe.steps) == 0 {
		return
	}
	m, err := k.recipe.make()
	if err != nil {
		k.recipe.blame(err)
		return
	}
	k.mix, k.stale = m, false
}

func (k *know) show(s *state) {
	k.works = works{}
	defer func() { s.showWorks("lab-liquid-work", &k.works) }()
	k.showParts(s)
	k.showOwn(s)
	k.showSteps(s)
	k.showMix(s)
	k.showGoal(s)
	k.showSplit(s)
	if k.focus != "" && len(k.recipe.owns) >= k.awaits {
		s.page.Focus(k.focus)
		k.focus, k.awaits = "", 0
	}
}

// do carries out the section's buttons.
func (k *know) do(what string, row int, s *state) *formula.Change {
	switch what {
	case "add-step":
		k.extra = true
		k.focus = stepField(min(k.recipe.used, mostSteps-1), "kind")
	case "drop-step":
		return k.dropStep(s, row)
	case "own":
		return k.describe(s, row)
	case "again":
		return k.again(s, row)
	case "drop-own":
		return k.dropOwn(s, row)
	case "density":
		return k.useDensity(s)
	case "goal":
		return k.useGoal(s)
	case "near-1", "near-2", "near-3", "near-4":
		return k.takeNear(s, row, int(what[len(what)-1]-'1'))
	case "step-near-1", "step-near-2", "step-near-3", "step-near-4":
		return k.takeStepNear(s, row, int(what[len(what)-1]-'1'))
	}
	return nil
}

// useDensity puts the computed density into the pan.
func (k *know) useDensity(s *state) *formula.Change {
	if k.mix == nil || k.stale {
		return nil
	}
	d := mixRounded(k.mix.of(liquid.PropDensity).Typical, 4)
	f := cloneFields(s.fields)
	f["liquid-density"] = s.words.Style.Plain(d)
	return &formula.Change{Fields: f, What: s.say("lab-liquid.used-density", note.Num("density", d, unit.GramPerMl))}
}

// showParts lists the pan's ingredients with what each is counted as.
func (k *know) showParts(s *state) {
	const list = "lab-liquid-part"
	s.page.Rows(list, len(k.recipe.parts))
	for i := range k.recipe.parts {
		p := &k.recipe.parts[i]
		at := func(what string) string { return view.Row(list, i, what) }
		s.page.Text(at("name"), p.title(s))
		s.page.Text(at("as"), p.countedAs(s))
		s.page.State(at("item"), textIf(!p.known, "warn"))
		k.showNear(s, list, i, p.near)
		s.page.Show(at("again"), p.own < 0 && p.name != "" && formula.FindLiquid(s.shelf.Liquids, p.name) >= 0)
		s.page.Show(at("own"), p.own < 0 && p.name != "")
		s.page.Text(at("own"), s.say(map[bool]string{true: "lab-liquid.own", false: "lab-liquid.own-unknown"}[p.known]))
	}
	s.page.Show("lab-liquid-none", len(k.recipe.parts) == 0)
	s.page.Choices("lab-liquid-names", k.allNames(s)...)
}

// showNear offers the nearest known names as buttons.
func (k *know) showNear(s *state, list string, row int, near []liquid.Ingredient) {
	for n := range mostNear {
		place := view.Row(list, row, "near-"+string(rune('1'+n)))
		s.page.Show(place, n < len(near))
		if n < len(near) {
			s.page.Text(place, s.say("ingredient."+near[n].ID))
		}
	}
}

// mostNear is how many nearest names are offered.
const mostNear = 4
