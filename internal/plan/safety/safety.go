// Package safety puts what food codes and food authorities say beside a
// formula: holding and chilling, raw egg, oil infusions, choking, and the rest.
//
// It shows rules and judges figures against them; it never says that a food is
// safe, computes no shelf life, and takes no pH that was not measured. Every
// answer defers to the local code, the food-safety plan and licensed practice.
package safety

import (
	"tremblant/internal/note"
	"tremblant/internal/plan/cool"
	"tremblant/internal/unit"
)

// The codes of this package.
const (
	CodeBadHold     note.Code = "safety.bad-hold"     // refused: temperature or minutes are no figures
	CodeBadPH       note.Code = "safety.bad-ph"       // refused: pH or water activity are no figures
	CodeHoldMeets   note.Code = "safety.hold-meets"   // reason: within this code's limit
	CodeHoldTime    note.Code = "safety.hold-time"    // caution: outside, within the time that the code gives
	CodeHoldFails   note.Code = "safety.hold-fails"   // danger: outside the code's limit for too long
	CodeCoolMeets   note.Code = "safety.cool-meets"   // reason: chilled in the code's time even in the poor case
	CodeCoolMay     note.Code = "safety.cool-may"     // caution: the typical or the poor case is too slow
	CodeCoolFails   note.Code = "safety.cool-fails"   // caution: too slow in every case
	CodeMeasurePH   note.Code = "safety.measure-ph"   // caution: an estimate decides nothing
	CodePHClass     note.Code = "safety.ph-class"     // reason: the code's table for a measured pH and aw
	CodeAssess      note.Code = "safety.assess"       // caution: the table asks for a product assessment
	CodeRawEgg      note.Code = "safety.raw-egg"      // danger: raw egg
	CodeEggFrail    note.Code = "safety.egg-frail"    // danger: raw egg and guests at risk
	CodeOilAsk      note.Code = "safety.oil-ask"      // caution: something in oil that may be garlic or herbs
	CodeOil         note.Code = "safety.oil"          // danger: garlic or herbs in oil
	CodeLowOxygen   note.Code = "safety.low-oxygen"   // caution: siphon, oil or vacuum keep air out
	CodeFlowers     note.Code = "safety.flowers"      // caution: flowers and leaves
	CodeMiniCup     note.Code = "safety.mini-cup"     // danger: firm jelly in one bite
	CodeFirmGel     note.Code = "safety.firm-gel"     // caution: firm gel, children and old people
	CodeKonjacDry   note.Code = "safety.konjac-dry"   // danger: powder swells
	CodeKonjacSweet note.Code = "safety.konjac-sweet" // danger: not in jelly confectionery
	CodeDysphagia   note.Code = "safety.dysphagia"    // danger: no claim of a texture for swallowing trouble
	CodeSiphon      note.Code = "safety.siphon"       // danger: pressure
	CodeCalcium     note.Code = "safety.calcium"      // caution: calcium chloride irritates
	CodeBeans       note.Code = "safety.beans"        // danger: raw kidney beans
	CodeHotLiquid   note.Code = "safety.hot-liquid"   // caution: boiling liquid in blender or siphon
	CodeGuests      note.Code = "safety.guests"       // caution: laxative or disliked by some
	CodeUseBy       note.Code = "safety.use-by"       // reason: why no date is computed
)

// Hold is a time that food is kept at a temperature.
type Hold struct {
	Temp    unit.Celsius
	Minutes float64
}

// Holding compares a hold with every code: one note a code. Errors are *note.Refusal.
func Holding(h Hold) ([]note.Note, error) {
	if !unit.Finite(float64(h.Temp)) || h.Temp < -60 || h.Temp > 150 || !unit.Finite(h.Minutes) || h.Minutes < 0 {
		return nil, note.Refuse("hold", CodeBadHold)
	}
	out := make([]note.Note, 0, len(HoldRules))
	for _, r := range HoldRules {
		out = append(out, r.compare(h))
	}
	return out, nil
}

// compare sees the hold as hot or cold keeping, whichever limit is nearer.
func (r HoldRule) compare(h Hold) note.Note {
	limit, minutes := r.Cold, r.ColdMinutes
	if h.Temp > (r.Hot+r.Cold)/2 {
		limit, minutes = r.Hot, r.HotMinutes
	}
	level, code := note.Danger, CodeHoldFails
	switch {
	case h.Temp <= r.Cold || h.Temp >= r.Hot:
		level, code = note.Reason, CodeHoldMeets
	case h.Minutes <= minutes:
		level, code = note.Caution, CodeHoldTime
	}
	return note.New(level, code, note.Word("place", "place."+string(r.Place)), note.Typed("section", r.Section),
		note.Num("temp", float64(h.Temp), unit.DegreeC), note.Num("limit", float64(limit), unit.DegreeC),
		note.Num("minutes", h.Minutes, unit.Minute), note.Num("allowed", minutes, unit.Minute)).From(r.Source)
}

// Chilling compares a cooling curve with every code: one note a rule. A rule
// is met only when even the poor end of the range meets it, and failed when
// the good end fails; what cannot be reached there is failed.
func Chilling(c *cool.Curve) []note.Note {
	out := make([]note.Note, 0, len(CoolRules))
	for _, r := range CoolRules {
		out = append(out, r.compare(c))
	}
	return out
}

func (r CoolRule) compare(c *cool.Curve) note.Note {
	args := []note.Arg{note.Word("place", "place."+string(r.Place)), note.Typed("section", r.Section),
		note.Num("from", float64(r.From), unit.DegreeC), note.Num("to", float64(r.To), unit.DegreeC), note.Num("allowed", r.Minutes, unit.Minute)}
	// A caution and no danger: the rule is for food that lets germs grow, and
	// whether this is one is not known here.
	level, code := note.Caution, CodeCoolFails
	if took, ok := r.takes(c); ok {
		args = append(args, note.Num("low", took.Low, unit.Minute), note.Num("typical", took.Typical, unit.Minute), note.Num("high", took.High, unit.Minute))
		switch {
		case took.High <= r.Minutes:
			level, code = note.Reason, CodeCoolMeets
		case took.Low <= r.Minutes:
			level, code = note.Caution, CodeCoolMay
		}
	}
	return note.New(level, code, args...).From(r.Source)
}

// takes is the time in minutes between the two temperatures; a food that
// starts below the upper one is timed from its start.
func (r CoolRule) takes(c *cool.Curve) (unit.Range, bool) {
	from, err := c.TimeTo(r.From)
	if err != nil {
		return unit.Range{}, false
	}
	to, err := c.TimeTo(r.To)
	if err != nil {
		return unit.Range{}, false
	}
	return unit.Range{Low: (to.Low - from.Low) / 60, Typical: (to.Typical - from.Typical) / 60, High: (to.High - from.High) / 60}, true
}

// Class is a cell of the code's tables of pH and water activity.
type Class uint8

// The classes.
const (
	Unclassed Class = iota // nothing measured
	NoControl              // the table asks for no time or temperature control
	Assess                 // the table asks for a product assessment
)

// Control looks pH and water activity up in the code's tables: Table A for a
// food that is heated and then packaged, Table B for any other. Only measured
// figures are looked up; an estimate gives Unclassed and a note to measure.
// Errors are *note.Refusal.
func Control(ph, aw float64, measured, packaged bool) (Class, note.Note, error) {
	if !unit.Finite(ph) || ph < 0 || ph > 14 || !unit.Finite(aw) || aw < 0 || aw > 1 {
		return Unclassed, note.Note{}, note.Refuse("ph", CodeBadPH)
	}
	if !measured {
		return Unclassed, note.New(note.Caution, CodeMeasurePH, note.Num("ph", ph, unit.PH)).From(fdaTable), nil
	}
	class := tableB(ph, aw)
	if packaged {
		class = tableA(ph, aw)
	}
	level, code := note.Reason, CodePHClass
	if class == Assess {
		level, code = note.Caution, CodeAssess
	}
	return class, note.New(level, code, note.Num("ph", ph, unit.PH), note.Num("aw", aw, unit.One)).From(fdaTable), nil
}

func pick(noControl bool) Class {
	if noControl {
		return NoControl
	}
	return Assess
}

// tableA is for foods heated to destroy vegetative cells and then packaged.
func tableA(ph, aw float64) Class {
	switch {
	case ph <= 4.6:
		return NoControl
	case ph <= 5.6:
		return pick(aw <= 0.95)
	}
	return pick(aw <= 0.92)
}

// tableB is for foods not heated, or heated and not packaged.
func tableB(ph, aw float64) Class {
	switch {
	case aw < 0.88:
		return NoControl
	case aw <= 0.90:
		return pick(ph <= 5.0)
	case aw <= 0.92:
		return pick(ph <= 4.6)
	}
	return pick(ph < 4.2)
}
