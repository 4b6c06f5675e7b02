package dry

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Form is what it shall become.
type Form uint8

// The forms.
const (
	Powder Form = iota
	Crisp
	Sheet
)

// Input is a wet mix and what it shall become.
type Input struct {
	Form     Form
	Body     Body
	Parts    []Part
	Residual unit.Fraction // water in the product, by weight: 3 to 6 % for powder and crisp, 12 to 18 % for a sheet that bends
	Loss     unit.Fraction // at tray, grinder and sieve, below 1
	Want     unit.Mass     // of product, g; 0 takes the parts as they are

	Load    float64      // wet mix on the tray, g/cm²
	Tray    float64      // area of one tray, cm²; 0 when not known
	Density unit.Density // of the wet mix, g/ml; 0 takes 1.03

	Temperature unit.Celsius  // of the air
	Keep        []Kept        // what shall be kept
	Trials      []Trial       // of this kitchen
	Humidity    unit.Fraction // of the room; 0 when not known

	Animal bool          // raw egg, fish, meat or milk in it
	Swells unit.Fraction // konjac or another gum that swells in the throat, of the wet mix
}

// Answer is how to dry it and what comes of it.
type Answer struct {
	Parts        []Part // scaled to Want
	Balance      Balance
	Area         float64 // cm²
	Trays        int     // 0 without a tray
	Layer        float64 // mm of wet mix
	From, To     unit.Celsius
	Clash        []Kept        // two things that no one temperature keeps
	Time         unit.Range    // s
	ByTrials     bool          // Time comes from the kitchen's own trials
	Activity     unit.Range    // water activity of the product
	RoomMoisture unit.Fraction // that it takes up in the open room; 0 without a humidity
	Notes        []note.Note
}

func (a *Answer) say(n note.Note) { a.Notes = append(a.Notes, n) }

// Limits of what is taken: air up to 120 °C, 0.001 to 5 g/cm² on a tray.
const (
	maxHeat   = unit.Celsius(120)
	maxLoad   = 5.0
	leastLoad = 1e-3
	thick     = 0.5 // g/cm²; over it a crust closes before the middle is dry
	maxTray   = 1e6 // cm²
	mostlyGum = 0.1 // of the product; over it a crisp is as good as the gum (common practice)
	fatty     = 0.3 // of the product; over it fat rules how it feels and keeps (common practice)
)

// Make works out the drying. A refusal is a *note.Refusal.
func Make(in Input) (Answer, error) {
	if err := in.check(); err != nil {
		return Answer{}, err
	}
	a := Answer{Parts: in.Parts}
	var err error
	if in.Want > 0 {
		a.Parts, a.Balance, err = WetFor(in.Parts, in.Residual, in.Loss, in.Want)
	} else {
		a.Balance, err = Dry(in.Parts, in.Residual, in.Loss)
	}
	if err != nil {
		return Answer{}, err
	}
	a.spread(in)
	if err := a.temperature(in); err != nil {
		return Answer{}, err
	}
	if err := a.time(in); err != nil {
		return Answer{}, err
	}
	a.store(in)
	a.cautions(in)
	return a, nil
}

func (in Input) check() error {
	switch {
	case !(in.Load >= leastLoad && in.Load <= maxLoad):
		return note.Refuse("load", BadFigure, note.Num("most", maxLoad, unit.One))
	case !(in.Tray >= 0 && in.Tray <= maxTray):
		return note.Refuse("tray", BadFigure, note.Num("most", maxTray, unit.SquareCm))
	case in.Density != 0 && !(in.Density >= 0.1 && in.Density <= 2):
		return note.Refuse("density", BadFigure, note.Num("most", 2, unit.GramPerMl))
	case !(in.Temperature > 0 && in.Temperature <= maxHeat):
		return note.Refuse("temperature", BadFigure, note.Num("most", float64(maxHeat), unit.DegreeC))
	case !(in.Humidity >= 0 && in.Humidity <= 1):
		return note.Refuse("humidity", BadFigure, note.Num("most", 100, unit.PercentOf))
	case !(in.Swells >= 0 && in.Swells <= 1):
		return note.Refuse("parts", BadShare)
	case !(in.Want >= 0 && in.Want <= maxMass):
		return note.Refuse("want", BadFigure, note.Num("most", float64(maxMass), unit.Gram))
	case int(in.Body) >= len(Isotherms):
		return note.Refuse("body", BadFigure, note.Num("most", float64(len(Isotherms)), unit.One))
	}
	return nil
}

// spread puts the wet mix on trays.
func (a *Answer) spread(in Input) {
	density := float64(in.Density)
	if density == 0 {
		density = 1.03
	}
	a.Area = float64(a.Balance.Wet) / in.Load
	a.Layer = in.Load / density * 10
	if in.Tray >= 1 {
		a.Trays = int(math.Ceil(a.Area/in.Tray - 1e-9))
	}
	if in.Load > thick {
		a.say(note.New(note.Caution, Thick, note.Num("layer", a.Layer, unit.Millimetre)).From(practice).At("load"))
	}
}

func (a *Answer) time(in Input) error {
	// The logarithm of no water at all is no time: the last 0.1 % is not counted.
	end := max(in.Residual, min(0.001, a.Balance.Start/2))
	if in.Residual < driest {
		a.say(note.New(note.Caution, NearZero, note.Num("residual", in.Residual.Percent(), unit.PercentOf), note.Num("least", driest.Percent(), unit.PercentOf)).From(practice).At("residual"))
	}
	var err error
	a.Time, err = Time(Trial{Temperature: in.Temperature, Load: in.Load, Start: a.Balance.Start, End: end}, in.Trials)
	if err != nil {
		return err
	}
	a.ByTrials = len(in.Trials) > 0
	told := func(name string, seconds float64) note.Arg {
		return note.Num(name, unit.Digits(seconds/3600, 2), unit.Hour)
	} // nobody knows it better
	hours := []note.Arg{told("low", a.Time.Low), told("typical", a.Time.Typical), told("high", a.Time.High)}
	if a.ByTrials {
		a.say(note.New(note.Reason, TimeTrials, append(hours, note.Num("trials", float64(len(in.Trials)), unit.One))...).From(ownRuns))
	} else {
		a.say(note.New(note.Hint, TimeThumb, hours...).From(practice))
	}
	return nil
}

func (a *Answer) cautions(in Input) {
	a.say(note.New(note.Caution, Spores).From(spores))
	if in.Form == Powder {
		a.say(note.New(note.Caution, Inhale).From(lungs))
	}
	switch share := float64(in.Swells) * float64(a.Balance.Wet/a.Balance.Dry); {
	case !(share > 0):
	case in.Form == Powder || share > mostlyGum:
		a.say(note.New(note.Danger, Swells).From(konjac))
	default: // held in the body of a crisp or a sheet
		a.say(note.New(note.Caution, SwellsHeld, note.Num("share", unit.Digits(100*share, 2), unit.PercentOf)).From(konjac))
	}
	if fat := a.Balance.Fat / a.Balance.Dry; fat > fatty {
		a.say(note.New(note.Caution, FatStays, note.Num("fat", math.Round(100*float64(fat)), unit.PercentOf)).From(practice))
	}
	if a.Balance.Ethanol > 0 {
		a.say(note.New(note.Danger, Alcohol, note.Num("alcohol", float64(a.Balance.Ethanol)*float64(a.Balance.Wet), unit.Gram)).From(practice))
	}
}
