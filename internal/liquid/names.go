package liquid

// constituentNames are the stable names of the constituents; the text
// catalogue has "constituent." + name.
var constituentNames = [NumConstituents]string{
	"water", "sucrose", "glucose", "fructose", "lactose", "other-sugar", "ethanol", "fat",
	"dairy-protein", "egg-protein", "plant-protein", "meat-protein", "collagen",
	"fibre", "starch", "other-carb",
	"acetic", "lactic", "citric", "malic", "tartaric", "succinic", "ascorbic", "oxalic", "gluconic",
	"galacturonic", "glutamic", "benzoic", "sulfurous", "carbonic",
	"ash", "unknown", "phosphate", "sodium", "potassium", "calcium", "magnesium", "phosphorus",
}

// String is the stable name of the constituent; "constituent.(it)" is its key
// in the text catalogue.
func (c Constituent) String() string {
	if c >= NumConstituents {
		return ""
	}
	return constituentNames[c]
}

// ConstituentNamed is the constituent with that stable name.
func ConstituentNamed(name string) (Constituent, bool) {
	for c, n := range constituentNames {
		if n == name {
			return Constituent(c), true
		}
	}
	return 0, false
}

func nameAt(names []string, i int) string {
	if i >= len(names) {
		return ""
	}
	return names[i]
}

var classNames = []string{"waters", "dairy", "eggs", "fruits", "vegetables", "stocks", "vinegars", "drinks", "sauces", "plant-milks", "oils", "sugars", "pures", "own"}

// String is the stable name of the class; "class."+it is its key in the text catalogue.
func (c Class) String() string { return nameAt(classNames, int(c)) }

var instrumentNames = []string{"ph-meter", "ph-strip", "refractometer", "hydrometer", "alcoholmeter"}

// String is the stable name of the instrument; "instrument."+it is its key in the text catalogue.
func (i Instrument) String() string { return nameAt(instrumentNames, int(i)) }

var treatmentNames = []string{"stirred-in", "added-off-heat", "flamed", "no-heat-overnight", "baked-on-top"}

// String is the stable name of the treatment; "treatment."+it is its key in the text catalogue.
func (t Treatment) String() string { return nameAt(treatmentNames, int(t)) }

var hardnessNames = []string{"soft", "moderately-hard", "hard", "very-hard"}

// String is the stable name of the class; "hardness."+it is its key in the text catalogue.
func (c HardnessClass) String() string { return nameAt(hardnessNames, int(c)) }

var hardnessUnitNames = []string{"mmol", "ppm", "dh", "fh", "clark", "gpg", "mg-ca"}

// String is the stable name of the unit; "hardness-unit."+it is its key in the text catalogue.
func (u HardnessUnit) String() string { return nameAt(hardnessUnitNames, int(u)) }

var allergenNames = []string{"gluten", "crustaceans", "egg", "fish", "peanuts", "soya", "milk", "nuts", "celery", "mustard", "sesame", "sulphites", "lupin", "molluscs"}

// Names are the stable names of the allergens in the set; "allergen."+each is its
// key in the text catalogue.
func (a Allergens) Names() []string {
	var out []string
	for i, n := range allergenNames {
		if a&(1<<i) != 0 {
			out = append(out, n)
		}
	}
	return out
}
