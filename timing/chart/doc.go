// Package chart makes a job's figures: it takes what package finding says of a
// job and hands it, with words, to the figures of package figure. Words go
// through the caller's translation, so that the same figure serves the window
// and paper in any language.
//
// # Choices
//
// A board's page is always as high (figure.BoardHeight) and drawn as large as
// the screen is, so that a class sees the same page at 1280x720 and 3840x2160;
// the deck (chart.Deck) holds what is asked and answered, app/board*.go only
// goes through it. The toolkit can fill the screen a window is on, or the second
// one, and names no others.
package chart
