package screen

import (
	"maps"
	"math"
	"strconv"

	"tremblant/internal/book"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// A ladder is a row of cups with the same liquid and rising doses of one agent.
// Its step is such that a cook can tell two neighbours: moduli go about with the
// square of the dose, and a fifth to a quarter of the modulus can be told
// (common practice, no source).
const (
	ladderStep = 1.2
	minCup     = 50.0
	maxCup     = 100.0
	usualCup   = "80"
	usualCups  = "5"
)

// cup is one rung.
type cup struct {
	made formula.Formula
	key  string      // what goes into it: by this, how it came out is remembered
	dose unit.Amount // of the agent, in g per 100 g of liquid
	mass unit.Mass
}

// ladder is the cups for one dose of a formula, rising, with that dose among
// them. ok is false when the shares of its doses are not known.
func ladder(f formula.Formula, agent, cups int, size unit.Mass, shelf gel.Shelf) (list []cup, others []unit.Mass, ok bool) {
	f.Make = formula.Make{Mode: formula.ForLiquid, Liquid: unit.Grams(float64(size))}
	base, err := gel.Convert(f, shelf)
	if err != nil || !base.MassKnown || agent < 0 || agent >= len(f.Doses) {
		return nil, nil, false
	}
	f.Parts = append([]formula.Part(nil), f.Parts...)
	f.Doses = append([]formula.Dose(nil), f.Doses...)
	for i := range f.Doses {
		out := base.Doses[i]
		if !out.MassKnown || out.OnLiquid <= 0 {
			return nil, nil, false
		}
		f.Doses[i].Amount, f.Doses[i].Basis = unit.Amount{Value: threeDigits(out.OnLiquid.Percent()), Unit: unit.PercentOf}, formula.OnLiquid
		others = append(others, out.Mass)
	}
	present := f.Doses[agent].Amount.Value
	for i := range cups {
		c := cup{made: f}
		c.dose = unit.Amount{Value: threeDigits(present * math.Pow(ladderStep, float64(i-(cups-1)/2))), Unit: unit.PercentOf}
		c.mass = unit.Percent(c.dose.Value).Of(size)
		c.made.Doses = append([]formula.Dose(nil), f.Doses...)
		c.made.Doses[agent].Amount = c.dose
		list = append(list, c)
	}
	return list, others, true
}

// threeDigits rounds to what a cook would write down.
func threeDigits(x float64) float64 {
	v, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 3, 64), 64)
	if err != nil {
		return x
	}
	return v
}

// showLadder lays the ladder out.
func (k *keptView) showLadder() {
	if k.id == "" || len(k.revs) == 0 {
		return
	}
	page := k.app.page
	f, _, _, fine := k.subject()
	var pairs []string
	for i, d := range f.Doses {
		pairs = append(pairs, strconv.Itoa(i), d.Name)
	}
	page.Choices("ladder-agent", pairs...)
	agent, err := strconv.Atoi(k.typed["ladder-agent"])
	if err != nil || agent >= len(f.Doses) {
		agent = 0
		k.typed["ladder-agent"] = "0"
	}
	for _, name := range [...]string{"ladder-agent", "ladder-cups", "ladder-cup"} {
		page.Value(name, k.typed[name])
	}
	count, _ := strconv.Atoi(k.typed["ladder-cups"])
	size, refused := formula.FigureBetween(k.typed["ladder-cup"], minCup, maxCup, unit.Gram)
	k.app.shelf.refuse("ladder-cup", "ladder-cup", refused)
	k.cups = nil
	var others []unit.Mass
	if fine && refused == nil {
		k.cups, others, fine = ladder(f, agent, min(max(count, 3), 5), unit.Mass(size), k.app.shelf.kitchen())
	}
	for i := range k.cups {
		k.cups[i].key = k.keyOf(k.cups[i].made)
	}
	page.Show("ladder-body", len(k.cups) > 0)
	page.Show("ladder-unknown", !fine)
	k.showCups()
	each := k.app.text("ladder.each", note.Num("size", size, unit.Gram))
	for i, m := range others {
		if i != agent {
			each += ", " + k.app.words.Figure(float64(m), unit.Gram) + " " + f.Doses[i].Name
		}
	}
	page.Text("ladder-each", each)
}

// keyOf tells a cup of the entry from its others, by what goes into it.
func (k *keptView) keyOf(made formula.Formula) string {
	body, err := inside(made).Encode()
	if err != nil {
		return ""
	}
	return k.id + "\n" + string(body)
}

func (k *keptView) showCups() {
	page := k.app.page
	page.Rows("ladder", len(k.cups))
	for i, c := range k.cups {
		page.Figure(view.Row("ladder", i, "dose"), c.dose.Value, k.app.amount(c.dose))
		page.Line(view.Row("ladder", i, "rounding"), k.app.pan.showWeight(view.Row("ladder", i, "mass"), c.mass))
		page.Show(view.Row("ladder", i, "present"), i == (len(k.cups)-1)/2)
		page.Value(view.Row("ladder", i, "firmness"), k.judged[c.key])
	}
}

// judge notes how a cup came out. It belongs to what is in the cup, which other figures
// on the page may change, and not to the cup's place in the row.
func (k *keptView) judge(row int, grade string) {
	if row >= 1 && row <= len(k.cups) && k.cups[row-1].key != "" {
		k.judged[k.cups[row-1].key] = grade
	}
	k.app.page.Say("ladder-save", "", false)
}

// judgedCups are trials of the cups that were judged, as the page shows them.
func (k *keptView) judgedCups() (list []book.Trial) {
	_, aim, rev, fine := k.subject()
	for _, c := range k.cups {
		if grade, err := strconv.Atoi(k.judged[c.key]); err == nil && fine {
			list = append(list, k.trialOf(c.made, aim, rev, book.Outcome{Firmness: &grade}))
		}
	}
	return list
}

// saveLadder keeps a trial for each cup that was judged.
func (k *keptView) saveLadder() {
	if k.id == "" {
		return
	}
	list := k.judgedCups()
	if len(list) == 0 {
		k.app.page.Say("ladder-save", k.app.text("ladder.none"), false)
		return
	}
	k.app.page.Say("ladder-save", "", false)
	k.keepCups(list)
}

// keepCups stores trials of cups, which are judged no more then.
func (k *keptView) keepCups(list []book.Trial) {
	cups := k.cups
	k.keepTrials(list, func() {
		for _, c := range cups {
			delete(k.judged, c.key)
		}
	})
}

// useCup puts the dose of a cup into the pan, as a change of the entry. From there on the
// cups are others, so what came out of these is kept first.
func (k *keptView) useCup(row int) {
	if k.id == "" || row < 1 || row > len(k.cups) {
		return
	}
	agent, err := strconv.Atoi(k.typed["ladder-agent"])
	c := k.cups[row-1]
	b, pan := k.app.book, k.app.pan
	if b.open.id != k.id {
		err = b.putInPan(k.revs[0], k.revs[0])
	}
	if err != nil || agent >= len(pan.reading.Formula.Doses) {
		return
	}
	if list := k.judgedCups(); len(list) > 0 {
		k.keepCups(list)
	}
	at := pan.reading.DoseRow(agent)
	fields := maps.Clone(pan.fields)
	fields[formula.DoseField(at, "amount")] = k.app.words.Style.Plain(c.dose.Value)
	fields[formula.DoseField(at, "unit")] = string(unit.PercentOf)
	k.app.changePan(fields, k.app.text("undo.cup", note.Typed("name", c.made.Doses[agent].Name), note.Typed("dose", k.app.amount(c.dose))))
	k.app.visit("pan")
}
