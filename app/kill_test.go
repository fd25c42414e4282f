//go:build unix

package app

import (
	"bufio"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"pinphase.org/pinphase/timing/job"
)

// kills is how often the program is killed: scripts/kill-often asks for 500.
var kills = flag.Int("kills", 10, "how often TestKilledAtAnyMoment kills the program")

// victim is where a program to be killed keeps its files; "" in ordinary tests.
const victim = "PINPHASE_TEST_VICTIM"

// A victim does nothing but edit and save, as fast as it can, and says on
// standard output what it is about to do and what it has done:
//
//	file 12, offer 14      what it found; offer 0: nothing
//	edit 15 … edited 15
//	save 15 … saved 15
//
// Each edit numbers the job on, in its cetane number's decimals.
func TestVictim(t *testing.T) {
	folder := os.Getenv(victim)
	if folder == "" {
		return // it is TestKilledAtAnyMoment that starts victims
	}
	u := window(t)
	left := u.startRecovery(filepath.Join(folder, "recovery"))
	u.openFile(filepath.Join(folder, "job.toml"))
	n, offer := stamp(u.Session.Job()), 0
	if len(left) > 1 {
		t.Fatalf("%d jobs are offered", len(left))
	}
	fmt.Printf("file %d, ", n)
	if len(left) == 1 {
		offer = stamp(left[0].Job)
		n = max(n, offer)
		u.offer(left)
		press(t, u, "Restore")
		if stamp(u.Session.Job()) != offer {
			t.Fatalf("job %d was taken back, %d was offered", stamp(u.Session.Job()), offer)
		}
	}
	fmt.Printf("offer %d\n", offer)
	for {
		n++
		fmt.Println("edit", n)
		u.Edit("injection.cetane", func(j *job.Job) { j.Injection.Cetane = job.Num(stamped(n)) })
		fmt.Println("edited", n)
		if rand.IntN(3) == 0 {
			fmt.Println("save", n)
			u.save(nil)
			if said(u) != "" {
				t.Fatalf("saving, the window says %q", said(u))
			}
			fmt.Println("saved", n)
		}
	}
}

func stamped(n int) float64 { return 40 + float64(n)/1e5 }

func stamp(j job.Job) int {
	if !j.Injection.Cetane.Given {
		return 0
	}
	return int((j.Injection.Cetane.Value-40)*1e5 + 0.5)
}

// journal is what is known of a victim from what it said before it died.
type journal struct {
	file, offer               int
	edit, edited, save, saved int
}

func (j *journal) read(line string) {
	fmt.Sscanf(line, "file %d, offer %d", &j.file, &j.offer)
	word, value, _ := strings.Cut(line, " ")
	n, err := strconv.Atoi(value)
	if err != nil {
		return
	}
	switch word {
	case "edit":
		j.edit = n
	case "edited":
		j.edited = n
	case "save":
		j.save = n
	case "saved":
		j.saved = n
	}
}

// Every victim lives until it has edited. Half of them are killed some time after that,
// whatever they do then, and half while a save is under way, or just after.
//
// The file always holds the job last saved, or the one whose saving was under
// way; what is offered at the next start is the last edit, or the one under way,
// unless the file holds it.
func TestKilledAtAnyMoment(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "job.toml")
	if err := os.WriteFile(path, []byte(byHand), 0o666); err != nil {
		t.Fatal(err)
	}
	var was journal
	hits, edits := 0, 0
	for i := range *kills {
		now := run(t, folder, i%2 == 1)
		if now.edited == 0 {
			t.Fatalf("kill %d: the victim died before it had edited: %+v", i, now)
		}
		if now.save > now.saved {
			hits++
		}
		edits += now.edited - max(now.file, now.offer)
		if i > 0 {
			if got := max(now.file, now.offer); got != was.edited && got != was.edit {
				t.Fatalf("kill %d: %+v was found after %+v", i, now, was)
			}
			if file := max(was.file, was.saved); now.file != file && now.file != max(file, was.save) {
				t.Fatalf("kill %d: the file holds %d after %+v", i, now.file, was)
			}
			if now.offer != 0 && now.offer == now.file {
				t.Fatalf("kill %d: job %d is offered though its file holds it", i, now.offer)
			}
		}
		was = now
	}
	if doc, err := job.ReadFile(path); err != nil || stamp(doc.Job()) == 0 {
		t.Errorf("at the end the file holds %v, %v", doc, err)
	}
	t.Logf("killed %d times over %d edits, %d times while it saved", *kills, edits, hits)
	if hits < *kills/5 {
		t.Errorf("only %d of %d kills hit a save: nothing is known of them", hits, *kills)
	}
	if left, _ := filepath.Glob(filepath.Join(folder, "*")); len(left) > 2+*kills {
		t.Errorf("%d files lie beside the job", len(left))
	}
}

// run starts a victim, lets it live for a while once it has edited, and kills it;
// aimed, it is killed at one of its saves.
func run(t *testing.T, folder string, aimed bool) (j journal) {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^TestVictim$")
	cmd.Env = append(os.Environ(), victim+"="+folder)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	var killed bool
	var saves, which = 0, rand.IntN(4)
	for lines.Scan() {
		if strings.Contains(lines.Text(), "FAIL") {
			rest, _ := io.ReadAll(out)
			t.Fatalf("the victim failed by itself: %s\n%s", lines.Text(), rest)
		}
		before := j
		j.read(lines.Text())
		if j.save != before.save {
			saves++
		}
		if killed || j.edited == 0 {
			continue
		}
		switch {
		case !aimed:
			killed = true
			time.AfterFunc(time.Duration(rand.IntN(80))*time.Millisecond, func() { cmd.Process.Kill() })
		case j.save > j.saved && saves > which:
			killed = true
			time.Sleep(time.Duration(rand.IntN(3000)) * time.Microsecond)
			cmd.Process.Kill()
		}
	}
	cmd.Wait()
	return j
}

// full is set for a program that finds no room on the disk.
const full = "PINPHASE_TEST_FULL"

// A process that may write no file beyond a few bytes stands for a full disk:
// writing fails in the same place, with another word for it.
func TestFullDisk(t *testing.T) {
	if os.Getenv(full) == "" {
		cmd := exec.Command(os.Args[0], "-test.run=^TestFullDisk$", "-test.v")
		cmd.Env = append(os.Environ(), full+"=1")
		if out, err := cmd.CombinedOutput(); err != nil || !strings.Contains(string(out), "told and kept") {
			t.Errorf("%v\n%s", err, out)
		}
		return
	}
	u := on(t, byHand)
	fill(t, u, "injection.start_btdc_deg", "14.5")
	signal.Ignore(syscall.SIGXFSZ)
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: 64, Max: 64}); err != nil {
		t.Fatal(err)
	}
	u.save(nil)
	if !strings.Contains(said(u), "file too large") {
		t.Errorf("the window says %q", said(u))
	}
	if got := read(t, u.Session.Path); got != byHand || !u.Session.Dirty() {
		t.Errorf("the file holds %q, the job counts as saved: %v", got, !u.Session.Dirty())
	}
	if list, _ := os.ReadDir(filepath.Dir(u.Session.Path)); len(list) != 1 {
		t.Errorf("%d files lie in the folder", len(list))
	}
	fmt.Println("told and kept")
}

// A folder that nothing can be written to is told, and the job stays open.
func TestFolderThatCannotBeWritten(t *testing.T) {
	u := on(t, byHand)
	fill(t, u, "injection.start_btdc_deg", "14.5")
	folder := filepath.Dir(u.Session.Path)
	if err := os.Chmod(u.Session.Path, 0o444); err != nil {
		t.Fatal(err)
	}
	u.save(nil)
	if !strings.Contains(said(u), "permission denied") || !u.Session.Dirty() {
		t.Errorf("the window says %q", said(u))
	}
	press(t, u, "Close")
	// Into another place it can go.
	u.saveAs(nil)
	asked := entries(t, u)
	asked[0].SetText("copy.toml")
	asked[1].SetText(folder)
	press(t, u, "Save")
	if got := read(t, filepath.Join(folder, "copy.toml")); !strings.Contains(got, "14.5") {
		t.Errorf("the copy holds %q", got)
	}
}
