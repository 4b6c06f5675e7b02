package lab

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/liquid"
	"tremblant/internal/unit"
)

// citrateLine is what the page offers of citrate, as written: the dose and the
// range said beside it, in g.
type citrateLine struct {
	exact, shown, low, high float64
	aside                   string
}

// citrateOf reads the page; ok is false where no citrate is offered.
func citrateOf(t testing.TB, p *page) (c citrateLine, ok bool) {
	if p.visible("lab-sphere-refused") || !strings.Contains(p.text("lab-sphere-weigh-1-name"), "itrate") {
		return c, false
	}
	c.exact = p.value("lab-sphere-weigh-1-mass")
	c.shown = figuresIn(t, p.places["figure lab-sphere-weigh-1-mass"][1])[0]
	c.aside = p.text("lab-sphere-weigh-1-aside")
	if strings.Contains(c.aside, "works from") {
		between := figuresIn(t, c.aside)
		c.low, c.high = between[0], between[len(between)-1]
	}
	return c, true
}

var aFigure = regexp.MustCompile(`\d+(\.\d+)?`)

func figuresIn(t testing.TB, text string) []float64 {
	var out []float64
	for _, f := range aFigure.FindAllString(text, -1) {
		v, err := strconv.ParseFloat(f, 64)
		require.NoError(t, err)
		out = append(out, v)
	}
	require.NotEmpty(t, out, text)
	return out
}

// sourPans are liquids from nearly no buffer to much, some with protein.
var sourPans = map[string][]string{
	"pear and ginger":  {"pear juice", "335", "ginger juice", "15"},
	"orange, thinned":  {"orange juice", "150", "water", "200"},
	"apple":            {"apple juice", "350"},
	"tomato":           {"tomato juice", "350"},
	"carrot":           {"carrot juice", "350"},
	"strawberry":       {"strawberry", "350"},
	"mango, thinned":   {"mango", "175", "water", "175"},
	"orange with milk": {"orange juice", "300", "whole milk", "50"},
}

// At the same composition the sourer reading never gets less citrate.
func TestSourerReadingNeverGetsLessCitrate(t *testing.T) {
	for name, pan := range sourPans {
		p := openPart(t, "sphere", panOf(pan...))
		last := 0.0
		for step := 60; step >= 0; step-- {
			ph := fmt.Sprintf("%.2f", 3+0.05*float64(step))
			p.typed("lab-sphere-ph", ph)
			if p.visible("lab-sphere-refused") {
				continue
			}
			c, _ := citrateOf(t, p)
			assert.GreaterOrEqual(t, c.exact, last-1e-9, "%s at pH %s", name, ph)
			last = c.exact
		}
		assert.Positive(t, last, name)
	}
}

// The pH said after the citrate is that of the liquid's own model with the
// citrate in it, within the range that this model states.
func TestPHAfterCitrateIsTheLiquidModels(t *testing.T) {
	citrate, ok := liquid.ByID("trisodium-citrate")
	require.True(t, ok)
	for name, pan := range sourPans {
		p := openPart(t, "sphere", panOf(pan...))
		for ph := 3.2; ph < 4.5; ph += 0.1 {
			p.typed("lab-sphere-ph", fmt.Sprintf("%.2f", ph))
			c, ok := citrateOf(t, p)
			if !ok {
				continue
			}
			after, err := p.lab.state.mix.liquid.Then(liquid.Measure(liquid.Reading{Instrument: liquid.PHMeter, Value: ph}),
				liquid.Add(citrate, unit.Mass(c.exact)))
			require.NoError(t, err)
			want := phOf(after)
			said := p.value("lab-sphere-ph-is")
			assert.InDelta(t, want.Typical, said, 0.03, "%s at pH %.2f", name, ph)
			assert.GreaterOrEqual(t, said, want.Low, "%s at pH %.2f", name, ph)
			assert.LessOrEqual(t, said, want.High, "%s at pH %.2f", name, ph)
		}
	}
}

// Whatever the size of the batch, the dose as written lies in the range written
// beside it.
func TestOfferedCitrateLiesInItsRange(t *testing.T) {
	for name, pan := range sourPans {
		p := openPart(t, "sphere", panOf(pan...))
		for _, ph := range []string{"", "3.70", "3.90", "4.00", "4.10", "4.30"} {
			p.typed("lab-sphere-ph", ph)
			for _, size := range []string{"20", "50", "123", "350", "640", "641", "987", "2500", "12000"} {
				p.typed("batch-liquid", size)
				c, ok := citrateOf(t, p)
				if !ok || c.high == 0 {
					continue
				}
				assert.GreaterOrEqual(t, c.shown, c.low, "%s, %s g at pH %s: %s", name, size, ph, c.aside)
				assert.LessOrEqual(t, c.shown, max(c.high, c.low), "%s, %s g at pH %s: %s", name, size, ph, c.aside)
			}
		}
	}
}

// Citrate that does not do it is said beside the dose, and the reverse way is
// offered; once it is in the pan, no more than the usual top is.
func TestCitrateThatFailsOffersTheReverseWay(t *testing.T) {
	p := openPart(t, "sphere", panOf("lemon juice", "250", "water", "100"), "ph", "3.65")
	c, ok := citrateOf(t, p)
	require.True(t, ok)
	assert.InDelta(t, 1.75, c.exact, 1e-9)
	assert.Contains(t, c.aside, "not enough by itself")
	assert.NotContains(t, c.aside, "works from")
	assert.Contains(t, p.all("lab-sphere-warn"), "Citrate alone does not do it")
	assert.True(t, p.visible("lab-sphere-turn"))
	p.take("lab-sphere-put", 0)
	_, ok = citrateOf(t, p)
	assert.False(t, ok, "the top is in the pan")
}

// What was put into the pan for the calcium is not asked for once more.
func TestCitrateInThePanIsCounted(t *testing.T) {
	p := openPart(t, "sphere", panOf("pear juice", "335", "ginger juice", "15"))
	_, ok := citrateOf(t, p)
	require.True(t, ok)
	p.take("lab-sphere-put", 0)
	assert.Contains(t, p.fields["part-3-name"], "itrate")
	_, ok = citrateOf(t, p)
	assert.False(t, ok, p.text("lab-sphere-weigh-1-aside"))
	assert.True(t, p.visible("lab-sphere-has"))
}
