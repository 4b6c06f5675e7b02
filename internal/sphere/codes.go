package sphere

import (
	"tremblant/internal/note"
	"tremblant/internal/source"
)

// The refusals: no figure is given.
const (
	BadFigure      note.Code = "sphere.bad-figure"
	BadRange       note.Code = "sphere.bad-range"
	SaltUnknown    note.Code = "sphere.salt-unknown"
	SaltWeak       note.Code = "sphere.salt-weak"
	TooAcid        note.Code = "sphere.too-acid"
	TooMuchCalcium note.Code = "sphere.too-much-calcium"
	TooStrong      note.Code = "sphere.too-strong"
)

// What a calculation has to say.
const (
	DoseRaised  note.Code = "sphere.dose-raised"
	PHUnsure    note.Code = "sphere.ph-unsure"
	CitratePH   note.Code = "sphere.citrate-ph"
	CitrateRule note.Code = "sphere.citrate-rule"
	CitrateCa   note.Code = "sphere.citrate-calcium"
	CitrateWeak note.Code = "sphere.citrate-weak"
	CitrateHigh note.Code = "sphere.citrate-high"
	CitrateBoth note.Code = "sphere.citrate-both"
	// CitrateTop says that the dose is the top and more would do better.
	CitrateTop note.Code = "sphere.citrate-top"
	// CitrateShort says that the top does not lift the pH, CitrateLeaves that it
	// does not hold the calcium; and what does instead.
	CitrateShort  note.Code = "sphere.citrate-short"
	CitrateLeaves note.Code = "sphere.citrate-leaves"
	CalciumSome   note.Code = "sphere.calcium-some"
	HardWater     note.Code = "sphere.hard-water"
	Strong        note.Code = "sphere.strong"
	StrongReverse note.Code = "sphere.strong-reverse"
	Sweet         note.Code = "sphere.sweet"
	EatSoon       note.Code = "sphere.eat-soon"
	StoreReverse  note.Code = "sphere.store-reverse"
	RestFirst     note.Code = "sphere.rest-first"
	SkinEstimate  note.Code = "sphere.skin-estimate"
	SolidThrough  note.Code = "sphere.solid-through"
	SaltSpeed     note.Code = "sphere.salt-speed"
	Hovers        note.Code = "sphere.hovers"
	Sinks         note.Code = "sphere.sinks"
	Floats        note.Code = "sphere.floats"
	SinksFar      note.Code = "sphere.sinks-far"
	FloatsFar     note.Code = "sphere.floats-far"
	BathLasts     note.Code = "sphere.bath-lasts"
	BathSmall     note.Code = "sphere.bath-small"
	BathWeak      note.Code = "sphere.bath-weak"
	BathStrong    note.Code = "sphere.bath-strong"
	BathReverse   note.Code = "sphere.bath-reverse"
	DoseOutside   note.Code = "sphere.dose-outside"
	ShearIt       note.Code = "sphere.shear"
	Irritant      note.Code = "sphere.irritant"
	Choking       note.Code = "sphere.choking"
	OwnCalcium    note.Code = "sphere.own-calcium"
	OwnFree       note.Code = "sphere.own-free"
)

// Codes are all codes of this package, for the check of the text catalogue.
var Codes = []note.Code{
	BadFigure, BadRange, SaltUnknown, SaltWeak, TooAcid, TooMuchCalcium, TooStrong,
	DoseRaised, PHUnsure, CitratePH, CitrateRule, CitrateCa, CitrateWeak, CitrateHigh, CitrateBoth, CitrateTop, CitrateShort, CitrateLeaves, CalciumSome, HardWater, Strong, StrongReverse, Sweet, EatSoon, StoreReverse,
	RestFirst, SkinEstimate, SolidThrough, SaltSpeed, Hovers, Sinks, Floats, SinksFar, FloatsFar, BathLasts, BathSmall, BathWeak, BathStrong, BathReverse, DoseOutside,
	ShearIt, Irritant, Choking, OwnCalcium, OwnFree,
}

func published(s string) source.Ref { return source.Ref{Tag: source.Published, Text: s} }
func derived(s string) source.Ref   { return source.Ref{Tag: source.Derived, Text: s} }
func memory(s string) source.Ref    { return source.Ref{Tag: source.Memory, Text: s} }

var (
	practice   = source.Ref{Tag: source.Practice}
	leeRogers  = published("Lee & Rogers, International Journal of Gastronomy and Food Science 1 (2012) 96: chloride firms in about 100 s, lactate 500 s, gluconate 2000 s")
	freeGroups = derived("dissociation constants 3.38 and 3.65 of the Handbook of Hydrocolloids, 3rd ed., 2021")
	titration  = derived("charge balance with the constants of MINTEQA2 version 4, US EPA; malic and lactic acid from memory; buffering by protein left out")
	curve      = derived("charge balance of the whole liquid with its protein and phosphate, at the citrate that is put in")
	binding    = derived("calcium citrate constants of MINTEQA2 version 4, US EPA, at ionic strength 0.1")
	diffusion  = derived("sharp-front diffusion with a constant from memory; root-of-time law by Potter, Balcom, Carpenter & Hall, Carbohydrate Research, 1994")
	acidGel    = memory("alginic acid gels and lumps below about pH 3.8; dissociation constants in the Handbook of Hydrocolloids, 3rd ed., 2021")
	groups     = derived("one acid group for 198.1 g of dry sodium alginate, two groups for one calcium")
	balance    = derived("calcium balance of the bath")
	waterTable = source.Ref{Tag: source.Tertiary, Text: "hydrocolloid limits on a trade page: alcohol below 40 % vol"}
	recipes    = source.Ref{Tag: source.Tertiary, Text: "recipes of fruit spheres on two cooking sites: 0.26 % citrate in thinned mango"}
	sucrose    = derived("density of sucrose solutions, Bubnik et al., Sugar Technologists Manual, 1995; that of the bath from memory")
	miniCups   = published("EFSA, Opinion on jelly mini-cups, EFSA Journal 82 (2004)")
	milkSalts  = memory("Fox & McSweeney, Dairy Chemistry and Biochemistry: acid frees the calcium of milk, nearly all by pH 5")
	alcoholTop = memory("alginate and sugar or alcohol: Handbook of Hydrocolloids")
)
