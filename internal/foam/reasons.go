package foam

import (
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// adviceNotes says how rule and gas compare and what moves the pressure here.
func (f Fill) adviceNotes(a Advice) []note.Note {
	notes := f.physicsNotes(0)
	n := a.Ladder[a.Advised-1]
	args := []note.Arg{
		note.Num("rule-low", a.Rule.Low, unit.Charger), note.Num("rule-high", a.Rule.High, unit.Charger), note.Num("gas", float64(a.ByGas), unit.Charger),
		note.Num("advised", float64(a.Advised), unit.Charger), note.Num("before", n.Before.Typical/1e5, unit.BarUnit), note.Num("after", n.After.Typical/1e5, unit.BarUnit),
	}
	switch {
	case a.ByGas == 0:
		notes = append(notes, note.New(note.Caution, CodeGasShort, args...).From(srcModel))
	case a.Rule.Contains(float64(a.ByGas)):
		notes = append(notes, note.New(note.Reason, CodeRuleAgrees, args...).From(f.Siphon.Rule.Source))
	default:
		notes = append(notes, note.New(note.Hint, CodeRuleDiffers, args...).From(f.Siphon.Rule.Source))
	}
	notes = append(notes, f.reasons()...)
	if f.Siphon.WorkingPressure == 0 {
		notes = append(notes, note.New(note.Caution, CodeNoPressure).At("siphon.pressure").From(srcDGCCRF))
	}
	notes = append(notes, f.highNotes(a)...)
	if a.Advised > 1 {
		notes = append(notes, note.New(note.Danger, CodeShakeBetween, note.Num("charges", float64(a.Advised), unit.Charger),
			note.Num("once", f.atOnce().Typical/1e5, unit.BarUnit), note.Num("shaken", n.Before.Typical/1e5, unit.BarUnit)).From(srcModel))
	}
	volume := float64(f.Mass.Volume(f.Base.DensityOr()))
	if volume > maxLine*f.Siphon.Brim.Typical {
		notes = append(notes, note.New(note.Caution, CodeThreeQuarters, note.Num("volume", volume, unit.Millilitre),
			note.Num("limit", maxLine*f.Siphon.Brim.Typical, unit.Millilitre)).From(srcSiphonPage))
	}
	if share := volume / float64(f.Siphon.LineOr()); share < usefulGood {
		notes = append(notes, note.New(note.Hint, CodeFillLow, note.Num("share", share*100, unit.PercentOf),
			note.Num("low", UsefulMinimum*100, unit.PercentOf)).From(srcPractice))
	}
	return notes
}

// A plain filling, which the reasons compare with: cold, four fifths of the
// line, water share of a thin stock.
const (
	plainCold  unit.Celsius = 5
	plainFill  float64      = 0.8
	plainWater float64      = 0.92
	telling    float64      = 1.08 // a change of pressure worth a line
)

// reasons compares the pressure with that of the same filling without each of
// its peculiarities, and tells those that matter: warm, milk fat, oil, full,
// half empty, thick, salty.
func (f Fill) reasons() []note.Note {
	here := f.settledGauge()
	var notes []note.Note
	tell := func(c note.Code, now, then float64) {
		if ratio := now / then; ratio > telling || ratio < 1/telling {
			notes = append(notes, note.New(note.Reason, c, note.Num("here", now/1e5, unit.BarUnit), note.Num("plain", then/1e5, unit.BarUnit),
				degrees("temperature", f.Base.Temperature), note.Num("fill", float64(f.Mass), unit.Gram)).From(srcModel))
		}
	}
	against := func(c note.Code, applies bool, change func(*Fill)) {
		if applies {
			plain := f
			change(&plain)
			tell(c, here, plain.settledGauge())
		}
	}
	against(CodeWhyWarm, f.Base.Temperature > 10, func(p *Fill) { p.Base.Temperature = plainCold })
	against(CodeWhyMilkFat, f.Base.MilkFat >= 0.1, func(p *Fill) { p.Base.water(float64(f.Base.MilkFat)); p.Base.MilkFat = 0 })
	against(CodeWhyOil, f.Base.Oil >= 0.1, func(p *Fill) { p.Base.water(float64(f.Base.Oil)); p.Base.Oil = 0 })
	against(CodeWhyThick, f.Base.solids() > 0.1, func(p *Fill) { p.Base.water(plainWater - f.Base.waterRange().Typical) })
	against(CodeWhySalt, f.Base.Salt > 0.012, func(p *Fill) { p.Base.Salt = 0 })
	share := float64(f.Mass.Volume(f.Base.DensityOr()) / f.Siphon.LineOr())
	plain := f
	plain.Mass = unit.Mass(float64(f.Mass) * plainFill / share)
	if share > 0.9 {
		in := f.typical()
		tell(CodeWhyFull, f.peak(in, 1, f.Base.Temperature), plain.peak(in, 1, f.Base.Temperature))
	}
	if share < 0.6 {
		if left := f.leftWhenEmpty(); left > 0.6 {
			notes = append(notes, note.New(note.Reason, CodeWhyHalfEmpty, note.Num("left", left*100, unit.PercentOf), note.Num("fill", float64(f.Mass), unit.Gram)).From(srcModel))
		}
	}
	return notes
}

// water adds to the share of water, for comparisons.
func (b *Base) water(add float64) {
	w := b.waterRange()
	b.Water = unit.Exactly(min(1, max(0, w.Typical+add)))
	b.Density = 0
}

func (f Fill) settledGauge() float64 {
	in := f.typical()
	s := f.system(in, f.Base.Temperature)
	p, _ := s.settle(in.moles(f.Charges))
	return s.gauge(p)
}

// leftWhenEmpty is the share of the gas in the body when the base is out.
func (f Fill) leftWhenEmpty() float64 {
	in := f.typical()
	s := f.system(in, f.Base.Temperature)
	n := in.moles(f.Charges)
	left := n
	s.drain(n, coarseSteps, func(_, n float64, _ *system) { left = n })
	return left / max(n, 1e-12)
}
