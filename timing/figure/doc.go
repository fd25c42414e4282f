// Package figure is drawings as data, and what turns them into SVG, PDF, PNG
// and a picture for the screen. A figure is described once and drawn by every
// back end, so that what is projected is what is printed.
//
// Conventions:
//
//   - Lengths are points (1/72 inch). The origin is the top left corner of the
//     drawing, x grows to the right and y DOWN. The turn to the canvas, whose
//     y grows up, happens in one function, [Draw].
//   - An angle on the page is in degrees, 0 straight up, growing clockwise.
//     What a crankshaft's signed angle becomes on the page is decided in one
//     function too, [PageAngle].
//   - A shape has a [Role], never a colour. A [Style] turns roles into colours,
//     dashes and hatches, for the screen (light and dark) and for paper, where
//     pure black and white must do. Colour never carries a meaning alone.
//   - Text is set without kerning and ligatures, in every back end, from the
//     one font of the program; so [MeasureText] holds everywhere.
//
// The figures, such as [Cycle], [Wheel] and [Part], are functions of plain numbers
// and of labels that are already worded: they know nothing of job files or
// languages.
//
// # Choices
//
// PDF and SVG have our own canvases (figure/pdf.go, figure/svg.go): the
// ready-made ones write text in one western code page, or embed whole fonts.
// Ours embed the glyphs used, keep text selectable, and give the same bytes for
// the same figure.
//
// Traces are drawn from extents: trace.Picture keeps the least and greatest
// value of ever longer stretches, bounded in number, and figure.Envelope is
// drawn from as many columns as there are pixels, however long the recording.
// Over one cycle all cycles lie over one another (trace.Folded), so that what
// only one of them shows is seen too.
//
// What is printed to measure with (figure/truescale.go, figure/tape.go) is drawn
// in millimetres from the start and never scaled; the places where a tape is cut
// are rounded to the hundredth of a point along the whole tape. The test reads
// the PDF's own drawing operators.
package figure
