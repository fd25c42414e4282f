// Package sheet writes a job down for paper: the job sheet, which stays with the
// engine, and the claim sheet, which goes with a part to whoever supplied it.
//
// A sheet is made once, as a [Document]: headings, paragraphs, lists, tables and
// figures, all worded. From that it is set as pages for a PDF ([Document.WritePDF])
// or written as one HTML file that needs nothing beside it ([Document.WriteHTML]).
// Lengths are points (1/72 inch). The same job and date give the same bytes.
//
// # Choices
//
// A sheet is set twice from one document: as pages by our own setter
// (sheet/page.go, sheet/table.go), in the style for black ink, and as HTML with
// the same figures in colour and one font for all of them. A test lays every
// kind of job on both papers and fails where text is cut off or lies over
// something.
package sheet
