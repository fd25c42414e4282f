package job

import (
	"fmt"
	"math"
	"slices"

	"pinphase.org/pinphase/timing/job/document"
	"pinphase.org/pinphase/timing/phrase"
)

// TDC is true top dead centre as it was found once: what a degree wheel says at two
// places where the piston stands equally deep, each read once or several times.
type TDC struct {
	Method      string // "stop": against a positive stop; "drop": by equal drops on a dial indicator
	BeforeDeg   Number // 0 to 360: turned to it forwards
	BeforeAgain []float64
	AfterDeg    Number // 0 to 360: turned to it from the other side
	AfterAgain  []float64
	DropMM      Number // drop: what the dial was set to
	Counts      string // "up" (also "") or "down": how the numbers at the pointer go as the engine turns forwards
	Datum       string // where the wheel was set to 0: "damper mark", or "" for anywhere
	UDeg        Number // of each reading of the wheel
	UMM         Number // drop: of each setting of the dial
}

func (t *TDC) slots() []document.Key {
	return []document.Key{
		slot("method", &t.Method),
		slot("before_deg", repeated(&t.BeforeDeg, &t.BeforeAgain)),
		slot("after_deg", repeated(&t.AfterDeg, &t.AfterAgain)),
		slot("drop_mm", &t.DropMM),
		slot("counts", &t.Counts),
		slot("datum", &t.Datum),
		slot("u_deg", &t.UDeg),
		slot("u_mm", &t.UMM),
	}
}

// found is a list of sections.
func found(list *[]TDC) document.List {
	return document.List{
		Len:  func() int { return len(*list) },
		Set:  func(n int) { *list = make([]TDC, n) },
		Item: func(i int) []document.Key { return (*list)[i].slots() },
		NoItem: func(found phrase.Sentence) phrase.Sentence {
			return phrase.Of("is %s; a finding of top dead centre is { before_deg = ..., after_deg = ... }", found)
		},
	}
}

// maxTDC bounds the list.
const maxTDC = 100

// tdc checks the findings of top dead centre.
func (c *checker) tdc(list []TDC) {
	if !c.OK("tdc") {
		return
	}
	if len(list) > maxTDC {
		c.fault("tdc", "has %d findings; at most %d are accepted", len(list), maxTDC)
		return
	}
	for i := range list {
		t := &list[i]
		at := fmt.Sprintf("tdc[%d]", i+1)
		if !c.OK(at) {
			continue
		}
		c.oneOf(at+".method", t.Method, Words("tdc.method"))
		c.oneOf(at+".counts", t.Counts, Words("tdc.counts"))
		if t.Datum != "" && t.Datum != "damper mark" {
			c.fault(at+".datum", "%q is not known; it is %q, or left out", document.Short(t.Datum), "damper mark")
		}
		for _, side := range []struct {
			key   string
			first Number
			again []float64
		}{{".before_deg", t.BeforeDeg, t.BeforeAgain}, {".after_deg", t.AfterDeg, t.AfterAgain}} {
			if !side.first.Given {
				c.missing(at+side.key, "is missing: give what the degree wheel says on both sides of top dead centre")
			}
			for _, v := range append([]float64{side.first.Value}, side.again...) {
				if !(v >= 0 && v <= 360) && c.OK(at+side.key) {
					c.fault(at+side.key, "is %v; a degree wheel reads from 0 to 360", v)
				}
			}
		}
		for key, n := range map[string]Number{".u_deg": t.UDeg, ".u_mm": t.UMM} {
			if n.Given && !(n.Value >= 0 && n.Value <= 180) && c.OK(at+key) {
				c.fault(at+key, "is %v; an uncertainty must be from 0 to 180", n.Value)
			}
		}
		switch {
		case t.DropMM.Given && t.Method != "drop":
			c.fault(at+".drop_mm", "belongs to method = %q", "drop")
		case t.DropMM.Given && !(t.DropMM.Value > 0 && !math.IsInf(t.DropMM.Value, 0)):
			c.fault(at+".drop_mm", "must be above 0")
		case t.Method == "drop" && !t.DropMM.Given:
			c.missing(at+".drop_mm", "is missing: give how far below TDC the dial gauge was set, in millimetres")
		}
	}
}

func cloneTDC(list []TDC) []TDC {
	list = slices.Clone(list)
	for i := range list {
		list[i].BeforeAgain, list[i].AfterAgain = slices.Clone(list[i].BeforeAgain), slices.Clone(list[i].AfterAgain)
	}
	return list
}
