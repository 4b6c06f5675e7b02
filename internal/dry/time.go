package dry

import (
	"math"
	"strconv"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Trial is one drying run: what was on the tray, how warm, how long.
type Trial struct {
	Temperature unit.Celsius
	Load        float64       // g/cm² wet
	Start, End  unit.Fraction // moisture
	Time        unit.Seconds
}

// thumb is the rule of thumb that trials replace: leaf pulp in a thin layer
// takes about five hours at 50 °C. Common practice, no source; load and
// moistures are what that usually means.
var thumb = Trial{Temperature: 50, Load: 0.2, Start: 0.90, End: 0.06, Time: 5 * 3600}

// Energy is the activation energy of drying leaves, J/mol: lemon verbena 31,
// kale about 34 (from its times), peppermint 40-41, a lippia 46-48 (published,
// each in the abstract of a drying study, 2011 to 2025).
var Energy = unit.Range{Low: 30e3, Typical: 40e3, High: 48e3}

// LoadPower is how time grows with load: with the load itself when air carries
// the water off, with its square when it must creep out (from memory).
var LoadPower = unit.Range{Low: 1, Typical: 1.3, High: 2}

// The spread by which a predicted time may be off: without trials, and with one.
const (
	spreadThumb = 1.6
	spreadOne   = 1.3
	spreadLeast = 1.1
	gasConstant = 8.314462618
)

// effort is time over pace: what one run would take at pace one.
func (r Trial) effort(energy, power float64) float64 {
	x := func(w unit.Fraction) float64 { return float64(w / (1 - w)) }
	return math.Exp(energy/gasConstant*(1/r.Temperature.Kelvin())) * math.Pow(r.Load, power) * math.Log(x(r.Start)/x(r.End))
}

// check refuses a run that says nothing: a trial must also have lost water.
func (r Trial) check(field string, lost unit.Fraction) error {
	if !(r.Temperature > 0 && r.Temperature <= maxHeat) || !(r.Load >= leastLoad && r.Load <= maxLoad) ||
		!(r.Start > 0 && r.Start < 1) || !(r.End > 0 && r.Start-r.End >= lost) || !(r.Time > 0 && r.Time < 1e7) {
		return note.Refuse(field, BadTrial)
	}
	return nil
}

// leastLost is the moisture that a trial must have lost.
const leastLost unit.Fraction = 1e-3

// Time is how long a run takes, in seconds. With trials of the kitchen they
// alone decide, in the geometric mean; without, the rule of thumb does. The
// range covers the spread of the trials and what is not known of temperature
// and load when the run differs from them.
func Time(run Trial, trials []Trial) (unit.Range, error) {
	run.Time = 1
	if err := run.check("run", 0); err != nil {
		return unit.Range{}, err
	}
	for n, r := range trials {
		if err := r.check("trials."+strconv.Itoa(n), leastLost); err != nil {
			return unit.Range{}, err
		}
	}
	spread := spreadThumb
	if len(trials) == 0 {
		trials = []Trial{thumb}
	} else {
		spread = scatter(trials)
	}
	t := predict(run, trials, Energy.Typical, LoadPower.Typical)
	low, high := t, t
	for _, e := range []float64{Energy.Low, Energy.High} {
		for _, p := range []float64{LoadPower.Low, LoadPower.High} {
			at := predict(run, trials, e, p)
			low, high = min(low, at), max(high, at)
		}
	}
	return unit.Range{Low: low / spread, Typical: t, High: high * spread}, nil
}

func predict(run Trial, trials []Trial, energy, power float64) float64 {
	sum := 0.0
	for _, r := range trials {
		sum += pace(r, energy, power)
	}
	return math.Exp(sum/float64(len(trials))) * run.effort(energy, power)
}

// pace is the logarithm of how slow a run went.
func pace(r Trial, energy, power float64) float64 {
	return math.Log(float64(r.Time) / r.effort(energy, power))
}

// scatter is the factor by which the next run may be off: twice the standard
// deviation of the trials' pace, with allowance for their number.
func scatter(trials []Trial) float64 {
	n := float64(len(trials))
	if n < 2 {
		return spreadOne
	}
	mean := 0.0
	for _, r := range trials {
		mean += pace(r, Energy.Typical, LoadPower.Typical) / n
	}
	sum := 0.0
	for _, r := range trials {
		d := pace(r, Energy.Typical, LoadPower.Typical) - mean
		sum += d * d
	}
	s := math.Sqrt(sum / (n - 1) * (1 + 1/n))
	return max(spreadLeast, math.Exp(2*min(s, 5)))
}
