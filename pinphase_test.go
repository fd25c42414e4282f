package pinphase

import (
	"encoding/xml"
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
	desktop := filepath.Join("assets", "desktop", a.ID)
	for _, c := range []struct{ file, want string }{
		{desktop + ".metainfo.xml", "<id>" + a.ID + "</id>"},
		{desktop + ".metainfo.xml", "<name>" + a.Name + "</name>"},
		{desktop + ".metainfo.xml", `<release version="` + a.Version + `"`},
		{desktop + ".metainfo.xml", "<summary>" + linux.Comment + "</summary>"},
		{desktop + ".desktop", "\nName=" + a.Name + "\n"},
		{desktop + ".desktop", "\nIcon=" + a.ID + "\n"},
		{desktop + ".desktop", "\nStartupWMClass=" + a.ID + "\n"},
		{desktop + ".desktop", "\nGenericName=" + linux.GenericName + "\n"},
		{desktop + ".desktop", "\nComment=" + linux.Comment + "\n"},
		{desktop + ".desktop", "\nCategories=" + strings.Join(linux.Categories, ";") + ";\n"},
		{filepath.Join("scripts", "packing", "nfpm.yaml"), "\n  summary: " + linux.Comment + "\n"},
	} {
		data, err := os.ReadFile(c.file)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(data), c.want) {
			t.Errorf("%s does not hold %q", c.file, c.want)
		}
	}
}

// Windows scales a program's picture itself, refuses long paths and reads names in an old
// code page unless the manifest says otherwise. Source of names and values: Microsoft,
// "Application manifests" (learn.microsoft.com/windows/win32/sbscs/application-manifests).
func TestManifestForWindows(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("assets", "windows", "manifest.xml"))
	if err != nil {
		t.Fatal(err)
	}
	var m struct {
		Level struct {
			Level string `xml:"level,attr"`
		} `xml:"trustInfo>security>requestedPrivileges>requestedExecutionLevel"`
		Settings struct {
			DPI      string `xml:"http://schemas.microsoft.com/SMI/2016/WindowsSettings dpiAwareness"`
			Long     string `xml:"http://schemas.microsoft.com/SMI/2016/WindowsSettings longPathAware"`
			CodePage string `xml:"http://schemas.microsoft.com/SMI/2019/WindowsSettings activeCodePage"`
		} `xml:"application>windowsSettings"`
	}
	if err := xml.Unmarshal(data, &m); err != nil {
		t.Fatal(err)
	}
	s := m.Settings
	if m.Level.Level != "asInvoker" || !strings.HasPrefix(s.DPI, "PerMonitorV2") || s.Long != "true" || s.CodePage != "UTF-8" {
		t.Errorf("the manifest says %+v", m)
	}
}
