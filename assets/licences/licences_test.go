package licences

import (
	"encoding/binary"
	"flag"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"pinphase.org/pinphase/assets"
)

var regen = flag.Bool("regen", false, "gather THIRD-PARTY.txt anew from the modules that are linked")

const line = "------------------------------------------------------------------------------"

const preface = `Pinphase and what it is made with
=================================

Pinphase itself stands under the BSD 3-Clause licence; see LICENSE. Linked into
its programs is the work of others, under the licences below, whole.

"In" says into which of its programs a part is linked: the window (pinphase) or
the command line (pincalc).

The window contains libheif and libde265, which decode the pictures of phones.
They are covered by the GNU Lesser General Public License, version 3; its text
and that of the GNU General Public License stand below. A window built with
"-tags noheic" does without them.

`

// The file lists what is linked, no more and no less, with the licences as they
// stand in the modules. Source: the modules themselves, as the go command lists
// them for each program and system of scripts/release.
func TestFileIsThatOfWhatIsLinked(t *testing.T) {
	all, err := linkedIn()
	if err != nil {
		t.Fatal(err)
	}
	var parts []Part
	for _, p := range slices.Sorted(maps.Keys(all)) {
		list, err := partsOf(all[p])
		if err != nil {
			t.Errorf("%s: %v", p, err)
		}
		parts = append(parts, list...)
	}
	parts = append(parts, Part{"DejaVu Sans Condensed, " + fontName(t, assets.FontRegular, 5),
		written("pinphase, pincalc", "https://dejavu-fonts.github.io/", "", text{"", assets.FontLicence})})
	if *regen && !t.Failed() {
		write(t, parts)
		return
	}
	have := map[string][]string{}
	for _, p := range Parts() {
		have[p.Name] = p.Lines
	}
	for _, p := range parts {
		lines, ok := have[p.Name]
		delete(have, p.Name)
		switch {
		case !ok:
			t.Errorf("%s is linked and not in THIRD-PARTY.txt; make licences gathers it anew", p.Name)
		case strings.HasPrefix(p.Name, goName):
			// Other versions of Go may build the program: what theirs says must stand
			// there, more may.
			for _, l := range p.Lines {
				if !slices.Contains(lines, l) {
					t.Errorf("%s: this Go's licences have a line that is not in THIRD-PARTY.txt: %q", p.Name, l)
					break
				}
			}
		case !slices.Equal(lines, p.Lines):
			t.Errorf("%s: THIRD-PARTY.txt has other texts than the module; make licences gathers it anew", p.Name)
		}
	}
	for name := range have {
		t.Errorf("%s is in THIRD-PARTY.txt and not linked", name)
	}
	if names := index(parts); !*regen && !strings.HasPrefix(ThirdParty, preface+names) {
		t.Error("the head of THIRD-PARTY.txt is not what this test writes; make licences writes it anew")
	}
}

func write(t *testing.T, parts []Part) {
	var b strings.Builder
	b.WriteString(preface + index(parts))
	for _, p := range parts {
		fmt.Fprintf(&b, "%s\n%s\n%s\n\n", rule, p.Name, strings.Join(p.Lines, "\n"))
	}
	if err := os.WriteFile("THIRD-PARTY.txt", []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

func index(parts []Part) string {
	var b strings.Builder
	for _, p := range parts {
		b.WriteString("    " + p.Name + "\n")
	}
	return b.String() + "\n"
}

type text struct{ name, body string }

// written are the lines of a part: where it is, where it came from, what must be
// said of it, its licences.
func written(in, source, note string, texts ...text) []string {
	lines := []string{"In: " + in, "Source: " + source, ""}
	if note != "" {
		lines = append(lines, strings.Split(strings.TrimSpace(note), "\n")...)
		lines = append(lines, "")
	}
	for _, x := range texts {
		if x.name != "" {
			lines = append(lines, line, x.name, "")
		}
		for l := range strings.SplitSeq(strings.Trim(x.body, "\n"), "\n") {
			lines = append(lines, strings.TrimRight(strings.ReplaceAll(l, "\t", "    "), " \r\f"))
		}
		lines = append(lines, "")
	}
	return slices.Clip(lines[:len(lines)-1])
}

const goName = "Go, standard library and runtime"

// partsOf are a module's entries: itself, and what it carries of others.
func partsOf(c *component) ([]Part, error) {
	dir, name := c.Dir, c.Path+" "+c.Version
	if c.Path == "std" {
		root, err := exec.Command("go", "env", "GOROOT").Output()
		if err != nil {
			return nil, err
		}
		dir, name = strings.TrimSpace(string(root)), goName
	}
	source, err := sourceOf(c.Path)
	if err != nil {
		return nil, err
	}
	var files []string
	if c.Path == "std" {
		for _, f := range []string{"LICENSE", "PATENTS"} { // a system's package of Go keeps them elsewhere
			if _, err := os.Stat(filepath.Join(dir, f)); err == nil {
				files = append(files, f)
			}
		}
	} else if files, err = licenceFiles(dir); err != nil {
		return nil, err
	}
	if c.Path == "golang.org/x/image" {
		files = append(files, "font/gofont/ttfs/README")
	}
	var texts []text
	known := ""
	read := func(f string) error {
		b, err := os.ReadFile(filepath.Join(dir, f))
		texts = append(texts, text{f, string(b)})
		known += string(b)
		return err
	}
	carried := map[string]text{} // of the decoder's two libraries
	for _, f := range files {
		if err := read(f); err != nil {
			return nil, err
		}
		if lib, ok := strings.CutPrefix(f, "lib/LICENSE."); ok && c.Path == decoder {
			carried[lib], texts = texts[len(texts)-1], texts[:len(texts)-1]
		}
	}
	found, err := notices(c.files, known)
	if err != nil {
		return nil, err
	}
	if len(found) > 0 {
		texts = append(texts, text{"from the heads of source files", strings.Join(found, "\n\n")})
	}
	if len(texts) == 0 && c.Path != "std" {
		return nil, fmt.Errorf("no licence was found in the module")
	}
	in := where(c)
	parts := []Part{{name, written(in, source, "", texts...)}}
	if c.Path != decoder {
		return parts, nil
	}
	makefile, err := os.ReadFile(filepath.Join(dir, "lib", "Makefile"))
	if err != nil {
		return nil, err
	}
	for _, lib := range []string{"libheif", "libde265"} {
		version := regexp.MustCompile(strings.ToUpper(lib) + `_VERSION = (\S+)`).FindSubmatch(makefile)
		if version == nil || carried[lib].body == "" {
			return nil, fmt.Errorf("the version or the licence of %s is not where it was", lib)
		}
		parts = append(parts, Part{lib + " " + string(version[1]), written(in, "https://github.com/strukturag/"+lib, fmt.Sprintf(decoderNote, lib, name), carried[lib])})
	}
	wasi, err := os.ReadFile("wasi-libc.txt")
	parts = append(parts, Part{"wasi-libc, libc++", written(in, "https://github.com/WebAssembly/wasi-sdk", "", text{"", string(wasi)})})
	return parts, err
}

const decoder = "github.com/gen2brain/heic"

const decoderNote = `
%[1]s is linked into the window as part of the file lib/heif.wasm.gz of the module
%[2]s. %[1]s and its use are covered by the GNU Lesser
General Public License, version 3.

lib/Makefile in that module fetches the source of this version, makes the few
changes it was built with, and builds the file. The window's whole source is
published under the BSD 3-Clause licence, so that everybody can put a changed
%[1]s in and build the window with it: build lib/heif.wasm.gz, have the module
replaced by your copy (go mod edit -replace), and make build. You may take the
program apart to find faults in such changes.
`

// where says into which programs a component is linked, and on which systems where
// that is not all of them.
func where(c *component) string {
	var list []string
	for _, program := range []string{"pinphase", "pincalc"} {
		systems := slices.Sorted(maps.Keys(c.in[program]))
		switch {
		case len(systems) == 0:
			continue
		case program == "pincalc" && len(systems) < 3:
			program += " on " + strings.Join(systems, ", ")
		}
		list = append(list, program)
	}
	return strings.Join(list, ", ")
}

// homes are the addresses of modules whose path is none of a repository.
var homes = map[string]string{
	"std": "https://go.googlesource.com/go", "golang.org/x/": "https://go.googlesource.com/",
	"fyne.io/fyne": "https://github.com/fyne-io/fyne", "fyne.io/systray": "https://github.com/fyne-io/systray", "gonum.org/v1/": "https://github.com/gonum/",
}

func sourceOf(path string) (string, error) {
	path = regexp.MustCompile(`/v[0-9]+$`).ReplaceAllString(path, "")
	for prefix, home := range homes {
		if rest, ok := strings.CutPrefix(path, prefix); ok {
			return home + rest, nil
		}
	}
	for _, host := range []string{"github.com/", "codeberg.org/", "git.sr.ht/"} {
		if strings.HasPrefix(path, host) {
			return "https://" + strings.Join(strings.Split(path, "/")[:3], "/"), nil
		}
	}
	return "", fmt.Errorf("say in homes where its source is")
}

// Each part can be cut out of the file again, and has a licence.
func TestParts(t *testing.T) {
	parts := Parts()
	if len(parts) < 30 {
		t.Fatalf("%d parts", len(parts))
	}
	for _, p := range parts {
		if !strings.HasPrefix(p.Lines[0], "In: ") || !strings.HasPrefix(p.Lines[1], "Source: https://") {
			t.Errorf("%s: begins %q", p.Name, p.Lines[:2])
		}
		if whole := strings.ToLower(strings.Join(p.Lines, " ")); len(whole) < 500 || !strings.Contains(whole, "copyright") && !strings.Contains(whole, "public domain") {
			t.Errorf("%s: no licence in %d letters", p.Name, len(whole))
		}
	}
}

// A window built with the tag noheic has no part of that decoder.
func TestWithoutDecoder(t *testing.T) {
	deps, err := packages(released{"pinphase", "linux", "amd64", "1", "nodynamic,no_emoji,noheic"})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range deps {
		if p.Module != nil && (p.Module.Path == decoder || strings.HasPrefix(p.Module.Path, "github.com/tetratelabs/")) {
			t.Errorf("%s is linked", p.ImportPath)
		}
	}
}

// What the LGPL asks of a program that contains such a library: its notice, its
// text and that of the GPL (LGPL-3.0, section 4, a and b), the version, its source
// and how to put another in (d, 0).
func TestDecoderIsNamedAsItsLicenceAsks(t *testing.T) {
	if !strings.Contains(ThirdParty[:2000], "libheif and libde265") {
		t.Error("they are not named at the top")
	}
	for lib, version := range map[string]string{"libheif": "v1.18.2", "libde265": "v1.0.15"} {
		i := slices.IndexFunc(Parts(), func(p Part) bool { return p.Name == lib+" "+version })
		if i < 0 {
			t.Errorf("%s %s has no part", lib, version)
			continue
		}
		whole := strings.Join(Parts()[i].Lines, "\n")
		for _, want := range []string{
			lib + " and its use are covered by the GNU Lesser\nGeneral Public License, version 3",
			"Source: https://github.com/strukturag/" + lib, "lib/Makefile", "go mod edit -replace",
			"                   GNU LESSER GENERAL PUBLIC LICENSE\n                       Version 3, 29 June 2007",
			"                    GNU GENERAL PUBLIC LICENSE\n                       Version 3, 29 June 2007",
			"END OF TERMS AND CONDITIONS",
		} {
			if !strings.Contains(whole, want) {
				t.Errorf("%s: %q is missing", lib, want)
			}
		}
	}
}

// The licence of the fonts is that which stands in the fonts themselves (records 0,
// copyright, and 13, licence, of the table "name"; ISO/IEC 14496-22), and nothing
// else.
func TestFontLicenceIsTheFonts(t *testing.T) {
	for name, font := range map[string][]byte{"regular": assets.FontRegular, "bold": assets.FontBold} {
		want := strings.TrimSpace(fontName(t, font, 0)) + "\n\n" + strings.TrimSpace(fontName(t, font, 13)) + "\n"
		want = regexp.MustCompile(`[ \r]+\n`).ReplaceAllString(want, "\n")
		if *regen {
			if err := os.WriteFile("../fonts/LICENSE.txt", []byte(want), 0o644); err != nil {
				t.Fatal(err)
			}
		} else if assets.FontLicence != want {
			t.Errorf("%s: fonts/LICENSE.txt is not what the font says:\n%s", name, want)
		}
	}
}

// fontName is a record of a TrueType file's table of names, in English for Windows.
func fontName(t *testing.T, font []byte, id uint16) string {
	t.Helper()
	u16 := binary.BigEndian.Uint16
	for i := range int(u16(font[4:])) {
		entry := font[12+16*i:]
		if string(entry[:4]) != "name" {
			continue
		}
		table := font[binary.BigEndian.Uint32(entry[8:]):]
		texts := table[u16(table[4:]):]
		for k := range int(u16(table[2:])) {
			r := table[6+12*k:]
			if u16(r) != 3 || u16(r[6:]) != id {
				continue
			}
			var units []uint16
			for b := texts[u16(r[10:]):][:u16(r[8:])]; len(b) > 1; b = b[2:] {
				units = append(units, u16(b))
			}
			return string(utf16.Decode(units))
		}
	}
	t.Fatalf("the font has no name %d", id)
	return ""
}

// The gatherer sees a licence in the head of a source file, and no other comment.
func TestNotices(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "a.c")
	const terms = "Copyright 1999 Somebody\n\nPermission to use, copy and modify this is granted.\nThere is no warranty."
	source := "/*\n * " + strings.ReplaceAll(terms, "\n", "\n * ") + "\n *\n * how it works: well\n */\nint a;\n// Copyright of nothing.\n"
	if err := os.WriteFile(file, []byte(source), 0o644); err != nil {
		t.Fatal(err)
	}
	files := map[string]bool{file: true}
	if got, err := notices(files, ""); err != nil || len(got) != 1 || got[0] != terms {
		t.Errorf("%q, %v", got, err)
	}
	if got, err := notices(files, "x\n"+terms); err != nil || len(got) != 0 {
		t.Errorf("known already: %q, %v", got, err)
	}
}
