package method_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tremblant/internal/note"
	"tremblant/internal/plan/method"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// randomInput draws any blend in any liquid.
func randomInput(rnd *rand.Rand) method.Input {
	in := method.Input{Target: method.Target(rnd.IntN(8)), Bottled: rnd.IntN(2) == 0, Siphon: randomSiphon(rnd)}
	for _, i := range rnd.Perm(len(everyProcess))[:1+rnd.IntN(4)] {
		in.Doses = append(in.Doses, method.Dose{Process: everyProcess[i], Mass: unit.Mass(math.Exp(rnd.Float64()*5 - 2)), Sheets: rnd.IntN(2) == 0})
	}
	for i := range 1 + rnd.IntN(6) {
		in.Liquid.Parts = append(in.Liquid.Parts, method.Part{ID: fmt.Sprint("part", i), Mass: unit.Mass(math.Exp(rnd.Float64()*6 + 1)),
			Role: method.Role(rnd.IntN(7)), Temp: unit.Celsius(rnd.IntN(30)), Bears: unit.Celsius(rnd.IntN(2) * 40), Enzyme: rnd.IntN(6) == 0})
	}
	in.Liquid.Parts = append(in.Liquid.Parts, method.Part{ID: "wet", Mass: 100, Temp: 15})
	if rnd.IntN(3) == 0 {
		in.Boil = unit.Mass(math.Exp(rnd.Float64()*8 - 1))
	}
	low := 2.5 + rnd.Float64()*4
	in.Liquid.PH, in.Liquid.Calcium = unit.Range{Low: low, Typical: low + 0.2, High: low + 0.4}, rnd.Float64()*15
	return in
}

func randomSiphon(rnd *rand.Rand) (s method.Siphon) {
	for range rnd.IntN(4) {
		s.Charges = append(s.Charges, rnd.IntN(4))
	}
	s.Rounds = min(len(s.Charges), rnd.IntN(3))
	if low := float64(rnd.IntN(3) * 20); rnd.IntN(2) == 0 {
		s.Rest = method.Fact{Range: unit.Range{Low: low, Typical: 2 * low, High: 4 * low}, Source: source.Ref{Tag: source.Practice}}
	}
	return s
}

// TestProperties over random blends: ids are unique, figures finite and within
// sense, limits do not contradict each other unless a caution says so, and
// the order holds: hydration before acid, acid before pouring, charge last.
func TestProperties(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 8))
	raw, err := os.ReadFile("../../../web/text/en/lab/plan.json")
	require.NoError(t, err)
	sentences := map[string]string{}
	require.NoError(t, json.Unmarshal(raw, &sentences))
	for range 3000 {
		in := randomInput(rnd)
		m := build(t, in)
		again := build(t, in)
		require.Equal(t, m, again, "deterministic")
		seen := map[string]bool{}
		for _, s := range m.Steps {
			require.False(t, seen[s.ID], "%s twice in %v", s.ID, kinds(m))
			seen[s.ID] = true
			checkStep(t, s)
			checkSentence(t, sentences, s)
		}
		checkOrder(t, m)
		checkComplete(t, in, m)
	}
}

var placeholder = regexp.MustCompile(`\{([a-z-]+)\}`)

// checkSentence: whatever the blend, the step has what its sentence asks for.
func checkSentence(t *testing.T, sentences map[string]string, s method.Step) {
	text := sentences["step."+string(s.Kind)]
	require.NotEmpty(t, text, s.Kind)
	for _, m := range placeholder.FindAllStringSubmatch(text, -1) {
		_, ok := arg(s, m[1])
		ok = ok || m[1] == "agents" && len(s.Agents) > 0 || m[1] == "parts" && len(s.Parts) > 0
		require.True(t, ok, "step %s lacks {%s}", s.ID, m[1])
	}
	for _, n := range append(slices.Clone(s.Notes), s.Why...) {
		for _, m := range placeholder.FindAllStringSubmatch(sentences["note."+string(n.Code)], -1) {
			_, ok := n.Arg(m[1])
			require.True(t, ok, "note %s lacks {%s}", n.Code, m[1])
		}
	}
}

func checkStep(t *testing.T, s method.Step) {
	require.True(t, s.Minutes.Valid() && s.Minutes.Low >= 0, "%s %v", s.ID, s.Minutes)
	for _, a := range s.Args {
		require.True(t, unit.Finite(a.Value) && a.Value >= 0, "%s %v", s.ID, a)
	}
	low, high := math.Inf(-1), math.Inf(1)
	for _, l := range s.Limits {
		require.True(t, unit.Finite(l.Value) && l.Source.Valid(), "%s %v", s.ID, l)
		if l.Of == method.Temperature && l.Most {
			high = min(high, l.Value)
		} else if l.Of == method.Temperature {
			low = max(low, l.Value)
		}
	}
	if low > high {
		found := false
		for _, n := range s.Notes {
			found = found || n.Level >= note.Caution
		}
		require.True(t, found, "%s asks for %v and %v without a word", s.ID, low, high)
	}
	for _, n := range s.Why {
		require.Equal(t, note.Reason, n.Level)
	}
}

func checkOrder(t *testing.T, m method.Method) {
	order := kinds(m)
	before := func(a, b method.Kind) {
		i, j := slices.Index(order, a), slices.Index(order, b)
		if i >= 0 && j >= 0 {
			require.Less(t, i, j, "%s before %s in %v", a, b, order)
		}
	}
	before(method.DryMix, method.Disperse)
	before(method.Soften, method.Disperse)
	before(method.Reduce, method.Disperse)
	before(method.Reduce, method.Hydrate)
	before(method.Disperse, method.Hydrate)
	before(method.Hydrate, method.AddCalcium)
	before(method.Hydrate, method.AcidIn)
	before(method.AddCalcium, method.AcidIn)
	before(method.Bloom, method.Dissolve)
	before(method.AcidIn, method.Pour)
	before(method.Pour, method.Chill)
	before(method.Chill, method.Blend)
	before(method.Blend, method.SieveFine)
	before(method.Sweeten, method.BoilDown)
	before(method.BoilDown, method.AcidIn)
	before(method.Fill, method.Charge)
}

// checkComplete: every agent and every part of the liquid is named in some step
// (for a bath, calcium salts belong to the spheres' own liquid).
func checkComplete(t *testing.T, in method.Input, m method.Method) {
	agents, parts := map[string]bool{}, map[string]bool{}
	for _, s := range m.Steps[1:] {
		for _, a := range s.Agents {
			agents[a] = true
		}
		for _, p := range s.Parts {
			parts[p] = true
		}
	}
	for _, d := range in.Doses {
		if !d.Process.Salt || in.Target != method.Bath {
			require.True(t, agents[d.Process.ID], "%s is never used in %v", d.Process.ID, kinds(m))
		}
	}
	for _, p := range in.Liquid.Parts {
		if p.Role != method.Sequestrant {
			require.True(t, parts[p.ID], "%v is never used in %v", p, kinds(m))
		}
	}
}

func FuzzBuild(f *testing.F) {
	f.Add(uint64(1), 3.5, 250.0, 3.0, 2.5)
	f.Add(uint64(2), math.NaN(), -1.0, 20.0, math.Inf(1))
	f.Add(uint64(3), 1e12, 1e-300, 0.0, 1000.0)
	f.Fuzz(func(t *testing.T, seed uint64, dose, mass, ph, calcium float64) {
		in := randomInput(rand.New(rand.NewPCG(seed, 2)))
		in.Doses[0].Mass, in.Liquid.Parts[0].Mass = unit.Mass(dose), unit.Mass(mass)
		in.Liquid.PH, in.Liquid.Calcium = unit.Exactly(ph), calcium
		m, err := method.Build(in)
		if err != nil {
			return
		}
		for _, s := range m.Steps {
			for _, a := range s.Args {
				if !unit.Finite(a.Value) {
					t.Fatalf("%s %+v", s.ID, a)
				}
			}
			for _, l := range s.Limits {
				if !unit.Finite(l.Value) {
					t.Fatalf("%s %+v", s.ID, l)
				}
			}
		}
	})
}
