package lab

import (
	"strconv"

	"tremblant/internal/agent"
	"tremblant/internal/emulsion"
	"tremblant/internal/liquid"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// creamPart is one ingredient of the pan as the emulsion takes it.
type creamPart struct {
	name  string
	ref   string // the pan's name of its row: part-2, dose-1
	field string // input that says on which side it is; "" for agents
	at    int    // place in the emulsion's list
	inOil bool
	known bool
	fat   unit.Fraction
	part  emulsion.Part
}

// creamAsk is what is asked: the recipe at the pan's size, and what for.
type creamAsk struct {
	figuresTyped
	in    emulsion.Input
	parts []creamPart
	fat   unit.Fraction // from which an ingredient counts as oil
	auto  bool          // the style is a guess
	limit *emulsion.Have
	want  emulsion.Want
}

// usualCream is what a cover gets where nothing is typed, in g: a spoonful
// (common practice).
const usualCream = 15

// mostlyFat is the fat from which an ingredient counts as oil unless the cook
// says otherwise: between the fattest cream and butter (common practice).
const mostlyFat = 0.5

// onlyFat is the fat from which it does so where nothing fatter is there: that of
// a cream or a chocolate, which the emulsion takes as its oil.
const onlyFat = 0.3

// leastFat is which of the two holds for a pan.
func leastFat(parts []mixPart) unit.Fraction {
	for i := range parts {
		if parts[i].amount.Base() > 0 && compositionOf(&parts[i].g).Fat >= mostlyFat {
			return mostlyFat
		}
	}
	return onlyFat
}

var creamStyles = [...]struct {
	word  string
	style emulsion.Style
}{
	{"cold-cream", emulsion.ColdCream}, {"butter-sauce", emulsion.ButterSauce}, {"vinaigrette", emulsion.Vinaigrette},
	{"nut-cream", emulsion.NutCream}, {"dairy-cream", emulsion.DairyCream},
}

var creamTools = map[string]emulsion.Tool{"": emulsion.StickBlender, "whisk": emulsion.Whisk, "homogeniser": emulsion.Homogeniser}

// creamHolds are the allergens that a cook may say of what is not known here: all
// that the law has declared.
var creamHolds = [...]string{"gluten", "crustaceans", "egg", "fish", "peanuts", "soya", "milk", "nuts", "celery",
	"mustard", "sesame", "sulphites", "lupin", "molluscs"}

// read reads the section's inputs and the pan's ingredients.
func (c *cream) read(s *state) *creamAsk {
	a := &creamAsk{figuresTyped: s.readFigures(c.input, creamFigures[:])}
	a.fat = leastFat(s.parts)
	for i := range s.parts {
		c.readPart(s, a, &s.parts[i])
	}
	c.readDoses(s, a)
	a.in.PH, a.in.Measured = phTyped(a.figuresTyped, s), a.known("ph")
	a.in.Tool = creamTools[s.fields[c.input("tool")]]
	a.in.Vulnerable = s.ticked(c.input("guests"))
	if a.known("serve") {
		t := unit.Celsius(a.or("serve", 0))
		a.in.Serve = &t
	}
	a.in.Style, a.auto = c.style(s, a)
	c.readWant(s, a)
	return a
}

// phTyped is the pH that was measured, as near as a meter or a strip tells it,
// or the liquid's.
func phTyped(t figuresTyped, s *state) unit.Range {
	if t.known("ph") {
		v := t.or("ph", 0)
		return unit.Range{Low: v - phWithin, Typical: v, High: v + phWithin}
	}
	if g := s.conditions.PH; g.Known {
		return unit.Range{Low: g.Low, Typical: g.Typical, High: g.High}
	}
	return unit.Range{}
}

func (c *cream) readPart(s *state, a *creamAsk, p *mixPart) {
	if p.amount.Base() <= 0 {
		return
	}
	own := compositionOf(&p.g)
	out := creamPart{
		name: p.title(s), ref: "part-" + strconv.Itoa(p.row+1), field: c.input("side-" + digest(p.name)), known: p.known, fat: own.Fat,
		part: emulsion.Part{Name: p.title(s), Mass: s.massOf(p), Own: own, Like: likeOf(&p.g), Pasteurised: s.ticked(c.input("pasteurised"))},
	}
	if !p.known {
		out.part.Own.Density = 0 // of a usual watery phase: it is more than water
	}
	out.inOil = own.Fat >= a.fat
	switch s.fields[out.field] {
	case "oil":
		out.inOil = true
	case "water":
		out.inOil = false
	}
	a.put(out)
}

// put adds a part to its list.
func (a *creamAsk) put(p creamPart) {
	list := &a.in.Water
	if p.inOil {
		list = &a.in.Oil
	}
	p.at = len(*list)
	*list = append(*list, p.part)
	a.parts = append(a.parts, p)
}

// compositionOf is an ingredient of the liquid model as an emulsion sees it.
func compositionOf(g *liquid.Ingredient) emulsion.Composition {
	share := func(c liquid.Constituent) unit.Fraction { return unit.Fraction(max(0, g.Per100[c])) / 100 }
	out := emulsion.Composition{
		Water: share(liquid.Water), Fat: share(liquid.Fat), Salt: min(1, share(liquid.Sodium)*liquid.SaltPerSodium),
		Acetic: share(liquid.Acetic), Citric: share(liquid.Citric),
	}
	if sum := out.Water + out.Fat + out.Salt + out.Acetic + out.Citric; sum > 1 {
		k := 1 / sum // a record's rounding
		out.Water, out.Fat, out.Salt, out.Acetic, out.Citric = out.Water*k, out.Fat*k, out.Salt*k, out.Acetic*k, out.Citric*k
	}
	if d := g.DensityAt(reference); d >= 0.5 && d <= 3 && (out.Fat < 0.02 || out.Fat > 0.98) {
		out.Density = d // of the fat alone, or of the rest alone
	}
	return out
}

// creamLikes are ingredients of the liquid model that are rows of the emulsion's
// catalogue of their own.
var creamLikes = map[string]emulsion.Kind{
	"egg-yolk": "yolk", "whole-egg": "whole-egg", "egg-white": "egg-white", "mustard": "mustard",
	"butter": "butter", "salted-butter": "butter", "butter-oil": "clarified-butter", "tahini": "sesame-paste",
	"bean-liquid": "bean-liquid", "almond-butter": "almond-paste", "hazelnut": "almond-paste", "pistachio": "almond-paste",
}

// likeOf is the catalogue's row that carries fat as an ingredient does.
func likeOf(g *liquid.Ingredient) emulsion.Kind {
	const someProtein = 2 // g per 100 g
	fat := g.Per100[liquid.Fat]
	switch k, ok := creamLikes[g.ID]; {
	case ok:
		return k
	case g.Class == liquid.Oils:
		return "neutral-oil"
	case g.Class == liquid.Eggs && fat >= someFat:
		return "whole-egg"
	case g.Class == liquid.Eggs:
		return "egg-white"
	case g.Class == liquid.Dairy && fat >= 15:
		return "cream"
	case g.Class == liquid.Dairy || g.Class == liquid.PlantMilks && g.Per100[liquid.PlantProtein] >= someProtein:
		return "milk"
	}
	return emulsion.Plain
}

// creamAgents are the agents of the pan that are rows of the emulsion's catalogue.
var creamAgents = map[agent.ID]emulsion.Kind{"lecithin": "lecithin", "xanthan": "xanthan", "milkprotein": "milk-protein", "whey": "milk-protein"}

func (c *cream) readDoses(s *state, a *creamAsk) {
	if s.refused != nil {
		return
	}
	for i, d := range s.reading.Formula.Doses {
		m := s.batch.Doses[i].Mass
		if !(m > 0) {
			continue
		}
		p := emulsion.Part{Kind: creamAgents[agent.ID(d.Agent)], Mass: m, Name: d.Name}
		if p.Kind == emulsion.Plain {
			p.Own = emulsion.Composition{Water: 0.1} // a powder's usual moisture (common practice)
			if d.Agent == "eggwhite" {
				p.Like, p.Pasteurised = "egg-white", true // sold so
			}
		}
		a.put(creamPart{name: d.Name, ref: "dose-" + strconv.Itoa(s.reading.DoseRow(i)+1), known: true, part: p})
	}
}

// isEgg reports whether a part is egg or a part of it.
func (p creamPart) isEgg() bool {
	return p.part.Like == "yolk" || p.part.Like == "whole-egg" || p.part.Like == "egg-white"
}

// holds reports whether a part carries fat as droplets.
func (p creamPart) holds() bool {
	kind := p.part.Kind
	if kind == emulsion.Plain {
		kind = p.part.Like
	}
	row, ok := emulsion.Find(kind)
	return ok && row.Capacity.High > 0
}

// style is the chosen one, or what the ingredients tell.
func (c *cream) style(s *state, a *creamAsk) (emulsion.Style, bool) {
	for _, x := range creamStyles {
		if s.fields[c.input("style")] == x.word {
			return x.style, false
		}
	}
	has, egg, holds, sour := map[emulsion.Kind]bool{}, false, false, false
	for _, p := range a.parts {
		has[p.part.Like] = true
		egg = egg || p.isEgg()
		holds = holds || p.holds()
		sour = sour || p.part.Own.Acetic+p.part.Own.Citric > 0
	}
	switch {
	case sour && !holds:
		return emulsion.Vinaigrette, true
	case has["butter"] || has["clarified-butter"]:
		return emulsion.ButterSauce, true
	case egg:
		return emulsion.ColdCream, true
	case has["almond-paste"] || has["sesame-paste"]:
		return emulsion.NutCream, true
	case has["cream"]:
		return emulsion.DairyCream, true
	}
	return emulsion.ColdCream, true
}

// readWant reads what it shall feed and what there is of one part.
func (c *cream) readWant(s *state, a *creamAsk) {
	if a.known("covers") {
		a.want = emulsion.Want{Covers: a.or("covers", 0), Portion: unit.Mass(a.or("portion", usualCream)), Loss: a.share("spare")}
	} else if a.known("portion") {
		a.want = emulsion.Want{Portion: unit.Mass(a.or("portion", 0)), Loss: a.share("spare")}
	}
	for _, p := range a.parts {
		if p.ref == s.fields[c.input("limit")] && a.known("have") {
			a.limit = &emulsion.Have{InOil: p.inOil, Index: p.at, Mass: unit.Mass(a.or("have", 0))}
		}
	}
}

// make scales the recipe and works the emulsion out at that size.
func (a *creamAsk) make() (emulsion.Scaled, emulsion.Answer, error) {
	scaled := emulsion.Scaled{Factor: 1, Water: a.in.Water, Oil: a.in.Oil}
	var err error
	switch {
	case a.limit != nil:
		scaled, err = a.in.Scale(a.want, *a.limit)
	case a.want.Covers > 0:
		scaled, err = a.in.Scale(a.want)
	}
	if err != nil {
		return scaled, emulsion.Answer{}, err
	}
	in := a.in
	in.Water, in.Oil = scaled.Water, scaled.Oil
	answer, err := emulsion.Make(in)
	scaled.Total = answer.Total
	return scaled, answer, err
}

// showParts lists the pan's ingredients with the side that each stands on.
func (c *cream) showParts(s *state) {
	list := c.input("part")
	var shown []creamPart
	choices := []string{"", c.say(s, "no-limit")}
	for _, p := range c.ask.parts {
		choices = append(choices, p.ref, p.name)
		if p.field != "" {
			shown = append(shown, p)
		}
	}
	s.page.Choices(c.input("limit"), choices...)
	s.page.Value(c.input("limit"), s.fields[c.input("limit")])
	s.page.Rows(list, len(shown))
	for i := len(shown); c.named[view.Row(list, i, "side")] != ""; i++ {
		delete(c.named, view.Row(list, i, "side"))
	}
	for i, p := range shown {
		id := view.Row(list, i, "side")
		s.page.Set(id, "name", p.field)
		if c.named[id] != p.field {
			c.named[id] = p.field
			s.page.Unknown(p.field)
		}
		side := "water"
		if p.inOil {
			side = "oil"
		}
		s.page.Value(p.field, side)
		s.page.Text(view.Row(list, i, "name"), p.name)
		what := c.say(s, "fat", note.Typed("fat", s.rough(p.fat.Percent(), unit.PercentOf)))
		if !p.known {
			what = c.say(s, "unknown")
		}
		s.page.Text(view.Row(list, i, "what"), what)
		s.page.Line(view.Row(list, i, "wrong"), "")
	}
}

// blame says at a part's own row what is wrong with it.
func (c *cream) blame(s *state, err error) {
	r, ok := err.(*note.Refusal)
	if !ok {
		return
	}
	row := 0
	for _, p := range c.ask.parts {
		list := "water."
		if p.inOil {
			list = "oil."
		}
		if p.field == "" {
			continue
		}
		if r.Field == list+strconv.Itoa(p.at) {
			s.page.Line(view.Row(c.input("part"), row, "wrong"), s.words.Note(r.Note))
			c.stale(s, p.name+": "+s.words.Note(r.Note))
		}
		row++
	}
}

// showTaken says what is counted where nothing is typed.
func (c *cream) showTaken(s *state) {
	a := c.ask
	c.hint(s, "style", c.say(s, "style-guess", note.Word("style", "emulsion.style."+creamStyles[int(a.in.Style)].word)))
	if s.fields[c.input("style")] != "" {
		s.page.Say(c.input("style"), "", true)
	}
	c.hint(s, "covers", c.say(s, "covers-pan"))
	portion := ""
	if a.known("covers") {
		portion = c.say(s, "portion-usual", note.Num("portion", usualCream, unit.Gram))
	}
	c.hint(s, "portion", portion)
	s.page.Show(c.input("have-ask"), s.fields[c.input("limit")] != "")
	have := ""
	if s.fields[c.input("limit")] != "" {
		have = c.say(s, "have-needed")
	}
	c.hint(s, "have", have)
	ph := c.say(s, "ph-unknown")
	if r := a.in.PH; r != (unit.Range{}) {
		ph = c.say(s, "ph-from", note.Num("low", r.Low, unit.PH), note.Num("high", r.High, unit.PH))
	}
	c.hint(s, "ph", ph)
	s.page.Show(c.input("strange"), !a.allKnown())
}

func (a *creamAsk) allKnown() bool {
	for _, p := range a.parts {
		if !p.known {
			return false
		}
	}
	return true
}
