// Package widgets holds the program's own Fyne widgets: they show a figure or
// take a reading, and know figures but no engines, files or preferences. State
// stands in the widget, pixels in its renderer, and what the user did goes out
// through On… fields. What a mouse can do a key can do.
//
// # Choices
//
// A figure on the screen is one raster that is painted anew only when it
// changed, with the cursor and the readouts as a handful of objects on top. The
// wheel figure is painted anew at each step of the crank.
//
// Texts may be long. growth_test.go doubles each text of a job and measures the
// processor's time. The toolkit's entries take time with the square of a text,
// so widgets.Field shows the beginning of a long one and does not let it be
// edited.
package widgets
