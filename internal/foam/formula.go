package foam

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Formula is a foam base as the cook mixes it.
type Formula struct {
	Type   string // of [Types]
	Base   Base
	Liquid unit.Mass // what the doses are reckoned on; 0: the doses are not checked
	Doses  []Dose

	// Shares of the base's mass, where there are such ingredients.
	Puree, EggWhite, Egg unit.Fraction

	PH          float64 // 0 when not known
	Bloom       float64 // of the gelatin; 0 is 200
	FishGelatin bool
	RawEgg      bool // egg that is not pasteurised
	Seeds       bool // pips or seeds went through the blender
	EnzymeFruit bool // raw pineapple, kiwi, papaya, fig, ginger
	Strained    bool // through a sieve of 0.3 mm or finer
	Chilled     bool // milk fat has had its hours at or under 7 °C
}

// Dose is a weighed amount of one agent.
type Dose struct {
	Agent string // an ID of the agent catalogue
	Mass  unit.Mass
}

// DoseVerdict sets one dose beside its window.
type DoseVerdict struct {
	Agent  string
	Dose   unit.Fraction // parts of the liquid's mass
	Window unit.Range    // zero when the agent is foreign to this foam
	Grams  unit.Range    // the window for this liquid, g
	Note   note.Note
}

// Verdict is a formula set against the windows of its type.
type Verdict struct {
	Type  Type
	Doses []DoseVerdict
	Notes []note.Note // windows, cautions; the dangers come last and are never missing
}

// Fibre in a base, as a share: sieve above the first, no siphon above the second
// unless it was sieved. Rule of thumb, no source: nobody seems to have measured it.
const (
	fibreMuch = 0.015
	fibreTop  = 0.04
)

// Check sets a formula against its type's windows: doses, shares, temperature,
// alcohol, acidity, fibre. Errors are refusals: an unknown type, figures that
// are none, and what must not go into a siphon (a foam far over its
// temperature, egg that would set, coarse fibre, alcohol over the top).
func Check(f Formula) (Verdict, error) {
	kind, err := f.kind()
	if err != nil {
		return Verdict{}, err
	}
	v := Verdict{Type: kind}
	for _, d := range f.Doses {
		v.Doses = append(v.Doses, f.dose(kind, d))
	}
	for _, d := range v.Doses {
		v.Notes = append(v.Notes, d.Note)
	}
	v.Notes = append(v.Notes, f.missing(kind)...)
	v.Notes = append(v.Notes, f.shareNotes(kind)...)
	v.Notes = append(v.Notes, f.conditions(kind)...)
	v.Notes = append(v.Notes, f.melted(kind)...)
	v.Notes = append(v.Notes, Dangers(f)...)
	return v, nil
}

// kind finds the type and makes the refusals of [Check].
func (f Formula) kind() (Type, error) {
	kind, known := TypeByID(f.Type)
	if !known {
		return kind, note.Refuse("type", CodeUnknownType, note.Typed("type", f.Type))
	}
	if err := f.Base.check(); err != nil {
		return kind, err
	}
	if err := f.figures(); err != nil {
		return kind, err
	}
	return kind, f.unfit(kind)
}

func (f Formula) figures() error {
	if err := within("liquid", float64(f.Liquid), 0, 1e6, unit.Gram); err != nil {
		return err
	}
	for _, d := range f.Doses {
		if err := within("dose", float64(d.Mass), 0, 1e6, unit.Gram); err != nil {
			return err
		}
	}
	for _, s := range []unit.Fraction{f.Puree, f.EggWhite, f.Egg} {
		if err := within("share", float64(s)*100, 0, 100, unit.PercentOf); err != nil {
			return err
		}
	}
	if err := within("ph", f.PH, 0, 14, unit.PH); err != nil {
		return err
	}
	if f.Bloom != 0 {
		return within("bloom", f.Bloom, 50, 300, unit.Bloom)
	}
	return within("bloom", f.Bloom, 0, 0, unit.Bloom)
}

// unfit refuses what must not be charged as it is.
func (f Formula) unfit(kind Type) error {
	t := f.Base.Temperature
	if f.egg() && t > eggSets {
		return refusedFrom("temperature", CodeEggSets, srcEggSet, degrees("temperature", t), degrees("limit", eggSets), degrees("nearest", eggNearest))
	}
	if t > kind.Top {
		args := []note.Arg{degrees("temperature", t), degrees("limit", kind.Top), degrees("nearest", unit.Celsius(kind.Temp.Typical)), note.Word("type", "foam.type."+kind.ID), note.Word("instead", insteadKey(kind))}
		return refusedFrom("temperature", CodeTooHot, kind.Source, args...)
	}
	if a := f.Base.alcohol(); kind.AlcoholTop > 0 && a > float64(kind.AlcoholTop) {
		return refusedFrom("ethanol", CodeAlcoholTop, srcSiphonPage, note.Num("value", a*100, unit.ABV), note.Num("limit", kind.AlcoholTop.Percent(), unit.ABV),
			note.Num("nearest", kind.AlcoholWeak.Percent(), unit.ABV))
	}
	if fibre := float64(f.Base.Fibre); kind.Siphon && !f.Strained && fibre > fibreTop {
		return refusedFrom("fibre", CodeFibreTop, srcPractice, note.Num("value", fibre*100, unit.PercentOf),
			note.Num("limit", fibreTop*100, unit.PercentOf), note.Num("add", (fibre/fibreMuch-1)*100, unit.Gram))
	}
	return nil
}

func refusedFrom(field string, c note.Code, ref source.Ref, args ...note.Arg) error {
	r := note.Refuse(field, c, args...)
	r.Source = ref
	return r
}

func degrees(name string, t unit.Celsius) note.Arg {
	return note.Num(name, float64(t), unit.DegreeC)
}

func insteadKey(kind Type) string {
	if kind.HotInstead == "" {
		return "foam.type.none"
	}
	return "foam.type." + kind.HotInstead
}

// egg reports whether the base holds egg in any form.
func (f Formula) egg() bool {
	return f.EggWhite > 0 || f.Egg > 0 || f.has("eggwhite")
}

func (f Formula) has(agent string) bool {
	for _, d := range f.Doses {
		if d.Agent == agent && d.Mass > 0 {
			return true
		}
	}
	return false
}

// window finds the window of an agent; gelatin's is moved by its bloom.
func (f Formula) window(kind Type, agent string) (Window, bool) {
	for _, w := range kind.Doses {
		if w.ID == agent {
			if agent == "gelatin" && f.Bloom > 0 {
				w.Amount = w.Amount.Scale(math.Sqrt(200 / f.Bloom))
			}
			return w, true
		}
	}
	return Window{}, false
}

// dose judges one dose. Without a liquid the grams cannot be judged.
func (f Formula) dose(kind Type, d Dose) DoseVerdict {
	w, known := f.window(kind, d.Agent)
	v := DoseVerdict{Agent: d.Agent}
	if known {
		v.Window, v.Grams = w.Amount, w.Amount.Scale(float64(f.Liquid))
	}
	if f.Liquid > 0 {
		v.Dose = unit.Fraction(d.Mass / f.Liquid)
	}
	args := []note.Arg{
		note.Word("agent", "agent."+d.Agent), note.Num("dose", v.Dose.Percent(), unit.GramPer100),
		note.Num("low", w.Amount.Low*100, unit.GramPer100), note.Num("high", w.Amount.High*100, unit.GramPer100),
		note.Num("grams", float64(f.Liquid)*w.Amount.Typical, unit.Gram), note.Word("type", "foam.type."+kind.ID),
	}
	level, code := note.Reason, CodeDoseFits
	switch x := float64(v.Dose); {
	case !known:
		level, code = note.Caution, CodeDoseForeign
	case f.Liquid == 0:
	case x < w.Amount.Low*edge(-1):
		level, code = note.Caution, CodeDoseLow
	case x > w.Amount.High*edge(1):
		level, code = note.Caution, CodeDoseHigh
	}
	v.Note = note.New(level, code, args...).At("dose." + d.Agent).From(w.Source)
	return v
}

// edge lets a dose exactly on its limit pass whatever its last digit.
func edge(sign float64) float64 { return 1 + sign*1e-9 }

// missing says which structure is wanting: nothing that holds the bubbles.
func (f Formula) missing(kind Type) []note.Note {
	var notes []note.Note
	found, main := 0, 0
	for _, w := range append(append([]Window{}, kind.Doses...), kind.Shares...) {
		if w.Help {
			continue
		}
		main++
		if f.amount(w.ID) > 0 {
			found++
			continue
		}
		notes = append(notes, note.New(note.Caution, CodeDoseMissing, note.Word("agent", wordOf(w.ID)),
			note.Num("low", w.Amount.Low*100, unit.GramPer100), note.Num("high", w.Amount.High*100, unit.GramPer100),
			note.Word("type", "foam.type."+kind.ID)).From(w.Source))
	}
	if kind.OneOf && found > 0 {
		return nil
	}
	if kind.OneOf && len(notes) > 1 {
		return notes[:1] // the first is the usual one; the rest are other ways
	}
	return notes
}

// wordOf is the text catalogue's key of an agent or share.
func wordOf(id string) string {
	switch id {
	case ShareFat, ShareEgg, ShareEggWhite, SharePuree, ShareOil:
		return "foam." + id
	}
	return "agent." + id
}

// amount is how much there is of an agent (1 when any) or of a share.
func (f Formula) amount(id string) float64 {
	switch id {
	case ShareFat:
		return float64(f.Base.MilkFat + f.Base.Oil)
	case ShareOil:
		return float64(f.Base.Oil)
	case ShareEgg:
		return float64(f.Egg)
	case ShareEggWhite:
		return float64(f.EggWhite)
	case SharePuree:
		return float64(f.Puree)
	}
	if f.has(id) {
		return 1
	}
	return 0
}

// shareNotes judges fat, egg and purée as shares of the base.
func (f Formula) shareNotes(kind Type) []note.Note {
	var notes []note.Note
	for _, w := range kind.Shares {
		x := f.amount(w.ID)
		level, code := note.Reason, note.Code("")
		switch {
		case x == 0:
		case x < w.Amount.Low*edge(-1):
			level, code = note.Caution, CodeShareLow
			if w.ID == ShareFat && (f.has("gelatin") || f.has("xanthan") || f.has("foam-stab")) {
				level, code = note.Reason, CodeLowFatHelp
			}
		case x > w.Amount.High*edge(1):
			level, code = note.Caution, CodeShareHigh
		}
		if code != "" {
			notes = append(notes, note.New(level, code, note.Word("share", "foam."+w.ID), note.Num("value", x*100, unit.PercentOf),
				note.Num("low", w.Amount.Low*100, unit.PercentOf), note.Num("high", w.Amount.High*100, unit.PercentOf),
				note.Word("type", "foam.type."+kind.ID)).From(w.Source))
		}
	}
	return notes
}
