package sphere

import (
	"math"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Method is the way to the sphere.
type Method uint8

// The methods.
const (
	Direct Method = iota
	Reverse
	SetShear
)

// Input is a liquid to make spheres of and the bath at hand.
type Input struct {
	Method  Method
	Liquid  unit.Mass  // g
	PH      unit.Range // computed or measured
	Calcium unit.Range // of the liquid, all of it, mmol/kg
	Acids   []Acid     // empty when not known: then citrate is a rule of thumb
	// Titration is the liquid's pH by the citrate put in, from none on; it should
	// reach 0.005. Where it is there, it is used in place of the charge balance of
	// Acids: it can count protein and phosphate, which buffer too.
	Titration []Titrated
	Sugar     unit.Fraction
	Alcohol   unit.Fraction // by volume
	Density   unit.Density  // of the liquid, g/ml; 0 when not known
	Citrate   unit.Mass     // trisodium citrate dihydrate that is already in it, g
	Counted   unit.Mass     // the same, g, that PH, Acids and Titration hold already: it counts for the top alone

	Salt         Salt
	BathWater    unit.Mass // g
	WaterCalcium float64   // of the tap water, mmol/kg

	Diameter float64      // of a sphere, mm; 0 takes caviar of 5 mm
	Time     unit.Seconds // in the bath; 0 takes one minute direct, three reverse
	Portion  unit.Mass    // spheres a guest, g; 0 takes 10 g
	Children bool         // or old people, or anybody who swallows badly, at the table
}

// Answer is how to make the spheres.
type Answer struct {
	Method   Method
	Alginate unit.Range // g into the liquid (direct, set-then-shear) or into the bath (reverse)
	Share    unit.Range // of the mix it goes into
	Citrate  CitrateNeed
	Salt     unit.Range // g into the bath (direct) or into the liquid (reverse, set-then-shear)
	Calcium  unit.Range // mmol/kg that this brings
	Skin     unit.Range // mm after Time; an estimate
	Solid    unit.Range // s until a direct sphere has set through; an estimate
	Buoyancy *Buoyancy  // nil without a density
	Portions unit.Range // that a direct bath serves before a third of its calcium is gone
	Notes    []note.Note

	supply, sites, diameter float64 // what the skin was worked out from
}

// SkinAt is the skin in mm after another time in seconds, as Skin is after the
// time that was asked for; zero where there is no skin to grow.
func (a *Answer) SkinAt(t unit.Seconds) unit.Range {
	if !(a.supply > 0 && a.sites > 0 && t > 0) {
		return unit.Range{}
	}
	if a.Method == Direct {
		return BallSkin(a.diameter, t, a.supply, a.sites)
	}
	return Skin(t, a.supply, a.sites)
}

func (a *Answer) say(n note.Note) { a.Notes = append(a.Notes, n) }

// defaults fills what the cook left open.
func (in Input) defaults() Input {
	if in.Diameter == 0 {
		in.Diameter = 5
	}
	if in.Time == 0 {
		in.Time = 60
		if in.Method == Reverse {
			in.Time = 180
		}
	}
	if in.Portion == 0 {
		in.Portion = 10
	}
	return in
}

func (in Input) check() error {
	type figure struct {
		field          string
		v, least, most float64
		unit           unit.Symbol
	}
	for _, f := range []figure{
		{"liquid", float64(in.Liquid), 1e-9, float64(maxMass), unit.Gram},
		{"sugar", float64(in.Sugar), 0, 1, unit.One}, {"alcohol", float64(in.Alcohol), 0, 1, unit.One},
		{"citrate", float64(in.Citrate), 0, float64(in.Liquid), unit.Gram}, {"counted", float64(in.Counted), 0, float64(in.Liquid), unit.Gram},
		{"bath", float64(in.BathWater), 0, float64(maxMass), unit.Gram},
		{"water-calcium", in.WaterCalcium, 0, 1000, unit.MmolPerKg},
		{"diameter", in.Diameter, 0, 200, unit.Millimetre}, {"time", float64(in.Time), 0, 86400, unit.Second},
		{"portion-size", float64(in.Portion), 0, float64(maxMass), unit.Gram},
		{"density", float64(in.Density), 0, 2, unit.GramPerMl},
	} {
		if !(f.v >= f.least && f.v <= f.most) {
			return note.Refuse(f.field, BadFigure, note.Num("most", f.most, f.unit))
		}
	}
	if in.Density != 0 && in.Density < 0.5 {
		return note.Refuse("density", BadFigure, note.Num("most", 2, unit.GramPerMl))
	}
	if !in.PH.Valid() || in.PH.Low < 0 || in.PH.High > 14 || in.PH == (unit.Range{}) {
		return note.Refuse("ph", BadRange)
	}
	if !in.Calcium.Valid() || in.Calcium.Low < 0 || in.Calcium.High > 10000 {
		return note.Refuse("calcium", BadRange)
	}
	if err := checkAcids(in.Acids); err != nil {
		return err
	}
	if err := in.checkTitration(); err != nil {
		return err
	}
	return in.Salt.check()
}

// Make works out one way to spheres. A refusal is a *note.Refusal; for a direct
// sphere that cannot be, it names the nearest way, mostly the reverse one.
func Make(in Input) (Answer, error) {
	in = in.defaults()
	if err := in.check(); err != nil {
		return Answer{}, err
	}
	if in.Alcohol >= mostAlcohol {
		r := note.Refuse("alcohol", TooStrong, note.Num("alcohol", in.Alcohol.Percent(), unit.ABV), note.Num("most", mostAlcohol*100, unit.ABV))
		r.Source = waterTable
		return Answer{}, r
	}
	a := Answer{Method: in.Method}
	var err error
	switch in.Method {
	case Reverse:
		err = a.reverse(in)
	case SetShear:
		err = a.setShear(in)
	default:
		err = a.direct(in)
	}
	if err != nil {
		return Answer{}, err
	}
	a.common(in)
	return a, nil
}

// common says what holds for every method.
func (a *Answer) common(in Input) {
	if in.Alcohol > warnAlcohol {
		code := Strong
		if in.Method == Reverse {
			code = StrongReverse
		}
		a.say(note.New(note.Caution, code, note.Num("alcohol", in.Alcohol.Percent(), unit.ABV)).From(waterTable))
	}
	if in.Sugar > warnSugar && in.Method != Reverse { // reverse, the alginate is in the bath
		a.say(note.New(note.Caution, Sweet, note.Num("sugar", in.Sugar.Percent(), unit.PercentOf)).From(alcoholTop))
	}
	if in.WaterCalcium >= hardCalcium {
		a.say(note.New(note.Caution, HardWater, note.Num("calcium", in.WaterCalcium, unit.MmolPerKg), note.Num("most", hardCalcium, unit.MmolPerKg)).From(practice))
	}
	a.say(note.New(note.Hint, RestFirst).From(practice))
	a.say(note.New(note.Caution, Irritant).From(practice))
	level := note.Caution
	if in.Children {
		level = note.Danger
	}
	a.say(note.New(level, Choking).From(miniCups))
}

// direct puts the alginate into the liquid.
func (a *Answer) direct(in Input) error {
	a.Citrate = citrateNeed(in)
	if err := directLimits(in, a.Citrate); err != nil {
		return err
	}
	free := Free(a.Citrate.PH)
	a.Share = unit.Range{Low: DirectDose.Low / free.High, Typical: DirectDose.Typical / free.Typical, High: DirectDose.High / free.Low}
	a.Alginate = intoMix(a.Share, float64(in.Liquid))
	if free.Typical < 0.95 {
		a.say(note.New(note.Reason, DoseRaised, note.Num("ph", a.Citrate.PH, unit.PH), note.Num("free", unit.Digits(free.Typical*100, 2), unit.PercentOf)).From(freeGroups))
	}
	a.citrateNotes(in)
	if err := a.bath(in, BathCalcium); err != nil {
		return err
	}
	a.directSkin(in)
	a.buoyancy(in, saltDensity*a.Calcium.Typical/1000/in.Salt.PerGram().Typical)
	a.say(note.New(note.Hint, EatSoon).From(practice))
	return nil
}

// intoMix turns a share of the finished mix into grams for a mass of liquid.
func intoMix(share unit.Range, liquid float64) unit.Range {
	at := func(s float64) float64 { return s / (1 - s) * liquid }
	return unit.Range{Low: at(share.Low), Typical: at(share.Typical), High: at(share.High)}
}

// bath doses a calcium salt into the bath water.
func (a *Answer) bath(in Input, window unit.Range) error {
	if in.BathWater <= 0 {
		return note.Refuse("bath", BadFigure, note.Num("most", float64(maxMass), unit.Gram))
	}
	var err error
	a.Salt, err = saltRange(in.Salt, window, in.BathWater)
	a.Calcium = window
	return err
}

func saltRange(s Salt, window unit.Range, into unit.Mass) (unit.Range, error) {
	var g [3]unit.Mass
	for n, c := range []float64{window.Low, window.Typical, window.High} {
		var err error
		if g[n], err = s.Dose(c, into); err != nil {
			return unit.Range{}, err
		}
	}
	return unit.Range{Low: float64(g[0]), Typical: float64(g[1]), High: float64(g[2])}, nil
}

func (a *Answer) directSkin(in Input) {
	sites := binds(a.Share.Typical)
	supply := a.Calcium.Typical
	a.supply, a.sites, a.diameter = supply, sites, in.Diameter
	a.Skin = a.SkinAt(in.Time)
	a.Solid = SolidTime(in.Diameter, supply, sites)
	a.skinNotes(in)
	share := unit.Range{Low: skinShare(in.Diameter, a.Skin.Low), Typical: skinShare(in.Diameter, a.Skin.Typical), High: skinShare(in.Diameter, a.Skin.High)}
	b := Bath{Mass: in.BathWater + unit.Mass(a.Salt.Typical), Calcium: supply}
	a.Portions = b.Portions(b.Loss(in.Portion, share, sites))
	if a.Portions.Low < 1 {
		a.say(note.New(note.Caution, BathSmall).From(balance).At("bath"))
		return
	}
	a.say(note.New(note.Reason, BathLasts, note.Num("low", whole(a.Portions.Low), unit.One), note.Num("typical", whole(a.Portions.Typical), unit.One), note.Num("high", whole(a.Portions.High), unit.One)).From(balance))
}

// whole leaves out the parts of a portion where there are many.
func whole(portions float64) float64 {
	if portions < 10 {
		return portions
	}
	return math.Round(portions)
}

func (a *Answer) skinNotes(in Input) {
	a.say(note.New(note.Reason, SkinEstimate, note.Num("low", unit.Digits(a.Skin.Low, 2), unit.Millimetre), note.Num("high", unit.Digits(a.Skin.High, 2), unit.Millimetre), note.Num("time", float64(in.Time), unit.Second)).From(diffusion))
	a.say(note.New(note.Reason, SaltSpeed).From(leeRogers))
	if in.Method == Direct && float64(in.Time) >= a.Solid.Low {
		a.say(note.New(note.Caution, SolidThrough, note.Num("low", unit.Digits(a.Solid.Low, 2), unit.Second), note.Num("high", unit.Digits(a.Solid.High, 2), unit.Second)).From(diffusion))
	}
}

// buoyancy compares the liquid with the bath, extra being what is dissolved in
// the bath as density.
func (a *Answer) buoyancy(in Input, extra float64) {
	if in.Density == 0 {
		return
	}
	b := Match(in.Density, unit.Density(plainWater+extra))
	a.Buoyancy = &b
	a.say(b.note())
}

// reverse puts the calcium into the liquid.
func (a *Answer) reverse(in Input) error {
	if in.BathWater <= 0 {
		return note.Refuse("bath", BadFigure, note.Num("most", float64(maxMass), unit.Gram))
	}
	a.Share = ReverseBath
	a.Alginate = intoMix(ReverseBath, float64(in.BathWater))
	a.Calcium = a.bringsReverse(in)
	var err error
	if a.Salt, err = saltRange(in.Salt, a.Calcium, in.Liquid); err != nil {
		return err
	}
	a.supply, a.sites, a.diameter = ReverseCalcium.Typical, binds(ReverseBath.Typical), in.Diameter
	a.Skin = a.SkinAt(in.Time)
	a.skinNotes(in)
	a.buoyancy(in, gumDensity*ReverseBath.Typical)
	a.say(note.New(note.Hint, BathReverse).From(practice))
	a.say(note.New(note.Hint, StoreReverse).From(practice))
	return nil
}

// bringsReverse is the calcium in mmol/kg that the salt has to bring. In milk
// most of the liquid's own is bound, and not counted; acid frees it.
func (a *Answer) bringsReverse(in Input) unit.Range {
	own := in.Calcium
	if own.Typical <= muchCalcium {
		return ReverseCalcium
	}
	told := note.Num("own", unit.Digits(own.Typical, 2), unit.MmolPerKg)
	if in.PH.Typical > freesCalcium {
		a.say(note.New(note.Hint, OwnCalcium, told).From(practice))
		return ReverseCalcium
	}
	a.say(note.New(note.Hint, OwnFree, told).From(milkSalts))
	return unit.Range{
		Low: max(0, ReverseCalcium.Low-own.High), Typical: max(0, ReverseCalcium.Typical-own.Typical), High: max(0, ReverseCalcium.High-own.Low),
	}
}

// setShear sets the liquid whole and blends it.
func (a *Answer) setShear(in Input) error {
	a.Citrate = citrateNeed(in)
	if err := directLimits(in, a.Citrate); err != nil {
		return err
	}
	a.Share = ShearDose
	a.Alginate = intoMix(ShearDose, float64(in.Liquid))
	a.citrateNotes(in)
	full := binds(ShearDose.Typical)
	// citrate takes its part first; the liquid's own calcium counts
	apart := float64(in.Citrate+a.Citrate.Total())/trisodiumMolar*1e6/float64(in.Liquid) - in.Calcium.Typical
	more := func(share float64) float64 { return max(0, full*share+apart) }
	a.Calcium = unit.Range{Low: more(shearLow), Typical: more(shearTypical), High: more(shearHigh)}
	var err error
	if a.Salt, err = saltRange(in.Salt, a.Calcium, in.Liquid); err != nil {
		return err
	}
	a.say(note.New(note.Hint, ShearIt).From(practice))
	return nil
}
