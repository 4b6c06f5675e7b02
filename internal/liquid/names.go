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
