package foam

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// full is a body of the shelf filled to its line.
func (r Request) full(i int) Fill {
	f := Fill{Siphon: r.Shelf[i], Base: r.Formula.Base, Charger: r.Charger, Warm: r.Formula.poursAt()}
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
