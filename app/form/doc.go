// Package form is the editable fields of a job: each stands for a value by its key, is
// checked as it is typed, and shows its own fault. A page makes a form of those that
// belong on it.
package form
