package archtest

import (
	"go/ast"
	"go/token"
)

// exportedIsDocumented asks a doc comment of every exported function, type,
// constant and variable, and of the exported methods of exported types. A
// group's comment counts for its members.
func exportedIsDocumented(f file) []string {
	if f.test {
		return nil
	}
	var problems []string
	missing := func(name *ast.Ident) {
		problems = append(problems, f.problem(name.Pos(), "%s is exported and has no doc comment", name.Name))
	}
	for _, decl := range f.tree.Decls {
		switch d := decl.(type) {
		case *ast.FuncDecl:
			if d.Name.IsExported() && d.Doc == nil && receiverIsExported(d) && !isErrorMethod(d) {
				missing(d.Name)
			}
		case *ast.GenDecl:
			undocumented(d, missing)
		}
	}
	return problems
}

func undocumented(d *ast.GenDecl, missing func(*ast.Ident)) {
	if d.Tok == token.IMPORT || d.Doc != nil {
		return
	}
	for _, spec := range d.Specs {
		switch s := spec.(type) {
		case *ast.TypeSpec:
			if s.Name.IsExported() && s.Doc == nil && s.Comment == nil {
				missing(s.Name)
			}
		case *ast.ValueSpec:
			for _, name := range s.Names {
				if name.IsExported() && s.Doc == nil && s.Comment == nil {
					missing(name)
				}
			}
		}
	}
}

// isErrorMethod names the methods that say nothing beyond what the errors
// package says of them.
func isErrorMethod(d *ast.FuncDecl) bool {
	return d.Recv != nil && (d.Name.Name == "Error" || d.Name.Name == "Unwrap")
}

func receiverIsExported(d *ast.FuncDecl) bool {
	if d.Recv == nil {
		return true
	}
	t := d.Recv.List[0].Type
	for {
		switch x := t.(type) {
		case *ast.StarExpr:
			t = x.X
		case *ast.IndexExpr:
			t = x.X
		case *ast.IndexListExpr:
			t = x.X
		case *ast.Ident:
			return x.IsExported()
		default:
			return true
		}
	}
}
