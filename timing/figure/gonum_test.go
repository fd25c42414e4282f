package figure

import (
	"image"
	"image/color"
	"math"
	"testing"

	"golang.org/x/image/font"
	vgfont "gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"

	"pinphase.org/pinphase/assets"
)

// gonum draws on gonum/plot's canvas for pictures, whose y grows up, to be compared
// with.
type gonum struct {
	*vgimg.Canvas
	h float64
}

func (g gonum) at(x, y float64) vg.Point { return vg.Point{X: vg.Length(x), Y: vg.Length(g.h - y)} }

func (g gonum) path(p []Seg) vg.Path {
	var list vg.Path
	for _, s := range p {
		switch at := g.at(s.X, s.Y); s.Op {
		case MoveTo:
			list.Move(at)
		case LineTo:
			list.Line(at)
		case ArcTo:
			list.Arc(at, vg.Length(s.R), (90-s.Start)*math.Pi/180, -s.Sweep*math.Pi/180)
		case CloseTo:
			list.Close()
		}
	}
	return list
}

func (g gonum) fill(p []Seg, c color.RGBA) {
	g.SetColor(c)
	g.Fill(g.path(p))
}

func (g gonum) stroke(p []Seg, l line) {
	dash := make([]vg.Length, len(l.dash))
	for i, d := range l.dash {
		dash[i] = vg.Length(d)
	}
	g.SetColor(l.color)
	g.SetLineWidth(vg.Length(l.width))
	g.SetLineDash(dash, 0)
	g.Stroke(g.path(p))
}

func (g gonum) write(t writing) {
	f := vgfont.Font{Typeface: assets.FontFamily, Weight: font.WeightNormal, Size: vgfont.Length(t.size)}
	if t.bold {
		f.Weight = font.WeightBold
	}
	g.SetColor(t.color)
	g.Push()
	g.Translate(g.at(t.x, t.y))
	g.Rotate(-t.turn * math.Pi / 180)
	g.FillString(vgfont.Face{Font: f, Face: fontOf(t.bold).font}, vg.Point{}, t.s)
	g.Pop()
}

func (g gonum) picture(r Rect, img image.Image) {
	g.DrawImage(vg.Rectangle{Min: g.at(r.X, r.Bottom()), Max: g.at(r.Right(), r.Y)}, img)
}

// Gonum's canvas paints the same figures by another way. It does not put lines onto
// whole pixels and sets text with kerning, so single pixels differ; blocks of 16 by 16
// pixels are as bright to within an eighth of the way from black to white, which a
// label, line or area in another place or colour is not.
func TestGonumPaintsTheSame(t *testing.T) {
	t.Parallel()
	for name, d := range goldenDrawings() {
		c := vgimg.NewWith(vgimg.UseWH(vg.Length(d.W), vg.Length(d.H)), vgimg.UseDPI(72))
		drawOn(gonum{c, d.H}, d, Light())
		ours := new(Raster).Render(d, Light(), int(d.W), int(d.H), 1)
		worst, where := 0.0, image.Rectangle{}
		for y := 0; y < ours.Rect.Dy(); y += 16 {
			for x := 0; x < ours.Rect.Dx(); x += 16 {
				r := image.Rect(x, y, x+16, y+16).Intersect(ours.Rect)
				if by := math.Abs(brightness(ours, r) - brightness(c.Image(), r)); by > worst {
					worst, where = by, r
				}
			}
		}
		t.Logf("%s: the blocks in %v differ most, by %.1f of 255", name, where, worst)
		if worst > 30 {
			t.Errorf("%s: the blocks in %v differ by %.1f of 255", name, where, worst)
		}
	}
}

// brightness is the mean of the pixels in a rectangle, 0 to 255.
func brightness(img image.Image, r image.Rectangle) float64 {
	sum := 0
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			sum += int(color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y)
		}
	}
	return float64(sum) / float64(r.Dx()*r.Dy())
}
