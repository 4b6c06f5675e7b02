package liquid

// catalogueWaters are the waters. Grams per 100 g; minerals in milligrams.
var catalogueWaters = [...]Ingredient{
	{
		ID: "water", Class: Waters, Aliases: "water;pure water;distilled water;osmosi water;demineralised water",
		Spread: Pure,
		Per100: Composition{Water: 100},
		PH:     PH{5.5, 7, 7.5}, SIDKnown: true,
		composition: srcChemistry, phFrom: srcMemory,
	},
	{
		ID: "tap-water-soft", Class: Waters, Aliases: "tap water soft;soft tap water;soft water",
		Spread: Natural,
		Per100: Composition{Water: 99.95, Carbonic: 0.0053, Ash: 0.03, Sodium: 0.8 * mg, Calcium: 1.5 * mg,
			Magnesium: 0.3 * mg},
		PH: PH{6.5, 7.5, 8.5}, SIDKnown: true, SID: 0.08,
		composition: srcPractice, phFrom: srcMemory,
	},
	{
		ID: "tap-water-medium", Class: Waters, Aliases: "tap water medium;tap water;water from the tap",
		Spread: Natural,
		Per100: Composition{Water: 99.95, Carbonic: 0.0173, Ash: 0.03, Sodium: 1.2 * mg, Calcium: 5 * mg,
			Magnesium: 0.8 * mg},
		PH: PH{6.5, 7.5, 8.5}, SIDKnown: true, SID: 0.26,
		composition: srcPractice, phFrom: srcMemory,
	},
	{
		ID: "tap-water-hard", Class: Waters, Aliases: "tap water hard;hard tap water;hard water",
		Spread: Natural,
		Per100: Composition{Water: 99.95, Carbonic: 0.0265, Ash: 0.03, Sodium: 1.5 * mg, Calcium: 8 * mg,
			Magnesium: 1.5 * mg},
		PH: PH{6.5, 7.5, 8.5}, SIDKnown: true, SID: 0.4,
		composition: srcPractice, phFrom: srcMemory,
	},
	{
		ID: "tap-water-very-hard", Class: Waters, Aliases: "tap water very hard;very hard water",
		Spread: Natural,
		Per100: Composition{Water: 99.95, Carbonic: 0.0431, Ash: 0.03, Sodium: 2 * mg, Calcium: 12 * mg,
			Magnesium: 2.5 * mg},
		PH: PH{6.5, 7.5, 8.5}, SIDKnown: true, SID: 0.65,
		composition: srcPractice, phFrom: srcMemory,
	},
	{
		ID: "bottled-water", Class: Waters, Aliases: "bottled water;mineral water;still water;spring water",
		Record: "14555", Spread: Natural,
		Per100: Composition{Water: 99.98, Carbonic: 0.04, Ash: 0.07, Sodium: 2 * mg, Calcium: 10 * mg, Magnesium: 2 * mg},
		PH:     PH{6.5, 7.4, 8.5}, SIDKnown: true, SID: 0.6,
		composition: srcSR28, phFrom: srcMemory,
	},
	{
		ID: "sparkling-water", Class: Waters, Aliases: "sparkling water;soda water;carbonated water",
		Spread: Natural,
		Per100: Composition{Water: 99.3, Carbonic: 0.62, Ash: 0.05, Sodium: 3 * mg, Calcium: 8 * mg, Magnesium: 2 * mg},
		PH:     PH{4, 4.9, 5.8}, SIDKnown: true, SID: 0.4,
		composition: srcPractice, phFrom: srcMemory,
	},
}
