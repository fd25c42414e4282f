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
//
// # Choices
//
// A file is replaced by a new one beside it, also where it has other names (hard
// links): written in place, a full disk or a power cut would leave neither the
// old contents nor the new. The other names then keep the old contents, and that
// is said, as is an owner or an access list that the system does not let the
// user keep. The group's permissions of a file whose group is lost shrink to
// those of everybody, so that nobody gets more than before.
package store
