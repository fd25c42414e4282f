// Package sheet writes a job down for paper: the job sheet, which stays with the
// engine, and the claim sheet, which goes with a part to whoever supplied it.
//
// A sheet is made once, as a [Document]: headings, paragraphs, lists, tables and
// figures, all worded. From that it is set as pages for a PDF ([Document.WritePDF])
// or written as one HTML file that needs nothing beside it ([Document.WriteHTML]).
// Lengths are points (1/72 inch). The same job and date give the same bytes.
package sheet
