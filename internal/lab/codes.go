package lab

import "tremblant/internal/note"

// The notes of this package. Each has its sentence in the text catalogue.
const (
	CodeUsualDensity note.Code = "lab.usual-density"
	CodeUsualSheet   note.Code = "lab.usual-sheet"
	CodeNameless     note.Code = "lab.nameless"
	CodeUnknown      note.Code = "lab.unknown-agent"
	CodeUnknownNear  note.Code = "lab.unknown-agent-near"
	CodeStepName     note.Code = "lab.step-name"
	CodeStepUnit     note.Code = "lab.step-unit"
	CodeFigureFrom   note.Code = "lab.figure-from"
	CodeBodyFrom     note.Code = "lab.body-from"
	CodePHFrom       note.Code = "lab.ph-from"
	CodeLeft         note.Code = "lab.left"
	CodeFewChargers  note.Code = "lab.few-chargers"
	CodeFatLast      note.Code = "lab.fat-last"

	// CodeAllergensUnknown: nobody knows what these ingredients hold.
	CodeAllergensUnknown note.Code = "lab.allergens-unknown"
)

// Codes lists them all, so that a test can ask for their sentences.
var Codes = [...]note.Code{CodeUsualDensity, CodeUsualSheet, CodeNameless, CodeUnknown, CodeUnknownNear, CodeStepName, CodeStepUnit, CodeFigureFrom, CodeBodyFrom, CodePHFrom, CodeLeft, CodeFewChargers, CodeFatLast, CodeAllergensUnknown, CodeHolds}

// CodeBadClock refuses a time of day that cannot be read.
const CodeBadClock note.Code = "lab.bad-clock"
