package agent

// Cellulose ethers: they set on heating and melt on cooling.

var mc = Agent{
	ID: "mc", E: "E 461", Job: Gels,
	Origin: []Word{"wood", "cotton"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"hot-third", Fig{}, cTrade},
	Hydrate:  Hydrate{C: Fig{2, 8, 15, cEasy}, Minutes: Fig{10, 30, 60, cMem}, Rest: Fig{120, 480, 720, cMem}, Cold: true, CapPct: Fig{3, 3, 3, cMem}, MaxBrix: Fig{40, 45, 50, cMem}},
	Setting:  Setting{Kind: OnHeating, SetC: Fig{50, 52, 55, cEasy}, MeltC: Fig{25, 28, 30, cMem}, NeedC: Fig{38, 45, 55, cMem}, Minutes: Fig{1, 3, 10, cMem}, Remelts: Yes, Cite: cEasy},
	Feel: Feel{Words: []Word{"firm", "rubbery"}, Clarity: "opaque", Weeps: Some, Freeze: Some, FluidGel: None,
		Break: Fig{0.3, 0.45, 0.6, cMem}, Cite: cMem},
	Stands: Stands{PH: Span{3, 11, cTrade},
		ABVWarn: Fig{20, 20, 20, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{0, 50, cMem},
		Protease: Immune, Tannin: Weakens, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{0.2, 0.4, 0.8, cPrac}, false},
		{Foam, Water, Fig{0.5, 1.0, 1.5, cPrac}, false},
		{SoftSet, Water, Fig{0.8, 1.2, 1.5, cPrac}, true},
		{FirmSet, Water, Fig{1.5, 2.0, 2.5, cPrac}, true},
		{Sliceable, Water, Fig{2.0, 2.5, 3.5, cPrac}, true},
	},
	Models: []Model{{Water, 2, Fig{500, 2000, 5000, cMem}, Fig{1.8, 2.2, 2.6, cMem}, Fig{0.3, 0.5, 1.0, cMem}, Span{0.8, 3.5, cPrac}, 75}},
	Mods: []Modifier{
		{By: ByTemp, Cite: cMem, Points: []Point{{45, 0.05, 0.2, 0.5}, {55, 0.3, 0.6, 0.9}, {70, 1, 1, 1}, {95, 1, 1.2, 1.6}}},
		{By: ByPH, Cite: cTrade, Filled: cTradeM, Points: []Point{{2.5, 0.7, 1, 1}, {3, 0.9, 1, 1}, {11, 0.9, 1, 1}}},
		{By: ByBrix, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {30, 0.8, 1.1, 1.5}, {50, 0.5, 1.1, 1.8}}},
		{By: BySalt, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {500, 0.8, 1.1, 1.5}, {1500, 0.5, 1.1, 2}}},
		{By: ByABV, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {20, 0.5, 0.8, 1}, {30, 0.2, 0.5, 0.9}}},
	},
	Safety: []Warning{{"gut", cPrac, false}},
}

var mcLow = Agent{
	ID: "mc-low", E: "E 461", Job: Gels,
	Origin: []Word{"wood", "cotton"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"hot-third", Fig{}, cTrade},
	Hydrate:  Hydrate{C: Fig{1, 4, 10, cMem}, Minutes: Fig{10, 30, 60, cMem}, Rest: Fig{120, 480, 720, cMem}, Cold: true, CapPct: Fig{3, 3, 3, cMem}, MaxBrix: Fig{40, 45, 50, cMem}},
	Setting:  Setting{Kind: OnHeating, SetC: Fig{38, 41, 44, cMem}, MeltC: Fig{15, 20, 25, cMem}, NeedC: Fig{28, 35, 44, cMem}, Minutes: Fig{1, 3, 10, cMem}, Remelts: Yes, Cite: cMem},
	Feel: Feel{Words: []Word{"firm", "rubbery"}, Clarity: "opaque", Weeps: Some, Freeze: Some, FluidGel: None,
		Break: Fig{0.3, 0.45, 0.7, cLikeD}, Cite: cMem},
	Stands: Stands{PH: Span{3, 11, cTrade},
		ABVWarn: Fig{20, 20, 20, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{0, 50, cMem},
		Protease: Immune, Tannin: Weakens, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{SoftSet, Water, Fig{0.6, 1.0, 1.3, cPrac}, true},
		{FirmSet, Water, Fig{1.2, 1.6, 2.2, cPrac}, true},
		{Sliceable, Water, Fig{1.8, 2.3, 3.2, cPrac}, true},
	},
	Models: []Model{{Water, 2, Fig{800, 4000, 12000, cLikeD}, Fig{1.7, 2.2, 2.7, cLikeD}, Fig{0.2, 0.45, 1.0, cLikeD}, Span{0.7, 3.2, cPrac}, 70}},
	Mods: []Modifier{
		{By: ByTemp, Cite: cMem, Points: []Point{{35, 0.05, 0.2, 0.5}, {45, 0.3, 0.6, 0.9}, {60, 0.9, 1, 1.1}, {95, 0.9, 1.2, 1.6}}},
		{By: ByPH, Cite: cTrade, Filled: cTradeM, Points: []Point{{2.5, 0.7, 1, 1}, {3, 0.9, 1, 1}, {11, 0.9, 1, 1}}},
		{By: ByBrix, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {30, 0.8, 1.1, 1.5}, {50, 0.5, 1.1, 1.8}}},
		{By: ByABV, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {20, 0.5, 0.8, 1}, {30, 0.2, 0.5, 0.9}}},
	},
	Safety: []Warning{{"gut", cPrac, false}},
}

var hpmc = Agent{
	ID: "hpmc", E: "E 464", Job: Gels,
	Origin: []Word{"wood", "cotton"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"hot-third", Fig{}, cTrade},
	Hydrate:  Hydrate{C: Fig{5, 15, 25, cMem}, Minutes: Fig{10, 30, 60, cMem}, Rest: Fig{60, 240, 720, cMem}, Cold: true, CapPct: Fig{3, 3, 4, cMem}, MaxBrix: Fig{40, 45, 50, cMem}},
	Setting:  Setting{Kind: OnHeating, SetC: Fig{58, 64, 68, cEasy}, MeltC: Fig{30, 40, 50, cMem}, NeedC: Fig{50, 58, 68, cMem}, Minutes: Fig{2, 5, 10, cMem}, Remelts: Yes, Cite: cEasy},
	Feel: Feel{Words: []Word{"soft", "rubbery"}, Clarity: "opaque", Weeps: Some, Freeze: Some, FluidGel: None,
		Break: Fig{0.4, 0.6, 0.8, cLikeD}, Cite: cMem},
	Stands: Stands{PH: Span{3, 11, cTrade},
		ABVWarn: Fig{20, 20, 20, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{0, 50, cMem},
		Protease: Immune, Tannin: Weakens, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{0.3, 0.6, 1.0, cPrac}, false},
		{Foam, Water, Fig{1.0, 1.5, 2.0, cEasy}, false},
		{SoftSet, Water, Fig{1.5, 2.0, 2.5, cPrac}, true},
		{FirmSet, Water, Fig{2.0, 2.5, 3.0, cPrac}, true},
	},
	Models: []Model{{Water, 2, Fig{50, 200, 1000, cMem}, Fig{1.8, 2.2, 2.6, cMem}, Fig{0.5, 1.0, 1.5, cMem}, Span{1.5, 3, cPrac}, 80}},
	Mods: []Modifier{
		{By: ByTemp, Cite: cMem, Points: []Point{{58, 0.1, 0.3, 0.6}, {70, 0.6, 0.8, 1}, {80, 1, 1, 1}, {95, 1, 1.2, 1.6}}},
		{By: ByPH, Cite: cTrade, Filled: cTradeM, Points: []Point{{2.5, 0.7, 1, 1}, {3, 0.9, 1, 1}, {11, 0.9, 1, 1}}},
		{By: ByBrix, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {30, 0.8, 1.1, 1.5}, {50, 0.5, 1.1, 1.8}}},
		{By: ByABV, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {20, 0.5, 0.8, 1}, {30, 0.2, 0.5, 0.9}}},
	},
	Safety: []Warning{{"gut", cPrac, false}},
}

var cmc = Agent{
	ID: "cmc", E: "E 466", Job: Thickens,
	Origin: []Word{"wood", "cotton"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"shear", Fig{5, 5, 10, cMem}, cMem},
	Hydrate:  Hydrate{C: Fig{5, 20, 60, cMem}, Minutes: Fig{10, 30, 60, cMem}, Cold: true, CapPct: Fig{2, 2, 3, cMem}},
	Feel:     Feel{Words: []Word{"smooth", "syrupy"}, Clarity: "clear", Freeze: Some, FluidGel: None, Cite: cMem},
	Stands: Stands{PH: Span{4, 10, cMem}, ABVWarn: Fig{30, 30, 30, cMem}, ABVMax: Fig{40, 40, 40, cMem}, Brix: Span{0, 70, cPrac},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{0.1, 0.4, 1.0, cPrac}, false},
		{Foam, Water, Fig{0.1, 0.3, 0.5, cPrac}, false},
	},
}
