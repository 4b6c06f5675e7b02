package lab

import (
	"strconv"
	"strings"

	"tremblant/internal/formula"
	"tremblant/internal/liquid"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// ownRow is what a cook says of an ingredient: what it is like in the
// catalogue, and the figures of its label, which win.
type ownRow struct {
	name, as string
	g        liquid.Ingredient
	known    bool
	typed    bool // some figure is given
	base     bool // the catalogue has what it is like
	wrong    note.Note
	fields   map[string]note.Note // figures that cannot be read
}

// The properties of a row.
var ownProperties = append([]string{"name"}, formula.LiquidProperties[:]...)

// ownFigures are the figures that can be typed, in grams per 100 g but for
// alcohol (% vol) and pH.
var ownFigures = [...]struct {
	name      string
	low, high float64
	unit      unit.Symbol
}{
	{"sugar", 0, 100, unit.PercentOf}, {"acid", 0, 60, unit.PercentOf}, {"alcohol", 0, 100, unit.ABV},
	{"salt", 0, 100, unit.PercentOf}, {"fat", 0, 100, unit.PercentOf}, {"ph", 0.5, 13, unit.PH},
}

// ownAcids are the acids that a label may mean; the first is taken when nothing
// is chosen.
var ownAcids = [...]liquid.Constituent{liquid.Citric, liquid.Acetic, liquid.Malic, liquid.Tartaric, liquid.Lactic}

func ownField(i int, property string) string { return formula.LiquidField(i, property) }

func (k *know) readOwns(s *state) []ownRow {
	n := 0
	for i := range formula.MaxDescribed {
		if s.fields[ownField(i, "name")] != "" {
			n = i + 1
		}
	}
	rows := make([]ownRow, n)
	for i := range rows {
		rows[i] = k.readOwn(s, i)
	}
	return rows
}

func (k *know) readOwn(s *state, i int) ownRow {
	r := ownRow{name: strings.TrimSpace(s.fields[ownField(i, "name")]), as: s.fields[ownField(i, "as")], fields: map[string]note.Note{}}
	r.g, r.base = liquid.ByID(r.as)
	if r.as == "" {
		r.g, r.base = s.findLiquid(r.name)
	}
	r.known = r.base
	figures := map[string]float64{}
	for _, f := range ownFigures {
		text := s.fields[ownField(i, f.name)]
		if strings.TrimSpace(text) == "" {
			continue
		}
		v, bad := figureIn(text, f.low, f.high, f.unit)
		if bad.Code != "" {
			r.fields[f.name] = bad
			r.wrong = bad
			continue
		}
		figures[f.name] = v
	}
	r.typed = len(figures) > 0
	if r.wrong.Code != "" || !r.typed {
		return r
	}
	g, err := describe(r.g, r.base, figures, s.fields[ownField(i, "acid-kind")])
	if refused, ok := err.(*note.Refusal); ok {
		r.wrong = refused.Note
		return r
	}
	r.g, r.known = g, true
	return r
}

// phWithin is how far a pH typed for an ingredient may be off: between a meter
// and a strip (common practice).
const phWithin = 0.1

// describe makes an ingredient of the figures of a label, put in place of those
// of the catalogue's record where it is like one.
func describe(g liquid.Ingredient, base bool, figures map[string]float64, acid string) (liquid.Ingredient, error) {
	if !base {
		g = liquid.Ingredient{Spread: liquid.Standard}
	}
	before := solids(&g)
	label(&g, figures)
	if base {
		g.Per100[liquid.Water] = max(0, g.Per100[liquid.Water]+before-solids(&g))
	}
	if ph, ok := figures["ph"]; ok {
		g.PH = liquid.PH{Low: float32(ph - phWithin), Typical: float32(ph), High: float32(ph + phWithin)}
		g.SIDKnown = false
	}
	if v, ok := figures["alcohol"]; ok {
		if err := ferment(&g, v); err != nil {
			return g, err
		}
	}
	g.Density = 0 // the record's no longer holds
	out, err := liquid.OwnIngredient(g)
	if v, ok := figures["acid"]; ok && err == nil {
		return sour(out, v, acid, base)
	}
	return out, err
}

// label sets sugar, salt and fat.
func label(g *liquid.Ingredient, figures map[string]float64) {
	if v, ok := figures["sugar"]; ok {
		sum := float32(0)
		for c := liquid.Sucrose; c <= liquid.OtherSugar; c++ {
			sum += g.Per100[c]
		}
		if sum == 0 {
			g.Per100[liquid.Sucrose], sum = 1, 1
		}
		for c := liquid.Sucrose; c <= liquid.OtherSugar; c++ {
			g.Per100[c] *= float32(v) / sum
		}
	}
	if v, ok := figures["salt"]; ok {
		sodium := float32(v / liquid.SaltPerSodium)
		g.Per100[liquid.Ash] = max(0, g.Per100[liquid.Ash]+(sodium-g.Per100[liquid.Sodium])*liquid.SaltPerSodium)
		g.Per100[liquid.Sodium] = sodium
		g.Flags |= liquid.Salted
	}
	if v, ok := figures["fat"]; ok {
		g.Per100[liquid.Fat] = float32(v)
	}
}

// solids is all but water and alcohol, in g per 100 g.
func solids(g *liquid.Ingredient) float32 {
	sum := float32(0)
	for c := liquid.Sucrose; c <= liquid.Unknown; c++ {
		if c != liquid.Ethanol {
			sum += g.Per100[c]
		}
	}
	return sum
}

// ferment sets the alcohol of a label, % vol: by weight it depends on the
// density, which depends on it in turn, but hardly.
func ferment(g *liquid.Ingredient, abv float64) error {
	byMass, err := liquid.MassOfABV(unit.Fraction(abv / 100))
	if err != nil {
		return err
	}
	room := g.Per100[liquid.Water] + g.Per100[liquid.Ethanol]
	if room == 0 {
		room = 100 - solids(g)
	}
	pure, err := liquid.DensityOfAlcohol(1, 20)
	if err != nil {
		return err
	}
	share := 100 * byMass
	for range 8 {
		g.Per100[liquid.Ethanol] = float32(share)
		g.Per100[liquid.Water] = max(0, room-float32(share))
		share = unit.Fraction(abv) * unit.Fraction(pure) / unit.Fraction(g.DensityAt(20))
	}
	return nil
}

// sour sets the titratable acid of a label.
func sour(g liquid.Ingredient, per100 float64, name string, base bool) (liquid.Ingredient, error) {
	acid := ownAcids[0]
	for _, a := range ownAcids {
		if a.String() == name || name == "" && base && g.Per100[a] > g.Per100[acid] {
			acid = a
		}
	}
	// Only this acid is on the label: the record's other acids make room.
	for c := liquid.Acetic; c <= liquid.Galacturonic; c++ {
		if c != acid && c != liquid.Ascorbic {
			g.Per100[liquid.Water] += g.Per100[c]
			g.Per100[c] = 0
		}
	}
	before := g.Per100[acid]
	out, err := liquid.WithTitratable(g, acid, per100, acid)
	if err == nil {
		out.Per100[liquid.Water] = max(0, out.Per100[liquid.Water]-out.Per100[acid]+before)
		err = out.Check()
	}
	return out, err
}

// showOwn lists the cook's own ingredients with their figures.
func (k *know) showOwn(s *state) {
	const list = "lab-liquid-own"
	s.page.Show("lab-liquid-own-box", len(k.recipe.owns) > 0)
	s.page.Rows(list, len(k.recipe.owns))
	for i := range k.recipe.owns {
		r := &k.recipe.owns[i]
		s.page.Text(view.Row(list, i, "title"), r.name)
		s.page.Choices(ownField(i, "as"), k.likes(s)...)
		s.page.Choices(ownField(i, "acid-kind"), acidChoices(s)...)
		for _, property := range ownProperties {
			if property != "name" {
				s.page.Value(ownField(i, property), s.fields[ownField(i, property)])
			}
		}
		for _, f := range ownFigures {
			_, bad := r.fields[f.name]
			s.page.Invalid(ownField(i, f.name), bad)
		}
		text, hint := "", false
		switch {
		case r.wrong.Code != "":
			text = s.words.Note(r.wrong)
		case !r.known:
			text, hint = s.say("lab-liquid.own-empty"), true
		}
		s.page.Say(ownField(i, "say"), text, hint)
		s.page.Line(view.Row(list, i, "away"), textIf(!k.inUse(s, r.name), s.say("lab-liquid.own-away")))
	}
}

// likes are the choices of what an ingredient is like.
func (k *know) likes(s *state) []string {
	pairs := []string{"", s.say("lab-liquid.like-none")}
	names := k.allNames(s)
	for i, id := range k.all {
		pairs = append(pairs, id, names[2*i])
	}
	return pairs
}

func acidChoices(s *state) []string {
	pairs := []string{"", s.say("lab-liquid.acid-any")}
	for _, a := range ownAcids {
		pairs = append(pairs, a.String(), s.say("constituent."+a.String()))
	}
	return pairs
}

// inUse reports whether the pan or a step has an ingredient of a name.
func (k *know) inUse(s *state, name string) bool {
	for i := range k.recipe.parts {
		if strings.EqualFold(k.recipe.parts[i].name, name) {
			return true
		}
	}
	for i := range k.recipe.rows {
		if strings.EqualFold(k.recipe.rows[i].name, name) {
			return true
		}
	}
	return false
}

// describe opens a row for the figures of a part.
func (k *know) describe(s *state, row int) *formula.Change {
	if row < 1 || row > len(k.recipe.parts) {
		return nil
	}
	return k.own(s, k.recipe.parts[row-1].name, "")
}

// takeNear counts a part as the near ingredient n that was offered.
func (k *know) takeNear(s *state, row, n int) *formula.Change {
	if row < 1 || row > len(k.recipe.parts) {
		return nil
	}
	p := &k.recipe.parts[row-1]
	if n >= len(p.near) {
		return nil
	}
	return k.own(s, p.name, p.near[n].ID)
}

// rowFor is the row that describes a name, or the first one that is free for it.
func (k *know) rowFor(name string) int {
	i := 0
	for i < len(k.recipe.owns) && !strings.EqualFold(k.recipe.owns[i].name, name) && k.recipe.owns[i].name != "" {
		i++
	}
	return i
}

// again takes what this kitchen has said of a part in another formula.
func (k *know) again(s *state, row int) *formula.Change {
	if row < 1 || row > len(k.recipe.parts) {
		return nil
	}
	p := &k.recipe.parts[row-1]
	at, i := formula.FindLiquid(s.shelf.Liquids, p.name), k.rowFor(p.name)
	if at < 0 || p.own >= 0 || i >= formula.MaxDescribed {
		return nil
	}
	f := cloneFields(s.fields)
	f[ownField(i, "name")] = p.name
	for property, text := range s.shelf.Liquids[at].Says {
		f[ownField(i, property)] = text
	}
	return &formula.Change{Fields: f, What: s.say("lab-liquid.described", note.Typed("name", p.name))}
}

// own adds a row that says what an ingredient is like, or changes the one there
// is.
func (k *know) own(s *state, name, as string) *formula.Change {
	i := k.rowFor(name)
	if i >= formula.MaxDescribed || name == "" {
		return nil
	}
	f := cloneFields(s.fields)
	f[ownField(i, "name")] = name
	what := s.say("lab-liquid.described", note.Typed("name", name))
	if as != "" {
		f[ownField(i, "as")] = as
		what = s.say("lab-liquid.taken-as", note.Typed("name", name), note.Word("ingredient", "ingredient."+as))
	} else {
		k.focus, k.awaits = ownField(i, "sugar"), i+1
	}
	return &formula.Change{Fields: f, What: what}
}

// dropOwn takes a row out; those below move up.
func (k *know) dropOwn(s *state, row int) *formula.Change {
	if row < 1 || row > len(k.recipe.owns) {
		return nil
	}
	f := cloneFields(s.fields)
	dropRow(f, "lab-liquid-own", row-1, formula.MaxDescribed, ownProperties)
	return &formula.Change{Fields: f, What: s.say("lab-liquid.dropped-own", note.Typed("name", k.recipe.owns[row-1].name))}
}

// dropRow takes row i out of the fields of a list; the rows below move up.
func dropRow(f formula.Fields, list string, i, limit int, properties []string) {
	for ; i < limit; i++ {
		for _, property := range properties {
			here, next := view.Row(list, i, property), list+"-"+strconv.Itoa(i+2)+"-"+property
			text, ok := f[next]
			if ok && i+1 < limit {
				f[here] = text
			} else {
				delete(f, here)
			}
		}
	}
}
