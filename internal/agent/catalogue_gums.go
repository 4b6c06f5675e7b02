package agent

// Gums that thicken alone; some of them set in pairs.

var xanthan = Agent{
	ID: "xanthan", E: "E 415", Job: Thickens,
	Origin: []Word{"fermentation"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes,
	MayHold: []Word{"gluten", "soy", "milk"}, Identity: cLabelLaw,
	Disperse: Disperse{"shear", Fig{5, 5, 10, cMem}, cMem},
	Hydrate:  Hydrate{C: Fig{5, 20, 60, cMem}, Minutes: Fig{5, 10, 20, cMem}, Cold: true, CapPct: Fig{1, 1, 1, cMem}},
	Setting:  Setting{Kind: ByPartner, Cite: cXanNote},
	Feel:     Feel{Words: []Word{"slick", "thick"}, Clarity: "hazy", Freeze: Much, FluidGel: Some, Cite: cMem},
	Stands: Stands{PH: Span{2, 12, cMem}, ABVWarn: Fig{50, 50, 50, cKonjacTable}, ABVMax: Fig{60, 60, 60, cKonjacTable}, Brix: Span{0, 60, cMem},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{0.1, 0.2, 0.5, cXanNote}, false},
		{Foam, Water, Fig{0.1, 0.2, 0.4, cPrac}, false},
		{FluidGel, Water, Fig{0.3, 0.5, 0.8, cPrac}, false},
	},
	Safety: []Warning{{"mini-cup", cEFSA, false}},
}

var guar = Agent{
	ID: "guar", E: "E 412", Job: Thickens,
	Origin: []Word{"legume"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"shear", Fig{5, 5, 10, cMem}, cMem},
	Hydrate:  Hydrate{C: Fig{5, 20, 80, cMem}, Minutes: Fig{60, 90, 120, cMem}, Cold: true, CapPct: Fig{1, 1, 1.5, cMem}},
	Feel:     Feel{Words: []Word{"long", "slimy"}, Clarity: "cloudy", Freeze: Some, FluidGel: None, Cite: cMem},
	Stands: Stands{PH: Span{3.5, 10, cMem}, ABVWarn: Fig{20, 20, 20, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{0, 60, cPrac},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{0.1, 0.3, 0.6, cPrac}, false},
		{Foam, Water, Fig{0.1, 0.2, 0.4, cPrac}, false},
	},
	Safety: []Warning{{"mini-cup", cEFSA, false}, {"legume", cPrac, false}},
}

var lbg = Agent{
	ID: "lbg", E: "E 410", Job: Thickens,
	Origin: []Word{"carob"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"shear", Fig{5, 5, 10, cMem}, cMem},
	Hydrate:  Hydrate{C: Fig{80, 85, 95, cTrade}, Minutes: Fig{5, 8, 10, cTrade}, CapPct: Fig{1.5, 1.5, 1.5, cMem}},
	Setting:  Setting{Kind: ByPartner, Cite: cMem},
	Feel:     Feel{Words: []Word{"creamy", "thick"}, Clarity: "cloudy", Freeze: Much, FluidGel: None, Cite: cMem},
	Stands: Stands{PH: Span{3.5, 10, cMem}, ABVWarn: Fig{20, 20, 20, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{0, 60, cPrac},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{0.1, 0.3, 0.6, cPrac}, false},
		{Foam, Water, Fig{0.1, 0.2, 0.4, cPrac}, false},
	},
	Safety: []Warning{{"mini-cup", cEFSA, false}, {"legume", cPrac, false}},
}

var tara = Agent{
	ID: "tara", E: "E 417", Job: Thickens,
	Origin: []Word{"legume"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"shear", Fig{5, 5, 10, cMem}, cMem},
	Hydrate:  Hydrate{C: Fig{70, 80, 85, cMem}, Minutes: Fig{5, 10, 20, cMem}, CapPct: Fig{1, 1.2, 1.5, cMem}},
	Setting:  Setting{Kind: ByPartner, Cite: cMem},
	Feel:     Feel{Words: []Word{"creamy", "thick"}, Clarity: "cloudy", Freeze: Much, FluidGel: None, Cite: cMem},
	Stands: Stands{PH: Span{3.5, 10, cMem}, ABVWarn: Fig{20, 20, 20, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{0, 60, cPrac},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{0.1, 0.3, 0.5, cPrac}, false},
		{Foam, Water, Fig{0.1, 0.2, 0.3, cPrac}, false},
	},
	Safety: []Warning{{"mini-cup", cEFSA, false}, {"legume", cPrac, false}},
}

var konjac = Agent{
	ID: "konjac", E: "E 425", Job: Gels,
	Origin: []Word{"tuber"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"shear", Fig{5, 5, 10, cMem}, cTrade},
	// An hour or two is what it takes cold; at this heat it is minutes.
	Hydrate: Hydrate{C: Fig{75, 80, 90, cMem}, Minutes: Fig{5, 10, 20, cMem}, CapPct: Fig{1, 1.5, 3, cMem}},
	Setting: Setting{Kind: ByAlkali, HoldC: Fig{95, 98, 100, cMem}, Minutes: Fig{20, 30, 60, cMem}, Remelts: No, Cite: cKonjacTable},
	Feel: Feel{Words: []Word{"rubbery", "chewy"}, Clarity: "cloudy", Weeps: Little, Freeze: None, FluidGel: None,
		Break: Fig{0.5, 0.7, 1, cMem}, Cite: cMem},
	Stands: Stands{PH: Span{4, 10, cKonjacTable}, ABVWarn: Fig{20, 20, 20, cKonjacTable}, ABVMax: Fig{30, 30, 30, cKonjacTable}, Brix: Span{0, 60, cPrac},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{0.1, 0.25, 0.5, cPrac}, false},
		{Foam, Water, Fig{0.1, 0.2, 0.3, cPrac}, false},
		{Sliceable, Water, Fig{2, 3, 4, cPrac}, false},
	},
	Models: []Model{{Water, 3, Fig{2000, 6000, 15000, cMem}, Fig{1.8, 2.2, 2.6, cMem}, Fig{0.3, 0.5, 1.0, cMem}, Span{1.5, 4, cPrac}, 20}},
	Mods:   []Modifier{{By: ByPH, Cite: cMem, Points: []Point{{9, 0.2, 0.6, 1}, {10, 0.8, 1, 1.1}, {11.5, 0.9, 1, 1.1}}}},
	Safety: []Warning{{"konjac-confectionery", cFSS, true}, {"konjac-us", cFDA, true}, {"konjac-dry", cLaw, true}, {"konjac-limit", cLaw, false}, {"gut", cPrac, false}},
}

var arabic = Agent{
	ID: "arabic", E: "E 414", Job: Thickens,
	Origin: []Word{"acacia"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"stir", Fig{}, cMem},
	Hydrate:  Hydrate{C: Fig{5, 20, 60, cMem}, Minutes: Fig{30, 60, 240, cMem}, Cold: true, CapPct: Fig{30, 40, 50, cMem}},
	Feel:     Feel{Words: []Word{"thin", "smooth"}, Clarity: "clear", Freeze: Some, FluidGel: None, Cite: cMem},
	Stands: Stands{PH: Span{3, 9, cMem}, ABVWarn: Fig{40, 40, 40, cMem}, ABVMax: Fig{60, 60, 60, cMem}, Brix: Span{0, 80, cPrac},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{5, 10, 20, cPrac}, false},
		{Foam, Water, Fig{1, 3, 5, cPrac}, false},
	},
	Safety: []Warning{{"mini-cup", cEFSA, false}},
}
