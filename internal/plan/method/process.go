package method

import (
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Fact is a figure with its range and source; the zero Fact is not known.
type Fact struct {
	unit.Range
	Source source.Ref
}

// Known reports whether the figure is given at all.
func (f Fact) Known() bool { return f.Source.Tag != "" }

// Way is how a powder is wetted without lumps.
type Way uint8

// The ways.
const (
	RainCold Way = iota // rained into moving cold liquid
	DryBlend            // with sugar or another dry carrier first
	Shear               // into the vortex of a blender
	Soak                // bloomed in cold water, dissolved later
	HotPart             // into a hot third, the rest ice-cold
	Slurry              // stirred into a little cold liquid first
	Stir                // simply stirred in
	Whisk               // whisked into cold liquid, gently
)

// Setter is what makes a gel.
type Setter uint8

// The setters.
const (
	NoSet       Setter = iota
	OnCooling          // sets on cooling
	OnHeating          // sets on heating, liquid again when cold
	HeatForGood        // sets on heating and stays
	ByCalcium          // sets where calcium reaches it
	ByAcidSugar        // sets in acid with much sugar
	ByAlkali           // sets on heating with alkali
	ByStaling          // cooked starch, sets as it cools and ages
)

// Process is what the method must know of one agent. Temperatures in °C, times
// in minutes, ratios in grams per gram, doses in grams per 100 g.
type Process struct {
	ID      string
	Salt    bool // a salt that sets another agent, added after hydration
	Way     Way
	Premix  Fact // grams of dry carrier per gram of agent
	Heat    Fact // temperature that opens the powder up; ignored when Cold
	Hold    Fact // minutes at that temperature, or of stirring when Cold
	Cold    bool // opens up cold
	Rest    Fact // minutes of rest: swelling before the heat (Soak), losing air afterwards (others)
	Bears   Fact // temperature it must not pass: Low is safe, High is lost; unknown: bears boiling
	Cap     Fact // g per 100 g above which the hydrating part is too thick
	Brix    Fact // °Brix above which it does not hydrate
	SetBy   Setter
	Sets    Fact // temperature at which it sets
	SetTime Fact // minutes until it can be used
	Solids  Fact // °Brix that a ByAcidSugar gel needs to set
	Acid    Fact // minutes it stands hot at AcidPH before it loses strength; unknown: acid does not matter
	AcidPH  float64
	PHLow   float64 // lowest pH at which it hydrates, or sets for ByAcidSugar; 0: any
	PHHigh  float64 // highest pH at which it sets, for ByAcidSugar; 0: any
	CaMax   Fact    // mmol/kg of calcium above which it does not hydrate, or sets as it wets
	Enzyme  bool    // digested by raw pineapple, papaya, kiwi
}

// ForSpheres reports whether a mix with the agent can be dropped into calcium: it hydrates
// cold and sets where calcium reaches it.
func (p Process) ForSpheres() bool { return p.SetBy == ByCalcium && p.Cold }

// hot reports whether the agent needs heat to hydrate.
func (p Process) hot() bool { return !p.Cold && !p.Salt && p.Heat.Known() }

// late reports whether the agent hydrates cold but must not see the heat that
// others need.
func (p Process) late() bool { return p.Cold && p.Bears.Known() }

// margin is how far above its typical setting temperature a mix must stay, K;
// common practice.
const margin = 5

// pourAbove is the temperature that the mix must not fall below before it is
// poured: the top of the setting range, and at least the margin above the
// typical one. 0 when it does not set on cooling.
func (p Process) pourAbove() float64 {
	if !p.Sets.Known() {
		return 0
	}
	switch p.SetBy {
	case OnCooling, ByAcidSugar, ByCalcium:
		return max(p.Sets.High, p.Sets.Typical+margin)
	}
	return 0
}

// stiff reports whether it is a gel at the temperature of a cold kitchen, so
// that a siphon or a bottle takes it only blended.
func (p Process) stiff() bool { return p.pourAbove() > 30 }
