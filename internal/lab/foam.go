package lab

import (
	"errors"
	"math"
	"strings"

	"tremblant/internal/foam"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// siphon plans an evening's foam from the working formula: base, fillings,
// chargers, pressures, and the order of the work.
type siphon struct {
	asked string // what was answered last: the same is not computed twice
	ask   *foamAsk
	wants foam.Request

	plan  foam.Plan     // the last good one
	of    foam.Request  // what it answers
	by    [2]*foam.Plan // by rule of thumb and by gas balance, nil where there is none
	steps []note.Note
	ever  bool
	err   error
	// current says that plan and err answer what stands in the inputs now.
	current bool

	drawn int // the filling in the picture
	shown shownAnswer
	works works // named by the answer that is shown
}

func newSiphon() *siphon { return &siphon{} }

func (f *siphon) part() string { return "foam" }

// show implements section.
func (f *siphon) show(s *state) {
	ask, ok := newFoamAsk(s)
	f.ask = ask
	f.waits(s, ok)
	if !ok {
		return
	}
	f.wants = ask.request()
	tests, err := ask.tests(f.wants.Formula.Base.DensityOr())
	f.wants.Tests = tests
	if ask.bad { // the sentence stands at the input
		f.showTaken(s)
		f.old(s)
		return
	}
	f.answer(s, err)
	f.showTaken(s)
	f.showRefusal(s)
	f.showDangers(s)
	f.showAnswer(s)
}

// waits says that the pan's formula must be mended first, or takes that away.
func (f *siphon) waits(s *state, ok bool) {
	text := ""
	if !ok {
		text = s.say("lab-foam.pan-wrong")
	}
	s.page.Line(foamInput("waits"), text)
	if !ok {
		f.old(s)
	}
}

// old marks the answer as that to an earlier question, while this one cannot be
// read, and takes its buttons away: they would act on what nobody asks for now.
func (f *siphon) old(s *state) {
	f.current = false
	f.state(s, "stale")
	s.page.Line(foamInput("old"), s.say("lab-foam.old"))
	s.page.Show(foamInput("make"), false)
	s.page.Show(foamInput("refused"), false)
}

// state marks the answer: "stale" dims it.
func (f *siphon) state(s *state, mark string) {
	s.page.State(foamInput("answer"), mark)
	s.page.State(foamInput("more"), mark)
}

// answer plans what is wanted, unless that is what was planned last. refused is
// what is wrong with a measurement already.
func (f *siphon) answer(s *state, refused error) {
	asked := askedText(f.wants, s)
	if asked == f.asked && refused == nil {
		return
	}
	f.asked, f.err = asked, refused
	if refused != nil {
		f.asked = ""
		return
	}
	f.drawn = 0
	if f.wants.Formula.Type == "" {
		f.err = note.Refuse("type", CodeFoamKind)
		return
	}
	plan, err := foam.Make(f.wants)
	if err != nil {
		f.err = err
		return
	}
	f.plan, f.of, f.ever = plan, f.wants, true
	f.compare()
	f.steps = nil
	if len(plan.Fillings) > 0 {
		f.steps = foam.Method(f.of.Formula, plan.Fillings[0].Mass, plan.Fillings[0].Charges)
	} else {
		f.steps = foam.Method(f.of.Formula, plan.Base, 0)
	}
}

// compare plans by the other count of charges as well, to set both side by side.
func (f *siphon) compare() {
	f.by = [2]*foam.Plan{}
	if len(f.plan.Fillings) == 0 {
		return
	}
	f.by[f.of.Basis] = &f.plan
	other := f.of
	other.Basis = foam.ByTradeRule + foam.ByGasBalance - f.of.Basis
	if plan, err := foam.Size(other); err == nil {
		f.by[other.Basis] = &plan
	}
}

// askedText tells one request from another.
func askedText(r foam.Request, s *state) string {
	var b strings.Builder
	num := func(v float64) {
		b.WriteString(unit.Style{}.Plain(v))
		b.WriteByte(' ')
	}
	for _, x := range foamFigures {
		b.WriteString(s.fields[foamInput(x.name)])
		b.WriteByte('\n')
	}
	for _, names := range [][]string{foamChoices[:], foamTicks[:]} {
		for _, name := range names {
			b.WriteString(s.fields[foamInput(name)])
			b.WriteByte('\n')
		}
	}
	base := r.Formula.Base
	for _, v := range []float64{
		float64(r.Covers), r.Portion.Size, float64(r.Spare), float64(r.Base), float64(r.Formula.Liquid), r.Formula.PH, r.Formula.Bloom,
		float64(base.Temperature), float64(base.Density), base.Water.Low, base.Water.Typical, base.Water.High, float64(base.MilkFat),
		float64(base.Oil), float64(base.Sugar), float64(base.Salt), float64(base.Ethanol), float64(base.Fibre),
		float64(r.Formula.Puree), float64(r.Formula.Egg), float64(r.Formula.EggWhite),
	} {
		num(v)
	}
	for _, d := range r.Formula.Doses {
		b.WriteString(d.Agent)
		num(float64(d.Mass))
	}
	for _, flag := range [...]bool{r.Formula.RawEgg, r.Formula.EnzymeFruit, s.words.Style.Comma} {
		if flag {
			b.WriteByte('+')
		}
		b.WriteByte('.')
	}
	return b.String()
}

// do implements section.
func (f *siphon) do(what string, row int, s *state) *formula.Change {
	switch what {
	case "make":
		return f.makeBase(s)
	case "take":
		return f.takeNearest(s)
	case "look":
		f.drawn = row - 1
	}
	return nil
}

// refusal is why there is no plan, nil when there is one.
func (f *siphon) refusal() *note.Refusal {
	var r *note.Refusal
	errors.As(f.err, &r)
	return r
}

// nearest is the nearest request that works, nil when there is none.
func (f *siphon) nearest() *foam.Request {
	var u *foam.Unworkable
	if errors.As(f.err, &u) {
		return u.Nearest
	}
	return nil
}

// fits reports whether the pan already makes the base of the plan, to half a gram.
func (f *siphon) fits() bool {
	b := f.ask.batch
	return f.ask.sized && b.MassKnown && math.Abs(float64(b.Yield-f.plan.Base)) <= 0.5
}

// grams is a weight to the gram: what a siphon is filled with.
func grams(s *state, m unit.Mass) string {
	return s.words.Figure(math.Round(float64(m)), unit.Gram)
}
