//go:build e2e

package main

import (
	"encoding/json"
	"fmt"
	"image"
	"net"
	"slices"
	"strconv"
	"strings"
	"time"
)

// What the program tells of its windows, and the mouse and the keyboard put to
// what is found there by its name.

// told asks the program what its windows show.
func (w *win) told() []shown {
	w.t.Helper()
	var list []shown
	w.until("the program to tell what it shows", func() (ok bool) {
		list, ok = w.ask()
		return ok
	})
	return list
}

// ask asks once. What mouse and keys did before is then taken in.
func (w *win) ask() (list []shown, ok bool) {
	c, err := net.Dial("unix", w.tells)
	if err != nil {
		return nil, false
	}
	defer c.Close()
	err = json.NewDecoder(c).Decode(&list)
	return list, err == nil
}

// boardName is how the name of the window for a class begins, boardTitle how that
// is searched for.
const (
	boardName  = "Board "
	boardTitle = "^" + boardName
)

// look returns what the program's window shows.
func (w *win) look() shown {
	w.t.Helper()
	for _, s := range w.told() {
		if strings.HasPrefix(s.Title, boardName) == w.onBoard {
			return s
		}
	}
	return shown{}
}

// which tells things from one another.
type which func(thing) bool

// named finds what can be worked by its words, the whole of them.
func named(name string) which {
	return func(t thing) bool { return t.Says == name && !isWords(t) }
}

// beginning finds what can be worked by how its words begin.
func beginning(with string) which {
	return func(t thing) bool { return strings.HasPrefix(t.Says, with) && !isWords(t) }
}

// kind finds what can be worked by its type.
func kind(name string) which { return func(t thing) bool { return t.Kind == name } }

// words finds any text that contains some.
func words(part string) which {
	return func(t thing) bool { return strings.Contains(t.Says, part) || strings.Contains(t.Value, part) }
}

func isWords(t thing) bool { return t.Kind == "Label" || t.Kind == "LineLabel" }

// fieldOf finds what is to be filled in behind a label, whatever stands in it.
func (s shown) fieldOf(label string) (thing, bool) { return s.workedAfter(label, "") }

// workedAfter finds the first thing after a label that can be worked, or the first
// with a name.
func (s shown) workedAfter(label, name string) (thing, bool) {
	for i, t := range s.Things {
		if isWords(t) && t.Says == label {
			for _, t := range s.Things[i+1:] {
				if t.Wants && (name == "" || t.Says == name) {
					return t, true
				}
			}
		}
	}
	return thing{}, false
}

func (s shown) find(is which) (thing, bool) {
	if i := slices.IndexFunc(s.Things, is); i >= 0 {
		return s.Things[i], true
	}
	return thing{}, false
}

// finder looks for something in what is shown.
type finder func(shown) (thing, bool)

func the(is which) finder         { return func(s shown) (thing, bool) { return s.find(is) } }
func button(name string) finder   { return the(named(name)) }
func fieldOf(label string) finder { return func(s shown) (thing, bool) { return s.fieldOf(label) } }
func after(label, n string) finder {
	return func(s shown) (thing, bool) { return s.workedAfter(label, n) }
}
func enabled(of finder) finder { return also(of, func(t thing) bool { return !t.Disabled }) }
func disabled(of finder) finder {
	return also(of, func(t thing) bool { return t.Disabled })
}
func focused(of finder) finder { return also(of, func(t thing) bool { return t.Focused }) }
func chosen(of finder) finder  { return also(of, func(t thing) bool { return t.Chosen }) }
func valued(of finder, v string) finder {
	return also(of, func(t thing) bool { return t.Value == v })
}

// also finds what something else is true of, too.
func also(of finder, is which) finder {
	return func(s shown) (thing, bool) {
		t, ok := of(s)
		return t, ok && is(t)
	}
}

// sees waits until something is shown and returns it.
func (w *win) sees(what string, of finder) thing {
	w.t.Helper()
	var found thing
	w.until(what, func() (ok bool) {
		found, ok = of(w.look())
		return ok
	})
	return found
}

// says waits until a text is shown.
func (w *win) says(part string) {
	w.t.Helper()
	w.sees(fmt.Sprintf("the words %q", part), the(words(part)))
}

// goes waits until something is no longer shown.
func (w *win) goes(what string, of finder) {
	w.t.Helper()
	w.until(what+" to go", func() bool {
		_, ok := of(w.look())
		return !ok
	})
}

// steady waits until something is shown twice in the same place and returns it.
func (w *win) steady(what string, of finder) thing {
	w.t.Helper()
	last := w.sees(what, of)
	w.until(what+" to come to rest", func() bool {
		w.frame()
		now, ok := of(w.look())
		rests := ok && now.Place == last.Place && now.Room == last.Room
		last = now
		return rests
	})
	return last
}

// inSight brings something within its scroll with the mouse wheel and returns where
// it then is.
func (w *win) inSight(what string, of finder) thing {
	w.t.Helper()
	t := w.steady(what, of)
	for range 60 {
		at := centre(t.Place)
		if at.In(t.Room) {
			return t
		}
		var notch, x, y = "5", t.Room.Min.X + 3, (t.Room.Min.Y + t.Room.Max.Y) / 2
		switch {
		case at.Y < t.Room.Min.Y:
			notch = "4"
		case at.Y < t.Room.Max.Y && at.X >= t.Room.Max.X:
			notch = "7"
		case at.Y < t.Room.Max.Y:
			notch = "6"
		}
		w.xdo("mousemove", "--window", w.shownID(), strconv.Itoa(x), strconv.Itoa(y), "click", "--repeat", "2", "--delay", "20", notch)
		t = w.steady(what, of)
	}
	w.t.Fatalf("%s cannot be scrolled into sight: it is at %v, seen is %v", what, t.Place, t.Room)
	return t
}

// click clicks something, scrolled into sight where need be.
func (w *win) click(what string, of finder) {
	w.t.Helper()
	w.clickAt(centre(w.inSight(what, of).Place))
}

// press clicks a button by its name.
func (w *win) press(name string) {
	w.t.Helper()
	w.click(fmt.Sprintf("the button %q", name), enabled(button(name)))
}

// clickAt clicks somewhere in the window.
func (w *win) clickAt(p image.Point) {
	w.t.Helper()
	w.point(p)
	w.xdo("click", "1")
}

// point moves the pointer and waits until the program has seen it there.
func (w *win) point(p image.Point) {
	w.t.Helper()
	w.xdo("mousemove", "--window", w.shownID(), strconv.Itoa(p.X), strconv.Itoa(p.Y))
	w.until(fmt.Sprintf("the pointer at %v", p), func() bool {
		at := w.look().Pointer.Sub(p)
		return max(at.X, -at.X, at.Y, -at.Y) <= 1
	})
}

// menu chooses an entry of the menu bar, and of a menu in it, with the mouse.
func (w *win) menu(names ...string) {
	w.t.Helper()
	for i, name := range names {
		k := "menuItem"
		if i == 0 {
			k = "menuBarItem"
		}
		is := func(t thing) bool { return t.Says == name && t.Kind == k && !t.Disabled }
		w.clickAt(centre(w.steady("the menu's "+name, the(is)).Place))
	}
}

// choose picks an entry of a list that opens, with the mouse.
func (w *win) choose(what string, of finder, entry string) {
	w.t.Helper()
	w.click(what, of)
	w.click("the entry "+entry, the(func(t thing) bool { return t.Says == entry && t.Kind == "menuItem" }))
	w.sees(what+" as chosen", valued(of, entry))
}

// tabTo presses Tab until something has the keyboard. What has it must be in sight.
func (w *win) tabTo(what string, of finder) thing {
	w.t.Helper()
	focus := func(s shown) thing { t, _ := s.find(func(t thing) bool { return t.Focused }); return t }
	const most = 150
	now := w.look()
	for range most {
		before := focus(now)
		w.xdo("key", "--clearmodifiers", "Tab")
		for deadline := time.Now().Add(time.Second); time.Now().Before(deadline); {
			now = w.look()
			if at := focus(now); at.Place != before.Place || at.Says != before.Says {
				break
			}
		}
		if t, ok := of(now); ok && t.Focused {
			if !t.Place.Overlaps(t.Room) {
				w.t.Errorf("%s has the keyboard out of sight: it is at %v, seen is %v", what, t.Place, t.Room)
			}
			return t
		}
	}
	w.t.Fatalf("pressing Tab %d times does not lead to %s", most, what)
	return thing{}
}

// pushes gives a button the keyboard and presses it.
func (w *win) pushes(name string) {
	w.t.Helper()
	w.tabTo(fmt.Sprintf("the button %q", name), enabled(button(name)))
	w.key("space")
}

// picks opens a list that has the keyboard and picks an entry of it with keys.
func (w *win) picks(what string, of finder, entry string) {
	w.t.Helper()
	w.tabTo(what, of)
	w.key("space")
	w.sees("the list of "+what, the(kind("menuItem")))
	w.until("the entry "+entry, func() bool {
		t, ok := w.look().find(func(t thing) bool { return t.Kind == "menuItem" && t.Focused })
		if ok && t.Says == entry {
			return true
		}
		w.key("Down")
		return false
	})
	w.key("Return")
	w.sees(what+" as picked", valued(of, entry))
}

// crank is where the crank stands, in degrees, as the page shown says.
func (w *win) crank() float64 {
	w.t.Helper()
	t, ok := w.look().fieldOf("Crankshaft at")
	at, err := strconv.ParseFloat(t.Value, 64)
	if !ok || err != nil {
		return -1
	}
	return at
}

// crankAt waits until the crank stands at an angle.
func (w *win) crankAt(deg float64) {
	w.t.Helper()
	w.until(fmt.Sprintf("the crank at %g°, it is at %g°", deg, w.crank()), func() bool { return w.crank() == deg })
}

// page waits until a page is the one shown.
func (w *win) page(name string) {
	w.t.Helper()
	w.sees("the page "+name, chosen(button(name)))
}

// value is what a field has in it.
func (w *win) value(of finder) string {
	w.t.Helper()
	return w.sees("a field", of).Value
}

// repaints does something and waits until that changes a share of what is seen of a
// figure.
func (w *win) repaints(what string, of finder, share float64, do func()) {
	w.t.Helper()
	t := w.steady(what, of)
	at := t.Place.Intersect(t.Room)
	before := w.part(at)
	do()
	w.until(what+" to look otherwise", func() bool {
		now := w.part(at)
		return now != nil && float64(changed(before, now)) >= share*float64(at.Dx()*at.Dy())
	})
}

// repainted is that a share of a figure looks otherwise than now.
func (w *win) repainted(of finder) effect {
	t := w.steady("the figure", of)
	at := t.Place.Intersect(t.Room)
	before := w.part(at)
	return func() bool { now := w.part(at); return now != nil && changed(before, now) > 0 }
}

func centre(r image.Rectangle) image.Point { return r.Min.Add(r.Size().Div(2)) }
