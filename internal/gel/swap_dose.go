package gel

import (
	"math"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// A cook's firmness lies between stiffness and breaking force. The modulus to
// aim at is G·(ε/ε')^w with ε the strain at break of the old and ε' of the new
// gel: w = 0 matches stiffness, w = 1 the force that breaks it. The middle is the
// start, both ends are in the range (derived; published gelatin to agar ratios
// from 2 to 8 lie around it).
const breakWeight = 0.5

// try makes an offer of a candidate or says why not.
func (sw *swapper) try(c *candidate) (*Offer, note.Note) {
	if n := sw.refuses(c); n.Code != "" {
		return nil, n
	}
	total, basis, err := sw.dose(c)
	if err != nil {
		return nil, noteOf(err)
	}
	if n := sw.liquid(c, basis); n.Code != "" {
		return nil, n
	}
	o := &Offer{Doses: c.doses(total.Typical), Pair: c.pair, Basis: basis, sw: sw, cand: *c,
		Why: make([]Reason, 0, 6), Features: make([]Feature, 0, 6)}
	if sum(o.Doses) > 1 {
		return nil, refusal(CodeDoseSum, c.a, note.Num("dose", total.Typical, unit.PercentOf))
	}
	v, err := read(&Recipe{Doses: o.Doses, Made: TreatmentFor(sw.target), Target: sw.target, Cond: sw.toppedUp(c, total.Typical),
		OneBite: sw.rec.OneBite, Kitchen: sw.rec.Kitchen})
	if err != nil {
		return nil, noteOf(err)
	}
	if v.Fails && v.Cause.Code != CodeOther { // another class of texture costs points instead
		n := v.Cause
		n.Level = note.Refused
		return nil, n
	}
	o.Total, o.Firmness = total.Scale(0.01), v.Firmness
	o.Ladder = ladder(o.Total)
	sw.rank(c, o, &v)
	sw.compare(c, o)
	return o, note.Note{}
}

func sum(ds []Dose) float64 {
	s := 0.0
	for _, d := range ds {
		s += float64(d.Share)
	}
	return s
}

// Steps of the ladder: small enough to taste the difference, large enough that
// three trials cover the likely range (common practice).
const leastStep, mostStep = 1.15, 1.5

// ladder is the first three trials: the start and a step to each side, each the
// square root of the way to the end of the range.
func ladder(r unit.Range) [3]unit.Fraction {
	step := func(x float64) float64 { return min(max(math.Sqrt(x), leastStep), mostStep) }
	return [3]unit.Fraction{
		unit.Fraction(r.Typical / step(r.Typical/r.Low)), unit.Fraction(r.Typical), unit.Fraction(r.Typical * step(r.High/r.Typical)),
	}
}

// dose is the total in g per 100 g.
func (sw *swapper) dose(c *candidate) (unit.Range, Basis, error) {
	if sw.known {
		r := resolver{cond: &sw.rec.Cond, kitchen: sw.rec.Kitchen, topUp: true}
		s, err := r.build([]part{c.part(1)})
		if err != nil {
			return unit.Range{}, 0, err
		}
		if len(s.laws) > 0 {
			d := s.dose(sw.goal(s.laws[0].breaks))
			if n, bad := s.unmeasured(d.Typical); bad {
				return unit.Range{}, 0, &note.Refusal{Note: n}
			}
			return d, ByModulus, nil
		}
	}
	return sw.doseByWindow(c)
}

// goal is the modulus to aim at for a gel with a given strain at break.
func (sw *swapper) goal(breaks unit.Range) spreadLn {
	t := sw.source
	from := sw.from.Firmness.Break.Typical
	if from <= 0 || breaks.Typical <= 0 {
		return t
	}
	d := breakWeight * math.Log(from/breaks.Typical)
	return spreadLn{t.ln + d, math.Hypot(t.down, d), math.Hypot(t.up, d)}
}

func (sw *swapper) doseByWindow(c *candidate) (unit.Range, Basis, error) {
	t, m := windowTexture(sw.target), sw.rec.Cond.medium()
	var w agent.Window
	ok := false
	scale := 1.0
	if c.pair != nil {
		w, ok = c.pair.Window(t, m)
	}
	if !ok { // the first of a pair without windows, or the agent itself
		w, ok = c.a.Window(t, m)
		scale = gradeScale(c.a, c.grades[0], c.a.Grade.Power.Typical) * c.shareA
		if c.pair != nil && c.pair.Synergy.Known() {
			scale *= math.Pow(c.pair.Synergy.Typical, synergyPower)
		}
	}
	if !ok {
		return unit.Range{}, 0, note.Refuse("", CodeCannotTexture, agentArg(c.a.ID), note.Word("texture", textureKey(sw.target)))
	}
	place := sw.position
	if sw.target == agent.Loose && !sw.known {
		place = -1
	}
	typ := min(max(at(w.Fig, place), w.Low), w.High) // rounding must not leave the window
	return unit.Range{Low: w.Low, Typical: typ, High: w.High}.Scale(1 / scale), ByWindow, nil
}

// toppedUp is the liquid with the ions that the method will add.
func (sw *swapper) toppedUp(c *candidate, total float64) Conditions {
	cond := sw.rec.Cond
	for i, a := range c.members() {
		dose := total * c.shareA
		if i == 1 {
			dose = total - dose
		}
		for _, need := range a.Stands.Needs {
			ion := [...]*Given{agent.Sodium: &cond.Na, agent.Potassium: &cond.K, agent.Calcium: &cond.Ca}[need.Ion]
			best := bestIon(need, dose)
			if ion.Known && ion.Typical < best {
				*ion = KnownRange(unit.Range{Low: max(ion.Low, best), Typical: best, High: max(ion.High, best)})
			}
		}
	}
	return cond
}

// bestIon is the typical need in mmol per kg at a dose in g per 100 g.
func bestIon(need agent.Need, dose float64) float64 {
	if need.PerGram {
		return need.Amount.Typical * 10 * dose
	}
	return need.Amount.Typical
}
