package agent

// The three pectins.

var pectinHM = Agent{
	ID: "pectin-hm", E: "E 440(i)", Job: Gels,
	Origin: []Word{"citrus", "apple"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Grade:    Grade{SAG, Fig{100, 150, 200, cSag}, Fig{1, 1, 1, cTestJelly}},
	Disperse: Disperse{"sugar", Fig{5, 5, 10, cMem}, cTrade},
	Hydrate:  Hydrate{C: Fig{85, 95, 104, cTrade}, Minutes: Fig{1, 1, 3, cMem}, CapPct: Fig{3, 3, 5, cMem}, MaxBrix: Fig{25, 25, 30, cTrade}},
	Setting:  Setting{Kind: ByAcidSugar, SetC: Fig{65, 75, 85, cTrade}, HoldC: Fig{80, 85, 95, cMem}, Minutes: Fig{20, 60, 1440, cMem}, Remelts: No, Cite: cTrade},
	Feel: Feel{Words: []Word{"jammy", "short", "spreadable"}, Clarity: "clear", Weeps: Little, Freeze: Little, FluidGel: Some,
		Break: Fig{0.3, 0.4, 0.6, cLikeD}, Cite: cMem},
	Stands: Stands{PH: Span{2.8, 3.5, cMcGee},
		ABVWarn: Fig{15, 15, 15, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{55, 80, cMcGee},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{FluidGel, Water, Fig{0.3, 0.5, 0.8, cPrac}, false},
		{SoftSet, Water, Fig{0.2, 0.4, 0.6, cPrac}, false},
		{FirmSet, Water, Fig{0.5, 0.8, 1.0, cMcGee}, false},
		{Sliceable, Water, Fig{1.0, 1.5, 2.0, cPrac}, false},
	},
	Models: []Model{{Water, 0.433, Fig{379, 400, 429, cSag}, Fig{2.0, 2.5, 3.0, cMem}, Fig{0.15, 0.2, 0.25, cMem}, Span{0.27, 2, cPrac}, 25}},
	Mods: []Modifier{
		{By: ByPH, Cite: cMem, Points: []Point{{2, 0.5, 0.8, 1}, {2.3, 0.9, 1, 1.1}, {3, 0.9, 1, 1.1}, {3.3, 0.4, 0.7, 1}, {3.5, 0.1, 0.3, 0.7}}},
		{By: ByBrix, Cite: cMem, Points: []Point{{55, 0.2, 0.4, 0.7}, {60, 0.5, 0.7, 0.9}, {65, 1, 1, 1}, {75, 1, 1.4, 2}, {80, 1, 1.4, 2.4}}},
		{By: ByTemp, Cite: cMem, Points: []Point{{0, 1, 1.1, 1.4}, {25, 1, 1, 1}, {60, 0.5, 0.7, 0.9}, {95, 0.1, 0.3, 0.7}}},
		{By: ByABV, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {15, 0.8, 1, 1.3}, {30, 0.4, 0.8, 1.4}}},
	},
	Safety: []Warning{{"mini-cup", cLaw, false}},
}

var pectinLM = Agent{
	ID: "pectin-lm", E: "E 440(i)", Job: Gels,
	Origin: []Word{"citrus", "apple"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"sugar", Fig{5, 5, 10, cMem}, cTrade},
	Hydrate:  Hydrate{C: Fig{85, 95, 100, cTrade}, Minutes: Fig{1, 1, 3, cMem}, CapPct: Fig{3, 3, 5, cMem}, MaxBrix: Fig{25, 25, 30, cTrade}},
	Setting:  Setting{Kind: ByCalcium, SetC: Fig{40, 60, 80, cMem}, MeltC: Fig{60, 75, 90, cMem}, HoldC: Fig{45, 55, 75, cMem}, Minutes: Fig{15, 60, 240, cMem}, Remelts: Ask, Cite: cTrade},
	Feel: Feel{Words: []Word{"soft", "short", "spreadable"}, Clarity: "clear", Weeps: Some, Freeze: Little, FluidGel: Some,
		Break: Fig{0.3, 0.4, 0.5, cMem}, Cite: cMem},
	Stands: Stands{PH: Span{2.5, 6.5, cTrade},
		ABVWarn: Fig{15, 15, 15, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{0, 80, cTrade},
		Needs:    []Need{{Calcium, Fig{0.374, 0.749, 1.497, cMem}, true, true}},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{0.2, 0.4, 0.6, cPrac}, false},
		{Foam, Water, Fig{0.3, 0.5, 0.8, cPrac}, false},
		{FluidGel, Water, Fig{0.4, 0.8, 1.2, cPrac}, false},
		{SoftSet, Water, Fig{0.5, 0.8, 1.0, cPrac}, false},
		{FirmSet, Water, Fig{0.8, 1.2, 1.5, cPrac}, false},
		{Sliceable, Water, Fig{1.5, 2.0, 3.0, cPrac}, false},
	},
	Models: []Model{{Water, 1, Fig{150, 600, 2500, cLikeD}, Fig{2.0, 2.5, 3.0, cLikeD}, Fig{0.2, 0.3, 0.5, cLikeD}, Span{0.4, 3, cPrac}, 20}},
	Mods: []Modifier{
		{By: ByIons, Ca: 1, PerGram: true, Cite: cMem, Points: []Point{{0, 0.1, 0.3, 0.6}, {0.374, 0.4, 0.6, 0.9}, {0.749, 0.9, 1, 1.1}, {1.5, 0.6, 1, 1.4}, {6, 0.2, 0.6, 1.2}, {30, 0.1, 0.4, 1}}},
		{By: ByPH, Cite: cMem, Points: []Point{{2.5, 0.5, 0.8, 1.1}, {3, 0.9, 1, 1.1}, {4, 0.7, 1, 1.2}, {6.5, 0.3, 0.7, 1.1}}},
		{By: ByBrix, Cite: cMem, Points: []Point{{0, 0.6, 0.9, 1.1}, {30, 1, 1, 1}, {60, 0.8, 1.2, 1.8}, {80, 0.4, 1.2, 2.5}}},
		{By: ByTemp, Cite: cMem, Points: []Point{{0, 1, 1.1, 1.4}, {20, 1, 1, 1}, {60, 0.2, 0.5, 0.9}, {75, 0.1, 0.3, 0.8}}},
		{By: ByABV, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {15, 0.8, 1, 1.3}, {30, 0.4, 0.8, 1.4}}},
	},
	Safety: []Warning{{"mini-cup", cLaw, false}},
}

var pectinLMA = Agent{
	ID: "pectin-lma", E: "E 440(ii)", Job: Gels,
	Origin: []Word{"citrus", "apple"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"sugar", Fig{5, 5, 10, cMem}, cTrade},
	Hydrate:  Hydrate{C: Fig{85, 95, 100, cTrade}, Minutes: Fig{1, 1, 3, cMem}, CapPct: Fig{3, 3, 5, cMem}, MaxBrix: Fig{25, 25, 30, cTrade}},
	Setting:  Setting{Kind: ByCalcium, SetC: Fig{40, 55, 75, cMem}, MeltC: Fig{60, 70, 85, cMem}, HoldC: Fig{45, 55, 70, cMem}, Minutes: Fig{15, 60, 240, cMem}, Remelts: Yes, Cite: cTrade},
	Feel: Feel{Words: []Word{"soft", "elastic", "rehealing"}, Clarity: "clear", Weeps: Little, Freeze: Little, FluidGel: Much,
		Break: Fig{0.35, 0.5, 0.7, cLikeD}, Cite: cMem},
	Stands: Stands{PH: Span{2.5, 6.5, cTrade},
		ABVWarn: Fig{15, 15, 15, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{0, 80, cTrade},
		Needs:    []Need{{Calcium, Fig{0.25, 0.749, 1.497, cMem}, true, true}},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{0.2, 0.4, 0.6, cPrac}, false},
		{Foam, Water, Fig{0.3, 0.5, 0.8, cPrac}, false},
		{FluidGel, Water, Fig{0.4, 0.8, 1.2, cPrac}, false},
		{SoftSet, Water, Fig{0.5, 0.8, 1.0, cPrac}, false},
		{FirmSet, Water, Fig{0.8, 1.2, 1.5, cPrac}, false},
		{Sliceable, Water, Fig{1.5, 2.0, 3.0, cPrac}, false},
	},
	Models: []Model{{Water, 1, Fig{200, 600, 2000, cMem}, Fig{2.0, 2.5, 3.0, cMem}, Fig{0.2, 0.3, 0.5, cMem}, Span{0.4, 3, cPrac}, 20}},
	Mods: []Modifier{
		{By: ByIons, Ca: 1, PerGram: true, Cite: cMem, Points: []Point{{0, 0.2, 0.4, 0.7}, {0.374, 0.5, 0.8, 1}, {0.749, 0.9, 1, 1.1}, {1.5, 0.8, 1.1, 1.4}, {6, 0.4, 0.8, 1.3}, {30, 0.2, 0.6, 1.2}}},
		{By: ByPH, Cite: cMem, Points: []Point{{2.5, 0.5, 0.8, 1.1}, {3, 0.9, 1, 1.1}, {4, 0.7, 1, 1.2}, {6.5, 0.3, 0.7, 1.1}}},
		{By: ByBrix, Cite: cMem, Points: []Point{{0, 0.6, 0.9, 1.1}, {30, 1, 1, 1}, {60, 0.8, 1.2, 1.8}, {80, 0.4, 1.2, 2.5}}},
		{By: ByTemp, Cite: cMem, Points: []Point{{0, 1, 1.1, 1.4}, {20, 1, 1, 1}, {60, 0.2, 0.5, 0.9}, {75, 0.1, 0.3, 0.8}}},
		{By: ByABV, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {15, 0.8, 1, 1.3}, {30, 0.4, 0.8, 1.4}}},
	},
	Safety: []Warning{{"mini-cup", cLaw, false}},
}
