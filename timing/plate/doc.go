// Package plate makes a job's figures: it takes what package finding says of a
// job and hands it, with words, to the figures of package figure. Words go
// through the caller's translation, so that the same figure serves the window
// and paper in any language.
package plate
