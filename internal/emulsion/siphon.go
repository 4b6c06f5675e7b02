package emulsion

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Siphon says whether an emulsion can be charged in a siphon.
type Siphon struct {
	Ready  bool // as it stands
	Barred bool // not at any dilution, as long as its egg is raw and its acid not inside the figures
	// Add is watery liquid (stock, juice, milk) that brings the oil to MostSiphonOil; zero when none is needed.
	Add     unit.Mass
	Total   unit.Mass     // with Add
	Oil     unit.Fraction // by weight, with Add
	Gelatin unit.Range    // g of 200 bloom gelatin as the wall of the bubbles, for Total; zero served warm
	Overrun unit.Range    // expected, as a share of the volume: 1 is double
}

// MostSiphonOil and EdgeSiphonOil are the oil shares by weight up to which an
// emulsion is charged: 40 % for certain, up to 50 % if it pours like cream.
// Common practice, no source.
const (
	MostSiphonOil unit.Fraction = 0.40
	EdgeSiphonOil unit.Fraction = 0.50
)

// siphonXanthan per g of the charged mix is what stands in for gelatin that would
// melt, above gelatinMelts (both common practice).
var siphonXanthan = unit.Range{Low: 0.002, Typical: 0.003, High: 0.004}

const gelatinMelts unit.Celsius = 25

// warm reports whether it is served too warm for a wall of gelatin.
func (in Input) warm() bool {
	if in.Serve != nil {
		return *in.Serve > gelatinMelts
	}
	return in.Style == ButterSauce
}

// siphonGelatin per g of the charged mix and siphonOverrun, both common
// practice, no source: oil breaks foam, so it expands less than a lean base.
var (
	siphonGelatin = unit.Range{Low: 0.008, Typical: 0.010, High: 0.012}
	siphonOverrun = unit.Range{Low: 0.5, Typical: 1.2, High: 2.0}
)

func (a *Answer) siphon(in Input, s sums) {
	sp := Siphon{Total: a.Total, Oil: a.OilByMass}
	if extra := s.oil/float64(MostSiphonOil) - s.mass; extra > 0 {
		sp.Add = unit.Mass(extra)
		sp.Total += sp.Add
		sp.Oil = MostSiphonOil
	}
	sp.Ready = sp.Add == 0
	sp.Gelatin, sp.Overrun = siphonGelatin.Scale(float64(sp.Total)), siphonOverrun
	if s.rawEgg > 0 && (!insideAcid(in, s) || sp.Add > 0) {
		sp.Barred, sp.Ready = true, false
		most, _ := s.eggLimit()
		a.say(note.New(note.Danger, SiphonRawEgg, note.Num("most", most, unit.PH)).From(foodCode))
	}
	if sp.Add > 0 {
		a.say(note.New(note.Hint, SiphonDilute, note.Num("add", float64(sp.Add), unit.Gram), note.Num("oil", a.OilByMass.Percent(), unit.PercentOf),
			note.Num("most", MostSiphonOil.Percent(), unit.PercentOf), note.Num("edge", EdgeSiphonOil.Percent(), unit.PercentOf)).From(practice))
	} else {
		a.say(note.New(note.Hint, SiphonReady, note.Num("oil", a.OilByMass.Percent(), unit.PercentOf)).From(practice))
	}
	code, wall := SiphonWall, sp.Gelatin
	if in.warm() {
		sp.Gelatin, code, wall = unit.Range{}, SiphonWallWarm, siphonXanthan.Scale(float64(sp.Total))
	}
	a.Siphon = sp
	a.say(note.New(note.Hint, code, note.Num("low", unit.Digits(wall.Low, 2), unit.Gram), note.Num("high", unit.Digits(wall.High, 2), unit.Gram),
		note.Num("expect", sp.Overrun.Typical*100, unit.PercentOf)).From(practice))
	a.say(note.New(note.Caution, SiphonSieve).From(practice))
}
