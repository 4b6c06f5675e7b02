package agent

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestDietsSayWhatTheRecordsSay(t *testing.T) {
	answers := map[string]func(*Agent) Answer{
		"vegan":      func(a *Agent) Answer { return a.Vegan },
		"vegetarian": func(a *Agent) Answer { return a.Vegetarian },
		"no-pork":    func(a *Agent) Answer { return a.PorkFree },
	}
	assert.Len(t, Diets(), len(answers))
	for _, name := range Diets() {
		for _, a := range All() {
			assert.Equal(t, answers[name](a) == Yes, Suits(a.ID, name), "%s for %s", a.ID, name)
		}
		assert.False(t, Suits("nothing-known", name))
	}
	assert.False(t, Suits("agar", "some other diet"))
}
