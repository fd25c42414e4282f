//go:build e2e && monkey

package main

import (
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

var (
	monkeyFor  = flag.Duration("for", time.Minute, "how long the monkey plays")
	monkeySeed = flag.Uint64("seed", 1, "what it does")
	monkeyRace = flag.Bool("races", true, "whether the race detector watches; it takes several times the memory")
)

// Keys the monkey presses. Ctrl+Q is not among them: it would do little else than
// quit. The menu can still be made to.
var monkeyKeys = strings.Fields(`Left Right Up Down Home End Page_Up Page_Down Tab Tab Tab shift+Tab Return Escape Escape space BackSpace Delete
	F1 F5 ctrl+1 ctrl+2 ctrl+3 ctrl+4 ctrl+5 ctrl+6 ctrl+7 ctrl+8 ctrl+9 ctrl+z ctrl+z ctrl+y ctrl+shift+z ctrl+a ctrl+c ctrl+v ctrl+j ctrl+n ctrl+o ctrl+s
	ctrl+e ctrl+r ctrl+g ctrl+period ctrl+comma ctrl+equal ctrl+minus ctrl+shift+f shift+Left shift+Right ctrl+Left ctrl+Right
	0 1 2 3 9 minus comma period a e n x`)

// A monkey works the real window, built with the race detector, at random but
// the same way for the same seed: nothing it does may end the program otherwise
// than by its own Quit, nor make memory or goroutines grow.
func TestMonkey(t *testing.T) {
	binary := filepath.Join(t.TempDir(), "pinphase")
	build := exec.Command("go", "build", fmt.Sprintf("-race=%t", *monkeyRace), "-buildvcs=false", "-tags", "nodynamic", "-o", binary, ".")
	build.Env = append(os.Environ(), "CGO_ENABLED=1")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("building: %v\n%s", err, out)
	}
	t.Setenv("GORACE", "halt_on_error=1 exitcode=66")
	t.Setenv("GODEBUG", "gctrace=1") // the program tells what is alive at each collection
	homes := newHomes(t)
	path := jobFile(t)
	settled := goroutines(t, open(t, binary, homes, path))

	m := monkey{t: t, r: rand.New(rand.NewPCG(*monkeySeed, 0)), binary: binary, homes: homes, path: path}
	m.w = open(t, binary, homes, path)
	for end := time.Now().Add(*monkeyFor); time.Now().Before(end); {
		m.act()
		if !m.lives() {
			m.restart()
		}
	}
	t.Logf("seed %d: %d actions in %v, %d ends by its own Quit, resident (MiB, each 10 s) %v", *monkeySeed, m.actions, *monkeyFor, m.restarts, m.resident)
	// What was under way comes to its end.
	for range 5 {
		m.try("key", "Escape")
		time.Sleep(time.Second)
	}
	if now := goroutines(t, m.w); now > settled+25 {
		t.Errorf("%d goroutines at the end, %d in a program that has done nothing", now, settled)
	} else {
		t.Logf("%d goroutines at the end, %d in a program that has done nothing", now, settled)
	}
	m.grown()
}

type monkey struct {
	t        *testing.T
	r        *rand.Rand
	w        *win
	binary   string
	homes    homes
	path     string
	actions  int
	restarts int
	measured time.Time
	resident []int // MiB, since the last start
}

// try does something to the window, which may have gone meanwhile.
func (m *monkey) try(args ...string) {
	exec.Command("xdotool", args...).Run()
}

func (m *monkey) at() (x, y string) {
	return strconv.Itoa(m.r.IntN(windowWidth)), strconv.Itoa(m.r.IntN(windowHeight))
}

func (m *monkey) act() {
	m.actions++
	switch n := m.r.IntN(100); {
	case n < 35:
		m.try("key", "--clearmodifiers", monkeyKeys[m.r.IntN(len(monkeyKeys))])
	case n < 70:
		x, y := m.at()
		m.try("mousemove", "--window", m.w.id, x, y, "click", "1")
	case n < 78:
		x, y := m.at()
		toX, toY := m.at()
		m.try("mousemove", "--window", m.w.id, x, y, "mousedown", "1")
		time.Sleep(20 * time.Millisecond)
		m.try("mousemove", "--window", m.w.id, toX, toY, "mouseup", "1")
	case n < 86:
		x, y := m.at()
		m.try("mousemove", "--window", m.w.id, x, y, "click", "--repeat", "3", []string{"4", "5"}[m.r.IntN(2)])
	case n < 89:
		x, y := m.at()
		m.try("mousemove", "--window", m.w.id, x, y, "click", "3")
	case n < 92:
		x, y := m.at()
		m.try("mousemove", "--window", m.w.id, x, y, "click", "--repeat", "2", "--delay", "60", "1")
	case n < 95:
		m.try("windowsize", m.w.id, strconv.Itoa(640+m.r.IntN(960)), strconv.Itoa(480+m.r.IntN(520)))
		m.try("windowmove", m.w.id, "0", "0")
	case n < 97: // another program writes the file
		data, err := os.ReadFile(m.path)
		if err == nil {
			os.WriteFile(m.path, append(data, '\n'), 0o666)
		}
	default:
		m.try("windowactivate", m.w.id)
	}
	time.Sleep(time.Duration(20+m.r.IntN(80)) * time.Millisecond)
	if time.Since(m.measured) > 10*time.Second {
		m.measured = time.Now()
		if kb, err := strconv.Atoi(strings.TrimSuffix(m.w.memory(), " kB")); err == nil {
			m.resident = append(m.resident, kb/1024)
		}
	}
}

// lives fails the test when the program has ended otherwise than by itself.
func (m *monkey) lives() bool {
	select {
	case err := <-m.w.exit:
		m.w.exit <- err
		if err != nil {
			m.t.Fatalf("seed %d, after %d actions the program ended with %v\n%s", *monkeySeed, m.actions, err, m.w.log)
		}
		return false
	default:
		return true
	}
}

func (m *monkey) restart() {
	m.restarts++
	m.grown()
	m.resident = nil
	m.w = start(m.t, m.binary, m.homes, m.path)
}

// alive matches what a collection found still in use, in MiB.
var alive = regexp.MustCompile(`(?m)^gc \d+ @.*->(\d+) MB, `)

// grown fails the test when what the program holds on to goes on growing: the
// median of the last quarter of its collections is held against that of the
// second. What the system counts as resident follows late, or never.
func (m *monkey) grown() {
	var held []int
	for _, found := range alive.FindAllStringSubmatch(m.w.log.String(), -1) {
		mb, _ := strconv.Atoi(found[1]) // digits
		held = append(held, mb)
	}
	n := len(held)
	if n < 20 {
		m.t.Logf("%d collections are too few to see memory grow; they found in use (MiB) %v", n, held)
		return
	}
	early, late, most := median(held[n/4:n/2]), median(held[3*n/4:]), slices.Max(held)
	m.t.Logf("held on to: %d MiB, later %d MiB, %d MiB at the most, in %d collections", early, late, most, n)
	if late > early*3/2+20 {
		m.t.Errorf("memory grows: %d MiB, then %d MiB", early, late)
	}
}

func median(list []int) int {
	list = slices.Sorted(slices.Values(list))
	return list[len(list)/2]
}

// goroutines ends a program in the way that makes it tell what it is doing, and
// counts its goroutines.
func goroutines(t *testing.T, w *win) int {
	t.Helper()
	time.Sleep(2 * time.Second)
	if err := w.cmd.Process.Signal(syscall.SIGQUIT); err != nil {
		t.Fatal(err)
	}
	err := <-w.exit
	w.exit <- err
	var exit *exec.ExitError
	if !errors.As(err, &exit) {
		t.Fatalf("asked what it is doing, the program ended with %v", err)
	}
	n := strings.Count(w.log.String(), "\ngoroutine ")
	if n == 0 {
		t.Fatalf("the program does not tell what it is doing:\n%s", w.log)
	}
	return n
}
