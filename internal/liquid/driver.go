package liquid

import (
	"cmp"
	"math"
	"slices"
)

// Driver is one reason for a figure: a constituent from one ingredient and its
// share of the figure. Shares of one figure add up to 1 in absolute value;
// a negative share works against the others (alkali against acid, alcohol
// against sugar in a density).
type Driver struct {
	Ingredient  int // index into [Liquid.Ingredients]
	Constituent Constituent
	Share       float64
}

// leastShare is the share below which a driver is not worth a word.
const leastShare = 0.01

// Drivers tells which constituents of which ingredients make a figure, the
// strongest first, without those below 1 %.
func (l *Liquid) Drivers(p Property) []Driver {
	var all []Driver
	switch {
	case p == PropPH:
		return l.pullers()
	case p == PropTitratable:
		all = l.acidDrivers()
	case p < NumProperties:
		all = l.weightDrivers(p)
	}
	return significant(all)
}

// pullers are the drivers of the pH: what each portion would give or take if it
// stood at the mixture's pH. Acid ones pull down (positive), alkaline and
// buffering ones hold up (negative); in a liquid below pH 7 the acid ones come
// first. A liquid of one kind pulls nowhere: then its acids are the drivers.
func (l *Liquid) pullers() []Driver {
	e, ok := l.pH(at25)
	if !ok {
		return nil
	}
	whole := l.Parts()
	var all []Driver
	most := 0.0
	for i := range l.portions {
		p := &l.portions[i]
		a := p.parts
		a[Water] = max(whole[Water], 1)
		s, ok := a.solution(p.sid, at25)
		if !ok {
			continue
		}
		free := Solution{T: 25}
		pull := (free.chargeAt(e.PH, e.Ionic) - s.SID - s.chargeAt(e.PH, e.Ionic)) * a[Water] / 1000
		most = max(most, math.Abs(pull))
		if pull < 0 {
			all = append(all, Driver{p.ingredient, Ash, pull})
		} else {
			all = append(all, shareOut(p, pull)...)
		}
	}
	if most < 1e-4*whole.Mass()/1000 {
		return significant(l.acidDrivers())
	}
	all = significant(all)
	slices.SortStableFunc(all, func(a, b Driver) int {
		if (a.Share > 0) == (b.Share > 0) || e.PH > 7 {
			return 0
		}
		return cmp.Compare(b.Share, a.Share)
	})
	return all
}

func significant(all []Driver) []Driver {
	total := 0.0
	for _, d := range all {
		total += math.Abs(d.Share)
	}
	if !(total > 0) {
		return nil
	}
	for i := range all {
		all[i].Share /= total
	}
	all = slices.DeleteFunc(all, func(d Driver) bool { return math.Abs(d.Share) < leastShare })
	slices.SortStableFunc(all, func(a, b Driver) int { return cmp.Compare(math.Abs(b.Share), math.Abs(a.Share)) })
	return all
}

func (l *Liquid) weightDrivers(p Property) []Driver {
	var all []Driver
	for i := range l.portions {
		for c := range NumConstituents {
			if x := l.portions[i].parts[c] * propertyWeight(p, c); x != 0 {
				all = append(all, Driver{l.portions[i].ingredient, c, x})
			}
		}
	}
	return all
}

// propertyWeight is how much of a property a gram of a constituent brings.
func propertyWeight(p Property, c Constituent) float64 {
	sugar := c >= Sucrose && c <= OtherSugar
	acid := c >= Acetic && c <= Benzoic
	switch p {
	case PropBrix:
		return brixWeight(c)
	case PropReading:
		return brixWeight(c) + pick(c == Ethanol, readEthanol.Typical)
	case PropSugars:
		return pick(sugar, 1)
	case PropABV, PropABW:
		return pick(c == Ethanol, 1)
	case PropSalt, PropSodium:
		return pick(c == Sodium, 1)
	case PropPotassium:
		return pick(c == Potassium, 1)
	case PropCalcium, PropFreeCalcium:
		return pick(c == Calcium, 1)
	case PropMagnesium:
		return pick(c == Magnesium, 1)
	case PropFat:
		return pick(c == Fat, 1)
	case PropProtein:
		return pick(c >= DairyProtein && c <= Collagen, 1)
	case PropFibre:
		return pick(c == Fibre, 1)
	case PropStarch:
		return pick(c == Starch, 1)
	case PropWater:
		return pick(c == Water, 1)
	case PropAcids:
		return pick(acid, 1)
	case PropDryMatter:
		return pick(c < inMass && c != Water && c != Ethanol && c != Acetic && c != Carbonic && c != Sulfurous, 1)
	case PropDensity:
		return buoyancy(c)
	case PropBoiling:
		return pick(sugar || c == OtherCarb, 1) + pick(c == Glucose || c == Fructose, 1) + pick(c == Sodium, 45) + pick(c == Ethanol, -20)
	case PropHeat:
		return pick(c < inMass, 1)
	}
	return 0
}

func pick(yes bool, x float64) float64 {
	if yes {
		return x
	}
	return 0
}

// buoyancy is how much heavier than the water it displaces a gram is.
func buoyancy(c Constituent) float64 {
	v := 0.0
	switch {
	case c == Water || c >= inMass:
		return 0
	case c == Ethanol:
		v = 1.17
	case c == Fat:
		v = volumeFat
	case c >= DairyProtein && c <= Collagen:
		v = volumeProtein
	case c == Acetic:
		v = volumeAcetic
	case c == Ash:
		v = volumeAsh
	case c == Unknown:
		v = volumeUnknown
	default:
		v = volumeCarbohydrate
	}
	return 1 - v
}

// acidDrivers share out the titratable acidity: each portion's own, given to
// its acids by the protons that they hold; alkaline portions count against it
// as Ash.
func (l *Liquid) acidDrivers() []Driver {
	whole := l.Parts()
	var all []Driver
	for i := range l.portions {
		p := &l.portions[i]
		a := p.parts
		a[Water] = max(whole[Water], 1)
		net := a.titratable(p.sid) * a.Mass()
		if net < 0 {
			all = append(all, Driver{p.ingredient, Ash, net})
			continue
		}
		all = append(all, shareOut(p, net)...)
	}
	return all
}

// shareOut gives a portion's acidity to its acids and proteins.
func shareOut(p *portion, net float64) []Driver {
	var all []Driver
	total := 0.0
	for c := range NumConstituents {
		protons := 0.0
		if acid, ok := acidOf(c); ok {
			protons = p.parts[c] / acids[acid].molar * float64(len(acids[acid].pKa))
		}
		for _, g := range proteinGroups {
			if g.protein == c {
				protons = p.parts[c] * (g.carboxyl + g.imidazole) / 1000
			}
		}
		if protons > 0 {
			all = append(all, Driver{p.ingredient, c, protons})
			total += protons
		}
	}
	for i := range all {
		all[i].Share *= net / total
	}
	return all
}
