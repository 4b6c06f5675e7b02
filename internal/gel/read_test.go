package gel

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/agent"
	"tremblant/internal/note"
	"tremblant/internal/unit"
)

// TestVinegarPipingGel is common practice, no source: 1 % agar with 0.5 %
// low-acyl gellan on a sharp vinegar liquor is set, then blended to pipe; agar
// must not boil long in the acid.
func TestVinegarPipingGel(t *testing.T) {
	liquor := Conditions{PH: KnownRange(unit.Range{Low: 2.4, Typical: 2.6, High: 2.8}), Brix: Known(12), Na: Known(60)}
	v, err := Read(Recipe{Doses: []Dose{{Agent: "agar", Share: 0.01}, {Agent: "gellan-la", Share: 0.005}}, Made: Sheared, Target: agent.FluidGel, Cond: liquor})
	require.NoError(t, err)
	assert.Equal(t, agent.FluidGel, v.Texture)
	assert.Equal(t, Piping, v.Body)
	assert.False(t, v.Fails, v.Cause.Code)
	boil, ok := find(v.Notes, CodeAcidBoil)
	require.True(t, ok)
	assert.Equal(t, note.Caution, boil.Level)
	who, _ := boil.Arg("agent")
	assert.Equal(t, "agent.agar", who.Word)
	assert.True(t, boil.Source.Valid())
}

// TestParts that fight, and conditions that make a recipe fail.
func TestPartsThatFight(t *testing.T) {
	cases := []struct {
		name  string
		rec   Recipe
		code  note.Code
		fails bool
	}{
		{"gelatin and raw pineapple", Recipe{Doses: one("gelatin", 2), Cond: Conditions{Protease: true}}, CodeProtease, true},
		{"gelatin and tea", Recipe{Doses: one("gelatin", 2), Cond: Conditions{Tannin: true}}, CodeTannin, false},
		{"starch and raw yolk", Recipe{Doses: one("corn-starch", 4), Cond: Conditions{Amylase: true}}, CodeAmylase, true},
		{"kappa without cation", Recipe{Doses: one("carr-kappa", 0.8), Cond: Conditions{K: Known(1), Na: Known(1), Ca: Known(0.5)}}, CodeIonMissing, false},
		{"kappa in milk needs none", Recipe{Doses: one("carr-kappa", 0.2), Cond: Conditions{Milk: true, K: Known(0)}}, "", false},
		{"alginate in acid", Recipe{Doses: one("alginate", 0.8), Made: Bath, Cond: Conditions{PH: Known(3.2)}}, CodeFallsOut, false},
		{"alginate in hard liquid", Recipe{Doses: one("alginate", 0.8), Made: Bath, Cond: Conditions{Ca: Known(5)}}, CodeCalciumEarly, false},
		{"alginate in milk", Recipe{Doses: one("alginate", 0.8), Made: Bath, Cond: Conditions{Milk: true}}, CodeCalciumEarly, false},
		{"alginate with calcium in one bowl", Recipe{Doses: []Dose{{Agent: "alginate", Share: 0.008}, {Agent: "ca-lactate", Share: 0.01}}}, CodeSaltSameBowl, false},
		{"alginate without calcium", Recipe{Doses: one("alginate", 0.8), Cond: Conditions{Ca: Known(0.1)}}, CodeIonBath, true},
		{"sour milk", Recipe{Doses: one("carr-iota", 0.5), Cond: Conditions{Milk: true, PH: Known(4.5)}}, CodeCurdles, false},
		{"protein in acid", Recipe{Doses: one("agar", 1), Cond: Conditions{Protein: Known(0.03), PH: Known(4.8)}}, CodeCurdles, false},
		{"xanthan alone", Recipe{Doses: one("xanthan", 0.4), Target: agent.FirmSet}, CodeAlone, true},
		{"konjac alone", Recipe{Doses: one("konjac", 3), Target: agent.Sliceable}, CodeAlkali, true},
		{"jam pectin without sugar", Recipe{Doses: one("pectin-hm", 0.8), Cond: Conditions{PH: Known(3.1), Brix: Known(20)}}, CodeBrix, true},
		{"jam pectin without acid", Recipe{Doses: one("pectin-hm", 0.8), Cond: Conditions{PH: Known(5), Brix: Known(65)}}, CodePHHigh, true},
		{"jam pectin, nothing said", Recipe{Doses: one("pectin-hm", 0.8)}, CodeAcidSugar, false},
		{"spirit jelly", Recipe{Doses: one("agar", 1), Cond: Conditions{ABV: Known(0.45)}}, CodeABVFails, true},
		{"cocktail jelly", Recipe{Doses: one("agar", 1), Cond: Conditions{ABV: Known(0.25)}}, CodeABVWarns, false},
		{"hot gelatin", Recipe{Doses: one("gelatin", 3), Cond: Conditions{ServeC: Known(45)}}, CodeMelts, true},
		{"warm gelatin", Recipe{Doses: one("gelatin", 3), Cond: Conditions{ServeC: Known(24)}}, CodeMayMelt, false},
		{"hot tapioca is a paste", Recipe{Doses: one("tapioca-starch", 9), Cond: Conditions{ServeC: Known(70)}}, CodeMelts, true},
		{"hot pregelatinised starch", Recipe{Doses: one("pregel", 7), Cond: Conditions{ServeC: Known(70)}}, CodeMelts, true},
		{"hot foam on starch", Recipe{Doses: one("corn-starch", 2), Made: Aerated, Cond: Conditions{ServeC: Known(65)}}, "", false},
		{"cold methylcellulose", Recipe{Doses: one("mc", 2), Cond: Conditions{ServeC: Known(10)}}, CodeTooCold, true},
		{"methylcellulose", Recipe{Doses: one("mc", 2)}, CodeOnlyHot, false},
		{"frozen agar", Recipe{Doses: one("agar", 1), Cond: Conditions{Frozen: true}}, CodeFreeze, false},
		{"gellan in syrup", Recipe{Doses: one("gellan-la", 0.4), Cond: Conditions{Brix: Known(40)}}, CodeSugarLater, false},
		{"fat in an air", Recipe{Doses: one("lecithin", 0.6), Made: Aerated, Cond: Conditions{Fat: Known(0.05)}}, CodeFat, true},
		{"too little air", Recipe{Doses: one("lecithin", 0.1), Made: Aerated}, CodeUnder, true},
		{"guar in an air", Recipe{Doses: one("guar", 0.3), Made: Bath}, CodeCannot, true},
		{"boiled in acid", Recipe{Doses: one("carr-kappa", 0.8), Cond: Conditions{PH: Known(3.5), HeatMinutes: Known(2)}}, CodeAcidLoss, false},
		{"trace of guar", Recipe{Doses: one("guar", 0.01)}, CodeNothing, true},
		{"foamer that nobody whipped", Recipe{Doses: one("foam-stab", 6)}, CodeNeedsAir, true},
		{"lecithin that nobody blended", Recipe{Doses: one("lecithin", 0.5)}, CodeNeedsAir, true},
		{"too soft", Recipe{Doses: one("agar", 0.3), Target: agent.Sliceable}, CodeSofter, false},
		{"too firm", Recipe{Doses: one("agar", 1.5), Target: agent.SoftSet}, CodeFirmer, false},
		{"no foam", Recipe{Doses: one("agar", 1), Target: agent.Foam}, CodeOther, true},
		{"dry konjac", Recipe{Doses: one("konjac", 0.3)}, CodeSafety, false},
		{"egg", Recipe{Doses: one("eggwhite", 3), Made: Aerated}, CodeAllergen, false},
		{"wheat in xanthan", Recipe{Doses: one("xanthan", 0.2)}, CodeMayHold, false},
	}
	for _, c := range cases {
		v, err := Read(c.rec)
		require.NoError(t, err, c.name)
		assert.Equal(t, c.fails, v.Fails, "%s: %v", c.name, codes(v.Notes))
		if c.code == "" {
			assert.NotContains(t, codes(v.Notes), CodeIonMissing, c.name)
			continue
		}
		n, ok := find(v.Notes, c.code)
		if assert.True(t, ok, "%s: %v", c.name, codes(v.Notes)) {
			assert.True(t, n.Source.Valid() || n.Code == CodeSofter || n.Code == CodeFirmer || n.Code == CodeOther || n.Code == CodeNothing || n.Code == CodeNeedsAir || n.Code == CodeCannot, c.name)
		}
		assert.Equal(t, v.Fails, v.Cause.Code != "", c.name)
	}
}

// TestGraveWarnings are never quieter than Danger.
func TestGraveWarnings(t *testing.T) {
	level := func(rec Recipe, warning string) note.Level {
		v, err := Read(rec)
		require.NoError(t, err)
		for _, n := range v.Notes {
			if w, ok := n.Arg("warning"); ok && w.Word == "safety."+warning {
				return n.Level
			}
		}
		return note.Reason
	}
	assert.Equal(t, note.Danger, level(Recipe{Doses: one("konjac", 0.3)}, "konjac-dry"))
	assert.Equal(t, note.Caution, level(Recipe{Doses: one("agar", 1)}, "mini-cup"))
	assert.Equal(t, note.Danger, level(Recipe{Doses: one("agar", 1), OneBite: true}, "mini-cup"))
	assert.Equal(t, note.Reason, level(Recipe{Doses: one("agar", 0.3)}, "mini-cup"), "a soft set is no firm one-bite jelly")
}

// TestOverlappingWindows: where windows overlap, what was meant decides.
func TestOverlappingWindows(t *testing.T) {
	jam := Conditions{PH: Known(3.1), Brix: Known(63)}
	cases := []struct {
		rec  Recipe
		want agent.Texture
	}{
		{Recipe{Doses: one("pectin-hm", 0.5), Cond: jam}, agent.SoftSet},
		{Recipe{Doses: one("pectin-hm", 0.5), Cond: jam, Target: agent.FirmSet}, agent.FirmSet},
		{Recipe{Doses: one("corn-starch", 4.7), Target: agent.Thickened}, agent.Thickened},
		{Recipe{Doses: one("corn-starch", 4.7), Target: agent.SoftSet}, agent.SoftSet},
		{Recipe{Doses: one("pregel", 4.5)}, agent.Thickened},
	}
	for _, c := range cases {
		v, err := Read(c.rec)
		require.NoError(t, err)
		assert.Equal(t, c.want, v.Texture, "%v %s", c.rec.Doses, c.rec.Target)
		assert.False(t, v.Fails)
	}
}

// TestSaltsCount: calcium of the recipe's own salt sets gellan and alginate.
func TestSaltsCount(t *testing.T) {
	soft := Conditions{Ca: Known(0)}
	without := firm(t, one("gellan-la", 0.4), soft).Modulus.Typical
	with := firm(t, []Dose{{Agent: "gellan-la", Share: 0.004}, {Agent: "ca-chloride", Share: 0.0004}}, soft).Modulus.Typical
	assert.Greater(t, with, 2*without)
}

// TestReadIsMonotone: more of one agent never reads as a softer set.
func TestReadIsMonotone(t *testing.T) {
	for _, a := range agent.All() {
		for _, milk := range []bool{false, true} {
			last := 0
			for pct := 0.01; pct < 20; pct *= 1.07 {
				v, err := Read(Recipe{Doses: one(a.ID, pct), Cond: Conditions{Milk: milk}})
				require.NoError(t, err)
				rank := setRank(v.Texture)
				require.GreaterOrEqual(t, rank, last, "%s at %g", a.ID, pct)
				last = rank
			}
		}
	}
}

// TestEveryCodeHasItsSentence reads the codes from the source, so that none can
// be forgotten, and refuses sentences without a code.
func TestEveryCodeHasItsSentence(t *testing.T) {
	raw, err := os.ReadFile("../../web/text/en/lab/gel.json")
	require.NoError(t, err)
	var text map[string]string
	require.NoError(t, json.Unmarshal(raw, &text))
	pan := map[string]string{} // the sentences of a conversion come with the first load
	raw, err = os.ReadFile("../../web/text/en/page.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(raw, &pan))
	known := map[string]bool{}
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		ast.Inspect(file, func(n ast.Node) bool {
			if spec, ok := n.(*ast.ValueSpec); ok && isCode(spec.Type) {
				for _, v := range spec.Values {
					s, err := strconv.Unquote(v.(*ast.BasicLit).Value)
					require.NoError(t, err)
					known["note."+s] = true
				}
			}
			return true
		})
	}
	require.Greater(t, len(known), 80)
	for k := range known {
		assert.NotEmpty(t, text[k]+pan[k], k)
	}
	for k := range text {
		if strings.HasPrefix(k, "note.") {
			assert.True(t, known[k], "sentence without a code: %s", k)
		}
	}
}

// isCode reports whether a constant is declared as a note.Code.
func isCode(x ast.Expr) bool {
	sel, ok := x.(*ast.SelectorExpr)
	return ok && sel.Sel.Name == "Code"
}

// TestSentencesGetTheirArguments: what a sentence has in braces, the notes of
// many readings and swaps bring along, and every word key has its text.
func TestSentencesGetTheirArguments(t *testing.T) {
	text := map[string]string{}
	for _, f := range []string{"lab/gel", "agent", "lab/agent"} {
		raw, err := os.ReadFile("../../web/text/en/" + f + ".json")
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(raw, &text))
	}
	seen := map[note.Code]bool{}
	check := func(ns ...note.Note) {
		for _, n := range ns {
			seen[n.Code] = true
			s := text["note."+string(n.Code)]
			require.NotEmpty(t, s, n.Code)
			for _, part := range strings.Split(s, "{")[1:] {
				name, _, _ := strings.Cut(part, "}")
				_, ok := n.Arg(name)
				assert.True(t, ok, "%s lacks {%s}", n.Code, name)
			}
			for _, a := range n.Args {
				assert.NotContains(t, []unit.Symbol{unit.MmolPerKg, unit.MolPerKg}, a.Unit, "%s: a cook weighs grams", n.Code)
				for _, key := range strings.Fields(a.Word) {
					assert.NotEmpty(t, text[key], "%s: %s", n.Code, key)
				}
			}
		}
	}
	conds := []Conditions{{}, {PH: Known(3), Brix: Known(15), ABV: Known(0.22), Ca: Known(4), K: Known(2), Na: Known(10), ServeC: Known(45), HeatMinutes: Known(4), Frozen: true, Tannin: true, Protease: true},
		{Milk: true, ServeC: Known(60)}, {PH: Known(6), Brix: Known(62), Fat: Known(0.1), ServeC: Known(5)}}
	for _, c := range conds {
		for _, a := range agent.All() {
			for _, target := range []agent.Texture{"", agent.Sliceable, agent.FluidGel, agent.Foam, agent.Air, agent.Thickened, agent.Sphere} {
				for _, pct := range []float64{0.05, 0.4, 1, 2, 8} {
					rec := Recipe{Doses: one(a.ID, pct), Made: TreatmentFor(target), Target: target, Cond: c}
					v, err := Read(rec)
					require.NoError(t, err)
					check(v.Notes...)
					check(v.Firmness.Notes...)
				}
			}
		}
		for _, from := range []Recipe{{Doses: one("gelatin", 2), Cond: c}, {Doses: one("lecithin", 0.6), Made: Aerated, Cond: c}, {Doses: one("agar", 1), Made: Sheared, Cond: c}} {
			for _, w := range []Wish{{}, {Vegan: true, Without: []agent.Word{"milk", "soy"}}, {Vegetarian: true, NoPork: true, OnlyShelf: true, Shelf: []ShelfItem{{Agent: "agar"}}}, {NoPork: true}, {Texture: agent.Foam, Without: []agent.Word{"milk"}}} {
				r, err := Swap(from, w)
				if err != nil {
					continue
				}
				for _, o := range r.Offers {
					for _, why := range o.Why {
						check(why.Note)
					}
					check(o.Cautions...)
					check(o.Method()...)
					for _, f := range o.Features {
						assert.NotEmpty(t, text[f.What], f.What)
						assert.NotEmpty(t, text[f.Was], f.Was)
						assert.NotEmpty(t, text[f.Is], f.Is)
						assert.True(t, f.Source.Valid())
					}
				}
				for _, x := range r.Refused {
					check(x.Why)
				}
			}
		}
	}
	t.Logf("%d different notes seen", len(seen))
	assert.Greater(t, len(seen), 50)
}

// What a pair does is said of both: 0.5 % of xanthan alone sets nothing.
func TestAPairIsCalledByBothNames(t *testing.T) {
	v, err := Read(Recipe{Doses: []Dose{{Agent: "xanthan", Share: 0.0025}, {Agent: "lbg", Share: 0.0025}}, Target: agent.SoftSet,
		Cond: Conditions{ServeC: Known(65), Frozen: true}})
	require.NoError(t, err)
	named := map[note.Code]string{}
	for _, n := range append(append(v.Notes, v.Firmness.Notes...), v.Cause) {
		for _, a := range n.Args {
			if a.Name == "agent" {
				named[n.Code] = a.Word
			}
		}
	}
	for _, c := range []note.Code{CodeInWindow, CodeLaw, CodeMelts} {
		assert.Equal(t, "agent.xanthan agent.lbg", named[c], c)
	}
	alone, err := Read(Recipe{Doses: []Dose{{Agent: "agar", Share: 0.009}}, Target: agent.FirmSet})
	require.NoError(t, err)
	assert.Equal(t, "agent.agar", alone.Notes[0].Args[0].Word)
}

// What is only weakened by fat is not said to be killed by it.
func TestFatWeakensWhatItDoesNotKill(t *testing.T) {
	for id, want := range map[agent.ID]note.Code{"sucrose-esters": CodeFatWeakens, "milkprotein": CodeFatWeakens, "lecithin": CodeFat, "eggwhite": CodeFat} {
		v, err := Read(Recipe{Doses: []Dose{{Agent: id, Share: 0.02}}, Made: Aerated, Target: agent.Foam, Cond: Conditions{Fat: Known(0.033)}})
		require.NoError(t, err)
		all := append(codes(v.Notes), v.Cause.Code)
		assert.Contains(t, all, want, id)
		for _, c := range []note.Code{CodeFat, CodeFatWeakens} {
			if c != want {
				assert.NotContains(t, all, c, id)
			}
		}
	}
}

// Calcium that sets an agent at once is for a bath; it is not stirred in.
func TestCalciumForAlginateIsNotStirredIn(t *testing.T) {
	for name, ca := range map[string]Given{"none": Known(0), "unknown": {}} {
		v, err := Read(Recipe{Doses: []Dose{{Agent: "alginate", Share: 0.01}}, Target: agent.FirmSet, Cond: Conditions{Ca: ca}})
		require.NoError(t, err)
		all := append(codes(v.Notes), v.Cause.Code)
		assert.Contains(t, all, CodeIonBath, name)
		assert.NotContains(t, all, CodeIonMissing, name)
		assert.NotContains(t, all, CodeIonUnknown, name)
	}
	v, err := Read(Recipe{Doses: []Dose{{Agent: "pectin-lm", Share: 0.01}}, Target: agent.FirmSet, Cond: Conditions{Ca: Known(0)}})
	require.NoError(t, err)
	assert.Contains(t, append(codes(v.Notes), v.Cause.Code), CodeIonMissing)
}

// A published air is of lime juice and water, half and half: pH 2.3.
func TestAirOfLimeJuice(t *testing.T) {
	lime := Recipe{Doses: []Dose{{Agent: "lecithin", Share: 0.003}}, Made: Aerated, Target: agent.Air, Cond: Conditions{PH: Known(2.3)}}
	v, err := Read(lime)
	require.NoError(t, err)
	assert.Equal(t, agent.Air, v.Texture)
	assert.NotContains(t, codes(v.Notes), CodePH)
	lime.Cond.PH = Known(1.8)
	v, err = Read(lime)
	require.NoError(t, err)
	assert.Contains(t, codes(v.Notes), CodePH)
}
