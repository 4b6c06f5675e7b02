package liquid

import "tremblant/internal/unit"

// heatTerms are the specific heats of components, J/(g K), by powers of °C
// (Choi & Okos 1986).
var heatTerms = [...]struct {
	of    func(*Amounts) float64
	terms [3]float64
}{
	{func(a *Amounts) float64 { return a[Water] }, [3]float64{4.1762, -9.0864e-5, 5.4731e-6}},
	{(*Amounts).Protein, [3]float64{2.0082, 1.2089e-3, -1.3129e-6}},
	{func(a *Amounts) float64 { return a[Fat] }, [3]float64{1.9842, 1.4733e-3, -4.8008e-6}},
	{func(a *Amounts) float64 { return a.Sugars() + a[Starch] + a[OtherCarb] + a.Acids() + a[Unknown] }, [3]float64{1.5488, 1.9625e-3, -5.9399e-6}},
	{func(a *Amounts) float64 { return a[Fibre] }, [3]float64{1.8459, 1.8306e-3, -4.6509e-6}},
	{func(a *Amounts) float64 { return a[Ash] + a[Carbonic] + a[Sulfurous] }, [3]float64{1.0926, 1.8896e-3, -3.6817e-6}},
	{func(a *Amounts) float64 { return a[Ethanol] }, [3]float64{2.3, 6e-3, 0}}, // ethanol: from memory, 2.44 at 25 °C
}

// specificHeat is J/(g K) at a temperature, by mass of the components.
func (a *Amounts) specificHeat(t unit.Celsius) float64 {
	x, sum := float64(t), 0.0
	for i := range heatTerms {
		h := &heatTerms[i]
		sum += h.of(a) * (h.terms[0] + x*(h.terms[1]+x*h.terms[2]))
	}
	return sum / a.Mass()
}

// titratable is the base in mol/kg of liquid that brings it to pH 8.2; negative
// when acid would be needed.
func (a *Amounts) titratable(sid float64) float64 {
	s, ok := a.solution(sid, at25)
	if !ok {
		return 0
	}
	return -(s.SID + s.chargeAt(8.2, 0.1)) * a[Water] / a.Mass()
}
