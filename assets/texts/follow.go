package texts

import (
	"go/ast"
	"go/token"
	"slices"
	"strconv"
)

// follow goes from where a text is used to where it stands.
type follow struct {
	*source
	seen map[ast.Node]bool // what has been gone into, so that it ends
}

// from returns the texts that an expression in a function may be.
func (f follow) from(e ast.Expr, fn *ast.FuncDecl) []string {
	if e == nil || f.seen[e] {
		return nil
	}
	f.seen[e] = true
	switch e := e.(type) {
	case *ast.BasicLit:
		if e.Kind == token.STRING {
			text, _ := strconv.Unquote(e.Value) // it was parsed
			return []string{text}
		}
	case *ast.ParenExpr:
		return f.from(e.X, fn)
	case *ast.BinaryExpr:
		if e.Op != token.ADD {
			return nil // a comparison
		}
		var all []string
		for _, a := range f.from(e.X, fn) {
			for _, b := range f.from(e.Y, fn) {
				all = append(all, a+b)
			}
		}
		return all
	case *ast.CompositeLit:
		var all []string
		for _, item := range e.Elts {
			if kv, ok := item.(*ast.KeyValueExpr); ok {
				item = kv.Value
			}
			all = append(all, f.from(item, fn)...)
		}
		return all
	case *ast.IndexExpr:
		return f.from(e.X, fn)
	case *ast.SelectorExpr:
		return f.field(e.Sel.Name)
	case *ast.CallExpr: // a conversion, or a function that returns its texts
		if len(e.Args) == 1 && (named(e.Fun) == "string" || named(e.Fun) == "Term") {
			return f.from(e.Args[0], fn)
		}
		return f.returned(named(e.Fun))
	case *ast.Ident:
		return f.name(e.Name, fn)
	}
	return nil
}

// name returns what a variable, constant or parameter may be.
func (f follow) name(name string, fn *ast.FuncDecl) []string {
	var all []string
	if fn != nil {
		if place, ok := parameter(fn, name); ok {
			for _, call := range f.calls[fn.Name.Name] {
				if place < len(call.Args) {
					all = append(all, f.from(call.Args[place], f.inside[call])...)
				}
			}
		}
		ast.Inspect(fn, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.AssignStmt:
				for i, left := range n.Lhs {
					if named(left) == name && len(n.Lhs) == len(n.Rhs) {
						if _, ok := left.(*ast.Ident); ok {
							all = append(all, f.from(n.Rhs[i], fn)...)
						}
					} else if named(left) == name && len(n.Rhs) == 1 {
						all = append(all, f.from(n.Rhs[0], fn)...)
					}
				}
			case *ast.ValueSpec:
				for i, v := range n.Names {
					if v.Name == name && i < len(n.Values) {
						all = append(all, f.from(n.Values[i], fn)...)
					}
				}
			case *ast.RangeStmt:
				if n.Value != nil && named(n.Value) == name {
					all = append(all, f.from(n.X, fn)...)
				}
			case *ast.FuncLit:
				all = append(all, f.literal(n, name, fn)...)
			}
			return true
		})
	}
	for _, v := range f.values[name] {
		all = append(all, f.from(v, nil)...)
	}
	return all
}

// literal returns what a parameter of a function literal may be, where the
// literal has been given a name and is called by it.
func (f follow) literal(lit *ast.FuncLit, name string, fn *ast.FuncDecl) []string {
	place, ok := placeOf(lit.Type, name)
	if !ok {
		return nil
	}
	var all []string
	ast.Inspect(fn, func(n ast.Node) bool {
		a, ok := n.(*ast.AssignStmt)
		if !ok {
			return true
		}
		for i, right := range a.Rhs {
			if right != ast.Expr(lit) || i >= len(a.Lhs) {
				continue
			}
			for _, call := range f.calls[named(a.Lhs[i])] {
				if place < len(call.Args) {
					all = append(all, f.from(call.Args[place], f.inside[call])...)
				}
			}
		}
		return true
	})
	return all
}

// returned are the texts that a function of the package returns.
func (f follow) returned(name string) []string {
	var all []string
	for _, file := range f.list {
		for _, d := range file.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || fn.Name.Name != name || fn.Body == nil || f.seen[fn] {
				continue
			}
			f.seen[fn] = true
			ast.Inspect(fn.Body, func(n ast.Node) bool {
				if r, ok := n.(*ast.ReturnStmt); ok {
					for _, e := range r.Results {
						all = append(all, f.from(e, fn)...)
					}
				}
				return true
			})
		}
	}
	return all
}

// field returns what a field of a structure of the package may be: wherever a
// literal of the type, or of a list of it, or an assignment gives it a value.
func (f follow) field(name string) []string {
	places := map[string]int{}
	for typ, fields := range f.structs {
		if i := slices.Index(fields, name); i >= 0 {
			places[typ] = i
		}
	}
	var all []string
	for _, file := range f.list {
		ast.Inspect(file, func(n ast.Node) bool {
			if a, ok := n.(*ast.AssignStmt); ok && len(a.Lhs) == len(a.Rhs) {
				for i, left := range a.Lhs {
					if s, ok := left.(*ast.SelectorExpr); ok && s.Sel.Name == name {
						all = append(all, f.from(a.Rhs[i], f.within(file, a))...)
					}
				}
			}
			c, ok := n.(*ast.CompositeLit)
			if !ok {
				return true
			}
			typ := c.Type
			items := []ast.Expr{c}
			switch t := typ.(type) {
			case *ast.ArrayType:
				typ, items = t.Elt, c.Elts
			case *ast.MapType:
				typ, items = t.Value, c.Elts
			}
			place, ok := places[named(typ)]
			if !ok {
				return true
			}
			for _, item := range items {
				if kv, ok := item.(*ast.KeyValueExpr); ok {
					item = kv.Value
				}
				if lit, ok := item.(*ast.CompositeLit); ok {
					if e := member(lit, name, place); e != nil {
						all = append(all, f.from(e, f.inside[c])...)
					}
				}
			}
			return true
		})
	}
	return all
}

// parameter is the place of a parameter of a function.
func parameter(fn *ast.FuncDecl, name string) (int, bool) { return placeOf(fn.Type, name) }

func placeOf(t *ast.FuncType, name string) (int, bool) {
	i := 0
	for _, field := range t.Params.List {
		for _, n := range field.Names {
			if n.Name == name {
				return i, true
			}
			i++
		}
	}
	return 0, false
}

// within is the function that a statement stands in.
func (f follow) within(file *ast.File, n ast.Node) *ast.FuncDecl {
	for _, d := range file.Decls {
		if fn, ok := d.(*ast.FuncDecl); ok && fn.Pos() <= n.Pos() && n.End() <= fn.End() {
			return fn
		}
	}
	return nil
}
