package assets_test

import (
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"os"
	"regexp"
	"strings"
	"sync"
	"testing"

	"golang.org/x/tools/go/packages"
)

// said is a text of the program, and where it stands.
type said struct {
	text, at string
}

// source is all that the program can say, and the places where something that is no
// constant is made a text.
var source = sync.OnceValues(func() (found struct{ said, made []said }, err error) {
	for _, of := range []struct {
		tags, pattern string
	}{{"ci", "../..."}, {"ci,noheic", "../timing/part/photo/pixels"}} {
		loaded, err := packages.Load(&packages.Config{
			Mode: packages.NeedName | packages.NeedFiles | packages.NeedImports | packages.NeedSyntax | packages.NeedTypes | packages.NeedTypesInfo,
			Env:  append(os.Environ(), "CGO_ENABLED=0"), BuildFlags: []string{"-tags=" + of.tags}}, of.pattern)
		if err != nil {
			return found, err
		}
		for _, p := range loaded {
			for _, e := range p.Errors {
				return found, e
			}
			for _, file := range p.Syntax {
				w := walk{p.TypesInfo, p.Fset, p.Name == "phrase", &found.said, &found.made}
				ast.Inspect(file, w.visit)
			}
		}
	}
	return found, nil
})

// walk goes through a file for constants of the type of what is said.
type walk struct {
	info       *types.Info
	files      *token.FileSet
	own        bool // the package of the type itself
	said, made *[]said
}

func (w walk) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.CaseClause: // what a text is compared with
		for _, s := range n.Body {
			ast.Inspect(s, w.visit)
		}
		return false
	case *ast.BinaryExpr:
		if n.Op == token.EQL || n.Op == token.NEQ {
			return false
		}
	}
	e, ok := n.(ast.Expr)
	if !ok || !isText(w.info.TypeOf(e)) {
		return true
	}
	at := w.files.Position(e.Pos()).String()
	if v := w.info.Types[e].Value; v != nil {
		*w.said = append(*w.said, said{constant.StringVal(v), at})
		return false
	}
	if call, ok := e.(*ast.CallExpr); ok && w.info.Types[call.Fun].IsType() && !w.own {
		*w.made = append(*w.made, said{"converted", at})
	}
	if _, ok := e.(*ast.BinaryExpr); ok {
		*w.made = append(*w.made, said{"put together", at})
	}
	return true
}

// isText tells whether a type is that of what is said.
func isText(t types.Type) bool {
	named, ok := types.Unalias(t).(*types.Named)
	return ok && named.Obj().Name() == "Text" && strings.HasSuffix(named.Obj().Pkg().Path(), "/timing/phrase")
}

// TestOnlyConstantsAreSaid: a text that was put together, or comes from elsewhere,
// has no translation.
func TestOnlyConstantsAreSaid(t *testing.T) {
	found, err := source()
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range found.made {
		t.Errorf("%s: a text is %s that is no constant", m.at, m.text)
	}
}

var (
	word = regexp.MustCompile(`\pL{2,}`)
	unit = regexp.MustCompile(`^(px|mm|bar|kPa)$`)
	key  = regexp.MustCompile(`^[a-z0-9]+([_.][a-z0-9]+)+$`) // of the job file
)

// hasWords tells whether there is anything in a text to translate.
func hasWords(text string) bool {
	return word.MatchString(verb.ReplaceAllString(place.ReplaceAllString(text, ""), "")) && !key.MatchString(text) && !unit.MatchString(text)
}
