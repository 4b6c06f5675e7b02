package foam

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Base is the liquid that goes into the siphon: its temperature and what it is
// made of, in parts of its mass. What is not named is counted as dry solids,
// which hold no gas.
type Base struct {
	Temperature unit.Celsius  // of base and body when served, and when charged unless it must pour: see Fill.Warm
	Density     unit.Density  // g/ml without bubbles; 0 when not known: estimated from the shares
	Water       unit.Range    // share of water; equal ends when known. The zero value means not known: 0.75 to 0.95
	MilkFat     unit.Fraction // butterfat, crystallised by hours in the cold
	Oil         unit.Fraction // fat that is liquid at the temperature of the base
	Sugar       unit.Fraction
	Salt        unit.Fraction
	Ethanol     unit.Fraction
	Fibre       unit.Fraction // insoluble fibre: what can block the nozzle
}

// waterUnknown is taken when nobody says how much water a base has: a vegetable
// purée to a thin stock. Rule of thumb.
var waterUnknown = unit.Range{Low: 0.75, Typical: 0.88, High: 0.95}

// Densities in g/ml for the estimate of a base's density: textbook values, from
// memory; dissolved salt and sugar by the volume that they add.
const (
	densityFat     = 0.92
	densitySugar   = 1.60
	densitySalt    = 2.6
	densityEthanol = 0.79
	densitySolids  = 1.45
)

// Coldest and Hottest bound the temperature of a base for which this package
// gives figures. Nothing charged is taken over 75 °C: common practice puts the
// bath at 65 °C unless the maker's notice says 70 to 75 °C.
const (
	Coldest unit.Celsius = 0
	Hottest unit.Celsius = 75
)

func (b Base) waterRange() unit.Range {
	if b.Water == (unit.Range{}) {
		rest := 1 - float64(b.MilkFat+b.Oil+b.Sugar+b.Salt+b.Ethanol)
		w := waterUnknown
		return unit.Range{Low: min(w.Low, rest), Typical: min(w.Typical, rest), High: min(w.High, rest)}
	}
	return b.Water
}

// solids is what is left after the named parts, at the typical water share.
func (b Base) solids() float64 {
	return max(0, 1-b.waterRange().Typical-float64(b.MilkFat+b.Oil+b.Sugar+b.Salt+b.Ethanol))
}

// DensityOr is the density of the base in g/ml at its temperature: the one given,
// or the sum of the volumes of its parts (good to about 2 %).
func (b Base) DensityOr() unit.Density {
	if b.Density > 0 {
		return b.Density
	}
	volume := b.waterRange().Typical/float64(waterDensity(b.Temperature)) + float64(b.MilkFat+b.Oil)/densityFat +
		float64(b.Sugar)/densitySugar + float64(b.Salt)/densitySalt + float64(b.Ethanol)/densityEthanol + b.solids()/densitySolids
	whole := b.waterRange().Typical + float64(b.MilkFat+b.Oil+b.Sugar+b.Salt+b.Ethanol) + b.solids()
	return unit.Density(whole / volume)
}

// Hot reports whether the base is served hot: anything over 30 °C.
func (b Base) Hot() bool { return b.Temperature > 30 }

// alcohol is the strength in parts of the volume (0.1 is 10 % vol), near enough
// for a limit.
func (b Base) alcohol() float64 {
	return float64(b.Ethanol) / 0.789 * float64(b.DensityOr())
}

// check refuses what is not a base.
func (b Base) check() error {
	w := b.waterRange()
	if !w.Valid() {
		return note.Refuse("water", CodeNotFigure)
	}
	parts := []struct {
		field string
		share unit.Fraction
	}{{"water", unit.Fraction(w.Low)}, {"milk-fat", b.MilkFat}, {"oil", b.Oil}, {"sugar", b.Sugar}, {"salt", b.Salt}, {"ethanol", b.Ethanol}, {"fibre", b.Fibre}}
	sum := w.Typical - w.Low
	for _, p := range parts {
		if !unit.Finite(float64(p.share)) {
			return note.Refuse(p.field, CodeNotFigure)
		}
		if p.share < 0 || p.share > 1 {
			return outside(p.field, float64(p.share)*100, 0, 100, unit.PercentOf)
		}
		sum += float64(p.share)
	}
	if sum > 1.001 || w.High > 1 {
		return note.Refuse("water", CodeShares, note.Num("sum", max(sum, w.High)*100, unit.PercentOf))
	}
	if err := within("temperature", float64(b.Temperature), float64(Coldest), 1000, unit.DegreeC); err != nil {
		return err
	}
	if b.Temperature > Hottest {
		return note.Refuse("temperature", CodeFarTooHot,
			note.Num("temperature", float64(b.Temperature), unit.DegreeC), note.Num("limit", float64(Hottest), unit.DegreeC),
			note.Num("nearest", float64(holdHot), unit.DegreeC))
	}
	if b.Density == 0 {
		return nil
	}
	return within("density", float64(b.Density), 0.5, 1.6, unit.GramPerMl)
}

// within refuses a figure that is not finite or lies outside low to high.
func within(field string, x, low, high float64, u unit.Symbol) error {
	if !unit.Finite(x) {
		return note.Refuse(field, CodeNotFigure)
	}
	if x < low || x > high {
		return outside(field, x, low, high, u)
	}
	return nil
}

func outside(field string, x, low, high float64, u unit.Symbol) error {
	return note.Refuse(field, CodeOutside, note.Num("value", x, u), note.Num("low", low, u), note.Num("high", high, u))
}

// solubility is what the water phase and the fat of a kilogram of base take, in
// mol/(kg Pa), at t, with its share of water.
func (b Base) solubility(t unit.Celsius, water float64) (inWater, inFat float64) {
	liquid := water + float64(b.Ethanol) // below 15 % vol counted as water, ±10 %
	salinity := 0.0
	if liquid > 0 {
		salinity = 1000 * float64(b.Salt) / (liquid + float64(b.Salt))
	}
	inWater = liquid * HenryWater(t) / atmosphere * SaltFactor(t, salinity)
	inFat = float64(b.MilkFat)*MilkFatSolubility(t) + float64(b.Oil)*OilSolubility(t)
	return inWater, inFat
}

// solubilitySpread is by which factors the gas taken up may be off: Henry's
// constant itself, sugar (counting only the water may be 7 % too much at 20 %
// sugar) and alcohol (±10 % at 15 % vol).
func (b Base) solubilitySpread() unit.Range {
	k := henrySpread(b.Temperature)
	alcohol := alcoholSpread * min(1.5, b.alcohol()/0.15)
	return unit.Range{Low: k.Low - sugarSpread*float64(b.Sugar) - alcohol, Typical: 1, High: k.High + alcohol}
}

const (
	sugarSpread   = 0.35 // a part of sugar may take off up to this much more than its share of water
	alcoholSpread = 0.10 // at 15 % vol, either way
)

// fatSpread is by which factors the gas in fat may be off: both values are
// carried over from elsewhere.
var fatSpread = unit.Range{Low: 0.8, Typical: 1, High: 1.2}
