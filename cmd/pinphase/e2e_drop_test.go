//go:build e2e

package main

import (
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/jezek/xgb"
	"github.com/jezek/xgb/xproto"
)

// drop drops files on a place of the window, as a file manager does: by the drag
// and drop protocol of the X Window System (XDND, version 5), with a window of its
// own as the source.
func (w *win) drop(x, y int, paths ...string) {
	w.t.Helper()
	id, err := strconv.ParseUint(w.id, 10, 32)
	if err == nil {
		err = dropOn(xproto.Window(id), x, y, paths)
	}
	if err != nil {
		w.t.Fatalf("dropping %v: %v\n%s", paths, err, w.log)
	}
}

// dragSource is what is dragged from: a connection to the display and a window on
// it that nobody sees.
type dragSource struct {
	conn   *xgb.Conn
	window xproto.Window
	target xproto.Window
	atoms  map[string]xproto.Atom
	list   string // what is dragged, as text/uri-list (RFC 2483)
	events chan xgb.Event
}

// The names XDND has for its messages and types.
var dragNames = []string{"XdndEnter", "XdndPosition", "XdndStatus", "XdndLeave", "XdndDrop", "XdndFinished", "XdndSelection", "XdndActionCopy", "text/uri-list"}

var errRefused = errors.New("the window does not take what is dragged over it")

// dropOn drops files on a place of a window. It returns once the window says that
// it has taken them, [errRefused] when it says that it will not, and an error when
// it says nothing.
func dropOn(target xproto.Window, x, y int, paths []string) error {
	xgb.Logger.SetOutput(io.Discard) // it tells that a display asks for no password
	conn, err := xgb.NewConn()
	if err != nil {
		return err
	}
	defer conn.Close()
	s := &dragSource{conn: conn, target: target, atoms: map[string]xproto.Atom{}, events: make(chan xgb.Event, 16)}
	for _, name := range dragNames {
		reply, err := xproto.InternAtom(conn, false, uint16(len(name)), name).Reply()
		if err != nil {
			return err
		}
		s.atoms[name] = reply.Atom
	}
	for _, p := range paths {
		s.list += (&url.URL{Scheme: "file", Path: p}).String() + "\r\n"
	}
	screen := xproto.Setup(conn).DefaultScreen(conn)
	if s.window, err = xproto.NewWindowId(conn); err != nil {
		return err
	}
	if err := xproto.CreateWindowChecked(conn, screen.RootDepth, s.window, screen.Root, -10, -10, 1, 1, 0, xproto.WindowClassInputOutput, screen.RootVisual, 0, nil).Check(); err != nil {
		return err
	}
	if err := xproto.SetSelectionOwnerChecked(conn, s.window, s.atoms["XdndSelection"], xproto.TimeCurrentTime).Check(); err != nil {
		return err
	}
	place, err := xproto.TranslateCoordinates(conn, target, screen.Root, int16(x), int16(y)).Reply()
	if err != nil {
		return err
	}
	go func() {
		defer close(s.events)
		for {
			e, _ := conn.WaitForEvent() // an error is of one request; each is checked where it is made
			if e == nil {
				return // closed
			}
			s.events <- e
		}
	}()
	return s.dragTo(uint32(place.DstX)<<16 | uint32(uint16(place.DstY)))
}

// dragTo goes through the protocol.
func (s *dragSource) dragTo(root uint32) error {
	const version = 5
	if err := s.send("XdndEnter", version<<24, uint32(s.atoms["text/uri-list"]), 0, 0); err != nil {
		return err
	}
	if err := s.send("XdndPosition", 0, root, xproto.TimeCurrentTime, uint32(s.atoms["XdndActionCopy"])); err != nil {
		return err
	}
	status, err := s.answer("XdndStatus")
	if err != nil {
		return err
	}
	if accepted := status.Data.Data32[1]&1 == 1; !accepted {
		s.send("XdndLeave", 0, 0, 0, 0) // whether it hears this is all the same
		return errRefused
	}
	if err := s.send("XdndDrop", 0, xproto.TimeCurrentTime, 0, 0); err != nil {
		return err
	}
	_, err = s.answer("XdndFinished")
	return err
}

// send sends a message of the protocol to the window dropped on.
func (s *dragSource) send(name string, data ...uint32) error {
	m := xproto.ClientMessageEvent{Format: 32, Window: s.target, Type: s.atoms[name],
		Data: xproto.ClientMessageDataUnionData32New(append([]uint32{uint32(s.window)}, data...))}
	return xproto.SendEventChecked(s.conn, false, s.target, xproto.EventMaskNoEvent, string(m.Bytes())).Check()
}

// answer waits for a message of the protocol. Meanwhile it hands out what is
// dragged to whoever asks.
func (s *dragSource) answer(name string) (xproto.ClientMessageEvent, error) {
	deadline := time.After(patience)
	for {
		select {
		case <-deadline:
			return xproto.ClientMessageEvent{}, fmt.Errorf("no %s within %v", name, patience)
		case e, open := <-s.events:
			if !open {
				return xproto.ClientMessageEvent{}, fmt.Errorf("the display hung up before %s", name)
			}
			switch e := e.(type) {
			case xproto.ClientMessageEvent:
				if e.Type == s.atoms[name] {
					return e, nil
				}
			case xproto.SelectionRequestEvent:
				if err := s.handOut(e); err != nil {
					return xproto.ClientMessageEvent{}, err
				}
			}
		}
	}
}

// handOut gives what is dragged to a window that asks for it.
func (s *dragSource) handOut(e xproto.SelectionRequestEvent) error {
	if err := xproto.ChangePropertyChecked(s.conn, xproto.PropModeReplace, e.Requestor, e.Property, e.Target, 8, uint32(len(s.list)), []byte(s.list)).Check(); err != nil {
		return err
	}
	done := xproto.SelectionNotifyEvent{Time: e.Time, Requestor: e.Requestor, Selection: e.Selection, Target: e.Target, Property: e.Property}
	return xproto.SendEventChecked(s.conn, false, e.Requestor, xproto.EventMaskNoEvent, string(done.Bytes())).Check()
}

// testFile is the whole path of a file in the repository's testdata.
func testFile(t *testing.T, name string) string {
	t.Helper()
	path, err := filepath.Abs(filepath.Join("..", "..", "testdata", filepath.FromSlash(name)))
	if err == nil {
		_, err = os.Stat(path)
	}
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// recordingFile unpacks a recording into a folder of the test's own.
func recordingFile(t *testing.T) string {
	t.Helper()
	packed, err := gzip.NewReader(strings.NewReader(read(t, testFile(t, "recordings/three-cylinder.csv.gz"))))
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(packed)
	path := filepath.Join(t.TempDir(), "three.csv")
	if err == nil {
		err = os.WriteFile(path, data, 0o666)
	}
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// What is dropped on the window is opened, on the page it is for.
func TestFilesAreDroppedOnTheWindow(t *testing.T) {
	binary := build(t)
	w := open(t, binary, newHomes(t))

	// A job, whose name has to be written otherwise in a list of addresses.
	name := "Löwe 2 %, crank #1.toml"
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(read(t, testFile(t, "recordings/three-cylinder.toml"))), 0o666); err != nil {
		t.Fatal(err)
	}
	w.drop(640, 400, path)
	w.titleIs(name + " – Pinphase")
	w.settle()

	// A recording comes up on the signals page, a picture on the part page.
	w.drop(640, 400, recordingFile(t))
	w.page("Signals")
	w.drop(640, 400, testFile(t, "photos/nose-square.jpg"))
	w.page("Part")
	w.says("Still missing: 5 points on the rim") // it is read beside the window's work
	w.settle()

	// What is none of these is refused in words, and nothing is lost.
	before := w.picture()
	w.drop(640, 400, testFile(t, "photos/marks.json"))
	w.until("words that it cannot be opened", func() bool { return w.differs(before) })
	w.key("Escape")
	w.until("the words to go", func() bool { return !w.differs(before) })
	w.titleIs("• " + name + " – Pinphase") // the picture is part of it now
}
