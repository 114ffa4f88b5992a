package step

import (
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

// offOutline is how far, in mm, a point that is to lie on an outline may lie
// beside it.
const offOutline = 0.5

// cut parts a ring along the straight line between two points of it. The first
// part lies on the left of the way from a to b; the ring runs anticlockwise.
func cut(ring curve.Path, a, b curve.Point) (left, right curve.Path, ok bool) {
	na, nb := ring.Nearest(a), ring.Nearest(b)
	if !(na.Dist <= offOutline && nb.Dist <= offOutline) {
		return nil, nil, false
	}
	const tol = measure.Accuracy
	from, to := ring.LengthTo(na.Seg, na.T, tol), ring.LengthTo(nb.Seg, nb.T, tol)
	if math.Abs(from-to) < offOutline {
		return nil, nil, false
	}
	close := func(way curve.Path) curve.Path {
		return append(slices.Clone(way), curve.Line(way.End(), way.Start()))
	}
	left, right = close(stretch(ring, to, from)), close(stretch(ring, from, to))
	return left, right, left.Area() > 0 && right.Area() > 0
}

// stretch is the part of a ring from one distance forward to another, beyond the
// ring's start where need be.
func stretch(ring curve.Path, from, to float64) curve.Path {
	const tol = measure.Accuracy
	if from < to {
		return ring.SubPath(from, to, tol)
	}
	return slices.Concat(ring.SubPath(from, ring.Length(tol), tol), ring.SubPath(0, to, tol))
}

// becomesShape claims area and widths of a piece that will have a known outline.
// The levels are those of the piece that it comes from.
func (p *proof) becomesShape(name string, of *pattern.Piece, outline curve.Path) {
	p.becomes(measure.Measure{Kind: "area", Piece: name}, math.Abs(outline.Area()), pattern.Opt{})
	for _, l := range p.g.Levels {
		if y, ok := p.g.LevelOn(of, l.Name); ok {
			if w := outline.WidthAt(y); w > 0 {
				p.becomes(widthOf(name, l.Name), w, pattern.Opt{})
			}
		}
	}
}

// keepsAllGirth claims that nothing of the girth changed.
func (p *proof) keepsAllGirth() {
	if len(p.girthTold()) > 0 {
		p.keeps(girthAt(""))
		p.keeps(measure.Measure{Kind: "worn"})
	}
}

// proveSplit: both parts are what the line leaves of the old outline, the new
// seam is as long as the line on both sides, and the girth stays.
func proveSplit(p *proof, s Step) {
	p.touch(s.Piece, s.New, s.Other)
	p.file = true
	p.becomes(seamNamed("seam", s.NewSeam), s.From.Dist(s.To), pattern.Opt{})
	p.unproven("where the two parts lie in their own frames, and their notches")
	piece := p.g.Piece(s.Piece)
	if piece == nil {
		return
	}
	p.loose = append(p.loose, widthOf(s.Piece, ""), measure.Measure{Kind: "area", Piece: s.Piece})
	p.leaves(s.Piece, s.New, s.Other)
	left, right, ok := cut(piece.Outline(), s.From, s.To)
	if !ok {
		p.unproven("the shapes of %s and %s, since the line does not part %s", s.New, s.Other, s.Piece)
		return
	}
	p.becomesShape(s.New, piece, left)
	p.becomesShape(s.Other, piece, right)
	p.keepsAllGirth()
}

// leaves notes that a piece is no more, unless one of the new ones has its name.
func (p *proof) leaves(piece string, names ...string) {
	if !slices.Contains(names, piece) {
		p.gone = append(p.gone, "piece "+piece)
	}
}

// proveJoin: the new piece has the area, and at every level the width, of both
// together, which it has only where the edges were congruent.
func proveJoin(p *proof, s Step) {
	p.file = true
	p.touch(s.New)
	seam := p.g.Seam(s.Seam)
	if seam == nil {
		return
	}
	p.touch(partners(seam)...)
	p.gone = append(p.gone, "seam "+s.Seam)
	a, b := p.twoPieces(seam)
	if a == nil {
		p.unproven("the shape of %s: %s does not join two pieces along one edge of each", s.New, s.Seam)
		return
	}
	p.leaves(a.Name, s.New)
	p.leaves(b.Name, s.New)
	p.becomes(measure.Measure{Kind: "area", Piece: s.New}, measure.Area(a)+measure.Area(b), pattern.Opt{})
	for _, l := range p.g.Levels {
		x, ok1 := measure.Width(p.g, a, l.Name)
		y, ok2 := measure.Width(p.g, b, l.Name)
		if ok1 && ok2 && x+y > 0 {
			p.becomes(widthOf(s.New, l.Name), x+y, pattern.Opt{})
		}
	}
	p.keepsAllGirth()
}

// twoPieces gives the pieces of a seam that joins one edge of each of two; nil
// where it does not.
func (p *proof) twoPieces(s *pattern.Seam) (a, b *pattern.Piece) {
	if s.Mirrored || len(s.First) != 1 || len(s.Second) != 1 || s.First[0].From+s.Second[0].From != "" {
		return nil, nil
	}
	edges := p.edgesOf(refsOf(s))
	if len(edges) != 2 || edges[0].piece == edges[1].piece {
		return nil, nil
	}
	return edges[0].piece, edges[1].piece
}

// provePivot: a turn keeps area and all lengths.
func provePivot(p *proof, s Step) {
	p.touch(s.Piece)
	p.unproven("by how much %s was turned, and that %s stayed in its place", s.Piece, s.Corner)
	piece := p.g.Piece(s.Piece)
	if piece == nil {
		return
	}
	p.keeps(measure.Measure{Kind: "area", Piece: s.Piece})
	for i := range piece.Edges {
		p.keeps(edgeOf{piece, i}.length())
	}
	p.loose = append(p.loose, widthOf(s.Piece, ""))
	if p.around(s.Piece) {
		p.loose = append(p.loose, girthAt(""), measure.Measure{Kind: "worn"})
		p.unproven("the girth, since the levels lie elsewhere on %s", s.Piece)
	}
}

func proveLengthen(p *proof, s Step) { p.lengthen(s, s.Number.Value) }
func proveShorten(p *proof, s Step)  { p.lengthen(s, -s.Number.Value) }

// lengthen: every seam and every free edge that crosses the level once gains the
// amount, on both sides; what does not cross it stays.
func (p *proof) lengthen(s Step, mm float64) {
	crossed := func(e edgeOf) int {
		y, ok := p.g.LevelOn(e.piece, s.Level)
		if !ok {
			return 0
		}
		return len(e.piece.EdgePath(e.edge).CrossingsY(y))
	}
	for _, piece := range p.g.Pieces {
		if y, ok := p.g.LevelOn(piece, s.Level); !ok || piece.Outline().WidthAt(y) == 0 {
			continue
		}
		p.touch(piece.Name)
		p.loose = append(p.loose, widthOf(piece.Name, ""))
		for i := range piece.Edges {
			e := edgeOf{piece, i}
			switch n := crossed(e); {
			case len(p.seamsAt(e)) > 0:
			case n > 1:
				p.unproven("the length of %s, which passes the level more than once", e.name())
			default:
				p.by(e.length(), float64(n)*mm)
			}
		}
	}
	p.longerSeams(mm, crossed)
	p.loose = append(p.loose, girthAt(""), measure.Measure{Kind: "worn"})
	p.unproven("widths and girths, since the levels lie elsewhere on the pieces")
}

func (p *proof) longerSeams(mm float64, crossed func(edgeOf) int) {
	for i := range p.g.Seams {
		s := &p.g.Seams[i]
		if !slices.ContainsFunc(partners(s), func(n string) bool { return slices.Contains(p.pieces, n) }) {
			continue
		}
		count := func(refs []pattern.Ref) (n int) {
			for _, e := range p.edgesOf(refs) {
				n += crossed(e)
			}
			return n
		}
		if slices.ContainsFunc(refsOf(s), func(r pattern.Ref) bool { return r.From != "" }) {
			p.unproven("the length of %s, which is sewn between notches", s.Name)
			continue
		}
		a, b := count(s.First), count(s.Second)
		if s.Mirrored {
			b = a
		}
		if a != b || a > 1 {
			p.unproven("the length of %s, whose sides pass the level %d and %d times", s.Name, a, b)
			continue
		}
		p.by(seamNamed("seam", s.Name), float64(a)*mm)
	}
}

// proveMirror: the copy has the area and the widths of the piece.
func proveMirror(p *proof, s Step) {
	p.touch(s.New)
	p.file = true
	p.unproven("that %s is mirrored and not turned", s.New)
	if piece := p.g.Piece(s.Piece); piece != nil {
		p.becomesShape(s.New, piece, piece.Outline())
	}
}
