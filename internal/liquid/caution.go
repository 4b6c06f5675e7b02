package liquid

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// What the charge balance itself is wrong by, as half-ranges of pH. The first
// is the salt effect and the scatter against primary standards; the others are
// common practice.
const (
	errorBase    = 0.05
	errorAlcohol = 0.10 // over 15 % vol: ethanol weakens acids
	errorSugar   = 0.10 // at 60 °Bx; in proportion below
	errorProtein = 0.15 // where protein is the chief buffer
	errorMilk    = 0.50 // boiled milk only, downwards: calcium phosphate falls out and leaves acid behind
	errorSalt    = 0.40 // ionic strength far beyond the cap
)

// modelError is the half-range of pH that the model adds to that of the inputs.
// A measured pH and a single unmixed ingredient need none of it.
func (l *Liquid) modelError() float64 {
	if l.measuredPH || len(l.portions) == 1 && !l.boiled {
		return 0
	}
	a := l.Parts()
	sum := errorBase * errorBase
	if a.abv() > 0.15 {
		sum += errorAlcohol * errorAlcohol
	}
	sugar := errorSugar * min(1.5, a.brix()/60)
	sum += sugar * sugar
	protein := errorProtein * min(1, a.proteinShare()*2)
	sum += protein * protein
	if e, ok := l.pH(at25); ok && e.Capped {
		salt := errorSalt * min(1, (e.Ionic-IonicCap)/2)
		sum += salt * salt
	}
	return math.Sqrt(sum)
}

// milkError is how much lower boiled milk may lie than computed.
func (l *Liquid) milkError() float64 {
	a := l.Parts()
	if l.measuredPH || !l.boiled || a[DairyProtein] < someProtein*a.Mass() {
		return 0
	}
	return errorMilk * min(1, a[DairyProtein]/a.Mass()/0.06)
}

// proteinShare is the part of all titratable groups that protein has, 0 to 1.
func (a *Amounts) proteinShare() float64 {
	s, ok := a.solution(0, at25)
	if !ok {
		return 0
	}
	groups, all := 0.0, 0.0
	for acid, m := range s.Acid {
		all += m
		if acids[acid].group {
			groups += m
		}
	}
	if all <= 0 {
		return 0
	}
	return groups / all
}

// OilShare is the share of fat from which food in it is kept without air, as under
// oil; common practice.
const OilShare = 0.30

// Limits of the cautions.
const (
	lowAcidPH   = 4.6 // above it spores of Clostridium botulinum can grow
	curdlePH    = 5.2 // casein comes out below about 4.6, with heat already from 5.2 (M)
	hotSyrup    = 105 // °C from which a boil burns like sugar
	someProtein = 0.005
)

// caution adds the notes that follow from the figures.
func (s *State) caution(l *Liquid) {
	s.cautionPH(l)
	s.cautionSafety(l)
	a := &s.Parts
	if all, free := s.Of(PropCalcium).Typical, s.Of(PropFreeCalcium).Typical; s.HasPH && all > 0.5 && free < 0.8*all {
		s.Notes = append(s.Notes, note.New(note.Reason, CodeFreeCalcium, note.Num("total", all, unit.MmolPerKg), note.Num("free", free, unit.MmolPerKg)).From(srcMinteq.ref()))
	}
	if l.flags&Protease != 0 {
		s.Notes = append(s.Notes, note.New(note.Caution, CodeProtease, l.bearer(Protease)))
	}
	if l.flags&Preheated != 0 {
		s.Notes = append(s.Notes, note.New(note.Hint, CodePreheated, l.bearer(Preheated)))
	}
	if l.flags&Tannin != 0 {
		s.Notes = append(s.Notes, note.New(note.Caution, CodeTannin, l.bearer(Tannin)))
	}
	if ph := s.Of(PropPH); s.HasPH && a[DairyProtein] > someProtein*a.Mass() && ph.Low < curdlePH && ph.Typical < 6 {
		s.Notes = append(s.Notes, note.New(note.Caution, CodeCurdle, note.Num("ph", ph.Low, unit.PH), note.Num("limit", curdlePH, unit.PH)))
	}
	if a[Ethanol] > 0.005*a.Mass() {
		s.Notes = append(s.Notes, note.New(note.Reason, CodeReads, note.Num("reading", toTenth(s.Of(PropReading).Typical), unit.Brix), note.Num("brix", toTenth(s.Of(PropBrix).Typical), unit.Brix)))
	}
	if sucrose, limit := a[Sucrose]/max(1e-9, a[Sucrose]+a[Water]), sucroseSolubility(20); sucrose > limit+0.005 && a.brix() > 60 {
		s.Notes = append(s.Notes, note.New(note.Hint, CodeSaturated, note.Num("share", 100*sucrose, unit.PercentOf), note.Num("limit", 100*limit, unit.PercentOf)).From(srcICUMSA.ref()))
	}
}

// sucroseSolubility is the mass fraction of sucrose in its saturated solution
// (Bubnik et al. 1995), 0 to 100 °C.
func sucroseSolubility(t unit.Celsius) float64 {
	return polynomial([]float64{64.447, 0.08222, 0.0016169, -1.558e-6, -4.63e-8}, float64(t)) / 100
}

func (s *State) cautionPH(l *Liquid) {
	if !s.HasPH {
		code, level := CodePHNoWater, note.Reason
		if s.Parts[Water] >= 1 {
			code, level = CodeNoRoot, note.Caution
		}
		s.Notes = append(s.Notes, note.New(level, code))
		return
	}
	if s.Ionic > IonicCap {
		s.Notes = append(s.Notes, note.New(note.Reason, CodeActivityCap, note.Num("ionic", s.Ionic, unit.MolPerKg), note.Num("limit", IonicCap, unit.MolPerKg)))
	}
	if s.Measured {
		return
	}
	if v := s.Of(PropABV).Typical; v > 0.15 {
		s.Notes = append(s.Notes, note.New(note.Reason, CodePHAlcohol, note.Num("abv", 100*v, unit.ABV)))
	}
	if b := s.Of(PropBrix).Typical; b > 30 {
		s.Notes = append(s.Notes, note.New(note.Reason, CodePHSugar, note.Num("brix", b, unit.Brix)))
	}
	if share := s.Parts.proteinShare(); share > 0.5 {
		s.Notes = append(s.Notes, note.New(note.Reason, CodePHProtein))
	}
}

func (s *State) cautionSafety(l *Liquid) {
	a := &s.Parts
	if l.flags&RawEgg != 0 {
		s.Notes = append(s.Notes, note.New(note.Danger, CodeRawEgg, l.bearer(RawEgg)).From(srcEggAdvice.ref()))
	}
	if l.flags&Spores != 0 && a[Fat] > OilShare*a.Mass() && (!s.HasPH || s.Of(PropPH).High > lowAcidPH) {
		s.Notes = append(s.Notes, note.New(note.Danger, CodeSpores, l.bearer(Spores)).From(srcGarlicOil.ref()))
	}
	if s.HasPH && s.Of(PropPH).High > lowAcidPH && a[Water] > 0.3*a.Mass() && a[Ethanol] < 0.15*a.Mass() && !l.onlyWater() {
		s.Notes = append(s.Notes, note.New(note.Caution, CodeLowAcid, note.Num("ph", upToTenth(s.Of(PropPH).High), unit.PH), note.Num("limit", lowAcidPH, unit.PH)).From(srcFoodCode.ref()))
	}
	for i := range l.ingredients {
		if g := &l.ingredients[i]; g.corrosive() {
			s.Notes = append(s.Notes, note.New(note.Danger, CodeCorrosive, g.nameArg()).From(srcPractice.ref()))
			break
		}
	}
	if b := s.Of(PropBoiling).Typical; b > hotSyrup {
		s.Notes = append(s.Notes, note.New(note.Danger, CodeHotSyrup, note.Num("boils", b, unit.DegreeC)))
	}
}

// toTenth is what a refractometer can tell.
func toTenth(brix float64) float64 { return math.Round(brix*10) / 10 }

// corrosive reports whether it is an acid sold as a strong solution, which burns
// skin and eyes; powders and vinegars are not meant.
func (g *Ingredient) corrosive() bool {
	const strong = 25 // g per 100 g
	return g.Class == Pures && g.Per100[Water] >= 5 && g.Per100[Acetic]+g.Per100[Lactic]+g.Per100[Phosphate] >= strong &&
		g.Per100[Sodium]+g.Per100[Potassium]+g.Per100[Calcium] == 0 // no salt
}

// upToTenth keeps a bound that lies above a limit above it when it is shown to a tenth.
func upToTenth(ph float64) float64 { return math.Ceil(ph*10-1e-9) / 10 }

// plainWater reports whether nothing but water went in, and between which pH
// such water lies: the gas in it, which no record tells, moves it.
func (l *Liquid) plainWater() (PH, bool) {
	var all PH
	for i := range l.ingredients {
		g := &l.ingredients[i]
		if g.Class != Waters || g.PH == (PH{}) {
			return PH{}, false
		}
		if i == 0 {
			all = g.PH
		}
		all.Low, all.High = min(all.Low, g.PH.Low), max(all.High, g.PH.High)
	}
	return all, true
}

// bearer names the first ingredient with a flag.
func (l *Liquid) bearer(f Flags) note.Arg {
	for i := range l.ingredients {
		if l.ingredients[i].Flags&f != 0 {
			return l.ingredients[i].nameArg()
		}
	}
	return note.Typed("ingredient", "")
}

func (l *Liquid) onlyWater() bool {
	_, ok := l.plainWater()
	return ok
}
