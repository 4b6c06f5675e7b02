package agent

// Salt is one form of a calcium salt, with the molar masses in g/mol.
type Salt struct {
	Agent    ID
	Key      Word // "salt.<key>" in the text catalogue
	Molar    float64
	Ca       Fig // mass fraction of calcium, parts of one
	Usual    bool
	Hydrated int // molecules of water to one of calcium
}

// Molar masses in g/mol (IUPAC standard atomic weights).
const (
	MolarCa  = 40.078
	MolarKCl = 74.551
)

// CalciumSalts is the calcium of every salt form that kitchens buy. Lactate
// gluconate has no single formula: its range is what is sold.
var CalciumSalts = [...]Salt{
	{"ca-chloride", "cacl2", 110.98, Fig{0.3611, 0.3611, 0.3611, cMolar}, false, 0},
	{"ca-chloride", "cacl2-2h2o", 147.01, Fig{0.2726, 0.2726, 0.2726, cMolar}, true, 2},
	{"ca-chloride", "cacl2-6h2o", 219.07, Fig{0.1829, 0.1829, 0.1829, cMolar}, false, 6},
	{"ca-lactate", "lactate", 218.22, Fig{0.1837, 0.1837, 0.1837, cMolar}, false, 0},
	{"ca-lactate", "lactate-3h2o", 272.26, Fig{0.1472, 0.1472, 0.1472, cMolar}, false, 3},
	{"ca-lactate", "lactate-5h2o", 308.29, Fig{0.13, 0.13, 0.13, cMolar}, true, 5},
	{"ca-gluconate", "gluconate-h2o", 448.39, Fig{0.0894, 0.0894, 0.0894, cMolar}, false, 1},
	{"ca-lg", "lactate-gluconate", 0, Fig{0.10, 0.13, 0.15, cMem}, true, 0},
}

// SaltByKey returns the salt form of that key.
func SaltByKey(key Word) (Salt, bool) {
	for _, s := range CalciumSalts {
		if s.Key == key {
			return s, true
		}
	}
	return Salt{}, false
}

// EqualTo is how many grams of s carry the calcium of one gram of o.
func (s Salt) EqualTo(o Salt) float64 { return o.Ca.Typical / s.Ca.Typical }
