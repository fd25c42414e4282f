package pinphase

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
)

// Everything that names the program for a desktop names it alike.
func TestDesktopKnowsOneProgram(t *testing.T) {
	a := About()
	if a.Name == "" || a.ID == "" || a.Version == "" || a.Build < 1 || !a.Migrations["fyneDo"] {
		t.Fatalf("FyneApp.toml says %+v", a)
	}
	var file struct {
		Details     struct{ Icon string }
		LinuxAndBSD struct {
			GenericName, Comment string
			Categories           []string
		}
	}
	if err := toml.Unmarshal(fyneApp, &file); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(file.Details.Icon); err != nil {
		t.Errorf("the icon: %v", err)
	}
	linux := file.LinuxAndBSD
	for _, c := range []struct{ file, want string }{
		{".metainfo.xml", "<id>" + a.ID + "</id>"},
		{".metainfo.xml", "<name>" + a.Name + "</name>"},
		{".metainfo.xml", `<release version="` + a.Version + `"`},
		{".metainfo.xml", "<summary>" + linux.Comment + "</summary>"},
		{".desktop", "\nName=" + a.Name + "\n"},
		{".desktop", "\nIcon=" + a.ID + "\n"},
		{".desktop", "\nStartupWMClass=" + a.ID + "\n"},
		{".desktop", "\nGenericName=" + linux.GenericName + "\n"},
		{".desktop", "\nComment=" + linux.Comment + "\n"},
		{".desktop", "\nCategories=" + strings.Join(linux.Categories, ";") + ";\n"},
	} {
		path := filepath.Join("assets", "desktop", a.ID+c.file)
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(data), c.want) {
			t.Errorf("%s does not hold %q", path, c.want)
		}
	}
}
