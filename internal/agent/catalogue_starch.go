package agent

// Starches.

var cornStarch = Agent{
	ID: "corn-starch", E: "", Job: Gels,
	Origin: []Word{"maize"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, MayHold: []Word{"gluten"}, Identity: cLabelLaw,
	Disperse: Disperse{"slurry", Fig{}, cMcGee},
	Hydrate:  Hydrate{C: Fig{80, 95, 98, cMcGee}, Minutes: Fig{1, 1.5, 2, cMem}, CapPct: Fig{10, 12, 15, cMem}},
	Setting:  Setting{Kind: ByStaling, SetC: Fig{10, 35, 45, cMem}, HoldC: Fig{30, 40, 60, cMem}, Minutes: Fig{240, 600, 1440, cMem}, Remelts: No, Cite: cMcGee},
	Feel: Feel{Words: []Word{"short", "pasty"}, Clarity: "opaque", Weeps: Much, Freeze: None, FluidGel: Little,
		Break: Fig{0.3, 0.5, 0.7, cLikeD}, Cite: cMcGee},
	Stands: Stands{PH: Span{4, 8, cMem},
		Acid:    HotAcid{3.5, Fig{5, 10, 20, cPrac}, Fig{0.1, 0.25, 0.5, cLikeD}, Fig{2, 3, 4, cAgarAcidD}},
		ABVWarn: Fig{15, 15, 15, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{0, 50, cPrac},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Fails, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{2, 3.5, 5, cPrac}, false},
		{Foam, Water, Fig{1, 2, 3, cPrac}, false},
		{FluidGel, Water, Fig{4, 5, 6, cPrac}, false},
		{SoftSet, Water, Fig{4, 5, 6.5, cPrac}, false},
		{FirmSet, Water, Fig{6.5, 7.5, 9, cPrac}, false},
		{Sliceable, Water, Fig{8, 10, 12, cPrac}, false},
	},
	Models: []Model{{Water, 8, Fig{500, 1500, 4000, cMem}, Fig{2.0, 2.5, 3.0, cMem}, Fig{4, 5, 6, cMem}, Span{5.5, 12, cPrac}, 4}},
	Mods: []Modifier{
		{By: ByTemp, Cite: cMem, Points: []Point{{0, 1, 1.05, 1.1}, {4, 1, 1, 1}, {20, 0.4, 0.6, 0.8}, {40, 0.1, 0.3, 0.6}, {60, 0.05, 0.15, 0.4}}},
		{By: ByPH, Cite: cMem, Points: []Point{{3, 0.3, 0.6, 1}, {4, 0.7, 0.9, 1}, {5, 1, 1, 1}, {8, 1, 1, 1}}},
		{By: ByBrix, Cite: cMcGee, Filled: cMcGeeM, Points: []Point{{0, 1, 1, 1}, {20, 0.6, 0.9, 1.1}, {50, 0.2, 0.5, 1}}},
		{By: ByABV, Cite: cMem, Points: []Point{{0, 1, 1, 1}, {15, 0.6, 0.9, 1}, {30, 0.2, 0.6, 1}}},
	},
	Safety: []Warning{{"not-dysphagia", cDysphagia, false}},
}

var tapiocaStarch = Agent{
	ID: "tapioca-starch", E: "", Job: Thickens,
	Origin: []Word{"cassava"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLabelLaw,
	Disperse: Disperse{"slurry", Fig{}, cMcGee},
	Hydrate:  Hydrate{C: Fig{65, 70, 85, cMcGee}, Minutes: Fig{1, 1, 2, cMem}, CapPct: Fig{8, 10, 15, cMem}},
	Setting:  Setting{Kind: ByStaling, HoldC: Fig{30, 40, 60, cLikeD}, Cite: cMcGee},
	Feel:     Feel{Words: []Word{"stringy", "glossy"}, Clarity: "clear", Weeps: Little, Freeze: Some, FluidGel: None, Cite: cMcGee},
	Stands: Stands{PH: Span{4.5, 8, cMcGee},
		Acid:    HotAcid{3.5, Fig{5, 10, 20, cPrac}, Fig{0.2, 0.35, 0.6, cLikeD}, Fig{2, 3, 4, cAgarAcidD}},
		ABVWarn: Fig{15, 15, 15, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{0, 50, cPrac},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Fails, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{2, 3, 5, cPrac}, false},
		{Foam, Water, Fig{1, 2, 3, cPrac}, false},
		{SoftSet, Water, Fig{5, 6, 8, cPrac}, false},
		{FirmSet, Water, Fig{7, 9, 10, cPrac}, false},
		{Sliceable, Water, Fig{10, 12, 15, cPrac}, false},
	},
	Safety: []Warning{{"not-dysphagia", cDysphagia, false}},
}

var waxyMaize = Agent{
	ID: "waxy-maize", E: "", Job: Thickens,
	Origin: []Word{"maize"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLabelLaw,
	Disperse: Disperse{"slurry", Fig{}, cMem},
	Hydrate:  Hydrate{C: Fig{72, 90, 98, cMem}, Minutes: Fig{1, 1, 2, cMem}, CapPct: Fig{8, 10, 12, cMem}},
	Feel:     Feel{Words: []Word{"cohesive", "glossy"}, Clarity: "clear", Weeps: Little, Freeze: Some, FluidGel: None, Cite: cMem},
	Stands: Stands{PH: Span{4, 8, cMcGee},
		Acid:    HotAcid{3.5, Fig{5, 10, 20, cPrac}, Fig{0.2, 0.35, 0.6, cLikeD}, Fig{2, 3, 4, cAgarAcidD}},
		ABVWarn: Fig{15, 15, 15, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{0, 50, cPrac},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Fails, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{2.5, 4, 6, cPrac}, false},
		{Foam, Water, Fig{1.5, 2.5, 4, cPrac}, false},
	},
	Safety: []Warning{{"not-dysphagia", cDysphagia, false}},
}

var acidStable = Agent{
	ID: "waxy-stable", E: "E 1442", Job: Thickens,
	Origin: []Word{"maize"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Identity: cLaw,
	Disperse: Disperse{"slurry", Fig{}, cMem},
	Hydrate:  Hydrate{C: Fig{75, 90, 98, cMem}, Minutes: Fig{2, 5, 10, cMem}, CapPct: Fig{8, 10, 12, cMem}},
	Feel:     Feel{Words: []Word{"short", "glossy"}, Clarity: "clear", Weeps: Little, Freeze: Much, FluidGel: None, Cite: cMem},
	Stands: Stands{PH: Span{3, 8, cMem}, ABVWarn: Fig{15, 15, 15, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{0, 60, cPrac},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Weakens, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{2.5, 4, 6, cLikeD}, false},
		{Foam, Water, Fig{1.5, 2.5, 4, cLikeD}, false},
	},
	Safety: []Warning{{"not-dysphagia", cDysphagia, false}},
}

var pregel = Agent{
	ID: "pregel", E: "", Job: Thickens,
	Origin: []Word{"maize", "potato", "cassava"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, MayHold: []Word{"gluten"}, Identity: cLabelLaw,
	Disperse: Disperse{"sugar", Fig{3, 5, 8, cMem}, cMem},
	Hydrate:  Hydrate{C: Fig{5, 20, 60, cMem}, Minutes: Fig{5, 10, 20, cMem}, Cold: true, CapPct: Fig{8, 10, 12, cMem}},
	Setting:  Setting{Kind: ByStaling, HoldC: Fig{30, 40, 60, cLikeD}, Cite: cMem},
	Feel:     Feel{Words: []Word{"pasty", "thick"}, Clarity: "varies", Weeps: Little, Freeze: Little, FluidGel: None, Cite: cMem},
	Stands: Stands{PH: Span{4, 8, cMem}, ABVWarn: Fig{15, 15, 15, cMem}, ABVMax: Fig{30, 30, 30, cMem}, Brix: Span{0, 50, cPrac},
		Protease: Immune, Tannin: Immune, Fat: Immune, Amylase: Fails, Cite: cMem},
	Windows: []Window{
		{Thickened, Water, Fig{2, 4, 6, cPrac}, false},
		{Foam, Water, Fig{2, 3, 5, cPrac}, false},
		{SoftSet, Water, Fig{5, 7, 9, cPrac}, false},
	},
	Safety: []Warning{{"not-dysphagia", cDysphagia, false}},
}
