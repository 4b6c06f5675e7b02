package safety

import (
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Place is the territory of a rule: a key of the text catalogue under "place.".
type Place string

// The places.
const (
	UnitedStates Place = "us"
	England      Place = "england-wales"
	Australia    Place = "australia-nz"
	France       Place = "france"
)

// Sources. "State copies" means that the federal text was read as states adopted it.
var (
	fda      = source.Ref{Tag: source.Published, Text: "US FDA Food Code 2013, 3-501.14, 3-501.16, 3-501.19, as adopted in state codes"}
	fdaEgg   = source.Ref{Tag: source.Published, Text: "US FDA Food Code 2013, 3-302.13, 3-401.11, 3-801.11, as adopted in state codes"}
	fdaTable = source.Ref{Tag: source.Published, Text: "US FDA Food Code 2013, 1-201.10(B) Tables A and B, as adopted in state codes"}
	england  = source.Ref{Tag: source.Published, Text: "Food Hygiene Regulations 2006 (Wales, England, N. Ireland), Schedule 4; England now SI 2013/2996"}
	fsanz    = source.Ref{Tag: source.Published, Text: "Food Standards Australia New Zealand and NSW Food Authority, 2-hour/4-hour rule pages"}
	france   = source.Ref{Tag: source.Tertiary, Text: "French national rule on chilling cooked food, +63 to +10 °C in under two hours, as quoted on official pages"}
	acidFood = source.Ref{Tag: source.Published, Text: "21 CFR 114.3: acidified food at pH 4.6 or below"}
	garlic   = source.Ref{Tag: source.Published, Text: "Oklahoma State University extension, garlic and herbs in oil, after University of Idaho work"}
	botulin  = source.Ref{Tag: source.Published, Text: "UK Food Standards Agency, vacuum and modified-atmosphere packed chilled foods: growth from 3 °C, ten-day rule"}
	ukEgg    = source.Ref{Tag: source.Tertiary, Text: "UK advice on raw egg since October 2017, as quoted on several pages"}
	flowers  = source.Ref{Tag: source.Tertiary, Text: "extension pages on edible flowers"}
	miniCup  = source.Ref{Tag: source.Published, Text: "EFSA AFC Panel, opinion on jelly mini-cups, EFSA Journal 82 (2004); Food Standards Scotland import ban page; US FDA Import Alert 33-15"}
	konjac   = source.Ref{Tag: source.Published, Text: "US FDA Import Alert 33-15; Food Standards Scotland import ban page (E 425)"}
	iddsi    = source.Ref{Tag: source.Memory, Text: "International Dysphagia Diet Standardisation Initiative: textures are tested, not computed"}
	siphons  = source.Ref{Tag: source.Published, Text: "DGCCRF (France), practical sheet on culinary siphons"}
	beans    = source.Ref{Tag: source.Published, Text: "university page quoting US FDA: red kidney beans boiled 30 minutes"}
	practice = source.Ref{Tag: source.Practice}
)

// HoldRule is how hot or cold a code wants food kept.
type HoldRule struct {
	Place     Place
	Section   string
	Hot, Cold unit.Celsius
	// HotMinutes and ColdMinutes are how long, once, food may be on the wrong
	// side while served; 0 when the text read gives none.
	HotMinutes, ColdMinutes float64
	Source                  source.Ref
}

// HoldRules are the codes' holding temperatures.
var HoldRules = []HoldRule{
	{UnitedStates, "3-501.16, 3-501.19", 57, 5, 240, 240, fda},
	{England, "Schedule 4", 63, 8, 120, 240, england},
	{Australia, "2-hour/4-hour rule", 60, 5, 240, 240, fsanz},
}

// CoolRule is how fast a code wants cooked food chilled.
type CoolRule struct {
	Place    Place
	Section  string
	From, To unit.Celsius
	Minutes  float64
	Source   source.Ref
}

// CoolRules are the codes' chilling times.
var CoolRules = []CoolRule{
	{UnitedStates, "3-501.14(A)(1)", 57, 21, 120, fda},
	{UnitedStates, "3-501.14(A)(2)", 57, 5, 360, fda},
	{France, "+63/+10", 63, 10, 120, france},
}

// CookRule is a temperature and time for raw egg.
type CookRule struct {
	ID      string // key of the text catalogue under "cook."
	Temp    unit.Celsius
	Seconds float64
	Source  source.Ref
}

// EggRules are the heats for egg dishes.
var EggRules = []CookRule{
	{"egg-order", 63, 15, fdaEgg},
	{"egg-pooled", 68, 15, fdaEgg},
	{"egg-pooled-slow", 63, 180, fdaEgg},
}
