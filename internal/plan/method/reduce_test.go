package method_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"tremblant/internal/note"
	"tremblant/internal/plan/method"
	"tremblant/internal/unit"
)

// A reduction that is set: what is boiled off goes before the powder goes in, and the
// rest of the method counts what is left.
func TestReductionGoesFirst(t *testing.T) {
	in := method.Input{Doses: doses(agar), Target: method.SetGel, Boil: 300,
		Liquid: method.Liquid{Parts: []method.Part{{ID: "stock", Mass: 800, Temp: 5}}}}
	m := build(t, in)
	assert.Equal(t, []method.Kind{method.Weigh, method.Reduce, method.CoolTo, method.Disperse, method.Hydrate}, kinds(m)[:5])
	s := step(t, m, method.Reduce)
	from, _ := arg(s, "from")
	to, _ := arg(s, "to")
	assert.Equal(t, []float64{800, 500}, []float64{from, to})
	// 2257 kJ/kg, the heat of vaporisation of water at 100 °C (steam tables): 300 g at
	// 1 kW take 11.3 minutes after it boils.
	assert.InDelta(t, 11.3, s.Minutes.Typical-7, 0.1)
	cold, _ := arg(step(t, m, method.Disperse), "liquid")
	assert.InDelta(t, 500, cold, 1e-9)
	weight, _ := arg(step(t, m, method.TopUp), "weight")
	assert.InDelta(t, 500+float64(in.Doses[0].Mass), weight, 1e-9)
}

// A little goes off while the powder hydrates.
func TestSmallBoilIsNoReduction(t *testing.T) {
	in := method.Input{Doses: doses(agar), Target: method.SetGel, Boil: 60, Liquid: water(800)}
	m := build(t, in)
	assert.Zero(t, count(m, method.Reduce))
	weight, _ := arg(step(t, m, method.TopUp), "weight")
	assert.InDelta(t, 740+float64(in.Doses[0].Mass), weight, 1e-9)
}

// Wine that waited for the end could not be boiled down.
func TestWineIsReducedWhereTheRestIsTooLittle(t *testing.T) {
	in := method.Input{Doses: doses(agar), Target: method.SetGel, Boil: 300, Liquid: method.Liquid{Parts: []method.Part{
		{ID: "stock", Mass: 400, Temp: 5}, {ID: "wine", Mass: 600, Role: method.Alcohol, Temp: 15}}}}
	m := build(t, in)
	s := step(t, m, method.Reduce)
	assert.ElementsMatch(t, []string{"stock", "wine"}, s.Parts)
	assert.Contains(t, codes(s.Notes), method.CodeFlame)
	assert.Zero(t, count(m, method.AlcoholIn))
	weight, _ := arg(step(t, m, method.TopUp), "weight")
	assert.InDelta(t, 700+float64(in.Doses[0].Mass), weight, 1e-9)

	in.Boil = 200
	m = build(t, in)
	assert.Equal(t, []string{"stock"}, step(t, m, method.Reduce).Parts)
	assert.Equal(t, 1, count(m, method.AlcoholIn))
}

// What does not bear to be boiled is not, and what cannot boil off is said.
func TestReductionOfWhatBearsIt(t *testing.T) {
	in := method.Input{Doses: doses(agar), Target: method.SetGel, Boil: 500, Liquid: method.Liquid{Parts: []method.Part{
		{ID: "stock", Mass: 200, Temp: 5}, {ID: "yolk", Mass: 600, Temp: 5, Bears: 62}}}}
	m := build(t, in)
	s := step(t, m, method.Reduce)
	assert.Equal(t, []string{"stock"}, s.Parts)
	to, _ := arg(s, "to")
	assert.InDelta(t, 20, to, 1e-9)
	assert.Contains(t, codes(m.Notes), method.CodeReduceShort)
}

// Boiling ends what scalding would.
func TestReductionScaldsTheFruit(t *testing.T) {
	sheets := doses(gelatin)
	sheets[0].Sheets = true
	in := method.Input{Doses: sheets, Target: method.SetGel, Boil: 200, Liquid: method.Liquid{Parts: []method.Part{
		{ID: "pineapple", Mass: 600, Temp: 5, Enzyme: true}}}}
	m := build(t, in)
	assert.Zero(t, count(m, method.Scald))
	assert.Zero(t, count(m, method.CoolTo), "soaked sheets go into hot liquid")
	sheets[0].Sheets = false
	assert.Equal(t, 1, count(build(t, in), method.CoolTo), "powder is soaked in the recipe's own liquid")
	in.Liquid.Parts[0].Enzyme = true
	in.Boil = 0
	assert.Equal(t, 1, count(build(t, in), method.Scald), "the input is left as it was")
}

// What is boiled down holds its calcium in less: the heat in the step is the one that the
// note names.
func TestReductionRaisesTheCalcium(t *testing.T) {
	juice := water(600)
	juice.Calcium, juice.PH = 1.5, unit.Range{Low: 3.6, Typical: 4.1, High: 4.6}
	m := build(t, method.Input{Doses: doses(gellan), Target: method.SetGel, Boil: 300, Liquid: juice})
	assert.Contains(t, codes(m.Notes), method.CodeCalciumSour)
	temp, _ := arg(step(t, m, method.Hydrate), "temp")
	assert.Equal(t, 95.0, temp)
}

// A cold thickener in a reduction: the boiling is told all the same.
func TestColdThickenerInAReduction(t *testing.T) {
	m := build(t, method.Input{Doses: doses(xanthan), Target: method.Thicken, Boil: 250, Liquid: water(500)})
	assert.Equal(t, 1, count(m, method.Reduce))
	assert.Equal(t, []note.Code{method.CodeReduceFirst}, codes(step(t, m, method.Reduce).Why))
	assert.Equal(t, unit.DegreeC, step(t, m, method.CoolTo).Limits[0].Unit)
}
