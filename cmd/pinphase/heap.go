//go:build heap

package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"runtime/pprof"
	"syscall"
)

// Built with the tag heap, the program tells at each SIGUSR1 what it holds on to
// after a collection, in the folder that PINPHASE_HEAP names: the heap's profile in
// 1.pprof, 2.pprof and so on, then sums in 1.json, 2.json and so on. Whoever looks
// for growth (growth_test.go, monkey_test.go) asks that way.
func init() {
	asked := make(chan os.Signal, 1)
	signal.Notify(asked, syscall.SIGUSR1)
	go func() {
		for n := 1; ; n++ {
			<-asked
			if err := tellHeap(filepath.Join(os.Getenv("PINPHASE_HEAP"), fmt.Sprint(n))); err != nil {
				fmt.Fprintln(os.Stderr, "pinphase:", err)
			}
		}
	}()
}

func tellHeap(path string) error {
	runtime.GC() // the second takes what had a finalizer or lay in a pool
	debug.FreeOSMemory()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	f, err := os.Create(path + ".pprof")
	if err != nil {
		return err
	}
	defer f.Close()
	if err := pprof.Lookup("heap").WriteTo(f, 0); err != nil {
		return err
	}
	sums, err := json.Marshal(map[string]uint64{"bytes": m.HeapAlloc, "objects": m.HeapObjects, "goroutines": uint64(runtime.NumGoroutine())})
	if err != nil {
		return err
	}
	// Whoever waits for the file must not see half of it.
	if err := os.WriteFile(path+".half", sums, 0o666); err != nil {
		return err
	}
	return os.Rename(path+".half", path+".json")
}
