package foam

import (
	"encoding/json"
	"os"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

func english(t *testing.T) map[string]string {
	t.Helper()
	raw, err := os.ReadFile("../../web/text/en/lab/foam.json")
	require.NoError(t, err)
	text := map[string]string{}
	require.NoError(t, json.Unmarshal(raw, &text))
	return text
}

func TestEveryCodeHasASentence(t *testing.T) {
	text := english(t)
	seen := map[note.Code]bool{}
	for _, c := range Codes() {
		assert.NotEmpty(t, text["note."+string(c)], c)
		assert.False(t, seen[c], "%s twice", c)
		seen[c] = true
	}
	for key := range text {
		if len(key) > 5 && key[:5] == "note." {
			assert.True(t, seen[note.Code(key[5:])], "%s is no code", key)
		}
	}
	// Every code constant in the source is listed in Codes.
	raw, err := os.ReadFile("codes.go")
	require.NoError(t, err)
	for _, m := range regexp.MustCompile(`note\.Code = "([^"]+)"`).FindAllStringSubmatch(string(raw), -1) {
		assert.True(t, seen[note.Code(m[1])], "%s is not in Codes", m[1])
	}
	for _, k := range Types() {
		assert.NotEmpty(t, text["foam.type."+k.ID], k.ID)
		for _, w := range k.Shares {
			assert.NotEmpty(t, text[wordOf(w.ID)], w.ID)
		}
	}
	for _, h := range HoldRules() {
		assert.NotEmpty(t, text[h.Place])
	}
}

// Every argument in braces of a sentence is given by the notes that are emitted
// over a wide range of requests.
func TestSentencesGetTheirArguments(t *testing.T) {
	text := english(t)
	braces := regexp.MustCompile(`\{([a-z-]+)\}`)
	emitted := map[note.Code]bool{}
	look := func(n note.Note) {
		emitted[n.Code] = true
		for _, m := range braces.FindAllStringSubmatch(text["note."+string(n.Code)], -1) {
			_, ok := n.Arg(m[1])
			assert.True(t, ok, "%s lacks {%s}", n.Code, m[1])
		}
		for _, a := range n.Args {
			if a.Word != "" && a.Word[:5] == "foam." {
				assert.NotEmpty(t, text[a.Word], a.Word)
			}
		}
	}
	for _, n := range everything(t) {
		look(n)
	}
	for _, c := range Codes() {
		assert.True(t, emitted[c], "%s is never emitted here", c)
	}
}

// everything collects the notes of many requests, good and bad.
func everything(t *testing.T) []note.Note {
	t.Helper()
	var all []note.Note
	refused := func(err error) {
		var r *note.Refusal
		if assert.ErrorAs(t, err, &r) {
			all = append(all, r.Note)
		}
	}
	for _, k := range Types() {
		for _, temp := range []unit.Celsius{5, 10, 58, 65, 72, 90} {
			for _, extreme := range []float64{0, 0.2, 1, 5} {
				f := Formula{
					Type: k.ID, Liquid: 400, PH: 4.6 - extreme/2, RawEgg: true, Seeds: true, EnzymeFruit: true, FishGelatin: true,
					Puree: unit.Fraction(0.15 * extreme), EggWhite: unit.Fraction(0.05 * extreme), Egg: unit.Fraction(0.01 * extreme),
					Base: Base{Temperature: temp, Water: unit.Range{Low: 0.45, Typical: 0.5, High: 0.55}, MilkFat: unit.Fraction(0.05 * extreme), Fibre: unit.Fraction(0.02 * extreme * 0.9), Ethanol: unit.Fraction(0.025 * extreme), Salt: 0.02},
				}
				for _, w := range k.Doses {
					f.Doses = append(f.Doses, Dose{w.ID, unit.Mass(w.Amount.Typical * 400 * extreme)})
				}
				f.Doses = append(f.Doses, Dose{"sugar", 1})
				if f.Base.MilkFat > 0.2 {
					f.Base.Water = unit.Exactly(0.5)
				}
				v, err := Check(f)
				if err != nil {
					refused(err)
					continue
				}
				all = append(all, v.Notes...)
				all = append(all, Method(f, 400, 2)...)
			}
		}
	}
	plan := func(change func(*Request)) {
		r := Request{Formula: vegetable(), Covers: 38, Portion: Portion{Size: 40}, Shelf: shelf(0, 2, 1)}
		change(&r)
		p, err := Make(r)
		if err != nil {
			refused(err)
			return
		}
		all = append(all, p.Notes...)
		for _, a := range p.Order {
			all = append(all, note.New(note.Reason, StepFill, note.Num("mass", float64(p.Fillings[a.Filling].Mass), unit.Gram)))
		}
	}
	for _, change := range []func(*Request){
		func(*Request) {},
		func(r *Request) { r.Covers = 300 },
		func(r *Request) { r.Formula, r.Covers = hotStarch(), 300 },
		func(r *Request) { r.Covers = 3 },
		func(r *Request) { r.Covers = 0; r.Base = 60 },
		func(r *Request) { r.Covers = 0 },
		func(r *Request) { r.Covers = -5 },
		func(r *Request) { r.Covers = 5000 },
		func(r *Request) { r.Portion.Size = 0 },
		func(r *Request) { r.Shelf = nil },
		func(r *Request) { r.Shelf[1].MadeForN2O = false },
		func(r *Request) { r.Gas = OtherGas },
		func(r *Request) { r.Charges = 2 },
		func(r *Request) { r.Charges = 9 },
		func(r *Request) { r.Formula.Type = "spume" },
		func(r *Request) { r.Tests = Measured{2.2} },
		func(r *Request) { r.Tests = Measured{11} },
		func(r *Request) { r.Formula.Base.Oil = 0.6 },
		func(r *Request) { r.Formula.Base.Density = unit.Density(nan()) },
		func(r *Request) { r.Formula.Base.Water = unit.Exactly(0.6); r.Formula.Puree = 0.6 },
		func(r *Request) { r.Shelf = shelf(0, 1, 0); r.Shelf[1].WorkingPressure = 2e5 },
		func(r *Request) { r.Formula.Base.Temperature = 30 },
		func(r *Request) {
			r.Formula = Formula{Type: "egg-white", EggWhite: 0.3, Base: Base{Temperature: 58, Water: unit.Exactly(0.9)}}
			r.Covers, r.Base, r.Shelf = 0, 980, shelf(0, 0, 1)
		},
		func(r *Request) {
			r.Formula = Formula{Type: "egg-white", EggWhite: 0.3, Base: Base{Temperature: 5, Water: unit.Exactly(0.9)}}
			r.Covers, r.Base, r.Shelf = 0, 980, shelf(0, 0, 1)
		},
		func(r *Request) {
			r.Formula = Formula{Type: "cream", Liquid: 400, Doses: []Dose{{"gelatin", 2}}, Base: Base{Temperature: 5, Water: unit.Exactly(0.7), MilkFat: 0.2, Salt: 0.04}}
		},
		func(r *Request) {
			r.Formula = Formula{Type: "oil-gelatin", Base: Base{Temperature: 5, Water: unit.Exactly(0.59), Oil: 0.35}}
			r.Shelf[1].Line = 560
			r.Covers, r.Base, r.Shelf[2].Count = 0, 530, 0
		},
		func(r *Request) { r.Covers, r.Base, r.Shelf = 0, 450, shelf(0, 0, 1) },
		func(r *Request) { r.Shelf[1].Line = 700 },
	} {
		plan(change)
	}
	for _, f := range []Formula{
		{Type: "gelatin", Liquid: 400, Doses: []Dose{{"gelatin", 9}}, Base: Base{Temperature: 5, Water: unit.Exactly(0.8), Ethanol: 0.1}},
		{Type: "gelatin", Base: Base{Temperature: 5, Water: unit.Exactly(0.7), Ethanol: 0.3}},
		{Type: "cream", Base: Base{Temperature: 5, Water: unit.Exactly(0.5), MilkFat: 0.45}},
		{Type: "starch", Liquid: 400, Doses: []Dose{{"gelatin", 3.6}}, Base: Base{Temperature: 60, Water: unit.Exactly(0.7)}},
	} {
		v, err := Check(f)
		if err != nil {
			refused(err)
			continue
		}
		all = append(all, v.Notes...)
	}
	advise := func(f Fill) {
		a, err := Advise(vegetable(), f, FoodN2O, nil)
		if err != nil {
			refused(err)
			return
		}
		all = append(all, a.Notes...)
	}
	half := sized(500)
	advise(Fill{Siphon: half, Mass: 530})
	advise(Fill{Siphon: half, Mass: 800})
	half.WorkingPressure = 15e5
	advise(Fill{Siphon: half, Mass: 500})
	half.WorkingPressure = 2e5
	advise(Fill{Siphon: half, Mass: 500})
	half.WorkingPressure = 0
	st, err := Settle(Fill{Siphon: half, Base: Base{Temperature: 5}, Mass: 500, Charges: 20})
	require.NoError(t, err)
	all = append(all, st.Notes...)
	_, err = CustomSiphon(Siphon{Nominal: 4000, MadeForN2O: true})
	refused(err)
	for i := range []int{0, 1} {
		f := vegetable()
		f.Base.Temperature = 70 * unit.Celsius(i)
		all = append(all, Method(f, 400, 1)...)
	}
	all = append(all, note.New(note.Reason, StepRechill))
	return all
}

func nan() float64 { zero := 0.0; return zero / zero }
