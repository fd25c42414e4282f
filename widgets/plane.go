package widgets

import (
	"image"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"

	"pinphase.org/pinphase/timing/figure"
)

// unitsPerPoint is how many of Fyne's units a printer's point takes: 96 and 72
// to the inch.
const unitsPerPoint = 96.0 / 72

// ordinaryText is the theme's text size at which figures have their own type
// size.
const ordinaryText = 15

// plane paints a drawing into one raster, and only when it has changed: moving
// something on top of it costs nothing here.
type plane struct {
	raster  *canvas.Raster
	drawing figure.Drawing
	style   figure.Style
	painter figure.Raster

	stale bool      // another drawing is wanted, whatever the size
	built fyne.Size // of the view the drawing was made for

	painted       *image.RGBA // nil: must be painted anew
	width, height int         // of painted
	paints        int         // how often it was painted, for tests
}

func newPlane() *plane {
	p := &plane{stale: true}
	p.raster = canvas.NewRaster(p.paint)
	p.raster.ScaleMode = canvas.ImageScaleFastest
	return p
}

// due tells whether the drawing must be made for a view of some size, and takes it as
// made. Without room there is nothing to make.
func (p *plane) due(size fyne.Size) bool {
	if size.Width <= 0 || size.Height <= 0 || !p.stale && size == p.built {
		return false
	}
	p.built, p.stale = size, false
	return true
}

// show puts another drawing onto the plane.
func (p *plane) show(d figure.Drawing, st figure.Style) {
	p.drawing, p.style, p.painted = d, st, nil
	canvas.Refresh(p.raster)
}

func (p *plane) paint(w, h int) image.Image {
	if p.painted == nil || w != p.width || h != p.height {
		scale := 1.0
		if p.drawing.W > 0 {
			scale = float64(w) / p.drawing.W
		}
		p.painted, p.width, p.height = p.painter.Render(p.drawing, p.style, w, h, scale), w, h
		p.paints++
	}
	return p.painted
}

// drop lets go of the pixels; the plane is painted anew when it is shown again. A
// widget's renderer does so when the toolkit destroys it, a minute after it was last
// seen or with its window: the toolkit holds on to parts of a closed window, and a
// picture may be as large as the screen.
func (p *plane) drop() { p.painted, p.painter = nil, figure.Raster{} }

// box is the room a figure has on a widget of that size.
func box(size fyne.Size, th fyne.Theme) figure.Box {
	return figure.Box{
		W:    max(1, float64(size.Width)/unitsPerPoint),
		H:    max(1, float64(size.Height)/unitsPerPoint),
		Type: float64(th.Size(theme.SizeNameText)) / ordinaryText,
	}
}

// largeText is by how much a theme's text is larger than ordinary, 1 where it is
// smaller.
func largeText(th fyne.Theme) float32 { return max(1, th.Size(theme.SizeNameText)/ordinaryText) }

// unit turns points of a figure into Fyne's units.
func unit(points float64) float32 { return float32(points * unitsPerPoint) }

// styleOf returns the figure style that goes with a theme: its own, where it has one,
// else the one that suits its background.
func styleOf(th fyne.Theme) figure.Style {
	if own, ok := th.(interface{ FigureStyle() figure.Style }); ok {
		return own.FigureStyle()
	}
	bg := th.Color(theme.ColorNameBackground, fyne.CurrentApp().Settings().ThemeVariant())
	r, g, b, _ := bg.RGBA()
	st := figure.Light()
	if 299*r+587*g+114*b < 1000*0x8000 {
		st = figure.Dark()
	}
	return st.WithSurface(color.RGBA{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8), 0xff})
}
