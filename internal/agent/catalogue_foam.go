package agent

// What holds air.

var lecithin = Agent{
	ID: "lecithin", E: "E 322", Job: Foams,
	Origin: []Word{"soy"}, Vegan: Yes, Vegetarian: Yes, PorkFree: Yes, Allergens: []Word{"soy"}, Identity: cLabelLaw,
	Disperse: Disperse{"blend", Fig{}, cEasy},
	Hydrate:  Hydrate{C: Fig{5, 20, 50, cEasy}, Minutes: Fig{1, 2, 5, cMem}, Cold: true},
	Feel:     Feel{Words: []Word{"airy", "dry"}, Clarity: "hazy", Weeps: Much, Freeze: Little, FluidGel: None, Cite: cTrade},
	// Airs of thinned lime juice, pH 2.3, are made (a cooking site: 1.5 g in 500).
	Stands: Stands{PH: Span{2, 9, cMem}, ABVWarn: Fig{20, 20, 20, cMem}, ABVMax: Fig{40, 40, 40, cMem}, Brix: Span{0, 50, cPrac},
		Protease: Immune, Tannin: Immune, Fat: Fails, Amylase: Immune, Cite: cMem},
	Windows: []Window{{Air, Water, Fig{0.25, 0.6, 1.0, cEasy}, false}},
}

var sucroseEsters = Agent{
	ID: "sucrose-esters", E: "E 473", Job: Foams,
	Origin: []Word{"sugar", "fat"}, Vegan: Ask, Vegetarian: Ask, PorkFree: Ask, Identity: cLaw,
	Disperse: Disperse{"stir", Fig{}, cMem},
	Hydrate:  Hydrate{C: Fig{60, 65, 75, cMem}, Minutes: Fig{2, 5, 10, cMem}},
	Feel:     Feel{Words: []Word{"airy", "fine"}, Clarity: "hazy", Weeps: Some, Freeze: Little, FluidGel: None, Cite: cMem},
	Stands: Stands{PH: Span{4, 9, cMem}, ABVWarn: Fig{20, 20, 20, cMem}, ABVMax: Fig{40, 40, 40, cMem}, Brix: Span{0, 60, cPrac},
		Protease: Immune, Tannin: Immune, Fat: Weakens, Amylase: Immune, Cite: cMem},
	Windows: []Window{{Air, Water, Fig{0.3, 0.6, 1.0, cPrac}, false}},
	Safety:  []Warning{{"esters-limit", cLaw, false}},
}

var eggWhite = Agent{
	ID: "eggwhite", E: "", Job: Foams,
	Origin: []Word{"egg"}, Vegan: No, Vegetarian: Yes, PorkFree: Yes, Allergens: []Word{"egg"}, Identity: cLabelLaw,
	Disperse: Disperse{"whisk", Fig{}, cMem},
	Hydrate:  Hydrate{C: Fig{5, 20, 40, cMem}, Minutes: Fig{20, 30, 60, cMem}, Cold: true},
	Setting:  Setting{Kind: HeatForGood, SetC: Fig{61, 70, 80, cMem}, HoldC: Fig{95, 98, 100, cMem}, Minutes: Fig{10, 20, 40, cMem}, Remelts: No, Cite: cMem},
	Feel: Feel{Words: []Word{"airy", "fine", "firm"}, Clarity: "opaque", Weeps: Some, Freeze: Little, FluidGel: None,
		Break: Fig{0.4, 0.6, 0.8, cLikeD}, Cite: cFoamEgg},
	Stands: Stands{PH: Span{3, 9, cMem}, ABVWarn: Fig{15, 15, 15, cMem}, ABVMax: Fig{25, 25, 25, cMem}, Brix: Span{0, 60, cPrac},
		Protease: Weakens, Tannin: Weakens, Fat: Fails, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Foam, Water, Fig{1, 3, 6, cPrac}, false},
		{SoftSet, Water, Fig{6, 7, 8, cPrac}, false},
		{FirmSet, Water, Fig{8, 9, 10, cPrac}, false},
		{Sliceable, Water, Fig{10, 11, 13, cPrac}, false},
	},
	Models: []Model{{Water, 11, Fig{3000, 10000, 20000, cMem}, Fig{2, 3, 4, cMem}, Fig{4, 5, 7, cMem}, Span{7.5, 13, cPrac}, 20}},
	Mods:   []Modifier{{By: ByPH, Cite: cMem, Points: []Point{{3, 0.3, 0.6, 1}, {5, 0.6, 0.9, 1.2}, {7, 0.9, 1, 1.1}, {9, 0.7, 1, 1.3}}}},
	Safety: []Warning{{"egg", cLabelLaw, false}},
}

var milkProtein = Agent{
	ID: "milkprotein", E: "", Job: Foams,
	Origin: []Word{"milk"}, Vegan: No, Vegetarian: Yes, PorkFree: Yes, Allergens: []Word{"milk"}, Identity: cLabelLaw,
	Disperse: Disperse{"rain-cold", Fig{}, cMem},
	Hydrate:  Hydrate{C: Fig{40, 45, 50, cMem}, Minutes: Fig{30, 45, 60, cMem}, Cold: true, CapPct: Fig{8, 10, 15, cMem}},
	Feel:     Feel{Words: []Word{"airy", "soft"}, Clarity: "cloudy", Weeps: Some, Freeze: Little, FluidGel: None, Cite: cMem},
	Stands: Stands{PH: Span{5.5, 9, cMem}, ABVWarn: Fig{15, 15, 15, cMem}, ABVMax: Fig{25, 25, 25, cMem}, Brix: Span{0, 60, cPrac},
		Protease: Weakens, Tannin: Weakens, Fat: Weakens, Amylase: Immune, Cite: cMem},
	Windows: []Window{{Foam, Water, Fig{0.5, 2, 4, cPrac}, false}},
}

var whey = Agent{
	ID: "whey", E: "", Job: Foams,
	Origin: []Word{"milk"}, Vegan: No, Vegetarian: Yes, PorkFree: Yes, Allergens: []Word{"milk"}, Identity: cLabelLaw,
	Disperse: Disperse{"rain-cold", Fig{}, cMem},
	Hydrate:  Hydrate{C: Fig{5, 20, 50, cMem}, Minutes: Fig{30, 45, 60, cMem}, Cold: true, CapPct: Fig{10, 15, 20, cMem}},
	Setting:  Setting{Kind: HeatForGood, SetC: Fig{70, 75, 85, cMem}, HoldC: Fig{95, 98, 100, cMem}, Minutes: Fig{10, 20, 40, cMem}, Remelts: No, Cite: cMem},
	Feel: Feel{Words: []Word{"airy", "coarse", "firm"}, Clarity: "cloudy", Weeps: Some, Freeze: Little, FluidGel: None,
		Break: Fig{0.3, 0.5, 0.8, cLikeD}, Cite: cFoamEgg},
	Stands: Stands{PH: Span{3, 9, cMem}, ABVWarn: Fig{15, 15, 15, cMem}, ABVMax: Fig{25, 25, 25, cMem}, Brix: Span{0, 60, cPrac},
		Protease: Weakens, Tannin: Weakens, Fat: Fails, Amylase: Immune, Cite: cMem},
	Windows: []Window{
		{Foam, Water, Fig{2, 5, 10, cPrac}, false},
		{SoftSet, Water, Fig{8, 9, 10, cPrac}, false},
		{FirmSet, Water, Fig{10, 11, 12, cPrac}, false},
		{Sliceable, Water, Fig{12, 13, 15, cPrac}, false},
	},
	Models: []Model{{Water, 12, Fig{1000, 5000, 20000, cMem}, Fig{3, 4, 6, cMem}, Fig{5, 8, 10, cMem}, Span{10.5, 15, cPrac}, 20}},
	Mods:   []Modifier{{By: ByPH, Cite: cMem, Points: []Point{{3, 0.3, 0.8, 1.5}, {7, 0.9, 1, 1.1}, {9, 0.5, 0.9, 1.2}}}},
}

var foamStab = Agent{
	ID: "foam-stab", E: "", Job: Foams,
	Origin: []Word{"blend"}, Vegan: Ask, Vegetarian: Ask, PorkFree: Ask, MayHold: []Word{"milk", "egg", "soy"}, Identity: cPrac,
	Disperse: Disperse{"whisk", Fig{}, cPrac},
	Hydrate:  Hydrate{C: Fig{2, 10, 25, cPrac}, Minutes: Fig{5, 10, 15, cPrac}, Cold: true},
	Setting:  Setting{Kind: NoSet, HoldC: Fig{60, 65, 70, cPrac}, Cite: cPrac},
	Feel:     Feel{Words: []Word{"airy", "fine", "soft"}, Clarity: "opaque", Weeps: Little, Freeze: Some, FluidGel: None, Cite: cPrac},
	Stands: Stands{PH: Span{3, 8, cPrac}, ABVWarn: Fig{15, 15, 15, cPrac}, ABVMax: Fig{25, 25, 25, cPrac}, Brix: Span{0, 60, cPrac},
		Protease: Weakens, Tannin: Weakens, Fat: Weakens, Amylase: Immune, Cite: cPrac},
	Windows: []Window{{Foam, Water, Fig{5, 7.5, 10, cPrac}, false}},
	Safety:  []Warning{{"read-label", cPrac, false}},
}
