package screen

import (
	"tremblant/internal/agent"
	"tremblant/internal/formula"
)

// findAgent finds the id of an agent by the name that a person wrote.
func findAgent(name string) (string, bool) {
	id, ok := agent.Recognise(name)
	return string(id), ok
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
