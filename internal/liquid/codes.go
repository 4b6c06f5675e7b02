package liquid

import "tremblant/internal/note"

// Refusals: no figure is given.
const (
	CodeNotFinite   note.Code = "liquid.not-finite"
	CodeNegative    note.Code = "liquid.negative"
	CodeOver100     note.Code = "liquid.over-100"
	CodeTooMuch     note.Code = "liquid.adds-up-to-more"
	CodeNothing     note.Code = "liquid.no-composition"
	CodeBadPH       note.Code = "liquid.impossible-ph"
	CodeDryPH       note.Code = "liquid.ph-without-water"
	CodeBadSpread   note.Code = "liquid.bad-spread"
	CodeBadSID      note.Code = "liquid.bad-sid"
	CodeBadDensity  note.Code = "liquid.bad-density"
	CodeEmpty       note.Code = "liquid.empty"
	CodeBadAmount   note.Code = "liquid.bad-amount"
	CodeTooMany     note.Code = "liquid.too-many-steps"
	CodeBadStep     note.Code = "liquid.bad-step"
	CodeTooDry      note.Code = "liquid.below-dry-matter"
	CodeNotLess     note.Code = "liquid.reduction-gains"
	CodeBadYield    note.Code = "liquid.bad-yield"
	CodeBadTime     note.Code = "liquid.bad-time"
	CodeBadTemp     note.Code = "liquid.bad-temperature"
	CodeNoRoot      note.Code = "liquid.no-ph"
	CodeNoSugar     note.Code = "liquid.no-sugar-to-correct"
	CodeBadReading  note.Code = "liquid.impossible-reading"
	CodeUnreachable note.Code = "liquid.unreachable"
	CodeBadTarget   note.Code = "liquid.bad-target"
	CodeNotThere    note.Code = "liquid.property-unknown"
	CodeBadHardness note.Code = "liquid.bad-hardness"
	CodeNoSplit     note.Code = "liquid.no-split"
	CodeBadSplit    note.Code = "liquid.bad-split"
	CodeRange       note.Code = "liquid.outside-table"
	CodeNoAside     note.Code = "liquid.nothing-aside"
	CodeBadAside    note.Code = "liquid.bad-aside"
	CodeNoAlcohol   note.Code = "liquid.no-alcohol-to-correct"
)

// Reasons, hints, cautions and dangers.
const (
	CodePHEstimated  note.Code = "liquid.ph-estimated"
	CodeActivityCap  note.Code = "liquid.activity-capped"
	CodePHAlcohol    note.Code = "liquid.ph-alcohol"
	CodePHSugar      note.Code = "liquid.ph-sugar"
	CodePHProtein    note.Code = "liquid.ph-protein"
	CodePHNoWater    note.Code = "liquid.ph-no-water"
	CodeMeasured     note.Code = "liquid.measured"
	CodeMeasureFar   note.Code = "liquid.measure-far"
	CodeThumb        note.Code = "liquid.rule-of-thumb"
	CodeOpenShare    note.Code = "liquid.open-share"
	CodeProtease     note.Code = "liquid.protease"
	CodePreheated    note.Code = "liquid.preheated"
	CodeTannin       note.Code = "liquid.tannin"
	CodeSpores       note.Code = "liquid.spores-in-oil"
	CodeRawEgg       note.Code = "liquid.raw-egg"
	CodeLowAcid      note.Code = "liquid.low-acid"
	CodeCurdle       note.Code = "liquid.curdle"
	CodeFortified    note.Code = "liquid.fortified"
	CodeRayleigh     note.Code = "liquid.alcohol-by-mass"
	CodeStrong       note.Code = "liquid.alcohol-strong"
	CodeRetention    note.Code = "liquid.alcohol-by-time"
	CodeOpenPan      note.Code = "liquid.alcohol-open-pan"
	CodeInterpolated note.Code = "liquid.alcohol-interpolated"
	CodeBeyondTable  note.Code = "liquid.alcohol-beyond"
	CodeFlame        note.Code = "liquid.flame"
	CodeYield        note.Code = "liquid.yield-estimated"
	CodeRate         note.Code = "liquid.rate-estimated"
	CodeGasLost      note.Code = "liquid.gas-lost"
	CodeSaturated    note.Code = "liquid.sugar-saturated"
	CodeHotSyrup     note.Code = "liquid.hot-syrup"
	CodeCorrosive    note.Code = "liquid.corrosive"
	CodeReads        note.Code = "liquid.refractometer-reads"
	CodeFreeCalcium  note.Code = "liquid.free-calcium"
	CodeSplitWarm    note.Code = "liquid.split-warm-rest"
	CodeSplitWater   note.Code = "liquid.split-add-water"
	CodeSplitDone    note.Code = "liquid.split"
	CodeSplitOff     note.Code = "liquid.split-not-needed"
	CodeAsideLeft    note.Code = "liquid.aside-left"
)

// Codes lists every code of this package, for the test of the text catalogue.
var Codes = [...]note.Code{
	CodeNotFinite, CodeNegative, CodeOver100, CodeTooMuch, CodeNothing, CodeBadPH, CodeDryPH, CodeBadSpread,
	CodeBadSID, CodeBadDensity, CodeEmpty, CodeBadAmount, CodeTooMany, CodeBadStep, CodeTooDry, CodeNotLess,
	CodeBadYield, CodeBadTime, CodeBadTemp, CodeNoRoot, CodeNoSugar, CodeBadReading, CodeUnreachable,
	CodeBadTarget, CodeNotThere, CodeBadHardness, CodeNoSplit, CodeBadSplit, CodeRange,
	CodePHEstimated, CodeActivityCap, CodePHAlcohol, CodePHSugar, CodePHProtein, CodePHNoWater, CodeMeasured,
	CodeMeasureFar, CodeThumb, CodeOpenShare, CodeProtease, CodePreheated, CodeTannin, CodeSpores, CodeRawEgg, CodeLowAcid,
	CodeCurdle, CodeFortified, CodeRayleigh, CodeStrong, CodeRetention, CodeOpenPan, CodeInterpolated, CodeBeyondTable,
	CodeFlame, CodeYield, CodeRate, CodeGasLost, CodeSaturated, CodeHotSyrup, CodeCorrosive, CodeReads, CodeFreeCalcium,
	CodeSplitWarm, CodeSplitWater, CodeSplitDone, CodeSplitOff,
	CodeNoAside, CodeBadAside, CodeNoAlcohol, CodeAsideLeft,
}
