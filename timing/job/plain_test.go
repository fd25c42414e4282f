package job

import (
	"errors"
	"strings"
	"testing"
)

// A number with its unit is what people type first; the fault names the number.
func TestUnitsAreToBeLeftOut(t *testing.T) {
	t.Parallel()
	const engine = "[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n"
	for _, c := range []struct{ text, key, number string }{
		{"bore_mm = 108 mm", "engine.bore_mm", "108"},
		{"bore_mm = 108mm # measured", "engine.bore_mm", "108"},
		{"bore_mm = 4.25 in", "engine.bore_mm", "4.25"},
		{"bore_mm = 4.25\"", "engine.bore_mm", "4.25"},
		{"bore_mm = \"108 mm\"", "engine.bore_mm", "108"},
		{"compression_ratio = 17.5:1", "engine.compression_ratio", "17.5"},
		{"compression_ratio = \"17.5 : 1\"", "engine.compression_ratio", "17.5"},
		{"[injection]\nstart_btdc_deg = 9°", "injection.start_btdc_deg", "9"},
		{"[injection]\nstart_btdc_deg = -9 deg", "injection.start_btdc_deg", "-9"},
		{"[injection]\nstart_btdc_deg = \"9°\"", "injection.start_btdc_deg", "9"},
		{"[injection]\ncranking_rpm = 180 rpm", "injection.cranking_rpm", "180"},
		{"[injection]\nair_c = 12 °C", "injection.air_c", "12"},
		{"[injection]\nair_kpa = 101.3kPa", "injection.air_kpa", "101.3"},
		{"[cam_wheel]\nteeth_cam_deg = [0, 60°, 120]", "cam_wheel.teeth_cam_deg", "60"},
		{"[cam_wheel]\nteeth_cam_deg = [0, \"60°\", 120]", "cam_wheel.teeth_cam_deg", "60"},
		{"[dowel]\ndrawing = { angle_deg = 14°, side = \"clockwise\" }", "dowel.drawing", "14"},
		{"[gears]\ncrank_teeth = \"36 mm\"", "gears.crank_teeth", "36"},
	} {
		_, err := Read("j", []byte(engine+c.text+"\n"))
		line := 4 + strings.Count(c.text, "\n")
		found := false
		for _, f := range faultsOf(t, err) {
			if f.Line == line && f.Key == c.key && strings.HasSuffix(f.Message, "leave the unit out, the key names it: write "+c.number) {
				found = true
			}
		}
		if !found {
			t.Errorf("%s:\n%v", c.text, err)
		}
	}
}

// What only looks like a unit is told as it was.
func TestOtherTextIsNoUnit(t *testing.T) {
	t.Parallel()
	for _, value := range []string{"12 apples", "nine°", "1 2 mm", "\"12a\"", "\"mm\""} {
		_, err := Read("j", []byte("[engine]\nstrokes = 4\nfiring_order = [1]\nbore_mm = "+value+"\n"))
		if err == nil || strings.Contains(err.Error(), "unit out") {
			t.Errorf("%s: %v", value, err)
		}
	}
}

// A file that is no text is one fault, with the place of the first byte that shows
// it: the PNG signature (ISO/IEC 15948, 5.2) begins with 0x89, gzip (RFC 1952, 2.3.1)
// with 0x1f.
func TestNoTextIsOneFault(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, data, want string }{
		{"a picture", "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x01\x00", "j:1: is not text: byte 1 is 0x89; a job is a text file"},
		{"packed", "\x1f\x8b\x08\x00\x00\x00\x00\x00", "j:1: is not text: byte 1 is 0x1F; a job is a text file"},
		{"a zero byte after a line", "title = \"a\"\nx\x00 = 1\n", "j:2: is not text: byte 14 is 0x00; a job is a text file"},
		{"without a zero byte", strings.Repeat("\xf7", 300), "j:1: is not text: byte 1 is 0xF7; a job is a text file"},
	} {
		_, err := Read("j", []byte(c.data))
		if err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
	// A text in another encoding stays a text, whose lines are named.
	_, err := Read("j", []byte("title = \"M\xfchle\"\n[engine]\nstrokes = 4\nfiring_order = [1]\n"))
	if err == nil || err.Error() != "j:1: this line is not UTF-8 text; save the file as UTF-8" {
		t.Errorf("%v", err)
	}
}

// A document tells where its keys stand.
func TestLine(t *testing.T) {
	t.Parallel()
	d, err := Read("j", []byte("[engine]\nstrokes = 4\nfiring_order = [1]\n\n[[evidence]]\nkind = \"starts\"\nvalue = true\n[[evidence]]\nkind = \"smoke\"\nvalue = \"white\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	for key, want := range map[string]int{"engine": 1, "engine.strokes": 2, "evidence[1].kind": 6, "evidence[2]": 8, "evidence[2].value": 10, "dowel": 0, "engine.bore_mm": 0} {
		if got := d.Line(key); got != want {
			t.Errorf("%s stands on line %d, want %d", key, got, want)
		}
	}
}

func faultsOf(t *testing.T, err error) Faults {
	t.Helper()
	var list Faults
	if !errors.As(err, &list) {
		t.Fatalf("no faults: %v", err)
	}
	return list
}
