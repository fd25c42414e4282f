package samples

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/gif"
	"image/jpeg"
	"image/png"
	"io"
	"os"
	"strings"
	"testing"
)

// Files of another kind, made by what the standard library has, are refused in a line that
// says what they seem to be and what is read.
func TestOtherKinds(t *testing.T) {
	made := func(write func(w io.Writer) error) []byte {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	grey := image.NewGray(image.Rect(0, 0, 9, 9))
	own, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	program, err := os.ReadFile(own)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		file []byte
		says string
	}{
		{"PNG", made(func(w io.Writer) error { return png.Encode(w, grey) }), "a picture"},
		{"JPEG", made(func(w io.Writer) error { return jpeg.Encode(w, grey, nil) }), "a picture"},
		{"GIF", made(func(w io.Writer) error { return gif.Encode(w, grey, nil) }), "a picture"},
		{"a program", program[:1<<16], "a program"},
		{"zip", made(func(w io.Writer) error {
			z := zip.NewWriter(w)
			f, err := z.Create("a.csv")
			if err == nil {
				_, err = f.Write([]byte("t,a\n0,1\n"))
			}
			return errors.Join(err, z.Close())
		}), "zip archive"},
		{"PDF", []byte("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj\n"), "PDF"},
		{"HTML", []byte("<!DOCTYPE html>\n<html><body>1 2 3</body></html>\n"), "web page"},
		{"JSON", []byte("{\"a\": [1, 2, 3]}\n"), "JSON"},
		{"job file", []byte("# An engine\nformat = 1\n\n[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n"), "job file"},
		{"gzip in gzip", []byte(packed(packed("t,a\n0,1\n1,2\n"))), "packed twice"},
		{"empty", nil, "empty"},
		{"blanks", []byte("\n\n  \n"), "empty"},
		{"packed nothing", []byte(packed("")), "empty"},
		{"words", []byte("Dear all,\nthe engine does not start.\n"), "no rows of numbers"},
		{"other bytes", []byte("\x01\x02\x00\x03 nothing that is known"), "not text"},
	} {
		_, _, err := readBlocks(bytes.NewReader(c.file))
		said := fmt.Sprint(err)
		if err == nil || !strings.Contains(said, c.says) || !strings.Contains(said, "a recording is CSV, WAV or VCD") || strings.ContainsAny(said, "\n\x00") {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}
