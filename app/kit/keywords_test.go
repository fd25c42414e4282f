package kit

import "testing"

// Keys are called by their fields, and files by their names.
func TestPathsAreNoKeys(t *testing.T) {
	for text, want := range map[string]string{
		"bore_mm must be more than 0":                 "“Bore” must be more than 0",
		"engine.bore_mm: is missing, [engine] has it": "“Bore”: is missing, “Engine” has it",
		"give air_c. It is wanted":                    "give “Air”. It is wanted",
		"bore_mm.jpg: is empty":                       "bore_mm.jpg: is empty",
		"open /srv/cam_wheel/rod_mm.toml: no such":    "open /srv/cam_wheel/rod_mm.toml: no such",
		`open C:\seen_from\air_c: no such`:            `open C:\seen_from\air_c: no such`,
		"open /srv/old-bore_mm: no such":              "open /srv/old-bore_mm: no such",
		"/srv/[engine]/x.png: is empty":               "/srv/[engine]/x.png: is empty",
		"air_c.png holds no bore_mm":                  "air_c.png holds no “Bore”",
	} {
		if got := WithoutKeys(text); got != want {
			t.Errorf("%q is said as %q, want %q", text, got, want)
		}
	}
}
