package screen

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"tremblant/internal/agent"
	"tremblant/internal/formula"
	"tremblant/internal/gel"
)

// The shelf's own list of strengths says what the model of gels takes.
func TestStrengthsAreTheModels(t *testing.T) {
	for _, a := range agent.All() {
		at := gradeOf(string(a.ID))
		if a.ID == "gelatin" || a.Grade.Kind == agent.NoGrade {
			assert.Negative(t, at, a.ID)
			continue
		}
		if !assert.GreaterOrEqual(t, at, 0, a.ID) {
			continue
		}
		for grade, fits := range map[float64]bool{graded[at].low: true, graded[at].high: true, graded[at].low * 0.99: false, graded[at].high * 1.01: false} {
			_, err := gel.Regrade(a.ID, 1, grade, 0)
			assert.Equal(t, fits, err == nil, "%s of %g", a.ID, grade)
		}
	}
}

func TestOwnedRows(t *testing.T) {
	for name, c := range map[string]struct {
		row     ownedRow
		own     formula.Owned
		place   string
		refused bool
	}{
		"empty":           {ownedRow{}, formula.Owned{}, "name", false},
		"by name":         {ownedRow{name: "Agar-Agar", grade: "900"}, formula.Owned{Agent: "agar", Grade: 900}, "grade", false},
		"without a grade": {ownedRow{name: "xanthan", grade: "12"}, formula.Owned{Agent: "xanthan"}, "grade", false},
		"no agent":        {ownedRow{name: "moon dust", grade: ""}, formula.Owned{}, "name", true},
		"no figure":       {ownedRow{name: "agar", grade: "strong"}, formula.Owned{Agent: "agar"}, "grade", true},
		"not sold":        {ownedRow{name: "agar", grade: "9"}, formula.Owned{Agent: "agar"}, "grade", true},
	} {
		t.Run(name, func(t *testing.T) {
			own, place, refused := readOwnedRow(c.row)
			assert.Equal(t, c.own.Agent, own.Agent)
			assert.Equal(t, c.place, place)
			assert.Equal(t, c.refused, refused != nil)
			if !c.refused {
				assert.Equal(t, c.own.Grade, own.Grade)
			}
		})
	}
}
