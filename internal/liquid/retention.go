package liquid

import (
	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Treatment is a row of the table of alcohol retention.
type Treatment uint8

// The treatments of the table.
const (
	StirredIn       Treatment = iota // baked or simmered, alcohol stirred into the mixture: by time
	AddedOffHeat                     // added to boiling liquid, then off the heat
	Flamed                           // set alight
	NoHeatOvernight                  // kept uncovered and cold overnight
	BakedOnTop                       // not stirred in, baked 25 minutes
	numTreatments
)

// retainedShare is the share of the alcohol left by the treatments without a time.
var retainedShare = [numTreatments]float64{AddedOffHeat: 0.85, Flamed: 0.75, NoHeatOvernight: 0.70, BakedOnTop: 0.45}

// retainedByTime is the share left of alcohol stirred in, by minutes. The table
// has the rows from 15 minutes; 0 is "added to boiling liquid".
var retainedByTime = [...][2]float64{{0, 0.85}, {15, 0.40}, {30, 0.35}, {60, 0.25}, {90, 0.20}, {120, 0.10}, {150, 0.05}}

// srcHandbookBoil is where the relative volatility comes from.
var srcHandbookBoil = source.Ref{Tag: source.Memory, Text: "ethanol-water vapour-liquid equilibrium, dilute end; Rayleigh distillation"}

// Retained is the share of added alcohol left by a treatment after a time, from
// the published discrete table, linear between its rows. The second result tells
// whether the time lay between rows, and the third whether it lay beyond the last.
func Retained(how Treatment, t unit.Seconds) (share unit.Fraction, between, beyond bool, err error) {
	if how >= numTreatments {
		return 0, false, false, note.Refuse("treatment", CodeBadStep)
	}
	if how != StirredIn {
		return unit.Fraction(retainedShare[how]), false, false, nil
	}
	minutes := float64(t) / 60
	if !unit.Finite(minutes) || minutes < 0 || minutes > 7*24*60 {
		return 0, false, false, note.Refuse("time", CodeBadTime, note.Num("value", finiteOr0(minutes), unit.Minute), note.Num("limit", 7*24*60, unit.Minute))
	}
	last := retainedByTime[len(retainedByTime)-1]
	if minutes >= last[0] {
		return unit.Fraction(last[1]), false, minutes > last[0], nil
	}
	between = true
	for _, row := range retainedByTime {
		between = between && row[0] != minutes
	}
	return unit.Fraction(interpolate(retainedByTime[:], minutes)), between, false, nil
}

// retained is Retained with its notes, for a liquid.
func (l *Liquid) retained(how Treatment, t unit.Seconds) (float64, error) {
	share, between, beyond, err := Retained(how, t)
	if err != nil {
		return 0, err
	}
	ref := srcRetention.ref()
	l.say(note.New(note.Reason, CodeRetention, note.Num("kept", share.Percent(), unit.PercentOf)).From(ref))
	if between {
		l.say(note.New(note.Reason, CodeInterpolated, note.Num("time", float64(t)/60, unit.Minute)).From(ref))
	}
	if beyond {
		l.say(note.New(note.Caution, CodeBeyondTable, note.Num("limit", retainedByTime[len(retainedByTime)-1][0], unit.Minute)).From(ref))
	}
	if how == Flamed {
		l.say(note.New(note.Danger, CodeFlame))
	}
	return float64(share), nil
}
