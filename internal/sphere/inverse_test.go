package sphere

// What the search for a dose is held against: the same two laws, solved for the
// citrate instead of searched.

// CitrateForPH is the trisodium citrate in mol/kg that lifts a liquid of known acids
// from one pH to a higher one, by the charge balance: what sodium brings must be
// balanced by the acids' charges.
func CitrateForPH(from, to float64, acids []Acid) float64 {
	z, _ := Citric.charge(to)
	return (charges(acids, to) - charges(acids, from) + hydrogen(from) - hydrogen(to)) / (3 - z)
}

// CitrateForCalcium is the citrate, in mmol/kg, that leaves no more than free of
// the calcium unbound at this pH. All in mmol/kg; free above zero.
func CitrateForCalcium(calcium, free, ph float64) float64 {
	if calcium <= free {
		return 0
	}
	bound := calcium - free
	return bound + bound/(BindingConstant(ph)*free/1000)
}
