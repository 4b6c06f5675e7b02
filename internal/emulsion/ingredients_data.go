package emulsion

import "tremblant/internal/unit"

// perYolk is how much oil a yolk is asked to carry in the kitchen, per gram of
// yolk: 100, 175 and 250 g a yolk of 17 g. It is a window of practice. Far more
// was held in trials (over 2.8 l a yolk, McGee 2004).
var perYolk = unit.Range{Low: 100.0 / 17, Typical: 175.0 / 17, High: 250.0 / 17}

// butterCarries is P: butter's own emulsifiers carry two to three times its fat.
var butterCarries = unit.Range{Low: 2 * 0.8111, Typical: 2.5 * 0.8111, High: 3 * 0.8111}

// perLecithin is the oil that a gram of lecithin powder usually carries, in grams
// (common practice).
const perLecithin = 60

// Ingredients is the catalogue. Compositions are per gram. A capacity with the
// practice tag is a rule of thumb for the kitchen, not a measurement.
var Ingredients = []Ingredient{
	{Kind: "yolk", Composition: Composition{Water: 0.5231, Fat: 0.2654, Salt: 0.0012}, Source: usda("01125"),
		Yolk: 1, Allergen: "allergen.egg", Capacity: perYolk, CapacityOf: practice, Active: 4.4 / 17},
	{Kind: "whole-egg", Composition: Composition{Water: 0.7615, Fat: 0.0951, Salt: 0.0036}, Source: usda("01123"),
		Yolk: 17.0 / 50, White: 33.0 / 50, Allergen: "allergen.egg", Capacity: perYolk.Scale(17.0 / 50), CapacityOf: practice, Active: 0.15},
	{Kind: "egg-white", Composition: Composition{Water: 0.8757, Fat: 0.0017, Salt: 0.0042}, Source: usda("01124"),
		White: 1, Allergen: "allergen.egg", Capacity: unit.Range{Low: 1, Typical: 2, High: 4}, CapacityOf: practice, Active: 0.10},
	{Kind: "mustard", Composition: Composition{Water: 0.8372, Fat: 0.0334, Salt: 0.0281}, Source: usda("02046"),
		Allergen: "allergen.mustard", Capacity: unit.Range{Low: 1, Typical: 2, High: 4}, CapacityOf: practice},
	{Kind: "lecithin", Composition: Composition{Water: 0.01}, Source: memory("de-oiled lecithin powder, makers' sheets"),
		Allergen: "allergen.soya", Capacity: unit.Range{Low: 30, Typical: perLecithin, High: 100}, CapacityOf: practice, Active: 0.95},
	{Kind: "bean-liquid", Composition: Composition{Water: 0.95, Salt: 0.002}, Source: memory("cooking liquid of chickpeas, about 1 % protein"),
		Capacity: unit.Range{Low: 2, Typical: 3.5, High: 5}, CapacityOf: practice, Active: 0.01},
	{Kind: "milk-protein", Composition: Composition{Water: 0.05, Fat: 0.01}, Source: memory("caseinate and whey protein powders, makers' sheets"),
		Allergen: "allergen.milk", Capacity: unit.Range{Low: 15, Typical: 30, High: 60}, CapacityOf: practice, Active: 0.88},
	{Kind: "milk", Composition: Composition{Water: 0.8813, Fat: 0.0327, Salt: 0.0011}, Source: usda("01211"), Droplets: true,
		Allergen: "allergen.milk", Capacity: unit.Range{Low: 1, Typical: 2, High: 3}, CapacityOf: practice, Active: 0.03},
	{Kind: "cream", Composition: Composition{Water: 0.5781, Fat: 0.3608, Salt: 0.0007}, Source: usda("01053"), Droplets: true,
		Allergen: "allergen.milk", Capacity: unit.Range{Low: 0.7, Typical: 1.0, High: 1.5}, CapacityOf: practice, Active: 0.028},
	{Kind: "butter", Composition: Composition{Water: 0.1794, Fat: 0.8111, Salt: 0.0003}, Source: usda("01145"), Droplets: true,
		Allergen: "allergen.milk", Capacity: butterCarries, CapacityOf: mcGee},
	{Kind: "almond-paste", Composition: Composition{Water: 0.0164, Fat: 0.555}, Source: usda("12195"), Droplets: true, Vegetable: true,
		Allergen: "allergen.nuts", Capacity: unit.Range{Low: 0.6, Typical: 0.9, High: 1.5}, CapacityOf: practice, Active: 0.2},
	{Kind: "sesame-paste", Composition: Composition{Water: 0.0305, Fat: 0.5376, Salt: 0.0029}, Source: usda("12166"), Droplets: true, Vegetable: true,
		Allergen: "allergen.sesame", Capacity: unit.Range{Low: 0.6, Typical: 0.9, High: 1.5}, CapacityOf: practice, Active: 0.16},
	{Kind: "neutral-oil", Composition: Composition{Fat: 1, Density: 0.92}, Source: usda("04582"), Droplets: true, Vegetable: true},
	{Kind: "olive-oil", Composition: Composition{Fat: 1, Density: 0.913}, Source: usda("04053"), Droplets: true, Vegetable: true},
	{Kind: "clarified-butter", Composition: Composition{Water: 0.0024, Fat: 0.9948, Density: 0.90}, Source: usda("01003"), Droplets: true, Allergen: "allergen.milk"},
	{Kind: "vinegar", Composition: Composition{Water: 0.94, Acetic: 0.05, Density: 1.01}, Source: usda("02048")},
	{Kind: "lemon-juice", Composition: Composition{Water: 0.9231, Fat: 0.0024, Citric: 0.0466, Density: 1.03}, Source: published("Penniston et al. 2008: lemon juice 48.0 g/l citric acid")},
	{Kind: "lime-juice", Composition: Composition{Water: 0.9079, Fat: 0.0007, Citric: 0.0441, Density: 1.04}, Source: published("Penniston et al. 2008: lime juice 45.9 g/l citric acid")},
	{Kind: "salt", Composition: Composition{Salt: 1, Density: 2.16}, Source: memory("sodium chloride, solid density 2.16 g/ml")},
	{Kind: "water", Composition: Composition{Water: 1, Density: 1}, Source: memory("water")},
	{Kind: "xanthan", Composition: Composition{Water: 0.1}, Source: memory("xanthan powder, makers' sheets"), Xanthan: 1},
}
