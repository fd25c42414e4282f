// Package job is the job file: what is known of one engine and what was
// measured on it, as TOML. It reads, checks, changes and writes jobs, and says
// of every fault which file, line and key it is in and what would be right.
//
// A [Job] is one value that nobody changes: an edit makes the next with
// [Job.Clone], so that old ones can be kept for undo. Its fields mirror the
// file; the units are in their names. Angles in a job are as their user sees
// them, with a side and an end; they become signed angles in timing/part.
//
// A [Document] is a job with the text of its file. [Read] gives one, or every
// fault of the file in one go; [Document.With] changes the job and leaves the
// rest of the text as its author laid it out. [Check] alone judges values, for
// the file as for a form that is being filled in.
package job
