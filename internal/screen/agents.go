//go:build js && wasm

package screen

import "tremblant/internal/formula"

// findAgent finds the id of an agent by the name that a person wrote.
func findAgent(name string) (string, bool) { return "", false }

// isGelatin reports whether a dose has a Bloom.
func isGelatin(d formula.Dose) bool { return d.Agent == "gelatin" }
