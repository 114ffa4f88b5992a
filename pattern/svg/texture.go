package svg

import (
	"fmt"
	"strings"
)

// Texture describes how an area is filled so that it can be told apart without
// colour. Lengths are in mm; 0 takes the default.
type Texture struct {
	ID     string  // unique in the picture
	Colour string  // #rgb or #rrggbb
	Class  string  // of the stripes or dots, for Dark; may be empty
	Pitch  float64 // from stripe to stripe (2.6), from dot to dot in a row (2.4)
	Size   float64 // width of a stripe (0.9), diameter of a dot (0.84)
}

// Stripes defines a texture of stripes at 45 degrees, rising to the right, and
// gives the fill that uses it.
func (p *Pen) Stripes(t Texture) Attr {
	t = t.orElse(2.6, 0.9)
	return p.texture(t, "rotate(45)", func(paint []Attr) {
		p.Rect(0, 0, t.Size, t.Pitch, paint...)
	})
}

// Dots defines a texture of dots in staggered rows and gives the fill that uses
// it.
func (p *Pen) Dots(t Texture) Attr {
	t = t.orElse(2.4, 0.84)
	return p.texture(t, "", func(paint []Attr) {
		for _, at := range []float64{t.Pitch / 4, 3 * t.Pitch / 4} {
			n := p.exact(at, at, t.Size/2)
			if list := p.attrs("cx cy r", paint); p.ready() {
				p.el.Circle(n[0], n[1], n[2], list...)
			}
		}
	})
}

func (t Texture) orElse(pitch, size float64) Texture {
	if t.Pitch == 0 {
		t.Pitch = pitch
	}
	if t.Size == 0 {
		t.Size = size
	}
	return t
}

// texture writes one tile of t.Pitch by t.Pitch mm.
func (p *Pen) texture(t Texture, turn string, draw func(paint []Attr)) Attr {
	if !(t.Pitch > 0 && t.Size > 0 && t.Size <= t.Pitch) {
		p.fail(fmt.Errorf("svg: a texture of %v mm in every %v mm cannot be drawn", t.Size, t.Pitch))
	}
	id := p.newID(t.ID)
	fill := A("fill", "url(#"+id+")")
	n := p.exact(t.Pitch)
	if !p.ready() {
		return fill
	}
	paint := []Attr{A("fill", t.Colour)}
	if t.Class != "" {
		paint = append(paint, A("class", t.Class))
	}
	var list []string
	if turn != "" {
		list = append(list, written("patternTransform", turn))
	}
	p.el.Def()
	p.el.Pattern(id, 0, 0, n[0], n[0], "user", list...)
	draw(paint)
	p.el.PatternEnd()
	p.el.DefEnd()
	return fill
}

// Window defines a rectangle with rounded corners (round at half its width: a
// circle) and gives the attribute that shows an element or a group through it
// only. Lengths in mm, below 0 an error.
func (p *Pen) Window(id string, x, y, width, height, round float64) Attr {
	if width < 0 || height < 0 || round < 0 {
		p.fail(fmt.Errorf("svg: a window of %v by %v mm cannot be drawn", width, height))
	}
	id = p.newID(id)
	clip := A("clip-path", "url(#"+id+")")
	n := p.exact(x, y, width, height, round)
	if p.ready() {
		p.el.Def()
		p.el.ClipPath(written("id", id))
		p.el.Roundrect(n[0], n[1], n[2], n[3], n[4], n[4])
		p.el.ClipEnd()
		p.el.DefEnd()
	}
	return clip
}

// Shade is how a class is painted where the viewer asks for dark pages. An empty
// colour leaves that paint as it is. Such a rule beats the element's own
// attributes: a class with a Fill must not be on an area filled by a texture.
type Shade struct{ Class, Fill, Stroke string }

// Dark writes the style sheet for dark pages, the only one a picture may have.
// Colours are #rgb or #rrggbb.
func (p *Pen) Dark(shades ...Shade) {
	var b strings.Builder
	b.WriteString("@media (prefers-color-scheme:dark){")
	for _, s := range shades {
		if !isWord(s.Class) || !isShade(s.Fill) || !isShade(s.Stroke) {
			p.fail(fmt.Errorf("svg: dark paint %.120q is not allowed", s))
			return
		}
		b.WriteString("." + p.prefix + s.Class + "{")
		if s.Fill != "" {
			b.WriteString("fill:" + s.Fill + ";")
		}
		if s.Stroke != "" {
			b.WriteString("stroke:" + s.Stroke + ";")
		}
		b.WriteString("}")
	}
	b.WriteString("}")
	if p.ready() && len(shades) > 0 {
		p.el.Style("text/css", b.String())
	}
}

func isShade(s string) bool { return s == "" || isColour(s) }
