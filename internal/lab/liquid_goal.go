package lab

import (
	"strings"

	"tremblant/internal/formula"
	"tremblant/internal/liquid"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// goal is a figure that can be wanted, with what usually brings it about.
type goal struct {
	figure *mixFigure
	usual  []string // ids of ingredients
	high   float64  // limit, as typed
}

// goals are the figures that can be wanted, in the order of the list.
var goals = [...]goal{
	{figureOf("brix"), []string{"sugar", "glucose", "syrup-1-1", "honey", "invert-sugar"}, 100},
	{figureOf("ph"), []string{"citric-acid", "lemon-juice", "white-wine-vinegar", "malic-acid", "trisodium-citrate", "baking-soda"}, 14},
	{figureOf("abv"), []string{"spirit-40", "neutral-alcohol-96", "white-wine"}, 100},
	{figureOf("salt"), []string{"salt", "soy-sauce", "fish-sauce"}, 100},
	{figureOf("fat"), []string{"cream-36", "butter", "olive-oil"}, 100},
}

func figureOf(name string) *mixFigure {
	for i := range mixFigures {
		if mixFigures[i].name == name {
			return &mixFigures[i]
		}
	}
	return nil
}

// byBoiling and ofPan are ways to reach a figure that name no ingredient of the
// catalogue: boiling down, and an ingredient of the formula by its name.
const (
	byBoiling = "boil"
	ofPan     = "="
)

func (k *know) wanted(s *state) *goal {
	for i := range goals {
		if goals[i].figure.name == s.fields[goalProperty] {
			return &goals[i]
		}
	}
	return &goals[0]
}

// goalChoices offers what can bring the figure about: the usual ingredients
// first, then water and boiling down, the formula's own, and all others. The
// figure stands in the value, so that each has a choice of its own.
func (k *know) goalChoices(s *state, g *goal) []string {
	var pairs []string
	had := map[string]bool{}
	add := func(value, text string) {
		if !had[value] {
			had[value] = true
			pairs = append(pairs, g.figure.name+":"+value, text)
		}
	}
	for _, id := range g.usual {
		add(id, s.say("ingredient."+id))
	}
	add("water", s.say("lab-liquid.with-water"))
	add(byBoiling, s.say("lab-liquid.with-boiling"))
	for i := range k.recipe.parts {
		if p := &k.recipe.parts[i]; p.known && p.name != "" {
			add(ofPan+p.name, p.name)
		}
	}
	names := k.allNames(s)
	for i, id := range k.all {
		add(id, names[2*i])
	}
	return pairs
}

// showGoal solves for the wanted figure.
func (k *know) showGoal(s *state) {
	g := k.wanted(s)
	var pairs []string
	for i := range goals {
		pairs = append(pairs, goals[i].figure.name, s.say("lab-liquid.goal-"+goals[i].figure.name))
	}
	s.page.Choices(goalProperty, pairs...)
	s.page.Value(goalProperty, g.figure.name)
	choices := k.goalChoices(s, g)
	s.page.Choices(goalWith, choices...)
	value := chosen(s.fields[goalWith], choices)
	s.page.Value(goalWith, value)
	_, with, _ := strings.Cut(value, ":")
	s.page.Text("lab-liquid-goal-unit", map[bool]string{true: "pH", false: string(g.figure.unit)}[g.figure.unit == unit.PH])

	k.goal = nil
	v := s.typed(goalValue, 0, g.high, g.figure.unit)
	if !v.Known || k.mix == nil || k.stale {
		s.page.Show("lab-liquid-goal-answer", false)
		return
	}
	answer, err := k.reach(s, g, v.Typical/g.figure.factor, with)
	if refused, ok := err.(*note.Refusal); ok {
		s.page.Say(goalValue, s.words.Note(refused.Note), false)
	}
	s.page.Show("lab-liquid-goal-answer", err == nil)
	if err != nil {
		return
	}
	k.goal = &answer
	k.showReached(s, g, with, &answer)
}

// chosen is the value of a select: the first choice until one is made.
func chosen(value string, pairs []string) string {
	for i := 0; i < len(pairs); i += 2 {
		if pairs[i] == value {
			return value
		}
	}
	return pairs[0]
}

func (k *know) reach(s *state, g *goal, value float64, with string) (liquid.Answer, error) {
	if with == byBoiling {
		return k.mix.liquid.ReduceToReach(g.figure.property, value)
	}
	return k.mix.liquid.AddToReach(k.helper(s, with), g.figure.property, value)
}

// helper is the ingredient of a choice.
func (k *know) helper(s *state, with string) liquid.Ingredient {
	if name, ok := strings.CutPrefix(with, ofPan); ok {
		g, _, _ := k.ingredient(s, k.recipe.owns, name)
		return g
	}
	g, _ := liquid.ByID(with)
	return g
}

func (k *know) showReached(s *state, g *goal, with string, a *liquid.Answer) {
	t := s.times()
	grams := float64(a.Amount) * t
	s.page.Figure("lab-liquid-goal-mass", grams, s.words.Figure(grams, unit.Gram))
	key := "lab-liquid.goal-add"
	switch {
	case a.Amount == 0:
		key = "lab-liquid.goal-there"
	case with == byBoiling:
		key = "lab-liquid.goal-boil"
	}
	s.page.Text("lab-liquid-goal-what", s.say(key, textArg("ingredient", k.helperName(s, with))))
	s.page.Figure("lab-liquid-goal-reached", a.Value*g.figure.factor, g.figure.with(s, a.Value))
	total := float64(a.Liquid.Mass()) * t
	s.page.Figure("lab-liquid-goal-total", total, s.words.Figure(total, unit.Gram))
	after := a.Liquid.State(reference)
	var list []string
	for _, name := range [...]string{"ph", "brix", "abv", "salt"} {
		f := figureOf(name)
		if f != g.figure && (name != "ph" || after.HasPH) {
			list = append(list, s.say("lab-liquid.then-"+name, textArg("value", f.with(s, after.Of(f.property).Typical))))
		}
	}
	s.page.Text("lab-liquid-goal-also", strings.Join(list, s.say("lab.comma")))
	s.page.Show("lab-liquid-goal-use", a.Amount > 0)
	recipe := ""
	if t != 1 && a.Amount > 0 {
		recipe = s.say("lab-liquid.goal-recipe", note.Num("mass", float64(a.Amount), unit.Gram))
	}
	s.page.Line("lab-liquid-goal-recipe", recipe)
}

func (k *know) helperName(s *state, with string) string {
	if name, ok := strings.CutPrefix(with, ofPan); ok {
		return name
	}
	return s.say("ingredient." + with)
}

// useGoal puts what was found into the formula: among the pan's parts as long as
// nothing is done to them, or else as one more step.
func (k *know) useGoal(s *state) *formula.Change {
	a := k.goal
	if a == nil || k.stale || !(a.Amount > 0) {
		return nil
	}
	_, with, _ := strings.Cut(chosen(s.fields[goalWith], k.goalChoices(s, k.wanted(s))), ":")
	grams := mixRounded(float64(a.Amount), 4)
	f := cloneFields(s.fields)
	delete(f, goalValue)
	name := k.helperName(s, with)
	what := s.say("lab-liquid.goal-used", note.Num("mass", grams, unit.Gram), textArg("ingredient", name))
	switch {
	case with == byBoiling:
		left := mixRounded(float64(a.Liquid.Mass()), 4)
		what = s.say("lab-liquid.goal-boiled", note.Num("mass", left, unit.Gram))
		if !k.putStep(s, f, "reduce", "", left) {
			return nil
		}
	case k.recipe.used > 0:
		if !k.putStep(s, f, "add", name, grams) {
			return nil
		}
	default:
		if !k.putPart(s, f, with, name, grams) {
			return nil
		}
	}
	return &formula.Change{Fields: f, What: what}
}

// putStep adds a step at the end; false when there is no room.
func (k *know) putStep(s *state, f formula.Fields, kind, name string, grams float64) bool {
	i := k.recipe.used
	if i >= mostSteps {
		return false
	}
	f[stepField(i, "kind")] = kind
	if name != "" {
		f[stepField(i, "name")] = name
	}
	f[stepField(i, "amount")] = s.words.Style.Plain(grams)
	f[stepField(i, "unit")] = string(unit.Gram)
	k.extra = false
	return true
}

// putPart adds grams to the pan: to the part that is this ingredient already,
// or as a new one. When the pan is made for so much liquid, that grows with it.
func (k *know) putPart(s *state, f formula.Fields, with, name string, grams float64) bool {
	i, plus := k.partFor(with)
	if i < 0 {
		return false
	}
	if plus == 0 {
		f[formula.PartField(i, "name")] = name
	}
	f[formula.PartField(i, "amount")] = s.words.Style.Plain(mixRounded(plus+grams, 5))
	f[formula.PartField(i, "unit")] = string(unit.Gram)
	make := s.reading.Formula.Make
	if make.Mode == formula.ForLiquid && s.refused == nil && s.batch.MassKnown {
		f["batch-liquid"] = s.words.Style.Plain(mixRounded(float64(s.batch.Liquid)+grams*s.times(), 6))
		f["batch-liquid-unit"] = string(unit.Gram)
	}
	return true
}

// partFor is the row on the pan that an ingredient goes into, with the grams it
// holds; -1 when there is no room.
func (k *know) partFor(with string) (row int, grams float64) {
	used := map[int]bool{}
	name, own := strings.CutPrefix(with, ofPan)
	for i := range k.recipe.parts {
		p := &k.recipe.parts[i]
		used[p.row] = true
		same := own && strings.EqualFold(p.name, name) || !own && p.own < 0 && p.known && p.g.ID == with
		if same && p.amount.Kind() == unit.KindMass && p.amount.Base() > 0 {
			return p.row, p.amount.Base()
		}
	}
	for i := range formula.MaxParts {
		if !used[i] {
			return i, 0
		}
	}
	return -1, 0
}
