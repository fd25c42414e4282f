package app

import (
	"go/ast"
	"go/parser"
	"go/token"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// shows are the functions and methods whose texts come onto the screen.
var shows = []string{
	"NewLabel", "NewButton", "NewButtonWithIcon", "NewCheck", "NewSelect", "NewRadioGroup", "NewAccordionItem", "NewTabItem", "NewTabItemWithIcon",
	"NewText", "NewRichTextFromMarkdown", "NewCard", "NewHyperlink", "NewFormItem",
	"NewMenu", "NewMenuItem", "item", "newDialogButton",
	"NewCustom", "NewCustomConfirm", "NewCustomWithoutButtons", "NewConfirm", "NewInformation", "NewForm",
	"SetText", "SetPlaceHolder", "SetConfirmText", "SetDismissText", "SetTitleText",
	"group", "text", "whole", "list", "choice", "inform", "wrapped", "prose", "confirm", "New",
}

// word is what has to be translated; units and signs have none.
var word = regexp.MustCompile(`\pL{3,}`)

// notShown are texts that look like words of the window and are none: names of
// keys, of files and of the program.
var notShown = regexp.MustCompile(`^(\.\w+|[a-z_]+(\.[a-z_]+)*|Pinphase|kPa|Deutsch|Español|English)$`)

// places are where a text takes its data.
var places = regexp.MustCompile(`\{\{\.(\w+)\}\}`)

// TestEveryTextCanBeTranslated reads the package's source: a text that is shown
// goes through tr or with, and a text with places is given what belongs there.
func TestEveryTextCanBeTranslated(t *testing.T) {
	fset := token.NewFileSet()
	checked := 0
	for _, n := range sources(t) {
		file, err := parser.ParseFile(fset, n, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			name := called(call)
			if name != "Text" && slices.ContainsFunc(shows, func(s string) bool { return strings.EqualFold(s, name) }) {
				for _, text := range literals(call.Args) {
					checked++
					if s, _ := strconv.Unquote(text.Value); word.MatchString(s) && !notShown.MatchString(s) {
						t.Errorf("%s: %s is shown by %s without a translation", fset.Position(text.Pos()), text.Value, name)
					}
				}
			}
			if name == "with" && len(call.Args) == 2 {
				checked++
				checkPlaces(t, fset, call)
			}
			if name == "tr" {
				checked++
				for _, text := range literals(call.Args) {
					if strings.Contains(text.Value, "{{") {
						t.Errorf("%s: %s has places and is not given what belongs there", fset.Position(text.Pos()), text.Value)
					}
				}
			}
			return true
		})
	}
	if checked < 100 {
		t.Errorf("only %d texts were found; the names of what shows them have changed", checked)
	}
}

func called(call *ast.CallExpr) string {
	switch f := call.Fun.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		return f.Sel.Name
	}
	return ""
}

// literals are the texts among arguments that stand there as they are, also
// inside a sum or a list, but not inside another call.
func literals(args []ast.Expr) (list []*ast.BasicLit) {
	for _, a := range args {
		ast.Inspect(a, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr, *ast.FuncLit, *ast.IndexExpr:
				return false
			case *ast.BasicLit:
				if n.Kind == token.STRING {
					list = append(list, n)
				}
			}
			return true
		})
	}
	return list
}

// checkPlaces compares the places of a text with the data given for them.
func checkPlaces(t *testing.T, fset *token.FileSet, call *ast.CallExpr) {
	text, ok := call.Args[0].(*ast.BasicLit)
	data, isMap := call.Args[1].(*ast.CompositeLit)
	if !ok || !isMap {
		return
	}
	var given []string
	for _, e := range data.Elts {
		if k, ok := e.(*ast.KeyValueExpr).Key.(*ast.BasicLit); ok {
			name, _ := strconv.Unquote(k.Value)
			given = append(given, name)
		}
	}
	var wanted []string
	for _, m := range places.FindAllStringSubmatch(text.Value, -1) {
		wanted = append(wanted, m[1])
	}
	slices.Sort(given)
	slices.Sort(wanted)
	if wanted = slices.Compact(wanted); !slices.Equal(given, wanted) {
		t.Errorf("%s: %s wants %v and is given %v", fset.Position(call.Pos()), text.Value, wanted, given)
	}
}

func TestTranslationFillsItsPlaces(t *testing.T) {
	window(t)
	if got := with("“{{.Name}}” already exists. Replace it?", map[string]any{"Name": "{{.Name}} & <b>"}); got != "“{{.Name}} & <b>” already exists. Replace it?" {
		t.Errorf("filled in, it is %q", got)
	}
}
