package emulsion

import (
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Acid is the acid that a raw-egg figure was found for.
type Acid uint8

// The acids of the published figures.
const (
	AnyAcid Acid = iota
	AceticAcid
	CitricAcid
)

// EggRule is one published acidification figure for raw egg. They disagree;
// none is a promise.
type EggRule struct {
	ID     string
	Source source.Ref
	Acid   Acid
	MaxPH  float64 // highest pH that the source allows; 0 when it gives none
	// AceticInWater is the least acetic acid in the watery side; 0 for none.
	AceticInWater unit.Fraction
	// AcidPerYolk, AcidPerWhite and AcidPerEgg are the least grams of acid for
	// each yolk, white or whole egg; 0 for none.
	AcidPerYolk, AcidPerWhite, AcidPerEgg unit.Mass
	HoldHours                             float64 // at least so long before chilling; 0 when the source gives none
	HoldFrom                              unit.Celsius
}

// EggRules stand side by side, as published.
var EggRules = []EggRule{
	{ID: "radford-1993", Source: published("Radford & Board, Food Microbiology 10 (1993) 269, home-made mayonnaise"),
		Acid: AceticAcid, MaxPH: 4.1, HoldHours: 24, HoldFrom: 18},
	{ID: "vinegar-1999", Source: published("home-made mayonnaise: ingredients, pH, safety, Food Microbiology, 1999: 20 ml of 6 % vinegar a yolk, 40 a white, 60 a whole egg"),
		Acid: AceticAcid, MaxPH: 4.1, AcidPerYolk: 1.2, AcidPerWhite: 2.4, AcidPerEgg: 3.6, HoldHours: 48, HoldFrom: 20},
	{ID: "lemon-1999", Source: lemonStudy,
		Acid: CitricAcid, MaxPH: 3.3, AcidPerYolk: 1.0, HoldHours: 72, HoldFrom: 22},
	{ID: "glass-1991", Source: published("Glass & Doyle, Journal of Food Protection 54 (1991) 691"),
		Acid: AceticAcid, MaxPH: 4.1, AceticInWater: 0.007, HoldHours: 72},
	{ID: "smittle-2000", Source: published("Smittle, Journal of Food Protection 63 (2000) 1144, review: highest target of makers"),
		Acid: AceticAcid, MaxPH: 4.4},
	{ID: "ratios-2020", Source: acidRatios,
		Acid: AnyAcid, MaxPH: 3.8, HoldHours: 4, HoldFrom: 20},
	{ID: "keerthirathne-2019", Source: published("Keerthirathne et al., Pathogens 8 (2019) 218; Australian guidance 4.2 or 4.6"),
		Acid: AnyAcid, MaxPH: 4.2, HoldHours: 24, HoldFrom: 20},
}

// The two that decide what the page warns of: the lower end with vinegar, and
// the limit with citric acid alone.
const (
	strictVinegar = 3.8
	strictCitric  = 3.3
)

var (
	acidRatios  = published("varied food acid ratios and egg components, Food Microbiology 92 (2020) 103555")
	lemonStudy  = published("Salmonella enteritidis PT4 in mayonnaise with citric acid, Food Microbiology: 20 ml of lemon juice (5 % citric acid) a yolk")
	eggReview   = published("Keerthirathne et al., Pathogens 5 (2016) 63, review: no agreed pH")
	eggConflict = published("Zhu, Li & Chen, Journal of Food Protection 75 (2012) 465: at 4 °C Salmonella lasted longer with vinegar than with lemon")
)
