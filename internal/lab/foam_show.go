package lab

import (
	"math"
	"strings"

	"tremblant/internal/foam"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

// foamGroup is fillings of one round that are the same: bodies of one size with
// as much base and as many charges.
type foamGroup struct{ first, count int }

// groups puts together the fillings of a plan that are the same.
func groups(all []foam.Filling) []foamGroup {
	var out []foamGroup
	for i, x := range all {
		if n := len(out); n > 0 && sameFilling(all[out[n-1].first], x) {
			out[n-1].count++
			continue
		}
		out = append(out, foamGroup{i, 1})
	}
	return out
}

func sameFilling(a, b foam.Filling) bool {
	return a.Shelf == b.Shelf && a.Round == b.Round && a.Mass == b.Mass && a.Charges == b.Charges
}

// showAnswer shows the plan, and nothing where there is none for what is asked:
// an earlier one beside the refusal would be taken for the answer. Nothing is
// advised for any gas but food-grade N2O.
func (f *siphon) showAnswer(s *state) {
	f.current = true
	stale := ""
	if f.err != nil {
		stale = "stale"
	}
	show := f.ever && f.err == nil && f.wants.Gas == foam.FoodN2O
	s.page.Show(foamInput("answer"), show)
	s.page.Show(foamInput("more"), show)
	f.state(s, stale)
	s.page.Line(foamInput("old"), "")
	s.page.Show(foamInput("make"), show && !f.fits() && f.of.Covers > 0)
	if !show || !f.changed(s) {
		return
	}
	f.showBase(s)
	f.showFillings(s)
	f.showSums(s)
	f.showBy(s)
	f.showOrder(s)
	f.showDrawn(s)
	f.showNotes(s)
}

// changed reports whether the page shows another answer than this. The pan tells
// every keystroke twice, by itself and with the working formula.
func (f *siphon) changed(s *state) bool {
	now := shownAnswer{f.asked, f.drawn, f.fits(), len(s.counted), len(s.strange), s.shelf.Chargers}
	was := f.shown
	f.shown = now
	return now != was
}

// shownAnswer is what an answer on the page hangs on.
type shownAnswer struct {
	asked            string
	drawn            int
	fits             bool
	counted, strange int
	chargers         formula.Stock
}

// showBase shows how much to make, and whether the pan makes it.
func (f *siphon) showBase(s *state) {
	p := f.plan
	s.page.Figure(foamInput("base"), float64(p.Base), grams(s, p.Base))
	text, covers := s.say("lab-foam.for-all"), ""
	if f.of.Covers > 0 {
		covers = s.words.Figure(float64(f.of.Covers), unit.One)
		key := "lab-foam.for"
		if f.of.Covers == 1 {
			key = "lab-foam.for-one"
		}
		text = s.say(key, note.Typed("portion", portionText(s, f.of.Portion)),
			note.Typed("each", s.words.Figure(float64(p.PerCover), unit.Gram)))
	}
	s.page.Figure(foamInput("covers-planned"), float64(f.of.Covers), covers)
	s.page.Text(foamInput("for"), text)
	s.page.Show(foamInput("fits"), f.fits())
}

// showFillings lists what goes into which body.
func (f *siphon) showFillings(s *state) {
	all := f.plan.Fillings
	list := groups(all)
	name := foamInput("fill")
	s.page.Show(foamInput("siphons"), len(all) > 0)
	s.page.Rows(name, len(list))
	for i, g := range list {
		x := all[g.first]
		s.page.Text(view.Row(name, i, "name"), f.groupText(s, g))
		s.page.Figure(view.Row(name, i, "mass"), float64(x.Mass), grams(s, x.Mass))
		s.page.Text(view.Row(name, i, "each"), s.sayIf(g.count > 1, "lab-foam.each"))
		s.page.Figure(view.Row(name, i, "charges"), float64(x.Charges), chargesText(s, x.Charges))
		s.page.Text(view.Row(name, i, "bar"), s.say("lab-foam.fill-bar", note.Typed("before", barText(s, x.Before.Typical)), note.Typed("after", barText(s, x.After.Typical))))
	}
}

// groupText names the bodies of a group, with the round where there are several.
func (f *siphon) groupText(s *state, g foamGroup) string {
	x := f.plan.Fillings[g.first]
	text := f.sizeText(s, x.Shelf)
	if g.count > 1 {
		text = s.say("lab-foam.times", note.Num("count", float64(g.count), unit.One), note.Typed("siphon", text))
	}
	if f.plan.Rounds > 1 {
		text = s.say("lab-foam.in-round", note.Typed("siphon", text), note.Num("round", float64(x.Round), unit.One))
	}
	return text
}

// sizeText is a body's size: 0.5 l.
func (f *siphon) sizeText(s *state, shelf int) string {
	x := f.of.Shelf[shelf]
	size := s.words.Figure(float64(x.Nominal)/1000, unit.Litre)
	if x.ID == "own" {
		return s.say("lab-foam.own-body", note.Typed("siphon", size))
	}
	return size
}

// bodyText is one body of a filling: 0.5 l, no. 2 where there are several.
func (f *siphon) bodyText(s *state, x foam.Filling) string {
	size := f.sizeText(s, x.Shelf)
	if f.of.Shelf[x.Shelf].Count == 1 {
		return size
	}
	return s.say("lab-foam.body", note.Typed("siphon", size), note.Num("number", float64(x.Number), unit.One))
}

// chargesText is a count of charges in words.
func chargesText(s *state, n int) string {
	if n == 1 {
		return s.say("lab-foam.charge-one")
	}
	return s.say("lab-foam.charges", note.Num("count", float64(n), unit.One))
}

// chargersText is a count of chargers in words.
func chargersText(s *state, n int) string {
	if n == 1 {
		return s.say("lab-foam.charger-one")
	}
	return s.say("lab-foam.chargers-of", note.Num("count", float64(n), unit.One))
}

// barText is a pressure in Pa as bar with two digits: more would claim too much.
func barText(s *state, pa float64) string {
	return s.words.Style.Significant(pa/1e5, 2) + "\u00a0bar"
}

// barRange is the range of a pressure in Pa.
func barRange(s *state, r unit.Range) string {
	return s.say("lab-foam.range", note.Typed("low", s.words.Style.Significant(r.Low/1e5, 2)), note.Typed("high", barText(s, r.High)))
}

// overText is a growth in parts of one as per cent, two digits.
func overText(s *state, over float64) string {
	return s.words.Style.Significant(over*100, 2) + "\u00a0%"
}

// foamText is a volume of foam: in litres from one up, two digits.
func foamText(s *state, ml float64) string {
	if ml >= 1000 {
		return s.words.Style.Significant(ml/1000, 2) + "\u00a0l"
	}
	return s.words.Style.Significant(ml, 2) + "\u00a0ml"
}

// showSums shows what the plan takes and gives.
func (f *siphon) showSums(s *state) {
	p := f.plan
	figure := func(name string, v float64, text string) { s.page.Figure(foamInput(name), v, text) }
	between := func(low, high string) string {
		return s.say("lab-foam.range", note.Typed("low", low), note.Typed("high", high))
	}
	figure("chargers", float64(p.Chargers), s.words.Figure(float64(p.Chargers), unit.One))
	figure("boxes", float64(p.Boxes), boxText(s, p, int(f.ask.or("box", usualBox))))
	figure("left-over", float64(p.LeftOver), grams(s, p.LeftOver))
	figure("stuck", p.Stuck.Typical, grams(s, unit.Mass(p.Stuck.Typical)))
	figure("volume", p.Foam.Typical, foamText(s, p.Foam.Typical))
	s.page.Text(foamInput("volume-range"), between(foamText(s, p.Foam.Low), foamText(s, p.Foam.High)))
	s.page.Show(foamInput("portions-row"), f.of.Portion.Size > 0)
	figure("portions", p.Portions.Typical, s.words.Style.Fixed(math.Floor(p.Portions.Typical+1e-6), 0))
	s.page.Text(foamInput("portions-range"), between(s.words.Style.Fixed(math.Floor(p.Portions.Low), 0), s.words.Style.Fixed(math.Floor(p.Portions.High), 0)))
	figure("lead", p.Lead.Typical, timeText(s, p.Lead.Typical))
	s.page.Text(foamInput("lead-range"), between(timeText(s, p.Lead.Low), timeText(s, p.Lead.High)))
	f.showOverrun(s)
}

// boxText is the boxes to open and what is left in the last.
func boxText(s *state, p foam.Plan, box int) string {
	key := "lab-foam.boxes"
	if p.Boxes == 1 {
		key = "lab-foam.box-one"
	}
	return s.say(key, note.Num("boxes", float64(p.Boxes), unit.One), note.Num("of", float64(box), unit.One), note.Num("left", float64(p.BoxLeft), unit.One))
}

// timeText is a time in seconds as a cook says it.
func timeText(s *state, seconds float64) string {
	if seconds < 90*60 {
		return s.words.Figure(math.Round(seconds/60), unit.Minute)
	}
	return s.words.Figure(math.Round(seconds/360)/10, unit.Hour)
}

// showOverrun shows the growth, with the range and with what the gas could do at
// the very most.
func (f *siphon) showOverrun(s *state) {
	over, bound := f.plan.Overrun, 0.0
	if x := f.plan.Fillings; len(x) > 0 {
		over, bound = x[0].Expansion.Overrun, x[0].Expansion.Bound
	}
	s.page.Figure(foamInput("overrun"), over.Typical, overText(s, over.Typical))
	s.page.Text(foamInput("overrun-range"), s.say("lab-foam.range", note.Typed("low", overText(s, over.Low)), note.Typed("high", overText(s, over.High))))
	s.page.Show(foamInput("bound-row"), bound > 0)
	s.page.Figure(foamInput("bound"), bound, overText(s, bound))
}

// showBy sets the two counts of charges side by side.
func (f *siphon) showBy(s *state) {
	s.page.Show(foamInput("by"), len(f.plan.Fillings) > 0)
	for i, name := range [...]string{"rule", "gas"} {
		p := f.by[i]
		if p == nil {
			s.page.NoFigure(foamInput(name + "-chargers"))
			s.page.Text(foamInput(name+"-says"), s.say("lab-foam.by-none"))
			continue
		}
		s.page.Figure(foamInput(name+"-chargers"), float64(p.Chargers), chargersText(s, p.Chargers))
		s.page.Text(foamInput(name+"-says"), f.byText(s, p))
	}
}

// byText says in how many fillings, and how many charges each body takes.
func (f *siphon) byText(s *state, p *foam.Plan) string {
	key := "lab-foam.fillings"
	if len(p.Fillings) == 1 {
		key = "lab-foam.filling-one"
	}
	return s.say(key, note.Num("count", float64(len(p.Fillings)), unit.One), note.Typed("mass", grams(s, p.Base)))
}

// showOrder lists the work in its order: each body filled and charged in turn,
// then the rest, then service.
func (f *siphon) showOrder(s *state) {
	var lines []string
	together := map[note.Code]int{} // round in which a step was told for all bodies
	for i, a := range f.plan.Order {
		x := f.plan.Fillings[a.Filling]
		body := note.Typed("siphon", f.bodyText(s, x))
		say := func(key string, args ...note.Arg) {
			lines = append(lines, s.say("lab-foam."+key, append(args, body)...))
		}
		switch a.Step {
		case foam.StepRechill:
			key := "order-again"
			if f.of.Formula.Base.Hot() {
				key = "order-again-hot"
			}
			say(key, note.Typed("low", timeText(s, a.Time.Low)), note.Typed("high", timeText(s, a.Time.High)))
		case foam.StepFill:
			charge := f.plan.Order[i+1]
			key := "order-fill"
			if charge.Count > 1 {
				key = "order-fill-more"
			}
			say(key, note.Typed("mass", grams(s, x.Mass)), note.Typed("charges", chargesText(s, charge.Count)),
				note.Num("low", foam.Shakes.Low, unit.One), note.Num("high", foam.Shakes.High, unit.One))
		case foam.StepRest, foam.StepServe:
			if together[a.Step] == a.Round {
				continue
			}
			together[a.Step] = a.Round
			f.sayTogether(s, a, say)
		}
	}
	list := foamInput("order")
	s.page.Rows(list, len(lines))
	for i, line := range lines {
		s.page.Text(view.Row(list, i, "text"), line)
	}
}

// sayTogether tells a step that all bodies of a round take.
func (f *siphon) sayTogether(s *state, a foam.Action, say func(string, ...note.Arg)) {
	var names []string
	for _, x := range f.plan.Fillings {
		if x.Round == a.Round {
			names = append(names, f.bodyText(s, x))
		}
	}
	if a.Step == foam.StepRest {
		key := "order-rest"
		if f.of.Formula.Base.Hot() {
			key = "order-rest-hot"
		}
		say(key, note.Typed("time", timeText(s, a.Time.Typical)), note.Typed("low", timeText(s, a.Time.Low)),
			note.Typed("high", timeText(s, a.Time.High)), note.Num("bath", float64(foam.BathLimit), unit.DegreeC))
		return
	}
	key := "order-serve"
	if len(names) > 1 {
		key = "order-serve-more"
	}
	say(key, note.Typed("siphons", strings.Join(names, s.say("lab-foam.then"))))
}
