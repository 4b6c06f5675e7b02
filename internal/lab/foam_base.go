package lab

import (
	"tremblant/internal/agent"
	"tremblant/internal/foam"
	"tremblant/internal/unit"
)

// liquidShares is what a teller has found out about the liquid without its
// agents, in parts of its mass. Zero is not known.
type liquidShares struct {
	Water    unit.Range
	MilkFat  unit.Fraction // butterfat
	Oil      unit.Fraction // fat that is liquid in the cold
	Sugar    unit.Fraction
	Salt     unit.Fraction
	Ethanol  unit.Fraction
	Fibre    unit.Fraction // that does not dissolve
	Puree    unit.Fraction
	Egg      unit.Fraction // whole egg or yolk
	EggWhite unit.Fraction
	RawEgg   bool // not pasteurised, not cooked
}

// ethanolDensity at 20 °C in g/ml (OIML R 22, 1975).
const ethanolDensity = 0.789

// formula is the base that goes into the siphon, as far as it is known: what was
// typed, or else what a teller says of the liquid, or else its conditions.
func (a *foamAsk) formula() foam.Formula {
	s, told := a.s, a.liquid()
	f := foam.Formula{
		Puree: told.Puree, Egg: told.Egg, EggWhite: told.EggWhite, RawEgg: told.RawEgg || s.ticked(foamInput("raw-egg")),
		Seeds: s.ticked(foamInput("seeds")), Strained: s.ticked(foamInput("strained")), Chilled: s.ticked(foamInput("chilled")),
		EnzymeFruit: s.conditions.Protease || s.ticked(foamInput("raw-fruit")), FishGelatin: s.ticked(foamInput("fish")),
		Base: foam.Base{Water: told.Water, MilkFat: told.MilkFat, Oil: told.Oil, Sugar: told.Sugar, Salt: told.Salt, Ethanol: told.Ethanol, Fibre: told.Fibre},
	}
	if a.known("water") {
		f.Base.Water = unit.Exactly(float64(a.share("water")))
	}
	for _, x := range foamShares(&f) {
		if a.known(x.name) {
			*x.at = a.share(x.name) * unit.Fraction(x.factor)
		}
	}
	f.PH = a.or("ph", s.conditions.PH.Typical)
	f.Base.Density = s.reading.Formula.Density
	a.doses(&f)
	return f
}

// foamShare is one share of the base and the input that may state it.
type foamShare struct {
	name   string
	at     *unit.Fraction
	factor float64 // of the share in one of the input
}

func foamShares(f *foam.Formula) []foamShare {
	b := &f.Base
	return []foamShare{
		{"fat", &b.MilkFat, 1},
		{"oil", &b.Oil, 1},
		{"sugar", &b.Sugar, 1},
		{"salt", &b.Salt, 1},
		{"abv", &b.Ethanol, ethanolDensity},
		{"fibre", &b.Fibre, 1},
		{"puree", &f.Puree, 1},
		{"egg", &f.Egg, 1},
		{"egg-white", &f.EggWhite, 1},
	}
}

// liquid is what the tellers say, thinned by what the agents take up of the
// base. Where none knows the composition, the conditions of the liquid stand in.
func (a *foamAsk) liquid() liquidShares {
	told := a.s.liquidShares
	if told == (liquidShares{}) {
		c := a.s.conditions
		told.Sugar = unit.Percent(c.Brix.Typical)
		told.Ethanol = unit.Fraction(c.ABV.Typical * ethanolDensity)
		told.Oil = unit.Fraction(c.Fat.Typical)
		if c.Milk {
			told.MilkFat, told.Oil = told.Oil, 0
		}
	}
	k := 1 - float64(a.agentShare())
	told.Water = told.Water.Scale(k)
	for _, x := range []*unit.Fraction{&told.MilkFat, &told.Oil, &told.Sugar, &told.Salt, &told.Ethanol, &told.Fibre, &told.Puree, &told.Egg, &told.EggWhite} {
		*x *= unit.Fraction(k)
	}
	return told
}

// agentShare is what all agents are of the base.
func (a *foamAsk) agentShare() unit.Fraction {
	sum := unit.Fraction(0)
	for _, d := range a.batch.Doses {
		sum += d.OnBatch
	}
	return min(sum, 1)
}

// doses puts in the agents by weight, where weights are known.
func (a *foamAsk) doses(f *foam.Formula) {
	if !a.batch.MassKnown {
		return
	}
	f.Liquid = a.batch.Liquid
	for i, d := range a.s.reading.Formula.Doses {
		if d.Agent == "" || !a.batch.Doses[i].MassKnown {
			continue
		}
		f.Doses = append(f.Doses, foam.Dose{Agent: d.Agent, Mass: a.batch.Doses[i].Mass})
		if d.Agent == "gelatin" {
			f.Bloom = bloomOf(a.s, i)
		}
	}
}

// bloomOf is the strength of the gelatin in dose i, within what the foam's
// windows can be moved by; 0 for the usual one.
func bloomOf(s *state, i int) float64 {
	if b := s.gradeOf(s.reading.Formula.Doses[i]); b >= 50 && b <= 300 {
		return b
	}
	return 0
}

// foamKinds are the kinds of foam by the agent that makes them, the agent that
// decides first. Common practice, no source.
var foamKinds = [...]struct {
	agent agent.ID
	kind  string
}{
	{"foam-stab", "stabiliser"},
	{"eggwhite", "egg-white"},
	{"gelatin", "gelatin"},
	{"milkprotein", "protein"},
	{"whey", "protein"},
	{"mc", "methylcellulose"},
	{"mc-low", "methylcellulose"},
	{"hpmc", "methylcellulose"},
	{"lecithin", "lecithin-air"},
	{"sucrose-esters", "lecithin-air"},
	{"agar", "fluid-gel"},
	{"gellan-la", "fluid-gel"},
	{"corn-starch", "starch"},
	{"tapioca-starch", "starch"},
	{"waxy-maize", "starch"},
	{"waxy-stable", "starch"},
	{"pregel", "starch"},
}

// Shares from which a base foams by its fat, its egg or its purée, and no longer
// by what was stirred into it. Rule of thumb, below the windows of the kinds.
const (
	creamFrom = 0.20
	oilFrom   = 0.12
	eggFrom   = 0.08
	pureeFrom = 0.40
)

// guessFoam is the kind of foam that a base will be, "" when nothing tells.
func guessFoam(f foam.Formula) string {
	kind := ""
	for _, k := range foamKinds {
		if kind == "" && dosed(f, string(k.agent)) {
			kind = k.kind
		}
	}
	carried := kind == "" || kind == "gelatin" || kind == "stabiliser"
	switch {
	case carried && f.Base.MilkFat >= creamFrom:
		return "cream"
	case kind == "gelatin" && f.Base.Oil >= oilFrom:
		return "oil-gelatin"
	case kind == "starch" && f.Puree >= pureeFrom:
		return "potato"
	case kind == "" && f.Egg >= eggFrom:
		return "egg-hot"
	case kind == "" && f.EggWhite >= eggFrom:
		return "egg-white"
	}
	return kind
}

func dosed(f foam.Formula, id string) bool {
	for _, d := range f.Doses {
		if d.Agent == id && d.Mass > 0 {
			return true
		}
	}
	return false
}
