package foam

import (
	"errors"
	"math"

	"tremblant/internal/note"
	"tremblant/internal/source"
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
	Rest      unit.Range // s of a charged filling, in the fridge or the bath, before it is served
	RestBy    source.Ref
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

// Size is [Make] without pressures, pictures, order and notes: base, fillings,
// chargers and what comes of them, where only those are asked for. Errors are
// refusals, without the nearest request.
func Size(r Request) (Plan, error) {
	kind, err := r.check()
	if err != nil {
		return Plan{}, err
	}
	if !kind.Siphon {
		return r.withoutSiphon(kind, Verdict{})
	}
	p, _, err := r.sized(kind)
	return p, err
}

func (r Request) sized(kind Type) (Plan, []note.Note, error) {
	bodies, err := r.bodies(kind)
	if err != nil {
		return Plan{}, nil, err
	}
	p, notes, err := r.smallest(kind, bodies)
	if err != nil {
		return p, notes, err
	}
	p, notes = r.spare(p, notes, kind, bodies)
	p.Rest, p.RestBy = kind.Rest, kind.RestSource
	return p, notes, nil
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
	p, raised, err := r.sized(kind)
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
// plan, as long as the portions still come out. Where they do not, since a smaller
// base goes into other bodies or takes fewer chargers, what lies between is tried.
func (r Request) smallest(kind Type, bodies []body) (best Plan, notes []note.Note, err error) {
	over := r.overrun(kind, bodies)
	enough, tooHigh := false, math.Inf(1) // tooHigh: an overrun that was reckoned with and did not serve
	for range 8 {
		p, raised, refused := r.reckoned(over, kind, bodies)
		if refused != nil {
			err = refused
			break
		}
		if enough && p.Base == best.Base {
			break
		}
		serves := p.Portions.Typical >= r.wanted()*edge(-1)
		switch {
		case serves || !enough:
			best, notes, enough = p, raised, serves
			over = p.lowestOverrun()
		default:
			tooHigh = over.Typical
		}
		if r.Covers == 0 || len(r.Tests) > 0 {
			break
		}
		if over.Typical >= tooHigh {
			over = best.Overrun.Scale((best.Overrun.Typical + tooHigh) / 2 / best.Overrun.Typical)
		}
	}
	if best.Fillings != nil {
		r.settle(&best)
		return best, notes, nil
	}
	return Plan{}, nil, err
}

// settle tells what a cover takes by what the fillings give, where that is more than was
// reckoned with: what is beyond it is left over.
func (r Request) settle(p *Plan) {
	if over := p.lowestOverrun(); r.Covers > 0 && over.Typical > p.Overrun.Typical {
		now := r.amounts(over)
		p.Overrun, p.PerCover, p.Dispensed = over, now.PerCover, now.Dispensed
		p.LeftOver = unit.Mass(max(0, float64(p.Base)*(1-r.sticks().Typical)-float64(p.Dispensed)))
	}
}

// reckoned is the plan of the base that so much overrun asks for.
func (r Request) reckoned(over unit.Range, kind Type, bodies []body) (p Plan, raised []note.Note, refused error) {
	p = r.amounts(over)
	base, fit, raised := r.raise(int(p.Base), bodies)
	picks, rounds := search(fit, base, r.rounds())
	if picks == nil {
		base, picks, rounds, raised = r.betweenFillings(base, bodies)
	}
	p.Base = unit.Mass(base)
	if picks == nil {
		return p, nil, r.tooMuch(p, bodies)
	}
	p.Rounds = rounds
	r.fillings(&p, kind, picks, share(picks, base))
	return p, raised, nil
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
	kind = kind.resting(r.Formula)
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
		r.portionCheck(),
	} {
		if e != nil {
			return kind, e
		}
	}
	return kind, nil
}

// portionCheck lets the portion be missing where only a base is planned.
func (r Request) portionCheck() error {
	if r.Covers == 0 && r.Portion == (Portion{}) {
		return nil
	}
	return r.Portion.check()
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
