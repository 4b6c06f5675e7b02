package liquid

// Constituent is one substance, or group of substances, of a composition.
type Constituent uint8

// The constituents. Those before Phosphate add up to the whole mass; the last
// six are parts of Ash told again by element, so they are not added to it.
// Acids are counted as the free acid, whatever salt they stand in.
const (
	Water Constituent = iota
	Sucrose
	Glucose
	Fructose
	Lactose
	OtherSugar // maltose, glucose syrup, sugars that a record does not split
	Ethanol
	Fat
	DairyProtein
	EggProtein
	PlantProtein
	MeatProtein // meat and fish proteins and their hydrolysates
	Collagen    // gelatin and what stock takes from bones
	Fibre
	Starch
	OtherCarb // the rest of "carbohydrate by difference"
	Acetic
	Lactic
	Citric // as anhydrous acid
	Malic
	Tartaric
	Succinic
	Ascorbic
	Oxalic
	Gluconic
	Galacturonic
	Glutamic
	Benzoic
	Sulfurous // free SO2 as H2SO3
	Carbonic  // CO2 and bicarbonate as H2CO3
	Ash       // all mineral matter, phosphate and cations included
	Unknown   // what a record leaves open
	Phosphate // reactive phosphate as H3PO4
	Sodium
	Potassium
	Calcium
	Magnesium
	Phosphorus // all phosphorus, bound or not

	NumConstituents
)

// inMass is how many constituents add up to the mass: those before Phosphate.
const inMass = Phosphate

// Composition is grams of each constituent per 100 g.
type Composition [NumConstituents]float32

// Amounts is grams of each constituent in some liquid.
type Amounts [NumConstituents]float64

// mg writes a mineral of a composition table in milligrams.
const mg = 0.001

// Molar masses, g/mol: conventional atomic weights (IUPAC 2021).
const (
	molarSodium    = 22.990
	molarPotassium = 39.098
	molarCalcium   = 40.078
	molarMagnesium = 24.305
	// SaltPerSodium turns sodium into the salt it is equivalent to: 58.44/22.99.
	SaltPerSodium = 2.5421
)

// Mass is the sum of the constituents that make up the mass, g.
func (a *Amounts) Mass() float64 {
	m := 0.0
	for _, x := range a[:inMass] {
		m += x
	}
	return m
}

// Sugars is the sum of all sugars, g.
func (a *Amounts) Sugars() float64 {
	return a[Sucrose] + a[Glucose] + a[Fructose] + a[Lactose] + a[OtherSugar]
}

// Protein is the sum of all proteins, g.
func (a *Amounts) Protein() float64 {
	return a[DairyProtein] + a[EggProtein] + a[PlantProtein] + a[MeatProtein] + a[Collagen]
}

// Acids is the sum of all organic acids as free acid, g; not carbonic, not
// sulfurous and not phosphate.
func (a *Amounts) Acids() float64 {
	m := 0.0
	for c := Acetic; c <= Benzoic; c++ {
		m += a[c]
	}
	return m
}

// Salt is the salt that the sodium is equivalent to, g.
func (a *Amounts) Salt() float64 { return a[Sodium] * SaltPerSodium }

// otherAsh is mineral matter beyond the salt that the sodium could stand in.
func (a *Amounts) otherAsh() float64 { return max(0, a[Ash]-a.Salt()) }

// DryMatter is all that a boil cannot drive off, g: everything but water,
// ethanol, acetic acid, carbonic and sulfurous acid.
func (a *Amounts) DryMatter() float64 {
	return max(0, a.Mass()-a[Water]-a[Ethanol]-a[Acetic]-a[Carbonic]-a[Sulfurous])
}

// cations is the charge of sodium, potassium, calcium and magnesium, eq.
// Without salt, sodium is left out: it came as chloride and brings no charge.
func (a *Amounts) cations(salted bool) float64 {
	q := a[Potassium]/molarPotassium + 2*a[Calcium]/molarCalcium + 2*a[Magnesium]/molarMagnesium
	if !salted {
		q += a[Sodium] / molarSodium
	}
	return q
}

func (a *Amounts) add(b *Amounts, k float64) {
	for i := range a {
		a[i] += k * b[i]
	}
}

func (a *Amounts) scale(k float64) {
	for i := range a {
		a[i] *= k
	}
}
