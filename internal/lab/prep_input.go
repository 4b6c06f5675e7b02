package lab

import (
	"errors"
	"slices"
	"strings"

	"tremblant/internal/agent"
	"tremblant/internal/foam"
	"tremblant/internal/gel"
	"tremblant/internal/liquid"
	"tremblant/internal/note"
	"tremblant/internal/plan"
	"tremblant/internal/plan/cool"
	"tremblant/internal/plan/method"
	"tremblant/internal/plan/process"
	"tremblant/internal/plan/safety"
	"tremblant/internal/plan/timeline"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// prepared is the whole answer of the section for one formula.
type prepared struct {
	parts  []ingredient
	agents []*agent.Agent
	in     plan.Input
	sheet  plan.Sheet

	list      weigh.List
	bowl      weigh.Bowl
	noWeights *note.Refusal // why nothing can be weighed
	noBowl    *note.Refusal // why it cannot be weighed into one bowl
	noMethod  *note.Refusal // why there is no method
	noCooling *note.Refusal // why no cooling is worked out

	target   method.Target // what it is made into
	guessed  bool          // and nobody has said so
	cooling  bool          // a place to cool in was chosen
	curve    *cool.Curve
	timeline timeline.Plan
	named    string        // as its cook named it; "" when nobody has
	planned  method.Siphon // by the siphon's part; nothing when it has no plan
}

// exact stands in for a kitchen's scales where these cannot weigh the batch, so
// that the method is worked out all the same. Its readings are not shown.
var exact = []weigh.Scale{{ID: "exact", Step: 0.001, Capacity: 1e7}}

// prepare works the sheet out.
func (m *prep) prepare(s *state) *prepared {
	p := &prepared{named: s.reading.Formula.Name, in: plan.Input{Title: s.title(), Portions: s.batch.Portions, Currency: s.fields[mname("currency")]}}
	if s.batch.Total > 0 && s.batch.Yield > 0 {
		p.in.Yield = min(1, float64(s.batch.Yield/s.batch.Total))
	}
	p.doses(s)
	p.parts = s.ingredients(ids(p.agents))
	p.liquid(s)
	if p.target, p.guessed = s.madeInto(); p.guessed && p.target <= method.FluidGel && !p.sets() {
		p.target = method.Thicken // as thick as a fluid gel, but nothing to set or to break
	}
	p.in.Method.Boil = s.batch.Total - s.batch.AfterBoil
	p.in.Method.Target, p.in.Method.Bottled = p.target, s.ticked(mname("bottled"))
	p.siphon(s)
	p.spheres(s, m.pearls)
	p.items(s)
	p.weigh(s)
	p.safety(s)
	p.work(s)
	return p
}

// siphon takes what the siphon's part has planned. Chargers that are typed here are asked
// of that part: it knows what a siphon bears.
func (p *prepared) siphon(s *state) {
	typed := s.typedCount(mname("charges"), 1, mostCharges, unit.Charger)
	hot := p.target == method.SiphonHot
	if !hot && p.target != method.SiphonCold {
		return
	}
	p.planned, _ = s.plannedSiphon(hot, 0)
	p.in.Method.Siphon = p.planned
	if !typed.Known {
		return
	}
	own, why := s.plannedSiphon(hot, int(typed.Typical))
	if why == nil {
		p.in.Method.Siphon = own
		return
	}
	if !p.planned.Refused { // else that part says so already
		asks := unanswered[why.Code]
		s.page.Invalid(mname("charges"), !asks)
		s.page.Say(mname("charges"), s.words.Note(roughNote(s, why.Note)), asks)
	}
}

// spheres takes the citrate that the spheres' part asks for, where the mix is one that is
// dropped into calcium.
func (p *prepared) spheres(s *state, ask *pearls) {
	drops := slices.ContainsFunc(p.in.Method.Doses, func(d method.Dose) bool { return d.Process.ForSpheres() })
	salted := slices.ContainsFunc(p.in.Method.Doses, func(d method.Dose) bool { return d.Process.Salt })
	if p.target == method.Bath && drops && !salted {
		p.in.Method.Spheres = ask.plannedCitrate(s)
	}
}

// mostCharges is the most that any siphon takes for a filling.
const mostCharges = 3

// plannedSiphon is what the siphon's part says of fillings and rest, with a number of
// charges for each filling or as it advises; nothing when it has no plan yet.
func (s *state) plannedSiphon(hot bool, charges int) (out method.Siphon, why *note.Refusal) {
	ask, ok := newFoamAsk(s)
	if !ok {
		return out, nil
	}
	r := ask.request()
	if charges > 0 {
		r.Charges = charges
	}
	var err error
	if r.Tests, err = ask.tests(r.Formula.Base.DensityOr()); err != nil || ask.bad || r.Formula.Type == "" {
		return out, nil
	}
	plan, err := foam.Size(r)
	if errors.As(err, &why) {
		out.Refused = !unanswered[why.Code]
		return out, why
	}
	out.Rounds = plan.Rounds
	if r.Formula.Base.Hot() == hot {
		out.Rest = method.Fact{Range: plan.Rest.Scale(1.0 / 60), Source: plan.RestBy}
		out.Bath = r.Formula.Bath()
	}
	for _, f := range plan.Fillings {
		out.Charges = append(out.Charges, f.Charges)
	}
	return out, nil
}

// unanswered are refusals that only ask for what nobody has said yet.
var unanswered = map[note.Code]bool{foam.CodeGas: true, foam.CodeNoCovers: true, foam.CodeNoPortion: true, foam.CodeNoSiphon: true} // read by key only

func (s *state) title() string {
	if s.reading.Formula.Name != "" {
		return s.reading.Formula.Name
	}
	return s.msay("unnamed")
}

func ids(agents []*agent.Agent) []string {
	var out []string
	for _, a := range agents {
		out = append(out, string(a.ID))
	}
	return out
}

// doses gathers the agents, one that is written twice as one.
func (p *prepared) doses(s *state) {
	var doses []method.Dose
	for i, d := range s.reading.Formula.Doses {
		a := agent.ByID(agent.ID(d.Agent))
		if a == nil || s.batch.Doses[i].Mass <= 0 {
			continue
		}
		k := slices.Index(p.agents, a)
		if k < 0 {
			p.agents = append(p.agents, a)
			doses = append(doses, method.Dose{})
			k = len(doses) - 1
		}
		doses[k].Mass += s.batch.Doses[i].Mass
		doses[k].Sheets = doses[k].Sheets || isSheets(d)
	}
	for k, facts := range process.Blend(p.agents) {
		doses[k].Process = facts
	}
	p.in.Method.Doses = doses
}

// liquid describes the liquid to the method.
func (p *prepared) liquid(s *state) {
	l := method.Liquid{Dairy: s.conditions.Milk || mostlyDairy(p.parts)}
	for _, part := range p.parts {
		l.Parts = append(l.Parts, method.Part{ID: part.id, Mass: part.mass, Role: part.role, Temp: part.temp, Bears: part.bears, Enzyme: part.enzyme(), Preheated: part.preheated()})
	}
	if ca, known := calcium(p.parts); known {
		l.Calcium = ca
		if !l.Dairy { // casein holds it otherwise: the method knows milk
			l.Held = s.heldCalcium()
		}
	} else if s.conditions.Ca.Known {
		l.Calcium = s.conditions.Ca.Typical
	}
	l.PH = s.acidity(p.parts)
	p.in.Method.Liquid = l
}

// heldCalcium is the share of the liquid's calcium that its acids hold, 0 where that is
// not known.
func (s *state) heldCalcium() float64 {
	if s.mix == nil || !s.mix.state.HasPH {
		return 0
	}
	all, free := s.mix.of(liquid.PropCalcium).Typical, s.mix.of(liquid.PropFreeCalcium).Typical
	if all <= 0 {
		return 0
	}
	return min(max(1-free/all, 0), 1)
}

// acidity is the pH of the liquid: as another part of the lab has found it, or
// that of the one ingredient that makes up most of it.
func (s *state) acidity(parts []ingredient) unit.Range {
	if s.conditions.PH.Known {
		return s.conditions.PH.Range
	}
	var all unit.Mass
	for _, p := range parts {
		all += p.mass
	}
	for _, p := range parts {
		if ph := p.record.PH; p.known && ph.Typical > 0 && p.mass > all*mainShare {
			return unit.Range{Low: float64(ph.Low), Typical: float64(ph.Typical), High: float64(ph.High)}
		}
	}
	return unit.Range{}
}

// mainShare is how much of the liquid one ingredient must be to lend its pH to
// the whole; a rule of thumb.
const mainShare = 0.6

// targets are the choices for what is made, in the order of the page.
var targets = [...]struct {
	word   string
	target method.Target
}{
	{"thicken", method.Thicken}, {"set", method.SetGel}, {"fluid", method.FluidGel}, {"siphon-cold", method.SiphonCold},
	{"siphon-hot", method.SiphonHot}, {"whipped", method.Whipped}, {"air", method.Air}, {"bath", method.Bath},
}

func targetWord(t method.Target) string {
	for _, c := range targets {
		if c.target == t {
			return c.word
		}
	}
	return ""
}

// ofTexture is what is made when a formula comes out as a texture.
var ofTexture = map[agent.Texture]method.Target{ // read by key only
	agent.FluidGel: method.FluidGel, agent.Loose: method.SetGel, agent.SoftSet: method.SetGel, agent.FirmSet: method.SetGel,
	agent.Sliceable: method.SetGel, agent.Sphere: method.Bath, agent.Foam: method.SiphonCold, agent.Air: method.Air,
}

// madeInto is what the formula is made into: as said here, as the wanted texture
// says, or as its doses come out.
func (s *state) madeInto() (t method.Target, guessed bool) {
	for _, c := range targets {
		if s.fields[mname("target")] == c.word {
			return c.target, false
		}
	}
	t = ofTexture[s.texture()]
	if t == method.SiphonCold && s.servesHot() {
		t = method.SiphonHot
	}
	return t, true
}

// sets reports whether an agent of the formula makes a gel.
func (p *prepared) sets() bool {
	return slices.ContainsFunc(p.in.Method.Doses, func(d method.Dose) bool { return d.Process.SetBy != method.NoSet })
}

// servesHot reports whether the siphon's part serves this foam hot.
func (s *state) servesHot() bool {
	ask, ok := newFoamAsk(s)
	return ok && ask.request().Formula.Base.Hot()
}

func (s *state) texture() agent.Texture {
	for _, field := range [...]string{"lab-swap-texture", "texture"} {
		if t := s.fields[field]; t != "" {
			return agent.Texture(t)
		}
	}
	v, err := gel.Read(gel.Recipe{Doses: s.doses, Cond: s.conditions, Kitchen: s.kitchen.factors})
	if err != nil {
		return ""
	}
	return v.Texture
}

// items is what must be weighed, with its name, diet and price.
func (p *prepared) items(s *state) {
	p.in.Items = plan.Items(p.in.Method)
	for i := range p.in.Items {
		item := &p.in.Items[i]
		for _, a := range p.agents {
			if string(a.ID) == item.ID {
				agentDiet(a, item)
			}
		}
		for _, part := range p.parts {
			if part.id == item.ID && !item.Agent {
				item.Typed = part.name
				part.diet(item)
			}
		}
	}
	p.strangers(s)
	for i := range p.in.Items {
		item := &p.in.Items[i]
		item.Price, item.Priced = s.price(item.ID)
	}
}

// price is what a kilogram costs, if it was typed and can be read.
func (s *state) price(id string) (float64, bool) {
	text := s.fields[mname("price-"+id)]
	v, n := figureIn(text, 0, maxPrice, unit.One)
	return v, n.Code == "" && strings.TrimSpace(text) != ""
}

// maxPrice bounds the price of a kilogram in any currency.
const maxPrice = 1e9

// strangers are doses that nothing is known about. They are weighed with the
// rest; the method cannot say what to do with them.
func (p *prepared) strangers(s *state) {
	for i, d := range s.reading.Formula.Doses {
		inLiquid := slices.ContainsFunc(p.parts, func(part ingredient) bool { return part.name == d.Name })
		if d.Agent != "" || inLiquid || s.batch.Doses[i].Mass <= 0 {
			continue
		}
		item := plan.Item{Agent: true, Item: weigh.Item{ID: partID(d.Name), Typed: d.Name, Mass: s.batch.Doses[i].Mass}}
		if d.Name == "" {
			item.Typed = s.msay("nameless")
		}
		for n := 2; slices.ContainsFunc(p.in.Items, func(other plan.Item) bool { return other.ID == item.ID }); n++ {
			item.ID = partID(d.Name) + "-" + s.words.Style.Fixed(float64(n), 0)
		}
		p.in.Items = append(p.in.Items, item)
	}
}

// weigh works out what the scales show.
func (p *prepared) weigh(s *state) {
	tolerance := s.typed(mname("tolerance"), 0.05, 50, unit.PercentOf)
	if tolerance.Known {
		p.in.Tolerance = unit.Percent(tolerance.Typical)
	}
	p.in.Bowl = unit.Mass(s.typed(mname("bowl"), 0, 1e5, unit.Gram).Typical)
	p.in.Scales = s.scales()
	recipe := make([]weigh.Item, len(p.in.Items))
	for i, item := range p.in.Items {
		recipe[i] = item.Item
	}
	var err error
	if p.list, err = weigh.Make(recipe, p.in.Scales, p.in.Tolerance); err == nil {
		p.bowl, err = weigh.OneBowl(p.list, p.in.Scales, p.in.Bowl)
		errors.As(err, &p.noBowl)
	} else {
		errors.As(err, &p.noWeights)
	}
	if err != nil {
		p.in.Scales, p.in.Bowl = exact, 0
	}
}

// facts are what a cook ticks about the dish and its guests.
var facts = [...]struct {
	word string
	of   func(*safety.Facts) *bool
}{
	{"raw-egg", func(f *safety.Facts) *bool { return &f.RawEgg }},
	{"pasteurised", func(f *safety.Facts) *bool { return &f.EggPasteurised }},
	{"frail", func(f *safety.Facts) *bool { return &f.Frail }},
	{"one-bite", func(f *safety.Facts) *bool { return &f.OneBite }},
	{"soft-diet", func(f *safety.Facts) *bool { return &f.SoftDiet }},
	{"oil", func(f *safety.Facts) *bool { return &f.OilInfusion }},
	{"flowers", func(f *safety.Facts) *bool { return &f.Flowers }},
	{"beans", func(f *safety.Facts) *bool { return &f.KidneyBeans }},
	{"airless", func(f *safety.Facts) *bool { return &f.LowOxygen }},
}

// safety gathers what is known about dangers: from records, and as ticked.
func (p *prepared) safety(s *state) {
	f := &p.in.Safety
	for _, c := range facts {
		*c.of(f) = s.ticked(mname(c.word))
	}
	spores, unknown, oil, all := false, false, unit.Mass(0), unit.Mass(0)
	saidRaw, raw := f.RawEgg, false
	for _, part := range p.parts {
		f.RawEgg = f.RawEgg || part.rawEgg()
		raw = raw || part.rawEgg() && !part.pasteurised()
		spores = spores || part.known && part.record.Flags&liquid.Spores != 0
		unknown = unknown || !part.known
		all += part.mass
		if part.known && part.record.Class == liquid.Oils {
			oil += part.mass
		}
		f.Sweet = f.Sweet || part.role == method.Sugar && part.mass > s.batch.Total/5
	}
	f.EggPasteurised = f.EggPasteurised || f.RawEgg && !raw && !saidRaw
	if float64(oil) > liquid.OilShare*float64(all) {
		f.OilInfusion = f.OilInfusion || spores
		f.OilUnknown = unknown
	}
	for _, a := range p.agents {
		f.Konjac = f.Konjac || warns(a, "konjac-dry")
		f.CalciumSalt = f.CalciumSalt || warns(a, "ca-irritant")
		f.Laxative = f.Laxative || warns(a, "gut")
	}
	f.Siphon = p.target == method.SiphonCold || p.target == method.SiphonHot
	f.LowOxygen = f.LowOxygen || f.Siphon
	t := s.texture()
	f.FirmGel = p.target == method.SetGel && (t == agent.FirmSet || t == agent.Sliceable)
	f.PH = p.in.Method.Liquid.PH.Typical
	if hold := s.typed(mname("hold-temp"), -30, 120, unit.DegreeC); hold.Known {
		minutes := s.typed(mname("hold-minutes"), 0, 14*24*60, unit.Minute)
		p.in.Holds = []safety.Hold{{Temp: unit.Celsius(hold.Typical), Minutes: minutes.Typical}}
	} else {
		s.typed(mname("hold-minutes"), 0, 14*24*60, unit.Minute)
	}
}

func warns(a *agent.Agent, code agent.Word) bool {
	return slices.ContainsFunc(a.Safety, func(w agent.Warning) bool { return w.Code == code })
}

// work joins it all to a sheet. Where the method is refused, the weights stand.
func (p *prepared) work(s *state) {
	built, err := method.Build(p.in.Method)
	if errors.As(err, &p.noMethod) {
		return
	}
	p.in.Edits = s.edits(built.Steps)
	p.in.Safety.HotLiquid = blendsHot(built.Steps)
	p.cool(s, built.Steps)
	if p.sheet, err = plan.Make(p.in); err != nil {
		errors.As(err, &p.noMethod)
		return
	}
	p.sheet.Cautions = append(append(p.sheet.Cautions, p.hotAcid()...), p.fatLast(s)...)
}

// blendsHot reports whether hot liquid meets a blender or a siphon.
func blendsHot(steps []method.Step) bool {
	return slices.ContainsFunc(steps, func(st method.Step) bool {
		return st.Hot && slices.ContainsFunc(st.Needs, func(n string) bool { return n == "blender" || n == "siphon" })
	})
}

// What makes a part of the liquid the fat of an emulsion: g of fat in 100 g of it, and its
// share of the liquid (rules of thumb).
const (
	fatOfItself = 60.0
	muchFat     = 0.1
)

// fatLast says of oil and butter what the steps do not: they count them with the liquid
// that the powders go into.
func (p *prepared) fatLast(s *state) []note.Note {
	var fat, all unit.Mass
	var names []string
	for _, part := range p.parts {
		all += part.mass
		if part.known && float64(part.record.Per100[liquid.Fat]) >= fatOfItself {
			fat += part.mass
			names = append(names, part.name)
		}
	}
	if float64(fat) < muchFat*float64(all) {
		return nil
	}
	return []note.Note{note.New(note.Caution, CodeFatLast, note.Typed("parts", s.join(names))).From(source.Ref{Tag: source.Practice})}
}

// hotAcid warns of sour juice that is itself heated, as package method does of
// sour parts that it had to heat.
func (p *prepared) hotAcid() []note.Note {
	ph := p.in.Method.Liquid.PH
	if ph.Typical <= 0 || !slices.ContainsFunc(p.parts, ingredient.sourHeated) {
		return nil
	}
	var out []note.Note
	for _, d := range p.in.Method.Doses {
		f := d.Process
		if f.Acid.Known() && ph.Low < f.AcidPH+1 {
			out = append(out, note.New(note.Caution, method.CodeAcidHot, note.Word("agent", "agent."+f.ID),
				note.Num("minutes", method.HotMinutes(f.Acid.Low, f.AcidPH, ph.Low), unit.Minute), note.Num("ph", ph.Low, unit.PH)).From(f.Acid.Source))
		}
	}
	return out
}
