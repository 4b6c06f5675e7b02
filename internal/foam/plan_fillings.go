package foam

import (
	"cmp"
	"slices"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

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
		rung := f.rung(f.Charges, f.chargedAt())
		one.Before, one.After, one.Picture = rung.Before, rung.After, f.picture(f.rung(f.Charges, f.Base.Temperature))
	}
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
	args := []note.Arg{note.Num("base", float64(p.Base), unit.Gram), note.Num("limit", float64(holds(bodies, r.rounds())), unit.Gram), note.Num("rounds", float64(r.rounds()), unit.One)}
	return refusedFrom("base", CodeTooMuch, srcModel, args...)
}

// holds is the most grams that bodies take in so many rounds.
func holds(bodies []body, rounds int) int {
	sum := 0
	for _, b := range bodies {
		sum += b.count * rounds * b.tiers[len(b.tiers)-1].most
	}
	return sum
}
