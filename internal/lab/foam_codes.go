package lab

import "tremblant/internal/note"

// The notes of the siphon's section that the core does not make.
const (
	CodeFoamKind   note.Code = "lab.foam-kind"   // nothing tells the kind of foam
	CodeFoamServed note.Code = "lab.foam-served" // the temperature is not what "cold" or "hot" says
	CodeFoamWhole  note.Code = "lab.foam-whole"  // a part of a siphon

	// The same as the core says, where the rule of thumb is one number.
	CodeFoamRuleAgrees  note.Code = "lab.foam-rule-agrees"
	CodeFoamRuleDiffers note.Code = "lab.foam-rule-differs"
)

// FoamCodes lists them all, so that a test can ask for their sentences.
var FoamCodes = [...]note.Code{CodeFoamKind, CodeFoamServed, CodeFoamWhole, CodeFoamRuleAgrees, CodeFoamRuleDiffers}
