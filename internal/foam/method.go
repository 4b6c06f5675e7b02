package foam

import (
	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// HoldRule is one published limit for keeping food hot or cold. They are shown
// together with the sentence that local codes come first.
type HoldRule struct {
	Place  string       // a key of the text catalogue
	Hot    unit.Celsius // at or above
	Cold   unit.Celsius // at or below
	Out    unit.Seconds // longest time between the two, once; 0 when not stated
	Source source.Ref
}

// HoldRules lists the limits that were read.
func HoldRules() []HoldRule {
	return []HoldRule{
		{"foam.place.us", 57, 5, 4 * hour, srcFoodCode},
		{"foam.place.england-wales", 63, 8, 2 * hour, srcEngland},
		{"foam.place.australia-nz", 60, 5, 4 * hour, srcFSANZ},
	}
}

// hottestHold and shortestOut are the strictest of [HoldRules].
const (
	hottestHold unit.Celsius = 63
	coldestHold unit.Celsius = 5
	shortestOut              = 2 * hour
)

// Sieve is the mesh that a siphon base goes through, in mm. Rule of thumb.
var Sieve = unit.Range{Low: 0.2, Typical: 0.25, High: 0.3}

// Shakes is how often a siphon is shaken after each charge. Rule of thumb.
var Shakes = unit.Range{Low: 10, Typical: 12, High: 15}

// Storage is how long a charged siphon may stay in the fridge, in seconds, if
// the base would; a rule of thumb, the base's own life comes first.
var Storage = unit.Range{Low: 24 * hour, Typical: 24 * hour, High: 48 * hour}

// BathLimit is the warmest bath for a charged siphon unless its notice says
// more. Rule of thumb.
const BathLimit unit.Celsius = 65

// Method lists the steps of one filling in order, as notes whose sentences the
// text catalogue has. Charges is how many go in, mass what is filled. A foam
// that needs no siphon gets its own short method. The dangers are not in it:
// see [Dangers].
func Method(f Formula, mass unit.Mass, charges int) []note.Note {
	kind, known := TypeByID(f.Type)
	kind = kind.resting(f)
	if !known || !kind.Siphon {
		return []note.Note{step(StepAir, srcLecithin), step(StepClean, srcPractice)}
	}
	steps := []note.Note{
		step(StepPrepare, srcPractice),
		step(StepStrain, srcPractice, note.Num("mesh", Sieve.Typical, unit.Millimetre), note.Num("high", Sieve.High, unit.Millimetre)),
		f.temper(),
		step(StepFill, srcPractice, note.Num("mass", float64(mass), unit.Gram)),
		step(StepClose, srcPractice),
	}
	steps = append(steps, chargeSteps(charges)...)
	if f.Base.Hot() {
		steps = append(steps, step(StepHold, srcSiphonPage, degrees("temperature", f.Base.Temperature), degrees("bath", BathLimit), note.Num("rest", kind.Rest.Typical/minute, unit.Minute)))
	} else {
		steps = append(steps, step(StepRest, kind.RestSource, note.Num("low", kind.Rest.Low/hour, unit.Hour), note.Num("rest", kind.Rest.Typical/hour, unit.Hour), note.Num("high", kind.Rest.High/hour, unit.Hour)))
	}
	steps = append(steps,
		step(StepSquirt, srcPractice),
		step(StepCup, srcAerosol),
		step(StepServe, srcPractice))
	if !f.Base.Hot() { // hot food is not kept: see [Dangers]
		steps = append(steps, step(StepStore, srcPractice, note.Num("low", Storage.Low/hour, unit.Hour), note.Num("high", Storage.High/hour, unit.Hour)))
	}
	return append(steps, step(StepVent, srcPractice), step(StepClean, srcPractice))
}

// gelatinPours is the heat, °C, at which a base with gelatin is cool and still pours: it
// sets in the siphon. Rule of thumb.
const gelatinPours unit.Celsius = 25

// poursAt is how warm the base must be to pour, °C; 0 where it always does.
func (f Formula) poursAt() unit.Celsius {
	if f.has("gelatin") {
		return gelatinPours
	}
	return 0
}

// temper is how warm base and body are when the base goes in.
func (f Formula) temper() note.Note {
	if f.poursAt() > f.Base.Temperature {
		return step(StepPour, srcPractice, degrees("pours", gelatinPours), degrees("temperature", f.Base.Temperature))
	}
	return step(StepTemper, srcPractice, degrees("temperature", f.Base.Temperature))
}

// Bath is what base and bath of a hot foam are kept at, °C: no warmer than its egg
// bears; the zero range for a cold foam. Rule of thumb.
func (f Formula) Bath() unit.Range {
	if !f.Base.Hot() {
		return unit.Range{}
	}
	t, most := float64(f.Base.Temperature), float64(BathLimit)
	if f.egg() {
		most = float64(eggSets)
	}
	return unit.Range{Low: min(t, usualBath), Typical: min(t, most), High: max(most, t)}
}

const usualBath = 60 // °C

// resting is the type with the rest that the formula needs: one with gelatin rests until
// that has set, whatever else foams in it.
func (t Type) resting(f Formula) Type {
	gelatin, _ := TypeByID("gelatin")
	if t.Siphon && !f.Base.Hot() && f.has("gelatin") && gelatin.Rest.Typical > t.Rest.Typical {
		t.Rest, t.RestSource = gelatin.Rest, gelatin.RestSource
	}
	return t
}

func step(c note.Code, ref source.Ref, args ...note.Arg) note.Note {
	return note.New(note.Reason, c, args...).From(ref)
}

// chargeSteps is charge, shake, charge, shake: never two charges running.
func chargeSteps(charges int) []note.Note {
	var steps []note.Note
	for n := 1; n <= charges; n++ {
		of := []note.Arg{note.Num("number", float64(n), unit.One), note.Num("of", float64(charges), unit.One)}
		steps = append(steps, step(StepCharge, srcPractice, of...),
			step(StepShake, srcPractice, note.Num("low", Shakes.Low, unit.One), note.Num("high", Shakes.High, unit.One)))
	}
	return steps
}

// Dangers lists what may hurt somebody with this formula. It is never empty and
// belongs to every answer; the page shows it always.
func Dangers(f Formula) []note.Note {
	var notes []note.Note
	danger := func(hit bool, c note.Code, ref source.Ref, args ...note.Arg) {
		if hit {
			notes = append(notes, note.New(note.Danger, c, args...).From(ref))
		}
	}
	kind, known := TypeByID(f.Type)
	siphon := !known || kind.Siphon
	t := f.Base.Temperature
	danger(siphon, DangerPressure, srcBursting)
	danger(siphon, DangerHead, srcDGCCRF)
	danger(siphon, DangerNotice, srcDGCCRF)
	danger(siphon, DangerGas, srcPractice)
	danger(siphon, DangerOpening, srcPractice)
	danger(siphon, DangerBlocked, srcSiphonPage)
	danger(siphon, DangerWarming, srcModel, degrees("limit", BathLimit))
	danger(siphon, DangerFrost, srcColdBoil)
	danger(siphon, DangerInhaling, srcFDA)
	danger(f.Base.Hot(), DangerHot, srcPractice, degrees("temperature", t))
	danger(t > coldestHold+3 && t < hottestHold, DangerHoldTime, srcEngland, degrees("temperature", t), note.Num("hours", shortestOut/hour, unit.Hour), degrees("hot", hottestHold), degrees("cold", coldestHold))
	danger(f.egg() && f.RawEgg, DangerRawEgg, srcRawEgg)
	for _, a := range f.allergens() {
		danger(true, DangerAllergens, srcAllergen, note.Word("allergen", "foam.allergen."+a))
	}
	danger(f.has("foam-stab"), DangerBlendRead, srcPractice)
	if len(notes) == 0 { // a cold air of plain juice: the label is still to be read
		danger(true, DangerBlendRead, srcPractice)
	}
	return notes
}

// allergens lists the declarable ones that the formula itself tells of.
func (f Formula) allergens() []string {
	var all []string
	add := func(hit bool, id string) {
		if hit {
			all = append(all, id)
		}
	}
	add(f.Base.MilkFat > 0 || f.has("milkprotein") || f.Type == "cream" || f.Type == "cream-whisked", "milk")
	add(f.egg(), "egg")
	add(f.has("lecithin"), "soy")
	add(f.FishGelatin && f.has("gelatin"), "fish")
	return all
}
