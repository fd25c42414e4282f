package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/assets/licences"
)

// Every licence that is shipped can be read in the window, whole, line by line.
func TestEveryLicenceIsShown(t *testing.T) {
	u := window(t)
	v := newLicencesView(u.Key)
	w := test.NewTempWindow(t, v.content)
	w.Resize(fyne.NewSize(760, 500))
	parts := append([]licences.Part{ownLicence()}, licences.Parts()...)
	if len(v.parts) != len(parts) {
		t.Fatalf("%d parts, want %d", len(v.parts), len(parts))
	}
	w.Canvas().Focus(v.names)
	for i, p := range parts {
		if i > 0 {
			v.names.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
		}
		var whole []string
		for _, r := range v.text.rows {
			whole = append(whole, r.text)
			if w := fyne.MeasureText(r.text, v.text.size, fyne.TextStyle{}).Width; w > v.text.Size().Width && strings.Contains(strings.TrimSpace(r.text), " ") {
				t.Errorf("%s: %q is wider than its list, %v", p.Name, r.text, v.text.Size().Width)
			}
		}
		if got, want := strings.Fields(strings.Join(whole, " ")), strings.Fields(strings.Join(p.Lines, " ")); strings.Join(got, " ") != strings.Join(want, " ") {
			t.Fatalf("%s: the list has %d words, the licence %d", p.Name, len(got), len(want))
		}
	}
}

func TestLicencesAreSearched(t *testing.T) {
	u := window(t)
	v := newLicencesView(u.Key)
	w := test.NewTempWindow(t, v.content)
	w.Resize(fyne.NewSize(760, 500))
	test.Type(v.search, "lesser general")
	if len(v.parts) == 0 || len(v.parts) > 8 || v.parts[1].Name != "libheif v1.18.2" {
		t.Errorf("found %d, the second %s", len(v.parts), v.parts[1].Name)
	}
	v.search.SetText("end of terms and conditions")
	if v.text.GetScrollOffset() < 1000 {
		t.Errorf("the line looked for is not scrolled to: %v", v.text.GetScrollOffset())
	}
	v.search.SetText("no licence says this")
	if len(v.parts) != 0 || len(v.text.rows) != 0 {
		t.Errorf("%d parts, %d rows", len(v.parts), len(v.text.rows))
	}
	v.search.SetText("")
	v.names.pick(1)
	v.text.TypedKey(&fyne.KeyEvent{Name: fyne.KeyPageDown})
	if at := v.text.GetScrollOffset(); at < 200 {
		t.Errorf("PageDown scrolls to %v", at)
	}
	v.text.TypedKey(&fyne.KeyEvent{Name: fyne.KeyHome})
	if at := v.text.GetScrollOffset(); at != 0 {
		t.Errorf("Home scrolls to %v", at)
	}
}

func TestBroken(t *testing.T) {
	fits := func(s string) bool { return len(s) <= 10 }
	for line, want := range map[string]string{
		"":                         "",
		"short":                    "short",
		"one two three four":       "one two|three four",
		"    indented a bit more":  "    indented|a bit more",
		"unbreakable-and-long":     "unbreakable-and-long",
		"a unbreakable-and-long b": "a|unbreakable-and-long|b",
	} {
		if got := strings.Join(broken(line, fits), "|"); got != want {
			t.Errorf("%q: %q, want %q", line, got, want)
		}
	}
}

// Opening the longest licence makes no more than what is in sight.
func BenchmarkLongestLicence(b *testing.B) {
	v := newLicencesView(func(*fyne.KeyEvent) {})
	w := test.NewTempWindow(b, v.content)
	w.Resize(fyne.NewSize(760, 500))
	for i := range v.parts {
		if strings.HasPrefix(v.parts[i].Name, "libheif") {
			for b.Loop() {
				v.choose(i)
			}
		}
	}
}
