package lab

import (
	"slices"
	"strings"

	"tremblant/internal/agent"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/liquid"
	"tremblant/internal/plan"
	"tremblant/internal/plan/method"
	"tremblant/internal/unit"
)

// ingredient is one part of the liquid as the method sees it.
type ingredient struct {
	id     string // stable while its name stays
	name   string // as typed
	mass   unit.Mass
	known  bool // the catalogue of liquids has it
	record liquid.Ingredient
	guess  method.Role  // what its record says it is to the method
	role   method.Role  // as guessed, or as the cook says
	temp   unit.Celsius // as it stands before work begins
	bears  unit.Celsius // warmest that it stands; 0 for any heat
	place  string       // where that temperature comes from, a key of places
}

// roles are the choices for what a part is, in the order of the page; their
// names stand in the text catalogue under "lab-method.role-".
var roles = [...]struct {
	word string
	role method.Role
}{
	{"base", method.Base}, {"acid", method.Acid}, {"delicate", method.Delicate}, {"alcohol", method.Alcohol},
	{"sugar", method.Sugar}, {"salt", method.Salt}, {"citrate", method.Sequestrant},
}

func roleWord(r method.Role) string {
	for _, c := range roles {
		if c.role == r {
			return c.word
		}
	}
	return roles[0].word
}

// places are where an ingredient stands before work begins, with the usual
// temperature there, °C (common practice).
var places = [...]struct {
	word string
	temp unit.Celsius
}{{"fridge", 5}, {"tap", 15}, {"shelf", 20}, {"warm", 40}, {"hot", 80}}

func placeTemp(word string) (unit.Celsius, bool) {
	for _, p := range places {
		if p.word == word {
			return p.temp, true
		}
	}
	return 0, false
}

// usualPlace is where a kitchen keeps an ingredient.
func usualPlace(g liquid.Ingredient, known bool) string {
	if !known {
		return "shelf"
	}
	switch g.Class {
	case liquid.Waters:
		return "tap"
	case liquid.Dairy, liquid.Eggs, liquid.Fruits, liquid.Vegetables, liquid.Stocks, liquid.PlantMilks:
		return "fridge"
	}
	return "shelf"
}

// What a record must hold, g per 100 g, to count as one thing or another: rules
// of thumb that tell a spirit from a juice, a crystal from a syrup.
const (
	strongEnough = 4.0  // ethanol that needs the care of alcohol
	dryEnough    = 10.0 // water of a sugar that is weighed dry
	sourPH       = 4.0  // typical pH below which a juice comes late
	mostlyAcid   = 50.0 // acids of a substance that is an acid
)

// guessRole reads from a record what it is to the method.
func guessRole(g liquid.Ingredient) method.Role {
	at := func(c liquid.Constituent) float64 { return float64(g.Per100[c]) }
	acids := 0.0
	for c := liquid.Acetic; c <= liquid.Carbonic; c++ {
		acids += at(c)
	}
	switch {
	case g.Class == liquid.Pures && at(liquid.Citric) > 30 && at(liquid.Sodium)+at(liquid.Potassium) > 10:
		return method.Sequestrant
	case g.Class == liquid.Pures && acids > mostlyAcid, g.Class == liquid.Vinegars:
		return method.Acid
	case g.Class == liquid.Pures:
		return method.Salt
	case g.Class == liquid.Sugars && at(liquid.Water) < dryEnough:
		return method.Sugar
	case at(liquid.Ethanol) >= strongEnough:
		return method.Alcohol
	case g.PH.Typical > 0 && g.PH.Typical < sourPH:
		return method.Acid
	case bearsHeat(g) > 0:
		return method.Delicate
	}
	return method.Base
}

// What egg and cultured milk bear, °C (common practice): white sets from 62, and
// cultured milk splits soon after.
const frailBears = 60

// cultured is the lactic acid from which milk splits in heat, g per 100 g.
const cultured = 0.4

// bearsHeat is the heat above which an ingredient sets or splits; 0 when none is known.
func bearsHeat(g liquid.Ingredient) unit.Celsius {
	wet := g.Per100[liquid.Water] > 50
	if g.Class == liquid.Eggs || g.Class == liquid.Dairy && wet && g.Per100[liquid.Lactic] >= cultured {
		return frailBears
	}
	return 0
}

// boilable reports whether egg may be boiled in this pan: starch keeps it from
// curdling, as in a pastry cream (common practice).
func (s *state) boilable(g liquid.Ingredient) bool {
	return g.Class == liquid.Eggs && slices.ContainsFunc(s.doses, func(d gel.Dose) bool {
		return d.Agent == "corn-starch" || d.Agent == "tapioca-starch" || d.Agent == "waxy-maize" || d.Agent == "waxy-stable"
	})
}

// longestID keeps the names of inputs that hold an id short enough to be kept.
const longestID = 24

// partID is a stable name for a part: letters, digits and hyphens of its name,
// and a digest of the rest.
func partID(name string) string {
	var b strings.Builder
	clean := strings.ToLower(strings.TrimSpace(name))
	lost := false
	for _, r := range clean {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case r < 0x80:
			b.WriteByte('-')
		default:
			lost = true
		}
	}
	id := strings.Join(strings.FieldsFunc(b.String(), func(r rune) bool { return r == '-' }), "-")
	if len(id) > longestID {
		id, lost = id[:longestID], true
	}
	if lost || id == "" {
		id = strings.Trim(id+"-"+digest(clean)[:4], "-")
	}
	return id
}

// loneLiquid is the id of a liquid of which nothing is said, whatever it is called.
const loneLiquid = "liquid"

// ingredients lists the liquid's parts and the doses that are no agent but are
// known as something else. taken are the ids that agents have.
func (s *state) ingredients(taken []string) []ingredient {
	var out []ingredient
	add := func(name, id string, m unit.Mass) {
		if m <= 0 {
			return
		}
		p := ingredient{name: name, mass: m, id: id}
		for base, n := p.id, 2; slices.Contains(taken, p.id); n++ {
			p.id = base + "-" + s.words.Style.Fixed(float64(n), 0)
		}
		taken = append(taken, p.id)
		p.record, p.known = s.meant(name)
		out = append(out, p)
	}
	f := &s.reading.Formula
	for i, p := range f.Parts {
		add(p.Name, partID(p.Name), s.batch.Parts[i])
	}
	if len(f.Parts) == 0 {
		add(s.msay("liquid"), loneLiquid, s.batch.Liquid)
	}
	for i, d := range f.Doses {
		if _, known := s.findLiquid(d.Name); d.Agent == "" && known {
			add(d.Name, partID(d.Name), s.batch.Doses[i].Mass)
		}
	}
	s.settle(out)
	return out
}

// meant is what a name of the pan means: what its cook has said of it, or the catalogue's.
func (s *state) meant(name string) (liquid.Ingredient, bool) {
	for i := range s.parts {
		if p := &s.parts[i]; p.known && p.own >= 0 && strings.EqualFold(p.name, strings.TrimSpace(name)) {
			return p.g, true
		}
	}
	return s.findLiquid(name)
}

// leastNeutral is the share of the liquid that must be neither sour nor strong
// for the powders to be opened up in it alone; below it the sour juice itself is
// heated (common practice).
const leastNeutral = 0.2

// verySour is the pH below which a part comes late however much of it there is:
// lemon and vinegar, not apple.
const verySour = 2.8

// heatSour takes sour parts that are not very sour for what the powders are opened up in,
// either vinegars or all others, and tells their mass.
func heatSour(parts []ingredient, vinegars bool) (sum unit.Mass) {
	for i := range parts {
		p := &parts[i]
		if p.guess == method.Acid && p.record.PH.Typical >= verySour && (p.record.Class == liquid.Vinegars) == vinegars {
			p.guess = method.Base
			sum += p.mass
		}
	}
	return sum
}

// settle decides what each part is to the method and how warm it is.
func (s *state) settle(parts []ingredient) {
	var neutral, wet unit.Mass
	for i := range parts {
		p := &parts[i]
		if p.known {
			p.guess = guessRole(p.record)
			if s.boilable(p.record) {
				p.guess = method.Base
			} else {
				p.bears = bearsHeat(p.record)
			}
		}
		if p.guess == method.Base && s.fresh(p.name) {
			p.guess = method.Delicate
		}
		if p.guess <= method.Delicate {
			wet += p.mass
		}
		if p.guess == method.Base {
			neutral += p.mass
		}
	}
	// Juices before vinegars, which keep their bite off the heat.
	for _, vinegars := range [...]bool{false, true} {
		if float64(neutral) >= leastNeutral*float64(wet) {
			break
		}
		neutral += heatSour(parts, vinegars)
	}
	for i := range parts {
		p := &parts[i]
		p.role, p.place = p.guess, usualPlace(p.record, p.known)
		for _, c := range roles {
			if s.fields[partInput(p.id, "role")] == c.word {
				p.role = c.role
			}
		}
		if word := s.fields[partInput(p.id, "from")]; word != "" {
			if _, ok := placeTemp(word); ok {
				p.place = word
			}
		}
		p.temp, _ = placeTemp(p.place)
	}
}

// fresh reports whether a name means what loses its colour or its taste when it boils: a
// green juice or an infusion that was made cold. The words for them are the language's own:
// "fresh-of" with one of "fresh-as" at an end of a word, or "fresh-cold" alone.
func (s *state) fresh(name string) bool {
	folded := liquid.Fold(name)
	has := func(key string, test func(text, word string) bool) bool {
		for word := range strings.SplitSeq(s.msay(key), ", ") {
			if test(folded, liquid.Fold(word)) {
				return true
			}
		}
		return false
	}
	return has("fresh-cold", strings.Contains) || has("fresh-of", strings.Contains) && has("fresh-as", atAnEnd)
}

// atAnEnd reports whether a word of a text begins or ends with another.
func atAnEnd(text, word string) bool {
	return slices.ContainsFunc(strings.Fields(text), func(w string) bool { return strings.HasPrefix(w, word) || strings.HasSuffix(w, word) })
}

func partInput(id, what string) string { return mname("part-" + id + "-" + what) }

// sourHeated reports whether a part that is sour is heated with the powders.
func (p ingredient) sourHeated() bool {
	return p.known && p.role == method.Base && p.record.PH.Typical > 0 && p.record.PH.Typical < sourPH
}

// molarCalcium is the standard atomic weight of calcium, g/mol (IUPAC).
const molarCalcium = 40.078

// calcium is all calcium of what the powders are opened up in, mmol/kg; known
// only when every such part is.
func calcium(parts []ingredient) (float64, bool) {
	var sum, mass float64
	for _, p := range parts {
		if p.role != method.Base {
			continue
		}
		if !p.known {
			return 0, false
		}
		sum += float64(p.record.Per100[liquid.Calcium]) / 100 * float64(p.mass)
		mass += float64(p.mass)
	}
	if mass == 0 {
		return 0, false
	}
	return sum / mass * 1e6 / molarCalcium, true
}

// mostlyDairy reports whether at least half of the liquid is milk or cream.
func mostlyDairy(parts []ingredient) bool {
	var dairy, all unit.Mass
	for _, p := range parts {
		all += p.mass
		if p.known && p.record.Class == liquid.Dairy {
			dairy += p.mass
		}
	}
	return dairy > 0 && dairy >= all/2
}

const animal = liquid.Milk | liquid.Egg | liquid.Fish | liquid.Crustaceans | liquid.Molluscs

// diet puts what is known about an ingredient into its line; what is not known
// stays a question.
func (p ingredient) diet(item *plan.Item) {
	if !p.known {
		return
	}
	item.Allergens = p.record.Allergens.Names()
	item.Vegan, item.Vegetarian = plan.Yes, plan.Yes
	if p.record.Flags&(liquid.FromMeat|liquid.FromFish) != 0 {
		item.Vegetarian, item.Vegan = plan.No, plan.No
	}
	if p.record.Flags&liquid.FromBees != 0 || p.record.Allergens&animal != 0 {
		item.Vegan = plan.No
	}
}

// agentDiet does the same for an agent.
func agentDiet(a *agent.Agent, item *plan.Item) {
	answers := map[agent.Answer]plan.Answer{agent.Ask: plan.Ask, agent.Yes: plan.Yes, agent.No: plan.No} // read by key only
	item.Vegan, item.Vegetarian = answers[a.Vegan], answers[a.Vegetarian]
	item.Allergens, item.MayHold = lawfulAllergens(a.Allergens), lawfulAllergens(a.MayHold)
}

// lawfulAllergens are the agents' words for allergens in those of the law's list.
func lawfulAllergens(words []agent.Word) []string {
	var out []string
	for _, w := range words {
		out = append(out, lawful(string(w)))
	}
	return out
}

func lawful(word string) string {
	if word == "soy" {
		return "soya"
	}
	return word
}

// isSheets reports whether a dose is counted in sheets.
func isSheets(d formula.Dose) bool { return d.Amount.Kind() == unit.KindSheets }

func (p ingredient) enzyme() bool { return p.known && p.record.Flags&liquid.Protease != 0 }

func (p ingredient) preheated() bool { return p.known && p.record.Flags&liquid.Preheated != 0 }

// rawEgg reports whether a part is egg that the kitchen has not heated; pasteurised, whether
// its name says that its maker has.
func (p ingredient) rawEgg() bool { return p.known && p.record.Flags&liquid.RawEgg != 0 }

func (p ingredient) pasteurised() bool {
	_, _, is := withoutPasteur(p.name)
	return is
}
