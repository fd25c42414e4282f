package document_test

import (
	"fmt"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/job/document"
	"pinphase.org/pinphase/timing/phrase"
)

// boat is a file that has nothing to do with engines.
type boat struct {
	Format int
	Name   string
	Masts  document.Number
	Hull   *hull
	Crew   []sailor
}

type hull struct {
	Planks []float64
	Keel   *keel
}

type keel struct{ Depth document.Number }

type sailor struct{ Name string }

func (b *boat) keys() []document.Key {
	return []document.Key{
		{Name: "format", To: document.Version{N: &b.Format, Oldest: 1, Youngest: 1}},
		{Name: "name", To: &b.Name},
		{Name: "masts", To: &b.Masts},
		{Name: "hull", To: document.Section{
			Has: func() bool { return b.Hull != nil },
			Open: func() []document.Key {
				if b.Hull == nil {
					b.Hull = &hull{}
				}
				return b.Hull.keys()
			},
		}},
		{Name: "crew", To: document.List{
			Len:    func() int { return len(b.Crew) },
			Set:    func(n int) { b.Crew = make([]sailor, n) },
			Item:   func(i int) []document.Key { return []document.Key{{Name: "name", To: &b.Crew[i].Name}} },
			NoItem: func(found phrase.Sentence) phrase.Sentence { return phrase.Of("is %s; a sailor is wanted", found) },
		}},
	}
}

func (h *hull) keys() []document.Key {
	return []document.Key{
		{Name: "planks", To: &h.Planks},
		{Name: "keel", To: document.Section{
			Has: func() bool { return h.Keel != nil },
			Open: func() []document.Key {
				if h.Keel == nil {
					h.Keel = &keel{}
				}
				return []document.Key{{Name: "depth", To: &h.Keel.Depth}}
			},
			Inline: func(found phrase.Sentence) phrase.Sentence { return phrase.Of("is %s; a keel is wanted", found) },
		}},
	}
}

var schema = document.Schema(func() []document.Key { return new(boat).keys() })

// Rows marked TOML are examples that the specification calls invalid (TOML v1.0.0,
// toml.io, section of that name; from memory). The others are what people type.
func TestFaultsSayWhatWouldBeRight(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ source, text, says string }{
		{"TOML Key/Value Pair", `name = # INVALID`, "no value after the ="},
		{"TOML Key/Value Pair", `name = "Tom" masts = 2`, "one key and its value a line"},
		{"TOML Keys", `= "no key name"`, "a line is a key, = and its value, as in format = 1"},
		{"TOML Float", `masts = .7`, "a digit on both sides of its point"},
		{"TOML Float", `masts = 7.`, "a digit on both sides of its point"},
		{"TOML Float", `masts = 3.e+20`, "a digit on both sides of its point"},
		{"TOML Integer", `masts = 042`, "does not begin with 0"},
		{"TOML String", `name = "C:\parts"`, "a backslash begins a code"},
		{"TOML String", `name = "C:\users"`, "a backslash begins a code"},
		{"TOML String", "name = \"two\n# lines\"", "the quotation mark that ends this text is missing"},
		{"TOML Table", `[hull`, "a section is its name in square brackets, as in [hull]"},
		{"TOML Table", `[]`, "a section is its name in square brackets"},
		{"TOML Table", `[.hull]`, "a section is its name in square brackets"},
		{"TOML Table", `[hull] # a comment` + "\n[hull]", "section given twice; the first is on line 1"},
		{"TOML Array of Tables", `crew = []` + "\n[[crew]]", "is given twice; the first is on line 1"},
		{"TOML Inline Table", `hull = { planks = [1] ` + "\nname = \"a\"", "a comma, or the } that ends this, is missing"},

		{"typed", `name = Anna`, `write text in quotation marks`},
		{"typed", `name = "Anna`, "the quotation mark that ends this text is missing"},
		{"typed", `"name = 1`, "the quotation mark that ends this text is missing"},
		{"typed", `name "Anna"`, "a line is a key, = and its value"},
		{"typed", `masts = 2 masts`, "one key and its value a line"},
		{"typed", `masts = 2masts`, "a number stands alone"},
		{"typed", `masts = 2,5`, "write decimals with a point"},
		{"typed", "[hull]\nplanks = [1, 2", "the ] that ends this list is missing"},
		{"typed", "[hull]\nplanks = [", "the ] that ends this list is missing"},
		{"typed", "[hull]\nplanks = [1 2]", "a comma, or the ] that ends the list, is missing"},
		{"typed", "[hull]\nplanks = [1, # one ]\n2\nkeel = {}", "a comma, or the ] that ends the list, is missing"},
		{"typed", "[hull]\nkeel = { depth = 1", "the } that ends this is missing"},
		{"typed", "[hull]\nkeel = 3", "is 3; a keel is wanted"},
		{"typed", "crew = [3]", "is 3; a sailor is wanted"},
		{"typed", "crew = 3", "is 3; write [[crew]], and its keys on the lines below"},
		{"typed", "[crew]\nname = \"a\"", "there may be several: write [[crew]] with double brackets"},
		{"typed", "mast = 1", "unknown key; is masts meant?"},
		{"typed", "planks = [1]", "unknown key here; it belongs to [hull]"},
		{"typed", "format = 2", "is 2; this program reads format 1"},
	} {
		faults := schema.Read([]byte(c.text), new(boat).keys()).Faults()
		if len(faults) != 1 || !strings.Contains(faults[0].Message, c.says) {
			t.Errorf("%s: %q:\n%v\nwant ...%s...", c.source, c.text, faults, c.says)
		}
	}
}

func Example() {
	const text = `name = "Gudrun" # the third of the name

[hull]
planks = [7, 8] # oak

[[crew]]
name = "Ole"
`
	var b boat
	schema.Read([]byte(text), b.keys())
	next := b
	next.Hull = &hull{Planks: []float64{7, 9, 9}, Keel: &keel{document.Number{Value: 1.5, Given: true}}}
	next.Crew = append([]sailor{{"Siri"}}, b.Crew...)
	fmt.Printf("%s", schema.Change([]byte(text), b.keys(), next.keys()))
	// Output:
	// name = "Gudrun" # the third of the name
	//
	// [hull]
	// planks = [7, 9, 9] # oak
	// keel = { depth = 1.5 }
	//
	// [[crew]]
	// name = "Siri"
	//
	// [[crew]]
	// name = "Ole"
}
