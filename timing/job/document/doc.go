// Package document is a TOML file as its author laid it out: read into the
// fields of a structure, and changed so that comments, spacing and the order of
// keys stay. It says of every fault which line and key it is in and what would
// be right. What the keys mean it does not know.
//
// A section lists its keys in the order in which they are written, each with the
// field that it fills: a [Key]. Reading, writing, changing and comparing all
// walk these lists. A [Schema] makes the lists of an empty file, and so knows
// which sections and keys there are.
//
// [Schema.Read] fills the fields and gives a [Report]: where each key stands,
// what cannot be used, what is wrong. Whoever judges the values adds to it.
//
// The TOML library's parser says where it gave up; what to say of that is found
// from the text itself (explain.go), not from the library's words.
package document
