package app

import (
	"runtime"
	"testing"
)

// What is still in use after a collection, in MiB.
func heapInUse() float64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.GC() // what lies in a pool goes with the second
	runtime.ReadMemStats(&m)
	return float64(m.HeapAlloc) / (1 << 20)
}

// The toolkit reads its fonts anew at each change of text size, some 5 MiB; those
// of before must go.
func TestFontsOfOtherTextSizesAreForgotten(t *testing.T) {
	u := window(t)
	change := func(times int) {
		for range times {
			u.setTextSize(1.25)
			u.setTextSize(1)
		}
	}
	change(2)
	before := heapInUse()
	change(8)
	if grown := heapInUse() - before; grown > 10 {
		t.Errorf("16 changes of text size leave %.1f MiB behind", grown)
	} else {
		t.Logf("16 changes of text size leave %.1f MiB behind", grown)
	}
}
