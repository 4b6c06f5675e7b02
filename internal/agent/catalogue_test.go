package agent

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/source"
	"tremblant/internal/unit"
)

// TestEveryFigureHasASource walks every record by reflection: a figure, a span
// or a group that holds anything must name a known source.
func TestEveryFigureHasASource(t *testing.T) {
	for n := 1; n <= CiteCount(); n++ {
		assert.True(t, Cite(n).Ref().Valid(), "source %d", n)
	}
	for _, a := range All() {
		checkCited(t, reflect.ValueOf(*a), string(a.ID))
		assert.True(t, a.Identity.Ref().Valid(), "%s: identity", a.ID)
		assert.True(t, a.Feel.Cite.Ref().Valid(), "%s: feel", a.ID)
		assert.True(t, a.Disperse.Cite.Ref().Valid(), "%s: disperse", a.ID)
		if a.Job != Sets {
			assert.True(t, a.Stands.Cite.Ref().Valid(), "%s: stands", a.ID)
		}
		if a.Setting.Kind != NoSet {
			assert.True(t, a.Setting.Cite.Ref().Valid(), "%s: setting", a.ID)
		}
	}
	for _, p := range Pairs() {
		checkCited(t, reflect.ValueOf(p), string(p.A+"+"+p.B))
		assert.True(t, p.Cite.Ref().Valid())
	}
	for _, s := range CalciumSalts {
		checkCited(t, reflect.ValueOf(s), string(s.Key))
	}
	for _, s := range SheetGrades {
		checkCited(t, reflect.ValueOf(s), string(s.Key))
	}
}

func checkCited(t *testing.T, v reflect.Value, path string) {
	t.Helper()
	switch x := v.Interface().(type) {
	case Fig:
		if x.Low != 0 || x.Typical != 0 || x.High != 0 || x.Cite != 0 {
			require.True(t, x.Ref().Valid(), "%s: figure without source", path)
			require.True(t, x.Range().Valid(), "%s: figures out of order %v", path, x)
		}
		return
	case Span:
		if x.From != 0 || x.To != 0 || x.Cite != 0 {
			require.True(t, x.Cite.Ref().Valid(), "%s: span without source", path)
			require.Less(t, x.From, x.To, path)
		}
		return
	case Modifier:
		require.True(t, x.Cite.Ref().Valid(), "%s: modifier without source", path)
		checkPoints(t, &x, path)
	case Warning:
		require.True(t, x.Cite.Ref().Valid(), "%s: warning without source", path)
	case Need:
		require.True(t, x.Amount.Known(), "%s: need without source", path)
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			checkCited(t, v.Field(i), path+"."+v.Type().Field(i).Name)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			checkCited(t, v.Index(i), fmt.Sprintf("%s[%d]", path, i))
		}
	}
}

// checkPoints: a table that names a work which was read says of each point
// whether the work gives it, and the others say that they are from memory.
func checkPoints(t *testing.T, m *Modifier, path string) {
	t.Helper()
	own := map[float64]bool{}
	for _, x := range m.Read {
		own[x] = true
		require.True(t, slices.ContainsFunc(m.Points, func(p Point) bool { return p.X == x }), "%s: no point at %g", path, x)
	}
	filled := m.Filled.Ref()
	if m.Filled != 0 {
		require.True(t, filled.Valid() && filled.Tag.RuleOfThumb(), "%s: what was filled in is no published figure", path)
	}
	for _, p := range m.Points {
		ref := m.At(p.X).Ref()
		require.True(t, ref.Valid(), "%s: point %g without source", path, p.X)
		if !p.Neutral() && !own[p.X] {
			require.True(t, ref.Tag.RuleOfThumb(), "%s: point %g passes for %s", path, p.X, ref.Tag)
		}
	}
}

// TestPointsKeepTheirSource: between a read point and one without effect the
// work speaks, beside a filled one it does not.
func TestPointsKeepTheirSource(t *testing.T) {
	sugar := agar.Mods[1]
	require.Equal(t, ByBrix, sugar.By)
	for x, want := range map[float64]source.Tag{0: source.Published, 15: source.Published, 30: source.Published, 35: source.Memory, 40: source.Memory, 60: source.Memory, 90: source.Memory} {
		assert.Equal(t, want, sugar.At(x).Ref().Tag, "%g °Bx", x)
	}
	heat := agar.Mods[0]
	assert.Equal(t, source.Published, heat.At(30).Ref().Tag, "flat from 10 to 50 °C in the work")
	assert.Equal(t, source.Memory, heat.At(60).Ref().Tag)
	assert.Contains(t, heat.At(60).Ref().Text, "36(6)", "the work that says which way it goes is still named")
	for _, m := range gelatin.Mods {
		assert.Equal(t, source.Memory, m.At(m.Points[1].X-1e-9).Ref().Tag, "the work gives directions only")
	}
}

// namesOf is what an agent is called in typed lists.
func namesOf(t *testing.T, id ID) string {
	t.Helper()
	i := slices.Index(IDs(), id)
	require.GreaterOrEqual(t, i, 0, "%s is not in names.go", id)
	return names[i].names
}

// TestEveryRecordIsListed: a record that the list lacks would be in no answer.
func TestEveryRecordIsListed(t *testing.T) {
	list, err := os.ReadFile("catalogue.go")
	require.NoError(t, err)
	files, err := filepath.Glob("catalogue_*.go")
	require.NoError(t, err)
	records := 0
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, m := range regexp.MustCompile(`(?m)^var (\w+) = Agent\{`).FindAllStringSubmatch(string(text), -1) {
			records++
			assert.Regexp(t, "&"+m[1]+",", string(list), "%s in %s is not in the list of catalogue.go", m[1], file)
		}
	}
	assert.Len(t, All(), records)
}

// TestRecordsAreComplete checks what every record must say of itself.
func TestRecordsAreComplete(t *testing.T) {
	seen := map[ID]bool{}
	for _, a := range All() {
		assert.False(t, seen[a.ID], "id %s twice", a.ID)
		seen[a.ID] = true
		assert.NotEmpty(t, namesOf(t, a.ID), a.ID)
		assert.NotEmpty(t, a.Origin, a.ID)
		assert.NotEmpty(t, a.Windows, a.ID)
		assert.NotZero(t, a.Job, a.ID)
		assert.True(t, a.Hydrate.C.Known(), "%s: how warm", a.ID)
		assert.True(t, a.Hydrate.Minutes.Known(), "%s: how long", a.ID)
		if a.Vegan == Yes {
			assert.Equal(t, Yes, a.Vegetarian, a.ID)
			assert.Equal(t, Yes, a.PorkFree, a.ID)
			for _, al := range a.Allergens {
				assert.NotContains(t, []Word{"milk", "egg", "fish"}, al, a.ID)
			}
		}
		if a.Job != Sets {
			assert.True(t, a.Stands.PH.Known(), "%s: pH", a.ID)
			assert.Less(t, a.Stands.ABVWarn.Typical, a.Stands.ABVMax.Typical, a.ID)
		}
		if len(a.Models) > 0 {
			assert.True(t, a.Feel.Break.Known(), "%s: strain at break", a.ID)
		}
		for _, n := range a.Stands.Needs {
			assert.Positive(t, n.Amount.Low, a.ID)
		}
		for _, w := range a.Windows {
			assert.Positive(t, w.Low, "%s %s", a.ID, w.Texture)
			assert.Contains(t, Textures, w.Texture)
		}
		checkModels(t, string(a.ID), a.Models)
		for _, m := range a.Mods {
			checkModifier(t, string(a.ID), m)
		}
	}
	for _, p := range Pairs() {
		name := string(p.A + "+" + p.B)
		require.NotNil(t, ByID(p.A), name)
		require.NotNil(t, ByID(p.B), name)
		assert.True(t, p.Share.Low > 0 && p.Share.High < 1, name)
		assert.True(t, p.Synergy.Known() || len(p.Windows) > 0 || len(p.Models) > 0, name)
		checkModels(t, name, p.Models)
	}
}

func checkModels(t *testing.T, name string, models []Model) {
	t.Helper()
	for _, m := range models {
		assert.Less(t, m.C0.High, m.Ref*1.01, "%s: reference dose must be above the critical one", name)
		assert.True(t, m.Span.Known() && m.Span.From > m.C0.Typical, "%s: span must start above the critical dose", name)
		assert.Positive(t, m.A.Low, name)
		assert.Positive(t, m.N.Low, name)
	}
}

// checkModifier also bounds the points, which the firmness law keeps room for.
func checkModifier(t *testing.T, name string, m Modifier) {
	t.Helper()
	require.GreaterOrEqual(t, len(m.Points), 2, name)
	require.LessOrEqual(t, len(m.Points), 8, name)
	for i, p := range m.Points {
		assert.True(t, p.Low > 0 && p.Low <= p.Typical && p.Typical <= p.High, "%s by %d at %g", name, m.By, p.X)
		if i > 0 {
			assert.Greater(t, p.X, m.Points[i-1].X, name)
		}
	}
}

// TestWindowsRise: within one medium, firmer textures need more.
func TestWindowsRise(t *testing.T) {
	order := []Texture{SoftSet, FirmSet, Sliceable}
	check := func(name string, w func(Texture, Medium) (Window, bool)) {
		for _, m := range []Medium{Water, Milk} {
			last := 0.0
			for _, x := range order {
				if got, ok := w(x, m); ok {
					assert.Greater(t, got.Typical, last, "%s %s", name, x)
					last = got.Typical
				}
			}
		}
	}
	for _, a := range All() {
		check(string(a.ID), a.Window)
	}
	for i := range Pairs() {
		p := &Pairs()[i]
		check(string(p.A+"+"+p.B), p.Window)
	}
}

// TestTextIsComplete: every word of every record has its text.
func TestTextIsComplete(t *testing.T) {
	text := map[string]string{}
	for _, name := range []string{"agent.json", "lab/agent.json", "lab/lab-help.json"} { // the names come with the first load
		raw, err := os.ReadFile("../../web/text/en/" + name)
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(raw, &text))
	}
	need := func(group string, words ...Word) {
		for _, w := range words {
			assert.NotEmpty(t, text[group+string(w)], group+string(w))
		}
	}
	for _, x := range Textures {
		need("texture.", Word(x))
	}
	for _, a := range All() {
		need("agent.", Word(a.ID))
		need("agent-is.", Word(a.ID))
		need("origin.", a.Origin...)
		need("allergen.", a.Allergens...)
		need("allergen.", a.MayHold...)
		need("disperse.", a.Disperse.Way)
		need("feel.", a.Feel.Words...)
		need("clarity.", a.Feel.Clarity)
		for _, s := range a.Safety {
			need("safety.", s.Code)
		}
	}
	for _, p := range Pairs() {
		need("feel.", p.Feel.Words...)
		need("clarity.", p.Feel.Clarity)
		need("pair.", p.Effect)
	}
	for _, s := range CalciumSalts {
		need("salt.", s.Key)
	}
	for _, s := range SheetGrades {
		need("sheet.", s.Key)
	}
}

// TestCalciumSalts recomputes the calcium of each hydrate from molar masses
// (IUPAC 2021 standard atomic weights: Ca 40.078, Cl 35.45, H 1.008, C 12.011,
// O 15.999).
func TestCalciumSalts(t *testing.T) {
	const h, c, o, cl = 1.008, 12.011, 15.999, 35.45
	anhydrous := map[ID]float64{
		"ca-chloride":  MolarCa + 2*cl,
		"ca-lactate":   6*c + 10*h + MolarCa + 6*o,
		"ca-gluconate": 12*c + 22*h + MolarCa + 14*o,
	}
	want := map[Word]float64{ // % calcium and grams that equal 1 g of anhydrous chloride, as printed
		"cacl2": 36.11, "cacl2-2h2o": 27.26, "cacl2-6h2o": 18.29, "lactate": 18.37,
		"lactate-3h2o": 14.72, "lactate-5h2o": 13.00, "gluconate-h2o": 8.94,
	}
	equal := map[Word]float64{
		"cacl2": 1, "cacl2-2h2o": 1.32, "cacl2-6h2o": 1.97, "lactate": 1.97, "lactate-3h2o": 2.45, "lactate-5h2o": 2.78, "gluconate-h2o": 4.04,
	}
	base, _ := SaltByKey("cacl2")
	for key, pct := range want {
		s, ok := SaltByKey(key)
		require.True(t, ok)
		molar := anhydrous[s.Agent] + float64(s.Hydrated)*(2*h+o)
		assert.InDelta(t, molar, s.Molar, 0.02, key)
		assert.InDelta(t, MolarCa/molar, s.Ca.Typical, 0.00006, key)
		assert.InDelta(t, pct/100, s.Ca.Typical, 0.00006, key)
		assert.InDelta(t, equal[key], s.EqualTo(base), 0.006, key)
	}
	// 0.5 % w/v anhydrous chloride is 45 mmol/L; 0.5 % dihydrate 34; 1 % lactate pentahydrate 32.
	for key, want := range map[Word][2]float64{"cacl2": {5, 45}, "cacl2-2h2o": {5, 34}, "lactate-5h2o": {10, 32}} {
		s, _ := SaltByKey(key)
		assert.InDelta(t, want[1], want[0]*s.Ca.Typical/MolarCa*1000, 0.6, key)
	}
}

func TestFind(t *testing.T) {
	cases := []struct {
		text string
		want ID
	}{
		{"agar", "agar"}, {"Agar-Agar", "agar"}, {" agar  agar ", "agar"}, {"kanten", "agar"}, {"E406", "agar"}, {"e 406", "agar"},
		{"gélatine", "gelatin"}, {"GELATINA", "gelatin"}, {"Blattgelatine", "gelatin"},
		{"gellan gum", "gellan-la"}, {"high acyl gellan", "gellan-ha"}, {"κ-carrageenan", "carr-kappa"}, {"kappa", "carr-kappa"},
		{"Johannisbrotkernmehl", "lbg"}, {"goma garrofín", "lbg"}, {"pectine NH", "pectin-lma"}, {"xanthane", "xanthan"},
		{"fécule de maïs", "corn-starch"}, {"blanc d'œuf en poudre", "eggwhite"}, {"gum arabic", "arabic"}, {"E 461", ""}, // two classes of methylcellulose
		{"E 418", ""}, {"water", ""}, {"", ""}, {"---", ""}, {strings.Repeat("a", 500), ""},
	}
	for _, c := range cases {
		got := Find(c.text)
		if c.want == "" {
			assert.Nil(t, got, c.text)
		} else if assert.NotNil(t, got, c.text) {
			assert.Equal(t, c.want, got.ID, c.text)
		}
	}
}

// TestNamesAreUnambiguous: no name points at two records, and each is found.
func TestNamesAreUnambiguous(t *testing.T) {
	owner := map[string]ID{}
	for _, a := range All() {
		assert.Same(t, a, Find(string(a.ID)))
		for name := range strings.SplitSeq(namesOf(t, a.ID), "|") {
			if was, twice := owner[fold(name)]; twice {
				assert.Equal(t, a.ID, was, name)
			}
			owner[fold(name)] = a.ID
			if got := Find(name); assert.NotNil(t, got, name) {
				assert.Equal(t, a.ID, got.ID, name)
			}
		}
	}
}

func TestNearest(t *testing.T) {
	cases := []struct {
		text string
		want ID
	}{{"ager", "agar"}, {"gelatn", "gelatin"}, {"xantan", "xanthan"}, {"metylcellulose", "mc"}, {"iotta", "carr-iota"}, {"lecitin", "lecithin"}, {"kojnac", "konjac"}}
	for _, c := range cases {
		got := Nearest(c.text, 3)
		if assert.NotEmpty(t, got, c.text) {
			assert.Equal(t, c.want, got[0].Agent.ID, c.text)
		}
		assert.LessOrEqual(t, len(got), 3)
	}
	assert.Empty(t, Nearest("", 3))
	assert.Empty(t, Nearest("zzzzzzzzqqqq", 3))
	assert.Empty(t, Nearest("agar", 0))
}

func TestEdits(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"a", "", 1}, {"", "ab", 2}, {"agar", "agra", 1}, {"kitten", "sitting", 3}, {"abc", "abc", 0}} {
		assert.Equal(t, c.want, edits(c.a, c.b), c.a+"/"+c.b)
		assert.Equal(t, c.want, edits(c.b, c.a), c.b+"/"+c.a)
	}
}

func TestPairOf(t *testing.T) {
	assert.NotNil(t, PairOf("lbg", "xanthan"))
	assert.Same(t, PairOf("lbg", "xanthan"), PairOf("xanthan", "lbg"))
	assert.Nil(t, PairOf("agar", "agar"))
	assert.Nil(t, ByID("nothing"))
}

func TestWindowFallsBackToWater(t *testing.T) {
	milk, ok := ByID("carr-kappa").Window(FirmSet, Milk)
	require.True(t, ok)
	assert.Equal(t, 0.25, milk.Typical)
	plain, ok := ByID("agar").Window(FirmSet, Milk)
	require.True(t, ok)
	assert.Equal(t, Water, plain.Medium)
	_, ok = ByID("xanthan").Window(Sliceable, Water)
	assert.False(t, ok)
	assert.Equal(t, unit.Range{Low: 0.6, Typical: 0.9, High: 1.2}, plain.Range())
}

func FuzzFind(f *testing.F) {
	for _, s := range []string{"agar", "gélatine", "E 440(i)", "\xff\xfe", "κ", "ß"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a := Find(s)
		near := Nearest(s, 5)
		if a != nil && len(near) > 0 && near[0].Edits == 0 {
			if Find(string(near[0].Agent.ID)) == nil {
				t.Fatal("a suggestion that cannot be found")
			}
		}
		if len(near) > 5 {
			t.Fatal("too many suggestions")
		}
	})
}

func BenchmarkNearest(b *testing.B) {
	for b.Loop() {
		Nearest("caragenan kapa", 5)
	}
}

func ExampleFind() {
	a := Find("agar-agar en bloc")
	fmt.Println(a == nil)
	a = Find("Agar en poudre")
	w, _ := a.Window(FluidGel, Water)
	fmt.Println(a.ID, w.Typical, w.Ref().Tag)
	// Output:
	// true
	// agar 0.9 practice
}

// TestNamesAndRecordsAreTheSameAgents: names stand apart from the records.
func TestNamesAndRecordsAreTheSameAgents(t *testing.T) {
	require.Len(t, IDs(), len(All()))
	for i, a := range All() {
		assert.Equal(t, a.ID, IDs()[i])
		found := Find(string(a.ID))
		require.NotNil(t, found, a.ID)
		assert.Same(t, a, found)
	}
}

// A name is looked up several times at every keystroke.
func BenchmarkFindUnknown(b *testing.B) {
	for b.Loop() {
		Find("black quince juice")
	}
}
