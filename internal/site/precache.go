package site

import (
	"encoding/json"
	"fmt"
	"path"
	"slices"
	"strings"
)

// labProgram is the second program, which the page loads when somebody opens a
// part that needs it.
const labProgram = "lab.wasm"

// ofLab tells by the name whether a file is loaded only with the lab.
func ofLab(name string) bool { return strings.HasPrefix(path.Base(name), "lab.") }

// precache lists what makes the page run without a network, in two steps: the
// first load, and then what only the lab needs. Languages other than English
// are in neither: they are kept when somebody uses them.
func (b *builder) precache(step string) (string, error) {
	var urls []string
	switch step {
	case "":
		urls = []string{"./", "manifest.webmanifest"}
	case "lab":
	default:
		return "", fmt.Errorf("precaches in two steps, the second is named lab")
	}
	if b.version == "" {
		return "", nil // the list is complete only on the second pass
	}
	for _, name := range sortedKeys(b.out) {
		lang := languageOf(name)
		if !slices.Contains(rooted, name) && (lang == "" || lang == english) && ofLab(name) == (step == "lab") {
			urls = append(urls, name)
		}
	}
	list, err := json.Marshal(append([]string{}, urls...))
	return string(list), err
}
