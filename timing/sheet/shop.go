package sheet

import (
	"fmt"
	"image"
	"strings"

	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/phrase"
)

// Shop is who writes a sheet, for its first page's head. Any of it may be left out.
type Shop struct {
	Name, Address, Phone, Mail string
	Logo                       image.Image
}

// The words of a shop.
const (
	wordPhone phrase.Text = "Telephone {{.Number}}"
	wordMail  phrase.Text = "{{.Mail}}"
)

// Letterhead is the head of a sheet that goes out: who sends it.
type Letterhead struct {
	Name  string
	Lines []string
	Logo  *figure.Drawing // nil for none
}

// The largest that a logo is printed, in points.
const (
	logoWidth  = 150.0
	logoHeight = 52.0
)

// letterhead puts the shop at the head of a sheet, where anything is known of it.
func (m maker) letterhead() {
	s := m.Shop
	h := Letterhead{Name: line(s.Name)}
	if a := line(s.Address); a != "" {
		h.Lines = append(h.Lines, a)
	}
	var reach []string
	if p := line(s.Phone); p != "" {
		reach = append(reach, m.with(wordPhone, map[string]any{"Number": p}))
	}
	if a := line(s.Mail); a != "" {
		reach = append(reach, m.with(wordMail, map[string]any{"Mail": a}))
	}
	if len(reach) > 0 {
		h.Lines = append(h.Lines, strings.Join(reach, " · "))
	}
	if s.Logo != nil && !s.Logo.Bounds().Empty() {
		size := s.Logo.Bounds().Size()
		k := min(logoWidth/float64(size.X), logoHeight/float64(size.Y))
		r := figure.Rect{W: k * float64(size.X), H: k * float64(size.Y)}
		h.Logo = &figure.Drawing{W: r.W, H: r.H, Title: h.Name, Shapes: []figure.Shape{figure.Picture{Rect: r, Image: s.Logo, Name: "logo"}}}
	}
	if h.Name != "" || len(h.Lines) > 0 || h.Logo != nil {
		m.add(h)
	}
}

func (h Letterhead) dump(b *strings.Builder) {
	fmt.Fprintf(b, "from %s\n", strings.Join(append([]string{h.Name}, h.Lines...), "\n"))
	if h.Logo != nil {
		fmt.Fprintf(b, "logo %.0f by %.0f\n", h.Logo.W, h.Logo.H)
	}
}

// shopFace is the name of the shop.
var shopFace = face{12, 15, true}

// letterhead sets the logo at the left and who it is at the right of it.
func (s *setter) letterhead(h Letterhead) {
	x, height := side, 0.0
	if h.Logo != nil {
		s.pages[len(s.pages)-1].Place(*h.Logo, side, s.y)
		x, height = side+h.Logo.W+12, h.Logo.H
	}
	y, room := s.y, side+s.width()-x
	put := func(words string, f face) {
		for _, l := range wrapped(words, f.size, f.bold, room) {
			s.text(x, y, f, l, figure.Left)
			y += f.lead
		}
	}
	if h.Name != "" {
		put(h.Name, shopFace)
	}
	for _, l := range h.Lines {
		put(l, smallFace)
	}
	s.y = max(y, s.y+height) + 4
	s.rule(s.y, figure.Hair)
	s.y += gap + 2
}

func (h *htmlWriter) letterhead(l Letterhead) error {
	h.body.WriteString("<section class=\"from\">\n")
	if l.Logo != nil {
		if err := h.font.Write(&h.body, *l.Logo, h.look); err != nil {
			return err
		}
	}
	h.body.WriteString("<div>\n")
	if l.Name != "" {
		h.words("p", "name", l.Name, true)
	}
	for _, words := range l.Lines {
		h.words("p", "", words, false)
	}
	h.body.WriteString("</div></section>\n")
	return nil
}
