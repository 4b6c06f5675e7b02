package foam

import (
	"slices"

	"tremblant/internal/unit"
)

const hour, minute = 3600.0, 60.0

// parts makes a range of parts of one from per cent.
func parts(low, typical, high float64) unit.Range {
	return unit.Range{Low: low / 100, Typical: typical / 100, High: high / 100}
}

func spanOf(low, typical, high, seconds float64) unit.Range {
	return unit.Range{Low: low, Typical: typical, High: high}.Scale(seconds)
}

// Types lists the kinds of foam. Doses are parts of the liquid's mass. Almost
// every expansion is kitchen lore (common practice): the cook's own cup test
// replaces it.
func Types() []Type { return slices.Clone(types) }

// types is built once and never changed.
var types = allTypes()

func allTypes() []Type {
	cold := unit.Range{Low: 3, Typical: 5, High: 8}
	help := func(id string, low, typical, high float64) Window {
		return Window{ID: id, Amount: parts(low, typical, high), Help: true, Source: srcCatalogue}
	}
	return []Type{
		{
			ID: "gelatin", Siphon: true, Class: Lean, Temp: cold, Top: 25, Source: srcPractice, HotInstead: "fluid-gel",
			Overrun: parts(150, 250, 400), OverrunSource: srcPractice,
			Rest: spanOf(2, 4, 12, hour), RestSource: srcSiphonPage,
			Doses:       []Window{{ID: "gelatin", Amount: parts(0.5, 0.8, 1.5), Source: srcSiphonPage}, help("xanthan", 0.05, 0.1, 0.2)},
			AlcoholWeak: 0.10, AlcoholTop: 0.20,
		},
		{
			ID: "stabiliser", Siphon: true, Class: Lean, Temp: unit.Range{Low: 3, Typical: 5, High: 65}, Top: 70, Source: srcPractice,
			Overrun: parts(150, 250, 400), OverrunSource: srcPractice,
			Rest: spanOf(0.5, 0.5, 2, hour), RestSource: srcPractice,
			Doses:       []Window{{ID: "foam-stab", Amount: parts(5, 7.5, 10), Source: srcPractice}, help("xanthan", 0.05, 0.1, 0.2)},
			AlcoholWeak: 0.15, AlcoholTop: 0.20, PH: unit.Range{Low: 3, Typical: 5, High: 8},
		},
		{
			ID: "cream", Siphon: true, Class: Rich, Temp: cold, Top: 12, Source: srcCrystal, HotInstead: "starch",
			Overrun: parts(150, 250, 350), OverrunSource: srcPractice,
			Rest: spanOf(0.5, 1, 2, hour), RestSource: srcPractice,
			Shares:      []Window{{ID: ShareFat, Amount: parts(24, 30, 36), Source: srcPenfield}},
			Doses:       []Window{help("gelatin", 0.4, 0.5, 0.6), help("xanthan", 0.05, 0.1, 0.2), help("carr-iota", 0.05, 0.1, 0.2), help("foam-stab", 2, 4, 7.5)},
			AlcoholWeak: 0.10, AlcoholTop: 0.20,
		},
		{
			ID: "cream-whisked", Siphon: false, Class: Rich, Temp: cold, Top: 12, Source: srcCrystal,
			Overrun: parts(100, 150, 220), OverrunSource: srcShim,
			Rest: spanOf(0, 0, 0.5, hour), RestSource: srcPractice,
			Shares: []Window{{ID: ShareFat, Amount: parts(28, 33, 40), Source: srcPenfield}},
		},
		{
			ID: "egg-white", Siphon: true, Class: Lean, Temp: unit.Range{Low: 3, Typical: 5, High: 60}, Top: eggSets, Source: srcEggSet,
			Overrun: parts(200, 300, 500), OverrunSource: srcPractice,
			Rest: spanOf(0.5, 1, 2, hour), RestSource: srcPractice,
			Doses:  []Window{{ID: "eggwhite", Amount: parts(1, 3, 6), Source: srcCatalogue}, help("xanthan", 0.05, 0.1, 0.2), help("gelatin", 0.3, 0.5, 0.8)},
			Shares: []Window{{ID: ShareEggWhite, Amount: parts(15, 25, 40), Source: srcPractice}}, OneOf: true,
			FatKills: 0.01, AlcoholWeak: 0.15, AlcoholTop: 0.20, PH: unit.Range{Low: 3, Typical: 6, High: 9},
		},
		{
			ID: "egg-hot", Siphon: true, Class: ServedHot, Temp: unit.Range{Low: 57, Typical: 60, High: 62}, Top: eggSets, Source: srcEggSet,
			Overrun: parts(50, 100, 150), OverrunSource: srcPractice,
			Rest: spanOf(15, 15, 30, minute), RestSource: srcPractice,
			Shares:      []Window{{ID: ShareEgg, Amount: parts(12, 20, 30), Source: srcPractice}},
			Doses:       []Window{help("xanthan", 0.05, 0.1, 0.2), help("corn-starch", 0.5, 1, 2)},
			AlcoholWeak: 0.10, AlcoholTop: 0.20,
		},
		{
			ID: "starch", Siphon: true, Class: ServedHot, Temp: unit.Range{Low: 60, Typical: 65, High: 70}, Top: 70, Source: srcSiphonPage,
			Overrun: parts(50, 100, 150), OverrunSource: srcPractice,
			Rest: spanOf(15, 15, 30, minute), RestSource: srcPractice, OneOf: true,
			Doses: []Window{
				{ID: "corn-starch", Amount: parts(1, 2, 3), Source: srcCatalogue}, {ID: "tapioca-starch", Amount: parts(1, 2, 3), Source: srcCatalogue},
				{ID: "waxy-maize", Amount: parts(1.5, 2.5, 4), Source: srcCatalogue}, {ID: "pregel", Amount: parts(2, 3, 5), Source: srcCatalogue}, help("xanthan", 0.05, 0.1, 0.2),
			},
			AlcoholWeak: 0.10, AlcoholTop: 0.20,
		},
		{
			ID: "potato", Siphon: true, Class: ServedHot, Temp: unit.Range{Low: 60, Typical: 65, High: 70}, Top: 70, Source: srcSiphonPage,
			Overrun: parts(50, 100, 150), OverrunSource: srcPractice,
			Rest: spanOf(15, 15, 30, minute), RestSource: srcPractice,
			Shares:      []Window{{ID: SharePuree, Amount: parts(50, 60, 70), Source: srcPractice}},
			Doses:       []Window{help("xanthan", 0.05, 0.1, 0.2)},
			AlcoholWeak: 0.10, AlcoholTop: 0.20,
		},
		{
			ID: "fluid-gel", Siphon: true, Class: ServedHot, Temp: unit.Range{Low: 3, Typical: 60, High: 65}, Top: 70, Source: srcPractice,
			Overrun: parts(80, 150, 250), OverrunSource: srcPractice,
			Rest: spanOf(15, 30, 60, minute), RestSource: srcPractice, OneOf: true,
			Doses:       []Window{{ID: "agar", Amount: parts(0.4, 0.6, 0.9), Source: srcCatalogue}, {ID: "gellan-la", Amount: parts(0.15, 0.25, 0.4), Source: srcCatalogue}, help("xanthan", 0.05, 0.1, 0.15)},
			AlcoholWeak: 0.10, AlcoholTop: 0.20,
		},
		{
			ID: "methylcellulose", Siphon: true, Class: ServedHot, Temp: unit.Range{Low: 55, Typical: 62, High: 70}, Top: 70, Source: srcCatalogue,
			Overrun: parts(50, 100, 150), OverrunSource: srcPractice,
			Rest: spanOf(15, 15, 30, minute), RestSource: srcPractice, OneOf: true,
			Doses:       []Window{{ID: "mc", Amount: parts(0.5, 1.0, 1.5), Source: srcCatalogue}, {ID: "hpmc", Amount: parts(1.0, 1.5, 2.0), Source: srcCatalogue}, help("xanthan", 0.1, 0.12, 0.3)},
			AlcoholWeak: 0.10, AlcoholTop: 0.20, PH: unit.Range{Low: 3, Typical: 6, High: 11},
		},
		{
			ID: "protein", Siphon: true, Class: Lean, Temp: cold, Top: 60, Source: srcPractice,
			Overrun: parts(150, 250, 350), OverrunSource: srcPractice,
			Rest: spanOf(0.5, 1, 2, hour), RestSource: srcPractice,
			Doses:    []Window{{ID: "milkprotein", Amount: parts(1.5, 2.5, 4), Source: srcCatalogue}, help("xanthan", 0.05, 0.1, 0.3)},
			FatKills: 0.02, AlcoholWeak: 0.15, AlcoholTop: 0.20, PH: unit.Range{Low: 3, Typical: 5, High: 9},
		},
		{
			ID: "oil-gelatin", Siphon: true, Class: Rich, Temp: cold, Top: 25, Source: srcPractice,
			Overrun: parts(100, 180, 300), OverrunSource: srcPractice,
			Rest: spanOf(2, 4, 12, hour), RestSource: srcSiphonPage,
			Shares:      []Window{{ID: ShareOil, Amount: parts(15, 25, 40), Source: srcPractice}},
			Doses:       []Window{{ID: "gelatin", Amount: parts(0.8, 1.0, 1.2), Source: srcPractice}, help("lecithin", 0.1, 0.2, 0.3), help("xanthan", 0.05, 0.1, 0.2)},
			AlcoholWeak: 0.10, AlcoholTop: 0.20,
		},
		{
			ID: "lecithin-air", Siphon: false, Class: Lean, Temp: unit.Range{Low: 5, Typical: 20, High: 60}, Top: 65, Source: srcLecithin,
			Overrun: parts(1000, 1500, 2500), OverrunSource: srcPractice,
			Rest: spanOf(0, 1, 2, minute), RestSource: srcPractice, OneOf: true,
			Doses:    []Window{{ID: "lecithin", Amount: parts(0.3, 0.6, 1.0), Source: srcLecithin}, {ID: "sucrose-esters", Amount: parts(0.3, 0.6, 1.0), Source: srcCatalogue}, help("xanthan", 0.05, 0.05, 0.1)},
			FatKills: 0.01, AlcoholWeak: 0.20, AlcoholTop: 0.40, PH: unit.Range{Low: 3, Typical: 6, High: 9},
		},
	}
}
