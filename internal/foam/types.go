package foam

import (
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Class says which of the trade's rules for charges a foam falls under.
type Class uint8

// The classes of [ChargeRule].
const (
	Lean      Class = iota // cold and lean
	Rich                   // cold and rich in fat
	ServedHot              // served hot
)

// Type is a kind of foam with its windows. The page names it "foam.type." + ID.
type Type struct {
	ID     string
	Siphon bool // false: made without one
	Class  Class
	Temp   unit.Range   // °C: usual temperatures of base and body at the table
	Top    unit.Celsius // above this the foam fails
	Source source.Ref   // of Temp and Top

	Overrun       unit.Range // parts of one: 1.5 is 150 %
	OverrunSource source.Ref

	Rest       unit.Range // s, in the fridge (cold) or the bath (hot) before serving
	RestSource source.Ref

	Doses  []Window // agents, in parts of the liquid's mass
	Shares []Window // parts of the base's mass: see the Share constants
	OneOf  bool     // one of the main doses or main shares will do, not all

	FatKills    unit.Fraction // fat over this breaks the foam; 0: none known
	AlcoholWeak unit.Fraction // parts of volume: weaker above
	AlcoholTop  unit.Fraction // no foam above
	PH          unit.Range    // window; zero: not limited here
	HotInstead  string        // a type that does the same job hot
}

// Window is the usual dose of one agent, or share of one kind of ingredient.
type Window struct {
	ID     string // an agent of the catalogue, or a Share constant
	Amount unit.Range
	Help   bool // supports; not enough alone and not needed
	Source source.Ref
}

// What a share window measures, as a part of the base's mass.
const (
	ShareFat      = "share-fat"
	ShareEggWhite = "share-egg-white" // liquid white
	ShareEgg      = "share-egg"       // whole egg or yolk
	SharePuree    = "share-puree"
	ShareOil      = "share-oil"
)

// TypeByID finds a type of [Types].
func TypeByID(id string) (Type, bool) {
	for _, t := range types {
		if t.ID == id {
			return t, true
		}
	}
	return Type{}, false
}

// holdHot is where a hot foam is best held, °C: above the hot-hold limits of
// the codes (57 to 63 °C), below 65 to 70 °C where foams fail. Rule of thumb.
const holdHot unit.Celsius = 65

// eggSets is where egg white starts to set, 62 °C (Belitz, Grosch & Schieberle
// 2009); yolk thickens from 56 °C with time and sets at 65.
const (
	eggSets    unit.Celsius = 62
	eggNearest unit.Celsius = 60
)
