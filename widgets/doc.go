// Package widgets holds the program's own Fyne widgets: they show a figure or
// take a reading, and know figures but no engines, files or preferences. State
// stands in the widget, pixels in its renderer, and what the user did goes out
// through On… fields. What a mouse can do a key can do.
package widgets
