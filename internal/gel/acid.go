package gel

import (
	"math"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// leastKept is the share of strength below which a hot acid liquid counts as
// having destroyed the agent.
const leastKept = 0.1

// AcidTime is the minutes that an agent may stay hot (about 85 °C) in acid of a
// pH until it has lost the share that its record names. Each half pH unit down
// divides the time by the record's factor, 3 for the carrageenans (food-gel
// handbook, carrageenan chapter). The range is that of the record's anchor time.
func AcidTime(a *agent.Agent, ph float64) (minutes, loss unit.Range, err error) {
	if a == nil || !a.Stands.Acid.Known() {
		return minutes, loss, note.Refuse("agent", CodeNoAcidRule)
	}
	if !unit.Finite(ph) || ph < 0 || ph > 14 {
		return minutes, loss, note.Refuse("ph", CodeConditionBad, note.Num("value", ph, unit.One), note.Num("low", 0, unit.One), note.Num("high", 14, unit.One))
	}
	h := a.Stands.Acid
	return h.Minutes.Range().Scale(math.Pow(h.PerHalfPH.Typical, (ph-h.PH)/0.5)), h.Loss.Range(), nil
}

// harmless is how far above the anchor's pH hot acid counts as none.
const harmless = 2

// heatOf is how long the liquid stays hot with its acid, in minutes.
func heatOf(c *Conditions) unit.Range {
	if c.HeatMinutes.Known {
		return c.HeatMinutes.Range
	}
	return usualHeat
}

// acidKept is the share of strength that stays: (1−loss)^(t/t0(pH)), with the
// squares of the deviations of its logarithm, one input moved at a time.
func acidKept(h agent.HotAcid, c *Conditions) (unit.Range, spread) {
	if c.PH.Low > h.PH+harmless { // more than 80 times slower than at the anchor
		return unit.Exactly(1), spread{}
	}
	heat := heatOf(c)
	ln := func(loss, t, t0, per, ph float64) float64 {
		return math.Log(1-loss) * t / (t0 * math.Pow(per, (ph-h.PH)/0.5))
	}
	L, T, Z, P, PH := h.Loss, heat, h.Minutes, h.PerHalfPH, c.PH
	mid := ln(L.Typical, T.Typical, Z.Typical, P.Typical, PH.Typical)
	var s spread
	for _, v := range [...]float64{
		ln(L.Low, T.Typical, Z.Typical, P.Typical, PH.Typical), ln(L.High, T.Typical, Z.Typical, P.Typical, PH.Typical),
		ln(L.Typical, T.Low, Z.Typical, P.Typical, PH.Typical), ln(L.Typical, T.High, Z.Typical, P.Typical, PH.Typical),
		ln(L.Typical, T.Typical, Z.Low, P.Typical, PH.Typical), ln(L.Typical, T.Typical, Z.High, P.Typical, PH.Typical),
		ln(L.Typical, T.Typical, Z.Typical, P.Low, PH.Typical), ln(L.Typical, T.Typical, Z.Typical, P.High, PH.Typical),
		ln(L.Typical, T.Typical, Z.Typical, P.Typical, PH.Low), ln(L.Typical, T.Typical, Z.Typical, P.Typical, PH.High),
	} {
		s.deviate(v - mid)
	}
	up := min(0, mid+math.Sqrt(s.up2)) // no acid makes it stronger
	s.up2 = (up - mid) * (up - mid)
	return unit.Range{Low: math.Exp(mid - math.Sqrt(s.down2)), Typical: math.Exp(mid), High: math.Exp(up)}, s
}
