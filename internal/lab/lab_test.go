package lab

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/phrase"
)

// pear is a formula of one agent.
func pear() formula.Fields {
	return formula.Fields{
		"part-1-name": "house liquor", "part-1-amount": "500", "part-1-unit": "g",
		"dose-1-name": "agar", "dose-1-amount": "0.8", "dose-1-unit": "%",
		"make": "liquid", "batch-liquid": "500", "batch-liquid-unit": "g",
	}
}

func with(f formula.Fields, pairs ...string) formula.Fields {
	for i := 0; i < len(pairs); i += 2 {
		f[pairs[i]] = pairs[i+1]
	}
	return f
}

func TestNothingIsShownBeforeAFormulaComes(t *testing.T) {
	l := New(phrase.Book{Find: func(string) (string, bool) { return "", false }})
	l.Open("swap", true)
	l.Input("lab-swap-vegan", "1")
	l.Do("lab-swap-pick", 1)
	assert.Empty(t, l.Change())
	assert.NotContains(t, l.Patch(), "lab-swap-offer")
}

func TestAClosedPartIsNotComputed(t *testing.T) {
	p := open(t, pear())
	p.lab.Open("swap", false)
	p.places = map[string][]string{}
	p.fields["dose-1-amount"] = "1.6"
	p.tell()
	assert.NotContains(t, p.places, "figure lab-swap-offer-1-mass")
	p.lab.Open("swap", true)
	p.update()
	assert.Contains(t, p.places, "figure lab-swap-offer-1-mass")
}

func TestADamagedMessageChangesNothing(t *testing.T) {
	p := open(t, pear())
	for _, text := range []string{"", "{", "[]", `{"fields":{}}`, `{"fields":{},"shelf":{"form":99},"comma":false}`} {
		require.Error(t, p.lab.Working(text), text)
	}
	p.update()
	assert.Equal(t, "Firm set", p.text("lab-swap-now-texture"))
}

// A message of the pan that was sent before a keystroke must not undo it.
func TestWhatIsTypedStays(t *testing.T) {
	p := open(t, pear())
	p.lab.Input("lab-swap-ph", "3.5")
	p.update()
	assert.NotContains(t, p.places["value lab-swap-ph"], "3.5", "the input holds it already")
	p.lab.Input("lab-swap-ph", "3.")
	p.update()
	assert.Contains(t, p.text("lab-swap-known"), "pH 3.0")
}

func TestInputsComeWithTheFormula(t *testing.T) {
	p := open(t, with(pear(), "lab-swap-vegan", "1", "lab-swap-serve", "60"))
	assert.Equal(t, []string{"1"}, p.places["value lab-swap-vegan"])
	assert.Equal(t, []string{"60"}, p.places["value lab-swap-serve"])
	assert.NotContains(t, p.offers(), "gelatin")
	p.fields = pear()
	p.tell()
	assert.Equal(t, []string{""}, p.places["value lab-swap-vegan"])
}

func TestEverySentenceIsThere(t *testing.T) {
	all := texts(t)
	for _, c := range Codes {
		assert.Contains(t, all, "note."+string(c))
	}
	for _, c := range conditions {
		assert.Contains(t, all, "lab-swap.known-"+c.name)
		assert.Contains(t, all, "lab-swap."+c.name)
	}
	for _, v := range []float64{1, 500, 2000, 9000, 1e6} {
		assert.Contains(t, all, stiffWord(v))
	}
	for _, v := range []float64{0.1, 0.4, 0.6, 1, 2} {
		assert.Contains(t, all, strainWord(v))
	}
}
