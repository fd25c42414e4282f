package job

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The generators draw sound jobs: each value within its limits, each rule kept.

// TestNewReads: what is written reads back the same, and writes the same again.
func TestNewReads(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		j := soundJob().Draw(t, "job")
		if fs := Check(j); fs != nil {
			t.Fatalf("drew an unsound job: %v", fs)
		}
		d := New(j)
		got, err := Read("job.toml", d.Bytes())
		if err != nil {
			t.Fatalf("%v\n%s", err, d.Bytes())
		}
		if !got.Job().Equal(j) {
			t.Fatalf("read %+v\nwrote %+v\n%s", got.Job(), j, d.Bytes())
		}
		if again := New(got.Job()).Bytes(); string(again) != string(d.Bytes()) {
			t.Fatalf("first\n%s\nthen\n%s", d.Bytes(), again)
		}
	})
}

// commented returns the text with a comment before and behind each section
// header, which a change of values must keep.
func commented(text, ends string) string {
	var b strings.Builder
	b.WriteString("# the first comment" + ends)
	inText := false
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		if !inText && strings.HasPrefix(line, "[") {
			b.WriteString("# before" + ends + line + " # after" + ends)
		} else {
			b.WriteString(line + ends)
		}
		if strings.Count(line, `"""`)%2 == 1 { // inside a text New escapes them
			inText = !inText
		}
	}
	return b.String()
}

// TestWithReads: a change of one job into any other reads back as the other, and
// a section that both have keeps its comments.
func TestWithReads(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a, b := soundJob().Draw(t, "from"), soundJob().Draw(t, "to")
		ends := rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "line end")
		before := commented(string(New(a).Bytes()), ends)
		d, err := Read("a.toml", []byte(before))
		if err != nil {
			t.Fatalf("%v\n%s", err, before)
		}
		if same := d.With(a).Bytes(); string(same) != before {
			t.Fatalf("no change made\n%s\nof\n%s", same, before)
		}
		n := d.With(b)
		got, err := Read("b.toml", n.Bytes())
		if err != nil || !got.Job().Equal(b) {
			t.Fatalf("%v\nfrom\n%s\nto\n%s", err, before, n.Bytes())
		}
		after := string(n.Bytes())
		if !strings.HasPrefix(after, "# the first comment"+ends) || !strings.Contains(after, "# before"+ends+"[engine] # after"+ends) {
			t.Fatalf("comments lost: from\n%s\nto\n%s", before, after)
		}
		for name, both := range map[string]bool{
			"injection": a.Injection != nil && b.Injection != nil, "crank_wheel": a.CrankWheel != nil && b.CrankWheel != nil,
			"dowel": a.Dowel != nil && b.Dowel != nil, "gears": a.Gears != nil && b.Gears != nil,
		} {
			if both && !strings.Contains(after, "# before"+ends+"["+name+"] # after"+ends) {
				t.Fatalf("comments of %s lost: from\n%s\nto\n%s", name, before, after)
			}
		}
		if ends == "\r\n" && strings.Count(after, "\n") != strings.Count(after, "\r\n") {
			t.Fatalf("line ends mixed: %q", after)
		}
		if back := n.With(a); !back.Job().Equal(a) {
			t.Fatal("the way back gives another job")
		}
	})
}

// TestCloneSharesNothing changes everything a clone could share.
func TestCloneSharesNothing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		j := soundJob().Draw(t, "job")
		want := string(New(j).Bytes())
		c := j.Clone()
		if !c.Equal(j) || !j.Equal(c) {
			t.Fatal("a clone is not equal")
		}
		spoil(c.slots())
		if got := string(New(j).Bytes()); got != want {
			t.Fatalf("changing the clone changed\n%s\nto\n%s", want, got)
		}
		if c.Equal(j) {
			t.Fatal("a spoilt clone is still equal")
		}
	})
}
