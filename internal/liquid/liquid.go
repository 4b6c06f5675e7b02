package liquid

import (
	"slices"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Liquid is a well-mixed liquid: what went in, with what became of it. It is
// made by [Run] and never changes afterwards.
type Liquid struct {
	ingredients []Ingredient
	portions    []portion
	shift       float64    // mol of charge that a measured pH added
	shiftRange  [2]float64 // the same at the ends of the reading's range
	measuredPH  bool
	hold        unit.Range // g of liquid that infused solids hold back
	flags       Flags
	allergens   Allergens
	boiled      bool
	variants    [][2]*Liquid // the same steps at the ends of uncertain settings
	notes       []note.Note
	aside       *Liquid // what was poured off; never changed, only replaced
}

// clone copies what steps may change.
func (l *Liquid) clone() *Liquid {
	c := *l
	c.ingredients = slices.Clone(l.ingredients)
	c.portions = slices.Clone(l.portions)
	c.notes = slices.Clone(l.notes)
	c.variants = nil
	return &c
}

// Parts is grams of every constituent.
func (l *Liquid) Parts() Amounts {
	var a Amounts
	for i := range l.portions {
		a.add(&l.portions[i].parts, 1)
	}
	return a
}

// Mass is the mass in grams.
func (l *Liquid) Mass() unit.Mass {
	a := l.Parts()
	return unit.Mass(a.Mass())
}

// Volume is the volume in ml at a temperature.
func (l *Liquid) Volume(t unit.Celsius) unit.Volume {
	a := l.Parts()
	return unit.Volume(a.volume(t))
}

// Flags are what the ingredients bring, less what heat has ended.
func (l *Liquid) Flags() Flags { return l.flags }

// Allergens are all allergens of what went in, strained out or not.
func (l *Liquid) Allergens() Allergens { return l.allergens }

// Vegetarian reports whether nothing of a killed animal went in.
func (l *Liquid) Vegetarian() bool { return l.flags&(FromMeat|FromFish) == 0 }

// Vegan reports whether nothing of an animal went in.
func (l *Liquid) Vegan() bool {
	return l.Vegetarian() && l.flags&FromBees == 0 && l.allergens&(Milk|Egg|Fish|Crustaceans|Molluscs) == 0
}

// Ingredients is what went in, in order; a [Driver] points into it.
func (l *Liquid) Ingredients() []Ingredient { return slices.Clone(l.ingredients) }

func (l *Liquid) sid() float64 {
	sum := l.shift
	for i := range l.portions {
		sum += l.portions[i].sid
	}
	return sum
}

func (l *Liquid) scale(k float64) {
	for i := range l.portions {
		l.portions[i].scale(k)
	}
	l.shift *= k
	l.shiftRange[0] *= k
	l.shiftRange[1] *= k
}

// merge marks all portions as one: they can no longer be held back one by one.
func (l *Liquid) merge() {
	for i := range l.portions {
		l.portions[i].apart = false
	}
}

func (l *Liquid) say(n note.Note) {
	for _, old := range l.notes {
		if old.Code == n.Code && slices.Equal(old.Args, n.Args) {
			return
		}
	}
	l.notes = append(l.notes, n)
}

// pH solves the charge balance of the whole; ok is false without water or
// outside what a solution can be.
func (l *Liquid) pH(k *constants) (Equilibrium, bool) {
	a := l.Parts()
	return a.equilibrium(l.sid(), k, 5)
}

// equilibrium is the solved charge balance of some amounts, looked for near a pH.
func (a *Amounts) equilibrium(sid float64, k *constants, near float64) (Equilibrium, bool) {
	s, ok := a.solution(sid, k)
	if !ok {
		return Equilibrium{}, false
	}
	return s.solveNear(near)
}

// MostMass is the largest amount that one liquid may weigh, g.
const MostMass = 1e7

// checkAmount refuses masses and volumes that are not positive kitchen amounts.
func checkAmount(field string, x float64, u unit.Symbol) error {
	switch {
	case !unit.Finite(x):
		return note.Refuse(field, CodeNotFinite)
	case x <= 0 || x > MostMass:
		return note.Refuse(field, CodeBadAmount, note.Num("value", x, u), note.Num("limit", MostMass, u))
	}
	return nil
}

// add puts m grams of an ingredient in.
func (l *Liquid) add(g *Ingredient, m float64) error {
	if err := g.Check(); err != nil {
		return err
	}
	if err := checkAmount("mass", m, unit.Gram); err != nil {
		return err
	}
	if total := float64(l.Mass()) + m; total > MostMass {
		return note.Refuse("mass", CodeBadAmount, note.Num("value", total, unit.Gram), note.Num("limit", MostMass, unit.Gram))
	}
	l.ingredients = append(l.ingredients, *g)
	l.portions = append(l.portions, newPortion(g, len(l.ingredients)-1, m))
	l.flags |= g.Flags
	l.allergens |= g.Allergens
	l.sayOf(g)
	return nil
}

// sayOf tells what there is to say about an ingredient's record.
func (l *Liquid) sayOf(g *Ingredient) {
	name := g.nameArg()
	if g.estimatedByMetals() && g.Class != Oils {
		l.say(note.New(note.Hint, CodePHEstimated, name).From(srcDerived.ref()))
	}
	if ref := g.CompositionSource(); ref.Tag.RuleOfThumb() && g.Class != Pures && g.Spread != Pure {
		l.say(note.New(note.Reason, CodeThumb, name).From(ref))
	}
	if open := 100 - g.closure(); open > 2 {
		l.say(note.New(note.Reason, CodeOpenShare, name, note.Num("share", open, unit.GramPer100)))
	}
	if g.Flags&Fortified != 0 {
		l.say(note.New(note.Caution, CodeFortified, name))
	}
}

// nameArg names an ingredient in a note.
func (g *Ingredient) nameArg() note.Arg {
	if g.Name != "" || g.ID == "" {
		return note.Typed("ingredient", g.Name)
	}
	return note.Word("ingredient", "ingredient."+g.ID)
}

// blend pours m grams of another liquid in.
func (l *Liquid) blend(o *Liquid, m float64) error {
	have := float64(o.Mass())
	if have <= 0 {
		return note.Refuse("other", CodeEmpty)
	}
	if err := checkAmount("mass", m, unit.Gram); err != nil {
		return err
	}
	k := m / have
	first := len(l.ingredients)
	l.ingredients = append(l.ingredients, o.ingredients...)
	for _, p := range o.portions {
		p.scale(k)
		p.ingredient += first
		l.portions = append(l.portions, p)
	}
	l.addShift(o, k)
	l.flags |= o.flags
	l.allergens |= o.allergens
	for _, n := range o.notes {
		l.say(n)
	}
	return nil
}
