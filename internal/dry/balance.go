package dry

import (
	"strconv"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// Part is one ingredient of the wet mix.
type Part struct {
	Name    string        // what the cook calls it; carried along, never read
	Mass    unit.Mass     // g
	Water   unit.Fraction // of its mass
	Ethanol unit.Fraction // of its mass; it goes off with the water
	Fat     unit.Fraction // of its mass; it stays and holds no water
}

// Balance is a wet mix and what stays of it.
type Balance struct {
	Wet      unit.Mass
	Start    unit.Fraction // water in the wet mix
	Ethanol  unit.Fraction
	Solids   unit.Mass // dry matter
	Fat      unit.Mass // of the dry matter
	Dry      unit.Mass // with the residual moisture, before losses
	Product  unit.Mass // after losses
	Off      unit.Mass // what evaporates
	Residual unit.Fraction
	Yield    unit.Fraction // Product over Wet
	Ratio    float64       // Wet over Product
}

// maxMass is the largest mass taken, a tonne; maxDose how dry a kitchen can get
// a food for certain.
const (
	maxMass  unit.Mass     = 1e6
	driest   unit.Fraction = 0.02
	shareSum               = 1.0005
)

// mix adds the parts up.
func mix(parts []Part) (Balance, error) {
	var b Balance
	if len(parts) == 0 {
		return b, note.Refuse("parts", NoParts)
	}
	water, ethanol, fat := 0.0, 0.0, 0.0
	for n, p := range parts {
		field := "parts." + strconv.Itoa(n)
		if !(p.Mass > 0 && p.Mass <= maxMass) {
			return b, note.Refuse(field, BadFigure, note.Num("most", float64(maxMass), unit.Gram))
		}
		if !(p.Water >= 0 && p.Water <= 1) || !(p.Ethanol >= 0 && p.Ethanol <= 1) || !(p.Fat >= 0 && p.Fat <= 1) || p.Water+p.Ethanol > shareSum {
			return b, note.Refuse(field, BadShare)
		}
		b.Wet += p.Mass
		water += float64(p.Water) * float64(p.Mass)
		ethanol += float64(p.Ethanol) * float64(p.Mass)
		fat += float64(p.Fat) * float64(p.Mass)
	}
	b.Start, b.Ethanol = unit.Fraction(water/float64(b.Wet)), unit.Fraction(ethanol/float64(b.Wet))
	b.Solids = b.Wet - unit.Mass(water) - unit.Mass(ethanol)
	if float64(b.Solids) < 1e-6*float64(b.Wet) {
		return b, note.Refuse("parts", NoSolids)
	}
	b.Fat = min(unit.Mass(fat), b.Solids) // a water that was typed leaves less room for it
	return b, nil
}

// lean is the dry matter that holds the water.
func (b Balance) lean() float64 { return float64(b.Solids - b.Fat) }

// Dry dries a mix to a residual moisture (water over the weight of the dry
// product) and takes off what is lost at grinder, sieve and tray, as a share. A
// refusal is a *note.Refusal.
func Dry(parts []Part, residual, loss unit.Fraction) (Balance, error) {
	b, err := mix(parts)
	if err != nil {
		return b, err
	}
	if err := checkResidual(residual, b.Start); err != nil {
		return Balance{}, err
	}
	if !(loss >= 0 && loss < 1) {
		return Balance{}, note.Refuse("loss", BadFigure, note.Num("most", 100, unit.PercentOf))
	}
	b.Residual = residual
	b.Dry = b.Solids / unit.Mass(1-residual)
	b.Off = b.Wet - b.Dry
	b.Product = b.Dry * unit.Mass(1-loss)
	b.Yield = unit.Fraction(b.Product / b.Wet)
	b.Ratio = float64(b.Wet / b.Product)
	return b, nil
}

// checkResidual holds the wanted moisture against nothing and against the start.
func checkResidual(residual, start unit.Fraction) error {
	switch {
	case !unit.Finite(float64(residual)):
		return note.Refuse("residual", BadFigure, note.Num("most", 100, unit.PercentOf))
	case residual < 0:
		return note.Refuse("residual", BelowZero, note.Num("residual", residual.Percent(), unit.PercentOf), note.Num("least", driest.Percent(), unit.PercentOf))
	case residual >= start:
		return note.Refuse("residual", ResidualAbove, note.Num("residual", residual.Percent(), unit.PercentOf), note.Num("start", start.Percent(), unit.PercentOf))
	}
	return nil
}

// WetFor scales the parts so that the product weighs what is wanted.
func WetFor(parts []Part, residual, loss unit.Fraction, want unit.Mass) ([]Part, Balance, error) {
	b, err := Dry(parts, residual, loss)
	if err != nil {
		return nil, b, err
	}
	if !(want > 0 && want <= maxMass) {
		return nil, Balance{}, note.Refuse("want", BadFigure, note.Num("most", float64(maxMass), unit.Gram))
	}
	factor := want / b.Product
	scaled := make([]Part, len(parts))
	for n, p := range parts {
		p.Mass *= factor
		scaled[n] = p
	}
	b, err = Dry(scaled, residual, loss)
	if err != nil {
		return nil, Balance{}, err
	}
	return scaled, b, nil
}

// MoistureNow is the moisture of a tray that is weighed while it dries: what it
// weighed wet, its moisture then, and its weight now. A weight under the dry
// matter would be less than no water; it means a wrong tare or a wrong moisture.
func MoistureNow(wet unit.Mass, start unit.Fraction, now unit.Mass) (unit.Fraction, error) {
	if !(wet > 0 && wet <= maxMass) || !(now > 0 && now <= maxMass) {
		return 0, note.Refuse("weight", BadFigure, note.Num("most", float64(maxMass), unit.Gram))
	}
	if !(start > 0 && start < 1) {
		return 0, note.Refuse("start", BadShare)
	}
	solids := wet * unit.Mass(1-start)
	if now > wet {
		return 0, note.Refuse("weight", TooHeavy, note.Num("now", float64(now), unit.Gram), note.Num("wet", float64(wet), unit.Gram))
	}
	if now < solids {
		return 0, note.Refuse("weight", TooLight, note.Num("now", float64(now), unit.Gram), note.Num("solids", float64(solids), unit.Gram))
	}
	return unit.Fraction(1 - solids/now), nil
}
