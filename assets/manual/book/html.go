package book

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html"
	"io"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"

	"pinphase.org/pinphase/assets/manual"
)

// WriteHTML writes the manual in a language as one file. version is the program's. The
// error is the writer's, or that of a picture that is missing.
func WriteHTML(w io.Writer, lang, version string) error {
	chapters, say := chaptersOf(lang)
	var b bytes.Buffer
	fmt.Fprintf(&b, "<!DOCTYPE html>\n<html lang=\"%s\">\n<head>\n<meta charset=\"utf-8\"/>\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n<title>%s</title>\n<style>\n%s</style>\n</head>\n<body>\n", lang, html.EscapeString(say.title), css)
	fmt.Fprintf(&b, "<nav aria-label=\"%s\">\n<p>%s</p>\n<ol>\n", say.contents, html.EscapeString(say.title))
	for _, c := range chapters {
		fmt.Fprintf(&b, "<li><a href=\"#%s\">%s</a></li>\n", idOf(c.File), html.EscapeString(c.Title))
	}
	fmt.Fprintf(&b, "</ol>\n<p class=\"small\">%s %s</p>\n</nav>\n<main>\n", say.made, html.EscapeString(version))
	for _, c := range chapters {
		fmt.Fprintf(&b, "<section id=\"%s\">\n", idOf(c.File))
		if err := chapterHTML(&b, lang, c); err != nil {
			return fmt.Errorf("%s: %w", c.File, err)
		}
		b.WriteString("</section>\n")
	}
	b.WriteString("</main>\n</body>\n</html>\n")
	_, err := w.Write(b.Bytes())
	return err
}

// chapterHTML writes a chapter, its links turned to places in this file and its pictures
// put into it.
func chapterHTML(b *bytes.Buffer, lang string, c manual.Chapter) error {
	source := []byte(c.Text)
	doc := markdown.Parser().Parse(text.NewReader(source))
	err := ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Link:
			n.Destination = []byte("#" + idOf(string(n.Destination)))
		case *ast.Image:
			data, err := manual.Picture(lang, string(n.Destination))
			if err != nil {
				return ast.WalkStop, err
			}
			n.Destination = []byte("data:image/png;base64," + base64.StdEncoding.EncodeToString(data))
		}
		return ast.WalkContinue, nil
	})
	if err != nil {
		return err
	}
	return markdown.Renderer().Render(b, source, doc)
}

// css is how the page looks, on a screen of any width and on paper.
const css = `:root{color-scheme:light dark}
body{font-family:'DejaVu Sans',system-ui,sans-serif;font-size:16px;line-height:1.5;max-width:76rem;margin:0 auto;padding:1rem;display:grid;grid-template-columns:16rem minmax(0,46rem);gap:2.5rem}
nav{position:sticky;top:1rem;align-self:start;font-size:.92em}
nav p:first-child{font-weight:bold}
nav ol{padding-left:1.4em}
.small{font-size:.85em}
h1{font-size:1.7em;line-height:1.2;margin-top:2.2em;border-bottom:2px solid}
section:first-child h1{margin-top:0}
h2{font-size:1.25em;margin-top:1.7em}
em{font-style:normal;font-weight:bold}
pre{overflow-x:auto;border:1px solid #8888;padding:.6em .8em;font-size:.82em;line-height:1.35}
code{font-family:'DejaVu Sans Mono',ui-monospace,monospace}
blockquote{margin:1em 0;padding:.2em 1em;border:2px solid #c60;border-left-width:.6em}
table{border-collapse:collapse;width:100%;font-size:.94em}
th,td{text-align:left;vertical-align:top;border-bottom:1px solid #8888;padding:.3em .8em .3em 0}
img{max-width:100%;height:auto;background:#fff}
@media(max-width:56rem){body{display:block}nav{position:static}}
@media print{body{display:block;font-size:10pt}h1{break-before:page}h2{break-after:avoid}pre,img,tr,blockquote{break-inside:avoid}}
`
