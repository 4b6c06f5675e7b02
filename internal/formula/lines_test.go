package formula_test

import (
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// find knows a handful of agents, as the catalogue would.
func find(name string) (string, bool) {
	switch strings.ToLower(name) {
	case "agar":
		return "agar", true
	case "gellan", "low-acyl gellan":
		return "gellan-la", true
	case "gelatin", "gold gelatin", "gelatin gold", "gelatine", "gélatine", "gelatina":
		return "gelatin", true
	}
	return "", false
}

func TestParseLines(t *testing.T) {
	type want struct {
		part   bool
		name   string
		amount unit.Amount
		basis  formula.Basis
		grade  float64
	}
	for in, w := range map[string]want{
		"1,5 g agar":                   {false, "agar", unit.Grams(1.5), "", 0},
		"350 ml apple juice":           {true, "apple juice", unit.Amount{Value: 350, Unit: unit.Millilitre}, "", 0},
		"0.6% gellan":                  {false, "gellan", unit.Amount{Value: 0.6, Unit: unit.PercentOf}, formula.OnLiquid, 0},
		"0.6 % of the batch gellan":    {false, "gellan", unit.Amount{Value: 0.6, Unit: unit.PercentOf}, formula.OnBatch, 0},
		"agar: 2 g":                    {false, "agar", unit.Grams(2), "", 0},
		"- 200 g of pear juice":        {true, "pear juice", unit.Grams(200), "", 0},
		"• 12 g gelatin (200 bloom)":   {false, "gelatin (200 bloom)", unit.Grams(12), "", 200},
		"gelatin 180 bloom 12 g":       {false, "gelatin 180 bloom", unit.Grams(12), "", 180},
		"3 sheets gold gelatin":        {false, "gold gelatin", unit.Amount{Value: 3, Unit: unit.Sheet}, "", 0},
		"0.2 % something nobody knows": {false, "something nobody knows", unit.Amount{Value: 0.2, Unit: unit.PercentOf}, formula.OnLiquid, 0},
		"½ l whole milk":               {true, "whole milk", unit.Amount{Value: 0.5, Unit: unit.Litre}, "", 0},
	} {
		got := formula.ParseLines(in, find)
		require.Len(t, got, 1, in)
		require.Nil(t, got[0].Why, in)
		if w.part {
			require.NotNil(t, got[0].Part, in)
			assert.Equal(t, formula.Part{Name: w.name, Amount: w.amount}, *got[0].Part, in)
			continue
		}
		require.NotNil(t, got[0].Dose, in)
		assert.Equal(t, w.name, got[0].Dose.Name, in)
		assert.Equal(t, w.amount, got[0].Dose.Amount, in)
		assert.Equal(t, w.basis, got[0].Dose.Basis, in)
		assert.Equal(t, w.grade, got[0].Dose.Grade, in)
	}
}

// What a share is one of, as recipes in the page's languages say it, before the
// name and behind the amount that ends the line.
func TestParseLinesReadsTheBasisInEveryLanguage(t *testing.T) {
	for in, basis := range map[string]formula.Basis{
		"0.5 % of the batch agar":               formula.OnBatch,
		"0.5 % of the total weight agar":        formula.OnBatch,
		"agar: 0.5 % of the batch":              formula.OnBatch,
		"agar 0.5 % (of the liquid)":            formula.OnLiquid,
		"0,5 % du total d'agar":                 formula.OnBatch,
		"0,5 % de la masse totale agar":         formula.OnBatch,
		"0,5 % du poids total d’agar":           formula.OnBatch,
		"agar : 0,5 % de la préparation":        formula.OnBatch,
		"agar 0,5 % (du total)":                 formula.OnBatch,
		"0,5 % sur le liquide agar":             formula.OnLiquid,
		"agar : 0,5 % du liquide":               formula.OnLiquid,
		"0,5 % del total de agar":               formula.OnBatch,
		"0,5 % de la masa total de agar":        formula.OnBatch,
		"Agar: 0,5 % sobre el peso total":       formula.OnBatch,
		"0,5 % sobre el líquido de agar":        formula.OnLiquid,
		"agar 0,5 % del liquido":                formula.OnLiquid,
		"0,5 % der Gesamtmasse Agar":            formula.OnBatch,
		"0,5 % vom Ansatz Agar":                 formula.OnBatch,
		"Agar: 0,5 % auf das Gesamtgewicht":     formula.OnBatch,
		"0,5 % auf die Flüssigkeit Agar":        formula.OnLiquid,
		"Agar 0,5 % der Flüssigkeit":            formula.OnLiquid,
		"• Agar – 0,5 % (bezogen auf nichts) x": "",
		"0,5 % AUF DEN ANSATZ Agar":             formula.OnBatch,
		"0,5 % agar":                            formula.OnLiquid,
		"0,5 % d'agar":                          formula.OnLiquid,
	} {
		got := formula.ParseLines(in, find)
		require.Len(t, got, 1, in)
		if basis == "" {
			assert.NotNil(t, got[0].Why, in)
			continue
		}
		require.NotNil(t, got[0].Dose, in)
		assert.Equal(t, "agar", got[0].Dose.Agent, in)
		assert.Equal(t, basis, got[0].Dose.Basis, in)
		assert.Equal(t, 0.5, got[0].Dose.Amount.Value, in)
	}
}

// Gelatin is counted in sheets wherever the word for them stands.
func TestParseLinesCountsGelatinInSheets(t *testing.T) {
	for in, name := range map[string]string{
		"3 leaves gelatin": "gelatin", "3 gelatin leaves": "gelatin", "3 gelatine leaves": "gelatine", "3 leaves of gelatine": "gelatine",
		"3 leaf gelatin": "gelatin", "3 gelatin sheets": "gelatin", "gelatin leaves: 3": "gelatin", "3 gold gelatin leaves": "gold gelatin", "Gelatine leaves 3": "Gelatine",
		"3 gelatin sheets 200 bloom": "gelatin sheets 200 bloom",
		"3 feuilles de gélatine":     "gélatine", "3 feuilles gélatine": "gélatine", "gélatine : 3 feuilles": "gélatine",
		"3 hojas de gelatina": "gelatina", "3 láminas de gelatina": "gelatina", "3 HOJAS de gelatina": "gelatina",
		"3 Blatt Gelatine": "Gelatine", "3 Blätter Gelatine": "Gelatine", "3 Gelatineblätter": "Gelatine", "3 Gelatine-Blätter": "Gelatine", "Blattgelatine: 3 Blatt": "Blattgelatine",
	} {
		got := formula.ParseLines(in, func(name string) (string, bool) {
			if strings.EqualFold(name, "gelatin sheets") || strings.EqualFold(name, "blattgelatine") {
				return "gelatin", true
			}
			return find(name)
		})
		require.Len(t, got, 1, in)
		require.Nil(t, got[0].Why, in)
		require.NotNil(t, got[0].Dose, in)
		assert.Equal(t, "gelatin", got[0].Dose.Agent, in)
		assert.Equal(t, unit.Amount{Value: 3, Unit: unit.Sheet}, got[0].Dose.Amount, in)
		assert.Equal(t, name, got[0].Dose.Name, in)
	}
}

// Such words in front of a weighed ingredient are a part of its name.
func TestParseLinesLeavesWeighedNamesWhole(t *testing.T) {
	for in, name := range map[string]string{
		"200 g of the liquid smoke":   "the liquid smoke",
		"200 g du liquide de cuisson": "du liquide de cuisson",
		"200 g de jus de poire":       "jus de poire",
	} {
		got := formula.ParseLines(in, find)
		require.Len(t, got, 1, in)
		require.NotNil(t, got[0].Part, in)
		assert.Equal(t, name, got[0].Part.Name, in)
	}
}

func TestParseLinesSplits(t *testing.T) {
	for _, in := range []string{
		"200 g liquid, 2 g agar, 1 g gellan",
		"200 g liquid\n2 g agar\r\n\n1 g gellan",
		"200 g liquid; 2 g agar; 1 g gellan",
		"200 g liquid + 2 g agar + 1 g gellan",
	} {
		got := formula.ParseLines(in, find)
		require.Len(t, got, 3, in)
		assert.NotNil(t, got[0].Part, in)
		assert.Equal(t, "agar", got[1].Dose.Agent, in)
		assert.Equal(t, "gellan-la", got[2].Dose.Agent, in)
	}
}

func TestParseLinesKeepsWhatItCannotRead(t *testing.T) {
	for in, code := range map[string]note.Code{
		"bring to the boil":       formula.LineNoAmount,
		"2 garlic cloves":         formula.LineNoUnit,
		"20 g":                    formula.LineNoName,
		"4 leaves lemon verbena":  formula.LineNoSheets,
		"4 verbena leaves":        formula.LineNoUnit,
		"3 gelatine":              formula.LineNoUnit,
		"gelatine 3":              formula.LineNoAmount,
		"lasagne sheets: 3":       formula.LineNoAmount,
		"5 ml agar":               formula.LineNoUnit,
		"0 g agar":                formula.LineBad,
		"-3 g agar":               formula.LineBad,
		strings.Repeat("x", 500):  formula.LineTooLong,
		"<img src=x onerror=boo>": formula.LineNoAmount,
	} {
		got := formula.ParseLines(in, find)
		require.Len(t, got, 1, in)
		require.NotNil(t, got[0].Why, in)
		assert.Equal(t, code, got[0].Why.Code, in)
		assert.Equal(t, in, got[0].Text)
	}
	many := formula.ParseLines(strings.Repeat("1 g agar\n", 200), find)
	require.Len(t, many, formula.MaxLines+1)
	assert.Equal(t, formula.LinesTooMany, many[formula.MaxLines].Why.Code)
}

// hardLines are the kinds of line that are looked through most often.
var hardLines = []string{"1 ", "1,", "1, ", "a, ", "1 g a ", "1 g (", "/1", "1 g a, a 1 g, ", "½", "1 - ", " per 1 ", ";1 g a a, 1 % ("}

// A text twice as long costs about twice as much, and not its square: what is allocated
// tells it on any machine.
func TestParseLinesGrowsWithItsText(t *testing.T) {
	allocated := func(line string, size int) float64 {
		text := strings.Repeat(line, size/len(line))
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		formula.ParseLines(text, find)
		runtime.ReadMemStats(&after)
		return float64(after.TotalAlloc - before.TotalAlloc)
	}
	for _, line := range hardLines {
		half, whole := allocated(line, formula.MaxPasted/2), allocated(line, formula.MaxPasted)
		assert.Less(t, whole, 3*half+1e6, line)
	}
}

func BenchmarkParseLines(b *testing.B) {
	for _, line := range hardLines {
		text := strings.Repeat(line, formula.MaxPasted/len(line))
		b.Run(line, func(b *testing.B) {
			for b.Loop() {
				formula.ParseLines(text, find)
			}
		})
	}
}

func FuzzParseLines(f *testing.F) {
	for _, s := range []string{"1,5 g agar", "a: 2 g, 3 g b", "bloom 200 gelatin 3 g", "½½½", "200 g x, 2 g agar", "agar: 2 % (du total)", "gelatine leaves: 3", "3 Gelatineblätter", "1 % of the batch of the batch d'"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, l := range formula.ParseLines(s, find) {
			switch {
			case l.Why == nil && (l.Part == nil) == (l.Dose == nil):
				t.Fatalf("%q: %q is neither or both", s, l.Text)
			case l.Part != nil && (!(l.Part.Amount.Base() > 0) || l.Part.Name == ""):
				t.Fatalf("%q: %+v", s, *l.Part)
			case l.Dose != nil && (!(l.Dose.Amount.Base() > 0) || l.Dose.Name == ""):
				t.Fatalf("%q: %+v", s, *l.Dose)
			}
		}
	})
}
