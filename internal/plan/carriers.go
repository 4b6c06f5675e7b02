package plan

import (
	"tremblant/internal/plan/method"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/unit"
)

// maltodextrin is the carrier that comes from outside when the recipe has
// nothing dry; its name stands in the text catalogue under "carrier.".
const maltodextrin = "maltodextrin"

// Carriers lists what a small dose of an agent may be diluted in, best first:
// the recipe's own sugar, part of the liquid as a stock solution for what
// dissolves cold, the recipe's salt, and maltodextrin from outside. Soaked
// agents (gelatin) are never diluted dry.
func Carriers(p method.Process, l method.Liquid) []weigh.Carrier {
	if p.Way == method.Soak {
		return nil
	}
	var out []weigh.Carrier
	add := func(r method.Role, c weigh.Carrier) {
		for _, part := range l.Parts {
			if part.Role == r {
				c.ID, c.Have = part.ID, part.Mass
				out = append(out, c)
			}
		}
	}
	add(method.Sugar, weigh.Carrier{})
	if p.Cold {
		add(method.Base, weigh.Carrier{Stock: true, MaxShare: stockShare(p)})
	}
	// Salt would keep a powder that calcium blocks from opening up.
	if !p.CaMax.Known() {
		add(method.Salt, weigh.Carrier{})
	}
	return append(out, weigh.Carrier{ID: maltodextrin, Foreign: true})
}

// stockShare is how strong a stock solution may be: the agent's own cap, and a
// tenth for salts, which have none.
func stockShare(p method.Process) unit.Fraction {
	if p.Cap.Known() {
		return min(unit.Percent(p.Cap.Low), 0.5)
	}
	return 0.1
}
