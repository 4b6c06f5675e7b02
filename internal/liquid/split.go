package liquid

import (
	"cmp"
	"slices"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Warm is some mass at a temperature.
type Warm struct {
	Mass unit.Mass
	Heat float64 // specific heat, J/(g K)
	T    unit.Celsius
}

// MixTemperature is the temperature of a mixture without losses: Σ mcT / Σ mc.
func MixTemperature(parts ...Warm) (unit.Celsius, error) {
	top, bottom := 0.0, 0.0
	for _, p := range parts {
		m, c, t := float64(p.Mass), p.Heat, float64(p.T)
		if !unit.Finite(m) || !unit.Finite(c) || !unit.Finite(t) || m < 0 || c <= 0 || m > MostMass || t < -50 || t > 300 {
			return 0, note.Refuse("parts", CodeBadSplit)
		}
		top += m * c * t
		bottom += m * c
	}
	if !(bottom > 0) {
		return 0, note.Refuse("parts", CodeBadSplit)
	}
	return unit.Celsius(top / bottom), nil
}

// LeastHotShare is the share of the mass that must be hot so that the mixture
// reaches need; heats are the specific heats of both parts. It is 0 when the
// rest is warm enough by itself and refused when the hot part is not.
func LeastHotShare(hot, rest, need unit.Celsius, heatHot, heatRest float64) (unit.Fraction, error) {
	if err := checkSplit(hot, rest, need, heatHot, heatRest); err != nil {
		return 0, err
	}
	if rest >= need {
		return 0, nil
	}
	if hot <= need {
		return 0, note.Refuse("hot", CodeNoSplit, note.Num("value", float64(hot), unit.DegreeC), note.Num("limit", float64(need), unit.DegreeC))
	}
	above, below := heatHot*float64(hot-need), heatRest*float64(need-rest)
	return unit.Fraction(below / (above + below)), nil
}

// RestNeeded is how warm the rest must be so that a hot share of the mass brings
// the mixture to need.
func RestNeeded(share unit.Fraction, hot, need unit.Celsius, heatHot, heatRest float64) (unit.Celsius, error) {
	f := float64(share)
	if err := checkSplit(hot, need, need, heatHot, heatRest); err != nil {
		return 0, err
	}
	if !unit.Finite(f) || f < 0 || f >= 1 {
		return 0, note.Refuse("share", CodeBadSplit)
	}
	return need - unit.Celsius(f*heatHot*float64(hot-need)/((1-f)*heatRest)), nil
}

func checkSplit(hot, rest, need unit.Celsius, heatHot, heatRest float64) error {
	for _, t := range [...]unit.Celsius{hot, rest, need} {
		if err := checkTemperature(t, -20, 120); err != nil {
			return err
		}
	}
	if !unit.Finite(heatHot) || !unit.Finite(heatRest) || heatHot <= 0 || heatRest <= 0 || heatHot > 10 || heatRest > 10 {
		return note.Refuse("heat", CodeBadSplit)
	}
	return nil
}

// SplitRule is what an agent asks of the part it hydrates in.
type SplitRule struct {
	Agent  unit.Mass     // g of agent to hydrate
	Cap    unit.Fraction // most agent per mass of hot liquid that can still be whisked
	MinPH  float64       // least pH for the hot part; 0 for none
	MaxABV unit.Fraction // most alcohol by volume in the hot part; 0 for no limit
	Hot    unit.Celsius  // of the hot part when the rest goes in
	Rest   unit.Celsius  // of the rest
	Set    unit.Celsius  // setting temperature of the gel
	Margin float64       // K that the mixture must stay above it; 0 takes 5
	Loss   unit.Fraction // share of the hot part's mass that boils away meanwhile
}

// Split is a plan for two parts: what is heated with the agent and what waits.
type Split struct {
	Hot, Held     []int // indexes into [Liquid.Ingredients]
	HotMass       unit.Mass
	HeldMass      unit.Mass
	HotPH         float64       // 0 when the hot part has none
	Share         unit.Fraction // hot part of the whole, after the loss
	LeastShare    unit.Fraction // least share for the temperature
	Concentration unit.Fraction // agent per mass of hot liquid, after the loss
	Mix           unit.Celsius  // of the mixture
	RestNeeded    unit.Celsius  // how warm the rest must be at this share
	AddWater      unit.Mass     // g of water more for the hot part, to stay under the cap
	Works         bool          // cap and temperature are both kept as planned
	Notes         []note.Note
}

// bunch is a set of portions that can only go together.
type bunch struct {
	portions []int
	parts    Amounts
	sid      float64
	pH       float64
	wet      bool
}

// HoldBack plans which ingredients to heat with the agent and which to hold
// back, so that the hot part is no more acid than the agent bears, is large
// enough to whisk, and keeps the mixture above the setting temperature. What
// was heated or strained together counts as one.
func (l *Liquid) HoldBack(r SplitRule) (Split, error) {
	if err := r.check(); err != nil {
		return Split{}, err
	}
	if r.Margin == 0 {
		r.Margin = 5
	}
	hot, held := l.sides(&r)
	if !slices.ContainsFunc(hot, func(b bunch) bool { return b.wet }) {
		return Split{}, r.noPart(held)
	}
	return l.plan(&r, hot, held)
}

// noPart says what there is in place of a part to hydrate in: the least acid one that is
// weak enough, or the weakest where all are too strong.
func (r *SplitRule) noPart(held []bunch) error {
	best, weakest, weak := 0.0, 1.0, false
	for _, b := range held {
		if !b.wet {
			continue
		}
		abv := b.parts.abv()
		weakest = min(weakest, abv)
		if !r.tooStrong(abv) {
			best, weak = max(best, b.pH), true
		}
	}
	if !weak && r.MaxABV > 0 {
		return note.Refuse("maxABV", CodeNoSplit, note.Num("value", r.MaxABV.Percent(), unit.ABV), note.Num("limit", 100*weakest, unit.ABV))
	}
	return note.Refuse("minPH", CodeNoSplit, note.Num("value", r.MinPH, unit.PH), note.Num("limit", best, unit.PH))
}

func (r *SplitRule) tooStrong(abv float64) bool { return r.MaxABV > 0 && abv > float64(r.MaxABV) }

func (r *SplitRule) check() error {
	if err := checkAmount("agent", float64(r.Agent), unit.Gram); err != nil {
		return err
	}
	if c := float64(r.Cap); !unit.Finite(c) || c <= 0 || c > 1 {
		return note.Refuse("cap", CodeBadSplit)
	}
	if f := float64(r.Loss); !unit.Finite(f) || f < 0 || f > 0.9 {
		return note.Refuse("loss", CodeBadSplit)
	}
	if f := float64(r.MaxABV); !unit.Finite(f) || f < 0 || f > 1 {
		return note.Refuse("maxABV", CodeBadSplit)
	}
	if !unit.Finite(r.MinPH) || r.MinPH < 0 || r.MinPH > 14 || !unit.Finite(r.Margin) || r.Margin < 0 || r.Margin > 60 {
		return note.Refuse("minPH", CodeBadSplit)
	}
	return checkSplit(r.Hot, r.Rest, r.Set, 4, 4)
}

// mostHotBrix is the °Bx up to which sugar may go into the hot part: gums
// hydrate badly in syrup (common practice: below 25).
const mostHotBrix = 25

// sides sorts the bunches: the least acid first into the hot part, as long as it
// stays at the pH, and no part that is too strong a spirit, which lets no agent swell
// and burns over the flame; then dry things while it is thin enough.
func (l *Liquid) sides(r *SplitRule) (hot, held []bunch) {
	all := l.bunches()
	slices.SortStableFunc(all, func(a, b bunch) int {
		if a.wet != b.wet {
			return cmp.Compare(toInt(b.wet), toInt(a.wet))
		}
		return cmp.Compare(b.pH, a.pH)
	})
	var sum Amounts
	sid := 0.0
	for _, b := range all {
		next := sum
		next.add(&b.parts, 1)
		e, ok := next.equilibrium(sid+b.sid, at25, 5)
		fits := ok && e.PH >= r.MinPH && !r.tooStrong(b.parts.abv()) && (b.wet || next.brix() < mostHotBrix)
		if !fits {
			held = append(held, b)
			continue
		}
		hot = append(hot, b)
		sum, sid = next, sid+b.sid
	}
	return hot, held
}

func toInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (l *Liquid) bunches() []bunch {
	var all []bunch
	var merged bunch
	for i := range l.portions {
		p := &l.portions[i]
		if p.apart {
			all = append(all, bunch{portions: []int{i}, parts: p.parts, sid: p.sid})
			continue
		}
		merged.portions = append(merged.portions, i)
		merged.parts.add(&p.parts, 1)
		merged.sid += p.sid
	}
	if len(merged.portions) > 0 {
		merged.sid += l.shift
		all = append(all, merged)
	}
	for i := range all {
		e, ok := all[i].parts.equilibrium(all[i].sid, at25, 5)
		all[i].pH, all[i].wet = e.PH, ok && all[i].parts[Water] > 0.3*all[i].parts.Mass()
	}
	return all
}

func (l *Liquid) plan(r *SplitRule, hot, held []bunch) (Split, error) {
	var s Split
	hotParts, hotSID := l.gather(hot, &s.Hot)
	heldParts, _ := l.gather(held, &s.Held)
	if e, ok := hotParts.equilibrium(hotSID, at25, 5); ok {
		s.HotPH = e.PH
	}
	before, rest := hotParts.Mass(), heldParts.Mass()
	after := before * (1 - float64(r.Loss))
	s.HotMass, s.HeldMass = unit.Mass(before), unit.Mass(rest)
	s.Share = unit.Fraction(after / (after + rest))
	s.Concentration = unit.Fraction(float64(r.Agent) / after)
	s.Mix = r.Hot
	need := r.Set + unit.Celsius(r.Margin)
	heatHot := hotParts.specificHeat(r.Hot)
	if rest > 0 {
		heatRest := heldParts.specificHeat(r.Rest)
		var err error
		if s.Mix, err = MixTemperature(Warm{unit.Mass(after), heatHot, r.Hot}, Warm{unit.Mass(rest), heatRest, r.Rest}); err != nil {
			return Split{}, err
		}
		if s.LeastShare, err = LeastHotShare(r.Hot, r.Rest, need, heatHot, heatRest); err != nil {
			return Split{}, err
		}
		if s.RestNeeded, err = RestNeeded(s.Share, r.Hot, need, heatHot, heatRest); err != nil {
			return Split{}, err
		}
	}
	if over := float64(r.Agent)/float64(r.Cap) - after; over > 1e-9*after {
		s.AddWater = unit.Mass(over)
	}
	s.say(r, need)
	return s, nil
}

// gather adds up bunches and lists their ingredients.
func (l *Liquid) gather(bunches []bunch, into *[]int) (Amounts, float64) {
	var a Amounts
	sid := 0.0
	for i := range bunches {
		a.add(&bunches[i].parts, 1)
		sid += bunches[i].sid
		for _, p := range bunches[i].portions {
			*into = append(*into, l.portions[p].ingredient)
		}
	}
	slices.Sort(*into)
	return a, sid
}

func (s *Split) say(r *SplitRule, need unit.Celsius) {
	cold := s.Mix < need
	s.Works = !cold && s.AddWater == 0
	if len(s.Held) == 0 {
		s.Notes = append(s.Notes, note.New(note.Reason, CodeSplitOff, note.Num("ph", s.HotPH, unit.PH)))
	} else {
		s.Notes = append(s.Notes, note.New(note.Hint, CodeSplitDone, note.Num("hot", float64(s.HotMass), unit.Gram), note.Num("held", float64(s.HeldMass), unit.Gram), note.Num("mix", float64(s.Mix), unit.DegreeC)))
	}
	if cold {
		s.Notes = append(s.Notes, note.New(note.Caution, CodeSplitWarm, note.Num("mix", float64(s.Mix), unit.DegreeC), note.Num("need", float64(need), unit.DegreeC), note.Num("rest", float64(s.RestNeeded), unit.DegreeC), note.Num("share", s.LeastShare.Percent(), unit.PercentOf)))
	}
	if s.AddWater > 0 {
		s.Notes = append(s.Notes, note.New(note.Caution, CodeSplitWater, note.Num("share", s.Concentration.Percent(), unit.PercentOf), note.Num("limit", r.Cap.Percent(), unit.PercentOf), note.Num("water", float64(s.AddWater), unit.Gram)))
	}
}
