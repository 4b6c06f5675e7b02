// Package method writes the order of work: which powder goes into what, how
// hot, how long, what comes late, and why.
//
// Model: every agent brings its process facts; the liquid brings its parts with
// their roles. Agents that open up at heats they all bear are hydrated in one
// step at the highest need and the longest hold; agents that do not bear it
// follow on the way down, but never below the temperature at which the first
// of the mix would set. Sour, alcoholic and delicate parts come late and cold;
// the mixing temperature follows from the heat balance with equal heat
// capacities. Steps are codes and figures; the page's text has the sentences.
package method

import (
	"strings"

	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Kind is what is done in a step. Its sentence stands in the text catalogue
// under "step." and the kind.
type Kind string

// The kinds, about in the order of work.
const (
	Weigh      Kind = "weigh"
	Reduce     Kind = "reduce"    // boil down before powders go in
	Scald      Kind = "scald"     // heat raw fruit through
	DryMix     Kind = "dry-mix"   // rub powders with a dry carrier
	Bloom      Kind = "bloom"     // soak in cold water
	Soften     Kind = "sequester" // stir in the citrate
	SugarIn    Kind = "sugar-in"  // sugar that may go in before hydration
	SlurryIt   Kind = "slurry"    // stir the powder into a little cold liquid
	Disperse   Kind = "disperse"
	StirIn     Kind = "stir-in"     // no lumps to fear
	HotThird   Kind = "hot-third"   // into a hot part, then the rest ice-cold
	Hydrate    Kind = "hydrate"     // heat and hold
	HydrateIn  Kind = "hydrate-in"  // stir until hydrated, cold
	ChillSwell Kind = "chill-swell" // cold, until methylcellulose is hydrated
	CoolTo     Kind = "cool-to"     // on the way down to the next agent
	Dissolve   Kind = "dissolve"    // bloomed gelatin into warm liquid
	FoldIn     Kind = "fold-in"     // heat-shy agent into the cooled mix
	TopUp      Kind = "top-up"
	Sweeten    Kind = "sweeten"   // the rest of the sugar
	BoilDown   Kind = "boil-down" // to the solids that the set needs
	AddSalt    Kind = "add-salt"
	AddCalcium Kind = "add-calcium"
	WarmRest   Kind = "warm-rest"
	Temper     Kind = "temper"     // late parts into the hot part
	AcidIn     Kind = "acid-in"    // acid, last
	AlcoholIn  Kind = "alcohol-in" // off the heat
	CheckPH    Kind = "check-ph"
	Sieve      Kind = "sieve"
	Pour       Kind = "pour"
	Chill      Kind = "chill" // until set
	Blend      Kind = "blend" // set gel to fluid gel
	SieveFine  Kind = "sieve-fine"
	Degas      Kind = "degas"
	Bottle     Kind = "bottle"
	CoolFill   Kind = "cool-fill" // so far that it still pours
	Fill       Kind = "fill"      // siphon
	FillHot    Kind = "fill-hot"  // siphon, warmed
	Charge     Kind = "charge"
	ChargeFew  Kind = "charge-few" // where nobody has planned how many chargers
	NoCharge   Kind = "no-charge"
	ChillBase  Kind = "chill-base" // of a foam in which nothing sets
	BringTo    Kind = "bring-to"   // the heat of a hot foam
	RestCold   Kind = "rest-charged"
	HoldHot    Kind = "hold-hot"
	CookSet    Kind = "cook-set" // sets on heating
	Alkali     Kind = "alkali"   // konjac's lime water and heat
	Froth      Kind = "froth"
	Skim       Kind = "skim"
	Whip       Kind = "whip"
	Dip        Kind = "dip" // spheres into the bath
	Rinse      Kind = "rinse"
)

// Quantity is what a limit is about.
type Quantity uint8

// The quantities.
const (
	Temperature Quantity = iota // °C
	Time                        // minutes
	PH
	Share // g per 100 g
)

// Limit is a critical figure of a step: passed on the wrong side, the dish fails.
type Limit struct {
	Of     Quantity
	Most   bool // at most; otherwise at least
	Value  float64
	Unit   unit.Symbol
	Source source.Ref
}

// Step is one step of the method. Sentences may use {agents} and {parts} for
// the names in Agents and Parts, beside the arguments by name.
type Step struct {
	// ID stays the same as long as the same is done with the same agents and
	// parts, whatever the figures: the kind and what it is done to.
	ID      string
	Kind    Kind
	Agents  []string
	Parts   []string
	Args    []note.Arg
	Limits  []Limit
	Why     []note.Note // reasons, shown on request
	Notes   []note.Note // cautions and dangers, always visible
	Minutes unit.Range
	Hands   bool     // wants the cook throughout
	Needs   []string // resources: "stove", "blender", "fridge", "siphon"
	Warm    bool     // food is between cold and hot
	Hot     bool
	Broken  bool // of a chilling: what sets is blended next
}

// newStep makes a step with its stable id.
func newStep(k Kind, agents, parts []string) Step {
	id := string(k)
	if what := append(append([]string{}, agents...), parts...); len(what) > 0 {
		id += "/" + strings.Join(what, "+")
	}
	return Step{ID: id, Kind: k, Agents: agents, Parts: parts, Hands: true}
}

func (s Step) arg(args ...note.Arg) Step { s.Args = append(s.Args, args...); return s }

func (s Step) why(n ...note.Note) Step { s.Why = append(s.Why, n...); return s }

func (s Step) note(n ...note.Note) Step { s.Notes = append(s.Notes, n...); return s }

func (s Step) takes(r unit.Range) Step { s.Minutes = r; return s }

func (s Step) uses(resources ...string) Step { s.Needs = append(s.Needs, resources...); return s }

// waits marks a step that runs by itself.
func (s Step) waits() Step { s.Hands = false; return s }

func (s Step) atLeast(q Quantity, v float64, u unit.Symbol, ref source.Ref) Step {
	s.Limits = append(s.Limits, Limit{q, false, v, u, ref})
	return s
}

func (s Step) atMost(q Quantity, v float64, u unit.Symbol, ref source.Ref) Step {
	s.Limits = append(s.Limits, Limit{q, true, v, u, ref})
	return s
}

// Method is the whole of it.
type Method struct {
	Steps []Step
	Notes []note.Note // about the whole, not one step
}

// practice is the source of the rules of the trade that nobody published.
var practice = source.Ref{Tag: source.Practice}

func reason(c note.Code, ref source.Ref, args ...note.Arg) note.Note {
	return note.New(note.Reason, c, args...).From(ref)
}

func caution(c note.Code, ref source.Ref, args ...note.Arg) note.Note {
	return note.New(note.Caution, c, args...).From(ref)
}

func danger(c note.Code, ref source.Ref, args ...note.Arg) note.Note {
	return note.New(note.Danger, c, args...).From(ref)
}

func celsius(name string, v float64) note.Arg { return note.Num(name, v, unit.DegreeC) }

func grams(name string, m unit.Mass) note.Arg { return note.Num(name, float64(m), unit.Gram) }

func minutes(name string, v float64) note.Arg { return note.Num(name, v, unit.Minute) }

func agentWord(name, id string) note.Arg { return note.Word(name, "agent."+id) }
