package emulsion

import (
	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Window is where a style of emulsion keeps.
type Window struct {
	Style       Style
	WithEgg     bool // the row for sauces with egg
	Hold        [2]unit.Celsius
	SplitsAbove unit.Celsius // leaks or curdles above
	SplitsBelow unit.Celsius // sets and separates below
	MostHours   float64      // how long it may be held warm; 0 when it is held cold
	Source      source.Ref
}

// Windows is one row a style, and one more for butter sauces with egg.
var Windows = []Window{
	{Style: ButterSauce, Hold: [2]unit.Celsius{50, 52}, SplitsAbove: 58, SplitsBelow: 37, MostHours: 2, Source: mcGee},
	{Style: ButterSauce, WithEgg: true, Hold: [2]unit.Celsius{50, 55}, SplitsAbove: 65, SplitsBelow: 37, MostHours: 2, Source: hotEgg},
	{Style: ColdCream, Hold: [2]unit.Celsius{3, 5}, SplitsAbove: 50, SplitsBelow: 0, Source: practice},
	{Style: NutCream, Hold: [2]unit.Celsius{3, 5}, SplitsAbove: 60, SplitsBelow: 0, Source: practice},
	{Style: DairyCream, Hold: [2]unit.Celsius{3, 5}, SplitsAbove: 85, SplitsBelow: 0, Source: practice},
	{Style: Vinaigrette, Hold: [2]unit.Celsius{3, 5}, SplitsAbove: 50, SplitsBelow: 0, Source: practice},
}

// The zone in which pathogens grow, by the US Food Code, and the pH under which
// hot cream curdles (from memory).
const (
	coldEnough  unit.Celsius = 5
	hotEnough   unit.Celsius = 57
	warmCream   unit.Celsius = 60
	curdleBelow              = 5.0
)

// windows are the rows of a style.
func windows(style Style, egg bool) []Window {
	var list []Window
	for _, w := range Windows {
		if w.Style == style && (w.Style != ButterSauce || w.WithEgg == egg) {
			list = append(list, w)
		}
	}
	return list
}

func (a *Answer) temperature(in Input, s sums) {
	egg := s.yolk > 0 || s.white > 0
	a.Windows = windows(in.Style, egg)
	if in.Serve == nil {
		return
	}
	at := *in.Serve
	for _, w := range a.Windows {
		if at > w.SplitsAbove {
			a.say(note.New(note.Caution, TooHot, note.Num("at", float64(at), unit.DegreeC), note.Num("most", float64(w.SplitsAbove), unit.DegreeC)).From(w.Source).At("serve"))
		}
		if at < w.SplitsBelow {
			a.say(note.New(note.Caution, TooCold, note.Num("at", float64(at), unit.DegreeC), note.Num("least", float64(w.SplitsBelow), unit.DegreeC)).From(w.Source).At("serve"))
		}
	}
	if at > coldEnough && at < hotEnough {
		a.say(note.New(note.Danger, HoldWarm, note.Num("at", float64(at), unit.DegreeC), note.Num("hours", 2, unit.Hour)).From(twoHours).At("serve"))
	}
	if in.Style == DairyCream && at > warmCream && in.PH != (unit.Range{}) && in.PH.Low < curdleBelow {
		a.say(note.New(note.Caution, CreamCurdles, note.Num("ph", in.PH.Typical, unit.PH)).From(curdling).At("ph"))
	}
}
