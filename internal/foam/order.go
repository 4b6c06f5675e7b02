package foam

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Action is one thing to do with one filling, in the order of doing.
type Action struct {
	Step    note.Code  // one of the Step codes
	Filling int        // index in Plan.Fillings
	Round   int        // from 1
	Count   int        // charges, for StepCharge
	Time    unit.Range // s that it takes; rest and service run beside other actions
}

// Times of the hand, in seconds. Rule of thumb.
var (
	timeFill   = unit.Range{Low: 60, Typical: 120, High: 240}
	timeCharge = unit.Range{Low: 30, Typical: 60, High: 90} // with its shaking
	timeVent   = unit.Range{Low: 60, Typical: 120, High: 240}
	timeChill  = unit.Range{Low: 20 * minute, Typical: 30 * minute, High: 60 * minute} // an emptied body and fresh base back to fridge cold
)

// order lists what to do when: in each round fill and charge every body, let
// them rest from the first charged on, serve in the order of charging. Between
// rounds a body is vented, opened, chilled (or warmed) again and refilled.
func order(fillings []Filling, kind Type) (actions []Action, lead unit.Range) {
	for i := 0; i < len(fillings); {
		end := i
		for end < len(fillings) && fillings[end].Round == fillings[i].Round {
			end++
		}
		actions = append(actions, roundOf(fillings, i, end, kind)...)
		i = end
	}
	for i, a := range actions {
		if a.Round == 1 && (a.Step == StepFill || a.Step == StepCharge) {
			lead = sum(lead, actions[i].Time)
		}
	}
	return actions, sum(lead, kind.Rest)
}

// roundOf lists the actions of the fillings from..end, all of one round.
func roundOf(fillings []Filling, from, end int, kind Type) []Action {
	var all []Action
	round := fillings[from].Round
	for i := from; i < end; i++ {
		if round > 1 {
			all = append(all, Action{Step: StepVent, Filling: i, Round: round, Time: timeVent}, Action{Step: StepRechill, Filling: i, Round: round, Time: timeChill})
		}
		n := fillings[i].Charges
		all = append(all, Action{Step: StepFill, Filling: i, Round: round, Time: timeFill},
			Action{Step: StepCharge, Filling: i, Round: round, Count: n, Time: timeCharge.Scale(float64(n))})
	}
	for i := from; i < end; i++ {
		all = append(all, Action{Step: StepRest, Filling: i, Round: round, Time: kind.Rest})
	}
	for i := from; i < end; i++ {
		all = append(all, Action{Step: StepServe, Filling: i, Round: round})
	}
	return all
}
