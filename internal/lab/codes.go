package lab

import "tremblant/internal/note"

// The notes of this package. Each has its sentence in the text catalogue.
const (
	CodeUsualDensity note.Code = "lab.usual-density"
	CodeUsualSheet   note.Code = "lab.usual-sheet"
	CodeNameless     note.Code = "lab.nameless"
)

// Codes lists them all, so that a test can ask for their sentences.
var Codes = [...]note.Code{CodeUsualDensity, CodeUsualSheet, CodeNameless}

// CodeBadClock refuses a time of day that cannot be read.
const CodeBadClock note.Code = "lab.bad-clock"
