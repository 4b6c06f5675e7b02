package plan

import (
	"slices"

	"tremblant/internal/plan/method"
	"tremblant/internal/plan/weigh"
	"tremblant/internal/unit"
)

// maltodextrin is the carrier that comes from outside when the recipe has
// nothing dry; its name stands in the text catalogue under "carrier.".
const maltodextrin = "maltodextrin"

// The order into one bowl: a powder goes onto liquid, as the method has it. Under
// liquid that is poured on, it lumps.
const (
	bowlWet = iota
	bowlDry
	bowlAgents
)

// Items lists what a method's input weighs in: the agents with what they may be
// diluted in, then the dry parts, then the liquid ones. Names, diet, allergens
// and prices are the caller's to add. Agents carry the key of their name.
func Items(in method.Input) []Item {
	var out []Item
	for _, d := range in.Doses {
		out = append(out, Item{Agent: true, Item: weigh.Item{ID: d.Process.ID, Word: "agent." + d.Process.ID, Mass: d.Mass,
			Carriers: Carriers(d.Process, in.Liquid), Group: bowlAgents}})
	}
	var wet []Item
	for _, part := range in.Liquid.Parts {
		item := Item{Item: weigh.Item{ID: part.ID, Mass: part.Mass}}
		switch part.Role {
		case method.Sequestrant, method.Salt:
			item.Carriers = Carriers(method.Process{Cold: true, Salt: true}, without(in.Liquid, part.ID))
			item.Group = bowlDry
			out = append(out, item)
		case method.Sugar:
			item.Group = bowlDry
			out = append(out, item)
		default:
			wet = append(wet, item)
		}
	}
	return append(out, wet...)
}

// without leaves one part out: nothing is diluted in itself.
func without(l method.Liquid, id string) method.Liquid {
	l.Parts = slices.DeleteFunc(slices.Clone(l.Parts), func(p method.Part) bool { return p.ID == id })
	return l
}

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
