package unit

// Symbol is how a unit is written. The page formats a figure by its symbol.
type Symbol string

// The units of figures and inputs.
const (
	One        Symbol = "1" // a plain number or count
	Gram       Symbol = "g"
	Kilogram   Symbol = "kg"
	Milligram  Symbol = "mg"
	Ounce      Symbol = "oz"
	Pound      Symbol = "lb"
	Millilitre Symbol = "ml"
	Centilitre Symbol = "cl"
	Decilitre  Symbol = "dl"
	Litre      Symbol = "l"
	FluidOunce Symbol = "fl oz" // US fluid ounce
	Sheet      Symbol = "sheet" // a sheet of leaf gelatin
	PercentOf  Symbol = "%"
	GramPer100 Symbol = "g/100 g"
	GramPerKg  Symbol = "g/kg"
	GramPerL   Symbol = "g/l"
	DegreeC    Symbol = "°C"
	Pascal     Symbol = "Pa"
	BarUnit    Symbol = "bar"
	Second     Symbol = "s"
	Minute     Symbol = "min"
	Hour       Symbol = "h"
	GramPerMl  Symbol = "g/ml"
	Bloom      Symbol = "bloom"
	PH         Symbol = "pH"
	Brix       Symbol = "°Bx"
	ABV        Symbol = "% vol"
	MmolPerKg  Symbol = "mmol/kg"
	MolPerKg   Symbol = "mol/kg"
	Millimetre Symbol = "mm"
	SquareCm   Symbol = "cm²"
	Portion    Symbol = "portion"
	Charger    Symbol = "charger" // an 8 g N2O charger
)

// Kind is what a unit measures.
type Kind uint8

// The kinds of unit that an amount can be typed in.
const (
	KindNone Kind = iota
	KindMass
	KindVolume
	KindSheets
	KindDose // a share: per cent, g/kg, g/l
)

// perBase is how many base units one of the symbol is. Ounce and pound are the
// international avoirdupois ones (1959 agreement, exact: 28.349523125 g); the
// fluid ounce is the US customary one (exact: 29.5735295625 ml).
var perBase = map[Symbol]struct {
	kind   Kind
	factor float64
}{
	Milligram:  {KindMass, 0.001},
	Gram:       {KindMass, 1},
	Kilogram:   {KindMass, 1000},
	Ounce:      {KindMass, 28.349523125},
	Pound:      {KindMass, 453.59237},
	Millilitre: {KindVolume, 1},
	Centilitre: {KindVolume, 10},
	Decilitre:  {KindVolume, 100},
	Litre:      {KindVolume, 1000},
	FluidOunce: {KindVolume, 29.5735295625},
	Sheet:      {KindSheets, 1},
	PercentOf:  {KindDose, 0.01},
	GramPer100: {KindDose, 0.01},
	GramPerKg:  {KindDose, 0.001},
	GramPerL:   {KindDose, 0.001}, // grams per millilitre: the liquid's density completes it
}

// Kind is what the symbol measures; KindNone when amounts are not typed in it.
func (s Symbol) Kind() Kind { return perBase[s].kind }

// ToBase converts a figure in s to the base unit of its kind (g, ml, sheets, parts of one).
func (s Symbol) ToBase(x float64) float64 { return x * perBase[s].factor }

// FromBase converts a figure in the base unit of its kind to s.
func (s Symbol) FromBase(x float64) float64 { return x / perBase[s].factor }

// Fahrenheit is a temperature in degrees Fahrenheit.
func (c Celsius) Fahrenheit() float64 { return float64(c)*9/5 + 32 }

// FromFahrenheit makes a temperature from degrees Fahrenheit.
func FromFahrenheit(f float64) Celsius { return Celsius((f - 32) * 5 / 9) }
