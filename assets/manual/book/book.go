// Package book makes of the manual's chapters one HTML file and one PDF a language.
// Nothing in them leads to another place: pictures and fonts are in the file. The same
// chapters and date give the same bytes.
package book

import (
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"

	"pinphase.org/pinphase/assets/manual"
)

// words are what the book says besides its chapters.
type words struct{ title, contents, made string }

var wordsOf = map[string]words{
	"en": {"Pinphase – the manual", "Contents", "Version"},
	"de": {"Pinphase – das Handbuch", "Inhalt", "Version"},
	"es": {"Pinphase – el manual", "Índice", "Versión"},
}

// markdown reads chapters as the window does: with tables.
var markdown = goldmark.New(goldmark.WithExtensions(extension.Table))

// idOf names a chapter within the book: that of 02-ten-minutes.md is 02-ten-minutes.
func idOf(file string) string { return strings.TrimSuffix(file, ".md") }

// plain is all text below a node.
func plain(n ast.Node, source []byte) string {
	var b strings.Builder
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if t, ok := n.(*ast.Text); ok && entering {
			b.Write(t.Value(source))
			if t.SoftLineBreak() || t.HardLineBreak() {
				b.WriteByte(' ')
			}
		}
		return ast.WalkContinue, nil
	})
	return b.String()
}

// code is the text of a block of code.
func code(n ast.Node, source []byte) string {
	var b strings.Builder
	for i := range n.Lines().Len() {
		line := n.Lines().At(i)
		b.Write(line.Value(source))
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// chaptersOf are the chapters of a language that the book is written in.
func chaptersOf(lang string) ([]manual.Chapter, words) {
	w, ok := wordsOf[lang]
	if !ok {
		w = wordsOf["en"]
	}
	return manual.Chapters(lang), w
}
