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
package figure
