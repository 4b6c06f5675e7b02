package gel

import (
	"math"

	"tremblant/internal/agent"
)

// usage is one dose that the windows can judge: an agent's, or a pair's where
// the pair has windows of its own. The dose is at the reference grade.
type usage struct {
	a      *agent.Agent
	pair   *agent.Pair // set when the windows are the pair's
	dose   float64     // g per 100 g
	gain   float64     // what a synergy makes of the dose in a set texture
	medium agent.Medium
	alkali bool // the liquid is alkaline enough for an alkali gel
}

func (u *usage) window(t agent.Texture) (agent.Window, bool) {
	if u.pair != nil {
		return u.pair.Window(t, u.medium)
	}
	return u.a.Window(t, u.medium)
}

// synergyPower turns a factor on modulus into one on dose: with an exponent of
// two the dose counts as its square root.
const synergyPower = 0.5

// usages judges pairs by their own windows where they have the texture, and by
// their members' otherwise.
func usages(parts []part, c *Conditions, t agent.Texture) []usage {
	var out []usage
	alkali := c.PH.Known && c.PH.Typical >= 9
	one := func(a *agent.Agent, d Dose, gain float64) {
		out = append(out, usage{a, nil, d.percent() * gradeScale(a, d.Grade, a.Grade.Power.Typical), gain, c.medium(), alkali})
	}
	for i := range parts {
		p := &parts[i]
		if p.pair == nil {
			one(p.a, p.doses[0], 1)
			continue
		}
		if hasWindow(p.pair, t, c.medium()) {
			out = append(out, usage{p.a, p.pair, p.total, 1, c.medium(), alkali})
			continue
		}
		gain := 1.0
		if p.pair.Synergy.Known() {
			gain = math.Pow(p.pair.Synergy.Typical, synergyPower)
		}
		one(p.a, p.doses[0], gain)
		one(p.b, p.doses[1], gain)
	}
	return out
}

// hasWindow reports whether a pair's windows can judge a texture; the set
// textures stand and fall together.
func hasWindow(p *agent.Pair, t agent.Texture, m agent.Medium) bool {
	if setRank(t) == 0 {
		_, ok := p.Window(t, m)
		return ok
	}
	for _, x := range [...]agent.Texture{agent.SoftSet, agent.FirmSet, agent.Sliceable} {
		if _, ok := p.Window(x, m); ok {
			return true
		}
	}
	return false
}

// setRank orders the textures that stand still: 0 for all others.
func setRank(t agent.Texture) int {
	switch t {
	case agent.Loose:
		return 1
	case agent.SoftSet:
		return 2
	case agent.FirmSet:
		return 3
	case agent.Sliceable:
		return 4
	}
	return 0
}

// edges are the doses between the set textures of one usage.
type edges struct{ loose, soft, firm, slice float64 }

// looseShare is where a loose set begins against the low end of a soft one, for
// an agent without a critical dose (common practice).
const looseShare = 0.6

// edges puts each border halfway, in ratio, between the ends of neighbouring
// windows; a loose set begins at the critical dose.
func (u *usage) edges() (edges, bool) {
	if u.pair == nil && (u.a.Setting.Kind == agent.ByPartner || u.a.Setting.Kind == agent.ByAlkali && !u.alkali) {
		return edges{}, false
	}
	soft, hasSoft := u.window(agent.SoftSet)
	firm, hasFirm := u.window(agent.FirmSet)
	slice, hasSlice := u.window(agent.Sliceable)
	e := edges{firm: math.Inf(1), slice: math.Inf(1)}
	switch {
	case hasSoft:
		e.soft = math.Sqrt(soft.Low * soft.Typical)
	case hasFirm:
		e.soft = looseShare * firm.Low
	case hasSlice:
		e.soft = slice.Low
	default:
		return edges{}, false
	}
	switch {
	case hasSoft && hasFirm:
		e.firm = math.Sqrt(soft.High * firm.Low)
	case hasFirm:
		e.firm = firm.Low
	case hasSoft:
		e.firm = soft.High
	case hasSlice:
		e.firm = slice.Low
	}
	if hasSlice && hasFirm {
		e.slice = math.Sqrt(firm.High * slice.Low)
	} else if hasSlice {
		e.slice = slice.Low
	}
	e.loose = u.threshold(looseShare * e.soft)
	if thick, ok := u.window(agent.Thickened); ok { // a sauce is no loose set
		e.loose = max(e.loose, thick.High)
	}
	e.loose = min(e.loose, e.soft)
	return e, true
}

// threshold is the critical dose, or the given one without a law.
func (u *usage) threshold(otherwise float64) float64 {
	m := u.a.Model(u.medium)
	if u.pair != nil {
		m = u.pair.Model(u.medium)
	}
	if m == nil {
		return otherwise
	}
	return m.C0.Typical
}

// lead is the usage that does most of the work, and the dose of it alone that
// would do the work of all.
type lead struct {
	usage
	effective float64
}

// setLead adds the usages up, each against its own border of a firm set.
func setLead(us []usage) (lead, edges, bool) {
	sum, most := 0.0, 0.0
	var best lead
	var at edges
	for i := range us {
		e, ok := us[i].edges()
		if !ok {
			continue
		}
		x := us[i].dose * us[i].gain / e.firm
		sum += x
		if x > most {
			most, best, at = x, lead{usage: us[i]}, e
		}
	}
	best.effective = sum * at.firm
	return best, at, most > 0
}

// windowLead adds the usages up, each against the typical dose of one texture.
func windowLead(us []usage, t agent.Texture) (lead, agent.Window, bool) {
	sum, most := 0.0, 0.0
	var best lead
	var at agent.Window
	for i := range us {
		w, ok := us[i].window(t)
		if !ok {
			continue
		}
		x := us[i].dose / w.Typical
		sum += x
		if x > most {
			most, best, at = x, lead{usage: us[i]}, w
		}
	}
	best.effective = sum * at.Typical
	return best, at, most > 0
}
