package emulsion

import (
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Standard is a published composition standard for mayonnaise. Shares are of
// the total mass; zero asks for nothing.
type Standard struct {
	ID        string
	Source    source.Ref
	Vegetable unit.Fraction // least vegetable oil
	Fat       unit.Fraction // least total fat, that of the yolk included
	Yolk      unit.Fraction // least egg yolk
	AnyYolk   bool          // an ingredient with egg yolk, no amount
	// AcidStrength is the least strength of the vinegar or juice with the water
	// that dilutes it, as acetic or as citric acid.
	AcidStrength unit.Fraction
}

// Standards are those that were read. The law of the place decides.
var Standards = []Standard{
	{ID: "us-21cfr169", Source: published("21 CFR 169.140, mayonnaise"), Vegetable: 0.65, AnyYolk: true, AcidStrength: 0.025},
	{ID: "codex-168-1989", Source: published("Codex Alimentarius CODEX STAN 168-1989, mayonnaise (European regional)"), Fat: 0.785, Yolk: 0.06},
	{ID: "european-code", Source: published("European industry code of practice for mayonnaise"), Fat: 0.70, Yolk: 0.05},
}

// Lack is one thing that a standard asks for and the recipe does not have.
type Lack struct {
	What       string // vegetable-oil, fat, yolk or acid
	Have, Need unit.Fraction
}

// Verdict is a recipe held against one standard; Lacks is empty when it meets it.
type Verdict struct {
	Standard Standard
	Lacks    []Lack
}

// Meets reports whether nothing is lacking.
func (v Verdict) Meets() bool { return len(v.Lacks) == 0 }

// rounding lets a recipe weighed exactly at a limit pass.
const rounding = 1e-9

func (s sums) standards() []Verdict {
	list := make([]Verdict, 0, len(Standards))
	for _, st := range Standards {
		v := Verdict{Standard: st}
		v.check("vegetable-oil", s.vegetable/s.mass, st.Vegetable)
		v.check("fat", s.fat/s.mass, st.Fat)
		v.check("yolk", s.yolk/s.mass, st.Yolk)
		if st.AnyYolk && s.yolk == 0 {
			v.Lacks = append(v.Lacks, Lack{What: "yolk"})
		}
		v.check("acid", s.acidStrength(), st.AcidStrength)
		list = append(list, v)
	}
	return list
}

func (v *Verdict) check(what string, have float64, need unit.Fraction) {
	if have < float64(need)-rounding {
		v.Lacks = append(v.Lacks, Lack{what, unit.Fraction(have), need})
	}
}

// acidStrength is that of the sour parts together with the plain water.
func (s sums) acidStrength() float64 {
	if s.acidParts == 0 {
		return 0
	}
	return (s.acetic + s.citric) / (s.acidParts + s.plainWater)
}
