package console

import (
	"bytes"
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// dangerous lists what must not reach a terminal, written out from the standards
// rather than asked of the code under test: ECMA-48 (C0 and C1), UAX #9, table 4 (the
// explicit directional formatting characters), and the characters without width of
// the Unicode standard, chapter 23.
func dangerous(r rune) bool {
	switch {
	case r < 0x20 && r != '\n' && r != '\t', r >= 0x7f && r <= 0x9f:
		return true
	case r == 0x061c, r == 0x200e, r == 0x200f, r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069:
		return true
	case r >= 0x200b && r <= 0x200d, r == 0x2060, r == 0xfeff, r == 0x2028, r == 0x2029:
		return true
	case r >= 0xe0001 && r <= 0xe007f:
		return true
	}
	return false
}

func TestWhatIsObeyedIsWrittenAsItsCode(t *testing.T) {
	for text, want := range map[string]string{
		"plain, 28° − ± ü ж 漢\n\tnext":         "plain, 28° − ± ü ж 漢\n\tnext",
		"\x1b[31mred":                          `\u001b[31mred`,
		"back\rover\bit\a\x00\x7f":             `back\u000dover\u0008it\u0007\u0000\u007f`,
		"c1 \u009b31m \u0085":                  `c1 \u009b31m \u0085`,
		"abc\u202egpj.exe":                     `abc\u202egpj.exe`,
		"\u2066a\u2069\u200e\u200f\u061c":      `\u2066a\u2069\u200e\u200f\u061c`,
		"zero\u200bwidth\u200d\ufeff\u00ad":    `zero\u200bwidth\u200d\ufeff\u00ad`,
		"tags \U000e0041":                      `tags \udb40\udc41`,
		"raw \x9b31m and half \xe2\x80":        `raw \x9b31m and half \xe2\x80`,
		"lines\u2028and\u2029paragraphs":       `lines\u2028and\u2029paragraphs`,
		"what stood for a bad byte: \ufffd":    "what stood for a bad byte: \ufffd",
		"no break\u00a0space, thin\u202fspace": "no break\u00a0space, thin\u202fspace",
	} {
		var b bytes.Buffer
		w := NewWriter(&b)
		if n, err := w.Write([]byte(text)); n != len(text) || err != nil {
			t.Fatalf("%q: %d, %v", text, n, err)
		}
		if err := w.Flush(); err != nil {
			t.Fatal(err)
		}
		if got := b.String(); got != want {
			t.Errorf("%q became %q, want %q", text, got, want)
		}
		one := strings.NewReplacer("\n", `\n`, "\t", `\t`).Replace(want)
		if got := Line(text); got != one {
			t.Errorf("on a line %q became %q, want %q", text, got, one)
		}
	}
}

// However the bytes come, nothing dangerous gets out, and the same comes out.
func TestNothingDangerousGetsOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(
			rapid.SliceOf(rapid.Byte()),
			rapid.Map(rapid.String(), func(s string) []byte { return []byte(s) }),
			rapid.Map(rapid.SliceOf(rapid.SampledFrom([]string{"\x1b[2J", "\u202e", "\u009b", "a", "\n", "\xc2", "\xe2\x80", "\u2067", "\U000e0001"})),
				func(s []string) []byte { return []byte(strings.Join(s, "")) }),
		).Draw(t, "text")
		var whole, parts bytes.Buffer
		w := NewWriter(&whole)
		if _, err := w.Write(text); err != nil {
			t.Fatal(err)
		}
		w.Flush()
		p := NewWriter(&parts)
		for rest := text; len(rest) > 0; {
			n := rapid.IntRange(1, len(rest)).Draw(t, "part")
			if k, err := p.Write(rest[:n]); k != n || err != nil {
				t.Fatal(k, err)
			}
			rest = rest[n:]
		}
		p.Flush()
		if whole.String() != parts.String() {
			t.Fatalf("%q whole became %q, in parts %q", text, whole.String(), parts.String())
		}
		for _, s := range []string{whole.String(), Line(string(text))} {
			if !utf8.ValidString(s) {
				t.Fatalf("%q became %q, which is no UTF-8", text, s)
			}
			if i := strings.IndexFunc(s, dangerous); i >= 0 {
				t.Fatalf("%q became %q", text, s)
			}
		}
		if strings.ContainsAny(Line(string(text)), "\n\t") {
			t.Fatalf("%q is more than a line", Line(string(text)))
		}
	})
}

// JSON says the same before and after, whatever is in its texts.
func TestJSONStaysWhatItSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text") + rapid.SampledFrom([]string{"", "\x1b", "\x7f", "\u0085", "\u202e", "\U000e0020", "\t\n"}).Draw(t, "more")
		data, err := json.MarshalIndent(map[string]string{text: text}, "", "  ")
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		w := NewWriter(&b)
		if _, err := w.Write(data); err != nil {
			t.Fatal(err)
		}
		w.Flush()
		var got map[string]string
		if err := json.Unmarshal(b.Bytes(), &got); err != nil || got[text] != text {
			t.Fatalf("%q: %s, %v", text, b.Bytes(), err)
		}
		if bytes.ContainsFunc(b.Bytes(), func(r rune) bool { return dangerous(r) || unicode.Is(unicode.Cf, r) }) {
			t.Fatalf("%q", b.Bytes())
		}
	})
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("full") }

func TestErrorsAreHandedOn(t *testing.T) {
	w := NewWriter(full{})
	if _, err := w.Write([]byte("a\xe2")); err == nil {
		t.Error("no error")
	}
	if err := w.Flush(); err == nil {
		t.Error("no error of the rest")
	}
}
