package signals

import (
	"errors"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/finding"
)

// recordingEndings are those of the files a recording is likely to be in.
var recordingEndings = []string{".csv", ".txt", ".tsv", ".wav", ".vcd", ".gz"}

// openRecording lets the user choose a recording.
func (p *page) openRecording() {
	p.u.AskFile(tr("Open a recording of the crankshaft and camshaft sensors"), recordingEndings, p.Take)
}

// askChannels asks what a recording does not say itself, and reads it so.
func (p *page) askChannels(rec *recording) {
	if rec == nil {
		return
	}
	u := p.u
	names := []string{tr("recognised by its signal")}
	numbers := []string{""}
	for i, n := range rec.names {
		number := strconv.Itoa(i + 1)
		if n == "" {
			n = with("channel {{.N}}", map[string]any{"N": i + 1})
		}
		names, numbers = append(names, number+": "+n), append(numbers, number)
	}
	pick := func(chosen string) *kit.DialogSelect {
		s := kit.NewDialogSelect(names, nil)
		s.SetSelectedIndex(0)
		for i, n := range numbers {
			if n == chosen {
				s.SetSelectedIndex(i)
			}
		}
		return s
	}
	crank, cam := pick(rec.options.Crank), pick(rec.options.Cam)
	rate := kit.NewDialogEntry()
	rate.SetPlaceHolder(tr("as the file says"))
	if s := rec.options.IntervalS; s > 0 {
		rate.SetText(number(finding.IntervalOf(s), 3))
	}
	form := container.NewVBox()
	if rec.drawn == nil {
		form.Add(kit.Wrapped(tr("The file has no column of time and does not say how fast it was recorded.")))
	}
	form.Add(widget.NewLabel(tr("Samples a second")))
	form.Add(rate)
	if len(rec.names) > 0 {
		form.Add(widget.NewLabel(tr("Crankshaft sensor")))
		form.Add(crank)
		form.Add(widget.NewLabel(tr("Camshaft sensor")))
		form.Add(cam)
	}
	accept := func() {
		o := finding.TraceOptions{Crank: numbers[crank.SelectedIndex()], Cam: numbers[cam.SelectedIndex()]}
		if strings.TrimSpace(rate.Text) != "" {
			v, err := kit.ParseNumber(rate.Text)
			if err != nil || v < 10 || v > 1e8 {
				u.Tell(errors.New(with("“{{.Text}}” is not allowed: samples a second must be between 10 and 100 million.", map[string]any{"Text": rate.Text})))
				return
			}
			o.IntervalS = finding.IntervalOf(v)
		}
		p.recorder.open(rec.path, o)
	}
	u.AskFor(tr("How the recording is to be read"), tr("Read"), form, fyne.NewSize(520, 400), accept)
	u.Window.Canvas().Focus(rate)
}
