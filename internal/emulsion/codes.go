package emulsion

import "tremblant/internal/note"

// The refusals: no figure is given.
const (
	BadFigure    note.Code = "emulsion.bad-figure"    // a figure that is negative, zero where it must not be, or no figure
	BadShare     note.Code = "emulsion.bad-share"     // water, fat and the rest of a part come to more than all of it
	UnknownPart  note.Code = "emulsion.unknown-part"  // a catalogue key that does not exist
	NoOil        note.Code = "emulsion.no-oil"        // nothing in the oil list
	NoWater      note.Code = "emulsion.no-water"      // no water at all
	OilInWater   note.Code = "emulsion.oil-in-water"  // a fat in the water list
	WaterInOil   note.Code = "emulsion.water-in-oil"  // something watery in the oil list
	OilOver      note.Code = "emulsion.oil-over"      // oil share above what anybody ever held
	NoEmulsifier note.Code = "emulsion.no-emulsifier" // nothing that holds the droplets
	BadPH        note.Code = "emulsion.bad-ph"        // a pH range that is none
	NoTarget     note.Code = "emulsion.no-target"     // nothing to scale to
	NoSuchPart   note.Code = "emulsion.no-such-part"  // a limit on a part that is not in the recipe
	Packed       note.Code = "emulsion.packed"        // above close packing there is no viscosity or creaming speed
)

// What a calculation has to say.
const (
	IsThin         note.Code = "emulsion.thin"
	IsSpoonable    note.Code = "emulsion.spoonable"
	IsStiff        note.Code = "emulsion.stiff"
	IsEdge         note.Code = "emulsion.edge"
	IsBeyond       note.Code = "emulsion.beyond"
	OnTheLine      note.Code = "emulsion.on-the-line"
	RescueStiff    note.Code = "emulsion.rescue-stiff"
	RescueSplit    note.Code = "emulsion.rescue-split"
	ShortCarrier   note.Code = "emulsion.short-emulsifier"
	ThinCarrier    note.Code = "emulsion.thin-emulsifier"
	WaterIsLimit   note.Code = "emulsion.water-is-limit"
	Temporary      note.Code = "emulsion.temporary"
	XanthanLow     note.Code = "emulsion.xanthan-low"
	XanthanHolds   note.Code = "emulsion.xanthan-holds"
	SaltHelps      note.Code = "emulsion.salt-helps"
	SaltHigh       note.Code = "emulsion.salt-high"
	Creams         note.Code = "emulsion.creams"
	DoesNotCream   note.Code = "emulsion.does-not-cream"
	PHUnknown      note.Code = "emulsion.ph-unknown"
	RawEgg         note.Code = "emulsion.raw-egg"
	RawEggPH       note.Code = "emulsion.raw-egg-ph"
	RawEggMeasure  note.Code = "emulsion.raw-egg-measure"
	RawEggWithin   note.Code = "emulsion.raw-egg-within"
	RawEggNear     note.Code = "emulsion.raw-egg-near"
	RawEggGuests   note.Code = "emulsion.raw-egg-guests"
	Pasteurised    note.Code = "emulsion.pasteurised"
	HoldConflict   note.Code = "emulsion.hold-conflict"
	Allergen       note.Code = "emulsion.allergen"
	TooHot         note.Code = "emulsion.too-hot"
	TooCold        note.Code = "emulsion.too-cold"
	HoldWarm       note.Code = "emulsion.hold-warm"
	CreamCurdles   note.Code = "emulsion.cream-curdles"
	SiphonReady    note.Code = "emulsion.siphon-ready"
	SiphonDilute   note.Code = "emulsion.siphon-dilute"
	SiphonRawEgg   note.Code = "emulsion.siphon-raw-egg"
	SiphonWall     note.Code = "emulsion.siphon-wall"
	SiphonWallWarm note.Code = "emulsion.siphon-wall-warm"
	SiphonSieve    note.Code = "emulsion.siphon-sieve"
	LimitedBy      note.Code = "emulsion.limited-by"
	BelowOwnAdvice note.Code = "emulsion.acid-per-egg"
)

// Codes are all codes of this package, for the check of the text catalogue.
var Codes = []note.Code{
	BadFigure, BadShare, UnknownPart, NoOil, NoWater, OilInWater, WaterInOil, OilOver, NoEmulsifier, BadPH, NoTarget, NoSuchPart, Packed,
	IsThin, IsSpoonable, IsStiff, IsEdge, IsBeyond, OnTheLine, RescueStiff, RescueSplit, ShortCarrier, ThinCarrier, WaterIsLimit, Temporary,
	XanthanLow, XanthanHolds, SaltHelps, SaltHigh, Creams, DoesNotCream, PHUnknown, RawEgg, RawEggPH, RawEggMeasure, RawEggWithin, RawEggNear, RawEggGuests,
	Pasteurised, HoldConflict, Allergen, TooHot, TooCold, HoldWarm, CreamCurdles, SiphonReady, SiphonDilute, SiphonRawEgg, SiphonWall,
	SiphonWallWarm,
	SiphonSieve, LimitedBy, BelowOwnAdvice,
}
