package chart

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

// screens are those of projectors, by width and height.
var screens = [][2]float64{{1024, 768}, {1280, 720}, {1920, 1080}}

// textsOf are the texts of a drawing, and the size of the smallest.
func textsOf(d figure.Drawing) (list []string, least float64) {
	least = d.H
	for _, s := range d.Shapes {
		if t, ok := s.(figure.Text); ok && strings.TrimSpace(t.S) != "" {
			list, least = append(list, t.S), min(least, t.Size)
		}
	}
	return list, least
}

// measuresOf are the texts that may be others where there is less room: degrees of an
// axis, and cylinders by their number alone.
var measuresOf = regexp.MustCompile(`^[-−]?[\d.,]+°?$|\d+$`)

// On every page of a board with a cycle, on the screens of projectors, the smallest type
// is at least 1/28 of the screen's height (the height of an em), on one with two wheels
// 1/34, and everything that the page names where there is room without end is named there:
// legend, cylinders and values. On a screen of 4:3 two wheels leave no room for the words
// beside their scales.
func TestBoardTypeAndLegend(t *testing.T) {
	t.Parallel()
	jobs := map[string]job.Job{"demo": sample.Demo(t), "two-stroke": sample.File(t, "two-stroke"), "v16": sample.File(t, "v16-uneven"),
		"twelve": many(t, 12), "twenty-four": many(t, 24)}
	for name, j := range jobs {
		d := deck(t, j, nil)
		for i := range d.Len() {
			if first, _ := d.First(d.Chapter(i)); i > first && d.pages[i].wheels == 0 && !d.pages[i].marks {
				continue // as the first of its chapter, with another cursor
			}
			for _, v := range []PageView{{}, {Answer: true}, {Names: true}} {
				in := d.Page(i, v)
				var want []string
				for _, p := range in.Panels {
					list, _ := textsOf(p.Draw(figure.Box{W: 3000, H: 2000, Type: 1}))
					want = append(want, list...)
				}
				for _, s := range screens {
					at := fmt.Sprintf("%s, page %d, %+v, at %gx%g", name, i, v, s[0], s[1])
					drawn := figure.Board(in, s[0]/s[1])
					list, least := textsOf(drawn)
					most := 28.0
					if len(in.Panels) == 2 && in.Panels[0].Share == 0 {
						most = 34
					}
					if least < drawn.H/most-1e-6 {
						t.Errorf("%s: the smallest type is 1/%.1f of the height", at, drawn.H/least)
					}
					all := strings.Join(list, " ")
					var lost []string
					for _, w := range want {
						if measuresOf.MatchString(w) || most == 34 && s[0]/s[1] < 1.5 {
							continue
						}
						if !strings.Contains(all, w) {
							lost = append(lost, w)
						}
					}
					for c := 1; c <= len(j.Engine.FiringOrder); c++ {
						if len(in.Panels) > 0 && strings.Contains(strings.Join(want, "|"), fmt.Sprintf("Cyl %d|", c)) && !slices.ContainsFunc(list, func(s string) bool { return s == fmt.Sprint(c) || s == fmt.Sprintf("Cyl %d", c) }) {
							lost = append(lost, fmt.Sprintf("cylinder %d", c))
						}
					}
					if len(lost) > 0 {
						t.Errorf("%s: %q are lost", at, lost)
					}
				}
			}
		}
	}
}

// many is an engine of many cylinders, with a wheel and a dowel.
func many(t *testing.T, n int) job.Job {
	t.Helper()
	j := sample.Demo(t)
	j.Engine.FiringOrder = nil
	for c := 1; c <= n; c++ {
		j.Engine.FiringOrder = append(j.Engine.FiringOrder, c)
	}
	return j
}
