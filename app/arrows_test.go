package app

import (
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// The window's packages, each with those of them that it may know. A page knows the
// desk and no other page; only the window knows the pages.
var mayKnow = map[string][]string{
	"early":         {},
	"kit":           {},
	"desk":          {"kit"},
	"desk/desktest": {"kit", "desk", "form"},
	"form":          {"kit", "desk"},
	"board":         {"kit", "desk"},
	"page":          {"kit", "desk", "form"},
}

func TestArrowsPointOneWay(t *testing.T) {
	const app = "pinphase.org/pinphase/app/"
	seen := 0
	err := walkSources(func(name string) {
		from := filepath.ToSlash(filepath.Dir(name))
		room := from
		if strings.HasPrefix(from, "page/") {
			room = "page"
		}
		allowed, ok := mayKnow[room]
		if !ok {
			if from != "." {
				t.Errorf("%s is a package that has no place among the arrows", from)
			}
			return
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range file.Imports {
			path, _ := strconv.Unquote(i.Path.Value)
			to, inside := strings.CutPrefix(path, app)
			if !inside {
				if path+"/" == app {
					t.Errorf("%s knows the window", name)
				}
				continue
			}
			seen++
			fine := false
			for _, a := range allowed {
				fine = fine || a == to
			}
			if !fine {
				t.Errorf("%s knows %s", name, to)
			}
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < 50 {
		t.Errorf("only %d arrows were found", seen)
	}
}
