// Command empty opens a window with nothing in it but colours: the least that any
// program with this toolkit takes to start and to be there.
package main

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/canvas"
)

func main() {
	w := app.NewWithID("org.pinphase.empty").NewWindow("Empty")
	w.SetContent(canvas.NewHorizontalGradient(color.White, color.Black))
	w.Resize(fyne.NewSize(1280, 800))
	w.ShowAndRun()
}
