package safety

import (
	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// Facts is what is known of a dish and its guests.
type Facts struct {
	RawEgg         bool // egg that is not heated through
	EggPasteurised bool // and pasteurised
	Frail          bool // young children, pregnant, old or ill guests
	OilInfusion    bool // garlic, herbs, mushrooms or other low-acid food in oil
	OilUnknown     bool // something in much oil of which nothing is known
	LowOxygen      bool // kept in a siphon, under oil or in vacuum
	PH             float64
	PHMeasured     bool
	Flowers        bool // flowers, wild leaves
	FirmGel        bool // sliceable, unmoulds
	OneBite        bool // in pieces or cups that go into the mouth whole
	Konjac         bool
	Sweet          bool // a confection
	SoftDiet       bool // meant for somebody who swallows badly
	Siphon         bool
	CalciumSalt    bool // calcium chloride is handled
	KidneyBeans    bool // beans cooked here, not from a tin
	HotLiquid      bool // liquid above 60 °C is blended or charged
	Laxative       bool // agar, konjac or methylcellulose in quantity
}

// fact is one row: when it holds, what is said, how loudly.
type fact struct {
	holds  func(Facts) bool
	level  note.Level
	code   note.Code
	source source.Ref
	args   []note.Arg
}

// factTable is in the order in which the notes are given.
var factTable = [...]fact{
	{func(f Facts) bool { return f.OneBite && f.FirmGel }, note.Danger, CodeMiniCup, miniCup, nil},
	{func(f Facts) bool { return f.FirmGel && !f.OneBite }, note.Caution, CodeFirmGel, miniCup, nil},
	{func(f Facts) bool { return f.Konjac }, note.Danger, CodeKonjacDry, konjac, nil},
	{func(f Facts) bool { return f.Konjac && f.Sweet && f.FirmGel }, note.Danger, CodeKonjacSweet, konjac, nil},
	{func(f Facts) bool { return f.SoftDiet }, note.Danger, CodeDysphagia, iddsi, nil},
	{func(f Facts) bool { return f.RawEgg && !f.EggPasteurised && f.Frail }, note.Danger, CodeEggFrail, fdaEgg, nil},
	{func(f Facts) bool { return f.RawEgg && !f.EggPasteurised && !f.Frail }, note.Danger, CodeRawEgg, ukEgg,
		[]note.Arg{note.Num("temp", 63, unit.DegreeC), note.Num("seconds", 15, unit.Second), note.Num("pooled", 68, unit.DegreeC)}},
	{func(f Facts) bool { return f.OilInfusion }, note.Danger, CodeOil, garlic, []note.Arg{note.Num("days", 2, unit.One), note.Num("acid", 3, unit.PercentOf)}},
	{func(f Facts) bool { return f.OilUnknown && !f.OilInfusion }, note.Caution, CodeOilAsk, garlic, nil},
	{func(f Facts) bool { return f.LowOxygen && !f.OilInfusion }, note.Caution, CodeLowOxygen, botulin, []note.Arg{note.Num("temp", 3, unit.DegreeC), note.Num("days", 10, unit.One)}},
	{func(f Facts) bool { return f.KidneyBeans }, note.Danger, CodeBeans, beans, []note.Arg{note.Num("minutes", 30, unit.Minute)}},
	{func(f Facts) bool { return f.Siphon }, note.Danger, CodeSiphon, siphons, nil},
	{func(f Facts) bool { return f.HotLiquid }, note.Caution, CodeHotLiquid, practice, nil},
	{func(f Facts) bool { return f.CalciumSalt }, note.Caution, CodeCalcium, practice, nil},
	{func(f Facts) bool { return f.Flowers }, note.Caution, CodeFlowers, flowers, nil},
	{func(f Facts) bool { return f.Laxative }, note.Caution, CodeGuests, practice, nil},
}

// Every lists all that this package can say of a dish, in the order of
// [Cautions]: a page to read before there is any dish.
func Every() []note.Note {
	out := make([]note.Note, 0, len(factTable)+1)
	for _, row := range factTable {
		out = append(out, note.New(row.level, row.code, row.args...).From(row.source))
	}
	return append(out, note.New(note.Reason, CodeUseBy).From(practice))
}

// Cautions lists what must be said of a dish, loudest matters first. A pH that
// was only estimated never removes a note; it adds one that asks to measure.
func Cautions(f Facts) []note.Note {
	var out []note.Note
	for _, row := range factTable {
		if row.holds(f) {
			out = append(out, note.New(row.level, row.code, row.args...).From(row.source))
		}
	}
	if (f.OilInfusion || f.LowOxygen) && !f.PHMeasured && unit.Finite(f.PH) && f.PH > 0 {
		out = append(out, note.New(note.Caution, CodeMeasurePH, note.Num("ph", f.PH, unit.PH)).From(acidFood))
	}
	return append(out, note.New(note.Reason, CodeUseBy).From(practice))
}
