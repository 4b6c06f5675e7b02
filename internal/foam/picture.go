package foam

import "tremblant/internal/unit"

// Picture is what the cut-away of a siphon shows: heights as parts of the brim
// volume, pressures for the gauge.
type Picture struct {
	Fill      unit.Fraction // base, of the brim volume
	Line      unit.Fraction // where the fill line stands
	Headspace unit.Volume   // ml
	Before    unit.Range    // gauge pressure in Pa before shaking the last charge
	After     unit.Range    // shaken
	Stated    unit.Pressure // the maker's working pressure; 0 when not stated
	FullScale unit.Pressure // a round end of the scale above all of these
	Dissolved unit.Fraction // share of the gas in the base
	GasLeft   []Drawn       // at the start, half out, empty
}

// PictureOf is the picture of one filling. Errors are refusals of inputs.
func PictureOf(f Fill) (Picture, error) {
	if err := f.check(); err != nil {
		return Picture{}, err
	}
	if f.Charges == 0 {
		return f.picture(Rung{}), nil
	}
	return f.picture(f.rung(f.Charges, f.Base.Temperature)), nil
}

func (f Fill) picture(r Rung) Picture {
	in := f.typical()
	s := f.system(in, f.Base.Temperature)
	n := in.moles(f.Charges)
	start, _ := s.settle(n)
	state := s.state(n, start, 0)
	brim := f.Siphon.Brim.Typical
	p := Picture{
		Fill: unit.Fraction(float64(f.Mass.Volume(f.Base.DensityOr())) / brim), Line: unit.Fraction(float64(f.Siphon.LineOr()) / brim),
		Headspace: state.Headspace, Before: r.Before, After: r.After, Stated: f.Siphon.WorkingPressure, Dissolved: state.DissolvedShare,
	}
	top := max(r.Before.High, r.After.High, float64(f.Siphon.WorkingPressure))
	for p.FullScale = 10e5; float64(p.FullScale) < top; p.FullScale += 10e5 {
	}
	p.GasLeft, _ = Empty(f, 2)
	return p
}
