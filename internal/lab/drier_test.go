package lab

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/gel"
	"tremblant/internal/unit"
	"tremblant/internal/view"
)

func unitMass(v float64) unit.Mass { return unit.Mass(v) }

// By hand: 500 g with 90 % water hold 50 g of dry matter; at 5 % residual water
// that is 50/0.95 = 52.63 g. For 30 g of powder 30·0.95/0.10 = 285 g are spread,
// which at 0.2 g/cm² take 1425 cm².
func TestDryingYield(t *testing.T) {
	p := openPart(t, "dry", panOf("leaf pulp", "500"), "water", "90")
	assert.Empty(t, p.text("lab-dry-refused"))
	assert.InDelta(t, 500, p.value("lab-dry-wet"), 1e-9)
	assert.InDelta(t, 52.632, p.value("lab-dry-product"), 0.001)
	assert.InDelta(t, 2500, p.value("lab-dry-area"), 1e-6)
	p.typed("lab-dry-want", "30")
	assert.InDelta(t, 285, p.value("lab-dry-wet"), 1e-6)
	assert.InDelta(t, 1425, p.value("lab-dry-area"), 1e-6)
	p.typed("lab-dry-long", "38")
	assert.Contains(t, p.places["say lab-dry-wide"][0], "both sides")
	p.typed("lab-dry-wide", "28")
	assert.Equal(t, "2 trays", p.text("lab-dry-trays"))
	p.take("lab-dry-make", 0)
	b, err := gel.Convert(p.fields.Read(findAgent).Formula, gel.Shelf{})
	require.NoError(t, err)
	assert.InDelta(t, 285, float64(b.Yield), 1e-6)
	assert.True(t, p.visible("lab-dry-fits"))
	assert.InDelta(t, 285, p.value("lab-dry-wet"), 1e-6)
}

// Common practice, no source: leaf pulp in a thin layer at 50 °C takes about five
// hours. The kitchen's own run takes the place of that.
func TestDryingTimeIsLearned(t *testing.T) {
	p := openPart(t, "dry", panOf("leaf pulp", "500"), "water", "90", "residual", "6", "temp", "50")
	assert.InDelta(t, 5*3600, p.value("lab-dry-time"), 1)
	assert.Contains(t, p.text("lab-dry-time-of"), "rule of thumb")
	p.typed("lab-dry-took", "7")
	p.take("lab-dry-note", 0)
	assert.Empty(t, p.fields["lab-dry-took"])
	assert.InDelta(t, 7*3600, p.value("lab-dry-time"), 1)
	assert.Contains(t, p.text("lab-dry-time-of"), "your own runs")
	assert.Equal(t, 1, p.rows("lab-dry-run"))
	assert.Contains(t, p.text("lab-dry-run-1-text"), "7")
	p.take("lab-dry-drop", 1)
	assert.InDelta(t, 5*3600, p.value("lab-dry-time"), 1)
	for range mostRuns + 2 {
		p.typed("lab-dry-took", "6")
		p.take("lab-dry-note", 0)
	}
	assert.Equal(t, mostRuns, p.rows("lab-dry-run"))
}

// The water is the liquid's own.
func TestDryingTakesTheLiquidsWater(t *testing.T) {
	p := openPart(t, "dry", panOf("raspberry", "400"), "form", "sheet")
	require.Empty(t, p.text("lab-dry-refused"))
	ratio := 400 / p.value("lab-dry-product")
	assert.True(t, ratio > 4.5 && ratio < 7.5, "85.75 %% water (open data): %v", ratio)
	assert.Contains(t, p.all("lab-dry-step"), "Peel off while warm")
}

func TestDryingWindowAndStore(t *testing.T) {
	p := openPart(t, "dry", panOf("leaf pulp", "500"), "water", "90", "keep-aroma", "1", "humidity", "60", "form", "crisp")
	assert.InDelta(t, 40, p.value("lab-dry-air"), 0)
	assert.Contains(t, p.text("lab-dry-window"), "35")
	assert.True(t, p.visible("lab-dry-room-row"))
	assert.Contains(t, p.all("lab-dry-warn"), "bacteria grow")
	p.typed("lab-dry-keep-crisp", "1")
	assert.Contains(t, p.all("lab-dry-warn"), "No one temperature keeps both")
}

// A tray of 200 g of 90 % water holds 20 g of dry matter: at 100 g it is 80 %
// water, and it is done at 20/0.95 g.
func TestDryingTray(t *testing.T) {
	p := openPart(t, "dry", panOf("leaf pulp", "500"), "water", "90", "tray-wet", "200", "tray-now", "100")
	assert.InDelta(t, 0.8, p.value("lab-dry-now"), 1e-9)
	assert.InDelta(t, 20/0.95, p.value("lab-dry-stop"), 1e-9)
	p.typed("lab-dry-tray-now", "15")
	assert.Contains(t, p.places["say lab-dry-tray-now"][0], "less than its dry matter")
}

func TestDryingBadInput(t *testing.T) {
	for name, c := range map[string]struct {
		f    formula.Fields
		more []string
		says string
	}{
		"below zero":     {panOf("leaf pulp", "500"), []string{"water", "90", "residual", "-5"}, "less than no water"},
		"not drier":      {panOf("leaf pulp", "500"), []string{"water", "50", "residual", "60"}, "is not drier"},
		"water unknown":  {panOf("leaf pulp", "500"), nil, "not known"},
		"nothing stays":  {panOf("leaf pulp", "500"), []string{"water", "100"}, ""},
		"no formula yet": {formula.Fields{"make": "liquid"}, nil, "in the pan"},
	} {
		t.Run(name, func(t *testing.T) {
			p := openPart(t, "dry", c.f, c.more...)
			assert.Contains(t, p.text("lab-dry-refused"), c.says)
			assert.NotEmpty(t, p.text("lab-dry-refused"))
			assert.False(t, p.visible("lab-dry-answer"))
		})
	}
}

// 100 g of garlic hold 58.6 g of water, and 100 g of oil hold none: at 5 % of
// residual water nearly all of the dry 149 g is oil, and the water stands in the
// garlic alone.
func TestOilIsNoDryMatterThatHoldsWater(t *testing.T) {
	p := openPart(t, "dry", panOf("garlic", "100", "olive oil", "100"), "residual", "5")
	assert.Greater(t, p.value("lab-dry-activity"), 0.4)
	assert.NotContains(t, p.all("lab-dry-why"), "stay crisp")
	assert.Contains(t, p.all("lab-dry-warn"), "Fat does not dry")
	p = openPart(t, "dry", panOf("garlic", "100"), "residual", "5")
	assert.Less(t, p.value("lab-dry-activity"), 0.3)
	assert.NotContains(t, p.all("lab-dry-warn"), "Fat does not dry")
}

func TestASheetThatBendsGetsNoSachet(t *testing.T) {
	p := openPart(t, "dry", panOf("raspberry puree", "500"), "form", "sheet")
	assert.Contains(t, p.all("lab-dry-step"), "without a drying sachet")
	assert.Contains(t, p.all("lab-dry-why"), "No drying sachet")
	p = openPart(t, "dry", panOf("raspberry puree", "500"), "form", "crisp")
	assert.NotContains(t, p.all("lab-dry-step"), "without a drying sachet")
}

// The reason tells the time as the row above it does, in hours and minutes.
func TestDryingTimeReadsAlike(t *testing.T) {
	p := openPart(t, "dry", panOf("leaf pulp", "500"), "water", "90")
	why := ""
	for i := range p.rows("lab-dry-why") {
		why += p.text(view.Row("lab-dry-why", i, "text")) + "\n"
	}
	assert.Regexp(t, `About \d+\x{a0}h( \d+\x{a0}min)? `, why)
	assert.NotRegexp(t, `\d\.\d+\x{a0}h`, why)
}

// What an agent is made of has to be declared as well: dried egg white in a crisp,
// whey or soya lecithin in a foam.
func TestAgentsAllergensAreDeclared(t *testing.T) {
	dosed := func(name string) formula.Fields {
		f := panOf("carrot juice", "500", "sunflower oil", "50")
		f["dose-1-name"], f["dose-1-amount"], f["dose-1-unit"] = name, "15", "g"
		return f
	}
	for part, list := range map[string]string{"dry": "lab-dry-warn", "foam": "lab-foam-danger", "sphere": "lab-sphere-warn", "emulsion": "lab-emulsion-warn"} {
		for agent, allergen := range map[string]string{"dried egg white": "egg", "whey protein": "milk", "soy lecithin": "soya"} {
			told := openPart(t, part, dosed(agent), "gas", "1", "form", "crisp").all(list)
			assert.Regexp(t, "Contains (celery, )?"+allergen+"[.:]", told, "%s: %s", part, agent)
		}
	}
	assert.NotContains(t, openPart(t, "dry", dosed("agar")).all("lab-dry-warn"), "Contains")
}
