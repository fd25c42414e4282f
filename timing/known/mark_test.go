package known

import (
	"os"
	"path/filepath"
	"testing"

	"golang.org/x/image/font/sfnt"
)

// The font of screen and paper has every mark.
func TestMarksAreInTheFont(t *testing.T) {
	files, err := filepath.Glob("../../assets/fonts/*.ttf")
	if err != nil || len(files) == 0 {
		t.Fatalf("no fonts: %v", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		font, err := sfnt.Parse(data)
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range All() {
			for _, r := range b.Mark() {
				if i, err := font.GlyphIndex(nil, r); err != nil || i == 0 {
					t.Errorf("%s has no %s for %s", filepath.Base(file), b.Mark(), b)
				}
			}
		}
	}
}
