package lab

import (
	"math"
	"slices"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/plan"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/unit"
)

// showWeights shows what to weigh, and the same into one bowl.
func (s *state) showWeights(p *prepared) {
	s.page.Line(mname("no-weights"), s.refusal(p.noWeights))
	s.page.Show(mname("weights"), p.noWeights == nil)
	s.page.Rows(mname("weigh"), len(p.list.Lines))
	for i, line := range p.list.Lines {
		s.showWeight(p, i, line)
	}
	s.page.Figure(mname("batch"), float64(s.batch.Total), s.words.Figure(float64(s.batch.Total), unit.Gram))
	s.showBowl(p)
}

func (s *state) showWeight(p *prepared, i int, line weigh.Line) {
	at := func(what string) string { return mrow("weigh", i, what) }
	s.page.Text(at("name"), s.itemName(p, line.ID))
	s.page.Figure(at("mass"), float64(line.Reading.Shown), s.display(line.Reading.Shown, line.Reading.Step))
	s.page.Text(at("of"), s.ofWhat(p, line))
	s.page.Text(at("how"), s.msay("weigh-how", note.Typed("scale", line.Reading.Scale), note.Num("within", s.missBy(line), unit.Gram)))
	s.page.Line(at("sheets"), s.sheets(p, line))
	s.page.Show(at("premix"), line.Premix != nil)
	if x := line.Premix; x != nil {
		s.page.Figure(at("premix-agent"), float64(x.AgentIn.Shown), s.display(x.AgentIn.Shown, x.AgentIn.Step))
		s.page.Text(at("premix-agent-name"), s.itemName(p, x.Agent))
		s.page.Figure(at("premix-carrier"), float64(x.CarrierIn.Shown), s.display(x.CarrierIn.Shown, x.CarrierIn.Step))
		s.page.Text(at("premix-carrier-name"), s.itemName(p, x.Carrier))
		s.page.Figure(at("premix-left"), float64(x.Left), s.words.Figure(float64(x.Left), unit.Gram))
		s.page.Text(at("premix-how"), s.msay(map[bool]string{true: "premix-stock", false: "premix-dry"}[x.Stock]))
	}
	lines := s.remarks(line.Notes)
	loud, quiet := "", ""
	for _, r := range lines {
		if r.level >= note.Caution {
			loud = spaced(loud, r.text)
		} else {
			quiet = spaced(quiet, s.withWork(r.text, r.from))
		}
	}
	s.page.Line(at("caution"), loud)
	s.page.Text(at("note"), quiet)
	s.page.Show(at("why-box"), quiet != "")
}

func spaced(a, b string) string {
	if a == "" {
		return b
	}
	return a + " " + b
}

// ofWhat says that a weight is one of a premix.
func (s *state) ofWhat(p *prepared, line weigh.Line) string {
	if line.Premix == nil {
		return ""
	}
	return s.msay("of-premix")
}

// missBy is by how much the ingredient can be off, in g, when the display shows
// its reading.
func (s *state) missBy(line weigh.Line) float64 {
	if line.Premix != nil {
		return rounds(float64(line.Premix.Worst) * float64(line.Wanted))
	}
	return rounds(float64(line.Reading.Worst) * float64(line.Reading.Target))
}

// rounds keeps one digit, upwards: an uncertainty with more would be absurd.
func rounds(v float64) float64 {
	if v <= 0 || !unit.Finite(v) {
		return 0
	}
	digit := math.Pow10(int(math.Floor(math.Log10(v) + 1e-9)))
	return math.Ceil(v/digit-1e-9) * digit
}

// sheets counts leaf gelatin.
func (s *state) sheets(p *prepared, line weigh.Line) string {
	i := slices.IndexFunc(p.agents, func(a *agent.Agent) bool { return string(a.ID) == line.ID })
	if i < 0 || !p.in.Method.Doses[i].Sheets {
		return ""
	}
	each, _ := s.ownSheets().Sheet()
	count, err := weigh.Sheets(line.Wanted, each, p.in.Tolerance)
	if err != nil {
		return ""
	}
	text := s.msay("sheets", note.Num("count", float64(count.Halves)/2, unit.Sheet), note.Num("each", float64(each), unit.Gram))
	for _, n := range count.Notes {
		text = spaced(text, s.noteSentence(n))
	}
	return text
}

// item is what is weighed, by its id; a carrier from outside the recipe has its
// name from the text catalogue.
func (p *prepared) item(id string) plan.Item {
	for _, item := range p.in.Items {
		if item.ID == id {
			return item
		}
	}
	return plan.Item{Item: weigh.Item{ID: id, Word: "carrier." + id}}
}

// itemName is the name of what is weighed, to begin a line with.
func (s *state) itemName(p *prepared, id string) string {
	return capital(s.words.Arg(p.item(id).Name("item")))
}

// showBowl shows the order of weighing into one bowl, with what the display
// reads after each.
func (s *state) showBowl(p *prepared) {
	s.page.Line(mname("no-bowl"), s.refusal(p.noBowl))
	rows := len(p.bowl.Apart) + len(p.bowl.Loads)
	s.page.Show(mname("bowl-box"), p.noWeights == nil)
	s.page.Rows(mname("load"), rows)
	for i, line := range p.bowl.Apart {
		s.page.Text(mrow("load", i, "name"), s.itemName(p, line.ID))
		s.page.Text(mrow("load", i, "how"), s.msay("in-cup", note.Typed("scale", line.Reading.Scale)))
		s.page.Figure(mrow("load", i, "reading"), float64(line.Reading.Shown), s.display(line.Reading.Shown, line.Reading.Step))
	}
	bowl := 0
	for k, load := range p.bowl.Loads {
		i := len(p.bowl.Apart) + k
		how := s.msay("load-add", note.Num("mass", float64(load.Add), unit.Gram))
		if load.Bowl != bowl {
			bowl = load.Bowl
			how = spaced(s.msay("new-bowl"), how)
		}
		s.page.Text(mrow("load", i, "name"), s.itemName(p, load.ID))
		s.page.Text(mrow("load", i, "how"), how)
		s.page.Figure(mrow("load", i, "reading"), float64(load.Reading), s.display(load.Reading, s.stepOf(p, p.bowl.Scale)))
	}
	s.page.Text(mname("bowl-scale"), s.msay("bowl-on", note.Typed("scale", p.bowl.Scale)))
}

func (s *state) stepOf(p *prepared, scale string) unit.Mass {
	for _, sc := range p.in.Scales {
		if sc.ID == scale {
			return sc.Step
		}
	}
	return 1
}

// ---- what the liquid is, and what it costs

// showParts shows what each part is to the method, for the cook to correct.
func (m *prep) showParts(s *state, p *prepared) {
	s.page.Rows(mname("part"), len(p.parts))
	m.forget(mname("part"), len(p.parts), "role", "from")
	for i, part := range p.parts {
		role, from := partInput(part.id, "role"), partInput(part.id, "from")
		for _, c := range [...][2]string{{"role", role}, {"from", from}} {
			m.name(s, mrow("part", i, c[0]), c[1])
		}
		s.page.Text(mrow("part", i, "name"), part.name)
		roleChoices := []string{"", s.msay("as-usual", note.Word("what", "lab-method.role-"+roleWord(part.guess)))}
		for _, c := range roles {
			roleChoices = append(roleChoices, c.word, s.msay("role-"+c.word))
		}
		usual := usualPlace(part.record, part.known)
		fromChoices := []string{"", s.msay("as-usual", note.Word("what", "lab-method.from-"+usual))}
		for _, c := range places {
			fromChoices = append(fromChoices, c.word, s.msay("from-"+c.word))
		}
		s.page.Choices(role, roleChoices...)
		s.page.Choices(from, fromChoices...)
		s.page.Value(role, s.fields[role])
		s.page.Value(from, s.fields[from])
	}
}

// showCost shows the cost of the batch where prices are typed.
func (m *prep) showCost(s *state, p *prepared) {
	s.page.Rows(mname("price"), len(p.in.Items))
	m.forget(mname("price"), len(p.in.Items), "in")
	for i, item := range p.in.Items {
		name := mname("price-" + item.ID)
		s.page.Set(mrow("price", i, "say"), "data-for", name)
		m.name(s, mrow("price", i, "in"), name)
		s.page.Value(name, s.fields[name])
		s.typed(name, 0, maxPrice, unit.One)
		s.page.Text(mrow("price", i, "name"), capital(s.words.Arg(item.Name("item"))))
		cost, priced := costOf(p.sheet.Cost, item)
		if priced {
			s.page.Figure(mrow("price", i, "cost"), cost, s.money(cost))
		} else {
			s.page.NoFigure(mrow("price", i, "cost"))
		}
	}
	c := p.sheet.Cost
	s.page.Show(mname("cost-answer"), len(c.Lines) > 0)
	s.page.Figure(mname("cost-batch"), c.Batch, s.money(c.Batch))
	s.page.Show(mname("cost-portion-row"), c.Portion > 0)
	s.page.Figure(mname("cost-portion"), c.Portion, s.money(c.Portion))
	s.page.Line(mname("cost-missing"), s.unpriced(p))
}

// unpriced names what the sum leaves out; "" while there is no sum, or nothing is left out.
func (s *state) unpriced(p *prepared) string {
	c := p.sheet.Cost
	if len(c.Lines) == 0 || len(c.Missing) == 0 {
		return ""
	}
	var names []string
	for _, id := range c.Missing {
		names = append(names, s.words.Arg(p.item(id).Name("item")))
	}
	return s.msay("cost-missing", note.Typed("list", s.join(names)))
}

func costOf(c plan.Cost, item plan.Item) (float64, bool) {
	for _, line := range c.Lines {
		if line.ID == item.ID {
			return line.Amount, true
		}
	}
	return 0, false
}

// money is an amount in the kitchen's own currency.
func (s *state) money(v float64) string {
	decimals := 2
	if v < 0.1 {
		decimals = 3
	}
	text := s.words.Style.Fixed(v, decimals)
	if c := s.fields[mname("currency")]; c != "" {
		text += "\u00a0" + c
	}
	return text
}
