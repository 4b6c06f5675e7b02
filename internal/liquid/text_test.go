package liquid_test

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/liquid"
	"tremblant/internal/note"
)

func text(t *testing.T) map[string]string {
	t.Helper()
	raw, err := os.ReadFile("../../web/text/en/lab/liquid.json")
	require.NoError(t, err)
	var m map[string]string
	require.NoError(t, json.Unmarshal(raw, &m))
	return m
}

func TestTextIsComplete(t *testing.T) {
	m := text(t)
	for _, c := range liquid.Codes {
		assert.NotEmpty(t, m["note."+string(c)], c)
	}
	for _, g := range liquid.Catalogue() {
		assert.NotEmpty(t, m["ingredient."+g.ID], g.ID)
		assert.NotEmpty(t, m["class."+g.Class.String()], g.Class)
		for _, a := range g.Allergens.Names() {
			assert.NotEmpty(t, m["allergen."+a], a)
		}
	}
	for c := range liquid.NumConstituents {
		assert.NotEmpty(t, m["constituent."+c.String()], c)
	}
	for p := range liquid.NumProperties {
		assert.NotEmpty(t, m["property."+p.String()], p)
	}
	for i := liquid.PHMeter; i.String() != ""; i++ {
		assert.NotEmpty(t, m["instrument."+i.String()])
	}
	for i := liquid.StirredIn; i.String() != ""; i++ {
		assert.NotEmpty(t, m["treatment."+i.String()])
	}
	for i := liquid.Soft; i.String() != ""; i++ {
		assert.NotEmpty(t, m["hardness."+i.String()])
	}
	for i := liquid.MmolPerLitre; i.String() != ""; i++ {
		assert.NotEmpty(t, m["hardness-unit."+i.String()])
	}
}

// Every code constant is in Codes, every code of the text is a code, and each
// sentence uses only arguments that the package gives with that code.
func TestCodesAndSentencesAgree(t *testing.T) {
	files, err := os.ReadDir(".")
	require.NoError(t, err)
	constants, given := map[string]string{}, map[string]map[string]bool{}
	var emitted []*ast.CallExpr
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), f.Name(), nil, 0)
		require.NoError(t, err)
		ast.Inspect(tree, func(n ast.Node) bool {
			switch x := n.(type) {
			case *ast.ValueSpec:
				for i, name := range x.Names {
					if strings.HasPrefix(name.Name, "Code") && i < len(x.Values) {
						if lit, ok := x.Values[i].(*ast.BasicLit); ok {
							constants[name.Name], _ = strconv.Unquote(lit.Value)
						}
					}
				}
			case *ast.CallExpr:
				emitted = append(emitted, x)
			}
			return true
		})
	}
	listed := map[note.Code]bool{}
	for _, c := range liquid.Codes {
		assert.False(t, listed[c], "%s twice", c)
		listed[c] = true
	}
	for name, c := range constants {
		assert.True(t, listed[note.Code(c)], name)
	}
	assert.Len(t, listed, len(constants))
	used := map[string]bool{}
	for _, call := range emitted {
		for _, arg := range call.Args {
			if id, ok := arg.(*ast.Ident); ok && constants[id.Name] != "" {
				used[id.Name] = true
				collect(call, constants[id.Name], given)
			}
		}
	}
	for name := range constants {
		if name == "CodePHNoWater" || name == "CodeNoRoot" { // chosen before the call
			continue
		}
		assert.True(t, used[name], "%s is never emitted", name)
	}
	braces := regexp.MustCompile(`\{([a-z]+)\}`)
	for key, sentence := range text(t) {
		code, isNote := strings.CutPrefix(key, "note.")
		if !isNote {
			continue
		}
		assert.True(t, listed[note.Code(code)], key)
		for _, m := range braces.FindAllStringSubmatch(sentence, -1) {
			assert.True(t, given[code] == nil || given[code][m[1]] || given[code]["*"], "%s: {%s} is never given", key, m[1])
		}
	}
}

// collect notes the argument names of one emission; "*" when they come in a variable.
func collect(call *ast.CallExpr, code string, given map[string]map[string]bool) {
	if given[code] == nil {
		given[code] = map[string]bool{}
	}
	if call.Ellipsis != token.NoPos {
		given[code]["*"] = true
	}
	for _, arg := range call.Args {
		inner, ok := arg.(*ast.CallExpr)
		if !ok || len(inner.Args) == 0 {
			continue
		}
		if lit, ok := inner.Args[0].(*ast.BasicLit); ok && lit.Kind == token.STRING {
			name, _ := strconv.Unquote(lit.Value)
			given[code][name] = true
			continue
		}
		given[code]["ingredient"] = true // nameArg() and bearer(flag)
	}
	for _, arg := range call.Args {
		if inner, ok := arg.(*ast.CallExpr); ok && len(inner.Args) == 0 {
			given[code]["ingredient"] = true
		}
		if _, ok := arg.(*ast.Ident); ok {
			given[code]["ingredient"] = true
		}
	}
}
