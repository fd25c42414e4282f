package part

import (
	"context"
	"errors"

	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/part/photo/pixels"
	"pinphase.org/pinphase/timing/part/photo/snap"
	"pinphase.org/pinphase/widgets"
)

// photograph is the one that is shown, or on its way.
type photograph struct {
	bench  *photoBench
	path   string     // "" for none
	failed error      // why it cannot be shown
	cancel func()     // ends reading it
	grey   *snap.Grey // of the one that is shown, nil while there is none
}

// show puts a job's picture onto the view; reading it is done beside the main
// goroutine, for a phone's picture takes longer than a frame.
func (p *photograph) show(file string) {
	u, view := p.bench.p.u, p.bench.view
	path := ""
	if file != "" {
		path = photo.InFolder(u.Folder(), file)
	}
	if path == p.path && (path != "" || view.Placeholder != "") {
		return
	}
	if p.cancel != nil {
		p.cancel()
	}
	p.path, p.failed, p.cancel = path, nil, nil
	view.Placeholder = tr("Open a photograph of the shaft's end, or drop one here")
	if path != "" {
		view.Placeholder = tr("Reading the photograph…")
	}
	p.grey = nil
	p.bench.snap.clear()
	view.SetPicture(nil)
	if path == "" {
		return
	}
	ctx, cancel := context.WithCancel(context.Background())
	p.cancel = cancel
	u.Background(func() func() {
		defer cancel()
		img, info, err := pixels.Load(ctx, path, 0)
		var pyramid *widgets.Pyramid
		var grey *snap.Grey
		if err == nil {
			pyramid, grey = widgets.NewPyramid(img), snap.FromRGBA(img, info.Width)
		}
		return func() {
			if p.path != path || errors.Is(err, context.Canceled) {
				return // another one was opened meanwhile
			}
			if p.failed = err; err != nil {
				view.Placeholder = tr("This photograph cannot be shown")
			}
			p.grey = grey
			p.bench.snap.load()
			view.SetPicture(pyramid)
			view.Refresh() // where there is still none, for the words in its place
			view.FitMarks()
			p.bench.loadFound()
		}
	})
}

// forget lets the picture be read anew.
func (p *photograph) forget() { p.path, p.failed = "", nil; p.bench.view.Placeholder = "" }
