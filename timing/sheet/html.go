package sheet

import (
	"bytes"
	"fmt"
	"html"
	"image/color"
	"io"
	"strings"

	"pinphase.org/pinphase/timing/figure"
)

// WriteHTML writes the document as one file that needs nothing beside it: figures
// and fonts are in it. It prints on the given paper. The error is the writer's.
func (d Document) WriteHTML(w io.Writer, p Paper) error {
	h := htmlWriter{look: figure.Light().WithSurface(white)}
	h.font.Use(false, d.Kind+d.Made)
	h.font.Use(true, d.Kind)
	for _, b := range d.Blocks {
		if err := h.block(b); err != nil {
			return err
		}
	}
	css, err := h.font.CSS()
	if err != nil {
		return err
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "<!DOCTYPE html>\n<html lang=\"%s\">\n<head>\n<meta charset=\"utf-8\"/>\n", html.EscapeString(d.Lang))
	b.WriteString("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n")
	fmt.Fprintf(&b, "<title>%s</title>\n<style>\n%s%s@page{size:%s;margin:17mm}\n</style>\n</head>\n<body>\n", escape(d.Title), css, sheetCSS, p.Name)
	fmt.Fprintf(&b, "<header>%s</header>\n<main>\n", escape(d.Kind))
	b.Write(h.body.Bytes())
	fmt.Fprintf(&b, "</main>\n<footer>%s</footer>\n</body>\n</html>\n", escape(d.Made))
	_, err = w.Write(b.Bytes())
	return err
}

var white = color.RGBA{0xff, 0xff, 0xff, 0xff}

// sheetCSS is how the page looks; black on white, for a printer too.
const sheetCSS = `body{font-family:'` + figure.SVGFont + `','DejaVu Sans Condensed','DejaVu Sans',sans-serif;font-size:15px;line-height:1.45;color:#000;background:#fff;max-width:52rem;margin:1.5rem auto;padding:0 1rem}
header,footer{font-size:.85em;border-bottom:1px solid #000;text-align:right}
footer{border:0;border-top:1px solid #000;text-align:left;margin-top:2rem}
h1{font-size:1.75em;line-height:1.2;margin:.6em 0 .4em;overflow-wrap:anywhere}
h2{font-size:1.2em;border-bottom:1px solid #000;margin:1.4em 0 .5em;break-after:avoid}
h3{font-size:1em;margin:1em 0 .3em;break-after:avoid}
p,li,dd,td{overflow-wrap:anywhere}
p{margin:.4em 0}
p.lead{font-size:1.2em;font-weight:bold;border:2px solid #000;padding:.6em .8em}
p.small,figcaption{font-size:.88em}
ul{margin:.4em 0;padding-left:1.3em}
dl{display:grid;grid-template-columns:repeat(auto-fill,minmax(19rem,1fr));gap:.1em 1.5em;margin:.4em 0}
dl div{display:grid;grid-template-columns:1fr 1fr;gap:.7em}
dd{margin:0;font-weight:bold}
div.wide{overflow-x:auto}
table{border-collapse:collapse;width:100%;font-size:.93em;margin:.4em 0}
th,td{text-align:left;vertical-align:top;padding:.15em .8em .15em 0}
th.n,td.n{text-align:right}
thead{border-bottom:1px solid #000}
tbody tr{border-bottom:1px solid #999;break-inside:avoid}
table.written td{padding-bottom:1.1em}
th.blank{min-width:7em}
figure{margin:.8em 0;text-align:center;break-inside:avoid}
figure svg{max-width:100%;height:auto}
figcaption{text-align:left}
div.blanks{display:grid;grid-template-columns:repeat(auto-fill,minmax(19rem,1fr));gap:.9em 1.5em;margin:.8em 0}
section.together{break-inside:avoid}
div.page{break-before:page}
section.from{display:flex;gap:1em;align-items:center;border-bottom:1px solid #999;padding:.5em 0}
section.from p{margin:0;font-size:.9em}
section.from p.name{font-size:1.2em;font-weight:bold}
div.blanks p{border-bottom:1px solid #000;margin:0}
@media print{body{max-width:none;margin:0;padding:0;font-size:9.5pt}}
`

// htmlWriter writes blocks as elements.
type htmlWriter struct {
	body bytes.Buffer
	font figure.SVGSheet
	look figure.Style
}

// escape makes a text HTML, line breaks kept.
func escape(s string) string {
	return strings.ReplaceAll(html.EscapeString(clean(s)), "\n", "<br/>")
}

// words writes an element with a text in it.
func (h *htmlWriter) words(tag, class, text string, bold bool) {
	h.font.Use(bold, clean(text))
	if class != "" {
		class = ` class="` + class + `"`
	}
	fmt.Fprintf(&h.body, "<%s%s>%s</%s>\n", tag, class, escape(text), tag)
}

func (h *htmlWriter) block(b Block) error {
	switch b := b.(type) {
	case Heading:
		h.words(fmt.Sprintf("h%d", b.Level), "", b.Text, true)
	case Paragraph:
		h.words("p", [...]string{"", "lead", "small"}[b.Style], b.Text, b.Style == Lead)
	case List:
		h.body.WriteString("<ul>\n")
		for _, item := range b.Items {
			h.words("li", "", item, false)
		}
		h.body.WriteString("</ul>\n")
	case Pairs:
		h.body.WriteString("<dl>\n")
		for _, i := range b.Items {
			h.body.WriteString("<div>\n")
			h.words("dt", "", i[0], false)
			h.words("dd", "", i[1], true)
			h.body.WriteString("</div>\n")
		}
		h.body.WriteString("</dl>\n")
	case Table:
		h.table(b)
	case Figure:
		h.body.WriteString("<figure>\n")
		if err := h.font.Write(&h.body, b.Drawing, h.look); err != nil {
			return err
		}
		h.words("figcaption", "", b.Caption, false)
		h.body.WriteString("</figure>\n")
	case Blanks:
		h.body.WriteString("<div class=\"blanks\">\n")
		for _, n := range b.Names {
			h.words("p", "", n, false)
		}
		h.body.WriteString("</div>\n")
	case NewPage:
		h.body.WriteString("<div class=\"page\"></div>\n")
	case Group:
		return h.group(b)
	case Letterhead:
		return h.letterhead(b)
	}
	return nil
}

func (h *htmlWriter) table(t Table) {
	class := ""
	if t.Written {
		class = ` class="written"`
	}
	fmt.Fprintf(&h.body, "<div class=\"wide\"><table%s>\n<thead><tr>\n", class)
	for _, c := range t.Columns {
		class := ""
		switch {
		case c.Number:
			class = "n"
		case c.Blank:
			class = "blank"
		}
		h.words("th", class, c.Head, true)
	}
	h.body.WriteString("</tr></thead>\n<tbody>\n")
	for _, r := range t.Rows {
		h.body.WriteString("<tr>\n")
		for i, c := range t.Columns {
			text, class := "", ""
			if i < len(r) {
				text = r[i]
			}
			if c.Number {
				class = "n"
			}
			h.words("td", class, text, false)
		}
		h.body.WriteString("</tr>\n")
	}
	h.body.WriteString("</tbody>\n</table></div>\n")
}
