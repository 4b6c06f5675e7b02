package gel

import (
	"math"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Dose is one agent of a formula.
type Dose struct {
	Agent agent.ID
	Grade float64       // Bloom, g/cm² or SAG grade as labelled; 0 for the agent's reference grade
	Share unit.Fraction // mass fraction of the finished mix
}

// maxDoses bounds how many agents one formula may hold.
const maxDoses = 12

// percent is the dose in g per 100 g.
func (d Dose) percent() float64 { return float64(d.Share) * 100 }

// record looks the agent up and checks grade and share.
func (d Dose) record() (*agent.Agent, error) {
	a := agent.ByID(d.Agent)
	if a == nil {
		return nil, unknownAgent(string(d.Agent))
	}
	if !unit.Finite(float64(d.Share)) || d.Share <= 0 || d.Share > 1 {
		return nil, note.Refuse("dose", CodeDoseBad, note.Num("dose", d.percent(), unit.PercentOf), agentArg(a.ID))
	}
	if err := checkGrade(a, d.Grade); err != nil {
		return nil, err
	}
	return a, nil
}

// nearest is the code that says so many near names, and the last one's argument.
var nearest = [...]struct {
	code note.Code
	arg  string
}{{CodeUnknownAgent, ""}, {CodeUnknownNear, "near"}, {CodeUnknownNear2, "near2"}, {CodeUnknownNear3, "near3"}}

// unknownAgent is the refusal of a name, with the nearest known agents.
func unknownAgent(name string) error {
	args := []note.Arg{note.Typed("name", clip(name))}
	near := agent.Nearest(name, len(nearest)-1)
	for i, s := range near {
		args = append(args, note.Word(nearest[i+1].arg, agentKey(s.Agent.ID)))
	}
	return note.Refuse("agent", nearest[len(near)].code, args...)
}

func clip(s string) string {
	const most = 40
	r := []rune(s)
	if len(r) > most {
		r = r[:most]
	}
	return string(r)
}

func agentKey(id agent.ID) string { return "agent." + string(id) }

func agentArg(id agent.ID) note.Arg { return note.Word("agent", agentKey(id)) }

// workArg names what does the work: both agents where the figures are a pair's.
func workArg(a *agent.Agent, p *agent.Pair) note.Arg {
	if p == nil {
		return agentArg(a.ID)
	}
	return note.Words("agent", "agent.", []agent.ID{p.A, p.B})
}

// merge adds up doses of one agent and grade and checks all of them; the order
// of first mention stays.
func merge(doses []Dose) ([]Dose, []*agent.Agent, error) {
	if len(doses) == 0 {
		return nil, nil, note.Refuse("dose", CodeNoDose)
	}
	if len(doses) > maxDoses {
		return nil, nil, note.Refuse("dose", CodeTooMany, note.Num("most", maxDoses, unit.One))
	}
	var out []Dose
	var records []*agent.Agent
	sum := 0.0
next:
	for _, d := range doses {
		a, err := d.record()
		if err != nil {
			return nil, nil, err
		}
		sum += float64(d.Share)
		for i := range out {
			if out[i].Agent == d.Agent && out[i].Grade == d.Grade {
				out[i].Share += d.Share
				continue next
			}
		}
		out, records = append(out, d), append(records, a)
	}
	if sum > 1 {
		return nil, nil, note.Refuse("dose", CodeDoseSum, note.Num("dose", sum*100, unit.PercentOf))
	}
	return out, records, nil
}

// gradeOf is the grade of a dose, the agent's reference grade when it has none.
func gradeOf(a *agent.Agent, grade float64) float64 {
	if grade == 0 {
		return a.Grade.Value.Typical
	}
	return grade
}

// gradeScale is (grade/reference)^p: what the dose counts as at the reference grade.
func gradeScale(a *agent.Agent, grade, power float64) float64 {
	if grade == 0 || a.Grade.Kind == agent.NoGrade {
		return 1
	}
	return math.Pow(grade/a.Grade.Value.Typical, power)
}
