package gel

import (
	"math"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Factor is what a kitchen's own trials say of one agent and grade: the modulus
// is the model's times Value.
type Factor struct {
	Agent  agent.ID
	Grade  float64
	Value  float64 // between 1/3 and 3; 1 without trials
	Spread float64 // standard deviation of ln Value that remains
	Trials int
}

// Kitchen is the factors of a kitchen, at most one for each agent and grade.
type Kitchen []Factor

// Limits of a kitchen's factor: beyond them the trial, the scale or the label
// is wrong rather than the model.
const (
	MinFactor = 1.0 / 3
	MaxFactor = 3.0
)

// of returns the factor of an agent and grade; one of another grade does not
// count, as a label is part of what is learnt.
func (k Kitchen) of(id agent.ID, grade float64) (Factor, bool) {
	for _, f := range k {
		if f.Agent == id && f.Grade == grade && f.Trials > 0 && f.valid() {
			return f, true
		}
	}
	return Factor{}, false
}

func (f Factor) valid() bool {
	return unit.Finite(f.Value) && f.Value >= MinFactor && f.Value <= MaxFactor && unit.Finite(f.Spread) && f.Spread >= 0
}

// apply moves the modulus by the kitchen's factor. What trials leave uncertain
// replaces the model's own spread where it is smaller, as the trials were made
// with all of it at work.
func (k Kitchen) apply(id agent.ID, grade float64, s *spread) Factor {
	f, ok := k.of(id, grade)
	if !ok {
		return f
	}
	s.ln += math.Log(f.Value)
	left := 4 * f.Spread * f.Spread // low and high stand two deviations out
	s.down2, s.up2 = min(s.down2, left), min(s.up2, left)
	return f
}

// Outcome is how a trial came out against what was wanted.
type Outcome uint8

// The outcomes.
const (
	TooSoft Outcome = iota + 1
	Right
	TooFirm
)

// Trial is one dose of a ladder that was made and tasted.
type Trial struct {
	Predicted unit.Pressure // modulus of the dose by the model without a kitchen factor, at the trial's conditions
	Wanted    unit.Pressure // modulus that was aimed at
	Outcome   Outcome
}

// What the fit assumes, in ln of the factor (common practice): a kitchen's agent
// is within a factor of two of the model for two in three, and a cook tells a
// difference of a fifth to a quarter in modulus.
const (
	priorSpread = 0.6931471805599453 // ln 2
	tasteSpread = 0.22
	fitSteps    = 241
)

// FitFactor estimates a kitchen's factor from trials. The factor k makes the
// real modulus k × Predicted; "right" says that this is the wanted one, "too
// soft" that it is below, "too firm" that it is above. The answer is the mean of
// the posterior on a fixed grid of ln k between the limits: the same trials give
// the same answer, in any order. Errors are refusals of trials that make no sense.
func FitFactor(id agent.ID, grade float64, trials []Trial) (Factor, error) {
	a := agent.ByID(id)
	if a == nil {
		return Factor{}, unknownAgent(string(id))
	}
	if err := checkGrade(a, grade); err != nil {
		return Factor{}, err
	}
	for _, t := range trials {
		if err := t.check(); err != nil {
			return Factor{}, err
		}
	}
	f := Factor{Agent: id, Grade: grade, Value: 1, Spread: priorSpread, Trials: len(trials)}
	if len(trials) == 0 {
		return f, nil
	}
	var logs [fitSteps]float64
	most := math.Inf(-1)
	for i := range logs {
		logs[i] = logPosterior(gridAt(i), trials)
		most = max(most, logs[i])
	}
	var sum, mean, square float64
	for i, l := range logs {
		w, x := math.Exp(l-most), gridAt(i)
		sum, mean, square = sum+w, mean+w*x, square+w*x*x
	}
	mean, square = mean/sum, square/sum
	f.Value = min(max(math.Exp(mean), MinFactor), MaxFactor)
	f.Spread = math.Sqrt(max(0, square-mean*mean))
	return f, nil
}

func (t Trial) check() error {
	for _, p := range [...]unit.Pressure{t.Predicted, t.Wanted} {
		if !unit.Finite(float64(p)) || p <= 0 {
			return note.Refuse("trial", CodeTrialBad, note.Num("value", float64(p), unit.Pascal))
		}
	}
	if t.Outcome < TooSoft || t.Outcome > TooFirm {
		return note.Refuse("trial", CodeTrialBad, note.Num("value", float64(t.Outcome), unit.One))
	}
	return nil
}

// gridAt is ln k at grid point i, evenly from the lower to the upper limit.
func gridAt(i int) float64 {
	return math.Log(MinFactor) + (math.Log(MaxFactor)-math.Log(MinFactor))*float64(i)/(fitSteps-1)
}

func logPosterior(x float64, trials []Trial) float64 {
	l := -x * x / (2 * priorSpread * priorSpread)
	for _, t := range trials {
		off := x + math.Log(float64(t.Predicted)/float64(t.Wanted)) // ln of real over wanted
		z := off / tasteSpread
		switch t.Outcome {
		case Right:
			l -= z * z / 2
		case TooSoft:
			l += logNormal(-z)
		case TooFirm:
			l += logNormal(z)
		}
	}
	return l
}

// logNormal is ln of the normal distribution function; far out in the tail the
// asymptote, which cannot underflow.
func logNormal(z float64) float64 {
	if z < -8 {
		return -z*z/2 - math.Log(-z) - 0.9189385332046727 // ln √(2π)
	}
	return math.Log(0.5 * math.Erfc(-z/math.Sqrt2))
}
