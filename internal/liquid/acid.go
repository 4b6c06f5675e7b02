package liquid

// Acid is one weak acid, base or titratable protein group of the charge balance.
type Acid uint8

// The acids of the charge balance. Those that are also constituents stand in
// the constituents' order.
const (
	AceticAcid Acid = iota
	LacticAcid
	CitricAcid
	MalicAcid
	TartaricAcid
	SuccinicAcid
	AscorbicAcid
	OxalicAcid
	GluconicAcid
	GalacturonicAcid
	GlutamicAcid
	BenzoicAcid
	SulfurousAcid
	CarbonicAcid
	PhosphoricAcid
	PhthalicAcid // only in pH standards
	Ammonium
	Carboxyl  // Asp and Glu side chains of proteins
	Imidazole // His side chains
	Amino     // Lys and Arg side chains, ends
	Colloid   // calcium phosphate of the milk colloid and its casein phosphate

	NumAcids
)

// acidRow is one acid: molar mass, charge of its most protonated form, and per
// step the pKa at 25 °C and ionic strength 0 with its enthalpy in kJ/mol.
type acidRow struct {
	molar  float64
	charge int8
	group  bool // a group on a large molecule: left out of the ionic strength
	source sourceID
	pKa    []float64
	heat   []float64
}

var acids = [NumAcids]acidRow{
	AceticAcid:       {molar: 60.052, source: srcMinteq, pKa: []float64{4.757}, heat: []float64{-0.41}},
	LacticAcid:       {molar: 90.078, source: srcHandbook, pKa: []float64{3.86}, heat: []float64{-0.3}},
	CitricAcid:       {molar: 192.124, source: srcMinteq, pKa: []float64{3.128, 4.761, 6.396}, heat: []float64{4.06, 2.05, -3.35}},
	MalicAcid:        {molar: 134.087, source: srcHandbook, pKa: []float64{3.40, 5.11}, heat: []float64{0, 0}},
	TartaricAcid:     {molar: 150.087, source: srcMinteq, pKa: []float64{3.036, 4.366}, heat: []float64{2.93, 0.75}},
	SuccinicAcid:     {molar: 118.088, source: srcGoldberg, pKa: []float64{4.207, 5.636}, heat: []float64{3.0, -0.5}},
	AscorbicAcid:     {molar: 176.124, source: srcHandbook, pKa: []float64{4.17, 11.57}, heat: []float64{0, 0}},
	OxalicAcid:       {molar: 90.035, source: srcThermoChimie, pKa: []float64{1.25, 4.266}, heat: []float64{-3.3, -7.3}},
	GluconicAcid:     {molar: 196.16, source: srcHandbook, pKa: []float64{3.86}, heat: []float64{0}},
	GalacturonicAcid: {molar: 194.14, source: srcHandbook, pKa: []float64{3.51}, heat: []float64{0}},
	GlutamicAcid:     {molar: 147.13, charge: 1, source: srcHandbook, pKa: []float64{2.16, 4.25, 9.58}, heat: []float64{0, 0, 44.2}},
	BenzoicAcid:      {molar: 122.123, source: srcMinteq, pKa: []float64{4.202}, heat: []float64{0.46}},
	SulfurousAcid:    {molar: 82.079, source: srcGoldberg, pKa: []float64{1.857, 7.172}, heat: []float64{-17.8, -3.65}},
	CarbonicAcid:     {molar: 62.025, source: srcMinteq, pKa: []float64{6.352, 10.329}, heat: []float64{9.16, 14.6}},
	PhosphoricAcid:   {molar: 97.995, source: srcMinteq, pKa: []float64{2.148, 7.198, 12.375}, heat: []float64{-7.9, 3.0, 15.0}},
	PhthalicAcid:     {molar: 166.133, source: srcMinteq, pKa: []float64{2.95, 5.408}, heat: []float64{-2.68, -2.18}},
	Ammonium:         {molar: 18.039, charge: 1, source: srcMinteq, pKa: []float64{9.244}, heat: []float64{52.0}},
	Carboxyl:         {charge: 0, group: true, source: srcHandbook, pKa: []float64{4.4}, heat: []float64{0}},
	Imidazole:        {charge: 1, group: true, source: srcHandbook, pKa: []float64{6.4}, heat: []float64{30}},
	Amino:            {charge: 1, group: true, source: srcHandbook, pKa: []float64{10.4}, heat: []float64{44}},
	Colloid:          {charge: 0, group: true, source: srcMemory, pKa: []float64{5.4}, heat: []float64{0}},
}

// acidOf is the acid that a constituent is; ok is false for all others.
func acidOf(c Constituent) (a Acid, ok bool) {
	switch {
	case c >= Acetic && c <= Carbonic:
		return Acid(c - Acetic), true
	case c == Phosphate:
		return PhosphoricAcid, true
	}
	return 0, false
}

// proteinGroups are titratable groups in mmol per g of protein. The counts of
// carboxyl and imidazole are common practice; amino counts (lysine and
// arginine) are from memory of amino-acid composition tables. The colloid of milk
// takes up acid as it dissolves, most around pH 5 (from memory): 10 mmol of
// phosphate per kg of milk that lose two charges, and the casein's own.
var proteinGroups = [...]struct {
	protein                             Constituent
	carboxyl, imidazole, amino, colloid float64
}{
	{DairyProtein, 0.90, 0.18, 0.75, 0.65},
	{EggProtein, 1.00, 0.15, 0.80, 0},
	{PlantProtein, 1.10, 0.15, 0.75, 0},
	{MeatProtein, 1.10, 0.20, 0.95, 0},
	{Collagen, 1.10, 0.05, 0.80, 0},
}
