package screen

import (
	"fmt"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/book"
)

func (k *kitchen) saveAs(name, tags, agent string, more ...string) {
	k.press("new")
	k.typing("name", name, "tags", tags, "part-1-name", "water", "part-1-amount", "100", "dose-1-name", agent, "dose-1-amount", "1", "batch-liquid", "100")
	k.typing(more...)
	k.time += 1000
	k.press("save")
}

func (k *kitchen) tick(text string) {
	k.t.Helper()
	i := slices.Index(k.column("chip", "text"), text)
	require.GreaterOrEqual(k.t, i, 0, "no filter %q among %q", text, k.column("chip", "text"))
	name := fmt.Sprintf("chip-%d-on", i+1)
	on := "1"
	if k.paper.values[name] != "" {
		on = ""
	}
	k.typing(name, on)
}

func TestFilters(t *testing.T) {
	k := someone(t)
	assert.False(t, k.shown("chips"))
	k.saveAs("One", "cold, Été", "agar")
	k.saveAs("Two", "cold", "agar", "lab-swap-texture", "fluid-gel")
	k.saveAs("Three", "été", "gelatin")
	assert.True(t, k.shown("chips"))
	diets := []string{"agents without pork", "vegan agents", "vegetarian agents"}
	assert.ElementsMatch(t, append(diets, "agar", "gelatin", "fluid gel", "cold", "été"), k.column("chip", "text"), "tags are the same in any writing")

	k.tick("agar")
	assert.Equal(t, []string{"Two", "One"}, k.names())
	assert.Equal(t, "agar", k.paper.texts["chips-sum"])
	assert.Equal(t, "agar", k.paper.texts["chip-1-text"], "what is chosen stands first")
	k.tick("été")
	assert.Equal(t, []string{"One"}, k.names())
	assert.Equal(t, "Formulas: 1 of 3", k.paper.texts["book-count"])
	k.typing("find", "two")
	assert.Empty(t, k.names(), "words and filters go together")
	k.typing("find", "")
	k.tick("agar")
	assert.Equal(t, []string{"Three", "One"}, k.names())
	k.press("chips-off")
	assert.Len(t, k.names(), 3)
	assert.Empty(t, k.paper.texts["chips-sum"])
	k.tick("fluid gel")
	assert.Equal(t, []string{"Two"}, k.names())
	k.press("delete", 1)
	assert.Len(t, k.names(), 2, "a filter that finds nothing any more is let go")
}

func TestBin(t *testing.T) {
	k := someone(t)
	k.saveAs("One", "", "agar")
	k.saveAs("Two", "", "agar")
	assert.False(t, k.shown("bin"))
	k.press("delete", 2)
	assert.True(t, k.shown("bin"))
	assert.Equal(t, []string{"One"}, k.column("binned", "name"))
	assert.Equal(t, []string{"deleted 2026-05-04"}, k.column("binned", "what"))
	k.press("restore", 1)
	assert.False(t, k.shown("bin"))
	assert.ElementsMatch(t, []string{"One", "Two"}, k.names())

	k.press("delete", 1)
	k.press("purge")
	assert.True(t, k.shown("purge-sure"), "it asks first")
	assert.Contains(t, k.paper.texts["purge-ask"], "trials: 1")
	k.press("purge-no")
	assert.False(t, k.shown("purge-sure"))
	assert.Equal(t, 1, k.paper.rows["binned"])
	k.press("purge-yes")
	assert.False(t, k.shown("bin"))
	assert.Len(t, k.names(), 1)
	again := returning(t, k.store.Connect(), "")
	assert.Len(t, again.names(), 1)
	assert.False(t, again.shown("bin"))
}

// A clock that was set too late, and put right since, keeps nothing in the bin.
func TestBinIsEmptiedOfWhatALateClockHasDeleted(t *testing.T) {
	k := someone(t)
	k.saveAs("One", "", "agar")
	k.time += 400 * day
	k.press("delete", 1)
	k.time -= 400 * day
	k.press("purge-yes")
	assert.False(t, k.shown("bin"))
	assert.Empty(t, returning(t, k.store.Connect(), "").column("binned", "name"))
}

// manyTags are few enough that, of the fewest formulas tested, more carry each
// than the page lists, and more than the page has chips for.
const manyTags = 30

// many is a book of n formulas, stored and read back as the page does it.
func many(t testing.TB, n int) *kitchen {
	t.Helper()
	k := someone(t)
	k.saveAs("seed", "cold", "agar")
	e, err := k.app.book.store.Open(t.Context(), k.app.book.open.id)
	require.NoError(t, err)
	f := book.File{}
	for i := range n {
		one := e
		one.ID, one.Name = fmt.Sprintf("many-%05d", i), fmt.Sprintf("Formula %05d", i)
		one.Tags = []string{fmt.Sprintf("tag %d", i%manyTags)}
		one.Saved += int64(i)
		f.Revisions = append(f.Revisions, one)
	}
	text, err := f.Encode()
	require.NoError(t, err)
	k.take("many.json", string(text))
	require.Equal(t, listedItems, k.paper.rows["incoming"])
	assert.Contains(t, k.paper.texts["import-more"], fmt.Sprintf("and %d more", n-listedItems))
	k.press("import-apply")
	return k
}

func TestTenThousandFormulas(t *testing.T) {
	n := 10_000
	if runtime.GOOS == "js" {
		n = 2_000 // Node stands in for the browser here, which has a benchmark of its own
	}
	k := many(t, n)
	assert.Equal(t, listed, k.paper.rows["entry"], "the page stays short")
	assert.Equal(t, listedChips, k.paper.rows["chip"])
	start := time.Now()
	last := fmt.Sprintf("Formula %05d", n-1)
	k.typing("find", last)
	assert.Equal(t, []string{last}, k.names())
	assert.Less(t, time.Since(start), time.Second, "a keystroke; the benchmark has the figure")
	k.typing("find", "")
	tagged := (n + manyTags - 1) / manyTags
	require.Greater(t, tagged, listed, "fewer would show nothing of a list that is cut short")
	k.tick("tag 0")
	assert.Equal(t, listed, k.paper.rows["entry"])
	assert.Equal(t, fmt.Sprintf("Formulas: %d of %d", tagged, n+1), k.paper.texts["book-count"])
}

func BenchmarkSearchKeystroke(b *testing.B) {
	k := many(b, 10_000)
	for i := 0; b.Loop(); i++ {
		k.app.Input("find", fmt.Sprintf("formula %d", i%100))
		k.app.Patch()
	}
}

// A diet is offered only for what every agent of a formula suits by its record.
func TestFilterByDiet(t *testing.T) {
	k := someone(t)
	for name, agents := range map[string][]string{
		"plants":        {"agar", "xanthan"},
		"with egg":      {"agar", "egg white"},
		"with gelatin":  {"gelatin", "agar"},
		"with a secret": {"agar", "grandmother's powder"},
		"no agent":      {""},
	} {
		k.press("new")
		k.press("add-dose")
		k.typing("name", name, "part-1-name", "juice", "part-1-amount", "200", "batch-liquid", "200")
		for i, a := range agents {
			if a != "" {
				k.typing("dose-"+strconv.Itoa(i+1)+"-name", a, "dose-"+strconv.Itoa(i+1)+"-amount", "1")
			}
		}
		k.time++
		k.press("save")
	}
	for diet, want := range map[string][]string{
		"vegan agents":        {"plants"},
		"vegetarian agents":   {"plants", "with egg"},
		"agents without pork": {"plants", "with egg"},
	} {
		k.tick(diet)
		assert.ElementsMatch(t, want, k.names(), diet)
		k.press("chips-off")
	}
	k.tick("vegan agents")
	k.tick("xanthan gum")
	assert.Equal(t, []string{"plants"}, k.names(), "together with an agent")
}

func TestDishAndStation(t *testing.T) {
	k := someone(t)
	k.twoAgents()
	k.typing("dish", "quail, cold", "station", "Larder")
	k.press("save")
	k.typing("station", "pastry")
	k.press("save")
	again := returning(t, k.store.Connect(), "")
	again.typing("find", "quail pastry")
	assert.Equal(t, []string{"Quince gel"}, again.names())
	again.press("open", 1)
	assert.Equal(t, "quail, cold", again.paper.values["dish"])
	assert.Equal(t, "pastry", again.paper.values["station"])
	again.press("kept-pan")
	assert.Contains(t, again.paper.texts["version-1-what"], "Larder → pastry")
	again.typing("dish", strings.Repeat("x", 121))
	assert.NotEmpty(t, again.paper.says["dish"])
}
