package screen

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/agent"
	"tremblant/internal/formula"
)

// pasted says what a pasted text is read as: of each line the amount and the name of
// a part of the liquid, or in square brackets the agent, its grade and what a share is
// of, or in angle brackets why it was not understood.
func pasted(text string) string {
	var out []string
	for _, l := range formula.ParseLines(text, findInRecipe) {
		switch {
		case l.Why != nil:
			out = append(out, "<"+strings.TrimPrefix(string(l.Why.Code), "line.")+">")
		case l.Part != nil:
			out = append(out, strconv.FormatFloat(l.Part.Amount.Value, 'g', 10, 64)+" "+string(l.Part.Amount.Unit)+" "+l.Part.Name)
		default:
			d := l.Dose
			s := strconv.FormatFloat(d.Amount.Value, 'g', 10, 64) + " " + string(d.Amount.Unit) + " [" + d.Agent
			if d.Grade > 0 {
				s += " " + strconv.Itoa(int(d.Grade))
			}
			if d.Basis == formula.OnBatch {
				s += " of the batch"
			}
			out = append(out, s+"]")
		}
	}
	return strings.Join(out, "; ")
}

// Lines as cooks write them.
func TestPastedRecipes(t *testing.T) {
	for in, want := range map[string]string{
		// list marks and columns
		"1. 400 g strawberry puree\n2) 3.2 g agar":   "400 g strawberry puree; 3.2 g [agar]",
		"☐ 500 g milk\n•5 g agar\n[ ] 2 g gellan":    "500 g milk; 5 g [agar]; 2 g [gellan-la]",
		"| water | 500 g |\n| agar | 2 g |":          "500 g water; 2 g [agar]",
		"Orange juice\t1000 g\t100 %":                "1000 g Orange juice",
		"Agar\t8 g\t0.8 %":                           "8 g [agar]",
		"５００ｇ　milk\n2．5 g agar":                      "500 g milk; 2.5 g [agar]",
		"water......500 g":                           "500 g water",
		"agar, 2 g":                                  "2 g [agar]",
		"gelatine, 3 leaves":                         "3 sheet [gelatin]",
		"milk 500 g, agar 2 g, sugar 40 g":           "500 g milk; 2 g [agar]; 40 g sugar",
		"500g milk 2g agar 1g gellan":                "500 g milk; 2 g [agar]; 1 g [gellan-la]",
		"500 g d'eau, 2 g d'agar et 1 g de xanthane": "500 g eau; 2 g [agar]; 1 g [xanthan]",
		"500 g de agua y 2 g de agar":                "500 g agua; 2 g [agar]",
		"500 g Wasser und 2 g Agar":                  "500 g Wasser; 2 g [agar]",

		// said twice
		"400g(14oz) tomato water":      "400 g tomato water",
		"4g (0.14 oz) agar":            "4 g [agar]",
		"100g/3½oz caster sugar":       "100 g caster sugar",
		"15ml (1 tbsp) lemon juice":    "15 ml lemon juice",
		"3/4 tsp (2 g) agar":           "2 g [agar]",
		"1 c. à café (2 g) d'agar":     "2 g [agar]",
		"1 TL Agar-Agar (2 g)":         "2 g [agar]",
		"1 taza (240 ml) de leche":     "240 ml leche",
		"1 Päckchen Gelatine (9 g)":    "9 g [gelatin]",
		"2 Päckchen Gelatine (9 g)":    "<no-unit>", // each, or both?
		"2 œufs (100 g)":               "<no-unit>",
		"1.5 g (0.5%) agar":            "1.5 g [agar]",
		"agar 1.5 g (0.5%)":            "1.5 g [agar]",
		"6 g de gélatine (3 feuilles)": "6 g [gelatin]",
		"40% vodka 60 ml":              "60 ml 40% vodka",

		// amounts
		"1 lb 4 oz carrots":       "20 oz carrots",
		"1 kg 500 de purée":       "1500 g purée",
		"1 litre et demi de lait": "1.5 l lait",
		"2 x 250 ml cream":        "500 ml cream",
		"4 x 2 g gelatine leaves": "8 g [gelatin]",
		"ca. 350 ml Fond":         "350 ml Fond",
		"env. 2 g d'agar":         "2 g [agar]",
		"2 centilitres de rhum":   "2 cl rhum",
		"3 Deziliter Milch":       "3 dl Milch",
		"2 kilogramos de peras":   "2 kg peras",
		"1 cc de sucre":           "<no-unit>", // a spoon
		"2-3 g agar":              "<range>",
		"Agar: 2–3 g":             "<range>",
		"2 à 3 g d'agar":          "<range>",
		"2 bis 3 g Agar":          "<range>",
		"2 to 3 g gellan":         "<range>",

		// a mark before three figures
		"1,000 g cream\n8 g agar":       "<thousand>; 8 g [agar]",
		"1,000 g cream\n2.5 g agar":     "1000 g cream; 2.5 g [agar]",
		"1.000 g Sahne\n2,5 g Agar":     "1000 g Sahne; 2.5 g [agar]",
		"1,000 kg purée\n0,008 kg agar": "1 kg purée; 0.008 kg [agar]",
		"12,500 g sucre\n2,5 g agar":    "12.5 g sucre; 2.5 g [agar]",
		"1.250 g agar":                  "1.25 g [agar]",

		// shares
		"8g per liter agar":            "8 g/l [agar]",
		"8 g d'agar par litre":         "8 g/l [agar]",
		"Agar: 8 g pro Liter":          "8 g/l [agar]",
		"8 g Agar/l":                   "8 g/l [agar]",
		"2 g de agar por cada 500 ml":  "4 g/l [agar]",
		"0,8 g/100 ml d'agar":          "8 g/l [agar]",
		"2 g pour 100 g de gellane":    "2 g/100 g [gellan-la]",
		"0.4 % agar (on total)":        "0.4 % [agar of the batch]",
		"agar 0.4% of total weight":    "0.4 % [agar of the batch]",
		"0,4 % Agar (auf Gesamtmenge)": "0.4 % [agar of the batch]",
		"0.3% xanthan gum (to liquid)": "0.3 % [xanthan]",
		"250 g per portion":            "<no-name>",

		// sums and yields are no liquid
		"Total: 502 g":         "<total>",
		"Poids total : 1108 g": "<total>",
		"Rendimiento: 1 kg":    "<total>",
		"Gesamtgewicht 1108 g": "<total>",
		"Pour 500 g":           "<total>",
		"Makes 500 g":          "<total>",

		// sheets and their grades
		"5 gold gelatine leaves":             "5 sheet [gelatin]",
		"3 feuilles de gélatine argent":      "3 sheet [gelatin]",
		"3 Blatt Gelatine (Gold)":            "3 sheet [gelatin]",
		"6 g gelatin silver":                 "6 g [gelatin 160]",
		"3 feuilles de gélatine (200 Bloom)": "3 sheet [gelatin 200]",
		"3 Blatt weiße Gelatine":             "3 sheet [gelatin]",
		"3 Blatt Gelatine à 1,7 g":           "5.1 g [gelatin]",
		"3 hojas de cola de pescado":         "3 sheet [gelatin]",
		"3 gelatine leaves, soaked":          "3 sheet [gelatin]",
		"Gelatine: 3 Blatt (eingeweicht)":    "3 sheet [gelatin]",

		// one agent is not taken for another
		"2 g gellan, high acyl type":          "2 g []",
		"2 g gellan gum (LT)":                 "2 g []",
		"2 g carrageenan (lambda type)":       "2 g []",
		"2 g pectin, amidated low methoxyl":   "2 g []",
		"2 g methyl cellulose (for low heat)": "2 g []",
		"2 g gellan (about 1 tsp)":            "2 g [gellan-la]",
		"3 g lécithine de tournesol":          "3 g []",
		"30 g masse gélatine":                 "30 g []",
		"2 g E 407":                           "2 g []",
		"2 g powdered agar":                   "2 g [agar]",
		"6 g gemahlene Gelatine":              "6 g [gelatin]",
		"50 g egg whites":                     "50 g egg whites",
		"50 g de blanc d’œuf":                 "50 g blanc d’œuf",
		"500 g whey":                          "500 g whey",
		"5 g dried egg white":                 "5 g [eggwhite]",

		// what has an agent beside it is none
		"60 g water for the gelatin":           "60 g water for the gelatin",
		"50 g d'eau pour la gélatine":          "50 g eau pour la gélatine",
		"60 g Wasser für die Gelatine":         "60 g Wasser für die Gelatine",
		"10 g gelatine, soaked in 50 g water":  "<two>",
		"10 g gelatine (soaked in 50 g water)": "<two>",
		"milk 500 g agar 2 g":                  "<two>",
		"Boil 2 g agar in 500 g water":         "<no-amount>",
		"1. Mix and boil for 2 minutes":        "<no-amount>",
		"500 g cream (35%)":                    "500 g cream (35%)",
		"milk 3.5 % 500 g":                     "500 g milk 3.5 %",
		"500 g water at 60 °C":                 "500 g water at 60 °C",
	} {
		assert.Equal(t, want, pasted(in), in)
	}
}

// The name that a pasted line leaves in an agent's row is known there as well.
func TestPastedAgentsAreKnownInTheirRow(t *testing.T) {
	k := someone(t)
	k.typing("lines", "500 g milk\n3 gold gelatine leaves, soaked\n2 g agar (about 1 tsp)\n1 g gellan F\nTotal: 506 g\n10,000 g x")
	k.press("read-lines")
	f := k.app.pan.reading.Formula
	require.Len(t, f.Doses, 3)
	assert.Equal(t, "gelatin", f.Doses[0].Agent)
	assert.Equal(t, "agar", f.Doses[1].Agent)
	assert.Empty(t, f.Doses[2].Agent)
	assert.Equal(t, []string{"Total: 506 g", "10,000 g x"}, f.Unread)
	require.Len(t, f.Parts, 1)
}

// The grades that a line names have the Bloom that the catalogue gives them.
func TestPastedGradesAreTheCataloguesOnes(t *testing.T) {
	for _, g := range agent.SheetGrades {
		lines := formula.ParseLines("6 g "+string(g.Key)+" gelatin", findInRecipe)
		require.NotNil(t, lines[0].Dose, g.Key)
		assert.Equal(t, g.Bloom.Typical, lines[0].Dose.Grade, g.Key)
	}
}
