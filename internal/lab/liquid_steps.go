package lab

import (
	"errors"
	"math"
	"strings"

	"tremblant/internal/formula"
	"tremblant/internal/liquid"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// mostSteps is how many things may be done to the liquid in one formula.
const mostSteps = 10

// mixStep is one thing that is done to the liquid, as typed.
type mixStep struct {
	kind   *stepKind // nil while nothing is chosen
	name   string
	amount unit.Amount // weight or volume that it names, at the size of the recipe
	near   []liquid.Ingredient
	wrong  note.Note // beside the row; a hint when something is still missing
}

// stepKind is one kind of thing to do.
type stepKind struct {
	key       string
	named     bool          // it names an ingredient
	wide      bool          // it asks for the width of the pan
	units     []unit.Symbol // that its amount can be typed in; the first is usual
	low, high float64       // limits of a plain figure, in the first unit
	optional  bool          // the amount may stay empty
	hot       bool
	make      func(x stepInput) liquid.Step
}

// stepInput is what a row says, read.
type stepInput struct {
	g      liquid.Ingredient
	amount unit.Amount // zero when not given
	width  float64     // cm
}

func (x stepInput) mass() unit.Mass { return unit.Mass(x.amount.Base()) }

// stepKinds are the kinds in the order of the list.
var stepKinds = [...]stepKind{
	{key: "add", named: true, units: []unit.Symbol{unit.Gram, unit.Millilitre}, make: func(x stepInput) liquid.Step { return stepOf(x.g, x.amount) }},
	{key: "infuse", named: true, units: []unit.Symbol{unit.Gram}, make: func(x stepInput) liquid.Step { return liquid.Infuse(x.g, x.mass()) }},
	{key: "strain", units: []unit.Symbol{unit.Gram, unit.PercentOf}, optional: true, make: strainStep},
	{key: "reduce", units: []unit.Symbol{unit.PercentOf, unit.Gram}, hot: true, make: reduceStep},
	{key: "simmer", wide: true, units: []unit.Symbol{unit.Minute}, high: formula.MaxMinutes, hot: true, make: simmerStep},
	{key: "flame", hot: true, make: func(stepInput) liquid.Step { return liquid.Cook(liquid.Flamed, 0) }},
	{key: "dilute", units: []unit.Symbol{unit.Gram, unit.Millilitre}, make: diluteStep},
	{key: "aside", units: []unit.Symbol{unit.Gram, unit.PercentOf}, make: asideStep},
	{key: "blend", units: []unit.Symbol{unit.Gram}, optional: true, make: func(x stepInput) liquid.Step { return liquid.PourBack(x.mass()) }},
	{key: "ph", units: []unit.Symbol{unit.PH}, low: 0.5, high: 13, make: readStep(liquid.PHMeter)},
	{key: "strip", units: []unit.Symbol{unit.PH}, low: 0.5, high: 13, make: readStep(liquid.PHStrip)},
	{key: "brix", units: []unit.Symbol{unit.Brix}, high: 95, make: readStep(liquid.Refractometer)},
	{key: "density", units: []unit.Symbol{unit.GramPerMl}, low: 0.7, high: 1.5, make: readStep(liquid.Hydrometer)},
	{key: "abv", units: []unit.Symbol{unit.ABV}, high: 100, make: func(x stepInput) liquid.Step {
		return liquid.Measure(liquid.Reading{Instrument: liquid.Alcoholmeter, Value: x.amount.Value / 100})
	}},
}

func strainStep(x stepInput) liquid.Step {
	if x.amount.Kind() == unit.KindDose {
		return liquid.Step{Kind: liquid.StepStrain, Share: unit.Fraction(x.amount.Base())}
	}
	return liquid.StrainTo(x.mass())
}

func reduceStep(x stepInput) liquid.Step {
	if x.amount.Kind() == unit.KindDose {
		return liquid.ReduceBy(unit.Fraction(x.amount.Base()))
	}
	return liquid.ReduceTo(x.mass())
}

// simmerStep counts what boils off when the width of the pan is known, and
// takes the alcohol that stays from the table by time.
func simmerStep(x stepInput) liquid.Step {
	t := unit.Seconds(x.amount.Value * 60)
	if x.width == 0 {
		return liquid.Cook(liquid.StirredIn, t)
	}
	s := liquid.Boil(t, math.Pi/4*x.width*x.width, unit.Range{})
	s.ByTable, s.Treatment = true, liquid.StirredIn
	return s
}

func asideStep(x stepInput) liquid.Step {
	if x.amount.Kind() == unit.KindDose {
		return liquid.PourOffShare(unit.Fraction(x.amount.Base()))
	}
	return liquid.PourOff(x.mass())
}

func diluteStep(x stepInput) liquid.Step {
	if x.amount.Kind() == unit.KindVolume {
		water, _ := liquid.ByID("water")
		return liquid.AddVolume(water, unit.Volume(x.amount.Base()))
	}
	return liquid.Dilute(x.mass())
}

func readStep(i liquid.Instrument) func(stepInput) liquid.Step {
	return func(x stepInput) liquid.Step {
		return liquid.Measure(liquid.Reading{Instrument: i, Value: x.amount.Value})
	}
}

// stepProperties are the inputs of a row.
var stepProperties = [...]string{"kind", "name", "amount", "unit", "width"}

func stepField(i int, property string) string { return view.Row("lab-liquid-step", i, property) }

func kindOf(key string) *stepKind {
	for i := range stepKinds {
		if stepKinds[i].key == key {
			return &stepKinds[i]
		}
	}
	return nil
}

func (k *know) readSteps(s *state, r *mixRecipe) {
	for i := range mostSteps {
		for _, property := range stepProperties {
			if strings.TrimSpace(s.fields[stepField(i, property)]) != "" {
				r.used = i + 1
			}
		}
	}
	for i := range r.used {
		k.readStep(s, r, i)
	}
}

// settleExtra takes the empty row back where the last one waits already.
func (k *know) settleExtra(s *state) {
	if used := k.recipe.used; used == mostSteps || used > 0 && s.fields[stepField(used-1, "kind")] == "" {
		k.extra = false
	}
}

// readStep reads one row and, when it is complete, adds its step.
func (k *know) readStep(s *state, r *mixRecipe, i int) {
	row := mixStep{kind: kindOf(s.fields[stepField(i, "kind")]), name: strings.TrimSpace(s.fields[stepField(i, "name")])}
	defer func() { r.rows = append(r.rows, row) }()
	if row.kind == nil {
		return
	}
	var x stepInput
	known := true
	if row.kind.named {
		if row.name == "" {
			row.wrong = note.New(note.Hint, CodeStepName)
			return
		}
		if x.g, _, known = k.ingredient(s, r.owns, row.name); !known {
			row.near = k.nearest(s, row.name)
		}
	}
	if row.wrong = row.kind.input(s, i, &x); row.wrong.Code != "" {
		r.wrong = r.wrong || row.wrong.Level == note.Refused
		return
	}
	if kind := x.amount.Kind(); kind == unit.KindMass || kind == unit.KindVolume {
		row.amount = x.amount
	}
	r.hot = r.hot || row.kind.hot
	r.put(row.kind.make(x), origin{false, len(r.rows)}, known, row.name)
}

// input reads the row's amount and width; the note says what is wrong or, as a
// hint, what is missing.
func (kind *stepKind) input(s *state, i int, x *stepInput) note.Note {
	text := s.fields[stepField(i, "amount")]
	switch {
	case len(kind.units) == 0:
		return note.Note{}
	case strings.TrimSpace(text) == "" && kind.optional:
		return note.Note{}
	case strings.TrimSpace(text) == "":
		return note.New(note.Hint, formula.FigureMissing)
	}
	bad := note.Note{}
	if first := kind.units[0]; first.Kind() == unit.KindNone {
		x.amount.Unit = first
		x.amount.Value, bad = figureIn(text, kind.low, kind.high, first)
	} else {
		x.amount, bad = kind.amountIn(text, unit.Symbol(s.fields[stepField(i, "unit")]))
	}
	if bad.Code == "" && kind.wide {
		x.width, bad = figureIn(s.fields[stepField(i, "width")], 0, mostWidth, centimetre)
	}
	return bad
}

// mostWidth is the widest pan, in cm.
const mostWidth = 200

const centimetre unit.Symbol = "cm"

// amountIn reads an amount in one of the kind's units; one that is typed behind
// the figure wins over the one chosen.
func (kind *stepKind) amountIn(text string, chosen unit.Symbol) (unit.Amount, note.Note) {
	refuse := func(c note.Code, args ...note.Arg) (unit.Amount, note.Note) {
		return unit.Amount{}, note.Refuse("", c, args...).Note
	}
	if !kind.takes(chosen) {
		chosen = kind.units[0]
	}
	a, err := unit.ParseAmount(text, chosen)
	switch {
	case errors.Is(err, unit.ErrUnit):
		return refuse(formula.FigureUnit)
	case errors.Is(err, unit.ErrTwoMarks):
		return refuse(formula.FigureTwoMarks)
	case errors.Is(err, unit.ErrTooLarge):
		return refuse(formula.FigureTooLarge)
	case err != nil:
		return refuse(formula.FigureBad)
	case a.Value < 0:
		return refuse(formula.FigureNegative)
	case a.Value == 0:
		return refuse(formula.FigureZero)
	case !kind.takes(a.Unit):
		return refuse(CodeStepUnit)
	case a.Kind() == unit.KindDose && a.Base() > 1:
		return refuse(formula.FigureOver, note.Num("limit", 100, unit.PercentOf))
	case a.Base() > formula.MaxMass:
		return refuse(formula.FigureOver, note.Num("limit", formula.MaxMass/1000, unit.Kilogram))
	}
	return a, note.Note{}
}

// takes reports whether the kind's amount can be in a unit: one of the same kind
// as those offered, but a share only as per cent.
func (kind *stepKind) takes(u unit.Symbol) bool {
	for _, own := range kind.units {
		if own == u || own.Kind() == u.Kind() && own.Kind() != unit.KindNone && own.Kind() != unit.KindDose {
			return true
		}
	}
	return false
}

// showSteps lists what is done, with an empty row when one was asked for.
func (k *know) showSteps(s *state) {
	const list = "lab-liquid-step"
	n := k.recipe.used
	if k.extra && n < mostSteps {
		n++
	}
	s.page.Rows(list, n)
	s.page.Show("lab-liquid-add", n < mostSteps)
	for i := range n {
		row := mixStep{}
		if i < len(k.recipe.rows) {
			row = k.recipe.rows[i]
		}
		k.showStep(s, list, i, &row)
	}
}

func (k *know) showStep(s *state, list string, i int, row *mixStep) {
	kind := row.kind
	if kind == nil {
		kind = &stepKind{}
	}
	at := func(what string) string { return view.Row(list, i, what) }
	s.page.Choices(stepField(i, "kind"), kindChoices(s)...)
	s.page.Show(at("name-ask"), kind.named)
	s.page.Show(at("amount-ask"), len(kind.units) > 0)
	s.page.Show(at("width-ask"), kind.wide)
	if len(kind.units) > 0 {
		s.page.Text(at("amount-label"), s.say("lab-liquid.amount-"+kind.key))
		s.page.Choices(stepField(i, "unit"), kind.unitChoices(s)...)
	}
	s.page.Show(at("unit-box"), len(kind.units) > 1)
	s.page.Line(at("one-unit"), kind.oneUnit(s))
	for _, property := range stepProperties {
		text := s.fields[stepField(i, property)]
		if property == "unit" && text == "" && len(kind.units) > 0 {
			text = string(kind.units[0])
		}
		s.page.Value(stepField(i, property), text)
	}
	text, bad := "", row.wrong.Level == note.Refused
	switch {
	case row.wrong.Code != "":
		text = s.words.Note(row.wrong)
	case len(row.near) > 0 || row.kind != nil && row.kind.named && row.near != nil:
		text = s.say("lab-liquid.not-known")
	case row.kind != nil:
		if hint, ok := s.words.Find("lab-liquid.hint-" + row.kind.key); ok {
			text = hint
		}
	}
	s.page.Say(stepField(i, "say"), text, !bad)
	s.page.Invalid(stepField(i, "amount"), bad)
	k.showNear(s, list, i, row.near)
	t := s.times()
	m := row.amount.Base() * t
	s.page.Show(at("batch"), m > 0 && t != 1)
	if m > 0 {
		base := unit.Gram
		if row.amount.Kind() == unit.KindVolume {
			base = unit.Millilitre
		}
		s.page.Figure(at("mass"), m, s.words.Figure(m, base))
	}
}

func kindChoices(s *state) []string {
	pairs := []string{"", s.say("lab-liquid.step-choose")}
	for i := range stepKinds {
		pairs = append(pairs, stepKinds[i].key, s.say("lab-liquid.step-"+stepKinds[i].key))
	}
	return pairs
}

// unitChoices are the units with their meaning here: "% away", "g left".
func (kind *stepKind) unitChoices(s *state) []string {
	var pairs []string
	for _, u := range kind.units {
		pairs = append(pairs, string(u), kind.unitText(s, u))
	}
	return pairs
}

func (kind *stepKind) unitText(s *state, u unit.Symbol) string {
	if text, ok := s.words.Find("lab-liquid.unit-" + kind.key + "-" + string(u)); ok {
		return text
	}
	return string(u)
}

// oneUnit is the unit of a kind that leaves no choice, "" otherwise.
func (kind *stepKind) oneUnit(s *state) string {
	if len(kind.units) != 1 || kind.units[0] == unit.PH {
		return ""
	}
	return kind.unitText(s, kind.units[0])
}

// dropStep takes a row out.
func (k *know) dropStep(s *state, row int) *formula.Change {
	if row < 1 || row > k.recipe.used {
		k.extra = false
		return nil
	}
	f := cloneFields(s.fields)
	dropRow(f, "lab-liquid-step", row-1, mostSteps, stepProperties[:])
	what := s.say("lab-liquid.dropped-step")
	if kind := k.recipe.rows[row-1].kind; kind != nil {
		what = s.say("lab-liquid.dropped", note.Word("step", "lab-liquid.step-"+kind.key))
	}
	return &formula.Change{Fields: f, What: what}
}

// takeStepNear counts the ingredient of a step as the near one that was offered.
func (k *know) takeStepNear(s *state, row, n int) *formula.Change {
	if row < 1 || row > len(k.recipe.rows) || n >= len(k.recipe.rows[row-1].near) {
		return nil
	}
	return k.own(s, k.recipe.rows[row-1].name, k.recipe.rows[row-1].near[n].ID)
}
