package licences

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

const top = "../.."

// released is a program as scripts/release builds it.
type released struct{ program, os, arch, cgo, tags string }

// releases reads from scripts/release and scripts/packing/windows what is built and for
// what, and from the Makefile, as they do, with which tags.
func releases() ([]released, error) {
	script, err := os.ReadFile(filepath.Join(top, "scripts", "release"))
	if err != nil {
		return nil, err
	}
	targets := regexp.MustCompile(`(?m)^for target in (.*); do$`).FindSubmatch(script)
	makefile, err := os.ReadFile(filepath.Join(top, "Makefile"))
	if err != nil {
		return nil, err
	}
	window := regexp.MustCompile(`(?m)^WINDOW_TAGS = (\S+)$`).FindSubmatch(makefile)
	if targets == nil || window == nil || !strings.Contains(string(script), "s/^WINDOW_TAGS = //p") {
		return nil, errors.New("scripts/release no longer says what it builds in the way that this test reads")
	}
	packing, err := os.ReadFile(filepath.Join(top, "scripts", "packing", "windows"))
	if err != nil {
		return nil, err
	}
	windows := regexp.MustCompile(`(?m)^export GOOS=(\S+) GOARCH=(\S+) `).FindSubmatch(packing)
	if windows == nil {
		return nil, errors.New("scripts/packing/windows no longer says what it builds for in the way that this test reads")
	}
	list := []released{{"pinphase", string(windows[1]), string(windows[2]), "1", string(window[1])}}
	for _, arch := range []string{"amd64", "arm64"} { // the machine's own
		list = append(list, released{"pinphase", "linux", arch, "1", string(window[1])})
	}
	for t := range strings.FieldsSeq(string(targets[1])) {
		system, arch, _ := strings.Cut(t, "/")
		list = append(list, released{"pincalc", system, arch, "0", ""})
	}
	return list, nil
}

// linked is a package of the list that go list gives.
type linked struct {
	ImportPath, Dir                           string
	Standard                                  bool
	Module                                    *module
	GoFiles, CgoFiles, SFiles, CFiles, HFiles []string
	CgoCFLAGS                                 []string
}

type module struct {
	Path, Version, Dir string
	Main               bool
}

func packages(r released) ([]linked, error) {
	cmd := exec.Command("go", "list", "-buildvcs=false", "-deps", "-tags", r.tags,
		"-json=ImportPath,Dir,Standard,Module,GoFiles,CgoFiles,SFiles,CFiles,HFiles,CgoCFLAGS", "./cmd/"+r.program)
	cmd.Dir = top
	cmd.Env = append(os.Environ(), "GOOS="+r.os, "GOARCH="+r.arch, "CGO_ENABLED="+r.cgo)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("%v: %w", r, err)
	}
	var list []linked
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p linked
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return list, nil
		} else if err != nil {
			return nil, err
		}
		list = append(list, p)
	}
}

// component is one module, or the standard library, with what of it is linked.
type component struct {
	module
	in    map[string]map[string]bool // by program, the systems
	files map[string]bool
}

// linkedIn returns the modules linked into anything that is released, by path.
// The standard library has the path "std".
func linkedIn() (map[string]*component, error) {
	all := map[string]*component{}
	list, err := releases()
	if err != nil {
		return nil, err
	}
	for _, r := range list {
		deps, err := packages(r)
		if err != nil {
			return nil, err
		}
		for _, p := range deps {
			m := module{Path: "std"}
			switch {
			case p.Module != nil && p.Module.Main:
				continue
			case p.Module != nil:
				m = *p.Module
			}
			c := all[m.Path]
			if c == nil {
				c = &component{m, map[string]map[string]bool{}, map[string]bool{}}
				all[m.Path] = c
			}
			if c.in[r.program] == nil {
				c.in[r.program] = map[string]bool{}
			}
			c.in[r.program][r.os] = true
			for _, f := range sources(p) {
				c.files[f] = true
			}
		}
	}
	return all, nil
}

var included = regexp.MustCompile(`(?m)^\s*#\s*include\s+[<"]([^>"]+)[>"]`)

// sources are a package's files with whatever C they include from their module.
func sources(p linked) []string {
	var todo []string
	for _, l := range [][]string{p.GoFiles, p.CgoFiles, p.SFiles, p.CFiles, p.HFiles} {
		for _, f := range l {
			todo = append(todo, filepath.Join(p.Dir, f))
		}
	}
	if len(p.CgoFiles)+len(p.CFiles) == 0 {
		return todo
	}
	dirs, root := []string{p.Dir}, p.Dir
	if p.Module != nil {
		root = p.Module.Dir
	}
	for _, f := range p.CgoCFLAGS {
		if d, ok := strings.CutPrefix(f, "-I"); ok {
			dirs = append(dirs, d)
		}
	}
	seen := map[string]bool{}
	for len(todo) > 0 {
		f := todo[0]
		todo = todo[1:]
		if seen[f] {
			continue
		}
		seen[f] = true
		text, err := os.ReadFile(f)
		if err != nil {
			continue // made while cgo runs
		}
		for _, m := range included.FindAllSubmatch(text, -1) {
			for _, d := range append([]string{filepath.Dir(f)}, dirs...) {
				at := filepath.Join(d, string(m[1]))
				if _, err := os.Stat(at); err == nil && strings.HasPrefix(at, root) {
					todo = append(todo, at)
					break
				}
			}
		}
	}
	return slices.Sorted(maps.Keys(seen))
}

// legal is the name of a file that is a licence, or a folder of them.
var legal = regexp.MustCompile(`(?i)^(un)?licen[sc]|^copying|^notice|^patents|^authors|^ofl|^third_party_licen`)

// licenceFiles are those of a module, from its folder on. Samples, tests and
// programs of its own are not linked.
func licenceFiles(dir string) (list []string, err error) {
	err = filepath.WalkDir(dir, func(at string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := e.Name()
		if e.IsDir() && at != dir && (name == "testdata" || name == "cmd" || strings.HasPrefix(name, ".")) {
			return filepath.SkipDir
		}
		if !e.Type().IsRegular() || path.Ext(name) == ".go" {
			return nil
		}
		if legal.MatchString(name) || legal.MatchString(filepath.Base(filepath.Dir(at))) && filepath.Dir(at) != dir {
			rel, err := filepath.Rel(dir, at)
			list = append(list, filepath.ToSlash(rel))
			return err
		}
		return nil
	})
	// The licence of the whole first.
	slices.SortFunc(list, func(a, b string) int {
		return cmp.Or(strings.Count(a, "/")-strings.Count(b, "/"), cmp.Compare(a, b))
	})
	return list, err
}

var (
	permits   = regexp.MustCompile(`(?i)permission is hereby granted|permission to use, copy|redistribution and use|is freely granted`)
	copyright = regexp.MustCompile(`(?i)copyright|\(c\) `)
	ofNotice  = regexp.MustCompile(`(?i)copyright|permission|permitted|warrant|liab|damage|preserved|freely|disclaim|dealings|endorse|infring|as is`)
)

// notices are the licences that stand in the comments of source files and not in
// the licences given, each once.
func notices(files map[string]bool, known string) (list []string, err error) {
	seen := map[string]bool{}
	for _, f := range slices.Sorted(maps.Keys(files)) {
		text, err := os.ReadFile(f)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		} else if err != nil {
			return nil, err
		}
		for _, c := range comments(string(text)) {
			n := noticeIn(c)
			if k := squeezed(n); n != "" && !seen[k] && !strings.Contains(squeezed(known), k) {
				seen[k] = true
				list = append(list, n)
			}
		}
	}
	return list, nil
}

func squeezed(text string) string { return strings.Join(strings.Fields(text), " ") }

// comments returns the comments of a text in Go, C or assembler, their marks taken
// away.
func comments(text string) (list []string) {
	var now []string
	end := func() {
		if len(now) > 0 {
			list = append(list, strings.Join(now, "\n"))
		}
		now = nil
	}
	inside := false
	for line := range strings.SplitSeq(text, "\n") {
		line = strings.TrimSpace(line)
		switch {
		case inside, strings.HasPrefix(line, "/*"):
			inside = true
			body, _, closed := strings.Cut(strings.TrimPrefix(line, "/*"), "*/")
			now = append(now, strings.TrimRight(strings.TrimPrefix(strings.TrimLeft(body, "*"), " "), " "))
			if closed {
				inside = false
				end()
			}
		case strings.HasPrefix(line, "//"):
			now = append(now, strings.TrimRight(strings.TrimPrefix(strings.TrimLeft(line, "/"), " "), " "))
		default:
			end()
		}
	}
	end()
	return list
}

// noticeIn is the part of a comment that is a licence: from its first line of
// copyright to the end of its last paragraph of terms; "" without one.
func noticeIn(comment string) string {
	if !permits.MatchString(comment) {
		return ""
	}
	lines := strings.Split(comment, "\n")
	first := slices.IndexFunc(lines, copyright.MatchString)
	if first < 0 {
		return ""
	}
	last := first
	for i, l := range lines {
		if i > last && ofNotice.MatchString(l) {
			last = i
		}
	}
	for last+1 < len(lines) && strings.Trim(lines[last+1], "= ") != "" {
		last++
	}
	return strings.Join(lines[first:last+1], "\n")
}
