// Package store writes files so that nothing is lost: [Replace] leaves at every
// moment either the old file or the new one, whole, whatever fails.
//
// Everything it does goes through [Files], which are the system's own files
// ([System]) or, in tests, files that fail on purpose (package fault).
//
// A file is replaced by a new one under the same name, never written in place:
// writing in place keeps hard links, but a full disk or a power cut in the middle
// would leave neither old nor new. What a replaced file cannot keep (other names,
// an owner that only an administrator can set) is told as a [Loss].
package store
