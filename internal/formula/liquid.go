package formula

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"tremblant/internal/wire"
)

// OwnLiquid is an ingredient as a cook has described it: what it is like in the catalogue
// of liquids, and the figures of its label, as typed.
type OwnLiquid struct {
	Name string
	Says map[string]string // by [LiquidProperties]; what is left open is not in it
}

// LiquidProperties are what can be said of an ingredient, in the order of the page: what
// it is like, then figures in g per 100 g, but for alcohol (% vol) and pH.
var LiquidProperties = [...]string{"as", "sugar", "acid", "acid-kind", "alcohol", "salt", "fat", "ph"}

// Bounds of what is said of ingredients.
const (
	MaxDescribed = 6  // in a formula
	MaxLiquids   = 60 // on the shelf
)

// LiquidField is the input of a property of a described ingredient, or of its "name", by
// its row from 0.
func LiquidField(row int, property string) string {
	return LabPrefix + "liquid-own-" + strconv.Itoa(row+1) + "-" + property
}

// Described are the ingredients that a formula says anything of.
func (f Fields) Described() []OwnLiquid {
	var out []OwnLiquid
	for i := range MaxDescribed {
		l := OwnLiquid{strings.TrimSpace(f[LiquidField(i, "name")]), map[string]string{}}
		for _, p := range LiquidProperties {
			if text := strings.TrimSpace(f[LiquidField(i, p)]); text != "" && len(text) <= nameBytes {
				l.Says[p] = text
			}
		}
		if l.Name != "" && len(l.Name) <= nameBytes && len(l.Says) > 0 {
			out = append(out, l)
		}
	}
	return out
}

// Same reports whether two say the same of one ingredient.
func (l OwnLiquid) Same(other OwnLiquid) bool {
	return strings.EqualFold(l.Name, other.Name) && maps.Equal(l.Says, other.Says)
}

// FindLiquid is the place in a list of what is said of an ingredient, −1 for nothing.
func FindLiquid(liquids []OwnLiquid, name string) int {
	return slices.IndexFunc(liquids, func(l OwnLiquid) bool { return strings.EqualFold(l.Name, strings.TrimSpace(name)) })
}

func (l OwnLiquid) encode(w *wire.Writer) {
	w.BeginObject()
	w.Name("name").Text(l.Name)
	for _, p := range LiquidProperties {
		text(w, p, l.Says[p])
	}
	w.EndObject()
}

func decodeLiquid(m *wire.Fields) OwnLiquid {
	l := OwnLiquid{m.Text("name", nameBytes), map[string]string{}}
	for _, p := range LiquidProperties {
		if said := m.TextOr(p, "", nameBytes); said != "" {
			l.Says[p] = said
		}
	}
	return l
}
