package foam

import "tremblant/internal/note"

// The codes of this package's notes and refusals. The text catalogue has one
// sentence for each under "note." + code; a test walks [Codes].
const (
	// Inputs that are not figures of a kitchen.
	CodeNotFigure   note.Code = "foam.not-a-figure"
	CodeOutside     note.Code = "foam.outside"
	CodeShares      note.Code = "foam.shares-over-one"
	CodeUnknownType note.Code = "foam.type-unknown"

	// Gas and siphon.
	CodeGas             note.Code = "foam.gas-not-food-n2o"
	CodeNotSiphon       note.Code = "foam.siphon-not-made-for-it"
	CodeSiphonSize      note.Code = "foam.siphon-size"
	CodeNoSiphon        note.Code = "foam.no-siphon"
	CodeOverLine        note.Code = "foam.over-line"
	CodeNoHeadspace     note.Code = "foam.no-headspace"
	CodeOverCharged     note.Code = "foam.too-many-charges"
	CodeOverPressure    note.Code = "foam.over-working-pressure"
	CodeNeverUnder      note.Code = "foam.never-under-pressure"
	CodeGasLiquid       note.Code = "foam.gas-stays-liquid"
	CodeNoPressure      note.Code = "foam.no-stated-pressure"
	CodeHighPressure    note.Code = "foam.high-pressure"
	CodeBrimGuessed     note.Code = "foam.brim-guessed"
	CodeWaterGuessed    note.Code = "foam.water-guessed"
	CodeDensityGuessed  note.Code = "foam.density-guessed"
	CodeThreeQuarters   note.Code = "foam.over-three-quarters"
	CodeShakeBetween    note.Code = "foam.shake-between"
	CodeFillLow         note.Code = "foam.fill-low"
	CodeHotExtrapolated note.Code = "foam.hot-extrapolated"

	// Why rule of thumb and physics differ.
	CodeRuleAgrees   note.Code = "foam.rule-agrees"
	CodeRuleDiffers  note.Code = "foam.rule-differs"
	CodeWhyWarm      note.Code = "foam.why-warm"
	CodeWhyMilkFat   note.Code = "foam.why-milk-fat"
	CodeWhyOil       note.Code = "foam.why-oil"
	CodeWhyFull      note.Code = "foam.why-full"
	CodeWhyHalfEmpty note.Code = "foam.why-half-empty"
	CodeWhyThick     note.Code = "foam.why-thick"
	CodeWhySalt      note.Code = "foam.why-salt"
	CodeGasShort     note.Code = "foam.gas-short"

	// The formula.
	CodeDoseLow       note.Code = "foam.dose-low"
	CodeDoseHigh      note.Code = "foam.dose-high"
	CodeDoseFits      note.Code = "foam.dose-fits"
	CodeDoseForeign   note.Code = "foam.dose-foreign"
	CodeDoseMissing   note.Code = "foam.dose-missing"
	CodeShareLow      note.Code = "foam.share-low"
	CodeShareHigh     note.Code = "foam.share-high"
	CodeFatKills      note.Code = "foam.fat-kills"
	CodeLowFatHelp    note.Code = "foam.low-fat-cream"
	CodeAlcoholWeak   note.Code = "foam.alcohol-weakens"
	CodeAlcoholTop    note.Code = "foam.alcohol-too-high"
	CodeTooHot        note.Code = "foam.too-hot"
	CodeTooCold       note.Code = "foam.too-cold"
	CodeWarmish       note.Code = "foam.over-usual-temperature"
	CodeFarTooHot     note.Code = "foam.far-too-hot"
	CodeEggSets       note.Code = "foam.egg-sets"
	CodeFibre         note.Code = "foam.fibre"
	CodeFibreTop      note.Code = "foam.fibre-too-high"
	CodeSeeds         note.Code = "foam.seeds"
	CodeNeedsNone     note.Code = "foam.needs-no-siphon"
	CodePH            note.Code = "foam.ph"
	CodeProteinCurdle note.Code = "foam.protein-curdles"
	CodeCreamWarm     note.Code = "foam.cream-crystals"
	CodeMelts         note.Code = "foam.gel-melts"
	CodeSetInBody     note.Code = "foam.sets-in-body"
	CodeEnzymes       note.Code = "foam.fruit-enzymes"

	// Expansion.
	CodeRuleOfThumb note.Code = "foam.overrun-rule-of-thumb"
	CodeMeasured    note.Code = "foam.overrun-measured"
	CodeGasLimits   note.Code = "foam.overrun-limited-by-gas"
	CodeOverBound   note.Code = "foam.measured-over-bound"

	// Sizing.
	CodeNoCovers    note.Code = "foam.no-covers"
	CodeNoPortion   note.Code = "foam.no-portion"
	CodeTooMuch     note.Code = "foam.too-much-base"
	CodeRaised      note.Code = "foam.raised-to-minimum"
	CodeSmallBatch  note.Code = "foam.below-minimum"
	CodeRefill      note.Code = "foam.refill"
	CodeRefillHot   note.Code = "foam.refill-hot"
	CodeShortAtLow  note.Code = "foam.short-at-low"
	CodeLastDenser  note.Code = "foam.last-denser"
	CodeThickSticks note.Code = "foam.thick-sticks"

	// Method.
	StepPrepare note.Code = "foam.step-prepare"
	StepTemper  note.Code = "foam.step-temper"
	StepPour    note.Code = "foam.step-pour"
	StepStrain  note.Code = "foam.step-strain"
	StepFill    note.Code = "foam.step-fill"
	StepClose   note.Code = "foam.step-close"
	StepCharge  note.Code = "foam.step-charge"
	StepShake   note.Code = "foam.step-shake"
	StepRest    note.Code = "foam.step-rest"
	StepHold    note.Code = "foam.step-hold"
	StepSquirt  note.Code = "foam.step-squirt"
	StepServe   note.Code = "foam.step-serve"
	StepVent    note.Code = "foam.step-vent"
	StepRechill note.Code = "foam.step-rechill"
	StepStore   note.Code = "foam.step-store"
	StepClean   note.Code = "foam.step-clean"
	StepCup     note.Code = "foam.step-cup-test"
	StepAir     note.Code = "foam.step-air"

	// Dangers: one or more are part of every answer.
	DangerPressure  note.Code = "foam.danger-pressure"
	DangerHead      note.Code = "foam.danger-head"
	DangerOpening   note.Code = "foam.danger-opening"
	DangerBlocked   note.Code = "foam.danger-blocked"
	DangerGas       note.Code = "foam.danger-gas"
	DangerInhaling  note.Code = "foam.danger-inhaling"
	DangerWarming   note.Code = "foam.danger-warming"
	DangerFrost     note.Code = "foam.danger-frost"
	DangerHot       note.Code = "foam.danger-hot"
	DangerHoldTime  note.Code = "foam.danger-hold-time"
	DangerRawEgg    note.Code = "foam.danger-raw-egg"
	DangerAllergens note.Code = "foam.danger-allergens"
	DangerBlendRead note.Code = "foam.danger-blend-label"
	DangerNotice    note.Code = "foam.danger-notice"
)

// Codes lists every code that this package can emit.
func Codes() []note.Code {
	return []note.Code{
		CodeNotFigure, CodeOutside, CodeShares, CodeUnknownType,
		CodeGas, CodeNotSiphon, CodeSiphonSize, CodeNoSiphon, CodeOverLine, CodeNoHeadspace, CodeOverCharged,
		CodeOverPressure, CodeGasLiquid, CodeNeverUnder, CodeNoPressure, CodeHighPressure, CodeBrimGuessed, CodeWaterGuessed,
		CodeDensityGuessed, CodeThreeQuarters, CodeShakeBetween, CodeFillLow, CodeHotExtrapolated,
		CodeRuleAgrees, CodeRuleDiffers, CodeWhyWarm, CodeWhyMilkFat, CodeWhyOil, CodeWhyFull, CodeWhyHalfEmpty,
		CodeWhyThick, CodeWhySalt, CodeGasShort,
		CodeDoseLow, CodeDoseHigh, CodeDoseFits, CodeDoseForeign, CodeDoseMissing, CodeShareLow, CodeShareHigh,
		CodeFatKills, CodeLowFatHelp, CodeAlcoholWeak, CodeAlcoholTop, CodeTooHot, CodeTooCold, CodeWarmish, CodeFarTooHot,
		CodeEggSets, CodeFibre, CodeFibreTop, CodeSeeds, CodeNeedsNone, CodePH, CodeProteinCurdle, CodeCreamWarm,
		CodeMelts, CodeSetInBody, CodeEnzymes,
		CodeRuleOfThumb, CodeMeasured, CodeGasLimits, CodeOverBound,
		CodeNoCovers, CodeNoPortion, CodeTooMuch, CodeRaised, CodeSmallBatch, CodeRefill, CodeRefillHot, CodeShortAtLow,
		CodeLastDenser, CodeThickSticks,
		StepPrepare, StepTemper, StepPour, StepStrain, StepFill, StepClose, StepCharge, StepShake, StepRest, StepHold,
		StepSquirt, StepServe, StepVent, StepRechill, StepStore, StepClean, StepCup, StepAir,
		DangerPressure, DangerHead, DangerOpening, DangerBlocked, DangerGas, DangerInhaling, DangerWarming,
		DangerFrost, DangerHot, DangerHoldTime, DangerRawEgg, DangerAllergens, DangerBlendRead, DangerNotice,
	}
}
