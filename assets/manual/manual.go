// Package manual holds the manual: a folder for each language with the same chapters,
// as Markdown, and their pictures. It imports nothing of the program.
//
// Chapters link to each other by file name, pictures lie in the folder pictures. Words
// set in single asterisks are texts of the window. A block of code that begins with
// "```console" is a command line and its answer; a number after that is how many lines
// of the answer are shown.
//
// # Choices
//
// The window shows the manual itself, in a window beside the job: no browser is
// needed, none that may not read a hidden or a temporary folder can show an empty page,
// and it has the window's language, colours and size of text. For paper, for searching
// and for those without the window there are HTML and PDF (package book).
package manual

import (
	"embed"
	"io/fs"
	"regexp"
	"slices"
	"strings"
)

//go:embed en de es
var files embed.FS

// Languages are the codes of those that the manual is written in.
var Languages = []string{"en", "de", "es"}

// Chapter is one chapter.
type Chapter struct {
	File  string // 02-ten-minutes.md, the same in each language
	Title string // its first heading
	Text  string // all of it, as Markdown
}

// Chapters returns the manual in a language, in English where it is written in no such
// language.
func Chapters(lang string) []Chapter {
	lang = spoken(lang)
	entries, err := fs.ReadDir(files, lang)
	if err != nil {
		panic("manual: " + err.Error())
	}
	var list []Chapter
	for _, e := range entries {
		if e.IsDir() {
			continue
		}
		text, err := fs.ReadFile(files, lang+"/"+e.Name())
		if err != nil {
			panic("manual: " + err.Error())
		}
		first, _, _ := strings.Cut(string(text), "\n")
		list = append(list, Chapter{File: e.Name(), Title: strings.TrimPrefix(first, "# "), Text: string(text)})
	}
	return list
}

// Picture returns a picture of a chapter, as PNG, by its name in the text:
// pictures/cycle.png.
func Picture(lang, name string) ([]byte, error) { return files.ReadFile(spoken(lang) + "/" + name) }

// Pictures are the names of all pictures in a language, as the chapters say them.
func Pictures(lang string) []string {
	list, err := fs.Glob(files, spoken(lang)+"/pictures/*.png")
	if err != nil {
		panic("manual: " + err.Error())
	}
	for i := range list {
		list[i] = strings.TrimPrefix(list[i], spoken(lang)+"/")
	}
	return list
}

func spoken(lang string) string {
	if !slices.Contains(Languages, lang) {
		return Languages[0]
	}
	return lang
}

// Piece is a part of a chapter: text, or a picture that is alone on its line.
type Piece struct {
	Text             string // Markdown, "" where it is a picture
	Picture, Caption string
}

var pictureLine = regexp.MustCompile(`^!\[([^\]]*)\]\(([^)]+)\)$`)

// Pieces divides a chapter at its pictures.
func (c Chapter) Pieces() []Piece {
	var list []Piece
	var text strings.Builder
	flush := func() {
		if strings.TrimSpace(text.String()) != "" {
			list = append(list, Piece{Text: text.String()})
		}
		text.Reset()
	}
	for line := range strings.Lines(c.Text) {
		if found := pictureLine.FindStringSubmatch(strings.TrimSpace(line)); found != nil {
			flush()
			list = append(list, Piece{Caption: found[1], Picture: found[2]})
			continue
		}
		text.WriteString(line)
	}
	flush()
	return list
}
