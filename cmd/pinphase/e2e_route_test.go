//go:build e2e

package main

import (
	"fmt"
	"image"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/job"
)

// What the way to a claim may take: clicks and keys, and time.
const (
	routeMost = 44
	routeTime = 3 * time.Minute
)

// route counts what the user does on the way: each click and each key is one.
type route struct {
	*win
	home string
	acts int
}

// click clicks something that is in sight, and waits for the effect.
func (r *route) click(what string, of finder, e effect) {
	r.t.Helper()
	r.step("clicking "+what, e, func() {
		at := r.steady(what, of)
		if !centre(at.Place).In(at.Room) {
			r.t.Errorf("%s is to be scrolled to: it is at %v, seen is %v", what, at.Place, at.Room)
		}
		r.win.click(what, of)
		r.acts++
	})
}

func (r *route) press(name string, e effect) {
	r.t.Helper()
	r.click(name, enabled(button(name)), e)
}

func (r *route) key(name string, e effect) {
	r.t.Helper()
	r.step("the key "+name, e, func() { r.win.key(name); r.acts++ })
}

// menu chooses an entry of the menu bar: a click on the menu, one on the entry.
func (r *route) menu(menu, entry string, e effect) {
	r.t.Helper()
	named := func(kind, says string) finder {
		return the(func(t thing) bool { return t.Kind == kind && t.Says == says && !t.Disabled })
	}
	r.click("the menu "+menu, named("menuBarItem", menu), r.shows(named("menuItem", entry)))
	r.click("the menu's "+entry, named("menuItem", entry), e)
}

// photoView is the photograph, once it is there: until then it says that it is not.
var photoView = the(func(t thing) bool { return t.Kind == "PhotoView" && t.Says == "photograph of the part" })

// mark clicks a place of the photograph, in its pixels. All of the picture is in view,
// in the middle, with a margin that the view leaves.
func (r *route) mark(what string, size image.Point, p job.Point, e effect) {
	r.t.Helper()
	r.step("marking "+what, e, func() {
		at := r.steady("the photograph", photoView).Place
		const margin = 8
		scale := min(float64(at.Dx()-2*margin)/float64(size.X), float64(at.Dy()-2*margin)/float64(size.Y))
		put := func(lo, hi int, v float64, pixels int) int {
			return int(math.Round(float64(lo+hi)/2 + (v-float64(pixels)/2)*scale))
		}
		r.clickAt(image.Pt(put(at.Min.X, at.Max.X, p.X, size.X), put(at.Min.Y, at.Max.Y, p.Y, size.Y)))
		r.acts++
	})
}

// photograph measures the part that is chosen on a picture: it clicks where the marks of
// the reading are, three of its rim, the keyway's corners, the dowel's middle. The part's
// row must then say about how far the dowel lies, and on which side: a pixel of the screen
// is three of the picture, half of which is half a degree at the dowel.
func (r *route) photograph(in job.Reading, row, side string, deg float64) {
	r.t.Helper()
	size := image.Pt(1200, 900)
	r.click("the photograph as the method", the(func(t thing) bool { return t.Kind == "Card" && t.Says == "photograph" }), r.shows(enabled(button("Open a photograph…"))))
	file := the(func(t thing) bool { return t.Kind == "Label" && t.Says == in.File })
	r.press("Open a photograph…", r.shows(file))
	r.click("the file", file, r.shows(enabled(button("Open"))))
	r.press("Open", r.shows(photoView))

	first, third := len(in.Rim)/3, 2*len(in.Rim)/3
	r.mark("the rim", size, in.Rim[0], r.shows(button("Rim of the face: 1 of 5 or more")))
	r.mark("the rim again", size, in.Rim[first], r.shows(button("Rim of the face: 2 of 5 or more")))
	r.mark("the rim a third time", size, in.Rim[third], r.shows(button("Take the proposal")))
	r.press("Take the proposal", r.shows(chosen(button("Keyway: no points"))))
	r.mark("a corner of the keyway", size, in.Keyway[0], r.shows(button("Keyway: 1 of 2")))
	r.mark("its other corner", size, in.Keyway[1], r.shows(chosen(button("Dowel: no points"))))
	var middle job.Point
	for _, p := range in.Dowel {
		middle.X += p.X / float64(len(in.Dowel))
		middle.Y += p.Y / float64(len(in.Dowel))
	}
	measured := the(beginning(row + ", "))
	r.mark("the dowel", size, middle, func() bool {
		t, ok := measured(r.look())
		return ok && strings.HasSuffix(t.Says, "° "+side)
	})
	var got float64
	says := r.sees("the part's row", measured).Says
	if _, err := fmt.Sscanf(strings.TrimPrefix(says, row+", "), "%f°", &got); err != nil || math.Abs(got-deg) > 1.5 {
		r.t.Errorf("the row says %q (%v), the picture was drawn with %g°", says, err, deg)
	}
	readable := "no: writing in it can be read"
	mirror := the(func(t thing) bool { return t.Kind == "Select" && (t.Value == "not known" || t.Value == readable) })
	entry := the(func(t thing) bool { return t.Says == readable && t.Kind == "menuItem" })
	r.click("whether it is mirrored", mirror, r.shows(entry))
	r.click("that it is not", entry, r.shows(valued(mirror, readable)))
}

// TestRouteToAClaim: who has the old and the new crankshaft before them, a photograph of
// each and nothing in the program yet has the claim as PDF within three minutes and
// fewer than 45 clicks and keys. The photographs are rendered with the dowel 14° on
// either side of the keyway.
func TestRouteToAClaim(t *testing.T) {
	binary, homes := build(t), newHomes(t)
	r := &route{win: start(t, binary, homes), home: strings.TrimPrefix(homes[0], "HOME=")}
	two := photographed(t)
	var old, new job.Reading
	for to, place := range map[*job.Reading]int{&old: 0, &new: 1} {
		*to = *two.Parts[place].Dowel
		picture, err := assets.Try.ReadFile("try/" + to.File)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(r.home, to.File), picture, 0o600); err != nil {
			t.Fatal(err)
		}
	}

	began := time.Now()
	r.key("ctrl+n", r.titled("Untitled job – Pinphase"))
	r.key("ctrl+2", r.shows(chosen(button("Part"))))
	r.press("I have the old crankshaft", r.shows(chosen(the(beginning("Old crankshaft: datum")))))
	r.photograph(old, "Old crankshaft: datum", "clockwise", 14)
	r.click("the new crankshaft", the(beginning("New crankshaft: in the engine")), r.shows(chosen(the(beginning("New crankshaft: in the engine")))))
	r.photograph(new, "New crankshaft: in the engine", "anticlockwise", 14)
	r.menu("File", "Save measurement report…", r.shows(opensIt))
	r.press("Save…", r.shows(fileName))
	claim := filepath.Join(r.home, r.value(fileName))
	r.press("Save", r.written(claim, "%PDF-", "%%EOF"))
	took := time.Since(began)

	t.Logf("the claim is there after %d clicks and keys, %.1f s", r.acts, took.Seconds())
	if r.acts > routeMost {
		t.Errorf("it takes %d clicks and keys, %d at the most are allowed", r.acts, routeMost)
	}
	if took > routeTime {
		t.Errorf("it takes %v, %v at the most are allowed", took, routeTime)
	}
}
