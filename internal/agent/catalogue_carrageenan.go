package agent

// The three carrageenans.

var carrKappa = Agent{
	ID: "carr-kappa", E: "E 407", Job: Gels,
	Origin: []Word{"red-algae"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"sugar", Fig{3, 4, 5, cTexture}, cTexture},
	Hydrate:  Hydrate{C: Fig{70, 80, 85, cTexture}, Minutes: Fig{2, 3, 5, cMem}, CapPct: Fig{3, 3, 3, cMem}},
	Setting: Setting{Kind: OnCooling, SetC: Fig{30, 45, 60, cTexture}, MeltC: Fig{45, 60, 75, cTexture},
		HoldC: Fig{40, 50, 60, cMem}, Minutes: Fig{15, 30, 60, cMem}, Remelts: Yes, Cite: cTexture},
	Feel: Feel{Words: []Word{"firm", "brittle"}, Clarity: "hazy", Weeps: Much, Freeze: None, FluidGel: Some,
		Break: Fig{0.25, 0.35, 0.45, cMem}, Cite: cMem},
	Stands: Stands{PH: Span{4, 10, cTexture},
		Acid:    HotAcid{4.5, Fig{3, 5, 10, cPrac}, Fig{0.2, 0.22, 0.25, cCarrAcid}, Fig{3, 3, 3, cCarrAcid}},
		ABVWarn: Fig{20, 20, 20, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{0, 70, cPrac},
		Needs:    []Need{{Potassium, Fig{10, 20, 50, cMem}, false, true}},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{0.05, 0.1, 0.2, cPrac}, false}, {Thickened, Milk, Fig{0.01, 0.02, 0.05, cPrac}, false},
		{Foam, Water, Fig{0.1, 0.2, 0.3, cPrac}, false}, {Foam, Milk, Fig{0.05, 0.1, 0.2, cPrac}, false},
		{FluidGel, Water, Fig{0.2, 0.3, 0.5, cPrac}, false}, {FluidGel, Milk, Fig{0.1, 0.2, 0.3, cPrac}, false},
		{SoftSet, Water, Fig{0.3, 0.45, 0.6, cPrac}, false}, {SoftSet, Milk, Fig{0.08, 0.12, 0.2, cPrac}, false},
		{FirmSet, Water, Fig{0.6, 0.8, 1.0, cPrac}, false}, {FirmSet, Milk, Fig{0.2, 0.25, 0.35, cPrac}, false},
		{Sliceable, Water, Fig{0.8, 1.2, 2.0, cPrac}, false}, {Sliceable, Milk, Fig{0.3, 0.4, 0.6, cPrac}, false},
	},
	Models: []Model{
		{Water, 1, Fig{4000, 10000, 20000, cMem}, Fig{1.8, 2.1, 2.5, cMem}, Fig{0.1, 0.2, 0.4, cMem}, Span{0.25, 2, cPrac}, 20},
		{Milk, 0.25, Fig{2000, 8000, 20000, cMilkD}, Fig{1.8, 2.1, 2.5, cMilkD}, Fig{0.02, 0.04, 0.08, cMilkD}, Span{0.06, 0.6, cPrac}, 20},
	},
	Mods: []Modifier{
		{By: ByTemp, Cite: cAgarTemp, Filled: cAgarTempM, Points: []Point{{0, 1, 1.15, 1.3}, {5, 1, 1.1, 1.2}, {20, 1, 1, 1}, {30, 0.7, 0.85, 1}, {40, 0.3, 0.5, 0.7}, {60, 0.05, 0.15, 0.4}}},
		{By: ByIons, K: 1, Na: 0.5, Ca: 2, Cite: cKappaK, Filled: cKappaKM, Points: []Point{{0, 0.1, 0.22, 0.5}, {30, 0.8, 1, 1.2}, {250, 1.5, 2.5, 3.3}, {400, 1.2, 2, 3}, {1000, 0.6, 1.4, 2.5}}},
		{By: ByBrix, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {30, 1, 1.3, 1.6}, {60, 0.8, 1.4, 2.2}, {70, 0.6, 1.3, 2.2}}},
		{By: ByPH, Cite: cMem, Points: []Point{{2.5, 0.4, 0.7, 1}, {3.5, 0.7, 0.9, 1}, {4.5, 0.9, 1, 1}, {8, 1, 1, 1}, {10, 0.9, 1, 1.1}}},
		{By: ByABV, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {20, 0.7, 1, 1.2}, {30, 0.4, 0.8, 1.2}}},
	},
	Safety: []Warning{{"mini-cup", cEFSA, false}, {"infant", cPrac, false}},
}

var carrIota = Agent{
	ID: "carr-iota", E: "E 407", Job: Gels,
	Origin: []Word{"red-algae"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"sugar", Fig{3, 4, 5, cTexture}, cTexture},
	Hydrate:  Hydrate{C: Fig{70, 80, 85, cTexture}, Minutes: Fig{2, 3, 5, cMem}, CapPct: Fig{3, 3, 3, cMem}},
	Setting: Setting{Kind: OnCooling, SetC: Fig{40, 55, 70, cTexture}, MeltC: Fig{45, 62, 80, cTexture},
		HoldC: Fig{40, 52, 65, cMem}, Minutes: Fig{15, 30, 60, cMem}, Remelts: Yes, Cite: cTexture},
	Feel: Feel{Words: []Word{"soft", "elastic", "creamy", "rehealing"}, Clarity: "clear", Weeps: None, Freeze: Some, FluidGel: Much,
		Break: Fig{0.8, 0.9, 1.1, cMem}, Cite: cTexture},
	Stands: Stands{PH: Span{4, 10, cTexture},
		Acid:    HotAcid{4.5, Fig{3, 5, 10, cPrac}, Fig{0.2, 0.22, 0.25, cCarrAcid}, Fig{3, 3, 3, cCarrAcid}},
		ABVWarn: Fig{20, 20, 20, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{0, 70, cPrac},
		Needs:    []Need{{Calcium, Fig{1, 3, 10, cMem}, false, true}},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{0.1, 0.2, 0.3, cPrac}, false}, {Thickened, Milk, Fig{0.05, 0.1, 0.15, cPrac}, false},
		{Foam, Water, Fig{0.2, 0.3, 0.4, cPrac}, false}, {Foam, Milk, Fig{0.1, 0.2, 0.3, cPrac}, false},
		{FluidGel, Water, Fig{0.2, 0.4, 0.6, cPrac}, false}, {FluidGel, Milk, Fig{0.1, 0.2, 0.4, cPrac}, false},
		{SoftSet, Water, Fig{0.5, 0.8, 1.0, cPrac}, false}, {SoftSet, Milk, Fig{0.12, 0.2, 0.5, cPrac}, false},
		{FirmSet, Water, Fig{1.0, 1.2, 1.5, cPrac}, false}, {FirmSet, Milk, Fig{0.5, 0.7, 1.0, cPrac}, false},
		{Sliceable, Water, Fig{1.2, 1.5, 2.0, cPrac}, false}, {Sliceable, Milk, Fig{1.0, 1.5, 2.0, cPrac}, false},
	},
	Models: []Model{
		{Water, 1, Fig{100, 300, 1000, cMem}, Fig{1.8, 2.1, 2.5, cMem}, Fig{0.15, 0.25, 0.5, cMem}, Span{0.35, 3.2, cPrac}, 20},
		{Milk, 0.3, Fig{30, 100, 300, cMem}, Fig{1.8, 2.1, 2.5, cMem}, Fig{0.05, 0.08, 0.12, cMem}, Span{0.1, 2, cPrac}, 5},
	},
	Mods: []Modifier{
		{By: ByTemp, Cite: cMem, Points: []Point{{0, 1, 1.15, 1.3}, {20, 1, 1, 1}, {40, 0.3, 0.5, 0.8}, {60, 0.05, 0.2, 0.5}}},
		{By: ByIons, Ca: 1, K: 0.1, Na: 0.03, Cite: cIotaBui, Filled: cIotaBuiM, Points: []Point{{0, 0.2, 0.4, 0.7}, {3, 0.7, 1, 1.1}, {20, 0.9, 1.2, 1.6}, {60, 0.6, 1, 1.6}, {200, 0.4, 0.8, 1.5}}},
		{By: ByBrix, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {30, 0.9, 1.1, 1.4}, {60, 0.7, 1.2, 1.8}, {70, 0.6, 1.1, 1.8}}},
		{By: ByPH, Cite: cMem, Points: []Point{{2.5, 0.4, 0.7, 1}, {3.5, 0.7, 0.9, 1}, {4.5, 0.9, 1, 1}, {8, 1, 1, 1}, {10, 0.9, 1, 1.1}}},
		{By: ByABV, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {20, 0.7, 1, 1.2}, {30, 0.4, 0.8, 1.2}}},
	},
	Safety: []Warning{{"mini-cup", cEFSA, false}, {"infant", cPrac, false}},
}

var carrLambda = Agent{
	ID: "carr-lambda", E: "E 407", Job: Thickens,
	Origin: []Word{"red-algae"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"shear", Fig{3, 4, 5, cMem}, cMem},
	Hydrate:  Hydrate{C: Fig{5, 20, 60, cMem}, Minutes: Fig{5, 20, 60, cMem}, Cold: true, CapPct: Fig{2, 2, 2, cMem}},
	Feel:     Feel{Words: []Word{"creamy", "thick"}, Clarity: "clear", Freeze: Some, FluidGel: None, Cite: cMem},
	Stands: Stands{PH: Span{4, 10, cMem},
		Acid:    HotAcid{4.5, Fig{3, 5, 10, cPrac}, Fig{0.2, 0.22, 0.25, cCarrAcid}, Fig{3, 3, 3, cCarrAcid}},
		ABVWarn: Fig{20, 20, 20, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{0, 70, cPrac},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{0.1, 0.3, 0.8, cPrac}, false},
		{Foam, Water, Fig{0.1, 0.2, 0.4, cPrac}, false},
	},
	Safety: []Warning{{"infant", cPrac, false}},
}
