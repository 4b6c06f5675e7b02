package screen

import (
	"go/ast"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/formula"
	"tremblant/internal/unit"
)

// A menu that lacks the unit of an amount shows nothing. So each one has all
// units that an amount of its input may come with: from a pasted line, from a
// figure with its unit behind it, or from a record.
func TestMenusHaveEveryUnit(t *testing.T) {
	for menu, kinds := range map[string][]unit.Kind{
		"units-liquid": {unit.KindMass, unit.KindVolume},
		"units-left":   {unit.KindMass, unit.KindVolume, unit.KindSheets},
		"units-dose":   {unit.KindMass, unit.KindDose, unit.KindSheets},
		"units-loss":   {unit.KindMass},
		"units-boil":   {unit.KindMass},
	} {
		offered := optionsOf(t, menu)
		for _, u := range symbols(t) {
			if slices.Contains(kinds, u.Kind()) {
				assert.Contains(t, offered, string(u), menu)
			}
		}
		for _, o := range offered {
			u := unit.Symbol(strings.TrimSuffix(o, formula.OfBatch))
			assert.True(t, u.Kind() != unit.KindNone || u == unit.Minute, "%s: nothing reads %s", menu, o)
		}
	}
}

// Every unit and basis that a pasted line is read with stands in the menu of its row.
func TestPastedUnitsAreInTheMenu(t *testing.T) {
	liquid, dose := optionsOf(t, "units-liquid"), optionsOf(t, "units-dose")
	k := someone(t)
	for _, u := range symbols(t) {
		for _, basis := range []string{"", "of the batch "} {
			k.press("new")
			k.typing("lines", "2 "+string(u)+" "+basis+"agar\n3 "+string(u)+" milk")
			k.press("read-lines")
			if got := k.app.pan.fields["dose-1-amount"]; got != "" {
				assert.Contains(t, dose, k.app.pan.fields["dose-1-unit"], "%s %s", u, basis)
			}
			if got := k.app.pan.fields["part-1-amount"]; got != "" {
				assert.Contains(t, liquid, k.app.pan.fields["part-1-unit"], u)
			}
		}
	}
}

func optionsOf(t *testing.T, menu string) (out []string) {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("../../web/parts", menu+".html"))
	require.NoError(t, err)
	for _, m := range regexp.MustCompile(`<option value="([^"]*)"`).FindAllStringSubmatch(string(raw), -1) {
		out = append(out, m[1])
	}
	require.NotEmpty(t, out)
	return out
}

// symbols are the units that amounts are typed in, as the package declares them.
func symbols(t *testing.T) (out []unit.Symbol) {
	t.Helper()
	for _, file := range parsed(t, "../unit") {
		ast.Inspect(file, func(n ast.Node) bool {
			lit, ok := n.(*ast.BasicLit)
			if !ok || lit.Kind != token.STRING {
				return true
			}
			text, err := strconv.Unquote(lit.Value)
			require.NoError(t, err)
			if u := unit.Symbol(text); u.Kind() != unit.KindNone && !slices.Contains(out, u) {
				out = append(out, u)
			}
			return true
		})
	}
	require.Greater(t, len(out), 12)
	return out
}
