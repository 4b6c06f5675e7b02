// Package cool tells when a hot food has cooled to its setting temperature and
// to the cold that food law asks for.
//
// Model: transient heat conduction with constant properties and convection at
// the surface (Biot number), solved by Fourier series: a layer with two
// different faces, or slab, cylinder and sphere and their products for finite
// bodies. Thin liquids that are moved have one temperature (lumped model). The
// answer is a range, since the heat transfer coefficient of a kitchen's fridge
// is known within a factor of two at best. Not modelled: evaporation from an
// open surface (faster), the warming of a small fridge by its load (slower),
// and the small heat of setting.
package cool

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// The codes of this package.
const (
	CodeBadTemperature note.Code = "cool.bad-temperature" // refused: not a temperature between 0 and 150 °C, medium from −60 °C
	CodeBadComposition note.Code = "cool.bad-composition" // refused: parts do not add to one
	CodeBadProperties  note.Code = "cool.bad-properties"  // refused: conductivity, heat capacity or density
	CodeBadLength      note.Code = "cool.bad-length"      // refused: a measure of the vessel
	CodeBadMedium      note.Code = "cool.bad-medium"      // refused: heat transfer range
	CodeMediumWarmer   note.Code = "cool.medium-warmer"   // refused: the place is not colder than the food
	CodeUnreachable    note.Code = "cool.unreachable"     // refused: it never gets that cold there
	CodeFrozen         note.Code = "cool.frozen"          // refused: below the freezing point the model ends
	CodeRange          note.Code = "cool.range"           // reason: where the range comes from
	CodeLastDegrees    note.Code = "cool.last-degrees"    // hint: the last degrees take most of the time
	CodeMoved          note.Code = "cool.moved"           // caution: holds only while the liquid is moved
	CodeEvaporation    note.Code = "cool.evaporation"     // reason: open hot liquid cools faster than this
	CodeBowlTop        note.Code = "cool.bowl-top"        // caution: the open top of a bowl stays warmer than worked out
	CodeFridgeLoad     note.Code = "cool.fridge-load"     // caution: a hot load warms the fridge and what is in it
)

// Job is one cooling task.
type Job struct {
	Load       Load
	Medium     Medium
	Properties Properties
	Start      unit.Celsius
	Mass       unit.Mass // of the food; only for the caution about loading a fridge; 0 if not known
}

// Curve is a cooling curve with its range.
type Curve struct {
	Start unit.Celsius
	Notes []note.Note

	slow, typical, fast solver
}

// New solves a cooling job at low, typical and high heat transfer. Errors are
// *note.Refusal.
func New(j Job) (*Curve, error) {
	if err := j.check(); err != nil {
		return nil, err
	}
	start := float64(j.Start)
	at := func(pick func(unit.Range) float64) solver {
		return j.Load.solver(j.Properties, start,
			face{pick(j.Medium.Base.H), float64(j.Medium.Base.Temp)}, face{pick(j.Medium.Open.H), float64(j.Medium.Open.Temp)})
	}
	c := &Curve{Start: j.Start,
		slow:    at(func(r unit.Range) float64 { return r.Low }),
		typical: at(func(r unit.Range) float64 { return r.Typical }),
		fast:    at(func(r unit.Range) float64 { return r.High })}
	if start <= c.typical.floor() { // well mixed between a cold and a warm face
		return nil, mediumWarmer(c.typical.floor(), j.Start)
	}
	c.Notes = j.notes()
	return c, nil
}

func (j Job) check() error {
	if err := j.Load.check(); err != nil {
		return err
	}
	p := j.Properties
	for _, x := range [...]float64{p.Conductivity, p.HeatCapacity, float64(p.Density)} {
		if !unit.Finite(x) || x < 1e-3 || x > 1e5 {
			return note.Refuse("properties", CodeBadProperties)
		}
	}
	if !unit.Finite(float64(j.Start)) || j.Start < 0 || j.Start > 150 {
		return note.Refuse("start", CodeBadTemperature)
	}
	if !unit.Finite(float64(j.Mass)) || j.Mass < 0 {
		return note.Refuse("mass", CodeBadProperties)
	}
	return j.checkMedium()
}

func (j Job) checkMedium() error {
	_, open := j.Load.surfaces()
	for i, f := range [...]Face{j.Medium.Base, j.Medium.Open} {
		if !f.H.Valid() || f.H.Low <= 0 || f.H.High > 1e5 {
			return note.Refuse("medium", CodeBadMedium)
		}
		if !unit.Finite(float64(f.Temp)) || f.Temp < -60 || f.Temp > 150 {
			return note.Refuse("medium", CodeBadTemperature)
		}
		if touches := i == 0 || open > 0; touches && !j.Load.Mixed && f.Temp >= j.Start {
			return mediumWarmer(float64(f.Temp), j.Start)
		}
	}
	return nil
}

func mediumWarmer(medium float64, start unit.Celsius) *note.Refusal {
	return note.Refuse("medium", CodeMediumWarmer,
		note.Num("medium", medium, unit.DegreeC), note.Num("start", float64(start), unit.DegreeC))
}

// notes are the reasons and cautions of the job as a whole.
func (j Job) notes() []note.Note {
	h := j.Medium.Base.H
	out := []note.Note{note.New(note.Reason, CodeRange, note.Word("medium", "medium."+j.Medium.ID),
		note.Num("low", h.Low, unit.One), note.Num("typical", h.Typical, unit.One), note.Num("high", h.High, unit.One)).From(j.Medium.Source)}
	if j.Load.Mixed {
		out = append(out, note.New(note.Caution, CodeMoved).At("mixed").From(stillSource))
	}
	if _, open := j.Load.surfaces(); open > 0 && j.Start > 60 {
		out = append(out, note.New(note.Reason, CodeEvaporation, note.Num("above", 60, unit.DegreeC)).From(stillSource))
	}
	if j.Load.Vessel == Bowl && !j.Load.Mixed && j.Medium.Open.Temp > j.Medium.Base.Temp {
		out = append(out, note.New(note.Caution, CodeBowlTop, note.Num("above", float64(j.Medium.Open.Temp), unit.DegreeC)).At("medium").From(stillSource))
	}
	if j.Medium.Fridge && j.Start > 30 && j.Mass >= 1000 {
		out = append(out, note.New(note.Caution, CodeFridgeLoad, note.Num("mass", float64(j.Mass), unit.Gram)).At("medium").From(stillSource))
	}
	return out
}

// freezing is where the model ends: below it water turns to ice.
const freezing unit.Celsius = 0

// TimeTo is the time in seconds until the warmest point has come down to
// target: Low with the best heat transfer, High with the poorest. A food that
// starts colder gives zero. Errors are *note.Refusal: CodeUnreachable carries
// the temperature that the food approaches there.
func (c *Curve) TimeTo(target unit.Celsius) (unit.Range, error) {
	if !unit.Finite(float64(target)) || target > 150 {
		return unit.Range{}, note.Refuse("target", CodeBadTemperature)
	}
	if target < freezing {
		return unit.Range{}, note.Refuse("target", CodeFrozen, note.Num("target", float64(target), unit.DegreeC))
	}
	if target >= c.Start {
		return unit.Range{}, nil
	}
	warmest := max(c.slow.floor(), c.typical.floor(), c.fast.floor())
	if warmest >= float64(target)-nearest {
		return unit.Range{}, note.Refuse("target", CodeUnreachable,
			note.Num("target", float64(target), unit.DegreeC), note.Num("floor", warmest, unit.DegreeC))
	}
	t := float64(target)
	return unit.Range{Low: timeTo(c.fast, t), Typical: timeTo(c.typical, t), High: timeTo(c.slow, t)}, nil
}

// nearest is how close to the floor a target may lie, K: nearer, the time says
// nothing any more.
const nearest = 0.05

// timeTo brackets by doubling and bisects; the curve falls throughout.
func timeTo(s solver, target float64) float64 {
	low, high := 0.0, 60.0
	for s.hottest(high) > target && high < 1e12 {
		low, high = high, high*2
	}
	for range 60 {
		mid := (low + high) / 2
		if s.hottest(mid) > target {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// Hottest is the temperature of the warmest point after t: Low with the best
// heat transfer. A negative or unusable t counts as the start.
func (c *Curve) Hottest(t unit.Seconds) unit.Range {
	if !unit.Finite(float64(t)) || t <= 0 {
		return unit.Exactly(float64(c.Start))
	}
	x := float64(t)
	return unit.Range{Low: c.fast.hottest(x), Typical: c.typical.hottest(x), High: c.slow.hottest(x)}
}

// Milestone is one temperature on the way down.
type Milestone struct {
	Target  unit.Celsius
	Time    unit.Range    // seconds
	Refusal *note.Refusal // set, and Time empty, when the target is not reached
	Notes   []note.Note
}

// ColdLimits are the chilled temperatures that food codes name, warmest first:
// 10 (France), 8 (England and Wales), 5 °C (United States, Australia).
var ColdLimits = []unit.Celsius{10, 8, 5}

// lastStretch is when the last 3 K are worth a hint: a third longer.
const lastStretch = 4.0 / 3

// Milestones gives the time to each target, in the given order. Where a target
// lies so close to the place's own temperature that the last stretch takes
// a third as long again as all before, a hint says so.
func (c *Curve) Milestones(targets ...unit.Celsius) []Milestone {
	out := make([]Milestone, 0, len(targets))
	for _, target := range targets {
		m := Milestone{Target: target}
		r, err := c.TimeTo(target)
		m.Time = r
		if refusal, ok := err.(*note.Refusal); ok {
			m.Refusal = refusal
		} else if early, err := c.TimeTo(target + 3); err == nil && early.Typical > 0 && r.Typical > lastStretch*early.Typical {
			m.Notes = append(m.Notes, note.New(note.Hint, CodeLastDegrees,
				note.Num("target", float64(target), unit.DegreeC), note.Num("before", float64(target+3), unit.DegreeC),
				note.Num("minutes", early.Typical/60, unit.Minute)))
		}
		out = append(out, m)
	}
	return out
}
