package method_test

import (
	"tremblant/internal/plan/method"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// The process facts of the tests stand here, so that the expected sheets do
// not move with a catalogue. Sources as in the catalogue of agents.
var (
	collection = source.Ref{Tag: source.Open, Text: "Lersch (ed.), Texture: a hydrocolloid recipe collection, 2008–2014"}
	handbook   = source.Ref{Tag: source.Published, Text: "Phillips & Williams (eds.), Handbook of Hydrocolloids, 3rd ed., 2021, gellan chapter, Table 28.6"}
	makers     = source.Ref{Tag: source.Tertiary, Text: "makers' and trade pages"}
	practice   = source.Ref{Tag: source.Practice}
)

func fact(low, typical, high float64, ref source.Ref) method.Fact {
	return method.Fact{Range: unit.Range{Low: low, Typical: typical, High: high}, Source: ref}
}

var (
	agar = method.Process{ID: "agar", Way: method.RainCold, Premix: fact(5, 5, 10, collection), Heat: fact(90, 95, 100, collection),
		Hold: fact(2, 3, 5, makers), Cap: fact(3, 3, 3, practice), SetBy: method.OnCooling, Sets: fact(34, 38, 45, collection),
		SetTime: fact(20, 30, 60, practice), Acid: fact(20, 20, 20, makers), AcidPH: 3.5}
	gellan = method.Process{ID: "gellan-la", Way: method.DryBlend, Premix: fact(5, 5, 10, practice), Heat: fact(80, 90, 95, handbook),
		Hold: fact(1, 2, 3, practice), Cap: fact(2, 2, 2, practice), Brix: fact(20, 25, 30, makers), SetBy: method.OnCooling,
		Sets: fact(25, 40, 60, handbook), SetTime: fact(2, 10, 30, practice), Acid: fact(20, 20, 20, practice), AcidPH: 3.5, PHLow: 3.5, CaMax: fact(2, 2.5, 4, makers)}
	gelatin = method.Process{ID: "gelatin", Way: method.Soak, Heat: fact(50, 60, 70, collection), Hold: fact(2, 5, 15, makers),
		Rest: fact(5, 10, 30, makers), Bears: fact(70, 75, 100, makers), Cap: fact(15, 15, 20, practice), SetBy: method.OnCooling,
		Sets: fact(10, 15, 25, collection), SetTime: fact(240, 360, 1440, makers), Enzyme: true, PHLow: 4}
	iota = method.Process{ID: "carr-iota", Way: method.DryBlend, Premix: fact(3, 4, 5, collection), Heat: fact(70, 80, 85, collection),
		Hold: fact(2, 3, 5, practice), Cap: fact(3, 3, 3, practice), SetBy: method.OnCooling, Sets: fact(40, 55, 70, collection),
		SetTime: fact(15, 30, 60, practice), Acid: fact(3, 5, 10, practice), AcidPH: 4.5, PHLow: 4}
	pectin = method.Process{ID: "pectin-lma", Way: method.DryBlend, Premix: fact(5, 5, 10, practice), Heat: fact(85, 95, 100, makers),
		Hold: fact(1, 1, 3, practice), Cap: fact(3, 3, 5, practice), Brix: fact(25, 25, 30, makers), SetBy: method.ByCalcium,
		Sets: fact(40, 55, 75, practice), SetTime: fact(15, 60, 240, practice)}
	lactate  = method.Process{ID: "ca-lactate", Salt: true, Way: method.Stir, Cold: true, Heat: fact(20, 40, 60, practice), Hold: fact(2, 5, 10, practice)}
	alginate = method.Process{ID: "alginate", Way: method.Shear, Premix: fact(5, 5, 10, practice), Cold: true, Heat: fact(5, 20, 60, practice),
		Hold: fact(5, 10, 30, practice), Rest: fact(120, 720, 1440, makers), Cap: fact(2, 2, 3, practice), SetBy: method.ByCalcium,
		SetTime: fact(0.5, 3, 30, makers), PHLow: 4, CaMax: fact(0.5, 1, 2.5, practice)}
	xanthan = method.Process{ID: "xanthan", Way: method.Shear, Premix: fact(5, 5, 10, practice), Cold: true, Heat: fact(5, 20, 60, practice),
		Hold: fact(5, 10, 20, practice), Cap: fact(1, 1, 1, practice)}
	eggwhite = method.Process{ID: "eggwhite", Way: method.Whisk, Cold: true, Heat: fact(5, 20, 40, practice), Hold: fact(20, 30, 60, practice),
		Bears: fact(56, 58, 61, practice), SetBy: method.HeatForGood, Sets: fact(61, 70, 80, practice), SetTime: fact(10, 20, 40, practice)}
	mc = method.Process{ID: "mc", Way: method.HotPart, Cold: true, Heat: fact(2, 8, 15, practice), Hold: fact(10, 30, 60, practice),
		Rest: fact(120, 480, 720, practice), Cap: fact(3, 3, 3, practice), SetBy: method.OnHeating, Sets: fact(50, 52, 55, practice), SetTime: fact(1, 3, 10, practice)}
	gellanHA = method.Process{ID: "gellan-ha", Way: method.RainCold, Heat: fact(70, 80, 90, handbook), Hold: fact(1, 2, 5, practice),
		SetBy: method.OnCooling, Sets: fact(50, 70, 80, handbook), SetTime: fact(2, 10, 30, practice)}
	hmPectin = method.Process{ID: "pectin-hm", Way: method.DryBlend, Premix: fact(5, 5, 10, practice), Heat: fact(85, 95, 104, makers), Hold: fact(1, 1, 3, practice),
		Brix: fact(25, 25, 30, makers), SetBy: method.ByAcidSugar, Sets: fact(65, 75, 85, makers), SetTime: fact(20, 60, 1440, practice), PHLow: 2.8, PHHigh: 3.5, Solids: fact(55, 65, 80, makers)}
	starch = method.Process{ID: "corn-starch", Way: method.Slurry, Heat: fact(80, 95, 98, practice), Hold: fact(1, 1.5, 2, practice),
		Cap: fact(10, 12, 15, practice), SetBy: method.ByStaling, Sets: fact(10, 35, 45, practice), SetTime: fact(240, 600, 1440, practice)}
	konjac = method.Process{ID: "konjac", Way: method.Shear, Premix: fact(5, 5, 10, practice), Heat: fact(20, 80, 90, makers), Hold: fact(10, 60, 120, makers),
		SetBy: method.ByAlkali, SetTime: fact(20, 30, 60, practice)}
)

var everyProcess = []method.Process{agar, gellan, gelatin, iota, pectin, lactate, alginate, xanthan, eggwhite, mc, gellanHA, hmPectin, starch, konjac}
