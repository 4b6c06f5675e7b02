package screen

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/agent"
)

// markup is what the page's HTML offers to the program; numbers of rows are "#".
type markup struct {
	ids     map[string]bool // id → hidden
	inputs  map[string]bool // names
	figures map[string]bool
	fields  map[string]bool // places for sentences beside inputs
	lists   map[string]bool
	does    map[string]bool
	texts   map[string]bool // keys of the catalogue
}

var (
	tagForm  = regexp.MustCompile(`<[a-z][^>]*>`)
	attrForm = regexp.MustCompile(` (id|name|data-figure|data-for|data-list|data-do|data-text|data-label|data-hint)="([^"]*)"`)
	slotForm = regexp.MustCompile(`\{\{text ([^}]+)\}\}`)
)

var readHTML = func() func(t testing.TB) markup {
	var once sync.Once
	var m markup
	return func(t testing.TB) markup {
		t.Helper()
		once.Do(func() { m = parseHTML(t) })
		return m
	}
}()

func parseHTML(t testing.TB) markup {
	t.Helper()
	m := markup{map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}}
	require.NoError(t, filepath.WalkDir("../../web", func(path string, _ fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".html" {
			return err
		}
		raw, err := os.ReadFile(path)
		for _, tag := range tagForm.FindAllString(string(raw), -1) {
			for _, a := range attrForm.FindAllStringSubmatch(tag, -1) {
				switch a[1] {
				case "id":
					m.ids[a[2]] = strings.Contains(tag, " hidden")
				case "name":
					m.inputs[a[2]] = true
				case "data-figure":
					m.figures[a[2]] = true
				case "data-for":
					m.fields[a[2]] = true
				case "data-list":
					m.lists[a[2]] = true
				case "data-do":
					m.does[a[2]] = true
				default:
					m.texts[a[2]] = true
				}
			}
		}
		for _, slot := range slotForm.FindAllStringSubmatch(string(raw), -1) {
			m.texts[slot[1]] = true
		}
		return err
	}))
	return m
}

var numberForm = regexp.MustCompile(`-[0-9]+-`)

// numberless is a name with "#" in place of its row's number, as in the HTML.
func numberless(name string) string { return numberForm.ReplaceAllString(name, "-#-") }

// The binder passes over what it does not find; so this must find everything
// that the program names.
func TestProgramAndPageNameTheSamePlaces(t *testing.T) {
	m := readHTML(t)
	k := someone(t)
	everything(k)
	for place := range k.paper.named {
		op, name, _ := strings.Cut(place, " ")
		name = numberless(name)
		_, isID := m.ids[name]
		found := map[string]bool{
			"figure": m.figures[name], "text": isID, "show": isID, "state": isID, "set": isID, "say": m.fields[name],
			"invalid": m.inputs[name], "value": m.inputs[name], "rows": m.lists[name], "choices": m.inputs[name] || isID, "focus": m.inputs[name],
		}[op]
		assert.True(t, found, "the page has no place for %s %s", op, name)
	}
	for what := range m.does {
		if what != "close-notice" && !strings.HasPrefix(what, "lab-") {
			assert.Contains(t, k.app.does, what, "nothing answers this button")
		}
	}
	for what := range k.app.does {
		assert.True(t, m.does[what], "no button does %s", what)
	}
	for name := range m.figures {
		assert.True(t, strings.HasPrefix(name, "lab-") || k.paper.named["figure "+strings.ReplaceAll(name, "#", "1")], "nothing fills the figure %s", name)
	}
}

// everything goes through all that the page can do once.
func everything(k *kitchen) {
	k.twoAgents()
	k.press("link")
	k.typing("loss-boil", "10", "loss-sieve", "3", "portion-size", "10", "liquid-density", "1.1", "batch-liquid", "5000")
	k.typing("make", "portions", "portions", "x", "make", "left", "left-amount", "5", "lines", "what", "loss-boil-unit", "min")
	k.press("read-lines")
	k.twoAgents()
	k.typing("dose-1-name", "gelatin", "dose-1-grade", "250", "powder-bloom", "200", "sheet-mass", "2", "sheet-grade", "gold")
	k.typing("dose-1-unit", "sheet", "dose-1-unit", "g", "sheet-mass", "", "ask-sheet-mass", "2", "batch-liquid", "10")
	k.press("add-scale")
	k.press("save")
	everythingKept(k)
	k.press("rename", 1)
	k.enter("entry-1-rename", "other")
	k.press("duplicate", 1)
	k.press("delete", 1)
	k.press("undo")
	k.goTo("#shelf")
	k.app.Crashed("what")
	k.app.Blocked()
	k.app.Kept(true)
	k.show()
}

func TestEveryTextIsThere(t *testing.T) {
	texts := english(t)
	has := func(key, from string) {
		if _, ok := texts[key]; !ok {
			t.Errorf("no text %q, wanted by %s", key, from)
		}
	}
	all := everyText(t)
	for key := range readHTML(t).texts {
		assert.Contains(t, all, key, "a text of the HTML")
	}
	key := regexp.MustCompile(`^[a-z]+\.[a-z0-9][a-z0-9.-]*[a-z0-9]$`)
	for _, folder := range []string{".", "../../wasm"} {
		for _, text := range literals(t, folder) {
			if _, code := texts["note."+text]; key.MatchString(text) && !code {
				has(text, folder)
			}
		}
	}
	for _, more := range []string{"also.sheets-spread", "also.powder-spread"} {
		has(more, "pan_gelatin.go")
	}
	for i := range examples {
		for _, property := range []string{"name", "lines", "tags"} {
			has(exampleText(i, property), "the examples")
		}
	}
	for _, a := range agent.All() {
		has("agent."+string(a.ID), "the catalogue of agents")
	}
}

// Every code that the page may have to show has its sentence.
func TestEveryCodeHasASentence(t *testing.T) {
	texts := english(t)
	codes := 0
	for _, folder := range []string{".", "../formula", "../gel", "../book"} {
		for _, code := range noteCodes(t, folder) {
			if folder == "../gel" && !strings.HasPrefix(code, "convert.") {
				continue // the lab's
			}
			codes++
			if _, ok := texts["note."+code]; !ok {
				t.Errorf("no sentence for %q of %s", code, folder)
			}
		}
	}
	assert.Greater(t, codes, 50, "the codes were not found")
}

// everyText is the catalogue of the first load and all that is loaded later.
func everyText(t testing.TB) map[string]string {
	t.Helper()
	all := map[string]string{}
	require.NoError(t, filepath.WalkDir("../../web/text/en", func(path string, e fs.DirEntry, err error) error {
		if err == nil && e.IsDir() {
			maps.Copy(all, textsIn(t, path))
		}
		return err
	}))
	return all
}

func parsed(t *testing.T, folder string) []*ast.File {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(folder, "*.go"))
	require.NoError(t, err)
	names = slices.DeleteFunc(names, func(n string) bool { return strings.HasSuffix(n, "_test.go") })
	require.NotEmpty(t, names)
	var files []*ast.File
	for _, name := range names {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		files = append(files, file)
	}
	return files
}

// literals are the texts that stand in a package's code.
func literals(t *testing.T, folder string) []string {
	var out []string
	for _, file := range parsed(t, folder) {
		ast.Inspect(file, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				text, err := strconv.Unquote(lit.Value)
				require.NoError(t, err)
				out = append(out, text)
			}
			return true
		})
	}
	return out
}

// noteCodes are the constants of type note.Code in a package.
func noteCodes(t *testing.T, folder string) []string {
	var out []string
	for _, file := range parsed(t, folder) {
		ast.Inspect(file, func(n ast.Node) bool {
			spec, ok := n.(*ast.ValueSpec)
			if !ok {
				return true
			}
			kind, ok := spec.Type.(*ast.SelectorExpr)
			if !ok || kind.Sel.Name != "Code" {
				return true
			}
			for _, v := range spec.Values {
				if lit, ok := v.(*ast.BasicLit); ok {
					code, err := strconv.Unquote(lit.Value)
					require.NoError(t, err)
					out = append(out, code)
				}
			}
			return true
		})
	}
	return out
}
