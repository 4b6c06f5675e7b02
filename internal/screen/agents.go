package screen

import (
	"strings"

	"tremblant/internal/agent"
	"tremblant/internal/formula"
)

// findAgent finds the id of an agent by the name that a person wrote.
func findAgent(name string) (string, bool) {
	id, ok := agent.Recognise(name)
	return string(id), ok
}

// fresh are names that a kitchen uses for a food as well as for the powder made of
// it. In the row of an agent the powder is meant, in a line of a recipe the food,
// most of which is water.
var fresh = []string{"egg white", "egg whites", "blanc d'œuf", "blancs d'œufs", "blanc d'oeuf", "clara de huevo", "eiklar", "whey"}

// findInRecipe finds an agent by the name that a line of a recipe has for it.
func findInRecipe(name string) (string, bool) {
	for _, f := range fresh {
		if strings.EqualFold(strings.ReplaceAll(name, "’", "'"), f) {
			return "", false
		}
	}
	return findAgent(name)
}

// isGelatin reports whether a dose has a Bloom.
func isGelatin(d formula.Dose) bool { return d.Agent == "gelatin" }

// offerAgents fills the list that the agent inputs suggest from.
func (a *App) offerAgents() {
	var pairs []string
	for _, id := range agent.IDs() {
		pairs = append(pairs, a.text("agent."+string(id)), "")
	}
	a.page.Choices("agents", pairs...)
}
