package plan_test

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/plan/cool"
	"tremblant/internal/plan/safety"
)

func text(t *testing.T) map[string]string {
	t.Helper()
	raw, err := os.ReadFile("../../web/text/en/lab/plan.json")
	require.NoError(t, err)
	out := map[string]string{}
	require.NoError(t, json.Unmarshal(raw, &out))
	return out
}

// files parses the core of this package and those below it.
func files(t *testing.T) []*ast.File {
	t.Helper()
	var out []*ast.File
	set := token.NewFileSet()
	require.NoError(t, filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		f, err := parser.ParseFile(set, path, nil, 0)
		out = append(out, f)
		return err
	}))
	return out
}

// constants collects string constants of one type name, as package.Name → value.
func constants(fs []*ast.File, typeName string) map[string]string {
	out := map[string]string{}
	for _, f := range fs {
		ast.Inspect(f, func(n ast.Node) bool {
			v, ok := n.(*ast.ValueSpec)
			if !ok || len(v.Values) != 1 {
				return true
			}
			name := ""
			switch t := v.Type.(type) {
			case *ast.SelectorExpr:
				name = t.X.(*ast.Ident).Name + "." + t.Sel.Name
			case *ast.Ident:
				name = t.Name
			}
			if lit, ok := v.Values[0].(*ast.BasicLit); ok && name == typeName {
				out[f.Name.Name+"."+v.Names[0].Name], _ = strconv.Unquote(lit.Value)
			}
			return true
		})
	}
	return out
}

// TestEveryCodeHasItsSentence and no sentence is left without a code.
func TestEveryCodeHasItsSentence(t *testing.T) {
	sentences := text(t)
	all := files(t)
	known := map[string]bool{}
	for _, code := range constants(all, "note.Code") {
		known["note."+code] = true
	}
	require.Greater(t, len(known), 100)
	steps := 0
	for _, kind := range constants(all, "Kind") {
		known["step."+kind] = true
		steps++
	}
	require.Greater(t, steps, 40)
	for key := range known {
		assert.NotEmpty(t, sentences[key], key)
	}
	for key := range sentences {
		if strings.HasPrefix(key, "note.") || strings.HasPrefix(key, "step.") {
			assert.True(t, known[key], "%s belongs to no code", key)
		}
	}
}

var placeholder = regexp.MustCompile(`\{([a-z-]+)\}`)

// makers are the functions that make a note of a code and arguments.
var makers = map[string]bool{"New": true, "Refuse": true, "reason": true, "caution": true, "danger": true}

func callee(call *ast.CallExpr) string {
	switch f := call.Fun.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		return f.Sel.Name
	}
	return ""
}

// argNames lists the argument names that a call passes by literal.
func argNames(call *ast.CallExpr) map[string]bool {
	out := map[string]bool{}
	ast.Inspect(call, func(n ast.Node) bool {
		inner, ok := n.(*ast.CallExpr)
		if !ok || inner == call || len(inner.Args) == 0 {
			return true
		}
		if lit, ok := inner.Args[0].(*ast.BasicLit); ok && lit.Kind == token.STRING {
			name, _ := strconv.Unquote(lit.Value)
			out[name] = true
		}
		return true
	})
	return out
}

// TestSentencesAskOnlyForWhatIsGiven reads every call that makes a note: each
// placeholder of its sentence is among the arguments. Calls that pass their
// arguments on in a variable are left to the run-time checks below.
func TestSentencesAskOnlyForWhatIsGiven(t *testing.T) {
	sentences := text(t)
	all := files(t)
	codes := constants(all, "note.Code")
	checked := map[string]bool{}
	for _, f := range all {
		ast.Inspect(f, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || call.Ellipsis.IsValid() || !makers[callee(call)] {
				return true
			}
			for _, a := range call.Args {
				id, ok := a.(*ast.Ident)
				code := ""
				if ok {
					code = codes[f.Name.Name+"."+id.Name]
				}
				if code == "" {
					continue
				}
				given := argNames(call)
				for _, m := range placeholder.FindAllStringSubmatch(sentences["note."+code], -1) {
					assert.True(t, given[m[1]], "note.%s asks for {%s}, not given in every call", code, m[1])
				}
				checked[code] = true
			}
			return true
		})
	}
	assert.Greater(t, len(checked), 80)
}

// TestCatalogueWords: the words that data rows are shown by.
func TestCatalogueWords(t *testing.T) {
	sentences := text(t)
	for _, m := range cool.Media {
		assert.NotEmpty(t, sentences["medium."+m.ID])
	}
	for _, w := range cool.Walls {
		assert.NotEmpty(t, sentences["wall."+w.ID])
	}
	for _, r := range safety.HoldRules {
		assert.NotEmpty(t, sentences["place."+string(r.Place)])
	}
	for _, r := range safety.EggRules {
		assert.NotEmpty(t, sentences["cook."+r.ID])
	}
}

// TestRuntimeArguments covers notes whose arguments come from data or by variable.
func TestRuntimeArguments(t *testing.T) {
	sentences := text(t)
	notes := safety.Cautions(safety.Facts{RawEgg: true, OilInfusion: true, PH: 4, Konjac: true, Sweet: true, FirmGel: true, KidneyBeans: true})
	notes = append(notes, safety.Cautions(safety.Facts{LowOxygen: true, FirmGel: true})...)
	for _, medium := range []string{"still-fridge", "blast-chiller", "room"} {
		m, _ := cool.FindMedium(medium)
		c, err := cool.New(cool.Job{Load: cool.Load{Vessel: cool.Tray, Depth: 15}, Medium: m, Start: 85,
			Properties: cool.Properties{Conductivity: 0.58, HeatCapacity: 4050, Density: 1.03}})
		require.NoError(t, err)
		notes = append(notes, safety.Chilling(c)...)
	}
	s, err := makeQuince(t)
	require.NoError(t, err)
	notes = append(append(notes, s.Cautions...), s.Notes...)
	for _, n := range notes {
		for _, m := range placeholder.FindAllStringSubmatch(sentences["note."+string(n.Code)], -1) {
			_, ok := n.Arg(m[1])
			assert.True(t, ok, "%s lacks {%s}", n.Code, m[1])
		}
	}
	for _, step := range s.Steps {
		for _, m := range placeholder.FindAllStringSubmatch(sentences["step."+string(step.Kind)], -1) {
			ok := m[1] == "agents" && len(step.Agents) > 0 || m[1] == "parts" && len(step.Parts) > 0
			for _, a := range step.Args {
				ok = ok || a.Name == m[1]
			}
			assert.True(t, ok, "step %s lacks {%s}", step.ID, m[1])
		}
	}
}
