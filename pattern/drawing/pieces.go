package drawing

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// What counts as a piece, in mm.
const (
	snap        = 0.002   // a gap that no hand drew
	arcError    = 0.0005  // of an arc drawn as cubics
	lengthError = 1e-6    // of a recorded length, before rounding
	smallest    = 10      // what is smaller both ways is a letter or a mark
	nearlyShut  = 1       // ends this close were meant to meet
	largest     = 100_000 // as in a piece file
	maxRecords  = 20_000  // of a piece file
	maxSubpaths = 200     // of one path
)

// outline is a closed path in page mm, y down, with what is asked of it often.
type outline struct {
	path curve.Path
	box  curve.Box
	area float64 // without sign
}

// ring is one outline and where it comes from.
type ring struct {
	outline
	place     diag.Place
	id, label string
	layer     *layer
	name      string // of the piece
	title     string
}

// path takes the closed outlines of a path element.
func (r *reader) path(el element, up frame) {
	m, ok := r.matrix(el, up.toPage)
	if !ok {
		return
	}
	if up.invisible {
		r.skip(el, "is hidden")
		return
	}
	d := el.get("", "d")
	subs, bad := parsePath(d, arcError/stretch(m), maxSegments-r.segments)
	if bad != nil {
		r.fail(r.where.valueAt(el, d, bad.at), "drawing.path",
			fmt.Sprintf("the path data of %s stop making sense at %s (character %d)", el.title(), bad.found, bad.at+1), bad.expected,
			"draw the path again, or save the drawing again from the drawing program")
		return
	}
	for _, s := range subs {
		r.segments += len(s.path)
	}
	r.warnClipped(el)
	r.take(el, up, r.closedOnly(el, subs, m))
}

// stretch is the most by which a map lengthens a line: at most the root of the
// sum of its squares.
func stretch(m curve.Affine) float64 {
	return math.Hypot(math.Hypot(m.A, m.B), math.Hypot(m.C, m.D))
}

// closedOnly lays the subpaths on the page and keeps the closed ones.
func (r *reader) closedOnly(el element, subs []subpath, m curve.Affine) []outline {
	var rings []outline
	if len(subs) == 0 {
		r.skip(el, "has no line")
	}
	for _, s := range subs {
		p := s.path.Transform(m)
		gap := p.Start().Dist(p.End())
		box := p.Bounds()
		switch {
		case !s.closed && gap > nearlyShut:
			r.skip(el, "is an open line")
		case !s.closed && gap > snap:
			r.skip(el, fmt.Sprintf("is open by %.3f mm: join its ends in the drawing program if it is a piece", gap))
		case box.Width() < smallest && box.Height() < smallest:
			r.skip(el, fmt.Sprintf("is only %.1f x %.1f mm: taken for a letter or a mark", box.Width(), box.Height()))
		default:
			rings = append(rings, outline{path: p, box: box, area: math.Abs(p.Area())})
		}
	}
	return rings
}

// take keeps the outer rings of one path: a ring inside another is a hole.
func (r *reader) take(el element, up frame, rings []outline) {
	if len(rings) > maxSubpaths {
		r.fail(el.at, "drawing.path", fmt.Sprintf("%s holds %d closed outlines", el.title(), len(rings)),
			fmt.Sprintf("at most %d in one path", maxSubpaths), "break the path apart in the drawing program")
		return
	}
	for i, o := range rings {
		if enclosed(rings, i) {
			r.skip(el, "has a ring inside its outline: only the outline is read")
			continue
		}
		if len(r.rings) >= maxRings {
			r.refuse(el.at, "drawing.path", fmt.Sprintf("the drawing holds more than %d closed paths", maxRings), "a drawing of pieces", "")
			return
		}
		r.rings = append(r.rings, &ring{
			place: r.where.place(el.at), id: el.get("", "id"), label: el.get(nsEditor, "label"), layer: up.layer, outline: o,
		})
	}
	r.warnDoubled(el, rings)
}

// enclosed tells whether another ring lies round ring i.
func enclosed(rings []outline, i int) bool {
	for j, o := range rings {
		if j != i && o.area > rings[i].area && inside(rings[i].box, o.box, 0) && o.path.Contains(rings[i].path.Start()) {
			return true
		}
	}
	return false
}

// inside tells whether box a lies in box b, all sides at least d from its own.
func inside(a, b curve.Box, d float64) bool {
	return a.Min.X >= b.Min.X+d && a.Min.Y >= b.Min.Y+d && a.Max.X <= b.Max.X-d && a.Max.Y <= b.Max.Y-d
}

// build makes the pieces of the rings.
func (r *reader) build() {
	r.named(r.rings)
	for _, g := range r.rings {
		r.piece(g)
	}
	r.warnNested()
	if len(r.rings) == 0 && !r.probs.HasErrors() {
		r.fail(0, "drawing.empty", fmt.Sprintf("the drawing holds no closed path (elements left out: %d)", len(r.res.Skipped)),
			"a closed path for each piece", "turn shapes and clones into paths, and join open ends, in the drawing program")
	}
}

// piece makes one piece and its source, or says why it cannot.
func (r *reader) piece(g *ring) {
	box := g.box
	bottom := box.Max.Y
	if r.opt.WaistY.Set {
		bottom = r.opt.WaistY.Value
	}
	toPiece := curve.Affine{A: 1, D: -1, E: -box.Min.X, F: bottom}
	path := rounded(snapped(g.path.Transform(toPiece)))
	// a sliver so thin that rounding its points could turn it inside out is none
	sliver := 1 + 4*pattern.Grid*(box.Width()+box.Height()) // square mm
	switch area := path.Area(); {
	case math.Abs(area) < sliver:
		r.failRing(g, "drawing.outline", g.kind()+" encloses no area", "an outline that runs round the piece", "")
		return
	case area < 0:
		path = path.Reverse()
	}
	path, corners := r.corners(g, path)
	switch box = path.Bounds(); {
	case !r.fits(path):
		r.failRing(g, "drawing.size", g.kind()+" reaches farther than a piece may", fmt.Sprintf("at most %d mm each way", largest), sizeHint)
		return
	case len(path)+2*len(corners)+8 > maxRecords:
		r.failRing(g, "drawing.path", fmt.Sprintf("%s has %d segments", g.kind(), len(path)), fmt.Sprintf("a piece of at most %d lines of text", maxRecords),
			"simplify the path in the drawing program")
		return
	}
	if r.opt.WaistY.Set && (box.Min.Y > 0 || box.Max.Y < 0) {
		r.warnRing(g, "drawing.waist", fmt.Sprintf("the waist line at %.7g mm from the page's top does not cross %s", r.opt.WaistY.Value, g.kind()),
			"one waist line for all pieces", "move the piece up or down on the sheet, unless it has no waist")
	}
	r.warnCutLine(g)
	p := &pattern.Piece{Place: g.place, Name: g.name, Title: g.title, NoLevels: !r.opt.WaistY.Set}
	p.Place.Piece = g.name
	p.Corners, p.Edges = edged(path, corners)
	for i := range p.Edges {
		p.Edges[i].Length = pattern.Some(pattern.RoundLength(p.EdgePath(i).Length(lengthError)))
	}
	r.res.Pieces = append(r.res.Pieces, p)
	r.res.Sources = append(r.res.Sources, g.source(box))
}

func (g *ring) source(box curve.Box) Source {
	src := Source{Place: g.place, ID: clean(g.id), Label: clean(g.label), Width: box.Width(), Height: box.Height()}
	if g.layer != nil {
		src.Layer = clean(g.layer.label)
	}
	return src
}

func (r *reader) fits(path curve.Path) bool {
	box := curve.EmptyBox()
	for _, s := range path {
		box = box.Add(s.P0).Add(s.P1).Add(s.P2)
	}
	return box.Min.X >= -largest && box.Min.Y >= -largest && box.Max.X <= largest && box.Max.Y <= largest
}

func (r *reader) ringProblem(g *ring, sev diag.Severity, id, found, expected, hint string) {
	place := g.place
	place.Piece = g.name
	r.probs = append(r.probs, diag.Problem{
		ID: id, Severity: sev, Place: place, Subject: g.name, Found: found, Expected: expected, Hint: hint,
	})
}

func (r *reader) failRing(g *ring, id, found, expected, hint string) {
	r.ringProblem(g, diag.Error, id, found, expected, hint)
}

func (r *reader) warnRing(g *ring, id, found, expected, hint string) {
	r.ringProblem(g, diag.Warning, id, found, expected, hint)
}

func (r *reader) warnCutLine(g *ring) {
	if label := g.cutLabel(); label != "" {
		r.warnRing(g, "drawing.cut-line", fmt.Sprintf("%s is called %q", g.kind(), label),
			"the sewing line: the outline of a piece is where it is sewn, without allowance",
			"if it is the line to cut along, draw the sewing line inside it and import that; else give it another label")
	}
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
