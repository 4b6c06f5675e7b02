package sphere

import (
	"math"

	"tremblant/internal/unit"
)

// MolarCalcium is the standard atomic weight of calcium, g/mol.
const MolarCalcium = 40.078

// GroupsPerGram is the acid groups of dry sodium alginate, mmol/g: 1000 / 198.1.
const GroupsPerGram = 1000 / 198.1

// The dissociation constants of alginate's two acids (Handbook of Hydrocolloids).
const (
	pKaMannuronic = 3.38
	pKaGuluronic  = 3.65
)

// Free is the share of alginate's acid groups that acid leaves free to take
// calcium: with the constants of its two acids and, in the middle, their mean.
func Free(ph float64) unit.Range {
	at := func(pKa float64) float64 { return 1 / (1 + math.Pow(10, pKa-ph)) }
	return unit.Range{Low: at(pKaGuluronic), Typical: at((pKaGuluronic + pKaMannuronic) / 2), High: at(pKaMannuronic)}
}

// Doses in g per g of the finished liquid (windows of practice; the direct one
// also spans the published recipes).
var (
	DirectDose  = unit.Range{Low: 0.0035, Typical: 0.008, High: 0.014}
	ShearDose   = unit.Range{Low: 0.004, Typical: 0.006, High: 0.010}
	ReverseBath = unit.Range{Low: 0.004, Typical: 0.005, High: 0.006}
)

// Calcium windows in mmol/kg. A bath of 0.5 to 1 % chloride; a reverse liquid
// with 1 to 3 % lactate or lactate gluconate (windows of practice).
var (
	BathCalcium    = unit.Range{Low: 30, Typical: 50, High: 90}
	ReverseCalcium = unit.Range{Low: 32, Typical: 55, High: 97}
)

// MostCitrate is the usual top of trisodium citrate dihydrate in a liquid, g/g:
// more tastes salty and can stop the gel (common practice).
const MostCitrate = 0.005

// Limits of what direct spheres stand.
const (
	leastPH        = 3.6    // below it alginic acid falls out
	usablePH       = 4.0    // practice: from here it works,
	aimPH          = 4.5    // what citrate is to reach: half way, as one buys pH with salt
	betterPH       = 5.0    // and from here it works well
	someCalcium    = 0.2    // charges of calcium over acid groups: lumps begin
	mostCalcium    = 0.5    // it sets in the bowl
	keepCalcium    = 0.05   // what citrate should leave
	hardCalcium    = 1.8    // mmol/kg, 10 °dH
	muchCalcium    = 10.0   // mmol/kg: a reverse liquid's own calcium is worth a word
	freesCalcium   = 5.0    // pH by which acid has freed nearly all the calcium of milk
	fewCitrate     = 0.0002 // g/g: less lifts the pH by no more than a meter can tell
	warnAlcohol    = 0.20
	mostAlcohol    = 0.40
	warnSugar      = 0.50
	weakBath       = 20.0  // mmol/kg
	strongBath     = 150.0 // mmol/kg
	shearLow       = 0.5   // calcium charges over groups in a set gel
	shearTypical   = 0.75
	shearHigh      = 1.0
	trisodiumMolar = 294.10 // g/mol, trisodium citrate dihydrate
)

// binds is the calcium in mmol/kg that a share of alginate takes up when full.
func binds(alginate float64) float64 { return alginate * 1000 * GroupsPerGram / 2 }
