package agent

// SheetGrade is one trade grade of leaf gelatin. One sheet of any grade sets
// about the same liquid; larger sheets are sold, so a kitchen must weigh its own.
type SheetGrade struct {
	Key   Word // "sheet.<key>"
	Bloom Fig
	Grams Fig // mass of the usual sheet
}

// SheetGrades is the grades from weak to strong.
var SheetGrades = [...]SheetGrade{
	{"titanium", Fig{100, 110, 120, cSheets}, Fig{5, 5, 5, cMem}},
	{"bronze", Fig{125, 140, 155, cSheets}, Fig{3.3, 3.3, 3.3, cSheets}},
	{"silver", Fig{160, 160, 170, cSheets}, Fig{2.5, 2.5, 2.5, cSheets}},
	{"gold", Fig{190, 200, 220, cSheets}, Fig{2, 2, 2, cSheets}},
	{"platinum", Fig{235, 250, 265, cSheets}, Fig{1.7, 1.7, 1.7, cSheets}},
}

// SheetByKey returns the sheet grade of that key.
func SheetByKey(key Word) (SheetGrade, bool) {
	for _, s := range SheetGrades {
		if s.Key == key {
			return s, true
		}
	}
	return SheetGrade{}, false
}
