// Package plantest holds what the tests of planning share: process facts of a
// few agents and six formulas of an invented kitchen. The facts stand here, so
// that the expected sheets do not move with the catalogue; their sources are
// those of the catalogue. Nothing that ships imports it.
package plantest

import (
	"tremblant/internal/plan/method"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Sources of the facts.
var (
	collection = source.Ref{Tag: source.Open, Text: "Lersch (ed.), Texture: a hydrocolloid recipe collection, 2008–2014"}
	handbook   = source.Ref{Tag: source.Published, Text: "Phillips & Williams (eds.), Handbook of Hydrocolloids, 3rd ed., 2021, gellan chapter, Table 28.6"}
	makers     = source.Ref{Tag: source.Tertiary, Text: "makers' and trade pages"}
	Practice   = source.Ref{Tag: source.Practice}
)

// Fact is a figure with its range and source.
func Fact(low, typical, high float64, ref source.Ref) method.Fact {
	return method.Fact{Range: unit.Range{Low: low, Typical: typical, High: high}, Source: ref}
}

// The agents, as the tests know them.
var (
	Agar = method.Process{ID: "agar", Way: method.RainCold, Premix: Fact(5, 5, 10, collection), Heat: Fact(90, 95, 100, collection),
		Hold: Fact(2, 3, 5, makers), Cap: Fact(3, 3, 3, Practice), SetBy: method.OnCooling, Sets: Fact(34, 38, 45, collection),
		SetTime: Fact(20, 30, 60, Practice), Acid: Fact(20, 20, 20, makers), AcidPH: 3.5}
	Gellan = method.Process{ID: "gellan-la", Way: method.DryBlend, Premix: Fact(5, 5, 10, Practice), Heat: Fact(80, 90, 95, handbook),
		Hold: Fact(1, 2, 3, Practice), Cap: Fact(2, 2, 2, Practice), Brix: Fact(20, 25, 30, makers), SetBy: method.OnCooling,
		Sets: Fact(25, 40, 60, handbook), SetTime: Fact(2, 10, 30, Practice), Acid: Fact(20, 20, 20, Practice), AcidPH: 3.5, PHLow: 3.5, CaMax: Fact(2, 2.5, 4, makers)}
	Gelatin = method.Process{ID: "gelatin", Way: method.Soak, Heat: Fact(50, 60, 70, collection), Hold: Fact(2, 5, 15, makers),
		Rest: Fact(5, 10, 30, makers), Bears: Fact(70, 75, 100, makers), Cap: Fact(15, 15, 20, Practice), SetBy: method.OnCooling,
		Sets: Fact(10, 15, 25, collection), SetTime: Fact(240, 360, 1440, makers), Enzyme: true, PHLow: 4}
	Iota = method.Process{ID: "carr-iota", Way: method.DryBlend, Premix: Fact(3, 4, 5, collection), Heat: Fact(70, 80, 85, collection),
		Hold: Fact(2, 3, 5, Practice), Cap: Fact(3, 3, 3, Practice), SetBy: method.OnCooling, Sets: Fact(40, 55, 70, collection),
		SetTime: Fact(15, 30, 60, Practice), Acid: Fact(3, 5, 10, Practice), AcidPH: 4.5, PHLow: 4}
	Pectin = method.Process{ID: "pectin-lma", Way: method.DryBlend, Premix: Fact(5, 5, 10, Practice), Heat: Fact(85, 95, 100, makers),
		Hold: Fact(1, 1, 3, Practice), Cap: Fact(3, 3, 5, Practice), Brix: Fact(25, 25, 30, makers), SetBy: method.ByCalcium,
		Sets: Fact(40, 55, 75, Practice), SetTime: Fact(15, 60, 240, Practice)}
	Lactate  = method.Process{ID: "ca-lactate", Salt: true, Way: method.Stir, Cold: true, Heat: Fact(20, 40, 60, Practice), Hold: Fact(2, 5, 10, Practice)}
	Alginate = method.Process{ID: "alginate", Way: method.Shear, Premix: Fact(5, 5, 10, Practice), Cold: true, Heat: Fact(5, 20, 60, Practice),
		Hold: Fact(5, 10, 30, Practice), Rest: Fact(120, 720, 1440, makers), Cap: Fact(2, 2, 3, Practice), SetBy: method.ByCalcium,
		SetTime: Fact(0.5, 3, 30, makers), PHLow: 4, CaMax: Fact(0.5, 1, 2.5, Practice)}
	Xanthan = method.Process{ID: "xanthan", Way: method.Shear, Premix: Fact(5, 5, 10, Practice), Cold: true, Heat: Fact(5, 20, 60, Practice),
		Hold: Fact(5, 10, 20, Practice), Cap: Fact(1, 1, 1, Practice)}
	EggWhite = method.Process{ID: "eggwhite", Way: method.Whisk, Cold: true, Heat: Fact(5, 20, 40, Practice), Hold: Fact(20, 30, 60, Practice),
		Bears: Fact(56, 58, 61, Practice), SetBy: method.HeatForGood, Sets: Fact(61, 70, 80, Practice), SetTime: Fact(10, 20, 40, Practice)}
	MC = method.Process{ID: "mc", Way: method.HotPart, Cold: true, Heat: Fact(2, 8, 15, Practice), Hold: Fact(10, 30, 60, Practice),
		Rest: Fact(120, 480, 720, Practice), Cap: Fact(3, 3, 3, Practice), SetBy: method.OnHeating, Sets: Fact(50, 52, 55, Practice), SetTime: Fact(1, 3, 10, Practice)}
	GellanHA = method.Process{ID: "gellan-ha", Way: method.RainCold, Heat: Fact(70, 80, 90, handbook), Hold: Fact(1, 2, 5, Practice),
		SetBy: method.OnCooling, Sets: Fact(50, 70, 80, handbook), SetTime: Fact(2, 10, 30, Practice)}
	HMPectin = method.Process{ID: "pectin-hm", Way: method.DryBlend, Premix: Fact(5, 5, 10, Practice), Heat: Fact(85, 95, 104, makers), Hold: Fact(1, 1, 3, Practice),
		Brix: Fact(25, 25, 30, makers), SetBy: method.ByAcidSugar, Sets: Fact(65, 75, 85, makers), SetTime: Fact(20, 60, 1440, Practice), PHLow: 2.8, PHHigh: 3.5, Solids: Fact(55, 65, 80, makers)}
	Starch = method.Process{ID: "corn-starch", Way: method.Slurry, Heat: Fact(80, 95, 98, Practice), Hold: Fact(1, 1.5, 2, Practice),
		Cap: Fact(10, 12, 15, Practice), SetBy: method.ByStaling, Sets: Fact(10, 35, 45, Practice), SetTime: Fact(240, 600, 1440, Practice)}
	Konjac = method.Process{ID: "konjac", Way: method.Shear, Premix: Fact(5, 5, 10, Practice), Heat: Fact(75, 80, 90, Practice), Hold: Fact(5, 10, 20, Practice),
		SetBy: method.ByAlkali, SetTime: Fact(20, 30, 60, Practice)}
)

// All lists every process above.
var All = []method.Process{Agar, Gellan, Gelatin, Iota, Pectin, Lactate, Alginate, Xanthan, EggWhite, MC, GellanHA, HMPectin, Starch, Konjac}
