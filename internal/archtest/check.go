package archtest

import (
	"fmt"
	"go/ast"
	"go/build/constraint"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"
)

const module = "tremblant"

// file is one parsed source file with its place.
type file struct {
	pkg  Package
	name string // path below the module's root
	test bool
	set  *token.FileSet
	tree *ast.File
}

// rules are asked of every file; each returns what it finds wrong.
var rules = []func(file) []string{
	arrowsPointDown, coreIsPure, coreStartsNothing, browserFilesAreTagged, callbacksInOnePlace, exportedIsDocumented,
}

// Check parses every Go file of a module's tree and returns what breaks the
// rules, one line each, with its position. The error is for a tree that
// cannot be read or parsed.
func Check(tree fs.FS) ([]string, error) {
	var problems []string
	unplaced := map[string]bool{}
	err := fs.WalkDir(tree, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			return skip(d.Name())
		}
		if path.Ext(name) != ".go" {
			return nil
		}
		pkg, ok := placed(path.Dir(name))
		if !ok {
			unplaced[path.Dir(name)] = true
			return nil
		}
		f, err := parse(tree, name, pkg)
		if err != nil {
			return err
		}
		for _, rule := range rules {
			problems = append(problems, rule(f)...)
		}
		return nil
	})
	for dir := range unplaced {
		problems = append(problems, dir+": has no place yet: add it to Packages in internal/archtest/layers.go, "+
			"with its kind and a layer above all that it imports")
	}
	slices.Sort(problems)
	return problems, err
}

func skip(dir string) error {
	if dir != "." && strings.HasPrefix(dir, ".") || dir == "testdata" || dir == "dist" || dir == "node_modules" {
		return fs.SkipDir
	}
	return nil
}

func placed(dir string) (Package, bool) {
	for _, p := range Packages {
		if p.Path == dir {
			return p, true
		}
	}
	return Package{}, false
}

func parse(tree fs.FS, name string, pkg Package) (file, error) {
	text, err := fs.ReadFile(tree, name)
	if err != nil {
		return file{}, err
	}
	set := token.NewFileSet()
	parsed, err := parser.ParseFile(set, name, text, parser.ParseComments|parser.SkipObjectResolution)
	return file{pkg, name, strings.HasSuffix(name, "_test.go"), set, parsed}, err
}

func (f file) problem(at token.Pos, format string, args ...any) string {
	return fmt.Sprintf("%s:%d: %s", f.name, f.set.Position(at).Line, fmt.Sprintf(format, args...))
}

// imports calls each with every import path of the file and collects what it
// finds wrong.
func (f file) imports(each func(imported string) string) []string {
	var problems []string
	for _, spec := range f.tree.Imports {
		imported, _ := strconv.Unquote(spec.Path.Value)
		if wrong := each(imported); wrong != "" {
			problems = append(problems, f.problem(spec.Pos(), "%s", wrong))
		}
	}
	return problems
}

// arrowsPointDown holds for tests as well, but that a test may import its own
// package, and a native helper may be used by the tests of any.
func arrowsPointDown(f file) []string {
	return f.imports(func(imported string) string {
		local, ok := strings.CutPrefix(imported, module+"/")
		if !ok {
			return f.outside(imported)
		}
		to, ok := placed(local)
		switch {
		case !ok:
			return imported + " has no place in internal/archtest/layers.go"
		case f.test && (to.Path == f.pkg.Path || to.Kind == Native):
			return ""
		case to.Kind == Native && f.pkg.Kind != Native:
			return fmt.Sprintf("%s ships and imports %s, a tool of the developer", f.pkg.Path, to.Path)
		case to.Kind == Shell && f.pkg.Kind == Core:
			return fmt.Sprintf("%s is core and imports %s, which needs a browser", f.pkg.Path, to.Path)
		case f.pkg.Layer == ground && to.Layer == ground:
			return ""
		case to.Layer >= f.pkg.Layer:
			return fmt.Sprintf("%s (layer %d) imports %s (layer %d): arrows point down",
				f.pkg.Path, f.pkg.Layer, to.Path, to.Layer)
		}
		return ""
	})
}

// outside checks an import from outside the module. Storage has one adapter;
// other modules are given to packages one by one. Tests import what they like.
func (f file) outside(imported string) string {
	if standard := !strings.Contains(strings.Split(imported, "/")[0], "."); standard {
		return ""
	}
	given := slices.ContainsFunc(f.pkg.Uses, func(m string) bool { return below(imported, m) })
	if given || f.test && !below(imported, indexedDB) {
		return ""
	}
	return fmt.Sprintf("%s may not import %s: only packages that Packages gives it to may", f.pkg.Path, imported)
}

func coreIsPure(f file) []string {
	if f.pkg.Kind != Core || f.test {
		return nil
	}
	return f.imports(func(imported string) string {
		if slices.Contains(f.pkg.Uses, imported) {
			return ""
		}
		if slices.ContainsFunc(forbidden, func(name string) bool { return below(imported, name) }) {
			return fmt.Sprintf("%s is core and imports %s, which is impure or heavy", f.pkg.Path, imported)
		}
		return ""
	})
}

func coreStartsNothing(f file) []string {
	if f.pkg.Kind != Core || f.test {
		return nil
	}
	var problems []string
	ast.Inspect(f.tree, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GoStmt:
			problems = append(problems, f.problem(n.Pos(), "%s is core and starts a goroutine", f.pkg.Path))
		case *ast.SelectStmt:
			problems = append(problems, f.problem(n.Pos(), "%s is core and waits on channels", f.pkg.Path))
		}
		return true
	})
	return problems
}

// browserFilesAreTagged holds for files that import what exists only in the
// browser: without the tag they break the native build, or worse, hide in it.
func browserFilesAreTagged(f file) []string {
	touches := f.imports(func(imported string) string {
		if imported != "syscall/js" && !below(imported, indexedDB) {
			return ""
		}
		if f.pkg.Kind == Native {
			return f.pkg.Path + " is native and imports " + imported
		}
		if f.onlyInBrowser() {
			return ""
		}
		return "imports " + imported + " and lacks the line //go:build js && wasm"
	})
	return touches
}

// onlyInBrowser reports whether the file's build constraint holds for js/wasm
// and for nothing that lacks either.
func (f file) onlyInBrowser() bool {
	for _, group := range f.tree.Comments {
		for _, line := range group.List {
			if line.Pos() > f.tree.Package || !constraint.IsGoBuild(line.Text) {
				continue
			}
			expr, err := constraint.Parse(line.Text)
			return err == nil && holds(expr, "js", "wasm") && !holds(expr, "js") && !holds(expr, "wasm") &&
				!holds(expr, "linux", "unix", "amd64") && !holds(expr)
		}
	}
	return false
}

func holds(expr constraint.Expr, tags ...string) bool {
	return expr.Eval(func(tag string) bool { return slices.Contains(tags, tag) })
}

func callbacksInOnePlace(f file) []string {
	name := f.nameOf("syscall/js")
	if name == "" || slices.Contains(callbacks, f.pkg.Path) {
		return nil
	}
	if name == "." {
		return []string{f.problem(f.tree.Package, "syscall/js is imported without a name, which hides js.FuncOf")}
	}
	var problems []string
	ast.Inspect(f.tree, func(n ast.Node) bool {
		selector, ok := n.(*ast.SelectorExpr)
		if !ok || selector.Sel.Name != "FuncOf" {
			return true
		}
		if x, ok := selector.X.(*ast.Ident); ok && x.Name == name {
			problems = append(problems, f.problem(n.Pos(), "js.FuncOf belongs to %s", strings.Join(callbacks, " and ")))
		}
		return true
	})
	return problems
}

// nameOf is the name under which the file imports a package, or "".
func (f file) nameOf(imported string) string {
	for _, spec := range f.tree.Imports {
		if spec.Path.Value != strconv.Quote(imported) {
			continue
		}
		if spec.Name != nil {
			return spec.Name.Name
		}
		return path.Base(imported)
	}
	return ""
}
