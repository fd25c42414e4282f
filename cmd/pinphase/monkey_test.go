//go:build e2e && monkey

package main

import (
	"flag"
	"fmt"
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
		m.listen()
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
	holds    []held   // since the last start, the first before it did anything
	did      []string // the last few things
	stalls   int      // of this window, that were told
}

// start starts the program and measures it before anything is done.
func (m *monkey) start() {
	m.tell = newTeller(m.t, m.t.TempDir())
	m.w = start(m.t, m.binary, m.homes, m.path)
	m.holds, m.stalls = nil, 0
	m.measure()
}

// listen tells after what the window stood still: the test fails for it at the end.
func (m *monkey) listen() {
	list := stalls(m.w.log.String())
	for _, stall := range list[m.stalls:] {
		m.t.Logf("after %d actions, the last %q: %s", m.actions, m.did, brief(stall))
	}
	m.stalls = len(list)
}

// try does something to the window, which may have gone meanwhile.
func (m *monkey) try(args ...string) {
	m.did = append(m.did[max(0, len(m.did)-3):], strings.Join(args, " "))
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
	m.try("key", "ctrl+b") // the board stops a running crank, whose every angle is a text that is kept for a while
	time.Sleep(2 * time.Second)
	m.try("key", "Escape")
	time.Sleep(time.Second)
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

// grown fails the test when what the program holds goes on growing.
func (m *monkey) grown() {
	m.t.Helper()
	says, grows := growing(m.holds)
	if grows {
		m.t.Errorf("it grows: %s: %v", says, m.holds)
	} else {
		m.t.Log(says)
	}
}

// growing tells whether a program goes on growing, by what it held before anything
// was done and then from time to time. The first third may grow: pages are built when
// they are first shown, a recording and a photograph are opened. The median of the
// last third is held against that of the second in MiB. Pictures, which those are
// mostly, are few objects: these are held against the beginning, and may be more by
// what all the steps of undo are (1000, of some fifty objects each) and by what a
// running crank leaves for ten seconds, which was seen to be 70,000.
func growing(holds []held) (says string, grows bool) {
	const (
		few         = 6
		moreMiB     = 12 // another recording or photograph than before
		moreObjects = 150_000
		moreTasks   = 5
	)
	n := len(holds)
	if n < few {
		return fmt.Sprintf("%d measurements are too few to see growth", n), false
	}
	first, early, late := holds[0], holds[n/3:2*n/3], holds[2*n/3:]
	was, is := median(early, held.mib), median(late, held.mib)
	objects := median(late, func(h held) float64 { return float64(h.Objects) })
	tasks := median(late, func(h held) float64 { return float64(h.Goroutines) })
	says = fmt.Sprintf("%.1f MiB, later %.1f MiB; %d objects, later %.0f; %d goroutines, later %.0f", was, is, first.Objects, objects, first.Goroutines, tasks)
	return says, is > was+moreMiB || objects > float64(first.Objects+moreObjects) || tasks > float64(first.Goroutines+moreTasks)
}

// Both series were measured: with the fonts of old text sizes let go of, and kept.
func TestMonkeySeesGrowth(t *testing.T) {
	series := func(mib, thousands []float64, goroutines ...int) []held {
		var list []held
		for i := range mib {
			h := held{Bytes: int(mib[i] * (1 << 20)), Objects: int(thousands[i] * 1000), Goroutines: 11}
			if len(goroutines) > 0 {
				h.Goroutines = goroutines[i]
			}
			list = append(list, h)
		}
		return list
	}
	flat := []float64{20.1, 35.2, 34.0, 40.0, 42.1, 36.4, 38.6, 35.5}
	objects := []float64{161, 164, 163, 171, 173, 165, 169, 167}
	for _, c := range []struct {
		name  string
		holds []held
		grows bool
	}{
		{"nothing kept", series(flat, objects), false},
		{"fonts kept", series([]float64{19.5, 46.0, 47.6, 53.1, 69.6, 70.4, 71.6, 71.2}, []float64{157, 238, 272, 277, 311, 385, 419, 424}), true},
		{"pictures kept", series([]float64{20, 36, 42, 48, 54, 60, 66, 72}, objects), true},
		{"goroutines kept", series(flat, objects, 11, 12, 13, 14, 15, 16, 17, 18), true},
		{"too few", series(flat[:3], objects[:3]), false},
	} {
		if says, grows := growing(c.holds); grows != c.grows {
			t.Errorf("%s: %s: %t", c.name, says, grows)
		}
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
