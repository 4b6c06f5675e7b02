package dry

import (
	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Kept names what the drying shall keep.
type Kept string

// Window is the air temperature that keeps something. The figures are rules of
// thumb that lean on the named source; the source measured its own plant.
type Window struct {
	Kept      Kept
	Low, High unit.Celsius
	Source    source.Ref
}

// Windows is one row a thing kept.
var Windows = []Window{
	{"green", 35, 50, kale},
	{"aroma", 35, 45, lemony},
	{"beet-red", 40, 55, reds},
	{"berry-red", 40, 60, reds},
	{"enzyme", 30, 40, browning},
	{"leather", 60, 63, leather},
	{"speed", 60, 66, homeDry},
	{"crisp", 55, 70, practice},
}

// common is where the windows of all that shall be kept overlap. When they do
// not, clash names two that cannot be had together, and low and high are the
// gentler one's.
func common(kept []Kept) (low, high unit.Celsius, clash []Kept, refs []source.Ref, err error) {
	low, high = 0, 200
	var lowBy, highBy Window
	for _, k := range kept {
		w, ok := window(k)
		if !ok {
			return 0, 0, nil, nil, note.Refuse("keep", BadFigure, note.Num("most", float64(len(Windows)), unit.One))
		}
		if w.Low > low {
			low, lowBy = w.Low, w
		}
		if w.High < high {
			high, highBy = w.High, w
		}
		refs = append(refs, w.Source)
	}
	if low > high {
		return highBy.Low, highBy.High, []Kept{highBy.Kept, lowBy.Kept}, refs, nil
	}
	return low, high, nil, refs, nil
}

func window(k Kept) (Window, bool) {
	for _, w := range Windows {
		if w.Kept == k {
			return w, true
		}
	}
	return Window{}, false
}

func (a *Answer) temperature(in Input) error {
	if len(in.Keep) > 0 {
		low, high, clash, refs, err := common(in.Keep)
		if err != nil {
			return err
		}
		a.From, a.To, a.Clash = low, high, clash
		bounds := []note.Arg{note.Num("low", float64(low), unit.DegreeC), note.Num("high", float64(high), unit.DegreeC)}
		if clash != nil {
			a.say(note.New(note.Caution, WindowClash, append(bounds, note.Word("one", "dry.kept."+string(clash[0])), note.Word("other", "dry.kept."+string(clash[1])))...).From(refs[0]))
		} else {
			a.say(note.New(note.Reason, WindowKept, bounds...).From(refs[0]))
		}
		switch at := note.Num("at", float64(in.Temperature), unit.DegreeC); {
		case in.Temperature > high:
			a.say(note.New(note.Caution, TooHot, append(bounds, at)...).From(refs[0]).At("temperature"))
		case in.Temperature < low:
			a.say(note.New(note.Caution, TooCool, append(bounds, at)...).From(refs[0]).At("temperature"))
		}
	}
	level := note.Caution
	if in.Animal {
		level = note.Danger
		a.say(note.New(note.Danger, AnimalFirst).From(heat))
	}
	if in.Temperature < warmTop {
		a.say(note.New(level, WarmZone, note.Num("at", float64(in.Temperature), unit.DegreeC), note.Num("top", float64(warmTop), unit.DegreeC)).From(zone).At("temperature"))
	}
	return nil
}

// warmTop is where growth in wet food ends by the US Food Code.
const warmTop unit.Celsius = 57
