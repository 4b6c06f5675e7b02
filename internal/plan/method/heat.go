package method

import (
	"cmp"
	"slices"

	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// group is a set of agents that are hydrated together.
type group struct {
	doses []Dose
	at    float64 // °C to reach
	least float64 // °C that the neediest agent must reach
	hold  float64 // minutes: the longest need
	lead  int     // which dose set the temperature
}

// raised is the heat that a process needs in a liquid: more calcium than it stands asks
// for the top of its range, and so does any that citrate would have to bind where it is
// too sour for that.
func (p Process) raised(l Liquid) Process {
	most := p.CaMax.High
	if l.beyondCitrate() {
		most = p.CaMax.Low
	}
	if p.hot() && p.CaMax.Known() && l.calciumFor(p) > most {
		p.Heat.Range = unit.Range{Low: p.Heat.Typical, Typical: p.Heat.High, High: p.Heat.High}
	}
	return p
}

// groups merges the agents that need heat: one group for all that bear the
// highest need, cooler ones for those that do not, hottest first.
func groups(doses []Dose, liquid Liquid) []group {
	var hot []Dose
	for _, d := range doses {
		if d.Process.hot() {
			d.Process = d.Process.raised(liquid)
			hot = append(hot, d)
		}
	}
	slices.SortStableFunc(hot, func(a, b Dose) int { return cmp.Compare(b.Process.Heat.Typical, a.Process.Heat.Typical) })
	var out []group
	for _, d := range hot {
		k := slices.IndexFunc(out, func(g group) bool { return !d.Process.Bears.Known() || g.at <= d.Process.Bears.Low })
		if k < 0 {
			out = append(out, group{at: d.Process.Heat.Typical})
			k = len(out) - 1
		}
		out[k].join(d)
	}
	return out
}

func (g *group) join(d Dose) {
	g.doses = append(g.doses, d)
	if least := d.Process.Heat.Low; least > g.least {
		g.least, g.lead = least, len(g.doses)-1
	}
	g.hold = max(g.hold, d.Process.Hold.Typical)
}

// heatUp is how long it takes to get a mass of liquid hot, minutes: a ring and its pan
// bring about 2.5 kW into it, a weak one 1.5, a kettle 10, and a kilogram takes 4.2 kJ for
// each degree, some 80 of them; but never less than the time that a small pan and its cook
// need (worked out; the powers are common practice).
func heatUp(m unit.Mass) unit.Range {
	need := float64(m) / 1000 * 4.2 * 80 / 60 // kW for one minute
	return unit.Range{Low: max(4, need/10), Typical: max(7, need/2.5), High: max(12, need/1.5)}
}

// source is where the group's temperature comes from.
func (g group) source() source.Ref { return g.doses[g.lead].Process.Heat.Source }

// floorOf is the temperature that a mix of these agents must not fall below,
// and the agent that sets first.
func floorOf(doses []Dose) (float64, *Process) {
	floor, first := 0.0, (*Process)(nil)
	for i := range doses {
		if t := doses[i].Process.pourAbove(); t > floor {
			floor, first = t, &doses[i].Process
		}
	}
	return floor, first
}

// Mix is the temperature of two masses of liquid put together, with equal heat
// capacities; masses in any one unit, not both zero.
func Mix(hot, hotTemp, cold, coldTemp float64) float64 {
	return (hot*hotTemp + cold*coldTemp) / (hot + cold)
}

// LeastShare is the least share of the liquid that must be hot for the mix to
// reach target; 1 when even the hot part is too cold.
func LeastShare(target, hotTemp, coldTemp float64) float64 {
	switch {
	case target <= coldTemp:
		return 0
	case target >= hotTemp:
		return 1
	}
	return (target - coldTemp) / (hotTemp - coldTemp)
}

// RestTemp is how warm the rest must be for the mix to reach target when share
// of the liquid is hot; share below one.
func RestTemp(target, hotTemp, share float64) float64 {
	return (target - share*hotTemp) / (1 - share)
}

// HotMinutes is how long a liquid of a pH may stay hot when it may stay
// minutes at pH at: a third for every half unit down (carrageenan, Thomas in
// Imeson, Thickening and Gelling Agents for Food, 1992; used for other agents
// as the nearest known rule).
func HotMinutes(minutes, at, ph float64) float64 {
	return minutes * pow3((ph-at)/0.5)
}
