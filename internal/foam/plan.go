package foam

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Basis says by which count of charges a plan fills.
type Basis uint8

// The bases of a plan.
const (
	ByTradeRule  Basis = iota // the rule of thumb of each body, whatever the fill
	ByGasBalance              // the fewest charges that blow this fill of this body
)

// Request is an evening's foam: how much, of what, in which siphons.
type Request struct {
	Formula Formula
	Covers  int
	Portion Portion
	Spare   unit.Fraction // made on top
	// Base is planned instead when Covers is 0: this much is there, g.
	Base      unit.Mass
	Shelf     []Siphon
	Gas       Gas
	Charges   int // per filling, when the cook names a number; 0: as advised
	Basis     Basis
	MaxRounds int // how often a body may be filled; 0 is 4
	Charger   Charger
	Box       int      // chargers in a box; 0 is 10
	Tests     Measured // overruns that the cook measured
}

// Filling is one filling of one body in a plan.
type Filling struct {
	Siphon    string // ID of the body's size
	Shelf     int    // its place in Request.Shelf
	Number    int    // which of several bodies of the size, from 1
	Round     int    // from 1
	Mass      unit.Mass
	Share     unit.Fraction // of the line
	Charges   int
	Before    unit.Range // gauge pressure in Pa right after the last charge
	After     unit.Range // shaken
	Expansion Expansion
	Foam      unit.Range // ml
	Portions  unit.Range
	Picture   Picture
}

// Plan is the answer to a [Request].
type Plan struct {
	PerCover  unit.Mass  // base in one portion
	Overrun   unit.Range // that the base was reckoned with, parts of one
	Dispensed unit.Mass  // base that has to come out
	Base      unit.Mass  // to make, with what sticks in the bodies
	Stuck     unit.Range // base that stays in the bodies
	LeftOver  unit.Mass  // base made beyond what covers and spare need, not counting what sticks
	Fillings  []Filling
	Rounds    int
	Chargers  int
	Boxes     int
	BoxLeft   int // chargers left in the opened box
	Foam      unit.Range
	Portions  unit.Range // covers' portions that come out of it
	Order     []Action
	Lead      unit.Range // s from the first filling to the first portion
	Notes     []note.Note
}

// Unworkable is a refusal with the nearest request that works, if there is one.
type Unworkable struct {
	Reason  *note.Refusal
	Nearest *Request
}

func (u *Unworkable) Error() string { return u.Reason.Error() }

// Unwrap gives the reason.
func (u *Unworkable) Unwrap() error { return u.Reason }

const (
	defaultRounds = 4
	defaultBox    = 10
	maxCovers     = 5000
	maxShelf      = 8
)

// stuck is the share of a filling that stays in the body. Rule of thumb.
var (
	stuck      = parts(3, 5, 10)
	stuckThick = parts(5, 8, 12)
)

// thick is the share of solids above which a base counts as a thick purée.
const thick = 0.12

// Make plans a request. Errors are *[Unworkable] around a refusal, with the
// nearest workable request where there is one.
func Make(r Request) (Plan, error) {
	p, err := r.plan()
	if err == nil {
		return p, nil
	}
	var reason *note.Refusal
	if !errors.As(err, &reason) {
		return Plan{}, err
	}
	return Plan{}, &Unworkable{Reason: reason, Nearest: r.nearest(reason)}
}

func (r Request) plan() (Plan, error) {
	kind, err := r.check()
	if err != nil {
		return Plan{}, err
	}
	verdict, err := Check(r.Formula)
	if err != nil {
		return Plan{}, err
	}
	if !kind.Siphon {
		return r.withoutSiphon(kind, verdict)
	}
	bodies, err := r.bodies(kind)
	if err != nil {
		return Plan{}, err
	}
	p, raised, err := r.smallest(kind, bodies)
	if err != nil {
		return Plan{}, err
	}
	r.complete(&p)
	p.Order, p.Lead = order(p.Fillings, kind)
	p.Notes = append(p.Notes, raised...)
	p.Notes = append(p.Notes, r.planNotes(p, kind)...)
	p.Notes = append(p.Notes, verdict.Notes...)
	return p, nil
}

// smallest is the plan of the least base that serves everybody. A body that is
// less full blows its base further, so the first plan, reckoned with full
// bodies, makes too much: the base is reckoned again with the overrun of that
// plan, as long as the portions still come out.
func (r Request) smallest(kind Type, bodies []body) (best Plan, notes []note.Note, err error) {
	over := r.overrun(kind, bodies)
	for range 4 {
		p := r.amounts(over)
		base, fit, raised := r.raise(int(p.Base), bodies)
		p.Base = unit.Mass(base)
		picks, rounds := search(fit, base, r.rounds())
		if picks == nil {
			base, picks, rounds, raised = r.betweenFillings(base, bodies)
			p.Base = unit.Mass(base)
		}
		if picks == nil {
			err = r.tooMuch(p, bodies)
			break
		}
		p.Rounds = rounds
		r.fillings(&p, kind, picks, share(picks, base))
		if best.Fillings != nil && p.Portions.Typical < r.wanted()*edge(-1) {
			break
		}
		best, notes = p, raised
		if r.Covers == 0 || len(r.Tests) > 0 {
			break
		}
		over = p.lowestOverrun()
	}
	if best.Fillings != nil {
		return best, notes, nil
	}
	return Plan{}, nil, err
}

// wanted is how many portions have to come out; 0 when a base is given.
func (r Request) wanted() float64 { return float64(r.Covers) * (1 + float64(r.Spare)) }

// lowestOverrun is the overrun of the filling that blows least.
func (p Plan) lowestOverrun() unit.Range {
	low := p.Fillings[0].Expansion.Overrun
	for _, f := range p.Fillings {
		if f.Expansion.Overrun.Typical < low.Typical {
			low = f.Expansion.Overrun
		}
	}
	return low
}

func (r Request) check() (Type, error) {
	kind, err := r.Formula.kind()
	if err != nil {
		return kind, err
	}
	if err := r.Gas.check(); err != nil {
		return kind, err
	}
	if err := r.Tests.check(); err != nil {
		return kind, err
	}
	if r.Covers == 0 && r.Base == 0 {
		return kind, note.Refuse("covers", CodeNoCovers)
	}
	for _, e := range []error{
		within("covers", float64(r.Covers), 0, maxCovers, unit.Portion),
		within("base", float64(r.Base), 0, 1e6, unit.Gram),
		within("spare", float64(r.Spare)*100, 0, 100, unit.PercentOf),
		within("charges", float64(r.Charges), 0, MaxCharges, unit.Charger),
		within("rounds", float64(r.MaxRounds), 0, 20, unit.One),
		within("box", float64(r.Box), 0, 1000, unit.Charger),
		within("shelf", float64(len(r.Shelf)), 0, maxShelf, unit.One),
		r.Portion.check(),
	} {
		if e != nil {
			return kind, e
		}
	}
	return kind, nil
}

func (r Request) rounds() int {
	if r.MaxRounds == 0 {
		return defaultRounds
	}
	return r.MaxRounds
}

func (r Request) box() int {
	if r.Box == 0 {
		return defaultBox
	}
	return r.Box
}

// full is a body of the shelf filled to its line.
func (r Request) full(i int) Fill {
	f := Fill{Siphon: r.Shelf[i], Base: r.Formula.Base, Charger: r.Charger}
	f.Mass = f.Siphon.LineOr().Mass(f.Base.DensityOr())
	return f
}

// bodies lists the bodies that stand on the shelf with what each may hold. A
// refusal when there is none, when a body is no siphon, or when every body is
// over its stated pressure.
func (r Request) bodies(kind Type) ([]body, error) {
	var all []body
	var refused error
	for i, s := range r.Shelf {
		if s.Count == 0 {
			continue
		}
		if err := s.check(); err != nil {
			return nil, err
		}
		b, err := r.body(i, kind)
		if err != nil {
			refused = err
			continue
		}
		all = append(all, b)
	}
	switch {
	case len(all) > 0:
		return all, nil
	case refused != nil:
		return nil, refused
	}
	return nil, note.Refuse("shelf", CodeNoSiphon)
}

// body is one size of body as the search sees it.
func (r Request) body(i int, kind Type) (body, error) {
	f := r.full(i)
	if err := f.check(); err != nil {
		return body{}, err
	}
	line := int(f.Mass)
	b := body{shelf: i, count: f.Siphon.Count, least: int(math.Ceil(UsefulMinimum * float64(f.Mass))), line: line}
	limit := f.Siphon.Rule.NeverOver
	if r.Charges > 0 {
		f.Charges = r.Charges
		if err := f.named(limit); err != nil {
			return body{}, err
		}
	}
	for _, n := range r.counts(f, kind, limit) {
		b.add(n, r.most(f, kind, n, b.least))
	}
	if r.Charges == 0 && r.Basis == ByTradeRule { // the rule is too much for the stated pressure: fewer
		for n := int(f.Siphon.ruleFor(kind).Typical) - 1; n >= 1 && len(b.tiers) == 0; n-- {
			b.add(n, r.most(f, kind, n, b.least))
		}
	}
	if len(b.tiers) == 0 {
		return b, f.overPressure()
	}
	return b, nil
}

// add notes that n charges may be put on most grams, unless that is too little
// to fill or no more than fewer charges may be put on.
func (b *body) add(n, most int) {
	if most >= b.least && (len(b.tiers) == 0 || most > b.tiers[len(b.tiers)-1].most) {
		b.tiers = append(b.tiers, tier{n, most})
	}
}

// counts lists the charges that a plan may give a body: the cook's, the rule's,
// or one to the limit.
func (r Request) counts(f Fill, kind Type, limit int) []int {
	switch {
	case r.Charges > 0:
		return []int{r.Charges}
	case r.Basis == ByTradeRule:
		return []int{int(f.Siphon.ruleFor(kind).Typical)}
	}
	all := make([]int, 0, limit)
	for n := 1; n <= limit; n++ {
		all = append(all, n)
	}
	return all
}

// most is the most grams that n charges may be put on: the line, the stated
// pressure, and by gas balance as much as they blow (the last count always to
// the line: what it cannot blow is said in a note).
func (r Request) most(f Fill, kind Type, n, least int) int {
	f.Charges = n
	top := f.Mass
	if f.Siphon.WorkingPressure > 0 {
		top = min(top, f.massUnder(n))
	}
	if r.Basis == ByGasBalance && r.Charges == 0 && n < f.Siphon.Rule.NeverOver && top >= unit.Mass(least) {
		top = mostMass(unit.Mass(least), top, func(m unit.Mass) bool {
			f.Mass = m
			return f.blows(kind, r.Tests)
		})
	}
	return int(top)
}

// overrun is the measured one, or the lowest that any of the bodies gives with
// as much as each count of charges is put on: no filling of a plan gives less.
func (r Request) overrun(kind Type, bodies []body) unit.Range {
	if len(r.Tests) > 0 {
		return r.Tests.Range()
	}
	low := unit.Exactly(math.Inf(1))
	for _, b := range bodies {
		f := r.full(b.shelf)
		for _, t := range b.tiers {
			f.Mass, f.Charges = unit.Mass(t.most), t.charges
			if e := f.expect(kind, nil); e.Overrun.Typical < low.Typical {
				low = e.Overrun
			}
		}
	}
	return low
}

// amounts reckons portions into base at an overrun.
func (r Request) amounts(over unit.Range) Plan {
	p := Plan{Overrun: over}
	density := r.Formula.Base.DensityOr()
	p.PerCover = r.Portion.BaseFor(p.Overrun.Typical, density)
	sticks := r.sticks()
	if r.Covers > 0 {
		p.Dispensed = unit.Mass(r.Covers) * p.PerCover * unit.Mass(1+r.Spare)
		p.Base = unit.Mass(math.Ceil(float64(p.Dispensed)/(1-sticks.Typical) - 1e-9))
	} else {
		p.Base = unit.Mass(math.Floor(float64(r.Base)))
		p.Dispensed = p.Base * unit.Mass(1-sticks.Typical)
	}
	return p
}

func (r Request) sticks() unit.Range {
	if r.isThick() {
		return stuckThick
	}
	return stuck
}

func (r Request) isThick() bool {
	return r.Formula.Base.solids() > thick || r.Formula.Puree > 0.4
}

// raise makes a base too small for any body as large as the least of them, or,
// where the base is what there is, lets the bodies take less.
func (r Request) raise(base int, bodies []body) (int, []body, []note.Note) {
	least := bodies[0].least
	for _, b := range bodies {
		least = min(least, b.least)
	}
	switch {
	case base >= least:
		return base, bodies, nil
	case r.Covers > 0:
		return least, bodies, raisedTo(base, least)
	}
	return base, anyFill(bodies), smallBatch(base, least)
}

// betweenFillings deals with a base that is more than one filling may hold and
// less than two need: more is made, or, where the base is what there is, the
// bodies take less. No picks when the shelf cannot hold it at all.
func (r Request) betweenFillings(base int, bodies []body) (int, []pick, int, []note.Note) {
	picks, rounds := search(anyFill(bodies), base, r.rounds())
	if picks == nil || r.Covers == 0 {
		return base, picks, rounds, smallBatch(base, bodies[0].least)
	}
	least := 0
	for i := range picks {
		for _, b := range bodies {
			if b.shelf == picks[i].shelf {
				picks[i].least = b.least
				least += b.least
			}
		}
	}
	return least, picks, rounds, raisedTo(base, least)
}

// anyFill is the bodies without a least filling.
func anyFill(bodies []body) []body {
	free := slices.Clone(bodies)
	for i := range free {
		free[i].least = 0
	}
	return free
}

func raisedTo(base, least int) []note.Note {
	return []note.Note{note.New(note.Hint, CodeRaised, grams(base, least)...).From(srcPractice)}
}

func smallBatch(base, least int) []note.Note {
	return []note.Note{note.New(note.Caution, CodeSmallBatch, grams(base, least)...).From(srcPractice)}
}

func grams(base, least int) []note.Arg {
	return []note.Arg{note.Num("base", float64(base), unit.Gram), note.Num("least", float64(least), unit.Gram)}
}

// tooMuch is the refusal when the shelf cannot hold the base.
func (r Request) tooMuch(p Plan, bodies []body) error {
	holds := r.holds(bodies)
	args := []note.Arg{note.Num("base", float64(p.Base), unit.Gram), note.Num("limit", holds, unit.Gram), note.Num("rounds", float64(r.rounds()), unit.One)}
	return refusedFrom("base", CodeTooMuch, srcModel, args...)
}

// holds is the most grams the shelf takes in all allowed rounds.
func (r Request) holds(bodies []body) float64 {
	sum := 0
	for _, b := range bodies {
		sum += b.count * r.rounds() * b.tiers[len(b.tiers)-1].most
	}
	return float64(sum)
}

// fillings sets the fillings of a plan with what they give; [Request.complete]
// adds their pressures. In each round the larger bodies come first.
func (r Request) fillings(p *Plan, kind Type, picks []pick, grams []int) {
	sticks := r.sticks()
	used := make([]int, len(r.Shelf))
	for i, k := range picks {
		count := r.Shelf[k.shelf].Count
		one := Filling{Siphon: r.Shelf[k.shelf].ID, Shelf: k.shelf, Mass: unit.Mass(grams[i]), Charges: k.charges}
		if j := same(p.Fillings, one); j >= 0 {
			one = p.Fillings[j]
		} else {
			r.gives(&one, kind, sticks)
		}
		one.Number, one.Round = used[k.shelf]%count+1, used[k.shelf]/count+1
		used[k.shelf]++
		p.Fillings = append(p.Fillings, one)
		p.Chargers += k.charges
		p.Foam = sum(p.Foam, one.Foam)
		p.Portions = sum(p.Portions, one.Portions)
		p.Stuck = sum(p.Stuck, sticks.Scale(float64(grams[i])))
	}
	slices.SortStableFunc(p.Fillings, func(a, b Filling) int { return cmp.Compare(a.Round, b.Round) })
	p.Boxes = (p.Chargers + r.box() - 1) / r.box()
	p.BoxLeft = p.Boxes*r.box() - p.Chargers
	p.LeftOver = unit.Mass(max(0, float64(p.Base)*(1-sticks.Typical)-float64(p.Dispensed)))
}

// same finds a filling of the same body with the same base and charges, whose
// figures are then the same; -1 when there is none.
func same(all []Filling, one Filling) int {
	return slices.IndexFunc(all, func(f Filling) bool {
		return f.Shelf == one.Shelf && f.Mass == one.Mass && f.Charges == one.Charges
	})
}

func sum(a, b unit.Range) unit.Range {
	return unit.Range{Low: a.Low + b.Low, Typical: a.Typical + b.Typical, High: a.High + b.High}
}

// gives computes what a filling gives: foam and portions.
func (r Request) gives(one *Filling, kind Type, sticks unit.Range) {
	f := r.one(*one)
	density := f.Base.DensityOr()
	one.Share = unit.Fraction(float64(f.Mass.Volume(density)) / float64(f.Siphon.LineOr()))
	one.Expansion = f.expect(kind, r.Tests)
	over := one.Expansion.Overrun
	foam := func(over, sticks float64) float64 {
		return float64(FoamVolume(f.Mass*unit.Mass(1-sticks), over, density))
	}
	portions := func(over, sticks float64) float64 {
		return r.Portion.From(f.Mass*unit.Mass(1-sticks), over, density)
	}
	one.Foam = unit.Range{Low: foam(over.Low, sticks.High), Typical: foam(over.Typical, sticks.Typical), High: foam(over.High, sticks.Low)}
	one.Portions = unit.Range{Low: portions(over.Low, sticks.High), Typical: portions(over.Typical, sticks.Typical), High: portions(over.High, sticks.Low)}
}

// complete adds pressures and pictures, once for fillings that are the same.
func (r Request) complete(p *Plan) {
	for i := range p.Fillings {
		one := &p.Fillings[i]
		if j := same(p.Fillings, *one); j < i {
			one.Before, one.After, one.Picture = p.Fillings[j].Before, p.Fillings[j].After, p.Fillings[j].Picture
			continue
		}
		f := r.one(*one)
		rung := f.rung(f.Charges, f.Base.Temperature)
		one.Before, one.After, one.Picture = rung.Before, rung.After, f.picture(rung)
	}
}

// planNotes says what to know about a plan.
func (r Request) planNotes(p Plan, kind Type) []note.Note {
	var notes []note.Note
	first := p.Fillings[0]
	notes = append(notes, first.Expansion.Notes...)
	notes = append(notes, r.one(first).physicsNotes(0)...)
	if p.Rounds > 1 {
		notes = append(notes, note.New(note.Caution, CodeRefill, note.Num("rounds", float64(p.Rounds), unit.One),
			note.Num("rest", kind.Rest.Typical/minute, unit.Minute)).From(srcPractice))
	}
	if r.Covers > 0 && p.Portions.Low < float64(r.Covers) {
		notes = append(notes, note.New(note.Caution, CodeShortAtLow, note.Num("low", math.Floor(p.Portions.Low), unit.Portion),
			note.Num("covers", float64(r.Covers), unit.Portion)).From(first.Expansion.Source))
	}
	if r.isThick() {
		notes = append(notes, note.New(note.Hint, CodeThickSticks, note.Num("share", stuckThick.Typical*100, unit.PercentOf)).From(srcPractice))
	}
	if drawn := first.Picture.GasLeft; len(drawn) == 3 {
		notes = append(notes, note.New(note.Reason, CodeLastDenser, note.Num("first", drawn[0].Bound*100, unit.PercentOf),
			note.Num("last", drawn[2].Bound*100, unit.PercentOf), note.Num("left", drawn[2].Left.Percent(), unit.PercentOf)).From(srcModel))
	}
	return append(notes, r.bodyNotes(p, kind)...)
}

// one is a filling of the plan as the physics sees it.
func (r Request) one(x Filling) Fill {
	f := r.full(x.Shelf)
	f.Mass, f.Charges = x.Mass, x.Charges
	return f
}

// bodyNotes sets rule and gas side by side for each size used, once.
func (r Request) bodyNotes(p Plan, kind Type) []note.Note {
	var notes []note.Note
	done := make([]bool, len(r.Shelf))
	for _, x := range p.Fillings {
		if done[x.Shelf] {
			continue
		}
		done[x.Shelf] = true
		f := r.one(x)
		limit, err := f.limit()
		if err != nil {
			continue
		}
		a := Advice{Rule: f.Siphon.ruleFor(kind), Limit: limit, ByGas: f.chargesByGas(kind, r.Tests, limit), Advised: x.Charges}
		for n := 1; n <= x.Charges; n++ {
			a.Ladder = append(a.Ladder, f.rung(n, f.Base.Temperature))
		}
		all := f.adviceNotes(r.Formula, a)
		notes = append(notes, all[len(f.physicsNotes(0)):]...)
	}
	return notes
}

// withoutSiphon is the plan of a foam that needs none: base and portions only.
func (r Request) withoutSiphon(kind Type, v Verdict) (Plan, error) {
	p := Plan{Overrun: kind.Overrun}
	if len(r.Tests) > 0 {
		p.Overrun = r.Tests.Range()
	}
	density := r.Formula.Base.DensityOr()
	p.PerCover = r.Portion.BaseFor(p.Overrun.Typical, density)
	p.Dispensed = unit.Mass(r.Covers) * p.PerCover * unit.Mass(1+r.Spare)
	if r.Covers == 0 {
		p.Dispensed = r.Base
	}
	p.Base = p.Dispensed
	foam := func(over float64) float64 { return float64(FoamVolume(p.Base, over, density)) }
	p.Foam = unit.Range{Low: foam(p.Overrun.Low), Typical: foam(p.Overrun.Typical), High: foam(p.Overrun.High)}
	from := func(over float64) float64 { return r.Portion.From(p.Base, over, density) }
	p.Portions = unit.Range{Low: from(p.Overrun.Low), Typical: from(p.Overrun.Typical), High: from(p.Overrun.High)}
	p.Notes = v.Notes
	return p, nil
}
