package plantest

import (
	"tremblant/internal/plan/method"
	"tremblant/internal/unit"
)

// Sheets are the six inputs of the expected sheets in plan-sheets.csv and
// plan-sheet-weights.csv.
var Sheets = map[string]method.Input{
	"agar-gellan fluid gel": {
		Doses: []method.Dose{{Process: Agar, Mass: 3.5}, {Process: Gellan, Mass: 0.6}},
		Liquid: method.Liquid{PH: unit.Range{Low: 3.1, Typical: 3.3, High: 3.5}, Calcium: 2.5, Parts: []method.Part{
			{ID: "water", Mass: 250, Temp: 15}, {ID: "quince-juice", Mass: 250, Role: method.Acid, Temp: 5},
			{ID: "sugar", Mass: 40, Role: method.Sugar, Temp: 20}, {ID: "citrate", Mass: 0.3, Role: method.Sequestrant, Temp: 20}}},
		Target: method.FluidGel, Bottled: true},
	"leaf gelatin set cream": {
		Doses: []method.Dose{{Process: Gelatin, Mass: 5, Sheets: true}},
		Liquid: method.Liquid{Dairy: true, Calcium: 24, Parts: []method.Part{
			{ID: "cream", Mass: 300, Temp: 5}, {ID: "milk", Mass: 200, Temp: 5}, {ID: "sugar", Mass: 50, Role: method.Sugar, Temp: 20}}},
		Target: method.SetGel},
	"iota in milk": {
		Doses: []method.Dose{{Process: Iota, Mass: 1}},
		Liquid: method.Liquid{Dairy: true, Calcium: 28, Parts: []method.Part{
			{ID: "milk", Mass: 500, Temp: 5}, {ID: "sugar", Mass: 40, Role: method.Sugar, Temp: 20}}},
		Target: method.SetGel},
	"lm pectin with calcium": {
		Doses: []method.Dose{{Process: Pectin, Mass: 4}, {Process: Lactate, Mass: 0.8}},
		Liquid: method.Liquid{PH: unit.Range{Low: 3.4, Typical: 3.6, High: 3.8}, Parts: []method.Part{
			{ID: "plum-puree", Mass: 400, Temp: 15}, {ID: "sugar", Mass: 200, Role: method.Sugar, Temp: 20}}},
		Target: method.SetGel},
	"alginate bath": {
		Doses:  []method.Dose{{Process: Alginate, Mass: 5}},
		Liquid: method.Liquid{Calcium: 0.1, Parts: []method.Part{{ID: "soft-water", Mass: 1000, Temp: 15}}},
		Target: method.Bath},
	"siphon foam": {
		Doses: []method.Dose{{Process: Gelatin, Mass: 3.2}},
		Liquid: method.Liquid{PH: unit.Range{Low: 4.0, Typical: 4.2, High: 4.4}, PHMeasured: true, Parts: []method.Part{
			{ID: "water", Mass: 100, Temp: 15}, {ID: "cucumber-juice", Mass: 300, Role: method.Delicate, Temp: 5}}},
		Target: method.SiphonCold, Siphon: method.Siphon{Charges: []int{1}}},
}
