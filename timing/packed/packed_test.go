package packed

import (
	"archive/zip"
	"bytes"
	"errors"
	"image"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/job"
)

const text = `# kept
format = 1
[engine]
strokes = 4
firing_order = [1, 3, 4, 2]
[dowel]
drawing  = { method = "photo", file = "old/nose.png", rim = [[10, 0], [0, 10], [-10, 0], [0, -10], [7, 7]], keyway = [[9, 1], [9, -1]], dowel = [0, 5] }
measured = { method = "photo", file = "new/nose.png", rim = [[10, 0], [0, 10], [-10, 0], [0, -10], [7, 7]], keyway = [[9, 1], [9, -1]], dowel = [0, -5] }
`

// written makes a job with two pictures of the same name, one in each of two folders.
func written(t *testing.T) (*job.Document, string) {
	t.Helper()
	folder := t.TempDir()
	for i, name := range []string{"old", "new"} {
		var b bytes.Buffer
		if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 40+i, 40))); err != nil {
			t.Fatal(err)
		}
		if err := os.Mkdir(filepath.Join(folder, name), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, name, "nose.png"), b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	doc, err := job.Read("a.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return doc, folder
}

func all(string) error { return nil }

// What is packed comes out again: the job with its comments, each picture under a name
// of its own and byte for byte; and packing is always the same file.
func TestPacked(t *testing.T) {
	doc, folder := written(t)
	var b, again bytes.Buffer
	for _, to := range []*bytes.Buffer{&b, &again} {
		if err := Write(to, doc, folder, all); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(b.Bytes(), again.Bytes()) {
		t.Error("packed twice, the files differ")
	}
	if !Is(b.Bytes()) || Is([]byte(text)) {
		t.Error("a packed job and a job are not told apart")
	}
	to := t.TempDir()
	got, err := Open("b.zip", b.Bytes(), to)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(string(got.Bytes()), "# kept\n") {
		t.Errorf("the comment is gone: %s", got.Bytes())
	}
	j, back := doc.Job(), got.Job()
	was, is := j.Pictures(), back.Pictures()
	if len(is) != 2 || is["dowel.drawing.file"] == is["dowel.measured.file"] {
		t.Fatalf("the pictures are %v", is)
	}
	for key, name := range is {
		a, err := os.ReadFile(filepath.Join(folder, was[key]))
		if err != nil {
			t.Fatal(err)
		}
		b, err := os.ReadFile(filepath.Join(to, name))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a, b) {
			t.Errorf("%s, %s, is another picture", key, name)
		}
	}
	refused := errors.New("refused")
	if err := Write(&b, doc, folder, func(string) error { return refused }); !errors.Is(err, refused) {
		t.Errorf("a picture that may not go along: %v", err)
	}
	if err := os.WriteFile(filepath.Join(folder, "new", "nose.png"), []byte("secret"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := Write(&b, doc, folder, all); err == nil {
		t.Error("what is no picture was packed")
	}
}

// entry is a file of an archive.
type entry struct {
	name, text string
	mode       fs.FileMode
}

func archive(t testing.TB, entries ...entry) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, e := range entries {
		h := &zip.FileHeader{Name: e.name, Method: zip.Deflate}
		h.SetMode(0o644 | e.mode)
		w, err := z.CreateHeader(h)
		if err == nil {
			_, err = w.Write([]byte(e.text))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Archives from somebody else: nothing is written but the pictures that the job names,
// and those only below the folder.
func TestHostileArchives(t *testing.T) {
	sound := entry{Name, text, 0}
	with := func(name string) entry { return entry{Name, strings.Replace(text, "old/nose.png", name, 1), 0} }
	for _, c := range []struct {
		name    string
		data    []byte
		says    string // "": it opens
		written []string
	}{
		{"a sound one", archive(t, sound, entry{"old/nose.png", "p", 0}, entry{"new/nose.png", "q", 0}), "", []string{"new/nose.png", "old/nose.png"}},
		{"a picture is missing", archive(t, sound, entry{"old/nose.png", "p", 0}), "", []string{"old/nose.png"}},
		{"others beside", archive(t, sound, entry{"bin/run.sh", "p", 0}, entry{"new/nose.png", "q", 0}), "", []string{"new/nose.png"}},
		{"a folder", archive(t, sound, entry{"old/", "", fs.ModeDir}), "", nil},
		{"upwards", archive(t, sound, entry{"../evil", "p", 0}), "reaches outside", nil},
		{"upwards within", archive(t, sound, entry{"old/../../evil", "p", 0}), "reaches outside", nil},
		{"absolute", archive(t, sound, entry{"/tmp/evil", "p", 0}), "reaches outside", nil},
		{"backwards", archive(t, sound, entry{`..\evil`, "p", 0}), "reaches outside", nil},
		{"a drive", archive(t, sound, entry{"C:evil", "p", 0}), "reaches outside", nil},
		{"a link", archive(t, sound, entry{"old/nose.png", "/etc/passwd", fs.ModeSymlink}), "reaches outside", nil},
		{"the job names upwards", archive(t, with("../nose.png")), "reaches outside", nil},
		{"the job names an absolute", archive(t, with("/etc/passwd")), "reaches outside", nil},
		{"twice", archive(t, sound, entry{"old/nose.png", "p", 0}, entry{"old/nose.png", "q", 0}), "twice", nil},
		{"no job", archive(t, entry{"other.toml", text, 0}), "no job.toml", nil},
		{"a faulty job", archive(t, entry{Name, "format = 1\n", 0}), "engine.strokes", nil},
		{"cut off", archive(t, sound)[:100], "damaged", nil},
	} {
		folder := t.TempDir()
		_, err := Open("x.zip", c.data, folder)
		switch {
		case c.says == "" && err != nil:
			t.Errorf("%s: %v", c.name, err)
		case c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)):
			t.Errorf("%s: %v, want %q", c.name, err, c.says)
		}
		var files []string
		_ = filepath.WalkDir(folder, func(path string, d fs.DirEntry, _ error) error {
			if !d.IsDir() {
				rel, _ := filepath.Rel(folder, path)
				files = append(files, filepath.ToSlash(rel))
			}
			return nil
		})
		if !slices.Equal(files, c.written) {
			t.Errorf("%s: wrote %v, want %v", c.name, files, c.written)
		}
	}
}

// A small archive that unpacks to much is refused before it takes much.
func TestTooMuch(t *testing.T) {
	large := strings.Repeat("\x00", 70<<20)
	data := archive(t, entry{Name, text, 0}, entry{"old/nose.png", large, 0})
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err := Open("x.zip", data, t.TempDir())
	runtime.ReadMemStats(&after)
	if err == nil || !strings.Contains(err.Error(), "more than is accepted") {
		t.Errorf("%v", err)
	}
	if made := (after.TotalAlloc - before.TotalAlloc) >> 20; made > 400 {
		t.Errorf("%d MiB were made of a file of %d KiB", made, len(data)>>10)
	}
	var many []entry
	for i := range MaxEntries {
		many = append(many, entry{strings.Repeat("a", i+1), "", 0})
	}
	if _, err := Open("x.zip", archive(t, append(many, entry{Name, text, 0})...), t.TempDir()); err == nil || !strings.Contains(err.Error(), "1001 files") {
		t.Errorf("%v", err)
	}
}

// Whatever the bytes are, opening ends in a job or in one line.
func FuzzOpen(f *testing.F) {
	f.Add(archive(f, entry{Name, text, 0}, entry{"old/nose.png", "p", 0}))
	f.Add(archive(f, entry{Name, "format = 1\n", 0}))
	f.Add([]byte("PK\x03\x04"))
	f.Fuzz(func(t *testing.T, data []byte) {
		doc, err := Open("x.zip", data, t.TempDir())
		if (doc == nil) != (err != nil) {
			t.Errorf("%v, %v", doc, err)
		}
		if err != nil && !errors.As(err, new(job.Faults)) && strings.Contains(err.Error(), "\n") {
			t.Errorf("%q has more than one line", err)
		}
	})
}
