package agent

// Alginate and the calcium salts that set it.

var alginate = Agent{
	ID: "alginate", E: "E 401", Job: Gels,
	Origin: []Word{"brown-algae"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"shear", Fig{5, 5, 10, cMem}, cTrade},
	Hydrate:  Hydrate{C: Fig{5, 20, 60, cMem}, Minutes: Fig{5, 10, 30, cMem}, Rest: Fig{120, 720, 1440, cTrade}, Cold: true, CapPct: Fig{2, 2, 3, cMem}, MaxBrix: Fig{40, 50, 50, cMem}},
	Setting:  Setting{Kind: ByCalcium, HoldC: Fig{95, 98, 100, cMem}, Minutes: Fig{0.5, 3, 30, cTrade}, Remelts: No, Cite: cMem},
	Feel: Feel{Words: []Word{"skin", "elastic"}, Clarity: "clear", Weeps: Some, Freeze: Little, FluidGel: Some,
		Break: Fig{0.4, 0.6, 1, cMem}, Cite: cMem},
	Stands: Stands{PH: Span{4, 10, cMem},
		ABVWarn: Fig{20, 20, 20, cKonjacTable}, ABVMax: Fig{40, 40, 40, cKonjacTable}, Brix: Span{0, 50, cMem},
		Needs: []Need{{Calcium, Fig{1.5, 2.52, 5, cAlginateD}, true, false}}, CaMax: Fig{0.5, 1, 2.5, cPrac},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{0.2, 0.4, 0.8, cPrac}, false},
		{Foam, Water, Fig{0.2, 0.4, 0.6, cPrac}, false},
		{FluidGel, Water, Fig{0.4, 0.6, 1.0, cPrac}, false},
		{Sphere, Water, Fig{0.35, 0.8, 1.4, cTrade}, false},
		{FirmSet, Water, Fig{0.6, 0.8, 1.0, cPrac}, false},
		{Sliceable, Water, Fig{1.0, 1.3, 2.0, cPrac}, false},
	},
	Models: []Model{{Water, 1, Fig{1000, 5000, 15000, cMem}, Fig{1.5, 2.0, 2.5, cMem}, Fig{0.1, 0.2, 0.3, cMem}, Span{0.3, 2, cPrac}, 20}},
	Mods: []Modifier{
		{By: ByTemp, Cite: cMem, Points: []Point{{0, 1, 1, 1.1}, {20, 1, 1, 1}, {100, 0.6, 0.9, 1}}},
		{By: ByPH, Cite: cMem, Points: []Point{{3.5, 0.3, 0.7, 1}, {4, 0.7, 0.9, 1}, {5, 1, 1, 1}, {8, 1, 1, 1}, {10, 0.6, 0.9, 1}}},
		{By: ByBrix, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {30, 0.7, 1, 1.3}, {50, 0.4, 0.8, 1.3}}},
		{By: ByABV, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {20, 0.7, 1, 1.2}, {40, 0.3, 0.7, 1.2}}},
	},
	Safety: []Warning{{"mini-cup", cEFSA, false}},
}

var caChloride = Agent{
	ID: "ca-chloride", E: "E 509", Job: Sets,
	Origin: []Word{"mineral"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"stir", Fig{}, cMem},
	Hydrate:  Hydrate{C: Fig{5, 20, 60, cMem}, Minutes: Fig{1, 1, 2, cMem}, Cold: true},
	Feel:     Feel{Words: []Word{"bitter"}, Clarity: "clear", Cite: cMem},
	Windows:  []Window{{Sphere, Water, Fig{0.5, 0.65, 1.0, cTrade}, false}},
	Safety:   []Warning{{"ca-irritant", cPrac, true}},
}

var caLactate = Agent{
	ID: "ca-lactate", E: "E 327", Job: Sets,
	Origin: []Word{"fermentation"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"stir", Fig{}, cMem},
	Hydrate:  Hydrate{C: Fig{20, 40, 60, cMem}, Minutes: Fig{2, 5, 10, cMem}, Cold: true},
	Feel:     Feel{Words: []Word{"mild"}, Clarity: "clear", Cite: cMem},
	Windows:  []Window{{Sphere, Water, Fig{1, 2, 3, cPrac}, false}},
}

var caLG = Agent{
	ID: "ca-lg", E: "E 327, E 578", Job: Sets,
	Origin: []Word{"fermentation"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"stir", Fig{}, cMem},
	Hydrate:  Hydrate{C: Fig{20, 40, 60, cMem}, Minutes: Fig{2, 5, 10, cMem}, Cold: true},
	Feel:     Feel{Words: []Word{"mild"}, Clarity: "clear", Cite: cMem},
	Windows:  []Window{{Sphere, Water, Fig{1, 2, 3, cPrac}, false}},
}
