package lab

import (
	"errors"
	"maps"
	"math"
	"slices"
	"strings"

	"tremblant/internal/foam"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/plan"
	"tremblant/internal/plan/method"
	"tremblant/internal/plan/timeline"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// course is one formula of the evening, worked out for its covers.
type course struct {
	dish    formula.Dish
	title   string
	missing bool // the book has it no more

	covers, portion beside // what is said beside the inputs
	cannot, near    string // why it cannot be worked out, and what could be done

	s      *state // as if the formula stood in the pan, with a page that nobody sees
	p      *prepared
	foam   *foam.Plan // nil for what goes into no siphon
	of     foam.Request
	bodies []bodies
	sheet  plan.Sheet
}

// beside is a sentence beside an input.
type beside struct {
	text string
	hint bool
}

func (b beside) wrong() bool { return b.text != "" && !b.hint }

// bodies are the siphons of one size that a foam needs at once.
type bodies struct {
	size  unit.Volume
	count int
}

// Bounds of what an evening is asked for: a banquet, and a plateful of soup.
const (
	mostCovers  = 5000
	mostPortion = 2000 // g or ml
)

// fine reports whether the formula is worked out.
func (c *course) fine() bool { return c.p != nil && c.cannot == "" }

// course works a formula of the book out for its covers.
func (s *state) course(d formula.Dish, title string, body []byte) *course {
	c := &course{dish: d, title: title}
	if body == nil {
		c.missing = true
		c.cannot, c.near = s.esay("missing"), s.esay("missing-near")
		return c
	}
	covers, okCovers := c.readCovers(s)
	portion, okPortion := c.readPortion(s)
	f, err := formula.Decode(body)
	switch {
	case err != nil:
		c.cannot, c.near = s.esay("unreadable"), s.esay("unreadable-near")
	case !okCovers || !okPortion:
		c.cannot = s.esay("mend")
	default:
		c.work(s, f, covers, portion)
	}
	return c
}

// readCovers reads for how many; half a cover eats too.
func (c *course) readCovers(s *state) (float64, bool) {
	v, refused := formula.FigureBetween(c.dish.Covers, 0, mostCovers, unit.Portion)
	whole := math.Ceil(v)
	switch {
	case refused != nil && strings.TrimSpace(c.dish.Covers) == "":
		c.covers.text = s.esay("covers-none")
	case refused != nil:
		c.covers.text = s.noteSentence(roughNote(s, refused.Note))
	case v == 0:
		c.covers.text = s.esay("covers-zero")
		return 0, false
	case whole != v:
		c.covers = beside{s.esay("covers-whole", note.Num("covers", whole, unit.One)), true}
	}
	return whole, refused == nil
}

// readPortion reads how much each gets, with its unit typed or chosen.
func (c *course) readPortion(s *state) (unit.Amount, bool) {
	chosen := unit.Symbol(c.dish.Unit)
	if chosen.Kind() != unit.KindMass && chosen.Kind() != unit.KindVolume {
		chosen = unit.Gram
	}
	a, err := unit.ParseAmount(c.dish.Portion, chosen)
	fits := err == nil && (a.Kind() == unit.KindMass || a.Kind() == unit.KindVolume)
	base := unit.Gram
	if a.Kind() == unit.KindVolume {
		base = unit.Millilitre
	}
	switch {
	case strings.TrimSpace(c.dish.Portion) == "":
		c.portion.text = s.esay("portion-none")
	case !fits:
		_, refused := formula.FigureBetween(c.dish.Portion, 0, mostPortion, chosen)
		if refused == nil {
			refused = note.Refuse("", formula.FigureBad)
		}
		c.portion.text = s.noteSentence(refused.Note)
	case a.Base() <= 0:
		c.portion.text = s.esay("portion-zero")
	case a.Base() > mostPortion:
		c.portion.text = s.noteSentence(note.Refuse("", formula.FigureOver, note.Num("limit", mostPortion, base)).Note)
	}
	return a, c.portion.text == ""
}

// work makes the formula as the pan's own parts would. What comes out of a
// siphon is sized by the siphon's section first.
func (c *course) work(s *state, f formula.Formula, covers float64, portion unit.Amount) {
	fields := formula.FieldsOf(f, s.words.Style)
	fields["name"] = c.title
	fields["make"] = string(formula.ForPortions)
	fields["portions"] = s.words.Style.Plain(covers)
	fields["portion-size"] = s.words.Style.Plain(portion.Value)
	fields["portion-size-unit"] = string(portion.Unit)
	if !c.read(s, fields) {
		return
	}
	if c.siphoned() && !c.size(s, fields, covers, portion) {
		return
	}
	c.p = newPrep().prepare(c.s)
	c.finish()
}

// read reads the fields as the pan would, and asks whoever knows of the liquid.
func (c *course) read(s *state, fields formula.Fields) bool {
	c.s = &state{words: s.words, page: view.New(), link: s.link, kitchen: s.kitchen, fields: fields, shelf: s.shelf}
	c.s.read()
	if c.s.refused != nil {
		c.cannot, c.near = s.noteSentence(c.s.refused.Note), s.esay("open-near")
		return false
	}
	for _, other := range sections() {
		if t, ok := other.(teller); ok {
			t.tell(c.s)
		}
	}
	if len(c.s.strange) > 0 && len(c.s.doses) == 0 {
		c.cannot, c.near = s.noteSentence(c.s.strange[0]), s.esay("open-near")
		return false
	}
	return true
}

// siphoned reports whether the formula comes out of a siphon: it was said so, or
// the siphon's section was used and nothing else was said.
func (c *course) siphoned() bool {
	fields := c.s.fields
	target, guessed := c.s.madeInto()
	if guessed && fields[foamInput("gas")] != "" {
		target = method.SiphonCold
		if fields[foamInput("serve")] == "hot" {
			target = method.SiphonHot
		}
		fields[mname("target")] = targetWord(target)
	}
	return target == method.SiphonCold || target == method.SiphonHot
}

// size plans the fillings by the siphon's section, and has the pan make the base
// that it asks for.
func (c *course) size(s *state, fields formula.Fields, covers float64, portion unit.Amount) bool {
	fields[foamInput("covers")] = s.words.Style.Plain(covers)
	fields[foamInput("portion")] = s.words.Style.Plain(portion.Base())
	fields[foamInput("unit")] = map[unit.Kind]string{unit.KindMass: "g"}[portion.Kind()]
	if strings.TrimSpace(fields[foamInput("spare")]) == "" {
		fields[foamInput("spare")] = fields["spare"]
	}
	f := newSiphon()
	f.show(c.s)
	switch r := f.refusal(); {
	case f.ask == nil || f.ask.bad:
		c.cannot, c.near = s.esay("siphon-typed"), s.esay("open-near")
		return false
	case r != nil:
		c.cannot, c.near = capital(s.words.Note(roughNote(s, r.Note))), s.esay("open-near")
		if n := f.nearest(); n != nil {
			if text := f.nearText(c.s, n); text != "" {
				c.near = text
			}
		}
		return false
	}
	c.foam, c.of = &f.plan, f.of
	c.count()
	change := f.makeBase(c.s)
	if change == nil {
		c.cannot, c.near = s.esay("siphon-typed"), s.esay("open-near")
		return false
	}
	made := maps.Clone(change.Fields)
	if n := len(f.plan.Fillings); n > 0 && made[mname("charges")] == "" {
		made[mname("charges")] = s.words.Style.Plain(float64(f.plan.Fillings[0].Charges))
	}
	return c.read(s, made)
}

// count finds how many bodies of each size are wanted at once: those of the
// fullest round.
func (c *course) count() {
	for shelf, x := range c.of.Shelf {
		most := 0
		for round := 1; round <= c.foam.Rounds; round++ {
			n := 0
			for _, fill := range c.foam.Fillings {
				if fill.Shelf == shelf && fill.Round == round {
					n++
				}
			}
			most = max(most, n)
		}
		if most > 0 {
			c.bodies = append(c.bodies, bodies{x.Nominal, most})
		}
	}
}

// atOnce is how many siphons it takes at once, of whatever size.
func (c *course) atOnce() int {
	n := 0
	for _, b := range c.bodies {
		n += b.count
	}
	return n
}

// exactly weighs a recipe as if there were a scale for it, where the kitchen has
// none.
func (c *course) exactly() (weigh.List, error) {
	recipe := make([]weigh.Item, len(c.p.in.Items))
	for i, item := range c.p.in.Items {
		recipe[i] = item.Item
	}
	return weigh.Make(recipe, exact, 0)
}

// finish makes the sheet that the evening takes: where there is no method, it is
// of weights only.
func (c *course) finish() {
	c.sheet = c.p.sheet
	if c.p.noMethod != nil {
		c.sheet = plan.Sheet{Title: c.title, Weights: c.p.list, Batch: c.s.batch.Total}
		c.near = c.s.refusal(c.p.noMethod)
		if c.p.noWeights != nil {
			var err error
			var r *note.Refusal
			if c.sheet.Weights, err = c.exactly(); errors.As(err, &r) {
				c.cannot = c.s.refusal(r)
			}
		}
	}
	if n := c.atOnce(); n > 1 {
		c.sheet.Tasks = slices.Clone(c.sheet.Tasks)
		for i := range c.sheet.Tasks {
			t := &c.sheet.Tasks[i]
			t.Needs = slices.Clone(t.Needs)
			for k := range t.Needs {
				if t.Needs[k].Resource == resourceSiphon {
					t.Needs[k] = timeline.Need{Resource: resourceSiphon, Amount: float64(n)}
				}
			}
		}
	}
}

// made is what goes into the pan.
func (c *course) made() unit.Mass { return c.sheet.Batch }

// what says in a line what the formula comes to beside its weight.
func (c *course) what() string {
	if !c.fine() {
		return ""
	}
	var out []string
	if c.foam != nil && len(c.foam.Fillings) > 0 {
		for _, b := range c.bodies {
			out = append(out, c.s.esay("bodies", note.Num("count", float64(b.count), unit.One), note.Typed("size", c.s.size(b.size))))
		}
		if c.foam.Rounds > 1 {
			out = append(out, c.s.esay("rounds", note.Num("rounds", float64(c.foam.Rounds), unit.One)))
		}
		out = append(out, chargersText(c.s, c.foam.Chargers))
	}
	_, contains, labels := c.s.dietLines(c.p)
	return strings.Join(nonEmpty(strings.Join(out, ", "), contains, labels), " · ")
}

// size is the size of a siphon.
func (s *state) size(ml unit.Volume) string { return s.words.Figure(float64(ml)/1000, unit.Litre) }

// step is a step of the formula by its id, nil for none.
func (c *course) step(id string) *method.Edited {
	for i := range c.sheet.Steps {
		if c.sheet.Steps[i].ID == id {
			return &c.sheet.Steps[i]
		}
	}
	return nil
}
