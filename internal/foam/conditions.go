package foam

import (
	"tremblant/internal/note"
	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// ruling is one condition: if it is met, the note is made.
type ruling struct {
	met   bool
	level note.Level
	code  note.Code
	field string
	ref   source.Ref
	args  []note.Arg
}

// conditions judges temperature, alcohol, fat, acid, set and fibre.
func (f Formula) conditions(kind Type) []note.Note {
	var notes []note.Note
	for _, rulings := range [][]ruling{f.warmth(kind), f.chemistry(kind), f.coarseness(kind)} {
		for _, r := range rulings {
			if r.met {
				notes = append(notes, note.New(r.level, r.code, r.args...).At(r.field).From(r.ref))
			}
		}
	}
	return notes
}

// warmth judges the temperature, and whether cold fat has had its time.
func (f Formula) warmth(kind Type) []ruling {
	t := f.Base.Temperature
	name := note.Word("type", "foam.type."+kind.ID)
	return []ruling{
		{!kind.Siphon, note.Hint, CodeNeedsNone, "", kind.Source, []note.Arg{name}},
		{
			float64(t) < kind.Temp.Low, note.Caution, CodeTooCold, "temperature", kind.Source,
			[]note.Arg{name, degrees("temperature", t), note.Num("low", kind.Temp.Low, unit.DegreeC)},
		},
		{
			float64(t) > kind.Temp.High, note.Caution, CodeWarmish, "temperature", kind.Source,
			[]note.Arg{name, degrees("temperature", t), note.Num("high", kind.Temp.High, unit.DegreeC), degrees("limit", kind.Top)},
		},
		{
			kind.Siphon && f.Base.MilkFat >= richCream && !f.Base.Hot() && !f.Chilled, note.Hint, CodeCreamWarm, "", srcCrystal,
			[]note.Arg{degrees("limit", crystalChill)},
		},
	}
}

// richCream is the milk fat from which its crystals carry the foam, and
// crystalChill the temperature at or below which cream is kept for it.
const (
	richCream    unit.Fraction = 0.18
	crystalChill unit.Celsius  = 7
)

// chemistry judges alcohol, fat, acid and enzymes.
func (f Formula) chemistry(kind Type) []ruling {
	alcohol, fat := f.Base.alcohol(), float64(f.Base.MilkFat+f.Base.Oil)
	acid := note.Num("value", f.PH, unit.PH)
	return []ruling{
		{
			kind.AlcoholWeak > 0 && alcohol > float64(kind.AlcoholWeak), note.Caution, CodeAlcoholWeak, "ethanol", srcSiphonPage,
			[]note.Arg{note.Num("value", alcohol*100, unit.ABV), note.Num("limit", kind.AlcoholWeak.Percent(), unit.ABV), note.Num("top", kind.AlcoholTop.Percent(), unit.ABV)},
		},
		{
			kind.FatKills > 0 && fat > float64(kind.FatKills), note.Caution, CodeFatKills, "", srcPractice,
			[]note.Arg{note.Num("value", fat*100, unit.PercentOf), note.Num("limit", kind.FatKills.Percent(), unit.PercentOf)},
		},
		{
			f.PH > 0 && kind.PH.High > 0 && !kind.PH.Contains(f.PH), note.Caution, CodePH, "ph", srcCatalogue,
			[]note.Arg{acid, note.Num("low", kind.PH.Low, unit.PH), note.Num("high", kind.PH.High, unit.PH)},
		},
		{f.PH > 4.2 && f.PH < 5 && f.has("milkprotein"), note.Caution, CodeProteinCurdle, "ph", srcCatalogue, []note.Arg{acid}},
		{f.EnzymeFruit && (f.has("gelatin") || f.egg()), note.Caution, CodeEnzymes, "", srcCatalogue, nil},
		{f.gelatinSets(kind), note.Caution, CodeSetInBody, "dose.gelatin", srcSiphonPage, nil},
	}
}

// coarseness judges what can block the nozzle.
func (f Formula) coarseness(kind Type) []ruling {
	level := note.Danger
	if f.Strained {
		level = note.Caution
	}
	fibre := float64(f.Base.Fibre)
	return []ruling{
		{kind.Siphon && f.Seeds && !f.Strained, note.Danger, CodeSeeds, "", srcSiphonPage, nil},
		{
			kind.Siphon && fibre > fibreMuch, level, CodeFibre, "fibre", srcPractice,
			[]note.Arg{note.Num("value", fibre*100, unit.PercentOf), note.Num("limit", fibreMuch*100, unit.PercentOf), note.Num("add", max(0, fibre/fibreMuch-1)*100, unit.Gram)},
		},
	}
}

// gelatinSets reports gelatin so strong that it may set in the body.
func (f Formula) gelatinSets(kind Type) bool {
	w, known := f.window(kind, "gelatin")
	for _, d := range f.Doses {
		if known && d.Agent == "gelatin" && f.Liquid > 0 && float64(d.Mass/f.Liquid) > w.Amount.High {
			return true
		}
	}
	return false
}
