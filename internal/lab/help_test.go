package lab

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"tremblant/internal/agent"
	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/plan/safety"
)

// Each word, agent and caution has its sentence: the page's own check of texts
// and arguments fails where one is missing.
func TestHelpExplainsAll(t *testing.T) {
	p := open(t, formula.Fields{})
	p.lab.Open("help", true)
	p.tell()
	for i := range glossary {
		assert.NotEmpty(t, p.text(fmt.Sprintf("lab-help-word-%d-text", i+1)), glossary[i])
	}
	for i, a := range agent.All() {
		at := fmt.Sprintf("lab-help-agent-%d-", i+1)
		assert.NotEmpty(t, p.text(at+"what"), a.ID)
		assert.Contains(t, p.text(at+"from"), "From ", a.ID)
	}
	assert.Contains(t, p.text("lab-help-agent-1-heat"), "°C", "agar has a heat")
	for i, n := range safety.Every() {
		assert.NotEmpty(t, p.text(fmt.Sprintf("lab-help-caution-%d-text", i+1)), n.Code)
	}
}

// What the list of all cautions leaves out would be said of no dish.
func TestEveryCautionOfADishIsListed(t *testing.T) {
	listed := map[note.Code]bool{}
	for _, n := range safety.Every() {
		listed[n.Code] = true
	}
	dish := safety.Facts{RawEgg: true, Frail: true, OilInfusion: true, Flowers: true, FirmGel: true, OneBite: true, Konjac: true, Sweet: true,
		SoftDiet: true, Siphon: true, CalciumSalt: true, KidneyBeans: true, HotLiquid: true, Laxative: true, PHMeasured: true}
	for _, n := range safety.Cautions(dish) {
		assert.True(t, listed[n.Code], n.Code)
	}
}

// The glossary is for looking a word up.
func TestGlossaryInOrder(t *testing.T) {
	p := open(t, formula.Fields{})
	p.lab.Open("help", true)
	p.tell()
	assert.Equal(t, "Acid late", p.text("lab-help-word-1-name"))
	last := ""
	for i := range glossary {
		name := strings.ToLower(strings.TrimLeft(p.text(fmt.Sprintf("lab-help-word-%d-name", i+1)), "°"))
		assert.Less(t, last, name)
		last = name
	}
}

func TestCapital(t *testing.T) {
	for text, want := range map[string]string{"agar": "Agar", "pH 6 is a guess": "pH 6 is a guess", "": "", "äpfel": "Äpfel", "3 g": "3 g"} {
		assert.Equal(t, want, capital(text))
	}
}
