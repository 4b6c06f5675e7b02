package lab

import (
	"strconv"
	"strings"

	"tremblant/internal/agent"
	"tremblant/internal/gel"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// list joins texts as the reader's language lists them.
func (s *state) list(texts []string) string { return strings.Join(texts, s.say("lab.comma")) }

// conditionText is one condition with its unit.
func (s *state) conditionText(c condition, v float64) string {
	return s.say("lab-swap.known-"+c.name, note.Typed("value", s.words.Figure(v, c.unit)))
}

// agents names the agents of doses, "agar + gelatin".
func (s *state) agents(doses []gel.Dose) string {
	var names []string
	for _, d := range doses {
		names = append(names, s.agentName(d.Agent))
	}
	return strings.Join(names, " + ")
}

func (s *state) agentName(id agent.ID) string { return s.say("agent." + string(id)) }

// nbsp stands between a figure and its unit.
const nbsp = "\u00a0"

// about writes a range as a cook reads it: two digits, low to high. An
// uncertain figure with more digits would claim too much.
func (s *state) about(r unit.Range, u unit.Symbol) string {
	low, high := s.rough(r.Low, u), s.rough(r.High, u)
	return s.fromTo(low, high)
}

// fromTo joins two figures that are written already.
func (s *state) fromTo(low, high string) string {
	if low == high {
		return low
	}
	figure, mark, _ := strings.Cut(low, nbsp)
	if strings.HasSuffix(high, nbsp+mark) {
		low = figure // one unit is enough for both
	}
	return s.say("lab.range", note.Typed("low", low), note.Typed("high", high))
}

// rough writes a figure with two digits.
func (s *state) rough(v float64, u unit.Symbol) string { return s.words.Figure(rounded(v, 2), u) }

// rounded keeps so many significant digits of a figure.
func rounded(v float64, digits int) float64 {
	if v == 0 || !unit.Finite(v) {
		return v
	}
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	if err != nil {
		return v
	}
	return out
}

// stiffSteps are the moduli in Pa at which the word for a stiffness changes,
// strainSteps the strains at break at which that for a brittleness does. Both
// are rules of thumb, so that a figure gets a word.
var (
	stiffSteps  = [...]float64{100, 1000, 4000, 20_000}
	strainSteps = [...]float64{0.3, 0.5, 0.8, 1.2}
)

// step is how many of some rising limits a figure has reached.
func step(v float64, limits []float64) int {
	n := 0
	for n < len(limits) && v >= limits[n] {
		n++
	}
	return n
}

// stiffWord is the text key of a stiffness, "stiff.1" (trembles) to "stiff.5".
func stiffWord(modulus float64) string {
	return "stiff." + strconv.Itoa(1+step(modulus, stiffSteps[:]))
}

// strainWord is the text key of a brittleness, "brittle.1" (snaps) to "brittle.5".
func strainWord(strain float64) string {
	return "brittle." + strconv.Itoa(1+step(strain, strainSteps[:]))
}

// textureName is the word for a texture, with that of a fluid gel's body.
func (s *state) textureName(v gel.Verdict) string {
	key := "texture.none"
	if v.Texture != "" {
		key = "texture." + string(v.Texture)
	}
	if v.Body == "" {
		return s.say(key)
	}
	return s.list([]string{s.say(key), s.say("body." + string(v.Body))})
}

// capital begins a text with a capital letter; pH is written so everywhere.
func capital(text string) string {
	if strings.HasPrefix(text, "pH") {
		return text
	}
	for i, r := range text {
		if i == 0 {
			return strings.ToUpper(string(r)) + text[len(string(r)):]
		}
	}
	return text
}
