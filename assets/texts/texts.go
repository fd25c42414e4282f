// Package texts finds in the program's source every text that can be shown, so
// that translations can be held against them. It is for tests alone.
//
// A text is what is given to one of the functions that look up a translation,
// or what a sentence is made with. It is followed to where it stands: through
// constants, tables, fields of structures, variables and the arguments of a
// function that hands it on.
package texts

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
)

// lookups are the functions and methods that look up a translation, with the
// place of the text among their arguments.
var lookups = map[string]int{
	"tr": 0, "with": 0, // of the window, and of a figure's Say
	"text": 0, "title": 0, // of a figure's Say
	"Term": 0, "Text": 0, // conversions, and a voice
	"Of": 0, "Word": 0, // a phrase and a word in one
}

// structures are the types whose literals hold a text, with its field and place.
var structures = map[string]struct {
	field string
	place int
}{
	"Sentence":   {"Text", 0},
	"Phrase":     {"Format", 0},
	"PageAction": {"Title", 0}, // of a page's package, read in another one
	"PageKind":   {"Title", 1},
}

var word = regexp.MustCompile(`\pL{2,}`)

// Names of keys and files, and places, are no words.
var (
	name  = regexp.MustCompile(`^[a-z0-9]+([_.][a-z0-9]+)+$`)
	place = regexp.MustCompile(`\{\{\.\w+\}\}`)
)

// HasWords tells whether there is anything in a text to translate.
func HasWords(text string) bool {
	return word.MatchString(place.ReplaceAllString(text, "")) && !name.MatchString(text)
}

// In returns every text that the source below a folder can show, each with the
// places where it is used.
func In(root string) (map[string][]string, error) {
	found := map[string][]string{}
	packages := map[string]*source{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if name := d.Name(); path != root && (strings.HasPrefix(name, ".") || name == "testdata" || name == "assets") {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		folder := filepath.Dir(path)
		if packages[folder] == nil {
			packages[folder] = newSource()
		}
		return packages[folder].read(path)
	})
	if err != nil {
		return nil, err
	}
	for _, s := range packages {
		s.texts(func(text string, at token.Pos) {
			if HasWords(text) {
				p := s.files.Position(at)
				found[text] = append(found[text], p.Filename+":"+strconv.Itoa(p.Line))
			}
		})
	}
	return found, nil
}

// source is one package's source.
type source struct {
	files   *token.FileSet
	list    []*ast.File
	values  map[string][]ast.Expr      // of package constants and variables, by name
	structs map[string][]string        // fields of structures, by type
	inside  map[ast.Node]*ast.FuncDecl // the function a call stands in
	words   map[string][]int           // which parameters of a function are words of their own
	calls   map[string][]*ast.CallExpr // by the name called
}

func newSource() *source {
	return &source{files: token.NewFileSet(), values: map[string][]ast.Expr{}, structs: map[string][]string{},
		inside: map[ast.Node]*ast.FuncDecl{}, calls: map[string][]*ast.CallExpr{}, words: map[string][]int{}}
}

func (s *source) read(path string) error {
	f, err := parser.ParseFile(s.files, path, nil, 0)
	if err != nil {
		return err
	}
	s.list = append(s.list, f)
	for _, d := range f.Decls {
		g, ok := d.(*ast.GenDecl)
		if !ok {
			continue
		}
		for _, spec := range g.Specs {
			switch spec := spec.(type) {
			case *ast.ValueSpec:
				for i, n := range spec.Names {
					if i < len(spec.Values) {
						s.values[n.Name] = append(s.values[n.Name], spec.Values[i])
					}
				}
			case *ast.TypeSpec:
				if st, ok := spec.Type.(*ast.StructType); ok {
					for _, field := range st.Fields.List {
						for _, n := range field.Names {
							s.structs[spec.Name.Name] = append(s.structs[spec.Name.Name], n.Name)
						}
					}
				}
			}
		}
	}
	for _, d := range f.Decls {
		fn, _ := d.(*ast.FuncDecl)
		if fn != nil {
			i := 0
			for _, p := range fn.Type.Params.List {
				for range p.Names {
					if isWord(p.Type) {
						s.words[fn.Name.Name] = append(s.words[fn.Name.Name], i)
					}
					i++
				}
			}
		}
		ast.Inspect(d, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				s.inside[n] = fn
				s.calls[named(n.Fun)] = append(s.calls[named(n.Fun)], n)
			case *ast.CompositeLit:
				s.inside[n] = fn
			}
			return true
		})
	}
	return nil
}

// isWord tells whether a type is that of a word with a translation of its own.
func isWord(t ast.Expr) bool { return named(t) == "Word" || named(t) == "Term" }

// named is the name of what is called or of a type, without its package.
func named(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.SelectorExpr:
		return e.Sel.Name
	case *ast.StarExpr:
		return named(e.X)
	}
	return ""
}

// texts tells of every text that is looked up.
func (s *source) texts(tell func(text string, at token.Pos)) {
	for _, f := range s.list {
		ast.Inspect(f, func(n ast.Node) bool {
			var from ast.Expr
			switch n := n.(type) {
			case *ast.CallExpr:
				for _, i := range s.words[named(n.Fun)] {
					if i < len(n.Args) {
						s.tell(n.Args[i], n, tell)
					}
				}
				if f, ok := n.Fun.(*ast.SelectorExpr); ok && f.Sel.Name == "Errorf" && named(f.X) == "phrase" && len(n.Args) > 0 {
					from = n.Args[0]
				}
				if i, ok := lookups[named(n.Fun)]; ok && i >= 0 && i < len(n.Args) {
					from = n.Args[i]
					if named(n.Fun) == "title" && len(n.Args) > 1 { // of a figure with and without a job's name
						s.tell(n.Args[1], n, tell)
					}
				}
			case *ast.CompositeLit:
				switch t := n.Type.(type) { // []Word{…}, map[string]Word{…}
				case *ast.MapType:
					if isWord(t.Value) {
						s.tell(n, n, tell)
					}
				case *ast.ArrayType:
					if isWord(t.Elt) {
						s.tell(n, n, tell)
					}
				}
				if st, ok := structures[named(n.Type)]; ok {
					from = member(n, st.field, st.place)
				} else if list, ok := n.Type.(*ast.ArrayType); ok { // []Sentence{{…}, {…}}
					if st, ok := structures[named(list.Elt)]; ok {
						for _, e := range n.Elts {
							if c, ok := e.(*ast.CompositeLit); ok && c.Type == nil {
								s.inside[c] = s.inside[n]
								s.tell(member(c, st.field, st.place), n, tell)
							}
						}
					}
				}
			}
			s.tell(from, n, tell)
			return true
		})
	}
}

func (s *source) tell(from ast.Expr, at ast.Node, tell func(string, token.Pos)) {
	if from == nil {
		return
	}
	f := follow{source: s, seen: map[ast.Node]bool{}}
	for _, text := range f.from(from, s.inside[at]) {
		tell(text, from.Pos())
	}
}

// member is a field of a literal, by its name or its place.
func member(c *ast.CompositeLit, field string, place int) ast.Expr {
	for i, e := range c.Elts {
		if kv, ok := e.(*ast.KeyValueExpr); ok {
			if named(kv.Key) == field {
				return kv.Value
			}
		} else if i == place {
			return e
		}
	}
	return nil
}
