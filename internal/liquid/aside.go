package liquid

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// PourOff sets a weight of the liquid aside, so that it misses what is done to
// the rest until [PourBack].
func PourOff(m unit.Mass) Step { return Step{Kind: StepPourOff, Mass: m} }

// PourOffShare sets a part of the liquid aside.
func PourOffShare(f unit.Fraction) Step { return Step{Kind: StepPourOff, Share: f} }

// PourBack blends what was set aside with the rest: so many grams of it, all for 0.
func PourBack(m unit.Mass) Step { return Step{Kind: StepPourBack, Mass: m} }

// pourOff takes a part of the well-mixed liquid aside.
func (l *Liquid) pourOff(s *Step) error {
	have, take, field := float64(l.Mass()), float64(s.Mass), "mass"
	if take == 0 {
		take, field = float64(s.Share)*have, "share"
	}
	if !unit.Finite(take) {
		return note.Refuse(field, CodeNotFinite)
	}
	if take <= 0 || take >= have*(1-1e-6) { // a rounding is no liquid to go on with
		return note.Refuse(field, CodeBadAside, note.Num("value", take, unit.Gram), note.Num("limit", have, unit.Gram))
	}
	l.merge()
	off := l.clone()
	off.scale(take / have)
	off.aside, off.hold = nil, unit.Range{} // what infuses stays in the pan
	if l.aside != nil {
		off.rejoin(l.aside, 1)
	}
	l.scale(1 - take/have)
	l.aside = off
	return nil
}

// pourBack blends what was set aside, or part of it, with the liquid.
func (l *Liquid) pourBack(m float64) error {
	if l.aside == nil {
		return note.Refuse("", CodeNoAside)
	}
	there := float64(l.aside.Mass())
	if m == 0 {
		m = there
	}
	if !unit.Finite(m) {
		return note.Refuse("mass", CodeNotFinite)
	}
	if m < 0 || m > there*(1+1e-9) {
		return note.Refuse("mass", CodeBadAside, note.Num("value", m, unit.Gram), note.Num("limit", there, unit.Gram))
	}
	k := min(1, m/there)
	off := l.aside
	l.rejoin(off, k)
	l.aside = nil
	if k < 1 {
		l.aside = off.clone()
		l.aside.scale(1 - k)
	}
	return nil
}

// rejoin adds k times a liquid that was poured off this one: its ingredients are
// the first of this one's, and what an ingredient's record leaves uncertain is
// the same in both, so their portions become one.
func (l *Liquid) rejoin(o *Liquid, k float64) {
next:
	for _, p := range o.portions {
		p.scale(k)
		for i := range l.portions {
			if l.portions[i].ingredient == p.ingredient {
				l.portions[i].join(&p)
				continue next
			}
		}
		l.portions = append(l.portions, p)
	}
	l.addShift(o, k)
	l.flags |= o.flags
	l.allergens |= o.allergens
	l.boiled = l.boiled || o.boiled
	l.measuredPH = l.measuredPH && o.measuredPH
	for _, n := range o.notes {
		l.say(n)
	}
}

// join adds another portion of the same ingredient; of what is uncertain the
// wider holds.
func (p *portion) join(o *portion) {
	p.parts.add(&o.parts, 1)
	p.sid += o.sid
	for i := range 2 {
		p.sidPH[i] += o.sidPH[i]
		p.sidAcid[i] += o.sidAcid[i]
	}
	p.acids, p.sugars, p.minerals = max(p.acids, o.acids), max(p.sugars, o.sugars), max(p.minerals, o.minerals)
	p.ethanol, p.body = max(p.ethanol, o.ethanol), max(p.body, o.body)
	p.solidsRead = p.solidsRead && o.solidsRead
	p.apart = false
}

// addShift adds k times the charge that a measured pH gave another liquid.
func (l *Liquid) addShift(o *Liquid, k float64) {
	l.shift += k * o.shift
	for i := range 2 {
		low := math.Hypot(l.shiftRange[i]-l.shift+k*o.shift, k*(o.shiftRange[i]-o.shift))
		l.shiftRange[i] = l.shift + float64(2*i-1)*low
	}
}

// sayAside tells of what was set aside and never came back.
func (l *Liquid) sayAside() {
	if l.aside != nil {
		l.say(note.New(note.Hint, CodeAsideLeft, note.Num("mass", float64(l.aside.Mass()), unit.Gram)))
	}
}
