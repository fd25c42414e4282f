//go:build e2e && monkey

package main

import (
	"flag"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/jezek/xgb/xproto"
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
	t.Setenv("GORACE", "halt_on_error=1 exitcode=66")
	t.Setenv("FYNE_CACHE", expire.String())
	m := monkey{t: t, r: rand.New(rand.NewPCG(*monkeySeed, 0)), binary: buildTelling(t, *monkeyRace), homes: newHomes(t), path: jobFile(t)}
	m.files = []string{m.path, copyOf(t, "pages.toml"), recordingFile(t), testFile(t, "recordings/three-cylinder.csv.gz"),
		testFile(t, "photos/nose-square.jpg"), testFile(t, "photos/nose-portrait.jpg"), testFile(t, "photos/marks.json")}
	m.start()
	for end := time.Now().Add(*monkeyFor); time.Now().Before(end); {
		m.act()
		if time.Since(m.measured) > 45*time.Second {
			m.measure()
		}
		if !m.lives() {
			m.restart()
		}
	}
	m.measure()
	m.grown()
	t.Logf("seed %d: %d actions in %v, %d files dropped, %d ends by its own Quit", *monkeySeed, m.actions, *monkeyFor, m.dropped, m.restarts)
}

type monkey struct {
	t        *testing.T
	r        *rand.Rand
	w        *win
	tell     *teller
	binary   string
	homes    homes
	path     string   // of the job it begins with
	files    []string // to drop on the window
	actions  int
	dropped  int
	restarts int
	measured time.Time
	holds    []held // since the last start, the first before it did anything
}

// start starts the program and measures it before anything is done.
func (m *monkey) start() {
	m.tell = newTeller(m.t, m.t.TempDir())
	m.w = start(m.t, m.binary, m.homes, m.path)
	m.holds = nil
	m.measure()
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
	case n < 98:
		m.drop()
	default:
		m.try("windowactivate", m.w.id)
	}
	time.Sleep(time.Duration(20+m.r.IntN(80)) * time.Millisecond)
}

// drop drops one or two files somewhere on the window, which may have gone
// meanwhile.
func (m *monkey) drop() {
	id, err := strconv.ParseUint(m.w.id, 10, 32)
	if err != nil {
		m.t.Fatal(err)
	}
	var files []string
	for range 1 + m.r.IntN(2) {
		files = append(files, m.files[m.r.IntN(len(m.files))])
	}
	if err := dropOn(xproto.Window(id), m.r.IntN(windowWidth), m.r.IntN(windowHeight), files); err == nil {
		m.dropped++
	}
}

// measure lets the program come to rest with nothing open that can be closed and
// asks what it holds then.
func (m *monkey) measure() {
	m.measured = time.Now()
	for range 4 {
		m.try("key", "Escape")
		time.Sleep(300 * time.Millisecond)
	}
	m.try("key", "ctrl+1")
	m.w.forgetting()
	m.w.forgetting()
	if !m.lives() {
		return
	}
	now, err := m.tell.ask(m.w)
	switch {
	case err == nil:
		m.holds = append(m.holds, now)
		m.t.Logf("after %d actions %v, resident %s", m.actions, now, m.w.memory())
	case m.lives():
		m.t.Fatalf("after %d actions: %v", m.actions, err)
	}
	m.measured = time.Now()
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
	m.start()
}

// grown fails the test when what the program holds goes on growing. The first third
// of the measurements may: pages are built when they are first shown, a recording
// and a photograph are open for the first time, steps to undo come together. The
// median of the last third is held against that of the second.
func (m *monkey) grown() {
	const (
		few       = 6
		moreMiB   = 12 // a recording or photograph more, and the steps to undo
		moreTasks = 5
	)
	n := len(m.holds)
	if n < few {
		m.t.Logf("%d measurements are too few to see growth", n)
		return
	}
	early, late := m.holds[n/3:2*n/3], m.holds[2*n/3:]
	mib := func(list []held) float64 { return median(list, held.mib) }
	tasks := func(list []held) float64 { return median(list, func(h held) float64 { return float64(h.Goroutines) }) }
	m.t.Logf("held: %.1f MiB, later %.1f MiB; %g goroutines, later %g, %d before anything was done", mib(early), mib(late), tasks(early), tasks(late), m.holds[0].Goroutines)
	if mib(late) > mib(early)+moreMiB {
		m.t.Errorf("memory grows: %v", m.holds)
	}
	if tasks(late) > float64(m.holds[0].Goroutines+moreTasks) {
		m.t.Errorf("goroutines grow: %v", m.holds)
	}
}

func median(list []held, of func(held) float64) float64 {
	var all []float64
	for _, h := range list {
		all = append(all, of(h))
	}
	slices.Sort(all)
	return all[len(all)/2]
}
