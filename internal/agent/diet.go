package agent

import "slices"

// diet is a way of eating, with the agents whose record does not answer it with
// yes: those that are against it, and those whose label has to be read.
type diet struct {
	name  string
	unfit []ID
}

// diets stand apart from the records for the same reason as the names; a test
// compares the two.
var diets = [...]diet{
	{"vegan", []ID{"gelatin", "sucrose-esters", "eggwhite", "milkprotein", "whey", "foam-stab"}},
	{"vegetarian", []ID{"gelatin", "sucrose-esters", "foam-stab"}},
	{"no-pork", []ID{"gelatin", "sucrose-esters", "foam-stab"}},
}

// Diets names the ways of eating that [Suits] answers for: "vegan",
// "vegetarian", "no-pork".
func Diets() []string {
	list := make([]string, len(diets))
	for i, d := range diets {
		list[i] = d.name
	}
	return list
}

// Suits reports whether an agent suits a diet whatever its brand: its record
// answers with yes. An agent or a diet that is not known suits nothing.
func Suits(id ID, name string) bool {
	known := slices.ContainsFunc(names[:], func(n named) bool { return n.id == id })
	return known && slices.ContainsFunc(diets[:], func(d diet) bool {
		return d.name == name && !slices.Contains(d.unfit, id)
	})
}
