package method

import (
	"slices"

	"tremblant/internal/unit"
)

// A boil of more than reduction of what is heated is meant: it is done before the
// powders go in, which thicken the pan and scorch. Less than that goes off while they
// hydrate. More than half of what is heated means the wine or the juice as well, which
// else would wait for the end. No liquid is boiled down below left of itself (all common
// practice).
const (
	reduction = 0.15
	half      = 0.5
	left      = 0.1
)

// sober is the share boiled off that takes nearly all alcohol of a wine along (common
// practice).
const sober = 0.3

// powderCool is what a boiled liquid cools to, °C, before powder goes into it
// (common practice).
const powderCool = 30

// reduce boils the liquid down that is meant to be, and leaves the rest of the method
// with what that leaves. Jam is boiled down with its pectin in it.
func (b *builder) reduce() {
	jam := slices.ContainsFunc(b.in.Doses, func(d Dose) bool { return d.Process.SetBy == ByAcidSugar })
	if jam || b.in.Boil <= reduction*b.hydrating() {
		return
	}
	for _, role := range [...]Role{Alcohol, Acid} {
		if b.in.Boil > half*partMass(boilable(b.base)) {
			b.promote(role)
		}
	}
	parts := boilable(b.base)
	from := partMass(parts)
	gone := min(b.in.Boil, (1-left)*from)
	if from <= 0 {
		b.notes = append(b.notes, caution(CodeReduceShort, practice, grams("gone", b.in.Boil), grams("have", from)))
		return
	}
	if gone < b.in.Boil*0.999 {
		b.notes = append(b.notes, caution(CodeReduceShort, practice, grams("gone", b.in.Boil), grams("have", from)))
	}
	s := newStep(Reduce, nil, partNames(parts)).uses("stove").takes(boilOff(gone, from)).
		arg(grams("from", from), grams("to", from-gone)).
		why(reason(CodeReduceFirst, practice))
	s.Hot = true
	b.add(b.flame(s))
	b.afterReduction(1-float64(gone/from), partNames(parts))
	if slices.ContainsFunc(b.in.Doses, goesInCold) {
		b.add(newStep(CoolTo, nil, partNames(parts)).takes(unit.Range{Low: 10, Typical: 20, High: 40}).waits().
			arg(celsius("temp", powderCool)).atMost(Temperature, powderCool, unit.DegreeC, practice).
			why(reason(CodeLumps, practice)))
	}
}

// goesInCold reports whether an agent is put into cold liquid of the recipe. Sheets are
// soaked in other water.
func goesInCold(d Dose) bool { return !d.Process.Salt && (d.Process.Way != Soak || !d.Sheets) }

// boilable are the parts that bear to be boiled.
func boilable(parts []Part) []Part {
	var out []Part
	for _, p := range parts {
		if p.Bears <= 0 || p.Bears >= 100 {
			out = append(out, p)
		}
	}
	return out
}

// boilOff is how long it takes, minutes, until so much of a liquid has boiled off: to get
// it hot, and 2.26 kJ for each gram, of which an open pan takes about 1 kW, at the least
// 0.5 and at the most 2.5 (the heat of vaporisation of water at 100 °C; the powers are
// common practice).
func boilOff(gone, from unit.Mass) unit.Range {
	up, need := heatUp(from), float64(gone)*2.26/60 // kW for one minute
	return unit.Range{Low: up.Low + need/2.5, Typical: up.Typical + need, High: up.High + need/0.5}
}

// afterReduction leaves a share of the parts that were boiled down. Their enzymes are
// gone, and what they held of calcium is in less.
func (b *builder) afterReduction(share float64, parts []string) {
	before := b.hydrating()
	b.base = slices.Clone(b.base)
	for i := range b.base {
		if slices.Contains(parts, b.base[i].ID) {
			b.base[i].Mass *= unit.Mass(share)
			b.base[i].Temp = powderCool
			if b.base[i].Role == Alcohol && 1-share >= sober {
				b.base[i].Role = Base
			}
		}
	}
	b.in.Liquid.Parts = slices.Clone(b.in.Liquid.Parts)
	for i := range b.in.Liquid.Parts {
		if p := &b.in.Liquid.Parts[i]; slices.Contains(parts, p.ID) {
			p.Enzyme = false
		}
	}
	b.in.Liquid.Calcium *= float64(before / b.hydrating())
	b.groups = groups(b.in.Doses, b.in.Liquid) // more calcium may ask for more heat
	b.in.Boil = 0
}
