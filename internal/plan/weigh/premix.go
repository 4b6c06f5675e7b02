package weigh

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Carrier is what a small dose may be diluted in.
type Carrier struct {
	ID string // the recipe item that it is taken from, or the id of an ingredient from outside
	// Have is how much of it the recipe can give up. Ignored when Foreign.
	Have unit.Mass
	// Foreign says that the recipe has none: the carrier comes on top.
	Foreign bool
	// Stock says that the carrier is a liquid and the premix a stock solution.
	Stock bool
	// MaxShare is the largest share of agent in the premix: for a stock
	// solution the concentration that can still be poured. 0 means one half,
	// for dry carriers only.
	MaxShare unit.Fraction
}

// Premix is a dilution: what to weigh for it, and how much of it to use.
type Premix struct {
	Agent, Carrier string
	Foreign, Stock bool
	AgentIn        Reading       // agent to weigh into the premix
	CarrierIn      Reading       // carrier to weigh into the premix
	Share          unit.Fraction // agent per premix
	Use            Reading       // premix to weigh into the batch; Use.Target is exact
	Brought        unit.Mass     // carrier that Use.Target brings into the batch
	Left           unit.Mass     // premix left over for the next batches
	Worst          unit.Fraction // largest share by which the batch's agent can miss its target
}

// Total is the mass of the whole premix.
func (p Premix) Total() unit.Mass { return p.AgentIn.Target + p.CarrierIn.Target }

// totals and parts are the round premixes that are tried: grams in all, and
// one part of agent in so many parts.
var (
	totals = [...]unit.Mass{5, 10, 20, 25, 50, 100, 200, 250, 500, 1000}
	parts  = [...]float64{2, 4, 5, 10, 20, 25, 50, 100, 200, 500, 1000}
)

// FindPremix finds the smallest round premix that lets the item be weighed within
// the tolerance; of two of one size the stronger, which brings less carrier.
// The tolerance is met by the worst case of all three weighings together.
// Errors are *note.Refusal; CodeNoPremix carries the best that was reachable
// and the step of a scale that would weigh the dose directly.
func FindPremix(item Item, c Carrier, scales []Scale, tol unit.Fraction) (Premix, error) {
	tol, err := checkPremix(item.Mass, c, scales, tol)
	if err != nil {
		return Premix{}, err
	}
	best := unit.Fraction(math.Inf(1))
	for _, total := range totals {
		for _, part := range parts {
			p, ok := tryPremix(item.Mass, total, 1/part, c, scales)
			if !ok {
				continue
			}
			if p.Worst <= tol {
				p.Agent, p.Carrier, p.Foreign, p.Stock = item.ID, c.ID, c.Foreign, c.Stock
				return p, nil
			}
			best = min(best, p.Worst)
		}
	}
	return Premix{}, noPremix(item, best, tol)
}

func noPremix(item Item, best, tol unit.Fraction) *note.Refusal {
	r := note.Refuse("dose", CodeNoPremix,
		item.Name("agent"),
		note.Num("dose", float64(item.Mass), unit.Gram),
		// Rounding and reading can each take half a step, so a whole step must fit into the tolerance.
		note.Num("step", float64(tol.Of(item.Mass)), unit.Gram),
		note.Num("tolerance", tol.Percent(), unit.PercentOf))
	if unit.Finite(float64(best)) {
		r.Args = append(r.Args, note.Num("best", best.Percent(), unit.PercentOf))
	}
	return r
}

func checkPremix(dose unit.Mass, c Carrier, scales []Scale, tol unit.Fraction) (unit.Fraction, error) {
	if err := checkScales(scales); err != nil {
		return 0, err
	}
	if err := checkMass("dose", dose); err != nil {
		return 0, err
	}
	if dose == 0 {
		return 0, note.Refuse("dose", CodeBadMass)
	}
	if err := checkMass("carrier", c.Have); err != nil {
		return 0, err
	}
	if !unit.Finite(float64(c.MaxShare)) || c.MaxShare < 0 || c.MaxShare > 0.5 || c.Stock && c.MaxShare == 0 {
		return 0, note.Refuse("carrier", CodeBadCarrier, note.Typed("carrier", c.ID))
	}
	return checkTolerance(tol)
}

// tryPremix weighs one candidate; it is not ok when the agent or carrier is no
// round figure on these scales, the premix is too small for the dose, or the
// recipe has not enough of the carrier.
func tryPremix(dose, total unit.Mass, share float64, c Carrier, scales []Scale) (Premix, bool) {
	limit := float64(c.MaxShare)
	if limit == 0 {
		limit = 0.5
	}
	use := unit.Mass(float64(dose) / share)
	brought := use - dose
	if share > limit || use > total || !c.Foreign && brought > c.Have {
		return Premix{}, false
	}
	agent := total * unit.Mass(share)
	a, okA := roundReading(agent, scales)
	k, okK := roundReading(total-agent, scales)
	u, err := Weigh(use, scales)
	if !okA || !okK || err != nil {
		return Premix{}, false
	}
	p := Premix{AgentIn: a, CarrierIn: k, Share: unit.Fraction(share), Use: u, Brought: brought, Left: total - use}
	p.Worst = p.worst(dose)
	return p, true
}

// roundReading weighs a mass that must be a whole number of steps.
func roundReading(m unit.Mass, scales []Scale) (Reading, bool) {
	r, err := Weigh(m, scales)
	return r, err == nil && math.Abs(float64(r.Off)) < 1e-9
}

// worst bounds the agent that reaches the batch: the share is largest with
// half a step too much agent and half a step too little carrier, and the other
// way round.
func (p Premix) worst(dose unit.Mass) unit.Fraction {
	a, k, u := float64(p.AgentIn.Shown), float64(p.CarrierIn.Shown), float64(p.Use.Shown)
	da, dk, du := float64(p.AgentIn.Step)/2, float64(p.CarrierIn.Step)/2, float64(p.Use.Step)/2
	high := (u + du) * (a + da) / (a + da + max(0, k-dk))
	low := max(0, u-du) * max(0, a-da) / (max(0, a-da) + k + dk)
	d := float64(dose)
	return unit.Fraction(max(high-d, d-low) / d)
}
