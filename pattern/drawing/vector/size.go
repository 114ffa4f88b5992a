package vector

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// How much the two scales of a page may differ, as a part of one: programs round
// the page size and the viewBox to a few digits. Beyond the first figure it is
// said, beyond the second nobody knows which of them is the true one.
const (
	uniform = 1e-4
	tellBy  = 0.005
)

// page is the size of a drawing: the map from its units to mm.
type page struct {
	width, height float64 // mm, 0 where it is not known
	across, down  float64 // the same in units of the drawing
	sx, sy        float64 // mm for a unit
	source        ScaleSource
	toPage        curve.Affine
	px            float64       // px to the inch, where the page is given in px
	doubt         *diag.Problem // to be said unless a known length takes it away
}

// side is what the root says of its width or height.
type side struct {
	mm, px float64 // one of them, where the size is known
	why    string  // else why it is not, to finish the sentence "the page's width ..."
}

const wayOut = "measure one line of it and add --known ID=100mm (its id or label, its true length), or say how many units make an inch: --dpi N"

// asked judges the options.
func (r *reader) asked() bool {
	if r.dpi = r.opt.DPI; r.dpi == 0 {
		r.dpi = cssDPI
	}
	if !(r.dpi >= 0.01) || !(r.dpi <= 1e5) {
		r.refuse(diag.Place{}, "drawing.dpi", fmt.Sprintf("%g units to the inch", r.opt.DPI), "a number from 0.01 to 100000, such as --dpi 72", "")
		return false
	}
	for _, k := range r.opt.Known {
		if !(k.Length > 0) || !(k.Length <= farthest) || strings.TrimSpace(k.ID) == "" {
			r.refuse(diag.Place{}, "drawing.known", fmt.Sprintf("the length of %q is said to be %g mm", Clean(k.ID), k.Length),
				"an id or label and a length above 0 mm", "write --known ID=100mm")
			return false
		}
	}
	return true
}

// page works out the size of the drawing.
func (r *reader) page() (page, bool) {
	r.dress(r.root)
	if r.root.get("", "transform") != "" || r.root.moved() != "" {
		r.refuse(r.top(), "drawing.transform", "the whole drawing is moved by a transform on its outermost element", "a plain page",
			"put all that it holds into a group in the drawing program and save again")
		return page{}, false
	}
	box, boxed, ok := viewBox(r.root)
	if !ok {
		r.refuse(r.top(), "drawing.size", fmt.Sprintf("the viewBox is %q", Clean(r.root.get("", "viewBox"))),
			"four numbers: left, top, width and height, the last two above 0", "set the size of the page in the drawing program and save again")
		return page{}, false
	}
	w, h := r.side("width"), r.side("height")
	switch known := w.why == "" && h.why == ""; {
	case r.opt.DPI != 0:
		return r.byDPI(w, h, box, boxed)
	case known && !boxed:
		return r.unboxed(w, h), true
	case known:
		return r.boxed(w, h, box)
	case len(r.opt.Known) > 0:
		return toBeFound(box, boxed), true
	}
	name, why := "width", w.why
	if why == "" {
		name, why = "height", h.why
	}
	r.refuse(r.top(), "drawing.size", fmt.Sprintf("the page's %s %s, so its true size is not known", name, why),
		"a page size in mm (or cm, in, pt, pc, Q) as width and height", wayOut+guesses(box[2], boxed))
	return page{}, false
}

// guesses let the maker recognise the page: its width at the usual densities.
func guesses(px float64, known bool) string {
	if !known {
		return ""
	}
	return fmt.Sprintf("\n(its width would be %.1f mm at --dpi 96, %.1f at 90, %.1f at 72, %.1f at 300, %.1f at 25.4)",
		px*25.4/96, px*25.4/90, px*25.4/72, px*25.4/300, px)
}

// side reads the width or the height of the page.
func (r *reader) side(name string) side {
	text, ok := r.root.style[name]
	if !ok {
		text = r.root.get("", name)
	}
	text = strings.TrimSpace(text)
	s := scanner{text: text}
	v, bad := s.number()
	unit := text[s.at:]
	mm, absolute := mmOf(unit)
	switch {
	case text == "":
		return side{why: "is not given"}
	case bad == nil && unit == "%":
		return side{why: fmt.Sprintf("is %q of a window", Clean(text))}
	case bad == nil && v > 0 && absolute && v*mm <= maxNumber:
		return side{mm: v * mm}
	case bad == nil && v > 0 && (unit == "" || strings.EqualFold(unit, "px")):
		return side{px: v}
	}
	return side{why: fmt.Sprintf("is %q", Clean(text))}
}

// in gives the side in mm, at so many px to the inch.
func (s side) in(dpi float64) float64 {
	if s.px > 0 {
		return s.px * 25.4 / dpi
	}
	return s.mm
}

// even is a page with one scale both ways, in mm for a unit.
func even(k float64, box [4]float64, source ScaleSource) page {
	return page{
		width: k * box[2], height: k * box[3], across: box[2], down: box[3], sx: k, sy: k, source: source,
		toPage: curve.Affine{A: k, D: k, E: -k * box[0], F: -k * box[1]},
	}
}

// toBeFound is a page at one mm for a unit, until a known length tells the scale.
func toBeFound(box [4]float64, boxed bool) page {
	if !boxed {
		box = [4]float64{}
	}
	return even(1, box, Known)
}

// byDPI takes the scale that the maker gave: for px where the page is given in px,
// else for the units of the drawing.
func (r *reader) byDPI(w, h side, box [4]float64, boxed bool) (page, bool) {
	inPx := w.px > 0 && h.px > 0
	if inPx && boxed {
		if p, ok := r.boxed(w, h, box); ok {
			return p, true
		}
	}
	k := 25.4 / r.opt.DPI
	if !boxed {
		box = [4]float64{2: w.in(r.dpi) / k, 3: h.in(r.dpi) / k}
	}
	p := even(k, box, Dpi)
	if inPx && !boxed {
		p.px = r.dpi
	}
	if p.width > maxMatrix || p.height > maxMatrix {
		return p, r.endless()
	}
	if boxed && w.mm > 0 && h.mm > 0 && math.Abs(w.mm/p.width-1) > uniform {
		r.problem(r.top(), diag.Note, "drawing.size",
			fmt.Sprintf("the file says that its page is %.7g x %.7g mm; at %g units to the inch it is %.7g x %.7g mm", w.mm, h.mm, r.dpi, p.width, p.height), "", "")
	}
	return p, true
}

func (r *reader) endless() bool {
	r.refuse(r.top(), "drawing.size", "the page is larger than any pattern", "a page of at most 1000 m", wayOut)
	return false
}

// unboxed is a page whose units are px.
func (r *reader) unboxed(w, h side) page {
	k := 25.4 / cssDPI
	p := even(k, [4]float64{2: w.in(r.dpi) / k, 3: h.in(r.dpi) / k}, Sized)
	if w.px > 0 || h.px > 0 {
		return r.assumed(p, w)
	}
	p.doubt = &diag.Problem{
		ID: "drawing.size", Severity: diag.Note, Place: r.top(),
		Found:    "the page has a size but no viewBox, so that a plain number is a px",
		Expected: "96 px to the inch, which is how they are taken",
		Hint:     "hold the sizes against a measure; if they are wrong, add --known ID=100mm or --dpi N" + r.oldVersion(),
	}
	return p
}

// assumed marks a page that is given in px.
func (r *reader) assumed(p page, w side) page {
	p.source, p.px = Assumed, cssDPI
	hint := "measure one line of it and add --known ID=100mm (its id or label, its true length), or --dpi N if it was drawn at another density"
	p.doubt = &diag.Problem{
		ID: "drawing.size", Severity: diag.Warning, Place: r.top(),
		Found:    "the page is given in px, which programs take for different sizes",
		Expected: "a size in mm; 96 px to the inch were assumed",
		Hint:     hint + r.oldVersion() + guesses(w.px, w.px > 0),
	}
	return p
}

// oldVersion tells of the editor's versions before 0.92, which took 90 px to the
// inch (release notes of 0.92, from memory).
func (r *reader) oldVersion() string {
	s := scanner{text: r.root.get(nsEditor, "version")}
	if v, bad := s.number(); bad == nil && v < 0.92 {
		return "\n(the program that saved it took 90 px to the inch: --dpi 90)"
	}
	return ""
}

// boxed is a page with a size and a viewBox.
func (r *reader) boxed(w, h side, box [4]float64) (page, bool) {
	p := page{width: w.in(r.dpi), height: h.in(r.dpi), across: box[2], down: box[3], source: Sized}
	ratio := r.root.get("", "preserveAspectRatio")
	sx, sy := p.width/box[2], p.height/box[3]
	p.toPage = fitted(ratio, box, p.width, p.height)
	p.sx, p.sy = p.toPage.A, p.toPage.D
	if !bounded(p.toPage) || !(p.toPage.Det() > 0) {
		return p, r.endless()
	}
	if differ := math.Abs(sx/sy - 1); differ > uniform {
		found := fmt.Sprintf("the page is %.7g x %.7g mm, but its viewBox is %.7g x %.7g: one unit would be %.6g mm across and %.6g mm down",
			p.width, p.height, box[2], box[3], sx, sy)
		which := fmt.Sprintf("say which is true: --dpi %.6g as the width has it, --dpi %.6g as the height has it, or --known ID=100mm", 25.4/sx, 25.4/sy)
		switch stretched := strings.Contains(ratio, "none"); {
		case differ > tellBy && !stretched && r.opt.DPI != 0:
			return p, false
		case differ > tellBy && !stretched && len(r.opt.Known) > 0:
			return toBeFound(box, true), true
		case differ > tellBy && !stretched:
			r.refuse(r.top(), "drawing.size", found, "the same scale both ways", which)
			return p, false
		}
		r.warn(r.top(), "drawing.size", found, "the same scale both ways", "hold the sizes against a measure; if they are wrong, "+which)
	}
	switch {
	case r.opt.DPI != 0:
		p.source, p.px = Dpi, r.dpi
	case w.px > 0 || h.px > 0:
		p = r.assumed(p, w)
	}
	return p, true
}
