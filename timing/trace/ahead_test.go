package trace

import (
	"context"
	"errors"
	"io"
	"strconv"
	"strings"
	"testing"
	"time"

	"pinphase.org/pinphase/timing/trace/samples"
)

// rows are so many of a recording of one channel that counts them.
func rows(n int) string {
	var s strings.Builder
	s.WriteString("time (s),a\n")
	for i := range n {
		s.WriteString(strconv.FormatFloat(float64(i)*1e-5, 'f', 5, 64) + "," + strconv.Itoa(i) + "\n")
	}
	return s.String()
}

// Every row arrives once and in order, while the next ones are read.
func TestAheadHandsOnEveryRow(t *testing.T) {
	const n = 100003
	text := rows(n)
	r, err := samples.NewReader(strings.NewReader(text), samples.Options{})
	if err != nil {
		t.Fatal(err)
	}
	next, last := 0, int64(0)
	err = ahead(context.Background(), r, func(b *samples.Block, bytes int64) {
		for _, v := range b.Values[0] {
			if v != float64(next) {
				t.Fatalf("row %d holds %g", next, v)
			}
			next++
		}
		if bytes < last {
			t.Fatalf("%d bytes after %d", bytes, last)
		}
		last = bytes
	})
	if !errors.Is(err, io.EOF) || next != n || last != int64(len(text)) {
		t.Errorf("%d rows, %d of %d bytes, %v", next, last, len(text), err)
	}
}

// Called off, it ends at once, also while the file has nothing to give: a pipe that nobody
// writes to.
func TestAheadIsCalledOff(t *testing.T) {
	in, out := io.Pipe()
	defer out.Close()
	go io.WriteString(out, rows(20000))
	r, err := samples.NewReader(in, samples.Options{})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error)
	seen := make(chan bool, 100)
	go func() {
		ended <- ahead(ctx, r, func(*samples.Block, int64) { seen <- true })
	}()
	<-seen
	cancel()
	select {
	case err := <-ended:
		if !errors.Is(err, context.Canceled) {
			t.Errorf("%v", err)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("it goes on")
	}
}

// An error of the file is the one that is told.
func TestAheadTellsTheError(t *testing.T) {
	r, err := samples.NewReader(strings.NewReader(rows(9000)+"0,0\n"), samples.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := ahead(context.Background(), r, func(*samples.Block, int64) {}); !errors.Is(err, samples.ErrBackward) {
		t.Errorf("%v", err)
	}
}
