package drawing

import (
	"encoding/hex"
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// What counts as a piece, in mm.
const (
	snap        = 0.002   // a gap that no hand drew
	lengthError = 1e-6    // of a recorded length, before rounding
	smallest    = 10      // what is smaller both ways is a letter or a mark
	largest     = 100_000 // as in a piece file
	maxRecords  = 20_000  // of a piece file
)

const sizeHint = "in the drawing program give the page a size in mm, with 1 drawing unit = 1 mm, and save again"

// build makes the pieces of the outlines.
func (r *recogniser) build() {
	for _, o := range r.outlines {
		r.readOwn(o)
		if !r.piece(o) {
			o.unfit, o.done = true, false
			r.leave(o.line, "cannot be made a piece")
			continue
		}
		for _, i := range o.items {
			o.drawn.Lines = append(o.drawn.Lines, Line{Item: i, Place: r.d.Items[i].Place, ID: clean(r.d.Items[i].ID), What: OutlineLine, How: o.word.how.orShape()})
		}
	}
}

// orShape is how a line was known that nothing names.
func (h How) orShape() How {
	if h == "" {
		return ByShape
	}
	return h
}

// readOwn reads our own attributes of a piece, on its group or on the line.
func (r *recogniser) readOwn(o *outline) {
	d, it := &o.drawn, r.item(o.line)
	d.ID, d.Label = clean(it.ID), clean(it.Label)
	own := it.Own
	if o.ours != nil && own["base"] == "" {
		own = o.ours.Own
	}
	if b := own["base"]; b != "" {
		if _, err := hex.DecodeString(b); err == nil && (len(b) == 40 || len(b) == 64) {
			d.Base = strings.ToLower(b)
		} else {
			r.warn(o.place, "drawing.own", d.Name, "the attribute seamkeep:base of piece "+d.Name+" is "+quoted(b), "git's id of a piece file, 40 or 64 digits",
				"the piece is treated as if nothing were known of it before")
		}
	}
	if at := own["at"]; at != "" {
		if p, ok := pointOf(at); ok {
			d.At = &p
		} else {
			r.warn(o.place, "drawing.own", d.Name, "the attribute seamkeep:at of piece "+d.Name+" is "+quoted(at), "two numbers, mm from the left and from the top of the page", "")
		}
	}
}

func pointOf(text string) (curve.Point, bool) {
	f := strings.Fields(text)
	if len(f) != 2 {
		return curve.Point{}, false
	}
	x, ok1 := parseFloat(f[0])
	y, ok2 := parseFloat(f[1])
	return curve.Pt(x, y), ok1 && ok2 && max(math.Abs(x), math.Abs(y)) <= largest
}

// origin is where the 0 0 of the piece's provisional frame lies on the page.
func (o *outline) origin() curve.Point {
	at, given := o.drawn.At, o.drawn.At != nil
	switch {
	case given && (!o.known || math.Abs(o.waist-at.Y) <= pattern.Grid):
		return *at
	case o.known:
		return curve.Pt(o.box.Min.X, o.waist)
	}
	return curve.Pt(o.box.Min.X, o.box.Max.Y)
}

// piece makes one piece, or says why it cannot.
func (r *recogniser) piece(o *outline) bool {
	at := o.origin()
	o.drawn.ToPage = curve.Affine{A: 1, D: -1, E: at.X, F: at.Y}
	path := rounded(snapped(o.path.Transform(o.toPiece())))
	// a sliver so thin that rounding its points could turn it inside out is none
	sliver := 1 + 4*pattern.Grid*(o.box.Width()+o.box.Height()) // square mm
	switch area := path.Area(); {
	case math.Abs(area) < sliver:
		r.failPiece(o, "drawing.outline", r.kind(o.line)+" encloses no area", "an outline that runs round the piece", "")
		return false
	case area < 0:
		path = path.Reverse()
	}
	path, corners := r.corners(o, path)
	switch {
	case !fits(path):
		r.failPiece(o, "drawing.size", r.kind(o.line)+" reaches farther than a piece may", fmt.Sprintf("at most %d mm each way", largest), sizeHint)
		return false
	case len(path)+2*len(corners)+8 > maxRecords:
		r.failPiece(o, "drawing.path", fmt.Sprintf("%s has %d segments", r.kind(o.line), len(path)), fmt.Sprintf("a piece of at most %d lines of text", maxRecords),
			"simplify the path in the drawing program")
		return false
	}
	return r.outlined(o, path, corners)
}

// outlined makes the piece of a ring and its corners.
func (r *recogniser) outlined(o *outline, path curve.Path, corners []int) bool {
	d := &o.drawn
	p := &pattern.Piece{Place: o.place, Name: d.Name, Title: d.Title, NoLevels: !o.known, Levels: o.own}
	p.Place.Piece = d.Name
	p.Corners, p.Edges = edged(path, corners)
	for i := range p.Edges {
		length := pattern.RoundLength(p.EdgePath(i).Length(lengthError))
		if length > largest {
			r.failPiece(o, "drawing.size", fmt.Sprintf("%s has an edge of %.0f mm", r.kind(o.line), length), fmt.Sprintf("edges of at most %d mm", largest), sizeHint)
			return false
		}
		p.Edges[i].Length = pattern.Some(length)
	}
	d.Piece, d.Ring = p, p.Outline()
	box := d.Ring.Bounds()
	d.Width, d.Height, d.Perimeter, d.Area = box.Width(), box.Height(), d.Ring.Length(lengthError), d.Ring.Area()
	r.warnPiece(o, box)
	return true
}

// toPiece leads from page mm to the piece's provisional frame.
func (o *outline) toPiece() curve.Affine {
	m := o.drawn.ToPage
	return curve.Affine{A: 1, D: -1, E: -m.E, F: m.F}
}

// warnPiece says what is odd about a piece.
func (r *recogniser) warnPiece(o *outline, box curve.Box) {
	if r.opt.WaistY.Set && o.known && o.waist == r.opt.WaistY.Value && (box.Min.Y > 0 || box.Max.Y < 0) {
		r.problem(o.place, diag.Warning, "drawing.waist", o.drawn.Name, fmt.Sprintf("the waist line at %.7g mm from the page's top does not cross %s", r.opt.WaistY.Value, r.kind(o.line)),
			"one waist line for all pieces", "move the piece up or down on the sheet, unless it has no waist")
	}
	if o.word.role == cutRole {
		r.warn(o.place, "drawing.cut-line", o.drawn.Name, r.kind(o.line)+" is called a cut line",
			"the sewing line: the outline of a piece is where it is sewn, without allowance",
			"if it is the line to cut along, draw the sewing line inside it; else give it another label")
	}
}

func (r *recogniser) failPiece(o *outline, id, found, expected, hint string) {
	place := o.place
	place.Piece = o.drawn.Name
	r.fail(place, id, o.drawn.Name, found, expected, hint)
}

func fits(path curve.Path) bool {
	box := curve.EmptyBox()
	for _, s := range path {
		box = box.Add(s.P0).Add(s.P1).Add(s.P2)
	}
	return box.Min.X >= -largest && box.Min.Y >= -largest && box.Max.X <= largest && box.Max.Y <= largest
}

// snapped closes the ring exactly: a last line too short to have been drawn is
// the rounding of the program that wrote it.
func snapped(p curve.Path) curve.Path {
	p = append(curve.Path(nil), p...)
	for n := len(p); n > 1 && p[n-1].Straight && p[n-1].P0.Dist(p[n-1].P3) <= snap; n = len(p) {
		p = p[:n-1]
	}
	p[len(p)-1].P3 = p[0].P0
	return p
}

// rounded moves all points to the grid and drops segments without length. A
// curve whose handles lie on its ends is a line.
func rounded(p curve.Path) curve.Path {
	out := make(curve.Path, 0, len(p))
	for _, s := range p {
		a, h, k, b := pattern.Round(s.P0), pattern.Round(s.P1), pattern.Round(s.P2), pattern.Round(s.P3)
		switch {
		case s.Straight || h == a && k == b:
			if a != b {
				out = append(out, curve.Line(a, b))
			}
		case a != b || h != a || k != a:
			out = append(out, curve.Cubic(a, h, k, b))
		}
	}
	return out
}

// edged names the corners c1, c2 ... and the edges e1, e2 ..., in outline order
// from the first corner.
func edged(path curve.Path, corners []int) ([]pattern.Corner, []pattern.Edge) {
	cs := make([]pattern.Corner, len(corners))
	es := make([]pattern.Edge, len(corners))
	for i, from := range corners {
		to := corners[(i+1)%len(corners)]
		n := (to - from + len(path)) % len(path)
		cs[i] = pattern.Corner{Name: fmt.Sprintf("c%d", i+1), At: path[from].P0}
		es[i] = pattern.Edge{Name: fmt.Sprintf("e%d", i+1), Segs: pattern.SegsOf(walked(path, from, n))}
	}
	return cs, es
}

// walked gives n segments of a ring from the one given on.
func walked(ring curve.Path, from, n int) curve.Path {
	out := make(curve.Path, n)
	for k := range out {
		out[k] = ring[(from+k)%len(ring)]
	}
	return out
}
