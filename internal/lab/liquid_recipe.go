package lab

import (
	"maps"
	"strconv"
	"strings"

	"tremblant/internal/formula"
	"tremblant/internal/liquid"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// mixRecipe is the liquid as it stands in the fields: the pan's parts, what the
// cook says of his own ingredients, and what is done, with what is wrong in it.
type mixRecipe struct {
	parts []mixPart
	owns  []ownRow
	rows  []mixStep
	used  int // rows of steps that hold something

	steps   []liquid.Step
	origin  []origin // of each step
	strange []int    // steps whose ingredient is not known and counts as water
	unknown []string // the names of these ingredients
	hot     bool     // it is boiled on the way
	wrong   bool     // a figure cannot be read: there is no answer
	cannot  note.Note
}

// origin says which row a step of the liquid comes from: a part's or a step's.
type origin struct {
	part bool
	row  int // index into parts or rows
}

// mixPart is one ingredient of the pan.
type mixPart struct {
	row    int // on the pan's page, from 0
	name   string
	amount unit.Amount
	known  bool
	own    int // index into owns, -1 when nothing is said of it
	g      liquid.Ingredient
	near   []liquid.Ingredient
	wrong  note.Note
}

// read reads the fields.
func (k *know) read(s *state) mixRecipe {
	r := mixRecipe{owns: k.readOwns(s)}
	for i := range r.owns {
		r.wrong = r.wrong || r.owns[i].wrong.Code != ""
	}
	for _, n := range s.reading.Notes {
		if n.Level == note.Refused && strings.HasPrefix(n.Field, "part-") && n.Code != formula.FigureMissing {
			r.wrong = true
		}
	}
	for i, p := range s.reading.Formula.Parts {
		k.readPart(s, &r, s.reading.PartRow(i), p)
	}
	k.readSteps(s, &r)
	return r
}

func (k *know) readPart(s *state, r *mixRecipe, row int, p formula.Part) {
	out := mixPart{row: row, name: strings.TrimSpace(p.Name), amount: p.Amount}
	out.g, out.own, out.known = k.ingredient(s, r.owns, out.name)
	if !out.known {
		out.near = k.nearest(s, out.name)
	}
	r.parts = append(r.parts, out)
	if p.Amount.Base() <= 0 {
		return
	}
	r.put(stepOf(out.g, p.Amount), origin{true, len(r.parts) - 1}, out.known, out.title(s))
}

// put adds a step. An ingredient that is not known is noted.
func (r *mixRecipe) put(step liquid.Step, from origin, known bool, name string) {
	if !known {
		r.strange = append(r.strange, len(r.steps))
		r.unknown = append(r.unknown, name)
	}
	r.steps = append(r.steps, step)
	r.origin = append(r.origin, from)
}

// stepOf adds an ingredient by weight, or by its own volume.
func stepOf(g liquid.Ingredient, a unit.Amount) liquid.Step {
	if a.Kind() == unit.KindVolume {
		return liquid.AddVolume(g, unit.Volume(a.Base()))
	}
	return liquid.Add(g, unit.Mass(a.Base()))
}

// ingredient is what a name means: what the cook has said of it, or the
// catalogue's. What is not known counts as water, under its own name.
func (k *know) ingredient(s *state, owns []ownRow, name string) (g liquid.Ingredient, own int, known bool) {
	own = -1
	for i := range owns {
		if name != "" && strings.EqualFold(owns[i].name, name) {
			own = i
			break
		}
	}
	switch {
	case own >= 0:
		g, known = owns[own].g, owns[own].known
	default:
		g, known = s.findLiquid(name)
	}
	if !known {
		g, _ = liquid.ByID("water")
	}
	if name != "" {
		g.Name = name
	}
	return g, own, known
}

// nearest are known names near one that is not known; when the whole name is
// like none, its words are asked from the last, which mostly says what it is.
func (k *know) nearest(s *state, name string) []liquid.Ingredient {
	if near, ok := k.near[name]; ok {
		return near
	}
	near := nearestTo(name, liquid.Naming{
		Called: func(id string) string { return s.say("ingredient." + id) },
		Forms:  s.say("liquid.forms"),
	})
	if k.near == nil || len(k.near) >= mostRemembered {
		k.near = map[string][]liquid.Ingredient{} // every keystroke of a name is one
	}
	k.near[name] = near
	return near
}

// mostRemembered bounds the names whose nearest are kept.
const mostRemembered = 64

func nearestTo(name string, naming liquid.Naming) []liquid.Ingredient {
	near := liquid.Nearest(name, mostNear, naming)
	words := strings.Fields(name)
	for i := len(words) - 1; i >= 0 && len(near) == 0; i-- {
		near = liquid.Nearest(words[i], mostNear, naming)
	}
	return near
}

// allNames are the names of the catalogue as the page's language writes them,
// as choices for an input.
func (k *know) allNames(s *state) []string {
	if k.names == nil {
		for _, g := range liquid.Catalogue() {
			name := s.say("ingredient." + g.ID)
			k.names, k.all = append(k.names, name, name), append(k.all, g.ID)
		}
	}
	return k.names
}

// blame puts a refusal where it belongs: beside the row of the step that the
// field "steps.2.to" names.
func (r *mixRecipe) blame(err error) {
	refused, ok := err.(*note.Refusal)
	if !ok {
		return
	}
	rest, ok := strings.CutPrefix(refused.Field, "steps.")
	number, _, _ := strings.Cut(rest, ".")
	i, bad := strconv.Atoi(number)
	switch {
	case !ok || bad != nil || i >= len(r.origin):
		r.cannot = refused.Note
	case r.origin[i].part:
		r.parts[r.origin[i].row].wrong = refused.Note
	default:
		r.rows[r.origin[i].row].wrong = refused.Note
	}
}

// mass is what the pan's parts weigh as the pan counts them, at the size of the
// recipe, in g.
func (s *state) recipeMass() float64 {
	density := float64(s.reading.Formula.Density)
	if density == 0 {
		density = usualDensity
	}
	sum := 0.0
	for _, p := range s.reading.Formula.Parts {
		m := p.Amount.Base()
		if p.Amount.Kind() == unit.KindVolume {
			m *= density
		}
		sum += m
	}
	return sum
}

// times is how many times the recipe as written the pan makes.
func (s *state) times() float64 {
	m := s.recipeMass()
	if s.refused != nil || !s.batch.MassKnown || !(m > 0) {
		return 1
	}
	t := float64(s.batch.Liquid) / m
	if t > 1-1e-9 && t < 1+1e-9 || !unit.Finite(t) || !(t > 0) {
		return 1
	}
	return t
}

// title is the part's name, or that it has none.
func (p *mixPart) title(s *state) string {
	if p.name == "" {
		return s.say("lab-liquid.nameless")
	}
	return p.name
}

// countedAs says what the part is counted as, or what is missing.
func (p *mixPart) countedAs(s *state) string {
	switch {
	case p.wrong.Code != "":
		return s.words.Note(p.wrong)
	case p.amount.Base() <= 0:
		return s.say("lab-liquid.no-amount")
	case !p.known:
		return s.say("lab-liquid.not-known")
	case p.g.Class == liquid.Own:
		return s.say("lab-liquid.as-own")
	}
	name := s.say("ingredient." + p.g.ID)
	if p.g.Flags&liquid.Pulpless != 0 {
		return s.say("lab-liquid.as-pulpless", note.Typed("ingredient", name))
	}
	return textIf(!strings.EqualFold(name, p.name), s.say("lab-liquid.as", note.Typed("ingredient", name)))
}

func cloneFields(f formula.Fields) formula.Fields { return maps.Clone(f) }
