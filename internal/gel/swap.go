package gel

import (
	"cmp"
	"math"
	"slices"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// ShelfItem is an agent that this kitchen owns, with its labelled grade.
type ShelfItem struct {
	Agent agent.ID
	Grade float64 // 0 when the label says none
}

// Wish is what a swap must respect besides the liquid: the guests and the shelf.
type Wish struct {
	Texture    agent.Texture // "" keeps the texture that the formula has
	Vegan      bool
	Vegetarian bool
	NoPork     bool
	Without    []agent.Word // allergens that must not be in it
	Shelf      []ShelfItem  // gives the grades, and with OnlyShelf the choice
	OnlyShelf  bool
}

// Basis is how a swap's dose was found.
type Basis uint8

// The bases.
const (
	ByModulus Basis = iota + 1 // as firm as the formula
	ByWindow                   // at the same place in the dose window of the texture
)

// Offer is one agent or pair in place of the formula's.
type Offer struct {
	Doses    []Dose // to start with; two for a pair
	Pair     *agent.Pair
	Total    unit.Range       // mass fraction of the mix, both of a pair together
	Ladder   [3]unit.Fraction // totals of the first three trials; the middle one is the start
	Basis    Basis
	Firmness Firmness // of the start dose
	Score    float64  // 0 would be the same thing; the sum of all points
	Why      []Reason
	Features []Feature   // what stays the same and what will not
	Cautions []note.Note // what a reading of the new formula warns of

	sw   *swapper
	cand candidate
}

// Trial is the doses of step i of the ladder, 0 to 2.
func (o *Offer) Trial(i int) []Dose { return o.cand.doses(o.Ladder[i].Percent()) }

// Liquid is the liquid with the salts that the offer's method brings in, which
// Firmness was worked out for.
func (o *Offer) Liquid() Conditions { return o.sw.toppedUp(&o.cand, o.Total.Typical*100) }

// Reason is why an offer stands where it stands, with the points that it costs.
type Reason struct {
	Note   note.Note
	Points float64
}

// Feature is one property of the old and the new: same when Was equals Is.
// What, Was and Is are keys of the text catalogue.
type Feature struct {
	What, Was, Is string
	Points        float64
	Source        source.Ref
}

// Same reports whether the property does not change.
func (f Feature) Same() bool { return f.Was == f.Is }

// Refused is an agent or pair that is not offered, with its reason.
type Refused struct {
	A, B agent.ID // B is "" for a single agent
	Why  note.Note
}

// Ranking is the answer to a swap: offers best first, then what was refused.
type Ranking struct {
	Texture agent.Texture // that every offer aims at
	From    Verdict       // the formula as it is
	Offers  []*Offer
	Refused []Refused
}

// swapper holds what every candidate is compared with.
type swapper struct {
	rec      Recipe
	wish     Wish
	from     Verdict
	target   agent.Texture
	source   spreadLn // ln modulus of the formula
	known    bool     // source is a figure to aim at
	position float64  // place in the window: −1 low, 0 typical, 1 high
	setting  *agent.Setting
	feel     *agent.Feel
	ids      []agent.ID
}

// candidate is an agent or a pair at the ratio it would be used in.
type candidate struct {
	pair   *agent.Pair
	a, b   *agent.Agent
	grades [2]float64
	shareA float64
}

// Swap finds what could stand in for a formula: every agent and every published
// pair, at the conditions of the liquid, ranked. A set texture is matched by
// firmness where both sides have a law, anything else by the place in the dose
// window. The error is a refusal of the input; an agent that will not do is in
// Refused with its reason.
func Swap(rec Recipe, w Wish) (Ranking, error) {
	sw, err := newSwapper(rec, w)
	if err != nil {
		return Ranking{}, err
	}
	cs := sw.candidates()
	out := Ranking{Texture: sw.target, From: sw.from, Offers: make([]*Offer, 0, len(cs)), Refused: make([]Refused, 0, len(cs))}
	for i := range cs {
		c := &cs[i]
		o, why := sw.try(c)
		if o == nil {
			r := Refused{A: c.a.ID, Why: why}
			if c.b != nil {
				r.B = c.b.ID
			}
			out.Refused = append(out.Refused, r)
			continue
		}
		out.Offers = append(out.Offers, o)
	}
	slices.SortStableFunc(out.Offers, func(x, y *Offer) int { return cmp.Compare(x.Score, y.Score) })
	return out, nil
}

func newSwapper(rec Recipe, w Wish) (*swapper, error) {
	for _, s := range w.Shelf {
		a := agent.ByID(s.Agent)
		if a == nil {
			return nil, unknownAgent(string(s.Agent))
		}
		if err := checkGrade(a, s.Grade); err != nil {
			return nil, err
		}
	}
	from, err := Read(rec)
	if err != nil {
		return nil, err
	}
	sw := &swapper{rec: rec, wish: w, from: from, target: w.Texture}
	if sw.target == "" {
		sw.target = from.Texture
	}
	if sw.target == "" {
		sw.target = rec.Target
	}
	if sw.target == "" || sw.target == agent.Emulsion {
		return nil, note.Refuse("texture", CodeSwapNothing)
	}
	merged, records, err := merge(rec.Doses)
	if err != nil {
		return nil, err
	}
	parts := split(merged, records)
	sw.describe(parts, records)
	sw.aim(parts, merged, records)
	return sw, nil
}

// describe takes the feel and setting of the part that does most of the work.
func (sw *swapper) describe(parts []part, records []*agent.Agent) {
	for _, a := range records {
		if a.Job != agent.Sets {
			sw.ids = append(sw.ids, a.ID)
		}
	}
	best := &parts[0]
	most := -1.0
	for i := range parts {
		us := usages(parts[i:i+1], &sw.rec.Cond, sw.target)
		x := 0.0
		if setRank(sw.target) > 0 {
			if l, e, ok := setLead(us); ok {
				x = l.effective / e.firm
			}
		} else if l, w, ok := windowLead(us, sw.target); ok {
			x = l.effective / w.Typical
		}
		if x > most {
			most, best = x, &parts[i]
		}
	}
	sw.setting, sw.feel = best.setting(), best.feel()
}

// aim finds the modulus or the place in the window to match.
func (sw *swapper) aim(parts []part, merged []Dose, records []*agent.Agent) {
	if sw.target != sw.from.Texture {
		return // another texture: the middle of everyone's window
	}
	cond := withSalts(sw.rec.Cond, merged, records)
	if setRank(sw.target) > 0 {
		r := resolver{cond: &cond, kitchen: sw.rec.Kitchen}
		f, ln := r.firmness(parts)
		sw.source, sw.known = ln, f.Known
	}
	if l, w, ok := windowLead(usages(parts, &cond, sw.target), windowTexture(sw.target)); ok {
		sw.position = place(w.Fig, l.effective)
	}
}

// windowTexture is the texture whose window stands for t: a loose set has none
// of its own and lies below a soft one.
func windowTexture(t agent.Texture) agent.Texture {
	if t == agent.Loose {
		return agent.SoftSet
	}
	return t
}

// place is where a dose lies in a window: −1 at its low end, 0 at the typical
// dose, 1 at the high end, by ratio, and no further.
func place(w agent.Fig, dose float64) float64 {
	x := 0.0
	if dose < w.Typical {
		x = -math.Log(w.Typical/dose) / math.Log(w.Typical/w.Low)
	} else if dose > w.Typical {
		x = math.Log(dose/w.Typical) / math.Log(w.High/w.Typical)
	}
	if math.IsNaN(x) {
		return 0
	}
	return min(max(x, -1), 1)
}

// at is the dose at a place of a window.
func at(w agent.Fig, place float64) float64 {
	if place < 0 {
		return w.Typical * math.Pow(w.Typical/w.Low, place)
	}
	return w.Typical * math.Pow(w.High/w.Typical, place)
}

// candidates lists every agent that does something alone and every pair, but
// for what the formula is made of already.
func (sw *swapper) candidates() []candidate {
	out := make([]candidate, 0, 64)
	for _, a := range agent.All() {
		if a.Job == agent.Sets || len(sw.ids) == 1 && sw.ids[0] == a.ID && sw.target == sw.from.Texture {
			continue
		}
		out = append(out, candidate{a: a, grades: [2]float64{sw.gradeOf(a.ID)}, shareA: 1})
	}
	pairs := agent.Pairs()
	for i := range pairs {
		p := &pairs[i]
		if len(sw.ids) == 2 && slices.Contains(sw.ids, p.A) && slices.Contains(sw.ids, p.B) && sw.target == sw.from.Texture {
			continue
		}
		out = append(out, candidate{pair: p, a: agent.ByID(p.A), b: agent.ByID(p.B),
			grades: [2]float64{sw.gradeOf(p.A), sw.gradeOf(p.B)}, shareA: p.Share.Typical})
	}
	return out
}

// gradeOf is the labelled grade of an agent on the shelf, or the formula's own
// grade of it, or none.
func (sw *swapper) gradeOf(id agent.ID) float64 {
	for _, s := range sw.wish.Shelf {
		if s.Agent == id {
			return s.Grade
		}
	}
	for _, d := range sw.rec.Doses {
		if d.Agent == id {
			return d.Grade
		}
	}
	return 0
}

// members are the one or two agents of a candidate.
func (c *candidate) members() []*agent.Agent {
	if c.b == nil {
		return []*agent.Agent{c.a}
	}
	return []*agent.Agent{c.a, c.b}
}

// doses splits a total in g per 100 g by the candidate's ratio.
func (c *candidate) doses(total float64) []Dose {
	first := Dose{c.a.ID, c.grades[0], unit.Percent(total * c.shareA)}
	if c.b == nil {
		return []Dose{first}
	}
	return []Dose{first, {c.b.ID, c.grades[1], unit.Percent(total * (1 - c.shareA))}}
}

// part is the candidate as part of a formula.
func (c *candidate) part(total float64) part {
	p := part{pair: c.pair, a: c.a, b: c.b, total: total, shareA: c.shareA}
	copy(p.doses[:], c.doses(total))
	return p
}
