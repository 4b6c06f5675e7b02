package dry

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Body is what the dry matter is made of, for how it holds water.
type Body uint8

// The bodies.
const (
	Leaf   Body = iota // leaves, vegetables, mushrooms
	Fruit              // much sugar
	Starch             // crisps of starch, grain, root
)

// Isotherm holds the constants of the GAB equation; Layer in g water per g dry
// matter, the other two plain.
type Isotherm struct {
	Layer unit.Range
	C, K  float64
}

// Isotherms of the bodies, from memory of published ones; raisins have a layer
// of 0.082 (Esmaiili Bazardeh & Esmaiili 2014).
var Isotherms = [...]Isotherm{
	Leaf:   {unit.Range{Low: 0.050, Typical: 0.065, High: 0.085}, 15, 0.90},
	Fruit:  {unit.Range{Low: 0.070, Typical: 0.090, High: 0.130}, 5, 0.98},
	Starch: {unit.Range{Low: 0.055, Typical: 0.075, High: 0.100}, 20, 0.80},
}

// Holds is the water in g per g dry matter at a water activity, by the GAB
// equation: layer · CKa / ((1-Ka)(1-Ka+CKa)). Activity from 0 to below 1/K.
func (i Isotherm) Holds(layer, activity float64) float64 {
	ka := i.K * activity
	return layer * i.C * ka / ((1 - ka) * (1 - ka + i.C*ka))
}

// topActivity is the highest water activity that is told; the equation fails above.
const topActivity = 0.97

// Activity is the water activity at a moisture (water over the whole), up to 0.97.
func (i Isotherm) Activity(moisture unit.Fraction) unit.Range {
	x := float64(moisture / (1 - moisture))
	return unit.Range{Low: i.solve(i.Layer.High, x), Typical: i.solve(i.Layer.Typical, x), High: i.solve(i.Layer.Low, x)}
}

func (i Isotherm) solve(layer, x float64) float64 {
	low, high := 0.0, topActivity
	for range 60 {
		at := (low + high) / 2
		if i.Holds(layer, at) < x {
			low = at
		} else {
			high = at
		}
	}
	return (low + high) / 2
}

// The limits of water activity.
const (
	crispTo   = 0.35 // crisp up to here,
	softFrom  = 0.50 // soft for certain from here
	mouldFrom = 0.60 // nothing grows below
	lawLimit  = 0.85
)

// leanMoisture is the moisture of the product without its fat: fat holds no
// water, so that what there is stands in the rest.
func (a *Answer) leanMoisture() unit.Fraction {
	water, lean := float64(a.Balance.Dry-a.Balance.Solids), a.Balance.lean()
	if !(water > 0) {
		return 0
	}
	return unit.Fraction(water / (water + lean))
}

// store says how it keeps.
func (a *Answer) store(in Input) {
	iso := Isotherms[in.Body]
	a.Activity = iso.Activity(a.leanMoisture())
	act := []note.Arg{note.Num("low", a.Activity.Low, unit.One), note.Num("high", a.Activity.High, unit.One)}
	switch {
	case a.Activity.High > lawLimit:
		a.say(note.New(note.Danger, NotShelf, append(act, note.Num("most", lawLimit, unit.One))...).From(acidLaw))
	case a.Activity.High > mouldFrom:
		a.say(note.New(note.Danger, MayMould, append(act, note.Num("most", mouldFrom, unit.One))...).From(noGrowth))
	}
	code := Softens
	switch {
	case a.Activity.High < crispTo:
		code = StaysCrisp
	case a.Activity.Low > softFrom:
		code = Leathery
	}
	a.say(note.New(note.Reason, code, act...).From(katz))
	if in.Form == Sheet {
		a.say(note.New(note.Hint, KeepSheet).From(practice)) // a sachet would take the water that bends it
	} else {
		a.say(note.New(note.Hint, KeepAirtight).From(practice))
	}
	if in.Humidity <= 0 {
		return
	}
	water, solids := iso.Holds(iso.Layer.Typical, min(float64(in.Humidity), topActivity))*a.Balance.lean(), float64(a.Balance.Solids)
	a.RoomMoisture = unit.Fraction(water / (solids + water))
	if in.Humidity > crispTo {
		gain := solids + water - float64(a.Balance.Dry)
		a.say(note.New(note.Caution, RoomDamp, note.Num("humidity", in.Humidity.Percent(), unit.PercentOf), note.Num("moisture", a.RoomMoisture.Percent(), unit.PercentOf),
			note.Num("gain", max(0, gain), unit.Gram)).From(sorption))
	}
}
