package liquid

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// What infused solids give and hold, where the cook does not say: rules of thumb.
var (
	infusedShare = [3]float64{0.2, 0.5, 0.9}
	heldBack     = unit.Range{Low: 0.5, Typical: 1, High: 3} // g of liquid per g of solids
)

// infuse lets solids give part of their sugars, acids and salts to the liquid;
// the solids themselves stay outside it.
func (l *Liquid) infuse(s *Step, set setting) error {
	if err := s.Ingredient.Check(); err != nil {
		return err
	}
	if err := checkAmount("mass", float64(s.Mass), unit.Gram); err != nil {
		return err
	}
	share, err := infuseShare(s.Share, set)
	if err != nil {
		return err
	}
	hold := s.Hold
	if hold == (unit.Range{}) {
		hold = heldBack
	}
	if !hold.Valid() || hold.Low < 0 || hold.High > 20 {
		return note.Refuse("hold", CodeBadYield, note.Num("value", finiteOr0(hold.Typical), unit.One), note.Num("limit", 20, unit.One))
	}
	before := len(l.portions)
	if err := l.add(&s.Ingredient, float64(s.Mass)); err != nil {
		return err
	}
	p := &l.portions[before]
	p.keepSoluble()
	p.scale(share)
	m := float64(s.Mass)
	l.hold.Low += m * hold.Low
	l.hold.Typical += m * hold.Typical
	l.hold.High += m * hold.High
	return nil
}

func infuseShare(share unit.Fraction, set setting) (float64, error) {
	x := float64(share)
	if !unit.Finite(x) || x < 0 || x > 1 {
		return 0, note.Refuse("share", CodeBadYield, note.Num("value", finiteOr0(100*x), unit.PercentOf), note.Num("limit", 100, unit.PercentOf))
	}
	if x == 0 {
		return infusedShare[1+set.extraction], nil
	}
	return x, nil
}

// keepSoluble leaves what passes into water: sugars, acids, salts, alcohol.
func (p *portion) keepSoluble() {
	for c := range inMass {
		switch {
		case c >= Sucrose && c <= Ethanol, c == OtherCarb, c >= Acetic && c <= Ash:
		default:
			p.parts[c] = 0
		}
	}
}

// strain takes pulp and part of the liquid away; what stays has the same
// composition but for the pulp.
func (l *Liquid) strain(s *Step) error {
	if p := float64(s.Pulp); !unit.Finite(p) || p < 0 || p > 1 {
		return note.Refuse("pulp", CodeBadYield, note.Num("value", finiteOr0(100*p), unit.PercentOf), note.Num("limit", 100, unit.PercentOf))
	}
	for i := range l.portions {
		l.portions[i].parts[Fibre] *= 1 - float64(s.Pulp)
		l.portions[i].parts[Starch] *= 1 - float64(s.Pulp)
	}
	have := float64(l.Mass())
	kept, err := l.kept(s, have)
	if err != nil {
		return err
	}
	l.merge()
	l.scale(kept / have)
	l.hold = unit.Range{}
	return nil
}

// kept is the mass that a strainer lets through.
func (l *Liquid) kept(s *Step, have float64) (float64, error) {
	to, share := float64(s.To), float64(s.Share)
	switch {
	case !unit.Finite(to) || !unit.Finite(share):
		return 0, note.Refuse("to", CodeNotFinite)
	case to != 0:
		if to < 0 || to > have*(1+1e-9) {
			return 0, note.Refuse("to", CodeBadYield, note.Num("value", to, unit.Gram), note.Num("limit", have, unit.Gram))
		}
		return to, nil
	case share != 0:
		if share < 0 || share > 1 {
			return 0, note.Refuse("share", CodeBadYield, note.Num("value", share*100, unit.PercentOf), note.Num("limit", 100, unit.PercentOf))
		}
		return share * have, nil
	}
	held := l.hold.Typical
	if held >= have {
		return 0, note.Refuse("share", CodeBadYield, note.Num("value", held, unit.Gram), note.Num("limit", have, unit.Gram))
	}
	if held > 0 {
		l.say(note.New(note.Hint, CodeYield, note.Num("low", max(0, have-l.hold.High), unit.Gram), note.Num("typical", have-held, unit.Gram), note.Num("high", have-l.hold.Low, unit.Gram)).From(srcPractice.ref()))
	}
	return have - held, nil
}
