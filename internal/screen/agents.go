package screen

import (
	"tremblant/internal/agent"
	"tremblant/internal/formula"
)

// findAgent finds the id of an agent by the name that a person wrote.
func findAgent(name string) (string, bool) {
	a := agent.Find(name)
	if a == nil {
		return "", false
	}
	return string(a.ID), true
}

// isGelatin reports whether a dose has a Bloom.
func isGelatin(d formula.Dose) bool { return d.Agent == "gelatin" }

// offerAgents fills the list that the agent inputs suggest from.
func (a *App) offerAgents() {
	var pairs []string
	for _, one := range agent.All() {
		pairs = append(pairs, a.text("agent."+string(one.ID)), "")
	}
	a.page.Choices("agents", pairs...)
}
