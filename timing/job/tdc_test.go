package job

import (
	"strings"
	"testing"
)

const withTDC = `format = 2
[engine]
strokes = 4
firing_order = [1, 3, 4, 2]
[[tdc]]
method = "drop"
before_deg = [322.0, 322.5]
after_deg = 40.0
drop_mm = 12.0
datum = "damper mark"
u_deg = 0.2
`

// A finding of top dead centre is read, kept, written and compared as all else is.
func TestTDCIsKept(t *testing.T) {
	t.Parallel()
	d, err := Read("job.toml", []byte(withTDC))
	if err != nil {
		t.Fatal(err)
	}
	j := d.Job()
	if len(j.TDC) != 1 || j.TDC[0].Method != "drop" || len(j.TDC[0].BeforeAgain) != 1 || j.TDC[0].DropMM.Value != 12 {
		t.Fatalf("%+v", j.TDC)
	}
	again, err := Read("job.toml", New(j).Bytes())
	if err != nil || !again.Job().Equal(j) {
		t.Errorf("%v\n%s", err, New(j).Bytes())
	}
	other := j.Clone()
	other.TDC[0].AfterDeg = Num(41)
	other.TDC[0].BeforeAgain[0] = 1
	if other.Equal(j) || j.TDC[0].BeforeAgain[0] != 322.5 {
		t.Error("a copy shares its readings")
	}
	if got := string(d.With(other).Bytes()); !strings.Contains(got, "after_deg = 41") {
		t.Errorf("changed:\n%s", got)
	}
}

func TestTDCFaults(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ put, instead, want string }{
		{"format = 2\n", "format = 1\n", "tdc: belongs to format 2"},
		{`method = "drop"`, `method = "eye"`, "tdc[1].method"},
		{"after_deg = 40.0\n", "", "tdc[1].after_deg: is missing"},
		{"after_deg = 40.0", "after_deg = 400.0", "from 0 to 360"},
		{"drop_mm = 12.0\n", "", "tdc[1].drop_mm: is missing"},
		{"drop_mm = 12.0", "drop_mm = -1.0", "above 0"},
		{`datum = "damper mark"`, `datum = "eye"`, "tdc[1].datum"},
		{"u_deg = 0.2", "u_deg = -0.2", "uncertainty"},
	} {
		_, err := Read("job.toml", []byte(strings.Replace(withTDC, c.put, c.instead, 1)))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.instead, err, c.want)
		}
	}
}
