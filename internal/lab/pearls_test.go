package lab

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/agent"
	"tremblant/internal/gel"
	"tremblant/internal/sphere"
)

// A reverse sphere of milk, by hand: 0.5 % of alginate in 500 g of bath is
// 2.51 g; 55 mmol/kg of calcium into 250 g with a salt of 13 % is
// 0.055·250/(0.13/0.040078 − 0.055) = 4.31 g.
func TestReverseSphereOfMilk(t *testing.T) {
	p := openPart(t, "sphere", panOf("whole milk", "250"), "method", "reverse", "bath", "500")
	assert.Empty(t, p.text("lab-sphere-refused"))
	assert.InDelta(t, 4.31, p.value("lab-sphere-weigh-1-mass"), 0.01)
	assert.InDelta(t, 2.513, p.value("lab-sphere-weigh-2-mass"), 0.005)
	assert.Contains(t, p.text("lab-sphere-weigh-1-into"), "250")
	assert.Contains(t, p.text("lab-sphere-weigh-2-into"), "500")
	assert.Contains(t, p.places["say lab-sphere-salt"][0], "lactate gluconate")
	assert.False(t, p.visible("lab-sphere-portions-row"), "only a calcium bath wears")
	assert.Contains(t, p.all("lab-sphere-warn"), "block a throat")
	assert.Contains(t, p.all("lab-sphere-warn"), "Contains milk")
	assert.Contains(t, p.all("lab-sphere-step"), "Rest the bath")
	skin := p.value("lab-sphere-skin")
	p.typed("lab-sphere-minutes", "12")
	assert.InEpsilon(t, 2*skin, p.value("lab-sphere-skin"), 1e-9, "four times as long, twice as thick")

	assert.Contains(t, p.take("lab-sphere-put", 0), "The pan now holds")
	b, err := gel.Convert(p.fields.Read(findAgent).Formula, gel.Shelf{})
	require.NoError(t, err)
	assert.InDelta(t, 4.31, float64(b.Doses[0].Mass), 0.01)
	assert.True(t, p.visible("lab-sphere-has"))
	assert.InDelta(t, 4.31, p.value("lab-sphere-weigh-1-mass"), 0.02, "it is not doubled")
}

// Alginate in milk is refused, with the way that works.
func TestDirectSphereOfMilkTurnsReverse(t *testing.T) {
	p := openPart(t, "sphere", panOf("whole milk", "250"))
	assert.Contains(t, p.text("lab-sphere-refused"), "Make reverse spheres")
	require.True(t, p.visible("lab-sphere-turn"))
	p.take("lab-sphere-turn", 0)
	assert.Equal(t, "reverse", p.fields["lab-sphere-method"])
	assert.Empty(t, p.text("lab-sphere-refused"))
	assert.False(t, p.visible("lab-sphere-turn"))
}

func TestDirectSphereOfJuice(t *testing.T) {
	p := openPart(t, "sphere", panOf("melon juice", "250"), "ph", "6.2", "calcium", "0.3", "bath", "1000", "covers", "400")
	assert.Empty(t, p.text("lab-sphere-refused"))
	assert.InDelta(t, 250*0.008/0.992, p.value("lab-sphere-weigh-1-mass"), 0.03)
	assert.Greater(t, p.value("lab-sphere-portions"), 10.0)
	assert.Contains(t, p.text("lab-sphere-baths"), "400")
	assert.Contains(t, p.text("lab-sphere-baths"), "of liquid are needed", "400 portions do not come out of 250 g")
	p.typed("lab-sphere-covers", "5")
	assert.NotContains(t, p.text("lab-sphere-baths"), "of liquid are needed")
	p.typed("lab-sphere-covers", "400")
	// The same calcium in every salt and hydrate, to four digits.
	per := 0.0
	for i, salt := range agent.CalciumSalts {
		m := p.value("lab-sphere-salts-" + string(rune('1'+i)) + "-mass")
		c, err := coreSalt(salt).Content(unitMass(m), 1000)
		require.NoError(t, err)
		if i == 0 {
			per = c.Typical
		}
		assert.InEpsilon(t, per, c.Typical, 1e-9, salt.Key)
	}
	assert.InDelta(t, sphere.BathCalcium.Typical, per, 1e-6)
}

func TestSourSphereTakesCitrate(t *testing.T) {
	p := openPart(t, "sphere", panOf("orange juice", "100", "water", "200"))
	require.Empty(t, p.text("lab-sphere-refused"))
	assert.Contains(t, p.text("lab-sphere-weigh-1-name"), "itrate")
	p.take("lab-sphere-put", 0)
	assert.Contains(t, p.fields["part-3-name"], "itrate")
	p.fields["batch-liquid"] = "302"
	p.tell()
	assert.NotContains(t, p.text("lab-sphere-weigh-1-name"), "itrate", "the liquid is sweet enough now")
}

func TestSphereBadInput(t *testing.T) {
	p := openPart(t, "sphere", panOf("melon juice", "250"), "ph", "6", "salt", "unknown")
	assert.Contains(t, p.text("lab-sphere-refused"), "Which calcium salt")
	p = openPart(t, "sphere", panOf("strange brew", "250"))
	assert.Contains(t, p.text("lab-sphere-refused"), "pH")
	p = openPart(t, "sphere", panOf("vodka", "250"), "ph", "6")
	assert.Contains(t, p.text("lab-sphere-refused"), "alcohol")
}

// Yogurt is sour, and its calcium free: the salt that milk takes is halved.
func TestReverseSphereOfYogurt(t *testing.T) {
	p := openPart(t, "sphere", panOf("yogurt", "250"), "method", "reverse")
	assert.Less(t, p.value("lab-sphere-weigh-1-mass"), 2.4)
	assert.Contains(t, p.all("lab-sphere-why"), "no salt added")
	assert.NotContains(t, p.all("lab-sphere-why"), "mostly bound")
}

func TestLemonWaterIsLiftedByAPinch(t *testing.T) {
	p := openPart(t, "sphere", panOf("water", "1000", "lemon juice", "3"))
	assert.Empty(t, p.text("lab-sphere-refused"))
	assert.Less(t, p.value("lab-sphere-weigh-1-mass"), 0.5)
	assert.InDelta(t, 4.5, p.value("lab-sphere-ph-is"), 0.1)
}

func TestOilHasNothingToDissolveIn(t *testing.T) {
	p := openPart(t, "sphere", panOf("olive oil", "250"), "method", "reverse")
	assert.Contains(t, p.text("lab-sphere-refused"), "hardly any water")
	p.typed("lab-sphere-ph", "6")
	assert.Contains(t, p.text("lab-sphere-refused"), "hardly any water", "a pH does not bring it")
}

func TestNoBathIsRenewedAfterNothing(t *testing.T) {
	p := openPart(t, "sphere", panOf("chicken stock", "250"), "bath", "10", "covers", "20")
	assert.NotContains(t, p.all("lab-sphere-step"), "new bath after")
	assert.Contains(t, p.all("lab-sphere-warn"), "not calcium enough for one portion")
	assert.NotContains(t, p.text("lab-sphere-baths"), "baths ready")
}
