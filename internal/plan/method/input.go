package method

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Role is what a part of the liquid is to the method.
type Role uint8

// The roles.
const (
	Base        Role = iota // may be heated with the agents in it
	Acid                    // sour: juice, vinegar
	Alcohol                 // spirit, wine that is not boiled off
	Delicate                // must keep its fresh colour or flavour
	Sugar                   // dry sugar or another dry carrier
	Salt                    // table salt and the like
	Sequestrant             // sodium citrate
)

// Part is one part of the liquid.
type Part struct {
	ID     string
	Mass   unit.Mass
	Role   Role
	Temp   unit.Celsius // as it stands before work begins
	Bears  unit.Celsius // it must not get hotter; 0: no limit
	Enzyme bool         // raw fruit with protein-splitting enzyme

	Preheated bool // a juice that counts as heated by its maker: pressed fresh it has that enzyme
}

// Liquid is the whole liquid.
type Liquid struct {
	Parts      []Part
	PH         unit.Range // of the finished liquid; zero when not known
	PHMeasured bool
	Calcium    float64 // mmol/kg in the hydrating part, all of it
	Held       float64 // share of it, 0 to 1, that acids of the liquid hold; 0 where none is known
	Dairy      bool
}

// Dose is one agent of the formula.
type Dose struct {
	Process Process
	Mass    unit.Mass
	Sheets  bool // leaf gelatin, soaked in water that is then squeezed out
}

// Target is what the liquid becomes.
type Target uint8

// The targets.
const (
	Thicken    Target = iota // a sauce or a body
	SetGel                   // a gel in its mould or glass
	FluidGel                 // a gel that is set, then blended
	SiphonCold               // a cold siphon foam
	SiphonHot                // a hot siphon foam
	Bath                     // a setting bath
	Air                      // a light froth that is skimmed off
	Whipped                  // a foam whipped in a bowl
)

// Input is everything the method follows from.
type Input struct {
	Doses   []Dose
	Liquid  Liquid
	Target  Target
	Bottled bool // fluid gel or sauce goes into a bottle
	Siphon  Siphon
	Spheres Spheres
	Boil    unit.Mass // g of water that is meant to boil off
}

// Siphon is what the foam calculation gave a siphon foam. Its zero value names no
// chargers, and leaves the rest to common practice.
type Siphon struct {
	Charges []int      // chargers of each filling, in the order of filling
	Rounds  int        // how often the siphons are filled
	Rest    Fact       // minutes charged, before it is served
	Bath    unit.Range // °C that base and bath of a hot foam are kept at; zero: not given
	Refused bool       // it refuses to have this charged
}

// Spheres is what the sphere calculation gave a mix that is dropped into a calcium bath.
// Its zero value leaves the citrate to the method's own rule, which looks at the calcium
// alone.
type Spheres struct {
	Planned bool
	Citrate unit.Mass // g of trisodium citrate dihydrate, beside what the formula holds
	PH      float64   // of the liquid with that in it
	Refused bool      // it refuses this way to the sphere
}

// The codes of this package: refusals, then reasons and cautions.
const (
	CodeBadMass     note.Code = "method.bad-mass"     // refused: a mass that is no figure, or nothing
	CodeNoLiquid    note.Code = "method.no-liquid"    // refused: nothing to hydrate in
	CodeNoAgent     note.Code = "method.no-agent"     // refused: nothing that sets, thickens or foams
	CodeBadProcess  note.Code = "method.bad-process"  // refused: an agent's process facts are not figures
	CodeTwice       note.Code = "method.twice"        // refused: one id twice
	CodeBadPH       note.Code = "method.bad-ph"       // refused: pH outside 0–14
	CodeBadCalcium  note.Code = "method.bad-calcium"  // refused: calcium is no figure
	CodeBadCharges  note.Code = "method.bad-charges"  // refused: number of chargers
	CodeHottest     note.Code = "method.hottest"      // reason: blend heated to the highest need
	CodeSplitHeat   note.Code = "method.split-heat"   // reason: agents hydrate at different heats, one after the other
	CodeConflict    note.Code = "method.conflict"     // caution: no temperature suits both
	CodeHeatSets    note.Code = "method.heat-sets"    // caution: one gels on heating before the other is hydrated
	CodeFirstToSet  note.Code = "method.first-to-set" // reason: which agent sets first and so sets the pouring limit
	CodeLumps       note.Code = "method.lumps"        // reason: why it is dispersed so
	CodeHydrate     note.Code = "method.hydrate"      // reason: heat and hold
	CodeSwell       note.Code = "method.swell"        // reason: soak or rest
	CodeAcidLate    note.Code = "method.acid-late"    // reason: acid after hydration
	CodeAcidHot     note.Code = "method.acid-hot"     // caution: all of the liquid is sour, keep the heat short
	CodeAcidSome    note.Code = "method.acid-some"    // caution: some of the sour liquid is heated, keep the heat short
	CodeAcidQuick   note.Code = "method.acid-quick"   // caution: the mix must stay hotter than is good with acid
	CodeAlcoholLate note.Code = "method.alcohol-late" // reason: alcohol off the heat
	CodeSpiritApart note.Code = "method.spirit-apart" // caution: spirit alone boils before the powder opens up
	CodeBears       note.Code = "method.bears"        // caution: a part of the liquid does not bear the heat
	CodeReverse     note.Code = "method.reverse"      // hint: the sphere calculation has the alginate bath
	CodeBorrow      note.Code = "method.borrow"       // hint: how much of the hydrating liquid comes from late parts
	CodeSpheres     note.Code = "method.spheres"      // hint: the sphere calculation has bath and citrate
	CodeSpheresAsk  note.Code = "method.spheres-ask"  // reason: the citrate that the sphere calculation asks for
	CodeSpheresNo   note.Code = "method.spheres-no"   // caution: the sphere calculation refuses this way
	CodeFlame       note.Code = "method.flame"        // danger: alcohol vapour and flame
	CodeKeepsFresh  note.Code = "method.keeps-fresh"  // reason: a delicate part is not boiled
	CodeTemper      note.Code = "method.temper"       // reason: mixing temperature
	CodeTemperWarm  note.Code = "method.temper-warm"  // reason: the cold part must be warmed first
	CodeTemperFails note.Code = "method.temper-fails" // caution: the mix would set in the pan
	CodeCap         note.Code = "method.cap"          // caution: hydrating part too thick, take more liquid
	CodeCapFails    note.Code = "method.cap-fails"    // caution: too thick to stir in all of the liquid
	CodeSugarLate   note.Code = "method.sugar-late"   // reason: sugar after hydration
	CodeSequester   note.Code = "method.sequester"    // reason: citrate binds the calcium
	CodeSuggested   note.Code = "method.suggested"    // caution: the citrate is not in the formula
	CodeCitrateAcid note.Code = "method.citrate-acid" // caution: citrate hardly binds below pH 4
	CodeCalciumSour note.Code = "method.calcium-sour" // reason: too sour for citrate, so heat must do
	CodeCalciumHigh note.Code = "method.calcium-high" // caution: too much calcium for citrate
	CodeCalciumHot  note.Code = "method.calcium-hot"  // reason: so much calcium asks for more heat
	CodeSaltLate    note.Code = "method.salt-late"    // reason: calcium and salt after hydration
	CodeEnzyme      note.Code = "method.enzyme"       // caution: heat the raw fruit first
	CodePreheated   note.Code = "method.preheated"    // caution: the juice counts as heated by its maker
	CodeSheetWater  note.Code = "method.sheet-water"  // reason: sheets carry water
	CodePHMeasure   note.Code = "method.ph-measure"   // caution: measure, the estimate is near a limit
	CodePHLow       note.Code = "method.ph-low"       // caution: too sour for this agent to hydrate
	CodeTopUp       note.Code = "method.top-up"       // reason: replace what boiled off
	CodeShearSet    note.Code = "method.shear-set"    // reason: why a gel is blended
	CodeAir         note.Code = "method.air"          // reason: bubbles stay in
	CodeSieve       note.Code = "method.sieve"        // reason: no lumps, no seeds
	CodeSkin        note.Code = "method.skin"         // reason: time in the bath makes the skin
	CodeGiveBack    note.Code = "method.give-back"    // caution: citrate took the calcium that it sets with
	CodeNozzle      note.Code = "method.nozzle"       // reason: sieve before the siphon
	CodeNoCharge    note.Code = "method.no-charge"    // danger: the foam calculation refuses it
	CodeFillings    note.Code = "method.fillings"     // hint: more than one filling
	CodeRounds      note.Code = "method.rounds"       // caution: more fillings than siphons
	CodePressure    note.Code = "method.pressure"     // danger: siphon under pressure
	CodeHotSplash   note.Code = "method.hot-splash"   // danger: hot liquid in a blender, or boiling sugar
	CodeBathWater   note.Code = "method.bath-water"   // reason: soft water for the bath
	CodeSetTime     note.Code = "method.set-time"     // reason: how long the set takes
	CodeSetToBreak  note.Code = "method.set-to-break" // reason: how long it sets before it is broken
	CodeReduceFirst note.Code = "method.reduce-first" // reason: powders thicken and scorch
	CodeReduceShort note.Code = "method.reduce-short" // caution: more is to boil off than may be boiled
	CodeBoilDown    note.Code = "method.boil-down"    // reason: solids that the set needs
	CodeLime        note.Code = "method.lime"         // reason: why konjac takes alkali, and what comes after
	CodeCaustic     note.Code = "method.caustic"      // danger: the alkali burns eyes and skin
	CodeFroth       note.Code = "method.froth"        // reason: why the surface is frothed
	CodeFat         note.Code = "method.fat"          // reason: fat kills the foam
	CodeSkipped     note.Code = "method.skipped"      // caution: a step with a critical limit is skipped
)

func (in Input) check() error {
	for _, n := range in.Siphon.Charges {
		if n < 0 || n > 12 {
			return note.Refuse("charges", CodeBadCharges)
		}
	}
	if b := in.Siphon.Bath; b != (unit.Range{}) && (!b.Valid() || b.Low < 0 || b.High > 100) {
		return note.Refuse("charges", CodeBadCharges)
	}
	if !unit.Finite(float64(in.Spheres.Citrate)) || in.Spheres.Citrate < 0 {
		return note.Refuse("citrate", CodeBadMass, note.Typed("id", "citrate"))
	}
	l := in.Liquid
	if l.PH != (unit.Range{}) && (!l.PH.Valid() || l.PH.Low < 0 || l.PH.High > 14) {
		return note.Refuse("ph", CodeBadPH)
	}
	if !unit.Finite(l.Calcium) || l.Calcium < 0 || l.Calcium > 1000 {
		return note.Refuse("calcium", CodeBadCalcium)
	}
	if !unit.Finite(l.Held) || l.Held < 0 || l.Held > 1 {
		return note.Refuse("calcium", CodeBadCalcium)
	}
	if err := in.checkParts(); err != nil {
		return err
	}
	return in.checkDoses()
}

func (in Input) checkParts() error {
	var wet unit.Mass
	for i, p := range in.Liquid.Parts {
		if !usable(p.Mass) || !unit.Finite(float64(p.Temp)) || p.Temp < -40 || p.Temp > 120 || !unit.Finite(float64(p.Bears)) {
			return note.Refuse(p.ID, CodeBadMass, note.Typed("id", p.ID))
		}
		for _, q := range in.Liquid.Parts[:i] {
			if q.ID == p.ID {
				return note.Refuse(p.ID, CodeTwice, note.Typed("id", p.ID))
			}
		}
		if p.Role <= Delicate {
			wet += p.Mass
		}
	}
	if wet <= 0 {
		return note.Refuse("liquid", CodeNoLiquid)
	}
	return nil
}

func (in Input) checkDoses() error {
	if len(in.Doses) == 0 {
		return note.Refuse("agents", CodeNoAgent)
	}
	for i, d := range in.Doses {
		if !usable(d.Mass) {
			return note.Refuse(d.Process.ID, CodeBadMass, note.Typed("id", d.Process.ID))
		}
		if !d.Process.valid() {
			return note.Refuse(d.Process.ID, CodeBadProcess, note.Typed("id", d.Process.ID))
		}
		for _, e := range in.Doses[:i] {
			if e.Process.ID == d.Process.ID {
				return note.Refuse(d.Process.ID, CodeTwice, note.Typed("id", d.Process.ID))
			}
		}
	}
	return nil
}

// valid reports whether every figure of the process is finite, in order and sourced.
func (p Process) valid() bool {
	for _, f := range [...]Fact{p.Premix, p.Heat, p.Hold, p.Rest, p.Bears, p.Cap, p.Brix, p.Solids, p.Sets, p.SetTime, p.Acid, p.CaMax} {
		if f.Known() && (!f.Valid() || f.Low < 0 || f.High > 1e5 || !f.Source.Valid()) || !f.Known() && f.Range != (unit.Range{}) {
			return false
		}
	}
	return p.ID != "" && unit.Finite(p.PHLow) && unit.Finite(p.PHHigh) && unit.Finite(p.AcidPH)
}

func usable(m unit.Mass) bool {
	return unit.Finite(float64(m)) && m > 0 && float64(m) <= unit.MaxFigure
}

// mass adds up the parts of some roles.
func (l Liquid) mass(roles ...Role) unit.Mass {
	var sum unit.Mass
	for _, p := range l.Parts {
		for _, r := range roles {
			if p.Role == r {
				sum += p.Mass
			}
		}
	}
	return sum
}

// ids lists the parts of some roles, in the liquid's order.
func (l Liquid) ids(roles ...Role) []string {
	var out []string
	for _, p := range l.Parts {
		for _, r := range roles {
			if p.Role == r {
				out = append(out, p.ID)
			}
		}
	}
	return out
}
