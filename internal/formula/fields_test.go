package formula_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

func pear() formula.Fields {
	return formula.Fields{
		"name": "Pear", "tags": "cold, pass", "part-1-name": "pear juice", "part-1-amount": "200", "part-1-unit": "g",
		"dose-1-name": "agar", "dose-1-amount": "2", "dose-1-unit": "g",
		"dose-2-name": "gellan", "dose-2-amount": "0,5", "dose-2-unit": "% batch",
		"make": "liquid", "batch-liquid": "350", "batch-liquid-unit": "g",
	}
}

func with(change formula.Fields) formula.Fields {
	f := pear()
	for k, v := range change {
		f[k] = v
	}
	return f
}

func TestReadFields(t *testing.T) {
	r := pear().Read(find)
	require.False(t, r.Bad(), "%+v", r.Notes)
	f := r.Formula
	assert.Equal(t, []string{"cold", "pass"}, f.Tags)
	assert.Equal(t, []formula.Part{{Name: "pear juice", Amount: unit.Grams(200)}}, f.Parts)
	assert.Equal(t, formula.Dose{Agent: "agar", Name: "agar", Amount: unit.Grams(2)}, f.Doses[0])
	assert.Equal(t, formula.Dose{Agent: "gellan-la", Name: "gellan", Amount: unit.Amount{Value: 0.5, Unit: unit.PercentOf}, Basis: formula.OnBatch}, f.Doses[1])
	assert.Equal(t, unit.Grams(350), f.Make.Liquid)
}

func TestUnitTypedBehindAFigureWins(t *testing.T) {
	r := with(formula.Fields{"batch-liquid": "1,5 l", "part-1-amount": "7 oz"}).Read(find)
	require.False(t, r.Bad())
	assert.Equal(t, unit.Amount{Value: 1.5, Unit: unit.Litre}, r.Formula.Make.Liquid)
	assert.Equal(t, unit.Amount{Value: 7, Unit: unit.Ounce}, r.Formula.Parts[0].Amount)
}

func TestEmptyRowsAreSteppedOver(t *testing.T) {
	f := with(formula.Fields{"dose-1-name": "", "dose-1-amount": "", "make": "left", "left-of": "dose-2", "left-amount": "3"})
	r := f.Read(find)
	require.False(t, r.Bad(), "%+v", r.Notes)
	require.Len(t, r.Formula.Doses, 1)
	assert.Equal(t, 1, r.DoseRow(0))
	assert.Equal(t, formula.Ref{Index: 0}, r.Formula.Make.LeftOf)
	assert.Equal(t, "dose-2-amount", r.OnPage(formula.DoseField(0, "amount")))
	assert.Equal(t, "batch-liquid", r.OnPage("batch-liquid"))
}

// Every kind of wrong input gets a message at its own field, and the other
// fields are read all the same.
func TestBadInputIsNamedAtItsField(t *testing.T) {
	for name, c := range map[string]struct {
		field, text string
		code        note.Code
	}{
		"empty target":       {"batch-liquid", "", formula.FigureMissing},
		"zero target":        {"batch-liquid", "0", formula.FigureZero},
		"negative":           {"batch-liquid", "-5", formula.FigureNegative},
		"exponent":           {"batch-liquid", "1e309", formula.FigureBad},
		"NaN":                {"batch-liquid", "NaN", formula.FigureBad},
		"letters":            {"batch-liquid", "abc", formula.FigureBad},
		"two commas":         {"batch-liquid", "1,2,3", formula.FigureTwoMarks},
		"a million kilos":    {"batch-liquid", "1000000 kg", formula.FigureOver},
		"digits without end": {"batch-liquid", strings.Repeat("9", 300), formula.FigureTooLarge},
		"a dose over 100 %":  {"dose-2-amount", "120", formula.FigureOver},
		"a dose of nothing":  {"dose-1-amount", "", formula.FigureMissing},
		"an agent in ml":     {"dose-1-amount", "3 ml", formula.FigureUnit},
		"unknown unit":       {"part-1-amount", "3 buckets", formula.FigureUnit},
		"sieve keeps all":    {"loss-sieve", "100 %", formula.FigureOver},
		"loss in ml":         {"loss-sieve", "5 ml", formula.FigureUnit},
		"density of lead":    {"liquid-density", "11.3", formula.FigureOver},
		"density of foam":    {"liquid-density", "0,01", formula.FigureUnder},
		"long name":          {"name", strings.Repeat("x", 10_000), formula.TextTooLong},
		"long tag":           {"tags", strings.Repeat("x", 500), formula.TextTooLong},
		"many tags":          {"tags", strings.Repeat("a,", 40), formula.TooManyTags},
	} {
		t.Run(name, func(t *testing.T) {
			r := with(formula.Fields{c.field: c.text}).Read(find)
			require.True(t, r.Bad())
			var at []note.Code
			for _, n := range r.Notes {
				if n.Field == c.field {
					at = append(at, n.Code)
				} else {
					t.Errorf("%s has a note of its own: %s", n.Field, n.Code)
				}
			}
			assert.Equal(t, []note.Code{c.code}, at)
			assert.Equal(t, "pear juice", r.Formula.Parts[0].Name, "the rest is still read")
		})
	}
}

func TestAmbiguousThousandsAreSaidAloud(t *testing.T) {
	for text, ambiguous := range map[string]bool{"1.234": true, "1,234": true, "0.125": false, "1.25": false, "1500": false, "12,500": true} {
		r := with(formula.Fields{"batch-liquid": text}).Read(find)
		require.False(t, r.Bad())
		assert.Equal(t, ambiguous, len(r.Notes) == 1 && r.Notes[0].Code == formula.FigureReadAs, text)
	}
}

// randomFormula fills every field that a formula has.
func randomFormula(r *rand.Rand) formula.Formula {
	num := func(top float64) float64 { return float64(1+r.IntN(int(top*100)-1)) / 100 }
	pick := func(s ...unit.Symbol) unit.Symbol { return s[r.IntN(len(s))] }
	f := formula.Formula{Name: "n", Tags: []string{"a", "b c"}, Dish: "quail, cold", Station: "larder", Notes: "x\ny", Density: unit.Density(1 + num(1)), Texture: "fluid-gel", Unread: []string{"a pinch"}}
	for range 1 + r.IntN(3) {
		f.Parts = append(f.Parts, formula.Part{Name: "p", Amount: unit.Amount{Value: num(500), Unit: pick(unit.Gram, unit.Litre, unit.Ounce)}})
	}
	for range 1 + r.IntN(3) {
		d := formula.Dose{Agent: "agar", Name: "agar", Grade: float64(r.IntN(900)), Amount: unit.Amount{Value: num(3), Unit: pick(unit.Gram, unit.PercentOf, unit.GramPerKg, unit.Sheet)}}
		if d.Share() {
			d.Basis = []formula.Basis{formula.OnBatch, formula.OnLiquid}[r.IntN(2)]
		}
		f.Doses = append(f.Doses, d)
	}
	f.Make.Losses = formula.Losses{Blender: unit.Amount{Value: num(20), Unit: unit.PercentOf}, Bottle: unit.Amount{Value: num(20), Unit: unit.Gram}}
	f.Make.Losses.Boil = []formula.Boil{{}, {Minutes: num(10), Rate: num(30)}, {Amount: unit.Amount{Value: num(20), Unit: unit.PercentOf}}}[r.IntN(3)]
	if r.IntN(2) == 0 {
		f.Lab = formula.Fields{"lab-foam-covers": "38", "lab-foam-portion": "40 ml"}
	}
	switch f.Make.Mode = []formula.Mode{formula.ForLiquid, formula.ForPortions, formula.ForLeft}[r.IntN(3)]; f.Make.Mode {
	case formula.ForLiquid:
		f.Make.Liquid = unit.Amount{Value: num(900), Unit: pick(unit.Gram, unit.Millilitre)}
	case formula.ForPortions:
		f.Make.Portions, f.Make.Portion, f.Make.Spare = num(90), unit.Amount{Value: num(80), Unit: unit.Gram}, unit.Percent(num(50))
	case formula.ForLeft:
		f.Make.LeftOf, f.Make.Left = formula.Ref{Part: r.IntN(2) == 0}, unit.Amount{Value: num(9), Unit: unit.Gram}
	}
	return f
}

func TestFieldsRoundTrip(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for i := range 2000 {
		f := randomFormula(r)
		got := formula.FieldsOf(f, unit.Style{Comma: i%2 == 0}).Read(find)
		for _, n := range got.Notes {
			require.NotEqual(t, note.Refused, n.Level, "%+v", n)
		}
		require.Equal(t, f, got.Formula)
	}
}

func TestLinkRoundTrip(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 500 {
		f := formula.FieldsOf(randomFormula(r), unit.Style{})
		f["name"] = "Crème & <b>gelée</b> 50 % + ½ #1"
		back, ok, err := formula.ParseLink("#" + f.Link())
		require.NoError(t, err)
		require.True(t, ok)
		require.Equal(t, f, back)
	}
}

// A formula out of a file may hold a name that no page has: it must neither spoil the
// link nor set another field of it.
func TestLinkLeavesOutWhatItCannotSet(t *testing.T) {
	f := formula.Fields{"name": "Pear", "lab-x&name": "Evil", "lab-é": "1", "lab-foam-covers": "8"}
	got, ok, err := formula.ParseLink(f.Link())
	require.True(t, ok)
	require.NoError(t, err)
	assert.Equal(t, formula.Fields{"name": "Pear", "lab-foam-covers": "8"}, got)
}

func TestLinkRefuses(t *testing.T) {
	_, ok, err := formula.ParseLink("#book")
	assert.False(t, ok)
	assert.NoError(t, err)
	for link, code := range map[string]note.Code{
		"#formula?name=" + strings.Repeat("a", 9000): formula.LinkTooLong,
		"#formula?name=%zz":                          formula.LinkBad,
		"#formula?name=%":                            formula.LinkBad,
		"#formula?name=%ff":                          formula.LinkBad,
		"#formula?name=%00":                          formula.LinkBad,
		"#formula?onload=x":                          formula.LinkBad,
		"#formula?dose-99-name=x":                    formula.LinkBad,
		"#formula?name=a&name=b":                     formula.LinkBad,
		"#formula?rubbish":                           formula.LinkBad,
	} {
		_, ok, err := formula.ParseLink(link)
		assert.True(t, ok)
		var refusal *note.Refusal
		require.ErrorAs(t, err, &refusal, link)
		assert.Equal(t, code, refusal.Code, "%.40s", link)
	}
}

func FuzzParseLink(f *testing.F) {
	f.Add("#formula?name=a&lines=200+g+x;2+g+agar")
	f.Add("#formula?%")
	f.Fuzz(func(t *testing.T, s string) {
		fields, ok, err := formula.ParseLink(s)
		if !ok || err != nil {
			return
		}
		again, _, err := formula.ParseLink(fields.Link())
		if err != nil && len(fields.Link()) <= formula.MaxLink {
			t.Fatalf("%q: %v", s, err)
		}
		for k, v := range again {
			if fields[k] != v {
				t.Fatalf("%q: %s", s, k)
			}
		}
	})
}

func FuzzRead(f *testing.F) {
	f.Add("dose-1-amount", "1,2,3", "left", "dose-7")
	f.Fuzz(func(t *testing.T, field, text, mode, of string) {
		r := with(formula.Fields{field: text, "make": mode, "left-of": of, "left-amount": text, "portions": text}).Read(find)
		for _, d := range r.Formula.Doses {
			if d.Amount.Value < 0 || !unit.Finite(d.Amount.Value) {
				t.Fatalf("%+v", d)
			}
		}
	})
}
