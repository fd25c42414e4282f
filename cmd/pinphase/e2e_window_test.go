//go:build e2e

package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"pinphase.org/pinphase/timing/figure"
)

// The size the window is given unless a test says otherwise.
const windowWidth, windowHeight = 1280, 800

// patience is how long anything may take, on a machine busy with other things.
const patience = time.Minute

// homes are the folders in which a user's choices and files are kept.
type homes []string

// newHomes returns empty folders. The program is told to be light, so that its
// colours are known.
func newHomes(t testing.TB) homes {
	t.Helper()
	return homesWith(t, `{"theme":"light","tour.seen":true}`)
}

// homesWith returns folders with choices of a user who was here before.
func homesWith(t testing.TB, choices string) homes {
	t.Helper()
	dir := t.TempDir()
	h := homes{"HOME=" + dir, "XDG_CONFIG_HOME=" + filepath.Join(dir, "config"), "XDG_CACHE_HOME=" + filepath.Join(dir, "cache"), "XDG_DATA_HOME=" + filepath.Join(dir, "data")}
	prefs := filepath.Join(dir, "config", "fyne", "org.pinphase.desktop")
	for _, d := range []string{prefs, filepath.Join(dir, "cache"), filepath.Join(dir, "data")} {
		if err := os.MkdirAll(d, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(prefs, "choices.json"), []byte(choices), 0o600); err != nil {
		t.Fatal(err)
	}
	return h
}

// win is the program's window on the screen, worked and looked at from outside.
type win struct {
	t      testing.TB
	cmd    *exec.Cmd
	exit   chan error
	log    *logged
	id     string
	opened image.Point // its size when it appeared
	size   image.Point // the one it was given

	mayStall bool   // the window is made to stand still
	tells    string // the socket on which the program tells what it shows
	onBoard  bool   // what is looked at and clicked is the window for a class
	boardID  string // that window's id
}

// stallRed is how long a window must stand still to fail a test. It is told from 200 ms
// on, and make walk and scripts/monkey fail then. make test runs on machines that nobody
// chose for their speed.
var stallRed = flag.Duration("stall", 400*time.Millisecond, "how long a window that stands still must do so to fail a test")

// start starts the program and waits for its window.
func start(t testing.TB, binary string, h homes, args ...string) *win {
	t.Helper()
	return startAt(t, image.Pt(windowWidth, windowHeight), binary, h, args...)
}

// startAt starts the program in a window of some size.
func startAt(t testing.TB, size image.Point, binary string, h homes, args ...string) *win {
	t.Helper()
	w := &win{t: t, cmd: exec.Command(binary, args...), exit: make(chan error, 1), log: &logged{}, size: size}
	w.tells = filepath.Join(t.TempDir(), "tell")
	w.cmd.Env = append(append(os.Environ(), "LANG=en_US.UTF-8", "FYNE_PLATFORM=x11", "FYNE_SCALE=1", tellAt+"="+w.tells), h...)
	// The program finds no other, as on a machine fresh from its installation.
	w.cmd.Env = append(w.cmd.Env, "PATH="+t.TempDir())
	w.cmd.Stdout, w.cmd.Stderr = w.log, w.log
	began := time.Now()
	if err := w.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go func() { w.exit <- w.cmd.Wait() }()
	t.Cleanup(func() {
		if t.Failed() && w.id != "" && w.runs() {
			w.keepPicture()
		}
		w.cmd.Process.Kill() // an error means that it has ended
		w.exit <- <-w.exit   // all it wrote is there
		for _, stall := range stalls(w.log.String()) {
			var ms int64
			switch _, err := fmt.Sscanf(brief(stall), "%d ms", &ms); {
			case w.mayStall:
			case err == nil && ms < stallRed.Milliseconds():
				t.Logf("the window stood still: %s", brief(stall))
			default:
				t.Errorf("the window stood still: %s", brief(stall))
			}
		}
	})
	w.until("the window", func() bool {
		out, err := tool("xdotool", "search", "--onlyvisible", "--pid", strconv.Itoa(w.cmd.Process.Pid))
		ids := strings.Fields(string(out))
		if err != nil || len(ids) == 0 {
			return false
		}
		w.id = ids[len(ids)-1]
		return true
	})
	w.ask() // from now on it is watched
	w.until("the first picture", func() bool { img := w.picture(); return img != nil && colours(img) > 20 })
	t.Logf("first picture after %v at the most, %s of memory", time.Since(began).Round(10*time.Millisecond), w.memory())
	w.opened = w.picture().Bounds().Size()
	w.xdo("windowactivate", "--sync", w.id)
	// Without a frame, so that it can be as large as the screen.
	if out, err := tool("xprop", "-id", w.id, "-f", "_MOTIF_WM_HINTS", "32c", "-set", "_MOTIF_WM_HINTS", "2, 0, 0, 0, 0"); err != nil {
		t.Fatalf("xprop: %v: %s", err, out)
	}
	w.xdo("windowsize", w.id, strconv.Itoa(size.X), strconv.Itoa(size.Y))
	w.xdo("windowmove", w.id, "0", "0")
	w.until("the window to have its size", func() bool {
		img := w.picture()
		return img != nil && img.Bounds().Size() == size
	})
	return w
}

// runs tells whether the program has not ended. A picture of a window that is gone
// would be waited for.
func (w *win) runs() bool {
	select {
	case err := <-w.exit:
		w.exit <- err
		return false
	default:
		return true
	}
}

// logged is what the program writes; it can be read while more is written.
type logged struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (l *logged) Write(data []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(data)
}

func (l *logged) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}

// stalls are the times that the program says its window stood still for.
func stalls(log string) (list []string) {
	for {
		_, rest, found := strings.Cut(log, stallBegin)
		if !found {
			return list
		}
		stall, after, _ := strings.Cut(rest, stallEnd)
		list, log = append(list, stall), after
	}
}

// brief is a stall with the names of the innermost functions alone, and all of ours.
func brief(stall string) string {
	said, stack, _ := strings.Cut(stall, "\n")
	list := []string{said}
	n := 0
	for line := range strings.Lines(stack) {
		if strings.HasPrefix(line, "\t") || strings.HasPrefix(line, "goroutine ") {
			continue
		}
		if n++; n <= 8 || strings.HasPrefix(line, "pinphase.org/") {
			list = append(list, "    "+strings.TrimSpace(line))
		}
	}
	return strings.Join(list, "\n")
}

// open starts the program on something that asks no question.
func open(t testing.TB, binary string, h homes, args ...string) *win {
	t.Helper()
	w := start(t, binary, h, args...)
	w.until("the cursor", func() bool { return w.cursorX() > 0 })
	w.settle()
	return w
}

// until waits for something to come about.
func (w *win) until(what string, done func() bool) {
	w.t.Helper()
	for deadline := time.Now().Add(patience); !done(); time.Sleep(30 * time.Millisecond) {
		select {
		case err := <-w.exit:
			w.exit <- err
			w.t.Fatalf("waiting for %s, the program ended: %v\n%s", what, err, w.log)
		default:
		}
		if time.Now().After(deadline) {
			w.t.Fatalf("waited %v for %s; the window is called %q\n%s", patience, what, w.title(), w.log)
		}
	}
}

// tool runs a program that works or looks at the screen. One that waits for what
// never comes, as xdotool does for a window that is in front already, is ended.
func tool(name string, args ...string) ([]byte, error) {
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	return exec.CommandContext(ctx, name, args...).Output()
}

func (w *win) xdo(args ...string) {
	w.t.Helper()
	if out, err := tool("xdotool", args...); err != nil {
		w.t.Fatalf("xdotool %v: %v: %s", args, err, out)
	}
}

// key presses keys, one after the other, each with its modifiers.
func (w *win) key(names ...string) {
	w.t.Helper()
	for _, n := range names {
		w.xdo("key", "--clearmodifiers", n)
		w.frame()
	}
}

// frame lets the program take in what was done. One that does not tell is given a
// while: it asks for the pointer and keys once a frame.
func (w *win) frame() {
	if _, ok := w.ask(); !ok {
		time.Sleep(120 * time.Millisecond)
	}
}

// drag takes hold at one place and lets go at another.
func (w *win) drag(x, y, toX, toY int) {
	w.t.Helper()
	w.point(image.Pt(x, y))
	w.xdo("mousedown", "1")
	w.frame()
	const steps = 5
	for i := 1; i <= steps; i++ {
		w.point(image.Pt(x+(toX-x)*i/steps, y+(toY-y)*i/steps))
	}
	w.xdo("mouseup", "1")
	w.frame()
}

func (w *win) title() string {
	out, err := tool("xdotool", "getwindowname", w.id)
	if err != nil {
		return ""
	}
	return strings.TrimSpace(string(out))
}

func (w *win) titleIs(want string) {
	w.t.Helper()
	w.until(fmt.Sprintf("the title %q", want), func() bool { return w.title() == want })
}

// ended waits for the program to end of its own will.
func (w *win) ended() {
	w.t.Helper()
	select {
	case err := <-w.exit:
		w.exit <- err
		if err != nil {
			w.t.Fatalf("the program ended with %v\n%s", err, w.log)
		}
	case <-time.After(patience):
		w.t.Fatalf("the program does not end\n%s", w.log)
	}
}

// kill ends the program as a power cut would.
func (w *win) kill() {
	w.t.Helper()
	if err := w.cmd.Process.Kill(); err != nil {
		w.t.Fatal(err)
	}
	err := <-w.exit
	w.exit <- err
}

// picture is what the window shows now, nil when it cannot be had.
func (w *win) picture() *image.RGBA { return pictureOf(w.id) }

func pictureOf(id string) *image.RGBA { return partOf(id, image.Rectangle{}) }

// part is a part of what is shown, nil when it cannot be had.
func (w *win) part(r image.Rectangle) *image.RGBA { return partOf(w.shownID(), r) }

// partOf is a picture of a part of a window, of all of it for an empty rectangle.
func partOf(id string, of image.Rectangle) *image.RGBA {
	args := []string{"-silent", "-window", id, "-depth", "8"}
	if !of.Empty() {
		args = append(args, "-crop", fmt.Sprintf("%dx%d+%d+%d", of.Dx(), of.Dy(), of.Min.X, of.Min.Y))
	}
	out, err := tool("import", append(args, "ppm:-")...)
	if err != nil {
		return nil
	}
	// Colours as they are, packing nothing: a picture is taken often.
	var width, height, most int
	r := bytes.NewReader(out)
	if n, err := fmt.Fscanf(r, "P6\n%d %d\n%d\n", &width, &height, &most); err != nil || n != 3 || r.Len() != 3*width*height {
		return nil
	}
	pix := out[len(out)-r.Len():]
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	for i, k := 0, 0; i < len(pix); i, k = i+3, k+4 {
		img.Pix[k], img.Pix[k+1], img.Pix[k+2], img.Pix[k+3] = pix[i], pix[i+1], pix[i+2], 255
	}
	return img
}

// shownID is the window that is looked at.
func (w *win) shownID() string {
	if w.onBoard {
		return w.boardID
	}
	return w.id
}

// settle waits until the window shows the same twice.
func (w *win) settle() {
	w.t.Helper()
	last := w.picture()
	w.until("the window to come to rest", func() bool {
		now := w.picture()
		same := last != nil && now != nil && changed(last, now) == 0
		last = now
		return same
	})
}

// still fails the test when what is shown goes on changing.
func (w *win) still() {
	w.t.Helper()
	w.settle()
	before := w.cursorX()
	w.frame()
	w.frame()
	if now := w.cursorX(); now != before {
		w.t.Errorf("the cursor goes on from %d to %d", before, now)
	}
}

// differs tells whether much of the window differs from a picture of it.
func (w *win) differs(from *image.RGBA) bool {
	now := w.picture()
	return now != nil && changed(from, now) > w.size.X*w.size.Y/10
}

// changed counts the pixels that differ between two pictures.
func changed(a, b *image.RGBA) int {
	if a.Rect != b.Rect {
		return a.Rect.Dx() * a.Rect.Dy()
	}
	n := 0
	for i := 0; i < len(a.Pix); i += 4 {
		if !bytes.Equal(a.Pix[i:i+4], b.Pix[i:i+4]) {
			n++
		}
	}
	return n
}

// colours counts the colours of a picture: a window without content has few.
func colours(img *image.RGBA) int {
	seen := map[color.RGBA]bool{}
	for y := img.Rect.Min.Y; y < img.Rect.Max.Y; y += 3 {
		for x := img.Rect.Min.X; x < img.Rect.Max.X; x += 3 {
			seen[img.RGBAAt(x, y)] = true
		}
	}
	return len(seen)
}

// cursor finds the cursor of the cycle figure: the column with the most of its
// colour, and the middle of it.
func (w *win) cursor() (x, y int) {
	img := w.picture()
	if img == nil {
		return 0, 0
	}
	cursor := figure.Light().Color(figure.Cursor)
	best := 60 // fewer pixels are no cursor
	for c := img.Bounds().Min.X; c < img.Bounds().Max.X; c++ {
		n, sum := 0, 0
		for r := img.Bounds().Min.Y; r < img.Bounds().Max.Y; r++ {
			if is(img.RGBAAt(c, r), cursor) {
				n++
				sum += r
			}
		}
		if n > best {
			best, x, y = n, c, sum/n
		}
	}
	return x, y
}

func (w *win) cursorX() int {
	x, _ := w.cursor()
	return x
}

// knob finds the middle of the slider's knob: it is the only thing of the colour
// of text into which a square of ten pixels fits.
func (w *win) knob() (x, y int) {
	img := w.picture()
	if img == nil {
		return 0, 0
	}
	const most = 10
	ink := figure.Light().Color(figure.Ink)
	n, sumX, sumY := 0, 0, 0
	b := img.Bounds()
	run := make([]int, b.Dx()) // of the colour, upwards
	for r := b.Min.Y; r < b.Max.Y; r++ {
		across := 0
		for c := b.Min.X; c < b.Max.X; c++ {
			if !is(img.RGBAAt(c, r), ink) {
				run[c-b.Min.X], across = 0, 0
				continue
			}
			run[c-b.Min.X]++
			if run[c-b.Min.X] >= most {
				across++
			} else {
				across = 0
			}
			if across >= most { // the corner of a square within the knob
				n++
				sumX += c - most/2
				sumY += r - most/2
			}
		}
	}
	if n == 0 {
		return 0, 0
	}
	return sumX / n, sumY / n
}

// is tells whether a pixel has a colour, about.
func is(got, want color.RGBA) bool {
	far := func(a, b uint8) bool { return int(a)-int(b) > 24 || int(b)-int(a) > 24 }
	return !far(got.R, want.R) && !far(got.G, want.G) && !far(got.B, want.B)
}

// memory is what the program holds of the machine's memory now, where the system
// tells.
func (w *win) memory() string {
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", w.cmd.Process.Pid))
	if err != nil {
		return "an unknown amount"
	}
	for line := range strings.Lines(string(status)) {
		if rest, ok := strings.CutPrefix(line, "VmRSS:"); ok {
			return strings.TrimSpace(rest)
		}
	}
	return "an unknown amount"
}

// keepPicture keeps what the window shows for whoever looks into the failure.
func (w *win) keepPicture() {
	img := w.picture()
	if img == nil {
		return
	}
	f, err := os.CreateTemp("", "pinphase-e2e-*.png")
	if err != nil {
		w.t.Log(err)
		return
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		w.t.Log(err)
	}
	w.t.Logf("the window looked like %s", f.Name())
}

// typed types text to what has the keyboard.
func (w *win) typed(text string) {
	w.t.Helper()
	w.xdo("type", "--delay", "60", text)
	w.frame()
}

// other waits for another window of the program and returns its id.
func (w *win) other(name string) string {
	w.t.Helper()
	id := ""
	w.until("a window called "+name, func() bool {
		out, err := tool("xdotool", "search", "--onlyvisible", "--name", name)
		if ids := strings.Fields(string(out)); err == nil && len(ids) > 0 {
			id = ids[len(ids)-1]
		}
		return id != ""
	})
	return id
}

// gone waits until no window has a name.
func (w *win) gone(name string) {
	w.t.Helper()
	w.until("the end of the window called "+name, func() bool {
		out, _ := tool("xdotool", "search", "--onlyvisible", "--name", name) // it fails when there is none
		return len(strings.Fields(string(out))) == 0
	})
}
