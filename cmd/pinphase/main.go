package main

import (
	"fyne.io/fyne/v2/app"
	_ "fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	_ "github.com/pelletier/go-toml/v2"
	_ "github.com/rogpeppe/go-internal/testscript"
	_ "github.com/spf13/cobra"
	_ "gonum.org/v1/gonum/stat"
	_ "gonum.org/v1/plot/vg/vgimg"
	_ "gonum.org/v1/plot/vg/vgpdf"
	_ "gonum.org/v1/plot/vg/vgsvg"
	_ "pgregory.net/rapid"
)

func main() { a := app.New(); w := a.NewWindow("x"); w.SetContent(widget.NewLabel("x")); w.ShowAndRun() }
