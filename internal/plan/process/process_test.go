package process_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/agent"
	"tremblant/internal/plan/method"
	"tremblant/internal/plan/process"
)

func blend(t *testing.T, ids ...agent.ID) []method.Dose {
	t.Helper()
	var agents []*agent.Agent
	for _, id := range ids {
		a := agent.ByID(id)
		require.NotNil(t, a, id)
		agents = append(agents, a)
	}
	var out []method.Dose
	for _, p := range process.Blend(agents) {
		out = append(out, method.Dose{Process: p, Mass: 2})
	}
	return out
}

func kinds(t *testing.T, in method.Input) []method.Kind {
	t.Helper()
	m, err := method.Build(in)
	require.NoError(t, err)
	var out []method.Kind
	for _, s := range m.Steps {
		out = append(out, s.Kind)
	}
	return out
}

func water(parts ...method.Part) method.Liquid {
	return method.Liquid{Parts: append([]method.Part{{ID: "water", Mass: 500, Temp: 15}}, parts...)}
}

// TestEveryAgentMakesAMethod: no record is refused, whatever the target, and
// each sheet really puts the agent in.
func TestEveryAgentMakesAMethod(t *testing.T) {
	for _, a := range agent.All() {
		for target := method.Thicken; target <= method.Whipped; target++ {
			m, err := method.Build(method.Input{Doses: []method.Dose{{Process: process.Of(a), Mass: 2}}, Liquid: water(), Target: target})
			require.NoError(t, err, a.ID)
			used := slices.ContainsFunc(m.Steps, func(s method.Step) bool { return slices.Contains(s.Agents, string(a.ID)) })
			assert.True(t, used, "%s in target %d", a.ID, target)
		}
	}
}

func TestEveryPairMakesAMethod(t *testing.T) {
	for _, p := range agent.Pairs() {
		m, err := method.Build(method.Input{Doses: blend(t, p.A, p.B), Liquid: water(), Target: method.SetGel})
		require.NoError(t, err)
		if p.Setting.Kind == agent.OnCooling {
			assert.True(t, slices.ContainsFunc(m.Steps, func(s method.Step) bool { return s.Kind == method.Chill }), "%s with %s sets", p.A, p.B)
		}
	}
}

// TestCatalogueGivesTheExpectedSheets: the order of work of the six sheets that
// the method's own tests check by hand, here from the catalogue's records.
func TestCatalogueGivesTheExpectedSheets(t *testing.T) {
	sugar := method.Part{ID: "sugar", Mass: 50, Role: method.Sugar, Temp: 20}
	for _, c := range []struct {
		name string
		in   method.Input
		want []method.Kind
	}{
		{"agar and gellan fluid gel in acid",
			method.Input{Doses: blend(t, "agar", "gellan-la"), Target: method.FluidGel, Liquid: water(sugar, method.Part{ID: "juice", Mass: 400, Role: method.Acid, Temp: 5})},
			[]method.Kind{method.Weigh, method.DryMix, method.SugarIn, method.Disperse, method.Hydrate, method.TopUp, method.WarmRest, method.AcidIn,
				method.Pour, method.Chill, method.Blend, method.SieveFine, method.Degas}},
		{"leaf gelatin set cream",
			method.Input{Doses: blend(t, "gelatin"), Target: method.SetGel, Liquid: water(sugar)},
			[]method.Kind{method.Weigh, method.Bloom, method.SugarIn, method.Dissolve, method.Sieve, method.Pour, method.Chill}},
		{"iota in milk",
			method.Input{Doses: blend(t, "carr-iota"), Target: method.SetGel, Liquid: water(sugar)},
			[]method.Kind{method.Weigh, method.DryMix, method.SugarIn, method.Disperse, method.Hydrate, method.TopUp, method.Sieve, method.Pour, method.Chill}},
		{"pectin with calcium",
			method.Input{Doses: blend(t, "pectin-lma", "ca-lactate"), Target: method.SetGel, Liquid: water(method.Part{ID: "sugar", Mass: 250, Role: method.Sugar, Temp: 20})},
			[]method.Kind{method.Weigh, method.DryMix, method.Disperse, method.Hydrate, method.TopUp, method.Sweeten, method.AddCalcium, method.Sieve, method.Pour, method.Chill}},
		{"alginate bath",
			method.Input{Doses: blend(t, "alginate"), Target: method.Bath, Liquid: water()},
			[]method.Kind{method.Weigh, method.Disperse, method.HydrateIn, method.Degas, method.Dip, method.Rinse}},
		{"siphon foam",
			method.Input{Doses: blend(t, "gelatin"), Target: method.SiphonCold, Liquid: water(method.Part{ID: "juice", Mass: 100, Role: method.Delicate, Temp: 5})},
			[]method.Kind{method.Weigh, method.Bloom, method.Dissolve, method.Temper, method.Sieve, method.CoolFill, method.Fill, method.ChargeFew, method.RestCold}},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.want, kinds(t, c.in)) })
	}
}

func TestPartnersTakeThePairsSetting(t *testing.T) {
	d := blend(t, "xanthan", "lbg")
	assert.Equal(t, method.OnCooling, d[0].Process.SetBy)
	assert.Equal(t, 52.0, d[0].Process.Sets.Typical)
	assert.Equal(t, method.ByAlkali, blend(t, "konjac")[0].Process.SetBy)
	for _, id := range []agent.ID{"konjac", "tara"} { // a hold is for its heat: what it takes cold is no hold at 80 °C
		p := blend(t, id)[0].Process
		assert.GreaterOrEqual(t, p.Heat.Low, 60.0, id)
		assert.LessOrEqual(t, p.Hold.Typical, 15.0, id)
	}
	assert.Equal(t, method.OnCooling, blend(t, "carr-kappa", "konjac")[1].Process.SetBy)
}

func TestGelatinDoesNotBearAgarsBoil(t *testing.T) {
	got := kinds(t, method.Input{Doses: blend(t, "agar", "gelatin"), Target: method.SetGel, Liquid: water()})
	assert.Less(t, slices.Index(got, method.Hydrate), slices.Index(got, method.CoolTo))
	assert.Less(t, slices.Index(got, method.CoolTo), slices.Index(got, method.Dissolve))
}

func ExampleOf() {
	p := process.Of(agent.ByID("agar"))
	fmt.Println(p.ID, p.Heat.Typical, p.Hold.Typical)
	// Output: agar 95 3
}
