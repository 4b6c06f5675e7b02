package emulsion

import (
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Kind names an ingredient of the catalogue. Plain is anything else, with its
// own composition, for example a reduction that the liquid model has computed.
type Kind string

// Plain is a part that brings its own composition.
const Plain Kind = ""

// Composition is what matters of a part here, each as a share of its mass.
type Composition struct {
	Water  unit.Fraction
	Fat    unit.Fraction
	Salt   unit.Fraction // sodium chloride
	Acetic unit.Fraction // acetic acid
	Citric unit.Fraction // citric acid, anhydrous
	// Density is that of the fat in the oil list and of everything else in the
	// water list, in g/ml; zero takes 0.92 and 1.03.
	Density unit.Density
}

// Ingredient is one row of the catalogue.
type Ingredient struct {
	Kind        Kind
	Composition Composition
	Source      source.Ref // of the composition

	Droplets   bool          // its fat is there as droplets; false when bound, as in yolk
	Vegetable  bool          // its fat is a vegetable oil
	Yolk       unit.Fraction // egg yolk in it
	White      unit.Fraction // egg white in it
	Xanthan    unit.Fraction // xanthan in it
	Allergen   string        // key of the text catalogue, "" for none
	Capacity   unit.Range    // grams of fat that a gram of it can hold as droplets; zero for no emulsifier
	CapacityOf source.Ref    // source of Capacity
	Active     unit.Fraction // surface-active protein and phospholipid
}

// Find gives the catalogue row of a kind.
func Find(k Kind) (Ingredient, bool) {
	for _, i := range Ingredients {
		if i.Kind == k {
			return i, true
		}
	}
	return Ingredient{}, false
}

// usual densities, g/ml: a common oil at room temperature and a watery phase
// with some salt and egg (from memory; rapeseed and sunflower 0.915-0.920).
const (
	oilDensity   unit.Density = 0.92
	waterDensity unit.Density = 1.03
)

// The spread of those densities, for the range of phi.
var (
	oilDensities   = unit.Range{Low: 0.910, Typical: 0.920, High: 0.925}
	waterDensities = unit.Range{Low: 1.00, Typical: 1.03, High: 1.08}
)

// YolkMass is the yolk of one large hen's egg, in grams (USDA household weight).
const YolkMass unit.Mass = 17

// whiteMass is the white of one large hen's egg, in grams (USDA household weight).
const whiteMass unit.Mass = 33
