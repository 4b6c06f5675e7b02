package liquid

// portion is what one step brought into the liquid. It keeps its own amounts
// through all that happens, so that every figure can be traced to it.
type portion struct {
	ingredient int // index into Liquid.ingredients
	parts      Amounts
	sid        float64    // strong-ion difference, mol of charge
	sidPH      [2]float64 // at the low and high end of the ingredient's pH
	sidAcid    [2]float64 // with its acids at the low and high end, pH held
	acids      float64    // relative half-ranges
	sugars     float64
	minerals   float64
	ethanol    float64
	body       float64 // fat, protein, fibre, starch
	solidsRead bool    // a reading of dissolved solids has settled the protein too
	apart      bool    // not yet heated or strained together with the rest
}

// cationShare is the part of the metals' charge that stands against weak acids
// in foods without a stated pH; the rest is chloride, sulphate and bound metal.
// Derived: catalogue rows with a published pH give 0.5 to 0.95, mostly 0.7.
var cationShare = [3]float64{0.45, 0.72, 1.0}

// newPortion weighs out m grams of an ingredient.
func newPortion(g *Ingredient, index int, m float64) portion {
	p := portion{ingredient: index, parts: g.amounts(m), apart: true}
	s := spreads[min(g.Spread, Pure)]
	p.acids, p.sugars, p.minerals, p.ethanol, p.body = s.acids, s.sugars, s.minerals, s.ethanol, s.sugars
	if g.AcidSpread > 0 {
		p.acids = float64(g.AcidSpread)
	}
	p.setSID(g, m)
	return p
}

func (p *portion) setSID(g *Ingredient, m float64) {
	switch {
	case g.SIDKnown:
		p.fixSID(float64(g.SID) / 1000 * m / 100)
		p.scaleSIDAcid()
	case g.PH != (PH{}):
		p.sidFromPH(g.PH)
	default:
		p.sidFromMetals(g.Flags&Salted != 0)
	}
}

// Foods whose listed acids leave their metals' charge open have unlisted acids
// that hold them near neutral: nearly all low-acid rows of the FDA list lie
// between 5.0 and 7.2. Above mostByMetals the estimate gives way to that.
var lowAcidFood = PH{5.0, 6.2, 7.2}

const mostByMetals = 5.0

// sidFromMetals estimates the difference from the metals of a food without a
// stated pH.
func (p *portion) sidFromMetals(salted bool) {
	q := p.parts.cations(salted)
	p.sid = q * cationShare[1]
	e, ok := p.parts.equilibrium(p.sid, at25, 5)
	if ok && e.PH > mostByMetals {
		guess := lowAcidFood
		if e.PH < float64(guess.High) {
			guess.Typical = float32(e.PH)
		}
		p.sidFromPH(guess)
		return
	}
	p.sidPH = [2]float64{q * cationShare[0], q * cationShare[2]}
	if ok {
		p.sidPH[1] = max(p.sid, min(p.sidPH[1], p.parts.sidAt(float64(lowAcidFood.High))))
	}
	p.sidAcid = [2]float64{p.sid, p.sid}
}

// fixSID sets the difference without a range.
func (p *portion) fixSID(sid float64) {
	p.sid, p.sidPH, p.sidAcid = sid, [2]float64{sid, sid}, [2]float64{sid, sid}
}

// scaleSIDAcid lets a known difference follow its acids: a salt with more acid
// has more metal. A pure substance has no range, so this acts on waters alone.
func (p *portion) scaleSIDAcid() {
	if p.parts[Carbonic] > 0 {
		p.sidAcid = [2]float64{p.sid * (1 - p.acids), p.sid * (1 + p.acids)}
	}
}

// sidFromPH finds the difference that agrees with a pH, and its range.
func (p *portion) sidFromPH(ph PH) {
	p.sid = p.parts.sidAt(float64(ph.Typical))
	p.sidPH = [2]float64{p.parts.sidAt(float64(ph.Low)), p.parts.sidAt(float64(ph.High))}
	for i := range p.sidAcid {
		varied := p.parts
		varied.scaleAcids(1 + float64(2*i-1)*p.acids)
		p.sidAcid[i] = varied.sidAt(float64(ph.Typical))
	}
}

// sidAt is the strong-ion difference, mol, that agrees with a pH at 25 °C; 0 without water.
func (a *Amounts) sidAt(pH float64) float64 {
	s, ok := a.solution(0, at25)
	if !ok {
		return 0
	}
	return s.SIDAt(pH) * a[Water] / 1000
}

// estimatedByMetals reports whether an ingredient's pH had to be estimated.
func (g *Ingredient) estimatedByMetals() bool {
	return !g.SIDKnown && g.PH == (PH{}) && g.Per100[Water] > 0.5
}

func (a *Amounts) scaleAcids(k float64) {
	for c := Acetic; c <= Carbonic; c++ {
		a[c] *= k
	}
}

func (p *portion) scale(k float64) {
	p.parts.scale(k)
	p.sid *= k
	for i := range 2 {
		p.sidPH[i] *= k
		p.sidAcid[i] *= k
	}
}
