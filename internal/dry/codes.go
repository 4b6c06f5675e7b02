package dry

import (
	"tremblant/internal/note"
	"tremblant/internal/source"
)

// The refusals: no figure is given.
const (
	BadFigure     note.Code = "dry.bad-figure"
	NoParts       note.Code = "dry.no-parts"
	BadShare      note.Code = "dry.bad-share"
	NoSolids      note.Code = "dry.no-solids"
	BelowZero     note.Code = "dry.below-zero"
	ResidualAbove note.Code = "dry.residual-above"
	TooLight      note.Code = "dry.too-light"
	TooHeavy      note.Code = "dry.too-heavy"
	BadTrial      note.Code = "dry.bad-trial"
)

// What a calculation has to say.
const (
	NearZero     note.Code = "dry.near-zero"
	TimeThumb    note.Code = "dry.time-thumb"
	TimeTrials   note.Code = "dry.time-trials"
	WindowKept   note.Code = "dry.window"
	WindowClash  note.Code = "dry.window-clash"
	TooHot       note.Code = "dry.too-hot"
	TooCool      note.Code = "dry.too-cool"
	WarmZone     note.Code = "dry.warm-zone"
	AnimalFirst  note.Code = "dry.animal-first"
	Thick        note.Code = "dry.thick"
	StaysCrisp   note.Code = "dry.stays-crisp"
	Softens      note.Code = "dry.softens"
	Leathery     note.Code = "dry.leathery"
	MayMould     note.Code = "dry.may-mould"
	NotShelf     note.Code = "dry.not-shelf"
	RoomDamp     note.Code = "dry.room-damp"
	KeepAirtight note.Code = "dry.keep-airtight"
	KeepSheet    note.Code = "dry.keep-sheet"
	Spores       note.Code = "dry.spores"
	Inhale       note.Code = "dry.inhale"
	Swells       note.Code = "dry.swells"
	SwellsHeld   note.Code = "dry.swells-held"
	Alcohol      note.Code = "dry.alcohol"
	FatStays     note.Code = "dry.fat-stays"
)

// Codes are all codes of this package, for the check of the text catalogue.
var Codes = []note.Code{
	BadFigure, NoParts, BadShare, NoSolids, BelowZero, ResidualAbove, TooLight, TooHeavy, BadTrial,
	NearZero, TimeThumb, TimeTrials, WindowKept, WindowClash, TooHot, TooCool, WarmZone, AnimalFirst, Thick, StaysCrisp, Softens,
	Leathery, MayMould, NotShelf, RoomDamp, KeepAirtight, KeepSheet, Spores, Inhale, Swells, SwellsHeld, Alcohol, FatStays,
}

func published(s string) source.Ref { return source.Ref{Tag: source.Published, Text: s} }
func derived(s string) source.Ref   { return source.Ref{Tag: source.Derived, Text: s} }

// estimate is a limit that was published, held against a water activity that
// is estimated here.
func estimate(s string) source.Ref {
	return derived("water activity by a sorption isotherm from memory, held against: " + s)
}

// leans is a window drawn here from what a source measured on its own plant.
func leans(s string) source.Ref { return derived("window drawn from: " + s) }

func tertiary(s string) source.Ref { return source.Ref{Tag: source.Tertiary, Text: s} }

var (
	practice = source.Ref{Tag: source.Practice}
	ownRuns  = derived("geometric mean of the kitchen's own trials")
	katz     = estimate("Katz & Labuza, Journal of Food Science 46 (1981) 403: snacks lose their crispness at a water activity of 0.35 to 0.50")
	noGrowth = estimate("adapted from Beuchat, Cereal Foods World 26 (1981) 345: no growth below a water activity of 0.60")
	acidLaw  = estimate("21 CFR 114.3: water activity 0.85")
	sorption = source.Ref{Tag: source.Memory, Text: "GAB sorption constants of dried plants; raisins 0.082 g/g by Esmaiili Bazardeh & Esmaiili, Journal of Stored Products Research 59 (2014) 140"}
	spores   = published("tenacity of Bacillus cereus and Staphylococcus aureus in dried spices and herbs: spore counts did not fall in 50 weeks")
	lungs    = tertiary("report on a paper in Pediatrics, 2013: a dry spice swallowed by the spoon gets into the lungs")
	konjac   = published("European Commission and Food Standards Scotland on konjac, E 425; US FDA Import Alert 33-15")
	zone     = published("US FDA Food Code 3-501.16 and 3-501.19: 5 to 57 °C, at most 4 hours without control")
	heat     = published("US FDA Food Code 3-401.11")
	kale     = leans("Oliveira, Ramos, Brandão & Silva, Journal of Food Processing and Preservation, 2015: kale leaf at 35 to 85 °C, chlorophyll a loss 9 to 35 %")
	lemony   = leans("Xylia & Chrysargyris, Applied Sciences, 2025, 5136: 42 °C best of 20, 35, 42 and 49 °C for oil and colour of a mint")
	reds     = leans("Fernández-López et al., Plant Foods for Human Nutrition 68 (2013) 11: after 6 h at 90 °C elderberry kept 64 %, hibiscus 27 %, red beet 12.5 % of its colour")
	browning = leans("Weemaes et al., Journal of Agricultural and Food Chemistry 46 (1998) 2785: avocado polyphenol oxidase fails from about 40 °C at pH 4, 65 °C at pH 6")
	homeDry  = published("Michigan State University Extension, Preserving Food Safely, 1997: vegetables at 140-150 °F")
	leather  = published("North Dakota State University Extension, home drying: fruit leather at 140-145 °F")
)
