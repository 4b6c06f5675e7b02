package lab

import (
	"math"
	"strings"

	"tremblant/internal/gel"
	"tremblant/internal/unit"
)

// figureAsked is an input that holds a figure, with the limits within which one
// is read at all.
type figureAsked struct {
	name      string
	low, high float64
	unit      unit.Symbol
}

// figuresTyped is what was typed into the figures of a section.
type figuresTyped struct {
	figures map[string]gel.Given
	bad     bool // some figure cannot be used; the sentence stands beside it
}

// readFigures reads all figures and says beside each what is wrong with it. full
// gives an input's full name.
func (s *state) readFigures(full func(string) string, asked []figureAsked) figuresTyped {
	t := figuresTyped{figures: map[string]gel.Given{}}
	for _, f := range asked {
		name := full(f.name)
		g := s.typed(name, f.low, f.high, f.unit)
		t.figures[f.name] = g
		t.bad = t.bad || !g.Known && strings.TrimSpace(s.fields[name]) != ""
	}
	return t
}

func (t figuresTyped) known(name string) bool { return t.figures[name].Known }

// or is a typed figure, or another where none is typed.
func (t figuresTyped) or(name string, usual float64) float64 {
	if g := t.figures[name]; g.Known {
		return g.Typical
	}
	return usual
}

// count is a typed count, rounded up: half a cover eats too.
func (t figuresTyped) count(name string) int { return int(math.Ceil(t.or(name, 0))) }

// share is a typed per cent in parts of one.
func (t figuresTyped) share(name string) unit.Fraction { return unit.Percent(t.or(name, 0)) }
